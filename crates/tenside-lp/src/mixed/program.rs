//! A linear program some of whose columns stand on steps or have a switch.

use std::fmt::Display;

use super::lattice::Lattice;
use crate::error::{Error, ErrorKind};
use crate::exact::Exact;
use crate::linear::{Column, Program, Row};

/// Low and high end of every column.
pub(super) type Ranges = Vec<(Option<Exact>, Option<Exact>)>;

/// A line that is 0 or at least `least`, by the column of its switch.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Switch {
    line: usize,
    pub(super) column: usize,
    least: Exact,
}

/// A linear program with steps and switches.
#[derive(Clone, Debug, PartialEq)]
pub struct MixedProgram {
    pub(super) program: Program,
    pub(super) lines: usize,
    /// What each column is to be a multiple of.
    pub(super) steps: Vec<Option<Exact>>,
    pub(super) switches: Vec<Switch>,
    /// At most so many of these lines, each with a switch, are on.
    caps: Vec<(Vec<usize>, usize)>,
    /// True where the last line off its step is branched on, not the one farthest off.
    pub(super) from_the_last: bool,
}

impl MixedProgram {
    /// A program whose first `lines` columns are lines, each with its step or without one.
    ///
    /// # Errors
    /// More lines than columns, more steps than lines, and a step that is not above 0.
    pub fn new(program: Program, lines: usize, line_steps: Vec<Option<Exact>>) -> Result<Self, Error> {
        let columns = program.columns().len();
        let wrong = |message, place: &str, value: &dyn Display, allowed: String| {
            Err(Error::new(ErrorKind::OutOfRange, message).at(place).value(value).allowed(allowed))
        };
        if lines > columns {
            return wrong("there are more lines than columns", "lines", &lines, format!("0 to {columns}"));
        }
        if line_steps.len() > lines {
            return wrong("there are more steps than lines", "steps", &line_steps.len(), format!("0 to {lines}"));
        }
        if let Some(step) = line_steps.iter().flatten().find(|step| !step.is_positive()) {
            return wrong("a step allows nothing", "steps", step, "above 0".to_string());
        }
        let mut steps = line_steps;
        steps.resize(columns, None);
        Ok(MixedProgram { program, lines, steps, switches: Vec::new(), caps: Vec::new(), from_the_last: false })
    }

    /// The same with branches on the last line that is off its step.
    #[must_use]
    pub fn branching_from_the_last(self) -> Self {
        MixedProgram { from_the_last: true, ..self }
    }

    /// Gives the listed lines a switch: 0, or from `least` to their greatest. A line whose range begins above 0 is
    /// always on. Of the lines of each cap at most so many are on; those without a switch do not count.
    ///
    /// # Errors
    /// A line that the program does not have.
    pub fn with_choices(mut self, choices: &[(usize, Exact)], caps: &[(Vec<usize>, usize)]) -> Result<Self, Error> {
        if let Some((line, _)) = choices.iter().find(|(line, _)| *line >= self.lines) {
            return Err(Error::new(ErrorKind::OutOfRange, "the program has no such line")
                .at("choices")
                .value(line)
                .allowed(format!("below {}", self.lines)));
        }
        let (mut columns, mut rows) = (self.program.columns().to_vec(), self.program.rows().to_vec());
        for (line, least) in choices {
            let is_on = columns[*line].low.as_ref().is_some_and(Exact::is_positive);
            let high = columns[*line].high.clone().unwrap_or_else(Exact::hundred);
            // On the steps the greatest is the multiple below it and the least the one above it. Where that turns them
            // round, the two rows below leave only 0.
            let (high, least) = match &self.steps[*line] {
                Some(step) => (high.floor_to(step), -(-least).floor_to(step)),
                None => (high, least.clone()),
            };
            let least_on = if is_on { Exact::ONE } else { Exact::ZERO };
            let column = columns.len();
            columns.push(Column { low: Some(least_on), high: Some(Exact::ONE), cost: Exact::ZERO });
            let bound = |end: &Exact, at_most: bool| {
                let mut coefficients = vec![Exact::ZERO; column + 1];
                coefficients[*line] = Exact::ONE;
                coefficients[column] = -end;
                let (low, high) = if at_most { (None, Some(Exact::ZERO)) } else { (Some(Exact::ZERO), None) };
                Row { coefficients, low, high }
            };
            rows.push(bound(&high, true));
            if least.is_positive() {
                rows.push(bound(&least, false));
            }
            self.steps.push(Some(Exact::ONE));
            self.switches.push(Switch { line: *line, column, least });
        }
        for (members, most) in caps {
            let mut coefficients = vec![Exact::ZERO; columns.len()];
            let mut lines = Vec::new();
            for switch in self.switches.iter().filter(|switch| members.contains(&switch.line)) {
                coefficients[switch.column] = Exact::ONE;
                lines.push(switch.line);
            }
            let high = Exact::from(i64::try_from(*most).unwrap_or(i64::MAX));
            rows.push(Row { coefficients, low: None, high: Some(high) });
            self.caps.push((lines, *most));
        }
        for row in &mut rows {
            row.coefficients.resize(columns.len(), Exact::ZERO);
        }
        self.program = Program::new(columns, rows)?;
        Ok(self)
    }

    /// The same question with these costs, 0 where there are none.
    #[must_use]
    pub fn with_costs(&self, costs: &[Exact]) -> Self {
        let mut changed = self.clone();
        changed.program.change(|index, column| column.cost = costs.get(index).cloned().unwrap_or_default(), |_, _| {});
        changed
    }

    /// The program with the columns and rows of its switches, whose steps it leaves out.
    #[must_use]
    pub fn program(&self) -> &Program {
        &self.program
    }

    /// The ranges of every column, narrowed to multiples where it has a step.
    pub(super) fn ranges(&self, lattice: &Lattice) -> Ranges {
        let narrowed = |(column, step): (&Column, &Option<Exact>)| match step {
            Some(step) => (
                column.low.as_ref().map(|low| -(-low).floor_to(step)),
                column.high.as_ref().map(|high| high.floor_to(step)),
            ),
            None => (column.low.clone(), column.high.clone()),
        };
        self.program.columns().iter().zip(&lattice.steps).map(narrowed).collect()
    }

    pub(super) fn within(&self, ranges: &Ranges) -> Program {
        let mut program = self.program.clone();
        program.change(|index, column| (column.low, column.high) = ranges[index].clone(), |_, _| {});
        program
    }

    /// True where the lines stand on their steps and the choices hold, whatever the switches' own columns say.
    #[must_use]
    pub fn accepts(&self, values: &[Exact]) -> bool {
        if values.len() < self.lines {
            return false;
        }
        let on_steps =
            (0..self.lines).all(|line| self.steps[line].as_ref().is_none_or(|step| values[line].is_multiple_of(step)));
        let doses =
            self.switches.iter().all(|switch| values[switch.line].is_zero() || values[switch.line] >= switch.least);
        let counts = self
            .caps
            .iter()
            .all(|(lines, most)| lines.iter().filter(|line| values[**line].is_positive()).count() <= *most);
        on_steps && doses && counts
    }
}
