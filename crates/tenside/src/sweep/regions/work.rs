//! The rows of a run filled from the region they are in.

use std::collections::VecDeque;
use std::sync::Arc;

use super::coordinate::Coordinate;
use super::forms::{Along, Outer, at};
use super::prepared::{Kind, Prepared, Quotient};
use super::run::{self, Steps, fill};
use super::state::State;
use crate::number::{DoubleDouble, Exact};
use crate::sweep::fill::{Columns, Percents};
use crate::sweep::level::Level;

/// Combinations of the stepped axes whose regions stay at hand.
const MOST_KNOWN: usize = 256;

/// A column along the run at hand.
#[derive(Clone, Copy, Debug)]
enum Cells {
    Same(f64),
    /// What is in every row is not sure to be rounded right: exact arithmetic tells.
    Level,
    Moving {
        value: DoubleDouble,
        rate: DoubleDouble,
        denominator: usize,
    },
    Missing,
}

/// The regions of one combination of the stepped axes, as far as they were looked at.
struct Known {
    combination: u64,
    state: Option<Arc<State>>,
    regions: Vec<Arc<Prepared>>,
    /// Places among the regions, the last one used first.
    recent: Vec<usize>,
}

/// Where the columns of a run are filled, and the regions at hand.
pub(super) struct Work {
    /// Rows filled together at most.
    block: usize,
    /// The combination at hand first.
    known: VecDeque<Known>,
    /// Where the outer coordinates stand.
    indices: Vec<usize>,
    outer: Outer,
    /// The conditions of the region at hand, and their signs at the row where the run begins.
    along: Vec<Along>,
    signs: Vec<i8>,
    /// The columns of the run: lines, then measures.
    cells: Vec<Cells>,
    bends: Vec<Option<DoubleDouble>>,
    steps: Vec<Steps>,
    pub(super) columns: Columns,
    /// The memory of lines that are the same in every row.
    spare: Vec<Vec<f64>>,
    doubtful: Vec<bool>,
}

impl Work {
    /// For so many lines that are wanted, all or none.
    pub(super) fn new(lines: usize, measures: usize, block: usize, coordinates: usize) -> Self {
        Work {
            block,
            known: VecDeque::new(),
            indices: vec![usize::MAX; coordinates],
            outer: Outer::new(std::iter::empty()),
            along: Vec::new(),
            signs: Vec::new(),
            cells: Vec::new(),
            bends: Vec::new(),
            steps: Vec::new(),
            columns: Columns::new(lines, measures, block),
            spare: Vec::new(),
            doubtful: vec![false; block],
        }
    }

    pub(super) fn is_at(&self, combination: u64) -> bool {
        self.known.front().is_some_and(|known| known.combination == combination)
    }

    /// Goes to a combination, whose state is asked for where it is not at hand.
    pub(super) fn go_to(&mut self, combination: u64, state: impl FnOnce() -> Option<Arc<State>>) {
        let known = match self.known.iter().position(|known| known.combination == combination) {
            Some(place) => self.known.remove(place),
            None => Some(Known { combination, state: state(), regions: Vec::new(), recent: Vec::new() }),
        };
        self.known.extend(known);
        self.known.rotate_right(1);
        self.known.truncate(MOST_KNOWN);
    }

    /// The state of the combination at hand; `None` if its rows are solved by themselves.
    pub(super) fn state(&self) -> Option<Arc<State>> {
        self.known.front()?.state.clone()
    }

    /// Puts the outer coordinates where they stand at a row.
    pub(super) fn stand(&mut self, coordinates: &[Coordinate], index: impl Fn(&Coordinate) -> usize) {
        let (_, outer) = coordinates.split_last().map_or((None, [].as_slice()), |(last, outer)| (Some(last), outer));
        let mut moved = false;
        for (known, coordinate) in self.indices.iter_mut().zip(outer) {
            let now = index(coordinate);
            moved |= std::mem::replace(known, now) != now;
        }
        if moved {
            let offsets = outer.iter().zip(&self.indices).map(|(coordinate, index)| coordinate.offsets.both_at(*index));
            self.outer = Outer::new(offsets);
        }
    }

    /// Finds a region that holds at a row, and puts it first.
    pub(super) fn find(&mut self, state: &State, tau: (f64, &Exact)) -> bool {
        let Some(mut known) = self.known.pop_front() else { return false };
        let before = known.regions.len();
        let mut found = known.recent.iter().position(|region| self.holds(&known.regions[*region], tau));
        if found.is_none() {
            known.regions.extend(state.more(before));
            known.recent.extend(before..known.regions.len());
            found = (before..known.regions.len()).find(|region| self.holds(&known.regions[*region], tau));
        }
        if let Some(place) = found {
            known.recent[..=place].rotate_right(1);
        }
        self.known.push_front(known);
        found.is_some()
    }

