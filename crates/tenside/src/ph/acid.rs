//! An acid or base: the forms it has in water, one proton apart.
//!
//! `pKa(T) = pKa(25 °C) + H / (R ln 10) (1/T - 1/298.15 K)` for each step, with the ionisation enthalpy `H` taken as
//! constant (van 't Hoff). pKa values are thermodynamic ones, at no ionic strength.

use crate::bounds::Quantity;
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};

/// The most protons that one acid gives up.
pub const MOST_STEPS: usize = 6;
/// Gas constant in J/(mol K), exact since the definition of 2019 up to its eleventh digit (CODATA, from memory).
const GAS_CONSTANT: f64 = 8.314_462_618;
/// 25 °C in kelvin.
const STANDARD_TEMPERATURE: f64 = 298.15;

/// A weak acid or base with its constants. A base is named by its protonated form, whose charge is above 0.
///
/// ```
/// use tenside::ph::Acid;
/// let citric = Acid::named("citric acid")?;
/// assert_eq!(citric.pka(), [3.128, 4.761, 6.396]);
/// let own = Acid::new("buffer of mine, protonated", 1, &[7.2])?;
/// assert_eq!(own.charges().collect::<Vec<_>>(), [1, 0]);
/// assert!(Acid::new("out of order", 0, &[4.8, 3.1]).unwrap_err().is_contradiction());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Acid {
    name: String,
    charge: i32,
    pka: Vec<f64>,
    enthalpies: Vec<f64>,
    parent: Option<String>,
    pairing: Option<f64>,
    preservative: bool,
    note: Option<String>,
    source: String,
}

/// What the embedded table knows beyond the constants.
pub(super) struct Facts {
    /// INCI name of the substance whose constants these are.
    pub(super) parent: Option<String>,
    pub(super) pairing: Option<f64>,
    pub(super) preservative: bool,
    pub(super) note: Option<String>,
    pub(super) source: String,
}

getters!(Acid {
    /// Its name.
    name: &str,
    /// The constants at 25 °C, from the fully protonated form on.
    pka: &[f64],
    /// The ionisation enthalpies in kJ/mol; none where they are not known.
    enthalpies: &[f64],
    /// The decimal logarithm of the constant with which its fully ionised form pairs with sodium, where that is known.
    pairing: Option<f64>,
    /// Where charge, enthalpies and the rest come from; the substance table says where the constants do.
    source: &str,
});

impl Acid {
    /// An acid of one's own: the charge of its form with every proton on, and its pKa values from that form on, at 25
    /// °C and no ionic strength.
    ///
    /// # Errors
    /// A bad name, no constant or more than six, constants out of range or out of order, and charges out of range.
    pub fn new(name: &str, charge: i32, pka: &[f64]) -> Result<Self, Error> {
        let name = check_name(name)?;
        let within = |error: Error| error.within(&format!("acid {name:?}"));
        if pka.is_empty() || pka.len() > MOST_STEPS {
            let fault = Fault::new(FaultKind::OutOfRange, "the number of pKa values of an acid is out of range")
                .value(pka.len());
            return Err(within(fault.allowed(format!("1 to {MOST_STEPS}")).into()));
        }
        for value in pka {
            Quantity::SolutionPka.checked_float(*value).map_err(within)?;
        }
        if let Some(pair) = pka.windows(2).find(|pair| pair[0] > pair[1]) {
            let fault = Fault::new(FaultKind::Contradiction, "pKa values are out of order")
                .value(format!("{} before {}", pair[0], pair[1]));
            return Err(within(
                fault
                    .allowed("from the fully protonated form on, rising")
                    .remedy("sort them; the strongest acid comes first")
                    .into(),
            ));
        }
        let last = charge.saturating_sub(i32::try_from(pka.len()).unwrap_or(i32::MAX));
        for charge in [charge, last] {
            Quantity::AcidCharge.checked_float(f64::from(charge)).map_err(within)?;
        }
        let source = "stated by the user".to_string();
        Ok(Acid {
            name,
            charge,
            pka: pka.to_vec(),
            enthalpies: Vec::new(),
            parent: None,
            pairing: None,
            preservative: false,
            note: None,
            source,
        })
    }

