//! The simplex method in exact arithmetic: first into the ranges, then down the cost, then along the optimal face.
//!
//! ```text
//! first phase    least sum of the violations of all ranges; above 0 its slopes are the proof of infeasibility
//! second phase   least cost; its slopes are the multipliers
//! later phases   one column least after the other, over what stays of the optimal face
//! ```

use super::dictionary::{Dictionary, Entering, Slopes};
use super::outcome::{Crossing, Farkas, Optimum, Outcome, Ray};
use super::program::Program;
use crate::number::Exact;

/// Solves a program exactly. Every outcome carries what [`verify`](super::verify) needs.
///
/// ```
/// use tenside::number::Exact;
/// use tenside::solve::linear::{Column, Program, Row, solve, verify};
/// // The cheapest 100 % of which at least 60 % is active: a powder of 85 % at 4 a unit, a filler at 1.
/// let column = |cost: i64| Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: Exact::from(cost) };
/// let total = Row { coefficients: vec![Exact::ONE, Exact::ONE], low: Some(Exact::hundred()), high: Some(Exact::hundred()) };
/// let active = Row { coefficients: vec!["0.85".parse()?, Exact::ZERO], low: Some(Exact::from(60)), high: None };
/// let program = Program::new(vec![column(4), column(1)], vec![total, active])?;
/// let outcome = solve(&program);
/// verify(&program, &outcome)?;
/// let optimum = outcome.optimum().unwrap();
/// assert_eq!(optimum.values[0], Exact::ratio(1200, 17));
/// assert_eq!(optimum.row_multipliers[1], Exact::ratio(60, 17)); // what one more percent active costs
/// assert!(optimum.unique);
/// # Ok::<(), tenside::Error>(())
/// ```
#[must_use]
pub fn solve(program: &Program) -> Outcome {
    solve_lexicographic(program, &[])
}

/// Solves a program exactly and, among the points of least cost, goes to the one where column `order[0]` is least, among those to the one
/// where column `order[1]` is least, and so on.
///
/// Multipliers, reduced costs, `objective` and `unique` are those of the cost. Where a column of the order has no least value on what is
/// left of the optimal face, the point reached so far stands. Indices past the last column are passed over.
///
/// ```
/// use tenside::number::Exact;
/// use tenside::solve::linear::{Column, Program, Row, solve_lexicographic};
/// let column = Column { low: Some(Exact::ZERO), high: Some(Exact::from(80)), cost: Exact::ONE };
/// let total = Row { coefficients: vec![Exact::ONE, Exact::ONE], low: Some(Exact::hundred()), high: Some(Exact::hundred()) };
/// let program = Program::new(vec![column.clone(), column], vec![total])?;
/// let outcome = solve_lexicographic(&program, &[1, 0]);
/// assert_eq!(outcome.optimum().unwrap().values, [Exact::from(80), Exact::from(20)]);
/// # Ok::<(), tenside::Error>(())
/// ```
#[must_use]
pub fn solve_lexicographic(program: &Program, order: &[usize]) -> Outcome {
    let columns = program.columns().len();
    if let Some(crossing) = crossing(program) {
        return Outcome::Infeasible(Farkas { row_multipliers: vec![Exact::ZERO; program.rows().len()], crossing: Some(crossing) });
    }
    let mut dictionary = Dictionary::new(program);
    if let Some(slopes) = enter_ranges(&mut dictionary) {
        let row_multipliers = dictionary.violation_proof(&slopes).split_off(columns);
        return Outcome::Infeasible(Farkas { row_multipliers, crossing: None });
    }
    let costs: Vec<Exact> = program.columns().iter().map(|column| column.cost.clone()).collect();
    let slopes = match descend(&mut dictionary, &costs) {
        Ok(slopes) => slopes,
        Err(entering) => {
            return Outcome::Unbounded(Ray { point: dictionary.column_values().to_vec(), direction: dictionary.direction(entering) });
        }
    };
    dictionary.settle(&slopes);
    let unique = dictionary.is_settled();
    let mut reduced_costs = dictionary.multipliers(&slopes);
    let row_multipliers = reduced_costs.split_off(columns);
    for &column in order.iter().filter(|&&column| column < columns) {
        if dictionary.is_settled() {
            break;
        }
        let mut unit = vec![Exact::ZERO; columns];
        unit[column] = Exact::ONE;
        match descend(&mut dictionary, &unit) {
            Ok(slopes) => dictionary.settle(&slopes),
            Err(_) => break,
        }
    }
    let values = dictionary.column_values().to_vec();
    let objective = costs.iter().zip(&values).map(|(cost, value)| cost * value).sum();
    Outcome::Optimal(Optimum { values, row_multipliers, reduced_costs, objective, unique, pivots: dictionary.pivots() })
}

/// The first column or row whose ends cross.
fn crossing(program: &Program) -> Option<Crossing> {
    let crosses = |low: &Option<Exact>, high: &Option<Exact>| low.as_ref().zip(high.as_ref()).is_some_and(|(low, high)| low > high);
    let column = program.columns().iter().position(|column| crosses(&column.low, &column.high)).map(Crossing::Column);
    column.or_else(|| program.rows().iter().position(|row| crosses(&row.low, &row.high)).map(Crossing::Row))
}

/// Brings every variable into its range, or gives the slopes at the least sum of violations.
fn enter_ranges(dictionary: &mut Dictionary) -> Option<Slopes> {
    loop {
        let mut slopes = dictionary.violation_slopes()?;
        // A variable that lessens a violation is stopped by that violation's end at the latest, so every entering variable has a step.
        match dictionary.entering(&slopes).and_then(|entering| dictionary.step(entering)) {
            Some(step) => dictionary.take(step, &mut slopes),
            None => return Some(slopes),
        }
    }
}

/// Makes `costs . columns` least and gives its slopes there, or the variable that lessens it without end.
fn descend(dictionary: &mut Dictionary, costs: &[Exact]) -> Result<Slopes, Entering> {
    let mut slopes = dictionary.slopes(costs);
    while let Some(entering) = dictionary.entering(&slopes) {
        let step = dictionary.step(entering).ok_or(entering)?;
        dictionary.take(step, &mut slopes);
    }
    Ok(slopes)
}
