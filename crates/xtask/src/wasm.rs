//! The core in a browser: built for WebAssembly as it is, and called by Node.js.

use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::{project, wheel};

const TARGET: &str = "wasm32-unknown-unknown";
const FILE: &str = "target/wasm32-unknown-unknown/release/in_browser.wasm";

pub(crate) fn run() -> Outcome {
    if !wheel::has(TARGET)? {
        return Err(Failure::new(format!(
            "the compiler has no target {TARGET}; `rustup target add {TARGET}` brings it"
        )));
    }
    let build = ["build", "--release", "--package", "tenside-tests", "--bin", "in_browser", "--target", TARGET];
    Program::cargo(&build).run()?;
    let node = Program::new("node").way_out("install it (on Debian: apt-get install nodejs)");
    node.argument(project::at("tests/wasm/run.mjs")).argument(project::at(FILE)).run()
}
