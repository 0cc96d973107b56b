//! The formulas that a brief allows, as a polytope of full dimension: `x = base + directions z`, `G z <= h`.
//!
//! Equations are eliminated exactly; a limit that no formula meets with room to spare is an equation too (found by making its room as large
//! as can be, one linear program each), so that what is left has an inside. The mean of the points found on the way is inside.

use tenside_lp::{Column, Program, solve_watched};

use crate::brief::Brief;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::solve::{Outcome, rows};
use crate::watch::{Halt, Watched};

/// `weights . z <= most`.
#[derive(Clone, Debug)]
pub(super) struct HalfSpace {
    pub(super) weights: Vec<Exact>,
    pub(super) most: Exact,
}

/// The polytope.
#[derive(Clone, Debug)]
pub(super) struct Region {
    /// A formula for `z = 0`, which need not be allowed.
    base: Vec<Exact>,
    /// For each line, what one unit of each `z` adds.
    directions: Vec<Vec<Exact>>,
    pub(super) limits: Vec<HalfSpace>,
    /// A point inside.
    pub(super) inside: Vec<Exact>,
    /// How far the points found reach along each direction.
    pub(super) widths: Vec<Exact>,
    /// A corner.
    pub(super) corner: Vec<Exact>,
}

/// A linear form of the lines and the value it has or must not pass.
type Form = (Vec<Exact>, Exact);

impl Region {
    pub(super) fn new(brief: &Brief) -> Result<Self, Error> {
        let program = rows(brief)?;
        let count = program.lines();
        let (mut equations, mut limits): (Vec<Form>, Vec<Form>) = (Vec::new(), Vec::new());
        let mut add = |form: Vec<Exact>, low: Option<&Exact>, high: Option<&Exact>| {
            if low.is_some() && low == high {
                equations.extend(low.map(|value| (form, value.clone())));
                return;
            }
            limits.extend(high.map(|high| (form.clone(), high.clone())));
            limits.extend(low.map(|low| (form.iter().map(|weight| -weight).collect(), -low)));
        };
        for (line, column) in program.program().columns().iter().enumerate() {
            let form = (0..count).map(|other| if other == line { Exact::ONE } else { Exact::ZERO }).collect();
            add(form, column.low.as_ref(), column.high.as_ref());
        }
        for row in program.program().rows() {
            add(row.coefficients.clone(), row.low.as_ref(), row.high.as_ref());
        }
        let columns = program.program().columns();
        let plain = program.program().rows();
        let mut points: Vec<Vec<Exact>> = Vec::new();
        let mut with_room = Vec::new();
        for limit in limits {
            let cost = |line: usize| limit.0[line].clone();
            let columns: Vec<Column> = columns.iter().enumerate().map(|(line, column)| Column { cost: cost(line), ..column.clone() }).collect();
            let outcome = solve_watched(&Program::new(columns, plain.to_vec())?, &[], brief.watched())?;
            let Some(optimum) = outcome.optimum() else { return Err(unanswerable(brief)?) };
            if optimum.objective == limit.1 {
                equations.push(limit);
            } else {
                with_room.push(limit);
            }
            points.push(optimum.values.clone());
        }
        if points.is_empty() {
            let outcome = solve_watched(&Program::new(columns.to_vec(), plain.to_vec())?, &[], brief.watched())?;
            points.extend(outcome.optimum().map(|optimum| optimum.values.clone()));
        }
        let Some(corner) = points.first().cloned() else { return Err(unanswerable(brief)?) };
        let (base, directions, free) = eliminate(count, &equations, brief.watched())?;
        let in_z = |(weights, most): Form| {
            let along = |direction: usize| weights.iter().zip(&directions).map(|(weight, line)| weight * &line[direction]).sum();
            let at_base: Exact = weights.iter().zip(&base).map(|(weight, value)| weight * value).sum();
            HalfSpace { weights: (0..free.len()).map(along).collect(), most: most - at_base }
        };
        // What no longer depends on z holds everywhere, since there is a formula.
        let mut limits: Vec<HalfSpace> = Vec::with_capacity(with_room.len());
        for form in with_room {
            brief.watched().check()?;
            limits.push(in_z(form));
        }
        limits.retain(|limit| limit.weights.iter().any(|weight| !weight.is_zero()));
        drop_repeated(&mut limits, brief.watched())?;
        let number = Exact::from(i64::try_from(points.len()).unwrap_or(1));
        let of = |point: &[Exact]| -> Vec<Exact> { free.iter().map(|line| point[*line].clone()).collect() };
        let mut inside = Vec::with_capacity(free.len());
        for line in &free {
            // Sums of many long fractions: of hundreds of lines they take as long as the linear programs.
            brief.watched().check()?;
            inside.push(points.iter().map(|point| point[*line].clone()).sum::<Exact>() / &number);
        }
        let reach = |line: &usize| {
            let values = || points.iter().map(|point| &point[*line]);
            values().max().cloned().unwrap_or_default() - values().min().cloned().unwrap_or_default()
        };
        Ok(Region { widths: free.iter().map(reach).collect(), corner: of(&corner), base, directions, limits, inside })
    }

