//! How the rows of a sweep are filled: the batches in which they are handed on.

use std::ops::Range;

use crate::error::Error;

/// The percentages of a line: the same at all points, or one each.
#[derive(Debug)]
pub(super) enum Percents {
    Same(f64),
    Each(Vec<f64>),
}

impl Percents {
    #[inline]
    pub(super) fn at(&self, place: usize) -> f64 {
        match self {
            Percents::Same(percent) => *percent,
            Percents::Each(percents) => percents[place],
        }
    }
}

/// Some consecutive rows, column by column: numbers are the `f64` nearest to the exact ones.
pub(super) struct Batch<'a> {
    pub(super) first: u64,
    pub(super) count: usize,
    pub(super) lines: &'a [Percents],
    /// Measures; after them the objective's value where it is no measure.
    pub(super) measures: &'a [Vec<f64>],
    pub(super) missing: &'a [Vec<bool>],
    pub(super) feasible: &'a [bool],
    pub(super) binding: &'a [u64],
    pub(super) conflict: &'a [u64],
}

/// Where the columns of a batch are filled.
#[derive(Debug)]
pub(super) struct Columns {
    pub(super) lines: Vec<Percents>,
    pub(super) measures: Vec<Vec<f64>>,
    /// True where a measure has no value although there is a formula.
    pub(super) missing: Vec<Vec<bool>>,
    pub(super) feasible: Vec<bool>,
    pub(super) binding: Vec<u64>,
    pub(super) conflict: Vec<u64>,
}

impl Columns {
    /// For so many rows at most.
    pub(super) fn new(lines: usize, measures: usize, rows: usize) -> Self {
        Columns {
            lines: (0..lines).map(|_| Percents::Each(vec![0.0; rows])).collect(),
            measures: vec![vec![0.0; rows]; measures],
            missing: vec![vec![false; rows]; measures],
            feasible: vec![false; rows],
            binding: vec![0; rows],
            conflict: vec![0; rows],
        }
    }

    pub(super) fn batch(&self, first: u64, count: usize) -> Batch<'_> {
        let Columns { lines, measures, missing, feasible, binding, conflict } = self;
        Batch { first, count, lines, measures, missing, feasible, binding, conflict }
    }
}

/// Fills a run of consecutive rows: of points along the fastest axis, given the values of the others, then of the next.
pub(super) trait Fill: Sync {
    /// Hands every batch of the rows to `each`, in order; stops early where `each` says so, and gives false then.
    fn fill(&self, rows: Range<u64>, each: &mut dyn FnMut(&Batch<'_>) -> bool) -> Result<bool, Error>;

    /// Rows that are worth a thread of their own, at least.
    fn rows_of_a_thread(&self) -> u64;
}
