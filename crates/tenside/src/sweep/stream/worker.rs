//! Segment by segment, on as many threads as there are.

use std::ops::Range;

use rayon::prelude::*;

use super::definition::{Stream, StreamPart};
use super::gather::Plan;
use crate::error::Error;
use crate::sweep::definition::Sweep;
use crate::sweep::engine::filler;
use crate::sweep::fill::Fill;
use crate::sweep::level::Level;
use crate::sweep::query::Query;
use crate::watch::{Halt, Watched, stopped};

/// Segments that a sweep is cut into at most.
const SEGMENTS: u64 = 256;
/// Places from which some rows are looked at beforehand at most, how many at each, and of how many rows one is.
const SEEDS: u64 = 128;
const SEED_ROWS: u64 = 512;
const SEED_OF: u64 = 128;

/// A plan with what fills its rows.
pub(super) struct Worker<'a> {
    filler: Box<dyn Fill + 'a>,
    pub(super) plan: Plan,
}

impl<'a> Worker<'a> {
    pub(super) fn new(narrow: &'a Sweep, stream: &Stream, level: Level) -> Result<Self, Error> {
        let query = Query::new(narrow, level)?;
        let filler = filler(narrow, &query)?;
        let plan = Plan::new(narrow, stream, &query)?;
        Ok(Worker { filler, plan })
    }

    pub(super) fn gather(&self, rows: Range<u64>, watched: &Watched) -> Result<StreamPart, Error> {
        let Worker { filler, plan } = self;
        let count = rows.end.saturating_sub(rows.start);
        let length = (count / SEGMENTS).max(filler.rows_of_a_thread());
        let segments = count.div_ceil(length);
        let mut seed = plan.start();
        let seeds = (count / (SEED_ROWS * SEED_OF)).min(SEEDS);
        for place in 0..seeds {
            watched.check()?;
            let first = rows.start + place * (count / seeds);
            filler.fill(first..first + SEED_ROWS, &mut |batch| {
                plan.take(batch, &mut seed);
                true
            })?;
            if let Some(error) = seed.failed.take() {
                return Err(error);
            }
        }
        let parts: Result<Vec<StreamPart>, Error> = (0..segments)
            .into_par_iter()
            .map(|segment| {
                let first = rows.start + segment * length;
                let last = (first + length).min(rows.end);
                watched.check()?;
                let mut gathered = plan.start_from(&seed);
                let done = filler.fill(first..last, &mut |batch| {
                    plan.take(batch, &mut gathered);
                    gathered.failed.is_none() && watched.go_on(batch.count as u64)
                })?;
                if let Some(error) = gathered.failed.take() {
                    return Err(error);
                }
                if done { Ok(gathered.into_part(first..last)) } else { Err(stopped()) }
            })
            .collect();
        Ok(plan.joined(&parts?).into_part(rows))
    }
}
