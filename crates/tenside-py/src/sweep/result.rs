//! What a stream kept of a sweep.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::sweep::{Comparison, Kept as CoreKept, Stream};

use crate::convert::failure::Outcome;
use crate::convert::input::{Names, Number, Several};
use crate::convert::running::{AProgress, run};
use crate::convert::word::Word;
use crate::sweep::Sweep;
use crate::sweep::query::{AColumn, StreamKeywords};
record! {
    "tenside.sweep",
    /// A row of a sweep and what some columns say of it.
    KeptRow {
        /// The row; `Sweep.answer` solves it exactly.
        row: u64,
        /// Values by column.
        values: IndexMap<String, f64>,
    }
}

record! {
    "tenside.sweep",
    /// How many rows fall into each bin of a column.
    SweepHistogram {
        /// The column.
        column: String,
        /// The edges of the bins, one more than bins.
        edges: Vec<f64>,
        /// Rows in each bin; one on an edge counts in the bin above, one on the last in the last.
        counts: Vec<u64>,
        /// Rows below the first edge.
        below: u64,
        /// Rows above the last edge.
        above: u64,
    }
}

record! {
    "tenside.sweep",
    /// What a column comes to over the rows with one value of an axis.
    AxisValueSummary {
        /// The column.
        column: String,
        /// The axis, as its column is named.
        axis: String,
        /// The place of the value on the axis.
        place: usize,
        /// Rows kept.
        rows: u64,
        /// The least value; None if no row is kept.
        least: Option<f64>,
        /// The greatest value; None if no row is kept.
        greatest: Option<f64>,
        /// The mean value; None if no row is kept.
        mean: Option<f64>,
    }
}

record! {
    "tenside.sweep",
    /// What a stream kept of a sweep.
    StreamResult {
        /// Rows worked out.
        rows: u64,
        /// Rows with a formula.
        feasible: u64,
        /// Rows with a formula that meet the comparisons.
        kept: u64,
        /// The best rows, the best first.
        best: Vec<KeptRow>,
        /// The Pareto front, by its first column.
        front: Vec<KeptRow>,
        /// The histograms asked for.
        histograms: Vec<SweepHistogram>,
        /// The summaries asked for, one entry for every value of every axis.
        summaries: Vec<AxisValueSummary>,
    }
}

impl StreamResult {
    pub(crate) fn new(sweep: &tenside::sweep::Sweep, seen: tenside::sweep::StreamResult, stream: &Stream) -> Self {
        let row = |(row, values): &CoreKept| KeptRow {
            row: *row,
            values: seen.columns.iter().cloned().zip(values.iter().copied()).collect(),
        };
        let histograms = stream.histogram_columns().zip(&seen.histograms).map(|(column, histogram)| SweepHistogram {
            column: column.to_string(),
            edges: histogram.bins.edges(),
            counts: histogram.counts.clone(),
            below: histogram.below,
            above: histogram.above,
        });
        let mut summaries = Vec::new();
        for (column, axes) in stream.summary_columns().zip(&seen.summaries) {
            for summary in axes {
                let axis = sweep.axis_name(summary.axis);
                summaries.extend(summary.places.iter().enumerate().map(|(place, found)| AxisValueSummary {
                    column: column.to_string(),
                    axis: axis.clone(),
                    place,
                    rows: found.rows,
                    least: found.least(),
                    greatest: found.greatest(),
                    mean: found.mean(),
                }));
            }
        }
        StreamResult {
            rows: seen.rows,
            feasible: seen.feasible,
            kept: seen.kept,
            best: seen.best.iter().map(row).collect(),
            front: seen.front.iter().map(row).collect(),
            histograms: histograms.collect(),
            summaries,
        }
    }
}

with_stream_keywords!(
    Sweep,
    /// Every row worked out, and kept of it in constant memory: how many there are, the `best` rows by a column, the
    /// Pareto front of columns to `minimise` and to `maximise`, histograms by column as (from, to, bins), and summaries
    /// along every axis. Columns are named, or are measures. `only` keeps rows that meet all its comparisons, as
    /// ("water", "<", 9), each with the float nearest to its number; rows without formula are never kept. Of rows that
    /// tie on the front, the earliest is kept. `without` keeps rows of which these columns of a review say nothing, such
    /// as "findings.certain". `progress` is True for a bar, or called with rows done and rows in all.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    /// >>> brief = brief.target(td.measure.active_matter, 50).at_most(td.measure.water, 30)
    /// >>> sweep = td.Sweep(brief, td.axis("wash.capb-30", range(1, 15)))
    /// >>> seen = sweep.stream(only=[(td.measure.water, "<", 9)], best=(2, "line.capb-30"), maximise_best=True)
    /// >>> seen.rows, seen.kept, [kept.row for kept in seen.best]
    /// (14, 1, [0])
    stream()(slf: &Bound<'_, Self>,) -> Outcome<StreamResult>,
    |keywords| {
        let (py, sweep) = (slf.py(), slf.get());
        let (query, progress) = keywords.query(sweep)?;
        let stream = query.stream()?;
        let seen = run(py, sweep.core.rows(), progress, |watch| sweep.core.clone().watched_by(watch).stream(&stream))?;
        Ok(StreamResult::new(&sweep.core, seen, &stream))
    }
);
