//! A polynomial made ready for many points: outer numbers folded into a few factors, inner ones looked up in tables.
//!
//! Proof note. With whole coefficients and variables, and the sum of the magnitudes of all monomials below 2^52 at the
//! ends of the axes, every product, partial sum and factor is a whole number below 2^52: `f64` adds and multiplies it
//! without error, in any order, fused or not. Otherwise each of the `t` terms takes at most `d + 2` roundings of a
//! relative 2^-53 and the sum `t - 1` more, so that the error is at most `(t + d + 4) * 2^-52 * magnitude`.

use super::polynomial::{Polynomial, Powers};
use super::variables::Variables;
use crate::number::Exact;

/// Below this whole numbers and the roundings of quotients of two of them are safe.
pub(super) fn is_short(magnitude: &Exact) -> bool {
    *magnitude < Exact::from(1i64 << 52)
}

/// The axes that are worked in one go, and what of the polynomials depends on them alone.
#[derive(Debug)]
pub(super) struct Inner {
    /// The first inner axis; all after it are inner too.
    pub(super) first: usize,
    /// How many points they have together.
    pub(super) points: usize,
    powers: Vec<Powers>,
    pub(super) tables: Vec<Vec<f64>>,
}

impl Inner {
    pub(super) fn new(first: usize, points: usize) -> Self {
        Inner { first, points, powers: Vec::new(), tables: Vec::new() }
    }

    /// The place of the table of a product of inner variables; nothing for none.
    fn table(&mut self, powers: Powers, variables: &Variables, lengths: &[usize]) -> Option<usize> {
        if powers.iter().all(|power| *power == 0) {
            return None;
        }
        if let Some(place) = self.powers.iter().position(|known| *known == powers) {
            return Some(place);
        }
        let mut table = vec![1.0; self.points];
        for (variable, power) in variables.all.iter().zip(&powers).filter(|(_, power)| **power > 0) {
            let after: usize = lengths[variable.axis + 1..].iter().product();
            let length = lengths[variable.axis];
            for (point, value) in table.iter_mut().enumerate() {
                for _ in 0..*power {
                    *value *= variable.nearest[point / after % length];
                }
            }
        }
        self.powers.push(powers);
        self.tables.push(table);
        Some(self.tables.len() - 1)
    }
}

/// Factor of one table: a polynomial in the outer variables.
#[derive(Debug)]
struct Factor {
    table: Option<usize>,
    /// Coefficient and outer variables, each as often as its power says.
    monomials: Vec<(f64, Vec<usize>)>,
}

/// A polynomial ready for many points.
#[derive(Debug)]
pub(super) struct Form {
    factors: Vec<Factor>,
    /// The most that its value is wrong by; 0 where it is exact.
    pub(super) error: f64,
}

/// The factors of a form at one point of the outer axes.
#[derive(Clone, Debug, Default)]
pub(super) struct Factors {
    pub(super) constant: f64,
    pub(super) tables: Vec<(usize, f64)>,
}

impl Form {
    pub(super) fn new(polynomial: &Polynomial, variables: &Variables, lengths: &[usize], inner: &mut Inner) -> Self {
        let mut factors: Vec<Factor> = Vec::new();
        let mut degree = 0;
        let mut terms = 0;
        for (powers, coefficient) in polynomial.terms() {
            let part = |is_inner: bool| -> Powers {
                powers
                    .iter()
                    .zip(&variables.all)
                    .map(|(power, variable)| if (variable.axis >= inner.first) == is_inner { *power } else { 0 })
                    .collect()
            };
            let (outer, within) = (part(false), part(true));
            degree = degree.max(powers.iter().map(|power| u32::from(*power)).sum());
            terms += 1;
            let table = inner.table(within, variables, lengths);
            let repeated = outer
                .iter()
                .enumerate()
                .flat_map(|(variable, power)| std::iter::repeat_n(variable, usize::from(*power)));
            let monomial = (coefficient.to_f64(), repeated.collect());
            match factors.iter_mut().find(|factor| factor.table == table) {
                Some(factor) => factor.monomials.push(monomial),
                None => factors.push(Factor { table, monomials: vec![monomial] }),
            }
        }
        let (low, high) = variables.ends();
        let most: Vec<Exact> = low.iter().zip(&high).map(|(low, high)| low.abs().max(high.abs())).collect();
        let magnitude = polynomial.magnitude(&most);
        let whole = variables.all.iter().all(|variable| variable.is_short)
            && polynomial.terms().all(|(_, coefficient)| coefficient.is_whole());
        let error = if whole && is_short(&magnitude) {
            0.0
        } else {
            magnitude.to_f64() * f64::from(terms + degree + 4) * f64::EPSILON
        };
        Form { factors, error }
    }

    /// Its factors at a point of the outer axes.
    pub(super) fn at(&self, variables: &Variables, places: &[usize], into: &mut Factors) {
        into.constant = 0.0;
        into.tables.clear();
        for factor in &self.factors {
            let mut sum = 0.0;
            for (coefficient, outer) in &factor.monomials {
                let value = |index: &usize| {
                    let variable = &variables.all[*index];
                    variable.nearest[places[variable.axis]]
                };
                let product = outer.iter().fold(*coefficient, |product, index| product * value(index));
                sum += product;
            }
            match factor.table {
                None => into.constant += sum,
                Some(table) => into.tables.push((table, sum)),
            }
        }
    }
}

impl Factors {
    /// The values at the points from `start` on.
    #[inline(always)]
    pub(super) fn fill(&self, inner: &Inner, start: usize, out: &mut [f64]) {
        let count = out.len();
        match self.tables.as_slice() {
            [] => out.fill(self.constant),
            [(table, factor)] => {
                let table = &inner.tables[*table][start..start + count];
                for (out, value) in out.iter_mut().zip(table) {
                    *out = self.constant + factor * value;
                }
            }
            [(first, one), (second, other), rest @ ..] => {
                let (first, second) =
                    (&inner.tables[*first][start..start + count], &inner.tables[*second][start..start + count]);
                for ((out, first), second) in out.iter_mut().zip(first).zip(second) {
                    *out = self.constant + one * first + other * second;
                }
                for (table, factor) in rest {
                    let table = &inner.tables[*table][start..start + count];
                    for (out, value) in out.iter_mut().zip(table) {
                        *out += factor * value;
                    }
                }
            }
        }
    }
}
