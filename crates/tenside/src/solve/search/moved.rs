//! What one dial moves in a program, and how a tableau follows it.
//!
//! ```text
//! a row       a_i  +  t b_i      the whole row of coefficients moves along a line; a ratio, a target, a limit
//! the costs   c    +  t d        a price
//! an end      e    +  t f        of one column or activity; a held line
//! ```
//!
//! Anything else (several rows at once, ends of some and rows of others) is no such move and is solved anew.
//!
//! With `g` the change `b_i . x` written in the nonbasic variables, and `G` what it comes to, a row that moves by `t` is followed so:
//!
//! ```text
//! its activity basic in row r       entry_rk  <-  entry_rk + t g_k
//! standing at an end, position p    entry_jk  <-  entry_jk - entry_jp g_k s,   value_j <- value_j - entry_jp G s,   s = t / (1 + t g_p)
//! ```
//!
//! and the slopes like the entries. This is the rank-one update of the inverse (J. Sherman, W. J. Morrison, Annals of Mathematical
//! Statistics 21, 1950; from memory).

use super::load::scale;
use super::tableau::{NONE, Side, Tableau};
use super::twofold::Twofold;
use crate::number::Exact;
use crate::solve::linear::{Column, Program, Row};

/// A divisor `1 + t g_p` below this is not divided by: the basis is nearly singular there.
pub(super) const SMALLEST_DIVISOR: f64 = 0.125;

/// A number that moves: `base + t . rate`.
#[derive(Clone, Copy, Debug, Default)]
pub(in crate::solve) struct Mover {
    pub(super) base: Twofold,
    pub(super) rate: Twofold,
}

impl Mover {
    fn between(first: &Exact, second: &Exact, at: &Exact, step: &Exact) -> Option<Self> {
        let rate = if first == second { Exact::ZERO } else { (second - first).checked_div(step)? };
        Some(Mover { base: Twofold::of(&(first - &rate * at))?, rate: Twofold::of(&rate)? })
    }

    fn scaled(self, power: f64) -> Self {
        Mover { base: self.base.scaled(power), rate: self.rate.scaled(power) }
    }

    fn at(&self, value: Twofold) -> Option<f64> {
        self.base.plus_times(self.rate, value)
    }
}

/// What moves, in the scale of the loaded program.
#[derive(Clone, Debug)]
pub(in crate::solve) enum Moved<const WIDTH: usize> {
    /// The coefficients of a row.
    Row { row: usize, entries: [Mover; WIDTH] },
    /// The costs.
    Costs { costs: [Mover; WIDTH] },
    /// Ends of a variable, columns before rows; an end that is absent stays so.
    Ends { variable: usize, low: Option<Mover>, high: Option<Mover> },
    /// Nothing hangs on the dial, such as on the price of what the objective does not count.
    Nothing,
}

impl<const WIDTH: usize> Moved<WIDTH> {
    /// What moves between the program where the dial stands at `at` and that where it stands `step` further, if it is one of the three.
    /// That everything moves along a line is the caller's to know.
    pub(in crate::solve) fn between(first: &Program, second: &Program, at: &Exact, step: &Exact) -> Option<Self> {
        let (columns, rows) = (first.columns(), first.rows());
        if columns.len() != second.columns().len() || rows.len() != second.rows().len() || columns.len().max(rows.len()) > WIDTH {
            return None;
        }
        let mut moves: Vec<Self> = Vec::new();
        if columns.iter().zip(second.columns()).any(|(first, second)| first.cost != second.cost) {
            let mut costs = [Mover::default(); WIDTH];
            for (mover, (first, second)) in costs.iter_mut().zip(columns.iter().zip(second.columns())) {
                *mover = Mover::between(&first.cost, &second.cost, at, step)?;
            }
            let power = scale(&magnitudes::<WIDTH>(columns.iter().map(|column| &column.cost)));
            moves.push(Moved::Costs { costs: costs.map(|mover| mover.scaled(power)) });
        }
        let ends = |Column { low, high, .. }: &Column| (low.clone(), high.clone());
        for (index, (first, second)) in columns.iter().zip(second.columns()).enumerate() {
            if ends(first) != ends(second) {
                moves.push(Moved::ends(index, ends(first), ends(second), at, step, 1.0)?);
            }
        }
        for (index, (first, second)) in rows.iter().zip(second.rows()).enumerate() {
            let power = scale(&magnitudes::<WIDTH>(first.coefficients.iter()));
            if first.coefficients != second.coefficients {
                let mut entries = [Mover::default(); WIDTH];
                for (mover, (first, second)) in entries.iter_mut().zip(first.coefficients.iter().zip(&second.coefficients)) {
                    *mover = Mover::between(first, second, at, step)?.scaled(power);
                }
                moves.push(Moved::Row { row: index, entries });
            }
            let ends = |Row { low, high, .. }: &Row| (low.clone(), high.clone());
            if ends(first) != ends(second) {
                moves.push(Moved::ends(columns.len() + index, ends(first), ends(second), at, step, power)?);
            }
        }
        match moves.len() {
            0 => Some(Moved::Nothing),
            1 => moves.pop(),
            _ => None,
        }
    }

