//! How the rows of a sweep are filled: the batches in which they are handed on.

use crate::error::Error;

/// Who takes rows, batch by batch and in order.
pub(super) type Each<'a> = dyn FnMut(&Batch) -> Result<(), Error> + 'a;

/// The numbers of a column: the same in every row of a batch, or one each.
#[derive(Clone)]
pub(super) struct Series {
    pub(super) same: Option<f64>,
    pub(super) each: Vec<f64>,
}

impl Series {
    #[inline]
    pub(super) fn at(&self, place: usize) -> f64 {
        self.same.unwrap_or_else(|| self.each[place])
    }
}

/// Some consecutive rows, column by column: numbers are the `f64` nearest to the exact ones.
pub(super) struct Batch {
    pub(super) first: u64,
    pub(super) count: usize,
    /// Lines where they are wanted, then measures, then the objective's value where it is no measure; 0 where there is
    /// none.
    pub(super) numbers: Vec<Series>,
    /// True where a number has no value although there is a formula.
    pub(super) missing: Vec<Vec<bool>>,
    pub(super) feasible: Vec<bool>,
    pub(super) binding: Vec<u64>,
    pub(super) conflict: Vec<u64>,
}

impl Batch {
    /// For so many rows at most.
    pub(super) fn new(numbers: usize, rows: usize) -> Self {
        Batch {
            first: 0,
            count: 0,
            numbers: vec![Series { same: None, each: vec![0.0; rows] }; numbers],
            missing: vec![vec![false; rows]; numbers],
            feasible: vec![false; rows],
            binding: vec![0; rows],
            conflict: vec![0; rows],
        }
    }
}
