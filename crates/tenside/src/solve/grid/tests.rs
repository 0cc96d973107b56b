//! The grid formula where rounding is not enough: who takes the rest, what an equation may depart by, and formulas
//! found by moving inwards or by trying whole ppm.

use std::sync::Arc;

use super::rows::absorber;
use super::*;
use crate::brief::BriefLine;
use crate::catalogue::Catalogue;
use crate::measure::{Basis, Measure};
use crate::render::Page;
use crate::solve::Answer;

fn brief() -> Brief {
    Brief::new("Bar", &Catalogue::starter()).unwrap()
}

fn ppm(parts: u32) -> Ppm {
    Ppm::from_parts(parts).unwrap()
}

/// A percentage of so many ppm.
fn percent(parts: i64) -> Exact {
    Exact::ratio(parts, 10_000)
}

fn answered(brief: &Brief) -> Answer {
    let answer = brief.solve().unwrap();
    answer.verify().unwrap();
    answer
}

fn parts(answer: &Answer) -> Vec<u32> {
    answer.formula().unwrap().lines().iter().map(|line| line.percent().parts()).collect()
}

/// Percent of active matter in a raw material.
fn active(id: &str) -> Exact {
    let alone = Line::new(id, Catalogue::starter().material(id).unwrap().clone(), Ppm::WHOLE).unwrap();
    Formula::new("Alone", vec![alone])
        .unwrap()
        .measure(&Measure::active_matter(), &Basis::AsCharged)
        .unwrap()
        .value
        .unwrap()
        .typical
        .unwrap()
}

/// A rule, lines with their exact percentages, and the place of the line that takes the rest.
type Case = (&'static str, Vec<(&'static str, Role, i64)>, usize);

#[test]
fn the_rest_goes_to_one_line_by_rule() {
    let free = Role::Free;
    let fixed = |parts: u32| Role::Fixed(ppm(parts));
    let cases: [Case; 6] = [
        (
            "the q.s. line, however small",
            vec![("sci-powder", free.clone(), 60), ("cetyl-alcohol", free.clone(), 38), ("kaolin", Role::Qs, 2)],
            2,
        ),
        (
            "the largest that is not fixed",
            vec![
                ("stearic-acid", free.clone(), 20),
                ("sci-powder", fixed(400_000), 40),
                ("cetyl-alcohol", free.clone(), 30),
                ("kaolin", free.clone(), 10),
            ],
            2,
        ),
        (
            "not one dosed with care",
            vec![
                ("citric-acid-50", free.clone(), 50),
                ("stearic-acid", free.clone(), 20),
                ("cetyl-alcohol", free.clone(), 30),
            ],
            2,
        ),
        (
            "the first of equals",
            vec![
                ("stearic-acid", free.clone(), 30),
                ("cetyl-alcohol", free.clone(), 30),
                ("citric-acid-50", free.clone(), 40),
            ],
            0,
        ),
        (
            "one dosed with care rather than a fixed one",
            vec![("kaolin", fixed(700_000), 70), ("citric-acid-50", free.clone(), 10), ("lactic-acid-80", free, 20)],
            2,
        ),
        ("the first where all are fixed", vec![("sci-powder", fixed(600_000), 60), ("kaolin", fixed(400_000), 40)], 0),
    ];
    for (rule, lines, expected) in cases {
        let catalogue = Catalogue::starter();
        let (mut asked, mut exact) = (brief(), Vec::new());
        for (id, role, percent) in lines {
            asked = asked.line(BriefLine::new(id, catalogue.material(id).unwrap().clone(), role).unwrap()).unwrap();
            exact.push(Exact::from(percent));
        }
        assert_eq!(absorber(&asked, &exact, &vec![false; exact.len()]), expected, "{rule}");
    }
}

/// One ppm for each free line, times how much more or less active it is than the line that takes the rest.
#[test]
fn a_departure_and_its_bound_are_as_reckoned_by_hand() {
    let asked = brief()
        .between("sci-powder", 20, 60)
        .unwrap()
        .between("coco-glucoside-50", 2, 30)
        .unwrap()
        .fix("capb-30", 10)
        .unwrap();
    let asked = asked.between("cetyl-alcohol", 3, 6).unwrap().qs("kaolin").unwrap();
    let mut departed = 0;
    for sevenths in 270..280 {
        let target = Exact::ratio(sevenths, 7);
        let answer = answered(&asked.clone().target(Measure::active_matter(), &target).unwrap());
        let read = answer
            .formula()
            .unwrap()
            .measure(&Measure::active_matter(), &Basis::AsCharged)
            .unwrap()
            .value
            .unwrap()
            .typical
            .unwrap();
        let Some(departure) = answer.departures().first() else {
            assert_eq!(read, target);
            continue;
        };
        departed += 1;
        assert_eq!(departure.departure, read - target);
        let of_free: Exact = ["sci-powder", "coco-glucoside-50", "cetyl-alcohol"]
            .map(|id| (active(id) - active("kaolin")).abs())
            .iter()
            .sum();
        assert_eq!(departure.bound, of_free * Exact::ratio(1, 1_000_000));
        assert!(departure.departure.abs() <= departure.bound);
    }
    assert!(departed > 5, "{departed}");
}

