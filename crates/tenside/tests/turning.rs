//! A brief turned by each of its dials, against the brief solved from cold.

use rust_decimal::Decimal;
use tenside::brief::{Brief, Dial, Requirement, SplitBasis};
use tenside::catalogue::{Catalogue, PriceList};
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;
use tenside::solve::{Outcome, Turning, Ways};
use tenside::substance::Class;

fn brief() -> Brief {
    let prices = [("sci-powder", 8), ("scs-needles", 5), ("capb-30", 3), ("cetyl-alcohol", 4), ("stearic-acid", 2), ("panthenol", 20), ("kaolin", 1)];
    let prices = PriceList::new("EUR", prices.map(|(id, price)| (id.to_string(), Decimal::from(price)))).unwrap();
    Brief::new("Turned", &Catalogue::starter())
        .unwrap()
        .with_prices(&prices)
        .unwrap()
        .split("wash", SplitBasis::Active, &[("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])
        .unwrap()
        .fix("panthenol", "1.5")
        .unwrap()
        .between("cetyl-alcohol", 3, 6)
        .unwrap()
        .between("stearic-acid", 1, 20)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .require(Requirement::equal(Measure::active_matter(), Exact::from(56)).named("wash strength").unwrap())
        .unwrap()
        .require(Requirement::at_most(Measure::water(), Exact::from(14)).named("dry enough").unwrap())
        .unwrap()
        .require(Requirement::at_least(Measure::solids(), Exact::from(80)).on(Basis::finished(Exact::from(5)).unwrap()).named("solid enough").unwrap())
        .unwrap()
        .minimise(Measure::cost())
}

fn exact(text: &str) -> Exact {
    text.parse().unwrap()
}

#[test]
fn every_dial_gives_what_the_brief_gives_from_cold() {
    let brief = brief();
    let dials = [
        (Dial::part("wash", "sci-powder"), 2, 30),
        (Dial::part("wash", "capb-30"), 1, 12),
        (Dial::Fixed("panthenol".into()), 0, 40),
        (Dial::LowEnd("cetyl-alcohol".into()), 0, 6),
        (Dial::HighEnd("cetyl-alcohol".into()), 3, 40),
        (Dial::Target("wash strength".into()), 30, 75),
        (Dial::AtMost("dry enough".into()), 1, 22),
        (Dial::AtLeast("solid enough".into()), 60, 99),
        (Dial::Price("stearic-acid".into()), 0, 12),
    ];
    for (dial, from, to) in dials {
        let mut turning = brief.turning(&dial).unwrap();
        let (mut answered, mut conflicts) = (0, 0);
        for step in 0..=24 {
            let value = Exact::from(from) + Exact::from(to - from) * Exact::ratio(step * 7 % 25, 25);
            let cold = brief.turned(&dial, &value).unwrap().try_solve().unwrap();
            match (turning.percents(&value).unwrap(), &cold) {
                (Some(percents), Outcome::Answered(answer)) => {
                    answered += 1;
                    for (percent, exact) in percents.iter().zip(answer.exact()) {
                        assert!((percent - exact.to_f64()).abs() < 1e-9, "{dial} at {value}: {percent} for {exact}");
                    }
                }
                (None, Outcome::Conflict(_)) => conflicts += 1,
                (percents, _) => panic!("{dial} at {value}: {percents:?} for {cold:?}"),
            }
            assert_eq!(turning.solve(&value).unwrap(), cold, "{dial} at {value}");
        }
        assert!(answered > 3, "{dial}: {answered} {conflicts}");
        let ways = turning.ways();
        assert!(ways.points <= 12 && ways.filtered + ways.exact + ways.points < 25, "{dial}: {ways:?}");
    }
}

/// Which requirements and line ends the answer meets with equality.
fn structure(brief: &Brief, dial: &Dial, value: &Exact) -> Option<Vec<String>> {
    match brief.turned(dial, value).unwrap().try_solve().unwrap() {
        Outcome::Answered(answer) => {
            let lines = answer.brief().lines().iter().zip(answer.exact()).map(|(line, exact)| {
                let (low, high) = line.role().range();
                format!("{} {} {}", line.name(), low.percent() == *exact, high.percent() == *exact)
            });
            let rows = answer.proof().outcome().optimum().unwrap().row_multipliers.iter().map(|multiplier| (!multiplier.is_zero()).to_string());
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
    let dials = [
        Dial::part("wash", "sci-powder"),
        Dial::part("wash", "scs-needles"),
        Dial::part("wash", "capb-30"),
        Dial::Target("wash strength".into()),
        Dial::AtMost("dry enough".into()),
        Dial::AtLeast("solid enough".into()),
        Dial::Price("stearic-acid".into()),
        Dial::Price("capb-30".into()),
    ];
    for dial in dials {
        let range = answer.dial_range(&dial).unwrap().unwrap();
        let here = structure(&brief, &dial, &range.value);
        for (end, outwards) in [(range.from.clone(), -1), (range.to.clone(), 1)] {
            let Some(end) = end else { continue };
            let hair = Exact::ratio(outwards, 1_000_000_000) * (end.abs() + Exact::ratio(1, 1000));
            // An end that is no value of the dial, such as a part of nothing, is reached by nobody.
            let (inside, outside) = (&end - &hair, &end + &hair);
            if brief.turned(&dial, &inside).is_err() || brief.turned(&dial, &outside).is_err() {
                continue;
            }
            assert_eq!(structure(&brief, &dial, &inside), here, "{dial} just inside {end}");
            assert_ne!(structure(&brief, &dial, &outside), here, "{dial} just outside {end}");
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
    let mut turning = brief.turning(&Dial::part("wash", "capb-30")).unwrap();
    let before = turning.percents(&Exact::ONE).unwrap().unwrap().to_vec();
    assert!(turning.percents(&Exact::ZERO).unwrap_err().is_out_of_range());
    assert!(turning.percents(&exact("-1")).is_err());
    assert!(turning.percents(&exact("1e12")).is_err());
    assert_eq!(turning.percents(&Exact::ONE).unwrap().unwrap(), before);
    let mut fixed = brief.turning(&Dial::Fixed("panthenol".into())).unwrap();
    assert!(fixed.percents(&Exact::ratio(1, 3)).is_err());
    assert!(fixed.percents(&exact("100.5")).is_err());
    assert!(brief.turning(&Dial::Fixed("kaolin".into())).is_err());
}

/// Ratios of a billion to one and one to a billion are ratios like others.
#[test]
fn far_ratios_are_solved() {
    for (other, values) in [("0.001", ["0.001", "1", "1000", "1000000"]), ("1000000", ["1000000", "1000", "1", "0.001"])] {
        let brief = brief().turned(&Dial::part("wash", "scs-needles"), &exact(other)).unwrap();
        let dial = Dial::part("wash", "capb-30");
        let mut turning = brief.turning(&dial).unwrap();
        for value in values {
            let cold = brief.turned(&dial, &exact(value)).unwrap().try_solve().unwrap();
            let seen = turning.percents(&exact(value)).unwrap().map(<[f64]>::to_vec);
            match (&cold, seen) {
                (Outcome::Answered(answer), Some(percents)) => {
                    assert!(percents.iter().zip(answer.exact()).all(|(percent, exact)| (percent - exact.to_f64()).abs() < 1e-9), "{value}");
                }
                (Outcome::Conflict(conflict), None) => conflict.verify().unwrap(),
                (_, seen) => panic!("{value}: {seen:?}"),
            }
        }
    }
}

/// The percentages of a turned brief against those from cold, at each of these values.
fn compare(brief: &Brief, dial: &Dial, values: &[Exact]) -> Turning {
    let mut turning = brief.turning(dial).unwrap();
    for value in values {
        match (turning.percents(value).unwrap(), brief.turned(dial, value).unwrap().try_solve().unwrap()) {
            (Some(percents), Outcome::Answered(answer)) => {
                assert!(percents.iter().zip(answer.exact()).all(|(percent, exact)| (percent - exact.to_f64()).abs() < 1e-9), "{dial} at {value}: {percents:?}");
            }
            (None, Outcome::Conflict(_)) => {}
            (percents, cold) => panic!("{dial} at {value}: {percents:?} for {cold:?}"),
        }
        if let Some((from, to)) = turning.stretch() {
            assert!(from < value.to_f64() && value.to_f64() < to, "{dial} at {value}: {from} to {to}");
        }
    }
    turning
}

/// Where the number is as high as it may be, it is turned downwards.
#[test]
fn a_dial_at_its_end_is_turned_too() {
    let dial = Dial::HighEnd("stearic-acid".into());
    let full = brief().turned(&dial, &Exact::hundred()).unwrap().maximise(Measure::class(Class::FattyAcid));
    let turning = compare(&full, &dial, &[5, 20, 7, 17, 60, 3, 2].map(Exact::from));
    let ways = turning.ways();
    assert!((1..=4).contains(&(ways.filtered + ways.exact)) && ways.points == 0, "{ways:?}");
    assert!(turning.stretch().is_some());
    assert_eq!((turning.brief(), turning.dial()), (&full, &dial));
    let seen = format!("{turning:?}");
    assert!(seen.contains("stretches") && seen.contains(&format!("{ways:?}")), "{seen}");
}

/// What hangs on nothing is one stretch.
#[test]
fn a_price_that_does_not_count_is_one_stretch() {
    let brief = brief().minimise(Measure::water());
    let values = [4, 9, 1, 1000, 77].map(Exact::from);
    let turning = compare(&brief, &Dial::Price("capb-30".into()), &values);
    let ways = turning.ways();
    assert_eq!((ways.filtered + ways.exact, ways.points), (1, 0));
    assert!(turning.stretch().is_some());
}

/// The very end of what is walked is no inner point of a stretch, and what is further is not for the walk at all: both are solved by themselves.
#[test]
fn points_solved_by_themselves_are_counted() {
    let mut turning = compare(&brief(), &Dial::AtMost("dry enough".into()), &[12, 40, 1000].map(Exact::from));
    let before = turning.ways().points;
    for (value, points) in [("1000000000", 1), ("1000000000", 2), ("2000000000", 3), ("12", 3)] {
        assert!(turning.percents(&exact(value)).unwrap().is_some());
        assert_eq!(turning.ways().points, before + points, "{value}");
    }
}

/// A requirement for every composition has a worst one that changes with its limit: each point is solved by itself. Others are turned beside it.
#[test]
fn limits_for_every_composition_are_solved_point_by_point() {
    let sure = Requirement::at_most(Measure::water(), Exact::from(17)).for_every_composition().named("surely dry").unwrap();
    let brief = brief().drop_requirement("dry enough").unwrap().require(sure).unwrap();
    let values = [16, 20, 14, 25, 18].map(Exact::from);
    let turning = compare(&brief, &Dial::AtMost("surely dry".into()), &values);
    assert_eq!((turning.ways(), turning.stretch()), (Ways { filtered: 0, exact: 0, points: 5 }, None));
    let turning = compare(&brief, &Dial::AtLeast("solid enough".into()), &[60, 62, 65, 68, 70].map(Exact::from));
    let ways = turning.ways();
    assert!(ways.filtered + ways.exact > 0 && ways.points < 5, "{ways:?}");
    let answer = brief.solve().unwrap();
    assert_eq!(answer.dial_range(&Dial::AtMost("surely dry".into())).unwrap(), None);
}
