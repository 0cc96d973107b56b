//! Gathering from one batch after the other.

use std::ops::Range;

use super::definition::{Comparison, Stream, StreamPart, StreamResult};
use super::front::{Front, Judged};
use super::histogram::{Bins, Histogram};
use super::keep::{Best, Kept};
use super::summary::AxisSummary;
use crate::bounds::Quantity;
use crate::brief::Direction;
use crate::error::{Error, Fault, FaultKind};
use crate::sweep::axis::{Axis, strides};
use crate::sweep::column::{Column, ReviewCode};
use crate::sweep::definition::Sweep;
use crate::sweep::fill::{Batch, Percents};
use crate::sweep::level::Level;
use crate::sweep::query::Query;
use crate::sweep::review::Reviewing;
use crate::sweep::table::measure_places;

/// The most values of all axes together that summaries keep.
const MOST_PLACES: usize = 20_000;

/// Where a column's numbers come from.
#[derive(Clone, Copy, Debug)]
enum Source {
    Line(usize),
    Measure(usize),
}

/// What to gather, by places instead of names.
pub(super) struct Plan<'a> {
    /// The sweep with the columns that are read, and nothing else.
    pub(super) narrow: &'a Sweep,
    sources: Vec<Source>,
    /// What has to hold of a number.
    tests: Vec<(Source, Comparison, f64)>,
    best: Option<(usize, usize, f64)>,
    front: Vec<(usize, f64)>,
    histograms: Vec<(usize, Bins)>,
    summaries: Vec<usize>,
    /// Codes of a review that have to be 0.
    without: Vec<ReviewCode>,
    level: Level,
}

/// What is gathered of a segment.
pub(super) struct Gathered {
    feasible: u64,
    kept: u64,
    best: Best,
    front: Front,
    histograms: Vec<Histogram>,
    summaries: Vec<Vec<AxisSummary>>,
    flags: Vec<bool>,
    candidates: Vec<bool>,
    keys: [Vec<f64>; 2],
    pairs: Vec<Judged>,
    reviewing: Reviewing,
    /// Why a row could not be reviewed; nothing else counts then.
    pub(super) failed: Option<Error>,
}

impl Gathered {
    /// As what was gathered of some rows.
    pub(super) fn into_part(self, rows: Range<u64>) -> StreamPart {
        let Gathered { feasible, kept, best, front, histograms, summaries, .. } = self;
        StreamPart { rows, feasible, kept, best: best.into_ranked(), front: front.into_judged(), histograms, summaries }
    }
}

impl<'a> Plan<'a> {
    pub(super) fn new(narrow: &'a Sweep, stream: &Stream, query: &Query) -> Result<Self, Error> {
        let (mut sources, mut without) = (Vec::new(), Vec::new());
        for (column, place) in narrow.columns().iter().zip(measure_places(narrow, query)) {
            match column {
                Column::Review(code) => without.push(*code),
                Column::Line(line) => sources.push(Source::Line(*line)),
                _ => sources.push(Source::Measure(place)),
            }
        }
        let sign = |direction: Direction| if direction == Direction::Minimise { 1.0 } else { -1.0 };
        let mut tests = Vec::new();
        for condition in &stream.conditions {
            let source = sources[narrow.column(&condition.column)?];
            tests.push((source, condition.comparison, condition.value.to_f64()));
        }
        let best = match &stream.best {
            Some((count, column, direction)) => {
                Quantity::KeptRows.check_count(*count)?;
                Some((*count, narrow.column(column)?, sign(*direction)))
            }
            None => None,
        };
        let mut front = Vec::new();
        for (column, direction) in &stream.front {
            let column = narrow.column(column)?;
            if front.iter().any(|(earlier, _)| *earlier == column) {
                return Err(Fault::new(FaultKind::Duplicate, "a front names a column twice")
                    .remedy("name each once")
                    .into());
            }
            front.push((column, sign(*direction)));
        }
        let histograms = stream
            .histograms
            .iter()
            .map(|(column, bins)| Ok((narrow.column(column)?, *bins)))
            .collect::<Result<Vec<_>, Error>>()?;
        let summaries =
            stream.summaries.iter().map(|column| narrow.column(column)).collect::<Result<Vec<_>, Error>>()?;
        let together = narrow.axes().iter().map(Axis::len).sum::<usize>().saturating_mul(summaries.len());
        if together > MOST_PLACES {
            return Err(Fault::new(FaultKind::OutOfRange, "an axis has too many values to summarise")
                .value(together)
                .allowed(format!("{MOST_PLACES} values"))
                .into());
        }
        Ok(Plan { narrow, sources, tests, best, front, histograms, summaries, without, level: query.level })
    }

