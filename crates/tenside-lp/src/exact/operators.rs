//! What is worked out with `+`, `-`, `*` and `/`.

use std::ops::{Add, AddAssign, Div, Mul, MulAssign, Neg, Sub, SubAssign};

use super::Exact;

macro_rules! operator {
    ($trait:ident, $method:ident, $worked_out:ident) => {
        impl $trait for Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                self.$worked_out(&other)
            }
        }
        impl $trait<&Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                self.$worked_out(other)
            }
        }
        impl $trait<Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                self.$worked_out(&other)
            }
        }
        impl $trait<&Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                self.$worked_out(other)
            }
        }
    };
}
operator!(Add, add, plus);
operator!(Sub, sub, minus);
operator!(Mul, mul, times);
// Division by zero panics as for integers; callers use `checked_div` wherever the divisor is not known to be non-zero.
operator!(Div, div, over_other);

impl Neg for Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        self.negated()
    }
}

impl Neg for &Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        self.negated()
    }
}

impl AddAssign<&Exact> for Exact {
    fn add_assign(&mut self, other: &Exact) {
        *self = self.plus(other);
    }
}

impl AddAssign for Exact {
    fn add_assign(&mut self, other: Exact) {
        *self = self.plus(&other);
    }
}

impl SubAssign<&Exact> for Exact {
    fn sub_assign(&mut self, other: &Exact) {
        *self = self.minus(other);
    }
}

impl MulAssign<&Exact> for Exact {
    fn mul_assign(&mut self, other: &Exact) {
        *self = self.times(other);
    }
}

impl std::iter::Sum for Exact {
    fn sum<I: Iterator<Item = Exact>>(values: I) -> Exact {
        values.fold(Exact::ZERO, |sum, value| sum + value)
    }
}

impl<'a> std::iter::Sum<&'a Exact> for Exact {
    fn sum<I: Iterator<Item = &'a Exact>>(values: I) -> Exact {
        values.fold(Exact::ZERO, |sum, value| sum + value)
    }
}
