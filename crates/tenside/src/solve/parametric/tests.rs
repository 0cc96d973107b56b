//! Parametric programs and their regions against the same briefs compiled and solved at every point.

use rust_decimal::Decimal;
use tenside_lp::{Column, Program, solve};

use super::{CriticalRegion, Direction, Form, NamedBasis, ParametricProgram, Span, conflict_region, optimal_region};
use crate::brief::{Brief, Parameter, Requirement, SplitBasis};
use crate::catalogue::{Catalogue, PriceList};
use crate::formula::{Formula, Line};
use crate::measure::{Basis, Measure, Scope};
use crate::number::{Exact, Ppm};
use crate::solve::member::{members, only};
use crate::solve::objective::{Asked, beyond_cost};
use crate::solve::program::{BriefProgram, frame};
use crate::solve::{Constraint, Limit, Outcome, Point, solve_point};

/// Three surfactants, two fats, water and clay; invented prices.
fn bar() -> Brief {
    let of = [
        ("sci-powder", 52),
        ("scs-needles", 38),
        ("capb-30", 19),
        ("kaolin", 11),
        ("cetyl-alcohol", 41),
        ("stearic-acid", 23),
        ("panthenol", 230),
    ];
    let prices = of.into_iter().chain([("water", 1)]).map(|(id, tenths)| (id.to_string(), Decimal::new(tenths, 1)));
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .with_prices(&PriceList::new("EUR", prices.collect::<Vec<_>>()).unwrap())
        .unwrap();
    let brief =
        brief.split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)]).unwrap();
    let brief = brief
        .fix("panthenol", "1.5")
        .unwrap()
        .between("cetyl-alcohol", 3, 9)
        .unwrap()
        .between("stearic-acid", 1, 12)
        .unwrap();
    let brief = brief.free("water").unwrap().qs("kaolin").unwrap();
    let brief = brief
        .require(Requirement::at_least(Measure::active_matter(), Exact::from(40)).unwrap().named("strong").unwrap())
        .unwrap();
    let brief = brief
        .require(Requirement::at_most(Measure::active_matter(), Exact::from(58)).unwrap().named("mild").unwrap())
        .unwrap();
    brief.require(Requirement::at_most(Measure::water(), Exact::from(9)).unwrap().named("dry").unwrap()).unwrap()
}

fn dear(brief: Brief) -> Brief {
    let dear = Requirement::at_most(Measure::cost().per(&Measure::active_matter()), Exact::from(8))
        .unwrap()
        .named("dear")
        .unwrap();
    brief.require(dear).unwrap()
}

/// A finished basis, so that some water has to be charged.
fn finished(brief: Brief, keeps: i64) -> Brief {
    let basis = Basis::finished(Exact::from(keeps)).unwrap();
    brief
        .require(
            Requirement::at_least(Measure::active_matter(), Exact::from(30))
                .unwrap()
                .on(basis)
                .named("washes")
                .unwrap(),
        )
        .unwrap()
}

/// A limit on cost per active matter: what a powder does to its row is turned round where the limit is beyond what the
/// powder itself costs.
fn per_active(powder: &str, more: &[&str]) -> Brief {
    let prices = [("sci-powder", 2), ("scs-needles", 4), ("kaolin", 1), ("panthenol", 0)]
        .map(|(id, price)| (id.to_string(), Decimal::from(price)));
    let mut brief = Brief::new("Value", &Catalogue::starter())
        .unwrap()
        .with_prices(&PriceList::new("EUR", prices).unwrap())
        .unwrap();
    brief = brief.between(powder, 10, 90).unwrap();
    for line in more {
        brief = brief.between(line, 5, 40).unwrap();
    }
    let dear = Requirement::at_most(Measure::cost().per(&Measure::active_matter()), Exact::ONE)
        .unwrap()
        .named("dear")
        .unwrap();
    brief.fix("panthenol", 1).unwrap().qs("kaolin").unwrap().require(dear).unwrap()
}

