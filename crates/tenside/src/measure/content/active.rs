//! Active matter: what is marked as counting as active, by mass or by amount of substance.

use super::{Weight, charge};
use crate::error::Error;
use crate::material::{Constituent, Material};
use crate::number::Exact;
use crate::substance::{Class, Substance};

/// 1 for what counts as active, of the class if one is given.
pub(super) fn weight(class: Option<Class>, substance: &Substance) -> Weight {
    Weight::counted(substance.counts_as_active() && class.is_none_or(|class| substance.class() == class))
}

/// `1000 / M` mmol/g for what counts as active.
pub(super) fn moles(leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
    if !row.substance().counts_as_active() {
        return Ok(Weight::certain(Exact::ZERO));
    }
    charge::per_molar_mass(leaf, row, &Exact::from(1000))
}
