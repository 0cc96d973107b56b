//! Which bars to press: designs of trials inside what a brief allows, with a bound on what any design could reach.
//!
//! # Why
//! - The region is the brief's own: its vertices are found exactly, and what stands in one ratio everywhere (the
//!   members of a split) is one component. Components that are bound by more than their sum are refused with what binds
//!   them: which of them a model leaves out is the user's choice.
//! - Exchange finds good designs and proves nothing. The bound comes from an approximate design and is evaluated so
//!   that it holds however good that one is (`design/certificate.rs`). It is about the candidates listed. For a model
//!   that is linear in the mixture and in each process variable it is about every mixture of the region: the variance
//!   is convex there, so that it is greatest at a vertex.
//! - The average variance of an I-optimal design is over mixtures drawn evenly from the region by a fixed seed: exact
//!   moments of a polytope take its triangulation, and the bound is about the same average either way.
//! - A design is made of formulas on the grid; its efficiency is worked out again from these, and from what was weighed
//!   ([`Design::efficiency_as_weighed`]).
//! - Split-plot designs are chosen, and their efficiency and its bound told, for generalised least squares under a
//!   stated ratio of the variances (`design/plots.rs`). A whole plot is one combination of settings in one block: who
//!   wants a combination set up twice asks for blocks. The bound holds, but about the settings listed alone: any other
//!   would be a whole plot that it knows nothing of. It is of designs that may be divided, which few whole plots cannot
//!   be: of 24 small cases whose best is known it lay 0.4 to 24 % of the efficiency above that.

mod approximate;
mod basis;
mod blocks;
mod certificate;
mod choose;
mod document;
mod exchange;
mod faces;
mod page;
mod plots;
mod points;
mod request;
mod rows;
mod space;

pub use document::DesignDocument;
pub use points::{DesignKind, PointKind};
pub use request::{DesignRequest, MadeRun};

use self::certificate::{Certificate, Sized, whitened};
use self::rows::Rows;
use self::space::Fractions;
use super::terms::Terms;
use super::whole_plots::WholePlots;
use crate::brief::{Brief, BriefLine};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::{Exact, ToExact};

/// A run of a design: one bar to press.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DesignedRun {
    /// Its place in the order, from 1.
    pub number: usize,
    /// Its block, from 1.
    pub block: usize,
    /// Runs between which no setting is changed, from 1; nothing where every run is set up anew.
    pub whole_plot: Option<usize>,
    /// Where in the region it lies.
    pub kind: PointKind,
    /// Exact percentages, in the order of the brief's lines.
    pub point: Vec<Exact>,
    /// Settings of the process variables, in their units and order.
    pub settings: Vec<Exact>,
    /// What is weighed: the formula at the point, on the grid.
    pub formula: Formula,
}

/// A design: runs in their order, and how near they come to the best there can be. [`Brief::design`] makes it.
#[derive(Clone, Debug, PartialEq)]
pub struct Design {
    brief: Brief,
    request: DesignRequest,
    terms: Terms,
    fractions: Fractions,
    certificate: Certificate,
    candidates: Vec<(PointKind, usize)>,
    runs: Vec<DesignedRun>,
    efficiency: f64,
    efficiency_as_rounded: Option<f64>,
    block_efficiency: Option<f64>,
}

getters!(Design {
    /// The brief whose region it is in.
    brief: &Brief,
    /// What was asked.
    request: &DesignRequest,
    /// The model it is for.
    terms: &Terms,
    /// The runs, in the order in which they are made.
    runs: &[DesignedRun],
    /// How many points of each kind the bound is about, at every combination of settings.
    candidates: &[(PointKind, usize)],
    /// The share, from 0 to 1, that the design reaches at least of what any design of as many runs among the candidates
    /// can: of the `p`th root of the determinant, or for an I-optimal design of the reciprocal of the average variance.
    /// Bars made already count in both.
    efficiency: f64,
    /// The same for the formulas on the grid; nothing where they no longer determine every term.
    efficiency_as_rounded: Option<f64>,
    /// What blocks leave of the efficiency, from 0 to 1; nothing without blocks.
    block_efficiency: Option<f64>,
});

