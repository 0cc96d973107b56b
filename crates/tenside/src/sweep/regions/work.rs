//! The rows of a run filled from the region they are in.

use std::collections::VecDeque;
use std::ops::Range;
use std::sync::Arc;

use super::coordinate::{Coordinate, Offsets};
use super::forms::{Along, Outer, Valued, at};
use super::prepared::{Kind, Prepared, Quotient};
use super::run::{Steps, fill};
use super::state::State;
use crate::number::{DoubleDouble, Exact};
use crate::sweep::fill::Batch;
use crate::sweep::level::Level;

/// Combinations of the stepped axes whose regions stay at hand.
const MOST_KNOWN: usize = 256;

/// The regions of one combination of the stepped axes, as far as they were looked at.
struct Known {
    combination: u64,
    state: Option<Arc<State>>,
    /// The last one used first.
    regions: Vec<Arc<Prepared>>,
}

/// Where the columns of a run are filled, and the regions at hand.
pub(super) struct Work {
    /// The combination at hand first.
    known: VecDeque<Known>,
    /// Where the outer coordinates stand.
    indices: Vec<usize>,
    outer: Outer,
    /// The conditions of the region at hand, and their signs at the row where the run begins.
    along: Vec<(Along, i8)>,
    steps: Vec<Steps>,
    pub(super) batch: Batch,
    doubtful: Vec<bool>,
}

impl Work {
    /// For runs of so many rows at most.
    pub(super) fn new(numbers: usize, rows: usize, coordinates: usize) -> Self {
        Work {
            known: VecDeque::new(),
            indices: vec![usize::MAX; coordinates],
            outer: Outer::new(std::iter::empty()),
            along: Vec::new(),
            steps: Vec::new(),
            batch: Batch::new(numbers, rows),
            doubtful: vec![false; rows],
        }
    }

    /// Goes to a combination, whose state is asked for where it is not at hand; `None` if its rows are solved by
    /// themselves.
    pub(super) fn go_to(&mut self, combination: u64, state: impl FnOnce() -> Option<Arc<State>>) -> Option<Arc<State>> {
        let known = match self.known.iter().position(|known| known.combination == combination) {
            Some(place) => self.known.remove(place),
            None => Some(Known { combination, state: state(), regions: Vec::new() }),
        }?;
        self.known.truncate(MOST_KNOWN - 1);
        let state = known.state.clone();
        self.known.push_front(known);
        state
    }

    /// Puts the outer coordinates where they stand at a row.
    pub(super) fn stand(&mut self, outer: &[Coordinate], index: impl Fn(&Coordinate) -> usize) {
        let mut moved = false;
        for (known, coordinate) in self.indices.iter_mut().zip(outer) {
            let now = index(coordinate);
            moved |= std::mem::replace(known, now) != now;
        }
        if moved {
            self.outer = Outer::new(outer.iter().zip(&self.indices).map(|(coordinate, index)| {
                let offsets = &coordinate.offsets;
                (&offsets.exact[*index], offsets.at(*index))
            }));
        }
    }

    /// A region of the combination at hand that holds at a row. Its conditions are then those at hand.
    pub(super) fn find(&mut self, state: &State, offsets: &Offsets, place: usize) -> Option<Arc<Prepared>> {
        let Work { known, outer, along, .. } = self;
        let regions = &mut known.front_mut()?.regions;
        let mut holds = |region: &Arc<Prepared>| {
            along.clear();
            region.conditions.iter().all(|(form, kind)| {
                let at = form.along(outer);
                let sign = form.sign(&at, outer, offsets, place);
                along.push((at, sign));
                match kind {
                    Kind::Strict => sign > 0,
                    Kind::Slack(_) => sign >= 0,
                    Kind::Watched => true,
                }
            })
        };
        let mut tried = 0;
        loop {
            if let Some(found) = regions[tried..].iter().position(&mut holds) {
                regions[..=tried + found].rotate_right(1);
                return regions.first().cloned();
            }
            tried = regions.len();
            regions.extend(state.more(tried));
            if regions.len() == tried {
                return None;
            }
        }
    }

