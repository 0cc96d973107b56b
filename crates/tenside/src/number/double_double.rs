//! Numbers of twice the length of an `f64` with a bound of how far they may be from what they stand for.
//!
//! Sums and products are worked out as in [`DoubleDouble::plus`] and [`DoubleDouble::times`]: the leading parts without
//! error (D. E. Knuth; T. J. Dekker, Numerische Mathematik 18, 1971; both from memory), the rest rounded. What is
//! rounded is smaller than the operands by `2^-53` or more, and there are fewer than eight roundings of `2^-53` each,
//! so the error is below `2^-102` of the magnitudes; [`ROUNDING`] is four times that. Nothing is fused, so that every
//! machine gives the same bits.

use crate::number::Exact;

/// What an operation adds to the radius, times the magnitudes of the operands.
pub(crate) const ROUNDING: f64 = 1.0 / (1u128 << 100) as f64;
/// Covers what underflow takes from products.
const UNDERFLOW: f64 = 1e-280;
/// Covers the rounding of radii themselves.
const ROUNDED_UP: f64 = 1.000_001;
/// `2^27 + 1`, which splits a number into halves.
const SPLIT: f64 = 134_217_729.0;

/// `high + low`, off by `radius` at most.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct DoubleDouble {
    pub(crate) high: f64,
    pub(crate) low: f64,
    pub(crate) radius: f64,
}

impl DoubleDouble {
    /// The number itself, to twice 53 bits.
    pub(crate) fn of(value: &Exact) -> Self {
        if value.is_zero() {
            return DoubleDouble::default();
        }
        if let Some((numerator, denominator)) = value.as_quotient() {
            // What a quotient rounded to the nearest leaves of the numerator is a float.
            let high = numerator / denominator;
            let (product, lost) = two_product(high, denominator);
            return DoubleDouble::of_parts(high, ((numerator - product) - lost) / denominator);
        }
        let high = value.to_f64();
        DoubleDouble::of_parts(high, value.rest_to_f64(high))
    }

    /// The number that these are the parts of.
    pub(crate) fn of_parts(high: f64, low: f64) -> Self {
        DoubleDouble { high, low, radius: if high == 0.0 { 0.0 } else { high.abs() * ROUNDING + UNDERFLOW } }
    }

    #[inline(always)]
    pub(crate) fn plus(self, other: DoubleDouble) -> Self {
        let (sum, lost) = two_sum(self.high, other.high);
        let (high, low) = two_sum(sum, lost + (self.low + other.low));
        let rounded = (self.high.abs() + other.high.abs()) * ROUNDING;
        DoubleDouble { high, low, radius: (self.radius + other.radius + rounded) * ROUNDED_UP }
    }

    #[inline(always)]
    pub(crate) fn minus(self, other: DoubleDouble) -> Self {
        self.plus(DoubleDouble { high: -other.high, low: -other.low, radius: other.radius })
    }

    #[inline(always)]
    pub(crate) fn times(self, other: DoubleDouble) -> Self {
        let (product, lost) = two_product(self.high, other.high);
        let (high, low) = two_sum(product, lost + (self.high * other.low + self.low * other.high));
        let sizes = (self.high.abs(), other.high.abs());
        let radius = (sizes.0 * other.radius + sizes.1 * self.radius) * ROUNDED_UP + self.radius * other.radius;
        DoubleDouble { high, low, radius: radius * ROUNDED_UP + sizes.0 * sizes.1 * ROUNDING + UNDERFLOW }
    }

    /// One over it; of infinite radius where it could be 0.
    pub(crate) fn inverse(self) -> Self {
        let part = (self.radius + self.high.abs() * ROUNDING) / self.high.abs();
        if part.is_nan() || part > 0.125 {
            return DoubleDouble { high: 0.0, low: 0.0, radius: f64::INFINITY };
        }
        let high = 1.0 / self.high;
        let (product, lost) = two_product(high, self.high);
        let low = ((1.0 - product) - lost - high * self.low) * high;
        // The first quotient is off by a part of 2^-52 at most, its correction by the square of that and by 2^-52 of
        // itself.
        DoubleDouble { high, low, radius: high.abs() * (part * 1.25 + 8.0 * ROUNDING) + UNDERFLOW }
    }

