//! Building the Python package in release: for this machine's checks, and as the files that others install.

use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::{env, fs};

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::steps::Steps;
use crate::{project, python};

/// Where the wheel for this machine's checks is put, alone.
const FOLDER: &str = "target/wheel";
/// Where the files that others install are put, alone.
const FILES: &str = "dist";
/// What a wheel must do once it is installed.
const SMOKE: &str = "tests/wheel/smoke.py";

/// One wheel for others: what the compiler calls its machines, what they are called, what maturin is told besides, and
/// what has to be on the machine to link it.
struct Target {
    triple: &'static str,
    name: &'static str,
    told: &'static [&'static str],
    linker: Option<&'static str>,
}

/// Zig links for the C library of 2014 and for other machines; it comes as a Python package.
const LINUX: &[&str] = &["--zig", "--compatibility", "manylinux2014"];
const TARGETS: [Target; 3] = [
    Target { triple: "x86_64-unknown-linux-gnu", name: "Linux on x86-64", told: LINUX, linker: None },
    Target { triple: "aarch64-unknown-linux-gnu", name: "Linux on aarch64", told: LINUX, linker: None },
    // With Zig, maturin 1.16 asks the linker for a symbol of the whole module name, which has a dot and is none.
    Target {
        triple: "x86_64-pc-windows-gnu",
        name: "Windows on x86-64",
        told: &[],
        linker: Some("x86_64-w64-mingw32-gcc"),
    },
];

/// Looks into every file of wheels and source archives for folders of this machine, and for names left in machine code.
const LOOK: &str = "
import sys, tarfile, zipfile
def files(path):
    if path.endswith('.whl'):
        with zipfile.ZipFile(path) as archive:
            yield from ((name, archive.read(name)) for name in archive.namelist())
    else:
        with tarfile.open(path) as archive:
            yield from ((each.name, archive.extractfile(each).read()) for each in archive if each.isfile())
at = sys.argv.index('--')
stripped = sys.argv[1] == 'stripped'
found = []
for path in sys.argv[2:at]:
    for name, content in files(path):
        found += [f'{name} names {folder}, a folder of this machine' for folder in sys.argv[at + 1:] if \
                    folder.encode() in content]
        if stripped and name.endswith('.so') and b'\\0.symtab\\0' in content:
            found.append(f'{name} is not stripped')
sys.exit('\\n'.join(found) or None)
";

/// Builds the wheel as it is for others and installs it into the environment.
pub(crate) fn install(environment: &Environment) -> Outcome<PathBuf> {
    let wheel = build_for(environment, "release", |maturin| maturin.variable("CARGO_ENCODED_RUSTFLAGS", flags()))?;
    look(environment, std::slice::from_ref(&wheel), "as built")?;
    put(environment, &wheel)?;
    Ok(wheel)
}

/// Builds the wheel as the Rust tests are built, which asserts more and takes less time, told what else the compiler has
/// to hear, and installs it into the environment.
pub(crate) fn install_checked(environment: &Environment, told: impl FnOnce(Program) -> Program) -> Outcome {
    put(environment, &build_for(environment, "dev", told)?)
}

fn build_for(environment: &Environment, profile: &str, told: impl FnOnce(Program) -> Program) -> Outcome<PathBuf> {
    let folder = project::at(FOLDER);
    empty(&folder);
    let maturin = environment.python().arguments(&["-m", "maturin", "build", "--profile", profile, "--interpreter"]);
    told(maturin.argument(environment.base()).argument("--out").argument(&folder)).run()?;
    built(FOLDER, "whl").map(|mut wheels| wheels.swap_remove(0))
}

fn put(environment: &Environment, wheel: &Path) -> Outcome {
    environment.pip().arguments(&["--no-deps", "--force-reinstall"]).argument(wheel).run()
}

