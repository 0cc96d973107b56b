//! A measured reading with the way it was got. Where a reading exists it rules over any reckoning.

use rust_decimal::Decimal;

use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Date;

/// A dilution by mass: `1+9` is one part of product and nine of water. `1+9` and `1+10` are not the same "10 %".
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Dilution {
    /// Parts of product.
    pub product: Decimal,
    /// Parts of water.
    pub water: Decimal,
}

impl std::str::FromStr for Dilution {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        let refuse = || -> Error {
            let allowed = "parts of product + parts of water, such as \"1+9\"";
            Fault::new(FaultKind::OutOfRange, "not a dilution by mass").value(format!("{text:?}")).allowed(allowed).into()
        };
        let (product, water) = text.split_once('+').ok_or_else(refuse)?;
        let part = |text: &str| crate::number::parse_decimal(text.trim()).filter(|part| *part >= Decimal::ZERO).ok_or_else(refuse);
        let (product, water) = (part(product)?, part(water)?);
        if product.is_zero() {
            return Err(refuse());
        }
        Ok(Dilution { product, water })
    }
}

impl std::fmt::Display for Dilution {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "{}+{}", self.product, self.water)
    }
}

/// A pH as somebody read it: of a dispersion, since a bar has none.
///
/// ```
/// use rust_decimal::Decimal;
/// use tenside::reading::Reading;
/// let reading = Reading::ph(Decimal::new(56, 1), "1+9".parse()?)?.at_temperature(Decimal::from(22))?;
/// assert_eq!(reading.to_string(), "pH 5.6 at 1+9 by mass, 22 °C");
/// assert!(Reading::ph(Decimal::from(70), "1+9".parse()?).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    value: Decimal,
    dilution: Dilution,
    temperature: Option<Decimal>,
    method: Option<String>,
    on: Option<Date>,
}

impl Reading {
    /// A pH read in a dispersion of the product.
    ///
    /// # Errors
    /// A pH out of range.
    pub fn ph(value: Decimal, dilution: Dilution) -> Result<Self, Error> {
        Ok(Reading { value: Quantity::Ph.checked(value)?, dilution, temperature: None, method: None, on: None })
    }

    /// Read at this temperature in °C.
    ///
    /// # Errors
    /// A temperature out of range.
    pub fn at_temperature(mut self, temperature: Decimal) -> Result<Self, Error> {
        self.temperature = Some(Quantity::Temperature.checked(temperature)?);
        Ok(self)
    }

    /// Read with this instrument, water and so on.
    ///
    /// # Errors
    /// A bad name.
    pub fn by(mut self, method: &str) -> Result<Self, Error> {
        self.method = Some(crate::document::check_name(method)?);
        Ok(self)
    }

    /// Read on this day.
    #[must_use]
    pub fn on(mut self, date: Date) -> Self {
        self.on = Some(date);
        self
    }

    /// The pH.
    #[must_use]
    pub fn value(&self) -> Decimal {
        self.value
    }

    /// The dilution by mass.
    #[must_use]
    pub fn dilution(&self) -> Dilution {
        self.dilution
    }

    /// The temperature in °C, if stated.
    #[must_use]
    pub fn temperature(&self) -> Option<Decimal> {
        self.temperature
    }

    /// The method, if stated.
    #[must_use]
    pub fn method(&self) -> Option<&str> {
        self.method.as_deref()
    }

    /// The day, if stated.
    #[must_use]
    pub fn date(&self) -> Option<Date> {
        self.on
    }
}

impl std::fmt::Display for Reading {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "pH {} at {} by mass", self.value, self.dilution)?;
        if let Some(temperature) = self.temperature {
            write!(formatter, ", {temperature} °C")?;
        }
        if let Some(method) = &self.method {
            write!(formatter, ", {method}")?;
        }
        if let Some(on) = self.on {
            write!(formatter, ", {on}")?;
        }
        Ok(())
    }
}
