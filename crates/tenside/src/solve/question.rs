//! A brief with steps or choices as a mixed program, and its best point.

use tenside_lp::mixed::{Limits, MixedProgram, Tree};
use tenside_lp::{Row, dot, solve_watched};

use super::objective::{Ratio, beyond_cost, optimise, sign, value_at};
use super::program::{Frame, NamedRow, RowName, relaxed_frame, written_ranges};
use super::proof::{DenominatorProof, Proof, fails};
use super::sides::sides;
use super::steps::{Steps, Tolerance};
use crate::brief::{Brief, Objective, Role};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::measure::Basis;
use crate::number::Exact;
use crate::watch::Watched;

/// An equation of the brief and how far it may depart.
pub(super) struct Equation {
    /// The split or target it belongs to.
    pub(super) name: String,
    pub(super) row: NamedRow,
    /// The most it may depart, in its unit; nothing where it is given up.
    pub(super) tolerance: Option<Exact>,
}

/// A brief as a mixed program.
pub(super) struct Question<'a> {
    brief: &'a Brief,
    mixed: MixedProgram,
    /// What is minimised if it is no cost of the program: a ratio, and what its denominator is never below.
    ratio: Option<(Ratio, Exact)>,
    pub(super) equations: Vec<Equation>,
    /// The linear program without steps and choices, solved.
    pub(super) relaxed: Proof,
    nodes: usize,
}

/// The best point with its proof.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Best {
    /// The percentages of the lines.
    pub(super) values: Vec<Exact>,
    /// In the objective's unit.
    pub(super) objective: Option<Exact>,
    /// No formula is better than this, in the objective's unit.
    pub(super) bound: Option<Exact>,
    /// How far the best found may be from the best there is: in the objective's unit, without objective in half-widths
    /// of the ranges.
    pub(super) gap: Exact,
    pub(super) tree: Tree,
    pub(super) nodes: usize,
    /// After how many turns the search was ended by its watch, if it was.
    pub(super) ended_after: Option<usize>,
}

/// What a search for nothing leaves.
pub(super) struct Nothing {
    pub(super) proved: bool,
    pub(super) nodes: usize,
    /// What was searched; none where the ranges and requirements alone cannot be met.
    pub(super) tree: Option<Box<Tree>>,
}

impl<'a> Question<'a> {
    /// The question with its objective.
    pub(super) fn new(brief: &'a Brief, steps: Option<&Steps>, nodes: usize) -> Result<Self, Error> {
        Question::asked(brief, steps, nodes, true)
    }

    /// The question whether there is any formula, whatever the objective: without a requirement a ratio could have no
    /// best value.
    pub(super) fn whether(brief: &'a Brief, steps: Option<&Steps>, nodes: usize) -> Result<Self, Error> {
        Question::asked(brief, steps, nodes, false)
    }

    fn asked(brief: &'a Brief, steps: Option<&Steps>, nodes: usize, best: bool) -> Result<Self, Error> {
        if let Some(Objective::LeastSquares(_)) = brief.objective() {
            return Err(Fault::new(FaultKind::Unsupported, "least squares does not go with steps or choices")
                .remedy("ask for the least change (`least_change_from`), which does")
                .into());
        }
        let Frame { columns, rows } = relaxed_frame(brief, &Basis::AsCharged)?;
        let (mut kept, mut equations) = (Vec::new(), Vec::new());
        for row in rows {
            let Some(name) = equation_name(brief, &row.name) else {
                kept.push(row);
                continue;
            };
            let tolerance = match steps.and_then(|steps| steps.tolerance(&name)) {
                None => Some(Exact::ZERO),
                Some(Tolerance::Within(tolerance)) => Some(tolerance.clone()),
                Some(Tolerance::WithinHalfAStep) => steps.map(|steps| half_step_effect(brief, steps, &row)),
                Some(Tolerance::GivenUp) => None,
            };
            match &tolerance {
                Some(tolerance) if tolerance.is_zero() => kept.push(row.clone()),
                Some(tolerance) => kept.extend(loosened(&row, tolerance)),
                None => {}
            }
            equations.push(Equation { name, row, tolerance });
        }
        let lines = brief.lines().len();
        let frame = Frame { columns, rows: kept };
        let relaxed = if best {
            optimise(brief, frame)?
        } else {
            let program = frame.program()?;
            let outcome = solve_watched(program.program(), &[], brief.watched())?;
            Proof::new(program, outcome, None)
        };
        let line_steps =
            brief.lines().iter().map(|line| steps.map(|steps| steps.step_of(line.name()).clone())).collect();
        let (choices, caps) = choices(brief);
        let mixed =
            MixedProgram::new(relaxed.program().program().clone(), lines, line_steps)?.with_choices(&choices, &caps)?;
        let least = relaxed.denominator().and_then(DenominatorProof::least);
        let ratio = if least.is_some() { Ratio::of(brief)? } else { None };
        Ok(Question { brief, mixed, ratio: ratio.zip(least), equations, relaxed, nodes })
    }

