//! Every change is tried with the tests that reach it, the quickest first, until one notices it.

use std::collections::{BTreeMap, HashMap};
use std::fs;
use std::io::{self, Write};
use std::path::Path;
use std::sync::Mutex;
use std::time::Duration;

use serde::{Deserialize, Serialize};

use crate::change::Change;
use crate::explained::Explained;
use crate::tree::{Placed, Tree};
use crate::trial::{self, Test, Verdict, locked};

/// Tests that take longer than this are tried only once the quicker ones have let a change through.
const QUICK: Duration = Duration::from_millis(400);
/// How many of the tests that last noticed a change of a file are tried first on the next one.
const REMEMBERED: usize = 6;

/// What became of a change.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Outcome {
    /// A test fails.
    Noticed,
    /// A test does not end.
    Hung,
    /// Every test that reaches it passes.
    Missed,
    /// No test reaches it.
    Unreached,
    /// It does not compile.
    Refused,
}

impl Outcome {
    /// Whether no test noticed it.
    pub(crate) fn is_open(self) -> bool {
        matches!(self, Outcome::Missed | Outcome::Unreached)
    }
}

/// A line of the results.
#[derive(Debug, Clone, Serialize, Deserialize)]
pub(crate) struct Record {
    pub(crate) label: String,
    pub(crate) name: String,
    pub(crate) outcome: Outcome,
    /// The test that noticed it.
    pub(crate) by: Option<String>,
    /// How many tests reach it.
    pub(crate) reached_by: usize,
}

/// The results of a run before, by label; nothing if there was none.
pub(crate) fn read(path: &Path) -> io::Result<BTreeMap<String, Record>> {
    match fs::read_to_string(path) {
        Ok(text) => {
            text.lines().map(|line| Ok(serde_json::from_str::<Record>(line)?)).map(|record| record.map(|record| (record.label.clone(), record))).collect()
        }
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(BTreeMap::new()),
        Err(error) => Err(error),
    }
}

/// A run.
pub(crate) struct Trials<'a> {
    all: &'a [Change],
    labels: &'a [String],
    tests: &'a [Test],
    explained: &'a Explained,
    before: BTreeMap<String, Record>,
    /// A change that all tests let through before meets only those with one of these in their names; if there are none, all.
    words: &'a [&'a str],
    results: Mutex<fs::File>,
    /// The tests that last noticed a change of a file.
    noticed_last: Mutex<HashMap<&'a str, Vec<usize>>>,
}

