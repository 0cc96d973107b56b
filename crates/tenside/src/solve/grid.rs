//! The grid formula: whole ppm near the exact solution.
//!
//! Every one-sided requirement and every range holds exactly on the grid; equations (splits, targets) may depart, each by no more than
//! its bound. Line by line, percentages are rounded to the nearest ppm and the absorber (the q.s. line, else the largest line that is
//! neither fixed nor dosed with care) takes the rest. With `q` the absorber, a row's activity then moves by `sum (a_j - a_q) r_j` with
//! rounding errors `|r_j| <= 1/2 ppm`.
//!
//! 1. Round the exact solution. If every one-sided row still holds, that is the grid formula.
//! 2. Else move each one-sided row inwards by the most that rounding can do, `1/2 ppm * sum |a_j - a_q|`, let the equations depart, and
//!    find a point near the exact solution that departs least (a linear program); rounding it cannot break a row.
//! 3. If there is no such point, search the whole-ppm points themselves, branching on one line at a time, up to a number of nodes.
//!
//! An equation's bound is `1 ppm * sum |a_j - a_q|` over the lines that are not fixed: half from step 2, half from rounding.

use std::sync::Arc;

use super::linear::{Column, Optimum, Outcome, Program, Row, solve_lexicographic};
use super::program::{BriefProgram, RowName, RowUnit};
use super::proof::Proof;
use crate::brief::{Brief, BriefLine, Role};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::number::{Exact, HalfWay, Ppm, apportion_to};

/// How far from the exact solution step 2 looks, in ppm, nearest first.
const REACHES: [i64; 3] = [8, 64, 4096];
/// How many nodes step 3 looks at.
const MOST_NODES: usize = 400;

/// An equation that the grid formula does not meet exactly.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Departure {
    /// The equation, in the words of the brief.
    pub words: String,
    /// How far it is from holding: the measure's value less the target; for a split, percent points (by mole: mmol/g) of what the line
    /// brings too much.
    pub departure: Exact,
    /// The most it may be.
    pub bound: Exact,
    /// The unit of both.
    pub unit: String,
}

/// The grid formula with its departures.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Grid {
    pub(super) formula: Formula,
    pub(super) departures: Vec<Departure>,
}

/// Why no whole-ppm formula was found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct GridRefusal {
    /// The requirements that leave less room than the grid needs.
    pub requirements: Vec<String>,
    /// True where the search was complete: there is none. False where it was cut off.
    pub proved: bool,
}

impl From<GridRefusal> for Error {
    fn from(refusal: GridRefusal) -> Self {
        let what = if refusal.proved {
            "no formula of whole 0.0001 % meets every requirement"
        } else {
            "no formula of whole 0.0001 % was found, the search was cut off"
        };
        Fault::new(FaultKind::Contradiction, what)
            .value(refusal.requirements.join("; "))
            .remedy("the exact solution is proved all the same; loosen one of these by 0.001")
            .into()
    }
}

/// The rows of the brief itself (not of its objective), with the lines' part of their coefficients. All ends of theirs are 0: a limit stands
/// in the coefficients.
struct Rows<'a> {
    rows: Vec<(&'a RowName, &'a [Exact], &'a Row, &'a RowUnit)>,
    ranges: Vec<(Ppm, Ppm)>,
    absorber: usize,
}

impl<'a> Rows<'a> {
    fn new(brief: &Brief, program: &'a BriefProgram, exact: &[Exact]) -> Self {
        let named = program.names().iter().zip(program.program().rows()).zip(program.units());
        let named = named.filter(|((name, _), _)| !matches!(name, RowName::Objective(_) | RowName::Total));
        Rows {
            rows: named.map(|((name, row), unit)| (name, &row.coefficients[..program.lines()], row, unit)).collect(),
            ranges: brief.lines().iter().map(|line| line.role().range()).collect(),
            absorber: absorber(brief, exact),
        }
    }

    fn is_free(&self, line: usize) -> bool {
        self.ranges[line].0 < self.ranges[line].1
    }

    /// `1 ppm * sum |a_j - a_q|` in percent points, over the lines that rounding moves.
    fn reach(&self, coefficients: &[Exact]) -> Exact {
        let at_absorber = &coefficients[self.absorber];
        let sum: Exact = (0..coefficients.len()).filter(|line| self.is_free(*line)).map(|line| (&coefficients[line] - at_absorber).abs()).sum();
        sum * Exact::ratio(1, 10_000)
    }

