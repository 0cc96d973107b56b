//! Formulas of whole 0.0001 %: of ordinary briefs, and where nothing but whole parts is in the way.

use tenside::brief::{Brief, Direction, Objective, Requirement};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::{Basis, Measure};
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

/// How far the grid formula is off the exact solution, in percentage points.
fn off(brief: &Brief) -> Exact {
    let answer = brief.solve().unwrap();
    answer.verify().unwrap();
    let lines = answer.formula().unwrap().lines().iter().zip(answer.exact());
    lines.map(|(line, exact)| (line.percent().percent() - exact).abs()).max().unwrap()
}

/// Limits at the very end of what can be reached leave few whole ppm, and these are not looked for in a far corner.
#[test]
fn limits_that_meet_move_the_grid_formula_no_further_than_they_must() {
    let starter = Catalogue::starter();
    let prices =
        [("capb-30", "5.1"), ("kaolin", "23.6"), ("scs-needles", "4.8"), ("water", "6.3"), ("sodium-benzoate", "1")];
    let ratio = || Measure::water().per(&Measure::active_matter());
    let brief = Brief::new("Cheapest", &starter)
        .and_then(|brief| brief.with_prices(&PriceList::new("EUR", prices)?))
        .and_then(|brief| brief.between("capb-30", 0, 20)?.between("kaolin", 0, 40)?.between("scs-needles", 10, 30))
        .and_then(|brief| brief.between("water", 5, 45)?.qs("sodium-benzoate")?.at_least(Measure::water(), "31.9"))
        .unwrap()
        .minimise(Measure::cost());
    let least = brief.reach(&ratio(), &Basis::AsCharged).unwrap().lowest.unwrap();
    let brief = brief.at_most(ratio(), least).unwrap();
    assert!(off(&brief) < Exact::ratio(1, 10), "{}", off(&brief));
    let said = brief.solve().unwrap().notes().unwrap();
    assert!(said.iter().any(|note| note.contains("is not near the exact solution")), "{said:?}");

    let centred = Brief::new("Middle", &starter)
        .and_then(|brief| brief.between("sci-noodles", 10, 30)?.between("coco-glucoside-50", 10, 12))
        .and_then(|brief| brief.between("sci-powder", 1, 21)?.between("corn-starch", 0, 40)?.qs("sodium-benzoate"))
        .and_then(|brief| brief.at_least(Measure::active_matter(), "27.9")?.at_most(Measure::anionic_active(), "21.78"))
        .unwrap();
    assert!(off(&centred) < Exact::ratio(1, 5), "{}", off(&centred));
}

/// A row that rounding breaks is mended by the lines that are rounded: the others stay where they are.
#[test]
fn what_is_on_the_grid_stays_there() {
    let prices = [("sodium-benzoate", 4), ("water", 1), ("sci-noodles", 9), ("panthenol", 20)];
    let brief = Brief::new("Dried", &Catalogue::starter())
        .and_then(|brief| brief.with_prices(&PriceList::new("EUR", prices)?))
        .and_then(|brief| brief.free("sodium-benzoate")?.between("water", 1, 4)?.qs("sci-noodles"))
        .and_then(|brief| brief.between("panthenol", 0, 20))
        .unwrap();
    let dried = Objective::measure(Direction::Minimise, Measure::cost(), Basis::finished(Exact::from(5)).unwrap());
    let brief = brief.with_objective(Some(dried));
    assert!(off(&brief) <= Exact::ratio(1, 10_000), "{}", off(&brief));
    assert_eq!(brief.solve().unwrap().notes().unwrap().len(), 1);
}
