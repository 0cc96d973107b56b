//! Sweeps one critical region after the other, each basis as a quotient of polynomials.
//!
//! Axes of numbers are coordinates of a parametric program; the others (raw materials, moistures) have a program for
//! each combination. Where a row is in no region that is known, its basis is named by the search and made a region
//! (`solve/parametric`). A run of rows along the innermost coordinate ends where a condition of its region fails; both
//! ends are judged by the conditions themselves, in `f64` with a bound and exactly where that leaves a sign open, and
//! between them they hold because each is a linear function there. Rows of no region (a tie at just that row) are
//! solved by themselves.
//!
//! Cells are the `f64` nearest to the exact solution, flags and codes are exact, so nothing depends on which region
//! filled a row, on where a run began, or on which thread found a region first: the rows are those of [`Solved`].
//!
//! # Why
//! - A cell is worked out to twice the length of an `f64` with a bound; where the nearest `f64` is not sure, exact
//!   arithmetic tells. So starts of runs, threads, levels and the solved rows cannot differ, and a test compares
//!   all bits.
//! - The deletion filter of conflicts goes through the members in one order and every step of it is proved, so what
//!   it leaves depends on the brief alone. A region of a conflict is where each of its steps comes out the same: the
//!   members conflict, and what the filter has beside each of them when it is tried can be met without it.
//! - The shares of a lattice move one column of the program (the amount of one part), so `m` members are `m - 1`
//!   directions without products among them.

mod coordinate;
mod forms;
mod prepared;
mod run;
mod state;
#[cfg(test)]
mod tests;
mod work;

use std::collections::VecDeque;
use std::ops::Range;
use std::sync::{Arc, Mutex};

use coordinate::Coordinate;
use forms::{MOST_DIRECTIONS, MOST_POINTS};
use state::{State, meets_other_end};
use work::Work;

use super::definition::Sweep;
use super::fill::Each;
use super::level::Level;
use super::query::Query;
use super::solved::Solved;
use crate::error::Error;
use crate::number::Exact;

/// Rows handed on together at most.
const BLOCK: usize = 1024;
/// Regions are looked for anew on every thread.
const ROWS_OF_A_THREAD: u64 = 1 << 14;
/// Sweeps of fewer rows are solved row by row: making a region takes as long as some rows.
const FEWEST_ROWS: u64 = 48;
/// Combinations of the other axes whose regions are kept.
const STATES: usize = 256;

/// Fills rows region by region.
pub(super) struct Regions<'a> {
    solved: Solved<'a>,
    /// The innermost last; none where every row is solved by itself.
    coordinates: Vec<Coordinate>,
    states: Mutex<VecDeque<(u64, Option<Arc<State>>)>>,
    /// Rows that were solved by themselves.
    #[cfg(test)]
    alone: std::sync::atomic::AtomicU64,
}

impl<'a> Regions<'a> {
    /// Makes coordinates of the axes of numbers that move along lines, as many as go together.
    pub(super) fn new(sweep: &'a Sweep, level: Level) -> Result<Self, Error> {
        let mut regions = Regions {
            solved: Solved::new(sweep, Query::new(sweep, level)?)?,
            coordinates: Vec::new(),
            states: Mutex::default(),
            #[cfg(test)]
            alone: Default::default(),
        };
        let (axes, first) = (sweep.axes(), sweep.places(0));
        let mut points = 1;
        for (place, axis) in axes.iter().enumerate().rev().filter(|_| sweep.rows() >= FEWEST_ROWS) {
            let of_axis = Coordinate::of(sweep.brief(), place, axis);
            let more = of_axis.len();
            if more == 0
                || axis.len() == 1
                || regions.coordinates.len() + more > MOST_DIRECTIONS
                || points * (1 + more) > MOST_POINTS
                || meets_other_end(sweep.brief(), axes, axis)
            {
                continue;
            }
            regions.coordinates.splice(0..0, of_axis);
            if let Some(state) = regions.new_state(&first) {
                regions.states = Mutex::new(VecDeque::from([(0, Some(state))]));
                points *= 1 + more;
            } else {
                regions.coordinates.drain(..more);
            }
        }
        Ok(regions)
    }

