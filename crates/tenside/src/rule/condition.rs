//! What a rule compares, and when it is asked at all.

use super::{Bound, Fact, JudgedOn, ProductForm, Storage};
use crate::measure::Measure;
use crate::number::{Exact, Ppm};

/// A value that must be kept, or the fact that states it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LimitValue {
    /// This one.
    Number(Exact),
    /// The one stated of the product.
    Stated(Fact),
}

/// A limit: at most 2.5.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Limit {
    /// At most, below, at least or above.
    pub bound: Bound,
    /// What.
    pub value: LimitValue,
}

/// A measure as a rule names it.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Measurand {
    /// The measure.
    pub measure: Measure,
    /// The list's group that it sums, if it is one.
    pub group: Option<String>,
    /// On which bases it is judged.
    pub judged_on: JudgedOn,
}

/// One comparison that has to hold for a rule to be asked.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Condition {
    /// A measure keeps a limit.
    Measure(Measurand, Limit),
    /// A stated fact keeps a limit; one that is not stated keeps it if that is said.
    Fact(Fact, Limit, bool),
    /// The product is kept so; possible where that is not stated.
    Kept(Storage),
    /// The product is so; possible where that is not stated.
    Form(ProductForm),
    /// A fact is stated, or is not.
    Stated(Fact, bool),
}

/// What a rule is about.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Varied {
    /// A measure that has to keep the limits; without limits the conditions alone make the finding, and the measure is
    /// shown.
    Measure(Measurand, Vec<Limit>),
    /// A stated fact that has to keep the limits.
    Fact(Fact, Vec<Limit>),
    /// Each raw material against what is stated of it.
    Each(EachCheck),
    /// Nothing further: the conditions make the finding.
    Conditions,
}

/// A check of each raw material.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct EachCheck {
    /// Which check.
    pub check: super::Each,
    /// The limit of a check that needs one, in its unit.
    pub limit: Option<Limit>,
    /// By how much of a use level an amount may depart from it without a finding.
    pub tolerance: Option<Ppm>,
    /// Substances whose raw materials are left to other rules, by INCI name.
    pub listed: Vec<String>,
}
