//! Writing a table: each thread fills a part of every column, batch by batch.

use std::ops::Range;

use super::axis::strides;
use super::column::Column;
use super::definition::Sweep;
use super::fill::{Batch, Series};
use super::regions::Regions;
use super::review::Reviewing;
use crate::error::Error;
use crate::watch::Halt;

/// Which rows of a sweep.
pub(super) enum Chosen<'a> {
    Run(Range<u64>),
    Each(&'a [u64]),
}

impl Chosen<'_> {
    pub(super) fn len(&self) -> u64 {
        match self {
            Chosen::Run(rows) => rows.end - rows.start,
            Chosen::Each(rows) => rows.len() as u64,
        }
    }

    pub(super) fn part(&self, from: usize, to: usize) -> Chosen<'_> {
        match self {
            Chosen::Run(rows) => Chosen::Run(rows.start + from as u64..rows.start + to as u64),
            Chosen::Each(rows) => Chosen::Each(&rows[from..to]),
        }
    }
}

pub(super) enum Slot<'a> {
    Numbers(&'a mut [f64], Option<&'a mut [u8]>),
    Codes(&'a mut [u64], Option<&'a mut [u8]>),
    Words(&'a mut [u32]),
    None,
}

/// The part of a table that one thread writes.
pub(super) struct Part<'a> {
    pub(super) feasible: &'a mut [u8],
    pub(super) slots: Vec<Slot<'a>>,
}

pub(super) struct Writer<'a> {
    pub(super) sweep: &'a Sweep,
    pub(super) filler: &'a Regions<'a>,
    pub(super) axis_values: Vec<Vec<f64>>,
}

impl Writer<'_> {
    /// Writes a part; how many of its rows have a formula.
    pub(super) fn write(&self, chosen: &Chosen<'_>, mut part: Part<'_>) -> Result<usize, Error> {
        let watched = self.sweep.watched();
        watched.check()?;
        let mut feasible = 0;
        let mut reviewing = Reviewing::default();
        let mut run = |rows: Range<u64>, offset: usize| {
            let first = rows.start;
            self.filler.fill(rows, &mut |batch| {
                let at = usize::try_from(batch.first - first).unwrap_or(0) + offset;
                feasible += self.filler.query().level.run(
                    #[inline(always)]
                    || self.copy(batch, at, &mut part),
                );
                self.work_out(&mut reviewing, batch, at, &mut part)?;
                watched.check_after(batch.count as u64)
            })
        };
        match chosen {
            Chosen::Run(rows) => run(rows.clone(), 0)?,
            Chosen::Each(rows) => {
                rows.iter().enumerate().try_for_each(|(place, row)| run(*row..*row + 1, place))?;
            }
        }
        Ok(feasible)
    }

    /// Copies a batch into the columns; how many of its rows have a formula.
    #[inline(always)]
    fn copy(&self, batch: &Batch, at: usize, part: &mut Part<'_>) -> usize {
        let count = batch.count;
        let has = &batch.feasible[..count];
        let feasible = has.iter().map(|has| usize::from(*has)).sum();
        set_bits(part.feasible, at, has.iter().copied());
        for (place, (column, slot)) in self.sweep.columns().iter().zip(&mut part.slots).enumerate() {
            match slot {
                Slot::Numbers(values, bits) => {
                    let values = &mut values[at..at + count];
                    match column {
                        Column::Axis { axis, .. } => {
                            let known = &self.axis_values[place];
                            run_along(batch.first, strides(self.sweep.axes(), *axis), values, |place| known[place]);
                        }
                        Column::Line(_) | Column::Measure(..) | Column::Objective => {
                            let number = self.filler.query().places[place];
                            let Series { same, each } = &batch.numbers[number];
                            match same {
                                Some(value) => values.fill(*value),
                                None => values.copy_from_slice(&each[..count]),
                            }
                            if let Some(bits) = bits {
                                let missing = batch.missing[number].iter();
                                set_bits(bits, at, has.iter().zip(missing).map(|(has, missing)| *has && !missing));
                            }
                        }
                        _ => {}
                    }
                }
                Slot::Codes(codes, _) => match column {
                    Column::Binding => codes[at..at + count].copy_from_slice(&batch.binding[..count]),
                    Column::Conflict => codes[at..at + count].copy_from_slice(&batch.conflict[..count]),
                    _ => {}
                },
                Slot::Words(values) => {
                    if let Column::Axis { axis, .. } = column {
                        let values = &mut values[at..at + count];
                        run_along(batch.first, strides(self.sweep.axes(), *axis), values, |place| place as u32);
                    }
                }
                Slot::None => {}
            }
        }
        feasible
    }

    /// Works out of the lines what a review says of the rows of a batch, and their mixed micelles.
    fn work_out(&self, reviewing: &mut Reviewing, batch: &Batch, at: usize, part: &mut Part<'_>) -> Result<(), Error> {
        let columns = self.sweep.columns();
        if !columns.iter().any(Column::is_worked_out) {
            return Ok(());
        }
        let review = self.sweep.review().filter(|_| columns.iter().any(|column| matches!(column, Column::Review(_))));
        #[cfg(feature = "trial")]
        let micelles =
            self.sweep.micelles().filter(|_| columns.iter().any(|column| matches!(column, Column::Micelle(_))));
        for place in 0..batch.count {
            // A row that is solved takes long enough to be asked for each.
            self.sweep.watched().check()?;
            let has = batch.feasible[place];
            let found = match review.filter(|_| has) {
                Some(review) => reviewing.row(self.sweep.points(), review, batch, place)?,
                None => None,
            };
            #[cfg(feature = "trial")]
            let used = micelles.filter(|_| has).and_then(|micelles| micelles.row(self.sweep.points(), batch, place));
            for (column, slot) in columns.iter().zip(&mut part.slots) {
                match (column, slot) {
                    (Column::Review(code), Slot::Codes(codes, Some(bits))) => {
                        put(codes, bits, at + place, found.map(|found| found[*code as usize]));
                    }
                    #[cfg(feature = "trial")]
                    (Column::Micelle(column), Slot::Numbers(cells, Some(bits))) => {
                        put(cells, bits, at + place, used.as_ref().and_then(|used| used(column)));
                    }
                    _ => {}
                }
            }
        }
        Ok(())
    }
}

