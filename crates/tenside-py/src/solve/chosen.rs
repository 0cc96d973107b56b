//! The choice of lines.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::solve::{ChoiceOutcome, USUAL_NODES};

use crate::brief::Brief;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::Number;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::measure::basis::{Basis, on};
use crate::solve::answer::Departure;
use crate::solve::no_formula::{Unmet, no_formula};

/// What choosing comes to.
#[derive(IntoPyObject)]
#[allow(clippy::large_enum_variant, reason = "handed over to Python at once")]
enum TriedChoice {
    Chosen(Chosen),
    Unmet(Unmet),
}

#[pymethods]
impl Brief {
    /// Makes the choices of the brief, the best for its objective, in up to so many linear programs and about so many
    /// seconds; at either end it gives the best found, with `bound` and `gap`. Raises NoFormula, which carries an
    /// Unmet, where there is none or none was found. `nodes` are how many linear programs it may take, `seconds` how
    /// long.
    #[pyo3(signature = (nodes=None, *, seconds=None))]
    fn choose(&self, py: Python<'_>, nodes: Option<usize>, seconds: Option<Number>) -> Outcome<Chosen> {
        match watched(py, seconds.as_ref(), |watch| {
            self.0.clone().watched_by(watch).try_choose(nodes.unwrap_or(USUAL_NODES))
        })? {
            ChoiceOutcome::Made(choice) => Ok(Chosen(*choice)),
            ChoiceOutcome::Unmet(unmet) => Err(Failure::Python(no_formula(Bound::new(py, Unmet(*unmet))?))),
        }
    }

    /// Makes the choices of the brief: a Chosen, or the Unmet.
    /// `nodes` are how many linear programs it may take, `seconds` how long.
    #[pyo3(signature = (nodes=None, *, seconds=None))]
    fn try_choose(&self, py: Python<'_>, nodes: Option<usize>, seconds: Option<Number>) -> Outcome<TriedChoice> {
        Ok(
            match watched(py, seconds.as_ref(), |watch| {
                self.0.clone().watched_by(watch).try_choose(nodes.unwrap_or(USUAL_NODES))
            })? {
                ChoiceOutcome::Made(choice) => TriedChoice::Chosen(Chosen(*choice)),
                ChoiceOutcome::Unmet(unmet) => TriedChoice::Unmet(Unmet(*unmet)),
            },
        )
    }
}

/// The best choice of lines with the exact solution and the grid formula; a table in a notebook.
///
/// >>> brief = (td.Brief("One of two", td.Catalogue.starter())
/// ...     .between("sci-powder", 20, 60)
/// ...     .absent_or_between("capb-30", 10, 20)
/// ...     .absent_or_between("coco-glucoside-50", 10, 20)
/// ...     .group("co-surfactants", ["capb-30", "coco-glucoside-50"])
/// ...     .at_most_of("co-surfactants", 1)
/// ...     .qs("kaolin")
/// ...     .at_least(td.measure.active_matter, 57)
/// ...     .minimise(td.measure.water))
/// >>> choice = brief.choose()
/// >>> choice.present, choice.absent, choice.verify()
/// (['sci-powder', 'coco-glucoside-50', 'kaolin'], ['capb-30'], True)
#[pyclass(frozen, eq, module = "tenside.solve")]
#[derive(Clone, PartialEq)]
pub(crate) struct Chosen(pub(crate) tenside::solve::Choice);

shown!(Chosen, |it| it.0.page(&on(Vec::new())), fallible);
value!(Chosen, |it| (it.brief().title(), it.exact()));

document!(Chosen, |it| &it.0, back watched by tenside::solve::Choice, pickled otherwise);

getters!(Chosen {
    /// The brief.
    brief: Brief = |it| Brief(it.brief().clone());
    /// The brief with the choices made, absent lines fixed at 0: it can be solved, and asked how far its answer holds.
    chosen_brief: Brief = |it| Brief(it.chosen_brief().clone());
    /// The lines above 0.
    present: Vec<String> = |it| it.present().into_iter().map(str::to_string).collect();
    /// The lines at 0.
    absent: Vec<String> = |it| it.absent().into_iter().map(str::to_string).collect();
    /// Exact percent by line: what the proof is about.
    exact: IndexMap<String, Fraction> = |it| {
        it.brief().lines().iter().zip(it.exact()).map(|(line, percent)| (line.name().to_string(), Fraction(percent.clone()))).collect()
    };
    /// Exact value of the objective, in its own unit.
    objective: Option<Fraction> = |it| it.objective().cloned().map(Fraction);
    /// No choice has a better objective than this.
    bound: Option<Fraction> = |it| it.bound().cloned().map(Fraction);
    /// The most by which another choice could be better: 0 where the search was complete.
    gap: Fraction = |it| Fraction(it.gap().clone());
    /// True if no choice is better.
    is_best: bool = |it| it.is_best();
    /// How many linear programs it took.
    nodes: usize = |it| it.nodes();
    /// The grid formula: what is weighed. Raises Contradiction if there is none.
    formula: Outcome<Formula> = |it| Ok(Formula(it.formula()?.clone()));
    /// Where the grid formula departs from an equation: splits and targets.
    departures: Rows<Departure> = |it| it.departures().iter().map(Departure::from).collect();
});

#[pymethods]
impl Chosen {
    /// Checks everything again without the search, the grid formula included: True, or Contradiction is raised.
    fn verify(&self, py: Python<'_>) -> Outcome<bool> {
        watched(py, None, |watch| self.0.clone().watched_by(watch).verify())?;
        Ok(true)
    }

    /// The grid formula, its usual measures on these bases, what is absent, and what is proved.
    #[pyo3(signature = (*bases: "Basis"))]
    fn page(&self, bases: Vec<Basis>) -> Outcome<Page> {
        Ok(Page(self.0.page(&on(bases))?))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Brief, usize))> {
        Ok((py.get_type::<Brief>().getattr("choose")?, (self.brief(), self.0.node_limit())))
    }

    fn __repr__(&self) -> String {
        format!("<Chosen {:?}: {}>", self.0.brief().title(), self.0.present().join(", "))
    }
}
