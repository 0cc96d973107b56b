//! Why a brief cannot be answered.

use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::solve::Outcome as Solved;

use crate::brief::Brief;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::output::Fraction;
use crate::convert::pickled::comes_back;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::solve::constraint::Constraint;
use crate::solve::proof::Proof;

record! {
    "tenside.solve",
    /// A change of one limit.
    Relaxation of &tenside::solve::Relaxation, |change| {
        /// What is changed.
        constraint: Constraint = Constraint::from(&change.constraint),
        /// What is changed, in the words of the brief.
        words: String = change.words.clone(),
        /// The limit as it is.
        limit: Fraction = Fraction(change.from.clone()),
        /// The nearest limit that would do.
        to: Fraction = Fraction(change.to.clone()),
        /// The farthest value that would do, where one value is asked for: `to` itself where nothing else does; None if
        /// every farther one does.
        until: Option<Fraction> = change.until.clone().map(Fraction),
        /// Its unit.
        unit: String = change.unit.clone(),
        /// A sentence to act on; what it says can be typed as it stands, and does.
        sentence: String = change.sentence(),
    }
}

impl Relaxation {
    fn core(&self) -> Outcome<tenside::solve::Relaxation> {
        let until = self.until.as_ref().map(|until| &until.0);
        Ok(tenside::solve::Relaxation::new(
            (&self.constraint).into(),
            &self.words,
            &self.limit.0,
            &self.to.0,
            until,
            &self.unit,
        )?)
    }
}

#[pymethods]
impl Relaxation {
    /// The brief with this change made, on the very value that the sentence says.
    ///
    /// >>> brief = td.Brief("Weak", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 18)
    /// >>> change = brief.try_solve().relaxations()[0]
    /// >>> change.taken(brief).solve().formula.line("capb-30").percent
    /// Decimal('50')
    fn taken(&self, brief: &Brief) -> Outcome<Brief> {
        Ok(Brief(self.core()?.taken(&brief.0)?))
    }
}

/// Requirements that no formula meets together, with an exact proof; a table in a notebook.
///
/// >>> conflict = td.Brief("Not full", td.Catalogue.starter()).fix("kaolin", 60).try_solve()
/// >>> conflict.sentence, conflict.verify()
/// ('no formula meets this: line kaolin fixed at 60 %; the lines sum to 100 %', True)
#[pyclass(frozen, eq, module = "tenside.solve")]
#[derive(Clone, PartialEq)]
pub(crate) struct Conflict(pub(crate) tenside::solve::Conflict);

shown!(Conflict, |it| it.0.page(), fallible);
value!(Conflict, |it| it.sentence());

document!(Conflict, |it| &it.0, back watched by tenside::solve::Conflict, pickled otherwise);

getters!(Conflict {
    /// The brief.
    brief: Brief = |it| Brief(it.brief().clone());
    /// The proof: a combination of the requirements that nothing inside the lines' ranges can meet (Farkas' lemma).
    proof: Proof = |it| Proof::of(Conflict(it.clone()), it.proof());
    /// What cannot hold together, in the words of the brief; without any one of them the others can be met.
    members: Vec<String> = |it| it.members();
    /// What the members are about, as data, in the same order.
    ///
    /// >>> conflict = td.Brief("Too wet", td.Catalogue.starter()).free("water").fix("kaolin", 60).at_least(td.measure.water, 50).try_solve()
    /// >>> [(constraint.kind, constraint.name, constraint.end) for constraint in conflict.constraints]
    /// [('requirement', 'water at least 50 %', 'low'), ('line', 'kaolin', 'both')]
    constraints: Rows<Constraint> = |it| it.constraints().iter().map(Constraint::from).collect();
    /// One sentence that names what cannot hold together.
    sentence: String = |it| it.sentence();
});

#[pymethods]
impl Conflict {
    /// Checks the proof without the solver, and that it is about this brief: True, or Contradiction is raised.
    fn verify(&self, py: Python<'_>) -> Outcome<bool> {
        watched(py, None, |watch| self.0.clone().watched_by(watch).verify())?;
        Ok(true)
    }

    /// For every member, in their order, the least change with which alone there is a formula that meets the brief; an
    /// objective that is a ratio is refused all the same where its denominator can be 0, of which `sentence` then warns.
    /// None if no change of it does, for the water that a finished basis keeps, and of a requirement for every
    /// composition where it asks for one value, divides by what can be 0 whatever the formula, or rests on a range that
    /// is not stated.
    ///
    /// >>> brief = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 18)
    /// >>> [change.sentence for change in brief.try_solve().relaxations()]
    /// ['lower active matter at least 18 % to 15 % or less', 'raise line capb-30 between 0 and 50 % to 60 % or more']
    fn relaxations(&self, py: Python<'_>) -> Outcome<Vec<Option<Relaxation>>> {
        Ok(watched(py, None, |watch| self.0.clone().watched_by(watch).relaxations())?
            .iter()
            .map(|change| change.as_ref().map(Relaxation::from))
            .collect())
    }

    /// What could be left out of the brief so that it has a formula, none of it for nothing (a minimal correction set):
    /// one member where that does. There can be other such sets, and smaller ones.
    ///
    /// >>> m = td.measure
    /// >>> twice = td.Brief("Twice", td.Catalogue.starter()).between("capb-30", 0, 50).between("kaolin", 0, 20).qs("water")
    /// >>> twice = twice.at_least(m.active_matter, 18).at_least(m.material("kaolin"), 30)
    /// >>> [str(constraint) for constraint in twice.try_solve().correction_set()]
    /// ['low end of requirement active matter at least 18 %', 'low end of requirement raw material kaolin at least 30 %']
    fn correction_set(&self, py: Python<'_>) -> Outcome<Rows<Constraint>> {
        Ok(watched(py, None, |watch| self.0.clone().watched_by(watch).correction_set())?
            .iter()
            .map(Constraint::from)
            .collect())
    }

    /// The conflict of a brief, when it comes back from a pickle.
    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, py: Python<'_>, brief: &Brief) -> Outcome<Self> {
        match py.detach(|| brief.0.try_solve())? {
            Solved::Conflict(conflict) => Ok(Conflict(*conflict)),
            Solved::Answered(_) => Err(comes_back("a conflict", "solve() gives its answer").into()),
        }
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, (Brief,))> {
        Ok((slf.get_type().getattr("_of")?, (slf.get().brief(),)))
    }

    fn __repr__(&self) -> String {
        format!("<Conflict: {}>", self.0.sentence())
    }
}

/// What was worked out of a brief; of one that cannot be answered the exception that carries the conflict.
pub(crate) fn or_unanswerable<T>(py: Python<'_>, result: Outcome<T>) -> Outcome<T> {
    result.map_err(|failure| match &failure {
        Failure::Core(error) => match error.conflict() {
            Some(conflict) => {
                Failure::Python(unanswerable(py, Conflict(conflict.clone())).unwrap_or_else(|error| error))
            }
            None => failure,
        },
        Failure::Python(_) => failure,
    })
}

fn unanswerable(py: Python<'_>, conflict: Conflict) -> PyResult<PyErr> {
    Ok(PyErr::from_value(py.import("tenside.errors")?.call_method1("Unanswerable", (conflict,))?))
}