/// The formula that a least change starts from, with a line that the brief has no more.
fn base() -> Formula {
    let catalogue = Catalogue::starter();
    let lines = [("sci-powder", 40), ("cetyl-alcohol", 10), ("kaolin", 30), ("glycerin-86", 7), ("water", 13)];
    let line = |(id, percent): (&str, i64)| {
        Line::new(id, catalogue.material(id).unwrap().clone(), Ppm::from_percent(percent).unwrap())
    };
    Formula::new("Base", lines.into_iter().map(|line_| line(line_).unwrap()).collect()).unwrap()
}

fn parameter(word: &str) -> Parameter {
    match word {
        "capb-30" | "scs-needles" | "sci-powder" => Parameter::part("wash", word),
        "panthenol" => Parameter::Fixed(word.to_string()),
        "most cetyl" => Parameter::Highest("cetyl-alcohol".to_string()),
        "least stearic" => Parameter::Lowest("stearic-acid".to_string()),
        "strong" | "washes" => Parameter::AtLeast(word.to_string()),
        "mild" | "dry" | "dear" => Parameter::AtMost(word.to_string()),
        _ => Parameter::Price(word.to_string()),
    }
}

/// A brief along some parameters.
struct Case {
    brief: Brief,
    parameters: Vec<(Parameter, Exact)>,
    program: ParametricProgram,
}

impl Case {
    /// `None` if it is no parametric program.
    fn new(brief: &Brief, words: &[(&str, Exact)]) -> Option<Self> {
        let parameters: Vec<(Parameter, Exact)> =
            words.iter().map(|(word, _)| (parameter(word), brief.parameter_value(&parameter(word)).unwrap())).collect();
        let directions: Vec<Direction> =
            parameters.iter().map(|(parameter, _)| vec![(parameter.clone(), Exact::ONE)]).collect();
        let program = ParametricProgram::new(brief, &directions).unwrap()?;
        Some(Case { brief: brief.clone(), parameters, program })
    }

    fn at(&self, offsets: &[Exact]) -> Brief {
        moved(&self.brief, &self.parameters, offsets).unwrap()
    }

    /// From each point, boxes that lead to other points; at a corner of one the matrix of a basis may be singular.
    fn spans(here: &[Exact], step: &[Exact]) -> Vec<Span> {
        [1, -1, 2]
            .map(|steps| {
                here.iter().zip(step).map(|(here, step)| (here.clone(), here + step * Exact::from(steps))).collect()
            })
            .to_vec()
    }
}

fn moved(brief: &Brief, parameters: &[(Parameter, Exact)], offsets: &[Exact]) -> Option<Brief> {
    let set = |brief: Brief, ((parameter, start), offset): (&(Parameter, Exact), &Exact)| {
        brief.with_parameter(parameter, &(start + offset)).ok()
    };
    parameters.iter().zip(offsets).try_fold(brief.clone(), set)
}

/// With split columns, whose ends follow from the rest.
fn compiled(brief: &Brief) -> BriefProgram {
    let Asked::Program(program) = Asked::of(brief, frame(brief).unwrap()).unwrap() else { panic!("it takes several") };
    program.with_split_columns(brief).unwrap()
}

fn opened(program: &Program, splits: usize) -> Program {
    let first = program.columns().len() - splits;
    let open = |(index, column): (usize, &Column)| {
        if index < first { column.clone() } else { Column { high: None, ..column.clone() } }
    };
    Program::new(program.columns().iter().enumerate().map(open).collect(), program.rows().to_vec()).unwrap()
}

fn value(form: &Form, offsets: &[Exact]) -> Exact {
    let product = |mask: usize| {
        offsets
            .iter()
            .enumerate()
            .filter(|(parameter, _)| mask >> parameter & 1 == 1)
            .fold(Exact::ONE, |product, (_, offset)| product * offset)
    };
    form.iter().enumerate().map(|(mask, coefficient)| coefficient * product(mask)).sum()
}

