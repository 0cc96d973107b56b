//! How far an answer holds: against a textbook, and by solving again just inside and just outside.

use rust_decimal::Decimal;
use tenside_lp::{Column, Optimum, Program, Row, solve};

use super::limit_tests::{SHELF, random_brief};
use super::program::{BriefProgram, NamedRow, RowName, RowUnit};
use super::sensitivity::{Cheapest, MovableLimit, movable};
use super::tests::Numbers;
use super::{Answer, Constraint, End, LimitRange, Outcome, PriceRange};
use crate::brief::{Brief, Requirement, Role};
use crate::catalogue::{Catalogue, PriceList};
use crate::document::Notation;
use crate::measure::{Measure, Scope};
use crate::number::{Exact, Ppm};

/// Wyndor: maximise 3 x + 5 y under x <= 4, 2 y <= 12, 3 x + 2 y <= 18. Shadow prices 0, 3/2, 1, valid for b1 from 2
/// on, b2 from 6 to 18, b3 from 12 to 24 (F. S. Hillier and G. J. Lieberman, Introduction to Operations Research;
/// published values from memory).
#[test]
fn the_ranges_of_wyndor() {
    let column = |cost: i64| Column { low: Some(Exact::ZERO), high: None, cost: Exact::from(-cost) };
    let named = |first: i64, second: i64, high: i64| NamedRow {
        name: RowName::Requirement { index: 0, upper: true, words: String::new() },
        unit: RowUnit { divisor: vec![Exact::ONE; 2].into(), unit: String::new() },
        row: Row {
            coefficients: vec![Exact::from(first), Exact::from(second)],
            low: None,
            high: Some(Exact::from(high)),
        },
    };
    let program =
        BriefProgram::new(vec![column(3), column(5)], vec![named(1, 0, 4), named(0, 2, 12), named(3, 2, 18)], 2)
            .unwrap();
    let outcome = solve(program.program());
    let optimum = outcome.optimum().unwrap();
    let program = program.program();
    let (one, any) = (Cheapest::of(program, optimum), Cheapest::any(program, optimum));
    assert!(matches!(one, Cheapest::One(_)));
    let number = |value: i64| Some(Exact::from(value));
    for (row, limit, price, from, to) in [
        (0, 4, Exact::ZERO, number(2), None),
        (1, 12, Exact::ratio(3, 2), number(6), number(18)),
        (2, 18, Exact::ONE, number(12), number(24)),
    ] {
        let end = MovableLimit {
            variable: 2 + row,
            constraint: Constraint::Requirement { index: 0, name: String::new(), end: End::High },
            words: String::new(),
            value: Exact::from(limit),
            unit: String::new(),
            scale: Exact::ONE,
        };
        let slope = end.slope(optimum);
        assert_eq!(-&slope, price, "row {row}");
        for cheapest in [&one, &any] {
            let moved = |upwards| {
                end.reach(program, cheapest, &slope, upwards, &crate::watch::Watched::default())
                    .unwrap()
                    .map(|change| &end.value + change)
            };
            assert_eq!((moved(false), moved(true)), (from.clone(), to.clone()), "row {row}");
        }
    }
}

fn demo() -> Brief {
    let text = include_str!("../../../../notebooks/harbour-swim-bar.toml");
    Brief::read(text, Notation::Toml, &Catalogue::starter()).unwrap()
}

/// The demo brief with one limit at another value.
fn moved(brief: &Brief, limit: &LimitRange, value: &Exact) -> Option<Brief> {
    for (index, line) in brief.lines().iter().enumerate() {
        let to = Ppm::from_percent(value).ok();
        let (low, high) = line.role().range();
        let base = format!("line {} {}", line.name(), line.role().words());
        let role = match line.role() {
            Role::Fixed(_) if limit.words == base => Role::Fixed(to?),
            Role::Between(..) if limit.words == format!("low end of {base}") => Role::between(to?, high).ok()?,
            Role::Between(..) if limit.words == format!("high end of {base}") => Role::between(low, to?).ok()?,
            _ => continue,
        };
        return Some(brief.with_role(index, role));
    }
    let index = brief.requirements().iter().position(|requirement| requirement.words() == limit.words)?;
    let requirement = &brief.requirements()[index];
    let measure = requirement.measure().clone();
    let new = match (requirement.low(), requirement.high()) {
        (Some(low), Some(high)) if low == high => Requirement::equal(measure, value.clone()).unwrap(),
        (None, _) => Requirement::at_most(measure, value.clone()).unwrap(),
        _ => Requirement::at_least(measure, value.clone()).unwrap(),
    };
    brief.relaxed_requirement(index, requirement.low().is_none()).require(new).ok()
}

