//! The dictionary of the simplex method: some variables written as linear forms of the others.
//!
//! ```text
//! denominator . basic_i = sum over k of entry_ik . nonbasic_k
//! ```
//!
//! A variable is a column, or the activity of a row times that row's scale (numbered after the columns), each with its
//! range. A nonbasic variable stands at an end of its range, or at 0 if it has none. To begin with the columns are
//! nonbasic, the denominator is 1 and the entries are the rows' coefficients, scaled to whole numbers.
//!
//! All entries are and stay whole numbers over one denominator: each is a minor of the first matrix, so the division in
//! an exchange leaves no remainder and no common factor has ever to be looked for.
//!
//! Sources: the bounded-variable simplex method; smallest-index rule by R. G. Bland, New finite pivoting rules for the
//! simplex method, Mathematics of Operations Research 2 (1977); division without remainder by E. H. Bareiss,
//! Sylvester's identity and multistep integer-preserving Gaussian elimination, Mathematics of Computation 22 (1968)
//! (all from memory).

use std::cmp::Ordering;

use dashu_base::{Abs, AbsOrd, Sign, Signed, UnsignedAbs};
use dashu_int::{IBig, UBig};

use super::basis::{Basis, Place};
use super::program::Program;
use crate::exact::{Exact, common_denominator, dot};
use crate::halt::{Halt, Unwatched};

/// Steps of length 0 in a row after which the entering variable is chosen by smallest index, which cannot cycle, until
/// a step has length.
const STALLED_STEPS: usize = 12;

pub(super) struct Dictionary {
    low: Vec<Option<Exact>>,
    high: Vec<Option<Exact>>,
    /// What each variable is of its column or row: 1 for columns.
    scale: Vec<Exact>,
    values: Vec<Exact>,
    /// Variables that may not leave where they stand once they are nonbasic.
    settled: Vec<bool>,
    basic: Vec<usize>,
    nonbasic: Vec<usize>,
    /// One row a basic variable, one entry a nonbasic variable.
    entries: Vec<Vec<IBig>>,
    /// Above 0.
    denominator: IBig,
    stalled: usize,
    pivots: usize,
}

/// A linear form of the variables, written in the nonbasic ones: how it changes with each, times the denominator and a
/// scale above 0.
pub(super) struct Slopes {
    entries: Vec<IBig>,
    scale: UBig,
}

/// A nonbasic variable, by its position, and the way it moves.
#[derive(Clone, Copy)]
pub(super) struct Entering {
    position: usize,
    rises: bool,
}

/// How far the entering variable goes, and the row of the basic variable that stops it there; none where it meets its
/// own other end.
pub(super) struct Step {
    entering: Entering,
    length: Exact,
    leaving: Option<usize>,
}

impl Dictionary {
    pub(super) fn new(program: &Program) -> Self {
        let (columns, rows) = (program.columns(), program.rows());
        let mut scale = vec![Exact::ONE; columns.len()];
        let mut low: Vec<_> = columns.iter().map(|column| column.low.clone()).collect();
        let mut high: Vec<_> = columns.iter().map(|column| column.high.clone()).collect();
        let mut values: Vec<_> = columns
            .iter()
            .map(|column| column.low.as_ref().or(column.high.as_ref()).cloned().unwrap_or_default())
            .collect();
        let mut entries = Vec::with_capacity(rows.len());
        for row in rows {
            let (whole, factor) = whole_numbers(&row.coefficients);
            let factor = exact(&factor.into());
            values.push(dot(whole.iter().map(exact), &values));
            low.push(row.low.as_ref().map(|low| low * &factor));
            high.push(row.high.as_ref().map(|high| high * &factor));
            scale.push(factor);
            entries.push(whole);
        }
        Dictionary {
            settled: low.iter().zip(&high).map(|(low, high)| low.is_some() && low == high).collect(),
            basic: (columns.len()..values.len()).collect(),
            nonbasic: (0..columns.len()).collect(),
            denominator: IBig::ONE,
            stalled: 0,
            pivots: 0,
            low,
            high,
            scale,
            values,
            entries,
        }
    }

