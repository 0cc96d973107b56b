//! The answers of a brief along each of its numbers, against the brief solved from cold.

use tenside::brief::{Brief, Parameter, Requirement, Role, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;
use tenside::solve::{Outcome, SolutionPath};
use tenside::substance::Class;

fn brief() -> Brief {
    let prices = [
        ("sci-powder", 8),
        ("scs-needles", 5),
        ("capb-30", 3),
        ("cetyl-alcohol", 4),
        ("stearic-acid", 2),
        ("panthenol", 20),
        ("kaolin", 1),
    ];
    let prices = PriceList::new("EUR", prices).unwrap();
    Brief::new("Varied", &Catalogue::starter())
        .unwrap()
        .with_prices(&prices)
        .unwrap()
        .split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])
        .unwrap()
        .fix("panthenol", "1.5")
        .unwrap()
        .between("cetyl-alcohol", 3, 6)
        .unwrap()
        .between("stearic-acid", 1, 20)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .require(Requirement::equal(Measure::active_matter(), Exact::from(56)).unwrap().named("wash strength").unwrap())
        .unwrap()
        .require(Requirement::at_most(Measure::water(), Exact::from(14)).unwrap().named("dry enough").unwrap())
        .unwrap()
        .require(
            Requirement::at_least(Measure::solids(), Exact::from(80))
                .unwrap()
                .on(Basis::finished(Exact::from(5)).unwrap())
                .named("solid enough")
                .unwrap(),
        )
        .unwrap()
        .minimise(Measure::cost())
}

fn exact(text: &str) -> Exact {
    text.parse().unwrap()
}

#[test]
fn every_parameter_gives_what_the_brief_gives_from_cold() {
    let brief = brief();
    let parameters = [
        (Parameter::part("wash", "sci-powder"), 2, 30),
        (Parameter::part("wash", "capb-30"), 1, 12),
        (Parameter::Fixed("panthenol".into()), 0, 40),
        (Parameter::Lowest("cetyl-alcohol".into()), 0, 6),
        (Parameter::Highest("cetyl-alcohol".into()), 3, 40),
        (Parameter::Target("wash strength".into()), 30, 75),
        (Parameter::AtMost("dry enough".into()), 1, 22),
        (Parameter::AtLeast("solid enough".into()), 60, 99),
        (Parameter::Price("stearic-acid".into()), 0, 12),
    ];
    for (parameter, from, to) in parameters {
        let values: Vec<Exact> =
            (0..=24).map(|step| Exact::from(from) + Exact::from(to - from) * Exact::ratio(step * 7 % 25, 25)).collect();
        let mut path = compare(&brief, &parameter, &values);
        assert_eq!(
            path.solve(&values[3]).unwrap(),
            brief.with_parameter(&parameter, &values[3]).unwrap().try_solve().unwrap()
        );
        // Pieces follow each other without a gap, and say where there is a formula.
        let regions = path.regions(Exact::from(from), Exact::from(to)).unwrap();
        assert_eq!((&regions[0].from, &regions[regions.len() - 1].to), (&Exact::from(from), &Exact::from(to)));
        assert!(
            regions.windows(2).all(|pair| pair[0].to == pair[1].from) && regions.len() < 12,
            "{parameter}: {regions:?}"
        );
        for value in &values {
            let Some(region) = regions.iter().find(|region| region.from < *value && *value < region.to) else {
                continue;
            };
            assert_eq!(path.percents(value).unwrap().is_some(), region.is_answered, "{parameter} at {value}");
        }
    }
}

/// Which requirements and line ends the answer meets with equality.
fn structure(brief: &Brief, parameter: &Parameter, value: &Exact) -> Option<Vec<String>> {
    match brief.with_parameter(parameter, value).unwrap().try_solve().unwrap() {
        Outcome::Answered(answer) => {
            let lines = answer.brief().lines().iter().zip(answer.exact()).map(|(line, exact)| {
                let (low, high) = line.role().range();
                format!("{} {} {}", line.name(), low.percent() == *exact, high.percent() == *exact)
            });
            let rows = answer
                .proof()
                .outcome()
                .optimum()
                .unwrap()
                .row_multipliers
                .iter()
                .map(|multiplier| (!multiplier.is_zero()).to_string());
            Some(lines.chain(rows).collect())
        }
        Outcome::Conflict(_) => None,
    }
}