    /// Whether there is any formula: `None` where the search was cut off before it knew.
    pub(super) fn has_formula(&self) -> Result<Option<bool>, Error> {
        if self.relaxed.outcome().optimum().is_none() {
            return Ok(Some(false));
        }
        let found = self.mixed.search(self.limits(true))?;
        Ok(if found.best.is_some() { Some(true) } else { found.complete.then_some(false) })
    }

    fn limits(&self, any: bool) -> Limits<'_, Watched> {
        Limits { nodes: self.nodes, any, halt: self.brief.watched() }
    }

    /// Checks without the search that there is no formula: the tree leaves no point, or there is none without steps and
    /// choices.
    pub(super) fn verify_nothing(&self, tree: Option<&Tree>) -> Result<(), Error> {
        let nothing = match tree {
            Some(tree) => self.mixed.verify(tree, self.brief.watched())?.is_none(),
            None => self.relaxed.verify().map(|()| self.relaxed.outcome().optimum().is_none())?,
        };
        if nothing { Ok(()) } else { Err(fails("a formula is left possible").within("search tree")) }
    }

    /// The best formula. Of a ratio by Dinkelbach's steps over formulas on the steps: with `r` the best ratio so far, no
    /// formula has a lesser one once the least value of `N - r D` is 0.
    pub(super) fn best(&self) -> Result<Result<Best, Nothing>, Error> {
        let Some(relaxed) = self.relaxed.outcome().optimum() else {
            return Ok(Err(Nothing { proved: true, nodes: 1, tree: None }));
        };
        let (mut reached, mut best, mut nodes): (Option<Exact>, Option<Vec<Exact>>, usize) =
            (self.ratio_at(&relaxed.values), None, 0);
        loop {
            let found = self.minimised(reached.as_ref()).search(self.limits(false))?;
            nodes += found.tree.nodes();
            let better = found
                .best
                .map(|values| values[..self.brief.lines().len()].to_vec())
                .filter(|values| best.is_none() || self.ratio_at(values) <= reached);
            let Some(values) = better.or_else(|| best.clone()) else {
                return Ok(Err(Nothing { proved: found.complete, nodes, tree: Some(Box::new(found.tree)) }));
            };
            let now = self.ratio_at(&values);
            if now == reached {
                let (bound, gap) = self.bound_and_gap(&values, &found.tree.bound().unwrap_or_default())?;
                let objective = value_at(self.brief, &values)?;
                let ended_after = self.brief.watched().ended_after();
                return Ok(Ok(Best { values, objective, bound, gap, tree: found.tree, nodes, ended_after }));
            }
            (reached, best) = (now, Some(values));
        }
    }

    fn ratio_at(&self, values: &[Exact]) -> Option<Exact> {
        self.ratio.as_ref()?.0.at(values)
    }

    /// What a search minimises: of a ratio, how far it is below what was reached.
    fn minimised(&self, reached: Option<&Exact>) -> MixedProgram {
        match (&self.ratio, reached) {
            (Some((ratio, _)), Some(reached)) => self.mixed.with_costs(&ratio.costs(reached)),
            _ => self.mixed.clone(),
        }
    }

    /// What no formula is better than, in the objective's unit, and how far a point may be from the best, where a search
    /// leaves this least cost possible. Of a ratio `r` with that cost at `b` below 0, no ratio is below `r + b / D` with
    /// `D` at its least.
    fn bound_and_gap(&self, values: &[Exact], least: &Exact) -> Result<(Option<Exact>, Exact), Error> {
        let turned = sign(self.brief);
        if let Some((ratio, least_denominator)) = &self.ratio {
            let gap = if least.is_negative() { -(least / least_denominator) } else { Exact::ZERO };
            return Ok((ratio.at(values).map(|reached| (reached - &gap) * turned), gap));
        }
        // Without objective the cost is the distance from the middles, which the point's other columns carry; the gap is
        // its own.
        let cost = match self.brief.objective() {
            Some(Objective::Measure { .. }) => {
                dot(self.mixed.program().columns().iter().map(|column| &column.cost), values)
            }
            Some(_) => value_at(self.brief, values)?.unwrap_or_default() - beyond_cost(self.brief),
            None => self.distance(values)?,
        };
        Ok((self.brief.objective().map(|_| least * turned + beyond_cost(self.brief)), cost - least))
    }

    /// Where these percentages depart from an equation: in its unit, value less target.
    pub(super) fn departures(&self, values: &[Exact]) -> Vec<(&Equation, Exact)> {
        let depart = |equation: &'_ Equation| {
            // Its target is in its coefficients: it asks for 0.
            let activity = dot(&equation.row.row.coefficients, values);
            let divisor = dot(&*equation.row.unit.divisor, values);
            activity.checked_div(&divisor).unwrap_or(activity)
        };
        self.equations
            .iter()
            .map(|equation| (equation, depart(equation)))
            .filter(|(_, departure)| !departure.is_zero())
            .collect()
    }

    /// Checks a best point without the search: the tree, its bound, and that the point meets steps, choices, ranges and
    /// rows.
    pub(super) fn verify(&self, best: &Best) -> Result<(), Error> {
        if let Some(positive) = self.relaxed.denominator() {
            positive.verify()?;
        }
        let mixed = self.minimised(self.ratio_at(&best.values).as_ref());
        let least = mixed.verify(&best.tree, self.brief.watched())?.ok_or_else(|| fails("the tree leaves no point"))?;
        let (bound, gap) = self.bound_and_gap(&best.values, &least)?;
        if bound != best.bound || gap != best.gap || value_at(self.brief, &best.values)? != best.objective {
            return Err(fails("the bound, gap or objective is not the one reported"));
        }
        if best.values.len() != self.brief.lines().len() || !self.mixed.accepts(&best.values) {
            return Err(fails("a line stands off its step, or a choice does not hold"));
        }
        for (line, value) in self.brief.lines().iter().zip(&best.values) {
            let (low, high) = line.role().range();
            if *value < low.percent() || *value > high.percent() {
                return Err(Fault::new(FaultKind::Contradiction, "a line is outside its range")
                    .at(line.name())
                    .value(value)
                    .into());
            }
        }
        for (name, row) in self.relaxed.program().named_rows() {
            if !matches!(name, RowName::Objective(_)) && !holds(row, &best.values) {
                return Err(Fault::new(FaultKind::Contradiction, "a requirement does not hold")
                    .value(name.words())
                    .into());
            }
        }
        Ok(())
    }

    /// The greatest distance from the middle of a written range, in half-widths.
    fn distance(&self, values: &[Exact]) -> Result<Exact, Error> {
        let ranges = written_ranges(self.brief)?;
        let far = ranges.iter().map(|range| ((dot(&range.form, values) - &range.middle) / &range.width).abs());
        Ok(far.max().unwrap_or_default())
    }
}