    /// The last row up to `last` at which every sign is what it is at the row where the run begins. Each sign is that
    /// of a linear function, so the rows in between have it too.
    pub(super) fn end_of_run(&self, region: &Prepared, offsets: &Offsets, place: usize, last: usize) -> usize {
        let same = |place: usize| {
            let mut signs = region.conditions.iter().zip(&self.along);
            signs.all(|((form, _), (along, sign))| form.sign(along, &self.outer, offsets, place) == *sign)
        };
        if same(last) {
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

    /// Fills a run of rows from its region.
    pub(super) fn fill(&mut self, level: Level, region: &Prepared, offsets: &Offsets, rows: Range<usize>) {
        let Work { outer, along, steps, batch, doubtful, .. } = self;
        let count = rows.len();
        let code = region.conditions.iter().zip(&*along).fold(region.code, |code, ((_, kind), (_, sign))| match kind {
            Kind::Slack(bits) if *sign == 0 => code | bits,
            _ => code,
        });
        let (binding, conflict) = if region.is_conflict { (0, code) } else { (code, 0) };
        batch.count = count;
        batch.feasible[..count].fill(!region.is_conflict);
        batch.binding[..count].fill(binding);
        batch.conflict[..count].fill(conflict);
        if region.is_conflict {
            batch.numbers.iter_mut().for_each(|series| series.same = Some(0.0));
        }
        let start = offsets.at(rows.start);
        // Over each denominator: its inverse, its bend, and whether its steps are worked out.
        let mut below = Vec::with_capacity(region.denominators.len());
        for denominator in &region.denominators {
            let (alpha, beta) = denominator.along(outer);
            let inverse = alpha.plus(beta.times(start)).inverse();
            let bend = if denominator.is_level() { DoubleDouble::default() } else { beta.times(inverse) };
            below.push((inverse, bend, false));
        }
        while steps.len() < below.len() {
            steps.push(Steps::sized(doubtful.len()));
        }
        for (number, (series, missing)) in region.numbers.iter().zip(batch.numbers.iter_mut().zip(&mut batch.missing)) {
            let has_value = number.needs.iter().all(|(condition, least)| along[*condition].1 >= *least);
            missing[..count].fill(!has_value);
            let (numerator, denominator) = match &number.value {
                Quotient::Of { numerator, denominator } if has_value => (numerator, *denominator),
                constant => {
                    series.same = Some(
                        if let Quotient::Constant(value) = constant
                            && has_value
                        {
                            *value
                        } else {
                            0.0
                        },
                    );
                    continue;
                }
            };
            let steps = &mut steps[denominator];
            let (inverse, bend, is_worked_out) = &mut below[denominator];
            if !std::mem::replace(is_worked_out, true) {
                let (high, low) = (&offsets.high[rows.clone()], &offsets.low[rows.clone()]);
                level.run(
                    #[inline(always)]
                    || steps.fill(high, low, *bend),
                );
            }
            let (alpha, beta) = numerator.along(outer);
            let value = alpha.plus(beta.times(start)).times(*inverse);
            let rate = beta.times(*inverse).minus(value.times(*bend));
            series.same = steps.level(value, rate);
            if series.same.is_some() {
                continue;
            }
            let (cells, doubtful) = (&mut series.each[..count], &mut doubtful[..count]);
            let is_sure = level.run(
                #[inline(always)]
                || fill(value, rate, steps, cells, doubtful),
            );
            if !is_sure {
                for place in (0..count).filter(|place| doubtful[*place]) {
                    let tau = &offsets.exact[rows.start + place];
                    cells[place] = settled(numerator, &region.denominators[denominator], outer, tau);
                }
            }
        }
    }
}

/// The `f64` nearest to a quotient in exact arithmetic.
#[cold]
fn settled(numerator: &Valued, denominator: &Valued, outer: &Outer, tau: &Exact) -> f64 {
    let value = at(&numerator.exact, outer, tau).checked_div(&at(&denominator.exact, outer, tau));
    value.map_or(0.0, |value| value.to_f64())
}
