//! One constituent, as an ingredient or also as contained in ingredients.

use super::Weight;
use crate::document::fold;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::number::{Exact, Ppm};
use crate::substance::Substance;

pub(super) fn is(substance: &Substance, name: &str) -> bool {
    fold(substance.inci()) == fold(name)
}

pub(super) fn names_water(name: &str) -> bool {
    matches!(fold(name).as_str(), "water" | "aqua")
}

/// 1 for the ingredient itself, plus the share of it contained in another ingredient. A contained share without a typical figure makes
/// the sum unknown; an ingredient of which nothing is stated counts as holding none of it, as its material lists none.
pub(super) fn with_contained(leaf: &Material, ingredient: &Substance, name: &str) -> Result<Weight, Error> {
    let mut weight = Weight::counted(is(ingredient, name));
    for part in leaf.contained().iter().filter(|part| part.of() == ingredient.inci() && is(part.substance(), name)) {
        let Some(typical) = part.share() else {
            return Err(Fault::new(FaultKind::NotKnown, "the contained share has no typical value")
                .at(format!("material {:?}", leaf.id()))
                .value(part.substance().inci())
                .remedy("state a typical share")
                .into());
        };
        let add = |sum: Option<Exact>, end: Option<Ppm>| Some(sum? + end?.share());
        weight = Weight { low: add(weight.low, part.low()), typical: weight.typical + typical.share(), high: add(weight.high, part.high()) };
    }
    Ok(weight)
}