/// The lines with a least dose, and the limited groups by their lines.
type Choices = (Vec<(usize, Exact)>, Vec<(Vec<usize>, usize)>);

fn choices(brief: &Brief) -> Choices {
    let members = |group: &str| -> Vec<usize> {
        (0..brief.lines().len())
            .filter(|index| brief.lines()[*index].groups().iter().any(|known| known == group))
            .collect()
    };
    let caps: Vec<(Vec<usize>, usize)> =
        brief.at_most_of_groups().iter().map(|limit| (members(limit.group()), limit.most())).collect();
    let least = |index: usize| match brief.lines()[index].role() {
        Role::AbsentOrBetween(least, _) => Some(least.percent()),
        _ if caps.iter().any(|(members, _)| members.contains(&index)) => Some(Exact::ZERO),
        _ => None,
    };
    let lines = (0..brief.lines().len()).filter_map(|index| Some((index, least(index)?))).collect();
    (lines, caps)
}

/// The split or target of which a row is an equation.
fn equation_name(brief: &Brief, row: &RowName) -> Option<String> {
    match row {
        RowName::Split { split, .. } => Some(brief.splits()[*split].name().to_string()),
        RowName::Requirement { index, .. } => {
            let asked = &brief.requirements()[*index];
            asked.is_target().then(|| asked.name())
        }
        _ => None,
    }
}

