//! The one table of every quantity: its unit, its lowest and highest value, and where the range comes from.
//!
//! Range messages are made from this table, so that a limit stands in one place.

use rust_decimal::Decimal;

use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// A row of the table.
#[derive(Clone, Copy, Debug)]
pub struct Bound {
    /// What the quantity is called in messages.
    pub name: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// Lowest allowed value, in thousandths.
    lowest_thousandths: i64,
    /// Highest allowed value, in thousandths.
    highest_thousandths: i64,
    /// Where the range comes from.
    pub source: &'static str,
}

macro_rules! quantities {
    ($($(#[doc = $doc:literal])* $variant:ident: $name:literal, $unit:literal, $lowest:literal to $highest:literal, $source:literal;)*) => {
        /// A quantity that people type.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Quantity {
            $($(#[doc = $doc])* $variant,)*
        }

        impl Quantity {
            /// Every quantity.
            pub const ALL: &[Quantity] = &[$(Quantity::$variant,)*];

            /// The row of the table.
            #[must_use]
            pub const fn bound(self) -> Bound {
                match self {
                    $(Quantity::$variant => Bound { name: $name, unit: $unit, lowest_thousandths: $lowest, highest_thousandths: $highest, source: $source },)*
                }
            }
        }
    };
}

quantities! {
    /// Percent by mass of a formula line or a composition share.
    Percent: "percentage", "% w/w", 0 to 100_000, "by definition";
    /// pH of a dispersion or solution.
    Ph: "pH", "", -2_000 to 16_000, "widest range met in water, common practice, no source";
    /// Molar mass.
    MolarMass: "molar mass", "g/mol", 1_000 to 10_000_000_000, "hydrogen to large polymers, common practice, no source";
    /// Acid dissociation constant, negative decadic logarithm.
    Pka: "pKa", "", -20_000 to 60_000, "widest range tabulated, common practice, no source";
    /// Density.
    Density: "density", "g/mL", 10 to 25_000, "aerogels to heavy metals, common practice, no source";
    /// A temperature.
    Temperature: "temperature", "°C", -100_000 to 400_000, "what a workshop can meet, common practice, no source";
    /// Charge number of a molecule.
    ChargePerMole: "charge", "elementary charges per molecule", -20_000 to 20_000, "small molecules, common practice, no source";
    /// Charge density of a polymer.
    ChargePerGram: "charge density", "mmol/g", -30_000 to 30_000, "strongest polyelectrolytes, common practice, no source";
    /// Number of lines of a brief or formula.
    Lines: "number of lines", "lines", 1_000 to 1_000_000, "longer than any recipe, common practice, no source";
    /// One part of a split.
    SplitPart: "part of a split", "parts", 1 to 1_000_000_000, "a part of nothing is no part; common practice, no source";
    /// Price of a raw material.
    Price: "price", "per kg", -1_000_000_000 to 1_000_000_000, "a disposal fee is negative; common practice, no source";
    /// A batch or net mass.
    Mass: "mass", "g", 0 to 100_000_000_000, "up to a hundred tonnes, common practice, no source";
    /// Number of bars.
    Bars: "number of bars", "bars", 1_000 to 10_000_000_000, "at least one; common practice, no source";
    /// A loss in percent, below 100.
    Loss: "loss", "%", 0 to 99_900, "something must be left; by definition";
    /// Residual moisture of a finished product.
    Moisture: "residual moisture", "% of the finished product", 0 to 99_900, "something must be left; by definition";
    /// A scale's readability: one division of it.
    Readability: "scale division", "mg", 1 to 100_000_000_000, "microbalance to weighbridge, common practice, no source";
    /// The rounding error of a weighed line that is still accepted.
    RoundingTolerance: "rounding tolerance", "% of the line", 100 to 5_000, "usual are 1 to 2 %, common practice, no source";
    /// The step that percentages of a rounded formula are multiples of.
    RoundingStep: "rounding step", "% w/w", 1 to 100_000, "ten grid steps to the whole, common practice, no source";
    /// What a person uses of a product in a day.
    DailyAmount: "daily amount", "g a day", 0 to 1_000_000, "a kilogram a day is more than any cosmetic, common practice, no source";
    /// A dose without adverse effect.
    Dose: "dose", "mg/kg of body weight a day", 0 to 1_000_000_000, "up to all of the body weight, by definition";
    /// The weight of a person.
    BodyWeight: "body weight", "kg", 500 to 300_000, "newborn to heaviest, common practice, no source";
    /// A score a user gives a raw material.
    Score: "score", "", -1_000_000_000_000 to 1_000_000_000_000, "common practice, no source";
}

impl Quantity {
    /// Lowest and highest allowed value.
    #[must_use]
    pub fn range(self) -> (Decimal, Decimal) {
        let bound = self.bound();
        (Decimal::new(bound.lowest_thousandths, 3).normalize(), Decimal::new(bound.highest_thousandths, 3).normalize())
    }

    /// The range as text with its unit.
    #[must_use]
    pub fn allowed(self) -> String {
        let (lowest, highest) = self.range();
        format!("{lowest} to {highest} {}", self.bound().unit).trim_end().to_string()
    }

    /// The fault for a value outside the range.
    #[must_use]
    pub fn fault(self, value: impl std::fmt::Display) -> Fault {
        Fault::new(FaultKind::OutOfRange, format!("{} out of range", self.bound().name)).value(value).allowed(self.allowed())
    }

    /// Refuses a value outside the range.
    ///
    /// # Errors
    /// The value, with the allowed range.
    pub fn check(self, value: &Exact) -> Result<(), Error> {
        let (lowest, highest) = self.range();
        if *value < Exact::from(lowest) || *value > Exact::from(highest) {
            return Err(self.fault(value).into());
        }
        Ok(())
    }

    /// The value, if it is inside the range.
    ///
    /// # Errors
    /// The value, with the allowed range.
    pub fn checked(self, value: Decimal) -> Result<Decimal, Error> {
        let (lowest, highest) = self.range();
        if value < lowest || value > highest {
            return Err(self.fault(value).into());
        }
        Ok(value)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_row_has_a_source_and_an_ordered_range() {
        for quantity in Quantity::ALL {
            let (lowest, highest) = quantity.range();
            assert!(lowest < highest, "{quantity:?}");
            assert!(!quantity.bound().source.is_empty(), "{quantity:?}");
        }
    }

    #[test]
    fn a_fault_names_value_and_range() {
        let error = Quantity::Percent.check(&Exact::from(103)).unwrap_err();
        assert_eq!(error.to_string(), "percentage out of range (found 103); allowed: 0 to 100 % w/w");
    }
}
