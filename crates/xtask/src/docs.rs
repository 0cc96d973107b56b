//! The guide: made of its pages, the package and the data, with pages of the reference and of the formats that nobody
//! writes.

use crate::environment::Environment;
use crate::failure::Outcome;
use crate::{project, wheel};

/// Where sources and pages go.
const FOLDER: &str = "target/docs";

/// Builds the wheel and, with it, the guide; a warning is a failure.
pub(crate) fn build() -> Outcome {
    let environment = Environment::for_docs()?;
    wheel::install_checked(&environment, |maturin| maturin)?;
    environment.python().argument("python/docs/build.py").argument(project::at(FOLDER)).run()?;
    println!("the guide is built; open {FOLDER}/html/index.html");
    Ok(())
}
