//! A brief made into a linear program: one column a line, rows named in the words of the brief.

use std::sync::Arc;

use tenside_lp::{Column, Program, Row};

use super::sides::{compile, several, sides, sides_of};
use crate::brief::{Brief, Objective, Requirement, Role, Split};
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Content, LineView, Measure, Sense};
use crate::number::Exact;

/// What a row of the program says, in the words of the brief.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum RowName {
    /// The lines sum to 100 %.
    Total,
    /// A member of a split, against another or against the amount of one part.
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

/// What the brief's costs are in.
pub(super) fn currency(brief: &Brief) -> Option<&str> {
    brief.prices().map(|prices| prices.currency())
}

/// What a row's activity is in the unit that the user asked in: activity over `divisor . x`.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct RowUnit {
    pub(super) divisor: Arc<[Exact]>,
    pub(super) unit: String,
}

impl RowUnit {
    /// Lines sum to 100, so equal entries of a hundredth part divide by `value`.
    pub(super) fn constant(value: &Exact, lines: usize, unit: &str) -> Self {
        RowUnit { divisor: vec![value / Exact::hundred(); lines].into(), unit: unit.to_string() }
    }
}

/// A row with what it says and in which unit.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct NamedRow {
    pub(super) name: RowName,
    pub(super) unit: RowUnit,
    pub(super) row: Row,
}

/// The linear program of a brief. The first columns are the brief's lines, in percent; the objective may add columns of
/// its own.
#[derive(Clone, Debug, PartialEq)]
pub struct BriefProgram {
    program: Program,
    names: Vec<RowName>,
    units: Vec<RowUnit>,
    lines: usize,
}

getters!(BriefProgram {
    /// The program.
    program: &Program,
    /// What each row says.
    names: &[RowName],
    /// How many of the columns are lines.
    lines: usize,
});

impl BriefProgram {
    /// The rows, each with what it says.
    pub(super) fn named_rows(&self) -> impl Iterator<Item = (&RowName, &Row)> {
        self.names.iter().zip(self.program.rows())
    }

    /// The same question with one column more for each split, `U`, the amount of one part, and one row for each of its
    /// members:
    ///
    /// ```text
    /// amount_i x_i - part_i U = 0,   0 <= U <= greatest of 100 amount_i / part_i
    /// ```
    ///
    /// So any member can be left out, the first included, and all parts of a split stand in one column: every
    /// determinant is of the first degree in them. The ends of `U` follow from each row alone, so no conflict rests on
    /// them; the search in `f64` needs them to prove one. A plain solve does without: one row and one column fewer for
    /// each split.
    pub(super) fn with_split_columns(&self, brief: &Brief) -> Result<Self, Error> {
        let before = self.program.columns().len();
        let width = before + brief.splits().len();
        let mut columns = self.program.columns().to_vec();
        columns.resize(width, Column { low: Some(Exact::ZERO), high: Some(Exact::ZERO), cost: Exact::ZERO });
        let mut of_splits = Vec::new();
        for (place, split) in brief.splits().iter().enumerate() {
            let unit = RowUnit::constant(&Exact::hundred(), self.lines, split.basis().unit());
            for (member, share) in shares(brief, split)?.into_iter().enumerate() {
                let mut coefficients = vec![Exact::ZERO; width];
                if let Some(amount) = (&share.amount * Exact::hundred()).checked_div(share.part) {
                    let high = &mut columns[before + place].high;
                    *high = high.take().max(Some(amount));
                }
                coefficients[share.line] = share.amount;
                coefficients[before + place] = -share.part;
                let name = RowName::Split { split: place, member, words: split.words(&[member]) };
                of_splits.push(NamedRow {
                    name,
                    unit: unit.clone(),
                    row: Row { coefficients, low: Some(Exact::ZERO), high: Some(Exact::ZERO) },
                });
            }
        }
        let mut named = Vec::new();
        for ((name, row), unit) in self.named_rows().zip(&self.units) {
            if !matches!(name, RowName::Split { .. }) {
                let mut row = row.clone();
                row.coefficients.resize(width, Exact::ZERO);
                named.push(NamedRow { name: name.clone(), unit: unit.clone(), row });
            }
        }
        // After the sum to 100 %.
        named.splice(1..1, of_splits);
        BriefProgram::new(columns, named, self.lines)
    }

    pub(super) fn is_same_but_for_costs(&self, other: &BriefProgram) -> bool {
        let without = |program: &BriefProgram| {
            let mut program = program.clone();
            program.program.change(|_, column| column.cost = Exact::ZERO, |_, _| {});
            program
        };
        without(self) == without(other)
    }

    pub(super) fn units(&self) -> &[RowUnit] {
        &self.units
    }

