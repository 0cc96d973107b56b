//! The lowest and highest value of a measure among the formulas that meet a brief.

use tenside_lp::dot;

use super::objective::optimise;
use super::program::{Frame, frame_on, with_costs};
use super::sides::sides;
use crate::brief::{Brief, Direction, Objective};
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::number::Exact;

/// Lowest and highest value, or nothing if no formula meets the brief.
#[allow(clippy::type_complexity, reason = "two ends of one range")]
pub(super) fn ends_of(
    brief: &Brief,
    measure: &Measure,
    basis: &Basis,
) -> Result<Option<(Option<Exact>, Option<Exact>)>, Error> {
    let frame = frame_on(brief, basis)?;
    let end = |direction: Direction| -> Result<Option<Option<Exact>>, Error> {
        let asked = brief.clone().with_objective(Some(Objective::measure(direction, measure.clone(), basis.clone())));
        match optimise(&asked, frame.clone()) {
            Ok(proof) => match proof.outcome() {
                tenside_lp::Outcome::Optimal(_) => Ok(Some(proof.objective_value(&asked)?)),
                tenside_lp::Outcome::Infeasible(_) | tenside_lp::Outcome::Unbounded(_) => Ok(None),
            },
            Err(error) if error.is_unsupported() => ratio_end(&asked, &frame, measure, basis, direction).map(Some),
            Err(error) => Err(error),
        }
    };
    let Some(lowest) = end(Direction::Minimise)? else { return Ok(None) };
    Ok(end(Direction::Maximise)?.map(|highest| (lowest, highest)))
}

/// The end of a ratio whose denominator can be 0, over the formulas in which it is not: Dinkelbach's steps as in
/// `objective`, from a formula with the greatest denominator. Where the best corner has a denominator of 0 there is no
/// end.
fn ratio_end(
    asked: &Brief,
    frame: &Frame,
    measure: &Measure,
    basis: &Basis,
    direction: Direction,
) -> Result<Option<Exact>, Error> {
    // What else they could refuse was refused before: this is a denominator that can be negative.
    let Ok((numerator, denominator)) = sides(asked, measure, basis) else { return Ok(None) };
    let sign = if direction == Direction::Minimise { Exact::ONE } else { Exact::from(-1) };
    let numerator: Vec<Exact> = numerator.iter().map(|value| value * &sign).collect();
    let least = |costs: Vec<Exact>| -> Result<Option<(Exact, Vec<Exact>)>, Error> {
        let outcome = tenside_lp::solve_watched(with_costs(frame.clone(), costs)?.program(), &[], asked.watched())?;
        Ok(outcome.optimum().map(|optimum| (optimum.objective.clone(), optimum.values.clone())))
    };
    let Some((_, mut point)) = least(denominator.iter().map(|value| -value).collect())? else { return Ok(None) };
    loop {
        // Every step takes a corner with a lesser ratio; there are finitely many.
        let Some(ratio) = dot(&*numerator, &point).checked_div(&dot(&*denominator, &point)) else { return Ok(None) };
        let costs = numerator.iter().zip(&*denominator).map(|(above, below)| above - &ratio * below).collect();
        match least(costs)? {
            Some((cost, better)) if cost.is_negative() => point = better,
            _ => return Ok(Some(ratio * &sign)),
        }
    }
}
