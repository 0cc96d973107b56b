//! What of every row of a sweep is asked for.

use super::column::Column;
use super::definition::{Sweep, measured};
use super::fill::Batch;
use super::level::Level;
use super::points::Points;
use super::unknown::Unknown;
use crate::error::Error;
use crate::measure::{Basis, Measure};

/// What of every row is asked for.
pub(super) struct Query {
    pub(super) measures: Vec<(Measure, Basis)>,
    /// How many lines are wanted: all or none.
    pub(super) lines: usize,
    /// Whether the objective's value is wanted and is no measure.
    pub(super) objective: bool,
    /// Where each column of numbers stands among those of a batch.
    pub(super) places: Vec<usize>,
    /// Whether what conflicts is wanted.
    pub(super) conflict: bool,
    pub(super) level: Level,
    /// The lines that make each measure unknown.
    unknown: Vec<Vec<Unknown>>,
}

impl Query {
    pub(super) fn new(sweep: &Sweep, level: Level) -> Result<Self, Error> {
        let columns = sweep.columns();
        let mut measures: Vec<(&Measure, &Basis)> = Vec::new();
        for measure in columns.iter().filter_map(|column| sweep.measure_in(column)) {
            if !measures.contains(&measure) {
                measures.push(measure);
            }
        }
        let unknown = measures.iter().map(|(measure, basis)| Unknown::of(sweep.points(), measure, basis));
        let mut query = Query {
            measures: measures.iter().map(|(measure, basis)| ((*measure).clone(), (*basis).clone())).collect(),
            lines: 0,
            objective: columns.contains(&Column::Objective) && measured(sweep.brief()).is_none(),
            places: Vec::new(),
            conflict: columns.contains(&Column::Conflict),
            level,
            unknown: unknown.collect::<Result<_, Error>>()?,
        };
        let reads_lines = |column: &Column| matches!(column, Column::Line(_)) || column.is_worked_out();
        if columns.iter().any(reads_lines) || query.may_be_unknown() {
            query.lines = sweep.brief().lines().len();
        }
        let place = |column: &Column| match column {
            Column::Line(line) => *line,
            _ => {
                let place = measures.iter().position(|known| Some(*known) == sweep.measure_in(column));
                query.lines + place.unwrap_or(measures.len())
            }
        };
        query.places = columns.iter().map(place).collect();
        Ok(query)
    }

    /// How many numbers of a row are wanted.
    pub(super) fn numbers(&self) -> usize {
        self.lines + self.measures.len() + usize::from(self.objective)
    }

    /// True if some cell could be unknown, which is told from the lines.
    pub(super) fn may_be_unknown(&self) -> bool {
        self.unknown.iter().any(|lines| !lines.is_empty())
    }

    /// Takes out the cells of a batch that are unknown.
    pub(super) fn mask(&self, points: &Points, batch: &mut Batch) {
        for (measure, unknown) in self.unknown.iter().enumerate().filter(|(_, unknown)| !unknown.is_empty()) {
            let number = self.lines + measure;
            let series = &mut batch.numbers[number];
            if let Some(value) = series.same.take() {
                series.each.fill(value);
            }
            for place in 0..batch.count {
                if unknown.iter().any(|unknown| unknown.is_in(points, batch, place)) {
                    batch.missing[number][place] = true;
                    batch.numbers[number].each[place] = 0.0;
                }
            }
        }
    }
}
