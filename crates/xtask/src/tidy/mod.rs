//! The house rules that clippy does not hold: floors, circles, sizes, places, sources, layout, and that no test went
//! unrun.

mod circles;
mod counts;
mod data;
mod files;
mod finding;
mod floors;
mod layout;
mod length;
mod packages;
mod paths;
mod places;
mod tables;
mod tokens;

pub(crate) use counts::Counts;

use crate::failure::{Failure, Outcome};
use files::File;
use finding::Finding;

/// One rule: what breaks it among the files.
type Rule = fn(&[File]) -> Vec<Finding>;

/// The command: every rule but the count of tests, which needs a run of them.
pub(crate) fn run() -> Outcome {
    println!("The house rules are checked; what they are stands in crates/xtask/src/tidy.");
    check(None)
}

/// Every rule; the count of tests where there is one.
pub(crate) fn check(ran: Option<&Counts>) -> Outcome {
    let files = files::tracked()?;
    let rules: [Rule; 6] = [floors::check, circles::check, length::check, places::check, data::check, layout::check];
    let mut findings: Vec<Finding> = rules.iter().flat_map(|rule| rule(&files)).collect();
    findings.extend(packages::check()?);
    if let Some(ran) = ran {
        findings.extend(counts::check(ran, &files));
    }
    for finding in &findings {
        println!("{finding}");
    }
    if findings.is_empty() {
        println!("tidy: {} files, nothing to say", files.len());
        return Ok(());
    }
    Err(Failure::new(format!("{} places break a house rule; each is named above with the way out", findings.len())))
}