fn objective(brief: &Brief) -> Option<Exact> {
    match brief.try_solve().unwrap() {
        Outcome::Answered(answer) => answer.objective().cloned(),
        Outcome::Conflict(_) => None,
    }
}

#[test]
fn limits_hold_just_inside_and_not_just_outside() {
    let brief = demo();
    let answer = brief.solve().unwrap();
    let best = answer.objective().cloned().unwrap();
    let (mut inside, mut outside) = (0, 0);
    for limit in answer.limit_ranges().unwrap() {
        assert!(
            limit.from.as_ref().is_none_or(|from| *from <= limit.value)
                && limit.to.as_ref().is_none_or(|to| limit.value <= *to),
            "{}",
            limit.sentence()
        );
        let expected = |value: &Exact| &best + (value - &limit.value) * &limit.price;
        for (end, step) in [(&limit.from, Exact::ratio(1, 10_000)), (&limit.to, Exact::ratio(-1, 10_000))] {
            let Some(end) = end else { continue };
            // On the grid of lines, a step inwards and a step outwards.
            let grid = end.rounded_to(&Exact::ratio(1, 10_000), crate::number::HalfWay::ToEven);
            let (within, beyond) = (&grid + &step + &step, &grid - &step - &step);
            let still_inside = limit.from.as_ref().is_none_or(|from| *from <= within)
                && limit.to.as_ref().is_none_or(|to| within <= *to);
            if let Some(changed) = moved(&brief, &limit, &within).filter(|_| still_inside) {
                inside += 1;
                assert_eq!(objective(&changed), Some(expected(&within)), "{} inside at {within}", limit.sentence());
            }
            if let Some(changed) = moved(&brief, &limit, &beyond) {
                outside += 1;
                assert_ne!(objective(&changed), Some(expected(&beyond)), "{} outside at {beyond}", limit.sentence());
            }
        }
    }
    assert!(inside > 20 && outside > 15, "{inside} inside, {outside} outside");
}

#[test]
fn prices_keep_the_recipe_just_inside_and_not_just_outside() {
    let brief = demo();
    let answer = brief.solve().unwrap();
    let prices = brief.prices().unwrap();
    let solved_with = |id: &str, price: &Exact| -> Answer {
        let changed = prices
            .iter()
            .map(|(known, old)| (known.to_string(), if known == id { price.to_decimal().unwrap() } else { old }));
        brief.clone().with_prices(&PriceList::new("EUR", changed).unwrap()).unwrap().solve().unwrap()
    };
    let mut tried = 0;
    for range in answer.price_ranges().unwrap() {
        for (end, inwards) in [(&range.from, Exact::ratio(1, 1000)), (&range.to, Exact::ratio(-1, 1000))] {
            let Some(end) = end else { continue };
            let end = end.rounded_to(&Exact::ratio(1, 1000), crate::number::HalfWay::ToEven);
            if Decimal::try_from(end.to_f64()).is_err() || end.abs() > Exact::from(100_000) {
                continue;
            }
            tried += 1;
            assert_eq!(
                solved_with(&range.material, &(&end + &inwards + &inwards)).exact(),
                answer.exact(),
                "{} inside",
                range.sentence()
            );
            assert_ne!(
                solved_with(&range.material, &(&end - &inwards - &inwards)).exact(),
                answer.exact(),
                "{} outside",
                range.sentence()
            );
        }
    }
    assert!(tried > 3, "{tried}");
}

