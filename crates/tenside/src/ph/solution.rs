//! A watery solution by its analytical totals.

use std::sync::Arc;

use super::acid::MOST_STEPS;
use super::balance::{Balance, Protolyte};
use super::{Acid, Caveat, Ion, Water};
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};

/// Acids, bases and strong ions in water, by their totals in mol per kg of water, whatever form they are in. Hydrogen
/// and hydroxide ions are not stated: they follow from the balance of charges. Immutable; each call gives a new
/// solution.
///
/// The arithmetic is exact to better than 0.000001 of a pH, the model to 0.015 of the primary buffers at 25 °C; solids
/// that fall out, gases that leave and pairs of ions are not in it.
///
/// ```
/// use tenside::ph::Solution;
/// // 0.05 mol of citric acid and 0.02 mol of its sodium salt in a kilogram of water.
/// let buffer = Solution::at(25.0)?.acid("citric acid", 0.07)?.ion("Na", 0.06)?;
/// let state = buffer.solve()?;
/// assert!((state.ph() - 3.54).abs() < 0.01, "{}", state.ph());
/// assert!(buffer.diluted(9.0)?.ph()? > state.ph());
/// assert!(Solution::at(25.0)?.acid("citric acid", 10.0).unwrap_err().is_out_of_range());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Solution {
    water: Water,
    acids: Vec<(Arc<Acid>, f64)>,
    ions: Vec<(Ion, f64)>,
    inert: f64,
    notes: Vec<Caveat>,
}

getters!(Solution {
    /// Its water.
    water: Water,
    /// Its acids and bases with their totals in mol per kg of water.
    acids: &[(Arc<Acid>, f64)],
    /// Its strong ions with their totals in mol per kg of water.
    ions: &[(Ion, f64)],
    /// What is dissolved without charge, mol per kg of water.
    inert: f64,
});

impl Solution {
    /// Pure water at a temperature in °C.
    ///
    /// # Errors
    /// A temperature outside 15 to 40 °C.
    pub fn at(temperature: f64) -> Result<Self, Error> {
        Ok(Solution::in_water(Water::at(temperature)?))
    }

    /// Pure water with these constants.
    #[must_use]
    pub fn in_water(water: Water) -> Self {
        Solution { water, acids: Vec::new(), ions: Vec::new(), inert: 0.0, notes: Vec::new() }
    }

    /// With so much more of an acid or base of the embedded table, in mol per kg of water and in all its forms.
    ///
    /// # Errors
    /// An unknown name, and a concentration that is no number, negative or too high.
    pub fn acid(self, name: &str, molality: f64) -> Result<Self, Error> {
        self.with_acid(&Acid::named(name)?, molality)
    }

    /// With so much more of an acid or base of one's own.
    ///
    /// # Errors
    /// A concentration that is no number, negative or too high, and another acid of the same name.
    pub fn with_acid(mut self, acid: &Arc<Acid>, molality: f64) -> Result<Self, Error> {
        let place = || format!("acid {:?}", acid.name());
        let known = self.acids.iter_mut().find(|(known, _)| known.name() == acid.name());
        let total = match known {
            Some((known, _)) if known != acid => {
                return Err(Fault::new(FaultKind::Duplicate, "two acids of the same name have different constants")
                    .at(place())
                    .into());
            }
            Some((_, total)) => total,
            None => {
                self.acids.push((Arc::clone(acid), 0.0));
                &mut self.acids.last_mut().ok_or_else(|| Fault::new(FaultKind::Missing, "no acid"))?.1
            }
        };
        *total = added(*total, molality).map_err(|error| error.within(&place()))?;
        self.checked()
    }

    /// With so much more of a strong ion of the embedded table, by its symbol or name.
    ///
    /// # Errors
    /// An unknown name, and a concentration that is no number, negative or too high.
    pub fn ion(self, name: &str, molality: f64) -> Result<Self, Error> {
        self.with_ion(&Ion::named(name)?, molality)
    }

    /// With so much more of a strong ion of one's own.
    ///
    /// # Errors
    /// A concentration that is no number, negative or too high, and another ion of the same name.
    pub fn with_ion(mut self, ion: &Ion, molality: f64) -> Result<Self, Error> {
        let place = || format!("ion {:?}", ion.symbol());
        match self.ions.iter_mut().find(|(known, _)| known.symbol() == ion.symbol()) {
            Some((known, _)) if known != ion => {
                return Err(Fault::new(FaultKind::Duplicate, "two ions of the same name have different charges")
                    .at(place())
                    .into());
            }
            Some((_, total)) => *total = added(*total, molality).map_err(|error| error.within(&place()))?,
            None => self.ions.push((ion.clone(), added(0.0, molality).map_err(|error| error.within(&place()))?)),
        }
        self.checked()
    }

    /// With so much more of what dissolves without charge: sugars, glycerin.
    ///
    /// # Errors
    /// A concentration that is no number, negative or too high.
    pub fn with_inert(mut self, molality: f64) -> Result<Self, Error> {
        self.inert = added(self.inert, molality).map_err(|error| error.within("what has no charge"))?;
        self.checked()
    }

    /// With what is left out of account of another solution, such as the one it was made from.
    #[must_use]
    pub fn with_caveats_of(mut self, other: &Solution) -> Self {
        self.notes.clone_from(&other.notes);
        self
    }

    pub(super) fn with_notes(mut self, notes: Vec<Caveat>) -> Self {
        self.notes = notes;
        self
    }

