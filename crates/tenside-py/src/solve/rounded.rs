//! The best formula on steps.

use pyo3::prelude::*;
use tenside::solve::RoundedOutcome;

use crate::brief::Brief;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::Number;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::measure::basis::{Basis, on};
use crate::solve::answer::Answer;
use crate::solve::no_formula::{Unmet, no_formula};
use crate::solve::steps::{ASteps, Steps};

record! {
    "tenside.solve",
    /// An equation that a rounded formula does not meet exactly, because the steps allowed it.
    RoundedDeparture of &tenside::solve::RoundedDeparture, |departure| {
        /// The equation, in the words of the brief.
        words: String = departure.words.clone(),
        /// The measure's value less the target; for a split, what the member brings too much.
        departure: Fraction = Fraction(departure.departure.clone()),
        /// The most it may be; None if the equation was given up.
        tolerance: Option<Fraction> = departure.tolerance.clone().map(Fraction),
        /// The unit of both.
        unit: String = departure.unit.clone(),
    }
}

/// What rounding comes to.
#[derive(IntoPyObject)]
#[allow(clippy::large_enum_variant, reason = "handed over to Python at once")]
enum TriedRounded {
    Rounded(Rounded),
    Unmet(Unmet),
}

#[pymethods]
impl Brief {
    /// Solves the brief for percentages that are multiples of a step, or of steps; raises NoFormula, which carries an
    /// Unmet, where there is no such formula or none was found. The search ends after about so many seconds as after
    /// its linear programs: with the best found, `bound` and `gap`.
    ///
    /// >>> brief = td.Brief("Plain bar", td.Catalogue.starter()).between("sci-powder", 30, 70).fix("citric-acid-50", "0.3").qs("kaolin")
    /// >>> try: brief.solve_rounded(0.5)
    /// ... except td.errors.NoFormula as error: print(error.unmet.sentence)
    /// no formula of multiples of 0.5 % meets this: line citric-acid-50, fixed at 0.3 %; steps of 0.1 % would do; so would steps of 0.1 % for citric-acid-50, kaolin alone
    /// >>> brief.solve_rounded(td.solve.Steps(0.5, lines={"citric-acid-50": 0.3, "kaolin": 0.1})).verify()
    /// True
    #[pyo3(signature = (steps, *, seconds=None))]
    fn solve_rounded(&self, py: Python<'_>, steps: ASteps, seconds: Option<Number>) -> Outcome<Rounded> {
        match watched(py, seconds.as_ref(), |watch| self.0.clone().watched_by(watch).try_solve_rounded(&steps.0))? {
            RoundedOutcome::Found(rounded) => Ok(Rounded(*rounded)),
            RoundedOutcome::Unmet(unmet) => Err(Failure::Python(no_formula(Bound::new(py, Unmet(*unmet))?))),
        }
    }

    /// Solves the brief for percentages that are multiples of a step, or of steps: a Rounded, or the Unmet.
    /// The search ends after `seconds`, if they are stated, with what it has.
    #[pyo3(signature = (steps, *, seconds=None))]
    fn try_solve_rounded(&self, py: Python<'_>, steps: ASteps, seconds: Option<Number>) -> Outcome<TriedRounded> {
        Ok(match watched(py, seconds.as_ref(), |watch| self.0.clone().watched_by(watch).try_solve_rounded(&steps.0))? {
            RoundedOutcome::Found(rounded) => TriedRounded::Rounded(Rounded(*rounded)),
            RoundedOutcome::Unmet(unmet) => TriedRounded::Unmet(Unmet(*unmet)),
        })
    }
}

#[pymethods]
impl Answer {
    /// The best formula of the same brief whose percentages are multiples of a step, or of steps, as
    /// `Brief.solve_rounded` finds it. The search ends after `seconds`, if they are stated, with what it has.
    #[pyo3(signature = (steps, *, seconds=None))]
    fn rounded(&self, py: Python<'_>, steps: ASteps, seconds: Option<Number>) -> Outcome<Rounded> {
        Brief(self.0.brief().clone()).solve_rounded(py, steps, seconds)
    }
}

/// The best formula whose percentages are multiples of steps; a table in a notebook.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).between("capb-30", 10, 40).qs("water").at_least(td.measure.active_matter, "10.1")
/// >>> rounded = brief.minimise(td.measure.active_matter).solve_rounded(0.5)
/// >>> rounded.formula.percentages["capb-30"], rounded.is_best, rounded.verify()
/// (Decimal('34'), True, True)
#[pyclass(frozen, eq, module = "tenside.solve")]
#[derive(Clone, PartialEq)]
pub(crate) struct Rounded(pub(crate) tenside::solve::Rounded);

shown!(Rounded, |it| it.0.page(&on(Vec::new())), fallible);
value!(Rounded, |it| (it.brief().title(), it.formula().lines().iter().map(|line| line.percent()).collect::<Vec<_>>()));

document!(Rounded, |it| &it.0, back watched by tenside::solve::Rounded, pickled otherwise);

getters!(Rounded {
    /// The brief.
    brief: Brief = |it| Brief(it.brief().clone());
    /// The steps.
    steps: Steps = |it| Steps(it.steps().clone());
    /// The formula; its percentages are exact.
    formula: Formula = |it| Formula(it.formula().clone());
    /// Exact value of the objective, in its own unit.
    objective: Option<Fraction> = |it| it.objective().cloned().map(Fraction);
    /// The objective without steps (and with every dose down to 0 allowed), splits and targets being as loose as here:
    /// the steps alone cost the difference.
    objective_without_steps: Option<Fraction> = |it| it.objective_without_steps().cloned().map(Fraction);
    /// The objective without steps and with every split and target met exactly, which is the answer's if there are no
    /// choices. None if the brief has no objective, and where nothing meets all of them exactly.
    objective_without_tolerance: Option<Fraction> = |it| it.objective_without_tolerance().cloned().map(Fraction);
    /// The splits and targets that the steps loosened, each with how far, in words.
    loosened: Vec<String> = |it| it.loosened().to_vec();
    /// No formula on the steps has a better objective than this.
    bound: Option<Fraction> = |it| it.bound().cloned().map(Fraction);
    /// The most by which another formula on the steps could be better: 0 where the search was complete. Without
    /// objective, in half-widths of the written ranges.
    gap: Fraction = |it| Fraction(it.gap().clone());
    /// True if no formula on the steps is better.
    is_best: bool = |it| it.is_best();
    /// How many linear programs it took.
    nodes: usize = |it| it.nodes();
    /// Where it departs from a split or target, as the steps allowed.
    departures: Rows<RoundedDeparture> = |it| it.departures().iter().map(RoundedDeparture::from).collect();
});

#[pymethods]
impl Rounded {
    /// Checks everything again without the search: True, or Contradiction is raised.
    fn verify(&self, py: Python<'_>) -> Outcome<bool> {
        watched(py, None, |watch| self.0.clone().watched_by(watch).verify())?;
        Ok(true)
    }

    /// The formula, its usual measures on these bases, where it departs from an equation, and what is proved.
    #[pyo3(signature = (*bases: "Basis"))]
    fn page(&self, bases: Vec<Basis>) -> Outcome<Page> {
        Ok(Page(self.0.page(&on(bases))?))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Brief, Steps))> {
        Ok((py.get_type::<Brief>().getattr("solve_rounded")?, (self.brief(), self.steps())))
    }

    fn __repr__(&self) -> String {
        format!("<Rounded {:?}, {}>", self.0.brief().title(), self.0.steps().words())
    }
}
