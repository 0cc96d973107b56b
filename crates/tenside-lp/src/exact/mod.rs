//! Exact rational numbers: every solved value, proof and composition product is one.

#[cfg(feature = "rust_decimal")]
mod decimal;
#[cfg(feature = "serde")]
mod document;
mod float;
mod operators;
mod product;
mod repr;
mod text;

use std::cmp::Ordering;

use dashu_base::{Gcd, Signed, UnsignedAbs};
use dashu_int::{IBig, UBig};
use dashu_ratio::RBig;

#[cfg(feature = "rust_decimal")]
pub use decimal::parse_decimal;
pub use product::dot;
pub use repr::Exact;
use repr::Repr;
pub(crate) use repr::common_divisor;

/// Which way a value half-way between two steps goes.
///
/// Source: ISO 80000-1 Annex B, rules A and B (from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HalfWay {
    /// To the even multiple (rule A); what every table here uses.
    ToEven,
    /// To the multiple of greater magnitude (rule B).
    AwayFromZero,
}

impl Exact {
    /// Zero.
    pub const ZERO: Exact = Exact::whole(0);
    /// One.
    pub const ONE: Exact = Exact::whole(1);

    /// `numerator / denominator`.
    ///
    /// # Panics
    /// Where `denominator` is 0; it is meant for constants. Use `/` after a check for computed values.
    #[must_use]
    pub fn ratio(numerator: i64, denominator: i64) -> Self {
        assert!(denominator != 0, "a ratio's denominator is not 0");
        let sign = i128::from(denominator.signum());
        Exact::of_parts(sign * i128::from(numerator), sign * i128::from(denominator))
    }

    /// One hundred, the whole in percent.
    #[must_use]
    pub fn hundred() -> Self {
        Exact::whole(100)
    }

    /// True for 0.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        matches!(self.0, Repr::Small(0, _))
    }

    /// True for values above 0.
    #[must_use]
    pub fn is_positive(&self) -> bool {
        !self.is_zero() && !self.is_negative()
    }

    /// True for values below 0.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        match &self.0 {
            Repr::Small(numerator, _) => *numerator < 0,
            Repr::Large(value) => value.is_negative(),
        }
    }

    /// True if the value is a whole number.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        match &self.0 {
            Repr::Small(_, denominator) => denominator.get() == 1,
            Repr::Large(value) => value.is_int(),
        }
    }

    /// `numerator / denominator`.
    ///
    /// # Panics
    /// If `denominator` is 0.
    #[must_use]
    pub fn over(numerator: i128, denominator: u64) -> Self {
        assert!(denominator != 0, "a fraction's denominator is not 0");
        Exact::of_parts(numerator, i128::from(denominator))
    }

    /// The value, if it is a whole number of up to 128 bits.
    #[must_use]
    pub fn to_whole(&self) -> Option<i128> {
        match self.small() {
            Some((numerator, denominator)) => (denominator == 1).then_some(i128::from(numerator)),
            None => self.is_whole().then(|| i128::try_from(self.parts().0).ok())?,
        }
    }

    /// The magnitude.
    #[must_use]
    pub fn abs(&self) -> Self {
        if self.is_negative() { self.negated() } else { self.clone() }
    }

    /// `1 / self`, or nothing for 0.
    #[must_use]
    pub fn reciprocal(&self) -> Option<Self> {
        Exact::ONE.checked_div(self)
    }

    /// `self / divisor`, or `None` if the divisor is 0.
    #[must_use]
    pub fn checked_div(&self, divisor: &Exact) -> Option<Self> {
        (!divisor.is_zero()).then(|| self.over_other(divisor))
    }

    /// The greatest whole number that is not above the value.
    pub(crate) fn floor(&self) -> Self {
        match &self.0 {
            Repr::Small(numerator, denominator) => Exact::whole(numerator.div_euclid(denominator.get())),
            Repr::Large(value) => Exact::of_big(RBig::from(value.floor())),
        }
    }

    /// The whole number nearest to the value.
    pub(crate) fn round(&self, half_way: HalfWay) -> Self {
        let floor = self.floor();
        let rest = match self.small() {
            Some((numerator, denominator)) => {
                (2 * i128::from(numerator.rem_euclid(denominator))).cmp(&i128::from(denominator))
            }
            None => (self - &floor).cmp(&Exact::ratio(1, 2)),
        };
        let stays = match (rest, half_way) {
            (Ordering::Less, _) => true,
            (Ordering::Greater, _) => false,
            (Ordering::Equal, HalfWay::ToEven) => (&floor * Exact::ratio(1, 2)).is_whole(),
            (Ordering::Equal, HalfWay::AwayFromZero) => floor.is_negative(),
        };
        if stays { floor } else { floor + Exact::ONE }
    }

    fn to_i64(&self) -> Option<i64> {
        i64::try_from(self.to_whole()?).ok()
    }

    /// The greatest whole number that is not above the value, where it fits `i64`.
    #[must_use]
    pub fn floor_i64(&self) -> Option<i64> {
        self.floor().to_i64()
    }

    /// The whole number nearest to the value, where it fits `i64`.
    #[must_use]
    pub fn round_i64(&self, half_way: HalfWay) -> Option<i64> {
        self.round(half_way).to_i64()
    }

    /// The nearest multiple of `step` (a positive number).
    #[must_use]
    pub fn rounded_to(&self, step: &Exact, half_way: HalfWay) -> Self {
        self.checked_div(step).map_or_else(|| self.clone(), |quotient| quotient.round(half_way) * step)
    }

    /// The greatest number of which both are whole multiples; of 0 and a number, the number's magnitude.
    ///
    /// ```
    /// use tenside_lp::Exact;
    /// assert_eq!(Exact::ratio(1, 2).common_measure(&Exact::ratio(3, 10)), Exact::ratio(1, 10));
    /// ```
    #[must_use]
    pub fn common_measure(&self, other: &Exact) -> Self {
        if self.is_zero() || other.is_zero() {
            return if self.is_zero() { other.abs() } else { self.abs() };
        }
        let ((left, below), (right, under)) = (self.parts(), other.parts());
        Exact::from_parts(IBig::from((left.unsigned_abs() * &under).gcd(right.unsigned_abs() * &below)), below * under)
    }

    /// The greatest multiple of `step` (a positive number) that is not above the value.
    #[must_use]
    pub fn floor_to(&self, step: &Exact) -> Self {
        self.checked_div(step).map_or_else(|| self.clone(), |quotient| quotient.floor() * step)
    }

    /// True where a whole number times `step` is the value; of 0, that is 0 alone.
    pub(crate) fn is_multiple_of(&self, step: &Exact) -> bool {
        self.checked_div(step).map_or(self.is_zero(), |count| count.is_whole())
    }

    /// The numerator in lowest terms, with the sign.
    ///
    /// ```
    /// use tenside_lp::Exact;
    /// let value = Exact::ratio(-6, 4);
    /// assert_eq!((value.numerator(), value.denominator()), (Exact::from(-3), Exact::from(2)));
    /// ```
    #[must_use]
    pub fn numerator(&self) -> Self {
        Exact::from_parts(self.parts().0, UBig::ONE)
    }

    /// The denominator in lowest terms, above 0.
    #[must_use]
    pub fn denominator(&self) -> Self {
        Exact::from_parts(self.parts().1.into(), UBig::ONE)
    }

    /// Numerator and positive denominator, in lowest terms.
    pub(crate) fn parts(&self) -> (IBig, UBig) {
        match &self.0 {
            Repr::Small(numerator, denominator) => {
                (IBig::from(*numerator), UBig::from(denominator.get().unsigned_abs()))
            }
            Repr::Large(value) => (value.numerator().clone(), value.denominator().clone()),
        }
    }

    /// The fraction of these parts; the denominator is not 0.
    pub(crate) fn from_parts(numerator: IBig, denominator: UBig) -> Self {
        Exact::of_big(RBig::from_parts(numerator, denominator))
    }

    /// Numerator and positive denominator in lowest terms as hexadecimal digits, which other languages read without a
    /// limit on length.
    ///
    /// ```
    /// use tenside_lp::Exact;
    /// assert_eq!(Exact::ratio(-510, 512).parts_hexadecimal(), ("-ff".to_string(), "100".to_string()));
    /// ```
    #[must_use]
    pub fn parts_hexadecimal(&self) -> (String, String) {
        let (numerator, denominator) = self.parts();
        (format!("{numerator:x}"), format!("{denominator:x}"))
    }
}