/// Builds every wheel that this machine has a target for, and the source archive; checks them, installs what runs here
/// in fresh environments, and tries it there.
pub(crate) fn build() -> Outcome {
    let mut steps = Steps::default();
    let environment = steps.run(
        "environment",
        "a virtual environment holds the pinned tools that build wheels",
        Environment::for_wheels,
    )?;
    let folder = project::at(FILES);
    empty(&folder);
    let mut left_out = Vec::new();
    for target in &TARGETS {
        if !has(target.triple)? {
            left_out.push(format!(
                "there is no wheel for {}: the compiler has no target {triple}; `rustup target add {triple}` brings it",
                target.name,
                triple = target.triple
            ));
            continue;
        }
        if let Some(linker) = target.linker.filter(|linker| Program::new(*linker).argument("--version").read().is_err())
        {
            left_out.push(format!(
                "there is no wheel for {}: the linker `{linker}` is not there; on Debian `apt-get install \
                 gcc-mingw-w64-x86-64` brings it",
                target.name
            ));
            continue;
        }
        steps.run(target.name, "a stripped wheel for every Python from 3.10 on", || {
            let maturin = environment.python().arguments(&["-m", "maturin", "build", "--release", "--strip"]);
            let maturin = maturin.arguments(target.told).arguments(&["--target", target.triple, "--out"]);
            // Zig is called as a program of the environment.
            maturin
                .argument(&folder)
                .variable("CARGO_ENCODED_RUSTFLAGS", flags())
                .variable("PATH", path(&environment))
                .run()
        })?;
    }
    steps.run("source", "an archive of the sources, which pip builds where there is no wheel", || {
        environment.python().arguments(&["-m", "maturin", "sdist", "--out"]).argument(&folder).run()
    })?;
    let (wheels, archives) = (built(FILES, "whl").unwrap_or_default(), built(FILES, "gz")?);
    let files: Vec<PathBuf> = wheels.iter().chain(&archives).cloned().collect();
    steps.run(
        "inside",
        "no file names a folder of this machine, and none carries names of its machine code",
        || look(&environment, &files, "stripped"),
    )?;
    steps.run("metadata", "an index of packages would take them", || {
        let twine = environment.python().arguments(&["-m", "twine", "check", "--strict"]);
        files.iter().fold(twine, Program::argument).run()
    })?;
    // Where the wheel of this machine was left out, the archive alone is tried.
    let own = wheels.iter().find(|wheel| runs_here(wheel));
    for python in python::every() {
        let Some(own) = own else { break };
        let (major, minor) = python.version;
        steps.run(
            &format!("Python {major}.{minor}"),
            "the wheel is installed and works, with no Rust in reach",
            || {
                let fresh = Environment::fresh(&format!("target/try/{major}.{minor}"), python)?;
                fresh.pip().arguments(&["--no-index"]).argument(own).variable("PATH", "").run()?;
                fresh.python().argument(project::at(SMOKE)).variable("PATH", "").run()
            },
        )?;
    }
    steps.run("from source", "the archive is built by pip, installed and works", || {
        let fresh = Environment::fresh("target/try/source", python::find()?)?;
        let pip = fresh.pip().arguments(&["--no-binary", "tenside"]).argument(&archives[0]);
        pip.variable("CARGO_TARGET_DIR", project::at("target/try/build")).run()?;
        fresh.python().argument(project::at(SMOKE)).run()
    })?;
    steps.close();
    for file in &files {
        let size = fs::metadata(file).map_or(0, |metadata| metadata.len());
        println!("{FILES}/{}: {:.1} MB", file_name(file), size as f64 / 1e6);
    }
    for wheel in wheels.iter().filter(|wheel| !runs_here(wheel)) {
        println!("{} was not tried: it does not run on this machine", file_name(wheel));
    }
    for sentence in left_out {
        println!("{sentence}");
    }
    Ok(())
}

/// An older file beside the new one would make it unclear which is meant; that there is no folder yet is no fault.
fn empty(folder: &Path) {
    let _ = fs::remove_dir_all(folder);
}

/// The files of a folder with this ending, in order; at least one.
fn built(folder: &str, ending: &str) -> Outcome<Vec<PathBuf>> {
    let entries = fs::read_dir(project::at(folder)).into_iter().flatten();
    let mut found: Vec<PathBuf> = entries
        .filter_map(|entry| Some(entry.ok()?.path()))
        .filter(|path| path.extension().is_some_and(|found| found == ending))
        .collect();
    found.sort();
    if found.is_empty() { Err(Failure::new(format!("maturin left no .{ending} in {folder}"))) } else { Ok(found) }
}

fn look(environment: &Environment, files: &[PathBuf], state: &str) -> Outcome {
    let look =
        files.iter().fold(environment.python().arguments(&["-c", LOOK, state]), Program::argument).argument("--");
    let way_out = "the compiler is told to leave them out (crates/xtask/src/wheel.rs); tell it of this one too";
    folders().iter().fold(look, |look, (folder, _)| look.argument(folder)).way_out(way_out).run()
}

/// Whether the compiler can build for these machines.
pub(crate) fn has(triple: &str) -> Outcome<bool> {
    let rustc = Program::new("rustc").arguments(&["--print", "target-libdir", "--target", triple]);
    Ok(Path::new(rustc.read()?.trim()).is_dir())
}

/// Whether a wheel, by the end of its name, is for this machine.
fn runs_here(wheel: &Path) -> bool {
    let system = if cfg!(windows) { "win_amd64" } else { env::consts::ARCH };
    (cfg!(target_os = "linux") || cfg!(windows)) && file_name(wheel).ends_with(&format!("{system}.whl"))
}

fn file_name(file: &Path) -> String {
    file.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// The search path with the programs of the environment first.
fn path(environment: &Environment) -> OsString {
    let rest = env::var_os("PATH").unwrap_or_default();
    env::join_paths([environment.programs()].into_iter().chain(env::split_paths(&rest))).unwrap_or(rest)
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

/// What the compiler is told: as the machine has it, and to name no folder of this machine.
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_target_that_is_not_installed_is_no_fault() {
        assert!(has("x86_64-unknown-linux-gnu").is_ok());
        assert!(!has("powerpc64-unknown-linux-gnu").unwrap());
    }

    #[test]
    fn what_runs_here_is_told_by_the_name() {
        let name = |end: &str| PathBuf::from(format!("dist/tenside-0.1.0-cp310-abi3-{end}.whl"));
        assert_eq!(
            runs_here(&name("manylinux_2_17_x86_64.manylinux2014_x86_64")),
            cfg!(all(target_os = "linux", target_arch = "x86_64"))
        );
        assert_eq!(runs_here(&name("win_amd64")), cfg!(windows));
        assert!(!runs_here(&name("macosx_11_0_arm64")));
    }
}
