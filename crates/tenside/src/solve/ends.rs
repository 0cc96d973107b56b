//! The lowest and highest value of a measure among the formulas that meet a brief.

use std::sync::Arc;

use super::objective::{Ratio, least, least_ratio, plain_costs};
use super::program::frame_on;
use super::sides::sides;
use crate::brief::Brief;
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::number::Exact;

/// Lowest and highest value, or nothing if no formula meets the brief. A ratio has them among the formulas whose
/// denominator is not 0, by Dinkelbach's steps from a formula with the greatest denominator; where the best corner has a
/// denominator of 0 there is no end.
#[allow(clippy::type_complexity, reason = "two ends of one range")]
pub(super) fn ends_of(
    brief: &Brief,
    measure: &Measure,
    basis: &Basis,
) -> Result<Option<(Option<Exact>, Option<Exact>)>, Error> {
    let (frame, watched) = (frame_on(brief, basis)?, brief.watched());
    let (numerator, denominator) = match sides(brief, measure, basis) {
        // Its denominator can be negative.
        Err(error) if error.is_unsupported() => return Ok(Some((None, None))),
        sides => sides?,
    };
    let end = |sign: Exact| -> Result<Option<Option<Exact>>, Error> {
        if let Some(costs) = plain_costs(&sign, &numerator, &denominator) {
            return Ok(least(&frame, costs, watched)?.map(|(end, _)| Some(end * sign)));
        }
        let greatest = denominator.iter().map(|value| -value).collect();
        let Some((_, point)) = least(&frame, greatest, watched)? else { return Ok(None) };
        let ratio = Ratio::new(&sign, &numerator, Arc::clone(&denominator));
        let end = least_ratio(&frame, watched, point, |point| {
            let reached = ratio.at(point)?;
            let costs = ratio.costs(&reached);
            Some((reached, costs))
        })?;
        Ok(Some(end.map(|end| end * sign)))
    };
    let Some(lowest) = end(Exact::ONE)? else { return Ok(None) };
    Ok(end(Exact::from(-1))?.map(|highest| (lowest, highest)))
}
