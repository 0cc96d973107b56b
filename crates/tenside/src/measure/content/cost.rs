//! Cost: the price of a raw material per kilogram as supplied.

use crate::catalogue::PriceList;
use crate::document::nearest;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::number::Exact;

/// The price of the material, or for an unpriced premix that of its parts.
pub(super) fn price(material: &Material, prices: Option<&PriceList>) -> Option<Result<Exact, Error>> {
    let Some(prices) = prices else {
        return Some(Err(Fault::new(FaultKind::NotKnown, "there is no price list").remedy("give one").into()));
    };
    let stated = |material: &Material| prices.get(material.id()).map(Exact::from);
    let missing = |material: &Material| {
        let alike = nearest(material.id(), prices.iter().map(|(id, _)| id).filter(|id| *id != material.id()));
        let remedy = alike.map_or_else(
            || "add a price per kg".to_string(),
            |alike| format!("add a price per kg; {alike:?} has one: is this material meant?"),
        );
        Fault::new(FaultKind::NotKnown, "the price list has no price for it")
            .value(format!("{:?}", material.id()))
            .remedy(remedy)
            .into()
    };
    Some(material.stated_or_of_parts(stated, missing))
}