#[test]
fn a_structure_stays_up_to_its_exact_ends_and_no_further() {
    let brief = brief();
    let answer = brief.solve().unwrap();
    let mut ends = 0;
    let parameters = [
        Parameter::part("wash", "sci-powder"),
        Parameter::part("wash", "scs-needles"),
        Parameter::part("wash", "capb-30"),
        Parameter::Target("wash strength".into()),
        Parameter::AtMost("dry enough".into()),
        Parameter::AtLeast("solid enough".into()),
        Parameter::Price("stearic-acid".into()),
        Parameter::Price("capb-30".into()),
    ];
    for parameter in parameters {
        let range = answer.parameter_range(&parameter).unwrap().unwrap();
        let here = structure(&brief, &parameter, &range.value);
        for (end, outwards) in [(range.from.clone(), -1), (range.to.clone(), 1)] {
            let Some(end) = end else { continue };
            let hair = Exact::ratio(outwards, 1_000_000_000) * (end.abs() + Exact::ratio(1, 1000));
            // An end that is no value of the parameter, such as a part of nothing, is reached by nobody.
            let (inside, outside) = (&end - &hair, &end + &hair);
            if brief.with_parameter(&parameter, &inside).is_err() || brief.with_parameter(&parameter, &outside).is_err()
            {
                continue;
            }
            assert_eq!(structure(&brief, &parameter, &inside), here, "{parameter} just inside {end}");
            assert_ne!(structure(&brief, &parameter, &outside), here, "{parameter} just outside {end}");
            ends += 1;
        }
        assert!(range.sentence().contains("same structure"));
    }
    assert!(ends >= 8, "{ends}");
    assert_eq!(answer.ratio_ranges().unwrap().len(), 3);
}

#[test]
fn what_is_no_value_is_refused_and_leaves_the_rest_as_it_was() {
    let brief = brief();
    let mut path = brief.solution_path(&Parameter::part("wash", "capb-30")).unwrap();
    let before = path.percents(&Exact::ONE).unwrap().unwrap();
    assert!(path.percents(&Exact::ZERO).unwrap_err().is_out_of_range());
    assert!(path.percents(exact("-1")).is_err());
    assert!(path.percents(exact("1e12")).is_err());
    assert_eq!(path.percents(&Exact::ONE).unwrap().unwrap(), before);
    let mut fixed = brief.solution_path(&Parameter::Fixed("panthenol".into())).unwrap();
    assert!(fixed.percents(Exact::ratio(1, 3)).is_err());
    assert!(fixed.percents(exact("100.5")).is_err());
    assert!(brief.solution_path(&Parameter::Fixed("kaolin".into())).is_err());
}

/// Ratios of a billion to one and one to a billion are ratios like others.
#[test]
fn far_ratios_are_solved() {
    for (other, values) in
        [("0.001", ["0.001", "1", "1000", "1000000"]), ("1000000", ["1000000", "1000", "1", "0.001"])]
    {
        let brief = brief().with_parameter(&Parameter::part("wash", "scs-needles"), exact(other)).unwrap();
        let parameter = Parameter::part("wash", "capb-30");
        let mut path = brief.solution_path(&parameter).unwrap();
        for value in values {
            let cold = brief.with_parameter(&parameter, exact(value)).unwrap().try_solve().unwrap();
            let seen = path.percents(exact(value)).unwrap();
            match (&cold, seen) {
                (Outcome::Answered(answer), Some(percents)) => {
                    assert!(
                        percents
                            .iter()
                            .zip(answer.exact())
                            .all(|(percent, exact)| (percent - exact.to_f64()).abs() < 1e-9),
                        "{value}"
                    );
                }
                (Outcome::Conflict(conflict), None) => conflict.verify().unwrap(),
                (_, seen) => panic!("{value}: {seen:?}"),
            }
        }
    }
}

/// The percentages along a path against those from cold, at each of these values.
fn compare(brief: &Brief, parameter: &Parameter, values: &[Exact]) -> SolutionPath {
    let mut path = brief.solution_path(parameter).unwrap();
    for value in values {
        match (path.percents(value).unwrap(), brief.with_parameter(parameter, value).unwrap().try_solve().unwrap()) {
            (Some(percents), Outcome::Answered(answer)) => {
                let nearest: Vec<f64> = answer.exact().iter().map(Exact::to_f64).collect();
                assert_eq!(percents, nearest, "{parameter} at {value}");
            }
            (None, Outcome::Conflict(_)) => {}
            (percents, cold) => panic!("{parameter} at {value}: {percents:?} for {cold:?}"),
        }
    }
    path
}

/// Where the number is as high as it may be, the path goes downwards.
#[test]
fn a_parameter_at_its_end_has_a_path_too() {
    let parameter = Parameter::Highest("stearic-acid".into());
    let full = brief().with_parameter(&parameter, Exact::hundred()).unwrap().maximise(Measure::class(Class::FattyAcid));
    let mut path = compare(&full, &parameter, &[5, 20, 7, 17, 60, 3, 2].map(Exact::from));
    assert_eq!((path.brief(), path.parameter()), (&full, &parameter));
    assert!((1..=4).contains(&path.regions(&Exact::ONE, Exact::hundred()).unwrap().len()));
}

