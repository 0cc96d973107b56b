//! What changed prices do to formulas.

use std::collections::HashSet;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::costing::{line_prices, no_prices};
use crate::catalogue::PriceList;
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::Exact;

/// What changed prices do to one formula: the raw materials of a kilogram of it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PriceEffect {
    /// The title of the formula.
    pub formula: String,
    /// The currency.
    pub currency: String,
    /// What the raw materials of a kilogram cost before.
    pub before: Exact,
    /// What they cost afterwards.
    pub after: Exact,
    /// What is added.
    pub difference: Exact,
    /// The same in percent of what they cost before; `None` where that was nothing.
    pub percent: Option<Exact>,
}

/// What changed prices per kilogram do to each of these formulas. A premix that has a price of its own costs that,
/// whatever its parts cost.
///
/// ```
/// use rust_decimal::Decimal;
/// use tenside::cost::price_effects;
/// use tenside::prelude::*;
/// let shelf = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, shelf.material(id)?.clone(), Ppm::from_percent_text(percent)?);
/// let prices = PriceList::new("EUR", [("sci-powder".to_string(), Decimal::from(6)), ("kaolin".to_string(), Decimal::from(2))])?;
/// let bar = Formula::new("Plain bar", vec![line("sci-powder", "60")?, line("kaolin", "40")?])?.with_prices(Some(std::sync::Arc::new(prices)));
/// let effects = price_effects(&[bar], &[("sci-powder", Decimal::from(7))])?;
/// assert_eq!((effects[0].difference.to_string(), effects[0].percent.as_ref().unwrap().rounded_text(1)), ("0.6".to_string(), "13.6".to_string()));
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// A formula without prices or with a raw material that has none, prices in two currencies, and a raw material that no
/// price list prices.
pub fn price_effects(formulas: &[Formula], changes: &[(&str, Decimal)]) -> Result<Vec<PriceEffect>, Error> {
    let mut lists: Vec<&Arc<PriceList>> = Vec::new();
    for formula in formulas {
        lists.push(formula.prices().ok_or_else(|| no_prices(formula))?);
    }
    if let Some(other) = lists.iter().find(|list| list.currency() != lists[0].currency()) {
        let fault = Fault::new(FaultKind::Contradiction, "two currencies are mixed")
            .value(other.currency())
            .allowed(lists[0].currency());
        return Err(fault.remedy("compare formulas with prices in one currency").into());
    }
    let mut seen = HashSet::new();
    for (material, _) in changes {
        if !seen.insert(material) {
            return Err(Fault::new(FaultKind::Duplicate, "a price changes twice")
                .value(format!("{material:?}"))
                .into());
        }
        if !lists.is_empty() && !lists.iter().any(|list| list.get(material).is_some()) {
            let known = lists.iter().flat_map(|list| list.iter().map(|(id, _)| id));
            return Err(unknown_name("priced raw material", material, known).into());
        }
    }
    let effect = |(formula, list): (&Formula, &Arc<PriceList>)| {
        let price = |(id, price): (&str, Decimal)| {
            (id.to_string(), changes.iter().find(|(changed, _)| *changed == id).map_or(price, |(_, price)| *price))
        };
        let changed = PriceList::new(list.currency(), list.iter().map(price).collect::<Vec<_>>())?;
        let per_kilogram = |prices: &PriceList| {
            let prices = line_prices(formula, prices)?;
            Ok::<Exact, Error>(
                formula.lines().iter().zip(prices).map(|(line, price)| price * line.percent().share()).sum(),
            )
        };
        let (before, after) = (per_kilogram(list)?, per_kilogram(&changed)?);
        let difference = &after - &before;
        let percent = (&difference * Exact::hundred()).checked_div(&before);
        Ok(PriceEffect {
            formula: formula.title().to_string(),
            currency: list.currency().to_string(),
            before,
            after,
            difference,
            percent,
        })
    };
    formulas.iter().zip(lists).map(effect).collect()
}