    pub(super) fn start(&self) -> Gathered {
        let axes =
            || self.narrow.axes().iter().enumerate().map(|(axis, known)| AxisSummary::new(axis, known.len())).collect();
        Gathered {
            feasible: 0,
            kept: 0,
            best: Best::new(self.best.map_or(0, |(count, _, _)| count)),
            front: Front::new(self.front.len()),
            histograms: self.histograms.iter().map(|(_, bins)| Histogram::new(*bins)).collect(),
            summaries: self.summaries.iter().map(|_| axes()).collect(),
            flags: Vec::new(),
            candidates: Vec::new(),
            keys: Default::default(),
            pairs: Vec::new(),
            reviewing: Reviewing::default(),
            failed: None,
        }
    }

    /// What a segment starts with: the best and the front by two columns of some rows from all over, so that it need
    /// not keep what they refuse.
    pub(super) fn start_from(&self, seed: &Gathered) -> Gathered {
        let mut gathered = self.start();
        gathered.best = seed.best.clone();
        if let Front::Pairs(_) = seed.front {
            gathered.front = seed.front.clone();
        }
        gathered
    }

    pub(super) fn take(&self, batch: &Batch<'_>, into: &mut Gathered) {
        let (any, candidates) = self.level.run(
            #[inline(always)]
            || self.judge(batch, into),
        );
        if candidates {
            self.rank(batch, into);
        }
        if any && !(self.histograms.is_empty() && self.summaries.is_empty()) {
            self.count(batch, into);
        }
    }

    /// Which rows are kept, and whether any could be among the best or on the front.
    #[inline(always)]
    fn judge(&self, batch: &Batch<'_>, into: &mut Gathered) -> (bool, bool) {
        let count = batch.count;
        if into.flags.len() < count {
            into.flags.resize(count, false);
            into.candidates.resize(count, false);
            into.keys.iter_mut().for_each(|keys| keys.resize(count, 0.0));
        }
        let flags = &mut into.flags[..count];
        flags.copy_from_slice(&batch.feasible[..count]);
        into.feasible += sum(flags);
        for &(source, comparison, bar) in &self.tests {
            let [room, ..] = &mut into.keys;
            let values = read(batch, source, 1.0, &mut room[..count]);
            match comparison {
                Comparison::Under => keep(flags, values, |value| value < bar),
                Comparison::AtMost => keep(flags, values, |value| value <= bar),
                Comparison::Over => keep(flags, values, |value| value > bar),
                Comparison::AtLeast => keep(flags, values, |value| value >= bar),
            }
            if let Source::Measure(place) = source {
                flags.iter_mut().zip(&batch.missing[place]).for_each(|(flag, missing)| *flag &= !missing);
            }
        }
        if !self.without.is_empty() {
            self.review(batch, into);
        }
        let flags = &mut into.flags[..count];
        let kept = sum(flags);
        into.kept += kept;
        if kept == 0 {
            return (false, false);
        }
        let [room, others, ..] = &mut into.keys;
        let candidates = &mut into.candidates[..count];
        candidates.copy_from_slice(flags);
        if let ([(first, one), (second, other)], Front::Pairs(front)) = (self.front.as_slice(), &into.front) {
            let first = read(batch, self.sources[*first], *one, &mut room[..count]);
            front.refuse(first, read(batch, self.sources[*second], *other, &mut others[..count]), candidates);
        } else if self.front.is_empty() {
            candidates.fill(false);
        }
        if let Some((_, column, sign)) = self.best {
            let (bar, values) = (into.best.bar(), read(batch, self.sources[column], sign, &mut room[..count]));
            for ((candidate, flag), value) in candidates.iter_mut().zip(flags.iter()).zip(values) {
                *candidate |= *flag & (*value <= bar);
            }
        }
        (true, sum(candidates) > 0)
    }

    /// The number of a row that has a formula, if it has one.
    fn value(&self, batch: &Batch<'_>, column: usize, row: usize) -> Option<f64> {
        match self.sources[column] {
            Source::Line(line) => Some(batch.lines[line].at(row)),
            Source::Measure(place) => (!batch.missing[place][row]).then(|| batch.measures[place][row]),
        }
    }

    /// Ranks the candidates of a batch.
    #[cold]
    fn rank(&self, batch: &Batch<'_>, into: &mut Gathered) {
        let Gathered { candidates, best, front, pairs, .. } = into;
        pairs.clear();
        let mut keys = Vec::new();
        for row in (0..batch.count).filter(|row| candidates[*row]) {
            let place = batch.first + row as u64;
            let key = |column: usize, sign: f64| self.value(batch, column, row).map(|value| sign * value);
            if let Some((_, column, sign)) = self.best
                && let Some(key) = key(column, sign)
            {
                best.take(key, place);
            }
            keys.clear();
            keys.extend(self.front.iter().map_while(|(column, sign)| key(*column, *sign)));
            match (keys.as_slice(), &mut *front) {
                ([first, second], Front::Pairs(_)) => pairs.push(([*first, *second], place)),
                (keys, Front::Many(front)) if keys.len() == self.front.len() => front.take(keys, place),
                _ => {}
            }
        }
        if let Front::Pairs(front) = front
            && !pairs.is_empty()
        {
            front.take(pairs);
        }
    }

