//! An answer: the exact solution, the proof and the grid formula.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::solve::Side;

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::measure::basis::{Basis, on};
use crate::solve::conflict::or_unanswerable;
use crate::solve::constraint::Constraint;
use crate::solve::proof::Proof;

record! {
    "tenside.solve",
    /// A requirement or range that the exact solution meets exactly.
    Binding of tenside::solve::Binding, |binding| {
        /// What it is about.
        constraint: Constraint = Constraint::from(&binding.constraint),
        /// In the words of the brief.
        words: String = binding.words,
        /// "at-lowest", "at-highest" or "fixed".
        side: Word<Side> = Word(binding.side),
        /// True if the objective could be better without it.
        decisive: bool = binding.decisive,
    }
}

record! {
    "tenside.solve",
    /// An equation that the grid formula does not meet exactly.
    Departure of &tenside::solve::Departure, |departure| {
        /// The equation, in the words of the brief.
        words: String = departure.words.clone(),
        /// How far it is from holding.
        departure: Fraction = Fraction(departure.departure.clone()),
        /// The most it may be.
        bound: Fraction = Fraction(departure.bound.clone()),
        /// The unit of both.
        unit: String = departure.unit.clone(),
    }
}

record! {
    "tenside.solve",
    /// Why there is no formula of whole 0.0001 %.
    GridRefusal of &tenside::solve::GridRefusal, |refusal| {
        /// The requirements, splits and ranges that leave no room together; where the search was cut off, those that
        /// the exact solution meets without room to spare.
        requirements: Vec<String> = refusal.requirements().to_vec(),
        /// True if there is none; False if the search was cut off.
        proved: bool = refusal.is_proved(),
        /// What leaves no room, in one sentence.
        sentence: String = refusal.sentence(),
    }
}

/// The answer to a brief; a table in a notebook. The arithmetic is proved for the compositions given.
///
/// >>> answer = td.Brief("Half", td.Catalogue.starter()).fix("sci-powder", 50).qs("kaolin").solve()
/// >>> answer.exact
/// {'sci-powder': Fraction(50, 1), 'kaolin': Fraction(50, 1)}
/// >>> answer.formula
/// <Formula "Half" of 2 lines>
#[pyclass(frozen, eq, module = "tenside.solve")]
#[derive(Clone, PartialEq)]
pub(crate) struct Answer(pub(crate) tenside::solve::Answer);

shown!(Answer, |it| it.0.page(&on(Vec::new())), fallible);
value!(Answer, |it| (it.brief().title(), it.exact()));

document!(Answer, |it| &it.0, back watched by tenside::solve::Answer, pickled otherwise);

getters!(Answer {
    /// The brief.
    brief: Brief = |it| Brief(it.brief().clone());
    /// Exact percent by line: what the proof is about.
    exact: IndexMap<String, Fraction> = |it| {
        it.brief().lines().iter().zip(it.exact()).map(|(line, percent)| (line.name().to_string(), Fraction(percent.clone()))).collect()
    };
    /// Exact value of the objective, in its own unit.
    objective: Option<Fraction> = |it| it.objective().cloned().map(Fraction);
    /// The unit of the objective; None if the brief has none.
    objective_unit: Option<String> = |it| it.objective_unit();
    /// The proof.
    proof: Proof = |it| Proof::of(Answer(it.clone()), it.proof());
    /// The grid formula: what is weighed. Raises Contradiction if `grid_refusal` says why there is none.
    formula: Outcome<Formula> = |it| Ok(Formula(it.formula()?.clone()));
    /// The requirements and ranges that the exact solution meets exactly.
    binding: Rows<Binding> = |it| it.binding().into_iter().map(Binding::from).collect();
    /// What to know about what the brief asks: what the measures of its requirements and its objective leave out of the
    /// count, and ratios over nothing, which have no value and hold as one amount against so many times the other. Raises
    /// Contradiction where there is no grid formula.
    notes: Outcome<Vec<String>> = |it| Ok(it.notes()?);
    /// Where the grid formula departs from an equation: splits and targets.
    departures: Rows<Departure> = |it| it.departures().iter().map(Departure::from).collect();
    /// Why there is no grid formula, if there is none.
    grid_refusal: Option<GridRefusal> = |it| it.grid_refusal().map(GridRefusal::from);
});

#[pymethods]
impl Answer {
    /// Checks everything again without the solver, the grid formula included: True, or Contradiction is raised.
    fn verify(&self, py: Python<'_>) -> Outcome<bool> {
        watched(py, None, |watch| self.0.clone().watched_by(watch).verify())?;
        Ok(true)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Brief,))> {
        Ok((py.get_type::<Brief>().getattr("solve")?, (self.brief(),)))
    }

    /// The grid formula, its usual measures on these bases, what binds, and what is proved.
    #[pyo3(signature = (*bases: "Basis"))]
    fn page(&self, bases: Vec<Basis>) -> Outcome<Page> {
        Ok(Page(self.0.page(&on(bases))?))
    }

    fn __repr__(&self) -> String {
        format!("<Answer to {:?}, {} lines>", self.0.brief().title(), self.0.exact().len())
    }
}

#[pymethods]
impl Brief {
    /// Solves the brief; raises Unanswerable, which carries the conflict, where no formula meets it.
    ///
    /// >>> strong = td.Brief("Too strong", td.Catalogue.starter()).between("capb-30", 0, 50).qs("water").at_least(td.measure.active_matter, 40)
    /// >>> try: strong.solve()
    /// ... except td.errors.Unanswerable as error: print(error.conflict.members[0])
    /// active matter at least 40 %
    fn solve(&self, py: Python<'_>) -> Outcome<Answer> {
        Ok(Answer(or_unanswerable(py, watched(py, None, |watch| self.0.clone().watched_by(watch).solve()))?))
    }
}
