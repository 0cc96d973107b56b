//! How a formula is to be rounded: the steps of its lines, and what becomes of its equations.

use crate::bounds::Quantity;
use crate::brief::Brief;
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, Ppm, ToExact};

/// How many linear programs a search solves unless told otherwise.
pub const USUAL_NODES: usize = 4000;

/// What an equation is asked for when percentages are rounded.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Tolerance {
    /// Within this much of its value, in the unit of the measure; for a split in percent points (by mole: mmol/g) of
    /// what a member brings.
    Within(Exact),
    /// Within what half a step, moved from one line to another, does to it.
    WithinHalfAStep,
    /// Not asked for.
    GivenUp,
}

/// The steps that percentages are multiples of, and how equations (splits and targets) are taken.
///
/// Equations stay exact unless the call says otherwise; one-sided requirements and ranges always hold exactly.
///
/// ```
/// use tenside::solve::Steps;
/// let steps = Steps::of("0.5")?.line("panthenol", "0.1")?.within("wash", "0.2")?.giving_up("active matter at 58 %");
/// assert!(Steps::of(0).is_err());
/// assert!(Steps::of(-1).is_err());
/// assert!(Steps::of("0.3").unwrap_err().to_string().contains("100 % divided by a whole number"));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Steps {
    step: Exact,
    lines: Vec<(String, Exact)>,
    equations: Vec<(String, Tolerance)>,
    /// Of equations without a tolerance of their own.
    is_within_half_a_step: bool,
    nodes: usize,
}

getters!(Steps {
    /// The step of every line that has none of its own.
    step: &Exact,
    /// The lines with steps of their own, and these.
    lines: &[(String, Exact)],
    /// The splits and targets of which something of their own was said, and what.
    equations: &[(String, Tolerance)],
    /// True where every other split and target is asked for within half a step's effect.
    is_within_half_a_step: bool,
    /// How many linear programs a search may solve.
    nodes: usize,
});

impl Steps {
    /// Every line a multiple of this percentage.
    ///
    /// # Errors
    /// A step that is not above 0, does not go into 100 % or is off the grid of 0.0001 %.
    pub fn of(step: impl ToExact) -> Result<Self, Error> {
        let step = checked(step.to_exact()?)?;
        if !Exact::hundred().checked_div(&step).is_some_and(|count| count.is_whole()) {
            return Err(Fault::new(FaultKind::OutOfRange, "the step does not go into 100 %")
                .value(format!("{step} %"))
                .allowed("100 % divided by a whole number, such as 0.5 %, 0.25 % or 0.1 % w/w")
                .remedy("take such a step, and give single lines steps of their own")
                .into());
        }
        Ok(Steps { step, lines: Vec::new(), equations: Vec::new(), is_within_half_a_step: false, nodes: USUAL_NODES })
    }

