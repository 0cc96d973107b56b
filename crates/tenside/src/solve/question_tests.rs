//! What the last checks of a rounded formula and of a choice refuse, one wrong thing at a time.

use super::question::{Best, Equation, Nothing, Question, measured};
use super::steps::Steps;
use crate::brief::{Brief, Requirement, SplitBasis};
use crate::catalogue::Catalogue;
use crate::formula::{Formula, Line};
use crate::measure::{Measure, Scope};
use crate::number::{Exact, Ppm};

fn share_of(line: &str) -> Measure {
    Measure::as_supplied().contributed_by(Scope::lines([line]).unwrap())
}

fn percent(tenths: i64) -> Exact {
    Exact::ratio(tenths, 10)
}

/// Its objective is about the first line alone, so that the others can be exchanged without a change of it.
fn bar() -> Brief {
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().between("sci-powder", 10, 40).unwrap();
    let brief =
        brief.between("kaolin", 5, 30).unwrap().between("cetyl-alcohol", 5, 12).unwrap().qs("stearic-acid").unwrap();
    let brief = brief.at_most(share_of("kaolin"), 20).unwrap().at_least(share_of("cetyl-alcohol"), 6).unwrap();
    brief.minimise(share_of("sci-powder"))
}

fn best(question: &Question<'_>) -> Best {
    question.best().unwrap().unwrap_or_else(|_| panic!("there is a formula"))
}

#[test]
fn a_point_that_breaks_anything_is_not_verified() {
    let brief = bar();
    let steps = Steps::of("0.5").unwrap();
    let question = Question::new(&brief, Some(&steps), 1000).unwrap();
    let best = best(&question);
    question.verify(&best).unwrap();
    assert_eq!(best.values, [100, 50, 60, 790].map(percent));
    let moved = |line: usize, tenths: i64| {
        let mut forged = best.clone();
        forged.values[line] += percent(tenths);
        forged.values[3] -= &percent(tenths);
        question.verify(&forged)
    };
    // Another point of the same value is as good.
    moved(1, 150).unwrap();
    moved(2, 60).unwrap();
    for (line, tenths, what) in [
        (1, -5, "below its range"),
        (2, 65, "above its range"),
        (1, 155, "too much of it"),
        (2, -5, "too little of it"),
        (1, 1, "off its step"),
    ] {
        assert!(moved(line, tenths).is_err(), "{what}");
    }
    let mut forged = best.clone();
    forged.values.push(Exact::ZERO);
    assert!(question.verify(&forged).is_err(), "a line too many");
    for forge in [
        |best: &mut Best| best.gap = Exact::ONE,
        |best: &mut Best| best.bound = None,
        |best: &mut Best| best.objective = None,
    ] {
        let mut forged = best.clone();
        forge(&mut forged);
        assert!(question.verify(&forged).is_err());
    }
}

fn formula(tenths: &[(&str, i64)]) -> Formula {
    let catalogue = Catalogue::starter();
    let line = |(id, tenths): &(&str, i64)| {
        Line::new(id, catalogue.material(id).unwrap().clone(), Ppm::from_percent(percent(*tenths)).unwrap()).unwrap()
    };
    Formula::new("Bar", tenths.iter().map(line).collect()).unwrap()
}

/// Nothing is said of the limonene in a scent of which no constituent is listed, nor of a price that nobody stated.
#[test]
fn a_requirement_on_what_is_not_known_is_not_met() {
    let bar = formula(&[("fragrance-oil", 10), ("kaolin", 990)]);
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().free("fragrance-oil").unwrap().qs("kaolin").unwrap();
    let limonene = || Measure::substance("LIMONENE").unwrap();
    for unknown in [
        Requirement::at_most(limonene(), Exact::from(9)).unwrap(),
        Requirement::at_least(limonene(), Exact::ZERO).unwrap(),
        Requirement::at_most(Measure::cost(), Exact::from(9)).unwrap(),
        Requirement::at_most(Measure::cost().per(&Measure::as_supplied()), Exact::from(9)).unwrap(),
    ] {
        let error = measured(&brief.clone().require(unknown).unwrap(), &bar, &[]).unwrap_err();
        assert!(error.is_not_known() || error.is_missing(), "{error}");
    }
    let every = Requirement::at_most(limonene(), Exact::from(1)).unwrap().for_every_composition();
    measured(&brief.clone().require(every).unwrap(), &bar, &[]).unwrap();
    // Over nothing there is no ratio to limit: its row is `0 <= 0`.
    let empty = Requirement::at_most(Measure::active_matter().per(&Measure::active_matter()), Exact::from(9)).unwrap();
    measured(&brief.require(empty).unwrap(), &bar, &[]).unwrap();
}