    fn ends(
        variable: usize,
        first: (Option<Exact>, Option<Exact>),
        second: (Option<Exact>, Option<Exact>),
        at: &Exact,
        step: &Exact,
        power: f64,
    ) -> Option<Self> {
        let end = |first: Option<Exact>, second: Option<Exact>| match (first, second) {
            (None, None) => Some(None),
            (Some(first), Some(second)) => Some(Some(Mover::between(&first, &second, at, step)?.scaled(power))),
            _ => None,
        };
        Some(Moved::Ends { variable, low: end(first.0, second.0)?, high: end(first.1, second.1)? })
    }

    /// The rates of what moves, as `f64`, one a column; nothing moves in the columns of an end.
    pub(super) fn rates(&self) -> [f64; WIDTH] {
        match self {
            Moved::Row { entries: movers, .. } | Moved::Costs { costs: movers } => movers.map(|mover| mover.rate.nearest()),
            Moved::Ends { .. } | Moved::Nothing => [0.0; WIDTH],
        }
    }
}

fn magnitudes<'a, const WIDTH: usize>(numbers: impl Iterator<Item = &'a Exact>) -> [f64; WIDTH] {
    let mut all = [0.0; WIDTH];
    all.iter_mut().zip(numbers).for_each(|(all, number)| *all = number.to_f64());
    all
}

impl<const WIDTH: usize> Tableau<WIDTH> {
    /// States what moves anew where the dial stands at `value`, in a tableau that no search has changed; nothing where a number is out of
    /// scale or cancels.
    pub(super) fn state(&mut self, moved: &Moved<WIDTH>, value: Twofold) -> Option<()> {
        match moved {
            Moved::Row { row, entries: movers } => {
                let mut entries = [0.0; WIDTH];
                for (entry, mover) in entries.iter_mut().zip(movers).take(self.columns()) {
                    *entry = mover.at(value)?;
                }
                let spot = self.basic[*row];
                self.follow(*row, spot, entries);
            }
            Moved::Costs { costs } => {
                for (position, mover) in costs.iter().enumerate().take(self.columns()) {
                    let slope = mover.at(value)?;
                    let side = if slope < 0.0 { Side::High } else { Side::Low };
                    let spot = self.nonbasic[position];
                    if !spot.end(side).is_finite() {
                        return None;
                    }
                    self.sides[position] = side;
                    self.slopes[position] = slope;
                }
                self.follow_anew();
            }
            Moved::Ends { variable, low, high } => {
                let end = |mover: &Option<Mover>, absent: f64| mover.map_or(Some(absent), |mover| mover.at(value));
                let (low, high) = (end(low, f64::NEG_INFINITY)?, end(high, f64::INFINITY)?);
                if low > high {
                    return None;
                }
                self.turn_ends(*variable, low, high);
                self.follow_anew();
            }
            Moved::Nothing => {}
        }
        Some(())
    }

    /// Follows `start`, which `moved` was just stated anew in, from `before`; nothing where the basis is nearly singular there.
    pub(super) fn turn(&mut self, moved: &Moved<WIDTH>, before: &Moving<WIDTH>, start: &Self) -> Option<()> {
        match (moved, before) {
            (Moved::Row { row, .. }, Moving::Row(entries)) => {
                let mut change = start.entries[*row];
                change.iter_mut().zip(entries).for_each(|(change, before)| *change -= before);
                self.turn_row(*row, &change)
            }
            (Moved::Costs { .. }, Moving::Costs(slopes)) => {
                let mut change = start.slopes;
                change.iter_mut().zip(slopes).for_each(|(change, before)| *change -= before);
                let along = self.expressed(&change);
                self.slopes.iter_mut().zip(&along).for_each(|(slope, change)| *slope += change);
                Some(())
            }
            (Moved::Ends { variable, .. }, Moving::Ends) => {
                let spot = start.spot_of(*variable);
                self.turn_ends(*variable, spot.low, spot.high);
                Some(())
            }
            (Moved::Nothing, Moving::Ends) => Some(()),
            _ => None,
        }
    }

