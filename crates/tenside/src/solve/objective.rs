//! The objective: added to the frame as costs, columns and rows, and solved to one canonical answer.

use std::collections::BTreeMap;
use std::sync::Arc;

use tenside_lp::{Column, Outcome, dot, solve_watched};

use super::program::{
    BriefProgram, Frame, NamedRow, RowName, RowUnit, WrittenRange, difference, frame, giving, one_line, with_costs,
    written_ranges,
};
use super::proof::{DenominatorProof, Proof, fails};
use super::sides::sides;
use super::squares;
use crate::brief::{Brief, Direction, Objective};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Ppm};
use crate::watch::Watched;

/// What a brief asks of its frame.
pub(super) enum Asked<'a> {
    /// One program.
    Program(BriefProgram),
    /// A ratio of it whose denominator differs from formula to formula.
    Ratio(Frame, Ratio),
    /// The least sum of squares from a base.
    Squares(Frame, &'a BTreeMap<String, Ppm>),
}

impl<'a> Asked<'a> {
    pub(super) fn of(brief: &'a Brief, frame: Frame) -> Result<Self, Error> {
        Ok(match brief.objective() {
            None => Asked::Program(centred(brief, frame)?),
            Some(Objective::LeastChange(base)) => Asked::Program(changed(brief, frame, base)?),
            Some(Objective::LeastSquares(base)) => Asked::Squares(frame, base),
            Some(Objective::Measure { measure, basis, .. }) => {
                let (numerator, denominator) = sides(brief, measure, basis)?;
                match plain_costs(&sign(brief), &numerator, &denominator) {
                    Some(costs) => Asked::Program(with_costs(frame, costs)?),
                    None => Asked::Ratio(frame, Ratio::new(&sign(brief), &numerator, denominator)),
                }
            }
        })
    }
}

/// A ratio of the lines to be made least: of a maximum the numerator is turned round.
pub(super) struct Ratio {
    pub(super) numerator: Vec<Exact>,
    pub(super) denominator: Arc<[Exact]>,
}

impl Ratio {
    pub(super) fn new(sign: &Exact, numerator: &[Exact], denominator: Arc<[Exact]>) -> Self {
        Ratio { numerator: numerator.iter().map(|value| value * sign).collect(), denominator }
    }

    /// That of the objective, if it is a measure.
    pub(super) fn of(brief: &Brief) -> Result<Option<Self>, Error> {
        let Some(Objective::Measure { measure, basis, .. }) = brief.objective() else { return Ok(None) };
        let (numerator, denominator) = sides(brief, measure, basis)?;
        Ok(Some(Ratio::new(&sign(brief), &numerator, denominator)))
    }

    /// Its value; nothing where the denominator is 0.
    pub(super) fn at(&self, values: &[Exact]) -> Option<Exact> {
        dot(&self.numerator, values).checked_div(&dot(&*self.denominator, values))
    }

    /// What the least value of `N - r D` is asked for with.
    pub(super) fn costs(&self, ratio: &Exact) -> Vec<Exact> {
        difference(&self.numerator, &self.denominator, ratio)
    }
}

/// Solves the frame for the brief's objective; the proof is about the program returned with it.
pub(super) fn optimise(brief: &Brief, frame: Frame) -> Result<Proof, Error> {
    match Asked::of(brief, frame)? {
        Asked::Program(program) => canonical(program, None, brief.watched()),
        Asked::Ratio(frame, ratio) => best_ratio(brief, frame, &ratio),
        Asked::Squares(frame, base) => squares::nearest(brief, frame, base),
    }
}

/// What the value of the objective has more than the cost of the program: for a least change, all that lines had which
/// are gone.
pub(crate) fn beyond_cost(brief: &Brief) -> Exact {
    let Some(Objective::LeastChange(base)) = brief.objective() else { return Exact::ZERO };
    gone(brief, base).sum()
}

/// What the lines of a base had that the brief does not have.
fn gone<'a>(brief: &'a Brief, base: &'a BTreeMap<String, Ppm>) -> impl Iterator<Item = Exact> + 'a {
    base.iter()
        .filter(|(name, _)| !brief.lines().iter().any(|line| line.name() == name.as_str()))
        .map(|(_, percent)| percent.percent())
}

/// What turns a value of the objective into one that is better the less it is: -1 for a maximum, else 1.
pub(super) fn sign(brief: &Brief) -> Exact {
    match brief.objective() {
        Some(Objective::Measure { direction: Direction::Maximise, .. }) => Exact::from(-1),
        _ => Exact::ONE,
    }
}

