//! Cost: the price of a raw material per kilogram as supplied.

use super::super::Facts;
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Composition, Material};
use crate::number::Exact;

/// The price of the material, or for an unpriced premix that of its parts.
pub(super) fn price(material: &Material, facts: &Facts<'_>) -> Option<Result<Exact, Error>> {
    let Some(prices) = facts.prices else {
        return Some(Err(Fault::new(FaultKind::NotKnown, "there is no price list").remedy("give one").into()));
    };
    Some(priced(material, prices))
}

fn priced(material: &Material, prices: &crate::catalogue::PriceList) -> Result<Exact, Error> {
    if let Some(price) = prices.get(material.id()) {
        return Ok(price.into());
    }
    match material.composition() {
        Composition::Premix(parts) => {
            let mut sum = Exact::ZERO;
            for (part, share) in parts {
                sum += priced(part, prices)? * share.share();
            }
            Ok(sum)
        }
        _ => {
            Err(Fault::new(FaultKind::NotKnown, "the price list has no price for it").value(format!("{:?}", material.id())).remedy("add a price per kg").into())
        }
    }
}
