//! What changed prices do to formulas.

use std::collections::HashMap;
use std::sync::Arc;

use rust_decimal::Decimal;

use super::costing::{line_prices, no_prices};
use crate::bounds::Quantity;
use crate::catalogue::{PriceList, unknown_material};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::{Exact, ToExact};

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
/// use tenside::cost::price_effects;
/// use tenside::prelude::*;
/// let shelf = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, shelf.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let prices = PriceList::new("EUR", [("sci-powder", 6), ("kaolin", 2)])?;
/// let bar = Formula::new("Plain bar", vec![line("sci-powder", "60")?, line("kaolin", "40")?])?.with_prices(Some(std::sync::Arc::new(prices)));
/// let effects = price_effects(&[bar], [("sci-powder", 7)])?;
/// assert_eq!((effects[0].difference.to_string(), effects[0].percent.as_ref().unwrap().rounded_text(1)), ("0.6".to_string(), "13.6".to_string()));
/// # Ok::<(), tenside::Error>(())
/// ```
///
/// # Errors
/// A formula without prices or with a raw material that has none, prices in two currencies, and a raw material that no
/// price list prices.
pub fn price_effects<N: AsRef<str>, P: ToExact>(
    formulas: &[Formula],
    changes: impl IntoIterator<Item = (N, P)>,
) -> Result<Vec<PriceEffect>, Error> {
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
    let mut changed: HashMap<String, Decimal> = HashMap::new();
    for (material, price) in changes {
        let material = material.as_ref();
        let price = Quantity::Price.decimal(price).map_err(|error| error.within(&format!("price of {material:?}")))?;
        if changed.insert(material.to_string(), price).is_some() {
            return Err(Fault::new(FaultKind::Duplicate, "a price changes twice")
                .value(format!("{material:?}"))
                .into());
        }
        if !lists.is_empty() && !lists.iter().any(|list| list.get(material).is_some()) {
            let known = lists.iter().flat_map(|list| list.iter().map(|(id, _)| id));
            return Err(unknown_material("priced raw material", material, known).into());
        }
    }
    let effect = |(formula, list): (&Formula, &Arc<PriceList>)| {
        let prices = list.iter().map(|(id, price)| (id, changed.get(id).copied().unwrap_or(price)));
        let after = PriceList::new(list.currency(), prices)?;
        let per_kilogram = |prices: &PriceList| {
            let priced = line_prices(formula, prices)?;
            Ok::<Exact, Error>(priced.into_iter().map(|(line, price)| line.percent().share() * price).sum())
        };
        let (before, after) = (per_kilogram(list)?, per_kilogram(&after)?);
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
