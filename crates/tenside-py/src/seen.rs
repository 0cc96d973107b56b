//! What a stream kept of a sweep.

use indexmap::IndexMap;
use tenside::sweep::{Kept as CoreKept, Stream};

record! {
    /// A row of a sweep and what some columns say of it.
    KeptRow {
        /// The row; `Sweep.answer` solves it exactly.
        row: u64,
        /// Values by column.
        values: IndexMap<String, f64>,
    }
}

record! {
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
        /// The least value; None where no row is kept.
        least: Option<f64>,
        /// The greatest value; None where no row is kept.
        greatest: Option<f64>,
        /// The mean value; None where no row is kept.
        mean: Option<f64>,
    }
}

record! {
    /// What a stream kept of a sweep.
    Seen {
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

impl Seen {
    pub(crate) fn new(sweep: &tenside::sweep::Sweep, seen: tenside::sweep::Seen, stream: &Stream) -> Self {
        let row = |(row, values): &CoreKept| KeptRow { row: *row, values: seen.columns.iter().cloned().zip(values.iter().copied()).collect() };
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
        Seen {
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
