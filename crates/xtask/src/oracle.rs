//! The tests of random briefs, and those against libraries from outside, with many more cases than the ordinary run
//! makes.

use crate::environment::Environment;
use crate::failure::Outcome;
use crate::process::Program;
use crate::wheel;

pub(crate) fn run(cases: u32) -> Outcome {
    println!("{cases} ordinary briefs are drawn.");
    let ordinary = ["test", "--package", "tenside-tests", "--test", "whole", "ordinary", "--", "--nocapture"];
    Program::cargo(&ordinary).variable("TENSIDE_ORACLE_CASES", cases.to_string()).run()?;
    println!("The wheel is built and every test marked `oracle` makes {cases} cases.");
    let environment = Environment::for_tests()?;
    wheel::install(&environment)?;
    let pytest = [
        "-m",
        "pytest",
        "-p",
        "no:cacheprovider",
        "--import-mode=importlib",
        "--durations=5",
        "-s",
        "-m",
        "oracle",
        "tests/python",
    ];
    environment.python().arguments(&pytest).variable("TENSIDE_ORACLE_CASES", cases.to_string()).run()
}