/// By how much one value of the objective is worse than another.
pub(super) fn worse_by(brief: &Brief, value: &Exact, than: &Exact) -> Exact {
    sign(brief) * (value - than)
}

/// True where a denominator is the same for every formula; over lines that sum to 100 that is where its entries are
/// equal.
pub(super) fn is_constant(denominator: &[Exact]) -> bool {
    denominator.windows(2).all(|pair| pair[0] == pair[1])
}

/// The costs where the denominator is the same for every formula.
pub(super) fn plain_costs(sign: &Exact, numerator: &[Exact], denominator: &[Exact]) -> Option<Vec<Exact>> {
    let each = denominator.first().filter(|each| is_constant(denominator) && each.is_positive())?;
    let scale = sign / (each * Exact::hundred());
    Some(numerator.iter().map(|value| value * &scale).collect())
}

/// Lines in the brief's order: the fixed order of the canonical answer.
fn canonical(program: BriefProgram, denominator: Option<DenominatorProof>, watched: &Watched) -> Result<Proof, Error> {
    let order: Vec<usize> = (0..program.lines()).collect();
    let outcome = solve_watched(program.program(), &order, watched)?;
    Ok(Proof::new(program, outcome, denominator))
}

/// `N/D` by Dinkelbach's steps: with `r` the best ratio so far, the least value of `N - r D` is 0 exactly if no formula
/// has a lesser ratio. The proof is that program, solved, with the proof that `D` stays above 0. (W. Dinkelbach,
/// Management Science 13, 1967; from memory.)
fn best_ratio(brief: &Brief, frame: Frame, ratio: &Ratio) -> Result<Proof, Error> {
    let least = with_costs(frame.clone(), ratio.denominator.to_vec())?;
    let least_outcome = solve_watched(least.program(), &[], brief.watched())?;
    let Some(optimum) = least_outcome.optimum() else {
        // No formula at all: the conflict is proved by this program.
        return Ok(Proof::new(least, least_outcome, None));
    };
    let (true, Some(mut reached)) = (optimum.objective.is_positive(), ratio.at(&optimum.values)) else {
        let message = "the objective's denominator can be 0, so the ratio need not have a best value";
        let mut fault = Fault::new(FaultKind::Unsupported, message);
        if let Some(Objective::Measure { measure, basis, .. }) = brief.objective() {
            fault = fault.value(format!("{}, {basis}", measure.name()));
        }
        return Err(fault.remedy("require at least a little of what the ratio divides by").into());
    };
    let positive = DenominatorProof::new(least, least_outcome.clone());
    loop {
        let program = with_costs(frame.clone(), ratio.costs(&reached))?;
        let proof = canonical(program, Some(positive.clone()), brief.watched())?;
        let better = proof.outcome().optimum().filter(|optimum| optimum.objective.is_negative());
        match better.and_then(|better| ratio.at(&better.values)) {
            // Every step takes a corner with a lesser ratio; there are finitely many.
            Some(lesser) => reached = lesser,
            None => return Ok(proof),
        }
    }
}

/// The least cost among the points of a frame, and where it is; nothing where there is none.
pub(super) fn least(frame: &Frame, costs: Vec<Exact>, watched: &Watched) -> Result<Option<(Exact, Vec<Exact>)>, Error> {
    let outcome = solve_watched(with_costs(frame.clone(), costs)?.program(), &[], watched)?;
    Ok(outcome.optimum().map(|optimum| (optimum.objective.clone(), optimum.values.clone())))
}

/// The least ratio by the same steps from a point on, without proof. `at` gives the ratio at a point, and costs that are
/// below 0 where it is less; nothing where there is no end.
pub(super) fn least_ratio(
    frame: &Frame,
    watched: &Watched,
    mut point: Vec<Exact>,
    mut at: impl FnMut(&[Exact]) -> Option<(Exact, Vec<Exact>)>,
) -> Result<Option<Exact>, Error> {
    while let Some((ratio, costs)) = at(&point) {
        match least(frame, costs, watched)? {
            Some((cost, better)) if cost.is_negative() => point = better,
            _ => return Ok(Some(ratio)),
        }
    }
    Ok(None)
}

/// Without objective: the least greatest departure from the middle, in half-widths, over the ranges the user wrote.
fn centred(brief: &Brief, frame: Frame) -> Result<BriefProgram, Error> {
    let ranges = written_ranges(brief)?;
    if ranges.is_empty() {
        return frame.program();
    }
    let departure = frame.columns.len();
    let column = Column { low: Some(Exact::ZERO), high: None, cost: Exact::ONE };
    let far = ranges.into_iter().map(|WrittenRange { name, form, middle, width }| {
        (format!("distance of {name} from the middle of its range"), form, middle, (departure, width))
    });
    departing(frame, vec![column], far)
}

