//! Measures of which a typical value is not known of some line: their cells are null in every row that has the line.

use super::axis::Axis;
use super::fill::Batch;
use super::points::{Points, turned};
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::solve::lines_not_known;

/// A line that makes a measure unknown wherever it is there.
#[derive(Clone, Debug)]
pub(super) struct Unknown {
    line: usize,
    /// Where an axis exchanges its raw material: the axis, and for which of its values.
    at: Option<(usize, Vec<bool>)>,
}

impl Unknown {
    /// The lines that make a measure unknown.
    pub(super) fn of(points: &Points, measure: &Measure, basis: &Basis) -> Result<Vec<Unknown>, Error> {
        let first = vec![0; points.axes.len()];
        let mut found = Vec::new();
        let lines = |places: &[usize]| lines_not_known(&turned(&points.brief, &points.axes, places)?, measure, basis);
        for line in lines(&first)? {
            found.push(Unknown { line, at: None });
        }
        for (axis, known) in points.axes.iter().enumerate() {
            let Axis::Material { line: exchanged, .. } = known else { continue };
            let Some(line) = points.brief.lines().iter().position(|line| line.name() == exchanged) else { continue };
            let at = (0..known.len()).map(|place| {
                let mut places = first.clone();
                places[axis] = place;
                Ok(lines(&places)?.contains(&line))
            });
            let at = at.collect::<Result<Vec<bool>, Error>>()?;
            found.retain(|unknown| unknown.line != line);
            if at.contains(&true) {
                found.push(Unknown { line, at: Some((axis, at)) });
            }
        }
        Ok(found)
    }

    pub(super) fn is_in(&self, points: &Points, batch: &Batch, place: usize) -> bool {
        batch.numbers[self.line].at(place) != 0.0
            && self.at.as_ref().is_none_or(|(axis, at)| at[points.places(batch.first + place as u64)[*axis]])
    }
}
