//! An answer: the exact solution, the proof and the grid formula.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::solve::Side;

use crate::basis::Basis;
use crate::brief::Brief;
use crate::constraint::Constraint;
use crate::failure::Outcome;
use crate::formula::{Formula, on};
use crate::input::Number;
use crate::output::{Fraction, Page, WIDTH};
use crate::proof::Proof;
use crate::rounded::Rounded;
use crate::running::watched;
use crate::steps::ASteps;

record! {
    /// A requirement or range that the exact solution meets exactly.
    Binding {
        /// What it is about.
        constraint: Constraint,
        /// In the words of the brief.
        words: String,
        /// "at lowest", "at highest" or "fixed".
        side: String,
        /// True where the objective could be better without it.
        decisive: bool,
    }
}

record! {
    /// An equation that the grid formula does not meet exactly.
    Departure {
        /// The equation, in the words of the brief.
        words: String,
        /// How far it is from holding.
        departure: Fraction,
        /// The most it may be.
        bound: Fraction,
        /// The unit of both.
        unit: String,
    }
}

record! {
    /// Why there is no formula of whole 0.0001 %.
    GridRefusal {
        /// The requirements, splits and ranges that leave no room together; where the search was cut off, those that the exact solution
        /// meets without room to spare.
        requirements: Vec<String>,
        /// True where there is none; False where the search was cut off.
        proved: bool,
        /// What leaves no room, in one sentence.
        sentence: String,
    }
}

record! {
    /// A limit of the brief: what one more unit of it does to the objective, and from where to where that holds.
    LimitRange {
        /// What it is about.
        constraint: Constraint,
        /// The limit, in the words of the brief.
        words: String,
        /// Its value.
        value: Fraction,
        /// Its unit.
        unit: String,
        /// Change of the objective for one more unit of the limit.
        price: Fraction,
        /// The lowest value for which that holds; None where there is none.
        low: Option<Fraction>,
        /// The highest value for which that holds; None where there is none.
        high: Option<Fraction>,
        /// All of it in one sentence.
        sentence: String,
    }
}

record! {
    /// The price of a raw material and the range in which the recipe stays the same.
    PriceRange {
        /// The material's id.
        material: String,
        /// Its price per kilogram.
        price: Fraction,
        /// The lowest price; None where there is none.
        low: Option<Fraction>,
        /// The highest price; None where there is none.
        high: Option<Fraction>,
        /// All of it in one sentence.
        sentence: String,
    }
}

record! {
    /// What one requirement for every composition costs, in the objective's unit. Prices of several do not add up.
    RequirementPrice {
        /// In the words of the brief.
        words: String,
        /// By how much the best value is worse with this one alone for every composition, all others for typical ones.
        alone: Fraction,
        /// By how much the best value would be better with this one for typical compositions, all others as the brief asks.
        beside_the_others: Fraction,
    }
}

record! {
    /// What it costs that requirements hold for every composition.
    RobustnessPrice {
        /// The best value of the objective, as the brief asks.
        robust: Fraction,
        /// The best value were every requirement asked of typical compositions only.
        typical: Fraction,
        /// By how much the first is worse than the second; 0 or more.
        price: Fraction,
        /// The unit of all of them.
        unit: String,
        /// Each requirement for every composition, in the brief's order.
        requirements: Vec<RequirementPrice>,
        /// All together in one sentence.
        sentence: String,
    }
}

/// The answer to a brief; a table in a notebook. The arithmetic is proved for the compositions given.
///
/// >>> answer = td.Brief("Half", td.Catalogue.starter()).fix("sci-powder", 50).qs("kaolin").solve()
/// >>> answer.exact
/// {'sci-powder': Fraction(50, 1), 'kaolin': Fraction(50, 1)}
/// >>> answer.formula
/// <Formula "Half" of 2 lines>
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Answer(pub(crate) tenside::solve::Answer);

value!(Answer, |it| (it.brief().title(), it.exact()));

