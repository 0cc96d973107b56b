//! The grid formula: whole ppm near the exact solution.
//!
//! Every one-sided requirement and every range holds exactly on the grid; equations (splits, targets, and two limits
//! that ask for one value together) may depart, each by no more than its bound. Line by line, percentages are rounded
//! to the nearest ppm and the absorber (the q.s. line, else the largest line that is neither fixed nor dosed with care;
//! none that a requirement holds at 0) takes the rest. With `q` the absorber, a row's activity then moves by
//! `sum (a_j - a_q) r_j` with rounding errors `|r_j| <= 1/2 ppm`.
//!
//! 1. Round the exact solution. If every one-sided row still holds, that is the grid formula.
//! 2. Else move each one-sided row inwards by the most that rounding can do, `1/2 ppm * sum |a_j - a_q|`, let the
//!    equations depart, and find the point that departs least and for which, then, lines are moved least in sum from
//!    the exact solution (a linear program); rounding it cannot break a row. First only the lines that are rounded
//!    anyway are moved, which leaves the other lines, and what their rounding could do, out of it; then all that can.
//! 3. If there is no such point, search the whole-ppm points themselves, near the exact solution and then everywhere
//!    ([`whole`]). That there is none is proved then, unless the search was cut off.
//!
//! An equation's bound is `1 ppm * sum |a_j - a_q|` over the lines that can move: half from step 2, half from rounding.
//! It is enough whichever line takes the rest: errors of up to one ppm that sum to 0 move an activity by no more than
//! that.
//!
//! # Why
//! - Whole ppm are searched in reduced coordinates (`solve/grid/coordinates.rs`). Branching on lines took thousands
//!   of programs where rows leave no room (limits at the exact end of the reach): a row of 3 to 7 meets whole
//!   numbers along no line. A basis of the whole points, reduced in the room that rows and ranges leave, puts such
//!   directions last, and branching goes by those first: a few dozen programs. The reduction is in floats and only
//!   has to be good; that the basis and its inverse are whole is checked, and the tree over it proves a refusal.
//! - Step 2 asks for the least sum of moves. A point that only has to lie in a box around the exact solution stands in
//!   one of its corners, where every line is as far off as may be. What is made of the point is checked, so the point is
//!   taken from the search as it is: to prove it took longer than to find it.
//! - Two limits that ask for one value together are an equation. `q` takes the rest; a line that one requirement
//!   holds at 0 cannot.

mod coordinates;
mod rows;
mod whole;

pub use rows::Departure;

use tenside_lp::{Column, Program, Row, search, solve_watched};

use self::rows::{Rows, fails};
use super::constraint::Limit;
use super::member::line_words;
use super::program::{BriefProgram, giving};
use super::proof::Proof;
use crate::brief::{Brief, BriefLine, Role};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::number::{Exact, Ppm};

/// How far from the exact solution step 2 looks, in ppm.
const REACH: i64 = 4096;
/// In parts of which step 2 counts what the exact solution brings.
const BILLION: i64 = 1_000_000_000;

/// The grid formula with its departures.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Grid {
    pub(super) formula: Formula,
    pub(super) departures: Vec<Departure>,
}

/// Why no whole-ppm formula was found.
#[derive(Clone, Debug, PartialEq)]
pub struct GridRefusal {
    pub(super) requirements: Vec<String>,
    /// What proves it, or after how many linear programs the search was cut off.
    pub(super) search: Result<Box<whole::Proof>, usize>,
}

getters!(GridRefusal {
    /// The requirements, splits and ranges that leave no room together; where the search was cut off, those that the
    /// exact solution meets without room to spare.
    requirements: &[String],
});

impl GridRefusal {
    /// True where the search was complete: there is no such formula. False where it was cut off.
    #[must_use]
    pub fn is_proved(&self) -> bool {
        self.search.is_ok()
    }

    /// One sentence that says what leaves no room.
    #[must_use]
    pub fn sentence(&self) -> String {
        let room = |most: &str| match self.requirements.as_slice() {
            [] => String::new(),
            [one] => format!("; this leaves {most} room: {one}"),
            several => format!("; these leave {most} room together: {}", several.join("; ")),
        };
        match self.search {
            Ok(_) => format!("no formula of whole 0.0001 % meets every requirement{}", room("no")),
            Err(nodes) => format!(
                "no formula of whole 0.0001 % was found in {nodes} linear programs, there may be one{}",
                room("little")
            ),
        }
    }
}

impl From<GridRefusal> for Error {
    fn from(refusal: GridRefusal) -> Self {
        let remedy = match refusal.requirements.as_slice() {
            [_] => "the exact solution is proved all the same; loosen it by 0.001",
            _ => "the exact solution is proved all the same; loosen one of them by 0.001",
        };
        Fault::new(FaultKind::Contradiction, refusal.sentence()).remedy(remedy).into()
    }
}

