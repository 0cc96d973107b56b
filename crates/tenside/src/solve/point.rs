//! One point of a what-if: the exact solution with what binds, or the members of the conflict, and no grid formula.

use std::sync::Arc;

use super::binding::{Side, standing};
use super::conflict::Conflict;
use super::constraint::Limit;
use super::objective::{Ratio, least, optimise};
use super::program::{BriefProgram, frame};
use super::sides::{Sides, sides, sides_as_far_as_known};
use crate::brief::Brief;
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::number::Exact;

/// What a brief comes to at one point.
pub(crate) enum Point {
    /// The exact percentages, the objective's value, and the one-sided limits that are met with equality.
    Solved { values: Vec<Exact>, objective: Option<Exact>, binding: Vec<Limit> },
    /// No formula meets these together.
    Conflict(Vec<Limit>),
}

/// Solves a brief as [`Brief::try_solve`] does, without placing the solution on the grid. Where no formula has any of what
/// a ratio divides by, no formula is better than another: that point is solved as without objective.
pub(crate) fn solve_point(brief: &Brief) -> Result<Point, Error> {
    let without;
    let (brief, proof) = match optimise(brief, frame(brief)?) {
        Err(error) if error.is_unsupported() && is_over_nothing(brief)? => {
            without = brief.clone().with_objective(None);
            (&without, optimise(&without, frame(brief)?)?)
        }
        proof => (brief, proof?),
    };
    match proof.outcome().optimum() {
        Some(optimum) => {
            let values = optimum.values[..brief.lines().len()].to_vec();
            let standing = standing(brief, proof.program(), &optimum.values).into_iter();
            let binding = standing.filter(|(.., side)| *side != Side::Fixed).map(|(_, limit, _)| limit).collect();
            Ok(Point::Solved { values, objective: proof.objective_value(brief)?, binding })
        }
        None => Ok(Point::Conflict(Conflict::new(brief.clone(), proof)?.members)),
    }
}

/// True where the objective is a ratio whose denominator is 0 in every formula.
fn is_over_nothing(brief: &Brief) -> Result<bool, Error> {
    let Ok(Some(ratio)) = Ratio::of(brief) else { return Ok(false) };
    let greatest = ratio.denominator.iter().map(|value| -value).collect();
    Ok(least(&frame(brief)?, greatest, brief.watched())?.is_some_and(|(cost, _)| cost.is_zero()))
}

/// The rows and columns of a brief, whatever its objective.
pub(crate) fn rows(brief: &Brief) -> Result<BriefProgram, Error> {
    frame(brief)?.program()
}

/// What each line brings of water beyond what a finished basis keeps of it; nothing on another basis. The lines sum to
/// 100, so the water kept is the moisture of every percent.
pub(crate) fn water_left(brief: &Brief, basis: &Basis) -> Result<Option<Vec<Exact>>, Error> {
    let Basis::Finished(moisture) = basis else { return Ok(None) };
    let (water, _) = sides(brief, &Measure::water(), &Basis::AsCharged)?;
    Ok(Some(water.iter().map(|weight| weight - moisture).collect()))
}

/// The sides of a measure; a line of which a typical value is not known counts nothing.
pub(crate) fn weights_as_far_as_known(brief: &Brief, measure: &Measure, basis: &Basis) -> Result<Sides, Error> {
    let sides = sides_as_far_as_known(brief, measure, basis)?;
    Ok((Arc::clone(&sides.numerator), Arc::clone(&sides.denominator)))
}

/// The lines of which a measure's typical value is not known.
pub(crate) fn lines_not_known(brief: &Brief, measure: &Measure, basis: &Basis) -> Result<Vec<usize>, Error> {
    let mut lines: Vec<usize> =
        sides_as_far_as_known(brief, measure, basis)?.not_known.iter().map(|(line, _)| *line).collect();
    lines.dedup();
    Ok(lines)
}
