//! Rows of pieces against the same rows solved one by one: the same bits.

use std::sync::Arc;

use rust_decimal::Decimal;

use super::*;
use crate::brief::{Brief, Requirement, SplitBasis};
use crate::catalogue::{Catalogue, PriceList};
use crate::measure::{Basis, Measure, Scope};
use crate::sweep::{Turned, Values};

/// A row as it is filled; what means nothing is left out.
#[derive(Clone, Debug, PartialEq)]
struct Row {
    feasible: bool,
    code: u64,
    numbers: Vec<Option<u64>>,
}

fn rows(sweep: &Sweep, filler: &dyn Fill, rows: Range<u64>) -> Vec<Row> {
    let mut all = Vec::new();
    let done = filler.fill(rows.clone(), &mut |batch| {
        assert_eq!(batch.first, rows.start + all.len() as u64);
        for row in 0..batch.count {
            let feasible = batch.feasible[row];
            let line = |line: &Percents| match line {
                Percents::Same(value) => value.to_bits(),
                Percents::Each(values) => values[row].to_bits(),
            };
            let lines = batch.lines.iter().take(sweep.brief().lines().len()).map(|known| Some(line(known)));
            let measures = batch.measures.iter().zip(batch.missing).map(|(values, missing)| (!missing[row]).then(|| values[row].to_bits()));
            let numbers = if feasible { lines.chain(measures).collect() } else { Vec::new() };
            all.push(Row { feasible, code: if feasible { batch.binding[row] } else { batch.conflict[row] }, numbers });
        }
        true
    });
    assert!(done.unwrap());
    all
}

/// What a comparison came to.
#[derive(Debug, Default)]
struct Found {
    sweeps: usize,
    answered: usize,
    refused: usize,
    pieces: usize,
    missing: usize,
    alone: u64,
}

impl Pieces<'_> {
    fn count(&self) -> usize {
        let states = self.states.lock().unwrap();
        states.iter().filter_map(|(_, state)| state.as_ref()).map(|state| state.more(0).len()).sum()
    }
}

fn compare(sweep: &Sweep, found: &mut Found) -> bool {
    let asked = Asked::new(sweep, Level::best());
    let Some(pieces) = Pieces::new(sweep, &asked).unwrap() else { return false };
    let solved = Solved::new(sweep, &asked).unwrap();
    let expected = rows(sweep, &solved, 0..sweep.rows());
    let whole = rows(sweep, &pieces, 0..sweep.rows());
    for (row, (expected, whole)) in expected.iter().zip(&whole).enumerate() {
        assert_eq!(expected, whole, "row {row} of {:?}: {:?}", sweep.axes(), sweep.brief());
    }
    // From other rows on, with pieces found in another order, on another level.
    let other = Pieces::new(sweep, &Asked::new(sweep, Level::Portable)).unwrap().unwrap();
    let cut = sweep.rows() * 5 / 13;
    let later = rows(sweep, &other, cut..sweep.rows());
    assert_eq!([rows(sweep, &other, 0..cut), later].concat(), expected);
    found.sweeps += 1;
    found.answered += expected.iter().filter(|row| row.feasible).count();
    found.refused += expected.iter().filter(|row| !row.feasible).count();
    found.missing += expected.iter().flat_map(|row| &row.numbers).filter(|number| number.is_none()).count();
    found.pieces += pieces.count();
    found.alone += pieces.alone.load(std::sync::atomic::Ordering::Relaxed);
    true
}

fn prices() -> Arc<PriceList> {
    let of = [("sci-powder", 52), ("scs-needles", 38), ("capb-30", 19), ("kaolin", 11), ("cetyl-alcohol", 41), ("stearic-acid", 23), ("panthenol", 230), ("water", 1)];
    Arc::new(PriceList::new("EUR", of.map(|(id, tenths)| (id.to_string(), Decimal::new(tenths, 1)))).unwrap())
}

fn bar() -> Brief {
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().with_prices(prices());
    let brief = brief.split("wash", SplitBasis::Active, &[("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]).unwrap();
    let brief = brief.fix("panthenol", "1.5").unwrap().between("cetyl-alcohol", 3, 9).unwrap().between("stearic-acid", 0, 12).unwrap();
    let brief = brief.free("water").unwrap().qs("kaolin").unwrap();
    let brief = brief.at_least(Measure::active_matter(), 40).unwrap().at_most(Measure::active_matter(), 58).unwrap();
    brief.at_most(Measure::water(), 9).unwrap().minimise(Measure::cost())
}

fn axis(brief: &Brief, word: &str, values: Vec<Exact>) -> Axis {
    Turned::named(brief, word).unwrap_or_else(|error| panic!("{error}")).over(Values::new(values).unwrap()).unwrap()
}

fn even(from: i64, by: Exact, count: i64) -> Vec<Exact> {
    (0..count).map(|place| Exact::from(from) + &by * Exact::from(place)).collect()
}

#[test]
fn pairs_of_axes_over_a_bar() {
    let brief = bar();
    let half = Exact::ratio(1, 2);
    let axes = [
        ("wash.capb-30", even(1, Exact::ratio(1, 3), 9)),
        ("wash.sci-powder", even(3, Exact::from(2), 8)),
        ("fix.panthenol", even(0, Exact::ratio(1, 4), 9)),
        ("highest.cetyl-alcohol", even(3, half.clone(), 9)),
        ("lowest.stearic-acid", even(0, half.clone(), 9)),
        ("at-most.water", even(0, Exact::from(1), 10)),
        ("at-least.active-matter", even(30, Exact::from(3), 9)),
        ("price.kaolin", even(1, Exact::ratio(3, 10), 12)),
        ("price.stearic-acid", even(1, Exact::ratio(1, 4), 9)),
    ];
    let mut found = Found::default();
    for (first, (word, values)) in axes.iter().enumerate() {
        for (other, others) in &axes[..first] {
            let pair = vec![axis(&brief, word, values.clone()), axis(&brief, other, others.clone())];
            for axes in [pair.clone(), pair.into_iter().rev().collect()] {
                let sweep = Sweep::new(&brief, axes).unwrap();
                let sweep = sweep.with_measure(&Measure::cost().per(&Measure::active_matter()), &Basis::AsCharged).unwrap();
                let sweep = sweep.with_measure(&Measure::water(), &Basis::finished(Exact::from(8)).unwrap()).unwrap();
                assert!(compare(&sweep, &mut found), "{word} and {other}");
            }
        }
    }
    println!("{found:?}");
    assert!(found.sweeps == 72 && found.answered > 3000 && found.refused > 300 && found.missing > 20, "{found:?}");
}
