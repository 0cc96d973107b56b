//! The demonstration: both faces built, then shown at work.

use crate::environment::Environment;
use crate::failure::Outcome;
use crate::process::Program;
use crate::wheel;

pub(crate) fn run() -> Outcome {
    println!("A virtual environment is made and the Python package built into it; the first time takes a minute or two.");
    let environment = Environment::for_demo()?;
    wheel::install(&environment)?;
    println!("Both faces of the library are built; this is what they say:\n");
    show(&environment)
}

/// What a newcomer sees: the Rust half, then the Python half.
fn show(environment: &Environment) -> Outcome {
    Program::cargo(&["run", "--quiet", "--release", "--package", "tenside-tests", "--example", "demo"]).run()?;
    environment.python().argument("tests/examples/demo.py").run()
}
