//! The filter against exact arithmetic, and the search on programs that lead others astray.

use super::dual::{Ended, pivot_to_end};
use super::ends::Whereabouts;
use super::filter::{Room, is_feasible};
use super::tableau::{Side, Tableau};
use super::*;
use crate::exact::Exact;
use crate::linear::{Column, Outcome, Row, solve_exactly, solve_on_path, verify};

/// Numbers without pattern, the same everywhere (the linear congruence of Knuth's MMIX, from memory, high bits).
pub(crate) struct Numbers(pub(crate) u64);

impl Numbers {
    pub(crate) fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }

    /// A share with up to `digits` decimals, in -1 to 1, or with a denominator of three digits.
    pub(crate) fn share(&mut self) -> Exact {
        let sign = if self.below(4) == 0 { -1 } else { 1 };
        match self.below(4) {
            0 => Exact::from(sign),
            1 => Exact::ratio(sign * self.below(1000) as i64, 1000),
            2 => Exact::ratio(sign * self.below(100) as i64, 1 + self.below(900) as i64),
            _ => Exact::ratio(sign * self.below(1_000_000_007) as i64, 1_000_000_007),
        }
    }
}

/// A program of boxed columns; with `tight`, many rows stand exactly at an end of what the columns reach.
pub(crate) fn program(numbers: &mut Numbers, most_columns: u64, most_rows: u64) -> Program {
    let (columns, rows) = (2 + numbers.below(most_columns - 1) as usize, 1 + numbers.below(most_rows) as usize);
    let (tight, few) = (numbers.below(3) == 0, numbers.below(2) == 0);
    let columns: Vec<Column> = (0..columns)
        .map(|_| {
            let low = if tight { 0 } else { numbers.below(5) as i64 };
            let high = low + numbers.below(60) as i64;
            let cost = if tight { Exact::from(numbers.below(3) as i64) } else { numbers.share() };
            Column { low: Some(Exact::ratio(low, 10)), high: Some(Exact::from(high)), cost }
        })
        .collect();
    let middle: Vec<Exact> = columns
        .iter()
        .map(|column| (column.low.clone().unwrap() + column.high.clone().unwrap()) / Exact::from(3))
        .collect();
    let rows = (0..rows)
        .map(|index| {
            let coefficients: Vec<Exact> = (0..columns.len())
                .map(|_| match (index, few && numbers.below(3) > 0) {
                    (0, _) => Exact::ONE,
                    (_, true) => Exact::ZERO,
                    _ if tight => Exact::from(numbers.below(3) as i64 - 1),
                    _ => numbers.share(),
                })
                .collect();
            let activity: Exact =
                coefficients.iter().zip(&middle).map(|(coefficient, value)| coefficient * value).sum();
            let room = Exact::ratio(numbers.below(400) as i64 - 20, 100);
            let (low, high) = match numbers.below(4) {
                0 => (Some(activity.clone()), Some(activity)),
                1 => (None, Some(&activity + &room)),
                2 => (Some(&activity - &room), None),
                _ => (Some(&activity - room.abs()), Some(&activity + room.abs())),
            };
            Row { coefficients, low, high }
        })
        .collect();
    Program::new(columns, rows).unwrap()
}

/// Random exchanges, at random ends, from the start or from the end of the search.
fn wander<const WIDTH: usize>(numbers: &mut Numbers, tableau: &mut Tableau<WIDTH>, steps: u64) {
    for _ in 0..steps {
        let (row, position) =
            (numbers.below(tableau.rows() as u64) as usize, numbers.below(tableau.columns() as u64) as usize);
        let side =
            if tableau.basic[row].high.is_infinite() || (tableau.basic[row].low.is_finite() && numbers.below(2) == 0) {
                Side::Low
            } else {
                Side::High
            };
        if tableau.entries[row][position].abs() > 1e-4 {
            tableau.exchange(row, position, side);
        }
        let flipped = numbers.below(tableau.columns() as u64) as usize;
        if numbers.below(4) == 0
            && tableau.nonbasic[flipped].low.is_finite()
            && tableau.nonbasic[flipped].high.is_finite()
        {
            tableau.flip(flipped);
        }
    }
}