    pub(super) fn new(columns: Vec<Column>, named: Vec<NamedRow>, lines: usize) -> Result<Self, Error> {
        let parted = named.into_iter().map(|NamedRow { name, unit, row }| (name, (unit, row)));
        let (names, (units, rows)): (_, (_, Vec<Row>)) = parted.unzip();
        Ok(BriefProgram { program: Program::new(columns, rows)?, names, units, lines })
    }
}

/// The rows that every program of a brief has, whatever its objective, and the columns of its lines.
#[derive(Clone)]
pub(super) struct Frame {
    pub(super) columns: Vec<Column>,
    pub(super) rows: Vec<NamedRow>,
}

impl Frame {
    /// The program without costs.
    pub(super) fn program(self) -> Result<BriefProgram, Error> {
        let lines = self.columns.len();
        BriefProgram::new(self.columns, self.rows, lines)
    }
}

/// Compiles lines, splits and requirements; refuses choices, which a linear program does not know.
pub(super) fn frame(brief: &Brief) -> Result<Frame, Error> {
    frame_on(brief, &Basis::AsCharged)
}

/// As [`frame`], with the water to keep that a measure on this basis needs, beside what the brief itself needs.
pub(super) fn frame_on(brief: &Brief, basis: &Basis) -> Result<Frame, Error> {
    if brief.has_choices() {
        return Err(Fault::new(
            FaultKind::Unsupported,
            "the brief has lines that may be absent, or groups of which at most so many lines are present",
        )
        .at(format!("brief {:?}", brief.title()))
        .remedy(
            "let `choose` decide and go on with its `chosen_brief`, say which of them are in (`with_present`), or ask \
             for a rounded formula",
        )
        .into());
    }
    relaxed_frame(brief, basis)
}

/// As [`frame_on`], with a line that may be absent anywhere between 0 and its greatest dose.
pub(super) fn relaxed_frame(brief: &Brief, basis: &Basis) -> Result<Frame, Error> {
    if brief.lines().is_empty() {
        return Err(Fault::new(FaultKind::Missing, "a brief without lines cannot be answered")
            .remedy("add raw materials")
            .into());
    }
    let columns = brief
        .lines()
        .iter()
        .map(|line| {
            let (low, high) = line.role().range();
            Column { low: Some(low.percent()), high: Some(high.percent()), cost: Exact::ZERO }
        })
        .collect();
    let (lines, hundred) = (brief.lines().len(), Exact::hundred());
    let mut rows = Vec::with_capacity(2 + brief.requirements().len());
    rows.push(NamedRow {
        name: RowName::Total,
        unit: RowUnit::constant(&Exact::ONE, lines, "%"),
        row: Row { coefficients: vec![Exact::ONE; lines], low: Some(hundred.clone()), high: Some(hundred) },
    });
    let required = brief.requirements().iter().enumerate().map(|(index, requirement)| {
        requirement_rows(brief, index, requirement)
            .map_err(|error| error.within(&format!("requirement {:?}", requirement.name())))
    });
    let mut faults = Vec::new();
    for asked in std::iter::once(split_rows(brief)).chain(required).chain([water_rows(brief, basis)]) {
        match asked {
            Ok(more) => rows.extend(more),
            Err(error) => {
                for fault in error.into_faults() {
                    if !faults.contains(&fault) {
                        faults.push(fault);
                    }
                }
            }
        }
    }
    Error::check(faults, Frame { columns, rows })
}

/// `factor N - value D` of each line.
pub(super) fn difference(numerator: &[Exact], denominator: &[Exact], value: &Exact) -> Vec<Exact> {
    if value.is_zero() {
        return numerator.to_vec();
    }
    // Most denominators are the one before.
    let mut last = (Exact::ZERO, Exact::ZERO);
    let mut less = |(numerator, denominator): (&Exact, &Exact)| {
        if denominator.is_zero() {
            return numerator.clone();
        }
        if last.0 != *denominator {
            last = (denominator.clone(), value * denominator);
        }
        numerator - &last.1
    };
    numerator.iter().zip(denominator).map(&mut less).collect()
}

/// A member of a split: its line, what one percent of the line brings of what the split divides, and its part.
struct Share<'a> {
    line: usize,
    amount: Exact,
    part: &'a Exact,
}

fn shares<'a>(brief: &Brief, split: &'a Split) -> Result<Vec<Share<'a>>, Error> {
    let line = |(name, _): &(String, Exact)| {
        brief.lines().iter().position(|line| line.name() == name).ok_or_else(|| {
            Error::from(Fault::new(FaultKind::UnknownName, "a member is no line of the brief").value(name))
        })
    };
    let shares = || {
        let lines = split.parts().iter().map(line).collect::<Result<Vec<usize>, Error>>()?;
        let members: Vec<LineView<'_>> = lines.iter().map(|line| brief.lines()[*line].view()).collect();
        let (amounts, _) = sides_of(brief, &split.measure(), &members)?;
        let members = lines.into_iter().zip(amounts.iter()).zip(split.parts());
        Ok(members.map(|((line, amount), (_, part))| Share { line, amount: amount.clone(), part }).collect())
    };
    shares().map_err(|error: Error| error.within(&format!("split {:?}", split.name())))
}

