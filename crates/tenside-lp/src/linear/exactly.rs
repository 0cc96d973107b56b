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
use crate::exact::{Exact, dot};
use crate::halt::{Halt, Unwatched};

/// Solves a program as [`solve_lexicographic`](super::solve_lexicographic) does, without the search in front of it:
/// slower, and the measure of what the search has to give.
///
/// ```
/// use tenside_lp::{Column, Exact, Program, Row, solve_exactly, solve_lexicographic};
/// let column = Column { low: Some(Exact::ZERO), high: Some(Exact::from(80)), cost: Exact::ONE };
/// let total = Row { coefficients: vec![Exact::ONE, Exact::ONE], low: Some(Exact::hundred()), high: Some(Exact::hundred()) };
/// let program = Program::new(vec![column.clone(), column], vec![total])?;
/// let values = |outcome: &tenside_lp::Outcome| outcome.optimum().map(|optimum| optimum.values.clone());
/// assert_eq!(values(&solve_exactly(&program, &[1, 0])), values(&solve_lexicographic(&program, &[1, 0])));
/// # Ok::<(), tenside_lp::Error>(())
/// ```
#[must_use]
pub fn solve_exactly(program: &Program, order: &[usize]) -> Outcome {
    crossed(program).unwrap_or_else(|| {
        let Ok(outcome) = solve_from(program, Dictionary::new(program), order, &Unwatched);
        outcome
    })
}

/// Solves from where the dictionary stands; no range of the program is empty by itself.
pub(super) fn solve_from<H: Halt>(
    program: &Program,
    mut dictionary: Dictionary,
    order: &[usize],
    halt: &H,
) -> Result<Outcome, H::Stopped> {
    let columns = program.columns().len();
    if let Some(slopes) = enter_ranges(&mut dictionary, halt)? {
        let row_multipliers = dictionary.violation_proof(&slopes).split_off(columns);
        return Ok(Outcome::Infeasible(Farkas { row_multipliers, crossing: None }));
    }
    let costs: Vec<Exact> = program.columns().iter().map(|column| column.cost.clone()).collect();
    let slopes = match descend(&mut dictionary, &costs, halt)? {
        Ok(slopes) => slopes,
        Err(entering) => {
            return Ok(Outcome::Unbounded(Ray {
                point: dictionary.column_values().to_vec(),
                direction: dictionary.direction(entering),
            }));
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
        match descend(&mut dictionary, &unit, halt)? {
            Ok(slopes) => dictionary.settle(&slopes),
            Err(_) => break,
        }
    }
    let values = dictionary.column_values().to_vec();
    let objective = dot(&costs, &values);
    Ok(Outcome::Optimal(Optimum {
        values,
        row_multipliers,
        reduced_costs,
        objective,
        unique,
        pivots: dictionary.pivots(),
    }))
}

/// The outcome where a range is empty by itself: the first column or row whose ends cross.
pub(super) fn crossed(program: &Program) -> Option<Outcome> {
    let crosses = |low: &Option<Exact>, high: &Option<Exact>| {
        low.as_ref().zip(high.as_ref()).is_some_and(|(low, high)| low > high)
    };
    let column = program.columns().iter().position(|column| crosses(&column.low, &column.high)).map(Crossing::Column);
    let crossing =
        column.or_else(|| program.rows().iter().position(|row| crosses(&row.low, &row.high)).map(Crossing::Row))?;
    let row_multipliers = vec![Exact::ZERO; program.rows().len()];
    Some(Outcome::Infeasible(Farkas { row_multipliers, crossing: Some(crossing) }))
}

/// Brings every variable into its range, or gives the slopes at the least sum of violations.
fn enter_ranges<H: Halt>(dictionary: &mut Dictionary, halt: &H) -> Result<Option<Slopes>, H::Stopped> {
    loop {
        let Some(mut slopes) = dictionary.violation_slopes() else { return Ok(None) };
        // A variable that lessens a violation is stopped by that violation's end at the latest, so every entering
        // variable has a step.
        match dictionary.entering(&slopes).and_then(|entering| dictionary.step(entering)) {
            Some(step) => dictionary.take(step, &mut slopes, halt)?,
            None => return Ok(Some(slopes)),
        }
    }
}

/// Makes `costs . columns` least and gives its slopes there, or the variable that lessens it without end.
fn descend<H: Halt>(
    dictionary: &mut Dictionary,
    costs: &[Exact],
    halt: &H,
) -> Result<Result<Slopes, Entering>, H::Stopped> {
    let mut slopes = dictionary.slopes(costs);
    while let Some(entering) = dictionary.entering(&slopes) {
        let Some(step) = dictionary.step(entering) else { return Ok(Err(entering)) };
        dictionary.take(step, &mut slopes, halt)?;
    }
    Ok(Ok(slopes))
}