    /// How many directions are free.
    pub(super) fn dimension(&self) -> usize {
        self.inside.len()
    }

    /// The percentages at a point.
    pub(super) fn percents(&self, point: &[Exact]) -> Vec<Exact> {
        let added = |line: &[Exact]| -> Exact { line.iter().zip(point).map(|(direction, value)| direction * value).sum() };
        self.base.iter().zip(&self.directions).map(|(base, line)| base + added(line)).collect()
    }

    /// The same in floats: base and directions.
    pub(super) fn floats(&self) -> (Vec<f64>, Vec<Vec<f64>>) {
        let directions = self.directions.iter().map(|line| line.iter().map(Exact::to_f64).collect());
        (self.base.iter().map(Exact::to_f64).collect(), directions.collect())
    }
}

/// Of limits in the same direction the tightest, so that a corner has no more limits than it needs.
fn drop_repeated(limits: &mut Vec<HalfSpace>, watched: &Watched) -> Result<(), Error> {
    let mut kept: Vec<HalfSpace> = Vec::new();
    for limit in std::mem::take(limits) {
        watched.check()?;
        let size: Exact = limit.weights.iter().map(Exact::abs).sum();
        let weights: Vec<Exact> = limit.weights.iter().map(|weight| weight / &size).collect();
        let most = limit.most / &size;
        match kept.iter_mut().find(|known| known.weights == weights) {
            Some(known) if most < known.most => known.most = most,
            Some(_) => {}
            None => kept.push(HalfSpace { weights, most }),
        }
    }
    *limits = kept;
    Ok(())
}

fn unanswerable(brief: &Brief) -> Result<Error, Error> {
    Ok(match brief.try_solve()? {
        Outcome::Conflict(conflict) => conflict.into_error(),
        Outcome::Answered(_) => Fault::new(FaultKind::Contradiction, "the brief allows no formula").into(),
    })
}

/// A base, the directions that the equations leave, and the lines that are the directions' own.
type Eliminated = (Vec<Exact>, Vec<Vec<Exact>>, Vec<usize>);

fn eliminate(count: usize, equations: &[Form], watched: &Watched) -> Result<Eliminated, Error> {
    let mut reduced: Vec<(usize, Form)> = Vec::new();
    for (weights, value) in equations {
        let (mut weights, mut value) = (weights.clone(), value.clone());
        for (pivot, (known, known_value)) in &reduced {
            watched.check()?;
            let factor = weights[*pivot].clone();
            if !factor.is_zero() {
                weights.iter_mut().zip(known).for_each(|(weight, known)| *weight -= &(&factor * known));
                value -= &(&factor * known_value);
            }
        }
        // The last line that is left, so that the lines written first stay free.
        let Some(pivot) = weights.iter().rposition(|weight| !weight.is_zero()) else { continue };
        let scale = weights[pivot].clone();
        weights.iter_mut().for_each(|weight| *weight = &*weight / &scale);
        value = value / &scale;
        for (_, (known, known_value)) in &mut reduced {
            let factor = known[pivot].clone();
            if !factor.is_zero() {
                known.iter_mut().zip(&weights).for_each(|(known, weight)| *known -= &(&factor * weight));
                *known_value -= &(&factor * &value);
            }
        }
        reduced.push((pivot, (weights, value)));
    }
    let free: Vec<usize> = (0..count).filter(|line| !reduced.iter().any(|(pivot, _)| pivot == line)).collect();
    let mut base = vec![Exact::ZERO; count];
    let mut directions = vec![vec![Exact::ZERO; free.len()]; count];
    for (direction, line) in free.iter().enumerate() {
        directions[*line][direction] = Exact::ONE;
    }
    for (pivot, (weights, value)) in reduced {
        base[pivot] = value;
        for (direction, line) in free.iter().enumerate() {
            directions[pivot][direction] = -&weights[*line];
        }
    }
    Ok((base, directions, free))
}
