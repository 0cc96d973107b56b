//! From where to where, exactly, one number of a brief can be turned while the recipe keeps its structure: the same requirements bind, the
//! same lines stand at their ends.
//!
//! Along a dial that moves one row, the costs or one end, every value, activity, multiplier and reduced cost of a basis is a Moebius function
//! of how far the dial is turned, `t`, with one common denominator. Three exact solutions of the same basis, at 0, `u` and `w`, settle it:
//!
//! ```text
//! q(t) = (a + b t) / (1 + g t)         q(0) = a,   q(u) (1 + g u) = a + b u,   q(w) (1 + g w) = a + b w
//! g = (a - q(w) + (w / u) (q(u) - a)) / (w (q(w) - q(u)))
//! ```
//!
//! The structure ends where the first of them reaches its limit, `t = -a / b`, or where the denominator is 0.

use super::linear::{Basis, Candidate, Optimum, Outcome, Place, Program, judge_exactly};
use super::walk::Path;
use super::{Answer, Turning};
use crate::brief::Dial;
use crate::error::Error;
use crate::number::{Exact, HalfWay};

/// The values of a dial between which a structure stays; an end that is absent is none.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(super) struct Extent {
    pub(super) from: Option<Exact>,
    pub(super) to: Option<Exact>,
}

impl Extent {
    fn not_below(&mut self, end: Exact) {
        if self.from.as_ref().is_none_or(|from| *from < end) {
            self.from = Some(end);
        }
    }

    fn not_above(&mut self, end: Exact) {
        if self.to.as_ref().is_none_or(|to| *to > end) {
            self.to = Some(end);
        }
    }
}

/// What must stay 0 or above for the basis to stay the best, at one value of the dial.
fn margins(program: &Program, basis: &Basis, optimum: &Optimum) -> Vec<Exact> {
    let mut margins = Vec::new();
    // A basic variable stays in its range; of what stands at an end the multiplier keeps its sign, unless it cannot move.
    let mut keep = |place: Place, value: &dyn Fn() -> Exact, low: Option<&Exact>, high: Option<&Exact>, multiplier: &Exact| {
        if place == Place::Basic {
            let value = value();
            margins.extend(low.map(|low| &value - low));
            margins.extend(high.map(|high| high - &value));
        } else if low != high || low.is_none() {
            margins.push(multiplier.abs());
        }
    };
    for (index, (row, multiplier)) in program.rows().iter().zip(&optimum.row_multipliers).enumerate() {
        let parts = || row.coefficients.iter().zip(&optimum.values).filter(|(coefficient, _)| !coefficient.is_zero());
        let activity = || parts().map(|(coefficient, value)| coefficient * value).sum();
        keep(basis.row(index), &activity, row.low.as_ref(), row.high.as_ref(), multiplier);
    }
    for (index, ((column, value), reduced)) in program.columns().iter().zip(&optimum.values).zip(&optimum.reduced_costs).enumerate() {
        keep(basis.column(index), &|| value.clone(), column.low.as_ref(), column.high.as_ref(), reduced);
    }
    margins
}

/// A number about half-way from `value` to `end`, of few digits, so that what is reckoned at it stays short.
pub(super) fn between(value: &Exact, end: f64) -> Option<Exact> {
    let from = value.to_f64();
    // The mantissa cut off: a power of two.
    let power = f64::from_bits((end - from).abs().to_bits() & (0x7ff << 52));
    if power == 0.0 {
        return None;
    }
    let short = Exact::from_binary(from + (end - from) / 2.0)?.rounded_to(&Exact::from_binary(power / 8.0)?, HalfWay::ToEven);
    (short != *value).then_some(short)
}

/// The extent of the structure of `candidate`, which has to be the best at `at` and at both `others`; nothing where it is not.
pub(super) fn extent(path: &Path, candidate: &Candidate, at: &Exact, others: [&Exact; 2]) -> Option<Extent> {
    let Candidate::Optimal(basis) = candidate else { return None };
    let sample = |value: &Exact| {
        let program = path.program(value);
        let Outcome::Optimal(optimum) = judge_exactly(&program, candidate, &[])? else { return None };
        Some(margins(&program, basis, &optimum))
    };
    let (here, first, second) = (sample(at)?, sample(others[0])?, sample(others[1])?);
    let (u, w) = (others[0] - at, others[1] - at);
    let samples: Vec<[&Exact; 3]> = here.iter().zip(&first).zip(&second).map(|((here, first), second)| [here, first, second]).collect();
    // Any one that moves tells the denominator.
    let bend = samples.iter().find_map(|[here, first, second]| (*here - *second + &w / &u * (*first - *here)).checked_div(&(&w * (*second - *first))));
    let bend = bend.unwrap_or_default();
    let mut extent = Extent::default();
    for [here, first, _] in samples {
        let slope = (first * (Exact::ONE + &bend * &u) - here) / &u;
        let reached = (-here).checked_div(&slope).map(|step| at + step);
        match reached {
            Some(end) if slope.is_positive() => extent.not_below(end),
            Some(end) => extent.not_above(end),
            None => {}
        }
    }
    if let Some(pole) = Exact::from(-1).checked_div(&bend) {
        if pole.is_positive() { extent.not_above(at + pole) } else { extent.not_below(at + pole) }
    }
    Some(extent)
}

