//! The benches of the library.

use crate::environment::Environment;
use crate::failure::Outcome;
use crate::process::Program;
use crate::wheel;

pub(crate) fn run(name: Option<&str>) -> Outcome {
    println!("The benches are built in release and measured; criterion compares them with the last run.");
    let bench = Program::cargo(&["bench", "--package", "tenside-benches"]);
    match name {
        Some(name) => bench.arguments(&["--bench", name]).run()?,
        None => bench.run()?,
    }
    if name.is_none_or(|name| name == "ph") {
        println!("PHREEQC is called from Python, so the wheel is built and both are measured there.");
        let environment = Environment::for_tests()?;
        wheel::install(&environment)?;
        environment.python().argument("benches/ph.py").run()?;
    }
    Ok(())
}
