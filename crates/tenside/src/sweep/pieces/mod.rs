//! Sweeps of briefs that their equations do not determine, along dials: one basis after the other as a quotient of polynomials.
//!
//! Where a row is in no piece that is known, its basis is named by the search and made a piece (`solve/piece.rs`). A run of rows along the
//! innermost dial ends where a condition of its piece fails; both ends are judged by the conditions themselves, in `f64` with a bound and
//! exactly where that leaves a sign open, and between them they hold because each is a linear function there. Rows of no piece (a tie at just
//! that row, a conflict with other reasons) are solved by themselves.
//!
//! Cells are the `f64` nearest to the exact solution, flags and codes are exact, so nothing depends on which piece filled a row, on where a run
//! began, or on which thread found a piece first: the rows are those of [`Solved`].

mod forms;
mod ready;
mod run;
mod state;
mod sure;
#[cfg(test)]
mod tests;

use std::collections::VecDeque;
use std::ops::Range;
use std::sync::{Arc, Mutex};

use forms::{Along, MOST_DIALS, Outer, at};
use ready::{Kind, Quotient, Ready};
use run::{Steps, fill};
use state::{Offsets, State};
use sure::Sure;

use super::closed::{Level, LevelKernel, Percents, turns_numbers};
use super::column::Column;
use super::definition::Sweep;
use super::fill::{Asked, Batch, Fill};
use super::solved::Solved;
use super::turn::Axis;
use crate::error::Error;
use crate::number::Exact;

/// Rows handed on together at most.
const BLOCK: usize = 1024;
/// Sweeps of fewer rows are solved row by row: making a piece takes as long as some rows.
const FEWEST_ROWS: u64 = 48;
/// Combinations of the other axes whose pieces are kept.
const STATES: usize = 16;

/// Fills rows piece by piece.
pub(super) struct Pieces<'a> {
    sweep: &'a Sweep,
    solved: Solved<'a>,
    level: Level,
    wants_lines: bool,
    columns: usize,
    /// The innermost axes, which are dials of the pieces; the fastest last.
    dials: Vec<usize>,
    offsets: Vec<Offsets>,
    ends: Vec<(f64, f64)>,
    /// Rows of one combination of the other axes.
    rows_inside: u64,
    states: Mutex<VecDeque<(u64, Option<Arc<State>>)>>,
    scales: Vec<f64>,
    /// Rows that were solved by themselves.
    #[cfg(test)]
    alone: std::sync::atomic::AtomicU64,
}

impl<'a> Pieces<'a> {
    /// Nothing where the fastest axis is no dial whose numbers move along lines.
    pub(super) fn new(sweep: &'a Sweep, asked: &Asked) -> Result<Option<Self>, Error> {
        if sweep.rows() < FEWEST_ROWS {
            return Ok(None);
        }
        let axes = sweep.axes();
        let mut dials = Vec::new();
        for axis in (0..axes.len()).rev().filter(|axis| axes[*axis].len() > 1) {
            if dials.len() == MOST_DIALS || !matches!(axes[axis], Axis::Dial(..)) || !turns_numbers(sweep, &axes[axis]) {
                break;
            }
            dials.insert(0, axis);
        }
        while !dials.is_empty() {
            let Some(offsets) = dials.iter().map(|axis| Offsets::new(&axes[*axis])).collect::<Option<Vec<_>>>() else { return Ok(None) };
            if !offsets.last().is_some_and(Offsets::are_in_order) {
                return Ok(None);
            }
            // Whatever is wrong with a row is said when it is solved.
            if let Ok(Some(first)) = State::new(sweep, asked, &dials, &offsets, &sweep.places(0)) {
                let ends = offsets.iter().map(Offsets::ends).collect();
                return Ok(Some(Pieces {
                    solved: Solved::new(sweep, asked)?,
                    level: asked.level,
                    wants_lines: asked.may_be_unknown() || sweep.columns().iter().any(Column::reads_lines),
                    columns: asked.measures.len() + usize::from(asked.objective == Some(asked.measures.len())),
                    rows_inside: dials.iter().map(|axis| axes[*axis].len() as u64).product(),
                    states: Mutex::new(VecDeque::from([(0, Some(Arc::new(first)))])),
                    scales: vec![1.0; asked.measures.len() + 1],
                    sweep,
                    dials,
                    offsets,
                    ends,
                    #[cfg(test)]
                    alone: Default::default(),
                }));
            }
            dials.remove(0);
        }
        Ok(None)
    }

