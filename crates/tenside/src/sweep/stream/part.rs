//! What was gathered of a part of the rows, to be carried elsewhere and joined.

use std::ops::Range;

use super::definition::{Stream, StreamPart, StreamResult, narrowed};
use super::worker::Worker;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::sweep::definition::Sweep;
use crate::sweep::level::Level;

impl Sweep {
    /// The rows in so many consecutive parts of as even a size as may be; fewer where there are fewer rows.
    ///
    /// # Errors
    /// No parts at all, or more than a million.
    pub fn parts(&self, count: u64) -> Result<Vec<Range<u64>>, Error> {
        Quantity::SweepParts.check_count(count)?;
        let count = count.min(self.rows());
        let start = |part: u64| (u128::from(self.rows()) * u128::from(part) / u128::from(count)) as u64;
        Ok((0..count).map(|part| start(part)..start(part + 1)).collect())
    }

    /// Gathers from consecutive rows for [`Sweep::join_parts`].
    ///
    /// # Errors
    /// As [`Sweep::stream`], and rows that the sweep does not have.
    pub fn stream_part(&self, stream: &Stream, rows: Range<u64>, level: Level) -> Result<StreamPart, Error> {
        self.check_rows(&rows)?;
        let narrow = narrowed(self, stream)?;
        Worker::new(&narrow, stream, level)?.gather(rows)
    }

    /// Joins parts that cover every row once, in whatever order they come.
    ///
    /// # Errors
    /// As [`Sweep::stream`]; some rows are in no part or that two have; parts that were gathered for another stream.
    pub fn join_parts(&self, stream: &Stream, mut parts: Vec<StreamPart>) -> Result<StreamResult, Error> {
        parts.sort_by_key(|part| (part.rows.start, part.rows.end));
        let mut next = 0;
        for part in &parts {
            if part.rows.start != next {
                let problem =
                    if part.rows.start > next { "some rows are in no part" } else { "rows that two parts have" };
                let between = next.min(part.rows.start)..next.max(part.rows.start);
                return Err(Fault::new(FaultKind::Contradiction, problem)
                    .value(format!("rows {} to before {}", between.start, between.end))
                    .into());
            }
            next = part.rows.end;
        }
        if next != self.rows() {
            return Err(Fault::new(FaultKind::Contradiction, "some rows are in no part")
                .value(format!("rows {next} to before {}", self.rows()))
                .into());
        }
        let narrow = narrowed(self, stream)?;
        Worker::new(&narrow, stream, Level::best())?.plan.finish(&parts)
    }
}