/// Never proved where exact arithmetic does not find the basis's point in all ranges.
fn compare<const WIDTH: usize>(cases: usize) -> (usize, usize) {
    let mut numbers = Numbers(WIDTH as u64);
    let (mut proved, mut refused) = (0, 0);
    let mut room = Room::new();
    for _ in 0..cases {
        let program = program(&mut numbers, WIDTH as u64, WIDTH as u64 * 3 / 4);
        let Some(start) = Tableau::<WIDTH>::load(&program) else { continue };
        let mut at = start.clone();
        let order = load::order::<WIDTH>(&program, &[]);
        if numbers.below(8) > 0 {
            pivot_to_end(&mut at, &order);
        }
        let steps = if numbers.below(2) == 0 { 0 } else { 1 + numbers.below(3) };
        wander(&mut numbers, &mut at, steps);
        let is_proved = is_feasible(&start, &at, &mut room);
        // Without costs a basis whose point is in all ranges is optimal.
        let columns = program.columns().iter().map(|column| Column { cost: Exact::ZERO, ..column.clone() }).collect();
        let free = Program::new(columns, program.rows().to_vec()).unwrap();
        let right = crate::linear::judge_exactly(&free, &at.candidate(Ended::Optimal), &[]).is_some();
        assert!(right || !is_proved, "{program:#?}");
        proved += usize::from(is_proved);
        refused += usize::from(!right);
    }
    (proved, refused)
}

#[test]
fn the_filter_never_proves_what_is_not_so() {
    let (proved, refused) = compare::<8>(5000);
    assert!(proved > 800 && refused > 1500, "{proved} {refused}");
    let (proved, refused) = compare::<16>(1500);
    assert!(proved > 200 && refused > 500, "{proved} {refused}");
    let (proved, refused) = compare::<32>(200);
    assert!(proved > 10 && refused > 50, "{proved} {refused}");
}

/// Optima whose margins are a few roundings wide: a filter that reckons its own error too small proves some of the
/// wrong ones.
#[test]
fn margins_of_a_few_roundings_are_left_undecided() {
    let tiny = Exact::ratio(1, 1 << 50) / Exact::from(16);
    for sign in [-1, 0, 1] {
        // Two columns that sum to 1; the second row asks for a third of the first and leaves the second its low end but
        // for `tiny`.
        let gap = &tiny * Exact::from(sign);
        let column =
            |low: Exact, cost: i64| Column { low: Some(low), high: Some(Exact::from(9)), cost: Exact::from(cost) };
        let total = Row { coefficients: vec![Exact::ONE; 2], low: Some(Exact::ONE), high: Some(Exact::ONE) };
        let third =
            Row { coefficients: vec![Exact::ratio(1, 3), Exact::ZERO], low: Some(Exact::ratio(1, 9)), high: None };
        let second = Exact::ratio(2, 3) + gap;
        let program = Program::new(vec![column(Exact::ZERO, 2), column(second, 1)], vec![total, third]).unwrap();
        let start = Tableau::<8>::load(&program).unwrap();
        let mut at = start.clone();
        pivot_to_end(&mut at, &load::order(&program, &[])).unwrap();
        assert!(!is_feasible(&start, &at, &mut Room::new()), "{sign}");
        let (outcome, _) = solve_on_path(&program, &[]);
        verify(&program, &outcome).unwrap();
        assert_eq!(matches!(outcome, Outcome::Optimal(_)), sign <= 0);
    }
}

