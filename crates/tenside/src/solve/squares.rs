//! The formula nearest to a given one by least squares, in exact arithmetic.
//!
//! ```text
//! least sum (x_j - b_j)^2   with every line and every row in its range
//! ```
//!
//! A dual active-set method: start at `b`, where nothing is asked for yet; take up one broken constraint after
//! the other, walking along the projection of its normal onto those that hold, and let go of those whose
//! multiplier reaches 0. Every constraint taken up makes the sum greater, so no set of held constraints comes
//! twice and the method ends; in exact arithmetic it needs no tolerance. (D. Goldfarb and A. Idnani,
//! Mathematical Programming 27, 1983; from memory.)
//!
//! The proof is the condition of Karush, Kuhn and Tucker: with the costs `2 (x_j - b_j)`, the gradient at the point,
//! the point is least in a *linear* program with the same ranges and rows, and for a convex sum that is enough. So the
//! certificate is that of a linear program, and `verify` also checks that its costs are that gradient. The sum is
//! strictly convex: there is one nearest point, which is therefore the canonical answer.

use std::collections::BTreeMap;

use tenside_lp::{Optimum, Outcome, Program, dot, solve_watched};

use super::echelon::{Echelon, add_row};
use super::program::{Frame, one_line, with_costs};
use super::proof::{Proof, fails};
use crate::brief::Brief;
use crate::error::Error;
use crate::number::{Exact, Ppm};
use crate::watch::{Halt, Watched};

/// The percentages to be near to, in the order of the brief's lines; 0 for lines that the base does not have.
pub(super) fn base_percents<'a>(brief: &'a Brief, base: &'a BTreeMap<String, Ppm>) -> impl Iterator<Item = Exact> + 'a {
    brief.lines().iter().map(|line| base.get(line.name()).map_or(Exact::ZERO, |percent| percent.percent()))
}

/// `2 (x - b)`.
pub(super) fn gradient(brief: &Brief, base: &BTreeMap<String, Ppm>, values: &[Exact]) -> Vec<Exact> {
    base_percents(brief, base).zip(values).map(|(before, value)| (value - before) * Exact::from(2)).collect()
}

/// The nearest point with its proof, or the proof that there is no point.
pub(super) fn nearest(brief: &Brief, frame: Frame, base: &BTreeMap<String, Ppm>) -> Result<Proof, Error> {
    let plain = frame.clone().program()?;
    let feasible = solve_watched(plain.program(), &[], brief.watched())?;
    if feasible.optimum().is_none() {
        return Ok(Proof::new(plain, feasible, None));
    }
    let nearest = project(plain.program(), base_percents(brief, base).collect(), brief.watched())?;
    let costs = gradient(brief, base, &nearest.point);
    let program = with_costs(frame, costs.clone())?;
    let objective = dot(&costs, &nearest.point);
    let (row_multipliers, reduced_costs) = nearest.multipliers(program.program());
    // A linear program with the gradient as costs can have other least points; the sum of squares has one.
    let optimum = Optimum {
        values: nearest.point,
        row_multipliers,
        reduced_costs,
        objective,
        unique: false,
        pivots: nearest.steps,
    };
    Ok(Proof::new(program, Outcome::Optimal(optimum), None))
}

/// `normal . x >= end`, or `=`; `sign` is -1 where a high end was turned round.
#[derive(Clone, Debug)]
struct Constraint {
    /// Whose end it is: a column, after them a row.
    variable: usize,
    sign: Exact,
    normal: Vec<Exact>,
    end: Exact,
    equation: bool,
}

impl Constraint {
    fn turned(self) -> Self {
        let normal = self.normal.iter().map(|value| -value).collect();
        Constraint { sign: -self.sign, normal, end: -self.end, ..self }
    }
}

/// A point, the constraints held there and half their multipliers.
struct Nearest {
    point: Vec<Exact>,
    held: Vec<(Constraint, Exact)>,
    steps: usize,
}

