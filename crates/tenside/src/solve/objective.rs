//! The objective: added to the frame as costs, columns and rows, and solved to one canonical answer.

use std::collections::BTreeMap;

use tenside_lp::{Column, Outcome, Row, dot, solve_watched};

use super::program::{
    BriefProgram, Frame, NamedRow, RowName, RowUnit, WrittenRange, frame, with_costs, written_ranges,
};
use super::proof::{DenominatorProof, Proof, fails};
use super::sides::sides;
use super::squares;
use crate::brief::{Brief, Direction, Objective};
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Measure};
use crate::number::{Exact, Ppm};
use crate::watch::Watched;

/// Solves the frame for the brief's objective; the proof is about the program returned with it.
pub(super) fn optimise(brief: &Brief, frame: Frame) -> Result<Proof, Error> {
    match brief.objective() {
        None => canonical(centred(brief, frame)?, None, brief.watched()),
        Some(Objective::LeastChange(base)) => canonical(changed(brief, frame, base)?, None, brief.watched()),
        Some(Objective::LeastSquares(base)) => squares::nearest(brief, frame, base),
        Some(Objective::Measure { direction, measure, basis }) => {
            let (numerator, denominator) = sides(brief, measure, basis)?;
            match plain_costs(*direction, &numerator, &denominator) {
                Some(costs) => canonical(with_costs(frame, costs)?, None, brief.watched()),
                None => ratio(brief, frame, measure, basis, &sign(*direction), [&numerator, &denominator]),
            }
        }
    }
}

/// The program of a brief whose objective is one: nothing where it is a ratio or a sum of squares, which take several.
pub(super) fn one_program(brief: &Brief) -> Result<Option<BriefProgram>, Error> {
    let frame = frame(brief)?;
    Ok(match brief.objective() {
        None => Some(centred(brief, frame)?),
        Some(Objective::LeastChange(base)) => Some(changed(brief, frame, base)?),
        Some(Objective::LeastSquares(_)) => None,
        Some(Objective::Measure { direction, measure, basis }) => {
            let (numerator, denominator) = sides(brief, measure, basis)?;
            plain_costs(*direction, &numerator, &denominator).map(|costs| with_costs(frame, costs)).transpose()?
        }
    })
}

/// What the value of the objective has more than the cost of the program: for a least change, all that lines had which
/// are gone.
pub(crate) fn beyond_cost(brief: &Brief) -> Exact {
    let Some(Objective::LeastChange(base)) = brief.objective() else { return Exact::ZERO };
    base.iter()
        .filter(|(name, _)| !brief.lines().iter().any(|line| line.name() == name.as_str()))
        .map(|(_, percent)| percent.percent())
        .sum()
}

fn sign(direction: Direction) -> Exact {
    if direction == Direction::Minimise { Exact::ONE } else { Exact::from(-1) }
}

/// By how much one value of the objective is worse than another.
pub(super) fn worse_by(brief: &Brief, value: &Exact, than: &Exact) -> Exact {
    match brief.objective() {
        Some(Objective::Measure { direction, .. }) => sign(*direction) * (value - than),
        Some(Objective::LeastChange(_) | Objective::LeastSquares(_)) | None => value - than,
    }
}

/// The costs where the denominator is the same for every formula; over lines that sum to 100 that is where its entries
/// are equal.
fn plain_costs(direction: Direction, numerator: &[Exact], denominator: &[Exact]) -> Option<Vec<Exact>> {
    let constant = denominator.windows(2).all(|pair| pair[0] == pair[1]) && denominator.iter().all(Exact::is_positive);
    let scale = sign(direction) / (denominator.first().filter(|_| constant)? * Exact::hundred());
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
fn ratio(
    brief: &Brief,
    frame: Frame,
    measure: &Measure,
    basis: &Basis,
    sign: &Exact,
    [numerator, denominator]: [&[Exact]; 2],
) -> Result<Proof, Error> {
    let least = with_costs(frame.clone(), denominator.to_vec())?;
    let least_outcome = solve_watched(least.program(), &[], brief.watched())?;
    let Some(optimum) = least_outcome.optimum() else {
        // No formula at all: the conflict is proved by this program.
        return Ok(Proof::new(least, least_outcome, None));
    };
    if !optimum.objective.is_positive() {
        return Err(Fault::new(
            FaultKind::Unsupported,
            "the objective's denominator can be 0, so the ratio need not have a best value",
        )
        .value(format!("{}, {basis}", measure.name()))
        .remedy("require at least a little of what the ratio divides by")
        .into());
    }
    let numerator: Vec<Exact> = numerator.iter().map(|value| value * sign).collect();
    let mut ratio = dot(&numerator, &optimum.values) / dot(denominator, &optimum.values);
    let positive = DenominatorProof::new(least, least_outcome.clone());
    loop {
        let proof = canonical(
            with_costs(frame.clone(), ratio_costs(&numerator, denominator, &ratio))?,
            Some(positive.clone()),
            brief.watched(),
        )?;
        let better = proof
            .outcome()
            .optimum()
            .filter(|optimum| optimum.objective.is_negative())
            .map(|optimum| optimum.values.clone());
        match better {
            // Every step takes a corner with a lesser ratio; there are finitely many.
            Some(point) => ratio = dot(&numerator, &point) / dot(denominator, &point),
            None => return Ok(proof),
        }
    }
}

/// What the least value of `N - r D` is asked for with.
pub(super) fn ratio_costs(numerator: &[Exact], denominator: &[Exact], ratio: &Exact) -> Vec<Exact> {
    numerator.iter().zip(denominator).map(|(numerator, denominator)| numerator - ratio * denominator).collect()
}

/// Without objective: the least greatest departure from the middle, in half-widths, over the ranges the user wrote.
fn centred(brief: &Brief, mut frame: Frame) -> Result<BriefProgram, Error> {
    let ranges = written_ranges(brief)?;
    let lines = frame.columns.len();
    if ranges.is_empty() {
        return with_costs(frame, vec![Exact::ZERO; lines]);
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
            frame.rows.push(NamedRow {
                name,
                unit: RowUnit { divisor: vec![Exact::ONE; lines].into(), unit: String::new() },
                row: Row { coefficients, low, high },
            });
        }
    }
    BriefProgram::new(frame.columns, frame.rows, lines)
}

