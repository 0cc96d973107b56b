//! Natural origin, water included, in the sense of ISO 16128-2 (from memory): the share stated of the raw material,
//! else of its ingredients. The unspecified remainder counts as not natural.

use super::Weight;
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Footing, Material};
use crate::number::Exact;
use crate::substance::Substance;

/// The share stated of the raw material as a whole.
pub(super) fn stated(material: &Material) -> Option<Result<Exact, Error>> {
    material.attributes().natural_origin().map(|(share, _)| Ok(Exact::from(share) / Exact::hundred()))
}

pub(super) fn weight(leaf: &Material, substance: &Substance) -> Result<Weight, Error> {
    if substance.is_unspecified() {
        return Ok(Weight {
            greatest: Exact::ONE,
            greatest_footing: Footing::Nameless,
            ..Weight::certain(Exact::ZERO)
        });
    }
    if let Some((share, _)) = leaf.attributes().natural_origin() {
        return Ok(Weight::certain(Exact::from(share) / Exact::hundred()));
    }
    match substance.attributes().natural_origin() {
        Some((share, _)) => Ok(Weight::certain(Exact::from(share) / Exact::hundred())),
        None => Err(Fault::new(FaultKind::NotKnown, "its natural origin is not known")
            .at(format!("material {:?}", leaf.id()))
            .value(substance.inci())
            .remedy("ask the supplier for the natural origin index and state natural_origin under attributes")
            .into()),
    }
}
