//! A region made ready to fill rows: its conditions as signs, its columns as quotients.

use super::forms::{Signed, Valued, add_weighted};
use crate::number::Exact;
use crate::solve::{CriticalRegion, Form, Sides, multiple};
use crate::sweep::legend::Legend;

/// What of a polynomial's sign matters.
pub(super) enum Kind {
    /// It has to be above 0.
    Strict,
    /// It has to be 0 or above, and where it is 0 these bits bind.
    Slack(u64),
    /// Any will do, but a run of rows has one.
    Watched,
}

/// What a number is in every row.
pub(super) enum Quotient {
    /// The same wherever the region holds.
    Constant(f64),
    /// Over a denominator of the region.
    Of { numerator: Valued, denominator: usize },
}

/// A number, and where it has a value.
pub(super) struct Number {
    pub(super) value: Quotient,
    /// Watched conditions, and the least sign of each with which it has a value.
    pub(super) needs: Vec<(usize, i8)>,
}

/// A measure's weights, line by line.
pub(super) struct MeasureWeights {
    /// By the directions that they move with, as a mask: of none those that stand still.
    pub(super) sides: Vec<(usize, Sides)>,
    /// Water as charged less what the basis keeps: below 0 there is no value.
    pub(super) water: Option<Vec<Exact>>,
}

/// What a region of formulas is weighed for.
pub(super) struct Weighing {
    /// How many lines are wanted: all or none.
    pub(super) lines: usize,
    pub(super) measures: Vec<MeasureWeights>,
    /// Where the objective is no measure: what its value has more than the cost.
    pub(super) beyond_cost: Option<Exact>,
}

/// A region that fills rows.
pub(super) struct Prepared {
    /// Those that hold in the whole sweep are left out.
    pub(super) conditions: Vec<(Signed, Kind)>,
    pub(super) denominators: Vec<Valued>,
    /// Lines, measures, the objective's value; none where there is a conflict.
    pub(super) numbers: Vec<Number>,
    /// What binds everywhere, or what conflicts.
    pub(super) code: u64,
    pub(super) is_conflict: bool,
}

impl Prepared {
    /// In a sweep of which the coordinates go from and to these ends.
    pub(super) fn new(region: CriticalRegion, weighing: &Weighing, legend: &Legend, ends: &[(f64, f64)]) -> Self {
        let mut ready = Prepared {
            conditions: Vec::new(),
            denominators: Vec::new(),
            numbers: Vec::new(),
            code: legend.code(&region.limits),
            is_conflict: region.is_conflict,
        };
        let slacks = region.slacks.into_iter().map(|(form, limit)| (form, Kind::Slack(legend.code(&limit))));
        for (form, kind) in region.strict.into_iter().map(|form| (form, Kind::Strict)).chain(slacks) {
            ready.watch(form, kind, ends);
        }
        if region.is_conflict {
            return ready;
        }
        ready.denominators.push(Valued::new(region.denominator));
        for line in region.lines.iter().take(weighing.lines) {
            ready.number(line.clone(), 0, Vec::new());
        }
        for MeasureWeights { sides, water } in &weighing.measures {
            let none = || vec![Exact::ZERO; 1 << ends.len()];
            let (mut numerator, mut below, mut needs) = (none(), none(), Vec::new());
            for (directions, (above, under)) in sides {
                add_weighted(&region.lines, above, *directions, &mut numerator);
                add_weighted(&region.lines, under, *directions, &mut below);
            }
            if let Some(weights) = water {
                let mut water = none();
                add_weighted(&region.lines, weights, 0, &mut water);
                needs.extend(ready.watch(water, Kind::Watched, ends).map(|place| (place, 0)));
            }
            // Where the denominator is the same for every formula, lines' own does, which is above 0.
            let same = multiple(&below, &ready.denominators[0].exact).and_then(|factor| factor.reciprocal());
            let denominator = match same {
                Some(factor) => {
                    numerator.iter_mut().for_each(|coefficient| *coefficient = &*coefficient * &factor);
                    0
                }
                None => {
                    needs.extend(ready.watch(below.clone(), Kind::Watched, ends).map(|place| (place, 1)));
                    ready.denominator(below)
                }
            };
            ready.number(numerator, denominator, needs);
        }
        if let Some(beyond) = &weighing.beyond_cost {
            let mut cost = region.cost;
            let below = ready.denominators[0].exact.clone();
            add_weighted(&[below], std::slice::from_ref(beyond), 0, &mut cost);
            ready.number(cost, 0, Vec::new());
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

    fn number(&mut self, numerator: Form, denominator: usize, needs: Vec<(usize, i8)>) {
        let below = &self.denominators[denominator].exact;
        let value = match multiple(&numerator, below) {
            Some(ratio) => Quotient::Constant(ratio.to_f64()),
            None => Quotient::Of { numerator: Valued::new(numerator), denominator },
        };
        self.numbers.push(Number { value, needs });
    }

    /// Adds a condition unless it is above 0 everywhere; its place.
    fn watch(&mut self, form: Form, kind: Kind, ends: &[(f64, f64)]) -> Option<usize> {
        let signed = Signed::new(form);
        if signed.is_above_nought_in(ends) {
            return None;
        }
        self.conditions.push((signed, kind));
        Some(self.conditions.len() - 1)
    }
}
