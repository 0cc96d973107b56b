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

/// A comparison with what a batch holds.
#[derive(Clone, Copy, Debug)]
struct Test {
    source: Source,
    comparison: Comparison,
    bar: f64,
}

/// What to gather, by places instead of names.
pub(super) struct Plan {
    sources: Vec<Source>,
    tests: Vec<Test>,
    best: Option<(usize, usize, f64)>,
    front: Vec<(usize, f64)>,
    histograms: Vec<(usize, Bins)>,
    summaries: Vec<usize>,
    lengths: Vec<usize>,
    /// Codes of a review that have to be 0, and the sweep that is reviewed.
    without: Vec<ReviewCode>,
    narrow: Sweep,
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
    pairs: Vec<Judged<2>>,
    reviewing: Reviewing,
    /// Why a row could not be reviewed.
    pub(super) failed: Option<Error>,
}

impl Gathered {
    /// As what was gathered of some rows.
    pub(super) fn into_part(self, rows: Range<u64>) -> StreamPart {
        let Gathered { feasible, kept, best, front, histograms, summaries, .. } = self;
        StreamPart { rows, feasible, kept, best: best.into_ranked(), front: front.into_judged(), histograms, summaries }
    }
}

impl Plan {
    pub(super) fn new(narrow: &Sweep, stream: &Stream, query: &Query) -> Result<Self, Error> {
        let places = measure_places(narrow, query);
        let sources: Vec<Source> = narrow
            .columns()
            .iter()
            .zip(&places)
            .filter(|(column, _)| !matches!(column, Column::Review(_)))
            .map(
                |(column, place)| {
                    if let Column::Line(line) = column { Source::Line(*line) } else { Source::Measure(*place) }
                },
            )
            .collect();
        let sign = |direction: Direction| if direction == Direction::Minimise { 1.0 } else { -1.0 };
        let mut tests = Vec::new();
        for condition in &stream.conditions {
            let source = sources[narrow.column(&condition.column)?];
            tests.push(Test { source, comparison: condition.comparison, bar: condition.value.to_f64() });
        }
        let best = match &stream.best {
            Some((count, column, direction)) => {
                Quantity::KeptRows.check_count(*count)?;
                Some((*count, narrow.column(column)?, sign(*direction)))
            }
            None => None,
        };
        let front = stream
            .front
            .iter()
            .map(|(column, direction)| Ok((narrow.column(column)?, sign(*direction))))
            .collect::<Result<Vec<_>, Error>>()?;
        if front
            .iter()
            .enumerate()
            .any(|(index, (column, _))| front[..index].iter().any(|(earlier, _)| earlier == column))
        {
            return Err(Fault::new(FaultKind::Duplicate, "a front names a column twice")
                .remedy("name each once")
                .into());
        }
        let histograms = stream
            .histograms
            .iter()
            .map(|(column, bins)| Ok((narrow.column(column)?, *bins)))
            .collect::<Result<Vec<_>, Error>>()?;
        let summaries =
            stream.summaries.iter().map(|column| narrow.column(column)).collect::<Result<Vec<_>, Error>>()?;
        let lengths: Vec<usize> = narrow.axes().iter().map(crate::sweep::Axis::len).collect();
        let together = lengths.iter().sum::<usize>().saturating_mul(summaries.len());
        if together > MOST_PLACES {
            return Err(Fault::new(FaultKind::OutOfRange, "an axis has too many values to summarise")
                .value(together)
                .allowed(format!("{MOST_PLACES} values"))
                .into());
        }
        let codes = narrow
            .columns()
            .iter()
            .filter_map(|column| if let Column::Review(code) = column { Some(*code) } else { None });
        let without = codes.collect();
        Ok(Plan {
            sources,
            tests,
            best,
            front,
            histograms,
            summaries,
            lengths,
            without,
            narrow: narrow.clone(),
            level: query.level,
        })
    }