impl<'a> Trials<'a> {
    /// Trials that write to `results`. A change is tried first with the test that noticed it `before`.
    pub(crate) fn new(
        all: &'a [Change],
        labels: &'a [String],
        tests: &'a [Test],
        explained: &'a Explained,
        before: BTreeMap<String, Record>,
        words: &'a [&'a str],
        results: &Path,
    ) -> io::Result<Self> {
        let results = Mutex::new(fs::File::create(results)?);
        Ok(Trials { all, labels, tests, explained, before, words, results, noticed_last: Mutex::default() })
    }

    /// Tries everything but what is `kept` from a run before.
    pub(crate) fn run(&self, kept: &[Record], placed: &Placed, tree: &Tree) -> io::Result<()> {
        for record in kept {
            self.keep(record)?;
        }
        let mut reached: Vec<Vec<usize>> = vec![Vec::new(); self.all.len()];
        let mut by_time: Vec<usize> = (0..self.tests.len()).collect();
        by_time.sort_by_key(|&test| self.tests[test].takes);
        for test in by_time {
            for &number in &self.tests[test].reaches {
                reached[number].push(test);
            }
        }
        let mut queue = Vec::new();
        for number in (0..self.all.len()).filter(|number| !placed.apart.contains(number)) {
            if placed.refused.contains(&number) {
                self.write(number, Outcome::Refused, None, 0)?;
            } else if reached[number].is_empty() {
                self.write(number, Outcome::Unreached, None, 0)?;
            } else {
                queue.push(number);
            }
        }
        let left = self.round(&queue, &reached, |test| test.takes <= QUICK)?;
        println!("{} of {} pass the quick tests", left.len(), queue.len());
        // The slow tests cost most where nothing notices: an explained change counts as missed without them.
        let (explained, left): (Vec<usize>, Vec<usize>) = left.into_iter().partition(|&number| self.explained.explains(&self.labels[number]));
        let left = self.round(&left, &reached, |test| test.takes > QUICK)?;
        for &number in explained.iter().chain(&left) {
            self.write(number, Outcome::Missed, None, reached[number].len())?;
        }
        println!("{} pass every test; {} are built alone", left.len(), placed.apart.len());
        for &number in &placed.apart {
            // A build is too much for a few tests more.
            if let Some(record) = self.before.get(&self.labels[number]).filter(|_| !self.words.is_empty()) {
                self.keep(record)?;
                continue;
            }
            let (outcome, by) = self.alone(number, tree)?;
            self.write(number, outcome, by.as_deref(), self.tests.len())?;
        }
        Ok(())
    }

    /// Tries `queue` with `some` of the tests; gives back what none of them noticed.
    fn round(&self, queue: &[usize], reached: &[Vec<usize>], some: impl Fn(&Test) -> bool + Sync) -> io::Result<Vec<usize>> {
        let next = Mutex::new(queue.iter());
        let left = Mutex::new(Vec::new());
        let work = || -> io::Result<()> {
            while let Some(&number) = { locked(&next).next() } {
                let tests: Vec<usize> = reached[number].iter().copied().filter(|&test| some(&self.tests[test]) && self.meets(number, test)).collect();
                match self.tried(number, &tests)? {
                    Some((outcome, test)) => self.write(number, outcome, Some(&self.tests[test].name), reached[number].len())?,
                    None => locked(&left).push(number),
                }
            }
            Ok(())
        };
        trial::together(work)?;
        let mut left = std::mem::take(&mut *locked(&left));
        left.sort_unstable();
        Ok(left)
    }

    /// Whether `test` is new to change `number`, as far as the words say.
    fn meets(&self, number: usize, test: usize) -> bool {
        let name = format!("{} {}", self.tests[test].program.name, self.tests[test].name);
        self.words.is_empty() || self.words.iter().any(|word| name.contains(word)) || !self.before.contains_key(&self.labels[number])
    }

    /// The first test that notices change `number`, if one does.
    fn tried(&self, number: usize, tests: &[usize]) -> io::Result<Option<(Outcome, usize)>> {
        let file = self.all[number].file.as_str();
        let by = self.before.get(&self.labels[number]).and_then(|record| record.by.as_deref());
        let mut first: Vec<usize> = tests.iter().copied().filter(|&test| by == Some(&self.tests[test].name)).collect();
        first.extend(locked(&self.noticed_last).get(file).into_iter().flatten().rev().filter(|test| tests.contains(test)));
        let rest = tests.iter().copied().filter(|test| !first.contains(test)).collect::<Vec<_>>();
        for test in first.iter().copied().chain(rest) {
            let outcome = match trial::with_change(&self.tests[test], number)? {
                Verdict::Passed => continue,
                Verdict::Failed => Outcome::Noticed,
                Verdict::Hung => Outcome::Hung,
            };
            let mut noticed_last = locked(&self.noticed_last);
            let of_file = noticed_last.entry(file).or_default();
            of_file.retain(|&other| other != test);
            of_file.push(test);
            let surplus = of_file.len().saturating_sub(REMEMBERED);
            of_file.drain(..surplus);
            return Ok(Some((outcome, test)));
        }
        Ok(None)
    }

    /// A change that has a build of its own meets every test; those that are built soonest come first.
    fn alone(&self, number: usize, tree: &Tree) -> io::Result<(Outcome, Option<String>)> {
        let met = tree.alone(&self.all[number], || {
            for programs in [Tree::unit_tests, Tree::test_programs] {
                let programs = programs(tree)?;
                for test in self.tests {
                    let Some(program) = programs.iter().find(|program| program.name == test.program.name) else { continue };
                    match trial::with_change(&Test { program: program.clone(), ..test.clone() }, number)? {
                        Verdict::Passed => {}
                        Verdict::Failed => return Ok((Outcome::Noticed, Some(test.name.clone()))),
                        Verdict::Hung => return Ok((Outcome::Hung, Some(test.name.clone()))),
                    }
                }
            }
            let noticed = tree.documentation()?.is_none();
            Ok(if noticed { (Outcome::Noticed, Some("documentation".to_string())) } else { (Outcome::Missed, None) })
        })?;
        Ok(met.unwrap_or((Outcome::Refused, None)))
    }

    fn write(&self, number: usize, outcome: Outcome, by: Option<&str>, reached_by: usize) -> io::Result<()> {
        self.keep(&Record { label: self.labels[number].clone(), name: self.all[number].name.clone(), outcome, by: by.map(String::from), reached_by })
    }

    fn keep(&self, record: &Record) -> io::Result<()> {
        locked(&self.results).write_all((serde_json::to_string(record)? + "\n").as_bytes())
    }
}
