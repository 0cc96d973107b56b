//! Sums of many products of shares in whole numbers over one denominator. Reducing a fraction at every step would cost more than the
//! sums themselves; here nothing is reduced before the end, and nothing is rounded.

use dashu_base::{DivRem, Gcd, UnsignedAbs};
use dashu_int::{IBig, UBig};

use super::Exact;

/// A whole number of parts of some whole that the reckoning chooses, never negative.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Grains(UBig);

impl Grains {
    /// So many.
    pub(crate) fn new(count: u64) -> Self {
        Grains(UBig::from(count))
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
        Grains(common)
    }

    /// The magnitude of `value` times `whole`, where the denominator of the value divides the whole; else the whole number below.
    pub(crate) fn floor_of(value: &Exact, whole: &Grains) -> Self {
        let (numerator, denominator) = value.parts();
        Grains(numerator.clone().unsigned_abs() * &whole.0 / denominator)
    }

    pub(crate) fn times(&self, factor: u64) -> Self {
        Grains(&self.0 * UBig::from(factor))
    }

    pub(crate) fn product(&self, other: &Grains) -> Self {
        Grains(&self.0 * &other.0)
    }

    pub(crate) fn add(&mut self, other: &Grains) {
        self.0 += &other.0;
    }

    pub(crate) fn is_zero(&self) -> bool {
        self.0.is_zero()
    }

    /// The difference, or nothing where it would be negative.
    pub(crate) fn less(&self, other: &Grains) -> Option<Self> {
        (self.0 >= other.0).then(|| Grains(&self.0 - &other.0))
    }

    /// How many whole times `part` goes into it; nothing for no part and for more than `u64` holds.
    pub(crate) fn holds(&self, part: &Grains) -> Option<u64> {
        if part.is_zero() {
            return None;
        }
        u64::try_from((&self.0).div_rem(&part.0).0).ok()
    }

    /// In percent of `whole`, which is not 0.
    pub(crate) fn percent_of(&self, whole: &Grains) -> Exact {
        Exact::from_parts(IBig::from(&self.0 * UBig::from(100u8)), whole.0.clone())
    }
}

#[cfg(test)]
mod tests {
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
    }
}