/// Puts the exact solution on the grid.
pub(super) fn place(
    brief: &Brief,
    program: &BriefProgram,
    exact: &[Exact],
) -> Result<Result<Grid, GridRefusal>, Error> {
    let rows = Rows::new(brief, program, exact);
    if let Some(percents) = rows.rounded(exact) {
        return finish(brief, &rows, &percents).map(Ok);
    }
    let free = rows.free_lines();
    let is_rounded = |line: &usize| *line == rows.absorber || !(&exact[*line] * Exact::from(10_000)).is_whole();
    let rounded: Vec<usize> = free.iter().copied().filter(is_rounded).collect();
    let attempts = if rounded.len() < free.len() { vec![rounded, free] } else { vec![free] };
    for lines in attempts {
        if let Some(percents) = inwards(brief, &rows, exact, &lines)? {
            return finish(brief, &rows, &percents).map(Ok);
        }
    }
    let search = match whole::search(brief, &rows, exact)? {
        Ok(percents) => return finish(brief, &rows, &percents).map(Ok),
        Err(nothing) => nothing,
    };
    let limits = match &search {
        Ok(proof) => proof.support(&rows)?,
        Err(_) => rows.met_without_room(exact),
    };
    Ok(Err(GridRefusal { requirements: named(brief, &rows, limits), search }))
}

/// Rows and lines in the words of the brief, each once.
fn named(brief: &Brief, rows: &Rows<'_>, limits: Vec<Limit>) -> Vec<String> {
    let mut words: Vec<String> = Vec::new();
    for limit in limits {
        let row = rows.rows.iter().find(|row| row.limit == limit);
        let said = match limit {
            Limit::Line(line) => line_words(&brief.lines()[line]),
            _ => row.map_or("", |row| row.name.words()).to_string(),
        };
        if !words.contains(&said) {
            words.push(said);
        }
    }
    words
}

/// Step 2, moving some of the lines. Columns: by how much each of them is raised and lowered, then for every equation
/// how far it departs.
fn inwards(brief: &Brief, rows: &Rows<'_>, exact: &[Exact], free: &[usize]) -> Result<Option<Vec<Ppm>>, Error> {
    // Half a ppm, in percent.
    let half = Exact::ratio(1, 20_000);
    let most = Exact::ratio(REACH, 10_000);
    let others = i64::try_from(free.iter().filter(|line| **line != rows.absorber).count()).unwrap_or(i64::MAX);
    let (mut moves, mut columns) = (Vec::new(), Vec::new());
    for &line in free {
        // The absorber takes what rounding leaves of all others.
        let kept = if line == rows.absorber { Exact::from(others) * &half } else { Exact::ZERO };
        // A line dosed with care is moved where nothing else will do.
        let cost = Exact::ratio(1, if rows.has_care(brief, line) { 1 } else { 100 });
        let (low, high) = rows.ranges[line];
        let [up, down] = [high.percent() - &exact[line] - &kept, &exact[line] - low.percent() - &kept];
        for (sign, room, behind) in [(1, &up, &down), (-1, &down, &up)] {
            let (low, high) = ((-behind).max(Exact::ZERO), room.clone().max(Exact::ZERO).min(most.clone()));
            if !low.is_zero() || !high.is_zero() {
                moves.push((line, Exact::from(sign)));
                columns.push(Column { low: Some(low), high: Some(high), cost: cost.clone() });
            }
        }
    }
    let width = moves.len() + rows.rows.iter().filter(|asked| asked.gives).count();
    let row = |coefficients: &[Exact], low: Option<Exact>, high: Option<Exact>| {
        let mut moved = Vec::with_capacity(width);
        moved.extend(moves.iter().map(|(line, sign)| &coefficients[*line] * sign));
        moved.resize(width, Exact::ZERO);
        Row { coefficients: moved, low, high }
    };
    let mut program_rows = vec![row(&vec![Exact::ONE; exact.len()], Some(Exact::ZERO), Some(Exact::ZERO))];
    let values: Vec<f64> = exact.iter().map(Exact::to_f64).collect();
    for asked in &rows.rows {
        let (coefficients, Row { low, high, .. }) = (asked.coefficients, asked.row);
        let brought: f64 = coefficients.iter().zip(&values).map(|(each, value)| each.to_f64() * value).sum();
        let brought = Exact::ratio((brought * BILLION as f64).round() as i64, BILLION);
        let reach = rows.spread(coefficients, free);
        let room = &reach * &half;
        let left = |end: &Option<Exact>| end.as_ref().map(|end| end - &brought);
        let (low, high) = (left(low), left(high));
        if !asked.gives {
            let far = &reach * &most + &room;
            let is_near = |end: &Option<Exact>| end.as_ref().is_some_and(|end| end.abs() < far);
            if is_near(&low) || is_near(&high) {
                program_rows.push(row(coefficients, low.map(|low| low + &room), high.map(|high| high - &room)));
            }
            continue;
        }
        // a x - p <= b and a x + p >= b, with 0 <= p <= room, each unit of room costing the same
        let departure = columns.len();
        let cost = room.reciprocal().unwrap_or_default();
        columns.push(Column { low: Some(Exact::ZERO), high: Some(room), cost });
        let Row { coefficients, .. } = row(coefficients, None, None);
        program_rows.extend(giving(&coefficients, [low, high], (departure, &Exact::ONE), width));
    }
    let program = Program::new(columns, program_rows)?;
    let order: Vec<usize> = (0..moves.len()).collect();
    let met = |values: &[Exact]| {
        let mut percents = exact.to_vec();
        for ((line, sign), by) in moves.iter().zip(values) {
            percents[*line] += by * sign;
        }
        rows.rounded(&percents)
    };
    // What rounding makes of the point is checked here, so that the point needs no proof.
    if let Some(percents) = search::point(&program, &order).and_then(|point| met(&nearly(&point))) {
        return Ok(Some(percents));
    }
    let outcome = solve_watched(&program, &order, &rows.watched)?;
    Ok(outcome.optimum().and_then(|optimum| met(&optimum.values)))
}

