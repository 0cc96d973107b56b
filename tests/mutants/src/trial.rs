//! Tests: which there are, how long each takes, which changes it reaches, and what it says when one of them is on.

use std::collections::BTreeSet;
use std::fs;
use std::io;
use std::path::Path;
use std::process::{Command, Stdio};
use std::sync::{Mutex, MutexGuard, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use crate::tree::TestProgram;

/// Address space a test may take in KiB: a change can make a loop that allocates without end.
const MOST_KIBIBYTES: u32 = 12_000_000;
/// A test with a change may take this many times as long as without, and this much more.
const PATIENCE: (u32, Duration) = (6, Duration::from_secs(4));

/// A test without a change may take this long.
const LONGEST: Duration = Duration::from_secs(600);

/// One test.
#[derive(Debug, Clone)]
pub(crate) struct Test {
    pub(crate) program: TestProgram,
    pub(crate) name: String,
    pub(crate) takes: Duration,
    pub(crate) reaches: BTreeSet<usize>,
}

/// What a test said.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Verdict {
    Passed,
    Failed,
    /// It did not end in the time it had.
    Hung,
}

/// All tests of `programs`, each run once without a change.
pub(crate) fn tests(programs: &[TestProgram], folder: &Path) -> io::Result<Vec<Test>> {
    let mut tests = Vec::new();
    for program in programs {
        if program.whole {
            tests.push(Test { program: program.clone(), name: program.name.clone(), takes: Duration::ZERO, reaches: BTreeSet::new() });
            continue;
        }
        let listed = Command::new(&program.path).args(["--list", "--format", "terse"]).current_dir(&program.folder).output()?;
        for line in String::from_utf8_lossy(&listed.stdout).lines() {
            if let Some(name) = line.strip_suffix(": test") {
                tests.push(Test { program: program.clone(), name: name.into(), takes: Duration::ZERO, reaches: BTreeSet::new() });
            }
        }
    }
    let notes = folder.join("reached");
    fs::create_dir_all(&notes)?;
    let (next, failed) = (Mutex::new(tests.iter_mut().enumerate()), Mutex::new(Vec::new()));
    let work = || -> io::Result<()> {
        while let Some((place, test)) = { locked(&next).next() } {
            let note = notes.join(place.to_string());
            let _ = fs::remove_file(&note);
            let start = Instant::now();
            let verdict = run(test, ("MUTANTS_REACHED", &note.to_string_lossy()), LONGEST)?;
            test.takes = start.elapsed();
            test.reaches = fs::read_to_string(&note).unwrap_or_default().lines().filter_map(|line| line.parse().ok()).collect();
            if verdict != Verdict::Passed {
                locked(&failed).push(format!("{} of {}", test.name, test.program.name));
            }
        }
        Ok(())
    };
    together(work)?;
    let failed = std::mem::take(&mut *locked(&failed));
    if failed.is_empty() { Ok(tests) } else { Err(io::Error::other(format!("without any change these tests fail: {}", failed.join(", ")))) }
}

/// What `test` says with change `number` on.
pub(crate) fn with_change(test: &Test, number: usize) -> io::Result<Verdict> {
    run(test, ("MUTANT", &number.to_string()), test.takes * PATIENCE.0 + PATIENCE.1)
}

/// Runs `work` once a core, until all have ended.
pub(crate) fn together(work: impl Fn() -> io::Result<()> + Sync) -> io::Result<()> {
    let workers = thread::available_parallelism().map_or(1, usize::from);
    thread::scope(|scope| {
        let workers: Vec<_> = (0..workers).map(|_| scope.spawn(&work)).collect();
        workers.into_iter().try_for_each(|worker| worker.join().unwrap_or_else(|_| Err(io::Error::other("a worker ended early"))))
    })
}

pub(crate) fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

fn run(test: &Test, variable: (&str, &str), patience: Duration) -> io::Result<Verdict> {
    let mut child = Command::new("sh")
        .args(["-c", &format!("ulimit -c 0; ulimit -v {MOST_KIBIBYTES}; exec \"$@\""), "sh"])
        .arg(&test.program.path)
        .args(if test.program.whole { vec![] } else { vec!["--exact", &test.name, "--include-ignored", "--test-threads=1"] })
        .current_dir(&test.program.folder)
        .env("CARGO_MANIFEST_DIR", &test.program.folder)
        // Failing cases kept in the copy would make later trials stronger than the tests are.
        .env("PROPTEST_DISABLE_FAILURE_PERSISTENCE", "true")
        .env("PROPTEST_MAX_SHRINK_ITERS", "0")
        .env(variable.0, variable.1)
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()?;
    let start = Instant::now();
    let mut pause = Duration::from_micros(500);
    loop {
        if let Some(status) = child.try_wait()? {
            return Ok(if status.success() { Verdict::Passed } else { Verdict::Failed });
        }
        if start.elapsed() > patience {
            child.kill()?;
            child.wait()?;
            return Ok(Verdict::Hung);
        }
        thread::sleep(pause);
        pause = (pause * 2).min(Duration::from_millis(20));
    }
}
