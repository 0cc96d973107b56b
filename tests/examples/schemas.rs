//! Writes the JSON Schemas of the documents into the folder given: `cargo xtask schemas` calls it.

use std::error::Error;
use std::path::PathBuf;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args().nth(1).ok_or("give the folder to write to")?);
    for (name, schema) in tenside_tests::schemas() {
        std::fs::write(folder.join(format!("{name}.json")), schema)?;
    }
    Ok(())
}