/// What hangs on nothing is one region.
#[test]
fn a_price_that_does_not_count_is_one_region() {
    let brief = brief().minimise(Measure::water());
    let mut path = compare(&brief, &Parameter::Price("capb-30".into()), &[4, 9, 1, 1000, 77].map(Exact::from));
    assert_eq!(path.regions(&Exact::ONE, Exact::from(1000)).unwrap().len(), 1);
}

#[test]
fn a_range_goes_no_further_than_its_number() {
    let answer = brief().solve().unwrap();
    let range = |parameter: Parameter| answer.parameter_range(&parameter).unwrap().unwrap();
    // The lowest percentage of 3 to 6 % is no higher than 6, whatever the structure would bear.
    let lowest = range(Parameter::Lowest("cetyl-alcohol".into()));
    assert!(lowest.from.is_some_and(|from| !from.is_negative()) && lowest.to.is_some_and(|to| to <= Exact::from(6)));
    let highest = range(Parameter::Highest("cetyl-alcohol".into()));
    assert!(
        highest.from.is_some_and(|from| from >= Exact::from(3)) && highest.to.is_some_and(|to| to <= Exact::hundred())
    );
    let brief = brief();
    for parameter in [
        Parameter::Lowest("cetyl-alcohol".into()),
        Parameter::Highest("stearic-acid".into()),
        Parameter::part("wash", "capb-30"),
    ] {
        let range = answer.parameter_range(&parameter).unwrap().unwrap();
        let on_grid = |end: &Exact| end.rounded_to(&Exact::ratio(1, 10_000), tenside::number::HalfWay::ToEven) == *end;
        for end in [range.from, range.to].into_iter().flatten().filter(|end| on_grid(end)) {
            assert!(brief.with_parameter(&parameter, &end).is_ok(), "{parameter} at {end}");
        }
    }
}

/// The least ratio is a linear program of its own, whose ends of lines are rows.
#[test]
fn a_ratio_has_a_path_too() {
    let percent = |value: i64| tenside::number::Ppm::from_percent(value).unwrap();
    let brief = brief().minimise(Measure::cost().per(&Measure::active_matter()));
    let brief = brief.change_line("panthenol", Role::between(percent(1), percent(3)).unwrap()).unwrap();
    for (parameter, from, to) in [
        (Parameter::part("wash", "capb-30"), 1, 9),
        (Parameter::AtMost("dry enough".into()), 4, 22),
        (Parameter::Highest("stearic-acid".into()), 2, 20),
        (Parameter::Lowest("panthenol".into()), 0, 3),
        (Parameter::Price("stearic-acid".into()), 0, 12),
    ] {
        let values: Vec<Exact> =
            (0..12).map(|step| Exact::from(from) + Exact::from(to - from) * Exact::ratio(step * 5 % 12, 12)).collect();
        let values: Vec<Exact> = values
            .iter()
            .map(|value| value.rounded_to(&Exact::ratio(1, 1000), tenside::number::HalfWay::ToEven))
            .collect();
        let mut path = compare(&brief, &parameter, &values);
        assert!(
            path.regions(Exact::from(from), Exact::from(to)).is_ok_and(|regions| regions.len() < 12),
            "{parameter}"
        );
    }
}

/// A requirement for every composition has a worst one that changes with its limit: each point is solved by itself.
#[test]
fn limits_for_every_composition_are_solved_point_by_point() {
    let sure = Requirement::at_most(Measure::water(), Exact::from(17))
        .unwrap()
        .for_every_composition()
        .named("surely dry")
        .unwrap();
    let brief = brief().drop_requirement("dry enough").unwrap().require(sure).unwrap();
    let mut path = compare(&brief, &Parameter::AtMost("surely dry".into()), &[16, 20, 14, 25, 18].map(Exact::from));
    assert!(path.regions(Exact::from(14), Exact::from(25)).unwrap_err().is_unsupported());
    compare(&brief, &Parameter::AtLeast("solid enough".into()), &[60, 62, 65, 68, 70].map(Exact::from));
    let answer = brief.solve().unwrap();
    assert_eq!(answer.parameter_range(&Parameter::AtMost("surely dry".into())).unwrap(), None);
}

#[test]
fn what_is_no_stretch_of_a_path_is_refused() {
    let brief = brief();
    let mut path = brief.solution_path(&Parameter::AtMost("dry enough".into())).unwrap();
    for (from, to) in [(9, 9), (12, 9), (0, 2_000_000_000), (-2_000_000_000, 0)] {
        assert!(path.regions(Exact::from(from), Exact::from(to)).unwrap_err().is_out_of_range(), "{from} to {to}");
    }
}
