//! What a rule says of a formula.

use std::sync::Arc;

use super::{Bound, Certainty, Fact, Rule, Severity};
use crate::error::Fault;
use crate::formula::Purpose;
use crate::measure::{Basis, Measure};
use crate::number::{Date, Exact, Interval};

/// What a finding shows.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Value {
    /// A measure with its unit.
    Interval(Interval, String),
    /// A stated number with its unit.
    Number(Exact, &'static str),
    /// A name.
    Name(String),
    /// Nothing: it is not known, for these reasons.
    NotKnown(Vec<Fault>),
}

/// Why a finding is less grave than its rule.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Caveat {
    /// Lines count whose purpose is not stated.
    PurposeNotStated(Purpose),
    /// It is so bone-dry only, and the residual moisture is not stated.
    BoneDry,
    /// The rule begins on that later day.
    Begins(Date),
}

/// One thing found by a rule.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Verdict {
    /// How grave it is: as its rule, or less for what the caveats say.
    pub severity: Severity,
    /// Why it is less grave than its rule.
    pub caveats: Vec<Caveat>,
    /// How certain it is.
    pub certainty: Certainty,
    /// On which basis, where a measure was judged.
    pub basis: Option<Basis>,
    /// What was compared.
    pub value: Option<Value>,
    /// Of what, where it is not the measure of the rule.
    pub measure: Option<Measure>,
    /// With what.
    pub limit: Option<(Bound, Exact)>,
    /// The lines it is about; none where it is about the whole.
    pub lines: Vec<String>,
    /// What a check of a raw material adds.
    pub remark: Option<String>,
}

/// Why a rule could not be asked.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum WhyUnchecked {
    /// A fact is not stated.
    NotStated(Fact),
    /// The measure is not known.
    NotKnown(Vec<Fault>),
    /// No use level is stated for the product's uses of these lines.
    NoUseLevel,
    /// The phase of these lines states no temperature.
    NoPhaseTemperature,
    /// The lots of these lines state no retest date.
    NoRetestDate,
    /// The finished basis: the stated moisture is above the water charged.
    MoistureAboveWater,
}

/// What one rule says of one formula.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Judged {
    /// The rule.
    pub rule: Arc<Rule>,
    /// How many comparisons were made.
    pub checks: usize,
    /// True where nothing was found for typical compositions and a range end that would settle it is not stated.
    pub open: bool,
    /// What was found.
    pub found: Vec<Verdict>,
    /// Why something was not checked.
    pub unchecked: Option<WhyUnchecked>,
    /// The lines that were not checked; none where it is the rule as a whole.
    pub unchecked_lines: Vec<String>,
}

impl Verdict {
    /// As grave as its rule, about the whole, with nothing to show.
    pub(super) fn plain(rule: &Rule, certainty: Certainty) -> Self {
        let severity = rule.severity();
        Verdict {
            severity,
            caveats: Vec::new(),
            certainty,
            basis: None,
            value: None,
            measure: None,
            limit: None,
            lines: Vec::new(),
            remark: None,
        }
    }

    /// No graver than that, for this reason.
    pub(super) fn milder(&mut self, most: Severity, why: Caveat) {
        self.severity = self.severity.at_most(most);
        self.caveats.push(why);
    }
}

impl Judged {
    pub(super) fn blank(rule: &Arc<Rule>) -> Self {
        Judged {
            rule: Arc::clone(rule),
            checks: 0,
            open: false,
            found: Vec::new(),
            unchecked: None,
            unchecked_lines: Vec::new(),
        }
    }

    pub(super) fn add_unchecked_line(&mut self, line: &str, why: WhyUnchecked) {
        if !self.unchecked_lines.iter().any(|known| known == line) {
            self.unchecked_lines.push(line.to_string());
        }
        self.unchecked = Some(why);
    }
}
