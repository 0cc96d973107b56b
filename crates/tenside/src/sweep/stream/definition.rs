//! What is gathered of a sweep, and what comes of it.

use std::collections::BTreeSet;
use std::ops::Range;

use super::histogram::{Bins, Histogram};
use super::keep::Kept;
use super::summary::AxisSummary;
use crate::brief::Direction;
use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::sweep::column::Column;
use crate::sweep::definition::Sweep;

/// One comparison of a filter.
#[derive(Clone, Debug, PartialEq)]
pub struct Condition {
    /// The column.
    pub column: String,
    /// Which way.
    pub comparison: Comparison,
    /// The value whose nearest `f64` it is compared with, as the cells of a column are the nearest to theirs: a cell is
    /// at least, and at most, what it shows.
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
    pub(super) conditions: Vec<Condition>,
    pub(super) without: Vec<String>,
    pub(super) best: Option<(usize, String, Direction)>,
    pub(super) front: Vec<(String, Direction)>,
    pub(super) histograms: Vec<(String, Bins)>,
    pub(super) summaries: Vec<String>,
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
    /// all only the earliest, since there is no telling how many of them a sweep has.
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

/// The sweep with the columns that a stream reads, and nothing else; codes come last.
pub(super) fn narrowed(sweep: &Sweep, stream: &Stream) -> Result<Sweep, Error> {
    let named = stream
        .conditions
        .iter()
        .map(|condition| &condition.column)
        .chain(stream.best.iter().map(|(_, column, _)| column));
    let named = named
        .chain(stream.front.iter().map(|(column, _)| column))
        .chain(stream.histograms.iter().map(|(column, _)| column))
        .chain(&stream.summaries);
    let named = named.map(|name| (false, name)).chain(stream.without.iter().map(|name| (true, name)));
    let place = |(is_code, name): (bool, &String)| Ok((is_code, sweep.column(name)?));
    let wanted = named.map(place).collect::<Result<BTreeSet<(bool, usize)>, Error>>()?;
    for &(is_code, place) in &wanted {
        let fault = match &sweep.columns()[place] {
            Column::Review(_) if is_code => continue,
            Column::Line(_) | Column::Measure(..) | Column::Objective if !is_code => continue,
            _ if is_code => Fault::new(FaultKind::Unsupported, "only the columns of a review can be asked to be empty"),
            _ => Fault::new(FaultKind::Unsupported, "a stream can select by lines, measures and the objective only")
                .remedy("a swept value is known beforehand: give its axis fewer values"),
        };
        return Err(fault.at(format!("column {:?}", sweep.names()[place])).into());
    }
    let names: Vec<&str> = wanted.iter().map(|(_, place)| sweep.names()[*place].as_str()).collect();
    sweep.clone().with_columns(&names)
}
