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
mod weighing;
mod work;

use std::collections::VecDeque;
use std::ops::Range;
use std::sync::{Arc, Mutex};

use coordinate::{Coordinate, at_origin};
use forms::{MOST_DIRECTIONS, MOST_POINTS};
use state::{State, meets_other_end};
use work::Work;

use super::axis::Axis;
use super::definition::Sweep;
use super::fill::{Batch, Fill};
use super::level::Level;
use super::points::turned;
use super::query::Query;
use super::solved::Solved;
use crate::brief::Brief;
use crate::error::Error;
use crate::number::Exact;
use crate::solve::ParametricProgram;

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
    sweep: &'a Sweep,
    solved: Solved<'a>,
    level: Level,
    columns: usize,
    /// The innermost last.
    coordinates: Vec<Coordinate>,
    ends: Vec<(f64, f64)>,
    /// The axes without coordinates.
    stepped: Vec<usize>,
    states: Mutex<VecDeque<(u64, Option<Arc<State>>)>>,
    /// Rows that were solved by themselves.
    #[cfg(test)]
    alone: std::sync::atomic::AtomicU64,
}

impl<'a> Regions<'a> {
    /// `None` if no axis has numbers that move along lines.
    pub(super) fn new(sweep: &'a Sweep, query: &Query) -> Result<Option<Self>, Error> {
        if sweep.rows() < FEWEST_ROWS {
            return Ok(None);
        }
        let axes = sweep.axes();
        let mut coordinates: Vec<Coordinate> = Vec::new();
        let mut points = 1;
        for place in (0..axes.len()).rev().filter(|place| axes[*place].len() > 1) {
            let of_axis = Coordinate::of(sweep.brief(), place, &axes[place]);
            if of_axis.is_empty()
                || coordinates.len() + of_axis.len() > MOST_DIRECTIONS
                || points * (1 + of_axis.len()) > MOST_POINTS
                || meets_other_end(sweep.brief(), axes, &axes[place])
            {
                continue;
            }
            let is_affine = |brief: Brief| {
                let directions: Vec<_> =
                    of_axis.iter().map(|coordinate| coordinate.direction_in(sweep.brief(), &brief)).collect();
                matches!(ParametricProgram::new(&brief, &directions), Ok(Some(_)))
            };
            // Whatever is wrong with a row is said when it is solved.
            if origin(sweep, &of_axis, &sweep.places(0)).is_ok_and(is_affine) {
                points *= 1 + of_axis.len();
                coordinates.splice(0..0, of_axis);
            }
        }
        while let Some(outermost) = coordinates.first().map(|coordinate| coordinate.axis) {
            let stepped: Vec<usize> =
                (0..axes.len()).filter(|axis| coordinates.iter().all(|coordinate| coordinate.axis != *axis)).collect();
            let places = sweep.places(0);
            let brief = origin(sweep, &coordinates, &places);
            if let Ok(Some(first)) = brief.and_then(|brief| State::new(sweep, query, &coordinates, brief, &places)) {
                return Ok(Some(Regions {
                    solved: Solved::new(sweep, query)?,
                    level: query.level,
                    columns: query.measures.len() + usize::from(query.objective == Some(query.measures.len())),
                    states: Mutex::new(VecDeque::from([(0, Some(Arc::new(first)))])),
                    ends: coordinates.iter().map(|coordinate| coordinate.offsets.ends()).collect(),
                    sweep,
                    coordinates,
                    stepped,
                    #[cfg(test)]
                    alone: Default::default(),
                }));
            }
            coordinates.retain(|coordinate| coordinate.axis != outermost);
        }
        Ok(None)
    }

    /// Which combination of the stepped axes a row has.
    fn combination(&self, places: &[usize]) -> u64 {
        self.stepped
            .iter()
            .fold(0, |combination, axis| combination * self.sweep.axes()[*axis].len() as u64 + places[*axis] as u64)
    }