fn holds(region: &CriticalRegion, offsets: &[Exact]) -> bool {
    region.strict.iter().all(|form| value(form, offsets).is_positive())
        && region.slacks.iter().all(|(form, _)| !value(form, offsets).is_negative())
}

fn sorted(mut limits: Vec<Limit>) -> Vec<Limit> {
    limits.sort();
    limits.dedup();
    limits
}

/// What a region says at a point where its conditions hold, against the point solved by itself.
fn agrees(case: &Case, region: &CriticalRegion, offsets: &[Exact], point: &Point, codes: bool) {
    match point {
        Point::Conflict(limits) => {
            assert!(region.is_conflict);
            assert!(
                !codes || sorted(region.limits.clone()) == sorted(limits.clone()),
                "{:?} and {limits:?}",
                region.limits
            );
        }
        Point::Solved { values, objective, binding } => {
            assert!(!region.is_conflict);
            let below = value(&region.denominator, offsets);
            for (line, exact) in region.lines.iter().zip(values) {
                assert_eq!(value(line, offsets), exact * &below);
            }
            let brief = case.at(offsets);
            let cost = value(&region.cost, offsets) / &below;
            assert_eq!(solve(compiled(&brief).program()).optimum().unwrap().objective, cost);
            if let Some(objective) = objective {
                // What is maximised costs less the more there is of it.
                let sign = if brief.objective().unwrap().words().starts_with("maximise") {
                    Exact::from(-1)
                } else {
                    Exact::ONE
                };
                assert_eq!((cost + beyond_cost(&brief)) * sign, *objective);
            }
            let touched =
                region.slacks.iter().filter(|(form, _)| value(form, offsets).is_zero()).filter_map(|(_, limit)| *limit);
            assert_eq!(sorted(region.limits.iter().copied().chain(touched).collect()), sorted(binding.clone()));
            for (slack, limit) in &region.slacks {
                let (Some(Limit::Low(line)) | Some(Limit::High(line))) = limit else { continue };
                let (low, high) = brief.lines()[*line].role().range();
                let distance = if *limit == Some(Limit::Low(*line)) {
                    &values[*line] - low.percent()
                } else {
                    high.percent() - &values[*line]
                };
                assert_eq!(value(slack, offsets), distance * &below);
            }
        }
    }
}

#[derive(Debug, Default)]
struct Found {
    solved: usize,
    solved_by_own: usize,
    by_others: usize,
    refused: usize,
    conflicts: usize,
    with_water: usize,
}

fn compare(case: &Case, steps: &[Exact], found: &mut Found) {
    let count = 4usize;
    let points: Vec<(Vec<Exact>, Point)> = (0..count.pow(u32::try_from(steps.len()).unwrap()))
        .filter_map(|code| {
            let place = |parameter: usize| {
                i64::try_from(code / count.pow(u32::try_from(parameter).unwrap()) % count).unwrap() - 1
            };
            let offsets: Vec<Exact> =
                steps.iter().enumerate().map(|(parameter, step)| step * Exact::from(place(parameter))).collect();
            // Some parameters do not go so far.
            let point = solve_point(&moved(&case.brief, &case.parameters, &offsets)?).unwrap();
            Some((offsets, point))
        })
        .collect();
    let mut regions: Vec<(CriticalRegion, bool)> = Vec::new();
    for (offsets, point) in &points {
        let brief = case.at(offsets);
        let named = NamedBasis::at(&case.program, offsets).unwrap();
        let spans = Case::spans(offsets, steps);
        let of_conflict =
            |codes: bool| spans.iter().find_map(|span| conflict_region(&brief, &case.program, span, codes).unwrap());
        match point {
            Point::Solved { .. } => {
                assert!(named.is_optimal());
                assert!(
                    of_conflict(true).is_none() && of_conflict(false).is_none(),
                    "there is a formula at {offsets:?}"
                );
                found.solved += 1;
                let Some(region) =
                    spans.iter().find_map(|span| optimal_region(&case.brief, &case.program, &named, span))
                else {
                    continue;
                };
                assert_eq!(value(&region.denominator, offsets), Exact::ONE);
                found.solved_by_own += usize::from(holds(&region, offsets));
                regions.push((region, true));
            }
            Point::Conflict(_) => {
                assert!(!named.is_optimal());
                assert!(optimal_region(&case.brief, &case.program, &named, &spans[0]).is_none());
                found.refused += 1;
                let plain = of_conflict(false).expect("a conflict without reasons is a region");
                assert!(holds(&plain, offsets));
                assert_eq!(value(&plain.strict[0], offsets), Exact::ONE);
                regions.push((plain, false));
                let Outcome::Conflict(conflict) = brief.try_solve().unwrap() else {
                    panic!("a point is what the brief is")
                };
                let of_water = conflict.constraints().iter().any(|one| matches!(one, Constraint::WaterToKeep { .. }));
                let region = of_conflict(true).unwrap_or_else(|| panic!("{conflict} at {offsets:?}"));
                found.conflicts += usize::from(holds(&region, offsets));
                found.with_water += usize::from(of_water);
                regions.push((region, true));
            }
        }
    }
    for (region, codes) in &regions {
        for (offsets, point) in points.iter().filter(|(offsets, _)| holds(region, offsets)) {
            agrees(case, region, offsets, point, *codes);
            found.by_others += 1;
        }
    }
}

