//! How much a requirement has to give for a brief to become answerable.
//!
//! Without the member, what it limits can take every value of an interval (the brief's formulas are a convex set and the quantity is
//! continuous on it), so the least change moves the limit to the nearer end of that interval: the [reach](super::Brief) of the quantity.
//! What is asked for every composition has its least change in `robust`.

use super::linear::{Column, Outcome, Row, solve_watched};
use super::member::{Member, members, without, words};
use super::program::{BriefProgram, RowName};
use super::reach::reach_of;
use super::robust;
use crate::brief::Brief;
use crate::error::Error;
use crate::measure::{Basis, Measure, Scope};
use crate::number::Exact;

/// A change of one limit.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Relaxation {
    /// What is changed, in the words of the brief.
    pub words: String,
    /// The limit as it is.
    pub from: Exact,
    /// The nearest limit that would do.
    pub to: Exact,
    /// Its unit.
    pub unit: String,
}

impl Relaxation {
    /// True where higher limits would do too, false where lower ones would.
    #[must_use]
    pub fn upwards(&self) -> bool {
        self.to > self.from
    }

    /// A sentence to act on, the limit rounded outwards to four decimals so that it does: `raise ... to 66.12 % or more`.
    #[must_use]
    pub fn sentence(&self) -> String {
        let shown = |value: &Exact| {
            let text = if self.upwards() { (-value).floor_text(4) } else { value.floor_text(4) };
            let text = if self.upwards() { text.strip_prefix('-').map_or_else(|| format!("-{text}"), str::to_string) } else { text };
            let text = text.trim_end_matches('0').trim_end_matches('.').to_string();
            if text == "-0" { "0".to_string() } else { text }
        };
        let unit = if self.unit.is_empty() { String::new() } else { format!(" {}", self.unit) };
        let (verb, more) = if self.upwards() { ("raise", "more") } else { ("lower", "less") };
        format!("{verb} {} to {}{unit} or {more}", self.words, shown(&self.to))
    }
}

/// What a member limits, between which values, and in which unit.
struct Limited {
    words: String,
    measure: Measure,
    basis: Basis,
    low: Option<Exact>,
    high: Option<Exact>,
    unit: String,
    /// What a value of the measure is multiplied with to be in the words' own terms: of a split the first part.
    scale: Exact,
}

fn limited(brief: &Brief, program: &BriefProgram, member: Member) -> Option<Limited> {
    match member {
        Member::Line(index) => {
            let line = &brief.lines()[index];
            let (low, high) = line.role().range();
            let measure = Measure::as_supplied().contributed_by(Scope::Lines(vec![line.name().to_string()]));
            let (low, high) = (Some(low.percent()), Some(high.percent()));
            Some(Limited { words: words(brief, program, member), measure, basis: Basis::AsCharged, low, high, unit: "%".to_string(), scale: Exact::ONE })
        }
        Member::Row(index) => match &program.names()[index] {
            RowName::Requirement { index, upper, .. } => {
                let requirement = &brief.requirements()[*index];
                // The worst composition changes with the limit, so that it does not move along a row: `robust` has its least change.
                if requirement.is_for_every_composition() {
                    return None;
                }
                let equation = requirement.low() == requirement.high();
                Some(Limited {
                    words: words(brief, program, member),
                    scale: Exact::ONE,
                    measure: requirement.measure().clone(),
                    basis: requirement.basis().clone(),
                    low: requirement.low().filter(|_| equation || !upper).cloned(),
                    high: requirement.high().filter(|_| equation || *upper).cloned(),
                    unit: requirement.measure().unit(brief.prices().map(|prices| prices.currency())),
                })
            }
            RowName::Split { split, member, .. } => {
                let words = format!("the part of {} in {}", brief.splits()[*split].parts()[*member].0, words(brief, program, Member::Row(index)));
                let split = &brief.splits()[*split];
                let ((first, first_part), (other, part)) = (&split.parts()[0], &split.parts()[*member]);
                let measure = split.measure(other).per(&split.measure(first));
                // By weight the ratio is a percentage.
                let scale = first_part / measure.factor();
                let ratio = part / &scale;
                Some(Limited { words, measure, basis: Basis::AsCharged, low: Some(ratio.clone()), high: Some(ratio), unit: String::new(), scale })
            }
            RowName::Total | RowName::WaterToKeep(_) | RowName::Objective(_) => None,
        },
    }
}

