//! Briefs, solved where they are small.

use tenside::brief::Brief;
use tenside::solve::Outcome;

use crate::reading::{accepted, document, shelf, survives};

/// Larger briefs are read only, so that more of them are.
const MOST_LINES: usize = 8;
const MOST_REQUIREMENTS: usize = 8;
/// Numbers of more digits are read only: a program of them is right, but slow.
const MOST_DIGITS: usize = 12;

/// Reads `bytes` as a brief, in TOML or JSON: it survives writing, and an answer or conflict is verified.
pub fn brief(bytes: &[u8]) {
    let Some((text, notation)) = document(bytes) else { return };
    let Some(brief) = accepted(Brief::read(text, notation, shelf())) else { return };
    survives(
        &brief,
        |brief, notation| brief.write(notation, tenside::document::Materials::Embedded),
        |text, notation| Brief::read(text, notation, shelf()),
    );
    let long = text.split(|c: char| !c.is_ascii_digit()).any(|digits| digits.len() > MOST_DIGITS);
    if long
        || brief.lines().len() > MOST_LINES
        || brief.requirements().len() > MOST_REQUIREMENTS
        || brief.splits().len() > 2
    {
        return;
    }
    match accepted(brief.try_solve()) {
        None => {}
        Some(Outcome::Answered(answer)) => {
            answer.verify().unwrap_or_else(|error| panic!("{error}"));
            let _ = (answer.binding(), answer.departures());
            if let Some(formula) = accepted(answer.formula().cloned()) {
                assert_eq!(formula.lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000);
            }
        }
        Some(Outcome::Conflict(conflict)) => {
            conflict.verify().unwrap_or_else(|error| panic!("{error}"));
            assert!(!conflict.members().is_empty(), "a conflict of nobody");
            assert_eq!(conflict.members().len(), conflict.constraints().len());
            accepted(conflict.relaxations());
            accepted(conflict.correction_set());
        }
    }
}
