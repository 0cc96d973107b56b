//! Polynomials of a region made ready: their signs told by `f64` with a bound, exactly where that leaves them open.

use tenside_lp::dot;

use super::coordinate::Offsets;
use crate::number::{DoubleDouble, Exact};
use crate::solve::Form;

/// A coefficient is rounded once, a product of up to six offsets seven times, a sum of up to sixty-four products
/// sixty-three times: fewer than seventy-two roundings of `2^-53`. This is nearly three times as much, relative to the
/// sum of the magnitudes.
const ERROR: f64 = 192.0 / (1u64 << 53) as f64;
/// Covers underflow.
const UNDERFLOW: f64 = 1e-280;

/// The most directions of a polynomial.
pub(super) const MOST_DIRECTIONS: usize = 6;
/// The most points that settle a polynomial: one more than its directions for a lattice, two for any other axis, times
/// those of the other axes.
pub(super) const MOST_POINTS: usize = 16;
/// The most products of the outer coordinates.
const MOST_PRODUCTS: usize = 1 << (MOST_DIRECTIONS - 1);

/// The products of the outer coordinates' offsets at one point of them, a bit of the place for each direction.
pub(super) struct Outer {
    exact: Vec<Exact>,
    products: [DoubleDouble; MOST_PRODUCTS],
}

impl Outer {
    /// Of offsets, exact and to twice the length of an `f64`.
    pub(super) fn new<'e>(offsets: impl Iterator<Item = (&'e Exact, DoubleDouble)>) -> Self {
        let mut outer = Outer { exact: vec![Exact::ONE], products: [DoubleDouble::default(); MOST_PRODUCTS] };
        outer.products[0] = DoubleDouble::of_parts(1.0, 0.0);
        for (exact, offset) in offsets {
            let known = outer.exact.len();
            outer.exact.extend_from_within(..);
            outer.exact[known..].iter_mut().for_each(|product| *product *= exact);
            let (products, more) = outer.products.split_at_mut(known);
            products.iter().zip(more).for_each(|(product, more)| *more = product.times(offset));
        }
        outer
    }
}

/// A polynomial of which signs are asked.
pub(super) struct Signed {
    exact: Form,
    floats: Vec<f64>,
}

/// A polynomial at one point of the outer coordinates: `alpha + beta tau`, `tau` the offset of the innermost.
pub(super) struct Along {
    alpha: f64,
    beta: f64,
    alpha_error: f64,
    beta_error: f64,
}

impl Signed {
    pub(super) fn new(exact: Form) -> Self {
        Signed { floats: exact.iter().map(Exact::to_f64).collect(), exact }
    }

    /// True where it is above 0 in the whole box, which is where it is so at every corner.
    pub(super) fn is_above_nought_in(&self, ends: &[(f64, f64)]) -> bool {
        (0..1usize << ends.len()).all(|corner| {
            let (mut sum, mut size) = (0.0, 0.0);
            for (mask, coefficient) in self.floats.iter().enumerate() {
                let within = ends.iter().enumerate().filter(|(parameter, _)| mask >> parameter & 1 == 1);
                let product = within.fold(*coefficient, |product, (parameter, (low, high))| {
                    product * if corner >> parameter & 1 == 0 { low } else { high }
                });
                sum += product;
                size += product.abs();
            }
            sum > size * ERROR + UNDERFLOW
        })
    }

    #[inline]
    pub(super) fn along(&self, outer: &Outer) -> Along {
        let half = self.floats.len() / 2;
        let sum = |coefficients: &[f64]| {
            coefficients.iter().zip(&outer.products).fold((0.0, 0.0), |(sum, size), (coefficient, product)| {
                let term = coefficient * product.high;
                (sum + term, size + term.abs())
            })
        };
        let ((alpha, alpha_size), (beta, beta_size)) = (sum(&self.floats[..half]), sum(&self.floats[half..]));
        Along { alpha, beta, alpha_error: alpha_size * ERROR + UNDERFLOW, beta_error: beta_size * ERROR }
    }

    /// The sign at an offset of the innermost coordinate: -1, 0 or 1.
    #[inline]
    pub(super) fn sign(&self, along: &Along, outer: &Outer, offsets: &Offsets, place: usize) -> i8 {
        let tau = offsets.high[place];
        let value = along.alpha + along.beta * tau;
        let error = along.alpha_error + along.beta_error * tau.abs();
        if value > error {
            1
        } else if value < -error {
            -1
        } else {
            self.exact_sign(outer, &offsets.exact[place])
        }
    }

    #[cold]
    fn exact_sign(&self, outer: &Outer, tau: &Exact) -> i8 {
        let value = at(&self.exact, outer, tau);
        i8::from(value.is_positive()) - i8::from(value.is_negative())
    }
}

/// The value of a polynomial.
pub(super) fn at(form: &Form, outer: &Outer, tau: &Exact) -> Exact {
    let half = form.len() / 2;
    dot(&form[..half], &outer.exact) + dot(&form[half..], &outer.exact) * tau
}

/// A polynomial of which values are wanted.
pub(super) struct Valued {
    pub(super) exact: Form,
    sure: Vec<DoubleDouble>,
}

impl Valued {
    pub(super) fn new(exact: Form) -> Self {
        Valued { sure: exact.iter().map(DoubleDouble::of).collect(), exact }
    }

    /// `alpha` and `beta` at one point of the outer coordinates.
    pub(super) fn along(&self, outer: &Outer) -> (DoubleDouble, DoubleDouble) {
        let half = self.sure.len() / 2;
        let sum = |coefficients: &[DoubleDouble]| {
            coefficients
                .iter()
                .zip(&outer.products)
                .skip(1)
                .fold(coefficients[0], |sum, (coefficient, product)| sum.plus(coefficient.times(*product)))
        };
        (sum(&self.sure[..half]), sum(&self.sure[half..]))
    }

    /// True where it does not depend on the innermost coordinate.
    pub(super) fn is_level(&self) -> bool {
        self.exact[self.exact.len() / 2..].iter().all(Exact::is_zero)
    }
}

/// Adds forms, each times its weight and the directions of a mask, with which the forms themselves do not move.
pub(super) fn add_weighted(forms: &[Form], weights: &[Exact], directions: usize, into: &mut Form) {
    for (form, weight) in forms.iter().zip(weights).filter(|(_, weight)| !weight.is_zero()) {
        for (mask, coefficient) in form.iter().enumerate() {
            if mask & directions == 0 && !coefficient.is_zero() {
                into[mask | directions] += &(weight * coefficient);
            }
        }
    }
}