#[test]
fn a_range_says_its_ends_with_their_unit() {
    let range = |from: Option<i64>, to: Option<i64>| PriceRange {
        material: "clay".to_string(),
        price: Exact::from(2),
        currency: "EUR".to_string(),
        from: from.map(Exact::from),
        to: to.map(Exact::from),
    };
    for (from, to, end) in [
        (Some(1), Some(3), "from 1.0000 to 3.0000 EUR per kg"),
        (Some(1), None, "from 1.0000 EUR per kg on"),
        (None, Some(3), "up to 3.0000 EUR per kg"),
        (None, None, "at any price"),
    ] {
        assert_eq!(range(from, to).sentence(), format!("clay at 2 EUR per kg: the same recipe {end}"));
    }
}

#[test]
fn a_price_below_a_hundredth_is_not_shown_as_nothing() {
    let limit = |price: Exact| LimitRange {
        constraint: Constraint::Requirement { index: 0, name: "it".to_string(), end: End::High },
        words: "water at most 5 %".to_string(),
        value: Exact::from(5),
        unit: "%".to_string(),
        objective: "cost".to_string(),
        price,
        price_unit: "EUR per kg".to_string(),
        from: None,
        to: None,
    };
    for (price, said) in [
        (Exact::ratio(1, 100), "costs 0.0100 EUR"),
        (Exact::ratio(-1, 100), "saves 0.0100 EUR"),
        (Exact::ratio(1, 128_000), "costs 0.00000781 EUR"),
    ] {
        let sentence = limit(price).sentence();
        assert!(sentence.contains(said), "{sentence}");
    }
}

/// Either end of a range is a limit of its own. A ratio whose denominator varies is none that moves along a line, nor
/// is what is asked for every composition.
#[test]
fn both_ends_of_a_range_and_no_limit_that_is_not_linear() {
    let active = Measure::active_matter;
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .free("sci-powder")
        .unwrap()
        .free("capb-30")
        .unwrap()
        .qs("kaolin")
        .unwrap();
    let brief = brief.require(Requirement::between(active(), Exact::from(40), Exact::from(45)).unwrap()).unwrap();
    let linear = brief.clone().minimise(active()).solve().unwrap().limit_ranges().unwrap();
    let brief = brief
        .at_most(Measure::water().per(&active()), 2)
        .unwrap()
        .require(Requirement::at_least(active(), Exact::from(30)).unwrap().for_every_composition())
        .unwrap();
    let ranges = brief.minimise(active()).solve().unwrap().limit_ranges().unwrap();
    assert_eq!(ranges.len(), linear.len());
    for ranges in [linear, ranges] {
        let ends: Vec<(Exact, Exact)> = ranges.into_iter().map(|range| (range.value, range.price)).collect();
        assert_eq!(ends, [(Exact::from(40), Exact::ONE), (Exact::from(45), Exact::ZERO)]);
    }
}

/// The column of the least cost, last in this program.
fn last(columns: Vec<Column>, rows: Vec<Row>, upwards: bool) -> Option<Exact> {
    let moved = Column { low: None, high: None, cost: if upwards { Exact::from(-1) } else { Exact::ONE } };
    let program = Program::new(columns.into_iter().chain([moved]).collect(), rows).unwrap();
    solve(&program).optimum().and_then(|optimum| optimum.values.last().cloned())
}

/// `{ t : some x meets the moved requirements with c . x <= v(0) + s t }`, as one program in the lines and the move.
fn reach_by_definition(end: &MovableLimit, program: &Program, optimum: &Optimum, upwards: bool) -> Option<Exact> {
    let mut columns: Vec<Column> =
        program.columns().iter().map(|column| Column { cost: Exact::ZERO, ..column.clone() }).collect();
    let mut rows: Vec<Row> = program.rows().to_vec();
    let line = end.variable;
    let target = match line.checked_sub(columns.len()) {
        Some(row) => row,
        None => {
            let mut coefficients = vec![Exact::ZERO; columns.len()];
            coefficients[line] = Exact::ONE;
            let (low, high) = (columns[line].low.replace(Exact::ZERO), columns[line].high.replace(Exact::hundred()));
            rows.push(Row { coefficients, low, high });
            rows.len() - 1
        }
    };
    rows.iter_mut().for_each(|row| row.coefficients.push(Exact::ZERO));
    let mut other = rows[target].clone();
    rows[target].coefficients[columns.len()] = -&end.scale;
    match end.constraint.end() {
        End::Low => (rows[target].high, other.low) = (None, None),
        End::High => (rows[target].low, other.high) = (None, None),
        End::Both => (other.low, other.high) = (None, None),
    }
    let mut cost: Vec<Exact> = program.columns().iter().map(|column| column.cost.clone()).collect();
    cost.push(-end.slope(optimum));
    rows.extend([other, Row { coefficients: cost, low: None, high: Some(optimum.objective.clone()) }]);
    last(columns, rows, upwards)
}

