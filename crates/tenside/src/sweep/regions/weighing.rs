//! What a region of formulas is weighed for.

use crate::number::Exact;

/// A number and how it moves along directions.
pub(super) type Weight = (Exact, Vec<(usize, Exact)>);

/// A measure's weights, line by line.
#[derive(Clone, Debug)]
pub(super) struct MeasureWeights {
    pub(super) numerator: Vec<Weight>,
    pub(super) denominator: Vec<Weight>,
    /// Water as charged less what the basis keeps: below 0 there is no value.
    pub(super) water: Option<Vec<Weight>>,
}

/// What columns are made of.
#[derive(Clone, Debug)]
pub(super) struct Weighing {
    pub(super) measures: Vec<MeasureWeights>,
    /// Where the objective is no measure: what its value has more than the cost.
    pub(super) beyond_cost: Option<Exact>,
}
