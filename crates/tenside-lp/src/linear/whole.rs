//! Whole numbers in two sizes: `i128`, which says when it would overflow, and `IBig`, which never does.

use dashu_base::{Gcd, Signed, UnsignedAbs};
use dashu_int::IBig;

use crate::exact::{Exact, common_divisor};

/// A whole number. Every operation that gives nothing would have overflowed.
pub(super) trait Whole: Clone + PartialEq + Ord {
    const ZERO: Self;
    const ONE: Self;
    fn numerator(value: &Exact) -> Option<Self>;
    fn denominator(value: &Exact) -> Option<Self>;
    /// The fraction of two numbers without a common divisor; the denominator is above 0.
    fn fraction(numerator: &Self, denominator: &Self) -> Exact;
    fn times(&self, other: &Self) -> Option<Self>;
    fn plus(&self, other: &Self) -> Option<Self>;
    fn minus(&self, other: &Self) -> Option<Self>;
    fn negated(&self) -> Option<Self>;
    /// The quotient where the divisor is known to divide.
    fn over(&self, divisor: &Self) -> Self;
    /// The greatest common divisor, 0 or above.
    fn common(&self, other: &Self) -> Self;

    fn is_nought(&self) -> bool {
        *self == Self::ZERO
    }

    fn is_below_nought(&self) -> bool {
        *self < Self::ZERO
    }
}

impl Whole for i128 {
    const ZERO: Self = 0;
    const ONE: Self = 1;

    #[inline]
    fn numerator(value: &Exact) -> Option<Self> {
        value.small().map_or_else(
            || i128::try_from(value.parts().0).ok().filter(|value| *value != i128::MIN),
            |parts| Some(i128::from(parts.0)),
        )
    }

    #[inline]
    fn denominator(value: &Exact) -> Option<Self> {
        value.small().map_or_else(|| i128::try_from(value.parts().1).ok(), |parts| Some(i128::from(parts.1)))
    }

    fn fraction(numerator: &Self, denominator: &Self) -> Exact {
        Exact::in_lowest_terms(*numerator, *denominator)
    }

    #[inline]
    fn times(&self, other: &Self) -> Option<Self> {
        // Two numbers of 64 bits have a product of 127 bits at most.
        match (i64::try_from(*self), i64::try_from(*other)) {
            (Ok(left), Ok(right)) => Some(i128::from(left) * i128::from(right)),
            _ => self.checked_mul(*other).filter(|product| *product != i128::MIN),
        }
    }

    fn plus(&self, other: &Self) -> Option<Self> {
        self.checked_add(*other).filter(|sum| *sum != i128::MIN)
    }

    #[inline]
    fn minus(&self, other: &Self) -> Option<Self> {
        self.checked_sub(*other).filter(|difference| *difference != i128::MIN)
    }

    fn negated(&self) -> Option<Self> {
        self.checked_neg()
    }

    #[inline]
    fn over(&self, divisor: &Self) -> Self {
        match (i64::try_from(*self), i64::try_from(*divisor)) {
            (Ok(left), Ok(right)) if right != -1 => i128::from(left / right),
            _ => self / divisor,
        }
    }

    fn common(&self, other: &Self) -> Self {
        let (mut left, mut right) = (self.unsigned_abs(), other.unsigned_abs());
        // Euclid's steps until both fit 64 bits, where halving is quicker than dividing.
        while right != 0 && (left | right) >> 64 != 0 {
            (left, right) = (right, left % right);
        }
        if right == 0 {
            return left as i128;
        }
        i128::from(common_divisor(left as u64, right as u64))
    }
}

impl Whole for IBig {
    const ZERO: Self = IBig::ZERO;
    const ONE: Self = IBig::ONE;

    fn numerator(value: &Exact) -> Option<Self> {
        Some(value.parts().0)
    }

    fn denominator(value: &Exact) -> Option<Self> {
        Some(IBig::from(value.parts().1))
    }

    fn fraction(numerator: &Self, denominator: &Self) -> Exact {
        Exact::from_parts(numerator.clone(), denominator.unsigned_abs())
    }

    fn times(&self, other: &Self) -> Option<Self> {
        Some(self * other)
    }

    fn plus(&self, other: &Self) -> Option<Self> {
        Some(self + other)
    }

    fn minus(&self, other: &Self) -> Option<Self> {
        Some(self - other)
    }

    fn negated(&self) -> Option<Self> {
        Some(-self)
    }

    fn over(&self, divisor: &Self) -> Self {
        self / divisor
    }

    fn common(&self, other: &Self) -> Self {
        if self.is_nought() && other.is_nought() {
            return Self::ZERO;
        }
        IBig::from(self.unsigned_abs().gcd(other.unsigned_abs()))
    }

    fn is_below_nought(&self) -> bool {
        self.is_negative()
    }
}

#[cfg(test)]
mod tests {
    use dashu_base::Abs;
    use dashu_int::UBig;

    use super::*;

    #[test]
    fn both_sizes_agree_and_the_small_one_says_when_it_is_full() {
        let numbers: [i128; 13] = [
            0,
            1,
            -1,
            6,
            -15,
            1 << 40,
            (1 << 63) - 1,
            1 << 63,
            -(1 << 63),
            3 << 70,
            -(1 << 100),
            i128::MAX,
            -i128::MAX,
        ];
        let big = |value: Option<i128>| value.map(IBig::from);
        let mut full = 0;
        for left in numbers {
            for right in numbers {
                let (wide_left, wide_right) = (IBig::from(left), IBig::from(right));
                for (small, wide) in [
                    (left.times(&right), Whole::times(&wide_left, &wide_right)),
                    (left.plus(&right), Whole::plus(&wide_left, &wide_right)),
                    (left.minus(&right), Whole::minus(&wide_left, &wide_right)),
                    (left.negated(), wide_left.negated()),
                    (Some(left.common(&right)), Some(wide_left.common(&wide_right))),
                ] {
                    match small {
                        Some(_) => assert_eq!(big(small), wide, "{left} and {right}"),
                        None => {
                            full += 1;
                            assert!(
                                wide.is_some_and(|wide| wide.abs() > IBig::from(i128::MAX)),
                                "{left} and {right} are not too great"
                            );
                        }
                    }
                }
                assert_eq!(
                    (left.is_nought(), left.is_below_nought()),
                    (wide_left.is_nought(), wide_left.is_below_nought()),
                    "{left}"
                );
                if let Some(product) = left.times(&right).filter(|_| right != 0) {
                    assert_eq!(product.over(&right), left);
                }
            }
        }
        assert!(full > 10, "{full}");
        let read = |value: IBig| <i128 as Whole>::numerator(&Exact::from_parts(value, UBig::ONE));
        assert_eq!(read(IBig::from(i128::MAX)), Some(i128::MAX));
        assert_eq!(read(IBig::from(i128::MAX) + IBig::ONE), None);
        assert_eq!(read(IBig::from(i128::MIN)), None);
    }
}
