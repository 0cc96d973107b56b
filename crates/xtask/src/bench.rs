//! The benches of the library; some have a second half in Python, where what they are measured against is called from.

use std::fs;

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::{project, wheel};

/// Where the bench of the solver leaves its numbers for Python.
const SOLVE: &str = "target/bench/solve.json";
const SOLVE_RECORD: &str = "benches/records/solve.md";
/// Benches whose second half needs the wheel.
const BESIDE: &[(&str, &str)] = &[("sweep", "benches/sweep/beside.py"), ("ph", "benches/ph.py")];
/// How many calls more the second count of instructions has than the first.
const CALLS: usize = 4000;

pub(crate) fn run(name: Option<&str>) -> Outcome {
    println!("The benches are built in release and measured; criterion compares them with the last run.");
    let bench = Program::cargo(&["bench", "--package", "tenside-benches"]);
    match name {
        Some(name) => bench.arguments(&["--bench", name]).run()?,
        None => bench.run()?,
    }
    if name.is_none_or(|name| name == "solve") {
        solve()?;
    }
    for (_, script) in BESIDE.iter().filter(|(bench, _)| name.is_none_or(|name| name == *bench)) {
        let environment = Environment::for_tests()?;
        wheel::install(&environment)?;
        environment.python().argument(script).run()?;
    }
    Ok(())
}

/// HiGHS and scipy on the programs that were just measured, then whole briefs from Python.
fn solve() -> Outcome {
    let environment = Environment::for_tests()?;
    let python = environment.python().argument("benches/solve/anchors.py").argument(project::at(SOLVE)).argument(project::at(SOLVE_RECORD));
    match instructions()? {
        Some(sentence) => python.argument(sentence).run()?,
        None => python.run()?,
    }
    wheel::install(&environment)?;
    environment.python().arguments(&["benches/solve/briefs.py", SOLVE_RECORD]).run()
}

/// Instructions of one call, counted where valgrind is there: the same on every run, whatever else the machine does.
fn instructions() -> Outcome<Option<String>> {
    if Program::new("valgrind").argument("--version").try_read().is_none() {
        println!("valgrind is not there, so instructions are not counted");
        return Ok(None);
    }
    let listed = Program::cargo(&["bench", "--package", "tenside-benches", "--bench", "solve", "--no-run", "--message-format", "json"]).read()?;
    let executable = listed.lines().filter_map(|line| line.split("\"executable\":\"").nth(1)?.split('"').next()).next_back();
    let executable = executable.ok_or_else(|| Failure::new("cargo named no executable of the solver's bench"))?.to_string();
    let log = project::at("target/bench/callgrind.txt");
    let count = |calls: usize| -> Outcome<u64> {
        let valgrind = Program::new("valgrind").arguments(&["--tool=callgrind", "--callgrind-out-file=target/bench/callgrind.out"]);
        let (ended, text) = valgrind.argument(&executable).argument("--instructions").argument(calls.to_string()).run_into(&log)?;
        let collected = text.lines().find_map(|line| line.split("Collected :").nth(1)?.trim().parse().ok());
        collected.filter(|_| ended).ok_or_else(|| Failure::new(format!("callgrind counted nothing; {} says why", log.display())))
    };
    let (few, many) = (count(CALLS)?, count(2 * CALLS)?);
    let _ = fs::remove_file(project::at("target/bench/callgrind.out"));
    let each = (many - few) / CALLS as u64;
    Ok(Some(format!("Callgrind: {each} instructions for one search of the case from cold with its proof and one after the ratio changed.")))
}
