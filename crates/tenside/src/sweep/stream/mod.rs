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

mod front;
mod gather;
mod histogram;
mod keep;
mod part;
mod summary;

use std::ops::Range;

use rayon::prelude::*;

pub use front::front_of;
pub use histogram::{Bins, Histogram};
pub use keep::Kept;
pub use part::StreamPart;
pub use summary::{AxisSummary, PlaceSummary};

use gather::{Gathered, Plan, narrowed};

use super::closed::Level;
use super::definition::Sweep;
use super::engine::filler;
use super::fill::{Fill, Query};
use crate::brief::Direction;
use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::watch::{Halt, Watched, stopped};

/// Segments that a sweep is cut into at most.
const SEGMENTS: u64 = 256;
/// Rows of a segment at least.
const LEAST_ROWS: u64 = 1 << 16;
/// Places from which some rows are looked at beforehand, and how many at each.
const SEEDS: u64 = 128;
const SEED_ROWS: u64 = 512;
/// The most rows that are kept as best or on a front.
const MOST_KEPT: usize = 1_000_000;

/// One comparison of a filter.
#[derive(Clone, Debug, PartialEq)]
pub struct Condition {
    /// The column.
    pub column: String,
    /// Which way.
    pub comparison: Comparison,
    /// The value that it is compared with.
    pub value: Exact,
}

named_enum! {
    /// How a column is compared with a value, as a program writes it.
    Comparison "comparison" {
        /// Below the value.
        Under = "<",
        /// The value or less.
        AtMost = "<=",
        /// Above the value.
        Over = ">",
        /// The value or more.
        AtLeast = ">=",
    }
}

/// What is gathered. Columns are named as in a table; only numbers of lines, measures and the objective can be asked
/// for.
///
/// ```
/// use tenside::brief::{Brief, Direction, SplitBasis};
/// use tenside::catalogue::Catalogue;
/// use tenside::measure::Measure;
/// use tenside::number::Exact;
/// use tenside::sweep::{Axis, Comparison, Condition, Stream, Sweep};
/// let brief = Brief::new("Bar", &Catalogue::starter())?
///     .split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])?
///     .qs("kaolin")?
///     .target(Measure::active_matter(), 50)?
///     .at_most(Measure::water(), 20)?;
/// let sweep = Sweep::new(&brief, vec![Axis::lattice(&brief, "wash", 100)?])?;
/// let water = Condition { column: "water".into(), comparison: Comparison::Under, value: Exact::from(9) };
/// let seen = sweep.stream(&Stream::default().only(water).best(3, "line.sci-powder", Direction::Minimise))?;
/// assert_eq!((seen.rows, seen.best.len()), (5151, 3));
/// assert!(seen.feasible > seen.kept);
/// let (row, values) = &seen.best[0];
/// assert_eq!(sweep.answer(*row)?.exact()[0].to_f64(), values[0]);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stream {
    conditions: Vec<Condition>,
    without: Vec<String>,
    best: Option<(usize, String, Direction)>,
    front: Vec<(String, Direction)>,
    histograms: Vec<(String, Bins)>,
    summaries: Vec<String>,
}

impl Stream {
    /// Only rows that meet this too, besides having a formula.
    #[must_use]
    pub fn only(mut self, condition: Condition) -> Self {
        self.conditions.push(condition);
        self
    }

    /// Only rows of which this column of a review says nothing, such as `findings.certain`; what else is asked for is
    /// looked at first.
    #[must_use]
    pub fn without(mut self, column: &str) -> Self {
        self.without.push(column.to_string());
        self
    }

    /// The `count` rows with the best values of a column; of equal ones, the earlier.
    #[must_use]
    pub fn best(mut self, count: usize, column: &str, direction: Direction) -> Self {
        self.best = Some((count, column.to_string(), direction));
        self
    }

    /// The rows that no other row is as good as in each of these columns and better in one; of rows that are equal in
    /// all, the earliest.
    #[must_use]
    pub fn pareto(mut self, columns: &[(&str, Direction)]) -> Self {
        self.front = columns.iter().map(|(column, direction)| (column.to_string(), *direction)).collect();
        self
    }