    fn is_equation(row: &Row) -> bool {
        row.low.is_some() && row.low == row.high
    }

    /// The names of the rows that these percentages break: one-sided ones, and equations by more than the grid may depart.
    fn broken(&self, percents: &[Ppm]) -> Vec<String> {
        let mut broken = Vec::new();
        for (name, coefficients, row, _) in &self.rows {
            let activity = activity(coefficients, percents);
            let breaks = if Rows::is_equation(row) {
                !activity.is_zero() && activity.abs() > self.reach(coefficients)
            } else {
                row.low.as_ref().is_some_and(|low| activity < *low) || row.high.as_ref().is_some_and(|high| activity > *high)
            };
            if breaks {
                broken.push(name.words().to_string());
            }
        }
        broken
    }

    fn in_ranges(&self, percents: &[Ppm]) -> bool {
        percents.iter().zip(&self.ranges).all(|(percent, (low, high))| low <= percent && percent <= high)
    }
}

fn activity(coefficients: &[Exact], percents: &[Ppm]) -> Exact {
    let nonzero = coefficients.iter().zip(percents).filter(|(coefficient, _)| !coefficient.is_zero());
    let in_parts: Exact = nonzero.map(|(coefficient, percent)| coefficient * Exact::from(percent.parts())).sum();
    in_parts * Exact::ratio(1, 10_000)
}

/// The q.s. line, else the largest line that is neither fixed nor dosed with care, else the largest that is not fixed.
fn absorber(brief: &Brief, exact: &[Exact]) -> usize {
    let largest = |keep: &dyn Fn(&BriefLine) -> bool| {
        let mut best: Option<usize> = None;
        for index in (0..exact.len()).filter(|index| keep(&brief.lines()[*index])) {
            if best.is_none_or(|best| exact[index] > exact[best]) {
                best = Some(index);
            }
        }
        best
    };
    let is_free = |line: &BriefLine| line.role().range().0 < line.role().range().1;
    largest(&|line: &BriefLine| line.role() == &Role::Qs)
        .or_else(|| largest(&|line: &BriefLine| is_free(line) && !line.material().main_class().is_dosed_with_care()))
        .or_else(|| largest(&is_free))
        .unwrap_or(0)
}

/// Puts the exact solution on the grid.
pub(super) fn place(brief: &Brief, proof: &Proof, exact: &[Exact]) -> Result<Result<Grid, GridRefusal>, Error> {
    let rows = Rows::new(brief, proof.program(), exact);
    if let Some(percents) = round(&rows, exact).filter(|percents| rows.in_ranges(percents) && rows.broken(percents).is_empty()) {
        return finish(brief, &rows, &percents).map(Ok);
    }
    for reach in REACHES {
        if let Some(percents) = inwards(&rows, exact, reach)? {
            return finish(brief, &rows, &percents).map(Ok);
        }
    }
    match search(&rows)? {
        Searched::Found(percents) => finish(brief, &rows, &percents).map(Ok),
        Searched::None { proved } => {
            let requirements = match round(&rows, exact) {
                Some(percents) => rows.broken(&percents),
                None => Vec::new(),
            };
            Ok(Err(GridRefusal { requirements, proved }))
        }
    }
}

/// The one rounding rule, in ppm; nothing where the absorber would leave 0 to 100 %.
fn round(rows: &Rows<'_>, percents: &[Exact]) -> Option<Vec<Ppm>> {
    let parts: Vec<Exact> = percents.iter().map(|percent| percent * Exact::from(10_000)).collect();
    let rounded = apportion_to(&parts, i64::from(Ppm::WHOLE.parts()), rows.absorber).ok()?;
    rounded.units.iter().map(|parts| Ppm::from_parts(u32::try_from(*parts).ok()?).ok()).collect()
}

