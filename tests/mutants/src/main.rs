//! The mutation test: `tenside-mutants LIST FOLDER` in the top folder of the project, where LIST is what cargo-mutants lists as JSON and FOLDER
//! takes the copy, the build and the results. All changes are built once, each behind a switch; each is then tried with the tests that reach it.
//! With `again`, a change that was noticed in the run before is not tried once more. It fails if a change that no test notices has no explanation in `tests/mutants/explained`.

mod change;
mod explained;
mod render;
mod site;
mod tree;
mod trial;
mod trials;

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::io;
use std::path::Path;
use std::process::ExitCode;

use change::Change;
use explained::Explained;
use tree::Tree;
use trials::{Outcome, Record, Trials};

fn main() -> ExitCode {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let (list, folder, scope) = match words.iter().map(String::as_str).collect::<Vec<_>>()[..] {
        [list, folder] => (list, folder, Scope::Everything),
        [list, folder, "again"] => (list, folder, Scope::Unnoticed { tests: Vec::new() }),
        [list, folder, "again", tests] => (list, folder, Scope::Unnoticed { tests: tests.split(',').collect() }),
        _ => {
            eprintln!("tenside-mutants LIST FOLDER [again [WORD,WORD]]");
            return ExitCode::FAILURE;
        }
    };
    match run(Path::new(list), Path::new(folder), &scope) {
        Ok(true) => ExitCode::SUCCESS,
        Ok(false) => ExitCode::FAILURE,
        Err(error) => {
            eprintln!("the mutation test stopped: {error}");
            ExitCode::FAILURE
        }
    }
}

/// What is tried.
enum Scope<'a> {
    Everything,
    /// What was noticed in the run before is known; what was not meets the tests with one of these words in their names, or all.
    Unnoticed {
        tests: Vec<&'a str>,
    },
}

fn run(list: &Path, folder: &Path, scope: &Scope<'_>) -> io::Result<bool> {
    let listed: Vec<Change> = serde_json::from_str(&fs::read_to_string(list)?)?;
    let explained = Explained::read(Path::new("tests/mutants/explained"))?;
    fs::create_dir_all(folder)?;
    // Tests run in folders of their own, so every path must be whole.
    let folder = folder.canonicalize()?;
    let root = std::env::current_dir()?;
    let labels = change::labels(&listed, |file| fs::read_to_string(root.join(file)))?;
    let results = folder.join("results.jsonl");
    let mut before = trials::read(&results)?;
    if matches!(scope, Scope::Everything) {
        // Without what is known, everything is tried; which test noticed a change is no more than a hint.
        before.values_mut().for_each(|record| record.outcome = Outcome::Missed);
    }
    let known = |label: &String| before.get(label).filter(|record| !record.outcome.is_open());
    let of_this_list: BTreeSet<&str> = labels.iter().map(|label| file_of(label)).collect();
    let (kept, (all, open)): (Vec<Record>, (Vec<Change>, Vec<String>)) = (
        labels.iter().filter_map(known).chain(before.values().filter(|record| !of_this_list.contains(file_of(&record.label)))).cloned().collect(),
        listed.into_iter().zip(&labels).filter(|(_, label)| known(label).is_none()).map(|(change, label)| (change, label.clone())).unzip(),
    );
    let tree = Tree::new(&root, &folder)?;
    println!("{} changes, put into one copy; {} are known to be noticed", all.len(), kept.len());
    let placed = tree.place(&all)?;
    println!("{} do not compile, {} cannot be switched; the tests are built", placed.refused.len(), placed.apart.len());
    let words: &[&str] = if let Scope::Unnoticed { tests } = scope { tests } else { &[] };
    let mut programs = tree.test_programs()?;
    programs.extend(tree.documentation()?.ok_or_else(|| io::Error::other("the examples in the documentation fail without any change"))?);
    let tests = trial::tests(&programs, &folder)?;
    println!("{} tests, {:.0} s one after the other", tests.len(), tests.iter().map(|test| test.takes.as_secs_f64()).sum::<f64>());
    // A run cut off must not take the results of the one before with it.
    let under_way = folder.join("results.under-way.jsonl");
    Trials::new(&all, &open, &tests, &explained, before, words, &under_way)?.run(&kept, &placed, &tree)?;
    fs::rename(&under_way, &results)?;
    Ok(told(&trials::read(&results)?, &explained))
}

/// Prints the score and what is not explained; whether all is.
fn told(results: &BTreeMap<String, Record>, explained: &Explained) -> bool {
    let count = |outcome: Outcome| results.values().filter(|record| record.outcome == outcome).count();
    let unnoticed: BTreeSet<&str> = results.values().filter(|record| record.outcome.is_open()).map(|record| record.label.as_str()).collect();
    let (failed, hung) = (count(Outcome::Noticed), count(Outcome::Hung));
    let tried = failed + hung + unnoticed.len();
    println!(
        "{failed} changes make a test fail and {hung} make one hang: {} of {tried} are noticed, {:.1} %",
        failed + hung,
        100.0 * (failed + hung) as f64 / tried.max(1) as f64
    );
    println!(
        "{} pass every test that reaches them, {} are reached by none, {} do not compile",
        count(Outcome::Missed),
        count(Outcome::Unreached),
        count(Outcome::Refused)
    );
    let lacking = explained.lacking(&unnoticed);
    let of_these_results: BTreeSet<&str> = results.keys().map(|label| file_of(label)).collect();
    let needless = explained.needless(&unnoticed, |label| of_these_results.contains(file_of(label)));
    for (labels, sentence) in [(&lacking, "is noticed by no test and not explained"), (&needless, "is explained and need not be")] {
        for label in labels {
            println!("{label}\n    {sentence}");
        }
    }
    println!("{} unnoticed changes are explained, {} are not, {} explanations are needless", unnoticed.len() - lacking.len(), lacking.len(), needless.len());
    lacking.is_empty() && needless.is_empty()
}

/// The file at the head of a label.
fn file_of(label: &str) -> &str {
    label.split_once(": ").map_or(label, |(file, _)| file)
}
