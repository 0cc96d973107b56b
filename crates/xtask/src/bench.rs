//! The benches of the library; some have a second half in Python, where what they are measured against is called from.

use std::fs;

use crate::environment::Environment;
use crate::failure::{Failure, Outcome};
use crate::process::Program;
use crate::{project, wheel};

/// Where the bench of the solver leaves its numbers for Python.
const SOLVE: &str = "target/bench/solve.json";
const SOLVE_RECORD: &str = "benches/records/solve.md";
/// Where Python leaves its briefs for Rust.
const BRIEFS: &str = "target/bench/briefs.jsonl";
/// Benches whose second half needs the wheel.
const BESIDE: &[(&str, &str)] = &[
    ("sweep", "benches/sweep/beside.py"),
    ("sweep", "benches/sweep/axes.py"),
    ("ph", "benches/ph.py"),
    ("rescue", "benches/rescue.py"),
    ("trial", "benches/trial.py"),
    ("cost", "benches/cost.py"),
];
/// Where the bench of sweeps keeps what it printed last.
const SWEEP_RECORD: &str = "benches/records/sweep.md";
/// How often each build is timed; the least counts.
const BUILD_ROUNDS: usize = 3;

pub(crate) fn run(name: Option<&str>) -> Outcome {
    println!("The benches are built in release and measured; criterion compares them with the last run.");
    let bench = Program::cargo(&["bench", "--package", "tenside-benches"]);
    let mut printed = String::new();
    match name {
        Some("sweep") => printed = bench.arguments(&["--bench", "sweep"]).run_and_read()?,
        // Some are measured through Python alone.
        Some("rescue" | "trial") => {}
        Some(name) => bench.arguments(&["--bench", name]).run()?,
        None => bench.run()?,
    }
    if name.is_none_or(|name| name == "solve") {
        solve()?;
    }
    let mut beside = String::new();
    for (_, script) in BESIDE.iter().filter(|(bench, _)| name.is_none_or(|name| name == *bench)) {
        let environment = Environment::for_tests()?;
        wheel::install(&environment)?;
        beside += &environment.python().argument(script).run_and_read()?;
    }
    if name == Some("sweep") {
        let builds = builds()?;
        keep(&format!("{printed}{beside}{builds}"))?;
    }
    Ok(())
}

/// What one build took for one sweep, and the hash of its cells.
struct Timed {
    sweep: String,
    milliseconds: f64,
    hash: String,
}

/// The build that runs everywhere beside one for this processor alone, in turns.
fn builds() -> Outcome<String> {
    println!("\nbuilding for this processor alone");
    let timed = |native: bool| -> Outcome<Vec<Timed>> {
        let bench = Program::cargo(&["bench", "--package", "tenside-benches", "--bench", "sweep"]);
        // A folder of its own, so that the other build is not made anew every time.
        let bench = if native {
            bench.arguments(&["--target-dir", "target/native"]).variable("RUSTFLAGS", "-C target-cpu=native")
        } else {
            bench
        };
        let text = bench.arguments(&["--", "dispatch"]).read()?;
        let line = |line: &str| {
            let mut words = line.split_whitespace();
            let (sweep, milliseconds, hash) =
                (words.next()?.to_string(), words.next()?.parse().ok()?, words.next()?.to_string());
            Some(Timed { sweep, milliseconds, hash })
        };
        let found: Vec<Timed> = text.lines().filter_map(line).collect();
        if found.is_empty() {
            Err(Failure::new("the bench of sweeps printed no times of its build"))
        } else {
            Ok(found)
        }
    };
    let (mut portable, mut native) = (timed(false)?, timed(true)?);
    for _ in 1..BUILD_ROUNDS {
        for (least, native) in [(&mut portable, false), (&mut native, true)] {
            for (least, again) in least.iter_mut().zip(timed(native)?) {
                least.milliseconds = least.milliseconds.min(again.milliseconds);
            }
        }
    }
    let mut text = String::from(
        "\nthe build that runs everywhere, with dispatch, beside one for this processor alone; one thread\n",
    );
    for (portable, native) in portable.iter().zip(&native) {
        let ratio = portable.milliseconds / native.milliseconds;
        let bits = if portable.hash == native.hash { "the bits are the same" } else { "THE BITS DIFFER" };
        text += &format!(
            "  {}: {:.1} and {:.1} ms, {ratio:.2} x (aim 1.1 at most); {bits}\n",
            portable.sweep, portable.milliseconds, native.milliseconds
        );
    }
    print!("{text}");
    if portable.iter().zip(&native).any(|(portable, native)| portable.hash != native.hash) {
        return Err(Failure::new("two builds give different bits"));
    }
    Ok(text)
}

/// Keeps what was printed.
fn keep(printed: &str) -> Outcome {
    let lines = printed.lines().skip_while(|line| !line.contains("formulas of")).map(str::trim_end);
    let text = format!(
        "# Sweeps, last measured\n\nPrinted by `cargo xtask bench sweep`, in one job on one machine; the aims are \
         ratios, since machines differ.\n\n```text\n{}\n```\n",
        lines.collect::<Vec<_>>().join("\n").trim()
    );
    fs::write(project::at(SWEEP_RECORD), text)
        .map_err(|error| Failure::new(format!("cannot write {SWEEP_RECORD}: {error}")))
}

/// HiGHS and scipy on the programs that were just measured, then whole briefs from Python.
fn solve() -> Outcome {
    let environment = Environment::for_tests()?;
    let python = environment
        .python()
        .argument("benches/solve/anchors.py")
        .argument(project::at(SOLVE))
        .argument(project::at(SOLVE_RECORD));
    python.run()?;
    wheel::install(&environment)?;
    environment.python().arguments(&["benches/solve/briefs.py", SOLVE_RECORD, BRIEFS]).run()?;
    let printed = Program::cargo(&["bench", "--package", "tenside-benches", "--bench", "briefs"]).run_and_read()?;
    let record = project::at(SOLVE_RECORD);
    let kept = fs::read_to_string(&record).map(|text| format!("{text}\n{}\n", printed.trim()));
    kept.and_then(|text| fs::write(&record, text))
        .map_err(|error| Failure::new(format!("cannot write {SOLVE_RECORD}: {error}")))
}
