//! Why there is no formula on steps, or none that makes the choices.

use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::solve::{ChoiceOutcome, RoundedOutcome};

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::pickled::comes_back;
use crate::convert::running::watched;
use crate::solve::steps::Steps;

record! {
    "tenside.solve",
    /// Finer steps of a few lines with which there is a formula: of those fixed between two multiples of their step,
    /// and of the q.s. line.
    FinerLines of tenside::solve::FinerLines, |finer| {
        /// The lines.
        lines: Vec<String> = finer.lines,
        /// Their step; finer ones of their own stay.
        step: Fraction = Fraction(finer.step),
        /// True if splits and targets are to be within half a step's effect as well (`half_a_step`).
        half_a_step: bool = finer.within_half_a_step,
    }
}

/// No formula on the steps, or with the choices; a table in a notebook.
///
/// >>> brief = td.Brief("Plain bar", td.Catalogue.starter()).between("sci-powder", 30, 70).fix("citric-acid-50", "0.3").qs("kaolin")
/// >>> unmet = brief.try_solve_rounded(0.5)
/// >>> unmet.requirements, str(unmet.finer_step)
/// (['line citric-acid-50, fixed at 0.3 %'], '1/10')
#[pyclass(frozen, eq, module = "tenside.solve")]
#[derive(Clone, PartialEq)]
pub(crate) struct Unmet(pub(crate) tenside::solve::Unmet);

shown!(Unmet, |it| it.0.page());
value!(Unmet, |it| it.sentence());

document!(Unmet, |it| &it.0, back watched by tenside::solve::Unmet, pickled otherwise);

getters!(Unmet {
    /// The brief.
    brief: Brief = |it| Brief(it.brief().clone());
    /// The steps; None if only choices were to be made.
    steps: Option<Steps> = |it| it.steps().cloned().map(Steps);
    /// What forbids a formula together, in the words of the brief; empty if the search was cut off, and where the steps
    /// alone cannot sum to 100 %.
    requirements: Vec<String> = |it| it.requirements().to_vec();
    /// True if there is no such formula; False if the search was cut off before it found one.
    is_proved: bool = |it| it.is_proved();
    /// True if leaving out any one of the requirements named would do.
    is_irreducible: bool = |it| it.is_irreducible();
    /// True if the brief has a formula without steps and with every dose down to 0 allowed.
    is_answerable_without: bool = |it| it.is_answerable_without();
    /// The coarsest of 0.5, 0.25, 0.1, 0.05 and 0.01 % with which a formula was found.
    finer_step: Option<Fraction> = |it| it.finer_step().cloned().map(Fraction);
    /// True if a formula was found with every split and target within half a step's effect.
    would_do_within_half_a_step: bool = |it| it.would_do_within_half_a_step();
    /// Finer steps of a few lines that would do, where half a step's effect alone does not; together with it only where
    /// finer steps of all lines would not do either.
    finer_lines: Option<FinerLines> = |it| it.finer_lines().cloned().map(FinerLines::from);
    /// How many linear programs the search solved.
    nodes: usize = |it| it.nodes();
    /// One sentence that says what is in the way and what would do.
    sentence: String = |it| it.sentence();
    /// The way out, in words.
    remedy: String = |it| it.remedy();
});

#[pymethods]
impl Unmet {
    /// Checks without searching that there is no such formula: True, or Contradiction is raised, also where the search
    /// was cut off.
    fn verify(&self, py: Python<'_>) -> Outcome<bool> {
        watched(py, None, |watch| self.0.clone().watched_by(watch).verify())?;
        Ok(true)
    }

    /// What forbids a formula, and what would do.
    fn page(&self) -> Page {
        Page(self.0.page())
    }

    /// What forbids a formula of a brief, when it comes back from a pickle: on steps, or with its choices in up to so
    /// many programs.
    #[classmethod]
    fn _of(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        brief: &Brief,
        steps: Option<&Steps>,
        nodes: usize,
    ) -> Outcome<Self> {
        let unmet = match steps {
            Some(steps) => match py.detach(|| brief.0.try_solve_rounded(&steps.0))? {
                RoundedOutcome::Unmet(unmet) => Some(unmet),
                RoundedOutcome::Found(_) => None,
            },
            None => match py.detach(|| brief.0.try_choose(nodes))? {
                ChoiceOutcome::Unmet(unmet) => Some(unmet),
                ChoiceOutcome::Made(_) => None,
            },
        };
        Ok(Unmet(
            *unmet.ok_or_else(|| comes_back("an outcome without formula", "choose() or solve_rounded() gives it"))?,
        ))
    }

    #[allow(clippy::type_complexity, reason = "what pickling asks for")]
    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, (Brief, Option<Steps>, usize))> {
        let it = slf.get();
        Ok((slf.get_type().getattr("_of")?, (it.brief(), it.steps(), it.0.node_limit())))
    }

    fn __repr__(&self) -> String {
        format!("<Unmet: {}>", self.0.sentence())
    }
}

/// The exception that carries what forbids a formula on steps or with choices.
pub(crate) fn no_formula(unmet: Bound<'_, Unmet>) -> PyErr {
    let exception =
        || PyResult::Ok(PyErr::from_value(unmet.py().import("tenside.errors")?.call_method1("NoFormula", (&unmet,))?));
    exception().unwrap_or_else(|error| error)
}