/// One row for each member but the reference:
/// `amount of the member * reference part = amount of the reference * the member's part`.
fn split_rows(brief: &Brief) -> Result<Vec<NamedRow>, Error> {
    let mut rows = Vec::new();
    for (place, split) in brief.splits().iter().enumerate() {
        let (shares, reference) = (shares(brief, split)?, split.reference());
        let first = &shares[reference];
        // Over 100 times the reference part it is percent points (or mmol/g) of what the member brings.
        let unit = RowUnit::constant(&(first.part * Exact::hundred()), brief.lines().len(), split.basis().unit());
        for (member, share) in shares.iter().enumerate().filter(|(member, _)| *member != reference) {
            let mut coefficients = vec![Exact::ZERO; brief.lines().len()];
            coefficients[first.line] = -(&first.amount * share.part);
            coefficients[share.line] = &share.amount * first.part;
            let name = RowName::Split { split: place, member, words: split.words(&[reference, member]) };
            rows.push(NamedRow {
                name,
                unit: unit.clone(),
                row: Row { coefficients, low: Some(Exact::ZERO), high: Some(Exact::ZERO) },
            });
        }
    }
    Ok(rows)
}

fn requirement_rows(brief: &Brief, index: usize, requirement: &Requirement) -> Result<Vec<NamedRow>, Error> {
    let (measure, basis, every) = (requirement.measure(), requirement.basis(), requirement.is_for_every_composition());
    let compiled = if every { Some(compile(brief, measure, basis)?) } else { None };
    // Refuses denominators that could be negative: cross-multiplying would turn the requirement round.
    let (numerator, divisor) = match sides(brief, measure, basis) {
        Ok(sides) => sides,
        // Bounded compositions have no typical denominator; the row is then shown in its own unit.
        Err(error) if every && !error.is_unsupported() => ([].into(), vec![Exact::ONE; brief.lines().len()].into()),
        Err(error) => return Err(error),
    };
    let row = |value: &Exact, sense: Sense| match &compiled {
        Some(compiled) => compiled.worst_coefficients(value, sense).map_err(several),
        None => Ok(difference(&numerator, &divisor, value)),
    };
    let unit = RowUnit { divisor: Arc::clone(&divisor), unit: measure.unit(currency(brief)) };
    let is_target = requirement.is_target();
    let ends =
        [(false, Sense::AtLeast, requirement.low().filter(|_| !is_target)), (true, Sense::AtMost, requirement.high())];
    let mut rows = Vec::new();
    for (upper, sense, value) in ends {
        let Some(value) = value else { continue };
        let end = |is_there: bool| is_there.then_some(Exact::ZERO);
        rows.push(NamedRow {
            name: RowName::Requirement { index, upper, words: requirement.name() },
            unit: unit.clone(),
            row: Row { coefficients: row(value, sense)?, low: end(!upper || is_target), high: end(upper) },
        });
    }
    Ok(rows)
}

/// The residual moisture whose water has to be charged: the highest of the finished bases of requirements, objective
/// and `basis`.
pub(super) fn kept_moisture(brief: &Brief, basis: &Basis) -> Option<Exact> {
    let objective = match brief.objective() {
        Some(Objective::Measure { basis, .. }) => Some(basis),
        Some(Objective::LeastChange(_) | Objective::LeastSquares(_)) | None => None,
    };
    let bases = brief.requirements().iter().map(Requirement::basis).chain(objective).chain([basis]);
    let moistures = bases.filter_map(|basis| match basis {
        Basis::Finished(moisture) => Some(moisture),
        Basis::AsCharged | Basis::FinishedWithBoundWater(_) => None,
    });
    moistures.max().filter(|most| most.is_positive()).cloned()
}

/// Drying takes no water up: a finished basis needs its residual water to be charged.
fn water_rows(brief: &Brief, basis: &Basis) -> Result<Vec<NamedRow>, Error> {
    let Some(most) = kept_moisture(brief, basis) else { return Ok(Vec::new()) };
    let (water, mass) = sides(brief, &Measure::of(Content::Water), &Basis::AsCharged)?;
    let coefficients = difference(&water, &mass, &most);
    let words = format!("water as charged at least the {most} % that the finished product keeps");
    let unit = RowUnit::constant(&Exact::hundred(), brief.lines().len(), "%");
    Ok(vec![NamedRow {
        name: RowName::WaterToKeep(words),
        unit,
        row: Row { coefficients, low: Some(Exact::ZERO), high: None },
    }])
}