    /// The state of a combination of the other axes, made where it is not kept.
    fn state(&self, combination: u64, row: u64) -> Option<Arc<State>> {
        let known = |states: &VecDeque<(u64, Option<Arc<State>>)>| states.iter().find(|(known, _)| *known == combination).map(|(_, state)| state.clone());
        if let Some(state) = self.states.lock().ok().and_then(|states| known(&states)) {
            return state;
        }
        let made = State::new(self.sweep, self.solved.asked(), &self.dials, &self.offsets, &self.sweep.places(row)).ok().flatten().map(Arc::new);
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

impl Fill for Pieces<'_> {
    fn fill(&self, rows: Range<u64>, each: &mut dyn FnMut(&Batch<'_>) -> bool) -> Result<bool, Error> {
        let Some(fastest) = self.offsets.last() else { return self.solved.fill(rows, each) };
        let length = fastest.exact.len() as u64;
        let block = usize::try_from(rows.end - rows.start).unwrap_or(BLOCK).min(BLOCK);
        let mut work = Work::new(self, block);
        let mut combination = None;
        let mut state = None;
        let mut first = rows.start;
        let mut turned = None;
        while first < rows.end {
            if combination != Some(first / self.rows_inside) {
                combination = Some(first / self.rows_inside);
                state = self.state(first / self.rows_inside, first);
                work.forget();
                turned = None;
            }
            let place = usize::try_from(first % length).unwrap_or(0);
            let last = usize::try_from((rows.end - first - 1).min(length - 1 - place as u64)).unwrap_or(0) + place;
            let Some(state) = &state else {
                // Nothing along this line is a piece.
                if !self.solved.fill(first..first + (last - place) as u64 + 1, each)? {
                    return Ok(false);
                }
                first += (last - place) as u64 + 1;
                continue;
            };
            if turned != Some(first / length) {
                turned = Some(first / length);
                let places = self.sweep.places(first);
                let outer = self.dials.iter().zip(&self.offsets).take(self.dials.len() - 1);
                let outer: Vec<&Exact> = outer.map(|(axis, offsets)| &offsets.exact[places[*axis]]).collect();
                work.outer = Outer::new(&outer);
            }
            let tau = |place: usize| (fastest.high[place], &fastest.exact[place]);
            let mut found = work.find(state, tau(place));
            if !found {
                let places = self.sweep.places(first);
                let here: Vec<Exact> = self.dials.iter().zip(&self.offsets).map(|(axis, offsets)| offsets.exact[places[*axis]].clone()).collect();
                found = state.look(self.sweep, first, &here, &self.offsets, &self.ends)? && work.find(state, tau(place));
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
            let end = work.end_of_run(place, last, tau);
            let start = fastest.at(place);
            work.start_run(&start);
            let mut from = place;
            while from <= end {
                let count = (end + 1 - from).min(block);
                let along = run::Along { high: &fastest.high[from..from + count], low: &fastest.low[from..from + count], start };
                work.fill_batch(self, &along, &fastest.exact[from..from + count]);
                if !each(&work.batch(first + (from - place) as u64, count, &self.scales)) {
                    return Ok(false);
                }
                from += count;
            }
            first += (end + 1 - place) as u64;
        }
        Ok(true)
    }

    fn scales(&self) -> (f64, &[f64]) {
        (1.0, &self.scales)
    }

    fn is_closed(&self) -> bool {
        false
    }
}

/// A column along the run at hand.
#[derive(Clone, Copy, Debug)]
enum Cells {
    Same(f64),
    /// What is in every row is not sure to be rounded right: exact arithmetic tells.
    Level,
    Moving {
        value: Sure,
        rate: Sure,
        denominator: usize,
    },
    Missing,
}

/// Where the columns of a run are filled, and the pieces at hand.
struct Work {
    /// Rows filled together at most.
    block: usize,
    pieces: Vec<Arc<Ready>>,
    /// Places among the pieces, the last one used first.
    recent: Vec<usize>,
    outer: Outer,
    /// The conditions of the piece at hand, and their signs at the row where the run begins.
    along: Vec<Along>,
    signs: Vec<i8>,
    /// The columns of the run: lines, then measures.
    cells: Vec<Cells>,
    bends: Vec<Option<Sure>>,
    steps: Vec<Steps>,
    lines: Vec<Percents>,
    /// The memory of lines that are the same in every row.
    spare: Vec<Vec<f64>>,
    measures: Vec<Vec<f64>>,
    missing: Vec<Vec<bool>>,
    feasible: Vec<bool>,
    binding: Vec<u64>,
    conflict: Vec<u64>,
    doubtful: Vec<bool>,
}

impl Work {
    fn new(pieces: &Pieces<'_>, block: usize) -> Self {
        let lines = pieces.sweep.brief().lines().len();
        Work {
            block,
            pieces: Vec::new(),
            recent: Vec::new(),
            outer: Outer::default(),
            along: Vec::new(),
            signs: Vec::new(),
            cells: Vec::new(),
            bends: Vec::new(),
            steps: Vec::new(),
            lines: (0..lines).map(|_| Percents::Each(vec![0.0; block])).collect(),
            spare: Vec::new(),
            measures: vec![vec![0.0; block]; pieces.columns],
            missing: vec![vec![false; block]; pieces.columns],
            feasible: vec![false; block],
            binding: vec![0; block],
            conflict: vec![0; block],
            doubtful: vec![false; block],
        }
    }

    fn forget(&mut self) {
        self.pieces.clear();
        self.recent.clear();
    }

    /// Finds a piece that holds at a row, and puts it first.
    fn find(&mut self, state: &State, tau: (f64, &Exact)) -> bool {
        for place in 0..self.recent.len() {
            let piece = self.recent[place];
            if self.holds(piece, tau) {
                self.recent[..=place].rotate_right(1);
                return true;
            }
        }
        let known = self.pieces.len();
        self.pieces.extend(state.more(known));
        for piece in known..self.pieces.len() {
            self.recent.push(piece);
        }
        for piece in known..self.pieces.len() {
            if self.holds(piece, tau) {
                self.recent[..=piece].rotate_right(1);
                return true;
            }
        }
        false
    }

    /// Whether a piece holds at a row; its conditions are then those at hand.
    fn holds(&mut self, piece: usize, (tau, exact): (f64, &Exact)) -> bool {
        self.along.clear();
        self.signs.clear();
        for (form, kind) in &self.pieces[piece].conditions {
            let along = form.along(&self.outer);
            let sign = form.sign(&along, &self.outer, tau, exact);
            if match kind {
                Kind::Strict => sign <= 0,
                Kind::Slack(_) => sign < 0,
                Kind::Watched => false,
            } {
                return false;
            }
            self.along.push(along);
            self.signs.push(sign);
        }
        true
    }

    fn piece(&self) -> &Arc<Ready> {
        &self.pieces[self.recent[0]]
    }

    /// The last row up to `last` at which every sign is what it is at the row where the run begins. Each sign is that of a linear function, so
    /// the rows in between have it too.
    fn end_of_run<'e>(&self, place: usize, last: usize, tau: impl Fn(usize) -> (f64, &'e Exact)) -> usize {
        let conditions = &self.piece().conditions;
        let same = |place: usize| {
            let (tau, exact) = tau(place);
            conditions.iter().zip(&self.along).zip(&self.signs).all(|(((form, _), along), sign)| form.sign(along, &self.outer, tau, exact) == *sign)
        };
        if conditions.is_empty() || same(last) {
            return last;
        }
        let (mut inside, mut outside) = (place, last);
        while outside - inside > 1 {
            let middle = inside + (outside - inside) / 2;
            if same(middle) {
                inside = middle;
            } else {
                outside = middle;
            }
        }
        inside
    }

    /// Works out what the columns of the run are, from the row where it begins.
    fn start_run(&mut self, start: &Sure) {
        let piece = self.piece().clone();
        self.cells.clear();
        self.bends.clear();
        if piece.is_conflict {
            return;
        }
        // Over each denominator: its inverse and its bend.
        let mut below = Vec::with_capacity(piece.denominators.len());
        for denominator in &piece.denominators {
            let (alpha, beta) = denominator.along(&self.outer);
            let inverse = alpha.plus(beta.times(*start)).inverse();
            let bend = if denominator.is_level() { Sure::default() } else { beta.times(inverse) };
            below.push((inverse, bend));
            self.bends.push(None);
        }
        let has_value = |watched: Option<usize>, least: i8| watched.is_none_or(|place| self.signs[place] >= least);
        let lines = piece.lines.iter().map(|quotient| (quotient, true));
        let measures = piece.measures.iter().map(|measure| (&measure.value, has_value(measure.denominator, 1) && has_value(measure.water, 0)));
        for (quotient, has_value) in lines.chain(measures) {
            self.cells.push(match quotient {
                _ if !has_value => Cells::Missing,
                Quotient::Missing => Cells::Missing,
                Quotient::Constant(value) => Cells::Same(*value),
                Quotient::Of { numerator, denominator, level } => {
                    let (alpha, beta) = numerator.along(&self.outer);
                    let (inverse, bend) = below[*denominator];
                    let value = alpha.plus(beta.times(*start)).times(inverse);
                    if *level {
                        value.nearest().map_or(Cells::Level, Cells::Same)
                    } else {
                        let rate = beta.times(inverse).minus(value.times(bend));
                        Cells::Moving { value, rate, denominator: *denominator }
                    }
                }
            });
        }
        for cell in &self.cells {
            if let Cells::Moving { denominator, .. } = cell {
                self.bends[*denominator] = Some(below[*denominator].1);
            }
        }
        while self.steps.len() < self.bends.len() {
            self.steps.push(Steps::sized(self.block));
        }
    }

    fn fill_batch(&mut self, pieces: &Pieces<'_>, along: &run::Along<'_>, exact: &[Exact]) {
        let piece = self.piece().clone();
        let count = exact.len();
        self.feasible[..count].fill(!piece.is_conflict);
        let zeros = piece.conditions.iter().zip(&self.signs).filter(|(_, sign)| **sign == 0);
        let code = zeros.fold(piece.code, |code, ((_, kind), _)| if let Kind::Slack(bits) = kind { code | bits } else { code });
        self.binding[..count].fill(if piece.is_conflict { 0 } else { code });
        self.conflict[..count].fill(if piece.is_conflict { code } else { 0 });
        if piece.is_conflict {
            return;
        }
        for (bend, steps) in self.bends.iter().zip(&mut self.steps) {
            if let Some(bend) = bend {
                pieces.level.run(Stepping { steps, along, bend: *bend });
            }
        }
        let lines = self.lines.len();
        let quotients = piece.lines.iter().chain(piece.measures.iter().map(|measure| &measure.value));
        for (column, (cell, quotient)) in self.cells.iter().zip(quotients).enumerate().skip(if pieces.wants_lines { 0 } else { lines }) {
            let into = match column.checked_sub(lines) {
                Some(measure) => {
                    self.missing[measure][..count].fill(matches!(cell, Cells::Missing));
                    &mut self.measures[measure][..count]
                }
                None => {
                    if let Cells::Same(value) = cell {
                        if let Percents::Each(cells) = std::mem::replace(&mut self.lines[column], Percents::Same(*value)) {
                            self.spare.push(cells);
                        }
                        continue;
                    }
                    if let Percents::Same(_) = self.lines[column] {
                        self.lines[column] = Percents::Each(self.spare.pop().unwrap_or_else(|| vec![0.0; self.block]));
                    }
                    let Percents::Each(cells) = &mut self.lines[column] else { continue };
                    &mut cells[..count]
                }
            };
            match cell {
                Cells::Missing => into.fill(0.0),
                Cells::Same(value) => into.fill(*value),
                Cells::Level => into.fill(settled(quotient, &piece, &self.outer, &exact[0])),
                Cells::Moving { value, rate, denominator } => {
                    let doubtful = &mut self.doubtful[..count];
                    let steps = &self.steps[*denominator];
                    if !pieces.level.run(Filling { value: *value, rate: *rate, steps, cells: into, doubtful }) {
                        for place in (0..count).filter(|place| doubtful[*place]) {
                            into[place] = settled(quotient, &piece, &self.outer, &exact[place]);
                        }
                    }
                }
            }
        }
    }

    fn batch<'w>(&'w self, first: u64, count: usize, scales: &'w [f64]) -> Batch<'w> {
        Batch {
            first,
            count,
            lines: &self.lines,
            line_scale: 1.0,
            measures: &self.measures,
            scales,
            missing: &self.missing,
            feasible: &self.feasible,
            binding: &self.binding,
            conflict: &self.conflict,
        }
    }
}

/// The `f64` nearest to a quotient in exact arithmetic.
#[cold]
fn settled(quotient: &Quotient, piece: &Ready, outer: &Outer, tau: &Exact) -> f64 {
    match quotient {
        Quotient::Of { numerator, denominator, .. } => {
            let below = at(&piece.denominators[*denominator].exact, outer, tau);
            at(&numerator.exact, outer, tau).checked_div(&below).map_or(0.0, |value| value.to_f64())
        }
        Quotient::Constant(value) => *value,
        Quotient::Missing => 0.0,
    }
}

struct Stepping<'a, 'b> {
    steps: &'a mut Steps,
    along: &'a run::Along<'b>,
    bend: Sure,
}

impl LevelKernel for Stepping<'_, '_> {
    type Output = ();
    #[inline(always)]
    fn call(self) {
        self.steps.fill(self.along, self.bend);
    }
}

struct Filling<'a> {
    value: Sure,
    rate: Sure,
    steps: &'a Steps,
    cells: &'a mut [f64],
    doubtful: &'a mut [bool],
}

impl LevelKernel for Filling<'_> {
    type Output = bool;
    #[inline(always)]
    fn call(self) -> bool {
        fill(self.value, self.rate, self.steps, self.cells, self.doubtful)
    }
}
