//! From a cost to a price.

use pyo3::prelude::*;

use crate::convert::failure::Outcome;
use crate::convert::input::Number;
use crate::convert::output::Fraction;

/// The price of which `percent` is the margin, `cost / (1 - percent / 100)`. A percentage of the cost is a markup.
///
/// >>> float(round(td.cost.price_from_margin(1, 35), 2)), float(round(td.cost.price_from_markup(1, 35), 2))
/// (1.54, 1.35)
#[pyfunction]
pub(crate) fn price_from_margin(cost: Number, percent: Number) -> Outcome<Fraction> {
    Ok(Fraction(tenside::cost::price_from_margin(cost.0, percent.0)?))
}

/// The `cost` with `percent` of it added. A percentage of the price is a margin.
///
/// >>> float(td.cost.price_from_markup("2.40", 50))
/// 3.6
#[pyfunction]
pub(crate) fn price_from_markup(cost: Number, percent: Number) -> Outcome<Fraction> {
    Ok(Fraction(tenside::cost::price_from_markup(cost.0, percent.0)?))
}

/// How many have to be sold at a `price`, each at a `cost`, before `fixed` costs are earned.
///
/// >>> td.cost.break_even(500, "6.50", "1.20")
/// Fraction(95, 1)
#[pyfunction]
pub(crate) fn break_even(fixed: Number, price: Number, cost: Number) -> Outcome<Fraction> {
    Ok(Fraction(tenside::cost::break_even(fixed.0, price.0, cost.0)?))
}
