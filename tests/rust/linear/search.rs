//! The engine with its search against the exact simplex method alone: same status, same least cost, same point, each
//! outcome proved.

use std::collections::BTreeMap;

use tenside::number::Exact;
use tenside_lp::{Column, Outcome, Path, Program, Row, solve_exactly, solve_on_path, verify};

/// Numbers without pattern (Knuth's linear congruence modulo 2^64, high bits).
struct Numbers(u64);

impl Numbers {
    fn below(&mut self, limit: u64) -> u64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 33) % limit
    }

    fn between(&mut self, low: i64, high: i64) -> i64 {
        low + self.below((high - low + 1) as u64) as i64
    }

    fn one_in(&mut self, count: u64) -> bool {
        self.below(count) == 0
    }
}

/// Like a formula's program: lines from 0 to 100 %, some fixed, a total of 100, rows of shares with ranges around a
/// point; `degenerate` ones have few different numbers, rows that stand exactly at that point, copies and rows of
/// zeros; `spoilt` ones ask a little too much.
fn formula(numbers: &mut Numbers, degenerate: bool, spoilt: bool) -> Program {
    let (most_columns, most_rows) = if numbers.one_in(6) { (39, 24) } else { (18, 10) };
    let columns = 2 + numbers.below(most_columns) as usize;
    let rows = numbers.below(most_rows) as usize;
    let parts: Vec<i64> = (0..columns).map(|_| if numbers.one_in(3) { 0 } else { numbers.between(1, 400) }).collect();
    let sum = parts.iter().sum::<i64>().max(1);
    // Hundredths of a percent, the rest in the first.
    let mut hundredths: Vec<i64> = parts.iter().map(|part| part * 10_000 / sum).collect();
    hundredths[0] += 10_000 - hundredths.iter().sum::<i64>();
    let point: Vec<Exact> = hundredths.iter().map(|value| Exact::ratio(*value, 100)).collect();
    let all: Vec<Column> = point
        .iter()
        .map(|value| {
            let cost = if degenerate {
                Exact::from(numbers.between(0, 3))
            } else {
                Exact::ratio(numbers.between(10, 9000), 100)
            };
            let (low, high) = match numbers.below(6) {
                0 => (value.clone(), value.clone()),
                1 => (value.clone(), Exact::hundred()),
                2 => (Exact::ZERO, value + Exact::from(numbers.between(0, 3))),
                _ => (Exact::ZERO, Exact::hundred()),
            };
            Column { low: Some(low), high: Some(high), cost }
        })
        .collect();
    let total =
        Row { coefficients: vec![Exact::ONE; columns], low: Some(Exact::hundred()), high: Some(Exact::hundred()) };
    let mut program_rows = vec![total];
    for _ in 0..rows {
        let coefficients: Vec<Exact> = (0..columns)
            .map(|_| match numbers.below(3) {
                0 if degenerate => Exact::from(numbers.between(-1, 1)),
                0 => Exact::ratio(numbers.between(-1000, 1000), 1000),
                1 if !degenerate && numbers.one_in(8) => {
                    Exact::ratio(numbers.between(1, 100), numbers.between(100, 999))
                }
                1 if !degenerate => Exact::ratio(numbers.between(1, 100), 100),
                _ => Exact::ZERO,
            })
            .collect();
        let activity: Exact = coefficients.iter().zip(&point).map(|(coefficient, value)| coefficient * value).sum();
        let room =
            if degenerate && !numbers.one_in(3) { Exact::ZERO } else { Exact::ratio(numbers.between(0, 500), 100) };
        let (low, high) = match numbers.below(4) {
            0 => (Some(activity.clone()), Some(activity)),
            1 => (Some(activity - room), None),
            2 => (None, Some(activity + room)),
            _ => (Some(&activity - &room), Some(activity + room)),
        };
        program_rows.push(Row { coefficients, low, high });
        if degenerate && numbers.one_in(4) {
            program_rows.push(program_rows[program_rows.len() - 1].clone());
        }
    }
    if degenerate {
        program_rows.push(Row { coefficients: vec![Exact::ZERO; columns], low: Some(Exact::ZERO), high: None });
    }
    if spoilt {
        let last = program_rows.len() - 1;
        let ends = [program_rows[last].low.clone(), program_rows[last].high.clone()];
        let coefficients = program_rows[last].coefficients.clone();
        let beyond = Exact::ratio(1, numbers.between(1, 1000));
        program_rows.push(match ends {
            [Some(low), _] => Row { coefficients, low: None, high: Some(low - beyond) },
            [None, high] => Row { coefficients, low: high.map(|high| high + beyond), high: None },
        });
    }
    Program::new(all, program_rows).unwrap()
}

/// Equal in all that is determined.
fn compare(program: &Program, order: &[usize], seen: &mut BTreeMap<String, usize>) {
    let (outcome, path) = solve_on_path(program, order);
    if let Err(error) = verify(program, &outcome) {
        panic!("{error}\n{program:#?}\n{outcome:#?}");
    }
    let exact = solve_exactly(program, order);
    let determined = |outcome: &Outcome| {
        let optimum = outcome.optimum()?;
        let point = (order.len() == program.columns().len()).then(|| optimum.values.clone());
        Some((optimum.objective.clone(), point))
    };
    assert_eq!(std::mem::discriminant(&outcome), std::mem::discriminant(&exact), "{program:#?}");
    assert_eq!(determined(&outcome), determined(&exact), "{program:#?}");
    let kind = match outcome {
        Outcome::Optimal(_) => "optimal",
        Outcome::Infeasible(_) => "infeasible",
        Outcome::Unbounded(_) => "unbounded",
    };
    *seen.entry(kind.to_string()).or_default() += 1;
    *seen.entry(format!("{path:?}")).or_default() += 1;
}

