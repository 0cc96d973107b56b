//! Gathering from one batch after the other.
//!
//! Segment by segment, on as many threads as there are.

use std::ops::Range;

use rayon::prelude::*;

use super::definition::{Comparison, Stream, StreamPart, StreamResult};
use super::front::{self, Judged, Pairs};
use super::histogram::{Bins, Histogram};
use super::keep::{self, Kept};
use super::summary::AxisSummary;
use crate::bounds::Quantity;
use crate::brief::Direction;
use crate::error::{Error, Fault, FaultKind};
use crate::sweep::axis::{Axis, strides};
use crate::sweep::column::{Column, ReviewCode};
use crate::sweep::definition::Sweep;
use crate::sweep::fill::Batch;
use crate::sweep::level::Level;
use crate::sweep::regions::Regions;
use crate::sweep::review::Reviewing;
use crate::watch::Halt;

/// The most values of all axes together that summaries keep.
const MOST_PLACES: usize = 20_000;
/// Segments that a sweep is cut into at most.
const SEGMENTS: u64 = 256;
/// Places from which some rows are looked at beforehand at most, how many at each, and of how many rows one is.
const SEEDS: u64 = 128;
const SEED_ROWS: u64 = 512;
const SEED_OF: u64 = 128;

/// What to gather, by places among the numbers of a row instead of names.
pub(super) struct Plan<'a> {
    /// The sweep with the columns that are read, and nothing else.
    narrow: &'a Sweep,
    filler: Regions<'a>,
    /// What has to hold of a number.
    tests: Vec<(usize, Comparison, f64)>,
    best: Option<(usize, usize, f64)>,
    front: Vec<(usize, f64)>,
    histograms: Vec<(usize, Bins)>,
    summaries: Vec<usize>,
    /// Codes of a review that have to be 0.
    without: Vec<ReviewCode>,
}

/// What is gathered of a segment, and the room in which that is worked out.
struct Gathered {
    part: StreamPart,
    /// The front by two columns.
    pairs: Option<Pairs>,
    flags: Vec<bool>,
    candidates: Vec<bool>,
    keys: [Vec<f64>; 2],
    judged: Vec<Judged>,
    reviewing: Reviewing,
}

impl Gathered {
    /// As what was gathered of some rows.
    fn into_part(mut self, rows: Range<u64>) -> StreamPart {
        if let Some(pairs) = self.pairs {
            self.part.front = pairs.into_judged();
        }
        StreamPart { rows, ..self.part }
    }
}

impl<'a> Plan<'a> {
    pub(super) fn new(narrow: &'a Sweep, stream: &Stream, level: Level) -> Result<Self, Error> {
        let filler = Regions::new(narrow, level)?;
        let place = |column: &String| -> Result<usize, Error> { Ok(filler.query().places[narrow.column(column)?]) };
        let sign = |direction: Direction| if direction == Direction::Minimise { 1.0 } else { -1.0 };
        let mut tests = Vec::new();
        for condition in &stream.conditions {
            tests.push((place(&condition.column)?, condition.comparison, condition.value.to_f64()));
        }
        let best = stream.best.as_ref().map(|(count, column, direction)| -> Result<_, Error> {
            Quantity::KeptRows.check_count(*count)?;
            Ok((*count, place(column)?, sign(*direction)))
        });
        let best = best.transpose()?;
        let mut front = Vec::new();
        for (index, (column, direction)) in stream.front.iter().enumerate() {
            if stream.front[..index].iter().any(|(earlier, _)| earlier == column) {
                return Err(Fault::new(FaultKind::Duplicate, "a front names a column twice")
                    .remedy("name each once")
                    .into());
            }
            front.push((place(column)?, sign(*direction)));
        }
        let histograms = stream
            .histograms
            .iter()
            .map(|(column, bins)| Ok((place(column)?, *bins)))
            .collect::<Result<Vec<_>, Error>>()?;
        let summaries = stream.summaries.iter().map(place).collect::<Result<Vec<_>, Error>>()?;
        let together = narrow.axes().iter().map(Axis::len).sum::<usize>().saturating_mul(summaries.len());
        if together > MOST_PLACES {
            return Err(Fault::new(FaultKind::OutOfRange, "an axis has too many values to summarise")
                .value(together)
                .allowed(format!("{MOST_PLACES} values"))
                .into());
        }
        let code = |column: &Column| if let Column::Review(code) = column { Some(*code) } else { None };
        let without = narrow.columns().iter().filter_map(code).collect();
        Ok(Plan { narrow, filler, tests, best, front, histograms, summaries, without })
    }

