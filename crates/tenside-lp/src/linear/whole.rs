//! Whole numbers in two sizes: `i128`, which says when it would overflow, and `IBig`, which never does.

use dashu_base::{Gcd, UnsignedAbs};
use dashu_int::IBig;

use crate::exact::{Exact, common_divisor};

/// Why whole numbers, a system or a basis gave nothing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Unproved {
    /// The whole numbers were too small to tell.
    Overflow,
    /// The system has no solution or many; the basis is not what it was taken for.
    Refused,
}

/// A whole number. Every operation that fails would have overflowed.
pub(super) trait Whole: Clone + PartialEq + Ord {
    const ZERO: Self;
    const ONE: Self;
    fn numerator(value: &Exact) -> Result<Self, Unproved>;
    fn denominator(value: &Exact) -> Result<Self, Unproved>;
    /// The fraction of two numbers without a common divisor; the denominator is above 0.
    fn fraction(numerator: &Self, denominator: &Self) -> Exact;
    fn times(&self, other: &Self) -> Result<Self, Unproved>;
    fn plus(&self, other: &Self) -> Result<Self, Unproved>;
    fn minus(&self, other: &Self) -> Result<Self, Unproved>;
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

/// The least `i128` is no number here, for it has no magnitude.
#[inline]
fn held(value: Option<i128>) -> Result<i128, Unproved> {
    value.filter(|value| *value != i128::MIN).ok_or(Unproved::Overflow)
}

impl Whole for i128 {
    const ZERO: Self = 0;
    const ONE: Self = 1;

    #[inline]
    fn numerator(value: &Exact) -> Result<Self, Unproved> {
        value.small().map_or_else(|| held(i128::try_from(value.parts().0).ok()), |parts| Ok(i128::from(parts.0)))
    }

    #[inline]
    fn denominator(value: &Exact) -> Result<Self, Unproved> {
        value.small().map_or_else(|| held(i128::try_from(value.parts().1).ok()), |parts| Ok(i128::from(parts.1)))
    }

    fn fraction(numerator: &Self, denominator: &Self) -> Exact {
        Exact::in_lowest_terms(*numerator, *denominator)
    }

    #[inline]
    fn times(&self, other: &Self) -> Result<Self, Unproved> {
        // Two numbers of 64 bits have a product of 127 bits at most.
        match (i64::try_from(*self), i64::try_from(*other)) {
            (Ok(left), Ok(right)) => Ok(i128::from(left) * i128::from(right)),
            _ => held(self.checked_mul(*other)),
        }
    }

    fn plus(&self, other: &Self) -> Result<Self, Unproved> {
        held(self.checked_add(*other))
    }

    #[inline]
    fn minus(&self, other: &Self) -> Result<Self, Unproved> {
        held(self.checked_sub(*other))
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

    fn numerator(value: &Exact) -> Result<Self, Unproved> {
        Ok(value.parts().0)
    }

    fn denominator(value: &Exact) -> Result<Self, Unproved> {
        Ok(IBig::from(value.parts().1))
    }

    fn fraction(numerator: &Self, denominator: &Self) -> Exact {
        Exact::from_parts(numerator.clone(), denominator.unsigned_abs())
    }

    fn times(&self, other: &Self) -> Result<Self, Unproved> {
        Ok(self * other)
    }

    fn plus(&self, other: &Self) -> Result<Self, Unproved> {
        Ok(self + other)
    }

    fn minus(&self, other: &Self) -> Result<Self, Unproved> {
        Ok(self - other)
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
        let big = |value: Result<i128, Unproved>| value.map(IBig::from);
        let mut full = 0;
        for left in numbers {
            for right in numbers {
                let (wide_left, wide_right) = (IBig::from(left), IBig::from(right));
                for (small, wide) in [
                    (left.times(&right), Whole::times(&wide_left, &wide_right)),
                    (left.plus(&right), Whole::plus(&wide_left, &wide_right)),
                    (left.minus(&right), Whole::minus(&wide_left, &wide_right)),
                    (Ok(left.common(&right)), Ok(wide_left.common(&wide_right))),
                ] {
                    match small {
                        Ok(_) => assert_eq!(big(small), wide, "{left} and {right}"),
                        Err(_) => {
                            full += 1;
                            assert!(
                                wide.is_ok_and(|wide| wide.abs() > IBig::from(i128::MAX)),
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
                if let Ok(product) = left.times(&right)
                    && right != 0
                {
                    assert_eq!(product.over(&right), left);
                }
            }
        }
        assert!(full > 10, "{full}");
        let read = |value: IBig| <i128 as Whole>::numerator(&Exact::from_parts(value, UBig::ONE));
        assert_eq!(read(IBig::from(i128::MAX)), Ok(i128::MAX));
        assert_eq!(read(IBig::from(i128::MAX) + IBig::ONE), Err(Unproved::Overflow));
        assert_eq!(read(IBig::from(i128::MIN)), Err(Unproved::Overflow));
    }
}
