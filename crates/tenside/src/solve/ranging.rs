//! Ranges of an optimum that leaves no choice of its basis, from how that basis changes, without another program solved
//! (in the literature: ranging, sensitivity analysis).

use tenside_lp::{Basis, Optimum, Place, Program, Row, dot};

use super::parametric::{BasisAt, Interval};
use crate::number::Exact;

/// The inverse of a larger basis could take long, and cannot be stopped; the programs can.
const MOST_BASIC: usize = 40;

/// A basis that is the only one that matters at an optimum. Variables are numbered as in [`Basis`].
pub(super) struct OwnBasis {
    at: BasisAt,
    places: Vec<Place>,
}

impl OwnBasis {
    /// Where as many multipliers are not 0 as there are columns: what stands at its end for them leaves nothing open,
    /// so no other point is cheapest, wherever one of those ends moves.
    pub(super) fn by_multipliers(program: &Program, optimum: &Optimum) -> Option<Self> {
        let multipliers = optimum.reduced_costs.iter().chain(&optimum.row_multipliers);
        let place = |multiplier: &Exact| match (multiplier.is_positive(), multiplier.is_negative()) {
            (true, _) => Place::Low,
            (_, true) => Place::High,
            _ => Place::Basic,
        };
        Self::new(program, multipliers.map(place).collect())
    }

    /// Where as many variables stand at an end as there are columns: no other basis gives the point, and no other
    /// multipliers can prove it, whatever the costs are.
    pub(super) fn by_ends(program: &Program, optimum: &Optimum) -> Option<Self> {
        let place = |low: &Option<Exact>, high: &Option<Exact>, value: &Exact| {
            if low.as_ref() == Some(value) {
                Place::Low
            } else if high.as_ref() == Some(value) {
                Place::High
            } else {
                Place::Basic
            }
        };
        let columns = program.columns().iter().zip(&optimum.values);
        let activity = |row: &Row| dot(&row.coefficients, &optimum.values);
        let rows = program.rows().iter().map(|row| place(&row.low, &row.high, &activity(row)));
        Self::new(program, columns.map(|(column, value)| place(&column.low, &column.high, value)).chain(rows).collect())
    }

    fn new(program: &Program, places: Vec<Place>) -> Option<Self> {
        if places.iter().filter(|place| **place != Place::Basic).count() != program.columns().len() {
            return None;
        }
        let basis = Basis::new(places.clone(), program.columns().len());
        if basis.nonbasic_rows().len() > MOST_BASIC {
            return None;
        }
        Some(OwnBasis { at: BasisAt::new(program.clone(), &basis)?, places })
    }

    /// What a variable comes to.
    pub(super) fn activity(&self, variable: usize) -> Exact {
        self.at.activity(variable)
    }

    /// How far a variable that stands at an end can move before another one leaves its range; `None` where none does.
    pub(super) fn room(&self, variable: usize, upwards: bool) -> Option<Exact> {
        let rates = self.at.changes(variable);
        let others = rates.iter().enumerate().filter(|(other, rate)| *other != variable && !rate.is_zero());
        let rooms = others.filter_map(|(other, rate)| {
            let end = self.at.end(other, rate.is_positive() == upwards)?;
            Some(((end - self.at.activity(other)) / rate).abs())
        });
        rooms.min()
    }

    /// The `t` for which the basis is the best one when the costs change by `t weights`.
    pub(super) fn cost_changes(&self, weights: &[Exact]) -> Interval {
        let mut changes = Interval::default();
        for (variable, rate) in self.at.reduced(weights.iter()).into_iter().enumerate() {
            // That of a basic one is 0.
            if rate.is_zero() || self.at.end(variable, false) == self.at.end(variable, true) {
                continue;
            }
            let change = -(self.at.reduced_cost(variable) / &rate);
            if rate.is_positive() == (self.places[variable] == Place::Low) {
                changes.not_below(change);
            } else {
                changes.not_above(change);
            }
        }
        changes
    }
}
