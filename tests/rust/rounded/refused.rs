//! What is refused, each with what would be allowed.

use tenside::brief::{Brief, Requirement};
use tenside::catalogue::Catalogue;
use tenside::measure::Measure;
use tenside::number::{Exact, Mass, MassUnit};
use tenside::solve::{RoundedOutcome, Steps, Tolerance};
use tenside::substance::Class;

fn bar() -> Brief {
    Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 20, 70)
        .unwrap()
        .free("cetyl-alcohol")
        .unwrap()
        .qs("kaolin")
        .unwrap()
}

#[track_caller]
fn says<T: std::fmt::Debug>(result: Result<T, tenside::Error>, part: &str) {
    let error = result.unwrap_err().to_string();
    assert!(error.contains(part), "{error}");
}

#[test]
fn steps_that_are_none() {
    for (step, part) in [
        ("0", "0.001 to 100 % w/w"),
        ("-0.5", "0.001 to 100 % w/w"),
        ("101", "0.001 to 100 % w/w"),
        ("0.3", "does not go into 100 %"),
    ] {
        says(Steps::of(step), part);
    }
    says(Steps::of("0.00125"), "whole number of 0.0001 %");
    says(Steps::of(Exact::ratio(100, 3)), "whole number of 0.0001 %");
    let steps = Steps::of("0.5").unwrap();
    for step in ["0", "-1", "0.00015"] {
        says(steps.clone().line("kaolin", step), "line \"kaolin\"");
    }
    assert!(steps.clone().line("kaolin", "0.3").is_ok(), "one line's step need not go into 100 %");
    says(steps.clone().within("wash", -1), "0 or more");
    says(steps.clone().within("wash", "much"), "not a number");
    says(steps.clone().up_to_nodes(0), "1 or more");
    // What is said last counts.
    let twice = steps.giving_up("wash").within("wash", 1).unwrap();
    assert_eq!(twice.equations(), [("wash".to_string(), Tolerance::Within(Exact::ONE))]);
    assert_eq!(twice.clone().giving_up("wash").tolerance("wash"), Some(&Tolerance::GivenUp));
}

#[test]
fn steps_say_what_was_asked() {
    let steps = Steps::of("0.5")
        .unwrap()
        .line("kaolin", 1)
        .unwrap()
        .line("panthenol", "0.1")
        .unwrap()
        .line("kaolin", "0.2")
        .unwrap();
    assert_eq!(steps.step(), &Exact::ratio(1, 2));
    assert_eq!(
        steps.lines(),
        [("panthenol".to_string(), Exact::ratio(1, 10)), ("kaolin".to_string(), Exact::ratio(1, 5))]
    );
    for (line, step) in
        [("kaolin", Exact::ratio(1, 5)), ("panthenol", Exact::ratio(1, 10)), ("sci-powder", Exact::ratio(1, 2))]
    {
        assert_eq!(steps.step_of(line), &step, "{line}");
    }
    assert_eq!(steps.words(), "multiples of 0.5 %, panthenol of 0.1 %, kaolin of 0.2 %");
    assert!(!steps.is_within_half_a_step() && steps.tolerance("wash").is_none());
    let loosened = steps.within_half_a_step().giving_up("pair");
    assert!(loosened.is_within_half_a_step());
    assert_eq!(
        (loosened.tolerance("wash"), loosened.tolerance("pair")),
        (Some(&Tolerance::WithinHalfAStep), Some(&Tolerance::GivenUp))
    );
}

#[test]
fn weighing_in_no_divisions() {
    let grams = |text: &str| Mass::new(text, MassUnit::Gram).unwrap();
    says(Steps::of_weighing(&grams("300"), &grams("7")), "one scale division");
    says(Steps::of_weighing(&grams("1"), &grams("5")), "one scale division");
    says(Steps::of_weighing(&grams("0"), &grams("1")), "batch without mass");
    assert_eq!(Steps::of_weighing(&grams("500"), &grams("0.5")).unwrap(), Steps::of("0.1").unwrap());
}

