//! Permanent charge, in mmol of elementary charges per gram.
//!
//! `1000 z / M` for an ion of charge `z` and molar mass `M` in g/mol; charge densities of polymers are taken as stated.
//! Charges that depend on the pH are not counted and are named in the notes; an unknown charge makes the sum unknown.

use rust_decimal::Decimal;

use super::Weight;
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Constituent, Material};
use crate::number::Exact;
use crate::substance::{Charge, Class, Substance};

/// Which charges are counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Sign {
    /// Negative ones, as a positive number.
    Negative,
    /// Positive ones.
    Positive,
}

pub(super) fn weight(sign: Sign, leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
    let counted = |value: &Decimal| match sign {
        Sign::Negative => value.is_sign_negative() && !value.is_zero(),
        Sign::Positive => value.is_sign_positive() && !value.is_zero(),
    };
    let substance = row.substance();
    match substance.charge() {
        Charge::PerMole(charge) if counted(charge) => {
            per_molar_mass(leaf, row, &(Exact::from(charge.abs()) * Exact::from(1000)))
        }
        Charge::PerGram(density) if counted(density) => Ok(Weight::certain(density.abs().into())),
        Charge::Unknown if !substance.is_unspecified() && !brings_little(substance) => {
            Err(Fault::new(FaultKind::NotKnown, "its charge is not known")
                .at(format!("material {:?}", leaf.id()))
                .value(substance.inci())
                .remedy("state it as charge_per_mole or charge_per_gram, or \"neutral\"")
                .into())
        }
        _ => Ok(Weight::certain(Exact::ZERO)),
    }
}

/// What makes a ratio of charges unknown for nobody's good: honey, oat flour, an extract, a scent.
fn brings_little(substance: &Substance) -> bool {
    matches!(
        substance.class(),
        Class::Botanical | Class::Humectant | Class::Colourant | Class::EssentialOil | Class::FragranceConstituent
    )
}

pub(super) fn not_counted(substance: &Substance) -> Option<&'static str> {
    match substance.charge() {
        _ if substance.is_unspecified() => Some("the unspecified remainder is not counted"),
        Charge::PhDependent => Some("its charge depends on the pH and is not counted"),
        Charge::Unknown if brings_little(substance) => {
            Some("its charge is not known and is not counted, since it is neither surfactant nor polymer")
        }
        _ => None,
    }
}

/// `per_mole / M`, with the ends of the molar mass; a lot's certificate settles `M`.
pub(super) fn per_molar_mass(leaf: &Material, row: &Constituent, per_mole: &Exact) -> Result<Weight, Error> {
    over_molar_mass(leaf, row.substance(), row.lot_molar_mass(), None, per_mole)
}

/// `amount / M`: `M` is the lot's, else the substance's with its ends, else `otherwise`.
pub(super) fn over_molar_mass(
    leaf: &Material,
    substance: &Substance,
    lot: Option<Decimal>,
    otherwise: Option<Decimal>,
    amount: &Exact,
) -> Result<Weight, Error> {
    let over = |mass: Decimal| amount / Exact::from(mass);
    match (lot, substance.molar_mass(), otherwise) {
        (Some(mass), _, _) | (None, None, Some(mass)) => Ok(Weight::certain(over(mass))),
        (None, Some(mass), _) => Ok(Weight::between(mass.high().map(over), over(mass.typical()), mass.low().map(over))),
        (None, None, None) => Err(Fault::new(FaultKind::NotKnown, "its molar mass is not known")
            .at(format!("material {:?}", leaf.id()))
            .value(substance.inci())
            .remedy("state molar_mass in a [[substance]]")
            .into()),
    }
}
