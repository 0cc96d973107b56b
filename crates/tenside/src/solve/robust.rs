//! The least change of a limit that is to hold for every composition.
//!
//! Of a formula `x` the limit must not be below its worst ratio `r(x)`, the greatest `factor N / D` over the
//! compositions, so the least limit that would do is the least worst ratio over the formulas that meet the rest of the
//! brief. With
//!
//! ```text
//! h(x, t) = greatest of factor N - t D over the compositions         linear in x at a given t, convex and falling in t for a given x
//! ```
//!
//! `r(x) <= t` is `h(x, t) <= 0` wherever `D` stays above 0. Two rounds of Dinkelbach's steps, one inside the other,
//! all exact:
//!
//! - inside, for a given `x`: the ratio at the worst composition for `t` is the next `t`. It only grows and ends at
//!   `r(x)`, since there are finitely many corners of the compositions (Newton's method on a convex function, from the
//!   side where it does not pass the root);
//! - outside: the formula with the least `h(x, t)` has a lesser worst ratio or shows that `t` is the least. There are
//!   finitely many corners of the linear program.
//!
//! A lowest value is the same turned round. Source: W. Dinkelbach, Management Science 13, 1967, and J. P. Crouzeix, J.
//! A. Ferland and S. Schaible, Journal of Optimization Theory and Applications 47, 1985, for several ratios at once
//! (both from memory).
//!
//! # Why
//! - A requirement for every composition that asks for one value gets no relaxation (no one value holds for
//!   compositions that differ), nor does one whose denominator can be 0 whatever the formula. Moving a limit for
//!   every composition is solved point by point, since the worst composition changes with the limit.

use super::objective::{least, least_ratio};
use super::program::frame_on;
use super::sides::compile;
use crate::brief::Brief;
use crate::error::Error;
use crate::measure::{Compiled, Row, Sense};
use crate::number::Exact;

/// The nearest limit that would do in place of one end of a requirement for every composition; `None` where no change
/// of it does, of a target (no one value holds for compositions that differ), where `D` can be 0 whatever the formula,
/// and where a range that the limit would rest on is not stated. It lies past the limit that was asked: at that limit
/// the brief has no formula.
pub(super) fn nearest_limit(brief: &Brief, index: usize, upper: bool) -> Result<Option<Exact>, Error> {
    let requirement = &brief.requirements()[index];
    let (measure, basis) = (requirement.measure(), requirement.basis());
    let end = if upper { requirement.high() } else { requirement.low() };
    let Some(from) = end.filter(|_| requirement.low() != requirement.high()) else { return Ok(None) };
    let (rest, sense) = (brief.relaxed_requirement(index, upper), if upper { Sense::AtMost } else { Sense::AtLeast });
    let (compiled, frame) = (compile(&rest, measure, basis)?, frame_on(&rest, basis)?);
    let least_denominators: Vec<Exact> = compiled.rows().map(Row::least_denominator).collect();
    let greatest = least_denominators.iter().map(|least| -least).collect();
    let Some((most, point)) = least(&frame, greatest, brief.watched())? else { return Ok(None) };
    if !most.is_negative() || least_denominators.iter().any(Exact::is_negative) {
        return Ok(None);
    }
    let mut started = from.clone();
    least_ratio(&frame, brief.watched(), point, |point| {
        let limit = worst_ratio(&compiled, sense, point, &started)?;
        let mut costs = compiled.worst_coefficients(&limit, sense).ok()?;
        if sense == Sense::AtLeast {
            costs.iter_mut().for_each(|cost| *cost = -&*cost);
        }
        started = limit.clone();
        Some((limit, costs))
    })
}

/// `r(x)`, from the composition that is worst at `started` on; nothing where a denominator is 0 there.
fn worst_ratio(compiled: &Compiled, sense: Sense, point: &[Exact], started: &Exact) -> Option<Exact> {
    let (numerator, denominator) = compiled.worst(point, started, sense);
    let mut ratio = numerator.checked_div(&denominator)?;
    loop {
        let (numerator, denominator) = compiled.worst(point, &ratio, sense);
        if numerator == &ratio * &denominator {
            return Some(ratio);
        }
        ratio = numerator.checked_div(&denominator)?;
    }
}