    /// The state of a combination, made where it is not kept.
    fn state(&self, combination: u64, places: &[usize]) -> Option<Arc<State>> {
        let known = |states: &VecDeque<(u64, Option<Arc<State>>)>| {
            states.iter().find(|(known, _)| *known == combination).map(|(_, state)| state.clone())
        };
        if let Some(state) = self.states.lock().ok().and_then(|states| known(&states)) {
            return state;
        }
        let brief = origin(self.sweep, &self.coordinates, places).ok();
        let made = brief
            .and_then(|brief| {
                State::new(self.sweep, self.solved.query(), &self.coordinates, brief, places).ok().flatten()
            })
            .map(Arc::new);
        let Ok(mut states) = self.states.lock() else { return made };
        if let Some(state) = known(&states) {
            return state;
        }
        if states.len() == STATES {
            states.pop_front();
        }
        states.push_back((combination, made.clone()));
        made
    }
}

/// The brief at these places of the stepped axes, every coordinate at its origin.
fn origin(sweep: &Sweep, coordinates: &[Coordinate], places: &[usize]) -> Result<Brief, Error> {
    let axes = sweep.axes();
    let has_coordinates = |axis: usize| coordinates.iter().any(|coordinate| coordinate.axis == axis);
    let mut middle = places.to_vec();
    (0..axes.len()).filter(|axis| has_coordinates(*axis)).for_each(|axis| middle[axis] = axes[axis].len() / 2);
    let lattices = (0..axes.len()).filter(|axis| has_coordinates(*axis) && matches!(axes[*axis], Axis::Lattice { .. }));
    lattices.into_iter().try_fold(turned(sweep.brief(), axes, &middle)?, |brief, axis| at_origin(&brief, &axes[axis]))
}

impl Fill for Regions<'_> {
    fn fill(&self, rows: Range<u64>, each: &mut dyn FnMut(&Batch<'_>) -> bool) -> Result<bool, Error> {
        let (axes, Some(innermost)) = (self.sweep.axes(), self.coordinates.last()) else {
            return self.solved.fill(rows, each);
        };
        let fastest = (0..axes.len()).rev().find(|axis| axes[*axis].len() > 1);
        let block = usize::try_from(rows.end - rows.start).unwrap_or(BLOCK).min(BLOCK);
        let lines = if self.solved.query().lines { self.sweep.brief().lines().len() } else { 0 };
        let mut work = Work::new(lines, self.columns, block, self.coordinates.len());
        let mut first = rows.start;
        while first < rows.end {
            let places = self.sweep.places(first);
            let along = &axes[innermost.axis];
            let run = if fastest == Some(innermost.axis) { innermost.run(along, places[innermost.axis]) } else { 1 };
            let count = usize::try_from(rows.end - first).unwrap_or(usize::MAX).min(run);
            let combination = self.combination(&places);
            if !work.is_at(combination) {
                work.go_to(combination, || self.state(combination, &places));
            }
            let Some(state) = work.state() else {
                // Nothing along this line is a region.
                if !self.solved.fill(first..first + count as u64, each)? {
                    return Ok(false);
                }
                first += count as u64;
                continue;
            };
            let index = |coordinate: &Coordinate| coordinate.index(&axes[coordinate.axis], places[coordinate.axis]);
            work.stand(&self.coordinates, index);
            let start = index(innermost);
            let offsets = &innermost.offsets;
            let tau = |place: usize| (offsets.high[place], &offsets.exact[place]);
            let mut found = work.find(&state, tau(start));
            if !found {
                let here: Vec<Exact> = self
                    .coordinates
                    .iter()
                    .map(|coordinate| coordinate.offsets.exact[index(coordinate)].clone())
                    .collect();
                found = state.look(self.sweep, first, &here, &self.coordinates, &self.ends)?
                    && work.find(&state, tau(start));
            }
            if !found {
                #[cfg(test)]
                self.alone.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
                if !self.solved.fill(first..first + 1, each)? {
                    return Ok(false);
                }
                first += 1;
                continue;
            }
            let end = work.end_of_run(start, start + count - 1, tau);
            let origin = offsets.at(start);
            work.start_run(&origin);
            let mut from = start;
            while from <= end {
                let rows = (end + 1 - from).min(block);
                let along = run::Along {
                    high: &offsets.high[from..from + rows],
                    low: &offsets.low[from..from + rows],
                    start: origin,
                };
                work.fill_batch(self.level, &along, &offsets.exact[from..from + rows]);
                if !each(&work.columns.batch(first + (from - start) as u64, rows)) {
                    return Ok(false);
                }
                from += rows;
            }
            first += (end + 1 - start) as u64;
        }
        Ok(true)
    }

    fn rows_of_a_thread(&self) -> u64 {
        ROWS_OF_A_THREAD
    }
}
