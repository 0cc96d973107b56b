//! Numbers of twice the length of an `f64`, as the sum of two: for entries that are a sum, so that the sum is as near as one number is.
//!
//! Source: error-free sums by D. E. Knuth and products by T. J. Dekker (Numerische Mathematik 18, 1971; both from memory). Nothing is fused.

use crate::number::Exact;

/// `2^27 + 1`, which splits a number into halves.
const SPLIT: f64 = 134_217_729.0;
/// A sum that lost more than 40 of its 53 bits to cancelling is not used.
const MOST_LOST: f64 = 1.0 / (1u64 << 40) as f64;
/// Magnitudes whose products neither overflow nor lose digits below the least normal number, 0 aside.
const SMALLEST: f64 = 1e-60;
const GREATEST: f64 = 1e60;

/// `high + low`, `high` being the nearest `f64`.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(in crate::solve) struct Twofold {
    high: f64,
    low: f64,
}

impl Twofold {
    /// Within `2^-104` of the value, relatively; nothing where it is out of scale.
    pub(in crate::solve) fn of(value: &Exact) -> Option<Self> {
        if value.is_zero() {
            return Some(Twofold::default());
        }
        let high = value.to_f64();
        if !(SMALLEST..=GREATEST).contains(&high.abs()) {
            return None;
        }
        let low = (value - Exact::from_binary(high)?).to_f64();
        Some(Twofold { high, low })
    }

    /// The nearest `f64`.
    pub(in crate::solve) fn nearest(self) -> f64 {
        self.high
    }

    /// Times a power of two.
    pub(super) fn scaled(self, power: f64) -> Self {
        Twofold { high: self.high * power, low: self.low * power }
    }

    /// `self + rate . at`, within `2^-52` of it relatively; nothing where too much of the sum cancels for that.
    ///
    /// The product and the sum of the high parts are without error. What the low parts bring is off by less than `2^-100` of the sum of
    /// magnitudes, so the result is rounded once where no more than 40 bits cancel.
    pub(super) fn plus_times(self, rate: Twofold, at: Twofold) -> Option<f64> {
        if rate.high == 0.0 {
            return Some(self.high);
        }
        let (product, rest) = product(rate.high, at.high);
        let (sum, lost) = sum(self.high, product);
        let low = lost + (rest + (self.low + (rate.high * at.low + rate.low * at.high)));
        let value = sum + low;
        let enough = value.abs() >= (self.high.abs() + product.abs()) * MOST_LOST;
        (enough && (value == 0.0 || (SMALLEST..=GREATEST).contains(&value.abs()))).then_some(value)
    }
}

/// The sum and what rounding took from it.
fn sum(left: f64, right: f64) -> (f64, f64) {
    let sum = left + right;
    let from_right = sum - left;
    (sum, (left - (sum - from_right)) + (right - from_right))
}

/// The product and what rounding took from it.
fn product(left: f64, right: f64) -> (f64, f64) {
    let product = left * right;
    let ((left_high, left_low), (right_high, right_low)) = (halves(left), halves(right));
    (product, left_low * right_low - (((product - left_high * right_high) - left_low * right_high) - left_high * right_low))
}

fn halves(number: f64) -> (f64, f64) {
    let scaled = SPLIT * number;
    let high = scaled - (scaled - number);
    (high, number - high)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sums_are_as_near_as_one_number_is() {
        let mut state = 9u64;
        let mut next = || {
            state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (state >> 33) as i64
        };
        // Rounded once, and a little for what the low parts are off.
        let unit = Exact::ratio(65, 1 << 59);
        let mut refused = 0;
        for round in 0..4000 {
            let mut number = |greatest: i64| Exact::ratio(next() % greatest - greatest / 2, 1 + next() % 100_000);
            let (rate, at) = (number(1_000_000), number(1000));
            // Every other sum cancels down to a small rest.
            let base = if round % 2 == 0 { number(1_000_000) } else { -(&rate * &at) + number(100) * Exact::ratio(1, 1_000_000) };
            let exact = &base + &rate * &at;
            let twofold = |value: &Exact| Twofold::of(value).unwrap();
            match twofold(&base).plus_times(twofold(&rate), twofold(&at)) {
                Some(value) => {
                    let off = (Exact::from_binary(value).unwrap() - &exact).abs();
                    assert!(off <= Exact::from_binary(value.abs()).unwrap() * &unit, "{base} + {rate} . {at} = {exact}, got {value:e}");
                }
                None => refused += 1,
            }
        }
        assert!(refused < 100, "{refused}");
        // What cancels wholly is not taken for a number near 0.
        let third = Exact::ratio(1, 3);
        let refused = Twofold::of(&-(&third * &third)).unwrap().plus_times(Twofold::of(&third).unwrap(), Twofold::of(&third).unwrap());
        assert!(refused.is_none() || refused == Some(0.0));
    }

    #[test]
    fn what_cancels_is_refused_at_any_scale() {
        let mut power = Exact::ONE;
        for denominator in 3..60 {
            power = power * Exact::ratio(1, 8);
            let (rate, at) = (Exact::ratio(1, denominator) * &power, Exact::ratio(7, 2 * denominator + 1));
            let [base, rate, at] = [-(&rate * &at), rate, at].map(|value| Twofold::of(&value).unwrap());
            let sum = base.plus_times(rate, at);
            assert!(sum.is_none() || sum == Some(0.0), "{sum:?} at {power}");
        }
    }

    #[test]
    fn a_power_of_two_scales_both_parts() {
        let value = Exact::ratio(1, 3);
        for power in [0.25, 8.0] {
            assert_eq!(Twofold::of(&value).unwrap().scaled(power), Twofold::of(&(&value * Exact::from_binary(power).unwrap())).unwrap());
        }
    }

    #[test]
    fn numbers_out_of_scale_are_refused() {
        let huge = (0..300).fold(Exact::ONE, |value, _| value * Exact::from(10));
        assert_eq!(Twofold::of(&huge), None);
        assert_eq!(Twofold::of(&huge.reciprocal().unwrap()), None);
        assert_eq!(Twofold::of(&Exact::ZERO), Some(Twofold::default()));
    }
}