#[test]
fn conversion_is_as_near_as_the_bound_says() {
    let mut numbers = Numbers(5);
    let twice_roundoff = Exact::ratio(1, 1 << 52);
    for _ in 0..3000 {
        let whole = |numbers: &mut Numbers| {
            Exact::from(numbers.below(1 << 31) as i64 + 1) * Exact::from(numbers.below(1 << 31) as i64 + 1)
        };
        let value = whole(&mut numbers) * whole(&mut numbers)
            / whole(&mut numbers)
            / (if numbers.below(2) == 0 { whole(&mut numbers) } else { Exact::ONE });
        let number = value.to_f64();
        // A normal f64 is a whole number of 53 bits times a power of two.
        let exponent = ((number.to_bits() >> 52) & 0x7ff) as i32 - 1075;
        let mantissa = Exact::from(((number.to_bits() & ((1 << 52) - 1)) | (1 << 52)) as i64);
        let two = if exponent < 0 { Exact::ratio(1, 2) } else { Exact::from(2) };
        let back = (0..exponent.abs()).fold(mantissa, |product, _| product * &two);
        assert!((&value - &back).abs() <= &back * &twice_roundoff, "{value:?} became {number:e}");
    }
}

/// The search ends within its limit, names what holds and goes to the exact method seldom.
#[test]
fn candidates_hold() {
    let mut numbers = Numbers(77);
    let mut by_path = [0usize; 4];
    for _ in 0..1500 {
        let program = program(&mut numbers, 12, 9);
        let order: Vec<usize> = (0..program.columns().len()).rev().collect();
        let (outcome, path) = solve_on_path(&program, &order);
        verify(&program, &outcome).unwrap();
        let exact = solve_exactly(&program, &order);
        assert_eq!(
            outcome.optimum().map(|optimum| &optimum.values),
            exact.optimum().map(|optimum| &optimum.values),
            "{program:#?}"
        );
        by_path[path as usize] += 1;
    }
    assert!(by_path[0] + by_path[1] > 1480, "{by_path:?}");
}

fn boxed(cost: i64) -> Column {
    Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: Exact::from(cost) }
}

/// A program of which the columns sum to 50.
fn summed(columns: Vec<Column>) -> Program {
    let total =
        Row { coefficients: vec![Exact::ONE; columns.len()], low: Some(Exact::from(50)), high: Some(Exact::from(50)) };
    Program::new(columns, vec![total]).unwrap()
}

#[test]
fn the_columns_of_the_order_come_first_and_each_once() {
    let program = summed(vec![boxed(1); 5]);
    let places = load::order::<8>(&program, &[3, 1, 3]);
    assert_eq!(places[..5], [3, 1, 0, 2, 4]);
    assert_eq!(load::order::<8>(&program, &[])[..5], [0, 1, 2, 3, 4]);
}

#[test]
fn what_the_search_takes() {
    let is_taken = |columns: Vec<Column>| Tableau::<8>::load(&summed(columns)).is_some();
    assert!(is_taken(vec![boxed(1); 8]));
    assert!(!is_taken(vec![boxed(1); 9]));
    // Without the end that its cost asks for.
    assert!(is_taken(vec![Column { high: None, ..boxed(0) }]));
    assert!(is_taken(vec![Column { high: None, ..boxed(1) }]));
    assert!(!is_taken(vec![Column { high: None, ..boxed(-1) }]));
    assert!(is_taken(vec![Column { low: None, ..boxed(-1) }]));
    assert!(!is_taken(vec![Column { low: None, ..boxed(0) }]));
    // Ends that differ by less than an `f64` can tell.
    let near = Exact::ONE + Exact::ratio(1, 1 << 62);
    assert!(!is_taken(vec![Column { low: Some(Exact::ONE), high: Some(near.clone()), ..boxed(1) }]));
    assert!(is_taken(vec![Column { low: Some(near.clone()), high: Some(near.clone()), ..boxed(1) }]));
    let row = |low: Exact, high: Exact| Row { coefficients: vec![Exact::ONE], low: Some(low), high: Some(high) };
    let of_row = |row: Row| Tableau::<8>::load(&Program::new(vec![boxed(1)], vec![row]).unwrap()).is_some();
    assert!(!of_row(row(Exact::ONE, near.clone())) && of_row(row(near.clone(), near)));
}

#[test]
fn steps_are_counted() {
    let steps = |program: &Program| {
        let (outcome, path) = solve_on_path(program, &[]);
        assert_eq!(path, crate::linear::Path::Search);
        outcome.optimum().unwrap().pivots
    };
    // From 0 the dearer column need not move; one row has to come in.
    assert_eq!(steps(&summed(vec![boxed(1), boxed(2)])), 1);
    let mut program = summed(vec![boxed(1), boxed(2)]);
    program.change(
        |_, column| column.high = Some(Exact::from(50)),
        |_, row| (row.low, row.high) = (Some(Exact::ZERO), Some(Exact::hundred())),
    );
    assert_eq!(steps(&program), 0);
}