    pub(super) fn gather(&self, rows: Range<u64>) -> Result<StreamPart, Error> {
        let watched = self.narrow.watched();
        let count = rows.end.saturating_sub(rows.start);
        let length = (count / SEGMENTS).max(self.filler.rows_of_a_thread());
        // Rows that are looked at beforehand do not count as done.
        let fill = |rows: Range<u64>, gathered: &mut Gathered, counts: bool| {
            self.filler.fill(rows, &mut |batch| {
                self.take(batch, gathered)?;
                watched.check_after(if counts { batch.count as u64 } else { 0 })
            })
        };
        let mut seed = self.start();
        let seeds = (count / (SEED_ROWS * SEED_OF)).min(SEEDS);
        for place in 0..seeds {
            let first = rows.start + place * (count / seeds);
            fill(first..first + SEED_ROWS, &mut seed, false)?;
        }
        let segment = |segment: u64| {
            let first = rows.start + segment * length;
            let last = (first + length).min(rows.end);
            watched.check()?;
            let mut gathered = self.start();
            // What they refuse need not be kept.
            gathered.part.best.clone_from(&seed.part.best);
            gathered.pairs.clone_from(&seed.pairs);
            fill(first..last, &mut gathered, true)?;
            Ok(gathered.into_part(first..last))
        };
        let parts: Result<Vec<StreamPart>, Error> = (0..count.div_ceil(length)).into_par_iter().map(segment).collect();
        Ok(self.joined(&parts?, rows))
    }

    fn start(&self) -> Gathered {
        let axes =
            || self.narrow.axes().iter().enumerate().map(|(axis, known)| AxisSummary::new(axis, known.len())).collect();
        let part = StreamPart {
            rows: 0..0,
            feasible: 0,
            kept: 0,
            best: Vec::new(),
            front: Vec::new(),
            histograms: self.histograms.iter().map(|(_, bins)| Histogram::new(*bins)).collect(),
            summaries: self.summaries.iter().map(|_| axes()).collect(),
        };
        Gathered {
            part,
            pairs: (self.front.len() == 2).then(Pairs::new),
            flags: Vec::new(),
            candidates: Vec::new(),
            keys: Default::default(),
            judged: Vec::new(),
            reviewing: Reviewing::default(),
        }
    }

    fn take(&self, batch: &Batch, into: &mut Gathered) -> Result<(), Error> {
        let (any, candidates) = self.filler.query().level.run(
            #[inline(always)]
            || self.judge(batch, into),
        )?;
        if candidates {
            self.rank(batch, into);
        }
        if any && !(self.histograms.is_empty() && self.summaries.is_empty()) {
            self.count(batch, into);
        }
        Ok(())
    }