/// The formula's own measures are read whatever the rows said.
#[test]
fn a_formula_is_measured_whatever_was_proved() {
    let brief = bar();
    let with = |sci: i64, kaolin: i64, cetyl: i64| {
        let rest = 1000 - sci - kaolin - cetyl;
        measured(
            &brief,
            &formula(&[("sci-powder", sci), ("kaolin", kaolin), ("cetyl-alcohol", cetyl), ("stearic-acid", rest)]),
            &[],
        )
    };
    with(100, 200, 60).unwrap();
    assert!(with(100, 201, 60).is_err() && with(100, 200, 59).is_err() && with(100, 201, 59).is_err());

    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .free("sci-powder")
        .unwrap()
        .free("kaolin")
        .unwrap()
        .free("cetyl-alcohol")
        .unwrap();
    let brief = brief
        .qs("stearic-acid")
        .unwrap()
        .split("fats", SplitBasis::Weight, [("kaolin", 2), ("cetyl-alcohol", 1), ("stearic-acid", 3)])
        .unwrap();
    let brief = brief
        .require(Requirement::equal(share_of("sci-powder"), Exact::from(40)).unwrap().named("wash").unwrap())
        .unwrap();
    let with = |equations: &[Equation], sci: i64, kaolin: i64, cetyl: i64| {
        let rest = 1000 - sci - kaolin - cetyl;
        measured(
            &brief,
            &formula(&[("sci-powder", sci), ("kaolin", kaolin), ("cetyl-alcohol", cetyl), ("stearic-acid", rest)]),
            equations,
        )
    };
    let equations = |steps: Option<&Steps>| Question::new(&brief, steps, 1000).unwrap().equations;
    let exact = equations(None);
    with(&exact, 400, 200, 100).unwrap();
    for (sci, kaolin, cetyl, what) in [
        (400, 200, 101, "both"),
        (400, 199, 100, "both"),
        (400, 200, 99, "both"),
        (406, 198, 99, "the target"),
        (394, 202, 101, "the target"),
    ] {
        assert!(with(&exact, sci, kaolin, cetyl).is_err(), "{what}");
    }
    // 1 % of room: more or less of either member, and of the target.
    let steps = Steps::of(1).unwrap().within("fats", 1).unwrap().within("wash", "0.6").unwrap();
    let within = equations(Some(&steps));
    for (sci, kaolin, cetyl, holds) in [
        (400, 200, 110, true),
        (400, 200, 90, true),
        (400, 200, 111, false),
        (400, 200, 89, false),
        // The third member takes up what the first gives, and its share grows by half as much again.
        (400, 196, 100, true),
        (400, 195, 100, false),
        (400, 204, 100, true),
        (400, 205, 100, false),
        (406, 198, 99, true),
        (394, 202, 101, true),
        (407, 198, 99, false),
        (393, 202, 102, false),
    ] {
        assert_eq!(with(&within, sci, kaolin, cetyl).is_ok(), holds, "{sci} {kaolin} {cetyl}");
    }
    let given_up = equations(Some(&Steps::of(1).unwrap().giving_up("fats").giving_up("wash")));
    with(&given_up, 500, 200, 200).unwrap();
}

#[test]
fn what_half_a_step_does_is_half_of_the_farthest_exchange() {
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .fix("glycerin-86", 3)
        .unwrap()
        .between("sci-powder", 10, 60)
        .unwrap();
    let brief = brief.between("cetyl-alcohol", 5, 60).unwrap().qs("stearic-acid").unwrap();
    let powder = share_of("sci-powder");
    let fat = Measure::as_supplied().contributed_by(Scope::lines(["cetyl-alcohol", "stearic-acid"]).unwrap());
    let named = |asked: Requirement, name: &str| asked.named(name).unwrap();
    let brief = brief.require(named(Requirement::equal(powder.clone(), Exact::from(40)).unwrap(), "powder")).unwrap();
    // 50 of powder to 100 of fat.
    let brief = brief.require(named(Requirement::equal(powder.per(&fat), Exact::from(50)).unwrap(), "ratio")).unwrap();
    let brief =
        brief.require(named(Requirement::equal(share_of("glycerin-86"), Exact::from(3)).unwrap(), "held")).unwrap();
    let steps = Steps::of(2).unwrap().line("glycerin-86", 1).unwrap().within_half_a_step();
    let question = Question::new(&brief, Some(&steps), 1000).unwrap();
    let tolerance =
        |name: &str| question.equations.iter().find(|equation| equation.name == name).unwrap().tolerance.clone();
    // Half of 2 %, from all powder to no powder.
    assert_eq!(tolerance("powder"), Some(Exact::ONE));
    // The powder divides by nothing, so no least of what is divided by is known: the effect is said in the row's own
    // unit.
    assert_eq!(tolerance("ratio"), Some(Exact::from(100 + 50)));
    // What is held brings the same to every exchange.
    assert_eq!(tolerance("held"), Some(Exact::ZERO));
    let per_solids = Requirement::equal(share_of("sci-powder").per(&Measure::solids()), Exact::ratio(1, 2))
        .unwrap()
        .named("of solids")
        .unwrap();
    let brief = Brief::new("Wash", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 10, 60)
        .unwrap()
        .qs("capb-30")
        .unwrap()
        .require(per_solids)
        .unwrap();
    let question = Question::new(&brief, Some(&Steps::of(2).unwrap().within_half_a_step()), 1000).unwrap();
    let solids = |id: &str| {
        let alone = formula(&[(id, 1000)])
            .measure(&Measure::solids(), &crate::measure::Basis::AsCharged)
            .unwrap()
            .value
            .unwrap()
            .typical
            .unwrap();
        alone / Exact::hundred()
    };
    let (powder, betaine) = (solids("sci-powder"), solids("capb-30"));
    assert!(betaine < powder);
    // One percent from betaine to powder, over a formula of betaine alone.
    let half = Exact::ratio(1, 2);
    let effect = (Exact::ONE - &half * &powder) + &half * &betaine;
    assert_eq!(question.equations[0].tolerance, Some(effect / (betaine * Exact::hundred())));
}

