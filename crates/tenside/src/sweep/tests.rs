//! What tests of every engine read rows by.

use std::ops::Range;

use super::fill::Each;
use crate::error::Error;

/// A row as it is filled; what means nothing is left out.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    pub(super) feasible: bool,
    /// What binds, or what conflicts.
    pub(super) code: u64,
    /// The bits of lines and measures.
    pub(super) numbers: Vec<Option<u64>>,
}

/// What an engine fills some rows with.
pub(super) fn rows(rows: Range<u64>, fill: impl Fn(Range<u64>, &mut Each<'_>) -> Result<(), Error>) -> Vec<Row> {
    let mut all = Vec::new();
    let filled = fill(rows.clone(), &mut |batch| {
        assert_eq!(batch.first, rows.start + all.len() as u64);
        for row in 0..batch.count {
            let feasible = batch.feasible[row];
            let numbers = batch.numbers.iter().zip(&batch.missing);
            let numbers = numbers.map(|(series, missing)| (!missing[row]).then(|| series.at(row).to_bits()));
            let numbers = if feasible { numbers.collect() } else { Vec::new() };
            all.push(Row { feasible, code: if feasible { batch.binding[row] } else { batch.conflict[row] }, numbers });
        }
        Ok(())
    });
    filled.unwrap();
    all
}