/// Step 2. Columns: the lines, then for every equation how far it departs.
fn inwards(rows: &Rows<'_>, exact: &[Exact], reach: i64) -> Result<Option<Vec<Ppm>>, Error> {
    let lines = exact.len();
    let half = Exact::ratio(1, 2);
    let free = (0..lines).filter(|line| rows.is_free(*line) && *line != rows.absorber).count();
    let absorber_room = Exact::from(i64::try_from(free).unwrap_or(i64::MAX)) * Exact::ratio(1, 20_000);
    let around = Exact::ratio(reach, 10_000);
    let mut columns: Vec<Column> = (0..lines)
        .map(|line| {
            let (mut low, mut high) = (rows.ranges[line].0.percent(), rows.ranges[line].1.percent());
            if line == rows.absorber && rows.is_free(line) {
                low += &absorber_room;
                high -= &absorber_room;
            }
            Column { low: Some(low.max(&exact[line] - &around)), high: Some(high.min(&exact[line] + &around)), cost: Exact::ZERO }
        })
        .collect();
    let mut program_rows = vec![Row { coefficients: vec![Exact::ONE; lines], low: Some(Exact::hundred()), high: Some(Exact::hundred()) }];
    for (_, coefficients, row, _) in &rows.rows {
        let room = rows.reach(coefficients) * &half;
        if Rows::is_equation(row) {
            if room.is_zero() {
                program_rows.push(Row { coefficients: coefficients.to_vec(), low: row.low.clone(), high: row.high.clone() });
                continue;
            }
            // a x - p <= b and a x + p >= b, with 0 <= p <= room, each unit of room costing the same
            let departure = columns.len();
            columns.push(Column { low: Some(Exact::ZERO), high: Some(room.clone()), cost: Exact::ONE / &room });
            for upper in [true, false] {
                let mut wide = coefficients.to_vec();
                wide.resize(departure + 1, Exact::ZERO);
                wide[departure] = if upper { Exact::from(-1) } else { Exact::ONE };
                let (low, high) = if upper { (None, row.high.clone()) } else { (row.low.clone(), None) };
                program_rows.push(Row { coefficients: wide, low, high });
            }
        } else {
            let (low, high) = (row.low.as_ref().map(|low| low + &room), row.high.as_ref().map(|high| high - &room));
            program_rows.push(Row { coefficients: coefficients.to_vec(), low, high });
        }
    }
    let width = columns.len();
    for row in &mut program_rows {
        row.coefficients.resize(width, Exact::ZERO);
    }
    let program = Program::new(columns, program_rows)?;
    let order: Vec<usize> = (0..lines).collect();
    let Outcome::Optimal(Optimum { values, .. }) = solve_lexicographic(&program, &order) else { return Ok(None) };
    Ok(round(rows, &values[..lines]).filter(|percents| rows.in_ranges(percents) && rows.broken(percents).is_empty()))
}

enum Searched {
    Found(Vec<Ppm>),
    None { proved: bool },
}

/// Step 3: depth-first over whole-ppm points, each node a linear program with tightened ranges.
fn search(rows: &Rows<'_>) -> Result<Searched, Error> {
    let lines = rows.ranges.len();
    let whole = |percent: Ppm| i64::from(percent.parts());
    let mut open: Vec<Vec<(i64, i64)>> = vec![rows.ranges.iter().map(|(low, high)| (whole(*low), whole(*high))).collect()];
    let mut nodes = 0;
    while let Some(ranges) = open.pop() {
        nodes += 1;
        if nodes > MOST_NODES {
            return Ok(Searched::None { proved: false });
        }
        let columns = ranges.iter().map(|(low, high)| Column { low: Some(Exact::from(*low)), high: Some(Exact::from(*high)), cost: Exact::ZERO }).collect();
        let total = Exact::from(whole(Ppm::WHOLE));
        let mut program_rows = vec![Row { coefficients: vec![Exact::ONE; lines], low: Some(total.clone()), high: Some(total) }];
        for (_, coefficients, row, _) in &rows.rows {
            let room = if Rows::is_equation(row) { rows.reach(coefficients) } else { Exact::ZERO };
            let scaled = coefficients.iter().map(|coefficient| coefficient * Exact::ratio(1, 10_000)).collect();
            program_rows.push(Row { coefficients: scaled, low: row.low.as_ref().map(|low| low - &room), high: row.high.as_ref().map(|high| high + &room) });
        }
        let order: Vec<usize> = (0..lines).collect();
        let Outcome::Optimal(Optimum { values, .. }) = solve_lexicographic(&Program::new(columns, program_rows)?, &order) else { continue };
        let Some(line) = values.iter().position(|value| !value.is_whole()) else {
            let parts = values.iter().map(|value| value.round_i64(HalfWay::ToEven).and_then(|parts| u32::try_from(parts).ok()));
            let percents: Option<Vec<Ppm>> = parts.map(|parts| Ppm::from_parts(parts?).ok()).collect();
            return Ok(percents.map_or(Searched::None { proved: false }, Searched::Found));
        };
        let Some(floor) = values[line].floor_i64() else { continue };
        let (mut above, mut below) = (ranges.clone(), ranges);
        above[line].0 = floor + 1;
        below[line].1 = floor;
        open.push(above);
        open.push(below);
    }
    Ok(Searched::None { proved: true })
}

