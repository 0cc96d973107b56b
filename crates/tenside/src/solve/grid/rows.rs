//! What a grid formula has to meet: the rows of a brief and the ranges of its lines, and which of them may give.

use tenside_lp::{Row, dot};

use crate::brief::{Brief, BriefLine, Role};
use crate::error::Error;
use crate::number::{Exact, HalfWay, Ppm, units_of};
use crate::solve::constraint::{Limit, limit};
use crate::solve::program::{BriefProgram, RowName, RowUnit};
use crate::solve::proof;
use crate::watch::Watched;

/// An equation that the grid formula does not meet exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Departure {
    /// The equation, in the words of the brief.
    pub words: String,
    /// How far it is from holding: the measure's value less the target; for a split, percent points (by mole: mmol/g)
    /// of what the line brings too much.
    pub departure: Exact,
    /// The most it may be.
    pub bound: Exact,
    /// The unit of both.
    pub unit: String,
}

/// A row of the brief itself (not of its objective), with the lines' part of its coefficients. Both ends are 0 or
/// absent: a limit stands in the coefficients.
pub(super) struct AskedRow<'a> {
    pub(super) limit: Limit,
    pub(super) name: &'a RowName,
    pub(super) coefficients: &'a [Exact],
    pub(super) row: &'a Row,
    unit: &'a RowUnit,
    /// True for equations: whole ppm may miss them, by no more than [`Rows::reach`].
    pub(super) gives: bool,
}

impl AskedRow<'_> {
    /// True where an activity is above the high end or below the low one.
    fn missed(&self, activity: &Exact) -> bool {
        (self.row.high.is_some() && activity.is_positive()) || (self.row.low.is_some() && activity.is_negative())
    }

    /// True where all that can move brings something of one sign and the row allows none of it: what brings something
    /// is then 0.
    fn allows_nothing_of(&self, held: &[bool]) -> bool {
        let mut some = self
            .coefficients
            .iter()
            .zip(held)
            .filter(|(coefficient, held)| !**held && !coefficient.is_zero())
            .peekable();
        let Some((first, _)) = some.peek() else { return false };
        let positive = first.is_positive();
        let end = if positive { &self.row.high } else { &self.row.low };
        end.is_some() && some.all(|(coefficient, _)| coefficient.is_positive() == positive)
    }
}

/// The rows of the brief, the ranges of the lines and the line that takes the rest.
pub(super) struct Rows<'a> {
    pub(super) rows: Vec<AskedRow<'a>>,
    pub(super) ranges: Vec<(Ppm, Ppm)>,
    /// Lines that one row holds at 0: a raw material out of stock, or one that brings what is not allowed.
    held: Vec<bool>,
    pub(super) absorber: usize,
    pub(super) watched: Watched,
}

impl<'a> Rows<'a> {
    pub(super) fn new(brief: &Brief, program: &'a BriefProgram, exact: &[Exact]) -> Self {
        let asked = |((name, row), unit): ((&'a RowName, &'a Row), &'a RowUnit)| {
            let coefficients = &row.coefficients[..program.lines()];
            Some(AskedRow { limit: limit(name)?, name, coefficients, row, unit, gives: row.low == row.high })
        };
        let mut rows: Vec<AskedRow<'a>> = program.named_rows().zip(program.units()).filter_map(asked).collect();
        for one in equations_in_disguise(&rows) {
            rows[one].gives = true;
        }
        let held = held_at_nothing(&rows, program.lines());
        let absorber = absorber(brief, exact, &held);
        let ranges = brief.lines().iter().map(|line| line.role().range()).collect();
        // A search whose time is over still places what it found.
        Rows { rows, ranges, held, absorber, watched: brief.watched().to_the_end() }
    }

    /// The lines that rounding may move.
    pub(super) fn free_lines(&self) -> Vec<usize> {
        let is_free = |line: &usize| self.ranges[*line].0 < self.ranges[*line].1 && !self.held[*line];
        (0..self.ranges.len()).filter(is_free).collect()
    }

