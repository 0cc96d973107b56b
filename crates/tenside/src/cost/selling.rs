//! From a cost to a price, and to the number of bars that pays.

use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::number::ToExact;

use super::offer::amount;

/// The price of which `percent` is the margin: `cost / (1 - percent / 100)`. See [`price_from_markup`] for a percentage
/// of the cost.
///
/// ```
/// use tenside::cost::{price_from_margin, price_from_markup};
/// assert_eq!(price_from_margin(1, 35)?.rounded_text(2), "1.54");
/// assert_eq!(price_from_markup(1, 35)?.rounded_text(2), "1.35");
/// assert!(price_from_margin(1, 100).unwrap_err().is_out_of_range());
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// A negative cost, and a margin that leaves nothing for the cost.
pub fn price_from_margin(cost: impl ToExact, percent: impl ToExact) -> Result<Exact, Error> {
    let (cost, percent) = (amount(cost, "cost")?, percent.to_exact()?);
    Quantity::Margin.check(&percent).map_err(|error| match percent >= Exact::hundred() {
        true => Quantity::Margin
            .fault(&percent)
            .remedy("a percentage of the cost is a markup: use price_from_markup")
            .into(),
        false => error,
    })?;
    Ok(cost * Exact::hundred() / (Exact::hundred() - percent))
}

/// The cost with `percent` of it added: `cost * (1 + percent / 100)`. See [`price_from_margin`] for a percentage of the
/// price.
///
/// # Errors
/// A negative cost or markup.
pub fn price_from_markup(cost: impl ToExact, percent: impl ToExact) -> Result<Exact, Error> {
    let (cost, percent) = (amount(cost, "cost")?, percent.to_exact()?);
    Quantity::Markup.check(&percent)?;
    Ok(cost * (Exact::hundred() + percent) / Exact::hundred())
}

/// How many have to be sold before the fixed costs are earned: the least whole number of which `price - cost` together
/// is no less.
///
/// ```
/// use tenside::cost::break_even;
/// assert_eq!(break_even(500, "6.50", "1.20")?.to_string(), "95"); // 94 earn 498.20
/// assert!(break_even(500, 1, "1.20").unwrap_err().is_contradiction());
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// Negative amounts, and a price that no number of sales makes up for.
pub fn break_even(fixed: impl ToExact, price: impl ToExact, cost: impl ToExact) -> Result<Exact, Error> {
    let (fixed, price, cost) = (amount(fixed, "fixed costs")?, amount(price, "price")?, amount(cost, "cost of one")?);
    let earned = &price - &cost;
    if fixed.is_zero() {
        return Ok(Exact::ZERO);
    }
    if !earned.is_positive() {
        return Err(Fault::new(FaultKind::Contradiction, "each one sold earns nothing, so no number of them pays")
            .value(format!("a price of {price} at a cost of {cost}"))
            .allowed("a price above the cost of one")
            .remedy("raise the price or lower the cost")
            .into());
    }
    Ok(-(-(fixed / earned)).floor_to(&Exact::ONE))
}
