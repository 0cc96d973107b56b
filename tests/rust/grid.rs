//! Formulas of whole 0.0001 %: of ordinary briefs, and where nothing but whole parts is in the way.

use tenside::brief::{Brief, Requirement};
use tenside::number::Exact;
use tenside::solve::{Answer, Outcome};

use crate::support::{Random, Shelf, broken};

/// `cargo xtask oracle --cases N` draws N briefs.
fn cases() -> u64 {
    std::env::var("TENSIDE_ORACLE_CASES").map_or(400, |cases| cases.parse().unwrap())
}

fn answered(brief: &Brief) -> Option<Answer> {
    match brief.try_solve() {
        Ok(Outcome::Answered(answer)) => Some(*answer),
        _ => None,
    }
}

/// What whole 0.0001 % come to: a formula that its own measures read as meeting every one-sided requirement, or a proof
/// that there is none.
#[derive(Default, Debug)]
struct Counts {
    formulas: usize,
    departing: usize,
    proved: usize,
    cut_off: Vec<u64>,
}

impl Counts {
    fn count(&mut self, seed: u64, answer: &Answer) {
        answer.verify().unwrap_or_else(|error| panic!("brief {seed}: {error}"));
        if let Some(refusal) = answer.grid_refusal() {
            assert!(
                !refusal.requirements().is_empty() && !refusal.sentence().contains("found )"),
                "brief {seed}: {}",
                refusal.sentence()
            );
            if refusal.is_proved() {
                self.proved += 1
            } else {
                self.cut_off.push(seed)
            }
            return;
        }
        self.formulas += 1;
        self.departing += usize::from(!answer.departures().is_empty());
        // Two limits that ask for one value together give as an equation does. Of a product that dries away to nothing
        // there is no share to be read.
        let read = |words: &String| !words.contains("the denominator is 0");
        for words in broken(answer.brief(), answer.formula().unwrap()).into_iter().filter(read) {
            let departs =
                answer.departures().iter().any(|departure| words.starts_with(&format!("{}: ", departure.words)));
            assert!(departs, "brief {seed}: {words}");
        }
    }
}

#[test]
fn ordinary_briefs_have_a_formula_of_whole_parts_or_a_proof_that_there_is_none() {
    let shelf = Shelf::new();
    let mut counts = Counts::default();
    for seed in 0..cases() {
        if let Some(answer) = answered(&shelf.brief(&mut Random::new(seed))) {
            counts.count(seed, &answer);
        }
    }
    println!("{counts:?}");
    assert!(counts.cut_off.is_empty(), "{counts:?}");
    assert!(counts.formulas as u64 * 5 > cases() && counts.departing > 10, "{counts:?}");
}

/// Ordinary briefs with a requirement at the exact end of what it can reach, where the formulas left have no room in
/// some direction.
#[test]
fn ordinary_briefs_at_the_end_of_a_reach_have_a_formula_or_a_proof_that_there_is_none() {
    let shelf = Shelf::new();
    let mut counts = Counts::default();
    for seed in 0..cases() {
        let mut random = Random::new(seed);
        let brief = shelf.brief(&mut random);
        let Some(asked) = brief.requirements().first().cloned() else { continue };
        let Ok(reach) = brief.reach(asked.measure(), asked.basis()) else { continue };
        let end = |value: &Exact, lowest: bool| {
            let end = if lowest {
                Requirement::at_most(asked.measure().clone(), value.clone()).unwrap()
            } else {
                Requirement::at_least(asked.measure().clone(), value.clone()).unwrap()
            };
            brief.clone().require(end.on(asked.basis().clone()).named("the end of the reach").unwrap()).unwrap()
        };
        let lowest = random.chance(50);
        let Some(value) = (if lowest { &reach.lowest } else { &reach.highest }) else { continue };
        if let Some(answer) = answered(&end(value, lowest)) {
            counts.count(seed, &answer);
        }
    }
    println!("{counts:?}");
    assert!(counts.cut_off.is_empty(), "{counts:?}");
    assert!(counts.formulas > 20 && counts.proved > 2, "{counts:?}");
}
