//! Every point of a sweep solved on its own, exactly.

use std::ops::Range;

use tenside_lp::dot;

use super::axis::Axis;
use super::definition::Sweep;
use super::fill::{Batch, Each};
use super::query::Query;
use crate::brief::Brief;
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::number::Exact;
use crate::solve::{Point, Sides, solve_point, water_left, weights_as_far_as_known};

/// Points handed on together: few, so that a watcher is asked often.
const BATCH: usize = 8;

/// Solves point by point.
pub(super) struct Solved<'a> {
    pub(super) sweep: &'a Sweep,
    pub(super) query: Query,
    /// The weights of the measures where no axis changes them.
    weights: Option<Vec<Sides>>,
}

impl<'a> Solved<'a> {
    pub(super) fn new(sweep: &'a Sweep, query: Query) -> Result<Self, Error> {
        let stand = !sweep.axes().iter().any(Axis::turns_weights);
        let weights = stand.then(|| weights(sweep, sweep.brief(), &[], &query)).transpose()?;
        Ok(Solved { sweep, query, weights })
    }

    /// Hands every batch of the rows to `each`.
    pub(super) fn fill(&self, rows: Range<u64>, each: &mut Each<'_>) -> Result<(), Error> {
        let mut batch = Batch::new(self.query.numbers(), BATCH);
        for first in rows.clone().step_by(BATCH) {
            (batch.first, batch.count) = (first, 0);
            for row in (first..rows.end).take(BATCH) {
                self.add(row, &mut batch)?;
            }
            self.query.mask(self.sweep.points(), &mut batch);
            each(&batch)?;
        }
        Ok(())
    }

    /// Solves a row and adds it to a batch.
    fn add(&self, row: u64, batch: &mut Batch) -> Result<(), Error> {
        let (sweep, query, place) = (self.sweep, &self.query, batch.count);
        let brief = sweep.points().brief_of(row)?;
        let point = solve_point(&brief)
            .map_err(|error| if error.is_stopped() { error } else { error.within(&format!("row {row}")) })?;
        let (binding, conflict) = match &point {
            Point::Solved { binding, .. } => (sweep.binding_legend().code(binding), 0),
            Point::Conflict(members) => (0, sweep.conflict_legend().code(members)),
        };
        batch.count += 1;
        batch.feasible[place] = matches!(point, Point::Solved { .. });
        (batch.binding[place], batch.conflict[place]) = (binding, conflict);
        let numbers = match point {
            Point::Solved { values, objective, .. } => self.numbers(row, &brief, &values, objective)?,
            Point::Conflict(_) => vec![None; query.numbers()],
        };
        for (number, value) in numbers.into_iter().enumerate() {
            batch.missing[number][place] = value.is_none();
            batch.numbers[number].each[place] = value.map_or(0.0, |value| value.to_f64());
        }
        Ok(())
    }

    /// The numbers of a row that has a formula.
    fn numbers(
        &self,
        row: u64,
        brief: &Brief,
        values: &[Exact],
        objective: Option<Exact>,
    ) -> Result<Vec<Option<Exact>>, Error> {
        let (query, places) = (&self.query, self.sweep.places(row));
        let known = match &self.weights {
            Some(known) => known.clone(),
            None => weights(self.sweep, brief, &places, query)?,
        };
        let lines = values.iter().take(query.lines).map(|value| Ok(Some(value.clone())));
        let measures = known.iter().zip(&query.measures).map(|((numerator, denominator), (_, basis))| {
            let value = dot(&**numerator, values).checked_div(&dot(&**denominator, values));
            // Drying takes no water up.
            let left = water_left(brief, &swept_basis(self.sweep, &places, basis)?)?;
            Ok(value.filter(|_| left.is_none_or(|left| !dot(&left, values).is_negative())))
        });
        lines.chain(measures).chain(query.objective.then_some(Ok(objective))).collect()
    }
}

/// The weights of measures in the brief of a row; a finished basis is at the moisture swept.
fn weights(sweep: &Sweep, brief: &Brief, places: &[usize], query: &Query) -> Result<Vec<Sides>, Error> {
    let of = |(measure, basis): &(Measure, Basis)| {
        weights_as_far_as_known(brief, measure, &swept_basis(sweep, places, basis)?)
    };
    query.measures.iter().map(of).collect()
}

/// A basis at the moisture of a row.
pub(super) fn swept_basis(sweep: &Sweep, places: &[usize], basis: &Basis) -> Result<Basis, Error> {
    let swept = sweep.axes().iter().zip(places).find_map(|(axis, place)| match axis {
        Axis::Moisture(values) => values.get(*place),
        _ => None,
    });
    match (basis, swept) {
        (Basis::Finished(_), Some(moisture)) => Basis::finished(moisture.clone()),
        _ => Ok(basis.clone()),
    }
}