#[test]
fn where_the_conditions_of_a_region_hold_it_is_the_answer() {
    let pair = |first: &'static str, step: Exact, second: &'static str, other: i64| {
        vec![(first, step), (second, Exact::from(other))]
    };
    let half = Exact::ratio(1, 2);
    let cheap = bar().minimise(Measure::cost());
    let cases = [
        (cheap.clone(), pair("capb-30", half.clone(), "dry", 7)),
        (cheap.clone(), pair("most cetyl", half.clone(), "strong", 15)),
        (cheap.clone(), pair("strong", Exact::from(16), "dry", 4)),
        (cheap.clone(), pair("kaolin", half.clone(), "panthenol", 3)),
        (cheap.clone(), vec![("mild", Exact::from(20))]),
        (dear(cheap.clone()), pair("dear", Exact::from(2), "dry", 4)),
        (bar().maximise(Measure::active_matter()), pair("least stearic", half.clone(), "capb-30", 3)),
        (bar(), pair("scs-needles", half.clone(), "strong", 11)),
        (bar().least_change_from(&base()), pair("capb-30", half.clone(), "mild", 12)),
        (finished(cheap.clone(), 8), pair("washes", Exact::from(13), "dry", 3)),
        (per_active("sci-powder", &[]).minimise(Measure::water()), vec![("dear", Exact::ONE)]),
        // Nothing to choose by but the order of the lines.
        (
            per_active("sci-powder", &["scs-needles"])
                .minimise(Measure::as_supplied().contributed_by(Scope::lines(["panthenol"]).unwrap())),
            vec![("dear", Exact::from(2))],
        ),
        (finished(cheap, 3), pair("most cetyl", half, "dry", 7)),
    ];
    let mut found = Found::default();
    for (brief, words) in &cases {
        let case = Case::new(brief, words).unwrap_or_else(|| panic!("{words:?} move along lines"));
        let steps: Vec<Exact> = words.iter().map(|(_, step)| step.clone()).collect();
        compare(&case, &steps, &mut found);
    }
    assert!(found.solved > 60 && found.solved_by_own == found.solved, "{found:?}");
    assert!(found.by_others > 4 * (found.solved + found.refused), "{found:?}");
    assert!(found.refused > 30 && found.conflicts == found.refused && found.with_water > 2, "{found:?}");
}

