//! A brief made into a linear program: one column a line, rows named in the words of the brief.

use super::linear::{Column, Program, Row};
use crate::brief::{Brief, Objective, Requirement, Role};
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Compiled, Content, Facts, LineView, Measure, Scope, Sense, View};
use crate::number::Exact;

/// What a row of the program says, in the words of the brief.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum RowName {
    /// The lines sum to 100 %.
    Total,
    /// A member of a split against its first member.
    Split {
        /// The split's place in the brief.
        split: usize,
        /// The member's place in the split.
        member: usize,
        /// In words.
        words: String,
    },
    /// A requirement of the brief, by its place.
    Requirement {
        /// Its place among the brief's requirements.
        index: usize,
        /// True for its upper end.
        upper: bool,
        /// In words.
        words: String,
    },
    /// A finished basis needs at least the residual water to be charged.
    WaterToKeep(String),
    /// Reckoning of the objective: distance from the middle of ranges, or change from a base.
    Objective(String),
}

impl RowName {
    /// What the row stands for, whatever its words say.
    fn place(&self) -> (u8, usize, usize) {
        match self {
            RowName::Total => (0, 0, 0),
            RowName::Split { split, member, .. } => (1, *split, *member),
            RowName::Requirement { index, upper, .. } => (2, *index, usize::from(*upper)),
            RowName::WaterToKeep(_) => (3, 0, 0),
            RowName::Objective(_) => (4, 0, 0),
        }
    }

    /// In words.
    #[must_use]
    pub fn words(&self) -> &str {
        match self {
            RowName::Total => "the lines sum to 100 %",
            RowName::WaterToKeep(words) | RowName::Objective(words) => words,
            RowName::Split { words, .. } | RowName::Requirement { words, .. } => words,
        }
    }
}

/// What a row's activity is in the unit that the user asked in: activity over `divisor . x`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct RowUnit {
    pub(super) divisor: Vec<Exact>,
    pub(super) unit: String,
}

impl RowUnit {
    /// Lines sum to 100, so equal entries of a hundredth part divide by `value`.
    fn constant(value: &Exact, lines: usize, unit: &str) -> Self {
        RowUnit { divisor: vec![value / Exact::hundred(); lines], unit: unit.to_string() }
    }
}

/// A row with what it says and in which unit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NamedRow {
    pub(super) name: RowName,
    pub(super) unit: RowUnit,
    pub(super) row: Row,
}

/// The linear program of a brief. The first columns are the brief's lines, in percent; the objective may add columns of its own.
#[derive(Clone, Debug, PartialEq)]
pub struct BriefProgram {
    program: Program,
    names: Vec<RowName>,
    units: Vec<RowUnit>,
    lines: usize,
}

impl BriefProgram {
    /// The program.
    #[must_use]
    pub fn program(&self) -> &Program {
        &self.program
    }

    /// What each row says.
    #[must_use]
    pub fn names(&self) -> &[RowName] {
        &self.names
    }

    /// How many of the columns are lines.
    #[must_use]
    pub fn lines(&self) -> usize {
        self.lines
    }

    /// As many columns and rows, the lines and rows standing for the same.
    pub(super) fn has_the_shape_of(&self, other: &BriefProgram) -> bool {
        let kinds = |program: &BriefProgram| program.names.iter().map(RowName::place).collect::<Vec<_>>();
        self.lines == other.lines && self.program.columns().len() == other.program.columns().len() && kinds(self) == kinds(other)
    }

    pub(super) fn is_same_but_for_costs(&self, other: &BriefProgram) -> bool {
        let ranges = |program: &BriefProgram| program.program.columns().iter().map(|column| (column.low.clone(), column.high.clone())).collect::<Vec<_>>();
        let same_rows = self.names == other.names && self.units == other.units && self.program.rows() == other.program.rows();
        same_rows && self.lines == other.lines && ranges(self) == ranges(other)
    }

    pub(super) fn units(&self) -> &[RowUnit] {
        &self.units
    }

    pub(super) fn new(columns: Vec<Column>, named: Vec<NamedRow>, lines: usize) -> Result<Self, Error> {
        let (mut names, mut units, mut rows) = (Vec::new(), Vec::new(), Vec::new());
        for NamedRow { name, unit, row } in named {
            names.push(name);
            units.push(unit);
            rows.push(row);
        }
        Ok(BriefProgram { program: Program::new(columns, rows)?, names, units, lines })
    }
}

/// The rows that every program of a brief has, whatever its objective, and the columns of its lines.
pub(super) struct Frame {
    pub(super) columns: Vec<Column>,
    pub(super) rows: Vec<NamedRow>,
}

/// Compiles lines, splits and requirements; refuses choices, which a linear program does not know.
pub(super) fn frame(brief: &Brief) -> Result<Frame, Error> {
    if brief.has_choices() {
        return Err(Fault::new(FaultKind::Unsupported, "the brief has lines that may be absent, or groups of which at most so many lines are present")
            .at(format!("brief {:?}", brief.title()))
            .remedy("ask for the choice to be made first (`choose`), or for a rounded formula")
            .into());
    }
    relaxed_frame(brief)
}

