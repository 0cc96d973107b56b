//! Sums of many products of shares in whole numbers over one denominator. Reducing a fraction at every step would cost more than the
//! sums themselves; here nothing is reduced before the end, and nothing is rounded.

use dashu_base::{Gcd, UnsignedAbs};
use dashu_int::{IBig, UBig};

use super::Exact;

/// A whole number of parts of some whole that the reckoning chooses, never negative. Few need more than 128 bits: those of premixes nested
/// several levels deep.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Grains {
    Small(u128),
    /// More than `u128` holds, so that derived order and equality are those of the numbers.
    Large(UBig),
}

impl Default for Grains {
    fn default() -> Self {
        Grains::Small(0)
    }
}

impl Grains {
    /// So many.
    pub(crate) fn new(count: u64) -> Self {
        Grains::Small(u128::from(count))
    }

    fn of(value: UBig) -> Self {
        u128::try_from(&value).map_or(Grains::Large(value), Grains::Small)
    }

    fn large(&self) -> UBig {
        match self {
            Grains::Small(value) => UBig::from(*value),
            Grains::Large(value) => value.clone(),
        }
    }

    /// By machine words where they hold the result, else at any length.
    fn with(&self, other: &Grains, small: fn(u128, u128) -> Option<u128>, large: fn(UBig, UBig) -> UBig) -> Self {
        if let (Grains::Small(left), Grains::Small(right)) = (self, other)
            && let Some(result) = small(*left, *right)
        {
            return Grains::Small(result);
        }
        Grains::of(large(self.large(), other.large()))
    }

    /// The least number that every denominator divides.
    pub(crate) fn common_denominator<'a>(values: impl Iterator<Item = &'a Exact>) -> Self {
        let mut common = UBig::ONE;
        for value in values {
            let denominator = value.parts().1;
            if !denominator.is_one() {
                let shared = (&common).gcd(denominator);
                common = common * denominator / shared;
            }
        }
        Grains::of(common)
    }

    /// The magnitude of `value` times `whole`, where the denominator of the value divides the whole; else the whole number below.
    pub(crate) fn floor_of(value: &Exact, whole: &Grains) -> Self {
        let (numerator, denominator) = value.parts();
        if numerator.is_one() && denominator.is_one() {
            return whole.clone();
        }
        Grains::of(numerator.clone().unsigned_abs() * whole.large() / denominator)
    }

    /// The same ratio in the least numbers, neither of them 0.
    pub(crate) fn in_lowest_terms(above: &Grains, below: &Grains) -> (Self, Self) {
        let (above, below) = (above.large(), below.large());
        let shared = (&above).gcd(&below);
        (Grains::of(above / &shared), Grains::of(below / shared))
    }

    pub(crate) fn times(&self, factor: u64) -> Self {
        self.product(&Grains::new(factor))
    }

    pub(crate) fn product(&self, other: &Grains) -> Self {
        self.with(other, u128::checked_mul, |left, right| left * right)
    }

    pub(crate) fn add(&mut self, other: &Grains) {
        *self = self.with(other, u128::checked_add, |left, right| left + right);
    }

    pub(crate) fn is_zero(&self) -> bool {
        *self == Grains::Small(0)
    }

    /// The difference, or nothing where it would be negative.
    pub(crate) fn less(&self, other: &Grains) -> Option<Self> {
        (self >= other).then(|| self.with(other, u128::checked_sub, |left, right| left - right))
    }

    /// How many whole times `part` goes into it; nothing for no part and for more than `u64` holds.
    pub(crate) fn holds(&self, part: &Grains) -> Option<u64> {
        if part.is_zero() {
            return None;
        }
        match self.with(part, u128::checked_div, |left, right| left / right) {
            Grains::Small(times) => u64::try_from(times).ok(),
            Grains::Large(_) => None,
        }
    }

    /// In percent of `whole`, which is not 0.
    pub(crate) fn percent_of(&self, whole: &Grains) -> Exact {
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
        let whole = Grains::common_denominator(shares.iter());
        assert_eq!(whole, Grains::new(12));
        let mut sum = Grains::default();
        for share in &shares {
            sum.add(&Grains::floor_of(share, &whole).times(5));
        }
        assert_eq!(sum.percent_of(&whole.times(5)), Exact::ratio(2300, 12));
        assert_eq!(sum.less(&Grains::new(116)), None);
        assert_eq!(sum.less(&Grains::new(100)).unwrap().holds(&Grains::new(4)), Some(3));
        assert_eq!(sum.holds(&Grains::default()), None);
        assert_eq!(Grains::in_lowest_terms(&Grains::new(12), &Grains::new(18)), (Grains::new(2), Grains::new(3)));
    }

    proptest! {
        /// The two sizes are one number: nothing changes where a result no longer fits 128 bits.
        #[test]
        fn past_128_bits_nothing_changes(left in any::<u128>(), right in any::<u128>(), factor in any::<u64>()) {
            let (small, other) = (Grains::Small(left), Grains::Small(right));
            let product = small.product(&other);
            prop_assert_eq!(product.large(), UBig::from(left) * UBig::from(right));
            let mut sum = product.clone();
            sum.add(&small);
            prop_assert!(sum >= product && sum.less(&product).unwrap() == small);
            prop_assert_eq!(matches!(sum, Grains::Small(_)), u128::try_from(&sum.large()).is_ok());
            let times = small.times(factor);
            prop_assert_eq!(times.holds(&small), (left > 0).then_some(factor));
            prop_assert_eq!(product.less(&sum).is_some(), left == 0);
        }
    }
}