/// A range that the user wrote, of a linear form of the lines.
pub(super) struct WrittenRange {
    pub(super) name: String,
    pub(super) form: Vec<Exact>,
    pub(super) middle: Exact,
    /// Half of it.
    pub(super) width: Exact,
}

/// The ranges a user wrote, each as middle and half-width of a linear form of the lines: what the answer without
/// objective centres. Ranges of measures count where their denominator is the mass of the formula as charged, which is
/// always 100.
pub(super) fn written_ranges(brief: &Brief) -> Result<Vec<WrittenRange>, Error> {
    let range = |name: String, form: Vec<Exact>, low: &Exact, high: &Exact| {
        let two = Exact::from(2);
        WrittenRange { name, form, middle: (low + high) / &two, width: (high - low) / two }
    };
    let count = brief.lines().len();
    let mut ranges = Vec::new();
    for (index, line) in brief.lines().iter().enumerate() {
        if let Role::Between(low, high) = line.role()
            && low < high
        {
            let name = format!("line {}", line.name());
            ranges.push(range(name, one_line(count, index), &low.percent(), &high.percent()));
        }
    }
    for requirement in brief.requirements() {
        let (Some(low), Some(high)) = (requirement.low(), requirement.high()) else { continue };
        let plain = requirement.measure().is_over_the_whole();
        if low < high && plain && requirement.basis() == &Basis::AsCharged && !requirement.is_for_every_composition() {
            let (numerator, _) = sides(brief, requirement.measure(), requirement.basis())?;
            let form = numerator.iter().map(|value| value / Exact::hundred()).collect();
            ranges.push(range(requirement.name(), form, low, high));
        }
    }
    Ok(ranges)
}

/// The program of a frame with costs, one a line.
pub(super) fn with_costs(mut frame: Frame, costs: Vec<Exact>) -> Result<BriefProgram, Error> {
    frame.columns.iter_mut().zip(costs).for_each(|(column, cost)| column.cost = cost);
    frame.program()
}

/// One of a line and none of the others.
pub(super) fn one_line(lines: usize, line: usize) -> Vec<Exact> {
    (0..lines).map(|other| if other == line { Exact::ONE } else { Exact::ZERO }).collect()
}

/// That a form stands between two ends but for what a column gives, times so much: a row for each end that there is,
/// the high one first.
pub(super) fn giving<'a>(
    form: &'a [Exact],
    [low, high]: [Option<Exact>; 2],
    (column, times): (usize, &Exact),
    width: usize,
) -> impl Iterator<Item = Row> + 'a {
    let ends = [(None, high, -times), (low, None, times.clone())];
    ends.into_iter().filter(|(low, high, _)| low.is_some() || high.is_some()).map(move |(low, high, gives)| {
        let mut coefficients = Vec::with_capacity(width);
        coefficients.extend_from_slice(form);
        coefficients.resize(width, Exact::ZERO);
        coefficients[column] = gives;
        Row { coefficients, low, high }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    fn program(brief: &Brief) -> BriefProgram {
        frame(brief).unwrap().program().unwrap()
    }

    fn wash() -> Brief {
        let brief = Brief::new("Wash", &Catalogue::starter()).unwrap().between("sci-powder", 10, 50).unwrap();
        brief.between("capb-30", 10, 50).unwrap().between("scs-needles", 0, 50).unwrap().qs("water").unwrap()
    }

    #[test]
    fn nothing_but_costs_may_differ_between_two_proofs_of_a_conflict() {
        let asked = |value: i64, name: &str| {
            Requirement::at_least(Measure::active_matter(), Exact::from(value)).unwrap().named(name).unwrap()
        };
        let this = program(&wash().require(asked(5, "washes")).unwrap());
        let costly = |mut program: BriefProgram| {
            program.program.change(|index, column| column.cost = Exact::from(i64::try_from(index).unwrap()), |_, _| {});
            program
        };
        assert!(this.is_same_but_for_costs(&costly(this.clone())));
        let others = [
            program(&wash().require(asked(5, "foams")).unwrap()),
            program(&wash().require(asked(6, "washes")).unwrap()),
            program(
                &wash()
                    .change_line(
                        "water",
                        Role::between(crate::number::Ppm::ZERO, crate::number::Ppm::from_percent("90").unwrap())
                            .unwrap(),
                    )
                    .unwrap()
                    .require(asked(5, "washes"))
                    .unwrap(),
            ),
            BriefProgram { lines: 3, ..this.clone() },
            BriefProgram {
                units: this.units.iter().map(|unit| RowUnit { unit: "g".to_string(), ..unit.clone() }).collect(),
                ..this.clone()
            },
        ];
        for other in others {
            assert!(!this.is_same_but_for_costs(&other) && !other.is_same_but_for_costs(&this), "{:?}", other.names());
        }
    }
}
