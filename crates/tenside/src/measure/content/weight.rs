//! What one unit of something brings to a measure.

use crate::material::{Footing, Held};
use crate::number::{Exact, Ppm};

/// What one unit of something brings, with the ends it can reach and what they rest on. An end that is not stated
/// stands for the furthest that is possible where such a bound is known, else for the typical value.
#[derive(Clone, Debug, PartialEq)]
pub(crate) struct Weight {
    pub(crate) least: Exact,
    /// `None` if it is not known.
    pub(crate) typical: Option<Exact>,
    pub(crate) greatest: Exact,
    pub(crate) least_footing: Footing,
    pub(crate) greatest_footing: Footing,
}

impl Weight {
    pub(crate) fn certain(value: Exact) -> Self {
        Weight {
            least: value.clone(),
            typical: Some(value.clone()),
            greatest: value,
            least_footing: Footing::Stated,
            greatest_footing: Footing::Stated,
        }
    }

    pub(crate) fn counted(counts: bool) -> Self {
        Weight::certain(if counts { Exact::ONE } else { Exact::ZERO })
    }

    /// A typical value with its ends, as far as they are stated.
    pub(super) fn between(low: Option<Exact>, typical: Exact, high: Option<Exact>) -> Self {
        let footing = |end: &Option<Exact>| if end.is_some() { Footing::Stated } else { Footing::NotStated };
        Weight {
            least_footing: footing(&low),
            greatest_footing: footing(&high),
            least: low.unwrap_or_else(|| typical.clone()),
            greatest: high.unwrap_or_else(|| typical.clone()),
            typical: Some(typical),
        }
    }

    pub(in crate::measure) fn plus(self, other: Weight) -> Self {
        Weight {
            least: self.least + other.least,
            typical: self.typical.zip(other.typical).map(|(left, right)| left + right),
            greatest: self.greatest + other.greatest,
            least_footing: self.least_footing.min(other.least_footing),
            greatest_footing: self.greatest_footing.min(other.greatest_footing),
        }
    }

    /// So many times: with a factor below 0 the ends change places.
    pub(in crate::measure) fn times(self, factor: &Exact) -> Self {
        if *factor == Exact::ONE {
            return self;
        }
        let (least, greatest) = (self.least * factor, self.greatest * factor);
        let typical = self.typical.map(|typical| typical * factor);
        if factor.is_negative() {
            let (least_footing, greatest_footing) = (self.greatest_footing, self.least_footing);
            return Weight { least: greatest, typical, greatest: least, least_footing, greatest_footing };
        }
        Weight { least, typical, greatest, ..self }
    }

    /// The greatest or, not `upwards`, the least, and what it rests on.
    pub(in crate::measure) fn end(&self, upwards: bool) -> (&Exact, Footing) {
        if upwards { (&self.greatest, self.greatest_footing) } else { (&self.least, self.least_footing) }
    }

    /// True if it brings nothing, whatever the composition.
    pub(crate) fn is_nothing(&self) -> bool {
        self.least.is_zero() && self.greatest.is_zero() && self.typical.as_ref().is_some_and(Exact::is_zero)
    }

    pub(crate) fn is_typically_nothing(&self) -> bool {
        self.typical.as_ref().is_some_and(Exact::is_zero)
    }
}

impl From<Held> for Weight {
    fn from(held: Held) -> Self {
        Weight {
            least: held.least.share(),
            typical: held.typical.map(Ppm::share),
            greatest: held.greatest.share(),
            least_footing: held.least_footing,
            greatest_footing: held.greatest_footing,
        }
    }
}
