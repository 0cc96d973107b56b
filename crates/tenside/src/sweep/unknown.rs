//! Measures of which a typical value is not known of some line: their cells are null in every row that has the line.

use std::sync::Arc;

use super::fill::Batch;
use super::points::{Points, Turned};
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::solve::lines_not_known;

/// A line that makes a measure unknown wherever it is there, with some of its raw materials.
pub(super) struct Unknown {
    line: usize,
    with: Turned<bool>,
}

impl Unknown {
    /// The lines that make a measure unknown.
    pub(super) fn of(points: &Points, measure: &Measure, basis: &Basis) -> Result<Vec<Unknown>, Error> {
        let brief = points.brief_of(0)?;
        let first = lines_not_known(&brief, measure, basis)?;
        let mut found = Vec::new();
        for (line, known) in brief.lines().iter().enumerate() {
            let with = points.of_materials(known, |material| {
                if Arc::ptr_eq(material, known.material()) {
                    return Ok(first.contains(&line));
                }
                Ok(lines_not_known(&brief.with_material(known.name(), material)?, measure, basis)?.contains(&line))
            })?;
            if with.values.contains(&true) {
                found.push(Unknown { line, with });
            }
        }
        Ok(found)
    }

    pub(super) fn is_in(&self, points: &Points, batch: &Batch, place: usize) -> bool {
        batch.numbers[self.line].at(place) != 0.0 && *self.with.at(&points.places(batch.first + place as u64))
    }
}
