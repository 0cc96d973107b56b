//! A program of which numbers move with dials, each number along a line with each dial.
//!
//! ```text
//! number(u) = number(0) + sum over dials k of rate_k u_k        u_k how far dial k stands from where it was
//! ```
//!
//! What moves is found by compiling the brief with each dial moved alone; that everything is a sum of such moves is checked where all are
//! moved at once. A dial that moves one row, the costs or one end only makes every determinant of a basis a polynomial of the first degree
//! in it, since a determinant is linear in each row: that is what [`piece`](super::piece) rests on.

use super::linear::{Column, Program, Row};
use super::member::{Member, is_asked};
use super::objective::one_program;
use super::program::{BriefProgram, RowName};
use crate::brief::{Brief, Objective};
use crate::error::Error;
use crate::number::Exact;

/// A number of a program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Spot {
    Cost(usize),
    ColumnEnd { column: usize, upper: bool },
    Coefficient { row: usize, column: usize },
}

/// What one dial moves: a row's coefficients, the costs or the ends of one column.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Thing {
    Costs,
    Column(usize),
    Row(usize),
}

impl Spot {
    fn thing(self) -> Thing {
        match self {
            Spot::Cost(_) => Thing::Costs,
            Spot::ColumnEnd { column, .. } => Thing::Column(column),
            Spot::Coefficient { row, .. } => Thing::Row(row),
        }
    }
}

/// A brief's program along some dials.
#[derive(Clone, Debug)]
pub(crate) struct SweptProgram {
    program: Program,
    names: Vec<RowName>,
    lines: usize,
    moves: Vec<(Spot, usize, Exact)>,
}

/// The program of a brief whose objective is one: nothing where it is a ratio or a sum of squares, which take several.
pub(crate) fn program_of(brief: &Brief) -> Result<Option<BriefProgram>, Error> {
    one_program(brief)
}

/// What the value of the objective has more than the cost of the program: for a least change, all that lines had which are gone.
pub(crate) fn beyond_cost(brief: &Brief) -> Exact {
    match brief.objective() {
        Some(Objective::LeastChange(base)) => super::question::gone(brief, base),
        _ => Exact::ZERO,
    }
}

impl SweptProgram {
    /// From the program where every dial stands at 0, each program with one dial moved so far, and the one with all of them moved so far.
    /// Nothing where a number does not move along a line, or where a dial moves more than one thing.
    pub(crate) fn new(start: &BriefProgram, moved: &[(BriefProgram, Exact)], all: (&BriefProgram, &[Exact])) -> Option<Self> {
        let mut moves = Vec::new();
        for (dial, (program, step)) in moved.iter().enumerate() {
            if !start.has_the_shape_of(program) {
                return None;
            }
            let before = moves.len();
            differences(start.program(), program.program(), |spot, difference| {
                let rate = difference.checked_div(step)?;
                moves.push((spot, dial, rate));
                Some(())
            })?;
            let things = moves[before..].iter().map(|(spot, _, _): &(Spot, usize, Exact)| spot.thing());
            let first = things.clone().next();
            if things.clone().any(|thing| Some(thing) != first) {
                return None;
            }
        }
        let swept = SweptProgram { program: start.program().clone(), names: start.names().to_vec(), lines: start.lines(), moves };
        let (expected, offsets) = all;
        (start.has_the_shape_of(expected) && swept.at(offsets) == *expected.program()).then_some(swept)
    }

    /// The program where the dials stand at these offsets.
    pub(crate) fn at(&self, offsets: &[Exact]) -> Program {
        let moved: Vec<(Spot, Exact)> =
            self.moves.iter().filter(|(_, dial, _)| !offsets[*dial].is_zero()).map(|(spot, dial, rate)| (*spot, rate * &offsets[*dial])).collect();
        let mut program = self.program.clone();
        program.change(
            |index, column| {
                for (spot, by) in &moved {
                    match *spot {
                        Spot::Cost(moving) if moving == index => column.cost += by,
                        Spot::ColumnEnd { column: moving, upper } if moving == index => move_end(if upper { &mut column.high } else { &mut column.low }, by),
                        _ => {}
                    }
                }
            },
            |index, row| {
                for (spot, by) in &moved {
                    match *spot {
                        Spot::Coefficient { row: moving, column } if moving == index => row.coefficients[column] += by,
                        _ => {}
                    }
                }
            },
        );
        program
    }

    /// How many of the columns are lines.
    pub(crate) fn lines(&self) -> usize {
        self.lines
    }

    /// What each row says.
    pub(crate) fn names(&self) -> &[RowName] {
        &self.names
    }

    /// True where a dial moves the costs and nothing else, or nothing at all.
    pub(crate) fn moves_only_costs(&self, dial: usize) -> bool {
        self.moves.iter().filter(|(_, moving, _)| *moving == dial).all(|(spot, _, _)| spot.thing() == Thing::Costs)
    }

    /// With only these members asked for: other rows lose their ends, other lines may be anything from 0 to 100 %. Costs go, so that the only
    /// question is whether there is a point.
    pub(super) fn only(&self, kept: &[Member]) -> Self {
        let keeps_row = |row: usize| !is_asked(&self.names[row]) || kept.contains(&Member::Row(row));
        let keeps_column = |column: usize| column >= self.lines || kept.contains(&Member::Line(column));
        let mut only = self.clone();
        only.program.change(
            |index, column: &mut Column| {
                column.cost = Exact::ZERO;
                if !keeps_column(index) {
                    (column.low, column.high) = (Some(Exact::ZERO), Some(Exact::hundred()));
                }
            },
            |index, row: &mut Row| {
                if !keeps_row(index) {
                    (row.low, row.high) = (None, None);
                }
            },
        );
        only.moves.retain(|(spot, _, _)| match *spot {
            Spot::Cost(_) => false,
            Spot::ColumnEnd { column, .. } => keeps_column(column),
            Spot::Coefficient { .. } => true,
        });
        only
    }
}

fn move_end(end: &mut Option<Exact>, by: &Exact) {
    if let Some(end) = end {
        *end += by;
    }
}

/// Every number that differs, and by how much; nothing where an end is there in one of them only, where an end of a row differs (what was
/// asked for stands in the coefficients; the ends are those of distances from the middle of a range, two rows at least) or where `each` says so.
fn differences(first: &Program, second: &Program, mut each: impl FnMut(Spot, Exact) -> Option<()>) -> Option<()> {
    let mut number = |spot: Spot, first: &Exact, second: &Exact| if first == second { Some(()) } else { each(spot, second - first) };
    fn ends<'a>(first: &'a Option<Exact>, second: &'a Option<Exact>) -> Option<Option<(&'a Exact, &'a Exact)>> {
        match (first, second) {
            (None, None) => Some(None),
            (Some(first), Some(second)) => Some(Some((first, second))),
            _ => None,
        }
    }
    for (column, (first, second)) in first.columns().iter().zip(second.columns()).enumerate() {
        number(Spot::Cost(column), &first.cost, &second.cost)?;
        for (upper, pair) in [(false, ends(&first.low, &second.low)?), (true, ends(&first.high, &second.high)?)] {
            if let Some((first, second)) = pair {
                number(Spot::ColumnEnd { column, upper }, first, second)?;
            }
        }
    }
    for (row, (first, second)) in first.rows().iter().zip(second.rows()).enumerate() {
        for (column, (first, second)) in first.coefficients.iter().zip(&second.coefficients).enumerate() {
            number(Spot::Coefficient { row, column }, first, second)?;
        }
        if (&first.low, &first.high) != (&second.low, &second.high) {
            return None;
        }
    }
    Some(())
}
