//! What tests of every engine read rows by.

use std::ops::Range;

use super::definition::Sweep;
use super::fill::Fill;

/// A row as it is filled; what means nothing is left out.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Row {
    pub(super) feasible: bool,
    /// What binds, or what conflicts.
    pub(super) code: u64,
    /// The bits of lines and measures.
    pub(super) numbers: Vec<Option<u64>>,
}

pub(super) fn rows(sweep: &Sweep, filler: &dyn Fill, rows: Range<u64>) -> Vec<Row> {
    let mut all = Vec::new();
    let done = filler.fill(rows.clone(), &mut |batch| {
        assert_eq!(batch.first, rows.start + all.len() as u64);
        for row in 0..batch.count {
            let feasible = batch.feasible[row];
            let lines = batch.lines.iter().take(sweep.brief().lines().len()).map(|known| Some(known.at(row).to_bits()));
            let measures = batch
                .measures
                .iter()
                .zip(batch.missing)
                .map(|(values, missing)| (!missing[row]).then(|| values[row].to_bits()));
            let numbers = if feasible { lines.chain(measures).collect() } else { Vec::new() };
            all.push(Row { feasible, code: if feasible { batch.binding[row] } else { batch.conflict[row] }, numbers });
        }
        true
    });
    assert!(done.unwrap());
    all
}
