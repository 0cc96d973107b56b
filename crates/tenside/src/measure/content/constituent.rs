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

/// What `counts` gives for the ingredient itself, plus what it gives for substances contained in it, each by its share. A contained
/// share without a typical figure makes the sum unknown; an ingredient of which nothing is stated counts as holding none of it, as its
/// material lists none.
pub(super) fn with_contained(leaf: &Material, ingredient: &Substance, counts: impl Fn(&Substance) -> Result<Option<Weight>, Error>) -> Result<Weight, Error> {
    let mut weight = counts(ingredient)?.unwrap_or_else(|| Weight::certain(Exact::ZERO));
    for part in leaf.contained().iter().filter(|part| part.of() == ingredient.inci()) {
        let Some(counted) = counts(part.substance())? else { continue };
        let Some(typical) = part.share() else {
            return Err(Fault::new(FaultKind::NotKnown, "the contained share has no typical value")
                .at(format!("material {:?}", leaf.id()))
                .value(part.substance().inci())
                .remedy("state a typical share")
                .into());
        };
        let add = |sum: Option<Exact>, end: Option<Ppm>, counted: Option<Exact>| Some(sum? + end?.share() * counted?);
        weight = Weight {
            low: add(weight.low, part.low(), counted.low),
            typical: weight.typical + typical.share() * counted.typical,
            high: add(weight.high, part.high(), counted.high),
        };
    }
    Ok(weight)
}
