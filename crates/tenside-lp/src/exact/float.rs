//! Where a float is made exact, and an exact number the nearest float: the one file beside the search in which floats
//! stand.

#![allow(
    clippy::float_arithmetic,
    clippy::disallowed_types,
    reason = "what is exact comes from floats and goes to them here alone"
)]

use dashu_ratio::{RBig, Relaxed};

use super::Exact;
use crate::error::{Error, ErrorKind};

impl Exact {
    /// The number a Python or JSON user means by a binary float: the shortest decimal that prints it.
    ///
    /// # Errors
    /// Not-a-number and infinities are refused.
    pub fn from_shortest(value: f64) -> Result<Self, Error> {
        if !value.is_finite() {
            return Err(Error::new(ErrorKind::NotANumber, "a finite number is needed").value(value));
        }
        format!("{value:e}").parse()
    }

    /// Just the value of a binary float, digit by digit; `None` for not-a-number and infinities.
    #[must_use]
    pub fn from_binary(value: f64) -> Option<Self> {
        RBig::try_from(value).ok().map(Exact::of_big)
    }

    /// The nearest `f64`.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        match self.as_quotient() {
            // It is rounded once, to the nearest.
            Some((numerator, denominator)) => numerator / denominator,
            None => self.big().to_f64().value(),
        }
    }

    /// Numerator and denominator, where `f64` holds both.
    ///
    /// ```
    /// use tenside_lp::Exact;
    /// assert_eq!(Exact::ratio(3, -4).as_quotient(), Some((-3.0, 4.0)));
    /// assert_eq!(Exact::ratio(1, i64::MAX).as_quotient(), None);
    /// ```
    #[must_use]
    pub fn as_quotient(&self) -> Option<(f64, f64)> {
        let held = |whole: i64| (whole.unsigned_abs() <= 1 << 53).then_some(whole as f64);
        self.small().and_then(|(numerator, denominator)| held(numerator).zip(held(denominator)))
    }

    /// The `f64` nearest to the number less a float; not-a-number where that is none.
    ///
    /// ```
    /// use tenside_lp::Exact;
    /// assert_eq!(Exact::ratio(5, 8).rest_to_f64(0.5), 0.125);
    /// assert!(Exact::ratio(5, 8).rest_to_f64(f64::INFINITY).is_nan());
    /// ```
    #[must_use]
    pub fn rest_to_f64(&self, float: f64) -> f64 {
        Relaxed::try_from(float).map_or(f64::NAN, |float| (self.big().as_relaxed() - float).to_f64().value())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Neither neighbour is nearer, on either side of 2^53, up to which f64 holds every whole number.
    #[test]
    fn the_nearest_float_is_found() {
        let mut state = 88_172_645_463_325_252u64;
        let mut next = || {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            i64::try_from(state >> (1 + state % 40)).unwrap().max(1)
        };
        let edge = 1i64 << 53;
        let drawn: Vec<(i64, i64)> = (0..300).map(|_| (next(), next())).collect();
        for (numerator, denominator) in drawn.into_iter().chain([
            (edge + 1, edge + 3),
            (edge + 3, edge + 1),
            (edge + 1, 1),
            (1, edge + 1),
            (edge, 3),
        ]) {
            let value = Exact::ratio(numerator, denominator);
            let found = value.to_f64();
            let off = |float: f64| (Exact::from_binary(float).unwrap() - &value).abs();
            for neighbour in [found.to_bits() - 1, found.to_bits() + 1].map(f64::from_bits) {
                assert!(off(found) <= off(neighbour), "{numerator}/{denominator}");
            }
            assert_eq!((-value).to_f64(), -found);
        }
    }

    #[test]
    fn floats_are_their_shortest_decimal() {
        assert_eq!(Exact::from_shortest(0.1).unwrap(), Exact::ratio(1, 10));
        assert_eq!(Exact::from_shortest(58.0).unwrap(), Exact::from(58));
        assert!(Exact::from_shortest(f64::NAN).is_err());
        assert!(Exact::from_shortest(1e300).is_err());
    }
}
