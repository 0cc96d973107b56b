//! The published JSON Schemas of the documents.

use crate::failure::Outcome;
use crate::process::Program;
use crate::project;

const FOLDER: &str = "python/tenside/schema";

/// Writes them anew; a test compares them with the core.
pub(crate) fn write() -> Outcome {
    Program::cargo(&["run", "--quiet", "--package", "tenside-tests", "--example", "schemas", "--"]).argument(project::at(FOLDER)).run()?;
    println!("{FOLDER} is written; look at the difference before you commit it");
    Ok(())
}
