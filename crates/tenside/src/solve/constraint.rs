//! What of a brief a conflict, a binding or a range is about, as data.
//!
//! # Why
//! - A `Constraint` says as data what a sentence says in words, for members, bindings, relaxations and ranges
//!   alike. The water that a finished basis keeps is one: a conflict can rest on nothing else.

use std::fmt;

use super::program::{RowName, kept_moisture};
use crate::brief::{Brief, Role};
use crate::document::named_enum;
use crate::measure::Basis;
use crate::number::Exact;

named_enum! {
    /// Which end of what is asked.
    End "end" {
        /// The lowest value allowed.
        Low = "low",
        /// The highest value allowed.
        High = "high",
        /// The one value allowed, of a fixed line, a target, a split; or all of what is left out.
        Both = "both",
    }
}

named_enum! {
    /// What a constraint is about.
    ConstraintKind "kind of constraint" {
        /// The percentage of a line.
        Line = "line",
        /// A requirement.
        Requirement = "requirement",
        /// The part of one line in a split.
        Split = "split",
        /// The water that a finished product keeps.
        WaterToKeep = "water-to-keep",
        /// That the lines sum to 100 %.
        Total = "total",
    }
}

/// What limits a formula, by its place in the brief.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) enum Limit {
    /// One end of a requirement; of an equation, the upper.
    Requirement { index: usize, upper: bool },
    /// The part of one member of a split.
    Split { split: usize, member: usize },
    /// The low end of a line's range.
    Low(usize),
    /// The high end of a line's range.
    High(usize),
    /// A line's range, whichever end.
    Line(usize),
    /// A finished basis needs the residual water to be charged.
    WaterToKeep,
}

/// The limit that a row states, if it is one that the user asked for.
pub(crate) fn limit(name: &RowName) -> Option<Limit> {
    match name {
        RowName::Total | RowName::Objective(_) => None,
        RowName::Split { split, member, .. } => Some(Limit::Split { split: *split, member: *member }),
        RowName::Requirement { index, upper, .. } => Some(Limit::Requirement { index: *index, upper: *upper }),
        RowName::WaterToKeep(_) => Some(Limit::WaterToKeep),
    }
}

/// One thing that a brief asks of its formula. Sentences say it in the brief's words; this says it in names and places.
///
/// ```
/// use tenside::brief::Brief;
/// use tenside::catalogue::Catalogue;
/// use tenside::measure::Measure;
/// use tenside::solve::{Constraint, End, Outcome};
/// let brief = Brief::new("Too strong", &Catalogue::starter())?.between("capb-30", 0, 50)?.qs("water")?.at_least(Measure::active_matter(), 18)?;
/// let Outcome::Conflict(conflict) = brief.try_solve()? else { panic!("50 % of a 30 % grade brings 15 %") };
/// let strong = Constraint::Requirement { index: 0, name: "active matter at least 18 %".to_string(), end: End::Low };
/// let little = Constraint::Line { index: 0, name: "capb-30".to_string(), end: End::High };
/// assert_eq!(conflict.constraints(), [strong, little]);
/// assert!(conflict.brief().clone().drop_requirement(conflict.constraints()[0].name().unwrap()).is_ok());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Constraint {
    /// The percentage of a line.
    Line {
        /// The line's place in the brief.
        index: usize,
        /// Its name.
        name: String,
        /// Which end of its range; both of a fixed line.
        end: End,
    },
    /// A requirement.
    Requirement {
        /// Its place in the brief.
        index: usize,
        /// Its name.
        name: String,
        /// Which end; both of a target.
        end: End,
    },
    /// The part of one line in a split, against the part of the split's first line.
    Split {
        /// The split's place in the brief.
        index: usize,
        /// Its name.
        name: String,
        /// The line.
        member: String,
    },
    /// The water that has to be charged so that the finished product can keep it.
    WaterToKeep {
        /// The residual moisture, in percent of the finished product.
        moisture: Exact,
    },
    /// The lines sum to 100 %.
    Total,
}

impl Constraint {
    /// Its kind.
    #[must_use]
    pub fn kind(&self) -> ConstraintKind {
        match self {
            Constraint::Line { .. } => ConstraintKind::Line,
            Constraint::Requirement { .. } => ConstraintKind::Requirement,
            Constraint::Split { .. } => ConstraintKind::Split,
            Constraint::WaterToKeep { .. } => ConstraintKind::WaterToKeep,
            Constraint::Total => ConstraintKind::Total,
        }
    }

    /// The name of the line, requirement or split.
    #[must_use]
    pub fn name(&self) -> Option<&str> {
        match self {
            Constraint::Line { name, .. } | Constraint::Requirement { name, .. } | Constraint::Split { name, .. } => {
                Some(name)
            }
            Constraint::WaterToKeep { .. } | Constraint::Total => None,
        }
    }

    /// The place of the line, requirement or split among those of the brief.
    #[must_use]
    pub fn index(&self) -> Option<usize> {
        match self {
            Constraint::Line { index, .. }
            | Constraint::Requirement { index, .. }
            | Constraint::Split { index, .. } => Some(*index),
            Constraint::WaterToKeep { .. } | Constraint::Total => None,
        }
    }

    /// Which end it is.
    #[must_use]
    pub fn end(&self) -> End {
        match self {
            Constraint::Line { end, .. } | Constraint::Requirement { end, .. } => *end,
            Constraint::WaterToKeep { .. } => End::Low,
            Constraint::Split { .. } | Constraint::Total => End::Both,
        }
    }

    pub(super) fn line(brief: &Brief, index: usize, end: End) -> Self {
        let line = &brief.lines()[index];
        let end = if matches!(line.role(), Role::Fixed(_)) { End::Both } else { end };
        Constraint::Line { index, name: line.name().to_string(), end }
    }

    pub(super) fn requirement(brief: &Brief, index: usize, upper: bool) -> Self {
        let requirement = &brief.requirements()[index];
        let end = match upper {
            _ if requirement.is_target() => End::Both,
            true => End::High,
            false => End::Low,
        };
        Constraint::Requirement { index, name: requirement.name(), end }
    }

    /// What a limit is about; of a line's range, this end.
    pub(super) fn of_limit(brief: &Brief, limit: Limit, end: End) -> Option<Self> {
        Some(match limit {
            Limit::Low(line) => Constraint::line(brief, line, End::Low),
            Limit::High(line) => Constraint::line(brief, line, End::High),
            Limit::Line(line) => Constraint::line(brief, line, end),
            Limit::Requirement { index, upper } => Constraint::requirement(brief, index, upper),
            Limit::Split { split: index, member } => {
                let split = &brief.splits()[index];
                Constraint::Split { index, name: split.name().to_string(), member: split.parts()[member].0.clone() }
            }
            Limit::WaterToKeep => Constraint::WaterToKeep { moisture: kept_moisture(brief, &Basis::AsCharged)? },
        })
    }
}

impl fmt::Display for Constraint {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let end = match self.end() {
            End::Low => "low end of ",
            End::High => "high end of ",
            End::Both => "",
        };
        match self {
            Constraint::Line { name, .. } => write!(formatter, "{end}line {name}"),
            Constraint::Requirement { name, .. } => write!(formatter, "{end}requirement {name}"),
            Constraint::Split { name, member, .. } => write!(formatter, "part of {member} in split {name}"),
            Constraint::WaterToKeep { moisture } => {
                write!(formatter, "water that the finished product keeps at {moisture} % residual moisture")
            }
            Constraint::Total => formatter.write_str("the lines sum to 100 %"),
        }
    }
}
