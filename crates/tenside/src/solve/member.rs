//! What a user can drop or change: requirement ends, splits, line ranges, and the basis whose water is kept. The sum to
//! 100 and percentages from 0 to 100 are given.

use tenside_lp::{Crossing, Farkas, Program, combined};

use super::constraint::{Constraint, End, Limit, limit};
use super::program::{BriefProgram, RowName};
use crate::brief::{Brief, BriefLine, Role};
use crate::number::{Exact, Ppm};

/// Every limit of a brief's program that can be dropped or changed, rows first.
pub(super) fn members(brief: &Brief, program: &BriefProgram) -> Vec<Limit> {
    let is_narrow = |line: &usize| brief.lines()[*line].role().range() != (Ppm::ZERO, Ppm::WHOLE);
    let lines = (0..brief.lines().len()).filter(is_narrow).map(Limit::Line);
    program.names().iter().filter_map(limit).chain(lines).collect()
}

/// The same in the order in which a conflict's filter tries to leave them out: ranges of lines first, so that it speaks
/// of what was required if it can.
pub(super) fn filter_order(brief: &Brief, program: &BriefProgram) -> Vec<Limit> {
    let mut all = members(brief, program);
    all.sort_by_key(|member| !matches!(member, Limit::Line(_)));
    all
}

/// Members found by the filter, rows first.
pub(super) fn rows_first(mut found: Vec<Limit>) -> Vec<Limit> {
    found.sort_by_key(|member| matches!(member, Limit::Line(_)));
    found
}

/// The end of a line's range that a proof of a conflict uses: the greatest value of its combination takes the high end
/// where the sum is positive and the low end where it is negative.
fn used_end(sum: &Exact) -> Option<End> {
    (!sum.is_zero()).then(|| if sum.is_positive() { End::High } else { End::Low })
}

/// The members that a proof of a conflict uses.
pub(super) fn support(brief: &Brief, program: &BriefProgram, farkas: &Farkas) -> Vec<Limit> {
    match farkas.crossing {
        Some(Crossing::Column(line)) => return vec![Limit::Line(line)],
        Some(Crossing::Row(row)) => return limit(&program.names()[row]).into_iter().collect(),
        None => {}
    }
    let rows = program.names().iter().zip(&farkas.row_multipliers).filter(|(_, multiplier)| !multiplier.is_zero());
    let sums = combined(program.program(), &farkas.row_multipliers);
    // An end at 0 or 100 % is given, not asked for.
    let is_used = |line: &usize| {
        let (low, high) = brief.lines()[*line].role().range();
        match used_end(&sums[*line]) {
            Some(End::High) => high != Ppm::WHOLE,
            Some(_) => !low.is_zero(),
            None => false,
        }
    };
    let lines = (0..brief.lines().len()).filter(is_used).map(Limit::Line);
    rows.filter_map(|(name, _)| limit(name)).chain(lines).collect()
}

/// What the members of a conflict are about, with the ends that its proof uses.
pub(super) fn constraints(
    brief: &Brief,
    program: &BriefProgram,
    members: &[Limit],
    farkas: &Farkas,
) -> Vec<Constraint> {
    let sums = combined(program.program(), &farkas.row_multipliers);
    let end = |member: Limit| if let Limit::Line(line) = member { used_end(&sums[line]) } else { None };
    let used = |member: &Limit| Constraint::of_limit(brief, *member, end(*member).unwrap_or(End::Both));
    members.iter().filter_map(used).collect()
}

/// The row of a limit.
pub(super) fn row_of(program: &BriefProgram, known: Limit) -> Option<usize> {
    program.names().iter().position(|name| limit(name) == Some(known))
}

/// The program with only these members.
pub(super) fn only(program: &BriefProgram, kept: &[Limit]) -> Program {
    let mut only = program.program().clone();
    relax(&mut only, program.names(), program.lines(), kept);
    only
}

/// Asks for these members only: other rows lose their ends, other lines may be anything from 0 to 100 %.
pub(super) fn relax(program: &mut Program, names: &[RowName], lines: usize, kept: &[Limit]) {
    program.change(
        |index, column| {
            if index < lines && !kept.contains(&Limit::Line(index)) {
                (column.low, column.high) = (Some(Exact::ZERO), Some(Exact::hundred()));
            }
        },
        |index, row| {
            if limit(&names[index]).is_some_and(|member| !kept.contains(&member)) {
                (row.low, row.high) = (None, None);
            }
        },
    );
}

/// In the words of the brief. A requirement with two ends says which one is meant.
pub(super) fn words(brief: &Brief, program: &BriefProgram, member: Limit) -> String {
    match member {
        Limit::Requirement { index, upper } if has_two_ends(brief, index) => {
            format!("{} end of {}", if upper { "high" } else { "low" }, brief.requirements()[index].words())
        }
        Limit::Requirement { index, .. } => brief.requirements()[index].words(),
        Limit::Line(line) => line_words(&brief.lines()[line]),
        _ => row_of(program, member).map_or("", |row| program.names()[row].words()).to_string(),
    }
}

/// A line's range in words.
pub(super) fn line_words(line: &BriefLine) -> String {
    format!("line {} {}", line.name(), line.role().words())
}

/// True where each end of a requirement is a row of its own.
pub(super) fn has_two_ends(brief: &Brief, index: usize) -> bool {
    let requirement = &brief.requirements()[index];
    requirement.low().is_some() && requirement.high().is_some() && !requirement.is_target()
}

/// The brief without one member.
pub(super) fn without(brief: &Brief, member: Limit) -> Brief {
    match member {
        Limit::Line(line) => brief.with_role(line, Role::Free),
        Limit::Requirement { index, upper } => brief.relaxed_requirement(index, upper),
        Limit::Split { split, member } => brief.relaxed_split(split, member),
        _ => brief.clone(),
    }
}
