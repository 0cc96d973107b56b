//! The proof of an answer: the program and its certificate, checked without the solver.

use tenside_lp::{Optimum, Outcome, verify};

use super::program::BriefProgram;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// What of a result does not hold.
pub(super) fn fails(what: impl Into<String>) -> Error {
    Fault::new(FaultKind::Contradiction, what).into()
}

/// The multiplier of a column or row, numbered as in [`tenside_lp::Basis`].
pub(super) fn multiplier(optimum: &Optimum, variable: usize) -> &Exact {
    match variable.checked_sub(optimum.reduced_costs.len()) {
        Some(row) => &optimum.row_multipliers[row],
        None => &optimum.reduced_costs[variable],
    }
}

/// A linear program of a brief and what proves its outcome. It holds for the compositions given, nothing else.
#[derive(Clone, Debug, PartialEq)]
pub struct Proof {
    program: BriefProgram,
    outcome: Outcome,
    denominator: Option<DenominatorProof>,
}

/// That the denominator of a ratio objective is above 0 for every formula.
#[derive(Clone, Debug, PartialEq)]
pub struct DenominatorProof {
    program: BriefProgram,
    outcome: Outcome,
}

impl DenominatorProof {
    pub(super) fn new(program: BriefProgram, outcome: Outcome) -> Self {
        DenominatorProof { program, outcome }
    }

    pub(super) fn program(&self) -> &BriefProgram {
        &self.program
    }

    /// The least value of the denominator.
    pub(super) fn least(&self) -> Option<Exact> {
        self.outcome.optimum().map(|optimum| optimum.objective.clone())
    }

    pub(super) fn verify(&self) -> Result<(), Error> {
        verify(self.program.program(), &self.outcome)?;
        match self.outcome.optimum() {
            Some(optimum) if optimum.objective.is_positive() => Ok(()),
            _ => Err(fails("the denominator is not proved to stay above 0")),
        }
    }
}

getters!(Proof {
    /// The program.
    program: &BriefProgram,
    /// Its outcome with the certificate.
    outcome: &Outcome,
    /// For a ratio objective, that its denominator stays above 0; the outcome's least cost is then 0.
    denominator: Option<&DenominatorProof>,
});

impl Proof {
    pub(super) fn new(program: BriefProgram, outcome: Outcome, denominator: Option<DenominatorProof>) -> Self {
        Proof { program, outcome, denominator }
    }

    /// Checks the certificate against the program in exact arithmetic, without the solver.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        verify(self.program.program(), &self.outcome)?;
        if let Some(denominator) = &self.denominator {
            denominator.verify()?;
            // Only the cost of a ratio's program differs from that of its denominator.
            if denominator.program.program().rows() != self.program.program().rows() {
                return Err(fails("the two programs of a ratio are about different requirements"));
            }
            if self.outcome.optimum().is_some_and(|optimum| !optimum.objective.is_zero()) {
                return Err(fails("the program of a ratio has a least cost other than 0"));
            }
        }
        Ok(())
    }
}