/// Compiles lines, splits and requirements, with a line that may be absent anywhere between 0 and its greatest dose.
pub(super) fn relaxed_frame(brief: &Brief) -> Result<Frame, Error> {
    if brief.lines().is_empty() {
        return Err(Fault::new(FaultKind::Missing, "a brief without lines cannot be answered").remedy("add raw materials").into());
    }
    let columns = brief
        .lines()
        .iter()
        .map(|line| {
            let (low, high) = line.role().range();
            Column { low: Some(low.percent()), high: Some(high.percent()), cost: Exact::ZERO }
        })
        .collect();
    let hundred = Exact::hundred();
    let total = Row { coefficients: vec![Exact::ONE; brief.lines().len()], low: Some(hundred.clone()), high: Some(hundred) };
    let mut rows = vec![NamedRow { name: RowName::Total, unit: RowUnit::constant(&Exact::ONE, brief.lines().len(), "%"), row: total }];
    let mut faults = Vec::new();
    let mut keep = |result: Result<Vec<NamedRow>, Error>| match result {
        Ok(more) => rows.extend(more),
        Err(error) => {
            for fault in error.into_faults() {
                if !faults.contains(&fault) {
                    faults.push(fault);
                }
            }
        }
    };
    keep(split_rows(brief));
    for (index, requirement) in brief.requirements().iter().enumerate() {
        keep(requirement_rows(brief, index, requirement).map_err(|error| error.within(&format!("requirement {:?}", requirement.name()))));
    }
    keep(water_rows(brief));
    Error::check(faults, ())?;
    Ok(Frame { columns, rows })
}

pub(super) fn compile(brief: &Brief, measure: &Measure, basis: &Basis) -> Result<Compiled, Error> {
    let views: Vec<LineView<'_>> = brief.views();
    Compiled::new(measure, basis, &views, &Facts { prices: brief.prices().map(|prices| prices.as_ref()) })
}

/// What a measure's numerator and denominator are for each line, typical compositions: `factor N` and `D`.
pub(super) fn sides(brief: &Brief, measure: &Measure, basis: &Basis) -> Result<(Vec<Exact>, Vec<Exact>), Error> {
    sides_of(&compile(brief, measure, basis)?, measure)
}

fn sides_of(compiled: &Compiled, measure: &Measure) -> Result<(Vec<Exact>, Vec<Exact>), Error> {
    // With value 0 the coefficients are the numerator's; the difference to those with value 1 is the denominator.
    let numerator = compiled.coefficients(&Exact::ZERO, Sense::AtMost, View::Typical).map_err(several)?;
    let less_one = compiled.coefficients(&Exact::ONE, Sense::AtMost, View::Typical).map_err(several)?;
    let denominator: Vec<Exact> = numerator.iter().zip(&less_one).map(|(numerator, less)| numerator - less).collect();
    if denominator.iter().any(Exact::is_negative) {
        return Err(Fault::new(FaultKind::Unsupported, "a denominator that can be negative has no meaning in a ratio").value(measure.name()).into());
    }
    Ok((numerator, denominator))
}

/// Joins the faults of one kind of trouble into as few as say it all: the unpriced materials in one sentence.
pub(super) fn several(faults: Vec<Fault>) -> Error {
    let mut joined: Vec<Fault> = Vec::new();
    for fault in faults {
        match joined.iter_mut().find(|known| known.message == fault.message && known.place == fault.place && known.remedy == fault.remedy) {
            Some(known) => {
                if let (Some(values), Some(value)) = (&mut known.value, &fault.value)
                    && !values.split(", ").any(|named| named == value)
                {
                    *values = format!("{values}, {value}");
                }
            }
            None => joined.push(fault),
        }
    }
    Error::from_faults(joined).unwrap_or_else(|| Fault::new(FaultKind::NotKnown, "a value is not known").into())
}

fn split_rows(brief: &Brief) -> Result<Vec<NamedRow>, Error> {
    let mut rows = Vec::new();
    for (place, split) in brief.splits().iter().enumerate() {
        let amounts = |member: usize| sides(brief, &split.measure(&split.parts()[member].0), &Basis::AsCharged).map(|(numerator, _)| numerator);
        let first = amounts(0).map_err(|error| error.within(&format!("split {:?}", split.name())))?;
        for member in 1..split.parts().len() {
            let other = amounts(member).map_err(|error| error.within(&format!("split {:?}", split.name())))?;
            let (first_part, part) = (&split.parts()[0].1, &split.parts()[member].1);
            // amount of the member * first part = amount of the first * the member's part
            let coefficients = first.iter().zip(&other).map(|(first, other)| other * first_part - first * part).collect();
            // Over 100 times the first part it is percent points (or mmol/g) of what the member brings.
            let unit = RowUnit::constant(&(first_part * Exact::hundred()), brief.lines().len(), split.basis().unit());
            let row = Row { coefficients, low: Some(Exact::ZERO), high: Some(Exact::ZERO) };
            rows.push(NamedRow { name: RowName::Split { split: place, member, words: split.words(member) }, unit, row });
        }
    }
    Ok(rows)
}

