//! Conflicts of seeded random briefs: irreducible, and every change said does what is said of it.

use super::member::{Member, without};
use super::program::RowName;
use super::search::tests::Numbers;
use super::{Conflict, Outcome};
use crate::brief::{Brief, Requirement, Role, SplitBasis};
use crate::catalogue::Catalogue;
use crate::measure::Measure;
use crate::number::{Exact, Ppm};

fn percent(seeded: &mut Numbers, most: u64) -> Exact {
    Exact::ratio(i64::try_from(seeded.below(most * 10)).unwrap(), 10)
}

const SHELF: [&str; 8] = ["sci-powder", "scs-needles", "capb-30", "coco-glucoside-50", "cetyl-alcohol", "stearic-acid", "glycerin-86", "kaolin"];

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
        let members: Vec<String> =
            brief.lines().iter().filter(|line| line.material().active().unwrap().percent().is_positive()).map(|line| line.name().to_string()).collect();
        if members.len() > 1 {
            let part = Exact::from(i64::try_from(1 + seeded.below(9)).unwrap());
            brief = brief.split("wash", SplitBasis::Active, &[(members[0].as_str(), &Exact::from(3)), (members[1].as_str(), &part)]).unwrap();
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
    if seeded.below(3) == 0 { brief.at_most(Measure::water().per(&Measure::active_matter()), Exact::ratio(1, 10)).unwrap() } else { brief }
}