/// The greatest change of the costs along `weights` for which some multipliers fit the point: columns are the
/// multipliers, rows the lines.
fn price_by_definition(program: &Program, optimum: &Optimum, weights: &[Exact], upwards: bool) -> Option<Exact> {
    let side = |at_low: bool, at_high: bool| ((!at_high).then_some(Exact::ZERO), (!at_low).then_some(Exact::ZERO));
    let ends = |low: &Option<Exact>, high: &Option<Exact>, value: &Exact| {
        side(low.as_ref() == Some(value), high.as_ref() == Some(value))
    };
    let columns = program.rows().iter().map(|row| {
        let activity: Exact =
            row.coefficients.iter().zip(&optimum.values).map(|(coefficient, value)| coefficient * value).sum();
        let (low, high) = ends(&row.low, &row.high, &activity);
        Column { low, high, cost: Exact::ZERO }
    });
    let rows = program.columns().iter().enumerate().map(|(index, column)| {
        let (low, high) = ends(&column.low, &column.high, &optimum.values[index]);
        let coefficients =
            program.rows().iter().map(|row| -&row.coefficients[index]).chain([weights[index].clone()]).collect();
        Row { coefficients, low: low.map(|end| end - &column.cost), high: high.map(|end| end - &column.cost) }
    });
    last(columns.collect(), rows.collect(), upwards)
}

/// 44.05 % at 6, 10 % at 3 and 45.95 % at 2 cost 3.8619 EUR per kg, of which a budget of 4 leaves 0.1381.
#[test]
fn a_budget_ends_the_range_of_a_price() {
    let prices = |powder: &Exact| {
        let powder = powder.to_decimal().unwrap();
        PriceList::new("EUR", [("sci-powder", powder), ("capb-30", 3.into()), ("kaolin", 2.into())]).unwrap()
    };
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().with_prices(&prices(&Exact::from(6))).unwrap();
    let brief = brief.between("sci-powder", 20, 80).unwrap().fix("capb-30", 10).unwrap().qs("kaolin").unwrap();
    let brief = brief.at_least(Measure::active_matter(), 40).unwrap();
    let open = brief.clone().minimise(Measure::cost());
    let bound = open.clone().at_most(Measure::cost(), 4).unwrap();
    let answer = bound.solve().unwrap();
    let (free, ranges) = (open.solve().unwrap().price_ranges().unwrap(), answer.price_ranges().unwrap());
    assert!(free.iter().all(|range| range.to.is_none() || range.material == "kaolin"));
    for (range, free) in ranges.iter().zip(&free) {
        assert_eq!(range.from, free.from, "{}", range.material);
        let share = answer.exact_percent(&range.material).unwrap() / Exact::hundred();
        let end = &range.price + (Exact::from(4) - answer.objective().unwrap()) / share;
        assert_eq!(range.to.as_ref(), Some(&end), "{}", range.material);
    }
    let end = ranges[0].to.as_ref().unwrap().rounded_to(&Exact::ratio(1, 1000), crate::number::HalfWay::ToEven);
    let at = |price: Exact| bound.clone().with_prices(&prices(&price)).unwrap().try_solve().unwrap();
    let Outcome::Answered(inside) = at(&end - Exact::ratio(1, 1000)) else { panic!("inside the range") };
    assert_eq!(inside.exact(), answer.exact());
    assert!(matches!(at(&end + Exact::ratio(1, 1000)), Outcome::Conflict(_)));
    // As dear as the budget allows.
    let spent = open.clone().at_most(Measure::cost(), answer.objective().unwrap()).unwrap().solve().unwrap();
    for range in spent.price_ranges().unwrap() {
        assert_eq!(range.to, Some(range.price), "{}", range.material);
    }
    // Upside down: a formula that is to cost much, and no less than so much.
    let dear = brief.clone().maximise(Measure::cost()).at_least(Measure::cost(), 4).unwrap().solve().unwrap();
    let range = &dear.price_ranges().unwrap()[0];
    let share = dear.exact_percent("sci-powder").unwrap() / Exact::hundred();
    assert_eq!(range.from, Some(Exact::from(6) - (dear.objective().unwrap() - Exact::from(4)) / share));
    // Where the limit takes away what would be better, or is on something else that rests on prices, nothing is said.
    let per_active = Measure::cost().per(&Measure::active_matter());
    for other in [
        brief.clone().maximise(Measure::cost()).at_most(Measure::cost(), 4),
        open.clone().at_least(Measure::cost(), 3),
        open.clone().at_most(per_active, 20),
        open.clone().at_most(Measure::cost().contributed_by(Scope::lines(["sci-powder"]).unwrap()), 3),
    ] {
        let error = other.unwrap().solve().unwrap().price_ranges().unwrap_err();
        assert!(error.is_unsupported() && error.to_string().contains("rests on prices"), "{error}");
    }
}