fn requirement_rows(brief: &Brief, index: usize, requirement: &Requirement) -> Result<Vec<NamedRow>, Error> {
    let compiled = compile(brief, requirement.measure(), requirement.basis())?;
    // Refuses denominators that could be negative: cross-multiplying would turn the requirement round.
    let divisor = match sides_of(&compiled, requirement.measure()) {
        Ok((_, denominator)) => denominator,
        // Bounded compositions have no typical denominator; the row is then shown in its own unit.
        Err(error) if requirement.is_for_every_composition() && !error.is_unsupported() => vec![Exact::ONE; brief.lines().len()],
        Err(error) => return Err(error),
    };
    let unit = RowUnit { divisor, unit: requirement.measure().unit(brief.prices().map(|prices| prices.currency())) };
    let named = |upper: bool, row: Row| NamedRow { name: RowName::Requirement { index, upper, words: requirement.name() }, unit: unit.clone(), row };
    let row = |value: &Exact, sense: Sense| compiled.coefficients(value, sense, requirement.view()).map_err(several);
    let mut rows = Vec::new();
    match (requirement.low(), requirement.high()) {
        (Some(low), Some(high)) if low == high && !requirement.is_for_every_composition() => {
            rows.push(named(true, Row { coefficients: row(low, Sense::AtMost)?, low: Some(Exact::ZERO), high: Some(Exact::ZERO) }));
        }
        (low, high) => {
            if let Some(low) = low {
                rows.push(named(false, Row { coefficients: row(low, Sense::AtLeast)?, low: Some(Exact::ZERO), high: None }));
            }
            if let Some(high) = high {
                rows.push(named(true, Row { coefficients: row(high, Sense::AtMost)?, low: None, high: Some(Exact::ZERO) }));
            }
        }
    }
    Ok(rows)
}

/// Drying takes no water up: a finished basis needs its residual water to be charged.
fn water_rows(brief: &Brief) -> Result<Vec<NamedRow>, Error> {
    let mut moistures: Vec<Exact> = brief
        .requirements()
        .iter()
        .map(Requirement::basis)
        .chain(brief.objective().into_iter().filter_map(|objective| match objective {
            Objective::Measure { basis, .. } => Some(basis),
            Objective::LeastChange(_) | Objective::LeastSquares(_) => None,
        }))
        .filter_map(|basis| match basis {
            Basis::Finished(moisture) => Some(moisture.clone()),
            Basis::AsCharged => None,
        })
        .collect();
    moistures.sort();
    moistures.dedup();
    let Some(most) = moistures.pop().filter(Exact::is_positive) else { return Ok(Vec::new()) };
    let compiled = compile(brief, &Measure::of(Content::Water), &Basis::AsCharged)?;
    let coefficients = compiled.coefficients(&most, Sense::AtLeast, View::Typical).map_err(several)?;
    let words = format!("water as charged at least the {most} % that the finished product keeps");
    let unit = RowUnit::constant(&Exact::hundred(), brief.lines().len(), "%");
    Ok(vec![NamedRow { name: RowName::WaterToKeep(words), unit, row: Row { coefficients, low: Some(Exact::ZERO), high: None } }])
}

/// A range that the user wrote, of a linear form of the lines.
pub(super) struct WrittenRange {
    pub(super) name: String,
    pub(super) form: Vec<Exact>,
    pub(super) middle: Exact,
    /// Half of it.
    pub(super) width: Exact,
}

/// The ranges a user wrote, each as middle and half-width of a linear form of the lines: what the answer without objective centres.
/// Ranges of measures count where their denominator is the mass of the formula as charged, which is always 100.
pub(super) fn written_ranges(brief: &Brief) -> Result<Vec<WrittenRange>, Error> {
    let half = |low: &Exact, high: &Exact| ((low + high) / Exact::from(2), (high - low) / Exact::from(2));
    let count = brief.lines().len();
    let mut ranges = Vec::new();
    for (index, line) in brief.lines().iter().enumerate() {
        if let Role::Between(low, high) = line.role()
            && low < high
        {
            let mut form = vec![Exact::ZERO; count];
            form[index] = Exact::ONE;
            let (middle, width) = half(&low.percent(), &high.percent());
            ranges.push(WrittenRange { name: format!("line {}", line.name()), form, middle, width });
        }
    }
    for requirement in brief.requirements() {
        let (Some(low), Some(high)) = (requirement.low(), requirement.high()) else { continue };
        let plain = requirement.measure().denominator() == (&Content::Mass, &Scope::All);
        if low < high && plain && requirement.basis() == &Basis::AsCharged && !requirement.is_for_every_composition() {
            let (numerator, _) = sides(brief, requirement.measure(), requirement.basis())?;
            let form = numerator.iter().map(|value| value / Exact::hundred()).collect();
            let (middle, width) = half(low, high);
            ranges.push(WrittenRange { name: requirement.name(), form, middle, width });
        }
    }
    Ok(ranges)
}
