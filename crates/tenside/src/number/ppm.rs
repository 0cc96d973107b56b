//! Whole parts per million by mass: the grid on which percentages and composition shares stand.

use std::fmt;

use rust_decimal::Decimal;
use serde::{Serialize, Serializer};

use super::to_exact::sealed::Sealed;
use super::{Exact, ToExact};
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};

/// A share of the whole in whole ppm (0.0001 %); 1 000 000 in all.
///
/// ```
/// use tenside::number::Ppm;
/// let share = Ppm::from_percent("12.5")?;
/// assert_eq!(share.parts(), 125_000);
/// assert_eq!(share.to_string(), "12.5");
/// assert!(Ppm::from_percent("0.00001").is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Ppm(u32);

impl Ppm {
    /// Nothing.
    pub const ZERO: Ppm = Ppm(0);
    /// The whole: 1 000 000 ppm, 100 %.
    pub const WHOLE: Ppm = Ppm(1_000_000);

    /// The sum of two shares of one thing, which are all of it at most.
    pub(crate) fn capped_sum(self, other: Ppm) -> Ppm {
        Ppm(self.0.saturating_add(other.0)).min(Ppm::WHOLE)
    }

    /// From whole ppm.
    ///
    /// # Errors
    /// More than the whole is refused.
    pub fn from_parts(parts: u32) -> Result<Self, Error> {
        if parts > Ppm::WHOLE.0 {
            return Err(Quantity::Percent.fault(Exact::ratio(i64::from(parts), 10_000)).into());
        }
        Ok(Ppm(parts))
    }

    /// From a percentage of at most four decimals.
    ///
    /// ```
    /// use tenside::number::{Exact, Ppm};
    /// assert_eq!(Ppm::from_percent(12.5)?, Ppm::from_percent(Exact::ratio(25, 2))?);
    /// assert!(Ppm::from_percent("1/3").is_err());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// What is no number, values outside 0 to 100 % and finer than 0.0001 %; nothing is rounded.
    pub fn from_percent(percent: impl ToExact) -> Result<Self, Error> {
        let percent = percent.to_exact()?;
        let parts = (&percent * Exact::from(10_000)).to_whole().and_then(|parts| u32::try_from(parts).ok());
        if let Some(parts) = parts.filter(|parts| *parts <= Ppm::WHOLE.0) {
            return Ok(Ppm(parts));
        }
        Quantity::Percent.check(&percent)?;
        Err(Fault::new(FaultKind::OutOfRange, "a percentage is finer than the grid of 0.0001 %")
            .value(&percent)
            .allowed("multiples of 0.0001 % w/w")
            .remedy("round it to four decimals")
            .into())
    }

    /// Whether a percentage from 0 to 100 lies on the grid; nothing is allocated.
    pub(crate) fn is_on_grid(percent: &Exact) -> bool {
        (percent * Exact::from(10_000)).is_whole()
    }

    /// The whole ppm.
    #[must_use]
    pub const fn parts(self) -> u32 {
        self.0
    }

    /// The percentage, exact.
    #[must_use]
    pub fn percent(self) -> Exact {
        Exact::ratio(i64::from(self.0), 10_000)
    }

    /// The share of the whole, 0 to 1, exact.
    #[must_use]
    pub fn share(self) -> Exact {
        Exact::ratio(i64::from(self.0), 1_000_000)
    }

    /// The percentage as a decimal.
    #[must_use]
    pub fn decimal_percent(self) -> Decimal {
        Decimal::new(i64::from(self.0), 4).normalize()
    }

    /// True for nothing.
    #[must_use]
    pub const fn is_zero(self) -> bool {
        self.0 == 0
    }
}

impl Sealed for Ppm {}

impl ToExact for Ppm {
    /// Percent.
    fn to_exact(self) -> Result<Exact, Error> {
        Ok(self.percent())
    }
}

impl fmt::Display for Ppm {
    /// The percentage without trailing zeros and without a unit.
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.pad(&self.decimal_percent().to_string())
    }
}

impl Serialize for Ppm {
    /// As the percentage text.
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn refuses_what_is_off_the_grid_or_outside() {
        for bad in ["-0.0001", "100.0001", "1e400", "nan", "33.33333", ""] {
            assert!(Ppm::from_percent(bad).is_err(), "{bad}");
        }
        assert_eq!(Ppm::from_percent("100").unwrap(), Ppm::WHOLE);
        assert_eq!(Ppm::from_percent("5e1").unwrap().parts(), 500_000);
        assert!(Ppm::from_parts(1_000_001).is_err());
    }
}
