//! What proves an outcome.

use pyo3::prelude::*;
use tenside::number::Exact;
use tenside_lp::Outcome as Linear;

use crate::convert::failure::Outcome;
use crate::convert::output::Fraction;
use crate::convert::pickled::{Attribute, Reduced, Repeatable};
use crate::convert::table::Rows;

record! {
    "tenside.solve",
    /// A requirement or range and its weight in a proof.
    ProofMember {
        /// In the words of the brief.
        words: String,
        /// Its weight.
        multiplier: Fraction,
    }
}

/// The linear program of a brief and the certificate of its outcome, exact. It holds for the compositions given,
/// nothing else.
///
/// >>> answer = td.Brief("Clay", td.Catalogue.starter()).qs("kaolin").solve()
/// >>> answer.proof.outcome, answer.proof.verify()
/// ('optimal', True)
#[pyclass(frozen, eq, module = "tenside.solve")]
#[derive(Clone)]
pub(crate) struct Proof(pub(crate) tenside::solve::Proof, Attribute);

impl PartialEq for Proof {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

impl Proof {
    /// The proof of an outcome, which it is read off again when it comes back from a pickle.
    pub(crate) fn of(outcome: impl Repeatable, proof: &tenside::solve::Proof) -> Self {
        Proof(proof.clone(), Attribute::new(outcome, "proof"))
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
    rows: Rows<ProofMember> = |it| {
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
        self.1.reduced(py)
    }

    fn __repr__(&self) -> String {
        format!("<Proof, {}, {} rows>", self.outcome(), self.0.program().names().len())
    }
}