#[test]
fn an_equation_may_depart_by_its_bound_and_no_more() {
    let asked = brief().free("sci-powder").unwrap().free("scs-needles").unwrap().qs("kaolin").unwrap();
    let asked = asked.split("pair", crate::brief::SplitBasis::Weight, [("sci-powder", 1), ("scs-needles", 1)]).unwrap();
    let answer = asked.solve().unwrap();
    let rows = Rows::new(&asked, answer.proof().program(), answer.exact());
    // Half a ppm of either line, from step 2 and from rounding: two ppm in all.
    for (second, breaks) in [(100_000, false), (100_002, false), (99_998, false), (100_003, true), (99_997, true)] {
        let percents = [ppm(100_000), ppm(second), ppm(900_000 - second)];
        assert_eq!(rows.broken(&percents).is_some(), breaks, "{second}");
        assert!(
            rows.departures(&percents).iter().all(|departure| breaks == (departure.departure.abs() > departure.bound)),
            "{second}"
        );
    }
}

/// A limit that the exact solution meets with equality, between two ppm: the grid formula takes the next one on the
/// allowed side.
#[test]
fn a_limit_met_between_two_ppm_moves_to_the_next_inside() {
    let mut moved = 0;
    for sevenths in 270..290 {
        let asked = brief().free("sci-powder").unwrap().qs("kaolin").unwrap();
        let answer = answered(
            &asked
                .at_least(Measure::active_matter(), Exact::ratio(sevenths, 7))
                .unwrap()
                .minimise(Measure::active_matter()),
        );
        let exact = &answer.exact()[0] * Exact::from(10_000);
        let floor = exact.floor_i64().unwrap();
        if &exact - Exact::from(floor) < Exact::ratio(1, 2) {
            moved += 1;
        }
        assert_eq!(i64::from(parts(&answer)[0]), floor + i64::from(!exact.is_whole()));
    }
    assert!(moved > 3, "{moved}");
}

/// Three equal lines share 94.6997 %: rounded up they are a ppm too much, and the q.s. line is at 0. All move down
/// together, by no more than rounding can do, rather than apart; the line at its low end stays there.
#[test]
fn the_line_that_takes_the_rest_keeps_room_at_its_low_end() {
    let asked = brief().qs("kaolin").unwrap().between("cetyl-alcohol", 3, 6).unwrap();
    let asked = asked
        .split(
            "wash",
            crate::brief::SplitBasis::Weight,
            [("sci-powder", 1), ("scs-needles", 1), ("coco-glucoside-50", 1)],
        )
        .unwrap();
    let asked =
        asked.fix("panthenol", 1).unwrap().fix("citric-acid-50", 1).unwrap().fix("sodium-benzoate", "0.3003").unwrap();
    let answer = answered(&asked.maximise(Measure::active_matter()));
    assert_eq!(answer.exact()[..2], [Exact::ZERO, Exact::from(3)]);
    assert_eq!(parts(&answer), [2, 30_000, 315_665, 315_665, 315_665, 10_000, 10_000, 3003]);
    assert!(answer.departures().is_empty());
}

/// The same at the other end: three lines rounded down would leave more for the last one than its range allows.
#[test]
fn the_line_that_takes_the_rest_keeps_room_at_its_high_end() {
    let asked = brief()
        .split(
            "wash",
            crate::brief::SplitBasis::Weight,
            [("sci-powder", 1), ("scs-needles", 1), ("coco-glucoside-50", 1)],
        )
        .unwrap();
    let asked = asked.fix("panthenol", 1).unwrap().between("kaolin", 10, 50).unwrap();
    let answer = answered(&asked.minimise(Measure::active_matter()));
    assert_eq!(answer.exact()[4], Exact::from(50));
    assert_eq!(parts(&answer), [163_334, 163_334, 163_334, 10_000, 499_998]);
    assert!(answer.departures().is_empty());
}

