//! Conflicts of seeded random briefs: irreducible, and every change said does what is said of it.

use super::member::without;
use super::{Conflict, Constraint, End, Limit, Outcome, Relaxation};
use crate::brief::{Brief, Requirement, Role, SplitBasis};
use crate::catalogue::Catalogue;
use crate::document::Named;
use crate::measure::Measure;
use crate::number::{Exact, Ppm};
use crate::solve::tests::Numbers;

fn percent(seeded: &mut Numbers, most: u64) -> Exact {
    Exact::ratio(i64::try_from(seeded.below(most * 10)).unwrap(), 10)
}

const SHELF: [&str; 8] = [
    "sci-powder",
    "scs-needles",
    "capb-30",
    "coco-glucoside-50",
    "cetyl-alcohol",
    "stearic-acid",
    "glycerin-86",
    "kaolin",
];

fn random_brief(seed: u64) -> Brief {
    let mut seeded = Numbers(seed.wrapping_mul(2).wrapping_add(1));
    let mut brief = Brief::new("random", &Catalogue::starter()).unwrap();
    for (index, id) in SHELF.iter().enumerate() {
        brief = match seeded.below(4) {
            0 => brief.fix(id, percent(&mut seeded, 12)).unwrap(),
            1 | 2 => {
                let low = percent(&mut seeded, 20);
                let high = &low + percent(&mut seeded, 30);
                brief.between(id, low, high).unwrap()
            }
            _ if index > 3 => brief,
            _ => brief.free(id).unwrap(),
        };
    }
    if seeded.below(2) == 0 && brief.lines().len() > 2 {
        let members: Vec<String> = brief
            .lines()
            .iter()
            .filter(|line| line.material().active().unwrap().percent().is_positive())
            .map(|line| line.name().to_string())
            .collect();
        if members.len() > 1 {
            let part = Exact::from(i64::try_from(1 + seeded.below(9)).unwrap());
            brief = brief
                .split(
                    "wash",
                    SplitBasis::Active,
                    [(members[0].as_str(), &Exact::from(3)), (members[1].as_str(), &part)],
                )
                .unwrap();
        }
    }
    for measure in [Measure::active_matter(), Measure::water(), Measure::solids()] {
        let value = percent(&mut seeded, 100);
        brief = match seeded.below(4) {
            0 => brief.target(measure, value).unwrap(),
            1 => brief.at_least(measure, value).unwrap(),
            2 => brief.at_most(measure, value).unwrap(),
            _ => brief,
        };
    }
    if seeded.below(3) == 0 {
        brief.at_most(Measure::water().per(&Measure::active_matter()), Exact::ratio(1, 10)).unwrap()
    } else {
        brief
    }
}

/// The brief with one member's limit moved to `to`, in the words of a relaxation.
fn moved(conflict: &Conflict, member: Limit, to: &Exact, upwards: bool) -> Brief {
    let brief = conflict.brief();
    match member {
        Limit::Line(index) => {
            let parts = to * Exact::from(10_000);
            // The nearest grid point on the side that does.
            let grid = if upwards { -(-parts).floor_i64().unwrap() } else { parts.floor_i64().unwrap() };
            let to = Ppm::from_parts(u32::try_from(grid).unwrap()).unwrap();
            let (low, high) = brief.lines()[index].role().range();
            let role = match brief.lines()[index].role() {
                Role::Fixed(_) => Role::Between(low.min(to), high.max(to)),
                _ if upwards => Role::Between(low, to),
                _ => Role::Between(to, high),
            };
            brief.with_role(index, role)
        }
        Limit::Requirement { index, .. } => {
            let measure = brief.requirements()[index].measure().clone();
            let requirement = if upwards && brief.requirements()[index].low().is_none() {
                Requirement::at_most(measure, to.clone()).unwrap()
            } else if brief.requirements()[index].low() == brief.requirements()[index].high() {
                Requirement::equal(measure, to.clone()).unwrap()
            } else {
                Requirement::at_least(measure, to.clone()).unwrap()
            };
            without(brief, member).require(requirement).unwrap()
        }
        Limit::Split { split, member: place } => {
            let parts = brief.splits()[split].parts();
            let (other, part) = &parts[usize::from(place == 0)];
            let moved = [(other.as_str(), part), (parts[place].0.as_str(), to)];
            without(brief, member).split("moved", brief.splits()[split].basis(), moved).unwrap()
        }
        other => panic!("{other:?} is no member"),
    }
}