    /// With `water` more kilograms of water to each kilogram of it.
    ///
    /// # Errors
    /// A negative mass, or one that is no number.
    pub fn diluted(mut self, water: f64) -> Result<Self, Error> {
        if !water.is_finite() || water < 0.0 {
            let fault = Fault::new(FaultKind::OutOfRange, "the water of a dilution is out of range").value(water);
            return Err(fault.allowed("0 or more kg to each kg of water").into());
        }
        let share = 1.0 / (1.0 + water);
        let totals = self.acids.iter_mut().map(|(_, total)| total).chain(self.ions.iter_mut().map(|(_, total)| total));
        totals.chain([&mut self.inert]).for_each(|total| *total *= share);
        Ok(self)
    }

    fn checked(self) -> Result<Self, Error> {
        Quantity::MolalitySum.checked_float(self.dissolved())?;
        Ok(self)
    }

    fn dissolved(&self) -> f64 {
        self.acids.iter().map(|(_, total)| total).chain(self.ions.iter().map(|(_, total)| total)).sum::<f64>()
            + self.inert
    }

    /// What is known to be left out of account before anything is calculated.
    pub(super) fn notes(&self) -> &[Caveat] {
        &self.notes
    }

    pub(super) fn balance(&self) -> Balance {
        let ionic = |(ion, total): &(Ion, f64)| f64::from(ion.charge()).powi(2) * total;
        Balance {
            davies: self.water.davies(),
            kw: (-std::f64::consts::LN_10 * self.water.pkw()).exp(),
            strong: self.ions.iter().map(|(ion, total)| f64::from(ion.charge()) * total).sum(),
            strong_ionic: 0.5 * self.ions.iter().map(ionic).sum::<f64>(),
            dissolved: self.dissolved(),
            protolytes: self
                .acids
                .iter()
                .map(|(acid, total)| protolyte(acid, *total, self.water.temperature()))
                .collect(),
        }
    }
}

fn added(total: f64, more: f64) -> Result<f64, Error> {
    Quantity::Molality.checked_float(more)?;
    Quantity::Molality.checked_float(total + more)
}

fn protolyte(acid: &Acid, total: f64, temperature: f64) -> Protolyte {
    let mut products = [0.0; MOST_STEPS + 1];
    products[0] = 1.0;
    let mut exponent = 0.0;
    for (product, pka) in products[1..].iter_mut().zip(acid.pka_at(temperature)) {
        exponent -= pka;
        *product = (std::f64::consts::LN_10 * exponent).exp();
    }
    Protolyte { total, top: acid.top_charge(), steps: acid.pka().len(), products }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn water() -> Solution {
        Solution::at(25.0).unwrap()
    }

    #[test]
    fn pure_water_has_half_its_ion_product() {
        assert!((water().ph().unwrap() - 13.994 / 2.0).abs() < 1e-6);
    }

    #[test]
    fn bad_totals_are_refused() {
        for bad in [-1e-9, 3.1, 10.0] {
            assert!(water().acid("acetic acid", bad).unwrap_err().is_out_of_range(), "{bad}");
            assert!(water().ion("Na", bad).unwrap_err().is_out_of_range(), "{bad}");
            assert!(water().with_inert(bad).unwrap_err().is_out_of_range(), "{bad}");
        }
        assert!(water().acid("acetic acid", f64::NAN).unwrap_err().is_not_a_number());
        assert!(water().acid("acetic acid", 2.0).unwrap().acid("acetic acid", 2.0).unwrap_err().is_out_of_range());
        let much =
            ["acetic acid", "lactic acid"].iter().fold(water(), |solution, name| solution.acid(name, 3.0).unwrap());
        assert!(much.ion("Na", 0.1).unwrap_err().to_string().contains("sum of the concentrations"));
        assert!(water().acid("acetik acid", 0.1).unwrap_err().is_unknown_name());
        assert!(water().diluted(-0.1).unwrap_err().is_out_of_range());
        assert!(water().diluted(f64::INFINITY).unwrap_err().is_out_of_range());
    }

    #[test]
    fn what_cannot_be_neutral_is_refused() {
        let error = water().ion("Na", 3.0).unwrap().ph().unwrap_err();
        assert!(error.is_contradiction() && error.to_string().contains("+3.0000 mol/kg"), "{error}");
        assert!(water().ion("Cl", 3.0).unwrap().solve().unwrap_err().is_contradiction());
        assert!(water().ion("Na", 3.0).unwrap().ion("Cl", 3.0).unwrap().ph().is_ok());
    }

    #[test]
    fn names_mean_one_thing() {
        let own = Arc::new(Acid::new("acetic acid", 0, &[5.0]).unwrap());
        assert!(water().acid("acetic acid", 0.1).unwrap().with_acid(&own, 0.1).unwrap_err().has(FaultKind::Duplicate));
        assert!(
            water()
                .ion("Na", 0.1)
                .unwrap()
                .with_ion(&Ion::new("Na", 2).unwrap(), 0.1)
                .unwrap_err()
                .has(FaultKind::Duplicate)
        );
        let twice = water().acid("acetic acid", 0.1).unwrap().acid("acetic acid", 0.1).unwrap();
        assert_eq!(twice.acids().len(), 1);
        assert_eq!(twice.ph().unwrap(), water().acid("acetic acid", 0.2).unwrap().ph().unwrap());
    }
}