/// Each line's change from the base as a column of its own.
fn changed(brief: &Brief, mut frame: Frame, base: &BTreeMap<String, Ppm>) -> Result<BriefProgram, Error> {
    let lines = frame.columns.len();
    for _ in 0..lines {
        frame.columns.push(Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: Exact::ONE });
    }
    widen(&mut frame, lines);
    for (index, line) in brief.lines().iter().enumerate() {
        let before = base.get(line.name()).map_or(Exact::ZERO, |percent| percent.percent());
        for upper in [true, false] {
            let mut coefficients = vec![Exact::ZERO; 2 * lines];
            coefficients[index] = Exact::ONE;
            coefficients[lines + index] = if upper { Exact::from(-1) } else { Exact::ONE };
            let (low, high) = if upper { (None, Some(before.clone())) } else { (Some(before.clone()), None) };
            let name = RowName::Objective(format!("change of line {}", line.name()));
            frame.rows.push(NamedRow {
                name,
                unit: RowUnit { divisor: vec![Exact::ONE; lines].into(), unit: String::new() },
                row: Row { coefficients, low, high },
            });
        }
    }
    BriefProgram::new(frame.columns, frame.rows, lines)
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
            Some(Objective::LeastChange(_)) => Ok(Some(&optimum.objective + beyond_cost(brief))),
            Some(Objective::LeastSquares(base)) => Ok(Some(squares::sum_of_squares(brief, base, &optimum.values))),
            // The denominator is the same for every formula, and the costs are over it.
            Some(Objective::Measure { direction, .. }) if self.denominator().is_none() => {
                Ok(Some(&optimum.objective * sign(*direction)))
            }
            Some(Objective::Measure { measure, basis, .. }) => {
                let (numerator, denominator) = sides(brief, measure, basis)?;
                Ok(dot(&*numerator, &optimum.values).checked_div(&dot(&*denominator, &optimum.values)))
            }
        }
    }
}

/// That the program of a proof is what the brief compiles to, so that the proof is about the brief and not about
/// another question. A conflict does not depend on the costs.
pub(super) fn same_question(brief: &Brief, proof: &Proof) -> Result<(), Error> {
    let program = one_program(brief)?;
    let Outcome::Optimal(optimum) = proof.outcome() else {
        let expected = match program {
            Some(program) => program,
            None => with_costs(frame(brief)?, vec![Exact::ZERO; brief.lines().len()])?,
        };
        return if expected.is_same_but_for_costs(proof.program()) && proof.denominator().is_none() {
            Ok(())
        } else {
            Err(differs())
        };
    };
    let (expected, denominator) = match (program, brief.objective()) {
        (Some(program), _) => (program, None),
        (None, Some(Objective::Measure { direction, measure, basis })) => {
            let (numerator, denominator) = sides(brief, measure, basis)?;
            let numerator: Vec<Exact> = numerator.iter().map(|value| value * sign(*direction)).collect();
            let ratio = dot(&numerator, &optimum.values)
                .checked_div(&dot(&*denominator, &optimum.values))
                .ok_or_else(differs)?;
            let frame = frame(brief)?;
            (
                with_costs(frame.clone(), ratio_costs(&numerator, &denominator, &ratio))?,
                Some(with_costs(frame, denominator.to_vec())?),
            )
        }
        // The costs of its proof are the gradient at the point proved.
        (None, Some(Objective::LeastSquares(base))) => {
            (with_costs(frame(brief)?, squares::gradient(brief, base, &optimum.values))?, None)
        }
        (None, _) => return Err(differs()),
    };
    let same =
        expected == *proof.program() && denominator.as_ref() == proof.denominator().map(DenominatorProof::program);
    if same { Ok(()) } else { Err(differs()) }
}

fn differs() -> Error {
    fails("the proof is about another brief")
}