#[test]
fn a_variable_is_found_wherever_it_is() {
    let mut numbers = Numbers(5);
    let program = program(&mut numbers, 8, 6);
    let mut tableau = Tableau::<8>::load(&program).unwrap();
    pivot_to_end(&mut tableau, &load::order(&program, &[]));
    for variable in 0..tableau.columns() + tableau.rows() {
        let spot = match tableau.whereabouts(variable) {
            Whereabouts::Basic(row) => tableau.basic[row],
            Whereabouts::Nonbasic(position) => tableau.nonbasic[position],
        };
        assert_eq!(spot.variable, variable);
    }
}

#[test]
fn scattered_costs_are_dual_feasible() {
    let mut columns = vec![boxed(1); 24];
    columns[4] = Column { low: None, ..boxed(-1) };
    columns[5].high = None;
    columns[6].high = None;
    columns[7] = Column { low: None, ..boxed(-1) };
    let mut tableau = Tableau::<24>::load(&summed(columns)).unwrap();
    tableau.scatter_costs();
    let mut value = 0.0;
    for position in 0..24 {
        assert!(
            tableau.standing(position).is_finite() && tableau.slopes[position] * tableau.inwards(position) >= 0.0,
            "{position}"
        );
        value += tableau.standing(position);
        let boxed = !(4..8).contains(&position);
        assert!(
            !boxed || (0..position).all(|other| (tableau.slopes[position] - tableau.slopes[other]).abs() > 1e-3),
            "{position}"
        );
    }
    let negative = tableau.slopes.iter().filter(|slope| **slope < 0.0).count();
    assert!((5..=15).contains(&negative), "{negative}");
    // Two of the four columns that have but one end are asked to stand at the other, and cost nothing.
    let free = tableau.slopes.iter().filter(|slope| **slope == 0.0).count();
    assert_eq!(free, 2);
    assert_eq!(tableau.values[0], value);
}

/// Programs of boxed columns, some with ends of some millions, some that ask for too much.
fn searched(numbers: &mut Numbers, most_columns: u64, most_rows: u64, case: u64) -> Program {
    let mut program = program(numbers, most_columns, most_rows);
    let spoilt = Exact::from(i64::from(case % 4 == 1));
    let moves: Vec<Exact> =
        program.rows().iter().map(|_| &spoilt * Exact::ratio(numbers.below(2000) as i64 - 1000, 100)).collect();
    let factor = Exact::from(if case.is_multiple_of(3) { 100_003 } else { 1 });
    let scaled = |end: &mut Option<Exact>, more: &Exact| *end = end.take().map(|end| (end + more) * &factor);
    program.change(
        |_, column| [&mut column.low, &mut column.high].into_iter().for_each(|end| scaled(end, &Exact::ZERO)),
        |index, row| [&mut row.low, &mut row.high].into_iter().for_each(|end| scaled(end, &moves[index])),
    );
    program
}

/// Whatever the search names holds, ties and all, and it takes few steps: no more than when this was measured, for they
/// are the same on every machine.
#[test]
fn the_search_is_right_and_short() {
    let mut numbers = Numbers(59);
    for (cases, columns, rows, most) in [(500, 9, 7, 1221), (60, 24, 18, 404)] {
        let mut pivots = 0;
        for case in 0..cases {
            let program = searched(&mut numbers, columns, rows, case);
            let order: Vec<usize> =
                (0..program.columns().len()).map(|place| program.columns().len() - 1 - place).collect();
            let Some(found) = find(&program, &order) else { panic!("not searched: {program:#?}") };
            pivots += found.pivots;
            assert!(
                crate::linear::judge_exactly(&program, &found.candidate, &order).is_some(),
                "{:?} does not hold: {program:#?}",
                found.candidate
            );
        }
        assert!(pivots <= most, "{pivots}");
    }
}