fn answerable(brief: &Brief) -> bool {
    matches!(brief.try_solve().unwrap(), Outcome::Answered(_))
}

/// What a sentence says can be taken as it stands, whatever is changed.
#[test]
fn every_change_of_random_briefs_can_be_taken() {
    let mut kinds = std::collections::HashMap::new();
    for seed in 0..160 {
        let Outcome::Conflict(conflict) = random_brief(seed).try_solve().unwrap() else { continue };
        for change in conflict.relaxations().unwrap().into_iter().flatten() {
            let taken = change.taken(conflict.brief()).unwrap_or_else(|error| panic!("seed {seed}: {error}"));
            assert!(answerable(&taken), "seed {seed}: {}", change.sentence());
            *kinds.entry((change.constraint.kind().slug(), change.constraint.end().slug())).or_insert(0) += 1;
        }
    }
    assert!(kinds.len() >= 6, "{kinds:?}");
}

#[test]
fn conflicts_are_irreducible_and_relaxations_are_the_least() {
    let (mut conflicts, mut relaxed, mut tight, mut together) = (0, 0, 0, 0);
    for seed in 0..160 {
        let Outcome::Conflict(conflict) = random_brief(seed).try_solve().unwrap() else { continue };
        conflict.verify().unwrap_or_else(|error| panic!("seed {seed}: {error}"));
        conflicts += 1;
        let program = &conflict.program;
        // Found in `f64` or exactly, it is the same.
        assert_eq!(super::conflict::filtered(conflict.brief(), program).unwrap().0, conflict.members, "seed {seed}");
        for &left_out in &conflict.members {
            // Only the members, one left out: answerable, or the conflict could be smaller.
            let mut fewer = conflict.members.clone();
            fewer.retain(|member| *member != left_out);
            let rest = tenside_lp::solve(&super::member::only(program, &fewer));
            assert!(
                rest.optimum().is_some(),
                "seed {seed}: {} is not needed",
                super::member::words(conflict.brief(), program, left_out)
            );
        }
        for (member, change) in conflict.members.iter().zip(conflict.relaxations().unwrap()) {
            let Some(change) = change else { continue };
            relaxed += 1;
            assert!(
                answerable(&moved(&conflict, *member, &change.to, change.upwards())),
                "seed {seed}: {}",
                change.sentence()
            );
            // A little less is not enough; a line's percentage stands on the grid, so there it is a whole step less.
            let step = if matches!(member, Limit::Line(_)) {
                Exact::ratio(1, 5_000)
            } else {
                (&change.to - &change.from).abs() * Exact::ratio(1, 1_000_000)
            };
            let short = if change.upwards() { &change.to - step } else { &change.to + step };
            if (&short - &change.from).abs() < (&change.to - &change.from).abs()
                && (short > change.from) == change.upwards()
            {
                tight += 1;
                assert!(
                    !answerable(&moved(&conflict, *member, &short, change.upwards())),
                    "seed {seed}: less than {}",
                    change.sentence()
                );
            }
        }
        // What is left out gives a formula, and none of it is left out for nothing.
        let left_out: Vec<Limit> = conflict.to_leave_out().unwrap();
        let all = super::member::members(conflict.brief(), program);
        let answered = |out: &[Limit]| {
            let kept: Vec<Limit> = all.iter().copied().filter(|member| !out.contains(member)).collect();
            tenside_lp::solve(&super::member::only(program, &kept)).optimum().is_some()
        };
        assert!(answered(&left_out), "seed {seed}: {:?}", conflict.correction_set());
        for member in &left_out {
            let fewer: Vec<Limit> = left_out.iter().copied().filter(|other| other != member).collect();
            assert!(!answered(&fewer), "seed {seed}: {:?}", conflict.correction_set());
        }
        together += usize::from(left_out.len() > 1);
    }
    assert!(
        conflicts > 40 && relaxed > 40 && tight > 40,
        "{conflicts} conflicts, {relaxed} relaxations, {tight} of them tried short"
    );
    assert!(together > 10, "{together} briefs with more than one conflict");
}

fn change(constraint: Constraint, from: Exact, to: Exact, until: Option<Exact>) -> Relaxation {
    Relaxation { constraint, words: "it".to_string(), from, to, until, unit: "%".to_string() }
}

