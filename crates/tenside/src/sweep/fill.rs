//! How the rows of a sweep are filled: what of each is wanted, and the batches in which they are handed on.

use std::ops::Range;

use super::closed::{Level, Percents};
use super::column::Column;
use super::definition::Sweep;
use super::unknown::Unknown;
use crate::brief::Objective;
use crate::error::Error;
use crate::measure::{Basis, Measure};

/// What of every row is asked for.
#[derive(Clone, Debug)]
pub(super) struct Query {
    pub(super) measures: Vec<(Measure, Basis)>,
    /// Which of the measures is the objective's value; past the last where the objective is no measure.
    pub(super) objective: Option<usize>,
    /// Whether what binds and what conflicts is wanted.
    pub(super) codes: bool,
    pub(super) level: Level,
    /// The lines that make each measure unknown.
    pub(super) unknown: Vec<Vec<Unknown>>,
}

impl Query {
    pub(super) fn new(sweep: &Sweep, level: Level) -> Result<Self, Error> {
        let measures: Vec<(Measure, Basis)> = sweep
            .columns()
            .iter()
            .filter_map(|column| match column {
                Column::Measure(measure, basis) => Some((measure.clone(), basis.clone())),
                _ => None,
            })
            .collect();
        let codes = sweep.columns().iter().any(|column| matches!(column, Column::Binding | Column::Conflict));
        let mut query = Query { measures, objective: None, codes, level, unknown: Vec::new() };
        if sweep.columns().contains(&Column::Objective) {
            match sweep.brief().objective() {
                Some(Objective::Measure { measure, basis, .. }) => {
                    let wanted = (measure.clone(), basis.clone());
                    let place = query.measures.iter().position(|known| *known == wanted);
                    query.objective = Some(place.unwrap_or_else(|| {
                        query.measures.push(wanted);
                        query.measures.len() - 1
                    }));
                }
                _ => query.objective = Some(query.measures.len()),
            }
        }
        query.unknown = query
            .measures
            .iter()
            .map(|(measure, basis)| Unknown::of(sweep, measure, basis))
            .collect::<Result<_, Error>>()?;
        Ok(query)
    }

    /// True if some cell could be unknown, which is told from the lines.
    pub(super) fn may_be_unknown(&self) -> bool {
        self.unknown.iter().any(|lines| !lines.is_empty())
    }
}

/// Some consecutive rows, column by column.
pub(super) struct Batch<'a> {
    pub(super) first: u64,
    pub(super) count: usize,
    /// Percentages, over `line_scale`.
    pub(super) lines: &'a [Percents],
    pub(super) line_scale: f64,
    /// Measures, each over its scale; after them the objective's value where it is no measure.
    pub(super) measures: &'a [Vec<f64>],
    pub(super) scales: &'a [f64],
    pub(super) missing: &'a [Vec<bool>],
    pub(super) feasible: &'a [bool],
    pub(super) binding: &'a [u64],
    pub(super) conflict: &'a [u64],
}

/// Fills a run of consecutive rows: of points along the fastest axis, given the values of the others, then of the next.
pub(super) trait Fill: Sync {
    /// Hands every batch of the rows to `each`, in order; stops early where `each` says so, and gives false then.
    fn fill(&self, rows: Range<u64>, each: &mut dyn FnMut(&Batch<'_>) -> bool) -> Result<bool, Error>;

    /// What the percentages and each measure are multiples of.
    fn scales(&self) -> (f64, &[f64]);

    /// True where percentages are whole ppm of determined formulas, false where they are the exact solution to the
    /// nearest float.
    fn is_closed(&self) -> bool;
}