/// Percentages in parts of a ppm, fine enough to be rounded and coarse enough that what is half-way stays so.
fn nearly(point: &[f64]) -> Vec<Exact> {
    const PARTS: i64 = 1024 * 10_000;
    point.iter().map(|percent| Exact::ratio((percent * PARTS as f64).round() as i64, PARTS)).collect()
}

fn finish(brief: &Brief, rows: &Rows<'_>, percents: &[Ppm]) -> Result<Grid, Error> {
    Ok(Grid { formula: formula_of(brief, percents)?, departures: rows.departures(percents) })
}

/// The formula of a brief at whole ppm.
pub(super) fn formula_of(brief: &Brief, percents: &[Ppm]) -> Result<Formula, Error> {
    let mut lines = Vec::with_capacity(percents.len());
    for (line, percent) in brief.lines().iter().zip(percents) {
        lines.push(
            Line::of_checked(line.name(), line.material(), line.phase(), *percent)
                .in_groups(line.groups())
                .for_purposes(line.purposes())
                .as_qs(line.role() == &Role::Qs)
                .as_fixed(matches!(line.role(), Role::Fixed(_))),
        );
    }
    Formula::of_checked(brief.title(), lines, brief.phases(), brief.prices().cloned())
}

/// True where the lines of a formula are those of a brief.
pub(super) fn has_its_lines(brief: &Brief, formula: &Formula) -> bool {
    let is_its =
        |(line, asked): (&Line, &BriefLine)| line.name() == asked.name() && line.material() == asked.material();
    formula.lines().len() == brief.lines().len() && formula.lines().iter().zip(brief.lines()).all(is_its)
}

/// Checks what became of an exact solution against the program. Of a grid formula that its lines are the brief's, they
/// sum to 100, every one-sided row and range holds exactly, and the departures are those reported, none above its bound.
/// Where there is none, that no whole ppm will do, as is claimed; where the search was cut off, that rounding alone gives
/// none.
pub(super) fn verify(
    brief: &Brief,
    proof: &Proof,
    exact: &[Exact],
    placed: &Result<Grid, GridRefusal>,
) -> Result<(), Error> {
    let rows = Rows::new(brief, proof.program(), exact);
    let grid = match placed {
        Ok(grid) => grid,
        Err(_) if rows.rounded(exact).is_some() => {
            return Err(fails("there is a grid formula, though none is given"));
        }
        Err(refusal) => return refusal.search.as_ref().map_or(Ok(()), |proof| proof.verify(&rows)),
    };
    if !has_its_lines(brief, &grid.formula) {
        return Err(fails("its lines are not the brief's"));
    }
    let percents: Vec<Ppm> = grid.formula.lines().iter().map(Line::percent).collect();
    if percents.iter().map(|percent| u64::from(percent.parts())).sum::<u64>() != u64::from(Ppm::WHOLE.parts()) {
        return Err(fails("its lines do not sum to 100 %"));
    }
    if !rows.in_ranges(&percents) {
        return Err(fails("a line is outside its range"));
    }
    if let Some(row) = rows.broken(&percents) {
        return Err(fails(&format!("it does not meet: {}", row.name.words())));
    }
    if rows.departures(&percents) != grid.departures {
        return Err(fails("a departure is not the one reported"));
    }
    // Title, phases, groups and prices decide what the formula's own measures say.
    if finish(brief, &rows, &percents)? != *grid {
        return Err(fails("it is another formula than the brief's at these percentages"));
    }
    Ok(())
}

#[cfg(test)]
mod tests;
