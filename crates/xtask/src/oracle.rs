//! The tests against libraries from outside, with many more random cases than the ordinary run makes.

use crate::environment::Environment;
use crate::failure::Outcome;
use crate::wheel;

pub(crate) fn run(cases: u32) -> Outcome {
    println!("The wheel is built and every test marked `oracle` makes {cases} cases.");
    let environment = Environment::for_tests()?;
    wheel::install(&environment)?;
    let pytest = ["-m", "pytest", "-p", "no:cacheprovider", "--import-mode=importlib", "--durations=5", "-s", "-m", "oracle", "tests/python"];
    environment.python().arguments(&pytest).variable("TENSIDE_ORACLE_CASES", cases.to_string()).run()
}