/// The least change of one member that alone makes the brief answerable.
pub(super) fn relaxation(brief: &Brief, program: &BriefProgram, member: Member) -> Result<Option<Relaxation>, Error> {
    if let Member::Row(row) = member
        && let RowName::Requirement { index, upper, .. } = &program.names()[row]
        && brief.requirements()[*index].is_for_every_composition()
    {
        return robust::relaxation(brief, *index, *upper);
    }
    let Some(limit) = limited(brief, program, member) else { return Ok(None) };
    let Some((lowest, highest)) = reach_of(&without(brief, program, member), &limit.measure, &limit.basis)? else { return Ok(None) };
    let change = match (&limit.low, &limit.high) {
        (Some(low), _) if highest.as_ref().is_some_and(|highest| highest < low) => highest.map(|to| (low.clone(), to)),
        (_, Some(high)) if lowest.as_ref().is_some_and(|lowest| lowest > high) => lowest.map(|to| (high.clone(), to)),
        _ => None,
    };
    Ok(change.map(|(from, to)| Relaxation { words: limit.words, from: from * &limit.scale, to: to * &limit.scale, unit: limit.unit }))
}

/// Every limit may give, each unit of its own size costing the same: an elastic program. Limits of ratios whose denominator varies give in
/// the units of their row, reckoned back at the solution.
pub(super) fn least_set(brief: &Brief, program: &BriefProgram) -> Result<Vec<Relaxation>, Error> {
    let lines = brief.lines().len();
    let size = |limit: &Exact| if limit.abs() > Exact::ONE { limit.abs() } else { Exact::ONE };
    let mut columns: Vec<Column> = program.program().columns().iter().map(|column| Column { cost: Exact::ZERO, ..column.clone() }).collect();
    let mut rows: Vec<Row> = program.program().rows().to_vec();
    let mut slack: Vec<(Member, usize, usize)> = Vec::new();
    for member in members(brief, program) {
        // What cannot be said as a changed limit may not give: the changes said must do by themselves.
        let Some(limit) = limited(brief, program, member) else { continue };
        let (below, above) = (columns.len(), columns.len() + 1);
        let scale = match member {
            Member::Line(_) => Exact::ONE,
            // In the row's own unit the limit of a hundred-gram denominator is a hundred times as large.
            Member::Row(index) => {
                program.units()[index].divisor.iter().fold(Exact::ONE, |most, value| if value.abs() > most { value.abs() } else { most }) * Exact::hundred()
            }
        };
        // Each end by its own size; an end that is not there has nothing to give.
        for end in [&limit.low, &limit.high] {
            let own = end.as_ref().map_or(Exact::ONE, |end| size(&(end * &limit.scale)));
            columns.push(Column { low: Some(Exact::ZERO), high: None, cost: Exact::ONE / (own * &scale) });
        }
        slack.push((member, below, above));
    }
    for row in &mut rows {
        row.coefficients.resize(columns.len(), Exact::ZERO);
    }
    for (member, below, above) in &slack {
        let index = match member {
            Member::Row(index) => *index,
            Member::Line(line) => {
                let mut coefficients = vec![Exact::ZERO; columns.len()];
                coefficients[*line] = Exact::ONE;
                let column = std::mem::replace(&mut columns[*line], Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: Exact::ZERO });
                rows.push(Row { coefficients, low: column.low, high: column.high });
                rows.len() - 1
            }
        };
        rows[index].coefficients[*below] = Exact::ONE;
        rows[index].coefficients[*above] = Exact::from(-1);
    }
    let Outcome::Optimal(optimum) = solve_watched(&super::linear::Program::new(columns, rows)?, &[], brief.watched())? else { return Ok(Vec::new()) };
    let mut changes = Vec::new();
    for (member, below, above) in slack {
        let given = &optimum.values[above] - &optimum.values[below];
        let Some(limit) = limited(brief, program, member).filter(|_| !given.is_zero()) else { continue };
        let from = if given.is_positive() { limit.high.clone() } else { limit.low.clone() };
        let Some(from) = from else { continue };
        // What the quantity comes to at the solution is the limit that would do.
        let to = match member {
            Member::Line(line) => Some(optimum.values[line].clone()),
            Member::Row(_) => value_at(brief, &limit, &optimum.values[..lines])?,
        };
        let Some(to) = to else { return Ok(Vec::new()) };
        let (from, to) = (from * &limit.scale, to * &limit.scale);
        changes.push(Relaxation { words: limit.words, from, to, unit: limit.unit });
    }
    Ok(changes)
}

/// What a limited quantity comes to at a point; nothing where its denominator is 0 there.
fn value_at(brief: &Brief, limit: &Limited, point: &[Exact]) -> Result<Option<Exact>, Error> {
    let (numerator, denominator) = super::program::sides(brief, &limit.measure, &limit.basis)?;
    let dot = |side: &[Exact]| side.iter().zip(point).map(|(coefficient, value)| coefficient * value).sum::<Exact>();
    Ok(dot(&numerator).checked_div(&dot(&denominator)))
}
