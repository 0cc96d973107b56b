//! What is asked of a design.

use super::points::DesignKind;
use crate::bounds::Quantity;
use crate::document::{check_name, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::{Exact, ToExact};
use crate::trial::terms::{Blend, Crossing, ProcessOrder, ProcessVariable};

/// A bar that was made already: what it taught is not asked for again.
#[derive(Clone, Debug, PartialEq)]
pub struct MadeRun {
    pub(super) formula: Formula,
    pub(super) settings: Vec<Exact>,
}

/// What is asked of a design: its kind, the model that it is for, and how many runs.
///
/// ```
/// use tenside::trial::{Blend, DesignKind, DesignRequest};
/// let request = DesignRequest::new(DesignKind::DOptimal, Blend::Quadratic, 7).runs(12)?.replicates(2)?.blocks(2)?;
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct DesignRequest {
    pub(super) kind: DesignKind,
    pub(super) blend: Blend,
    pub(super) seed: u64,
    pub(super) runs: Option<usize>,
    pub(super) replicates: usize,
    pub(super) blocks: usize,
    pub(super) within: Option<String>,
    pub(super) components: Option<Vec<String>>,
    pub(super) process: Vec<ProcessVariable>,
    pub(super) order: ProcessOrder,
    pub(super) crossing: Crossing,
    pub(super) whole_plot_ratio: Option<Exact>,
    pub(super) made: Vec<MadeRun>,
    pub(super) steps: usize,
    pub(super) centroids: Option<usize>,
    pub(super) starts: usize,
}

/// A whole number in the range of its quantity.
fn whole(quantity: Quantity, value: usize) -> Result<usize, Error> {
    match i64::try_from(value) {
        Ok(number) => quantity.check(&Exact::from(number)).map(|()| value),
        Err(_) => Err(quantity.fault(value).into()),
    }
}

impl DesignRequest {
    /// A design of a kind for a model of the mixture. The seed decides the order of the runs, and where the search for
    /// the best begins.
    #[must_use]
    pub fn new(kind: DesignKind, blend: Blend, seed: u64) -> Self {
        DesignRequest {
            kind,
            blend,
            seed,
            runs: None,
            replicates: 1,
            blocks: 1,
            within: None,
            components: None,
            process: Vec::new(),
            order: ProcessOrder::Linear,
            crossing: Crossing::Added,
            whole_plot_ratio: None,
            made: Vec::new(),
            steps: 2,
            centroids: None,
            starts: 10,
        }
    }

    /// So many runs are chosen: of a D- or I-optimal design. The other kinds say themselves which runs they have.
    ///
    /// # Errors
    /// None, or more than a thousand.
    pub fn runs(self, runs: usize) -> Result<Self, Error> {
        Ok(DesignRequest { runs: Some(whole(Quantity::DesignRuns, runs)?), ..self })
    }

    /// Every run is made that many times.
    ///
    /// # Errors
    /// None, or more than a hundred.
    pub fn replicates(self, replicates: usize) -> Result<Self, Error> {
        Ok(DesignRequest { replicates: whole(Quantity::Replicates, replicates)?, ..self })
    }

    /// The runs are made in that many blocks: days, batches of a raw material, presses. What differs from block to
    /// block is kept apart from what the terms do, as far as that goes.
    ///
    /// # Errors
    /// None, or more than a hundred.
    pub fn blocks(self, blocks: usize) -> Result<Self, Error> {
        Ok(DesignRequest { blocks: whole(Quantity::Blocks, blocks)?, ..self })
    }

    /// Inside one part of the formula alone: the members of this split, whose ratio is what is looked for. They stay
    /// together at what they are in the brief's answer, and every other line as it is there.
    ///
    /// # Errors
    /// A bad name.
    pub fn within(self, split: &str) -> Result<Self, Error> {
        Ok(DesignRequest { within: Some(check_name(split)?), ..self })
    }

    /// The model has these components alone: where a requirement binds the lines to each other, the others follow from
    /// them.
    ///
    /// # Errors
    /// A bad name, more than a thousand.
    pub fn components<N: AsRef<str>>(self, names: impl IntoIterator<Item = N>) -> Result<Self, Error> {
        let mut known = Vec::new();
        for name in names {
            whole(Quantity::Lines, known.len() + 1)?;
            known.push(check_name(name.as_ref())?);
        }
        Ok(DesignRequest { components: Some(known), ..self })
    }

    /// Process variables are varied beside the mixture: at their ends, and for a quadratic order in the middle too.
    ///
    /// # Errors
    /// More variables than a model may have terms.
    pub fn process(
        self,
        variables: impl IntoIterator<Item = ProcessVariable>,
        order: ProcessOrder,
        crossing: Crossing,
    ) -> Result<Self, Error> {
        let mut process = Vec::new();
        for variable in variables {
            whole(Quantity::ModelTerms, process.len() + 1)?;
            process.push(variable);
        }
        Ok(DesignRequest { process, order, crossing, ..self })
    }

    /// Settings are changed as seldom as can be: in a block all runs of one combination are made one after the other
    /// (split-plot). What such a change brings with it is then mixed up with what the settings do, so that less is
    /// known of these than of the mixture: its variance is `ratio` times that of a single run. 1 where nothing is known
    /// of it (common practice, no source). Runs are chosen, and the efficiency is told, under that; bars made already
    /// count as whole plots of their own, and replicates are made in one.
    ///
    /// # Errors
    /// A ratio that is no number, or out of range.
    pub fn split_plot(self, ratio: impl ToExact) -> Result<Self, Error> {
        let ratio = ratio.to_exact()?;
        Quantity::WholePlotRatio.check(&ratio)?;
        Ok(DesignRequest { whole_plot_ratio: Some(ratio), ..self })
    }

    /// With a bar that was made already, and the process settings it was made at, in the order of the variables.
    ///
    /// # Errors
    /// A setting that is no number or beyond a million, more than ten thousand bars.
    pub fn made<S: ToExact>(mut self, formula: &Formula, settings: impl IntoIterator<Item = S>) -> Result<Self, Error> {
        whole(Quantity::MadeRuns, self.made.len() + 1)?;
        let mut values = Vec::new();
        for setting in settings {
            whole(Quantity::ModelTerms, values.len() + 1)?;
            let setting = Quantity::ProcessSetting.exact(setting)?;
            values.push(setting);
        }
        self.made.push(MadeRun { formula: formula.clone(), settings: values });
        Ok(self)
    }

    /// As [`DesignRequest::made`], with the settings by process variable, which were stated before.
    ///
    /// # Errors
    /// A name that is no process variable or stands twice, a variable without a setting; and as
    /// [`DesignRequest::made`].
    pub fn made_at<N: AsRef<str>, S: ToExact>(
        self,
        formula: &Formula,
        settings: impl IntoIterator<Item = (N, S)>,
    ) -> Result<Self, Error> {
        let mut values: Vec<Option<Exact>> = vec![None; self.process.len()];
        for (name, setting) in settings {
            let name = name.as_ref();
            let place = self.process.iter().position(|variable| variable.name() == name);
            let place = place.ok_or_else(|| {
                unknown_name("process variable", name, self.process.iter().map(ProcessVariable::name))
            })?;
            if values[place].replace(setting.to_exact()?).is_some() {
                return Err(Fault::new(FaultKind::Duplicate, "a setting is stated twice")
                    .value(format!("{name:?}"))
                    .into());
            }
        }
        let missing = |variable: &ProcessVariable| {
            Fault::new(FaultKind::Missing, "a setting of a made bar is not stated")
                .value(format!("{:?}", variable.name()))
        };
        let settings = self
            .process
            .iter()
            .zip(values)
            .map(|(variable, value)| value.ok_or_else(|| missing(variable).into()))
            .collect::<Result<Vec<_>, Error>>()?;
        self.made(formula, settings)
    }

    /// The steps of a simplex lattice; 2 where nothing is said.
    ///
    /// # Errors
    /// None, or more than ten thousand.
    pub fn steps(self, steps: usize) -> Result<Self, Error> {
        Ok(DesignRequest { steps: whole(Quantity::LatticeSteps, steps)?, ..self })
    }

    /// The greatest dimension of the faces whose centroids are among the points: 0 none, 1 the middles of edges. That
    /// of the whole region is always one. Where nothing is said: 0 for the linear model, 1 for the quadratic, 2 for a
    /// cubic one.
    ///
    /// # Errors
    /// More than a thousand.
    pub fn centroids(self, highest: usize) -> Result<Self, Error> {
        if highest > 1000 {
            return Err(Fault::new(FaultKind::OutOfRange, "dimension of a face out of range")
                .value(highest)
                .allowed("0 to 1000")
                .into());
        }
        Ok(DesignRequest { centroids: Some(highest), ..self })
    }

    /// How many times the search begins anew; ten where nothing is said.
    ///
    /// # Errors
    /// None, or more than a thousand.
    pub fn starts(self, starts: usize) -> Result<Self, Error> {
        Ok(DesignRequest { starts: whole(Quantity::SearchStarts, starts)?, ..self })
    }

    /// The dimension up to which faces have their centroids among the points.
    pub(super) fn highest_face(&self) -> usize {
        self.centroids.unwrap_or(match self.blend {
            Blend::Linear => 0,
            Blend::Quadratic => 1,
            Blend::SpecialCubic | Blend::FullCubic => 2,
        })
    }
}
