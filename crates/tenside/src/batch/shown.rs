//! Masses as they are printed: in the unit and with the decimals of the scale they are weighed on.

use crate::number::{Exact, Mass, MassUnit};

/// No scale shows more decimals.
const MOST_PLACES: u32 = 6;
/// More decimals than a person wants to read in a sentence.
const PLACES_THAT_READ_WELL: u32 = 4;

/// From so much on, another unit than the preferred one reads no better.
const LARGEST_THAT_READS_WELL: i32 = 10_000;

/// A unit and a number of decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Shown {
    pub(super) unit: MassUnit,
    pub(super) places: u32,
}

/// The decimals that `mass` has in `unit`, if it can be written with few.
fn places(mass: &Mass, unit: MassUnit) -> Option<u32> {
    let text = mass.in_unit(unit).decimal_text()?;
    let places = text.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    u32::try_from(places).ok().filter(|places| *places <= MOST_PLACES)
}

/// The unit preferred, then those of which people own scales, the commonest first.
fn units(preferred: MassUnit) -> [MassUnit; 6] {
    [preferred, MassUnit::Gram, MassUnit::Ounce, MassUnit::Milligram, MassUnit::Kilogram, MassUnit::Pound]
}

impl Shown {
    /// How masses of whole divisions are written exactly: in the preferred unit where that can be, else in the first
    /// that can. A scale that reads ounces is not read in grams.
    pub(super) fn of(division: &Mass, preferred: MassUnit) -> Option<Self> {
        units(preferred).into_iter().find_map(|unit| Some(Shown { unit, places: places(division, unit)? }))
    }

    /// With so many more decimals, for masses that are calculated and not weighed.
    pub(super) fn finer(self, more: u32) -> Self {
        Shown { places: self.places + more, ..self }
    }

    /// The number without its unit.
    pub(super) fn number(self, mass: &Mass) -> String {
        self.number_of_grams(mass.grams())
    }

    /// The number for a sum in grams.
    pub(super) fn number_of_grams(self, grams: &Exact) -> String {
        (grams / self.unit.grams()).rounded_text(self.places)
    }

    /// Number and unit; `about` where the decimals do not say it all.
    pub(super) fn text(self, mass: &Mass) -> String {
        let about = if places(mass, self.unit).is_some_and(|places| places <= self.places) { "" } else { "about " };
        format!("{about}{} {}", self.number(mass), self.unit.symbol())
    }
}

/// A mass with as few decimals as say it exactly, in the unit preferred or the first in which it reads well: 2 oz are
/// not 56.69904625 g. What reads well in none, as grams weighed on two scales of which one counts ounces, is rounded.
pub(super) fn brief(mass: &Mass, preferred: MassUnit) -> String {
    let reads_well = |unit| {
        let is_short = unit == preferred || mass.in_unit(unit) < Exact::from(LARGEST_THAT_READS_WELL);
        let places = places(mass, unit).filter(|places| *places <= PLACES_THAT_READ_WELL && is_short);
        places.map(|places| Shown { unit, places })
    };
    let rounded = Shown { unit: preferred, places: 2 };
    let exactly = || if mass.in_unit(preferred) < Exact::ONE { Shown::of(mass, preferred) } else { None };
    units(preferred).into_iter().find_map(reads_well).or_else(exactly).unwrap_or(rounded).text(mass)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scale_in_ounces_is_read_in_ounces() {
        let ounces: Mass = "0.05 oz".parse().unwrap();
        assert_eq!(Shown::of(&ounces, MassUnit::Gram), Some(Shown { unit: MassUnit::Ounce, places: 2 }));
        assert_eq!(Shown::of(&ounces, MassUnit::Pound), Some(Shown { unit: MassUnit::Pound, places: 6 }));
        let grams: Mass = "0.1 g".parse().unwrap();
        assert_eq!(Shown::of(&grams, MassUnit::Kilogram), Some(Shown { unit: MassUnit::Kilogram, places: 4 }));
        assert_eq!(Shown::of(&grams, MassUnit::Ounce), Some(Shown { unit: MassUnit::Gram, places: 1 }));
        assert_eq!(
            Shown::of(&Mass::new(crate::number::Exact::ratio(1, 3), MassUnit::Gram).unwrap(), MassUnit::Gram),
            None
        );
    }

    #[test]
    fn about_says_that_decimals_are_missing() {
        let shown = Shown { unit: MassUnit::Gram, places: 1 };
        assert_eq!(shown.text(&"12 g".parse().unwrap()), "12.0 g");
        assert_eq!(shown.text(&"12.04 g".parse().unwrap()), "about 12.0 g");
        assert_eq!(brief(&"1 oz".parse().unwrap(), MassUnit::Gram), "1 oz");
        let mixed = &"199.106661875 g".parse().unwrap();
        assert_eq!(
            (brief(mixed, MassUnit::Gram), brief(mixed, MassUnit::Ounce)),
            ("about 199.11 g".into(), "about 7.02 oz".into())
        );
        assert_eq!(brief(&"0.00000567 g".parse().unwrap(), MassUnit::Gram), "0.00567 mg");
    }
}