/// `c . x - b` within `tolerance` times the divisor: two one-sided rows.
fn loosened(row: &NamedRow, tolerance: &Exact) -> [NamedRow; 2] {
    [true, false].map(|upper| {
        let moved = |(coefficient, divisor): (&Exact, &Exact)| {
            let room = tolerance * divisor;
            if upper { coefficient - room } else { coefficient + room }
        };
        let coefficients = row.row.coefficients.iter().zip(&*row.unit.divisor).map(moved).collect();
        let (low, high) = if upper { (None, row.row.high.clone()) } else { (row.row.low.clone(), None) };
        NamedRow { row: Row { coefficients, low, high }, ..row.clone() }
    })
}

/// What half a step, moved from one line that is not fixed to another, does to an equation at most, in its unit.
fn half_step_effect(brief: &Brief, steps: &Steps, row: &NamedRow) -> Exact {
    let free: Vec<usize> =
        (0..brief.lines().len()).filter(|index| !matches!(brief.lines()[*index].role(), Role::Fixed(_))).collect();
    let coefficients = || free.iter().map(|index| &row.row.coefficients[*index]);
    let (Some(greatest), Some(least)) = (coefficients().max(), coefficients().min()) else { return Exact::ZERO };
    let step = free.iter().map(|index| steps.step_of(brief.lines()[*index].name())).max().cloned().unwrap_or_default();
    // Lines sum to 100; the least divisor makes the most of a ratio whose divisor is not the same for every line.
    let divisor = row.unit.divisor.iter().min().map(|least| least * Exact::hundred()).filter(Exact::is_positive);
    let effect = (greatest - least) * step / Exact::from(2);
    divisor.map_or(effect.clone(), |divisor| effect / divisor)
}

fn holds(row: &Row, values: &[Exact]) -> bool {
    let activity = dot(&row.coefficients, values);
    row.low.as_ref().is_none_or(|low| activity >= *low) && row.high.as_ref().is_none_or(|high| activity <= *high)
}

/// Reads every requirement and split off a formula with its measures, not with the rows it was found by.
pub(super) fn measured(brief: &Brief, formula: &Formula, equations: &[Equation]) -> Result<(), Error> {
    let fails = |what: String| -> Error {
        Fault::new(FaultKind::Contradiction, "the formula does not meet a requirement").value(what).into()
    };
    for requirement in brief.requirements() {
        let (name, measure, basis) = (requirement.name(), requirement.measure(), requirement.basis());
        let equation = equations.iter().find(|equation| equation.name == name);
        let Some(room) = equation.map_or(Some(Exact::ZERO), |equation| equation.tolerance.clone()) else { continue };
        let found = formula.measure_with(measure, basis, brief.catalogue())?;
        let unknown = || -> Error {
            let fault = Fault::new(FaultKind::NotKnown, "whether the formula meets a requirement is not known");
            Error::from_faults(found.why_not.clone()).unwrap_or_else(|| fault.into()).within(&name)
        };
        let Some(value) = &found.value else {
            // A ratio over nothing has no value; its row was checked.
            let percents = formula.lines().iter().map(|line| line.percent().percent());
            if sides(brief, measure, basis).is_ok_and(|(_, below)| dot(&*below, percents).is_zero()) {
                continue;
            }
            return Err(unknown());
        };
        let every = requirement.is_for_every_composition();
        let (least, greatest) = if every { (&value.low, &value.high) } else { (&value.typical, &value.typical) };
        if requirement.low().is_some() && least.is_none() || requirement.high().is_some() && greatest.is_none() {
            return Err(unknown());
        }
        let low = requirement.low().zip(least.as_ref()).is_none_or(|(low, value)| *value >= low - &room);
        let high = requirement.high().zip(greatest.as_ref()).is_none_or(|(high, value)| *value <= high + &room);
        if !low || !high {
            return Err(fails(name));
        }
    }
    for split in brief.splits() {
        let brought = |line: &str| -> Result<Exact, Error> {
            let value =
                formula.measure(&split.measure_of(line), &Basis::AsCharged)?.value.and_then(|value| value.typical);
            let unknown = || {
                Fault::new(FaultKind::NotKnown, "what a line brings to a split is not known")
                    .at(format!("line {line:?}"))
            };
            value.ok_or_else(|| unknown().into())
        };
        let Some((first, first_part)) = split.parts().first() else { continue };
        let first = brought(first)?;
        let rows = equations.iter().filter(|equation| equation.name == split.name());
        for (row, (index, (line, part))) in rows.zip(split.parts().iter().enumerate().skip(1)) {
            let departure = brought(line)? - &first * part / first_part;
            if row.tolerance.as_ref().is_some_and(|room| departure.abs() > *room) {
                return Err(fails(split.words(&[0, index])));
            }
        }
    }
    Ok(())
}
