//! The lexicographic answer against solving again and again, each time with the last least value added as an equation.

use proptest::prelude::*;
use tenside::number::Exact;
use tenside_lp::{Column, Outcome, Program, Row, solve, solve_exactly, solve_lexicographic};

use super::{column, proved, row};

/// One column least after the other; stops at the first that has no least value.
fn one_after_the_other(program: &Program, order: &[usize]) -> Option<(Vec<Exact>, usize)> {
    let (columns, mut rows) = (program.columns().to_vec(), program.rows().to_vec());
    let mut optimum = solve(program).optimum()?.clone();
    let mut coefficients: Vec<Exact> = columns.iter().map(|column| column.cost.clone()).collect();
    for (stage, &index) in order.iter().enumerate() {
        let reached = Some(optimum.objective.clone());
        rows.push(Row { coefficients, low: reached.clone(), high: reached });
        coefficients = vec![Exact::ZERO; columns.len()];
        coefficients[index] = Exact::ONE;
        let costed = columns
            .iter()
            .zip(&coefficients)
            .map(|(column, cost)| Column { cost: cost.clone(), ..column.clone() })
            .collect();
        match solve(&Program::new(costed, rows.clone()).unwrap()) {
            Outcome::Optimal(next) => optimum = next,
            Outcome::Unbounded(_) => return Some((optimum.values, stage)),
            Outcome::Infeasible(_) => panic!("the last point is feasible"),
        }
    }
    Some((optimum.values, order.len()))
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn equals_solving_again_with_equations(
        costs in proptest::collection::vec(prop_oneof![3 => Just(0i64), 1 => 0i64..=2], 1..=5),
        matrix in proptest::collection::vec((proptest::collection::vec(-2i64..=3, 5), 0i64..=8, any::<bool>()), 0..=4),
        floors in proptest::collection::vec(proptest::bool::weighted(0.8), 5),
        order in Just(vec![0usize, 1, 2, 3, 4]).prop_shuffle(),
    ) {
        let count = costs.len();
        let order: Vec<usize> = order.into_iter().filter(|&index| index < count).collect();
        let columns = costs.iter().zip(&floors).map(|(&cost, &floor)| column((floor.then_some(0), Some(6)), cost)).collect();
        let rows = matrix.iter().map(|(coefficients, limit, equal)| row(&coefficients[..count], (Some(*limit), equal.then_some(*limit)))).collect();
        let program = Program::new(columns, rows).unwrap();
        let outcome = proved(&program, |program| solve_lexicographic(program, &order));
        let plain = proved(&program, solve);
        match (outcome.optimum(), one_after_the_other(&program, &order)) {
            (Some(optimum), Some((values, stages))) => {
                // Columns after one without a least value are not determined.
                for &index in &order[..stages] {
                    prop_assert_eq!(&optimum.values[index], &values[index]);
                }
                let first = plain.optimum().unwrap();
                prop_assert_eq!(&optimum.objective, &first.objective);
                // At a degenerate point there are several right multipliers, and not all of them show that there is no
                // other.
                prop_assert!(!(optimum.unique || first.unique) || optimum.values == first.values);
            }
            (None, None) => prop_assert_eq!(std::mem::discriminant(&outcome), std::mem::discriminant(&plain)),
            (found, expected) => prop_assert!(false, "{:?} against {:?}", found, expected),
        }
    }
}

/// A square of equally cheap points: x and y in 0 to 10 with x + y = 12.
fn square() -> Program {
    let columns = vec![column((Some(0), Some(10)), 1), column((Some(0), Some(10)), 1)];
    Program::new(columns, vec![row(&[1, 1], (Some(12), Some(12)))]).unwrap()
}

#[test]
fn the_order_decides_between_points_of_least_cost() {
    let values = |order: &[usize]| {
        proved(&square(), |program| solve_lexicographic(program, order)).optimum().unwrap().values.clone()
    };
    assert_eq!(values(&[0, 1]), [2, 10].map(Exact::from));
    assert_eq!(values(&[1, 0]), [10, 2].map(Exact::from));
    assert_eq!(values(&[1, 1, 1]), values(&[1]));
    assert_eq!(values(&[7, 0, 9]), values(&[0]));
    assert_eq!(values(&[2, 0]), values(&[0]));
    assert_eq!(values(&[2, 1]), values(&[1]));
}

/// The number of columns is the first index past them, also where they are as many as the search takes in one width.
#[test]
fn an_index_just_past_the_last_column_is_passed_over() {
    let program =
        Program::new(vec![column((Some(0), Some(10)), 1); 16], vec![row(&[1; 16], (Some(25), Some(25)))]).unwrap();
    for order in [vec![16, 3, 4], vec![3, 16, 4], vec![16]] {
        let without: Vec<usize> = order.iter().copied().filter(|&column| column < 16).collect();
        for solve in [solve_lexicographic, solve_exactly] {
            let values =
                |order: &[usize]| proved(&program, |program| solve(program, order)).optimum().unwrap().values.clone();
            assert_eq!(values(&order), values(&without));
        }
    }
}

#[test]
fn a_column_without_a_least_value_ends_the_order() {
    // x + y = 3 with z free of cost and limits: after x, z has no least value, and y is left where it is.
    let columns = vec![column((Some(0), None), 0), column((Some(0), None), 0), column((None, None), 0)];
    let program = Program::new(columns, vec![row(&[1, 1, 0], (Some(3), Some(3)))]).unwrap();
    let outcome = proved(&program, |program| solve_lexicographic(program, &[0, 2, 1]));
    let optimum = outcome.optimum().unwrap();
    assert_eq!(optimum.values, [0, 3, 0].map(Exact::from));
    assert!(!optimum.unique);
}

#[test]
fn infeasible_and_unbounded_programs_stay_what_they_are() {
    let mut rows = square().rows().to_vec();
    rows.push(row(&[1, -1], (Some(20), None)));
    let infeasible = Program::new(square().columns().to_vec(), rows).unwrap();
    assert!(matches!(proved(&infeasible, |program| solve_lexicographic(program, &[0, 1])), Outcome::Infeasible(_)));
    let unbounded = Program::new(vec![column((None, None), 1)], Vec::new()).unwrap();
    assert!(matches!(proved(&unbounded, |program| solve_lexicographic(program, &[0])), Outcome::Unbounded(_)));
}
