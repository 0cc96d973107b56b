//! A region made ready to fill rows: its conditions as signs, its columns as quotients.

use super::forms::{Signed, Valued, is_level_quotient, weighted};
use super::weighing::Weighing;
use crate::number::Exact;
use crate::solve::{CriticalRegion, Form, Limit, multiple};
use crate::sweep::legend::Legend;

/// What of a polynomial's sign matters.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// It has to be above 0.
    Strict,
    /// It has to be 0 or above, and where it is 0 these bits bind.
    Slack(u64),
    /// Any will do, but a run of rows has one.
    Watched,
}

/// A number in every row.
#[derive(Clone, Debug)]
pub(super) enum Quotient {
    /// The same wherever the region holds.
    Constant(f64),
    /// Over a denominator of the region; `level` where it does not depend on the innermost coordinate.
    Of { numerator: Valued, denominator: usize, level: bool },
    /// There is none.
    Missing,
}

/// A measure.
#[derive(Clone, Debug)]
pub(super) struct Measured {
    pub(super) value: Quotient,
    /// Watched polynomials: that of the denominator, which has a value where it is above 0, and that of the water to
    /// spare, which has one where it is not below 0.
    pub(super) denominator: Option<usize>,
    pub(super) water: Option<usize>,
}

/// A region that fills rows.
#[derive(Clone, Debug)]
pub(super) struct Prepared {
    /// Those that hold in the whole sweep are left out.
    pub(super) conditions: Vec<(Signed, Kind)>,
    pub(super) denominators: Vec<Valued>,
    pub(super) lines: Vec<Quotient>,
    pub(super) measures: Vec<Measured>,
    /// What binds everywhere, or what conflicts.
    pub(super) code: u64,
    pub(super) is_conflict: bool,
}

impl Prepared {
    pub(super) fn new(region: CriticalRegion, weighing: &Weighing, legend: &Legend, ends: &[(f64, f64)]) -> Self {
        let bits = |limits: &mut dyn Iterator<Item = &Limit>| limits.fold(0, |code, limit| code | legend.bit(*limit));
        let mut ready = Prepared {
            conditions: Vec::new(),
            denominators: Vec::new(),
            lines: Vec::new(),
            measures: Vec::new(),
            code: bits(&mut region.limits.iter()),
            is_conflict: region.is_conflict,
        };
        for (form, kind) in region.strict.into_iter().map(|form| (form, Kind::Strict)).chain(
            region.slacks.into_iter().map(|(form, limit)| {
                let bit = bits(&mut limit.iter());
                (form, Kind::Slack(bit))
            }),
        ) {
            let signed = Signed::new(form);
            if !signed.is_above_nought_in(ends) {
                ready.conditions.push((signed, kind));
            }
        }
        if region.is_conflict {
            return ready;
        }
        ready.denominators.push(Valued::new(region.denominator));
        ready.lines = region.lines.iter().map(|form| ready.quotient(form.clone(), 0)).collect();
        for measure in &weighing.measures {
            let sum = |weights: &[(Exact, Vec<(usize, Exact)>)]| {
                let mut sum = vec![Exact::ZERO; 1 << ends.len()];
                region.lines.iter().zip(weights).for_each(|(form, weight)| weighted(form, weight, &mut sum));
                sum
            };
            let (mut numerator, below) = (sum(&measure.numerator), sum(&measure.denominator));
            let water = measure.water.as_ref().map(|weights| sum(weights)).and_then(|water| ready.watch(water, ends));
            // Where the denominator is the same for every formula, lines' own does, which is above 0.
            let same = multiple(&below, &ready.denominators[0].exact).and_then(|factor| factor.reciprocal());
            let (value, denominator) = match same {
                Some(factor) => {
                    numerator.iter_mut().for_each(|coefficient| *coefficient = &*coefficient * &factor);
                    (ready.quotient(numerator, 0), None)
                }
                None if below.iter().all(Exact::is_zero) => (Quotient::Missing, None),
                None => {
                    let place = ready.denominator(below.clone());
                    (ready.quotient(numerator, place), ready.watch(below, ends))
                }
            };
            ready.measures.push(Measured { value, denominator, water });
        }
        if let Some(beyond) = &weighing.beyond_cost {
            let mut cost = region.cost;
            weighted(&ready.denominators[0].exact, &(beyond.clone(), Vec::new()), &mut cost);
            let value = ready.quotient(cost, 0);
            ready.measures.push(Measured { value, denominator: None, water: None });
        }
        ready
    }

    /// The place of a denominator; one that is a multiple of a known one is still another.
    fn denominator(&mut self, form: Form) -> usize {
        let known = self.denominators.iter().position(|known| known.exact == form);
        known.unwrap_or_else(|| {
            self.denominators.push(Valued::new(form));
            self.denominators.len() - 1
        })
    }

    fn quotient(&self, numerator: Form, denominator: usize) -> Quotient {
        let below = &self.denominators[denominator].exact;
        match multiple(&numerator, below) {
            Some(ratio) => Quotient::Constant(ratio.to_f64()),
            None => Quotient::Of {
                level: is_level_quotient(&numerator, below),
                numerator: Valued::new(numerator),
                denominator,
            },
        }
    }

    /// Has a polynomial watched unless it is above 0 everywhere.
    fn watch(&mut self, form: Form, ends: &[(f64, f64)]) -> Option<usize> {
        let signed = Signed::new(form);
        if signed.is_above_nought_in(ends) {
            return None;
        }
        self.conditions.push((signed, Kind::Watched));
        Some(self.conditions.len() - 1)
    }
}
