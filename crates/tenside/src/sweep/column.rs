//! A column of a sweep: its stable name, its unit, what stands in it.
//!
//! | name | what stands in it | null where |
//! |---|---|---|
//! | `axis.<spelling>` | the value swept | never |
//! | `line.<name>` | percent as supplied | no formula |
//! | a measure's name, with its basis if finished | the measure | no formula, or a ratio over 0 |
//! | `objective` | the objective's value | no formula |
//! | `feasible` | whether there is a formula | never |
//! | `binding` | the one-sided limits met with equality, as a code | no formula |
//! | `conflict` | the limits that cannot hold together, as a code | there is a formula |
//! | `findings` | the rules of a review that have a finding, as a code | no formula, or none of whole ppm |
//! | `findings.certain` | those of which a finding is certain | as `findings` |
//! | `findings.unchecked` | the rules that could not be asked, in whole or in part | as `findings` |
//! | `micelles.cmc` | the critical micelle concentration of the row's surfactants together, mmol/L | no formula, something of an active substance is not known, or there is none |
//! | `micelles.share.<INCI name>` | its mole share of the micelles at the dilution | as `micelles.cmc`, or no micelles there |
//! | `micelles.single.<INCI name>` | what of it is single there, mmol/L | as `micelles.cmc` |
//! | `use-levels` | the lines above or below their use levels, as a code | as `findings` |

use super::axis::{Axis, parts_of};
use super::spelling::{Varied, spelling_of};
use crate::brief::{Brief, Parameter};
use crate::measure::{Basis, Measure};

/// What stands in a column.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Column {
    /// The value of an axis; of a lattice, of one member.
    Axis {
        /// The axis.
        axis: usize,
        /// The member's place in the split; 0 for other axes.
        member: usize,
    },
    /// The percentage of a line, by its place.
    Line(usize),
    /// A measure on a basis.
    Measure(Measure, Basis),
    /// The value of the objective.
    Objective,
    /// Whether there is a formula.
    Feasible,
    /// What binds.
    Binding,
    /// What conflicts.
    Conflict,
    /// What a review says.
    Review(ReviewCode),
    /// What forms micelles, and what is single.
    #[cfg(feature = "trial")]
    Micelle(MicelleColumn),
}

impl Column {
    /// True where it is worked out of the lines of a row.
    pub(super) fn is_worked_out(&self) -> bool {
        match self {
            Column::Review(_) => true,
            #[cfg(feature = "trial")]
            Column::Micelle(_) => true,
            _ => false,
        }
    }

    /// Its name.
    #[must_use]
    pub fn name(&self, brief: &Brief, axes: &[Axis]) -> String {
        match self {
            Column::Axis { axis, member } => format!("axis.{}", axis_name(brief, &axes[*axis], *member)),
            Column::Line(line) => format!("line.{}", brief.lines()[*line].name()),
            Column::Measure(measure, Basis::AsCharged) => measure.name(),
            // A swept moisture is no part of the name.
            Column::Measure(measure, _) if axes.iter().any(|axis| matches!(axis, Axis::Moisture(_))) => {
                format!("{}, finished", measure.name())
            }
            Column::Measure(measure, basis) => format!("{}, {basis}", measure.name()),
            Column::Objective => "objective".to_string(),
            Column::Feasible => "feasible".to_string(),
            Column::Binding => "binding".to_string(),
            Column::Conflict => "conflict".to_string(),
            Column::Review(code) => code.name().to_string(),
            #[cfg(feature = "trial")]
            Column::Micelle(MicelleColumn::Cmc) => "micelles.cmc".to_string(),
            #[cfg(feature = "trial")]
            Column::Micelle(MicelleColumn::Share(name)) => format!("micelles.share.{name}"),
            #[cfg(feature = "trial")]
            Column::Micelle(MicelleColumn::Single(name)) => format!("micelles.single.{name}"),
        }
    }

    /// Its unit; empty where there is none.
    #[must_use]
    pub fn unit(&self, brief: &Brief, axes: &[Axis]) -> String {
        let currency = brief.prices().map(|prices| prices.currency());
        match self {
            Column::Axis { axis, .. } => match &axes[*axis] {
                Axis::Parameter(Parameter::Part { .. }, _) => "parts".to_string(),
                Axis::Parameter(Parameter::Target(name) | Parameter::AtLeast(name) | Parameter::AtMost(name), _) => {
                    let requirement = brief.requirements().iter().find(|known| known.name() == *name);
                    requirement.map_or_else(String::new, |known| known.measure().unit(currency))
                }
                Axis::Parameter(Parameter::Price(_), _) => format!("{} per kg", currency.unwrap_or("currency")),
                Axis::Parameter(..) => "% w/w".to_string(),
                Axis::Share { .. } | Axis::Lattice { .. } => "% of the split".to_string(),
                Axis::Moisture(_) => "% of the finished product".to_string(),
                Axis::Material { .. } => String::new(),
            },
            Column::Line(_) => "% w/w".to_string(),
            Column::Measure(measure, _) => measure.unit(currency),
            Column::Objective => match brief.objective() {
                Some(crate::brief::Objective::Measure { measure, .. }) => measure.unit(currency),
                Some(crate::brief::Objective::LeastSquares(_)) => "%²".to_string(),
                _ => "%".to_string(),
            },
            #[cfg(feature = "trial")]
            Column::Micelle(MicelleColumn::Share(_)) => "mol/mol".to_string(),
            #[cfg(feature = "trial")]
            Column::Micelle(_) => "mmol/L".to_string(),
            Column::Feasible | Column::Binding | Column::Conflict | Column::Review(_) => String::new(),
        }
    }
}

fn axis_name(brief: &Brief, axis: &Axis, member: usize) -> String {
    let varied = match axis {
        Axis::Parameter(parameter, _) => Varied::Parameter(parameter.clone()),
        Axis::Share { split, line, .. } => Varied::Share { split: split.clone(), line: line.clone() },
        Axis::Lattice { split, .. } => {
            let line = parts_of(brief, split).ok().and_then(|parts| parts.get(member));
            Varied::Share { split: split.clone(), line: line.map(|(line, _)| line.clone()).unwrap_or_default() }
        }
        Axis::Moisture(_) => Varied::Moisture,
        Axis::Material { line, .. } => Varied::Material(line.clone()),
    };
    spelling_of(brief, &varied)
}

/// How many codes a review gives a row.
pub(super) const CODES: usize = 4;

/// What a code of a review says.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ReviewCode {
    /// The rules that have a finding.
    Findings,
    /// The rules of which a finding is certain.
    Certain,
    /// The rules that could not be asked, in whole or in part.
    Unchecked,
    /// The lines above or below the use levels of their raw materials.
    UseLevels,
}

impl ReviewCode {
    pub(super) const ALL: [ReviewCode; CODES] =
        [ReviewCode::Findings, ReviewCode::Certain, ReviewCode::Unchecked, ReviewCode::UseLevels];

    /// The name of its column.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            ReviewCode::Findings => "findings",
            ReviewCode::Certain => "findings.certain",
            ReviewCode::Unchecked => "findings.unchecked",
            ReviewCode::UseLevels => "use-levels",
        }
    }
}

/// What a column says of a row's mixed micelles.
#[cfg(feature = "trial")]
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum MicelleColumn {
    /// The critical micelle concentration of the mixture, mmol/L.
    Cmc,
    /// A surfactant's mole share of the micelles at the dilution.
    Share(String),
    /// What of it is single there, mmol/L.
    Single(String),
}