/// The brief with one member's limit moved to `to`, in the words of a relaxation.
fn moved(conflict: &Conflict, member: Member, to: &Exact, upwards: bool) -> Brief {
    let brief = conflict.brief();
    match member {
        Member::Line(index) => {
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
        Member::Row(index) => {
            let rest = without(brief, conflict.proof().program(), member);
            match &conflict.proof().program().names()[index] {
                RowName::Requirement { index, .. } => {
                    let measure = brief.requirements()[*index].measure().clone();
                    let requirement = if upwards && brief.requirements()[*index].low().is_none() {
                        Requirement::at_most(measure, to.clone())
                    } else if brief.requirements()[*index].low() == brief.requirements()[*index].high() {
                        Requirement::equal(measure, to.clone())
                    } else {
                        Requirement::at_least(measure, to.clone())
                    };
                    rest.require(requirement).unwrap()
                }
                RowName::Split { split, member, .. } => {
                    let parts = brief.splits()[*split].parts();
                    let first = (parts[0].0.as_str(), &parts[0].1);
                    rest.split("moved", brief.splits()[*split].basis(), &[first, (parts[*member].0.as_str(), to)]).unwrap()
                }
                other => panic!("{other:?} is no member"),
            }
        }
    }
}

/// The brief with one limit widened as far as a change says; a split's part is set to it.
fn widened(brief: Brief, change: &super::Relaxation) -> Brief {
    for (index, line) in brief.lines().iter().enumerate() {
        if change.words == format!("line {} {}", line.name(), line.role().words()) {
            let parts = &change.to * Exact::from(10_000);
            let grid = if change.upwards() { -(-parts).floor_i64().unwrap() } else { parts.floor_i64().unwrap() };
            let to = Ppm::from_parts(u32::try_from(grid).unwrap()).unwrap();
            let (low, high) = line.role().range();
            return brief.with_role(index, Role::Between(low.min(to), high.max(to)));
        }
    }
    if let Some(index) = brief.requirements().iter().position(|requirement| requirement.name() == change.words) {
        let (measure, low, high) =
            (brief.requirements()[index].measure().clone(), brief.requirements()[index].low().cloned(), brief.requirements()[index].high().cloned());
        let requirement = match (low, high) {
            (Some(_), Some(_)) => {
                Requirement::between(measure, change.from.clone().min(change.to.clone()), change.from.clone().max(change.to.clone())).unwrap()
            }
            (None, _) => Requirement::at_most(measure, change.to.clone()),
            _ => Requirement::at_least(measure, change.to.clone()),
        };
        let name = change.words.as_str();
        return brief.clone().drop_requirement(name).unwrap().require(requirement.named(&format!("{name}, widened")).unwrap()).unwrap();
    }
    let split = brief.splits()[0].clone();
    assert!(change.words.contains(&format!("split {}", split.name())), "{}", change.words);
    let brief = brief.drop_split(split.name()).unwrap();
    if !change.to.is_positive() {
        return brief;
    }
    let (first, other) = (&split.parts()[0], &split.parts()[1]);
    brief.split(split.name(), split.basis(), &[(first.0.as_str(), &first.1), (other.0.as_str(), &change.to)]).unwrap()
}

fn answerable(brief: &Brief) -> bool {
    matches!(brief.try_solve().unwrap(), Outcome::Answered(_))
}

#[test]
fn conflicts_are_irreducible_and_relaxations_are_the_least() {
    let (mut conflicts, mut relaxed, mut tight, mut together) = (0, 0, 0, 0);
    for seed in 0..160 {
        let Outcome::Conflict(conflict) = random_brief(seed).try_solve().unwrap() else { continue };
        conflict.verify().unwrap_or_else(|error| panic!("seed {seed}: {error}"));
        conflicts += 1;
        let program = conflict.proof().program();
        for &left_out in &conflict.members {
            // Only the members, one left out: answerable, or the conflict could be smaller.
            let mut fewer = conflict.members.clone();
            fewer.retain(|member| *member != left_out);
            let rest = super::linear::solve(&super::member::only(conflict.brief(), program, &fewer).unwrap());
            assert!(rest.optimum().is_some(), "seed {seed}: {} is not needed", super::member::words(conflict.brief(), program, left_out));
        }
        for (member, change) in conflict.members.iter().zip(conflict.relaxations().unwrap()) {
            let Some(change) = change else { continue };
            // A split's part of 0 is no split any more.
            if matches!(member, Member::Row(index) if matches!(program.names()[*index], RowName::Split { .. })) && !change.to.is_positive() {
                continue;
            }
            relaxed += 1;
            assert!(answerable(&moved(&conflict, *member, &change.to, change.upwards())), "seed {seed}: {}", change.sentence());
            // A little less is not enough; a line's percentage stands on the grid, so there it is a whole step less.
            let step = if matches!(member, Member::Line(_)) { Exact::ratio(1, 5_000) } else { (&change.to - &change.from).abs() * Exact::ratio(1, 1_000_000) };
            let short = if change.upwards() { &change.to - step } else { &change.to + step };
            if (&short - &change.from).abs() < (&change.to - &change.from).abs() && (short > change.from) == change.upwards() {
                tight += 1;
                assert!(!answerable(&moved(&conflict, *member, &short, change.upwards())), "seed {seed}: less than {}", change.sentence());
            }
        }
        let changes = conflict.least_changes().unwrap();
        if !changes.is_empty() {
            together += 1;
            let loosened = changes.iter().fold(conflict.brief().clone(), widened);
            assert!(answerable(&loosened), "seed {seed}: {:?}", changes.iter().map(super::Relaxation::sentence).collect::<Vec<_>>());
        }
    }
    assert!(conflicts > 40 && relaxed > 40 && tight > 40, "{conflicts} conflicts, {relaxed} relaxations, {tight} of them tried short");
    assert!(together > 40, "{together} sets of changes");
}

#[test]
fn sentences_round_to_the_side_that_does() {
    let change =
        |from: i64, numerator: i64| super::Relaxation { words: "water".into(), from: Exact::from(from), to: Exact::ratio(numerator, 3), unit: "%".into() };
    assert_eq!(change(1, 10).sentence(), "raise water to 3.3334 % or more");
    assert_eq!(change(9, 10).sentence(), "lower water to 3.3333 % or less");
    assert_eq!(change(-9, -10).sentence(), "raise water to -3.3333 % or more");
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
    let brief = brief.at_least(Measure::active_matter(), 70).unwrap().at_most(Measure::water(), 40).unwrap().at_least(Measure::solids(), 1).unwrap();
    let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("few of them are surfactants") };
    conflict.verify().unwrap();
    let program = conflict.proof().program();
    assert!(conflict.members().len() > 2 && conflict.members().len() < brief.lines().len(), "{:?}", conflict.members());
    assert!(conflict.members().iter().any(|member| member.contains("active matter")), "{:?}", conflict.members());
    for left_out in &conflict.members {
        let fewer: Vec<Member> = conflict.members.iter().copied().filter(|member| member != left_out).collect();
        let rest = super::linear::solve(&super::member::only(conflict.brief(), program, &fewer).unwrap());
        assert!(rest.optimum().is_some(), "{} is not needed", super::member::words(conflict.brief(), program, *left_out));
    }
}

#[test]
fn contradicting_lines_are_a_conflict_of_their_own() {
    let catalogue = Catalogue::starter();
    let brief = Brief::new("too full", &catalogue).unwrap().fix("kaolin", 60).unwrap().fix("sci-powder", 50).unwrap();
    let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else { panic!("110 % cannot be") };
    assert_eq!(conflict.members(), ["line kaolin fixed at 60 %", "line sci-powder fixed at 50 %"]);
    let changes: Vec<String> = conflict.relaxations().unwrap().into_iter().flatten().map(|change| change.sentence()).collect();
    assert_eq!(changes, ["lower line kaolin fixed at 60 % to 50 % or less", "lower line sci-powder fixed at 50 % to 40 % or less"]);
}
