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
    LimitRange of &tenside::solve::LimitRange, |range| {
        /// What it is about.
        constraint: Constraint = Constraint::from(&range.constraint),
        /// The limit, in the words of the brief.
        words: String = range.words.clone(),
        /// Its value.
        value: Fraction = Fraction(range.value.clone()),
        /// Its unit.
        unit: String = range.unit.clone(),
        /// Change of the objective for one more unit of the limit.
        price: Fraction = Fraction(range.price.clone()),
        /// The lowest value for which that holds; None if there is none.
        low: Option<Fraction> = range.from.clone().map(Fraction),
        /// The highest value for which that holds; None if there is none.
        high: Option<Fraction> = range.to.clone().map(Fraction),
        /// All of it in one sentence.
        sentence: String = range.sentence(),
    }
}

record! {
    "tenside.solve",
    /// The price of a raw material and the range in which the recipe stays the same.
    PriceRange of &tenside::solve::PriceRange, |range| {
        /// The material's id.
        material: String = range.material.clone(),
        /// Its price per kilogram.
        price: Fraction = Fraction(range.price.clone()),
        /// The lowest price; None if there is none.
        low: Option<Fraction> = range.from.clone().map(Fraction),
        /// The highest price; None if there is none.
        high: Option<Fraction> = range.to.clone().map(Fraction),
        /// All of it in one sentence.
        sentence: String = range.sentence(),
    }
}

record! {
    "tenside.solve",
    /// What one requirement for every composition costs, in the objective's unit. Prices of several do not add up.
    RequirementPrice of &tenside::solve::RequirementPrice, |one| {
        /// In the words of the brief.
        words: String = one.words.clone(),
        /// By how much the best value is worse with this one alone for every composition, all others for typical ones.
        alone: Fraction = Fraction(one.alone.clone()),
        /// By how much the best value would be better with this one for typical compositions, all others as the brief
        /// asks.
        beside_the_others: Fraction = Fraction(one.beside_the_others.clone()),
    }
}

record! {
    "tenside.solve",
    /// What it costs that requirements hold for every composition.
    RobustnessPrice of &tenside::solve::RobustnessPrice, |price| {
        /// The best value of the objective, as the brief asks.
        robust: Fraction = Fraction(price.robust.clone()),
        /// The best value were every requirement asked of typical compositions only.
        typical: Fraction = Fraction(price.typical.clone()),
        /// By how much the first is worse than the second; 0 or more.
        price: Fraction = Fraction(price.price.clone()),
        /// The unit of all of them.
        unit: String = price.unit.clone(),
        /// Each requirement for every composition, in the brief's order.
        requirements: Vec<RequirementPrice> = price.requirements.iter().map(RequirementPrice::from).collect(),
        /// All together in one sentence.
        sentence: String = price.sentence(),
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
        Ok(watched(py, None, |watch| self.0.clone().watched_by(watch).limit_ranges())?
            .iter()
            .map(LimitRange::from)
            .collect())
    }

    /// For every priced raw material: the prices between which the exact solution stays best and keeps limits on the
    /// cost that is minimised or maximised. Refused where a requirement rests on prices in another way.
    fn price_ranges(&self, py: Python<'_>) -> Outcome<Rows<PriceRange>> {
        Ok(watched(py, None, |watch| self.0.clone().watched_by(watch).price_ranges())?
            .iter()
            .map(PriceRange::from)
            .collect())
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
        Ok(RobustnessPrice::from(&price))
    }
}
