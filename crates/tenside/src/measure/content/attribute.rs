//! The share of raw materials that have an attribute.

use crate::document::Named;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::number::Exact;
use crate::substance::Attribute;

/// 1 where the material has the attribute, 0 where it is stated not to; unknown is not "no".
pub(super) fn share(attribute: Attribute, material: &Material) -> Result<Exact, Error> {
    match material.attribute(attribute) {
        Some(statement) => Ok(if statement.value { Exact::ONE } else { Exact::ZERO }),
        None => Err(Fault::new(
            FaultKind::NotKnown,
            format!("whether it has the attribute {:?} is not known", attribute.slug()),
        )
        .value(format!("{:?}", material.id()))
        .remedy("ask the supplier and state it under attributes")
        .into()),
    }
}