impl Nearest {
    /// The multipliers of the linear program whose costs are the gradient.
    fn multipliers(&self, program: &Program) -> (Vec<Exact>, Vec<Exact>) {
        let mut columns = vec![Exact::ZERO; program.columns().len() + program.rows().len()];
        for (constraint, half) in &self.held {
            columns[constraint.variable] += half * &constraint.sign * Exact::from(2);
        }
        let rows = columns.split_off(program.columns().len());
        (rows, columns)
    }
}

/// Equations first, so that they are never let go of.
fn constraints(program: &Program) -> Vec<Constraint> {
    let count = program.columns().len();
    let mut all = Vec::new();
    let mut add = |variable: usize, normal: Vec<Exact>, low: Option<&Exact>, high: Option<&Exact>| {
        let equation = low.is_some() && low == high;
        let at =
            |end: &Exact| Constraint { variable, sign: Exact::ONE, normal: normal.clone(), end: end.clone(), equation };
        all.extend(low.map(at));
        all.extend(high.filter(|_| !equation).map(|high| at(high).turned()));
    };
    for (index, row) in program.rows().iter().enumerate() {
        add(count + index, row.coefficients.clone(), row.low.as_ref(), row.high.as_ref());
    }
    for (index, column) in program.columns().iter().enumerate() {
        add(index, one_line(count, index), column.low.as_ref(), column.high.as_ref());
    }
    all.sort_by_key(|constraint| !constraint.equation);
    all
}

fn project(program: &Program, base: Vec<Exact>, watched: &Watched) -> Result<Nearest, Error> {
    let constraints = constraints(program);
    let mut nearest = Nearest { point: base, held: Vec::new(), steps: 0 };
    loop {
        let broken = constraints.iter().find_map(|constraint| {
            let gap = dot(&constraint.normal, &nearest.point) - &constraint.end;
            (gap.is_negative() || (constraint.equation && !gap.is_zero())).then_some((constraint, gap))
        });
        let Some((constraint, gap)) = broken else { return Ok(nearest) };
        // An equation approached from above is taken up turned round.
        let taken = if gap.is_positive() { constraint.clone().turned() } else { constraint.clone() };
        take_up(&mut nearest, taken, watched)?;
    }
}

/// Walks until the constraint holds, letting go of others on the way.
fn take_up(nearest: &mut Nearest, constraint: Constraint, watched: &Watched) -> Result<(), Error> {
    let mut multiplier = Exact::ZERO;
    loop {
        nearest.steps += 1;
        let weights = shares(&nearest.held, &constraint.normal, watched)?;
        let mut direction = constraint.normal.clone();
        for ((held, _), weight) in nearest.held.iter().zip(&weights) {
            for (entry, normal) in direction.iter_mut().zip(&held.normal) {
                *entry -= &(normal * weight);
            }
        }
        let slope = dot(&direction, &constraint.normal);
        let missing = &constraint.end - dot(&constraint.normal, &nearest.point);
        let full = missing.checked_div(&slope);
        // The first held inequality whose multiplier would fall below 0.
        let falling = nearest.held.iter().zip(&weights).enumerate();
        let falling = falling.filter(|(_, ((held, _), weight))| !held.equation && weight.is_positive());
        let partial = falling.filter_map(|(index, ((_, half), weight))| Some((half.checked_div(weight)?, index))).min();
        let (step, let_go) = match (full, partial) {
            (Some(full), Some((partial, index))) if partial < full => (partial, Some(index)),
            (Some(full), _) => (full, None),
            (None, Some((partial, index))) => (partial, Some(index)),
            // The ranges were found to have a point, so this cannot be; said rather than assumed.
            (None, None) => {
                return Err(fails("the constraints of a nearest formula cannot hold together"));
            }
        };
        for (value, entry) in nearest.point.iter_mut().zip(&direction) {
            *value += &(entry * &step);
        }
        for ((_, half), weight) in nearest.held.iter_mut().zip(&weights) {
            *half -= &(weight * &step);
        }
        multiplier += step;
        match let_go {
            Some(index) => {
                nearest.held.remove(index);
            }
            None => {
                nearest.held.push((constraint, multiplier));
                return Ok(());
            }
        }
    }
}