    pub(super) fn query(&self) -> &Query {
        &self.solved.query
    }

    /// Rows that are worth a thread of their own, at least.
    pub(super) fn rows_of_a_thread(&self) -> u64 {
        if self.coordinates.is_empty() { 1 } else { ROWS_OF_A_THREAD }
    }

    /// The state at these places of the axes without coordinates, if there is one. Whatever is wrong with a row is said
    /// when it is solved.
    fn new_state(&self, places: &[usize]) -> Option<Arc<State>> {
        let made = State::new(self.solved.sweep, self.query(), &self.coordinates, places);
        made.ok().flatten().map(Arc::new)
    }

    /// The state of a combination of the axes without coordinates, made where it is not kept.
    fn state(&self, combination: u64, places: &[usize]) -> Option<Arc<State>> {
        let known =
            self.states.lock().ok().and_then(|states| {
                states.iter().find(|(known, _)| *known == combination).map(|(_, state)| state.clone())
            });
        known.unwrap_or_else(|| {
            let made = self.new_state(places);
            if let Ok(mut states) = self.states.lock() {
                states.truncate(STATES - 1);
                states.push_front((combination, made.clone()));
            }
            made
        })
    }

    /// Hands every batch of the rows to `each`: of points along the fastest axis, given the values of the others, then
    /// of the next.
    pub(super) fn fill(&self, rows: Range<u64>, each: &mut Each<'_>) -> Result<(), Error> {
        let Solved { sweep, query, .. } = &self.solved;
        let Some((innermost, outer)) = self.coordinates.split_last() else { return self.solved.fill(rows, each) };
        let (axes, offsets) = (sweep.axes(), &innermost.offsets);
        let stepped: Vec<usize> =
            (0..axes.len()).filter(|axis| self.coordinates.iter().all(|coordinate| coordinate.axis != *axis)).collect();
        let fastest = (0..axes.len()).rev().find(|axis| axes[*axis].len() > 1);
        let block = usize::try_from(rows.end - rows.start).unwrap_or(BLOCK).min(BLOCK);
        let mut work = Work::new(query.numbers(), block, outer.len());
        let mut first = rows.start;
        while first < rows.end {
            let places = sweep.places(first);
            let index = |coordinate: &Coordinate| coordinate.index(&axes[coordinate.axis], places[coordinate.axis]);
            let combination =
                stepped.iter().fold(0, |known, axis| known * axes[*axis].len() as u64 + places[*axis] as u64);
            let start = index(innermost);
            let mut region = None;
            if let Some(state) = work.go_to(combination, || self.state(combination, &places)) {
                work.stand(outer, index);
                region = work.find(&state, offsets, start);
                if region.is_none() {
                    let here = |coordinate: &Coordinate| coordinate.offsets.exact[index(coordinate)].clone();
                    let here: Vec<Exact> = self.coordinates.iter().map(here).collect();
                    if state.look(sweep, query, &self.coordinates, first, &here)? {
                        region = work.find(&state, offsets, start);
                    }
                }
            }
            let Some(region) = region else {
                #[cfg(test)]
                self.alone.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
                self.solved.fill(first..first + 1, each)?;
                first += 1;
                continue;
            };
            let along = innermost.axis;
            let run = if fastest == Some(along) { innermost.run(&axes[along], places[along]) } else { 1 };
            let most = usize::try_from(rows.end - first).unwrap_or(block).min(block).min(run);
            let end = work.end_of_run(&region, offsets, start, start + most - 1);
            work.fill(query.level, &region, offsets, start..end + 1);
            work.batch.first = first;
            query.mask(sweep.points(), &mut work.batch);
            each(&work.batch)?;
            first += work.batch.count as u64;
        }
        Ok(())
    }
}