/// A target and a limit at the same value: the target gives, to the allowed side, and every line stays near.
#[test]
fn a_target_gives_to_the_side_that_a_limit_allows() {
    let asked =
        brief().between("scs-needles", 10, 30).unwrap().between("sci-powder", 10, 50).unwrap().qs("kaolin").unwrap();
    let mut gave = [0, 0];
    for (upper, sevenths) in (270..290).flat_map(|sevenths| [(false, sevenths), (true, sevenths)]) {
        let value = Exact::ratio(sevenths, 7);
        let both = asked.clone().target(Measure::active_matter(), &value).unwrap();
        let both = if upper {
            both.at_most(Measure::active_matter(), &value)
        } else {
            both.at_least(Measure::active_matter(), &value)
        }
        .unwrap();
        let answer = answered(&both);
        for (exact, parts) in answer.exact().iter().zip(parts(&answer)) {
            assert!((exact - percent(parts.into())).abs() <= percent(10), "{value}: {parts} ppm for {exact} %");
        }
        let departure = answer.departures().first().map(|departure| departure.departure.clone()).unwrap_or_default();
        assert!(if upper { !departure.is_positive() } else { !departure.is_negative() });
        gave[usize::from(upper)] += usize::from(!departure.is_zero());
    }
    assert!(gave.iter().all(|count| *count > 10), "{gave:?}");
}

/// Active matter between the amounts of 0.3 and 1.1 ppm past a whole one of the powder: too narrow to move inwards,
/// wide enough for the next whole ppm. The other two are 1 to 2, and their sum no multiple of 3.
fn narrow(last: i64) -> Brief {
    let of_powder = |tenths: i64| active("sci-powder") * Exact::ratio(4_704_980 + tenths, 10_000_000);
    let asked = brief().free("sci-powder").unwrap().free("cetyl-alcohol").unwrap().free("stearic-acid").unwrap();
    let asked =
        asked.split("rest", crate::brief::SplitBasis::Weight, [("cetyl-alcohol", 1), ("stearic-acid", 2)]).unwrap();
    let asked = asked
        .at_least(Measure::active_matter(), of_powder(3))
        .unwrap()
        .at_most(Measure::active_matter(), of_powder(last))
        .unwrap();
    asked.minimise(Measure::active_matter())
}

#[test]
fn whole_ppm_are_tried_where_there_is_no_room_to_move_inwards() {
    let answer = answered(&narrow(11));
    // 529501 ppm for the rest, of which the first member is as little as its split allows: 3 ppm too much of the other
    // would be whole, 1 is.
    assert_eq!(parts(&answer), [470_499, 176_500, 353_001]);
    let [departure] = answer.departures() else { panic!("{:?}", answer.departures()) };
    assert_eq!((&departure.departure, &departure.bound), (&percent(1), &percent(3)));
}

#[test]
fn where_no_whole_ppm_will_do_the_exact_solution_is_shown() {
    let answer = answered(&narrow(9));
    let refusal = answer.formula().unwrap_err().to_string();
    assert!(refusal.contains("no formula of whole 0.0001 % meets every requirement"), "{refusal}");
    let text = answer.page(&[Basis::AsCharged]).map(|page: Page| page.text(120)).unwrap();
    for part in ["Bar", "no formula of whole 0.0001 % meets every requirement", "47.049830", "17.650057", "35.300113"] {
        assert!(text.contains(part), "{text}");
    }
}

#[test]
fn a_formula_of_other_raw_materials_is_refused_for_its_lines() {
    let answer = answered(&brief().between("sci-powder", 20, 60).unwrap().qs("kaolin").unwrap());
    let good = answer.formula().unwrap();
    let (powder, other) = (&good.lines()[0], Catalogue::starter().material("corn-starch").unwrap().clone());
    let last = |name: &str, material: Arc<crate::material::Material>| {
        Line::new(name, material, good.lines()[1].percent()).unwrap().as_qs(true)
    };
    for forged in [last("kaolin", other), last("clay", good.lines()[1].material().clone())] {
        let formula = Formula::new("Bar", vec![powder.clone(), forged]).unwrap();
        let grid = Ok(Grid { formula, departures: Vec::new() });
        let error = verify(answer.brief(), answer.proof(), answer.exact(), &grid).unwrap_err().to_string();
        assert!(error.contains("its lines are not the brief's"), "{error}");
    }
}

