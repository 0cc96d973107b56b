//! Volumes in millilitres, exact, and the units people measure and cook in.

use std::fmt;
use std::str::FromStr;

use super::mass::number_and_unit;
use super::{Exact, ToExact};
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};

/// A unit of volume.
///
/// Sources: the metric teaspoon and tablespoon are common kitchen measures (from memory); a US fluid ounce is the 128th
/// part of a US gallon of 231 cubic inches, an inch being 2.54 cm (from memory), so 29.5735295625 mL exactly.
///
/// ```
/// use tenside::number::VolumeUnit;
/// assert_eq!(VolumeUnit::FluidOunce.millilitres().to_string(), "29.5735295625");
/// assert_eq!("Fl. Oz.".parse::<VolumeUnit>()?, VolumeUnit::FluidOunce);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum VolumeUnit {
    /// Millilitre.
    Millilitre,
    /// Centilitre.
    Centilitre,
    /// Litre.
    Litre,
    /// Metric teaspoon.
    Teaspoon,
    /// Metric tablespoon.
    Tablespoon,
    /// US fluid ounce.
    FluidOunce,
}

impl VolumeUnit {
    /// Every unit.
    pub const ALL: &[VolumeUnit] = &[
        VolumeUnit::Millilitre,
        VolumeUnit::Centilitre,
        VolumeUnit::Litre,
        VolumeUnit::Teaspoon,
        VolumeUnit::Tablespoon,
        VolumeUnit::FluidOunce,
    ];

    /// Its symbol.
    #[must_use]
    pub fn symbol(self) -> &'static str {
        match self {
            VolumeUnit::Millilitre => "ml",
            VolumeUnit::Centilitre => "cl",
            VolumeUnit::Litre => "l",
            VolumeUnit::Teaspoon => "tsp",
            VolumeUnit::Tablespoon => "tbsp",
            VolumeUnit::FluidOunce => "fl oz",
        }
    }

    /// Millilitres in one unit, exact.
    #[must_use]
    pub fn millilitres(self) -> Exact {
        match self {
            VolumeUnit::Millilitre => Exact::ONE,
            VolumeUnit::Centilitre => Exact::from(10),
            VolumeUnit::Litre => Exact::from(1000),
            VolumeUnit::Teaspoon => Exact::from(5),
            VolumeUnit::Tablespoon => Exact::from(15),
            // 231 cubic inches of 16.387064 mL in 128 parts.
            VolumeUnit::FluidOunce => Exact::from(231) * Exact::ratio(16_387_064, 1_000_000) / Exact::from(128),
        }
    }

    /// The unit of a symbol or name in lower case, as people write it.
    pub(crate) fn written(text: &str) -> Option<Self> {
        Some(match text.strip_suffix('.').unwrap_or(text) {
            "ml" | "cc" | "millilitre" | "millilitres" | "milliliter" | "milliliters" => VolumeUnit::Millilitre,
            "cl" | "centilitre" | "centilitres" | "centiliter" | "centiliters" => VolumeUnit::Centilitre,
            "l" | "litre" | "litres" | "liter" | "liters" => VolumeUnit::Litre,
            "tsp" | "tsps" | "teaspoon" | "teaspoons" => VolumeUnit::Teaspoon,
            "tbsp" | "tbsps" | "tablespoon" | "tablespoons" => VolumeUnit::Tablespoon,
            "fl oz" | "fl. oz" | "fl.oz" | "floz" | "fluid oz" | "fluid ounce" | "fluid ounces" => {
                VolumeUnit::FluidOunce
            }
            _ => return None,
        })
    }
}

/// The symbols, for messages.
const UNITS: &str = "ml, cl, l, tsp, tbsp, fl oz";

impl FromStr for VolumeUnit {
    type Err = Error;

    /// Reads a symbol or a name as people write it: `ml`, `mL`, `litres`, `fl. oz.`, `fluid ounces`.
    fn from_str(text: &str) -> Result<Self, Error> {
        let trimmed = text.trim();
        VolumeUnit::written(&trimmed.to_lowercase()).ok_or_else(|| {
            let fault = Fault::new(FaultKind::UnknownName, "unknown unit of volume");
            fault.value(format!("{trimmed:?}")).allowed(UNITS).into()
        })
    }
}