    /// The dictionary of this basis, or nothing where it is none.
    pub(super) fn at(program: &Program, basis: &Basis) -> Option<Self> {
        let mut dictionary = Dictionary::new(program);
        let columns = program.columns().len();
        let mut leaving = basis.nonbasic_rows();
        if leaving.len() != basis.basic_columns().len() {
            return None;
        }
        let mut none = Slopes { entries: vec![IBig::ZERO; columns], scale: UBig::ONE };
        for position in basis.basic_columns() {
            let found = leaving.iter().position(|&row| !dictionary.entries[row][position].is_zero())?;
            let Ok(()) = dictionary.exchange(leaving.swap_remove(found), position, &mut none, &Unwatched);
        }
        for variable in 0..dictionary.values.len() {
            match basis.place(variable) {
                Place::Basic => {}
                Place::Low => dictionary.values[variable] = dictionary.low[variable].clone()?,
                Place::High => dictionary.values[variable] = dictionary.high[variable].clone()?,
            }
        }
        for (&variable, entries) in dictionary.basic.iter().zip(&dictionary.entries) {
            let terms = entries.iter().zip(&dictionary.nonbasic).filter(|(entry, _)| !entry.is_zero());
            let sum: Exact = terms.map(|(entry, &other)| exact(entry) * &dictionary.values[other]).sum();
            dictionary.values[variable] = sum / exact(&dictionary.denominator);
        }
        Some(dictionary)
    }

    /// The value of every column.
    pub(super) fn column_values(&self) -> &[Exact] {
        &self.values[..self.nonbasic.len()]
    }

    pub(super) fn pivots(&self) -> usize {
        self.pivots
    }

    /// The form `costs . columns`.
    pub(super) fn slopes(&self, costs: &[Exact]) -> Slopes {
        let (mut costs, scale) = whole_numbers(costs);
        costs.resize(self.values.len(), IBig::ZERO);
        let mut slopes: Vec<IBig> =
            self.nonbasic.iter().map(|&variable| &costs[variable] * &self.denominator).collect();
        for (&variable, entries) in
            self.basic.iter().zip(&self.entries).filter(|(variable, _)| !costs[**variable].is_zero())
        {
            for (slope, entry) in slopes.iter_mut().zip(entries).filter(|(_, entry)| !entry.is_zero()) {
                *slope += &costs[variable] * entry;
            }
        }
        Slopes { entries: slopes, scale }
    }

    /// The sum of all violations; nothing where there is none.
    pub(super) fn violation_slopes(&self) -> Option<Slopes> {
        let mut slopes = vec![IBig::ZERO; self.nonbasic.len()];
        let mut violated = false;
        for (&variable, entries) in self.basic.iter().zip(&self.entries) {
            let violation = self.violation(variable);
            violated |= violation.is_ne();
            for (slope, entry) in slopes.iter_mut().zip(entries).filter(|(_, entry)| !entry.is_zero()) {
                match violation {
                    Ordering::Greater => *slope += entry,
                    Ordering::Less => *slope -= entry,
                    Ordering::Equal => break,
                }
            }
        }
        violated.then_some(Slopes { entries: slopes, scale: UBig::ONE })
    }

    /// The coefficient of each column and each row in the form, which has the nonbasic ones only.
    pub(super) fn multipliers(&self, slopes: &Slopes) -> Vec<Exact> {
        let mut multipliers = vec![Exact::ZERO; self.values.len()];
        let denominator = self.denominator.clone().unsigned_abs() * &slopes.scale;
        for (&variable, slope) in self.nonbasic.iter().zip(&slopes.entries) {
            multipliers[variable] = Exact::from_parts(slope.clone(), denominator.clone()) * &self.scale[variable];
        }
        multipliers
    }

