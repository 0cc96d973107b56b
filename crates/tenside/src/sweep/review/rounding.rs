//! Where plain rounding gives a row's grid formula for certain.
//!
//! The exact solution is rounded line by line, and the absorber takes the rest (`solve/grid`). With `n` lines that
//! moves a line by at most `n` ppm. That is the grid formula if it breaks no one-sided limit and leaves the absorber in
//! its range. A limit `N x <= t D x` is not broken if `t D x - N x` is above what so many ppm can do,
//! `n sum |N_j - t D_j|` over the lines that are not fixed. Every factor of safety is 2, so that the errors of floats
//! do not matter. Where that is not so, the row is solved; nothing is decided here but that.

use super::super::axis::Axis;
use super::super::points::{Points, Turned, turned};
use crate::brief::{Brief, BriefLine, Objective, Parameter, Role};
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::number::Exact;
use crate::solve::{Sides, sides, weights_as_far_as_known};

/// A one-sided limit, or both sides of a range.
struct Limit {
    numerator: Vec<f64>,
    denominator: Vec<f64>,
    low: Option<Turned<f64>>,
    high: Option<Turned<f64>>,
}

/// What a line that may take the rest may be.
struct Range {
    line: usize,
    low: Turned<f64>,
    high: Turned<f64>,
}

/// The one-sided limits of a brief for some raw materials, prices and moisture.
pub(super) struct Rounding {
    limits: Vec<Limit>,
    /// The q.s. line, else the lines of which the largest is the absorber.
    ranges: Vec<Range>,
    /// False where a limit is no fixed weighing of the lines.
    is_linear: bool,
}

impl Rounding {
    /// For the places of a row on the axes that turn weights.
    pub(super) fn new(points: &Points, places: &[usize]) -> Result<(Self, Brief), Error> {
        let chosen = points.axes.iter().cloned().zip(places).filter(|(axis, _)| axis.turns_weights());
        let (only, only_places): (Vec<Axis>, Vec<usize>) = chosen.unzip();
        let brief = turned(&points.brief, &only, &only_places)?;
        let floats = |values: &[Exact]| values.iter().map(Exact::to_f64).collect::<Vec<f64>>();
        let mut limits = Vec::new();
        let mut limit = |(numerator, denominator): Sides, low: Option<Turned<f64>>, high: Option<Turned<f64>>| {
            limits.push(Limit { numerator: floats(&numerator), denominator: floats(&denominator), low, high });
        };
        let mut most_moisture: Option<&Exact> = None;
        for (given, requirement) in points.brief.requirements().iter().zip(brief.requirements()) {
            if let Basis::Finished(moisture) = requirement.basis() {
                most_moisture = most_moisture.max(Some(moisture));
            }
            // An equation has no end that an axis could turn alone.
            if requirement.low() != requirement.high() {
                let name = given.name();
                let low = requirement.low().map(|low| points.number(&Parameter::AtLeast(name.clone()), low));
                let high = requirement.high().map(|high| points.number(&Parameter::AtMost(name), high));
                limit(weights_as_far_as_known(&brief, requirement.measure(), requirement.basis())?, low, high);
            }
        }
        if let Some(Objective::Measure { basis: Basis::Finished(moisture), .. }) = brief.objective() {
            most_moisture = most_moisture.max(Some(moisture));
        }
        if let Some(moisture) = most_moisture {
            let water = sides(&brief, &Measure::water(), &Basis::AsCharged)?;
            limit(water, Some(Turned::still(moisture.to_f64())), None);
        }
        let range = |(line, known): (usize, &BriefLine)| {
            let (low, high) = known.role().range();
            let name = || known.name().to_string();
            let low = points.number(&Parameter::Lowest(name()), &low.percent());
            let high = points.number(&Parameter::Highest(name()), &high.percent());
            Range { line, low, high }
        };
        let kinds: [fn(&BriefLine) -> bool; 3] = [
            |line| line.role() == &Role::Qs,
            |line| is_free(line) && !line.material().main_class().is_dosed_with_care(),
            is_free,
        ];
        let of_kind = |kind: fn(&BriefLine) -> bool| -> Vec<Range> {
            brief.lines().iter().enumerate().filter(|(_, line)| kind(line)).map(range).collect()
        };
        let ranges = kinds.into_iter().map(of_kind).find(|ranges| !ranges.is_empty()).unwrap_or_default();
        let is_linear = !brief.requirements().iter().any(|requirement| requirement.is_for_every_composition());
        Ok((Rounding { limits, ranges, is_linear }, brief))
    }

    /// True where these shares, each with its room, are so far from every limit that rounding breaks none.
    pub(super) fn is_plain(&self, places: &[usize], shares: &[(u32, u32)]) -> bool {
        self.is_linear
            && self.absorbers_have_room(places, shares)
            && self.limits.iter().all(|limit| limit.is_far(places, shares))
    }

    /// Whichever of the largest is the absorber, it stays in its range.
    fn absorbers_have_room(&self, places: &[usize], shares: &[(u32, u32)]) -> bool {
        let numbers = |range: &Range| (f64::from(shares[range.line].0), 2.0 * f64::from(shares[range.line].1));
        let largest = self.ranges.iter().map(|range| numbers(range).0).fold(0.0, f64::max);
        let could_be = self.ranges.iter().filter(|range| numbers(range).0 + numbers(range).1 >= largest);
        let ppm = |percent: f64| percent * 10_000.0;
        could_be.map(|range| (range, numbers(range))).all(|(range, (parts, room))| {
            ppm(*range.low.at(places)) + room < parts && parts + room < ppm(*range.high.at(places))
        })
    }
}

impl Limit {
    fn is_far(&self, places: &[usize], shares: &[(u32, u32)]) -> bool {
        let far = |limit: &Turned<f64>, sign: f64| {
            let limit = *limit.at(places);
            let (mut left, mut reach) = (0.0, 0.0);
            for ((numerator, denominator), (parts, room)) in self.numerator.iter().zip(&self.denominator).zip(shares) {
                let weight = sign * (numerator - limit * denominator);
                left += weight * f64::from(*parts);
                reach += weight.abs() * f64::from(*room);
            }
            left > 2.0 * reach
        };
        self.low.as_ref().is_none_or(|low| far(low, 1.0)) && self.high.as_ref().is_none_or(|high| far(high, -1.0))
    }
}

fn is_free(line: &BriefLine) -> bool {
    !matches!(line.role(), Role::Fixed(_))
}