#[test]
fn sentences_round_to_the_side_that_does() {
    let said = |from: i64, to: Exact| {
        let end = if to > Exact::from(from) { End::High } else { End::Low };
        change(Constraint::Requirement { index: 0, name: "it".to_string(), end }, Exact::from(from), to, None)
            .sentence()
    };
    assert_eq!(said(1, Exact::ratio(10, 3)), "raise it to 3.334 % or more");
    assert_eq!(said(9, Exact::ratio(10, 3)), "lower it to 3.333 % or less");
    assert_eq!(said(-9, Exact::ratio(-10, 3)), "raise it to -3.333 % or more");
    assert_eq!(said(9, Exact::ZERO), "lower it to 0 %");
    // A small limit has four digits too.
    assert_eq!(said(0, Exact::ratio(1, 30_000)), "raise it to 0.00003334 % or more");
}

#[test]
fn where_one_value_is_asked_for_the_sentence_says_which_would_do() {
    let target = Constraint::Requirement { index: 0, name: "it".to_string(), end: End::Both };
    let said = |constraint: &Constraint, from: i64, to: Exact, until: Option<Exact>| {
        change(constraint.clone(), Exact::from(from), to, until).sentence()
    };
    let (low, high) = (Exact::ratio(10, 3), Exact::ratio(20, 3));
    assert_eq!(said(&target, 1, low.clone(), Some(high.clone())), "raise it to between 3.334 and 6.666 %");
    assert_eq!(said(&target, 9, high.clone(), Some(low.clone())), "lower it to between 3.334 and 6.666 %");
    assert_eq!(said(&target, 9, high.clone(), Some(Exact::ZERO)), "lower it to between 0 and 6.666 %");
    assert_eq!(said(&target, 9, high.clone(), None), "lower it to 6.666 % or less");
    assert_eq!(said(&target, 9, high.clone(), Some(high.clone())), "lower it to exactly 20/3 % (about 6.667 %)");
    assert_eq!(said(&target, 9, Exact::ratio(13, 4), Some(Exact::ratio(13, 4))), "lower it to exactly 3.25 %");
    // Only a number with more decimals lies between these.
    assert_eq!(
        said(&target, 9, high.clone(), Some(high.clone() - Exact::ratio(1, 1_000_000))),
        "lower it to exactly 6.666666 %"
    );
    let fixed = Constraint::Line { index: 0, name: "it".to_string(), end: End::Both };
    assert_eq!(said(&fixed, 9, high.clone(), Some(Exact::ZERO)), "lower it to 6.6666 % or less");
    assert_eq!(said(&fixed, 2, high.clone(), Some(Exact::hundred())), "raise it to 6.6667 % or more");
    assert_eq!(said(&fixed, 2, Exact::hundred(), Some(Exact::hundred())), "raise it to 100 %");
    // No percentage of the grid would do.
    assert_eq!(said(&fixed, 9, high.clone(), Some(high.clone())), "give it a range from 6.6666 to 9 %");
    assert_eq!(said(&fixed, 2, high.clone(), Some(high.clone())), "give it a range from 2 to 6.6667 %");
    let part = Constraint::Split { index: 0, name: "wash".to_string(), member: "it".to_string() };
    assert_eq!(said(&part, 9, high.clone(), Some(Exact::ratio(1, 1000))), "lower it to 6.666 % or less");
    assert_eq!(said(&part, 2, high, Some(Exact::from(1_000_000))), "raise it to 6.667 % or more");
}

/// More lines than the search is wide, so that every step is exact.
#[test]
fn conflicts_too_wide_for_the_search_are_irreducible() {
    let catalogue = Catalogue::starter();
    let mut brief = Brief::new("a long list", &catalogue).unwrap();
    let known = |material: &&std::sync::Arc<crate::material::Material>| material.active().is_ok();
    for (place, material) in catalogue.materials().filter(known).take(90).enumerate() {
        brief = brief.between(material.id(), 0, Exact::ratio(1 + place as i64 % 7, 2)).unwrap();
    }
    assert_eq!(brief.lines().len(), 90);
    let brief = brief
        .at_least(Measure::active_matter(), 70)
        .unwrap()
        .at_most(Measure::water(), 40)
        .unwrap()
        .at_least(Measure::solids(), 1)
        .unwrap();
    let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("few of them are surfactants") };
    conflict.verify().unwrap();
    let program = &conflict.program;
    assert!(conflict.members().len() > 2 && conflict.members().len() < brief.lines().len(), "{:?}", conflict.members());
    assert!(conflict.members().iter().any(|member| member.contains("active matter")), "{:?}", conflict.members());
    for left_out in &conflict.members {
        let fewer: Vec<Limit> = conflict.members.iter().copied().filter(|member| member != left_out).collect();
        let rest = tenside_lp::solve(&super::member::only(program, &fewer));
        assert!(
            rest.optimum().is_some(),
            "{} is not needed",
            super::member::words(conflict.brief(), program, *left_out)
        );
    }
}