    /// The most that an equation may be missed by: `1 ppm * sum |a_j - a_q|`, in ppm, over the lines that rounding moves.
    pub(super) fn reach(&self, coefficients: &[Exact]) -> Exact {
        self.spread(coefficients, &self.free_lines())
    }

    /// `sum |a_j - a_q|` over some of the lines.
    pub(super) fn spread(&self, coefficients: &[Exact], lines: &[usize]) -> Exact {
        let at_absorber = &coefficients[self.absorber];
        // -1, 0 or 1.
        let sign = |line: &usize| coefficients[*line].cmp(at_absorber) as i32;
        let signs = lines.iter().map(sign);
        let of_absorber = at_absorber * Exact::from(signs.clone().sum::<i32>());
        dot(lines.iter().map(|line| &coefficients[*line]), signs.map(Exact::from)) - of_absorber
    }

    /// The first row that these percentages break: a one-sided one, or an equation by more than the grid may depart.
    pub(super) fn broken(&self, percents: &[Ppm]) -> Option<&AskedRow<'a>> {
        self.rows.iter().find(|row| {
            let activity = activity(row.coefficients, percents);
            row.missed(&activity) && (!row.gives || activity.abs() > self.reach(row.coefficients))
        })
    }

    pub(super) fn in_ranges(&self, percents: &[Ppm]) -> bool {
        percents.iter().zip(&self.ranges).all(|(percent, (low, high))| low <= percent && percent <= high)
    }

    pub(super) fn are_met(&self, percents: &[Ppm]) -> bool {
        self.in_ranges(percents) && self.broken(percents).is_none()
    }

    /// The one rounding rule, in ppm; nothing where the absorber would leave 0 to 100 %, or where what comes of it breaks
    /// anything.
    pub(super) fn rounded(&self, percents: &[Exact]) -> Option<Vec<Ppm>> {
        let parts: Vec<Exact> = percents.iter().map(|percent| percent * Exact::from(10_000)).collect();
        let units = units_of(&parts, i64::from(Ppm::WHOLE.parts()), self.absorber).ok()?;
        let percents: Option<Vec<Ppm>> =
            units.iter().map(|parts| Ppm::from_parts(u32::try_from(*parts).ok()?).ok()).collect();
        percents.filter(|percents| self.are_met(percents))
    }

    /// Where these percentages miss an equation.
    pub(super) fn departures(&self, percents: &[Ppm]) -> Vec<Departure> {
        let mut found = Vec::new();
        for row in self.rows.iter().filter(|row| row.gives) {
            let departure = activity(row.coefficients, percents);
            if !row.missed(&departure) {
                continue;
            }
            // A denominator of 0 leaves the row in its own unit, in percent points.
            let divisor = activity(&row.unit.divisor, percents);
            let divisor = if divisor.is_zero() { Exact::from(10_000) } else { divisor };
            let bound = self.reach(row.coefficients) / &divisor;
            found.push(Departure {
                words: row.name.words().to_string(),
                departure: departure / divisor,
                bound,
                unit: row.unit.unit.clone(),
            });
        }
        found
    }

    /// The one-sided rows that the exact solution meets with equality, and the lines that it has at an end of their
    /// ranges.
    pub(super) fn met_without_room(&self, exact: &[Exact]) -> Vec<Limit> {
        let rows = self.rows.iter().filter(|row| dot(row.coefficients, exact).is_zero());
        let at_end = |line: &usize| {
            self.ranges[*line].0.percent() == exact[*line] || self.ranges[*line].1.percent() == exact[*line]
        };
        rows.map(|row| row.limit).chain((0..exact.len()).filter(at_end).map(Limit::Line)).collect()
    }

    /// True for a line dosed with care, unless it takes the rest.
    pub(super) fn has_care(&self, brief: &Brief, line: usize) -> bool {
        line != self.absorber && brief.lines()[line].material().main_class().is_dosed_with_care()
    }

    /// The lines' ranges in whole ppm.
    pub(super) fn in_parts(&self) -> Vec<(i64, i64)> {
        self.ranges.iter().map(|(low, high)| (i64::from(low.parts()), i64::from(high.parts()))).collect()
    }

    /// The part of the ranges within so many ppm of the exact solution, lines dosed with care within a thousandth of
    /// that, one at least, unless such a line takes the rest.
    pub(super) fn around(&self, brief: &Brief, exact: &[Exact], reach: i64) -> Vec<(i64, i64)> {
        let near = |(line, (low, high)): (usize, (i64, i64))| {
            let reach = if self.has_care(brief, line) { (reach / 1024).max(1) } else { reach };
            let parts = (&exact[line] * Exact::from(10_000)).round_i64(HalfWay::ToEven);
            parts.map_or((low, high), |parts| (low.max(parts - reach), high.min(parts + reach)))
        };
        self.in_parts().into_iter().enumerate().map(near).collect()
    }
}