/// One number of a brief and the range in which the recipe keeps its structure.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DialRange {
    /// The number.
    pub dial: Dial,
    /// Its value.
    pub value: Exact,
    /// The lowest value; `None` where the structure stays as far down as the number may be.
    pub from: Option<Exact>,
    /// The highest value; `None` where the structure stays as far up as the number may be.
    pub to: Option<Exact>,
}

impl DialRange {
    /// A sentence: `part of capb-30 in split wash at 1: the same structure from 0.4 to 2.1`.
    #[must_use]
    pub fn sentence(&self) -> String {
        let span = match (&self.from, &self.to) {
            (Some(from), Some(to)) => format!("from {} to {}", from.rounded_text(4), to.rounded_text(4)),
            (Some(from), None) => format!("from {} on", from.rounded_text(4)),
            (None, Some(to)) => format!("up to {}", to.rounded_text(4)),
            (None, None) => "everywhere".to_string(),
        };
        format!("{} at {}: the same structure {span}", self.dial, self.value)
    }
}

impl Answer {
    /// From where to where a number of the brief can be turned while the recipe keeps its structure: the same requirements bind and the same
    /// lines stand at their ends, so every percentage changes smoothly. Without objective the range that is farthest from its middle belongs to
    /// the structure too, though it does not bind. The ends are exact; one that the number may not have is left out. `None` where several rows
    /// move with the number, and where the answer stands just where two structures meet.
    ///
    /// ```
    /// use tenside::brief::{Brief, Dial, SplitBasis};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::number::Exact;
    /// let answer = Brief::new("Powders", &Catalogue::starter())?
    ///     .between("kaolin", 0, 10)?
    ///     .between("corn-starch", 0, 30)?
    ///     .split("powders", SplitBasis::Weight, &[("kaolin", 1), ("corn-starch", 1)])?
    ///     .qs("water")?
    ///     .minimise(Measure::water())
    ///     .solve()?;
    /// // As much kaolin as there may be; three parts of starch on one are its 30 %.
    /// let range = answer.dial_range(&Dial::part("powders", "corn-starch"))?.unwrap();
    /// assert_eq!((range.from, range.to), (None, Some(Exact::from(3))));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A dial that the brief does not have.
    pub fn dial_range(&self, dial: &Dial) -> Result<Option<DialRange>, Error> {
        let value = self.brief().dial_value(dial)?;
        let mut turning = self.brief().turning(dial)?;
        let (lowest, highest) = turning.domain().clone();
        // What a number may not be is no end.
        let within = |end: &Exact| lowest <= *end && *end <= highest;
        let extent = turning.extent(&value);
        Ok(extent.map(|Extent { from, to }| DialRange { dial: dial.clone(), value, from: from.filter(within), to: to.filter(within) }))
    }

    /// The [range](Answer::dial_range) of every part of every split: how far the ratios can be turned.
    ///
    /// # Errors
    /// As [`Answer::dial_range`].
    pub fn ratio_ranges(&self) -> Result<Vec<DialRange>, Error> {
        let mut ranges = Vec::new();
        for split in self.brief().splits() {
            for (line, _) in split.parts() {
                ranges.extend(self.dial_range(&Dial::part(split.name(), line))?);
            }
        }
        Ok(ranges)
    }
}

impl Turning {
    /// The exact extent of the structure at a value of the dial.
    fn extent(&mut self, value: &Exact) -> Option<Extent> {
        self.walk_mut()?.extent(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// So the samples on both sides of a value differ, each inside its stretch.
    #[test]
    fn a_number_between_is_about_half_way() {
        for value in [Exact::ZERO, Exact::from(7), Exact::ratio(3, 10), Exact::ratio(-1, 3), Exact::from(100)] {
            for width in [1e-6, 0.3, 0.5, 2.0, 2.000_000_001, 3.9, 1e5] {
                for width in [width, -width] {
                    let short = between(&value, value.to_f64() + width).unwrap();
                    let share = (short - &value).to_f64() / width;
                    assert!((0.4..=0.6).contains(&share), "{share} of {width} from {value}");
                }
            }
            assert_eq!(between(&value, value.to_f64()), None);
        }
    }
}