    /// The multiplier of each column and each row in the proof that the violations cannot all be undone; `slopes` are
    /// those of [`violation_slopes`](Self::violation_slopes).
    pub(super) fn violation_proof(&self, slopes: &Slopes) -> Vec<Exact> {
        let mut multipliers = self.multipliers(slopes);
        for &variable in &self.basic {
            multipliers[variable] = match self.violation(variable) {
                Ordering::Less => self.scale[variable].clone(),
                Ordering::Equal => Exact::ZERO,
                Ordering::Greater => -&self.scale[variable],
            };
        }
        multipliers
    }

    /// The variable to move so that what has these slopes falls: the steepest, or the one of smallest index while the
    /// method is stalled.
    pub(super) fn entering(&self, slopes: &Slopes) -> Option<Entering> {
        let movable = (0..self.nonbasic.len()).filter(|&position| {
            let (variable, slope) = (self.nonbasic[position], &slopes.entries[position]);
            !slope.is_zero()
                && !self.settled[variable]
                && self.end_ahead(variable, slope.is_negative()) != Some(&self.values[variable])
        });
        let is_stalled = self.stalled >= STALLED_STEPS;
        let position = movable.max_by(|&one, &other| {
            let steeper =
                if is_stalled { Ordering::Equal } else { slopes.entries[one].abs_cmp(&slopes.entries[other]) };
            steeper.then(self.nonbasic[other].cmp(&self.nonbasic[one]))
        })?;
        Some(Entering { position, rises: slopes.entries[position].is_negative() })
    }

    /// The longest step before a variable would leave its range, or a violated one has come into its own; nothing where
    /// there is no end to it.
    pub(super) fn step(&self, entering: Entering) -> Option<Step> {
        let moving = self.nonbasic[entering.position];
        let length =
            |variable: usize, rises: bool| Some((self.end_ahead(variable, rises)? - &self.values[variable]).abs());
        let own = length(moving, entering.rises).map(|length| Step { entering, length, leaving: None });
        let others = self.entries.iter().enumerate().filter_map(|(row, entries)| {
            let rate = Some(&entries[entering.position]).filter(|rate| !rate.is_zero())?;
            let length = length(self.basic[row], rate.is_positive() == entering.rises)?
                * Exact::from_parts(self.denominator.clone(), rate.unsigned_abs());
            Some(Step { entering, length, leaving: Some(row) })
        });
        // Of equal steps its own end, then the least variable.
        let leaving = |step: &Step| step.leaving.map(|row| self.basic[row]);
        own.into_iter()
            .chain(others)
            .min_by(|one, other| one.length.cmp(&other.length).then_with(|| leaving(one).cmp(&leaving(other))))
    }

    /// How each column changes while the entering variable moves by the denominator.
    pub(super) fn direction(&self, entering: Entering) -> Vec<Exact> {
        let toward = |rate: &IBig| if entering.rises { exact(rate) } else { -exact(rate) };
        let mut direction = vec![Exact::ZERO; self.values.len()];
        direction[self.nonbasic[entering.position]] = toward(&self.denominator);
        for (&variable, entries) in self.basic.iter().zip(&self.entries) {
            direction[variable] = toward(&entries[entering.position]);
        }
        direction.truncate(self.nonbasic.len());
        direction
    }

    /// Takes the step and keeps `slopes` those of the same linear form. What was stopped in its midst is of no use any
    /// more.
    pub(super) fn take<H: Halt>(&mut self, step: Step, slopes: &mut Slopes, halt: &H) -> Result<(), H::Stopped> {
        halt.check()?;
        let Step { entering, length, leaving } = step;
        self.pivots += 1;
        self.stalled = if length.is_zero() { self.stalled + 1 } else { 0 };
        if !length.is_zero() {
            let change = if entering.rises { length } else { -length };
            self.values[self.nonbasic[entering.position]] += &change;
            let share = change / exact(&self.denominator);
            for (&variable, entries) in self.basic.iter().zip(&self.entries) {
                let rate = &entries[entering.position];
                if !rate.is_zero() {
                    self.values[variable] += exact(rate) * &share;
                }
            }
        }
        if let Some(row) = leaving {
            self.exchange(row, entering.position, slopes, halt)?;
        }
        Ok(())
    }

