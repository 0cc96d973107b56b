//! Cells along the innermost coordinate, correctly rounded.
//!
//! Along one coordinate a quotient of polynomials of the first degree is, from a row where it is `v` on,
//!
//! ```text
//! (n + b s) / (d + c s)  =  v + r t,     t = s / (1 + g s),   v = n / d,   g = c / d,   r = b / d - v g
//! ```
//!
//! `v`, `r`, `g` and `t` are kept to twice the length of an `f64` with bounds. A cell is `v + r t`: the leading product
//! and sum are worked out with what rounding takes from them, the rest is added up, and the nearest `f64` is sure if
//! the bound added to or taken from the rest leads to the same one. Cells where it is not are named, for exact
//! arithmetic to settle. So every cell is the `f64` nearest to the exact solution, whatever the region, the row where
//! the run began, or the machine.

use crate::number::{DoubleDouble, ROUNDING, two_product, two_sum};

/// Covers underflow, and the rounding of bounds.
const UNDERFLOW: f64 = 1e-270;

/// `t` at every row of a run.
pub(super) struct Steps {
    high: Vec<f64>,
    low: Vec<f64>,
    /// The greatest magnitude, and how far any may be off.
    most: f64,
    radius: f64,
}

impl Steps {
    pub(super) fn sized(rows: usize) -> Self {
        Steps { high: vec![0.0; rows], low: vec![0.0; rows], most: 0.0, radius: 0.0 }
    }

    /// Works them out for offsets, of which the run begins at the first, and a denominator that bends by `bend`; a bend
    /// of 0 leaves the offsets as they are.
    ///
    /// The coordinate goes one way along a run, so magnitudes and divisors lie between those of its ends.
    #[inline(always)]
    pub(super) fn fill(&mut self, offsets: &[f64], offsets_low: &[f64], bend: DoubleDouble) {
        let count = offsets.len();
        let (start, start_low, end) = (offsets[0], offsets_low[0], offsets[count - 1]);
        let farthest = start.abs().max(end.abs());
        let far = (end - start).abs() + farthest * ROUNDING;
        // Each offset is a number of twice 53 bits.
        let off = 8.0 * ROUNDING * farthest + UNDERFLOW;
        let (highs, lows) = (&mut self.high[..count], &mut self.low[..count]);
        for (((high, low), offset), offset_low) in highs.iter_mut().zip(lows.iter_mut()).zip(offsets).zip(offsets_low) {
            let (difference, lost) = two_sum(*offset, -start);
            (*high, *low) = two_sum(difference, lost + (offset_low - start_low));
        }
        (self.most, self.radius) = (far * 1.01, off);
        if bend != DoubleDouble::default() {
            let (bend_high, bend_low) = (bend.high, bend.low);
            for (high, low) in highs.iter_mut().zip(lows.iter_mut()) {
                // 1 + bend . step
                let (product, lost) = two_product(bend_high, *high);
                let (sum, rest) = two_sum(1.0, product);
                let rest = rest + (lost + (bend_high * *low + bend_low * *high));
                let divisor = sum + rest;
                let rest = (sum - divisor) + rest;
                // step / divisor
                let quotient = *high / divisor;
                let (product, lost) = two_product(quotient, divisor);
                *low = ((((*high - product) - lost) + *low) - quotient * rest) / divisor;
                *high = quotient;
            }
            let least = (1.0 + bend_high * (end - start)).abs().min(1.0) * 0.99;
            // How far divisors may be off, as a part of the least.
            let part =
                (bend.radius * far + bend_high.abs() * off + 16.0 * ROUNDING * (1.0 + bend_high.abs() * far)) / least;
            let most = far / least * 1.02;
            self.most = most;
            self.radius =
                if part < 0.125 { (off / least + most * part) * 1.25 + 16.0 * ROUNDING * most } else { f64::INFINITY };
        }
    }

    /// The number that `value + rate . step` is nearest to in every row, if it is one for sure.
    pub(super) fn level(&self, value: DoubleDouble, rate: DoubleDouble) -> Option<f64> {
        let moved = (rate.high.abs() + rate.radius) * (self.most + self.radius) * 1.01;
        DoubleDouble { radius: value.radius + moved, ..value }.nearest()
    }
}

/// Fills the cells `value + rate . step`; false where some are not sure to be rounded right, whose flags are then set.
#[inline(always)]
pub(super) fn fill(
    value: DoubleDouble,
    rate: DoubleDouble,
    steps: &Steps,
    cells: &mut [f64],
    doubtful: &mut [bool],
) -> bool {
    let radius = bound(value, rate, steps);
    // Bits in which a cell differs from what it would be with the bound added or taken away.
    let mut differing = 0u64;
    for ((high, low), cell) in steps.high.iter().zip(&steps.low).zip(cells.iter_mut()) {
        let (nearest, rest) = sum(value, rate, *high, *low);
        let bits = nearest.to_bits();
        differing |= ((nearest + (rest + radius)).to_bits() ^ bits) | ((nearest + (rest - radius)).to_bits() ^ bits);
        *cell = nearest;
    }
    if differing != 0 {
        doubts(value, rate, steps, &mut doubtful[..cells.len()]);
    }
    differing == 0
}

/// `value + rate . step`: the nearest `f64`, and what is left beside it.
#[inline(always)]
fn sum(value: DoubleDouble, rate: DoubleDouble, high: f64, low: f64) -> (f64, f64) {
    let (product, lost) = two_product(rate.high, high);
    let (sum, rest) = two_sum(value.high, product);
    let rest = (rest + value.low) + (lost + (rate.high * low + rate.low * high));
    let nearest = sum + rest;
    (nearest, (sum - nearest) + rest)
}

/// How far a cell's sum may be off before it is rounded.
#[inline(always)]
fn bound(value: DoubleDouble, rate: DoubleDouble, steps: &Steps) -> f64 {
    let sizes = value.high.abs() + rate.high.abs() * steps.most;
    (value.radius + rate.radius * steps.most + (rate.high.abs() + rate.radius) * steps.radius + 16.0 * ROUNDING * sizes)
        * 1.01
        + UNDERFLOW
}

/// Sets the flags of cells that are not sure.
#[cold]
fn doubts(value: DoubleDouble, rate: DoubleDouble, steps: &Steps, doubtful: &mut [bool]) {
    let radius = bound(value, rate, steps);
    for ((high, low), doubtful) in steps.high.iter().zip(&steps.low).zip(doubtful) {
        let (nearest, rest) = sum(value, rate, *high, *low);
        *doubtful = !(nearest + (rest + radius) == nearest && nearest + (rest - radius) == nearest);
    }
}
