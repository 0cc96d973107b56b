//! A calendar date as a given value: the core reads no clock.

use std::fmt;
use std::str::FromStr;

use jiff::civil;

use crate::error::{Error, Fault, FaultKind};

/// A date, always given by the caller, written `2026-11-24`.
///
/// ```
/// use tenside::number::Date;
/// let retest: Date = "2027-03-31".parse()?;
/// assert!(retest > "2026-11-24".parse()?);
/// assert!("2026-02-30".parse::<Date>().is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Date(civil::Date);

impl Date {
    /// Whole days since another date; negative if that is later.
    ///
    /// ```
    /// use tenside::number::Date;
    /// let (pressed, weighed): (Date, Date) = ("2026-02-27".parse()?, "2026-03-01".parse()?);
    /// assert_eq!((weighed.days_since(pressed), pressed.days_since(weighed)), (2, -2));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn days_since(self, earlier: Date) -> i64 {
        self.0.duration_since(earlier.0).as_hours() / 24
    }
}

impl FromStr for Date {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        // jiff reads richer forms (times, zones); only the plain calendar date is meant here.
        let plain = text.len() == 10 && text.bytes().all(|byte| byte.is_ascii_digit() || byte == b'-');
        plain.then(|| text.parse().ok()).flatten().map(Date).ok_or_else(|| {
            Fault::new(FaultKind::OutOfRange, "not a calendar date")
                .value(format!("{text:?}"))
                .allowed("year-month-day, for example 2026-11-24")
                .into()
        })
    }
}

impl fmt::Display for Date {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(formatter)
    }
}
