//! Rows of regions against the same rows solved one by one: the same bits.

mod determined;

use std::sync::Arc;

use rust_decimal::Decimal;

use super::*;
use crate::brief::{Brief, Requirement, SplitBasis};

use crate::catalogue::{Catalogue, PriceList};
use crate::measure::{Basis, Measure, Scope};
use crate::sweep::tests::rows;
use crate::sweep::{Axis, Values, Varied};

/// What a comparison came to.
#[derive(Debug, Default)]
struct Found {
    sweeps: usize,
    answered: usize,
    refused: usize,
    regions: usize,
    missing: usize,
    alone: u64,
}

impl Regions<'_> {
    fn count(&self) -> usize {
        let states = self.states.lock().unwrap();
        states.iter().filter_map(|(_, state)| state.as_ref()).map(|state| state.more(0).len()).sum()
    }
}

fn compare(sweep: &Sweep, found: &mut Found) -> bool {
    let regions = Regions::new(sweep, Level::best()).unwrap();
    if regions.coordinates.is_empty() {
        return false;
    }
    let filled = |regions: &Regions<'_>, from: u64, to: u64| rows(from..to, |rows, each| regions.fill(rows, each));
    let expected = rows(0..sweep.rows(), |rows, each| regions.solved.fill(rows, each));
    let whole = filled(&regions, 0, sweep.rows());
    for (row, (expected, whole)) in expected.iter().zip(&whole).enumerate() {
        assert_eq!(expected, whole, "row {row} of {:?}: {:?}", sweep.axes(), sweep.brief());
    }
    // From other rows on, with regions found in another order, on another level.
    let other = Regions::new(sweep, Level::Portable).unwrap();
    let cut = sweep.rows() * 5 / 13;
    let later = filled(&other, cut, sweep.rows());
    assert_eq!([filled(&other, 0, cut), later].concat(), expected);
    found.sweeps += 1;
    found.answered += expected.iter().filter(|row| row.feasible).count();
    found.refused += expected.iter().filter(|row| !row.feasible).count();
    found.missing += expected.iter().flat_map(|row| &row.numbers).filter(|number| number.is_none()).count();
    found.regions += regions.count();
    found.alone += regions.alone.load(std::sync::atomic::Ordering::Relaxed);
    true
}

fn prices() -> Arc<PriceList> {
    let of = [
        ("sci-powder", 52),
        ("scs-needles", 38),
        ("capb-30", 19),
        ("kaolin", 11),
        ("cetyl-alcohol", 41),
        ("stearic-acid", 23),
        ("panthenol", 230),
        ("water", 1),
    ];
    Arc::new(PriceList::new("EUR", of.map(|(id, tenths)| (id.to_string(), Decimal::new(tenths, 1)))).unwrap())
}

fn bar() -> Brief {
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().with_prices(&prices()).unwrap();
    let brief =
        brief.split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]).unwrap();
    let brief = brief
        .fix("panthenol", "1.5")
        .unwrap()
        .between("cetyl-alcohol", 3, 9)
        .unwrap()
        .between("stearic-acid", 0, 12)
        .unwrap();
    let brief = brief.free("water").unwrap().qs("kaolin").unwrap();
    let brief = brief.at_least(Measure::active_matter(), 40).unwrap().at_most(Measure::active_matter(), 58).unwrap();
    brief.at_most(Measure::water(), 9).unwrap().minimise(Measure::cost())
}

fn axis(brief: &Brief, word: &str, values: Vec<Exact>) -> Axis {
    Varied::named(brief, word).unwrap_or_else(|error| panic!("{error}")).over(Values::new(values).unwrap()).unwrap()
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
                let sweep =
                    sweep.with_measure(&Measure::cost().per(&Measure::active_matter()), &Basis::AsCharged).unwrap();
                let sweep = sweep.with_measure(&Measure::water(), &Basis::finished(Exact::from(8)).unwrap()).unwrap();
                assert!(compare(&sweep, &mut found), "{word} and {other}");
            }
        }
    }
    println!("{found:?}");
    assert!(found.sweeps == 72 && found.answered > 3000 && found.refused > 300 && found.missing > 20, "{found:?}");
}

/// Numbers without pattern (Knuth's linear congruence modulo 2^64, high bits).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, end: u64) -> i64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % end) as i64
    }

    fn tenths(&mut self, from: i64, to: i64) -> Exact {
        Exact::ratio(from * 10 + self.below(((to - from) * 10 + 1) as u64), 10)
    }
}