impl Design {
    /// The kind.
    #[must_use]
    pub fn kind(&self) -> DesignKind {
        self.request.kind
    }

    /// The formulas of the runs, on the grid.
    #[must_use]
    pub fn formulas(&self) -> Vec<Formula> {
        self.runs.iter().map(|run| run.formula.clone()).collect()
    }

    /// True where the bound is about every mixture of the region, not the candidates alone.
    #[must_use]
    pub fn bound_holds_everywhere(&self) -> bool {
        self.terms.blend() == super::terms::Blend::Linear
            && self.terms.order() == super::terms::ProcessOrder::Linear
            && self.terms.whole_plot_ratio().is_none()
    }

    /// The efficiency with these formulas in place of the runs' own, in their order; nothing where they no longer
    /// determine every term.
    ///
    /// # Errors
    /// Another number of formulas than runs, one without a line that is varied.
    pub fn efficiency_of(&self, formulas: &[Formula]) -> Result<Option<f64>, Error> {
        self.efficiency_at(formulas.iter().map(|formula| self.fractions.of_formula(formula)).collect::<Result<_, _>>()?)
    }

    /// The efficiency with what was weighed in place of the runs' own formulas: so much of each line, in any unit, in
    /// the order of the runs. A line that is not named was not weighed.
    ///
    /// # Errors
    /// Another number of batches than runs, a name that is no line, a batch with nothing of what is varied.
    pub fn efficiency_as_weighed<N: AsRef<str>, A: ToExact>(
        &self,
        batches: impl IntoIterator<Item = impl IntoIterator<Item = (N, A)>>,
    ) -> Result<Option<f64>, Error> {
        let mut parts = Vec::new();
        for (place, batch) in batches.into_iter().enumerate() {
            let within = |error: Error| error.within(&format!("batch {}", place + 1));
            let batch = batch.into_iter().map(|(name, amount)| Ok((name, amount.to_exact()?)));
            let batch = batch.collect::<Result<Vec<(N, Exact)>, _>>().map_err(within)?;
            let lines = || self.brief.lines().iter().map(BriefLine::name);
            if let Some((name, _)) = batch.iter().find(|(name, _)| lines().all(|line| line != name.as_ref())) {
                return Err(within(unknown_name("line", name.as_ref(), lines()).into()));
            }
            let amount = |line: &str| {
                Ok(batch
                    .iter()
                    .find(|(name, _)| name.as_ref() == line)
                    .map(|(_, amount)| amount.clone())
                    .unwrap_or_default())
            };
            parts.push(self.fractions.of_amounts(amount).map_err(within)?);
        }
        self.efficiency_at(parts)
    }

    fn efficiency_at(&self, mixtures: Vec<Vec<f64>>) -> Result<Option<f64>, Error> {
        if mixtures.len() != self.runs.len() {
            let fault = Fault::new(FaultKind::OutOfRange, "another number of bars than the design has runs");
            return Err(fault.value(mixtures.len()).allowed(self.runs.len().to_string()).into());
        }
        let (mut rows, mut sizes) = (Rows::new(self.terms.len()), Rows::new(self.terms.len()));
        for (run, parts) in self.runs.iter().zip(mixtures) {
            let coded: Vec<f64> = self
                .terms
                .process()
                .iter()
                .zip(&run.settings)
                .map(|(variable, setting)| variable.coded(setting.to_f64()))
                .collect();
            rows.push(self.terms.values(&parts, &coded));
            sizes.push(self.terms.sizes(&parts, &coded));
        }
        if let Some(ratio) = self.terms.whole_plot_ratio() {
            let plots = WholePlots::new(self.runs.iter().map(|run| run.whole_plot), ratio.to_f64());
            (rows, sizes) = whitened(&Sized { rows: &rows, sizes: &sizes }, &plots);
        }
        Ok(self.certificate.efficiency(&Sized { rows: &rows, sizes: &sizes }))
    }
}
