//! What of the Python package is written from the core: the JSON Schemas of the documents, the closed lists of words.

use crate::failure::Outcome;
use crate::process::Program;
use crate::project;

const FOLDER: &str = "python/tenside";

/// Writes them anew; a test compares them with the core.
pub(crate) fn write() -> Outcome {
    Program::cargo(&["run", "--quiet", "--package", "tenside-tests", "--example", "schemas", "--"])
        .argument(project::at(FOLDER))
        .run()?;
    println!("{FOLDER}/schema and {FOLDER}/words.py are written; look at the difference before you commit it");
    Ok(())
}