#[test]
fn contradicting_lines_are_a_conflict_of_their_own() {
    let catalogue = Catalogue::starter();
    let brief = Brief::new("too full", &catalogue).unwrap().fix("kaolin", 60).unwrap().fix("sci-powder", 50).unwrap();
    let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("110 % cannot be") };
    assert_eq!(conflict.members(), ["line kaolin fixed at 60 %", "line sci-powder fixed at 50 %"]);
    let changes: Vec<String> =
        conflict.relaxations().unwrap().into_iter().flatten().map(|change| change.sentence()).collect();
    assert_eq!(
        changes,
        ["lower line kaolin fixed at 60 % to exactly 50 %", "lower line sci-powder fixed at 50 % to exactly 40 %"]
    );
}

#[test]
fn one_value_for_every_composition_is_told_to_need_a_range() {
    let brief = Brief::new("Robust", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 20, 70)
        .unwrap()
        .qs("kaolin")
        .unwrap();
    let asked = |requirement: Requirement| {
        brief.clone().require(requirement.for_every_composition()).unwrap().try_solve().unwrap()
    };
    let Outcome::Conflict(conflict) = asked(Requirement::equal(Measure::active_matter(), Exact::from(40)).unwrap())
    else {
        panic!("compositions differ")
    };
    let members = conflict.members();
    assert!(members.iter().enumerate().all(|(place, words)| !members[..place].contains(words)), "{members:?}");
    let advice = "one value for every composition needs a range: use within or at_least";
    assert!(conflict.sentence().ends_with(advice), "{}", conflict.sentence());
    assert!(conflict.page().unwrap().text(200).contains(advice));
    // Nothing of that where the limit is out of reach, and a range does.
    let Outcome::Conflict(conflict) = asked(Requirement::equal(Measure::active_matter(), Exact::from(90)).unwrap())
    else {
        panic!("70 % of 84 %")
    };
    assert!(!conflict.sentence().contains(advice), "{}", conflict.sentence());
    assert!(matches!(
        asked(Requirement::between(Measure::active_matter(), Exact::from(35), Exact::from(45)).unwrap()),
        Outcome::Answered(_)
    ));
}

/// What would be refused next is said with the conflict, and only where it would be.
#[test]
fn an_objective_that_could_divide_by_nothing_is_warned_of() {
    let brief = |least: i64| {
        let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().between("sci-powder", 0, 10).unwrap();
        let brief = brief.between("capb-30", least, 20).unwrap().qs("kaolin").unwrap();
        brief.at_least(Measure::anionic_active(), 20).unwrap()
    };
    let conflict_of = |brief: Brief| -> Box<Conflict> {
        let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("10 % brings 8.4 %") };
        conflict
    };
    let ratio = Measure::water().per(&Measure::amphoteric_active());
    let warning = "require a little of what the objective divides by";
    for (asked, is_refused) in [
        (brief(0).minimise(ratio.clone()), true),
        (brief(1).minimise(ratio), false),
        (brief(0).minimise(Measure::water()), false),
        (brief(0), false),
    ] {
        let conflict = conflict_of(asked.clone());
        assert_eq!(conflict.sentence().contains(warning), is_refused, "{}", conflict.sentence());
        assert_eq!(conflict.page().unwrap().text(200).contains(warning), is_refused);
        let changes: Vec<Relaxation> = conflict.relaxations().unwrap().into_iter().flatten().collect();
        assert_eq!(changes.len(), 2);
        for change in changes {
            assert_eq!(change.taken(&asked).unwrap().try_solve().is_err(), is_refused, "{}", change.sentence());
        }
    }
}
