//! An answer: the exact solution, the proof and the grid formula.

use super::binding::{Binding, bindings};
use super::conflict::Conflict;
use super::grid::{Departure, Grid, GridRefusal};
use super::objective::optimise;
use super::program::{NamedRow, frame};
use super::proof::Proof;
use super::{grid, linear};
use crate::brief::Brief;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::Exact;

/// What a brief comes to.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It is answered.
    Answered(Box<Answer>),
    /// It cannot be answered.
    Conflict(Box<Conflict>),
}

/// The answer to a brief. The arithmetic is proved for the compositions given.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    brief: Brief,
    exact: Vec<Exact>,
    objective: Option<Exact>,
    proof: Proof,
    grid: Result<Grid, GridRefusal>,
}

impl Brief {
    /// Solves the brief: an answer, or the conflict.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::solve::Outcome;
    /// let brief = Brief::new("Too strong", &Catalogue::starter())?
    ///     .between("capb-30", 0, 50)?
    ///     .qs("water")?
    ///     .at_least(Measure::active_matter(), 40)?;
    /// let Outcome::Conflict(conflict) = brief.try_solve()? else { panic!("50 % of a 30 % grade brings 15 %") };
    /// assert!(conflict.verify().is_ok());
    /// assert!(conflict.sentence().contains("active matter at least 40 %"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked: no lines, unpriced materials, compositions without typical values, unknown charges.
    pub fn try_solve(&self) -> Result<Outcome, Error> {
        let proof = optimise(self, frame(self)?)?;
        match proof.outcome() {
            linear::Outcome::Optimal(optimum) => {
                let exact = optimum.values[..self.lines().len()].to_vec();
                let objective = proof.objective_value(self)?;
                let grid = grid::place(self, &proof, &exact)?;
                Ok(Outcome::Answered(Box::new(Answer { brief: self.clone(), exact, objective, proof, grid })))
            }
            linear::Outcome::Infeasible(_) => Ok(Outcome::Conflict(Box::new(Conflict::new(self.clone(), proof)?))),
            // Every line has a range, so no objective of the lines is without end.
            linear::Outcome::Unbounded(_) => Err(Fault::new(FaultKind::Unsupported, "the objective has no best value").into()),
        }
    }

    /// Solves the brief, refusing one that cannot be answered.
    ///
    /// # Errors
    /// As [`Brief::try_solve`], and the conflict as a fault.
    pub fn solve(&self) -> Result<Answer, Error> {
        match self.try_solve()? {
            Outcome::Answered(answer) => Ok(*answer),
            Outcome::Conflict(conflict) => Err(Fault::new(FaultKind::Contradiction, conflict.sentence()).remedy("loosen one of them").into()),
        }
    }
}

impl Answer {
    /// The brief.
    #[must_use]
    pub fn brief(&self) -> &Brief {
        &self.brief
    }

    /// The exact percentages, in the order of the brief's lines: what the proof is about.
    #[must_use]
    pub fn exact(&self) -> &[Exact] {
        &self.exact
    }

    /// The exact percentage of a line.
    #[must_use]
    pub fn exact_percent(&self, line: &str) -> Option<&Exact> {
        self.brief.lines().iter().position(|known| known.name() == line).map(|index| &self.exact[index])
    }

    /// The exact value of the objective, in its own unit.
    #[must_use]
    pub fn objective(&self) -> Option<&Exact> {
        self.objective.as_ref()
    }

    /// The proof.
    #[must_use]
    pub fn proof(&self) -> &Proof {
        &self.proof
    }

    /// The grid formula: what is weighed, reviewed and labelled.
    ///
    /// # Errors
    /// Where whole ppm cannot meet every one-sided requirement, which one leaves no room.
    pub fn formula(&self) -> Result<&Formula, Error> {
        self.grid.as_ref().map(|grid| &grid.formula).map_err(|refusal| refusal.clone().into())
    }

    /// Where the grid formula departs from an equation: splits and targets.
    #[must_use]
    pub fn departures(&self) -> &[Departure] {
        self.grid.as_ref().map_or(&[], |grid| &grid.departures)
    }

    /// Why there is no grid formula, if there is none.
    #[must_use]
    pub fn grid_refusal(&self) -> Option<&GridRefusal> {
        self.grid.as_ref().err()
    }

    /// The requirements and ranges that the exact solution meets exactly.
    #[must_use]
    pub fn binding(&self) -> Vec<Binding> {
        bindings(&self.brief, &self.proof)
    }

    /// Checks everything again without the solver: that the proof is about this brief, the certificate, the exact solution, and the grid
    /// formula with its departures.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        same_question(&self.brief, &self.proof)?;
        self.proof.verify()?;
        let linear::Outcome::Optimal(optimum) = self.proof.outcome() else {
            return Err(Fault::new(FaultKind::Contradiction, "the outcome is no optimum").into());
        };
        if optimum.values[..self.exact.len()] != self.exact {
            return Err(Fault::new(FaultKind::Contradiction, "the exact solution is not the proved one").into());
        }
        match &self.grid {
            Ok(grid) => grid::verify(&self.brief, &self.proof, grid),
            Err(_) => Ok(()),
        }
    }
}

/// That the program of a proof is what the brief compiles to, so that the proof is about the brief and not about another question.
pub(super) fn same_question(brief: &Brief, proof: &Proof) -> Result<(), Error> {
    let frame = frame(brief)?;
    let differs = || Fault::new(FaultKind::Contradiction, "the proof is about another brief").into();
    let program = proof.program();
    if program.lines() != brief.lines().len() || program.names().len() < frame.rows.len() {
        return Err(differs());
    }
    for (NamedRow { name, row, .. }, (proved_name, proved)) in frame.rows.iter().zip(program.names().iter().zip(program.program().rows())) {
        let padded = proved.coefficients.len() >= row.coefficients.len() && proved.coefficients[row.coefficients.len()..].iter().all(Exact::is_zero);
        let same = name == proved_name
            && row.low == proved.low
            && row.high == proved.high
            && padded
            && proved.coefficients[..row.coefficients.len()] == row.coefficients;
        if !same {
            return Err(differs());
        }
    }
    for (column, proved) in frame.columns.iter().zip(program.program().columns()) {
        if column.low != proved.low || column.high != proved.high {
            return Err(differs());
        }
    }
    super::objective::same_objective(brief, proof)
}
