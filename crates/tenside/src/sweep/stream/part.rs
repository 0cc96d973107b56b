//! What was gathered of a part of the rows, to be carried elsewhere and joined.

use std::ops::Range;

use super::gather::narrowed;
use super::{AxisSummary, Histogram, Stream, StreamResult, Worker};
use crate::error::{Error, Fault, FaultKind};
use crate::sweep::closed::Level;
use crate::sweep::definition::Sweep;

/// The most parts that a sweep is cut into.
const MOST_PARTS: u64 = 1_000_000;

/// What was gathered of consecutive rows. Its fields are plain numbers, so that another machine can send them; parts
/// that cover a sweep are joined to what one machine would have gathered, bit for bit.
///
/// ```
/// use tenside::brief::{Brief, Direction, SplitBasis};
/// use tenside::catalogue::Catalogue;
/// use tenside::measure::Measure;
/// use tenside::sweep::{Axis, Level, Stream, Sweep};
/// let brief = Brief::new("Bar", &Catalogue::starter())?
///     .split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])?
///     .qs("kaolin")?
///     .target(Measure::active_matter(), 50)?
///     .at_most(Measure::water(), 20)?;
/// let sweep = Sweep::new(&brief, vec![Axis::lattice(&brief, "wash", 100)?])?;
/// let stream = Stream::default().best(3, "line.sci-powder", Direction::Minimise).summary("water");
/// let parts = sweep.parts(4)?.into_iter().map(|rows| sweep.stream_part(&stream, rows, Level::best()));
/// let parts = parts.collect::<Result<Vec<_>, _>>()?;
/// assert_eq!(sweep.join_parts(&stream, parts)?, sweep.stream(&stream)?);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct StreamPart {
    /// Which rows.
    pub rows: Range<u64>,
    /// Rows with a formula.
    pub feasible: u64,
    /// Rows with a formula that meet the conditions.
    pub kept: u64,
    /// The best rows with what they are ranked by, the less the better, in units of the sweep's own.
    pub best: Vec<(f64, u64)>,
    /// The Pareto front with what it is judged by, the less the better, in units of the sweep's own.
    pub front: Vec<(Vec<f64>, u64)>,
    /// The histograms, in the order query.
    pub histograms: Vec<Histogram>,
    /// A summary of each column asked for, one an axis.
    pub summaries: Vec<Vec<AxisSummary>>,
}

impl Sweep {
    /// The rows in so many consecutive parts of as even a size as may be; fewer where there are fewer rows.
    ///
    /// # Errors
    /// No parts at all, or more than a million.
    pub fn parts(&self, count: u64) -> Result<Vec<Range<u64>>, Error> {
        if count == 0 || count > MOST_PARTS {
            return Err(Fault::new(FaultKind::OutOfRange, "number of parts out of range")
                .value(count)
                .allowed(format!("1 to {MOST_PARTS} parts"))
                .into());
        }
        let count = count.min(self.rows());
        let start = |part: u64| (u128::from(self.rows()) * u128::from(part) / u128::from(count)) as u64;
        Ok((0..count).map(|part| start(part)..start(part + 1)).collect())
    }

    /// Gathers from consecutive rows for [`Sweep::join_parts`].
    ///
    /// # Errors
    /// As [`Sweep::stream`], and rows that the sweep does not have.
    pub fn stream_part(&self, stream: &Stream, rows: Range<u64>, level: Level) -> Result<StreamPart, Error> {
        if rows.start > rows.end || rows.end > self.rows() {
            return Err(self.no_row(format!("{} to {}", rows.start, rows.end)).into());
        }
        let narrow = narrowed(self, stream)?;
        Worker::new(&narrow, stream, level)?.gather(rows, narrow.watched())
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
        Worker::new(&narrow, stream, Level::best())?.plan.finish(&narrow, &parts)
    }
}
