//! Charge of a substance.

use rust_decimal::Decimal;

use crate::document::named_enum;

named_enum! {
    /// How the charge of a substance is known.
    ChargeKind "kind of charge" {
        /// No net charge of its own.
        Neutral = "neutral",
        /// Elementary charges per molecule.
        PerMole = "per mole",
        /// Charge density in mmol/g.
        PerGram = "per gram",
        /// Depends on the pH.
        PhDependent = "depends on pH",
        /// Not known.
        Unknown = "unknown",
    }
}

/// The charge a substance brings into water.
#[derive(Clone, Debug, PartialEq)]
pub enum Charge {
    /// No net charge of its own; the counter-ions of an electrolyte salt cancel.
    Neutral,
    /// Elementary charges per molecule of the surface-active or acting ion, signed.
    PerMole(Decimal),
    /// Charge density in mmol/g, signed: polymers.
    PerGram(Decimal),
    /// Depends on the pH: betaines, amines, soaps, amino acids.
    PhDependent,
    /// Not known; it stays unknown in every sum.
    Unknown,
}

impl Charge {
    /// How it is known.
    #[must_use]
    pub fn kind(&self) -> ChargeKind {
        match self {
            Charge::Neutral => ChargeKind::Neutral,
            Charge::PerMole(_) => ChargeKind::PerMole,
            Charge::PerGram(_) => ChargeKind::PerGram,
            Charge::PhDependent => ChargeKind::PhDependent,
            Charge::Unknown => ChargeKind::Unknown,
        }
    }

    /// The charge per mole or gram, signed, where it is one number.
    #[must_use]
    pub fn value(&self) -> Option<Decimal> {
        match self {
            Charge::PerMole(value) | Charge::PerGram(value) => Some(*value),
            Charge::Neutral | Charge::PhDependent | Charge::Unknown => None,
        }
    }
}
