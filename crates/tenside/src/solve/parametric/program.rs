//! What moves in a program when numbers of the brief move, each along a line.
//!
//! ```text
//! number(u) = number(0) + sum over directions k of rate_k u_k        u_k how far direction k is gone
//! ```
//!
//! | parameter | moves | rate |
//! |---|---|---|
//! | part of a split | the amount column's coefficient in the member's row | -1 |
//! | percentage of a fixed line | both ends of its column | 1 |
//! | lowest, highest percentage | one end of its column | 1 |
//! | value of a requirement | its row | minus the denominator |
//! | price | the costs | what the objective counts of the raw material |
//!
//! A determinant is linear in each row, in each column and in the costs, so a direction that moves one of them only
//! makes every determinant of a basis a polynomial of the first degree in it; directions that move the same one are of
//! the first degree together. That is what [`region`](super::region) rests on. Where the objective is a ratio, ends of
//! lines are rows, and move like rows. A number that stands in several (of a written range without objective, or a
//! price on which a requirement rests) is no direction.

use tenside_lp::Program;

use super::ratio::RatioProgram;
use crate::brief::{Brief, Objective, Parameter};
use crate::catalogue::PriceList;
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::number::Exact;
use crate::solve::constraint::{Limit, limit};
use crate::solve::member::{has_two_ends, relax, row_of};
use crate::solve::objective::{Asked, is_constant, sign};
use crate::solve::program::{BriefProgram, RowName, frame, with_costs};
use crate::solve::sides::{Sides, sides_as_far_as_known};

/// How far each parameter moves with one step along a direction: one alone, or parts of a split that trade with each
/// other.
pub(crate) type Direction = Vec<(Parameter, Exact)>;

/// A number of a program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Entry {
    Cost(usize),
    ColumnEnd { column: usize, upper: bool },
    Coefficient { row: usize, column: usize },
}

/// Numbers that move, each by so much.
type Moves = Vec<(Entry, Exact)>;

/// What a determinant is linear in.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Group {
    Costs,
    /// The ends of a column.
    Ends(usize),
    Row(usize),
    /// The coefficients of a split's amount column.
    Amounts(usize),
}

/// A brief's program along directions.
#[derive(Clone, Debug)]
pub(crate) struct ParametricProgram {
    program: Program,
    names: Vec<RowName>,
    /// What each row limits.
    limits: Vec<Option<Limit>>,
    lines: usize,
    moves: Vec<(Entry, usize, Exact)>,
    groups: Vec<Group>,
    /// Of a ratio, the formulas it is a ratio of, with its denominator as costs: where the least of it is above 0 the
    /// ratio has a best value, and what conflicts does so whatever the objective.
    formulas: Option<Box<ParametricProgram>>,
}

impl ParametricProgram {
    /// The program of a brief along directions from where it stands; `None` if the objective is a sum of squares, or
    /// where a direction moves more than one row, one column, the costs or one end.
    ///
    /// # Errors
    /// A brief that cannot be asked, a parameter that it does not have.
    pub(crate) fn new(brief: &Brief, directions: &[Direction]) -> Result<Option<Self>, Error> {
        let (frame, ratio) = match Asked::of(brief, frame(brief)?)? {
            Asked::Program(program) => {
                return ParametricProgram::along(brief, &program.with_split_columns(brief)?, directions, &Some);
            }
            Asked::Ratio(frame, ratio) => (frame, ratio),
            Asked::Squares(..) => return Ok(None),
        };
        let plain = with_costs(frame, ratio.denominator.to_vec())?.with_split_columns(brief)?;
        let RatioProgram { program, limits, ends } = RatioProgram::new(brief, &plain, &ratio)?;
        let without_costs =
            |entries: Moves| Some(entries.into_iter().filter(|(entry, _)| !matches!(entry, Entry::Cost(_))).collect());
        let Some(formulas) = ParametricProgram::along(brief, &plain, directions, &without_costs)? else {
            return Ok(None);
        };
        // A fixed line has one row for both ends.
        let as_rows = |entries: Moves| {
            let mut moved: Moves = Vec::new();
            for (entry, rate) in entries {
                let Entry::ColumnEnd { column, upper } = entry else {
                    moved.push((entry, rate));
                    continue;
                };
                let row = ends[column][usize::from(upper)]?;
                let share = -(rate / Exact::hundred());
                if !moved.iter().any(|(known, _)| *known == Entry::Coefficient { row, column }) {
                    moved.extend(
                        (0..plain.lines()).map(|line| (Entry::Coefficient { row, column: line }, share.clone())),
                    );
                }
            }
            Some(moved)
        };
        let Some(ratio) = ParametricProgram::along(brief, &plain, directions, &as_rows)? else { return Ok(None) };
        Ok(Some(ParametricProgram { program, limits, formulas: Some(Box::new(formulas)), ..ratio }))
    }

