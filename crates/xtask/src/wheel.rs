//! Building the Python wheel in release and installing it.

use std::fs;
use std::path::PathBuf;

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::project;

/// Where the wheel is put, alone.
const FOLDER: &str = "target/wheel";

/// Builds the wheel and installs it into the environment.
pub(crate) fn install(environment: &Environment) -> Outcome {
    let wheel = build(environment)?;
    environment.pip().arguments(&["--no-deps", "--force-reinstall"]).argument(wheel).run()
}

fn build(environment: &Environment) -> Outcome<PathBuf> {
    let folder = project::at(FOLDER);
    // An older wheel beside the new one would make it unclear which is meant; that there is none yet is no fault.
    let _ = fs::remove_dir_all(&folder);
    environment
        .python()
        .arguments(&["-m", "maturin", "build", "--release", "--interpreter"])
        .argument(environment.base())
        .argument("--out")
        .argument(&folder)
        .run()?;
    let mut wheels = fs::read_dir(&folder).into_iter().flatten().filter_map(|entry| Some(entry.ok()?.path()));
    wheels.find(|path| path.extension().is_some_and(|ending| ending == "whl")).ok_or_else(|| Failure::new(format!("maturin left no wheel in {FOLDER}")))
}