    /// What moves, as it stands here.
    pub(super) fn moving(&self, moved: &Moved<WIDTH>) -> Moving<WIDTH> {
        match moved {
            Moved::Row { row, .. } => Moving::Row(self.entries[*row]),
            Moved::Costs { .. } => Moving::Costs(self.slopes),
            Moved::Ends { .. } | Moved::Nothing => Moving::Ends,
        }
    }

    /// A form of the columns written in the nonbasic variables.
    pub(super) fn expressed(&self, form: &[f64; WIDTH]) -> [f64; WIDTH] {
        let mut along = [0.0; WIDTH];
        for (along, spot) in along.iter_mut().zip(&self.nonbasic[..self.columns()]) {
            if usize::from(spot.variable) < self.columns() {
                *along = form[usize::from(spot.variable)];
            }
        }
        for (factor, row) in form.iter().zip(&self.row_of[..self.columns()]).filter(|(factor, row)| **factor != 0.0 && **row != NONE) {
            for (along, entry) in along.iter_mut().zip(&self.entries[usize::from(*row)]) {
                *along += factor * entry;
            }
        }
        along
    }

    /// What a form of the nonbasic variables comes to.
    pub(super) fn worth(&self, along: &[f64; WIDTH]) -> f64 {
        (0..self.columns()).map(|position| along[position] * self.standing(position)).sum()
    }

    /// Where a variable stands: its row if it is basic, else its position.
    pub(super) fn whereabouts(&self, variable: usize) -> Whereabouts {
        match self.basic[..self.rows()].iter().position(|spot| usize::from(spot.variable) == variable) {
            Some(row) => Whereabouts::Basic(row),
            None => Whereabouts::Standing(self.nonbasic[..self.columns()].iter().position(|spot| usize::from(spot.variable) == variable).unwrap_or(0)),
        }
    }

    fn turn_row(&mut self, row: usize, change: &[f64; WIDTH]) -> Option<()> {
        let along = self.expressed(change);
        let worth = self.worth(&along);
        match self.whereabouts(self.columns() + row) {
            Whereabouts::Basic(row) => {
                self.values[row] += worth;
                self.entries[row].iter_mut().zip(&along).for_each(|(entry, change)| *entry += change);
            }
            Whereabouts::Standing(position) => {
                let divisor = 1.0 + along[position];
                if divisor.is_nan() || divisor < SMALLEST_DIVISOR {
                    return None;
                }
                let share = along.map(|change| change / divisor);
                let moved = worth / divisor;
                let rows = self.rows();
                for (entries, value) in self.entries[..rows].iter_mut().zip(&mut self.values) {
                    let factor = entries[position];
                    if factor != 0.0 {
                        *value -= factor * moved;
                        entries.iter_mut().zip(&share).for_each(|(entry, share)| *entry -= factor * share);
                    }
                }
                let factor = self.slopes[position];
                self.slopes.iter_mut().zip(&share).for_each(|(slope, share)| *slope -= factor * share);
            }
        }
        Some(())
    }

    /// Gives a variable other ends; what stands at one moves with it.
    pub(super) fn turn_ends(&mut self, variable: usize, low: f64, high: f64) {
        match self.whereabouts(variable) {
            Whereabouts::Basic(row) => (self.basic[row].low, self.basic[row].high) = (low, high),
            Whereabouts::Standing(position) => {
                let before = self.standing(position);
                (self.nonbasic[position].low, self.nonbasic[position].high) = (low, high);
                self.shift(position, self.standing(position) - before);
            }
        }
    }
}

/// Where a variable stands in a tableau.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Whereabouts {
    /// Basic in this row.
    Basic(usize),
    /// Nonbasic at this position.
    Standing(usize),
}

/// What moved, before it moved.
pub(super) enum Moving<const WIDTH: usize> {
    Row([f64; WIDTH]),
    Costs([f64; WIDTH]),
    Ends,
}
