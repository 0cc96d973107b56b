//! Ratios, least changes and middles on steps against every formula there is, and searches that are cut off.

use tenside::brief::{Brief, Requirement};
use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line};
use tenside::measure::{Measure, Scope};
use tenside::number::{Exact, Ppm};
use tenside::solve::{RoundedOutcome, Steps};

use super::small::{Numbers, brings, mean, shares};

const LINES: [&str; 4] = ["sci-powder", "capb-30", "cetyl-alcohol", "kaolin"];

fn bar() -> Brief {
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 10, 60)
        .unwrap()
        .between("capb-30", 5, 40)
        .unwrap();
    brief.between("cetyl-alcohol", 3, 30).unwrap().qs("kaolin").unwrap()
}

fn percents(brief: &Brief, steps: &Steps) -> Vec<Exact> {
    let rounded = brief.solve_rounded(steps).unwrap();
    rounded.verify().unwrap();
    assert!(rounded.is_best() && rounded.nodes() > 0 && rounded.gap().is_zero());
    assert_eq!(rounded.bound(), rounded.objective());
    rounded.formula().lines().iter().map(|line| line.percent().percent()).collect()
}

/// The first by cost, then line by line, of all formulas in steps of 5 % that are in the ranges and meet what is asked.
fn first_of_all(
    brief: &Brief,
    met: &dyn Fn(&[Exact]) -> bool,
    cost: &dyn Fn(&[Exact]) -> Exact,
) -> (Exact, Vec<Exact>) {
    let all = shares(LINES.len(), 20)
        .into_iter()
        .map(|counts| counts.iter().map(|count| Exact::from(5 * count)).collect::<Vec<_>>());
    let in_ranges = |values: &Vec<Exact>| {
        brief.lines().iter().zip(values).all(|(line, value)| {
            let (low, high) = line.role().range();
            *value >= low.percent() && *value <= high.percent()
        })
    };
    all.filter(in_ranges).filter(|values| met(values)).map(|values| (cost(&values), values)).min().unwrap()
}

#[test]
fn the_least_and_the_greatest_ratio_of_all() {
    let all = |measure: &Measure| (0..LINES.len()).map(|line| brings(&bar(), line, measure)).collect::<Vec<_>>();
    let (active, solids, water) = (all(&Measure::active_matter()), all(&Measure::solids()), all(&Measure::water()));
    let mut numbers = Numbers::new(5);
    let steps = Steps::of(5).unwrap();
    for place in 0..24 {
        // With little active matter asked for, what is divided by differs much from formula to formula.
        let few = if place % 2 == 0 { 15 } else { 1 };
        let (least, most) = (Exact::from(few + numbers.below(20)), Exact::from(8 + numbers.below(20)));
        let brief = bar().at_least(Measure::active_matter(), &least).unwrap().at_most(Measure::water(), &most).unwrap();
        let met = |values: &[Exact]| mean(&active, values) >= least && mean(&water, values) <= most;
        let ratio = |values: &[Exact]| mean(&water, values) / mean(&active, values);
        assert_eq!(
            percents(&brief.clone().minimise(Measure::water().per(&Measure::active_matter())), &steps),
            first_of_all(&brief, &met, &ratio).1
        );
        let ratio = |values: &[Exact]| -(mean(&active, values) / mean(&solids, values));
        let greatest = brief.clone().maximise(Measure::active_matter().per(&Measure::solids()));
        let (cost, values) = first_of_all(&brief, &met, &ratio);
        assert_eq!(percents(&greatest, &steps), values);
        assert_eq!(greatest.solve_rounded(&steps).unwrap().objective().unwrap(), &-cost);
    }
}

/// A line that the base has and the brief has not changes by all that it was.
#[test]
fn the_least_change_of_all() {
    let catalogue = Catalogue::starter();
    let base = [("sci-powder", 33), ("capb-30", 12), ("glycerin-86", 8), ("kaolin", 47)];
    let line = |(id, percent): (&str, i64)| {
        Line::new(id, catalogue.material(id).unwrap().clone(), Ppm::from_percent(percent).unwrap()).unwrap()
    };
    let formula = Formula::new("Base", base.into_iter().map(line).collect()).unwrap();
    let brief = bar().least_change_from(&formula);
    let before = [33, 12, 0, 47].map(Exact::from);
    let change = |values: &[Exact]| {
        values.iter().zip(&before).map(|(value, before)| (value - before).abs()).sum::<Exact>() + Exact::from(8)
    };
    let (cost, values) = first_of_all(&brief, &|_| true, &change);
    let steps = Steps::of(5).unwrap();
    assert_eq!(percents(&brief, &steps), values);
    let rounded = brief.solve_rounded(&steps).unwrap();
    assert_eq!((rounded.objective(), rounded.bound()), (Some(&cost), Some(&cost)));
    // 8 of glycerin, and 8 more of the others, 3 of them alcohol.
    assert_eq!(rounded.objective_without_steps(), Some(&Exact::from(16)));
}

