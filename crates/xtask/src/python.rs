//! Finding a Python that can make virtual environments.

use std::path::PathBuf;

use crate::failure::{Failure, Outcome};
use crate::process::Program;

const LOWEST: (u32, u32) = (3, 10);
const NAMES: &[&[&str]] =
    &[&["python3.13"], &["python3.12"], &["python3.11"], &["python3.10"], &["python3"], &["python"], &["py", "-3"]];
// A system Python may come without the two modules that make an environment; such a one is passed over.
const QUESTION: &str = "import ensurepip, venv, sys; print(*sys.version_info[:2]); print(sys.executable)";

/// One Python.
#[derive(Debug, PartialEq, Eq)]
pub(crate) struct Python {
    pub(crate) program: PathBuf,
    pub(crate) version: (u32, u32),
}

/// The first Python of at least 3.10 among the usual names.
pub(crate) fn find() -> Outcome<Python> {
    usable().next().ok_or_else(|| {
        Failure::new(
            "no Python of at least 3.10 with the modules venv and ensurepip was found as python3.13 to python3.10, \
             python3, python or py; install one (on Debian: apt-get install python3 python3-venv) or put it on the \
             search path",
        )
    })
}

/// One Python of each version that is found under the usual names.
pub(crate) fn every() -> Vec<Python> {
    let mut found: Vec<Python> = Vec::new();
    for python in usable() {
        if found.iter().all(|other| other.version != python.version) {
            found.push(python);
        }
    }
    found
}

fn usable() -> impl Iterator<Item = Python> {
    let answers = NAMES
        .iter()
        .filter_map(|words| Program::new(words[0]).arguments(&words[1..]).arguments(&["-c", QUESTION]).try_read());
    answers.filter_map(|answer| read_answer(&answer)).filter(|python| python.version >= LOWEST)
}

fn read_answer(answer: &str) -> Option<Python> {
    let mut lines = answer.lines();
    let (major, minor) = lines.next()?.split_once(' ')?;
    Some(Python { version: (major.parse().ok()?, minor.parse().ok()?), program: PathBuf::from(lines.next()?) })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn reads_what_a_python_says_of_itself() {
        let python = read_answer("3 11\n/usr/bin/python3.11\n").unwrap();
        assert_eq!(python, Python { program: PathBuf::from("/usr/bin/python3.11"), version: (3, 11) });
        assert!(python.version >= LOWEST);
        assert!(read_answer("3 9\n/usr/bin/python3.9\n").unwrap().version < LOWEST);
        assert_eq!(read_answer("command not found"), None);
    }
}