    /// Lets no variable leave its end that has a slope there: what these slopes measure stays least.
    pub(super) fn settle(&mut self, slopes: &Slopes) {
        for (&variable, slope) in self.nonbasic.iter().zip(&slopes.entries) {
            self.settled[variable] |= !slope.is_zero();
        }
    }

    /// True where no nonbasic variable can move any more.
    pub(super) fn is_settled(&self) -> bool {
        self.nonbasic.iter().all(|&variable| self.settled[variable])
    }

    /// Makes the basic variable of `row` nonbasic and the nonbasic one at `position` basic; the entry where they meet
    /// is not 0.
    ///
    /// With `p` that entry, `s` its sign and `q` the denominator, the new denominator is `|p|` and the new entries are
    ///
    /// ```text
    /// at (row, position)       s . q
    /// elsewhere in the row    -s . entry
    /// elsewhere at position    s . entry
    /// everywhere else         (|p| . entry - s . entry in the same row at position . entry in the pivot row) / q
    /// ```
    fn exchange<H: Halt>(
        &mut self,
        row: usize,
        position: usize,
        slopes: &mut Slopes,
        halt: &H,
    ) -> Result<(), H::Stopped> {
        std::mem::swap(&mut self.basic[row], &mut self.nonbasic[position]);
        let mut pivot_row = std::mem::take(&mut self.entries[row]);
        let pivot = std::mem::take(&mut pivot_row[position]);
        if pivot.sign() == Sign::Positive {
            pivot_row.iter_mut().for_each(|entry| *entry = -std::mem::take(entry));
        }
        let size = pivot.clone().abs();
        for entries in self.entries.iter_mut().chain([&mut slopes.entries]).filter(|entries| !entries.is_empty()) {
            // With hundreds of lines a single exchange takes long.
            halt.check()?;
            let factor = std::mem::take(&mut entries[position]);
            for (entry, across) in entries.iter_mut().zip(&pivot_row) {
                let apart = factor.is_zero() || across.is_zero();
                if apart && (entry.is_zero() || size == self.denominator) {
                    continue;
                }
                let scaled = &*entry * &size;
                *entry = (if apart { scaled } else { scaled + &factor * across }) / &self.denominator;
            }
            entries[position] = if pivot.is_negative() { -factor } else { factor };
        }
        let old = std::mem::replace(&mut self.denominator, size);
        pivot_row[position] = if pivot.is_negative() { -old } else { old };
        self.entries[row] = pivot_row;
        Ok(())
    }

    /// Where the value of a variable lies against its range.
    fn violation(&self, variable: usize) -> Ordering {
        let value = &self.values[variable];
        if self.low[variable].as_ref().is_some_and(|low| value < low) {
            Ordering::Less
        } else if self.high[variable].as_ref().is_some_and(|high| value > high) {
            Ordering::Greater
        } else {
            Ordering::Equal
        }
    }

    /// The next end of its range that a variable comes to on its way; a violated one is let through no further than
    /// into its range.
    fn end_ahead(&self, variable: usize, rises: bool) -> Option<&Exact> {
        match (self.violation(variable), rises) {
            (Ordering::Equal, true) | (Ordering::Greater, false) => self.high[variable].as_ref(),
            (Ordering::Equal, false) | (Ordering::Less, true) => self.low[variable].as_ref(),
            (Ordering::Greater, true) | (Ordering::Less, false) => None,
        }
    }
}

fn exact(whole: &IBig) -> Exact {
    Exact::from_parts(whole.clone(), UBig::ONE)
}

/// The numbers times the least whole number that makes all of them whole, and that number.
fn whole_numbers(numbers: &[Exact]) -> (Vec<IBig>, UBig) {
    let factor = common_denominator(numbers.iter());
    let whole = numbers
        .iter()
        .map(Exact::parts)
        .map(|(numerator, denominator)| numerator * IBig::from(&factor / denominator))
        .collect();
    (whole, factor)
}

#[cfg(test)]
#[path = "dictionary_tests.rs"]
mod tests;
