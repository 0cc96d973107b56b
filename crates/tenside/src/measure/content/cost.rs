//! Cost: the price of a raw material per kilogram as supplied.

use crate::catalogue::PriceList;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::number::Exact;

/// The price of the material, or for an unpriced premix that of its parts.
pub(super) fn price(material: &Material, prices: Option<&PriceList>) -> Option<Result<Exact, Error>> {
    let no_list = || Error::from(Fault::new(FaultKind::NotKnown, "there is no price list").remedy("give one"));
    Some(prices.ok_or_else(no_list).and_then(|prices| prices.price_of(material)))
}