#[test]
fn random_programs_equal_the_exact_method() {
    let mut numbers = Numbers(2026);
    let mut seen = BTreeMap::new();
    for index in 0..3200 {
        let program = formula(&mut numbers, index % 3 == 0, index % 5 == 0);
        let columns = program.columns().len();
        let order: Vec<usize> =
            if index % 4 == 0 { Vec::new() } else { (0..columns).map(|place| place * 7 % columns).collect() };
        // A multiple of 7 columns has the order with repetitions only; those are compared by cost.
        let order = if columns.is_multiple_of(7) { (0..columns).rev().collect() } else { order };
        compare(&program, &order, &mut seen);
    }
    let count = |name: &str| seen.get(name).copied().unwrap_or_default();
    assert!(count("optimal") > 2000 && count("infeasible") > 500, "{seen:?}");
    assert!(count("Search") > 2500 && count("Search") + count("Wide") > 3180 && count("Exact") == 0, "{seen:?}");
}

/// Klee and Minty's cube in 3 to 12 dimensions with its columns boxed, from both sides.
#[test]
fn deformed_cubes_equal_the_exact_method() {
    let mut seen = BTreeMap::new();
    for size in 3..=12usize {
        let power =
            |base: i64, exponent: usize| (0..exponent).fold(Exact::ONE, |product, _| product * Exact::from(base));
        for sign in [-1, 1] {
            let columns = (0..size).map(|column| Column {
                low: Some(Exact::ZERO),
                high: Some(power(100, column)),
                cost: power(10, size - 1 - column) * Exact::from(sign),
            });
            let rows = (0..size).map(|row| {
                let coefficient = |column: usize| match column.cmp(&row) {
                    std::cmp::Ordering::Less => power(10, row - column) * Exact::from(2),
                    std::cmp::Ordering::Equal => Exact::ONE,
                    std::cmp::Ordering::Greater => Exact::ZERO,
                };
                Row { coefficients: (0..size).map(coefficient).collect(), low: None, high: Some(power(100, row)) }
            });
            let program = Program::new(columns.collect(), rows.collect()).unwrap();
            let order: Vec<usize> = (0..size).collect();
            compare(&program, &order, &mut seen);
        }
    }
    assert_eq!(seen["optimal"], 20);
}

/// Beale's example in boxes, its rows in every order and copied: nearly every step of a simplex method has length 0.
#[test]
fn cycling_examples_equal_the_exact_method() {
    let mut seen = BTreeMap::new();
    let rows = [["1/4", "-60", "-1/25", "9"], ["1/2", "-90", "-1/50", "3"], ["0", "0", "1", "0"]];
    for code in 0..27 {
        let order = [code % 3, code / 3 % 3, code / 9];
        for high in [1, 5, 1000] {
            let costs = ["-3/4", "150", "-1/50", "6"];
            let columns = costs
                .map(|cost| Column {
                    low: Some(Exact::ZERO),
                    high: Some(Exact::from(high)),
                    cost: cost.parse().unwrap(),
                })
                .to_vec();
            let picked = order.iter().chain(&[0, 1, 2]).map(|&row| Row {
                coefficients: rows[row].map(|coefficient| coefficient.parse().unwrap()).to_vec(),
                low: None,
                high: Some(Exact::from(i64::from(row == 2))),
            });
            compare(&Program::new(columns, picked.collect()).unwrap(), &[3, 1, 2, 0], &mut seen);
        }
    }
    assert_eq!(seen["optimal"], 81);
    assert!(seen["Search"] > 70, "{seen:?}");
}

/// Numbers past 128 bits are proved all the same, and more than 64 columns are solved without a search.
#[test]
fn long_numbers_and_wide_programs_are_solved() {
    let mut seen = BTreeMap::new();
    let primes =
        [1_000_000_007, 998_244_353, 1_000_000_009, 999_999_937, 999_999_893, 999_999_883, 999_999_797, 999_999_761];
    let columns: Vec<Column> = primes
        .iter()
        .map(|prime| Column { low: Some(Exact::ZERO), high: Some(Exact::from(50)), cost: Exact::ratio(1, *prime) })
        .collect();
    let rows = (1..=6usize).map(|row| Row {
        coefficients: (0..8)
            .map(|column| Exact::ratio(primes[(row * column + 1) % 8], primes[(row + column) % 8] + 2 * row as i64))
            .collect(),
        low: Some(Exact::from(90 + row as i64)),
        high: None,
    });
    compare(&Program::new(columns.clone(), rows.collect()).unwrap(), &[0, 1, 2, 3, 4, 5, 6, 7], &mut seen);
    assert_eq!(seen.remove("Wide"), Some(1), "{seen:?}");
    let many = (0..65)
        .map(|index| Column { low: Some(Exact::ZERO), high: Some(Exact::from(3)), cost: Exact::from(index % 7) })
        .collect();
    let total = Row { coefficients: vec![Exact::ONE; 65], low: Some(Exact::hundred()), high: None };
    let order: Vec<usize> = (0..65).collect();
    compare(&Program::new(many, vec![total]).unwrap(), &order, &mut seen);
    assert_eq!((seen["Exact"], Path::Exact), (1, Path::Exact));
}
