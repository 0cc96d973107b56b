//! Why a brief cannot be answered.

use pyo3::prelude::*;

use crate::brief::Brief;
use crate::failure::Outcome;
use crate::output::{Fraction, WIDTH};
use crate::proof::{Proof, ProofMember};

/// Requirements that no formula meets together, with an exact proof; a table in a notebook.
///
/// >>> conflict = td.Brief("Not full", td.Catalogue.starter()).fix("kaolin", 60).try_solve()
/// >>> conflict.sentence, conflict.verify()
/// ('no formula meets this: line kaolin fixed at 60 %; with lines that sum to 100 %', True)
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Conflict(pub(crate) tenside::solve::Conflict);

value!(Conflict, |it| it.sentence());

getters!(Conflict {
    /// The brief.
    brief: Brief = |it| Brief(it.brief().clone());
    /// The proof: a combination of the requirements that nothing inside the lines' ranges can meet (Farkas' lemma).
    proof: Proof = |it| Proof(it.proof().clone());
    /// What the proof uses, in the words of the brief, each with its weight.
    members: Vec<ProofMember> = |it| {
        it.members().into_iter().map(|member| ProofMember { words: member.words, multiplier: Fraction(member.multiplier) }).collect()
    };
    /// One sentence that names what cannot hold together.
    sentence: String = |it| it.sentence();
});

#[pymethods]
impl Conflict {
    /// Checks the proof without the solver, and that it is about this brief: True, or Contradiction is raised.
    fn verify(&self, py: Python<'_>) -> Outcome<bool> {
        py.detach(|| self.0.verify())?;
        Ok(true)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Brief,))> {
        Ok((py.get_type::<Brief>().getattr("try_solve")?, (self.brief(),)))
    }

    fn _repr_html_(&self) -> String {
        self.0.page().html()
    }

    fn __str__(&self) -> String {
        self.0.page().text(WIDTH)
    }

    fn __repr__(&self) -> String {
        format!("<Conflict: {}>", self.0.sentence())
    }
}
