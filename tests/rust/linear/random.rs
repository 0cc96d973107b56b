//! Random small programs: every outcome is proved, and every boxed one equals brute force.

use std::cell::Cell;

use proptest::prelude::*;
use proptest::test_runner::{Config, TestRunner};
use tenside::number::Exact;
use tenside_lp::{Column, Outcome, Program, Row, solve, solve_lexicographic, verify};

use super::vertices::first_corner;
use super::{Range, column, proved, row};

fn any_range() -> impl Strategy<Value = Range> {
    let end = || proptest::option::weighted(0.6, prop_oneof![2 => Just(0), 3 => -6i64..=6]);
    let crossing_seldom = |(low, high): Range, swap: bool| match (low, high) {
        (Some(low), Some(high)) if low > high && swap => (Some(high), Some(low)),
        range => range,
    };
    (end(), end(), proptest::bool::weighted(0.9)).prop_map(move |(low, high, swap)| crossing_seldom((low, high), swap))
}

fn box_range() -> impl Strategy<Value = Range> {
    (-4i64..=4, 0i64..=5).prop_map(|(low, width)| (Some(low), Some(low + width)))
}

fn coefficient() -> impl Strategy<Value = i64> {
    prop_oneof![2 => Just(0), 4 => -3i64..=3]
}

fn programs(
    columns: usize,
    rows: usize,
    column_range: BoxedStrategy<Range>,
    row_range: BoxedStrategy<Range>,
) -> impl Strategy<Value = Program> {
    let columns = proptest::collection::vec((column_range, coefficient()), 0..=columns);
    (columns, 0..=rows).prop_flat_map(move |(columns, rows)| {
        let coefficients = proptest::collection::vec(coefficient(), columns.len());
        let rows = proptest::collection::vec((coefficients, row_range.clone()), rows);
        (Just(columns), rows).prop_map(|(columns, rows)| {
            let columns: Vec<Column> = columns.into_iter().map(|(range, cost)| column(range, cost)).collect();
            let rows: Vec<Row> = rows.into_iter().map(|(coefficients, range)| row(&coefficients, range)).collect();
            Program::new(columns, rows).unwrap()
        })
    })
}

/// Runs `check`, which names what it saw, on random programs and asserts that every kind named in `least` was seen that
/// often.
fn run<S: Strategy>(
    cases: u32,
    strategy: S,
    least: &[(&str, u32)],
    check: impl Fn(&S::Value) -> Result<&'static str, TestCaseError>,
) {
    let seen: Vec<Cell<u32>> = least.iter().map(|_| Cell::new(0)).collect();
    let mut runner =
        TestRunner::new_with_rng(Config { cases, failure_persistence: None, ..Config::default() }, fixed_generator());
    let result = runner.run(&strategy, |value| {
        let kind = check(&value)?;
        if let Some(index) = least.iter().position(|(name, _)| *name == kind) {
            seen[index].set(seen[index].get() + 1);
        }
        Ok(())
    });
    result.unwrap_or_else(|error| panic!("{error}"));
    for ((name, least), seen) in least.iter().zip(&seen) {
        assert!(seen.get() >= *least, "only {} of the random programs were {name}", seen.get());
    }
}

fn fixed_generator() -> proptest::test_runner::TestRng {
    proptest::test_runner::TestRng::deterministic_rng(proptest::test_runner::RngAlgorithm::ChaCha)
}

fn kind(outcome: &Outcome) -> &'static str {
    match outcome {
        Outcome::Optimal(_) => "optimal",
        Outcome::Infeasible(_) => "infeasible",
        Outcome::Unbounded(_) => "unbounded",
    }
}

#[test]
fn every_outcome_is_proved() {
    let strategy = programs(6, 6, any_range().boxed(), any_range().boxed());
    run(4000, strategy, &[("optimal", 400), ("infeasible", 400), ("unbounded", 400)], |program| {
        let outcome = solve(program);
        verify(program, &outcome).map_err(|error| TestCaseError::fail(error.to_string()))?;
        prop_assert_eq!(&outcome, &solve(program));
        Ok(kind(&outcome))
    });
}

