//! What a review could not check, and why.

use std::sync::Arc;

use crate::rule::{Rule, WhyUnchecked};

/// A rule that could not be asked, or not of these lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Unchecked {
    pub(super) rule: Arc<Rule>,
    pub(super) why: WhyUnchecked,
    pub(super) lines: Vec<String>,
}

getters!(Unchecked {
    /// Why.
    why: &WhyUnchecked,
    /// The lines it could not be asked of; none where it is the rule as a whole.
    lines: &[String],
});

impl Unchecked {
    /// The rule's stable name.
    #[must_use]
    pub fn slug(&self) -> &str {
        self.rule.slug()
    }

    /// As a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let why = match &self.why {
            WhyUnchecked::NotStated(fact) => format!("no {} is stated", fact.words()),
            WhyUnchecked::NotKnown(faults) => faults.iter().map(ToString::to_string).collect::<Vec<_>>().join("; "),
            WhyUnchecked::NoUseLevel => "no use level is stated for this use".to_string(),
            WhyUnchecked::NoPhaseTemperature => "the phase states no temperature".to_string(),
            WhyUnchecked::NoRetestDate => "the lot states no retest date".to_string(),
            WhyUnchecked::MoistureAboveWater => {
                "the stated moisture is above the water charged, so the finished basis was not judged".to_string()
            }
        };
        let lines = if self.lines.is_empty() { String::new() } else { format!(" (lines {})", self.lines.join(", ")) };
        format!("{}: {why}{lines}", self.rule.title())
    }
}
