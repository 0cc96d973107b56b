//! Units of volume that recipes use. A volume is no amount of a formula until a density makes a mass of it.

use std::fmt;

use crate::number::Exact;

/// A unit of volume.
///
/// Sources: the metric teaspoon and tablespoon are common kitchen measures (from memory); a US fluid ounce is the 128th
/// part of a US gallon of 231 cubic inches, an inch being 2.54 cm (from memory), so 29.5735295625 mL exactly.
///
/// ```
/// use tenside::formula::VolumeUnit;
/// assert_eq!(VolumeUnit::FluidOunce.millilitres().to_string(), "29.5735295625");
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum VolumeUnit {
    /// Millilitre.
    Millilitre,
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
            VolumeUnit::Litre => Exact::from(1000),
            VolumeUnit::Teaspoon => Exact::from(5),
            VolumeUnit::Tablespoon => Exact::from(15),
            // 231 cubic inches of 16.387064 mL in 128 parts.
            VolumeUnit::FluidOunce => Exact::from(231) * Exact::ratio(16_387_064, 1_000_000) / Exact::from(128),
        }
    }
}

impl fmt::Display for VolumeUnit {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.pad(self.symbol())
    }
}
