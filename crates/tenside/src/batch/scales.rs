//! What the bench can weigh.

use indexmap::IndexMap;
use rust_decimal::Decimal;

use super::shown::Shown;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, MassUnit, ToExact};

/// The rounding error of a line, in percent of itself, that is accepted unless one is chosen (common practice, no
/// source).
const USUAL_TOLERANCE: Decimal = Decimal::ONE;

/// The scales of a batch: one for everything or one a phase, each with its readability; the unit of the sheet; and how
/// large the rounding error of a line may be.
///
/// ```
/// use tenside::batch::Scales;
/// use tenside::number::MassUnit;
/// let scales = Scales::new("1 g".parse()?)?.for_phase("cool-down", "0.01 g".parse()?)?.shown_in(MassUnit::Kilogram);
/// assert_eq!(scales.division("cool-down"), &"0.01 g".parse()?);
/// assert_eq!(scales.division("powder"), &"1 g".parse()?);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Scales {
    division: Mass,
    phases: IndexMap<String, Mass>,
    unit: MassUnit,
    tolerance: Decimal,
}

getters!(Scales {
    /// The unit of the sheet.
    unit: MassUnit,
    /// The accepted rounding error in percent of a line.
    tolerance: Decimal,
});

impl Scales {
    /// One scale for the whole batch, given by its division.
    ///
    /// # Errors
    /// A division out of range, or one that no unit writes with six decimals.
    pub fn new(division: Mass) -> Result<Self, Error> {
        Ok(Scales {
            division: checked(division)?,
            phases: IndexMap::new(),
            unit: MassUnit::Gram,
            tolerance: USUAL_TOLERANCE,
        })
    }

    /// With another scale for one phase.
    ///
    /// # Errors
    /// What [`Scales::new`] refuses, and a second scale for the same phase.
    pub fn for_phase(mut self, phase: &str, division: Mass) -> Result<Self, Error> {
        let place = format!("phase {phase:?}");
        let division = checked(division).map_err(|error| error.within(&place))?;
        if self.phases.insert(phase.to_string(), division).is_some() {
            return Err(Fault::new(FaultKind::Duplicate, "a phase has two scales")
                .at(place)
                .remedy("name the one it is weighed on")
                .into());
        }
        Ok(self)
    }

    /// With the unit of the sheet. A phase whose scale cannot be written in it keeps the unit of its scale; where none
    /// can, there is no batch in that unit. Without a unit it is grams, or that of the scales.
    #[must_use]
    pub fn shown_in(mut self, unit: MassUnit) -> Self {
        self.unit = unit;
        self
    }

    /// With the largest rounding error of a line, in percent of itself, that is accepted without a note.
    ///
    /// # Errors
    /// A tolerance out of range.
    pub fn tolerating(mut self, percent: impl ToExact) -> Result<Self, Error> {
        self.tolerance = Quantity::RoundingTolerance.decimal(percent)?;
        Ok(self)
    }

    /// The division of the scale a phase is weighed on.
    #[must_use]
    pub fn division(&self, phase: &str) -> &Mass {
        self.phases.get(phase).unwrap_or(&self.division)
    }

    /// The phases that have a scale of their own.
    pub fn phases(&self) -> impl Iterator<Item = &str> {
        self.phases.keys().map(String::as_str)
    }

    /// The accepted rounding error as a share, 0 to 1.
    pub(super) fn tolerated_share(&self) -> Exact {
        Exact::from(self.tolerance) / Exact::hundred()
    }

    /// Refuses a unit that was asked for and in which the divisions of no scale can be written: 0.1 g are no ounces.
    pub(super) fn check_unit<'a>(&self, mut used: impl Iterator<Item = &'a Mass>) -> Result<(), Error> {
        if self.unit == MassUnit::Gram || used.any(|division| self.shown(division).unit == self.unit) {
            return Ok(());
        }
        let unit = self.unit.symbol();
        Err(Fault::new(FaultKind::Unsupported, "no scale of the batch can be written in the unit of the sheet")
            .at("unit")
            .value(unit)
            .remedy(format!(
                "a sheet shows whole divisions: give the scale's division in {unit}, or leave the unit out; sizes may \
                 be in any unit"
            ))
            .into())
    }

    /// How masses on this scale are written.
    pub(super) fn shown(&self, division: &Mass) -> Shown {
        Shown::of(division, self.unit).unwrap_or(Shown { unit: MassUnit::Gram, places: 2 })
    }
}

fn checked(division: Mass) -> Result<Mass, Error> {
    Quantity::Readability.check(&division.in_unit(MassUnit::Milligram))?;
    if Shown::of(&division, MassUnit::Gram).is_none() {
        let fault = Fault::new(FaultKind::OutOfRange, "a scale division has too many decimals").value(&division);
        return Err(fault
            .allowed("at most six decimals in g, kg, mg, oz or lb")
            .remedy("give what the display of the scale counts in")
            .into());
    }
    Ok(division)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_no_scale_counts_in() {
        assert!(Scales::new("0 g".parse().unwrap()).unwrap_err().is_out_of_range());
        assert!(Scales::new("101 kg".parse().unwrap()).unwrap_err().is_out_of_range());
        assert!(Scales::new(Mass::new(Exact::ratio(1, 3), MassUnit::Gram).unwrap()).unwrap_err().is_out_of_range());
        let scales = Scales::new("0.1 g".parse().unwrap()).unwrap().for_phase("oil", "1 g".parse().unwrap()).unwrap();
        assert!(scales.clone().for_phase("oil", "2 g".parse().unwrap()).unwrap_err().is_duplicate());
        for bad in ["0", "0.09", "5.1"] {
            assert!(scales.clone().tolerating(bad).unwrap_err().is_out_of_range(), "{bad}");
        }
    }
}