impl fmt::Display for VolumeUnit {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.pad(self.symbol())
    }
}

/// A volume, exact, never negative.
///
/// ```
/// use tenside::number::{Exact, Volume, VolumeUnit};
/// let net: Volume = "25 cl".parse()?;
/// assert_eq!(net.millilitres(), &Exact::from(250));
/// assert_eq!("1 l".parse::<Volume>()?.in_unit(VolumeUnit::FluidOunce).floor_text(2), "33.81");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Volume(Exact);

impl Volume {
    /// A volume of `value` units.
    ///
    /// # Errors
    /// What is no number, negative volumes and more than a hundred cubic metres.
    pub fn new(value: impl ToExact, unit: VolumeUnit) -> Result<Self, Error> {
        let millilitres = value.to_exact()? * unit.millilitres();
        Quantity::Volume.check(&millilitres)?;
        Ok(Volume(millilitres))
    }

    /// Millilitres.
    #[must_use]
    pub fn millilitres(&self) -> &Exact {
        &self.0
    }

    /// The number of `unit` in it.
    #[must_use]
    pub fn in_unit(&self, unit: VolumeUnit) -> Exact {
        &self.0 / unit.millilitres()
    }
}

impl FromStr for Volume {
    type Err = Error;

    /// Reads a number, an optional space and a unit: `250 ml`, `1.5l`, `8 fl oz`. A bare number is refused.
    fn from_str(text: &str) -> Result<Self, Error> {
        let (number, unit) = number_and_unit(text);
        if unit.is_empty() {
            return Err(Fault::new(FaultKind::Missing, "a volume needs a unit")
                .value(format!("{number:?}"))
                .allowed(UNITS)
                .into());
        }
        // A text that is no number is that before its unit is looked at.
        let number: Exact = number.parse()?;
        Volume::new(number, unit.parse()?)
    }
}

impl fmt::Display for Volume {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{} ml", self.0)
    }
}

impl fmt::Debug for Volume {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{self}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_symbol_is_read_and_named_in_messages() {
        for unit in VolumeUnit::ALL {
            assert_eq!(unit.symbol().parse::<VolumeUnit>().unwrap(), *unit);
        }
        let symbols: Vec<&str> = VolumeUnit::ALL.iter().map(|unit| unit.symbol()).collect();
        assert_eq!(symbols.join(", "), UNITS);
    }

    #[test]
    fn volumes_are_read_as_people_write_them() {
        for (text, millilitres) in [
            ("250 ml", "250"),
            ("250mL", "250"),
            ("250\u{a0}ML", "250"),
            ("2.5e2 ml.", "250"),
            ("25 cl", "250"),
            ("0.25 l", "250"),
            ("1 L", "1000"),
            ("2 Litres", "2000"),
            ("8 fl oz", "236.5882365"),
            ("8 Fl. Oz.", "236.5882365"),
            ("8 fluid ounces", "236.5882365"),
        ] {
            let volume: Volume = text.parse().unwrap();
            assert_eq!(volume.millilitres(), &millilitres.parse::<Exact>().unwrap(), "{text}");
            assert_eq!(volume.to_string().parse::<Volume>().unwrap(), volume);
        }
        assert_eq!(format!("{:?}", "1 l".parse::<Volume>().unwrap()), "1000 ml");
    }

    #[test]
    fn refuses_bare_numbers_masses_and_negatives() {
        for bad in ["250", "", " "] {
            assert!(bad.parse::<Volume>().unwrap_err().is_missing(), "{bad:?}");
        }
        for bad in ["250 g", "8 oz", "1 imp fl oz", "1 gill"] {
            assert!(bad.parse::<Volume>().unwrap_err().is_unknown_name(), "{bad}");
        }
        assert!("ml".parse::<Volume>().unwrap_err().is_not_a_number());
        assert!("nan ml".parse::<Volume>().unwrap_err().is_not_a_number());
        let beyond = ["-1 ml", "100000.1 l"].map(|text| text.parse::<Volume>().unwrap_err());
        assert!(beyond.iter().all(Error::is_out_of_range) && beyond[1].to_string().contains("volume"), "{beyond:?}");
    }
}
