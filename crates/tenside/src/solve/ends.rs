//! The lowest and highest value of a measure among the formulas that meet a brief.

use super::objective::{Ratio, least, least_ratio, optimise, sign};
use super::program::{Frame, frame_on};
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
            Ok(proof) => proof.outcome().optimum().map(|_| proof.objective_value(&asked)).transpose(),
            Err(error) if error.is_unsupported() => ratio_end(&asked, &frame).map(Some),
            Err(error) => Err(error),
        }
    };
    let Some(lowest) = end(Direction::Minimise)? else { return Ok(None) };
    Ok(end(Direction::Maximise)?.map(|highest| (lowest, highest)))
}

/// The end of a ratio whose denominator can be 0, over the formulas in which it is not: Dinkelbach's steps from a formula
/// with the greatest denominator. Where the best corner has a denominator of 0 there is no end.
fn ratio_end(asked: &Brief, frame: &Frame) -> Result<Option<Exact>, Error> {
    // What else they could refuse was refused before: this is a denominator that can be negative.
    let Ok(Some(ratio)) = Ratio::of(asked) else { return Ok(None) };
    let greatest = ratio.denominator.iter().map(|value| -value).collect();
    let Some((_, point)) = least(frame, greatest, asked.watched())? else { return Ok(None) };
    let end = least_ratio(frame, asked.watched(), point, |point| {
        let reached = ratio.at(point)?;
        let costs = ratio.costs(&reached);
        Some((reached, costs))
    })?;
    Ok(end.map(|end| end * sign(asked)))
}