    /// With the ionisation enthalpy of each step in kJ/mol, so that the constants follow the temperature.
    ///
    /// # Errors
    /// Another number of enthalpies than of constants, and values out of range.
    pub fn with_enthalpies(mut self, kilojoules_per_mole: &[f64]) -> Result<Self, Error> {
        let place = format!("acid {:?}", self.name);
        if kilojoules_per_mole.len() != self.pka.len() {
            let fault = Fault::new(
                FaultKind::Contradiction,
                "an acid has as many ionisation enthalpies as pKa values, or none",
            );
            return Err(fault.at(place).value(kilojoules_per_mole.len()).allowed(self.pka.len().to_string()).into());
        }
        for value in kilojoules_per_mole {
            Quantity::IonisationEnthalpy.checked_float(*value).map_err(|error| error.within(&place))?;
        }
        self.enthalpies = kilojoules_per_mole.to_vec();
        Ok(self)
    }

    pub(super) fn with_facts(self, facts: Facts) -> Self {
        let Facts { parent, pairing, preservative, note, source } = facts;
        Acid { parent, pairing, preservative, note, source, ..self }
    }

    /// The charges of its forms, from the fully protonated one on.
    pub fn charges(&self) -> impl Iterator<Item = i32> {
        let steps = i32::try_from(self.pka.len()).unwrap_or(0);
        (0..=steps).map(|step| self.charge - step)
    }

    /// True if it is used as a preservative whose undissociated form acts.
    #[must_use]
    pub fn is_preservative(&self) -> bool {
        self.preservative
    }

    /// What else to know of its pH.
    #[must_use]
    pub fn note(&self) -> Option<&str> {
        self.note.as_deref()
    }

    /// INCI name of the substance in the embedded table whose constants these are.
    #[must_use]
    pub fn parent(&self) -> Option<&str> {
        self.parent.as_deref()
    }

    /// The constants at a temperature in °C; those of 25 °C where no enthalpies are known.
    pub(super) fn pka_at(&self, celsius: f64) -> impl Iterator<Item = f64> {
        let inverse = 1.0 / (celsius + 273.15) - 1.0 / STANDARD_TEMPERATURE;
        let slope = 1000.0 / (GAS_CONSTANT * std::f64::consts::LN_10) * inverse;
        self.pka
            .iter()
            .enumerate()
            .map(move |(step, pka)| pka + self.enthalpies.get(step).map_or(0.0, |enthalpy| enthalpy * slope))
    }

    pub(super) fn top_charge(&self) -> i32 {
        self.charge
    }

    /// The share, 0 to 1, of the form with every proton on at a pH, without regard to ionic strength:
    /// `1 / (1 + 10^(pH - pKa1) + 10^(2 pH - pKa1 - pKa2) + ...)`, at 25 °C (Henderson and Hasselbalch).
    ///
    /// ```
    /// use tenside::ph::Acid;
    /// assert!((Acid::named("sorbic acid")?.undissociated(5.0)? - 0.3653).abs() < 0.00005);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A pH out of range.
    pub fn undissociated(&self, ph: f64) -> Result<f64, Error> {
        let ph = Quantity::Ph.checked_float(ph)?;
        let mut exponent = 0.0;
        let mut sum = 1.0;
        for pka in &self.pka {
            exponent += ph - pka;
            sum += 10f64.powf(exponent);
        }
        Ok(1.0 / sum)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_no_acid_is_refused() {
        assert!(Acid::new("", 0, &[4.0]).unwrap_err().is_out_of_range());
        assert!(Acid::new("none", 0, &[]).unwrap_err().is_out_of_range());
        assert!(Acid::new("many", 0, &[1.0; 7]).unwrap_err().is_out_of_range());
        assert!(Acid::new("nothing", 0, &[f64::NAN]).unwrap_err().is_not_a_number());
        assert!(Acid::new("far", 0, &[61.0]).unwrap_err().is_out_of_range());
        assert!(Acid::new("charged", -5, &[1.0, 2.0]).unwrap_err().is_out_of_range());
        assert!(Acid::new("charged", i32::MIN, &[1.0]).unwrap_err().is_out_of_range());
        let error = Acid::new("disorder", 0, &[3.0, 2.9]).unwrap_err();
        assert!(error.to_string().contains("3 before 2.9"), "{error}");
        let good = Acid::new("good", 0, &[3.0, 3.0]).unwrap();
        assert!(good.clone().with_enthalpies(&[1.0]).unwrap_err().is_contradiction());
        assert!(good.with_enthalpies(&[1.0, 900.0]).unwrap_err().is_out_of_range());
    }

    #[test]
    fn constants_follow_the_enthalpy() {
        let ammonium = Acid::named("ammonium").unwrap();
        let at = |celsius: f64| ammonium.pka_at(celsius).next().unwrap();
        assert_eq!(at(25.0), 9.244);
        // 52 kJ/mol: -0.031 a degree about 25 °C.
        assert!((at(26.0) - at(25.0) + 0.0305).abs() < 0.001, "{}", at(26.0));
    }
}
