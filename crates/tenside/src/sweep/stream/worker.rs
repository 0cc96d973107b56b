//! Segment by segment, on as many threads as there are.

use std::ops::Range;

use rayon::prelude::*;

use super::definition::{Stream, StreamPart};
use super::gather::{Gathered, Plan};
use crate::error::Error;
use crate::sweep::definition::Sweep;
use crate::sweep::engine::filler;
use crate::sweep::fill::Fill;
use crate::sweep::level::Level;
use crate::sweep::query::Query;
use crate::watch::{Halt, stopped};

/// Segments that a sweep is cut into at most.
const SEGMENTS: u64 = 256;
/// Places from which some rows are looked at beforehand at most, how many at each, and of how many rows one is.
const SEEDS: u64 = 128;
const SEED_ROWS: u64 = 512;
const SEED_OF: u64 = 128;

/// A plan with what fills its rows.
pub(super) struct Worker<'a> {
    filler: Box<dyn Fill + 'a>,
    pub(super) plan: Plan<'a>,
}

impl<'a> Worker<'a> {
    pub(super) fn new(narrow: &'a Sweep, stream: &Stream, level: Level) -> Result<Self, Error> {
        let query = Query::new(narrow, level)?;
        let filler = filler(narrow, &query)?;
        let plan = Plan::new(narrow, stream, &query)?;
        Ok(Worker { filler, plan })
    }

    pub(super) fn gather(&self, rows: Range<u64>) -> Result<StreamPart, Error> {
        let Worker { filler, plan } = self;
        let watched = plan.narrow.watched();
        let count = rows.end.saturating_sub(rows.start);
        let length = (count / SEGMENTS).max(filler.rows_of_a_thread());
        let segments = count.div_ceil(length);
        // Rows that are looked at beforehand do not count as done.
        let fill = |rows: Range<u64>, gathered: &mut Gathered, counts: bool| -> Result<(), Error> {
            let done = filler.fill(rows, &mut |batch| {
                plan.take(batch, gathered);
                gathered.failed.is_none() && watched.go_on(if counts { batch.count as u64 } else { 0 })
            })?;
            match gathered.failed.take() {
                Some(error) => Err(error),
                None if done => Ok(()),
                None => Err(stopped()),
            }
        };
        let mut seed = plan.start();
        let seeds = (count / (SEED_ROWS * SEED_OF)).min(SEEDS);
        for place in 0..seeds {
            let first = rows.start + place * (count / seeds);
            fill(first..first + SEED_ROWS, &mut seed, false)?;
        }
        let parts: Result<Vec<StreamPart>, Error> = (0..segments)
            .into_par_iter()
            .map(|segment| {
                let first = rows.start + segment * length;
                let last = (first + length).min(rows.end);
                watched.check()?;
                let mut gathered = plan.start_from(&seed);
                fill(first..last, &mut gathered, true)?;
                Ok(gathered.into_part(first..last))
            })
            .collect();
        Ok(plan.joined(&parts?).into_part(rows))
    }
}