/// The q.s. line is held at 0 in three ways; another takes the rest, and what it brings counts in the bound.
#[test]
fn a_line_that_is_held_at_nothing_takes_no_rest() {
    let start = || {
        let asked =
            brief().qs("kaolin").unwrap().between("stearic-acid", 0, 47).unwrap().free("coco-glucoside-50").unwrap();
        let asked = asked.between("capb-30", 3, 22).unwrap();
        asked
            .split("wash", crate::brief::SplitBasis::Active, [("coco-glucoside-50", "15"), ("capb-30", "2.1")])
            .unwrap()
    };
    let clay = Measure::constituent("KAOLIN").unwrap();
    let held = [
        start().in_stock(&["stearic-acid", "coco-glucoside-50", "capb-30"]).unwrap(),
        start().at_most(Measure::material("kaolin").unwrap(), 0).unwrap(),
        start().at_most(clay.clone(), 0).unwrap(),
        start().target(clay, 0).unwrap(),
    ];
    for asked in held {
        let answer = answered(&asked);
        assert_eq!(parts(&answer)[0], 0);
        let [departure] = answer.departures() else { panic!("{:?}", answer.departures()) };
        // The largest of the lines that can move takes the rest: coco-glucoside. Stearic acid brings nothing to the
        // split, betaine 15 times its active matter, in units of 100 times 15.
        let glucoside = active("coco-glucoside-50") * Exact::ratio(21, 10);
        let of_free = &glucoside + (active("capb-30") * Exact::from(15) + &glucoside);
        assert_eq!(departure.bound, of_free * Exact::ratio(1, 10_000) / Exact::from(1500));
        assert!(departure.departure.abs() <= departure.bound);
    }
}

/// Two limits that ask for one value are an equation, by whatever measures; one beside them, and water to keep, are
/// none.
#[test]
fn two_limits_that_ask_for_one_value_give_as_an_equation_does() {
    let start = || brief().qs("kaolin").unwrap().free("coco-glucoside-50").unwrap().free("capb-30").unwrap();
    let twice = start().at_least(Measure::water(), "22.175").unwrap().at_most(Measure::water(), "22.175").unwrap();
    let answer = answered(&twice);
    let [departure] = answer.departures() else { panic!("{:?}", answer.departures()) };
    assert!(departure.words.starts_with("water at ") && departure.departure.abs() <= departure.bound);
    let beside =
        twice.clone().at_least(Measure::active_matter(), 20).unwrap().at_most(Measure::active_matter(), 30).unwrap();
    let answer = answered(&beside);
    let rows = Rows::new(&beside, answer.proof().program(), answer.exact());
    assert_eq!(rows.rows.iter().map(|row| row.gives).collect::<Vec<_>>(), [true, true, false, false]);
    // The same in other words, and turned round; the same twice is one limit.
    let lines = crate::measure::Scope::lines(["coco-glucoside-50", "kaolin"]).unwrap();
    let betaine = crate::measure::Scope::lines(["capb-30"]).unwrap();
    let of = |scope: crate::measure::Scope| Measure::as_supplied().contributed_by(scope);
    let again = |measure: Measure| {
        crate::brief::Requirement::at_most(measure, Exact::ratio(73, 10)).unwrap().named("again").unwrap()
    };
    for (asked, gives) in [
        (start().at_most(of(betaine.clone()), "7.3").unwrap().at_most(of(lines.clone()), "92.7").unwrap(), true),
        (start().at_most(of(betaine.clone()), "7.3").unwrap().at_least(of(betaine.clone()), "7.3").unwrap(), true),
        (start().at_most(of(betaine.clone()), "7.3").unwrap().at_least(of(lines), "92.7").unwrap(), false),
        (start().at_most(of(betaine.clone()), "7.3").unwrap().require(again(of(betaine.clone()))).unwrap(), false),
        (start().at_most(of(betaine.clone()), "7.3").unwrap().at_least(of(betaine), "7.2999").unwrap(), false),
    ] {
        let answer = answered(&asked);
        let rows = Rows::new(&asked, answer.proof().program(), answer.exact());
        assert!(rows.rows.iter().all(|row| row.gives == gives), "{:?}", asked.requirements());
    }
}

/// A member of a split at the end of a range of its own, another at the end of its, and no room beside them.
#[test]
fn members_of_a_split_may_have_ranges_of_their_own() {
    let mut departed = 0;
    for tenths in 31..61 {
        let asked = brief()
            .qs("kaolin")
            .unwrap()
            .between("sci-powder", 20, 40)
            .unwrap()
            .between("scs-needles", 0, Exact::ratio(tenths, 10))
            .unwrap();
        let asked =
            asked.split("wash", crate::brief::SplitBasis::Active, [("sci-powder", 7), ("scs-needles", 1)]).unwrap();
        let asked = asked.at_most(Measure::material("kaolin").unwrap(), 0).unwrap().free("stearic-acid").unwrap();
        let answer = answered(&asked.maximise(Measure::active_matter()));
        departed += answer.departures().len();
        assert_eq!(parts(&answer)[0], 0);
    }
    assert!(departed > 5, "{departed}");
}
