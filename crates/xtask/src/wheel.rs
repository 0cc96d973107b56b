//! Building the Python wheel in release and installing it.

use std::ffi::OsString;
use std::path::PathBuf;
use std::{env, fs};

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::project;

/// Where the wheel is put, alone.
const FOLDER: &str = "target/wheel";

/// Looks into every file of a wheel for folders of this machine.
const LOOK: &str = "
import sys, zipfile
wheel, *folders = sys.argv[1:]
with zipfile.ZipFile(wheel) as archive:
    found = [(name, folder) for name in archive.namelist() for folder in folders if folder.encode() in \
                    archive.read(name)]
sys.exit('\\n'.join(f'{name} names {folder}, a folder of this machine' for name, folder in found) or None)
";

/// Builds the wheel and installs it into the environment.
pub(crate) fn install(environment: &Environment) -> Outcome {
    let wheel = build(environment)?;
    let look = environment.python().arguments(&["-c", LOOK]).argument(&wheel);
    let way_out = "the compiler is told to leave them out (crates/xtask/src/wheel.rs); tell it of this one too";
    folders().iter().fold(look, |look, (folder, _)| look.argument(folder)).way_out(way_out).run()?;
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
        .variable("CARGO_ENCODED_RUSTFLAGS", flags())
        .run()?;
    let mut wheels = fs::read_dir(&folder).into_iter().flatten().filter_map(|entry| Some(entry.ok()?.path()));
    wheels
        .find(|path| path.extension().is_some_and(|ending| ending == "whl"))
        .ok_or_else(|| Failure::new(format!("maturin left no wheel in {FOLDER}")))
}

/// The folders of this machine that a build could name, and what it names instead; the last that fits counts.
fn folders() -> Vec<(PathBuf, &'static str)> {
    let home = env::home_dir().filter(|home| home.parent().is_some());
    let cargo = env::var_os("CARGO_HOME").map(PathBuf::from).or_else(|| Some(home.as_ref()?.join(".cargo")));
    let folders = [
        home.map(|home| (home, "home")),
        cargo.map(|cargo| (cargo, "cargo")),
        Some((project::root().to_path_buf(), "tenside")),
    ];
    folders.into_iter().flatten().collect()
}

/// What the compiler is told: as the machine has it, and to name no folder of this machine. Stub and wheel share one
/// build.
pub(crate) fn flags() -> OsString {
    let stated = env::var_os("CARGO_ENCODED_RUSTFLAGS").or_else(|| {
        let words = env::var("RUSTFLAGS").ok()?;
        Some(words.split_whitespace().collect::<Vec<_>>().join("\x1f").into())
    });
    let mut flags = stated.unwrap_or_default();
    for (folder, name) in folders() {
        if !flags.is_empty() {
            flags.push("\x1f");
        }
        flags.push("--remap-path-prefix=");
        flags.push(folder);
        flags.push(format!("={name}"));
    }
    flags
}
