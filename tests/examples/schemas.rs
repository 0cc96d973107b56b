//! Writes what of the Python package comes from the core into the folder given: `cargo xtask schemas` calls it.

use std::error::Error;
use std::path::PathBuf;

fn main() -> Result<(), Box<dyn Error>> {
    let folder = PathBuf::from(std::env::args().nth(1).ok_or("give the folder to write to")?);
    for (file, text) in tenside_tests::written() {
        std::fs::write(folder.join(file), text)?;
    }
    Ok(())
}