/// Writes a cell and its bit, which is not set yet.
fn put<T: Default>(cells: &mut [T], bits: &mut [u8], row: usize, value: Option<T>) {
    set_bit(bits, row, value.is_some());
    cells[row] = value.unwrap_or_default();
}

/// Walks along an axis: the value at each row, from that of the first row on.
#[inline(always)]
fn run_along<T: Copy>(first: u64, (after, length): (u64, u64), out: &mut [T], value: impl Fn(usize) -> T) {
    let mut row = 0;
    let mut place = first / after % length;
    // How many rows a run has at most that are still to be written.
    let run = |rows: u64, row: usize, out: &[T]| rows.min((out.len() - row) as u64) as usize;
    if after == 1 {
        // The fastest axis: one value a row, until it begins again.
        while row < out.len() {
            let end = row + run(length - place, row, out);
            out[row..end].iter_mut().zip(place as usize..).for_each(|(out, place)| *out = value(place));
            (row, place) = (end, 0);
        }
        return;
    }
    let mut left = after - first % after;
    while row < out.len() {
        let end = row + run(left, row, out);
        out[row..end].fill(value(place as usize));
        (row, left, place) = (end, after, (place + 1) % length);
    }
}

/// Sets the bit of a row, if the row has what it says.
#[inline(always)]
fn set_bit(bits: &mut [u8], row: usize, has: bool) {
    bits[row / 8] |= u8::from(has) << (row % 8);
}

#[inline(always)]
fn set_bits(bits: &mut [u8], at: usize, mut has: impl ExactSizeIterator<Item = bool>) {
    let mut place = at;
    while !place.is_multiple_of(8) {
        let Some(has) = has.next() else { return };
        set_bit(bits, place, has);
        place += 1;
    }
    while has.len() >= 8 {
        bits[place / 8] = (0..8).fold(0, |byte, bit| byte | u8::from(has.next().unwrap_or(false)) << bit);
        place += 8;
    }
    for has in has {
        set_bit(bits, place, has);
        place += 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn bits_are_set_wherever_a_run_begins() {
        for at in 0..20 {
            for length in 0..40 {
                let has: Vec<bool> = (0..length).map(|place| (place * 7 + at) % 3 == 0).collect();
                let mut bits = vec![0u8; 8];
                set_bits(&mut bits, at, has.iter().copied());
                let found: Vec<bool> = (at..at + length).map(|place| bits[place / 8] >> (place % 8) & 1 == 1).collect();
                assert_eq!(found, has);
                assert_eq!(
                    bits.iter().map(|byte| byte.count_ones()).sum::<u32>() as usize,
                    has.iter().filter(|has| **has).count()
                );
            }
        }
    }

    #[test]
    fn an_axis_is_walked_from_any_row() {
        for first in 0..40u64 {
            for after in [1, 3] {
                let mut out = [0; 17];
                run_along(first, (after, 4), &mut out, |place| place);
                assert!(
                    out.iter().enumerate().all(|(row, place)| *place as u64 == (first + row as u64) / after % 4),
                    "from row {first}"
                );
            }
        }
    }
}