fn finish(brief: &Brief, rows: &Rows<'_>, percents: &[Ppm]) -> Result<Grid, Error> {
    let mut lines = Vec::with_capacity(percents.len());
    for (line, percent) in brief.lines().iter().zip(percents) {
        let built = Line::new(line.name(), Arc::clone(line.material()), *percent)?.in_phase(line.phase())?;
        lines.push(built.in_groups(line.groups()).as_qs(line.role() == &Role::Qs).as_fixed(matches!(line.role(), Role::Fixed(_))));
    }
    let formula = Formula::new(brief.title(), lines)?.with_phases(&brief.phases())?.with_prices(brief.prices().cloned());
    Ok(Grid { formula, departures: departures(rows, percents) })
}

fn departures(rows: &Rows<'_>, percents: &[Ppm]) -> Vec<Departure> {
    let mut found = Vec::new();
    for (name, coefficients, _, unit) in rows.rows.iter().filter(|(_, _, row, _)| Rows::is_equation(row)) {
        let departure = activity(coefficients, percents);
        if departure.is_zero() {
            continue;
        }
        // A denominator of 0 leaves the row in its own unit.
        let divisor = activity(&unit.divisor, percents);
        let divisor = if divisor.is_zero() { Exact::ONE } else { divisor };
        let bound = rows.reach(coefficients) / &divisor;
        found.push(Departure { words: name.words().to_string(), departure: departure / divisor, bound, unit: unit.unit.clone() });
    }
    found
}

/// Checks a grid formula near an exact solution against the program: its lines are the brief's, they sum to 100, every one-sided row and range holds exactly,
/// and the departures are those reported, none above its bound.
pub(super) fn verify(brief: &Brief, proof: &Proof, exact: &[Exact], grid: &Grid) -> Result<(), Error> {
    let fails = |what: &str| -> Error { Fault::new(FaultKind::Contradiction, what).at("grid formula").into() };
    let same = grid.formula.lines().len() == brief.lines().len()
        && grid.formula.lines().iter().zip(brief.lines()).all(|(line, asked)| line.name() == asked.name() && line.material() == asked.material());
    if !same {
        return Err(fails("its lines are not the brief's"));
    }
    let percents: Vec<Ppm> = grid.formula.lines().iter().map(Line::percent).collect();
    if percents.iter().map(|percent| u64::from(percent.parts())).sum::<u64>() != u64::from(Ppm::WHOLE.parts()) {
        return Err(fails("its lines do not sum to 100 %"));
    }
    let rows = Rows::new(brief, proof.program(), exact);
    if !rows.in_ranges(&percents) {
        return Err(fails("a line is outside its range"));
    }
    if let Some(words) = rows.broken(&percents).first() {
        return Err(fails(&format!("it does not meet: {words}")));
    }
    if departures(&rows, &percents) != grid.departures {
        return Err(fails("a departure is not the one reported"));
    }
    // Title, phases, groups and prices decide what the formula's own measures say.
    if finish(brief, &rows, &percents)? != *grid {
        return Err(fails("it is another formula than the brief's at these percentages"));
    }
    Ok(())
}

/// That rounding the exact solution breaks something, as is claimed where there is no grid formula.
pub(super) fn verify_refusal(brief: &Brief, proof: &Proof, exact: &[Exact]) -> Result<(), Error> {
    let rows = Rows::new(brief, proof.program(), exact);
    match round(&rows, exact).filter(|percents| rows.in_ranges(percents) && rows.broken(percents).is_empty()) {
        None => Ok(()),
        Some(_) => Err(Fault::new(FaultKind::Contradiction, "there is a grid formula, though none is given").at("grid formula").into()),
    }
}

#[cfg(test)]
#[path = "grid_tests.rs"]
mod tests;