    /// The program along directions, with what each parameter moves as `moved` has it.
    fn along(
        brief: &Brief,
        program: &BriefProgram,
        directions: &[Direction],
        moved: &dyn Fn(Moves) -> Option<Moves>,
    ) -> Result<Option<Self>, Error> {
        let (mut moves, mut groups) = (Vec::new(), Vec::new());
        for (place, direction) in directions.iter().enumerate() {
            let mut group = None;
            for (parameter, step) in direction {
                let Some(moved) = moved_by(brief, program, parameter)?.and_then(moved) else { return Ok(None) };
                for (entry, rate) in moved {
                    let own = match entry {
                        Entry::Cost(_) => Group::Costs,
                        Entry::ColumnEnd { column, .. } => Group::Ends(column),
                        Entry::Coefficient { column, .. } if column >= program.lines() => Group::Amounts(column),
                        Entry::Coefficient { row, .. } => Group::Row(row),
                    };
                    if *group.get_or_insert(own) != own {
                        return Ok(None);
                    }
                    moves.push((entry, place, rate * step));
                }
            }
            // What moves nothing is of any group.
            groups.push(group.unwrap_or(Group::Costs));
        }
        let mut open = program.program().clone();
        let first_amount = program.program().columns().len() - brief.splits().len();
        // How great an amount may be depends on parts, which move; no region needs it.
        open.change(
            |index, column| {
                if index >= first_amount {
                    column.high = None
                }
            },
            |_, _| {},
        );
        let names = program.names().to_vec();
        let limits = names.iter().map(limit).collect();
        Ok(Some(ParametricProgram {
            program: open,
            names,
            limits,
            lines: program.lines(),
            moves,
            groups,
            formulas: None,
        }))
    }

