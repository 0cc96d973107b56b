//! A model at fixed settings as a polynomial of the fractions, and how far it can go over a box.
//!
//! ```text
//! prod x = prod m + sum_i d_i prod_{k≠i} m_k + rest,   |rest| <= prod (m + r) - prod m - sum_i r_i prod_{k≠i} m_k
//! ```
//!
//! for fractions `x = m + d` with `|d| <= r` and middles `m` from 0 on: the product of the middles and its slopes are a
//! linear form, what they leave out is bounded. Over boxes half as wide it is bounded by a quarter.

use std::collections::BTreeMap;

use crate::trial::model::FittedModel;

/// Products of components by their places in rising order, with their factors.
#[derive(Clone, Debug, Default)]
pub(super) struct Polynomial(BTreeMap<Vec<usize>, f64>);

impl Polynomial {
    fn constant(value: f64) -> Self {
        Polynomial([(Vec::new(), value)].into())
    }

    fn component(place: usize) -> Self {
        Polynomial([(vec![place], 1.0)].into())
    }

    fn add(&mut self, other: &Polynomial, times: f64) {
        for (product, factor) in &other.0 {
            *self.0.entry(product.clone()).or_default() += times * factor;
        }
    }

    fn times(&self, other: &Polynomial) -> Self {
        let mut all = Polynomial::default();
        for (left, factor) in &self.0 {
            for (right, by) in &other.0 {
                let mut product: Vec<usize> = left.iter().chain(right).copied().collect();
                product.sort_unstable();
                *all.0.entry(product).or_default() += factor * by;
            }
        }
        all
    }

    fn minus(&self, other: &Polynomial) -> Self {
        let mut difference = self.clone();
        difference.add(other, -1.0);
        difference
    }

    /// The model with its settings put in.
    pub(super) fn of(model: &FittedModel, settings: &[f64]) -> Self {
        let terms = model.model();
        let coded: Vec<f64> =
            terms.process().iter().zip(settings).map(|(variable, setting)| variable.coded(*setting)).collect();
        let blend = terms.blend_terms(Polynomial::component, Polynomial::times, Polynomial::minus);
        let process = terms.process_terms(|place| Polynomial::constant(coded[place]), Polynomial::times);
        let mut sum = Polynomial::default();
        for (term, coefficient) in terms.together(blend, &process, Polynomial::times).iter().zip(model.coefficients()) {
            sum.add(term, coefficient);
        }
        sum.0.retain(|_, factor| *factor != 0.0);
        sum
    }

    /// The value on the fractions.
    pub(super) fn at(&self, x: &[f64]) -> f64 {
        self.0.iter().map(|(product, factor)| factor * product.iter().map(|place| x[*place]).product::<f64>()).sum()
    }

    /// True if it is a linear form and a constant.
    pub(super) fn is_linear(&self) -> bool {
        self.0.keys().all(|product| product.len() < 2)
    }

    /// Constant and slopes of the linear form about the middle of a box, and by how much it can be off.
    pub(super) fn about(&self, middle: &[f64], half: &[f64]) -> (f64, Vec<f64>, f64) {
        let (mut constant, mut slopes, mut off) = (0.0, vec![0.0; middle.len()], 0.0);
        for (product, factor) in &self.0 {
            let (whole, mut widest, mut linear) =
                (product.iter().map(|place| middle[*place]).product::<f64>(), 1.0, 0.0);
            constant += factor * whole;
            for (index, place) in product.iter().enumerate() {
                let others: f64 = product
                    .iter()
                    .enumerate()
                    .filter(|(other, _)| *other != index)
                    .map(|(_, other)| middle[*other])
                    .product();
                slopes[*place] += factor * others;
                constant -= factor * others * middle[*place];
                linear += half[*place] * others;
                widest *= middle[*place] + half[*place];
            }
            off += factor.abs() * (widest - whole - linear).max(0.0);
        }
        (constant, slopes, off)
    }

    /// The size of its factors, against which rounding is told.
    pub(super) fn size(&self) -> f64 {
        self.0.values().map(|factor| factor.abs()).sum()
    }
}