    /// How many rows fall into each bin of a column.
    #[must_use]
    pub fn histogram(mut self, column: &str, bins: Bins) -> Self {
        self.histograms.push((column.to_string(), bins));
        self
    }

    /// For every value of every axis, how many rows are kept, and the least, greatest and mean value of a column.
    #[must_use]
    pub fn summary(mut self, column: &str) -> Self {
        self.summaries.push(column.to_string());
        self
    }
}

impl Stream {
    /// The columns of its histograms.
    pub fn histogram_columns(&self) -> impl Iterator<Item = &str> {
        self.histograms.iter().map(|(column, _)| column.as_str())
    }

    /// The columns of its summaries.
    pub fn summary_columns(&self) -> impl Iterator<Item = &str> {
        self.summaries.iter().map(String::as_str)
    }
}

/// What was gathered.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct StreamResult {
    /// Rows worked.
    pub rows: u64,
    /// Rows with a formula.
    pub feasible: u64,
    /// Rows with a formula that meet the conditions.
    pub kept: u64,
    /// The columns whose values stand beside rows, in the order of the sweep's columns.
    pub columns: Vec<String>,
    /// The best rows, the best first, with the values of the columns.
    pub best: Vec<Kept>,
    /// The Pareto front, by the values of its first column, the best first.
    pub front: Vec<Kept>,
    /// The histograms, in the order query.
    pub histograms: Vec<Histogram>,
    /// A summary of each column query for, one an axis.
    pub summaries: Vec<Vec<AxisSummary>>,
}

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
        let part = worker.gather(rows, narrow.watched())?;
        worker.plan.finish(&narrow, &[part])
    }
}

/// A plan with what fills its rows.
struct Worker<'a> {
    filler: Box<dyn Fill + 'a>,
    plan: Plan,
}

impl<'a> Worker<'a> {
    fn new(narrow: &'a Sweep, stream: &Stream, level: Level) -> Result<Self, Error> {
        let query = Query::new(narrow, level)?;
        let filler = filler(narrow, &query)?;
        let plan = Plan::new(narrow, stream, &query, filler.scales())?;
        Ok(Worker { filler, plan })
    }

    fn gather(&self, rows: Range<u64>, watched: &Watched) -> Result<StreamPart, Error> {
        let Worker { filler, plan } = self;
        let count = rows.end.saturating_sub(rows.start);
        let length = (count / SEGMENTS).max(if filler.is_closed() { LEAST_ROWS } else { 1 }).max(1);
        let segments = count.div_ceil(length);
        let mut seed = plan.start();
        if filler.is_closed() && count >= SEEDS * LEAST_ROWS {
            for place in 0..SEEDS {
                let first = rows.start + place * (count / SEEDS);
                filler.fill(first..first + SEED_ROWS, &mut |batch| {
                    plan.take(batch, &mut seed);
                    true
                })?;
                if let Some(error) = seed.failed.take() {
                    return Err(error);
                }
            }
        }
        let gathered: Result<Vec<Gathered>, Error> = (0..segments)
            .into_par_iter()
            .map(|segment| {
                let first = rows.start + segment * length;
                let last = (first + length).min(rows.end);
                watched.check()?;
                let mut gathered = plan.start_from(&seed);
                let mut unreported = 0;
                let done = filler.fill(first..last, &mut |batch| {
                    plan.take(batch, &mut gathered);
                    unreported += batch.count as u64;
                    // A watcher costs more than a small batch.
                    if filler.is_closed() && plan.is_quick() && unreported < LEAST_ROWS {
                        return true;
                    }
                    if gathered.failed.is_some() {
                        return false;
                    }
                    watched.go_on(std::mem::take(&mut unreported))
                })?;
                if let Some(error) = gathered.failed.take() {
                    return Err(error);
                }
                if done && watched.go_on(unreported) { Ok(gathered) } else { Err(stopped()) }
            })
            .collect();
        Ok(plan.joined(rows, gathered?))
    }
}

/// Refuses to keep more rows than memory is meant for.
fn check_count(count: usize) -> Result<(), Error> {
    if count == 0 || count > MOST_KEPT {
        return Err(Fault::new(FaultKind::OutOfRange, "number of rows to keep out of range")
            .value(count)
            .allowed(format!("1 to {MOST_KEPT} rows"))
            .into());
    }
    Ok(())
}