    /// The program so far along the directions.
    pub(crate) fn at(&self, offsets: &[Exact]) -> Program {
        let moved: Moves = self
            .moves
            .iter()
            .filter(|(_, direction, _)| !offsets[*direction].is_zero())
            .map(|(entry, direction, rate)| (*entry, rate * &offsets[*direction]))
            .collect();
        let mut program = self.program.clone();
        program.change(
            |index, column| {
                for (entry, by) in &moved {
                    match *entry {
                        Entry::Cost(moving) if moving == index => column.cost += by,
                        Entry::ColumnEnd { column: moving, upper } if moving == index => {
                            let end = if upper { &mut column.high } else { &mut column.low };
                            if let Some(end) = end {
                                *end += by;
                            }
                        }
                        _ => {}
                    }
                }
            },
            |index, row| {
                for (entry, by) in &moved {
                    match *entry {
                        Entry::Coefficient { row: moving, column } if moving == index => row.coefficients[column] += by,
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

    /// What each row limits.
    pub(super) fn limits(&self) -> &[Option<Limit>] {
        &self.limits
    }

    /// Of a ratio, the formulas that it is a ratio of; their costs are its denominator.
    pub(super) fn formulas(&self) -> Option<&ParametricProgram> {
        self.formulas.as_deref()
    }

    /// What each direction moves.
    pub(super) fn groups(&self) -> &[Group] {
        &self.groups
    }

    /// True where a direction moves the costs and nothing else, or nothing at all.
    pub(crate) fn moves_only_costs(&self, direction: usize) -> bool {
        self.groups[direction] == Group::Costs
    }

    /// With only these members asked for: other rows lose their ends, other lines may be anything from 0 to 100 %.
    /// Costs go, so that the only question is whether there is a point.
    pub(super) fn only(&self, kept: &[Limit]) -> Self {
        let mut only = self.clone();
        relax(&mut only.program, &self.names, self.lines, kept);
        only.program.change(|_, column| column.cost = Exact::ZERO, |_, _| {});
        only.moves.retain(|(entry, _, _)| match *entry {
            Entry::Cost(_) => false,
            Entry::ColumnEnd { column, .. } => column >= self.lines || kept.contains(&Limit::Line(column)),
            Entry::Coefficient { .. } => true,
        });
        only
    }
}

/// What one step of a parameter moves, and how far; `None` if that is not along a line.
fn moved_by(brief: &Brief, program: &BriefProgram, parameter: &Parameter) -> Result<Option<Moves>, Error> {
    // Refuses what the brief does not have.
    brief.parameter_value(parameter)?;
    let ends = |name: &str, ends: &[bool]| {
        let column = brief.lines().iter().position(|line| line.name() == name)?;
        Some(ends.iter().map(|upper| (Entry::ColumnEnd { column, upper: *upper }, Exact::ONE)).collect())
    };
    Ok(match parameter {
        Parameter::Part { split, line } => {
            brief.splits().iter().position(|known| known.name() == split).and_then(|place| {
                let column = program.program().columns().len() - brief.splits().len() + place;
                let member = brief.splits()[place].parts().iter().position(|(member, _)| member == line)?;
                let row = row_of(program, Limit::Split { split: place, member })?;
                Some(vec![(Entry::Coefficient { row, column }, Exact::from(-1))])
            })
        }
        Parameter::Fixed(name) => ends(name, &[false, true]),
        // Without objective the middle of the range moves as well.
        Parameter::Lowest(_) | Parameter::Highest(_) if brief.objective().is_none() => None,
        Parameter::Lowest(name) => ends(name, &[false]),
        Parameter::Highest(name) => ends(name, &[true]),
        Parameter::AtLeast(name) => requirement_row(brief, program, name, false),
        Parameter::Target(name) | Parameter::AtMost(name) => requirement_row(brief, program, name, true),
        Parameter::Price(material) => costs_moved_by(brief, material)?,
    })
}

/// The row of one end of a requirement, which moves by its denominator.
fn requirement_row(brief: &Brief, program: &BriefProgram, name: &str, upper: bool) -> Option<Moves> {
    let place = brief.requirements().iter().position(|known| known.name() == name)?;
    // The worst composition changes with the limit; without objective the middle of a range moves as well.
    if brief.requirements()[place].is_for_every_composition()
        || brief.objective().is_none() && has_two_ends(brief, place)
    {
        return None;
    }
    let row = row_of(program, Limit::Requirement { index: place, upper })?;
    let divisor = program.units()[row].divisor.iter().enumerate().filter(|(_, weight)| !weight.is_zero());
    Some(divisor.map(|(column, weight)| (Entry::Coefficient { row, column }, -weight)).collect())
}

/// The costs that a price moves; `None` if a requirement or what the objective divides by rests on it too.
fn costs_moved_by(brief: &Brief, material: &str) -> Result<Option<Moves>, Error> {
    for requirement in brief.requirements() {
        let (numerator, denominator) = weight_rates(brief, material, requirement.measure(), requirement.basis())?;
        if numerator.iter().chain(&*denominator).any(|rate| !rate.is_zero()) {
            return Ok(None);
        }
    }
    let Some(Objective::Measure { measure, basis, .. }) = brief.objective() else { return Ok(Some(Vec::new())) };
    let (rates, below) = weight_rates(brief, material, measure, basis)?;
    if below.iter().any(|rate| !rate.is_zero()) {
        return Ok(None);
    }
    let sides = sides_as_far_as_known(brief, measure, basis)?;
    let sign = sign(brief);
    // A ratio divides by its denominator itself, not by what it is for every formula.
    let scale = if is_constant(&sides.denominator) {
        sides.denominator.first().and_then(|each| sign.checked_div(&(each * Exact::hundred())))
    } else {
        Some(sign)
    };
    let Some(scale) = scale else { return Ok(None) };
    let moved = rates.iter().enumerate().filter(|(_, rate)| !rate.is_zero());
    Ok(Some(moved.map(|(column, rate)| (Entry::Cost(column), rate * &scale)).collect()))
}

/// By how much a measure's numerator and denominator of each line grow with a price: what they are where it alone is 1,
/// less what they are where all prices are 0.
///
/// # Errors
/// Weights that are not known.
pub(crate) fn weight_rates(brief: &Brief, material: &str, measure: &Measure, basis: &Basis) -> Result<Sides, Error> {
    let none = || vec![Exact::ZERO; brief.lines().len()].into();
    let Some(prices) = brief.prices() else { return Ok((none(), none())) };
    let at = |price: i64| {
        let each = prices.iter().map(|(known, _)| (known, if known == material { price } else { 0 }));
        let prices = PriceList::new(prices.currency(), each)?;
        sides_as_far_as_known(&brief.clone().priced_by(prices.into()), measure, basis)
    };
    let (without, with) = (at(0)?, at(1)?);
    let difference =
        |with: &[Exact], without: &[Exact]| with.iter().zip(without).map(|(with, without)| with - without).collect();
    Ok((difference(&with.numerator, &without.numerator), difference(&with.denominator, &without.denominator)))
}
