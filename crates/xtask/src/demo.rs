//! The demonstration: both faces built, then shown at work.

use std::{env, fs};

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::{project, wheel};

/// Where the sheet to print goes.
const SHEET: &str = "target/demo/batch-sheet.html";

pub(crate) fn run() -> Outcome {
    println!(
        "A virtual environment is made and the Python package built into it; the first time takes ten minutes or more."
    );
    let environment = Environment::for_demo()?;
    let wheel = wheel::install(&environment)?;
    // Beside the package and with its flags, or the core would be compiled a second time.
    Program::cargo(&["build", "--release", "--package", "tenside-py", "--package", "tenside-tests", "--bin", "demo"])
        .variable("CARGO_ENCODED_RUSTFLAGS", wheel::flags())
        .run()?;
    println!("Both faces of the library are built. The main job, start to end:\n");
    show(&environment)?;
    let wheel = wheel.strip_prefix(project::at("")).unwrap_or(&wheel).display();
    println!(
        "\nFor the notebooks: .venv/bin/python -m pip install '{wheel}[notebooks]', then .venv/bin/jupyter \
         lab notebooks/00-my-materials.ipynb"
    );
    Ok(())
}

/// What a newcomer sees: the Rust half, then the Python half.
fn show(environment: &Environment) -> Outcome {
    let sheet = project::at(SHEET);
    if let Some(folder) = sheet.parent() {
        fs::create_dir_all(folder)
            .map_err(|error| Failure::new(format!("{} could not be made ({error})", folder.display())))?;
    }
    // Cargo puts it beside the folder of this program, wherever that is told to be.
    let own = env::current_exe().map_err(|error| Failure::new(format!("where this program is: {error}")))?;
    let demo = own.with_file_name(format!("../release/demo{}", env::consts::EXE_SUFFIX));
    Program::new(demo).argument(&sheet).run()?;
    environment.python().argument("tests/examples/demo.py").run()
}
