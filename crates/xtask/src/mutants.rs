//! Mutation testing: the core is changed place by place, and every change that no test notices is named.

use crate::failure::Outcome;
use crate::process::Program;
use crate::project;

const TOOLS: &str = "target/tools";

pub(crate) fn run(file: Option<&str>, shard: Option<&str>) -> Outcome {
    let tool = project::at(TOOLS).join("bin").join(if cfg!(windows) { "cargo-mutants.exe" } else { "cargo-mutants" });
    if !tool.exists() {
        println!("cargo-mutants is not there yet: it is installed into {TOOLS}, which takes some minutes.");
        Program::cargo(&["install", "--quiet", "--locked", "cargo-mutants", "--root", TOOLS]).run()?;
    }
    println!("Every change is built and tested in a copy of the project; the list of those that no test noticed comes at the end.");
    let mut mutants = Program::new(tool).arguments(&["mutants", "--package", "tenside", "--test-package", "tenside,tenside-tests", "--output", "target"]);
    for (option, value) in [("--file", file), ("--shard", shard)] {
        if let Some(value) = value {
            mutants = mutants.arguments(&[option, value]);
        }
    }
    mutants.run()
}