    /// The `f64` nearest to what it stands for, where that is sure.
    pub(crate) fn nearest(self) -> Option<f64> {
        let value = self.high + self.low;
        let rest = (self.high - value) + self.low;
        (value + (rest + self.radius) == value && value + (rest - self.radius) == value).then_some(value)
    }
}

/// The sum and what rounding took from it.
#[inline(always)]
pub(crate) fn two_sum(left: f64, right: f64) -> (f64, f64) {
    let sum = left + right;
    let from_right = sum - left;
    (sum, (left - (sum - from_right)) + (right - from_right))
}

/// The product and what rounding took from it.
#[inline(always)]
pub(crate) fn two_product(left: f64, right: f64) -> (f64, f64) {
    let product = left * right;
    let ((left_high, left_low), (right_high, right_low)) = (halves(left), halves(right));
    (
        product,
        left_low * right_low - (((product - left_high * right_high) - left_low * right_high) - left_high * right_low),
    )
}

/// Two halves of 26 bits each.
#[inline(always)]
fn halves(number: f64) -> (f64, f64) {
    let scaled = SPLIT * number;
    let high = scaled - (scaled - number);
    (high, number - high)
}

#[cfg(test)]
mod tests {
    use super::*;

    struct Numbers(u64);

    impl Numbers {
        fn below(&mut self, end: u64) -> i64 {
            self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            ((self.0 >> 33) % end) as i64
        }

        fn number(&mut self) -> Exact {
            let whole = |numbers: &mut Self| {
                Exact::from(numbers.below(1 << 31) - (1 << 30)) * Exact::from(1 + numbers.below(1 << 31))
            };
            whole(self) / Exact::from(1 + self.below(1 << 31)) / Exact::from(1 + self.below(1 << 20))
        }
    }

    fn holds(sure: DoubleDouble, exact: &Exact) {
        assert!(sure.radius.is_finite());
        let off = (Exact::from_binary(sure.high).unwrap() + Exact::from_binary(sure.low).unwrap() - exact).abs();
        assert!(off <= Exact::from_binary(sure.radius).unwrap(), "{sure:?} for {exact}");
        if let Some(nearest) = sure.nearest() {
            assert_eq!(nearest, exact.to_f64());
        }
    }

    /// Short quotients take a way of their own.
    #[test]
    fn the_second_part_is_the_float_nearest_to_what_the_first_leaves() {
        let numbers = &mut Numbers(17);
        let short =
            |numbers: &mut Numbers| Exact::ratio(numbers.below(1 << 31) - (1 << 30), 1 + numbers.below(1 << 20));
        for round in 0..4000 {
            let number = if round % 2 == 0 { numbers.number() } else { short(numbers) };
            let DoubleDouble { high, low, .. } = DoubleDouble::of(&number);
            assert_eq!(
                (high, low),
                (number.to_f64(), (&number - Exact::from_binary(high).unwrap()).to_f64()),
                "{number}"
            );
        }
    }

    #[test]
    fn what_they_stand_for_is_within_the_radius() {
        let numbers = &mut Numbers(3);
        let mut sure = 0;
        for round in 0..4000 {
            let (first, second) = (numbers.number(), numbers.number());
            // Every other time the sum nearly cancels.
            let second = if round % 2 == 0 { &second * Exact::ratio(1, 1 << 40) - &first } else { second };
            let (one, other) = (DoubleDouble::of(&first), DoubleDouble::of(&second));
            holds(one, &first);
            holds(one.plus(other), &(&first + &second));
            holds(one.minus(other), &(&first - &second));
            holds(one.times(other), &(&first * &second));
            let sum = &first + &second;
            if let Some(inverse) = sum.reciprocal() {
                holds(one.plus(other).inverse(), &inverse);
                let quotient = one.plus(other).inverse().times(other);
                holds(quotient, &(&inverse * &second));
                sure += usize::from(quotient.nearest().is_some());
            }
        }
        assert!(sure > 3000, "{sure}");
        assert_eq!(DoubleDouble::default().inverse().nearest(), None);
        assert_eq!(DoubleDouble::of(&Exact::ratio(1, 8)).nearest(), Some(0.125));
    }
}
