//! Charge of a substance.

use rust_decimal::Decimal;

use crate::bounds::Quantity;
use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::number::ToExact;

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

    /// The charge of that kind: per mole or per gram with its signed value, of another kind without one.
    ///
    /// ```
    /// use tenside::substance::{Charge, ChargeKind};
    /// assert_eq!(Charge::of(ChargeKind::PerMole, Some(-1))?, Charge::PerMole((-1).into()));
    /// assert!(Charge::of(ChargeKind::PerGram, None::<i32>).is_err());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A missing or superfluous value, and one out of range.
    pub fn of(kind: ChargeKind, value: Option<impl ToExact>) -> Result<Self, Error> {
        let plain = match (kind, value) {
            (ChargeKind::PerMole, Some(value)) => return Ok(Charge::PerMole(Quantity::ChargePerMole.decimal(value)?)),
            (ChargeKind::PerGram, Some(value)) => return Ok(Charge::PerGram(Quantity::ChargePerGram.decimal(value)?)),
            (ChargeKind::PerMole | ChargeKind::PerGram, None) => {
                let fault =
                    Fault::new(FaultKind::Missing, "a charge per mole or per gram without its value").value(kind);
                return Err(fault.remedy("state the signed value too, or another kind of charge").into());
            }
            (_, Some(_)) => {
                let fault =
                    Fault::new(FaultKind::Contradiction, "a value beside a kind of charge that has none").value(kind);
                return Err(fault.allowed("a value with \"per mole\" or \"per gram\"").into());
            }
            (ChargeKind::Neutral, None) => Charge::Neutral,
            (ChargeKind::PhDependent, None) => Charge::PhDependent,
            (ChargeKind::Unknown, None) => Charge::Unknown,
        };
        Ok(plain)
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