    /// Which rows are kept, and whether any could be among the best or on the front.
    #[inline(always)]
    fn judge(&self, batch: &Batch, into: &mut Gathered) -> Result<(bool, bool), Error> {
        let count = batch.count;
        into.keys.iter_mut().for_each(|keys| keys.resize(count, 0.0));
        into.flags.clear();
        into.flags.extend_from_slice(&batch.feasible[..count]);
        let flags = &mut into.flags;
        into.part.feasible += sum(flags);
        for &(place, comparison, bar) in &self.tests {
            let [room, ..] = &mut into.keys;
            let values = read(batch, place, 1.0, room);
            match comparison {
                Comparison::Under => keep(flags, values, |value| value < bar),
                Comparison::AtMost => keep(flags, values, |value| value <= bar),
                Comparison::Over => keep(flags, values, |value| value > bar),
                Comparison::AtLeast => keep(flags, values, |value| value >= bar),
            }
            flags.iter_mut().zip(&batch.missing[place]).for_each(|(flag, missing)| *flag &= !missing);
        }
        if !self.without.is_empty() {
            self.review(batch, into)?;
        }
        let flags = &into.flags;
        let kept = sum(flags);
        into.part.kept += kept;
        if kept == 0 {
            return Ok((false, false));
        }
        let [room, others] = &mut into.keys;
        let candidates = &mut into.candidates;
        candidates.clone_from(flags);
        if let ([(first, one), (second, other)], Some(front)) = (self.front.as_slice(), &into.pairs) {
            let first = read(batch, *first, *one, room);
            front.refuse(first, read(batch, *second, *other, others), candidates);
        } else if self.front.is_empty() {
            candidates.fill(false);
        }
        if let Some((most, place, sign)) = self.best {
            let values = read(batch, place, sign, room);
            let bar = keep::bar(&into.part.best, most);
            for ((candidate, flag), value) in candidates.iter_mut().zip(flags.iter()).zip(values) {
                *candidate |= *flag & (*value <= bar);
            }
        }
        Ok((true, sum(candidates) > 0))
    }

    /// Ranks the candidates of a batch.
    #[cold]
    fn rank(&self, batch: &Batch, into: &mut Gathered) {
        let Gathered { part, pairs, candidates, judged, .. } = into;
        let mut keys = Vec::new();
        for row in (0..batch.count).filter(|row| candidates[*row]) {
            let number = batch.first + row as u64;
            let key = |place: usize, sign: f64| value(batch, place, row).map(|value| sign * value);
            if let Some((most, place, sign)) = self.best
                && let Some(key) = key(place, sign)
            {
                keep::take(&mut part.best, most, key, number);
            }
            keys.clear();
            keys.extend(self.front.iter().map_while(|(place, sign)| key(*place, *sign)));
            match keys[..] {
                _ if keys.len() < self.front.len() => {}
                [first, second] => judged.push(([first, second], number)),
                _ => front::take(&mut part.front, &keys, number),
            }
        }
        if let Some(pairs) = pairs
            && !judged.is_empty()
        {
            pairs.take(judged.drain(..));
        }
    }

    /// Leaves out rows of which a review says something.
    #[cold]
    fn review(&self, batch: &Batch, into: &mut Gathered) -> Result<(), Error> {
        let Some(review) = self.narrow.review() else { return Ok(()) };
        for place in 0..batch.count {
            if into.flags[place] {
                let codes = into.reviewing.row(self.narrow.points(), review, batch, place)?;
                into.flags[place] =
                    codes.is_some_and(|codes| self.without.iter().all(|code| codes[*code as usize] == 0));
            }
        }
        Ok(())
    }

    fn count(&self, batch: &Batch, into: &mut Gathered) {
        let Gathered { flags, part, .. } = into;
        let flags = &*flags;
        let kept = |place: usize| {
            let rows = (0..batch.count).filter(|row| flags[*row]);
            rows.filter_map(move |row| Some((row, value(batch, place, row)?)))
        };
        for ((place, _), histogram) in self.histograms.iter().zip(&mut part.histograms) {
            kept(*place).for_each(|(_, value)| histogram.take(value));
        }
        for (place, summaries) in self.summaries.iter().zip(&mut part.summaries) {
            for summary in summaries {
                let (after, length) = strides(self.narrow.axes(), summary.axis);
                for (row, value) in kept(*place) {
                    let place = (batch.first + row as u64) / after % length;
                    summary.places[place as usize].take(value);
                }
            }
        }
    }

    /// What parts come to, in the order of their rows, as what was gathered of these rows.
    fn joined(&self, parts: &[StreamPart], rows: Range<u64>) -> StreamPart {
        let mut all = self.start();
        let most = self.best.map_or(0, |(most, ..)| most);
        for part in parts {
            let Gathered { part: sum, pairs, .. } = &mut all;
            sum.feasible += part.feasible;
            sum.kept += part.kept;
            part.best.iter().for_each(|(key, row)| keep::take(&mut sum.best, most, *key, *row));
            if let Some(pairs) = pairs {
                pairs.take(part.front.iter().filter_map(|(keys, row)| Some((keys.as_slice().try_into().ok()?, *row))));
            } else {
                part.front.iter().for_each(|(keys, row)| front::take(&mut sum.front, keys, *row));
            }
            sum.histograms.iter_mut().zip(&part.histograms).for_each(|(sum, more)| sum.join(more));
            for (sums, more) in sum.summaries.iter_mut().zip(&part.summaries) {
                sums.iter_mut().zip(more).for_each(|(sum, more)| sum.join(more));
            }
        }
        all.into_part(rows)
    }

