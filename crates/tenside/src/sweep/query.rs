//! What of every row of a sweep is asked for.

use super::column::Column;
use super::definition::{Sweep, measured};
use super::level::Level;
use super::unknown::Unknown;
use crate::error::Error;
use crate::measure::{Basis, Measure};

/// What of every row is asked for.
#[derive(Clone, Debug)]
pub(super) struct Query {
    pub(super) measures: Vec<(Measure, Basis)>,
    /// Which of the measures is the objective's value; past the last where the objective is no measure.
    pub(super) objective: Option<usize>,
    /// Whether lines are wanted.
    pub(super) lines: bool,
    /// Whether what conflicts is wanted.
    pub(super) conflict: bool,
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
        let mut query = Query {
            measures,
            objective: None,
            lines: sweep.columns().iter().any(Column::reads_lines),
            conflict: sweep.columns().contains(&Column::Conflict),
            level,
            unknown: Vec::new(),
        };
        if sweep.columns().contains(&Column::Objective) {
            let wanted = measured(sweep.brief()).map(|(measure, basis)| (measure.clone(), basis.clone()));
            let known = query.measures.iter().position(|known| Some(known) == wanted.as_ref());
            query.objective = Some(known.unwrap_or(query.measures.len()));
            query.measures.extend(wanted.filter(|_| known.is_none()));
        }
        query.unknown = query
            .measures
            .iter()
            .map(|(measure, basis)| Unknown::of(sweep.points(), measure, basis))
            .collect::<Result<_, Error>>()?;
        query.lines |= query.may_be_unknown();
        Ok(query)
    }

    /// True if some cell could be unknown, which is told from the lines.
    pub(super) fn may_be_unknown(&self) -> bool {
        self.unknown.iter().any(|lines| !lines.is_empty())
    }
}
