//! What solving comes to: an answer, or a conflict.

use pyo3::prelude::*;
use tenside::solve::Outcome as Solved;

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::running::watched;
use crate::solve::answer::Answer;
use crate::solve::conflict::Conflict;
/// What solving comes to.
#[derive(IntoPyObject)]
pub(crate) enum Tried {
    Answer(Answer),
    Conflict(Conflict),
}

impl From<Solved> for Tried {
    fn from(solved: Solved) -> Self {
        match solved {
            Solved::Answered(answer) => Tried::Answer(Answer(*answer)),
            Solved::Conflict(conflict) => Tried::Conflict(Conflict(*conflict)),
        }
    }
}

#[pymethods]
impl Brief {
    /// Solves the brief: an Answer, or the Conflict.
    fn try_solve(&self, py: Python<'_>) -> Outcome<Tried> {
        Ok(Tried::from(watched(py, None, |watch| self.0.clone().watched_by(watch).try_solve())?))
    }
}
