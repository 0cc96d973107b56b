//! The objective: added to the frame as costs, columns and rows, and solved to one canonical answer.

use super::linear::{Column, Outcome, Row, solve, solve_lexicographic};
use super::program::{BriefProgram, Frame, NamedRow, RowName, RowUnit, WrittenRange, sides, written_ranges};
use super::proof::{DenominatorProof, Proof};
use super::squares;
use crate::brief::{Brief, Direction, Objective};
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Measure};
use crate::number::Exact;

/// Solves the frame for the brief's objective; the proof is about the program returned with it.
pub(super) fn optimise(brief: &Brief, frame: Frame) -> Result<Proof, Error> {
    match brief.objective() {
        None => centre(brief, frame),
        Some(Objective::LeastChange(base)) => least_change(brief, frame, base),
        Some(Objective::LeastSquares(base)) => squares::nearest(brief, &frame, base),
        Some(Objective::Measure { direction, measure, basis }) => {
            let (numerator, denominator) = sides(brief, measure, basis)?;
            let sign = if *direction == Direction::Minimise { Exact::ONE } else { Exact::from(-1) };
            let constant = denominator.windows(2).all(|pair| pair[0] == pair[1]) && denominator.iter().all(Exact::is_positive);
            if constant {
                // Over lines that sum to 100 the denominator is the same for every formula.
                let scale = &denominator[0] * Exact::hundred();
                let costs = numerator.iter().map(|value| value * &sign / &scale).collect();
                return plain(frame, costs);
            }
            ratio(frame, measure, basis, &sign, &numerator, &denominator)
        }
    }
}

/// Lines in the brief's order: the fixed order of the canonical answer.
fn canonical(program: BriefProgram, denominator: Option<DenominatorProof>) -> Proof {
    let order: Vec<usize> = (0..program.lines()).collect();
    let outcome = solve_lexicographic(program.program(), &order);
    Proof::new(program, outcome, denominator)
}

pub(super) fn with_costs(frame: &Frame, costs: Vec<Exact>) -> Result<BriefProgram, Error> {
    let columns: Vec<Column> = frame.columns.iter().zip(costs).map(|(column, cost)| Column { cost, ..column.clone() }).collect();
    let lines = columns.len();
    BriefProgram::new(columns, frame.rows.clone(), lines)
}

fn plain(frame: Frame, costs: Vec<Exact>) -> Result<Proof, Error> {
    Ok(canonical(with_costs(&frame, costs)?, None))
}

/// `N/D` by Dinkelbach's steps: with `r` the best ratio so far, the least value of `N - r D` is 0 exactly if no formula has a lesser
/// ratio. The proof is that program, solved, with the proof that `D` stays above 0. (W. Dinkelbach, Management Science 13, 1967; from memory.)
fn ratio(frame: Frame, measure: &Measure, basis: &Basis, sign: &Exact, numerator: &[Exact], denominator: &[Exact]) -> Result<Proof, Error> {
    let least = with_costs(&frame, denominator.to_vec())?;
    let least_outcome = solve(least.program());
    let Some(optimum) = least_outcome.optimum() else {
        // No formula at all: the conflict is proved by this program.
        return Ok(Proof::new(least, least_outcome, None));
    };
    if !optimum.objective.is_positive() {
        return Err(Fault::new(FaultKind::Unsupported, "the objective's denominator can be 0, so the ratio need not have a best value")
            .value(format!("{}, {basis}", measure.name()))
            .remedy("require at least a little of what the ratio divides by")
            .into());
    }
    let dot = |coefficients: &[Exact], point: &[Exact]| coefficients.iter().zip(point).map(|(coefficient, value)| coefficient * value).sum::<Exact>();
    let numerator: Vec<Exact> = numerator.iter().map(|value| value * sign).collect();
    let mut ratio = dot(&numerator, &optimum.values) / dot(denominator, &optimum.values);
    let positive = DenominatorProof::new(least, least_outcome.clone());
    loop {
        let costs = numerator.iter().zip(denominator).map(|(numerator, denominator)| numerator - &ratio * denominator).collect();
        let proof = canonical(with_costs(&frame, costs)?, Some(positive.clone()));
        let better = proof.outcome().optimum().filter(|optimum| optimum.objective.is_negative()).map(|optimum| optimum.values.clone());
        match better {
            // Every step takes a corner with a lesser ratio; there are finitely many.
            Some(point) => ratio = dot(&numerator, &point) / dot(denominator, &point),
            None => return Ok(proof),
        }
    }
}

/// Without objective: the least greatest departure from the middle, in half-widths, over the ranges the user wrote.
fn centre(brief: &Brief, mut frame: Frame) -> Result<Proof, Error> {
    let ranges = written_ranges(brief)?;
    let lines = frame.columns.len();
    if ranges.is_empty() {
        let costs = vec![Exact::ZERO; lines];
        return plain(frame, costs);
    }
    let departure = lines;
    frame.columns.push(Column { low: Some(Exact::ZERO), high: None, cost: Exact::ONE });
    widen(&mut frame, 1);
    for WrittenRange { name, form, middle, width } in ranges {
        for upper in [true, false] {
            let mut coefficients = form.clone();
            coefficients.resize(lines + 1, Exact::ZERO);
            coefficients[departure] = if upper { -&width } else { width.clone() };
            let (low, high) = if upper { (None, Some(middle.clone())) } else { (Some(middle.clone()), None) };
            let name = RowName::Objective(format!("distance of {name} from the middle of its range"));
            frame.rows.push(NamedRow { name, unit: RowUnit { divisor: vec![Exact::ONE; lines], unit: String::new() }, row: Row { coefficients, low, high } });
        }
    }
    Ok(canonical(BriefProgram::new(frame.columns, frame.rows, lines)?, None))
}

