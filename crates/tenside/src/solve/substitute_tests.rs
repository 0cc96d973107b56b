//! One raw material in place of another: who gives, which measures are lost, and what a changed substitution is refused
//! for.

use super::*;
use crate::material::{Composition, Constituent, Form};
use crate::number::Ppm;
use crate::substance::{Class, Substance};

fn percent(percent: u32) -> Ppm {
    Ppm::from_parts(percent * 10_000).unwrap()
}

/// A surfactant powder of this strength; the rest is salt.
fn grade(strength: u32) -> Arc<Material> {
    let id = format!("grade-{strength}");
    let active =
        Substance::new("SODIUM COCOYL ISETHIONATE", Class::AnionicSurfactant).unwrap().counting_as_active(true);
    let salt = Substance::new("SODIUM CHLORIDE", Class::Salt).unwrap();
    let rows = vec![
        Constituent::typical(Arc::new(active), percent(strength)),
        Constituent::typical(Arc::new(salt), percent(100 - strength)),
    ];
    Arc::new(Material::new(&id, &id, Form::Powder, Composition::stated(rows).unwrap()).unwrap())
}

fn graded(strength: u32, share: u32) -> Line {
    Line::new(&format!("grade-{strength}"), grade(strength), percent(share)).unwrap()
}

fn line(id: &str, share: u32) -> Line {
    Line::new(id, Catalogue::starter().material(id).unwrap().clone(), percent(share)).unwrap()
}

fn formula(lines: Vec<Line>) -> Formula {
    Formula::new("Bar", lines).unwrap()
}

fn substituted(formula: &Formula, strength: u32, keep: &[Measure]) -> Substitution {
    let substitution = formula.substitute("grade-84", &grade(strength), keep).unwrap();
    substitution.verify().unwrap();
    substitution
}

fn shares(substitution: &Substitution) -> Vec<Exact> {
    substitution.after().lines().iter().map(|line| line.percent().percent()).collect()
}

fn whole(percents: &[i64]) -> Vec<Exact> {
    percents.iter().copied().map(Exact::from).collect()
}

#[test]
fn without_a_line_for_the_rest_the_largest_other_line_gives() {
    let bar = formula(vec![graded(84, 50), line("cetyl-alcohol", 10), line("kaolin", 25), line("stearic-acid", 15)]);
    let substitution = substituted(&bar, 60, &[Measure::active_matter()]);
    assert_eq!(shares(&substitution), whole(&[70, 10, 5, 15]));
    assert_eq!(substitution.exact(), whole(&[70, 10, 5, 15]));
    assert_eq!((substitution.line(), substitution.new_line()), ("grade-84", "grade-60"));
    let change = LineChange { line: "kaolin".to_string(), before: Exact::from(25), after: Exact::from(5) };
    assert_eq!((substitution.changes(), substitution.disturbance()), (vec![change], Exact::from(20)));
    let text = substitution.page().text(100);
    for part in ["grade-84, then grade-60", "active matter, %", "kaolin"] {
        assert!(text.contains(part), "{text}");
    }
    assert!(!text.contains("kaolin, then"), "{text}");
    let equals = formula(vec![graded(84, 50), line("cetyl-alcohol", 25), line("kaolin", 25)]);
    assert_eq!(
        shares(&substituted(&equals, 60, &[Measure::active_matter()])),
        whole(&[70, 5, 25]),
        "the first of equals"
    );
}

/// Nothing that is kept comes from the line, so it stays as large as it was, and not as small as it could be.
#[test]
fn what_nothing_asks_for_stays() {
    let bar = formula(vec![line("stearic-acid", 20), graded(84, 30), line("kaolin", 50).as_qs(true)]);
    for keep in [
        vec![],
        vec![Measure::class(Class::FattyAcid)],
        vec![Measure::class(Class::FattyAcid), Measure::class(Class::FattyAlcohol)],
    ] {
        let substitution = substituted(&bar, 60, &keep);
        assert_eq!(shares(&substitution), whole(&[20, 30, 50]));
        assert!(substitution.kept().iter().all(|kept| kept.is_exact));
    }
    let both = substituted(&bar, 60, &[Measure::class(Class::FattyAcid), Measure::active_matter()]);
    assert_eq!(shares(&both), whole(&[20, 42, 38]));
    assert!(both.kept().iter().all(|kept| kept.is_exact && kept.before == kept.after));
}

