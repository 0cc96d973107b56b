//! What conflicts in the rows of a closed form, which knows only that they have no formula.

use std::ops::Range;

use super::closed::Closed;
use super::fill::{Batch, Fill};
use crate::error::Error;

/// A closed form's rows; those without a formula have the codes of an engine that names irreducible conflicts.
pub(super) struct Explained<'a> {
    pub(super) filler: Closed<'a>,
    pub(super) refused: Box<dyn Fill + 'a>,
}

impl Explained<'_> {
    /// The codes of a batch.
    fn codes(&self, batch: &Batch<'_>) -> Result<Vec<u64>, Error> {
        let mut codes = vec![0; batch.count];
        let feasible = &batch.feasible[..batch.count];
        let next = |from: usize, has: bool| feasible[from..].iter().position(|known| *known == has).map(|by| from + by);
        let mut from = 0;
        while let Some(start) = next(from, false) {
            from = next(start, true).unwrap_or(batch.count);
            self.refused.fill(batch.first + start as u64..batch.first + from as u64, &mut |refused| {
                let at = usize::try_from(refused.first - batch.first).unwrap_or(0);
                codes[at..at + refused.count].copy_from_slice(&refused.conflict[..refused.count]);
                true
            })?;
        }
        Ok(codes)
    }
}

impl Fill for Explained<'_> {
    fn fill(&self, rows: Range<u64>, each: &mut dyn FnMut(&Batch<'_>) -> bool) -> Result<bool, Error> {
        let mut failed = None;
        let done = self.filler.fill(rows, &mut |batch| match self.codes(batch) {
            Ok(codes) => each(&Batch { conflict: &codes, ..*batch }),
            Err(error) => {
                failed = Some(error);
                false
            }
        })?;
        failed.map_or(Ok(done), Err)
    }

    fn is_quick(&self) -> bool {
        false
    }
}
