//! Segment by segment, on as many threads as there are.

use std::ops::Range;

use rayon::prelude::*;

use super::definition::{Stream, StreamPart};
use super::gather::{Gathered, Plan};
use crate::error::Error;
use crate::sweep::closed::Level;
use crate::sweep::definition::Sweep;
use crate::sweep::engine::filler;
use crate::sweep::fill::Fill;
use crate::sweep::query::Query;
use crate::watch::{Halt, stopped};

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
        let length = (count / SEGMENTS).max(if filler.is_quick() { LEAST_ROWS } else { 1 });
        let segments = count.div_ceil(length);
        let fill = |rows: Range<u64>, gathered: &mut Gathered, go_on: &mut dyn FnMut(u64) -> bool| {
            let done = filler.fill(rows, &mut |batch| {
                plan.take(batch, gathered);
                gathered.failed.is_none() && go_on(batch.count as u64)
            })?;
            gathered.failed.take().map_or(Ok(done), Err)
        };
        let mut seed = plan.start();
        if filler.is_quick() && count >= SEEDS * LEAST_ROWS {
            for place in 0..SEEDS {
                let first = rows.start + place * (count / SEEDS);
                fill(first..first + SEED_ROWS, &mut seed, &mut |_| true)?;
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
                let done = fill(first..last, &mut gathered, &mut |count| {
                    unreported += count;
                    // A watcher costs more than a small batch.
                    filler.is_quick() && plan.is_quick() && unreported < LEAST_ROWS
                        || watched.go_on(std::mem::take(&mut unreported))
                })?;
                if done && watched.go_on(unreported) { Ok(gathered.into_part(first..last)) } else { Err(stopped()) }
            })
            .collect();
        Ok(plan.joined(&parts?).into_part(rows))
    }
}
