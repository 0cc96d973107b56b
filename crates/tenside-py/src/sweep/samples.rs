//! What a brief allows: samples and corners.

use arrow_array::RecordBatch;
use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::brief::BriefLine;

use crate::brief::Brief;
use crate::convert::column::{Cell, Columns, batch, of_columns, page};
use crate::convert::failure::Outcome;
use crate::convert::output::Fraction;
use crate::convert::page::WIDTH;
use crate::convert::running::{AProgress, run};
use crate::solve::conflict::or_unanswerable;

record! {
    "tenside.brief",
    /// Formulas drawn evenly from what a brief allows.
    Samples {
        /// Percentages by line, one entry a sample.
        lines: IndexMap<String, Vec<f64>>,
        /// How many directions the brief leaves free.
        dimension: usize,
        /// Steps thrown away before the first sample.
        burn_in: usize,
        /// Steps from one sample to the next.
        thinning: usize,
    }
}

record! {
    "tenside.brief",
    /// Corners of what a brief allows.
    Corners {
        /// Exact percentages by line.
        formulas: Vec<IndexMap<String, Fraction>>,
        /// True if these are all; False if the limit was reached.
        complete: bool,
    }
}

arrow!(Samples, |it, _py| it.batch()?);
arrow!(Corners, |it, _py| it.batch()?);

/// Formulas by the row, shown as a table.
macro_rules! shown_as_table {
    ($class:ident, $title:literal) => {
        #[pymethods]
        impl $class {
            fn _repr_html_(&self, py: Python<'_>) -> Outcome<String> {
                Ok(page(py, $title, &self.batch()?)?.html())
            }

            fn __str__(&self, py: Python<'_>) -> Outcome<String> {
                Ok(page(py, $title, &self.batch()?)?.text(WIDTH))
            }
        }
    };
}

shown_as_table!(Samples, "Samples, % w/w");
shown_as_table!(Corners, "Corners, % w/w");

fn names(brief: &tenside::brief::Brief) -> impl Iterator<Item = String> + '_ {
    brief.lines().iter().map(BriefLine::name).map(String::from)
}

impl Samples {
    fn batch(&self) -> Outcome<RecordBatch> {
        let mut columns = Columns::new();
        self.lines.iter().for_each(|(line, percents)| {
            f64::columns(line, &percents.iter().map(Some).collect::<Vec<_>>(), &mut columns)
        });
        of_columns(columns, self.lines.first().map_or(0, |(_, percents)| percents.len()))
    }

    fn new(brief: &tenside::brief::Brief, samples: tenside::sweep::Samples) -> Self {
        let tenside::sweep::Samples { lines, dimension, burn_in, thinning, .. } = samples;
        Samples { lines: names(brief).zip(lines).collect(), dimension, burn_in, thinning }
    }
}

impl Corners {
    fn batch(&self) -> Outcome<RecordBatch> {
        batch(&self.formulas.iter().map(Some).collect::<Vec<_>>())
    }

    fn new(brief: &tenside::brief::Brief, corners: tenside::sweep::Corners) -> Self {
        let formula =
            |percents: Vec<tenside::number::Exact>| names(brief).zip(percents.into_iter().map(Fraction)).collect();
        Corners { formulas: corners.formulas.into_iter().map(formula).collect(), complete: corners.complete }
    }
}

#[pymethods]
impl Brief {
    /// `count` formulas drawn evenly from all that the brief allows, whatever its objective; the same for the same
    /// seed. `progress` is True for a bar, or called with how many are drawn and how many in all.
    ///
    /// >>> brief = td.Brief("Powders", td.Catalogue.starter()).free("kaolin").free("corn-starch").qs("sci-powder")
    /// >>> samples = brief.samples(500, seed=1)
    /// >>> samples.dimension, samples.burn_in, len(samples.lines["kaolin"])
    /// (2, 1400, 500)
    #[pyo3(signature = (count, *, seed, progress=None))]
    fn samples(&self, py: Python<'_>, count: usize, seed: u64, progress: Option<AProgress<'_>>) -> Outcome<Samples> {
        let samples = run(py, count as u64, progress, |watch| self.0.clone().watched_by(watch).samples(count, seed));
        Ok(Samples::new(&self.0, or_unanswerable(py, samples)?))
    }

    /// The corners of what the brief allows, every formula that is no mixture of others, up to a limit.
    ///
    /// >>> brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 30).free("corn-starch").qs("sci-powder")
    /// >>> corners = brief.corners(100)
    /// >>> corners.complete, corners.formulas[0]
    /// (True, {'kaolin': Fraction(0, 1), 'corn-starch': Fraction(0, 1), 'sci-powder': Fraction(100, 1)})
    #[pyo3(signature = (limit=1000))]
    fn corners(&self, py: Python<'_>, limit: usize) -> Outcome<Corners> {
        let corners = run(py, limit as u64, None, |watch| self.0.clone().watched_by(watch).corners(limit));
        Ok(Corners::new(&self.0, or_unanswerable(py, corners)?))
    }
}
