//! Segment by segment, on as many threads as there are.

use std::ops::Range;

use rayon::prelude::*;

use super::definition::{Stream, StreamPart};
use super::gather::Plan;
use crate::error::Error;
use crate::sweep::closed::Level;
use crate::sweep::definition::Sweep;
use crate::sweep::engine::filler;
use crate::sweep::fill::Fill;
use crate::sweep::query::Query;
use crate::watch::{Halt, Watched, stopped};

/// Segments that a sweep is cut into at most.
const SEGMENTS: u64 = 256;
/// Rows of a segment at least.
const LEAST_ROWS: u64 = 1 << 16;
/// Places from which some rows are looked at beforehand, and how many at each.
const SEEDS: u64 = 128;
const SEED_ROWS: u64 = 512;

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
        let length = (count / SEGMENTS).max(if filler.is_quick() { LEAST_ROWS } else { 1 }).max(1);
        let segments = count.div_ceil(length);
        let mut seed = plan.start();
        if filler.is_quick() && count >= SEEDS * LEAST_ROWS {
            for place in 0..SEEDS {
                let first = rows.start + place * (count / SEEDS);
                filler.fill(first..first + SEED_ROWS, &mut |batch| {
                    plan.take(batch, &mut seed);
                    true
                })?;
                if let Some(error) = seed.failed.take() {
                    return Err(error);
                }
            }
        }
        let parts: Result<Vec<StreamPart>, Error> = (0..segments)
            .into_par_iter()
            .map(|segment| {
                let first = rows.start + segment * length;
                let last = (first + length).min(rows.end);
                watched.check()?;
                let mut gathered = plan.start_from(&seed);
                let mut unreported = 0;
                let done = filler.fill(first..last, &mut |batch| {
                    plan.take(batch, &mut gathered);
                    unreported += batch.count as u64;
                    // A watcher costs more than a small batch.
                    if filler.is_quick() && plan.is_quick() && unreported < LEAST_ROWS {
                        return true;
                    }
                    if gathered.failed.is_some() {
                        return false;
                    }
                    watched.go_on(std::mem::take(&mut unreported))
                })?;
                if let Some(error) = gathered.failed.take() {
                    return Err(error);
                }
                if done && watched.go_on(unreported) { Ok(gathered.into_part(first..last)) } else { Err(stopped()) }
            })
            .collect();
        Ok(plan.joined(&parts?).into_part(rows))
    }
}