/// Each line's change from the base as a column of its own.
fn changed(brief: &Brief, frame: Frame, base: &BTreeMap<String, Ppm>) -> Result<BriefProgram, Error> {
    let lines = frame.columns.len();
    let column = Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: Exact::ONE };
    let far =
        brief.lines().iter().zip(squares::base_percents(brief, base)).enumerate().map(|(index, (line, before))| {
            (format!("change of line {}", line.name()), one_line(lines, index), before, (lines + index, Exact::ONE))
        });
    departing(frame, vec![column; lines], far)
}

/// The frame with columns more and, of each form, that it is as near to its value as one of them, times so much, says.
fn departing(
    mut frame: Frame,
    columns: Vec<Column>,
    forms: impl Iterator<Item = (String, Vec<Exact>, Exact, (usize, Exact))>,
) -> Result<BriefProgram, Error> {
    let lines = frame.columns.len();
    frame.columns.extend(columns);
    let width = frame.columns.len();
    frame.rows.iter_mut().for_each(|named| named.row.coefficients.resize(width, Exact::ZERO));
    let unit = RowUnit::constant(&Exact::hundred(), lines, "");
    for (words, form, value, (column, times)) in forms {
        let rows = giving(&form, [Some(value.clone()), Some(value)], (column, &times), width);
        let named = |row| NamedRow { name: RowName::Objective(words.clone()), unit: unit.clone(), row };
        frame.rows.extend(rows.map(named));
    }
    BriefProgram::new(frame.columns, frame.rows, lines)
}

/// The value of the objective at these percentages, in its own unit; nothing where the brief has none.
pub(super) fn value_at(brief: &Brief, values: &[Exact]) -> Result<Option<Exact>, Error> {
    let changes = |base| {
        let kept = squares::base_percents(brief, base).zip(values).map(|(before, value)| value - before);
        kept.chain(gone(brief, base))
    };
    Ok(match brief.objective() {
        None => None,
        Some(Objective::LeastChange(base)) => Some(changes(base).map(|change| change.abs()).sum()),
        Some(Objective::LeastSquares(base)) => Some(changes(base).map(|change| &change * &change).sum()),
        Some(Objective::Measure { .. }) => {
            Ratio::of(brief)?.and_then(|ratio| ratio.at(values)).map(|least| least * sign(brief))
        }
    })
}

impl Proof {
    /// The value of the objective in the user's unit, if the brief has one.
    pub(super) fn objective_value(&self, brief: &Brief) -> Result<Option<Exact>, Error> {
        match (self.outcome(), brief.objective(), self.denominator()) {
            // The denominator is the same for every formula, and the costs are over it.
            (Outcome::Optimal(optimum), Some(Objective::Measure { .. }), None) => {
                Ok(Some(&optimum.objective * sign(brief)))
            }
            (Outcome::Optimal(optimum), ..) => value_at(brief, &optimum.values),
            _ => Ok(None),
        }
    }
}

/// That the program of a proof is what the brief compiles to, so that the proof is about the brief and not about
/// another question. A conflict does not depend on the costs.
pub(super) fn same_question(brief: &Brief, proof: &Proof) -> Result<(), Error> {
    let differs = || fails("the proof is about another brief");
    let asked = Asked::of(brief, frame(brief)?)?;
    let is_same = match proof.outcome() {
        Outcome::Optimal(optimum) => {
            let (expected, denominator) = match asked {
                Asked::Program(program) => (program, None),
                Asked::Ratio(frame, ratio) => {
                    let reached = ratio.at(&optimum.values).ok_or_else(differs)?;
                    let denominator = with_costs(frame.clone(), ratio.denominator.to_vec())?;
                    (with_costs(frame, ratio.costs(&reached))?, Some(denominator))
                }
                // The costs of its proof are the gradient at the point proved.
                Asked::Squares(frame, base) => {
                    (with_costs(frame, squares::gradient(brief, base, &optimum.values))?, None)
                }
            };
            expected == *proof.program() && denominator.as_ref() == proof.denominator().map(DenominatorProof::program)
        }
        Outcome::Infeasible(_) | Outcome::Unbounded(_) => {
            let expected = match asked {
                Asked::Program(program) => program,
                Asked::Ratio(frame, _) | Asked::Squares(frame, _) => frame.program()?,
            };
            expected.is_same_but_for_costs(proof.program()) && proof.denominator().is_none()
        }
    };
    if is_same { Ok(()) } else { Err(differs()) }
}
