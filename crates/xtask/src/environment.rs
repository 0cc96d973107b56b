//! Virtual environments for tests, browser, demo, guide and wheels, made anew whenever what they were made from has changed.

use std::fs;
use std::path::{Path, PathBuf};

use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::project;
use crate::python::{self, Python};

const LOCK: &str = "tests/python/requirements.txt";
const DOCS_LOCK: &str = "python/docs/requirements.txt";
/// What the pinned tools of the guide need.
const LOWEST_FOR_DOCS: (u32, u32) = (3, 11);
const LOCK_OF_BROWSER: &str = "tests/browser/requirements.txt";
const LOCK_OF_WHEELS: &str = "tests/wheel/requirements.txt";
/// Kept in an environment: what it was made from.
const STAMP: &str = "made-from.txt";

/// A virtual environment and the Python it was made with.
pub(crate) struct Environment {
    folder: PathBuf,
    base: Python,
}

impl Environment {
    /// The environment of the tests, with every tool of the lock file.
    pub(crate) fn for_tests() -> Outcome<Self> {
        Environment::make(".venv-test", python::find()?, &read_lock(LOCK)?)
    }

    /// The environment of the browser, with JupyterLab and what drives Chromium.
    pub(crate) fn for_browser() -> Outcome<Self> {
        Environment::make(".venv-browser", python::find()?, &read_lock(LOCK_OF_BROWSER)?)
    }

    /// The environment of the demo, with what builds the wheel and nothing else.
    pub(crate) fn for_demo() -> Outcome<Self> {
        let lock = read_lock(LOCK)?;
        let maturin = lock
            .lines()
            .find(|line| line.starts_with("maturin=="))
            .ok_or_else(|| Failure::new(format!("{LOCK} does not pin maturin; add it")))?;
        Environment::make(".venv", python::find()?, maturin)
    }

    /// The environment of the guide, with what builds the wheel and the pages.
    pub(crate) fn for_docs() -> Outcome<Self> {
        let base = python::find()?;
        if base.version < LOWEST_FOR_DOCS {
            return Err(Failure::new(
                "the guide is built with Python 3.11 or later; install one (the first of python3.13 to python3.10 is \
                 taken)",
            ));
        }
        Environment::make(".venv-docs", base, &read_lock(DOCS_LOCK)?)
    }

    /// The environment of wheels for others, with what builds and checks them.
    pub(crate) fn for_wheels() -> Outcome<Self> {
        Environment::make(".venv-wheel", python::find()?, &read_lock(LOCK_OF_WHEELS)?)
    }

    /// An environment with nothing in it, made anew each time.
    pub(crate) fn fresh(name: &str, base: Python) -> Outcome<Self> {
        let environment = Environment { folder: project::at(name), base };
        environment.create()?;
        Ok(environment)
    }

    fn make(name: &str, base: Python, requirements: &str) -> Outcome<Self> {
        let environment = Environment { folder: project::at(name), base };
        let made_from = format!("{}\n{requirements}\n", environment.base.program.display());
        let stamp = environment.folder.join(STAMP);
        if fs::read_to_string(&stamp).is_ok_and(|text| text == made_from) {
            println!("{name} is up to date");
            return Ok(environment);
        }
        println!("making {name} with Python {}.{}", environment.base.version.0, environment.base.version.1);
        environment.create()?;
        let list = environment.folder.join("requirements.txt");
        write(&list, requirements)?;
        environment.pip().argument("--requirement").argument(&list).run()?;
        write(&stamp, &made_from)?;
        Ok(environment)
    }

    fn create(&self) -> Outcome {
        Program::new(&self.base.program).arguments(&["-m", "venv", "--clear"]).argument(&self.folder).run()
    }

    /// The folder of its programs.
    pub(crate) fn programs(&self) -> PathBuf {
        self.folder.join(if cfg!(windows) { "Scripts" } else { "bin" })
    }

    /// A call of the environment's Python.
    pub(crate) fn python(&self) -> Program {
        let program = if cfg!(windows) { "python.exe" } else { "python" };
        // Nothing is written beside the sources, and what was compiled once is found again.
        Program::new(self.programs().join(program)).variable("PYTHONPYCACHEPREFIX", project::at("target/pycache"))
    }

    /// A call of pip's `install`; a module is compiled when it is first imported.
    pub(crate) fn pip(&self) -> Program {
        let install = ["-m", "pip", "install", "--quiet", "--disable-pip-version-check", "--no-compile"];
        self.python().arguments(&install)
    }

    /// The Python that the environment was made with; builds name it, so that all environments share them.
    pub(crate) fn base(&self) -> &Path {
        &self.base.program
    }
}

fn read_lock(lock: &str) -> Outcome<String> {
    fs::read_to_string(project::at(lock))
        .map_err(|error| Failure::new(format!("{lock} could not be read ({error}); restore it from git")))
}

fn write(file: &Path, text: &str) -> Outcome {
    fs::write(file, text).map_err(|error| {
        Failure::new(format!("{} could not be written ({error}); check its folder's permissions", file.display()))
    })
}