getters!(Answer {
    /// The brief.
    brief: Brief = |it| Brief(it.brief().clone());
    /// Exact percent by line: what the proof is about.
    exact: IndexMap<String, Fraction> = |it| {
        it.brief().lines().iter().zip(it.exact()).map(|(line, percent)| (line.name().to_string(), Fraction(percent.clone()))).collect()
    };
    /// Exact value of the objective, in its own unit.
    objective: Option<Fraction> = |it| it.objective().cloned().map(Fraction);
    /// The unit of the objective; None where the brief has none.
    objective_unit: Option<String> = |it| it.objective_unit();
    /// The proof.
    proof: Proof = |it| Proof::from(it);
    /// The grid formula: what is weighed. Raises Contradiction where `grid_refusal` says why there is none.
    formula: Outcome<Formula> = |it| Ok(Formula(it.formula()?.clone()));
    /// The requirements and ranges that the exact solution meets exactly.
    binding: Vec<Binding> = |it| it.binding().into_iter().map(binding).collect();
    /// Where the grid formula departs from an equation: splits and targets.
    departures: Vec<Departure> = |it| it.departures().iter().map(departure).collect();
    /// Why there is no grid formula, if there is none.
    grid_refusal: Option<GridRefusal> = |it| {
        it.grid_refusal().map(|refusal| GridRefusal {
            requirements: refusal.requirements().to_vec(),
            proved: refusal.is_proved(),
            sentence: refusal.sentence(),
        })
    };
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

    /// The best formula of the same brief whose percentages are multiples of a step, or of steps, as `Brief.solve_rounded` finds it.
    #[pyo3(signature = (steps, *, seconds=None))]
    fn rounded(&self, py: Python<'_>, steps: ASteps, seconds: Option<Number>) -> Outcome<Rounded> {
        self.brief().solve_rounded(py, steps, seconds)
    }

    /// For every limit of a requirement or line: its shadow price and where that holds.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}, currency="EUR").free("capb-30").qs("water")
    /// >>> limit = brief.at_least(td.measure.active_matter, 12).minimise(td.measure.cost).solve().limit_ranges()[0]
    /// >>> limit.price, limit.low, limit.high
    /// (Fraction(1, 10), Fraction(0, 1), Fraction(30, 1))
    fn limit_ranges(&self, py: Python<'_>) -> Outcome<Vec<LimitRange>> {
        let range = |range: tenside::solve::LimitRange| LimitRange {
            sentence: range.sentence(),
            constraint: Constraint::from(&range.constraint),
            words: range.words,
            value: Fraction(range.value),
            unit: range.unit,
            price: Fraction(range.price),
            low: range.from.map(Fraction),
            high: range.to.map(Fraction),
        };
        Ok(watched(py, None, |watch| self.0.clone().watched_by(watch).limit_ranges())?.into_iter().map(range).collect())
    }

    /// For every priced raw material: the prices between which the exact solution stays best.
    fn price_ranges(&self, py: Python<'_>) -> Outcome<Vec<PriceRange>> {
        let range = |range: tenside::solve::PriceRange| PriceRange {
            sentence: range.sentence(),
            material: range.material,
            price: Fraction(range.price),
            low: range.from.map(Fraction),
            high: range.to.map(Fraction),
        };
        Ok(watched(py, None, |watch| self.0.clone().watched_by(watch).price_ranges())?.into_iter().map(range).collect())
    }

    /// What it costs, in the objective's unit, that requirements hold for every composition and not only for the typical ones.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}, currency="EUR").free("capb-30").qs("water")
    /// >>> sure = brief.at_least(td.measure.active_matter, 12, for_every_composition=True).minimise(td.measure.cost).solve()
    /// >>> price = sure.price_of_robustness()
    /// >>> price.robust - price.typical == price.price > 0, price.unit
    /// (True, 'EUR per kg')
    fn price_of_robustness(&self, py: Python<'_>) -> Outcome<RobustnessPrice> {
        let price = watched(py, None, |watch| self.0.clone().watched_by(watch).price_of_robustness())?;
        let each = |one: tenside::solve::RequirementPrice| RequirementPrice {
            words: one.words,
            alone: Fraction(one.alone),
            beside_the_others: Fraction(one.beside_the_others),
        };
        Ok(RobustnessPrice {
            sentence: price.sentence(),
            robust: Fraction(price.robust),
            typical: Fraction(price.typical),
            price: Fraction(price.price),
            unit: price.unit,
            requirements: price.requirements.into_iter().map(each).collect(),
        })
    }

    /// The grid formula, its usual measures on these bases, what binds, and what is proved.
    #[pyo3(signature = (*bases: "Basis"))]
    fn page(&self, bases: Vec<Basis>) -> Outcome<Page> {
        Ok(Page(self.0.page(&on(bases))?))
    }

    fn _repr_html_(&self) -> Outcome<String> {
        Ok(self.0.page(&on(Vec::new()))?.html())
    }

    fn __str__(&self) -> Outcome<String> {
        Ok(self.0.page(&on(Vec::new()))?.text(WIDTH))
    }

    fn __repr__(&self) -> String {
        format!("<Answer to {:?}, {} lines>", self.0.brief().title(), self.0.exact().len())
    }
}

fn binding(binding: tenside::solve::Binding) -> Binding {
    let side = match binding.side {
        Side::AtLowest => "at lowest",
        Side::AtHighest => "at highest",
        Side::Fixed => "fixed",
    };
    Binding { constraint: Constraint::from(&binding.constraint), words: binding.words, side: side.to_string(), decisive: binding.decisive }
}

pub(crate) fn departure(departure: &tenside::solve::Departure) -> Departure {
    Departure {
        words: departure.words.clone(),
        departure: Fraction(departure.departure.clone()),
        bound: Fraction(departure.bound.clone()),
        unit: departure.unit.clone(),
    }
}
