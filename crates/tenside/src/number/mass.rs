//! Masses in grams, exact, and the units people weigh in.

use std::fmt;
use std::str::FromStr;

use super::Exact;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::ToExact;

/// A unit of mass.
///
/// Source: the international avoirdupois pound is 0.45359237 kg exactly and the ounce a sixteenth of it (international
/// yard and pound agreement of 1959, from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum MassUnit {
    /// Gram.
    Gram,
    /// Kilogram.
    Kilogram,
    /// Milligram.
    Milligram,
    /// Avoirdupois ounce.
    Ounce,
    /// Avoirdupois pound.
    Pound,
}

impl MassUnit {
    /// Every unit.
    pub const ALL: &[MassUnit] =
        &[MassUnit::Gram, MassUnit::Kilogram, MassUnit::Milligram, MassUnit::Ounce, MassUnit::Pound];

    /// Its symbol.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            MassUnit::Gram => "g",
            MassUnit::Kilogram => "kg",
            MassUnit::Milligram => "mg",
            MassUnit::Ounce => "oz",
            MassUnit::Pound => "lb",
        }
    }

    /// Grams in one unit, exact.
    #[must_use]
    pub fn grams(self) -> Exact {
        match self {
            MassUnit::Gram => Exact::ONE,
            MassUnit::Kilogram => Exact::from(1000),
            MassUnit::Milligram => Exact::ratio(1, 1000),
            MassUnit::Ounce => Exact::ratio(45_359_237, 1_600_000),
            MassUnit::Pound => Exact::ratio(45_359_237, 100_000),
        }
    }
}

impl FromStr for MassUnit {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        MassUnit::ALL.iter().copied().find(|unit| unit.symbol().eq_ignore_ascii_case(text.trim())).ok_or_else(|| {
            let fault = Fault::new(FaultKind::UnknownName, "unknown unit of mass")
                .value(format!("{:?}", text.trim()))
                .allowed("g, kg, mg, oz, lb");
            let unit = text.trim().to_ascii_lowercase();
            if unit.contains("fl") || ["ml", "cl", "l"].contains(&unit.as_str()) {
                fault.remedy("that is a volume: state the mass, which is the volume times the density in g/ml")
            } else {
                fault
            }
            .into()
        })
    }
}

/// A mass, exact, never negative; by default 0 g.
///
/// ```
/// use tenside::number::{Exact, Mass, MassUnit};
/// let net: Mass = "60 g".parse()?;
/// assert_eq!(net.grams(), &Exact::from(60));
/// let pound: Mass = "1 lb".parse()?;
/// assert_eq!(pound.grams(), &Exact::ratio(45_359_237, 100_000));
/// assert_eq!(pound.in_unit(MassUnit::Ounce), Exact::from(16));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mass(Exact);

impl Mass {
    /// A mass of `value` units.
    ///
    /// # Errors
    /// What is no number, negative masses and more than a hundred tonnes.
    pub fn new(value: impl ToExact, unit: MassUnit) -> Result<Self, Error> {
        let grams = value.to_exact()? * unit.grams();
        Quantity::Mass.check(&grams)?;
        Ok(Mass(grams))
    }

    /// Grams.
    #[must_use]
    pub fn grams(&self) -> &Exact {
        &self.0
    }

    /// The number of `unit` in it.
    #[must_use]
    pub fn in_unit(&self, unit: MassUnit) -> Exact {
        &self.0 / unit.grams()
    }
}

impl FromStr for Mass {
    type Err = Error;

    /// Reads a number, an optional space and a unit: `60 g`, `1.5kg`, `2 oz`. A bare number is refused.
    fn from_str(text: &str) -> Result<Self, Error> {
        let (number, unit) = number_and_unit(text);
        if unit.is_empty() {
            return Err(Fault::new(FaultKind::Missing, "a mass needs a unit")
                .value(format!("{number:?}"))
                .allowed("g, kg, mg, oz, lb")
                .into());
        }
        // A text that is no number is that before its unit is looked at.
        let number: Exact = number.parse()?;
        Mass::new(number, unit.parse()?)
    }
}

/// What stands before the unit, and the unit; nothing where there is none.
pub(crate) fn number_and_unit(text: &str) -> (&str, &str) {
    let trimmed = text.trim();
    let unit_at = trimmed.find(|c: char| c.is_alphabetic() && !matches!(c, 'e' | 'E')).unwrap_or(trimmed.len());
    trimmed.split_at(unit_at)
}

impl fmt::Display for Mass {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} g", self.0)
    }
}

impl fmt::Debug for Mass {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{self}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// The exact unit definitions (international yard and pound agreement of 1959, from memory).
    #[test]
    fn units_are_exact() {
        assert_eq!("1 lb".parse::<Mass>().unwrap().in_unit(MassUnit::Kilogram), "0.45359237".parse().unwrap());
        assert_eq!("1 oz".parse::<Mass>().unwrap().grams(), &"28.349523125".parse::<Exact>().unwrap());
    }

    #[test]
    fn a_mass_in_a_failing_test_is_shown_in_grams() {
        assert_eq!(format!("{:?}", Mass::new(Exact::from(2), MassUnit::Kilogram).unwrap()), "2000 g");
    }

    #[test]
    fn refuses_bare_numbers_volumes_and_negatives() {
        for bad in ["60", "-1 g", "2 fl oz", "1 stone", "g", "nan g", "1e400 g", ""] {
            assert!(bad.parse::<Mass>().is_err(), "{bad}");
        }
        assert_eq!("1e3 g".parse::<Mass>().unwrap(), "1kg".parse().unwrap());
        for volume in ["2 fl oz", "250 ml", "0.5 L"] {
            let said = volume.parse::<Mass>().unwrap_err().to_string();
            assert!(said.contains("the volume times the density"), "{said}");
        }
        assert!(!"1 stone".parse::<Mass>().unwrap_err().to_string().contains("volume"));
    }
}
