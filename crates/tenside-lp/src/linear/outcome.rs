//! What solving a linear program gives: a least point, a proof that there is no point, or a proof that the cost has no
//! floor.
//!
//! The sign conventions are those of the [room](super).

use crate::exact::Exact;

/// The answer to a [`Program`](super::Program).
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// There is a least cost.
    Optimal(Optimum),
    /// No point fulfils every range.
    Infeasible(Farkas),
    /// The cost falls without end.
    Unbounded(Ray),
}

impl Outcome {
    /// The optimum, where there is one.
    ///
    /// ```
    /// use tenside_lp::{Column, Exact, Program, solve};
    /// let column = Column { low: Some(Exact::from(3)), high: None, cost: Exact::from(2) };
    /// let outcome = solve(&Program::new(vec![column], Vec::new())?);
    /// assert_eq!(outcome.optimum().map(|optimum| optimum.objective.clone()), Some(Exact::from(6)));
    /// # Ok::<(), tenside_lp::Error>(())
    /// ```
    #[must_use]
    pub fn optimum(&self) -> Option<&Optimum> {
        match self {
            Outcome::Optimal(optimum) => Some(optimum),
            Outcome::Infeasible(_) | Outcome::Unbounded(_) => None,
        }
    }
}

/// A point of least cost and the multipliers that prove it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Optimum {
    /// The value of each column.
    pub values: Vec<Exact>,
    /// The multiplier of each row.
    pub row_multipliers: Vec<Exact>,
    /// The reduced cost of each column.
    pub reduced_costs: Vec<Exact>,
    /// The least cost.
    pub objective: Exact,
    /// True where the multipliers prove that no other point has the least cost; false says nothing.
    pub unique: bool,
    /// How many steps of the simplex method it took.
    pub pivots: usize,
}

/// A combination of the rows that no point of the columns' ranges can reach.
///
/// A row with a multiplier above 0 is used by its low end, one below 0 by its high end.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Farkas {
    /// The multiplier of each row; all 0 where a crossing says it all.
    pub row_multipliers: Vec<Exact>,
    /// A column or row whose own low end is above its high end.
    pub crossing: Option<Crossing>,
}

/// A range that is empty by itself.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Crossing {
    /// The range of this column.
    Column(usize),
    /// The range of this row.
    Row(usize),
}

/// A feasible point and a direction in which the cost falls for ever.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Ray {
    /// The value of each column at the start.
    pub point: Vec<Exact>,
    /// The change of each column along the ray.
    pub direction: Vec<Exact>,
}