/// Whole percentages and few prices make most of these degenerate.
#[test]
fn every_range_is_what_its_definition_says() {
    let (mut limits, mut prices, mut points) = (0, 0, 0);
    for seed in 0..BRIEFS {
        let brief = random_brief(seed);
        let mut numbers = Numbers(seed + 1);
        let costs = SHELF.map(|line| (line.to_string(), Decimal::from(numbers.below(4))));
        let cheap = brief
            .clone()
            .with_objective(None)
            .with_prices(&PriceList::new("EUR", costs.clone()).unwrap())
            .unwrap()
            .minimise(Measure::cost());
        for brief in [brief, cheap.clone()] {
            let Outcome::Answered(answer) = brief.try_solve().unwrap() else { continue };
            let (program, optimum) = (answer.proof().program(), answer.proof().outcome().optimum().unwrap());
            let ranges = answer.limit_ranges().unwrap();
            for (end, range) in movable(&brief, program).into_iter().zip(&ranges) {
                let expected = [false, true].map(|upwards| {
                    reach_by_definition(&end, program.program(), optimum, upwards).map(|change| change + &end.value)
                });
                assert_eq!([range.from.clone(), range.to.clone()], expected, "{}: {brief:?}", range.words);
                limits += 1;
                points +=
                    usize::from(range.from.as_ref() == Some(&range.value) || range.to.as_ref() == Some(&range.value));
            }
        }
        let Outcome::Answered(answer) = cheap.try_solve().unwrap() else { continue };
        let (program, optimum) = (answer.proof().program().program(), answer.proof().outcome().optimum().unwrap());
        for range in answer.price_ranges().unwrap() {
            let weights: Vec<Exact> = SHELF
                .iter()
                .map(|line| if *line == range.material { Exact::ratio(1, 100) } else { Exact::ZERO })
                .collect();
            let reach = |upwards: bool| {
                price_by_definition(program, optimum, &weights, upwards).map(|change| change + &range.price)
            };
            assert_eq!(range.from, reach(false).filter(|from| !from.is_negative()), "{}: {cheap:?}", range.material);
            assert_eq!(
                range.to,
                reach(true).filter(|to| *to <= Exact::from(1_000_000)),
                "{}: {cheap:?}",
                range.material
            );
            prices += 1;
        }
    }
    assert!(limits > 3 * BRIEFS && prices > BRIEFS && points > 100, "{limits} {prices} {points}");
}

const BRIEFS: u64 = 1000;

/// What is shown of a range lies inside it.
#[test]
fn ends_are_rounded_inwards() {
    let (from, to) = (Some(Exact::ratio(4_880_645, 1_000_000)), Some(Exact::ratio(40, 3)));
    let said = super::sensitivity::span(&from, &to, "EUR per kg", "at any price");
    assert_eq!(said, "from 4.8807 to 13.3333 EUR per kg");
}