/// Ranges of lines and of measures have a middle; a line that is held has none.
#[test]
fn the_nearest_to_the_middles() {
    let held = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 10, 60)
        .unwrap()
        .between("capb-30", 5, 40)
        .unwrap();
    let held = held.between("cetyl-alcohol", 5, 5).unwrap().qs("kaolin").unwrap();
    let powder = Measure::as_supplied().contributed_by(Scope::lines(["sci-powder"]).unwrap());
    let brief = held.require(Requirement::between(powder, Exact::from(12), Exact::from(28)).unwrap()).unwrap();
    let far = |value: &Exact, low: i64, high: i64| {
        ((value - Exact::ratio(low + high, 2)) / Exact::ratio(high - low, 2)).abs()
    };
    let cost = |values: &[Exact]| {
        [far(&values[0], 10, 60), far(&values[1], 5, 40), far(&values[0], 12, 28)].into_iter().max().unwrap()
    };
    let met = |values: &[Exact]| values[0] >= Exact::from(12) && values[0] <= Exact::from(28);
    let (_, values) = first_of_all(&brief, &met, &cost);
    let rounded = brief.solve_rounded(&Steps::of(5).unwrap()).unwrap();
    rounded.verify().unwrap();
    let found: Vec<Exact> = rounded.formula().lines().iter().map(|line| line.percent().percent()).collect();
    assert!(rounded.is_best() && rounded.bound().is_none() && rounded.objective().is_none());
    assert_eq!(found, values);
}

/// Cut off, a search states how far the best may be from what it found, and that is proved by the tree alone.
#[test]
fn a_ratio_that_is_cut_off_states_a_bound_that_holds() {
    let ratio = |above: Measure, below: Measure| above.per(&below);
    let (mut cut, mut numbers) = ([0, 0], Numbers::new(11));
    let wide = bar()
        .between("scs-needles", 0, 20)
        .unwrap()
        .between("coco-glucoside-50", 0, 20)
        .unwrap()
        .between("stearic-acid", 0, 15)
        .unwrap();
    for _ in 0..2 {
        // Near a value that few formulas on the steps come to.
        let asked = wide.clone().require(
            Requirement::equal(Measure::active_matter(), Exact::ratio(4000 + numbers.below(800), 100))
                .unwrap()
                .named("strong")
                .unwrap(),
        );
        let asked = asked.unwrap().at_most(Measure::water(), Exact::ratio(1500 + numbers.below(500), 100)).unwrap();
        let steps = Steps::of(2).unwrap().within("strong", "0.02").unwrap();
        for (place, brief) in [
            asked.clone().minimise(ratio(Measure::water(), Measure::active_matter())),
            asked.clone().minimise(ratio(Measure::anionic_active(), Measure::solids())),
            asked.clone().maximise(ratio(Measure::active_matter(), Measure::solids())),
            asked.maximise(ratio(Measure::anionic_active(), Measure::solids())),
        ]
        .iter()
        .enumerate()
        {
            let RoundedOutcome::Found(best) =
                brief.try_solve_rounded(&steps.clone().up_to_nodes(400).unwrap()).unwrap()
            else {
                continue;
            };
            for nodes in [20, 40, 80] {
                let RoundedOutcome::Found(rounded) =
                    brief.try_solve_rounded(&steps.clone().up_to_nodes(nodes).unwrap()).unwrap()
                else {
                    continue;
                };
                rounded.verify().unwrap();
                let (found, bound, least) =
                    (rounded.objective().unwrap(), rounded.bound().unwrap(), best.objective().unwrap());
                assert!(
                    if place < 2 { bound <= least && least <= found } else { found <= least && least <= bound },
                    "{found} {bound} {least}"
                );
                assert_eq!((found - bound).abs(), *rounded.gap());
                cut[usize::from(place > 1)] += usize::from(!rounded.is_best());
            }
        }
    }
    assert!(cut[0] > 0 && cut[1] > 0, "{cut:?}");
}

/// A group may limit lines that are doses or nothing beside lines that may be anything.
#[test]
fn of_a_group_the_lines_with_and_without_a_least_dose_count() {
    let brief = Brief::new("One of two", &Catalogue::starter()).unwrap().between("sci-powder", 20, 60).unwrap();
    let brief = brief
        .absent_or_between("capb-30", 10, 20)
        .unwrap()
        .between("coco-glucoside-50", 0, 20)
        .unwrap()
        .qs("kaolin")
        .unwrap();
    let brief = brief
        .at_least(Measure::active_matter(), 60)
        .unwrap()
        .group("others", &["capb-30", "coco-glucoside-50"])
        .unwrap();
    let both = brief.clone().maximise(Measure::as_supplied().contributed_by(Scope::group("others").unwrap()));
    let one = both.clone().at_most_of("others", 1).unwrap();
    assert_eq!(both.choose().unwrap().present().len(), 4 - usize::from(both.choose().unwrap().exact()[3].is_zero()));
    let choice = one.choose().unwrap();
    choice.verify().unwrap();
    assert_eq!(choice.present().iter().filter(|line| ["capb-30", "coco-glucoside-50"].contains(line)).count(), 1);
    // A dose below the least is none.
    let betaine = Measure::as_supplied().contributed_by(Scope::lines(["capb-30"]).unwrap());
    let little = brief.minimise(betaine.clone()).at_least(betaine, 1).unwrap().choose().unwrap();
    little.verify().unwrap();
    assert_eq!(little.exact()[1], Exact::from(10));
}