    pub(super) fn start(&self) -> Gathered {
        let axes = || self.lengths.iter().enumerate().map(|(axis, length)| AxisSummary::new(axis, *length)).collect();
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
        for test in &self.tests {
            let [room, ..] = &mut into.keys;
            let (bar, values) = (test.bar, read(batch, test.source, 1.0, &mut room[..count]));
            match test.comparison {
                Comparison::Under => flags.iter_mut().zip(values).for_each(|(flag, value)| *flag &= *value < bar),
                Comparison::AtMost => flags.iter_mut().zip(values).for_each(|(flag, value)| *flag &= *value <= bar),
                Comparison::Over => flags.iter_mut().zip(values).for_each(|(flag, value)| *flag &= *value > bar),
                Comparison::AtLeast => flags.iter_mut().zip(values).for_each(|(flag, value)| *flag &= *value >= bar),
            }
            if let Source::Measure(place) = test.source {
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
        let any = sum(candidates) > 0;
        (true, any)
    }

    fn raw(&self, batch: &Batch<'_>, column: usize, row: usize) -> f64 {
        match self.sources[column] {
            Source::Line(line) => batch.lines[line].at(row),
            Source::Measure(place) => batch.measures[place][row],
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
            if let Some((_, column, sign)) = self.best
                && !self.is_missing(batch, column, row)
            {
                best.take(sign * self.raw(batch, column, row), place);
            }
            if self.front.iter().any(|(column, _)| self.is_missing(batch, *column, row)) {
                continue;
            }
            let key = |(column, sign): &(usize, f64)| sign * self.raw(batch, *column, row);
            match (self.front.as_slice(), &mut *front) {
                ([first, second], Front::Pairs(_)) => pairs.push(([key(first), key(second)], place)),
                (columns, Front::Many(front)) => {
                    keys.clear();
                    keys.extend(columns.iter().map(key));
                    front.take(&keys, place);
                }
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
            if !into.flags[place] {
                continue;
            }
            match into.reviewing.row(self.narrow.points(), review, batch, place) {
                Ok(codes) => {
                    into.flags[place] =
                        codes.is_some_and(|codes| self.without.iter().all(|code| codes[*code as usize] == 0))
                }
                Err(error) => {
                    into.failed = Some(error);
                    into.flags[place..batch.count].fill(false);
                    return;
                }
            }
        }
    }

    fn is_missing(&self, batch: &Batch<'_>, column: usize, row: usize) -> bool {
        matches!(self.sources[column], Source::Measure(place) if batch.missing[place][row])
    }

    fn count(&self, batch: &Batch<'_>, into: &mut Gathered) {
        for ((column, _), histogram) in self.histograms.iter().zip(&mut into.histograms) {
            for row in (0..batch.count).filter(|row| into.flags[*row] && !self.is_missing(batch, *column, *row)) {
                histogram.take(self.raw(batch, *column, row));
            }
        }
        for (column, summaries) in self.summaries.iter().zip(&mut into.summaries) {
            for summary in summaries {
                let after: u64 = self.lengths[summary.axis + 1..].iter().map(|length| *length as u64).product();
                let length = self.lengths[summary.axis] as u64;
                for row in (0..batch.count).filter(|row| into.flags[*row] && !self.is_missing(batch, *column, *row)) {
                    let place = (batch.first + row as u64) / after % length;
                    summary.places[place as usize].take(self.raw(batch, *column, row));
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

    /// What the parts of a sweep come to, in the order of their rows.
    pub(super) fn finish(&self, narrow: &Sweep, parts: &[StreamPart]) -> Result<StreamResult, Error> {
        parts.iter().try_for_each(|part| self.check(part))?;
        let all = self.joined(parts);
        Ok(StreamResult {
            rows: parts.iter().map(|part| part.rows.end - part.rows.start).sum(),
            feasible: all.feasible,
            kept: all.kept,
            columns: self.shown(narrow),
            best: self.with_values(narrow, &all.best.rows())?,
            front: self.with_values(narrow, &all.front.rows())?,
            histograms: all.histograms,
            summaries: all.summaries,
        })
    }

    /// A part that was gathered by another plan would be joined in silence, column by column.
    fn check(&self, part: &StreamPart) -> Result<(), Error> {
        let alike = part.histograms.len() == self.histograms.len()
            && part
                .histograms
                .iter()
                .zip(&self.histograms)
                .all(|(found, (_, bins))| found.bins == *bins && found.counts.len() == bins.count())
            && part.summaries.len() == self.summaries.len()
            && part.summaries.iter().all(|axes| {
                axes.len() == self.lengths.len()
                    && axes
                        .iter()
                        .zip(&self.lengths)
                        .enumerate()
                        .all(|(axis, (found, length))| found.axis == axis && found.places.len() == *length)
            })
            && part.front.iter().all(|(keys, _)| keys.len() == self.front.len())
            && (part.best.is_empty() || self.best.is_some());
        if alike {
            Ok(())
        } else {
            Err(Fault::new(FaultKind::Contradiction, "a part was gathered for another query").into())
        }
    }

    /// The columns of numbers.
    fn shown(&self, narrow: &Sweep) -> Vec<String> {
        narrow.names()[..self.sources.len()].to_vec()
    }

    /// Rows with the values of the columns, worked out again: while ranking only what ranks is kept.
    fn with_values(&self, narrow: &Sweep, rows: &[u64]) -> Result<Vec<Kept>, Error> {
        let names = self.shown(narrow);
        let numbers = narrow.clone().with_columns(&names.iter().map(String::as_str).collect::<Vec<_>>())?;
        let table = numbers.pick(rows, self.level)?;
        let columns = names.iter().map(|name| table.numbers(name)).collect::<Result<Vec<_>, _>>()?;
        Ok(rows
            .iter()
            .enumerate()
            .map(|(place, row)| (*row, columns.iter().map(|column| column.cells()[place]).collect()))
            .collect())
    }
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
