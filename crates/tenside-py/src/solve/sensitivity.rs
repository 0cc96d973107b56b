//! How far an answer holds, and what its requirements cost.

use pyo3::prelude::*;

use crate::convert::failure::Outcome;
use crate::convert::output::Fraction;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::solve::answer::Answer;
use crate::solve::constraint::Constraint;
record! {
    "tenside.solve",
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
        /// The lowest value for which that holds; None if there is none.
        low: Option<Fraction>,
        /// The highest value for which that holds; None if there is none.
        high: Option<Fraction>,
        /// All of it in one sentence.
        sentence: String,
    }
}

record! {
    "tenside.solve",
    /// The price of a raw material and the range in which the recipe stays the same.
    PriceRange {
        /// The material's id.
        material: String,
        /// Its price per kilogram.
        price: Fraction,
        /// The lowest price; None if there is none.
        low: Option<Fraction>,
        /// The highest price; None if there is none.
        high: Option<Fraction>,
        /// All of it in one sentence.
        sentence: String,
    }
}

record! {
    "tenside.solve",
    /// What one requirement for every composition costs, in the objective's unit. Prices of several do not add up.
    RequirementPrice {
        /// In the words of the brief.
        words: String,
        /// By how much the best value is worse with this one alone for every composition, all others for typical ones.
        alone: Fraction,
        /// By how much the best value would be better with this one for typical compositions, all others as the brief
        /// asks.
        beside_the_others: Fraction,
    }
}

record! {
    "tenside.solve",
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

#[pymethods]
impl Answer {
    /// For every limit of a requirement or line: its shadow price and where that holds.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter(), prices={"capb-30": 3, "water": 0}, currency="EUR").free("capb-30").qs("water")
    /// >>> limit = brief.at_least(td.measure.active_matter, 12).minimise(td.measure.cost).solve().limit_ranges()[0]
    /// >>> limit.price, limit.low, limit.high
    /// (Fraction(1, 10), Fraction(0, 1), Fraction(30, 1))
    fn limit_ranges(&self, py: Python<'_>) -> Outcome<Rows<LimitRange>> {
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
    fn price_ranges(&self, py: Python<'_>) -> Outcome<Rows<PriceRange>> {
        let range = |range: tenside::solve::PriceRange| PriceRange {
            sentence: range.sentence(),
            material: range.material,
            price: Fraction(range.price),
            low: range.from.map(Fraction),
            high: range.to.map(Fraction),
        };
        Ok(watched(py, None, |watch| self.0.clone().watched_by(watch).price_ranges())?.into_iter().map(range).collect())
    }

    /// What it costs, in the objective's unit, that requirements hold for every composition and not only for the
    /// typical ones.
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
}