fn least_change(brief: &Brief, mut frame: Frame, base: &[(String, crate::number::Ppm)]) -> Result<Proof, Error> {
    let lines = frame.columns.len();
    for _ in 0..lines {
        frame.columns.push(Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: Exact::ONE });
    }
    widen(&mut frame, lines);
    for (index, line) in brief.lines().iter().enumerate() {
        let before = base.iter().find(|(name, _)| name == line.name()).map_or(Exact::ZERO, |(_, percent)| percent.percent());
        for upper in [true, false] {
            let mut coefficients = vec![Exact::ZERO; 2 * lines];
            coefficients[index] = Exact::ONE;
            coefficients[lines + index] = if upper { Exact::from(-1) } else { Exact::ONE };
            let (low, high) = if upper { (None, Some(before.clone())) } else { (Some(before.clone()), None) };
            let name = RowName::Objective(format!("change of line {}", line.name()));
            frame.rows.push(NamedRow { name, unit: RowUnit { divisor: vec![Exact::ONE; lines], unit: String::new() }, row: Row { coefficients, low, high } });
        }
    }
    Ok(canonical(BriefProgram::new(frame.columns, frame.rows, lines)?, None))
}

fn widen(frame: &mut Frame, more: usize) {
    for named in &mut frame.rows {
        let width = named.row.coefficients.len() + more;
        named.row.coefficients.resize(width, Exact::ZERO);
    }
}

impl Proof {
    /// The value of the objective in the user's unit, if the brief has one.
    pub(super) fn objective_value(&self, brief: &Brief) -> Result<Option<Exact>, Error> {
        let Outcome::Optimal(optimum) = self.outcome() else { return Ok(None) };
        match brief.objective() {
            None => Ok(None),
            Some(Objective::LeastChange(base)) => {
                // Lines that the brief no longer has change by all they had.
                let gone = base.iter().filter(|(name, _)| !brief.lines().iter().any(|line| line.name() == name)).map(|(_, percent)| percent.percent());
                Ok(Some(&optimum.objective + gone.sum::<Exact>()))
            }
            Some(Objective::LeastSquares(base)) => Ok(Some(squares::sum_of_squares(brief, base, &optimum.values))),
            Some(Objective::Measure { measure, basis, .. }) => {
                let (numerator, denominator) = sides(brief, measure, basis)?;
                let dot = |side: &[Exact]| side.iter().zip(&optimum.values).map(|(coefficient, value)| coefficient * value).sum::<Exact>();
                Ok(dot(&numerator).checked_div(&dot(&denominator)))
            }
        }
    }
}

/// That the costs and added rows of a proof are those of the brief's objective. A conflict does not depend on them.
pub(super) fn same_objective(brief: &Brief, proof: &Proof) -> Result<(), Error> {
    let Outcome::Optimal(optimum) = proof.outcome() else { return Ok(()) };
    let differs = || -> Error { Fault::new(FaultKind::Contradiction, "the proof is about another objective").into() };
    let lines = brief.lines().len();
    let costs: Vec<Exact> = proof.program().program().columns().iter().map(|column| column.cost.clone()).collect();
    match brief.objective() {
        Some(Objective::Measure { direction, measure, basis }) => {
            let (numerator, denominator) = sides(brief, measure, basis)?;
            let sign = if *direction == Direction::Minimise { Exact::ONE } else { Exact::from(-1) };
            let expected: Vec<Exact> = match proof.denominator() {
                None => numerator.iter().map(|value| value * &sign / (&denominator[0] * Exact::hundred())).collect(),
                Some(_) => {
                    let dot = |side: &[Exact]| side.iter().zip(&optimum.values).map(|(coefficient, value)| coefficient * value).sum::<Exact>();
                    let ratio = &sign * dot(&numerator) / dot(&denominator);
                    numerator.iter().zip(&denominator).map(|(numerator, denominator)| numerator * &sign - &ratio * denominator).collect()
                }
            };
            if expected == costs { Ok(()) } else { Err(differs()) }
        }
        // The rows that these add are named, and their count and costs follow from the lines and ranges.
        Some(Objective::LeastChange(base)) => {
            let rebuilt = least_change(brief, super::program::frame(brief)?, base)?;
            if rebuilt.program() == proof.program() { Ok(()) } else { Err(differs()) }
        }
        Some(Objective::LeastSquares(base)) => {
            if squares::gradient(brief, base, &optimum.values) == costs {
                Ok(())
            } else {
                Err(differs())
            }
        }
        None => {
            let expected = usize::from(!written_ranges(brief)?.is_empty());
            let added = costs.len() - lines;
            let plain = costs[..lines].iter().all(Exact::is_zero) && costs[lines..].iter().all(|cost| *cost == Exact::ONE);
            if added == expected && plain { Ok(()) } else { Err(differs()) }
        }
    }
}
