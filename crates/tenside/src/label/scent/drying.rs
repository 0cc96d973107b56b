//! By what drying raises the share of everything that stays.
//!
//! ```text
//! f = (100 - moisture) / (100 - water as charged), never below 1
//! ```
//!
//! Volatile scent is taken to stay, which is the cautious side.

use std::cmp::Ordering;

use super::super::content::Amount;
use crate::number::{Exact, FixedPoint, Interval};

/// A fraction above or at 1; its denominator may be 0 where everything is water.
pub(super) type Factor = (FixedPoint, FixedPoint);

/// The factor at the ends and the typical value of the water as charged.
#[derive(Clone, Debug, PartialEq)]
pub(in crate::label) struct Drying {
    pub(super) low: Factor,
    pub(super) typical: Factor,
    pub(super) high: Factor,
}

impl Drying {
    /// Amounts as charged in the product as sold; `None` if all that is charged dries.
    pub(super) fn as_sold(&self, percent: &Interval) -> Option<Interval> {
        if [&self.low, &self.typical, &self.high].iter().any(|(_, below)| below.is_zero()) {
            return None;
        }
        let raised = |value: &Option<Exact>, (above, below): &Factor| {
            value.as_ref().map(|value| value * above.percent_of(below) / Exact::hundred())
        };
        Some(Interval {
            low: raised(&percent.low, &self.low),
            typical: raised(&percent.typical, &self.typical),
            high: raised(&percent.high, &self.high),
        })
    }

    /// Without a moisture as sold nothing need dry, and bone-dry is as far as it can go; what is sold by volume does not
    /// dry.
    pub(in crate::label) fn new(water: &Amount, whole: &FixedPoint, moisture: Option<&Exact>, is_liquid: bool) -> Self {
        let none = || (FixedPoint::new(1), FixedPoint::new(1));
        match moisture {
            Some(moisture) => Drying {
                low: factor(&water.low, whole, moisture),
                typical: water.typical.as_ref().map_or_else(none, |typical| factor(typical, whole, moisture)),
                high: factor(&water.high, whole, moisture),
            },
            None if is_liquid => Drying { low: none(), typical: none(), high: none() },
            None => Drying { low: none(), typical: none(), high: factor(&water.high, whole, &Exact::ZERO) },
        }
    }
}

fn factor(water: &FixedPoint, whole: &FixedPoint, moisture: &Exact) -> Factor {
    let unit = FixedPoint::common_denominator(std::iter::once(moisture));
    let hundred = unit.times(100);
    let dry = hundred.less(&FixedPoint::floor_of(moisture, &unit)).unwrap_or_default();
    let (above, below) = (whole.product(&dry), whole.less(water).unwrap_or_default().product(&hundred));
    match above.cmp(&below) {
        // Drying takes no water up.
        Ordering::Less | Ordering::Equal => (FixedPoint::new(1), FixedPoint::new(1)),
        Ordering::Greater if below.is_zero() => (FixedPoint::new(1), below),
        // Small numbers keep the products that follow small.
        Ordering::Greater => FixedPoint::in_lowest_terms(&above, &below),
    }
}