    /// Every line a whole number of a scale's divisions in a batch of this mass.
    ///
    /// ```
    /// use tenside::number::{Exact, Mass, MassUnit};
    /// use tenside::solve::Steps;
    /// let grams = |grams: i64| Mass::new(&Exact::from(grams), MassUnit::Gram);
    /// assert_eq!(Steps::of_weighing(&grams(2000)?, &grams(1)?)?.step(), &Exact::ratio(1, 20));
    /// assert!(Steps::of_weighing(&grams(1440)?, &grams(1)?).is_err()); // a gram is 0.069444... %
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Steps::of`]: a division that is no whole number of 0.0001 % of the batch, or more than the batch.
    pub fn of_weighing(batch: &Mass, division: &Mass) -> Result<Self, Error> {
        let share = (division.grams() * Exact::hundred()).checked_div(batch.grams());
        let share = share.ok_or_else(|| {
            Fault::new(FaultKind::OutOfRange, "a batch without mass cannot be weighed")
                .value(format!("{} g", batch.grams()))
        })?;
        Steps::of(share).map_err(|error| error.within("one scale division as a share of the batch"))
    }

    /// One line a multiple of a step of its own.
    ///
    /// # Errors
    /// A step that is not above 0 or is off the grid of 0.0001 %, and more lines than a brief can have.
    pub fn line(mut self, line: &str, step: impl ToExact) -> Result<Self, Error> {
        let step = step.to_exact().and_then(checked).map_err(|error| error.within(&format!("line {line:?}")))?;
        self.lines.retain(|(known, _)| known != line);
        self.lines.push((line.to_string(), step));
        Quantity::Lines.check_count(self.lines.len())?;
        Ok(self)
    }

    /// A split or target, by its name, within this much of its value.
    ///
    /// # Errors
    /// A tolerance below 0, and more names than a brief can have requirements.
    pub fn within(self, equation: &str, tolerance: impl ToExact) -> Result<Self, Error> {
        let tolerance = tolerance.to_exact()?;
        if tolerance.is_negative() {
            return Err(Fault::new(FaultKind::OutOfRange, "a tolerance below 0")
                .at(format!("{equation:?}"))
                .value(tolerance)
                .allowed("0 or more")
                .into());
        }
        let steps = self.with_tolerance(equation, Tolerance::Within(tolerance));
        Quantity::Requirements.check_count(steps.equations.len())?;
        Ok(steps)
    }

    /// What is said of an equation last counts.
    fn with_tolerance(mut self, equation: &str, tolerance: Tolerance) -> Self {
        self.equations.retain(|(known, _)| known != equation);
        self.equations.push((equation.to_string(), tolerance));
        self
    }

    /// Every split and target that is not named otherwise within what half a step, moved from one line to another, does
    /// to it.
    #[must_use]
    pub fn within_half_a_step(mut self) -> Self {
        self.is_within_half_a_step = true;
        self
    }

    /// A split or target, by its name, within what half a step, moved from one line to another, does to it.
    #[must_use]
    pub fn equation_within_half_a_step(self, equation: &str) -> Self {
        self.with_tolerance(equation, Tolerance::WithinHalfAStep)
    }

    /// A split or target, by its name, not asked for; its departure is reported all the same.
    #[must_use]
    pub fn giving_up(self, equation: &str) -> Self {
        self.with_tolerance(equation, Tolerance::GivenUp)
    }

    /// How many linear programs a search may solve before it is cut off with a stated bound.
    ///
    /// # Errors
    /// Fewer than one.
    pub fn up_to_nodes(mut self, nodes: usize) -> Result<Self, Error> {
        self.nodes = at_least_one(nodes)?;
        Ok(self)
    }

    /// The step of a line.
    #[must_use]
    pub fn step_of(&self, line: &str) -> &Exact {
        self.lines.iter().find(|(known, _)| known == line).map_or(&self.step, |(_, step)| step)
    }

    /// What a split or target is asked for, if not exactly.
    #[must_use]
    pub fn tolerance(&self, equation: &str) -> Option<&Tolerance> {
        self.equations
            .iter()
            .find(|(known, _)| known == equation)
            .map(|(_, tolerance)| tolerance)
            .or(self.is_within_half_a_step.then_some(&Tolerance::WithinHalfAStep))
    }

    /// Every step no coarser than this.
    pub(super) fn no_coarser_than(&self, step: &Exact) -> Self {
        let finer = |own: &Exact| own.min(step).clone();
        let lines = self.lines.iter().map(|(line, own)| (line.clone(), finer(own))).collect();
        Steps { step: finer(&self.step), lines, ..self.clone() }
    }

    /// The coarsest step.
    pub(super) fn coarsest(&self, brief: &Brief) -> Exact {
        brief.lines().iter().map(|line| self.step_of(line.name())).max().unwrap_or(&self.step).clone()
    }

    /// Refuses names that the brief does not have.
    pub(super) fn check(&self, brief: &Brief) -> Result<(), Error> {
        let mut faults = Vec::new();
        for (line, _) in self.lines.iter().filter(|(line, _)| !brief.lines().iter().any(|known| known.name() == line)) {
            faults.push(unknown_name("line", line, brief.lines().iter().map(crate::brief::BriefLine::name)));
        }
        let known = equations(brief);
        for (equation, _) in self.equations.iter().filter(|(equation, _)| !known.contains(equation)) {
            faults.push(unknown_name("split or target", equation, known.iter().map(String::as_str)));
        }
        Error::check(faults, ())
    }

    /// In words: `multiples of 0.5 %, panthenol of 0.1 %`.
    #[must_use]
    pub fn words(&self) -> String {
        let own: String = self.lines.iter().map(|(line, step)| format!(", {line} of {step} %")).collect();
        format!("multiples of {} %{own}", self.step)
    }
}

/// The names of a brief's splits and targets.
fn equations(brief: &Brief) -> Vec<String> {
    let targets = brief.requirements().iter().filter(|asked| asked.is_target());
    brief
        .splits()
        .iter()
        .map(|split| split.name().to_string())
        .chain(targets.map(crate::brief::Requirement::name))
        .collect()
}

/// A number of linear programs that a search may solve.
pub(super) fn at_least_one(nodes: usize) -> Result<usize, Error> {
    if nodes == 0 {
        return Err(Fault::new(FaultKind::OutOfRange, "a search of no linear programs")
            .value(nodes)
            .allowed("1 or more")
            .into());
    }
    Ok(nodes)
}

fn checked(step: Exact) -> Result<Exact, Error> {
    Quantity::RoundingStep.check(&step)?;
    Ppm::from_percent(&step).map_err(|_| {
        Fault::new(FaultKind::OutOfRange, "the step is no whole number of 0.0001 %")
            .value(format!("{step} %"))
            .allowed("multiples of 0.0001 % w/w")
    })?;
    Ok(step)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    #[test]
    fn finer_steps_leave_finer_ones_alone() {
        let steps =
            Steps::of("0.5").unwrap().line("kaolin", 2).unwrap().line("panthenol", "0.1").unwrap().giving_up("wash");
        let finer = steps.no_coarser_than(&Exact::ratio(1, 4));
        assert_eq!(
            finer,
            Steps::of("0.25")
                .unwrap()
                .line("kaolin", "0.25")
                .unwrap()
                .line("panthenol", "0.1")
                .unwrap()
                .giving_up("wash")
        );
        assert_eq!(steps.no_coarser_than(&Exact::from(2)), steps);
    }

    #[test]
    fn the_coarsest_step_is_that_of_a_line_of_the_brief() {
        let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().free("sci-powder").unwrap().qs("kaolin").unwrap();
        let steps = Steps::of("0.5").unwrap();
        assert_eq!(steps.coarsest(&brief), Exact::ratio(1, 2));
        assert_eq!(steps.clone().line("kaolin", 2).unwrap().coarsest(&brief), Exact::from(2));
        let both = steps.line("kaolin", "0.1").unwrap().line("sci-powder", "0.2").unwrap();
        assert_eq!(both.coarsest(&brief), Exact::ratio(1, 5));
    }
}