/// Rows that ask for one value by two limits, at least and at most: they give as an equation does.
fn equations_in_disguise(rows: &[AskedRow<'_>]) -> Vec<usize> {
    // Water that drying would have to take up is no limit of the user's.
    let limits =
        rows.iter().enumerate().filter(|(_, row)| !row.gives && matches!(row.limit, Limit::Requirement { .. }));
    // The first line that counts in a row.
    let first = |row: &AskedRow<'_>| row.coefficients.iter().position(|coefficient| !coefficient.is_zero());
    let limits: Vec<(usize, usize)> = limits.filter_map(|(index, row)| Some((index, first(row)?))).collect();
    let mut found = Vec::new();
    for (place, (one, start)) in limits.iter().enumerate() {
        for (other, other_start) in &limits[place + 1..] {
            if start != other_start {
                continue;
            }
            let (left, right) = (rows[*one].coefficients, rows[*other].coefficients);
            // A limit's low end is 0 or its high end is: turned to one sign, the two have to be of two kinds.
            let turned = left[*start].is_negative() != right[*start].is_negative();
            let opposite = (rows[*one].row.low == rows[*other].row.low) == turned;
            let same = |(one, other): (&Exact, &Exact)| one * &right[*start] == other * &left[*start];
            // Where they start they are alike by that.
            if opposite && left[start + 1..].iter().zip(&right[start + 1..]).all(same) {
                found.extend([*one, *other]);
            }
        }
    }
    found
}

/// The lines that a row, together with what others hold, holds at 0.
fn held_at_nothing(rows: &[AskedRow<'_>], lines: usize) -> Vec<bool> {
    let mut held = vec![false; lines];
    while let Some(row) = rows.iter().find(|row| row.allows_nothing_of(&held)) {
        for (held, coefficient) in held.iter_mut().zip(row.coefficients) {
            *held |= !coefficient.is_zero();
        }
    }
    held
}

pub(super) fn fails(what: &str) -> Error {
    proof::fails(what).within("grid formula")
}

/// What percentages bring to a row, in ppm.
fn activity(coefficients: &[Exact], percents: &[Ppm]) -> Exact {
    dot(coefficients, percents.iter().map(|percent| Exact::from(percent.parts())))
}

/// The q.s. line, else the largest line that is neither fixed nor dosed with care, else the largest that is not fixed;
/// none that is held.
pub(super) fn absorber(brief: &Brief, exact: &[Exact], held: &[bool]) -> usize {
    let largest = |keep: &dyn Fn(&BriefLine) -> bool| {
        // Of several the first.
        let kept = (0..exact.len()).rev().filter(|index| !held[*index] && keep(&brief.lines()[*index]));
        kept.max_by_key(|index| &exact[*index])
    };
    let is_free = |line: &BriefLine| line.role().range().0 < line.role().range().1;
    largest(&|line: &BriefLine| line.role() == &Role::Qs)
        .or_else(|| largest(&|line: &BriefLine| is_free(line) && !line.material().main_class().is_dosed_with_care()))
        .or_else(|| largest(&is_free))
        .unwrap_or(0)
}
