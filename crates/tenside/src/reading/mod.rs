//! A measured reading with the way it was got. Where a reading exists it rules over any calculation.

mod document;

pub(crate) use document::{ReadingDocument, read_reading};

use rust_decimal::Decimal;

use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Date, Exact, ToExact};

/// A dilution by mass: `1+9` is one part of product and nine of water. `1+9` and `1+10` are not the same "10 %".
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
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
            Fault::new(FaultKind::OutOfRange, "not a dilution by mass")
                .value(format!("{text:?}"))
                .allowed(allowed)
                .into()
        };
        let (product, water) = text.split_once('+').ok_or_else(refuse)?;
        let part = |text: &str| {
            crate::number::parse_decimal(text.trim()).filter(|part| *part >= Decimal::ZERO).ok_or_else(refuse)
        };
        let (product, water) = (part(product)?, part(water)?);
        if product.is_zero() {
            return Err(refuse());
        }
        Ok(Dilution { product, water })
    }
}

impl Dilution {
    /// True if both are the same dilution, whatever the parts: `1+9` and `2+18`, but not `1+10`.
    #[must_use]
    pub fn is_same(&self, other: &Dilution) -> bool {
        let exact = |value: Decimal| Exact::from(value);
        exact(self.product) * exact(other.water) == exact(other.product) * exact(self.water)
    }

    /// Parts of water to one part of product.
    #[must_use]
    pub fn water_per_product(&self) -> Exact {
        // A dilution without product is refused when it is read.
        Exact::from(self.water).checked_div(&Exact::from(self.product)).unwrap_or_default()
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
/// use tenside::reading::Reading;
/// let reading = Reading::ph(5.6, "1+9".parse()?)?.at_temperature(22)?;
/// assert_eq!(reading.to_string(), "pH 5.6 at 1+9 by mass, 22 °C");
/// let reading = reading.in_water("deionised")?.after_minutes(30)?.with_instrument("glass electrode")?;
/// assert_eq!(reading.to_string(), "pH 5.6 at 1+9 by mass, 22 °C, in deionised water, after 30 min, glass electrode");
/// assert!(Reading::ph(70, "1+9".parse()?).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Reading {
    value: Decimal,
    dilution: Dilution,
    temperature: Option<Decimal>,
    water: Option<String>,
    instrument: Option<String>,
    method: Option<String>,
    after: Option<Decimal>,
    on: Option<Date>,
}

getters!(Reading {
    /// The pH.
    value: Decimal,
    /// The dilution by mass.
    dilution: Dilution,
    /// The temperature in °C, if stated.
    temperature: Option<Decimal>,
});

impl Reading {
    /// A pH read in a dispersion of the product.
    ///
    /// # Errors
    /// A pH out of range.
    pub fn ph(value: impl ToExact, dilution: Dilution) -> Result<Self, Error> {
        Ok(Reading {
            value: Quantity::Ph.decimal(value)?,
            dilution,
            temperature: None,
            water: None,
            instrument: None,
            method: None,
            after: None,
            on: None,
        })
    }

    /// Read at this temperature in °C.
    ///
    /// # Errors
    /// A temperature out of range.
    pub fn at_temperature(mut self, temperature: impl ToExact) -> Result<Self, Error> {
        self.temperature = Some(Quantity::Temperature.decimal(temperature)?);
        Ok(self)
    }

    /// Dispersed in this water: `deionised`, `tap, 14 °dH`.
    ///
    /// # Errors
    /// A bad name.
    pub fn in_water(mut self, water: &str) -> Result<Self, Error> {
        self.water = Some(crate::document::check_name(water)?);
        Ok(self)
    }

    /// Read with this instrument: `glass electrode, buffers 4.01 and 7.00`, `paper`.
    ///
    /// # Errors
    /// A bad name.
    pub fn with_instrument(mut self, instrument: &str) -> Result<Self, Error> {
        self.instrument = Some(crate::document::check_name(instrument)?);
        Ok(self)
    }

    /// Read so many minutes after dispersing: bars take time to give off their acid or alkali.
    ///
    /// # Errors
    /// A time out of range.
    pub fn after_minutes(mut self, minutes: impl ToExact) -> Result<Self, Error> {
        self.after = Some(Quantity::Waiting.decimal(minutes)?);
        Ok(self)
    }

    /// Read by this method; what else matters of how it was got.
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

    /// The water, if stated.
    #[must_use]
    pub fn water(&self) -> Option<&str> {
        self.water.as_deref()
    }

    /// The instrument, if stated.
    #[must_use]
    pub fn instrument(&self) -> Option<&str> {
        self.instrument.as_deref()
    }

    /// Minutes from dispersing to reading, if stated.
    #[must_use]
    pub fn minutes_after(&self) -> Option<Decimal> {
        self.after
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
        if let Some(water) = &self.water {
            write!(formatter, ", in {water} water")?;
        }
        if let Some(after) = self.after {
            write!(formatter, ", after {after} min")?;
        }
        for text in self.instrument.iter().chain(&self.method) {
            write!(formatter, ", {text}")?;
        }
        if let Some(on) = self.on {
            write!(formatter, ", {on}")?;
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dilutions_are_compared_by_what_they_mean() {
        let dilution = |text: &str| text.parse::<Dilution>().unwrap();
        assert!(dilution("1+9").is_same(&dilution("2 + 18")));
        assert!(!dilution("1+9").is_same(&dilution("1+10")));
        assert_eq!(dilution("2+18").water_per_product(), Exact::from(9));
        for bad in ["0+9", "9", "1:9", "-1+9", "1+", ""] {
            assert!(bad.parse::<Dilution>().is_err(), "{bad}");
        }
    }
}
