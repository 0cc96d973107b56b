//! What a brief allows: samples and corners.

use indexmap::IndexMap;
use tenside::brief::{Brief, BriefLine};

use crate::output::Fraction;

record! {
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
    /// Corners of what a brief allows.
    Corners {
        /// Exact percentages by line.
        formulas: Vec<IndexMap<String, Fraction>>,
        /// True where these are all; False where the limit was reached.
        complete: bool,
    }
}

fn names(brief: &Brief) -> impl Iterator<Item = String> + '_ {
    brief.lines().iter().map(BriefLine::name).map(String::from)
}

impl Samples {
    pub(crate) fn new(brief: &Brief, samples: tenside::sweep::Samples) -> Self {
        let tenside::sweep::Samples { lines, dimension, burn_in, thinning } = samples;
        Samples { lines: names(brief).zip(lines).collect(), dimension, burn_in, thinning }
    }
}

impl Corners {
    pub(crate) fn new(brief: &Brief, corners: tenside::sweep::Corners) -> Self {
        let formula = |percents: Vec<tenside::number::Exact>| names(brief).zip(percents.into_iter().map(Fraction)).collect();
        Corners { formulas: corners.formulas.into_iter().map(formula).collect(), complete: corners.complete }
    }
}