/// The least number that every denominator divides.
pub(crate) fn common_denominator<'a>(values: impl Iterator<Item = &'a Exact>) -> UBig {
    values.map(|value| value.parts().1).filter(|denominator| !denominator.is_one()).fold(
        UBig::ONE,
        |common, denominator| {
            let shared = (&common).gcd(&denominator);
            common / shared * denominator
        },
    )
}

impl From<i64> for Exact {
    fn from(value: i64) -> Self {
        Exact::of_parts(i128::from(value), 1)
    }
}

impl From<u32> for Exact {
    fn from(value: u32) -> Self {
        Exact::whole(i64::from(value))
    }
}

impl From<i32> for Exact {
    fn from(value: i32) -> Self {
        Exact::whole(i64::from(value))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(text: &str) -> Exact {
        text.parse().unwrap()
    }

    /// ISO 80000-1 Annex B and NIST SP 811 B.7.1, both from memory.
    #[test]
    fn rounds_as_the_standards_say() {
        for (value, step, rule, expected) in [
            ("12.223", "0.1", HalfWay::ToEven, "12.2"),
            ("12.251", "0.1", HalfWay::ToEven, "12.3"),
            ("12.275", "0.1", HalfWay::ToEven, "12.3"),
            ("1222.3", "10", HalfWay::ToEven, "1220"),
            ("1225.1", "10", HalfWay::ToEven, "1230"),
            ("1227.5", "10", HalfWay::ToEven, "1230"),
            ("12.25", "0.1", HalfWay::ToEven, "12.2"),
            ("12.35", "0.1", HalfWay::ToEven, "12.4"),
            ("1225.0", "10", HalfWay::ToEven, "1220"),
            ("1235.0", "10", HalfWay::ToEven, "1240"),
            ("12.25", "0.1", HalfWay::AwayFromZero, "12.3"),
            ("-12.25", "0.1", HalfWay::AwayFromZero, "-12.3"),
            ("1225.0", "10", HalfWay::AwayFromZero, "1230"),
            ("6.9749515", "0.01", HalfWay::ToEven, "6.97"),
            ("6.9749515", "0.0001", HalfWay::ToEven, "6.975"),
            ("6.9749515", "0.000001", HalfWay::ToEven, "6.974952"),
            ("6.9749505", "0.000001", HalfWay::ToEven, "6.97495"),
        ] {
            assert_eq!(exact(value).rounded_to(&exact(step), rule), exact(expected), "{value} to {step}");
        }
        assert_eq!(exact("2.9499999").floor_text(4), "2.9499");
        assert_eq!(exact("-0.5").floor_text(0), "-1");
    }
}