/// Splits of every basis, lines with ranges, limits on many measures, every objective; a third of them with equal
/// prices, so that ties are many.
fn random_brief(numbers: &mut Numbers) -> Brief {
    let tied = numbers.below(3) == 0;
    let known: Vec<(String, Decimal)> =
        prices().iter().map(|(id, price)| (id.to_string(), if tied { Decimal::from(2) } else { price })).collect();
    let brief = Brief::new("Random", &Catalogue::starter())
        .unwrap()
        .with_prices(&PriceList::new("EUR", known).unwrap())
        .unwrap();
    let members: Vec<(&str, i32)> = ["sci-powder", "scs-needles", "capb-30"][..2 + numbers.below(2) as usize]
        .iter()
        .map(|line| (*line, 1 + numbers.below(9) as i32))
        .collect();
    let basis = [SplitBasis::Weight, SplitBasis::Active, SplitBasis::Mole][numbers.below(3) as usize];
    let mut brief =
        brief.split("wash", basis, members.iter().cloned()).unwrap().fix("panthenol", numbers.tenths(0, 3)).unwrap();
    for line in ["cetyl-alcohol", "stearic-acid"] {
        let low = numbers.tenths(0, 4);
        brief = brief.between(line, &low, &low + numbers.tenths(0, 9)).unwrap();
    }
    brief = brief.free("water").unwrap().free("kaolin").unwrap();
    let least = numbers.tenths(10, 35);
    brief = match numbers.below(3) {
        0 => brief.target(Measure::active_matter(), least),
        1 => brief.at_least(Measure::as_supplied().contributed_by(Scope::group("wash").unwrap()), least),
        _ => brief.require(
            Requirement::at_least(Measure::active_matter(), least)
                .unwrap()
                .on(Basis::finished(Exact::from(3)).unwrap()),
        ),
    }
    .unwrap();
    brief = brief.at_most(Measure::water(), numbers.tenths(4, 60)).unwrap();
    if numbers.below(2) == 0 {
        brief = brief.at_least(Measure::solids(), numbers.tenths(30, 80)).unwrap();
    }
    if numbers.below(3) == 0 {
        brief = brief
            .require(
                Requirement::at_most(Measure::cost().per(&Measure::active_matter()), numbers.tenths(8, 40))
                    .unwrap()
                    .named("dear")
                    .unwrap(),
            )
            .unwrap();
    }
    match numbers.below(6) {
        0 => brief,
        1 => brief.minimise(Measure::water()),
        2 => brief.maximise(Measure::active_matter()),
        3 => brief.minimise(Measure::cost().per(&Measure::active_matter())),
        _ => brief.minimise(Measure::cost()),
    }
}

#[test]
fn random_briefs_and_axes() {
    let mut found = Found::default();
    let mut not_along_lines = 0;
    for seed in 0..110 {
        let numbers = &mut Numbers(seed * 7919 + 3);
        let brief = random_brief(numbers);
        let mut words = vec![
            "wash.scs-needles",
            "wash.sci-powder",
            "fix.panthenol",
            "price.kaolin",
            "at-most.water",
            "highest.cetyl-alcohol",
        ];
        if let Some(target) = brief.requirements().iter().find(|known| known.low() == known.high()) {
            assert!(target.low().is_some());
            words.push("target.active-matter");
        }
        let mut axes = Vec::new();
        if numbers.below(4) == 0 {
            axes.push(Axis::Moisture(Values::new(vec![Exact::ONE, Exact::from(4)]).unwrap()));
        }
        for count in [5, 4, 6].into_iter().take(2 + numbers.below(2) as usize) {
            let word = words.remove(numbers.below(words.len() as u64) as usize);
            let (start, step) = if word.starts_with("highest") {
                (Exact::from(13), Exact::ONE)
            } else {
                (numbers.tenths(1, 20), numbers.tenths(1, 9))
            };
            axes.push(axis(&brief, word, even(0, step, count).into_iter().map(|value| value + &start).collect()));
        }
        while axes.iter().map(Axis::len).product::<usize>() < FEWEST_ROWS as usize {
            let word = words.remove(0);
            let start = if word.starts_with("highest") { 13 } else { 1 };
            axes.insert(0, axis(&brief, word, even(start, Exact::ONE, 3)));
        }
        let Ok(sweep) = Sweep::new(&brief, axes) else { continue };
        if !compare(&sweep, &mut found) {
            not_along_lines += 1;
        }
    }
    println!("{found:?}, {not_along_lines} not along lines");
    assert!(found.sweeps > 60 && found.answered > 2000 && found.refused > 500 && found.regions > 200, "{found:?}");
    assert!(found.alone * 6 < (found.answered + found.refused) as u64, "{found:?}");
}

