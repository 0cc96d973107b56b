//! A value with the ends it can reach inside the stated composition ranges.

use std::fmt;

use serde::Serialize;

use super::Exact;
use crate::error::{Error, Fault, FaultKind};

/// A typical value with its lowest and highest attainable value; an absent end is *not stated*, never "equal to
/// typical", and an absent typical value is *not known*, never 0.
///
/// ```
/// use tenside::number::{Exact, Interval};
/// let active = Interval { low: Some(Exact::ratio(552, 10)), typical: Some(Exact::from(58)), high: Some(Exact::ratio(608, 10)) };
/// assert_eq!(active.text(1), "58.0 (55.2 to 60.8)");
/// assert_eq!(Interval { low: None, typical: Some(Exact::from(58)), high: None }.text(1), "58.0 (typical only)");
/// assert_eq!(Interval { low: Some(Exact::ZERO), typical: None, high: Some(Exact::ONE) }.text(1), "not known (0.0 to 1.0)");
/// assert_eq!(Interval::point(Exact::from(58)).text(1), "58.0");
/// ```
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub struct Interval {
    /// The lowest attainable value, if all ranges it rests on are stated.
    pub low: Option<Exact>,
    /// The value for typical compositions, if it is known.
    pub typical: Option<Exact>,
    /// The highest attainable value, if all ranges it rests on are stated.
    pub high: Option<Exact>,
}

impl Interval {
    /// A typical value between its ends.
    ///
    /// # Errors
    /// Ends that do not enclose the typical value, and a low end above the high one.
    pub fn new(low: Option<Exact>, typical: Option<Exact>, high: Option<Exact>) -> Result<Self, Error> {
        let rises = |left: &Option<Exact>, right: &Option<Exact>| {
            left.as_ref().zip(right.as_ref()).is_none_or(|(left, right)| left <= right)
        };
        if !rises(&low, &typical) || !rises(&typical, &high) || !rises(&low, &high) {
            let shown =
                |end: &Option<Exact>| end.as_ref().map_or_else(|| "not stated".to_string(), ToString::to_string);
            return Err(Fault::new(
                FaultKind::Contradiction,
                "the ends of an interval do not enclose its typical value",
            )
            .value(format!("low {}, typical {}, high {}", shown(&low), shown(&typical), shown(&high)))
            .allowed("low <= typical <= high")
            .into());
        }
        Ok(Interval { low, typical, high })
    }

    /// A value that is certain.
    #[must_use]
    pub fn point(value: Exact) -> Self {
        Interval { low: Some(value.clone()), typical: Some(value.clone()), high: Some(value) }
    }

    /// Each of its values put through a function that keeps their order.
    #[must_use]
    pub fn map(&self, change: impl Fn(&Exact) -> Exact) -> Self {
        let changed = |value: &Option<Exact>| value.as_ref().map(&change);
        Interval { low: changed(&self.low), typical: changed(&self.typical), high: changed(&self.high) }
    }

    /// True if both ends are stated and equal the typical value.
    #[must_use]
    pub fn is_point(&self) -> bool {
        self.typical.is_some() && self.low == self.typical && self.high == self.typical
    }

    /// True if both ends are stated.
    #[must_use]
    pub fn is_stated(&self) -> bool {
        self.low.is_some() && self.high.is_some()
    }

    /// Typical value and ends with `places` decimals; the ends are rounded outwards, so that what is shown holds.
    #[must_use]
    pub fn text(&self, places: u32) -> String {
        let typical =
            self.typical.as_ref().map_or_else(|| "not known".to_string(), |typical| typical.rounded_text(places));
        if self.is_point() {
            return typical;
        }
        match (&self.low, &self.high) {
            (Some(low), Some(high)) => {
                format!("{typical} ({} to {})", low.floor_text(places), high.ceiling_text(places))
            }
            (Some(low), None) => format!("{typical} (from {}, upper end not stated)", low.floor_text(places)),
            (None, Some(high)) => format!("{typical} (up to {}, lower end not stated)", high.ceiling_text(places)),
            (None, None) if self.typical.is_none() => typical,
            (None, None) => format!("{typical} (typical only)"),
        }
    }
}

impl fmt::Display for Interval {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.pad(&self.text(2))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ends_enclose_the_typical_value() {
        let exact = |value: i32| Some(Exact::from(value));
        assert!(Interval::new(exact(1), exact(1), None).is_ok());
        assert!(Interval::new(exact(2), exact(1), None).unwrap_err().is_contradiction());
        assert!(Interval::new(None, exact(1), exact(0)).unwrap_err().is_contradiction());
        assert!(Interval::new(exact(1), None, exact(0)).unwrap_err().is_contradiction());
        assert_eq!(Interval::new(None, None, None).unwrap().text(2), "not known");
    }

    #[test]
    fn ends_are_rounded_outwards() {
        let interval =
            Interval { low: Some(Exact::ratio(-1, 3)), typical: Some(Exact::ZERO), high: Some(Exact::ratio(1, 3)) };
        assert_eq!(interval.text(2), "0.00 (-0.34 to 0.34)");
        let negative =
            Interval { low: Some(Exact::from(-2)), typical: Some(Exact::from(-1)), high: Some(Exact::ratio(-1, 3)) };
        assert_eq!(negative.text(2), "-1.00 (-2.00 to -0.33)");
        let zero = Interval { low: Some(Exact::from(-2)), typical: Some(Exact::from(-1)), high: Some(Exact::ZERO) };
        assert_eq!(zero.text(1), "-1.0 (-2.0 to 0.0)");
        let nearly =
            Interval { low: Some(Exact::from(-2)), typical: Some(Exact::from(-1)), high: Some(Exact::ratio(-1, 1000)) };
        assert_eq!(nearly.text(2), "-1.00 (-2.00 to 0.00)", "no minus before zeros");
        assert_eq!(
            format!("{nearly:>24}"),
            "   -1.00 (-2.00 to 0.00)",
            "shown with two decimals, in the width asked for"
        );
    }

    #[test]
    fn stated_is_what_has_both_ends() {
        let one = || Some(Exact::ONE);
        for (low, high, stated) in
            [(one(), one(), true), (one(), None, false), (None, one(), false), (None, None, false)]
        {
            assert_eq!(Interval { low, typical: one(), high }.is_stated(), stated);
        }
    }
}
