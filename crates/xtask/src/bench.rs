//! The benches of the library.

use crate::failure::Outcome;
use crate::process::Program;

pub(crate) fn run(name: Option<&str>) -> Outcome {
    println!("The benches are built in release and measured; criterion compares them with the last run.");
    let bench = Program::cargo(&["bench", "--package", "tenside-benches"]);
    match name {
        Some(name) => bench.arguments(&["--bench", name]).run(),
        None => bench.run(),
    }
}