/// Lattices, shares, raw materials and moistures, whichever axis is the fastest.
#[test]
fn axes_of_every_kind() {
    let brief = bar();
    let finished = Basis::finished(Exact::from(3)).unwrap();
    let kept = Requirement::at_least(Measure::active_matter(), Exact::from(30))
        .unwrap()
        .on(finished.clone())
        .named("kept")
        .unwrap();
    let brief = brief.require(kept).unwrap();
    let catalogue = Catalogue::starter();
    let materials = ["capb-30", "coco-glucoside-50"].map(|id| catalogue.material(id).unwrap().clone()).to_vec();
    let priced: Vec<(String, Decimal)> = prices()
        .iter()
        .map(|(id, price)| (id.to_string(), price))
        .chain([("coco-glucoside-50".to_string(), Decimal::new(27, 1))])
        .collect();
    let brief = brief.with_prices(&PriceList::new("EUR", priced).unwrap()).unwrap();
    let axes = [
        Axis::lattice(&brief, "wash", 12).unwrap(),
        axis(&brief, "share.wash.capb-30", even(0, Exact::from(5), 8)),
        axis(&brief, "at-most.water", even(3, Exact::from(3), 5)),
        Axis::Moisture(Values::new([1, 2, 4].map(Exact::from).to_vec()).unwrap()),
        Axis::Material { line: "capb-30".to_string(), materials },
    ];
    let mut found = Found::default();
    for first in 0..axes.len() {
        for second in (0..axes.len()).filter(|second| *second != first) {
            let Ok(sweep) = Sweep::new(&brief, vec![axes[first].clone(), axes[second].clone()]) else { continue };
            let sweep = sweep
                .with_measure(&Measure::water(), &finished)
                .unwrap()
                .with_measure(&Measure::cost(), &Basis::AsCharged)
                .unwrap();
            let affine = [first, second].iter().any(|axis| *axis < 3);
            if sweep.rows() >= FEWEST_ROWS && affine {
                assert!(compare(&sweep, &mut found), "{} and {}", axes[first], axes[second]);
            }
        }
    }
    println!("{found:?}");
    assert!(found.sweeps > 5 && found.answered > 400 && found.refused > 300, "{found:?}");
    assert!(found.alone * 6 < (found.answered + found.refused) as u64, "{found:?}");
}

/// Six and seven members, and a limit beside six.
#[test]
fn lattices_of_many_members() {
    let members = [
        "sci-powder",
        "scs-needles",
        "capb-30",
        "coco-glucoside-50",
        "decyl-glucoside-50",
        "sodium-cocoyl-glutamate-30",
        "sodium-lauroyl-glutamate-powder",
    ];
    let mut found = Found::default();
    for (count, steps, with_limit) in [(6, 6, false), (7, 5, false), (6, 4, true)] {
        let priced = members.iter().zip(3i64..).map(|(id, price)| (id.to_string(), Decimal::new(price * price, 1)));
        let priced = priced.chain([("kaolin".to_string(), Decimal::ONE), ("cetyl-alcohol".to_string(), Decimal::TWO)]);
        let brief = Brief::new("Many", &Catalogue::starter())
            .unwrap()
            .split("wash", SplitBasis::Active, members[..count].iter().map(|member| (*member, 1)))
            .unwrap()
            .between("cetyl-alcohol", 3, 9)
            .unwrap()
            .qs("kaolin")
            .unwrap()
            .at_least(Measure::active_matter(), 28)
            .unwrap()
            .at_most(Measure::water(), 22)
            .unwrap()
            .with_prices(&PriceList::new("EUR", priced).unwrap())
            .unwrap()
            .minimise(Measure::cost());
        let lattice = Axis::lattice(&brief, "wash", steps).unwrap();
        let limit = axis(&brief, "at-most.water", even(20, Exact::from(2), 3));
        let axes = if with_limit { vec![limit, lattice] } else { vec![lattice] };
        assert!(compare(&Sweep::new(&brief, axes).unwrap(), &mut found), "{count} members");
    }
    println!("{found:?}");
    assert!(found.answered > 200 && found.refused > 200, "{found:?}");
    assert!(found.alone * 6 < (found.answered + found.refused) as u64, "{found:?}");
}
