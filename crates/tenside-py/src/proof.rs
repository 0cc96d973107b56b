//! What proves an outcome.

use pyo3::prelude::*;
use pyo3::types::PyTuple;
use tenside::number::Exact;
use tenside::solve::linear::Outcome as Linear;

use crate::again::Reduced;
use crate::answer::Answer;
use crate::conflict::Conflict;
use crate::failure::Outcome;
use crate::output::Fraction;

record! {
    /// A requirement or range and its weight in a proof.
    ProofMember {
        /// In the words of the brief.
        words: String,
        /// Its weight.
        multiplier: Fraction,
    }
}

/// The linear program of a brief and the certificate of its outcome, exact. It holds for the compositions given, nothing else.
///
/// >>> answer = td.Brief("Clay", td.Catalogue.starter()).qs("kaolin").solve()
/// >>> answer.proof.outcome, answer.proof.verify()
/// ('optimal', True)
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone)]
pub(crate) struct Proof(pub(crate) tenside::solve::Proof, Proved);

/// What a proof is read off.
#[derive(Clone, IntoPyObject)]
enum Proved {
    Answer(Answer),
    Conflict(Conflict),
}

impl PartialEq for Proof {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

impl From<&tenside::solve::Answer> for Proof {
    fn from(answer: &tenside::solve::Answer) -> Self {
        Proof(answer.proof().clone(), Proved::Answer(Answer(answer.clone())))
    }
}

impl From<&tenside::solve::Conflict> for Proof {
    fn from(conflict: &tenside::solve::Conflict) -> Self {
        Proof(conflict.proof().clone(), Proved::Conflict(Conflict(conflict.clone())))
    }
}

value!(Proof, |it| it.program().lines());

getters!(Proof {
    /// "optimal" or "infeasible".
    outcome: &'static str = |it| match it.outcome() {
        Linear::Optimal(_) => "optimal",
        Linear::Infeasible(_) => "infeasible",
        Linear::Unbounded(_) => "unbounded",
    };
    /// The rows of the program, each with its exact multiplier.
    rows: Vec<ProofMember> = |it| {
        let multipliers: &[Exact] = match it.outcome() {
            Linear::Optimal(optimum) => &optimum.row_multipliers,
            Linear::Infeasible(farkas) => &farkas.row_multipliers,
            Linear::Unbounded(_) => &[],
        };
        let row = |(name, multiplier): (&tenside::solve::RowName, &Exact)| ProofMember { words: name.words().to_string(), multiplier: Fraction(multiplier.clone()) };
        it.program().names().iter().zip(multipliers).map(row).collect()
    };
});

#[pymethods]
impl Proof {
    /// Checks the certificate in exact arithmetic, without the solver: True, or Contradiction is raised.
    fn verify(&self, py: Python<'_>) -> Outcome<bool> {
        py.detach(|| self.0.verify())?;
        Ok(true)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let of = py.import("operator")?.getattr("attrgetter")?.call1(("proof",))?;
        Ok((of, PyTuple::new(py, [self.1.clone()])?))
    }

    fn __repr__(&self) -> String {
        format!("<Proof, {}, {} rows>", self.outcome(), self.0.program().names().len())
    }
}
