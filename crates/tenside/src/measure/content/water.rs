//! Water, and what is left when it and other volatile constituents are gone.

use crate::error::Error;
use crate::material::{Composition, Material};
use crate::number::Exact;
use crate::substance::{Class, Substance, Volatility};

/// True for what stays on drying; constituents of unknown volatility are taken to stay.
pub(super) fn stays(substance: &Substance) -> bool {
    !substance.is_water() && !matches!(substance.volatility(), Volatility::Water | Volatility::Volatile)
}

/// True where nobody says whether it stays, of classes of which some does not.
pub(super) fn may_leave(substance: &Substance) -> bool {
    let some_leaves = matches!(
        substance.class(),
        Class::Solvent
            | Class::EssentialOil
            | Class::FragranceConstituent
            | Class::Hydrocarbon
            | Class::Silicone
            | Class::Other
    );
    some_leaves && substance.volatility() == Volatility::Unknown
}

/// True for a raw material that as a rule holds water and of which none is stated.
pub(in crate::measure) fn is_bound_water_open(leaf: &Material) -> bool {
    let holds = |class: Class| matches!(class, Class::Starch | Class::Clay);
    leaf.bound_water().is_none() && holds(leaf.main_class())
}

/// The bound water stated of a raw material; a premix has that of its parts.
pub(super) fn bound(material: &Material) -> Option<Result<Exact, Error>> {
    if material.bound_water().is_none() && matches!(material.composition(), Composition::Premix(_)) {
        let sum = material
            .leaves()
            .into_iter()
            .map(|(leaf, share)| leaf.bound_water().map_or(Exact::ZERO, |water| water.share() * share))
            .sum();
        return Some(Ok(sum));
    }
    Some(Ok(material.bound_water().map_or(Exact::ZERO, |water| water.share())))
}
