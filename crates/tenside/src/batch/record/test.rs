//! The specification of a product: tests with limits, and what readings come to.

use crate::document::{check_name, named_enum, shown};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::number::ToExact;

named_enum! {
    /// What the readings of a test come to.
    ReadingOutcome "outcome of a test" {
        /// All of them keep its limits.
        Within = "within",
        /// One or more do not.
        Outside = "outside",
        /// There is none, so nothing is known.
        NotMeasured = "not-measured",
        /// The test has no limit that they could keep, so nothing is said of them.
        NoLimit = "no-limit",
    }
}

/// A test of a product, with limits in its unit.
///
/// ```
/// use tenside::batch::ProductTest;
/// let test = ProductTest::new("mass of a bar", "g")?.at_least(60)?;
/// assert_eq!(test.limits(), "at least 60 g");
/// assert!(test.at_most(59).unwrap_err().is_contradiction());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct ProductTest {
    name: String,
    unit: String,
    low: Option<Exact>,
    high: Option<Exact>,
}

/// A test with its readings.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct TestResult {
    /// The test.
    pub test: String,
    /// Its limits in words.
    pub limits: String,
    /// The readings, in the order recorded.
    pub values: Vec<Exact>,
    /// What they come to.
    pub outcome: ReadingOutcome,
}

getters!(ProductTest {
    /// Its name.
    name: &str,
    /// Its unit.
    unit: &str,
    /// Its lowest allowed value.
    low: Option<&Exact>,
    /// Its highest allowed value.
    high: Option<&Exact>,
});

impl ProductTest {
    /// A test without limits yet; the unit may be empty.
    ///
    /// # Errors
    /// A bad name or unit, and a figure or a range in place of a unit.
    pub fn new(name: &str, unit: &str) -> Result<Self, Error> {
        let unit = if unit.trim().is_empty() { String::new() } else { check_name(unit)? };
        if holds_figure(&unit) {
            return Err(Fault::new(
                FaultKind::Contradiction,
                "the unit of a test holds a figure, which would be no limit",
            )
            .at(format!("test {}", shown(name)))
            .value(shown(&unit))
            .remedy("state limits as at_least and at_most, and conditions of the measurement in the name of the test")
            .into());
        }
        Ok(ProductTest { name: check_name(name)?, unit, low: None, high: None })
    }

    /// With its lowest allowed value.
    ///
    /// # Errors
    /// Text that is no number, and a value above the highest one.
    pub fn at_least(mut self, low: impl ToExact) -> Result<Self, Error> {
        self.low = Some(low.to_exact()?);
        self.in_order()
    }

    /// With its highest allowed value.
    ///
    /// # Errors
    /// Text that is no number, and a value below the lowest one.
    pub fn at_most(mut self, high: impl ToExact) -> Result<Self, Error> {
        self.high = Some(high.to_exact()?);
        self.in_order()
    }

    fn in_order(self) -> Result<Self, Error> {
        if let (Some(low), Some(high)) = (&self.low, &self.high)
            && low > high
        {
            return Err(Fault::new(FaultKind::Contradiction, "the lower limit of a test is above its upper limit")
                .at(format!("test {:?}", self.name))
                .value(format!("{low} to {high}"))
                .allowed("low <= high")
                .into());
        }
        Ok(self)
    }

    /// Its limits in words.
    #[must_use]
    pub fn limits(&self) -> String {
        let words = match (&self.low, &self.high) {
            (Some(low), Some(high)) => format!("{low} to {high}"),
            (Some(low), None) => format!("at least {low}"),
            (None, Some(high)) => format!("at most {high}"),
            (None, None) => return "no limit stated".to_string(),
        };
        format!("{words} {}", self.unit).trim_end().to_string()
    }

    fn has_limit(&self) -> bool {
        self.low.is_some() || self.high.is_some()
    }

    pub(super) fn result(&self, values: Vec<Exact>) -> TestResult {
        let keeps = |value: &Exact| {
            self.low.as_ref().is_none_or(|low| value >= low) && self.high.as_ref().is_none_or(|high| value <= high)
        };
        let outcome = match values.as_slice() {
            [] => ReadingOutcome::NotMeasured,
            _ if !self.has_limit() => ReadingOutcome::NoLimit,
            values if values.iter().all(keeps) => ReadingOutcome::Within,
            _ => ReadingOutcome::Outside,
        };
        TestResult { test: self.name.clone(), limits: self.limits(), values, outcome }
    }
}

/// A figure that stands for itself, as in `5 to 6` or `<= 6 g`; that of an amount that a unit is per, as in
/// `g per 100 g` and `mg/100 ml`, belongs to the unit.
fn holds_figure(unit: &str) -> bool {
    let words: Vec<&str> = unit.split_whitespace().collect();
    let is_figure = |word: &str| word.trim_start_matches(|c: char| !c.is_alphanumeric()).starts_with(char::is_numeric);
    let is_of_unit = |place: usize| place > 0 && ["per", "/"].contains(&words[place - 1]);
    words.iter().enumerate().any(|(place, word)| is_figure(word) && !is_of_unit(place))
}
