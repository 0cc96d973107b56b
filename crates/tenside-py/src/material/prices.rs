//! Prices per kilogram.

use indexmap::IndexMap;
use rust_decimal::Decimal;
use tenside::bounds::Quantity;
use tenside::catalogue::PriceList;

use crate::convert::failure::Outcome;
use crate::convert::input::ByName;
pub(crate) fn price_list(prices: &ByName, currency: &str) -> Outcome<PriceList> {
    Ok(PriceList::new(currency, prices.decimals(Quantity::Price)?)?)
}

pub(crate) fn price_by_id(prices: &PriceList) -> IndexMap<String, Decimal> {
    prices.iter().map(|(id, price)| (id.to_string(), price)).collect()
}
