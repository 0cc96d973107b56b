//! Every point of a sweep solved on its own, exactly.

use std::ops::Range;

use tenside_lp::dot;

use super::axis::Axis;
use super::definition::Sweep;
use super::fill::{Batch, Columns, Fill, Percents};
use super::legend::Legend;
use super::query::Query;
use crate::brief::{Brief, Parameter};
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::number::Exact;
use crate::solve::{Limit, Point, Sides, solve_point, water_left, weights_as_far_as_known};

/// Points handed on together: few, so that a watcher is asked often.
const BATCH: usize = 8;

/// Solves point by point.
pub(super) struct Solved<'a> {
    sweep: &'a Sweep,
    query: Query,
    /// The weights of the measures where no axis changes them.
    weights: Option<Vec<Sides>>,
}

/// One point, in words of the sweep.
pub(super) struct SolvedPoint {
    /// The exact percentages; nothing without formula.
    pub(super) percents: Option<Vec<Exact>>,
    pub(super) objective: Option<Exact>,
    pub(super) binding: u64,
    pub(super) conflict: u64,
}

impl<'a> Solved<'a> {
    pub(super) fn new(sweep: &'a Sweep, query: &Query) -> Result<Self, Error> {
        let changes_weights = |axis: &Axis| {
            matches!(axis, Axis::Moisture(_) | Axis::Material { .. } | Axis::Parameter(Parameter::Price(_), _))
        };
        let weights = if sweep.axes().iter().any(changes_weights) {
            None
        } else {
            Some(weights(sweep, sweep.brief(), 0, &query.measures)?)
        };
        Ok(Solved { sweep, query: query.clone(), weights })
    }

    pub(super) fn query(&self) -> &Query {
        &self.query
    }
}

/// Solves the brief of a row.
pub(super) fn solve_row(sweep: &Sweep, row: u64) -> Result<(Brief, SolvedPoint), Error> {
    let brief = sweep.row_brief(row)?;
    let code = |legend: &Legend, limits: &[Limit]| limits.iter().fold(0, |code, limit| code | legend.bit(*limit));
    let named = |error: Error| if error.is_stopped() { error } else { error.within(&format!("row {row}")) };
    let point = match solve_point(&brief).map_err(named)? {
        Point::Solved { values, objective, binding } => {
            let binding = code(sweep.binding_legend(), &binding);
            SolvedPoint { percents: Some(values), objective, binding, conflict: 0 }
        }
        Point::Conflict(members) => {
            let conflict = code(sweep.conflict_legend(), &members);
            SolvedPoint { percents: None, objective: None, binding: 0, conflict }
        }
    };
    Ok((brief, point))
}

/// The weights of measures in a row's brief; a finished basis is at the moisture swept.
fn weights(sweep: &Sweep, brief: &Brief, row: u64, measures: &[(Measure, Basis)]) -> Result<Vec<Sides>, Error> {
    measures
        .iter()
        .map(|(measure, basis)| {
            weights_as_far_as_known(brief, measure, &swept_basis(sweep, &sweep.places(row), basis)?)
        })
        .collect()
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

impl Fill for Solved<'_> {
    fn fill(&self, rows: Range<u64>, each: &mut dyn FnMut(&Batch<'_>) -> bool) -> Result<bool, Error> {
        let lines = self.sweep.brief().lines().len();
        let count = self.query.measures.len() + usize::from(self.query.objective == Some(self.query.measures.len()));
        let mut columns = Columns::new(lines, count, BATCH);
        let mut first = rows.start;
        while first < rows.end {
            let batch = usize::try_from(rows.end - first).unwrap_or(BATCH).min(BATCH);
            for place in 0..batch {
                let row = first + place as u64;
                let (brief, point) = solve_row(self.sweep, row)?;
                (columns.feasible[place], columns.binding[place], columns.conflict[place]) =
                    (point.percents.is_some(), point.binding, point.conflict);
                let Some(values) = point.percents else { continue };
                if self.query.lines {
                    for (line, value) in columns.lines.iter_mut().zip(&values) {
                        if let Percents::Each(line) = line {
                            line[place] = value.to_f64();
                        }
                    }
                }
                let own;
                let known = match &self.weights {
                    Some(known) => known,
                    None => {
                        own = weights(self.sweep, &brief, row, &self.query.measures)?;
                        &own
                    }
                };
                for (index, ((numerator, denominator), (_, basis))) in
                    known.iter().zip(&self.query.measures).enumerate()
                {
                    let value = dot(&**numerator, &values).checked_div(&dot(&**denominator, &values));
                    // Drying takes no water up.
                    let left = water_left(&brief, &swept_basis(self.sweep, &self.sweep.places(row), basis)?)?;
                    let value = value.filter(|_| left.is_none_or(|left| !dot(&left, &values).is_negative()));
                    columns.missing[index][place] = value.is_none();
                    columns.measures[index][place] = value.map_or(0.0, |value| value.to_f64());
                }
                if self.query.objective == Some(self.query.measures.len())
                    && let (Some(column), Some(objective)) = (columns.measures.last_mut(), &point.objective)
                {
                    column[place] = objective.to_f64();
                }
            }
            if !each(&columns.batch(first, batch)) {
                return Ok(false);
            }
            first += batch as u64;
        }
        Ok(true)
    }

    fn rows_of_a_thread(&self) -> u64 {
        1
    }
}