    /// Whether a region holds at a row; its conditions are then those at hand.
    fn holds(&mut self, region: &Prepared, (tau, exact): (f64, &Exact)) -> bool {
        self.along.clear();
        self.signs.clear();
        for (form, kind) in &region.conditions {
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

    /// The region at hand, once one was found.
    fn region(&self) -> Option<&Arc<Prepared>> {
        let known = self.known.front()?;
        known.regions.get(*known.recent.first()?)
    }

    /// The last row up to `last` at which every sign is what it is at the row where the run begins. Each sign is that
    /// of a linear function, so the rows in between have it too.
    pub(super) fn end_of_run<'e>(&self, place: usize, last: usize, tau: impl Fn(usize) -> (f64, &'e Exact)) -> usize {
        let Some(region) = self.region() else { return place };
        let conditions = &region.conditions;
        let same = |place: usize| {
            let (tau, exact) = tau(place);
            conditions
                .iter()
                .zip(&self.along)
                .zip(&self.signs)
                .all(|(((form, _), along), sign)| form.sign(along, &self.outer, tau, exact) == *sign)
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
    pub(super) fn start_run(&mut self, start: &DoubleDouble) {
        let Some(region) = self.region().cloned() else { return };
        self.cells.clear();
        self.bends.clear();
        if region.is_conflict {
            return;
        }
        // Over each denominator: its inverse and its bend.
        let mut below = Vec::with_capacity(region.denominators.len());
        for denominator in &region.denominators {
            let (alpha, beta) = denominator.along(&self.outer);
            let inverse = alpha.plus(beta.times(*start)).inverse();
            let bend = if denominator.is_level() { DoubleDouble::default() } else { beta.times(inverse) };
            below.push((inverse, bend));
            self.bends.push(None);
        }
        let has_value = |watched: Option<usize>, least: i8| watched.is_none_or(|place| self.signs[place] >= least);
        let lines = region.lines.iter().take(self.columns.lines.len()).map(|quotient| (quotient, true));
        let measures = region
            .measures
            .iter()
            .map(|measure| (&measure.value, has_value(measure.denominator, 1) && has_value(measure.water, 0)));
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

    pub(super) fn fill_batch(&mut self, level: Level, along: &run::Along<'_>, exact: &[Exact]) {
        let Some(region) = self.region().cloned() else { return };
        let count = exact.len();
        self.columns.feasible[..count].fill(!region.is_conflict);
        let zeros = region.conditions.iter().zip(&self.signs).filter(|(_, sign)| **sign == 0);
        let code = zeros
            .fold(region.code, |code, ((_, kind), _)| if let Kind::Slack(bits) = kind { code | bits } else { code });
        self.columns.binding[..count].fill(if region.is_conflict { 0 } else { code });
        self.columns.conflict[..count].fill(if region.is_conflict { code } else { 0 });
        if region.is_conflict {
            return;
        }
        for (bend, steps) in self.bends.iter().zip(&mut self.steps) {
            if let Some(bend) = bend {
                level.run(
                    #[inline(always)]
                    || steps.fill(along, *bend),
                );
            }
        }
        let lines = self.columns.lines.len();
        let quotients = region.lines.iter().take(lines).chain(region.measures.iter().map(|measure| &measure.value));
        for (column, (cell, quotient)) in self.cells.iter().zip(quotients).enumerate() {
            let into = match column.checked_sub(lines) {
                Some(measure) => {
                    self.columns.missing[measure][..count].fill(matches!(cell, Cells::Missing));
                    &mut self.columns.measures[measure][..count]
                }
                None => {
                    if let Cells::Same(value) = cell {
                        if let Percents::Each(cells) =
                            std::mem::replace(&mut self.columns.lines[column], Percents::Same(*value))
                        {
                            self.spare.push(cells);
                        }
                        continue;
                    }
                    if let Percents::Same(_) = self.columns.lines[column] {
                        self.columns.lines[column] =
                            Percents::Each(self.spare.pop().unwrap_or_else(|| vec![0.0; self.block]));
                    }
                    let Percents::Each(cells) = &mut self.columns.lines[column] else { continue };
                    &mut cells[..count]
                }
            };
            match cell {
                Cells::Missing => into.fill(0.0),
                Cells::Same(value) => into.fill(*value),
                Cells::Level => into.fill(settled(quotient, &region, &self.outer, &exact[0])),
                Cells::Moving { value, rate, denominator } => {
                    let doubtful = &mut self.doubtful[..count];
                    let steps = &self.steps[*denominator];
                    let is_sure = level.run(
                        #[inline(always)]
                        || fill(*value, *rate, steps, into, doubtful),
                    );
                    if !is_sure {
                        for place in (0..count).filter(|place| doubtful[*place]) {
                            into[place] = settled(quotient, &region, &self.outer, &exact[place]);
                        }
                    }
                }
            }
        }
    }
}

/// The `f64` nearest to a quotient in exact arithmetic.
#[cold]
fn settled(quotient: &Quotient, region: &Prepared, outer: &Outer, tau: &Exact) -> f64 {
    match quotient {
        Quotient::Of { numerator, denominator, .. } => {
            let below = at(&region.denominators[*denominator].exact, outer, tau);
            at(&numerator.exact, outer, tau).checked_div(&below).map_or(0.0, |value| value.to_f64())
        }
        Quotient::Constant(value) => *value,
        Quotient::Missing => 0.0,
    }
}
