//! Sums of many products of shares in whole numbers over one denominator. Reducing a fraction at every step would cost
//! more than the sums themselves; here nothing is reduced before the end, and nothing is rounded.

use dashu_base::{Gcd, UnsignedAbs};
use dashu_int::{IBig, UBig};

use crate::exact::{Exact, common_denominator};

/// A whole number of parts of some whole that the calculation chooses, never negative.
///
/// ```
/// use tenside_lp::{Exact, FixedPoint};
/// let shares = [Exact::ratio(1, 6), Exact::ratio(3, 4)];
/// let whole = FixedPoint::common_denominator(shares.iter());
/// let mut sum = FixedPoint::default();
/// for share in &shares {
///     sum.add(&FixedPoint::floor_of(share, &whole));
/// }
/// assert_eq!((whole, sum), (FixedPoint::new(12), FixedPoint::new(11)));
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub struct FixedPoint(Parts);

/// Few need more than 128 bits: those of premixes nested several levels deep.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Parts {
    Small(u128),
    /// More than `u128` holds, so that derived order and equality are those of the numbers.
    Large(UBig),
}

impl Default for Parts {
    fn default() -> Self {
        Parts::Small(0)
    }
}

impl FixedPoint {
    /// So many.
    #[must_use]
    pub fn new(count: u64) -> Self {
        FixedPoint(Parts::Small(u128::from(count)))
    }

    fn of(value: UBig) -> Self {
        FixedPoint(u128::try_from(&value).map_or(Parts::Large(value), Parts::Small))
    }

    fn large(&self) -> UBig {
        match &self.0 {
            Parts::Small(value) => UBig::from(*value),
            Parts::Large(value) => value.clone(),
        }
    }

    /// By machine words where they hold the result, else at any length.
    fn with(&self, other: &FixedPoint, small: fn(u128, u128) -> Option<u128>, large: fn(UBig, UBig) -> UBig) -> Self {
        if let (Parts::Small(left), Parts::Small(right)) = (&self.0, &other.0)
            && let Some(result) = small(*left, *right)
        {
            return FixedPoint(Parts::Small(result));
        }
        FixedPoint::of(large(self.large(), other.large()))
    }

    /// The least number that every denominator divides.
    #[must_use]
    pub fn common_denominator<'a>(values: impl Iterator<Item = &'a Exact>) -> Self {
        FixedPoint::of(common_denominator(values))
    }

    /// The magnitude of `value` times `whole`, where the denominator of the value divides the whole; else the whole
    /// number below.
    #[must_use]
    pub fn floor_of(value: &Exact, whole: &FixedPoint) -> Self {
        let (numerator, denominator) = value.parts();
        if numerator.is_one() && denominator.is_one() {
            return whole.clone();
        }
        FixedPoint::of(numerator.clone().unsigned_abs() * whole.large() / denominator)
    }

    /// The same ratio in the least numbers.
    ///
    /// # Panics
    /// If both are 0.
    #[must_use]
    pub fn in_lowest_terms(above: &FixedPoint, below: &FixedPoint) -> (Self, Self) {
        let (above, below) = (above.large(), below.large());
        let shared = (&above).gcd(&below);
        (FixedPoint::of(above / &shared), FixedPoint::of(below / shared))
    }

    /// So many times it.
    #[must_use]
    pub fn times(&self, factor: u64) -> Self {
        self.product(&FixedPoint::new(factor))
    }

    /// As many parts as both have, multiplied.
    #[must_use]
    pub fn product(&self, other: &FixedPoint) -> Self {
        self.with(other, u128::checked_mul, |left, right| left * right)
    }

    /// Adds the other to it.
    pub fn add(&mut self, other: &FixedPoint) {
        *self = self.with(other, u128::checked_add, |left, right| left + right);
    }

    /// True for none.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        *self == FixedPoint::default()
    }

    /// The difference, or `None` if it would be negative.
    #[must_use]
    pub fn less(&self, other: &FixedPoint) -> Option<Self> {
        (self >= other).then(|| self.with(other, u128::checked_sub, |left, right| left - right))
    }

    /// How many whole times `part` goes into it; `None` for no part and for more than `u64` holds.
    #[must_use]
    pub fn holds(&self, part: &FixedPoint) -> Option<u64> {
        if part.is_zero() {
            return None;
        }
        match self.with(part, u128::checked_div, |left, right| left / right).0 {
            Parts::Small(times) => u64::try_from(times).ok(),
            Parts::Large(_) => None,
        }
    }

    /// In percent of `whole`.
    ///
    /// # Panics
    /// If `whole` is 0.
    #[must_use]
    pub fn percent_of(&self, whole: &FixedPoint) -> Exact {
        Exact::from_parts(IBig::from(self.times(100).large()), whole.large())
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn sums_over_one_denominator_are_those_of_fractions() {
        let shares = [Exact::ratio(1, 6), Exact::ratio(3, 4), Exact::ONE];
        let whole = FixedPoint::common_denominator(shares.iter());
        assert_eq!(whole, FixedPoint::new(12));
        let mut sum = FixedPoint::default();
        for share in &shares {
            sum.add(&FixedPoint::floor_of(share, &whole).times(5));
        }
        assert_eq!(sum.percent_of(&whole.times(5)), Exact::ratio(2300, 12));
        assert_eq!(sum.less(&FixedPoint::new(116)), None);
        assert_eq!(sum.less(&FixedPoint::new(100)).unwrap().holds(&FixedPoint::new(4)), Some(3));
        assert_eq!(sum.holds(&FixedPoint::default()), None);
        assert_eq!(
            FixedPoint::in_lowest_terms(&FixedPoint::new(12), &FixedPoint::new(18)),
            (FixedPoint::new(2), FixedPoint::new(3))
        );
    }

    proptest! {
        /// The two sizes are one number: nothing changes where a result no longer fits 128 bits.
        #[test]
        fn past_128_bits_nothing_changes(left in any::<u128>(), right in any::<u128>(), factor in any::<u64>()) {
            let (small, other) = (FixedPoint(Parts::Small(left)), FixedPoint(Parts::Small(right)));
            let product = small.product(&other);
            prop_assert_eq!(product.large(), UBig::from(left) * UBig::from(right));
            let mut sum = product.clone();
            sum.add(&small);
            prop_assert!(sum >= product && sum.less(&product).unwrap() == small);
            prop_assert_eq!(matches!(sum.0, Parts::Small(_)), u128::try_from(&sum.large()).is_ok());
            let times = small.times(factor);
            prop_assert_eq!(times.holds(&small), (left > 0).then_some(factor));
            prop_assert_eq!(product.less(&sum).is_some(), left == 0);
        }
    }
}
