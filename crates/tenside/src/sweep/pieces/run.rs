//! Cells along the innermost dial, correctly rounded.
//!
//! Along one dial a quotient of polynomials of the first degree is, from a row where it is `v` on,
//!
//! ```text
//! (n + b s) / (d + c s)  =  v + r t,     t = s / (1 + g s),   v = n / d,   g = c / d,   r = b / d - v g
//! ```
//!
//! `v`, `r`, `g` and `t` are kept to twice the length of an `f64` with bounds. A cell is `v + r t`: the leading product and sum are worked out
//! with what rounding takes from them, the rest is added up, and the nearest `f64` is sure if the bound added to or taken from the rest leads
//! to the same one. Cells where it is not are named, for exact arithmetic to settle. So every cell is the `f64` nearest to the exact solution,
//! whatever the piece, the row where the run began, or the machine.

use super::sure::{ROUNDING, Sure, halves, two_product, two_sum};

/// Covers underflow, and the rounding of bounds.
const UNDERFLOW: f64 = 1e-270;

/// `t` at every row of a batch.
#[derive(Debug, Default)]
pub(super) struct Steps {
    high: Vec<f64>,
    low: Vec<f64>,
    /// Halves of the high parts.
    first: Vec<f64>,
    second: Vec<f64>,
    /// The greatest magnitude, and how far any may be off.
    most: f64,
    radius: f64,
}

/// How far the dial stands from where the run began, at every row of a batch.
pub(super) struct Along<'a> {
    pub(super) offsets: &'a [Sure],
    pub(super) start: Sure,
}

impl Steps {
    pub(super) fn sized(rows: usize) -> Self {
        let zeros = || vec![0.0; rows];
        Steps { high: zeros(), low: zeros(), first: zeros(), second: zeros(), most: 0.0, radius: 0.0 }
    }

    /// Works them out for a denominator that bends by `bend`; a bend of 0 leaves the offsets as they are.
    #[inline(always)]
    pub(super) fn fill(&mut self, along: &Along<'_>, bend: Sure) {
        let count = along.offsets.len();
        let straight = bend == Sure::default();
        let (mut most, mut radius) = (0.0f64, 0.0f64);
        let (highs, lows) = (&mut self.high[..count], &mut self.low[..count]);
        let (firsts, seconds) = (&mut self.first[..count], &mut self.second[..count]);
        let ones = Sure { high: 1.0, low: 0.0, radius: 0.0 };
        for ((((offset, high), low), first), second) in along.offsets.iter().zip(highs).zip(lows).zip(firsts).zip(seconds) {
            let mut step = offset.minus(along.start);
            if !straight {
                let divisor = ones.plus(bend.times(step));
                step = quotient(step, divisor);
            }
            (*high, *low) = (step.high, step.low);
            (*first, *second) = halves(step.high);
            most = most.max(step.high.abs());
            radius = if step.radius > radius { step.radius } else if step.radius.is_nan() { f64::INFINITY } else { radius };
        }
        (self.most, self.radius) = (most, radius);
    }
}

/// `step / divisor`, of infinite radius where the divisor could be 0.
#[inline(always)]
fn quotient(step: Sure, divisor: Sure) -> Sure {
    let high = step.high / divisor.high;
    let (product, lost) = two_product(high, divisor.high);
    let low = ((((step.high - product) - lost) + step.low) - high * divisor.low) / divisor.high;
    let size = divisor.high.abs();
    // Relative to a divisor that its own bound leaves far from 0.
    let part = divisor.radius / size;
    let radius = if part < 0.125 { (step.radius / size + high.abs() * part) * 1.25 + high.abs() * 16.0 * ROUNDING } else { f64::INFINITY };
    Sure { high, low, radius }
}

/// Fills the cells `value + rate . step`; false where some are not sure to be rounded right, whose flags are then set.
#[inline(always)]
pub(super) fn fill(value: Sure, rate: Sure, steps: &Steps, cells: &mut [f64], doubtful: &mut [bool]) -> bool {
    let count = cells.len();
    let radius = bound(value, rate, steps);
    let (rate_first, rate_second) = halves(rate.high);
    let mut all_sure = true;
    let highs = steps.high[..count].iter().zip(&steps.low[..count]);
    let halved = steps.first[..count].iter().zip(&steps.second[..count]);
    for (((high, low), (first, second)), cell) in highs.zip(halved).zip(cells.iter_mut()) {
        let product = rate.high * high;
        let lost = rate_second * second - (((product - rate_first * first) - rate_second * first) - rate_first * second);
        let (sum, rest) = two_sum(value.high, product);
        let rest = (rest + value.low) + (lost + (rate.high * low + rate.low * high));
        let nearest = sum + rest;
        let rest = (sum - nearest) + rest;
        all_sure &= (nearest + (rest + radius) == nearest) & (nearest + (rest - radius) == nearest);
        *cell = nearest;
    }
    if !all_sure {
        doubts(value, rate, steps, cells, doubtful);
    }
    all_sure
}

/// How far a cell's sum may be off before it is rounded.
#[inline(always)]
fn bound(value: Sure, rate: Sure, steps: &Steps) -> f64 {
    let sizes = value.high.abs() + rate.high.abs() * steps.most;
    (value.radius + rate.radius * steps.most + (rate.high.abs() + rate.radius) * steps.radius + 16.0 * ROUNDING * sizes) * 1.01 + UNDERFLOW
}

/// Sets the flags of cells that are not sure.
#[cold]
fn doubts(value: Sure, rate: Sure, steps: &Steps, cells: &[f64], doubtful: &mut [bool]) {
    let radius = bound(value, rate, steps);
    for (place, (cell, doubtful)) in cells.iter().zip(doubtful).enumerate() {
        let (product, lost) = two_product(rate.high, steps.high[place]);
        let (sum, rest) = two_sum(value.high, product);
        let rest = (rest + value.low) + (lost + (rate.high * steps.low[place] + rate.low * steps.high[place]));
        let nearest = sum + rest;
        let rest = (sum - nearest) + rest;
        *doubtful = !(nearest == *cell && nearest + (rest + radius) == nearest && nearest + (rest - radius) == nearest);
    }
}