/// Each multiplier, reduced cost and value and the objective, moved by one, is refused.
#[test]
fn every_moved_certificate_is_refused() {
    let strategy = programs(4, 4, any_range().boxed(), any_range().boxed());
    run(1000, strategy, &[("optimal", 100)], |program| {
        let outcome = solve(program);
        let Outcome::Optimal(optimum) = &outcome else { return Ok(kind(&outcome)) };
        let refused = |optimum| verify(program, &Outcome::Optimal(optimum)).is_err();
        let mut forged = optimum.clone();
        forged.objective += Exact::ONE;
        prop_assert!(refused(forged));
        // A multiplier of a row of zeros changes nothing but the dual objective, and where the row stands at an end
        // that is 0 not even that.
        for index in (0..program.rows().len())
            .filter(|&index| program.rows()[index].coefficients.iter().any(|coefficient| !coefficient.is_zero()))
        {
            let mut forged = optimum.clone();
            forged.row_multipliers[index] += Exact::ONE;
            prop_assert!(refused(forged));
        }
        for index in 0..optimum.reduced_costs.len() {
            let mut forged = optimum.clone();
            forged.reduced_costs[index] += Exact::ONE;
            prop_assert!(refused(forged));
            let mut forged = optimum.clone();
            forged.values[index] += Exact::ONE;
            // Another point of least cost is as good, but then the first was not the only one.
            forged.unique = false;
            prop_assert!(refused(forged) || !optimum.unique);
        }
        Ok(kind(&outcome))
    });
}

#[test]
fn boxed_programs_equal_brute_force() {
    let strategy = programs(4, 5, box_range().boxed(), any_range().boxed());
    run(500, strategy, &[("optimal", 100), ("infeasible", 50)], |program| {
        let order: Vec<usize> = (0..program.columns().len()).rev().collect();
        let outcome = solve_lexicographic(program, &order);
        verify(program, &outcome).map_err(|error| TestCaseError::fail(error.to_string()))?;
        let found = outcome.optimum().map(|optimum| (optimum.objective.clone(), optimum.values.clone()));
        prop_assert_eq!(found, first_corner(program, &order));
        Ok(kind(&outcome))
    });
}

/// Many equal rows and zero right-hand sides: nearly every step has length 0.
#[test]
fn degenerate_programs_end_and_are_proved() {
    let sign = || prop_oneof![Just(-1i64), Just(0), Just(1)];
    let strategy = (2usize..=8, 1usize..=4, 1usize..=4).prop_flat_map(move |(columns, rows, copies)| {
        let matrix = proptest::collection::vec(proptest::collection::vec(sign(), columns), rows);
        (proptest::collection::vec(sign(), columns), matrix, Just(copies), any::<bool>(), any::<bool>())
    });
    run(500, strategy, &[("optimal", 300), ("unbounded", 10)], |(costs, matrix, copies, boxed, equal)| {
        let columns = costs.iter().map(|&cost| column((Some(0), boxed.then_some(1)), cost)).collect();
        let low = equal.then_some(0);
        let rows = matrix.iter().flat_map(|coefficients| vec![row(coefficients, (low, Some(0))); *copies]).collect();
        Ok(kind(&proved(&Program::new(columns, rows).unwrap(), solve)))
    });
}

/// Handing four tasks to four people: every corner of the program is degenerate, and its answer is one of 24
/// permutations.
#[test]
fn assignments_equal_all_permutations() {
    run(60, proptest::collection::vec(0i64..=9, 16), &[("optimal", 60)], |costs| {
        let columns = costs.iter().map(|&cost| column((Some(0), None), cost)).collect();
        let line = |takes: &dyn Fn(usize) -> bool| {
            row(&(0..16).map(|cell| i64::from(takes(cell))).collect::<Vec<_>>(), (Some(1), Some(1)))
        };
        let rows =
            (0..4).flat_map(|index| [line(&|cell| cell / 4 == index), line(&|cell| cell % 4 == index)]).collect();
        let outcome = proved(&Program::new(columns, rows).unwrap(), solve);
        let all = (0..256).map(|code| [code % 4, code / 4 % 4, code / 16 % 4, code / 64]);
        let permutations = all.filter(|tasks| (0..4).all(|task| tasks.contains(&task)));
        let least = permutations.map(|tasks| (0..4).map(|person| costs[4 * person + tasks[person]]).sum::<i64>()).min();
        prop_assert_eq!(outcome.optimum().map(|optimum| optimum.objective.clone()), least.map(Exact::from));
        Ok(kind(&outcome))
    });
}