/// Before, 15 % of salt go with 45 % of active matter. With 52.5 % of a grade of 80 % the active matter is kept, and
/// 17.5 % of salt are a sixth more than a third of it. Keeping the ratio instead would take 90 % of the grade, and more
/// than that part of the active matter.
#[test]
fn of_two_measures_the_one_is_lost_that_departs_less() {
    let bar = formula(vec![graded(84, 50), graded(30, 10).as_fixed(true), line("kaolin", 40).as_qs(true)]);
    let ratio = Measure::class(Class::Salt).per(&Measure::active_matter());
    let substitution = substituted(&bar, 80, &[Measure::active_matter(), ratio.clone()]);
    assert_eq!(shares(&substitution), vec![Exact::ratio(105, 2), Exact::from(10), Exact::ratio(75, 2)]);
    assert_eq!(substitution.total_departure(), &Exact::ratio(1, 6));
    assert_eq!(substitution.kept().iter().map(|kept| kept.is_exact).collect::<Vec<_>>(), [true, false]);
    let sentence = substitution.sentence();
    assert!(sentence.contains(&format!("and {} goes from 0.33 to 0.39 kg/kg;", ratio.name())), "{sentence}");
}

/// 50 % of 84 % need 70 % of 60 %, for which there is just room; it is the salt that makes it inexact.
#[test]
fn room_that_is_just_enough_is_not_named_as_what_is_missing() {
    let bar = formula(vec![graded(84, 50), line("cetyl-alcohol", 30).as_fixed(true), line("kaolin", 20).as_qs(true)]);
    let substitution = substituted(&bar, 60, &[Measure::active_matter(), Measure::class(Class::Salt)]);
    assert_eq!(substitution.needed(), Some(&Exact::from(70)));
    let sentence = substitution.sentence();
    assert!(sentence.starts_with("it cannot be done exactly") && !sentence.contains("there is room for"), "{sentence}");
}

/// Dosed with care as they are: a q.s. line may give all the same, and so may the replaced line, though it is fixed.
#[test]
fn lines_that_may_move_are_not_held_against_it() {
    let bar = formula(vec![
        graded(84, 50).as_fixed(true),
        line("cetyl-alcohol", 10),
        line("sodium-bicarbonate", 40).as_qs(true),
    ]);
    assert_eq!(shares(&substituted(&bar, 60, &[Measure::active_matter()])), whole(&[70, 10, 20]));
}

#[test]
fn a_changed_substitution_is_refused() {
    let lines = vec![
        graded(84, 50),
        line("cetyl-alcohol", 10).as_fixed(true),
        line("citric-acid-50", 5),
        line("kaolin", 35).as_qs(true),
    ];
    let good = substituted(&formula(lines), 60, &[Measure::active_matter()]);
    let refused = |says: &str, change: &dyn Fn(&mut Substitution)| {
        let mut forged = good.clone();
        change(&mut forged);
        let error = forged.verify().expect_err(says).to_string();
        assert!(error.contains(says), "{error}");
    };
    let moved = |forged: &mut Substitution, from: usize, to: usize| {
        let mut lines = forged.after.lines().to_vec();
        lines[from] = lines[from].clone().with_percent(Ppm::from_parts(lines[from].percent().parts() - 1000).unwrap());
        lines[to] = lines[to].clone().with_percent(Ppm::from_parts(lines[to].percent().parts() + 1000).unwrap());
        forged.after = Formula::new("Bar", lines).unwrap().with_phases(forged.after.phases()).unwrap();
    };
    for held in [1, 2] {
        refused("was to stay as it is", &|forged| moved(forged, held, 3));
    }
    refused("was to stay as it is", &|forged| {
        let mut lines = forged.after.lines().to_vec();
        lines[3] = lines[3].clone().in_phase("cool-down").unwrap();
        forged.after = Formula::new("Bar", lines).unwrap();
    });
    refused("is not what was reported", &|forged| moved(forged, 0, 3));
    refused("is not what was reported", &|forged| forged.kept[0].after += Exact::ratio(1, 1_000_000));
    // Told as exact, though it is a tenth of a percent off.
    refused("is not what was reported", &|forged| {
        moved(forged, 0, 3);
        forged.kept[0].after =
            forged.after.measure(&forged.kept[0].measure, &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap();
    });
    refused("", &|forged| {
        let other = forged.stages[1].1.clone();
        forged.stages[0].1 = other;
    });
}
