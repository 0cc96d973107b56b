//! What it costs that requirements hold for every composition and not only for the typical ones.

use super::Answer;
use super::objective::{optimise, worse_by};
use super::program::frame;
use super::proof::fails;
use crate::brief::Requirement;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// The price of robustness, in the objective's unit.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct RobustnessPrice {
    /// The best value of the objective, as the brief asks.
    pub robust: Exact,
    /// The best value were every requirement asked of typical compositions only.
    pub typical: Exact,
    /// By how much the first is worse than the second; 0 or more, whichever way is better.
    pub price: Exact,
    /// The unit of all of them.
    pub unit: String,
    /// Each requirement for every composition, in the brief's order.
    pub requirements: Vec<RequirementPrice>,
}

/// What one requirement for every composition costs, in the objective's unit. Prices of several do not add up: one may
/// cost nothing beside another, and only both together.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct RequirementPrice {
    /// In the words of the brief.
    pub words: String,
    /// By how much the best value is worse with this one alone for every composition, all others for typical ones.
    pub alone: Exact,
    /// By how much the best value would be better with this one for typical compositions, all others as the brief asks.
    pub beside_the_others: Exact,
}

impl RobustnessPrice {
    /// A sentence: `holding for every composition costs 0.0312 EUR per kg: 5.8469 instead of 5.8157 EUR per kg`.
    #[must_use]
    pub fn sentence(&self) -> String {
        let unit = if self.unit.is_empty() { String::new() } else { format!(" {}", self.unit) };
        let [price, robust, typical] = [&self.price, &self.robust, &self.typical].map(|value| value.rounded_text(4));
        format!("holding for every composition costs {price}{unit}: {robust} instead of {typical}{unit}")
    }
}

impl Answer {
    /// What it costs that requirements hold for every composition: the best value of the objective beside the best one
    /// for typical compositions only, for all of them together and for each.
    ///
    /// ```
    /// use tenside::brief::{Brief, Requirement};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::{Measure, Scope};
    /// use tenside::number::Exact;
    /// let sure = Requirement::at_least(Measure::active_matter(), Exact::from(12))?.for_every_composition();
    /// let brief = Brief::new("Wash", &Catalogue::starter())?.free("capb-30")?.qs("water")?.require(sure)?;
    /// let answer = brief.minimise(Measure::as_supplied().contributed_by(Scope::lines(["capb-30"])?)).solve()?;
    /// let price = answer.price_of_robustness()?;
    /// // The solution brings 30 %, and 29 % at least: of that it takes 1200/29 % instead of 40 %.
    /// assert_eq!((price.robust, price.typical), (Exact::ratio(1200, 29), Exact::from(40)));
    /// assert_eq!(price.requirements[0].alone, Exact::ratio(40, 29));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// An answer to a brief without objective, and compositions that are bounded only, which have no typical values.
    pub fn price_of_robustness(&self) -> Result<RobustnessPrice, Error> {
        let brief = self.brief();
        let (Some(robust), Some(unit)) = (self.objective().cloned(), self.objective_unit()) else {
            return Err(Fault::new(
                FaultKind::Unsupported,
                "a brief without objective has nothing that robustness could cost",
            )
            .remedy("minimise or maximise a measure, or ask for the least change")
            .into());
        };
        // What meets a requirement for every composition meets it for the typical one, so there is a formula.
        let best = |chosen: &dyn Fn(usize) -> bool| -> Result<Exact, Error> {
            let brief = brief.for_typical_compositions(chosen);
            let value = optimise(&brief, frame(&brief)?)?.objective_value(&brief)?;
            value.ok_or_else(|| fails("typical compositions lie outside their own ranges"))
        };
        let typical = best(&|_| true)?;
        let worse = |value: &Exact, than: &Exact| worse_by(brief, value, than);
        let mut requirements = Vec::new();
        let every = |(_, requirement): &(usize, &Requirement)| requirement.is_for_every_composition();
        for (place, requirement) in brief.requirements().iter().enumerate().filter(every) {
            requirements.push(RequirementPrice {
                words: requirement.name(),
                alone: worse(&best(&|other| other != place)?, &typical),
                beside_the_others: worse(&robust, &best(&|other| other == place)?),
            });
        }
        Ok(RobustnessPrice { price: worse(&robust, &typical), robust, typical, unit, requirements })
    }
}
