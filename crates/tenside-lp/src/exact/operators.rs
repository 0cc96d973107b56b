//! What is worked out with `+`, `-`, `*` and `/`.

use std::ops::{Add, AddAssign, Div, Mul, MulAssign, Neg, Sub, SubAssign};

use super::Exact;

macro_rules! operator {
    ($trait:ident, $method:ident, $sign:tt) => {
        impl $trait for Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                Exact(self.0 $sign other.0)
            }
        }
        impl $trait<&Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                Exact(self.0 $sign &other.0)
            }
        }
        impl $trait<Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                Exact(&self.0 $sign other.0)
            }
        }
        impl $trait<&Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                Exact(&self.0 $sign &other.0)
            }
        }
    };
}
operator!(Add, add, +);
operator!(Sub, sub, -);
operator!(Mul, mul, *);
// Division by zero panics as for integers; callers use `checked_div` wherever the divisor is not known to be non-zero.
operator!(Div, div, /);

impl Neg for Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        Exact(-self.0)
    }
}

impl Neg for &Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        Exact(-self.0.clone())
    }
}

impl AddAssign<&Exact> for Exact {
    fn add_assign(&mut self, other: &Exact) {
        self.0 += &other.0;
    }
}

impl AddAssign for Exact {
    fn add_assign(&mut self, other: Exact) {
        self.0 += other.0;
    }
}

impl SubAssign<&Exact> for Exact {
    fn sub_assign(&mut self, other: &Exact) {
        self.0 -= &other.0;
    }
}

impl MulAssign<&Exact> for Exact {
    fn mul_assign(&mut self, other: &Exact) {
        self.0 *= &other.0;
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