    /// Leaves out rows of which a review says something.
    #[cold]
    fn review(&self, batch: &Batch<'_>, into: &mut Gathered) {
        let Some(review) = self.narrow.review() else { return };
        for place in 0..batch.count {
            if into.flags[place] {
                match into.reviewing.row(self.narrow.points(), review, batch, place) {
                    Ok(codes) => {
                        into.flags[place] =
                            codes.is_some_and(|codes| self.without.iter().all(|code| codes[*code as usize] == 0));
                    }
                    Err(error) => {
                        into.failed = Some(error);
                        return;
                    }
                }
            }
        }
    }

    fn count(&self, batch: &Batch<'_>, into: &mut Gathered) {
        let Gathered { flags, histograms, summaries, .. } = into;
        let flags = &*flags;
        let kept = |column: usize| {
            let rows = (0..batch.count).filter(|row| flags[*row]);
            rows.filter_map(move |row| Some((row, self.value(batch, column, row)?)))
        };
        for ((column, _), histogram) in self.histograms.iter().zip(histograms) {
            kept(*column).for_each(|(_, value)| histogram.take(value));
        }
        for (column, summaries) in self.summaries.iter().zip(summaries) {
            for summary in summaries {
                let (after, length) = strides(self.narrow.axes(), summary.axis);
                for (row, value) in kept(*column) {
                    let place = (batch.first + row as u64) / after % length;
                    summary.places[place as usize].take(value);
                }
            }
        }
    }

    /// What parts come to, in the order of their rows.
    pub(super) fn joined(&self, parts: &[StreamPart]) -> Gathered {
        let mut all = self.start();
        for part in parts {
            all.feasible += part.feasible;
            all.kept += part.kept;
            part.best.iter().for_each(|(key, row)| all.best.take(*key, *row));
            all.front.take_judged(&part.front);
            all.histograms.iter_mut().zip(&part.histograms).for_each(|(sum, more)| sum.join(more));
            for (sums, more) in all.summaries.iter_mut().zip(&part.summaries) {
                sums.iter_mut().zip(more).for_each(|(sum, more)| sum.join(more));
            }
        }
        all
    }

    /// What the parts of a sweep come to, in the order of their rows. A part that was gathered by another plan would be
    /// joined in silence, column by column.
    pub(super) fn finish(&self, parts: &[StreamPart]) -> Result<StreamResult, Error> {
        let empty = self.start();
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
        let Gathered { feasible, kept, best, front, histograms, summaries, .. } = self.joined(parts);
        Ok(StreamResult {
            rows: parts.iter().map(|part| part.rows.end - part.rows.start).sum(),
            feasible,
            kept,
            columns: self.shown().to_vec(),
            best: self.with_values(best.into_ranked())?,
            front: self.with_values(front.into_judged())?,
            histograms,
            summaries,
        })
    }

    /// The columns of numbers.
    fn shown(&self) -> &[String] {
        &self.narrow.names()[..self.sources.len()]
    }

    /// Rows with the values of the columns, worked out again: while ranking only what ranks is kept.
    fn with_values<Key>(&self, judged: Vec<(Key, u64)>) -> Result<Vec<Kept>, Error> {
        let rows: Vec<u64> = judged.into_iter().map(|(_, row)| row).collect();
        let names = self.shown();
        let numbers = self.narrow.clone().with_columns(&names.iter().map(String::as_str).collect::<Vec<_>>())?;
        let table = numbers.pick(&rows, self.level)?;
        let columns = names.iter().map(|name| table.numbers(name)).collect::<Result<Vec<_>, _>>()?;
        let values = |place: usize| columns.iter().map(|column| column.cells()[place]).collect();
        Ok(rows.into_iter().enumerate().map(|(place, row)| (row, values(place))).collect())
    }
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
fn read<'a>(batch: &'a Batch<'_>, source: Source, sign: f64, room: &'a mut [f64]) -> &'a [f64] {
    let values = match source {
        Source::Line(line) => match &batch.lines[line] {
            Percents::Same(value) => {
                room.fill(sign * value);
                return room;
            }
            Percents::Each(values) => values,
        },
        Source::Measure(place) => &batch.measures[place],
    };
    if sign == 1.0 {
        return &values[..room.len()];
    }
    for (out, value) in room.iter_mut().zip(values) {
        *out = sign * value;
    }
    room
}
