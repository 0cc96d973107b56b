//! What a user can drop or change: requirement ends, splits and line ranges. Everything else (the sum to 100, percentages from 0 to 100,
//! water that a finished basis keeps) is given.

use super::linear::{Column, Farkas, Program, Row, combined};
use super::program::{BriefProgram, RowName};
use crate::brief::{Brief, Role};
use crate::error::Error;
use crate::number::{Exact, Ppm};

/// One thing that the user asked for, in a program of the brief.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Member {
    /// A row: one end of a requirement, or a member of a split.
    Row(usize),
    /// A line's range, by its place.
    Line(usize),
}

/// True for rows that the user asked for.
fn is_asked(name: &RowName) -> bool {
    matches!(name, RowName::Requirement { .. } | RowName::Split { .. })
}

/// Every member of a brief's program, rows first.
pub(super) fn members(brief: &Brief, program: &BriefProgram) -> Vec<Member> {
    let rows = program.names().iter().enumerate().filter(|(_, name)| is_asked(name)).map(|(index, _)| Member::Row(index));
    let lines = brief.lines().iter().enumerate().filter(|(_, line)| line.role().range() != (Ppm::ZERO, Ppm::WHOLE)).map(|(index, _)| Member::Line(index));
    rows.chain(lines).collect()
}

/// The members that a proof of a conflict uses.
pub(super) fn support(brief: &Brief, program: &BriefProgram, farkas: &Farkas) -> Vec<Member> {
    use super::linear::Crossing;
    match farkas.crossing {
        Some(Crossing::Column(index)) => return vec![Member::Line(index)],
        Some(Crossing::Row(index)) => return vec![Member::Row(index)],
        None => {}
    }
    let sums = combined(program.program(), &farkas.row_multipliers);
    members(brief, program)
        .into_iter()
        .filter(|member| match member {
            Member::Row(index) => !farkas.row_multipliers[*index].is_zero(),
            // The greatest value of the combination uses the high end where the sum is positive and the low end where it is negative; an
            // end at 0 or 100 % is given, not asked for.
            Member::Line(index) => {
                let (low, high) = brief.lines()[*index].role().range();
                (sums[*index].is_positive() && high != Ppm::WHOLE) || (sums[*index].is_negative() && !low.is_zero())
            }
        })
        .collect()
}

/// The program with only these members: other rows lose their ends, other lines may be anything from 0 to 100 %.
pub(super) fn only(brief: &Brief, program: &BriefProgram, kept: &[Member]) -> Result<Program, Error> {
    let columns = program.program().columns().iter().enumerate().map(|(index, column)| {
        if index >= brief.lines().len() || kept.contains(&Member::Line(index)) {
            return column.clone();
        }
        Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: column.cost.clone() }
    });
    let rows = program.names().iter().zip(program.program().rows()).enumerate().map(|(index, (name, row))| {
        if !is_asked(name) || kept.contains(&Member::Row(index)) {
            return row.clone();
        }
        Row { coefficients: row.coefficients.clone(), low: None, high: None }
    });
    Program::new(columns.collect(), rows.collect())
}

/// In the words of the brief.
pub(super) fn words(brief: &Brief, program: &BriefProgram, member: Member) -> String {
    match member {
        Member::Row(index) => program.names()[index].words().to_string(),
        Member::Line(index) => {
            let line = &brief.lines()[index];
            format!("line {} {}", line.name(), line.role().words())
        }
    }
}

/// The brief without one member.
pub(super) fn without(brief: &Brief, program: &BriefProgram, member: Member) -> Brief {
    match member {
        Member::Line(index) => brief.with_role(index, Role::Free),
        Member::Row(index) => match &program.names()[index] {
            RowName::Requirement { index, upper, .. } => brief.without_requirement(*index, *upper),
            RowName::Split { split, member, .. } => brief.without_split_part(*split, *member),
            RowName::Total | RowName::WaterToKeep(_) | RowName::Objective(_) => brief.clone(),
        },
    }
}
