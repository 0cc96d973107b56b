//! The steps of the dual simplex method.

use std::cmp::Ordering;

use super::tableau::{NONE, Side, Tableau};
use crate::linear::{Basis, Candidate, Place};

/// How far outside its range a variable is let be, times 1 + the magnitude of the end.
const OUTSIDE: f64 = 1e-9;
/// Entries below this are not divided by.
const SMALLEST_PIVOT: f64 = 1e-9;
/// Ratios nearer than this, times 1 + their magnitude, are a tie.
const TIE: f64 = 1e-10;

/// How the search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Ended {
    /// Every variable is in its range.
    Optimal,
    /// The basic variable of this row cannot come to this end of its range.
    Infeasible { row: usize, side: Side },
}

impl<const WIDTH: usize> Tableau<WIDTH> {
    /// What the end of the search names.
    pub(super) fn candidate(&self, ended: Ended) -> Candidate {
        let mut places = vec![Place::Basic; self.columns() + self.rows()];
        for (spot, side) in self.nonbasic[..self.columns()].iter().zip(self.sides) {
            places[spot.variable] = match side {
                Side::Low => Place::Low,
                Side::High => Place::High,
            };
        }
        let basis = Basis::new(places, self.columns());
        match ended {
            Ended::Optimal => Candidate::Optimal(basis),
            Ended::Infeasible { row, side } => {
                Candidate::Infeasible { basis, variable: self.basic[row].variable, below: side == Side::Low }
            }
        }
    }
}

/// A basic variable outside its range, and by how much.
struct Leaving {
    row: usize,
    side: Side,
    distance: f64,
}

/// A nonbasic variable that can bring the leaving one to its end, how far one of its steps brings it, and what that
/// costs.
#[derive(Clone, Copy, Default)]
struct Entering {
    position: usize,
    step: f64,
    ratio: f64,
}

/// Takes steps until every variable is in its range or one cannot be; nothing where the limit of steps is met.
pub(super) fn pivot_to_end<const WIDTH: usize>(tableau: &mut Tableau<WIDTH>, order: &[u8; WIDTH]) -> Option<Ended> {
    let most = 40 + 4 * (tableau.rows() + tableau.columns());
    for _ in 0..most {
        let Some(leaving) = furthest_outside(tableau) else { return Some(Ended::Optimal) };
        match entering(tableau, &leaving, order) {
            Some(position) => tableau.exchange(leaving.row, position, leaving.side),
            None => return Some(Ended::Infeasible { row: leaving.row, side: leaving.side }),
        }
    }
    None
}

fn furthest_outside<const WIDTH: usize>(tableau: &Tableau<WIDTH>) -> Option<Leaving> {
    let mut furthest: Option<Leaving> = None;
    for (row, (spot, value)) in tableau.basic[..tableau.rows()].iter().zip(&tableau.values).enumerate() {
        let (side, distance) =
            if *value < spot.low { (Side::Low, spot.low - value) } else { (Side::High, value - spot.high) };
        if distance > OUTSIDE * (1.0 + spot.end(side).abs())
            && furthest.as_ref().is_none_or(|furthest| distance > furthest.distance)
        {
            furthest = Some(Leaving { row, side, distance });
        }
    }
    furthest
}

/// The variable that brings the leaving one to its end, after those that get to their own other end before were moved
/// there.
fn entering<const WIDTH: usize>(tableau: &mut Tableau<WIDTH>, leaving: &Leaving, order: &[u8; WIDTH]) -> Option<usize> {
    let inwards = leaving.side.inwards();
    let (mut candidates, mut count) = ([Entering::default(); WIDTH], 0);
    for position in 0..tableau.columns() {
        let step = tableau.entries[leaving.row][position] * inwards * tableau.inwards(position);
        if step > SMALLEST_PIVOT && !tableau.nonbasic[position].is_fixed() {
            let ratio = (tableau.slopes[position] * tableau.inwards(position)).max(0.0) / step;
            candidates[count] = Entering { position, step, ratio };
            count += 1;
        }
    }
    let small = OUTSIDE * (1.0 + tableau.basic[leaving.row].end(leaving.side).abs());
    let mut left = leaving.distance;
    while count > 0 {
        let mut best = 0;
        for other in 1..count {
            if earlier(tableau, &candidates[other], &candidates[best], order) {
                best = other;
            }
        }
        let Entering { position, step, .. } = candidates[best];
        let spot = tableau.nonbasic[position];
        left -= step * (spot.high - spot.low);
        // What is nearly there counts as there: the exact values tell.
        if left <= small {
            return Some(position);
        }
        tableau.flip(position);
        count -= 1;
        candidates[best] = candidates[count];
    }
    None
}

/// Whether the first of two candidates comes before the second: by its ratio, then by how the columns of the order
/// change.
fn earlier<const WIDTH: usize>(
    tableau: &Tableau<WIDTH>,
    first: &Entering,
    second: &Entering,
    order: &[u8; WIDTH],
) -> bool {
    if let Some(ordering) = apart(first.ratio, second.ratio) {
        return ordering == Ordering::Less;
    }
    for &column in &order[..tableau.columns()] {
        let row = tableau.row_of[usize::from(column)];
        let change = |&Entering { position, step, .. }: &Entering| {
            let rate = match row {
                NONE if tableau.nonbasic[position].variable == usize::from(column) => 1.0,
                NONE => return 0.0,
                row => tableau.entries[usize::from(row)][position],
            };
            rate * tableau.inwards(position) / step
        };
        if let Some(ordering) = apart(change(first), change(second)) {
            return ordering == Ordering::Less;
        }
    }
    false
}

/// How two numbers are ordered, unless they are a tie.
fn apart(first: f64, second: f64) -> Option<Ordering> {
    if (first - second).abs() <= TIE * (1.0 + first.abs().max(second.abs())) {
        None
    } else {
        first.partial_cmp(&second)
    }
}
