//! Sweeps too large to keep: what is wanted of them, gathered row by row in constant memory.
//!
//! The rows are cut into segments that do not depend on how many threads work; each is gathered in its own order, and
//! the segments are joined in theirs, so that the result is the same for any number of threads.
//!
//! # Why
//! - A sweep parts into consecutive rows; a part is the sweep and two numbers, and what it gathers is plain numbers
//!   that other machines send. Sums of summaries are whole multiples of 2^-52 in 128 bits, so that they are the
//!   same for any cut; best rows and fronts are joined by what ranks them, before any division. Some rows from all
//!   over are ranked first, so that segments need not keep what those refuse; values of kept rows are worked out
//!   once, after joining.

mod definition;
mod front;
mod gather;
mod histogram;
mod keep;
mod summary;

use std::ops::Range;

pub use definition::{Comparison, Condition, Stream, StreamPart, StreamResult};
pub use front::front_of;
pub use histogram::{Bins, Histogram};
pub use keep::Kept;
pub use summary::{AxisSummary, PlaceSummary};

use definition::narrowed;
use gather::Plan;

use super::definition::Sweep;
use super::level::Level;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};

impl Sweep {
    /// Gathers from every row in constant memory.
    ///
    /// # Errors
    /// Columns that are not there or hold no numbers, nothing to rank by, counts past their limits, and what
    /// [`Sweep::table`] refuses but for size.
    pub fn stream(&self, stream: &Stream) -> Result<StreamResult, Error> {
        self.stream_within(stream, 0..self.rows(), Level::best())
    }

    /// Gathers from some rows. The result does not depend on how many threads work on it, nor on the level.
    ///
    /// # Errors
    /// As [`Sweep::stream`].
    pub fn stream_within(&self, stream: &Stream, rows: Range<u64>, level: Level) -> Result<StreamResult, Error> {
        let rows = rows.start.min(self.rows())..rows.end.min(self.rows());
        let narrow = narrowed(self, stream)?;
        let plan = Plan::new(&narrow, stream, level)?;
        plan.finish(&[plan.gather(rows)?])
    }

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
        Plan::new(&narrowed(self, stream)?, stream, level)?.gather(rows)
    }

    /// Joins parts that cover every row once, in whatever order they come.
    ///
    /// # Errors
    /// As [`Sweep::stream`]; rows that the sweep does not have, that are in no part or that two have; parts that were
    /// gathered for another stream.
    pub fn join_parts(&self, stream: &Stream, mut parts: Vec<StreamPart>) -> Result<StreamResult, Error> {
        parts.iter().try_for_each(|part| self.check_rows(&part.rows))?;
        parts.sort_by_key(|part| (part.rows.start, part.rows.end));
        let mut next = 0;
        for rows in parts.iter().map(|part| part.rows.clone()).chain(std::iter::once(self.rows()..self.rows())) {
            if rows.start != next {
                let problem = if rows.start > next { "some rows are in no part" } else { "rows that two parts have" };
                return Err(Fault::new(FaultKind::Contradiction, problem)
                    .value(format!("rows {} to before {}", next.min(rows.start), next.max(rows.start)))
                    .into());
            }
            next = rows.end;
        }
        Plan::new(&narrowed(self, stream)?, stream, Level::best())?.finish(&parts)
    }
}
