//! What a user can drop or change: requirement ends, splits, line ranges, and the basis whose water is kept. The sum to
//! 100 and percentages from 0 to 100 are given.

use tenside_lp::{Farkas, Program, combined};

use super::constraint::{Constraint, End, Limit, limit};
use super::program::{BriefProgram, RowName};
use crate::brief::{Brief, BriefLine, Role};
use crate::number::{Exact, Ppm};

/// One thing that the user asked for, in a program of the brief.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Member {
    /// A row: one end of a requirement, a member of a split, or the water to keep.
    Row(usize),
    /// A line's range, by its place.
    Line(usize),
}

/// The limit that a member is.
pub(super) fn limit_of(program: &BriefProgram, member: Member) -> Option<Limit> {
    match member {
        Member::Row(row) => limit(&program.names()[row]),
        Member::Line(line) => Some(Limit::Line(line)),
    }
}

/// Every member of a brief's program, rows first.
pub(super) fn members(brief: &Brief, program: &BriefProgram) -> Vec<Member> {
    let rows = program
        .names()
        .iter()
        .enumerate()
        .filter(|(_, name)| limit(name).is_some())
        .map(|(index, _)| Member::Row(index));
    let lines = brief
        .lines()
        .iter()
        .enumerate()
        .filter(|(_, line)| line.role().range() != (Ppm::ZERO, Ppm::WHOLE))
        .map(|(index, _)| Member::Line(index));
    rows.chain(lines).collect()
}

/// The same in the order in which a conflict's filter tries to leave them out: ranges of lines first, so that it speaks
/// of what was required if it can.
pub(super) fn filter_order(brief: &Brief, program: &BriefProgram) -> Vec<Member> {
    let mut all = members(brief, program);
    all.sort_by_key(|member| matches!(member, Member::Row(_)));
    all
}

/// Members found by the filter, rows first.
pub(super) fn rows_first(mut found: Vec<Member>) -> Vec<Member> {
    found.sort_by_key(|member| matches!(member, Member::Line(_)));
    found
}

/// The end of a line's range that a proof of a conflict uses: the greatest value of its combination takes the high end
/// where the sum is positive and the low end where it is negative.
fn used_end(sum: &Exact) -> Option<End> {
    (!sum.is_zero()).then(|| if sum.is_positive() { End::High } else { End::Low })
}

/// The members that a proof of a conflict uses.
pub(super) fn support(brief: &Brief, program: &BriefProgram, farkas: &Farkas) -> Vec<Member> {
    use tenside_lp::Crossing;
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
            // An end at 0 or 100 % is given, not asked for.
            Member::Line(index) => {
                let (low, high) = brief.lines()[*index].role().range();
                match used_end(&sums[*index]) {
                    Some(End::High) => high != Ppm::WHOLE,
                    Some(_) => !low.is_zero(),
                    None => false,
                }
            }
        })
        .collect()
}

/// What a member is about; of a line's range, this end.
pub(super) fn constraint(brief: &Brief, program: &BriefProgram, member: Member, end: End) -> Option<Constraint> {
    Constraint::of_limit(brief, limit_of(program, member)?, end)
}

/// What the members of a conflict are about, with the ends that its proof uses.
pub(super) fn constraints(
    brief: &Brief,
    program: &BriefProgram,
    members: &[Member],
    farkas: &Farkas,
) -> Vec<Constraint> {
    let sums = combined(program.program(), &farkas.row_multipliers);
    let end = |member: Member| match member {
        Member::Row(_) => None,
        Member::Line(line) => used_end(&sums[line]),
    };
    let used = |member: &Member| constraint(brief, program, *member, end(*member).unwrap_or(End::Both));
    members.iter().filter_map(used).collect()
}

/// The program with only these members.
pub(super) fn only(program: &BriefProgram, kept: &[Member]) -> Program {
    let mut only = program.program().clone();
    relax(&mut only, program.names(), program.lines(), kept);
    only
}

/// Asks for these members only: other rows lose their ends, other lines may be anything from 0 to 100 %.
pub(super) fn relax(program: &mut Program, names: &[RowName], lines: usize, kept: &[Member]) {
    program.change(
        |index, column| {
            if index < lines && !kept.contains(&Member::Line(index)) {
                (column.low, column.high) = (Some(Exact::ZERO), Some(Exact::hundred()));
            }
        },
        |index, row| {
            if limit(&names[index]).is_some() && !kept.contains(&Member::Row(index)) {
                (row.low, row.high) = (None, None);
            }
        },
    );
}

/// In the words of the brief. A requirement with two ends says which one is meant.
pub(super) fn words(brief: &Brief, program: &BriefProgram, member: Member) -> String {
    match (limit_of(program, member), member) {
        (Some(Limit::Requirement { index, upper }), _) => {
            let words = brief.requirements()[index].words();
            if has_two_ends(brief, index) {
                format!("{} end of {words}", if upper { "high" } else { "low" })
            } else {
                words
            }
        }
        (_, Member::Row(row)) => program.names()[row].words().to_string(),
        (_, Member::Line(line)) => line_words(&brief.lines()[line]),
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
pub(super) fn without(brief: &Brief, program: &BriefProgram, member: Member) -> Brief {
    match limit_of(program, member) {
        Some(Limit::Line(line)) => brief.with_role(line, Role::Free),
        Some(Limit::Requirement { index, upper }) => brief.relaxed_requirement(index, upper),
        Some(Limit::Split { split, member }) => brief.relaxed_split(split, member),
        _ => brief.clone(),
    }
}