    /// What the parts of a sweep come to, in the order of their rows. A part that was gathered by another plan would be
    /// joined in silence, column by column.
    pub(super) fn finish(&self, parts: &[StreamPart]) -> Result<StreamResult, Error> {
        let empty = self.start().part;
        let bins = |histogram: &Histogram| (histogram.bins, histogram.counts.len());
        let lengths = |axes: &Vec<AxisSummary>| -> Vec<(usize, usize)> {
            axes.iter().map(|axis| (axis.axis, axis.places.len())).collect()
        };
        let is_alike = |part: &StreamPart| {
            part.histograms.iter().map(bins).eq(empty.histograms.iter().map(bins))
                && part.summaries.iter().map(lengths).eq(empty.summaries.iter().map(lengths))
                && part.front.iter().all(|(keys, _)| keys.len() == self.front.len())
                && (part.best.is_empty() || self.best.is_some())
        };
        if !parts.iter().all(is_alike) {
            return Err(Fault::new(FaultKind::Contradiction, "a part was gathered for another query").into());
        }
        // Codes come last.
        let shown = &self.narrow.names()[..self.narrow.names().len() - self.without.len()];
        let shown: Vec<&str> = shown.iter().map(String::as_str).collect();
        let numbers = self.narrow.clone().with_columns(&shown)?;
        let StreamPart { feasible, kept, best, front, histograms, summaries, .. } = self.joined(parts, 0..0);
        let level = self.filler.query().level;
        Ok(StreamResult {
            rows: parts.iter().map(|part| part.rows.end - part.rows.start).sum(),
            feasible,
            kept,
            columns: numbers.names().to_vec(),
            best: with_values(&numbers, best, level)?,
            front: with_values(&numbers, front, level)?,
            histograms,
            summaries,
        })
    }
}

/// Rows with the values of the columns, worked out again: while ranking only what ranks is kept.
fn with_values<Key>(numbers: &Sweep, judged: Vec<(Key, u64)>, level: Level) -> Result<Vec<Kept>, Error> {
    let rows: Vec<u64> = judged.into_iter().map(|(_, row)| row).collect();
    let table = numbers.pick(&rows, level)?;
    let columns = numbers.names().iter().map(|name| table.numbers(name)).collect::<Result<Vec<_>, _>>()?;
    let values = |place: usize| columns.iter().map(|column| column.cells()[place]).collect();
    Ok(rows.into_iter().enumerate().map(|(place, row)| (row, values(place))).collect())
}

/// A number of a row that has a formula, if it has one.
fn value(batch: &Batch, place: usize, row: usize) -> Option<f64> {
    (!batch.missing[place][row]).then(|| batch.numbers[place].at(row))
}

/// Lowers the flags of values of which it is not true.
#[inline(always)]
fn keep(flags: &mut [bool], values: &[f64], holds: impl Fn(f64) -> bool) {
    flags.iter_mut().zip(values).for_each(|(flag, value)| *flag &= holds(*value));
}

#[inline(always)]
fn sum(flags: &[bool]) -> u64 {
    flags.iter().map(|flag| u64::from(*flag)).sum()
}

/// A column with its sign; as it is where it has none.
#[inline(always)]
fn read<'a>(batch: &'a Batch, place: usize, sign: f64, room: &'a mut [f64]) -> &'a [f64] {
    let series = &batch.numbers[place];
    if let Some(value) = series.same {
        room.fill(sign * value);
        return room;
    }
    if sign == 1.0 {
        return &series.each[..room.len()];
    }
    for (out, value) in room.iter_mut().zip(&series.each) {
        *out = sign * value;
    }
    room
}
