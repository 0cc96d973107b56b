//! Where the mass went.

use super::Actual;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, MassUnit};

/// The mass of a batch from the scale to the bars. What went in and what came out need not agree: the rest is said.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct MassBalance {
    /// Weighed in as planned or instead.
    pub weighed: Mass,
    /// Added beyond the plan.
    pub added: Mass,
    /// Water that left before pressing.
    pub boiled_off: Mass,
    /// In the bowl before pressing.
    pub in_bowl: Mass,
    /// Trimmed off and not returned.
    pub trim: Mass,
    /// Rejected.
    pub rejected: Mass,
    /// The bars as pressed, together; `None` where they were not weighed.
    pub pressed: Option<Mass>,
    /// What is left of the mass in the bowl after trim, rejects and bars: it stayed in bowl and press, or nobody knows.
    /// Below 0 by no more than the scales could not see. `None` where the bars were not weighed.
    pub unaccounted: Option<Exact>,
}

impl MassBalance {
    /// `unseen` is what the scales could not see of all that was weighed, in grams.
    pub(super) fn new(
        actual: &Actual,
        weighed: &Exact,
        added: &Exact,
        boiled_off: &Exact,
        unseen: &Exact,
    ) -> Result<Self, Error> {
        let mass = |grams: &Exact| Mass::new(grams, MassUnit::Gram);
        let zero = || mass(&Exact::ZERO);
        let in_bowl = weighed + added - boiled_off;
        let trim = match (&actual.trim, &actual.trim_returned) {
            (Some(off), Some(returned)) => mass(&(off.grams() - returned.grams()))?,
            _ => zero()?,
        };
        let rejected = actual.rejected.clone().map_or_else(zero, Ok)?;
        let out = trim.grams() + rejected.grams() + actual.pressed.as_ref().map_or(&Exact::ZERO, Mass::grams);
        if out > &in_bowl + unseen {
            return Err(Fault::new(FaultKind::Contradiction, "more came out of the bowl than was in it")
                .at("bars, trim and rejects")
                .value(format!("{} g", out.rounded_text(2)))
                .allowed(format!("at most {} g", in_bowl.rounded_text(2)))
                .remedy(
                    "check that every bar is of this batch, that trim that went back is stated as returned, and that \
                     no rejected bar is counted twice",
                )
                .into());
        }
        Ok(MassBalance {
            weighed: mass(weighed)?,
            added: mass(added)?,
            boiled_off: mass(boiled_off)?,
            unaccounted: actual.pressed.is_some().then(|| &in_bowl - out),
            in_bowl: mass(&in_bowl)?,
            trim,
            rejected,
            pressed: actual.pressed.clone(),
        })
    }

    /// What is not accounted for in percent of the mass in the bowl.
    #[must_use]
    pub fn unaccounted_percent(&self) -> Option<Exact> {
        self.unaccounted.as_ref()?.checked_div(self.in_bowl.grams()).map(|share| share * Exact::hundred())
    }
}
