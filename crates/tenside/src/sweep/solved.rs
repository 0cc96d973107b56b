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

/// A measure's basis at the moisture of a row, its weights, and the water that the basis leaves, below 0 where there is
/// no value.
pub(super) type Weighed = (Basis, Sides, Option<Vec<Exact>>);

/// Solves point by point.
pub(super) struct Solved<'a> {
    pub(super) sweep: &'a Sweep,
    pub(super) query: Query,
    /// The measures where no axis changes their weights.
    weighed: Option<Vec<Weighed>>,
}

impl<'a> Solved<'a> {
    pub(super) fn new(sweep: &'a Sweep, query: Query) -> Result<Self, Error> {
        let stand = !sweep.axes().iter().any(Axis::turns_weights);
        let weighed = stand.then(|| weighed(sweep, &query, sweep.brief(), &[])).transpose()?;
        Ok(Solved { sweep, query, weighed })
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
        let numbers: Vec<Option<Exact>> = if let Point::Solved { values, objective, .. } = point {
            let own;
            let known = match &self.weighed {
                Some(known) => known,
                None => {
                    own = weighed(sweep, query, &brief, &sweep.places(row))?;
                    &own
                }
            };
            let lines = values.iter().take(query.lines).map(|value| Some(value.clone()));
            let measures = known.iter().map(|(_, (numerator, denominator), water)| {
                let value = dot(&**numerator, &values).checked_div(&dot(&**denominator, &values));
                // Drying takes no water up.
                value.filter(|_| water.as_ref().is_none_or(|water| !dot(water, &values).is_negative()))
            });
            lines.chain(measures).chain(query.objective.then_some(objective)).collect()
        } else {
            vec![None; query.numbers()]
        };
        for (number, value) in numbers.into_iter().enumerate() {
            batch.missing[number][place] = value.is_none();
            batch.numbers[number].each[place] = value.map_or(0.0, |value| value.to_f64());
        }
        Ok(())
    }
}

/// The measures that are asked for in the brief of a row.
pub(super) fn weighed(sweep: &Sweep, query: &Query, brief: &Brief, places: &[usize]) -> Result<Vec<Weighed>, Error> {
    let moisture = sweep.axes().iter().zip(places).find_map(|(axis, place)| match axis {
        Axis::Moisture(values) => values.get(*place),
        _ => None,
    });
    let of = |(measure, basis): &(Measure, Basis)| {
        let basis = match (basis, moisture) {
            (Basis::Finished(_), Some(moisture)) => Basis::finished(moisture.clone())?,
            _ => basis.clone(),
        };
        let water = water_left(brief, &basis)?;
        Ok((basis.clone(), weights_as_far_as_known(brief, measure, &basis)?, water))
    };
    query.measures.iter().map(of).collect()
}
