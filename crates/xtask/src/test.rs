//! Every check, in order, the quickest answers first; the first failure ends it.

use std::thread;

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::steps::Steps;
use crate::tidy::{self, Counts};
use crate::{stubs, wheel};

pub(crate) fn run() -> Outcome {
    let mut steps = Steps::default();
    steps.run("format", "the code is formatted as rustfmt would", || {
        Program::cargo(&["fmt", "--all", "--check"]).way_out("install it with `rustup component add rustfmt`").run()
    })?;
    // It waits for packages while clippy compiles.
    let environment = thread::spawn(Environment::for_tests);
    steps.run(
        "clippy",
        "no lint has anything to say about benches, examples and fuzz targets; libraries and tests are gone over while \
         they are compiled",
        || {
            Program::cargo(&["clippy", "--quiet", "--workspace", "--exclude", "tenside-py"])
                .arguments(&["--bins", "--benches", "--examples", "--", "-D", "warnings"])
                .way_out("install it with `rustup component add clippy`")
                .run()
        },
    )?;
    steps.run("engine alone", "the engine needs none of its features, and no float stands where it proves", || {
        Program::cargo(&["clippy", "--quiet", "--package", "tenside-lp", "--all-targets", "--", "-D", "warnings"]).run()
    })?;
    let environment = steps.run("environment", "a virtual environment holds the pinned Python tools", || {
        environment.join().unwrap_or_else(|_| Err(Failure::new("making it ended in the middle; its own lines say why")))
    })?;
    // With the features of the binding, which then takes the core as it is built here, and without those of the benches.
    const BUILT: [&str; 3] = ["--workspace", "--exclude", "tenside-benches"];
    let (rust, stub) = steps.run(
        "Rust tests",
        "libraries and their unit and integration tests have no lint and pass; those of the binding are in Python, and \
         it is compiled while these run",
        || {
            thread::scope(|scope| {
                let mut stub = None;
                let rust = Program::cargo(&["test", "--tests"])
                    .arguments(&BUILT)
                    .linting()
                    .run_and_read_with(|| stub = Some(scope.spawn(|| stubs::check(&environment))))?;
                let stub = stub.map_or_else(
                    || stubs::check(&environment),
                    |stub| stub.join().unwrap_or_else(|_| Err(Failure::new("making the stub ended in the middle"))),
                );
                Ok((rust, stub))
            })
        },
    )?;
    steps.run("stubs", "the committed stub is what the binding gives, built on the core of the Rust tests", || stub)?;
    let documentation = steps.run("doctests", "every Rust example in the documentation and the README runs", || {
        Program::cargo(&["test", "--doc"]).arguments(&BUILT).linting().run_and_read()
    })?;
    steps.run("rustdoc", "the documentation builds without a warning", || {
        Program::cargo(&["doc", "--quiet", "--workspace", "--no-deps"]).variable("RUSTDOCFLAGS", "-D warnings").run()
    })?;
    steps.run("wheel", "the Python package is built from the same and installed", || {
        wheel::install_checked(&environment, Program::linting)
    })?;
    let python = steps.run(
        "Python tests",
        "tests, documentation examples, README, guide and notebooks run against the installed package, one worker a core",
        || {
            let call = ["-m", "pytest", "-q", "-p", "no:cacheprovider", "--import-mode=importlib", "tests/python"];
            environment
                .python()
                .arguments(&call)
                .arguments(&["-n", "auto", "--dist", "worksteal"])
                // Workers have to find the same tests in the same order, those of sets too.
                .variable("PYTHONHASHSEED", "0")
                .run_and_read()
        },
    )?;
    steps.run("tidy", "the house rules hold, and no test was silently left out", || {
        tidy::check(Some(&Counts::read(&rust, &documentation, &python)))
    })?;
    steps.close();
    Ok(())
}