#[test]
fn a_parametric_program_is_the_brief_compiled_at_every_point() {
    let number = |tenths: i64| Exact::ratio(tenths, 10);
    let objectives = [
        bar().minimise(Measure::cost()),
        bar().maximise(Measure::active_matter()),
        bar(),
        bar().least_change_from(&base()),
    ];
    for (kind, brief) in objectives.iter().enumerate() {
        let brief = finished(dear(brief.clone()), 4);
        // Without objective a range is the middle of something too, so that its ends move two rows and a column.
        let ranges: &[&str] = if kind == 2 { &[] } else { &["most cetyl", "least stearic"] };
        // Prices move the row of what is dear.
        let words = ["capb-30", "sci-powder", "panthenol", "strong", "dear", "kaolin", "washes", "dry"].into_iter();
        let steps: Vec<(&str, Exact)> =
            words.clone().chain(ranges.iter().copied()).map(|word| (word, number(5))).collect();
        assert!(Case::new(&brief, &steps).is_none());
        let brief = brief.drop_requirement("dear").unwrap();
        let steps: Vec<(&str, Exact)> = steps.into_iter().filter(|(word, _)| *word != "dear").collect();
        let case = Case::new(&brief, &steps).expect("each moves one thing");
        assert_eq!(case.program.lines(), brief.lines().len());
        for (place, (word, _)) in steps.iter().enumerate() {
            assert_eq!(case.program.moves_only_costs(place), *word == "kaolin", "{word} with objective {kind}");
        }
        for turn in 0..6i64 {
            let offsets: Vec<Exact> =
                (0..steps.len()).map(|place| number((turn * 3 + i64::try_from(place).unwrap() * 7) % 10 - 4)).collect();
            let brief = case.at(&offsets);
            let program = compiled(&brief);
            let splits = brief.splits().len();
            assert_eq!(case.program.at(&offsets), opened(program.program(), splits), "{offsets:?}");
            let all = members(&brief, &program);
            let some =
                all.iter().copied().enumerate().filter(|(place, _)| place % 3 != usize::try_from(turn % 3).unwrap());
            let some: Vec<Limit> = some.map(|(_, member)| member).collect();
            for kept in [some, all, Vec::new()] {
                let expected = opened(&only(&program, &kept), splits);
                let columns =
                    expected.columns().iter().map(|column| Column { cost: Exact::ZERO, ..column.clone() }).collect();
                let expected = Program::new(columns, expected.rows().to_vec()).unwrap();
                assert_eq!(case.program.only(&kept).at(&offsets), expected);
            }
        }
    }
}

#[test]
fn parts_that_trade_with_each_other_are_one_direction() {
    let brief = bar().minimise(Measure::cost());
    let part = |line: &str, rate: i64| (Parameter::part("wash", line), Exact::from(rate));
    let directions =
        vec![vec![part("sci-powder", 1), part("capb-30", -1)], vec![part("scs-needles", 1), part("capb-30", -1)]];
    let program = ParametricProgram::new(&brief, &directions).unwrap().expect("they stand in one column");
    // A part of 0 as well: its line is then 0.
    for (first, second) in [(2, 1), (-3, 4), (-14, 3), (1, 0), (-14, 15)] {
        let parts = [14 + first, 5 + second, 1 - first - second].map(Exact::from);
        let turned = brief.with_parts(0, &parts);
        assert_eq!(program.at(&[first, second].map(Exact::from)), opened(compiled(&turned).program(), 1));
    }
}

#[test]
fn what_does_not_move_along_a_line_is_no_direction() {
    let cheap = bar().minimise(Measure::cost());
    let step = Exact::ONE;
    assert!(Case::new(&cheap, &[("sci-powder", step.clone())]).is_some());
    assert!(Case::new(&bar(), &[("most cetyl", step.clone())]).is_none());
    assert!(Case::new(&cheap.clone().least_squares_from(&base()), &[("dry", step.clone())]).is_none());
    let unknown = vec![vec![(Parameter::part("wash", "kaolin"), Exact::ONE)]];
    assert!(ParametricProgram::new(&cheap, &unknown).is_err());
}

#[test]
fn what_a_least_change_loses_with_a_line_is_beyond_its_cost() {
    assert_eq!(beyond_cost(&bar().least_change_from(&base())), Exact::from(7));
    assert!(beyond_cost(&bar()).is_zero() && beyond_cost(&bar().minimise(Measure::cost())).is_zero());
}
