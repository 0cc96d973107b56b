//! What is worked out with `+`, `-`, `*` and `/`.

use std::borrow::Borrow;
use std::iter::Sum;
use std::ops::{Add, AddAssign, Div, Mul, MulAssign, Neg, Sub, SubAssign};

use super::Exact;

macro_rules! operator {
    ($trait:ident, $method:ident, $worked_out:ident) => {
        impl<Other: Borrow<Exact>> $trait<Other> for Exact {
            type Output = Exact;
            fn $method(self, other: Other) -> Exact {
                self.$worked_out(other.borrow())
            }
        }
        impl<Other: Borrow<Exact>> $trait<Other> for &Exact {
            type Output = Exact;
            fn $method(self, other: Other) -> Exact {
                self.$worked_out(other.borrow())
            }
        }
    };
    ($trait:ident, $method:ident, $worked_out:ident, $assign:ident, $assigned:ident) => {
        operator!($trait, $method, $worked_out);
        impl<Other: Borrow<Exact>> $assign<Other> for Exact {
            fn $assigned(&mut self, other: Other) {
                *self = self.$worked_out(other.borrow());
            }
        }
    };
}
operator!(Add, add, plus, AddAssign, add_assign);
operator!(Sub, sub, minus, SubAssign, sub_assign);
operator!(Mul, mul, times, MulAssign, mul_assign);
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

impl<Other: Borrow<Exact>> Sum<Other> for Exact {
    fn sum<I: Iterator<Item = Other>>(values: I) -> Exact {
        values.fold(Exact::ZERO, |sum, value| sum + value)
    }
}
