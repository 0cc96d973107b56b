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
mod part;
mod summary;
mod worker;

use std::ops::Range;

pub use definition::{Comparison, Condition, Stream, StreamPart, StreamResult};
pub use front::front_of;
pub use histogram::{Bins, Histogram};
pub use keep::Kept;
pub use summary::{AxisSummary, PlaceSummary};

use definition::narrowed;
use worker::Worker;

use super::definition::Sweep;
use super::level::Level;
use crate::error::Error;

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
        let worker = Worker::new(&narrow, stream, level)?;
        worker.plan.finish(&[worker.gather(rows)?])
    }
}