#[test]
fn nothing_is_proved_by_a_tree_of_another_question() {
    let brief = bar().fix("glycerin-86", "0.3").unwrap();
    let steps = Steps::of("0.5").unwrap();
    let question = Question::new(&brief, Some(&steps), 1000).unwrap();
    let Err(Nothing { proved: true, tree: Some(tree), .. }) = question.best().unwrap() else {
        panic!("0.3 % is no multiple of 0.5 %")
    };
    question.verify_nothing(Some(&tree)).unwrap();
    // Without steps there is a formula, so that no tree is no proof.
    assert!(question.verify_nothing(None).is_err());
    let steps = Steps::of("0.1").unwrap();
    let finer = Question::new(&brief, Some(&steps), 1000).unwrap();
    assert!(finer.verify_nothing(Some(&tree)).is_err());
    assert!(finer.verify_nothing(Some(&best(&finer).tree)).is_err());
}

/// Limits on either side before a target: what a call says of the target is said of no other row.
#[test]
fn tolerances_belong_to_their_equations() {
    let named = |asked: Requirement, name: &str| asked.named(name).unwrap();
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 10, 40)
        .unwrap()
        .between("kaolin", 5, 30)
        .unwrap();
    let brief = brief.between("cetyl-alcohol", 5, 30).unwrap().qs("stearic-acid").unwrap();
    let brief = brief.split("pair", SplitBasis::Weight, [("kaolin", 2), ("cetyl-alcohol", 3)]).unwrap();
    let brief =
        brief.require(named(Requirement::at_least(share_of("sci-powder"), Exact::from(11)).unwrap(), "some")).unwrap();
    let brief = brief
        .require(named(Requirement::at_most(share_of("sci-powder"), Exact::from(39)).unwrap(), "not all"))
        .unwrap();
    let brief = brief
        .require(named(
            Requirement::equal(share_of("stearic-acid"), Exact::from(50)).unwrap().for_every_composition(),
            "sure",
        ))
        .unwrap();
    let brief = brief
        .require(named(Requirement::equal(share_of("kaolin"), percent(105)).unwrap(), "clay"))
        .unwrap()
        .minimise(share_of("sci-powder"));
    let steps = Steps::of(1).unwrap().within("clay", "0.5").unwrap().within("pair", 1).unwrap();
    let question = Question::new(&brief, Some(&steps), 1000).unwrap();
    let told: Vec<(&str, &str, Option<Exact>)> = question
        .equations
        .iter()
        .map(|equation| (equation.name.as_str(), equation.row.name.words(), equation.tolerance.clone()))
        .collect();
    let pair = brief.splits()[0].words(&[0, 1]);
    assert_eq!(told, [("pair", pair.as_str(), Some(Exact::ONE)), ("clay", "clay", Some(percent(5)))]);
    let best = best(&question);
    question.verify(&best).unwrap();
    // 10 or 11 % of clay and within 1 % of half as much again of the alcohol.
    assert!((&best.values[1] - percent(105)).abs() == percent(5), "{:?}", best.values);
    for (equation, departure) in question.departures(&best.values) {
        let expected = if equation.name == "clay" {
            &best.values[1] - percent(105)
        } else {
            &best.values[2] - &best.values[1] * Exact::ratio(3, 2)
        };
        assert_eq!(departure, expected, "{}", equation.name);
    }
}
