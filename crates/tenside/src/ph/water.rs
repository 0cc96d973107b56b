//! What water does at a temperature: its ion product and the constant of the Davies equation.
//!
//! `log10 gamma = -A z^2 (sqrt(I) / (1 + sqrt(I)) - 0.3 I)`, with the ionic strength `I` in mol/kg (C. W. Davies, Ion
//! Association, 1962, from memory). Both constants are tabulated every five degrees in `data/ph/water.toml` and
//! interpolated through the four nearest rows.

use crate::bounds::Quantity;
use crate::error::Error;

/// The linear term of the Davies equation (C. W. Davies, 1962, from memory).
pub(super) const LINEAR: f64 = 0.3;

/// Water at a temperature.
///
/// ```
/// use tenside::ph::Water;
/// let water = Water::at(25.0)?;
/// assert!((water.pkw() - 13.994).abs() < 1e-9 && (water.davies() - 0.51).abs() < 1e-4);
/// assert!(Water::at(90.0).unwrap_err().is_out_of_range());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Water {
    pub(super) temperature: f64,
    pub(super) pkw: f64,
    pub(super) davies: f64,
}

getters!(Water {
    /// Its temperature in °C.
    temperature: f64,
    /// The negative decimal logarithm of its ion product, molal.
    pkw: f64,
    /// The constant A of the Davies equation, (kg/mol)^(1/2).
    davies: f64,
});

impl Water {
    /// With another ion product, so that a calculation elsewhere can be repeated with its own constants.
    ///
    /// # Errors
    /// A value out of range.
    pub fn with_pkw(mut self, pkw: f64) -> Result<Self, Error> {
        self.pkw = Quantity::Pkw.checked_float(pkw)?;
        Ok(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ph::table::Table;

    #[test]
    fn a_tabulated_temperature_gives_its_row() {
        for row in Table::starter().water().iter().filter(|row| (15.0..=40.0).contains(&row.temperature)) {
            let water = Water::at(row.temperature).unwrap();
            assert!((water.pkw() - row.pkw).abs() < 1e-12 && (water.davies() - row.davies).abs() < 1e-12);
        }
    }

    /// The ion product at temperatures that the table leaves out, computed with the same formulation (IAPWS R11-07,
    /// library iapws).
    #[test]
    fn between_rows_it_follows_the_formulation() {
        for (temperature, pkw) in [(18.0, 14.235), (22.0, 14.095), (37.0, 13.621)] {
            assert!((Water::at(temperature).unwrap().pkw() - pkw).abs() < 0.001, "{temperature}");
        }
    }

    #[test]
    fn temperatures_outside_are_refused() {
        for bad in [-5.0, 14.9, 40.1, 90.0] {
            let error = Water::at(bad).unwrap_err();
            assert_eq!(error.faults()[0].allowed.as_deref(), Some("15 to 40 °C"), "{bad}");
        }
        assert!(Water::at(f64::NAN).unwrap_err().is_not_a_number());
        assert!(Water::at(25.0).unwrap().with_pkw(10.0).unwrap_err().is_out_of_range());
    }
}