#[test]
fn names_that_nobody_has() {
    let brief = bar().target(Measure::active_matter(), 40).unwrap();
    says(brief.try_solve_rounded(&Steps::of(1).unwrap().line("clay", 1).unwrap()), "clay");
    says(
        brief.try_solve_rounded(&Steps::of(1).unwrap().within("wash", 1).unwrap()),
        "unknown split or target (found \"wash\")",
    );
    says(brief.try_solve_rounded(&Steps::of(1).unwrap().giving_up("water at 3 %")), "water at 3 %");
    // Limits are no equations, and what is asked for every composition holds exactly.
    let every = Requirement::equal(Measure::class(Class::FattyAcid), Exact::ZERO).unwrap().for_every_composition();
    let limited = brief
        .at_least(Measure::active_matter(), 30)
        .unwrap()
        .at_most(Measure::water(), 9)
        .unwrap()
        .require(every)
        .unwrap();
    for requirement in limited.requirements().iter().skip(1) {
        let error =
            limited.try_solve_rounded(&Steps::of(1).unwrap().giving_up(&requirement.name())).unwrap_err().to_string();
        assert!(error.contains("unknown split or target") && error.contains(&requirement.name()), "{error}");
    }
}

#[test]
fn choices_that_are_none() {
    says(bar().absent_or_between("capb-30", 6, 2), "least <= greatest");
    says(bar().absent_or_between("capb-30", 0, 2), "above 0");
    says(bar().absent_or_between("capb-30", -1, 2), "0 to 100 % w/w");
    let grouped = bar().group("pair", &["sci-powder", "kaolin"]).unwrap();
    says(grouped.clone().at_most_of("pair", 3), "1 to 2 lines");
    says(grouped.clone().at_most_of("pair", 0), "1 to 2 lines");
    says(grouped.clone().at_most_of("pear", 1), "pair");
    says(grouped.clone().at_most_of("pair", 1).unwrap().at_most_of("pair", 2), "limited twice");
    says(grouped.at_most_of("pair", 1).unwrap().try_solve(), "choose");
}

#[test]
fn least_squares_on_steps() {
    let base = bar().solve().unwrap();
    let brief = bar().least_squares_from(base.formula().unwrap());
    says(brief.try_solve_rounded(&Steps::of(1).unwrap()), "least_change_from");
}

#[test]
fn equations_stay_exact_unless_the_call_says_otherwise() {
    let brief = bar().target(Measure::active_matter(), 40).unwrap().minimise(Measure::water());
    let RoundedOutcome::Unmet(unmet) = brief.try_solve_rounded(&Steps::of("0.5").unwrap()).unwrap() else {
        panic!("40 % is not to be had in steps of 0.5 %")
    };
    unmet.verify().unwrap();
    assert_eq!(unmet.requirements(), ["active matter at 40 %"]);
    assert!(unmet.would_do_within_half_a_step());
    assert!(unmet.page().text(200).contains("active matter at 40 %"));
    let within =
        brief.solve_rounded(&Steps::of("0.5").unwrap().within("active matter at 40 %", "0.2").unwrap()).unwrap();
    within.verify().unwrap();
    let [departure] = within.departures() else { panic!("{:?}", within.departures()) };
    assert!(departure.departure.abs() <= Exact::ratio(1, 5) && departure.tolerance == Some(Exact::ratio(1, 5)));
    let text = within.page(&[tenside::measure::Basis::AsCharged]).unwrap().text(200);
    for part in ["Percentages are multiples of 0.5 %.", "(at most 0.2000)", "No formula on these steps is better"] {
        assert!(text.contains(part), "{text}");
    }
    let given_up = brief.solve_rounded(&Steps::of("0.5").unwrap().giving_up("active matter at 40 %")).unwrap();
    given_up.verify().unwrap();
    assert_eq!(given_up.departures()[0].tolerance, None);
}

#[test]
fn a_split_and_a_target_on_the_bench() {
    let brief = Brief::new("Bench", &Catalogue::starter())
        .unwrap()
        .split("wash", tenside::brief::SplitBasis::Weight, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])
        .unwrap()
        .fix("panthenol", "1.5")
        .unwrap()
        .between("cetyl-alcohol", 3, 6)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .at_least(Measure::active_matter(), 50)
        .unwrap()
        .minimise(Measure::active_matter());
    // 14 to 5 to 1 in steps of 0.5 %: multiples of 7, 2.5 and 0.5 %.
    let rounded = brief.solve_rounded(&Steps::of("0.5").unwrap()).unwrap();
    rounded.verify().unwrap();
    assert!(rounded.is_best());
    let of = |name: &str| rounded.formula().line(name).unwrap().percent().percent();
    assert_eq!(of("sci-powder") * Exact::from(5), of("scs-needles") * Exact::from(14));
    assert_eq!(of("scs-needles"), of("capb-30") * Exact::from(5));
    assert!(rounded.objective() >= rounded.objective_without_steps());
    let answer = brief.solve().unwrap();
    assert_eq!(answer.rounded(&Steps::of("0.5").unwrap()).unwrap(), rounded);
    assert_eq!(answer.objective(), rounded.objective_without_steps());
}
