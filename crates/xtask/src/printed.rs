//! What README, guide and notebooks print, stored anew.

use crate::environment::Environment;
use crate::failure::Outcome;
use crate::wheel;

/// Runs them with the package as it is now; the tests compare.
pub(crate) fn store() -> Outcome {
    let environment = Environment::for_tests()?;
    wheel::install_checked(&environment, |maturin| maturin)?;
    environment.python().arguments(&["tests/python/printed.py"]).run()?;
    println!("README.md, guide and notebooks are written; look at the difference before you commit it");
    Ok(())
}