/// The combination of the held normals that is nearest to `normal`: the solution of the normal equations. Held normals
/// are independent, since one is taken up only with a direction that leaves the others where they are.
fn shares(held: &[(Constraint, Exact)], normal: &[Exact], watched: &Watched) -> Result<Vec<Exact>, Error> {
    let count = held.len();
    let mut rows = Echelon::with_capacity(count);
    for (place, (left, _)) in held.iter().enumerate() {
        watched.check()?;
        let row =
            held.iter().map(|(right, _)| right.normal.as_slice()).chain([normal]).map(|right| dot(&left.normal, right));
        // A Gram matrix of independent normals is positive definite: its pivots are above 0 in any order.
        add_row(&mut rows, row.collect(), |row| (!row[place].is_zero()).then_some(place), watched)?;
    }
    Ok(rows.into_iter().map(|(_, mut row)| row.swap_remove(count)).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use tenside_lp::{Column, Row, verify};

    /// Random ranges and rows around a point, and a base far from them, so that many constraints are taken up and let
    /// go of again: what comes out is proved as the least point of the linear program whose costs are the gradient
    /// there.
    #[test]
    fn every_nearest_point_is_proved_by_its_multipliers() {
        let mut state = 0x9E37_79B9_7F4A_7C15u64;
        let mut below = |most: u64| {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            i64::try_from((state >> 11) % most).unwrap()
        };
        let (mut longest, mut most_held) = (0, 0);
        for case in 0..150 {
            let lines = 3 + case % 4;
            let inside: Vec<i64> = (0..lines).map(|_| below(9) - 4).collect();
            let base: Vec<Exact> = (0..lines).map(|_| Exact::from(below(61) - 30)).collect();
            let ranges: Vec<(i64, i64)> = inside.iter().map(|value| (value - below(4), value + below(4))).collect();
            let rows: Vec<Row> = (0..lines + 2)
                .map(|_| {
                    let coefficients: Vec<i64> = (0..lines).map(|_| below(7) - 3).collect();
                    let activity: i64 =
                        coefficients.iter().zip(&inside).map(|(coefficient, value)| coefficient * value).sum();
                    let (low, high) = match below(5) {
                        0 => (Some(activity), Some(activity)),
                        1 => (Some(activity - below(3)), Some(activity + below(3))),
                        2 | 3 => (Some(activity - below(3)), None),
                        _ => (None, Some(activity + below(3))),
                    };
                    Row {
                        coefficients: coefficients.into_iter().map(Exact::from).collect(),
                        low: low.map(Exact::from),
                        high: high.map(Exact::from),
                    }
                })
                .collect();
            let with_costs = |costs: &[Exact]| {
                let column = |((low, high), cost): (&(i64, i64), &Exact)| Column {
                    low: Some((*low).into()),
                    high: Some((*high).into()),
                    cost: cost.clone(),
                };
                Program::new(ranges.iter().zip(costs).map(column).collect(), rows.clone()).unwrap()
            };
            let nearest = project(&with_costs(&vec![Exact::ZERO; lines]), base.clone(), &Watched::default()).unwrap();
            let costs: Vec<Exact> =
                nearest.point.iter().zip(&base).map(|(value, before)| (value - before) * Exact::from(2)).collect();
            let program = with_costs(&costs);
            let (row_multipliers, reduced_costs) = nearest.multipliers(&program);
            (longest, most_held) = (longest.max(nearest.steps), most_held.max(nearest.held.len()));
            let objective = dot(&costs, &nearest.point);
            let optimum = Optimum {
                values: nearest.point,
                row_multipliers,
                reduced_costs,
                objective,
                unique: false,
                pivots: nearest.steps,
            };
            verify(&program, &Outcome::Optimal(optimum)).unwrap_or_else(|error| panic!("case {case}: {error}"));
        }
        assert!(longest > 8 && most_held > 3, "{longest} {most_held}");
    }
}
