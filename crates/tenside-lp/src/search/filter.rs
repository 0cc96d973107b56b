#![doc = include_str!("filter.md")]

use super::dual::Ended;
use super::tableau::{Spot, Tableau};

/// `2 u`, twice the unit roundoff of `f64`: at least what converting a number to `f64` changes, relative to the result.
const TWICE_ROUNDOFF: f64 = f64::EPSILON;
/// Covers the rounding of the bounds themselves: they are sums and products of fewer than 1000 numbers that are 0 or
/// above.
const ROUNDED_UP: f64 = 1.001;
/// Covers underflow in a sum of fewer than 200 products, each off by half the least subnormal number at most.
const UNDERFLOW: f64 = 1e-300;
/// The most that the norm of `I - C M` may be.
const MOST_DEFECT: f64 = 0.125;
const LANES: usize = 8;

/// The multipliers of the rows by which the basis of `at` says that a range cannot be reached, what they make of the
/// columns, and the sums of the magnitudes there.
pub(super) fn combination<const WIDTH: usize>(
    start: &Tableau<WIDTH>,
    at: &Tableau<WIDTH>,
    ended: Ended,
) -> ([f64; WIDTH], [f64; WIDTH], [f64; WIDTH]) {
    let (mut multipliers, mut sums, mut sizes) = ([0.0; WIDTH], [0.0; WIDTH], [0.0; WIDTH]);
    let Ended::Infeasible { row, side } = ended else { return (multipliers, sums, sizes) };
    let columns = start.columns();
    let inwards = side.inwards();
    for (spot, entry) in
        at.nonbasic[..columns].iter().zip(&at.entries[row]).filter(|(spot, _)| spot.variable >= columns)
    {
        multipliers[spot.variable - columns] = -inwards * entry;
    }
    if let Some(itself) = at.basic[row].variable.checked_sub(columns) {
        multipliers[itself] = inwards;
    }
    for (index, multiplier) in
        multipliers[..start.rows()].iter_mut().enumerate().filter(|(_, multiplier)| **multiplier != 0.0)
    {
        // A rounding in the place of 0, where there is no end to use: any multipliers do.
        if used_end(&start.basic[index], *multiplier).is_infinite() {
            *multiplier = 0.0;
            continue;
        }
        accumulate(&mut sums, &mut sizes, *multiplier, &start.entries[index]);
    }
    (multipliers, sums, sizes)
}

/// The end by which a row with this multiplier asks for something.
fn used_end(spot: &Spot, multiplier: f64) -> f64 {
    if multiplier < 0.0 { spot.high } else { spot.low }
}

/// Whether the rows, with the multipliers by which the basis of `at` says so, ask for more than the columns reach. The
/// multipliers are taken as they are, so nothing rests on how they came about.
pub(super) fn is_out_of_reach<const WIDTH: usize>(start: &Tableau<WIDTH>, at: &Tableau<WIDTH>, ended: Ended) -> bool {
    let (multipliers, sums, sizes) = combination(start, at, ended);
    let (mut asked, mut size) = (0.0, 0.0);
    for (spot, multiplier) in
        start.basic[..start.rows()].iter().zip(&multipliers).filter(|(_, multiplier)| **multiplier != 0.0)
    {
        let end = multiplier * used_end(spot, *multiplier);
        asked += end;
        size += end.abs();
    }
    for (spot, (sum, magnitude)) in start.nonbasic[..start.columns()].iter().zip(sums.iter().zip(&sizes)) {
        if *magnitude == 0.0 {
            continue;
        }
        let reach = spot.low.abs().max(spot.high.abs());
        asked -= if *sum < 0.0 { sum * spot.low } else { sum * spot.high };
        asked -= error::<WIDTH>(*magnitude) * reach;
        size += sum.abs() * reach;
    }
    greater(asked, error::<WIDTH>(2.0 * size) * ROUNDED_UP).is_some()
}

/// Whether the point of the basis is inside every range, none of them touched but by what stands at its end.
pub(super) fn is_feasible<const WIDTH: usize>(
    start: &Tableau<WIDTH>,
    at: &Tableau<WIDTH>,
    room: &mut Room<WIDTH>,
) -> bool {
    let filter = Filter::new(start, at, room);
    filter.defect().is_some_and(|defect| filter.feasible(defect).is_some())
}

/// Room for the matrices of a filter, kept from one to the next: only as much of it is written and read as a basis
/// needs.
#[derive(Clone)]
pub(crate) struct Room<const WIDTH: usize> {
    /// `C`, rows `B`, columns `R`.
    inverse: [[f64; WIDTH]; WIDTH],
    /// `M` with its columns in the order of `B`, so that a row of `C M` is a sum of rows of `M`.
    matrix: [[f64; WIDTH]; WIDTH],
}

impl<const WIDTH: usize> Room<WIDTH> {
    pub(super) fn new() -> Self {
        Room { inverse: [[0.0; WIDTH]; WIDTH], matrix: [[0.0; WIDTH]; WIDTH] }
    }
}

struct Filter<'a, const WIDTH: usize> {
    start: &'a Tableau<WIDTH>,
    at: &'a Tableau<WIDTH>,
    /// `|B|`.
    size: usize,
    /// `B`: column and the row of `at` where it is basic.
    basic: [(usize, usize); WIDTH],
    /// `R`: row and the position in `at` where its activity stands.
    standing: [(usize, usize); WIDTH],
    inverse: &'a [[f64; WIDTH]],
    matrix: &'a [[f64; WIDTH]],
}

/// What a sum of `WIDTH` products can be off by, from the sum of their magnitudes: `(WIDTH + 8) 2 u` of it.
fn error<const WIDTH: usize>(size: f64) -> f64 {
    (WIDTH as f64 + 8.0) * TWICE_ROUNDOFF * size + UNDERFLOW
}

/// `Some` where the first number is greater, which not-a-number never is.
fn greater(first: f64, second: f64) -> Option<()> {
    (first > second).then_some(())
}

impl<'a, const WIDTH: usize> Filter<'a, WIDTH> {
    fn new(start: &'a Tableau<WIDTH>, at: &'a Tableau<WIDTH>, room: &'a mut Room<WIDTH>) -> Self {
        let columns = start.columns();
        let (mut basic, mut standing, mut size, mut stood) = ([(0, 0); WIDTH], [(0, 0); WIDTH], 0, 0);
        for (row, spot) in at.basic[..at.rows()].iter().enumerate().filter(|(_, spot)| spot.variable < columns) {
            basic[size] = (spot.variable, row);
            size += 1;
        }
        for (position, spot) in at.nonbasic[..columns].iter().enumerate().filter(|(_, spot)| spot.variable >= columns) {
            standing[stood] = (spot.variable - columns, position);
            stood += 1;
        }
        for (line, (_, row)) in room.inverse.iter_mut().zip(&basic[..size]) {
            line.fill(0.0);
            for (entry, (_, position)) in line.iter_mut().zip(&standing[..size]) {
                *entry = at.entries[*row][*position];
            }
        }
        for (line, (row, _)) in room.matrix.iter_mut().zip(&standing[..size]) {
            line.fill(0.0);
            for (entry, (column, _)) in line.iter_mut().zip(&basic[..size]) {
                *entry = start.entries[*row][*column];
            }
        }
        let (inverse, matrix) = (&room.inverse[..size], &room.matrix[..size]);
        Filter { start, at, size, basic, standing, inverse, matrix }
    }

    /// A bound of `|I - C M|`, the greatest sum of a row.
    fn defect(&self) -> Option<f64> {
        let mut by_rows = 0.0f64;
        for (index, inverse) in self.inverse.iter().enumerate() {
            let (mut sums, mut sizes) = ([0.0; WIDTH], [0.0; WIDTH]);
            sums[index] = -1.0;
            sizes[index] = 1.0;
            for (factor, line) in inverse.iter().zip(self.matrix).filter(|(factor, _)| **factor != 0.0) {
                accumulate(&mut sums, &mut sizes, *factor, line);
            }
            let mut row_sum = 0.0;
            for (sum, size) in sums.iter().zip(&sizes).take(self.size) {
                row_sum += sum.abs() + error::<WIDTH>(*size);
            }
            greater(MOST_DEFECT, row_sum)?;
            by_rows = by_rows.max(row_sum);
        }
        Some(by_rows)
    }

    /// That every basic variable is in its range.
    fn feasible(&self, defect: f64) -> Option<()> {
        let mut point = [0.0; WIDTH];
        for position in 0..self.start.columns() {
            let spot = &self.at.nonbasic[position];
            if spot.variable < self.start.columns() {
                point[spot.variable] = self.at.standing(position);
            }
        }
        for (column, row) in &self.basic[..self.size] {
            point[*column] = self.at.values[*row];
        }
        let (residual, _) = self.residual(&point);
        for ((column, _), inverse) in self.basic[..self.size].iter().zip(self.inverse) {
            point[*column] += dot(inverse, &residual).0;
        }
        let (residual, errors) = self.residual(&point);
        let mut sure = [0.0; WIDTH];
        for (sure, (residual, error)) in sure.iter_mut().zip(residual.iter().zip(&errors)).take(self.size) {
            *sure = residual.abs() + error;
        }
        let mut radius = [0.0; WIDTH];
        let mut most = 0.0f64;
        for (radius, inverse) in radius.iter_mut().zip(self.inverse) {
            *radius = dot(inverse, &sure).1;
            most = most.max(*radius);
        }
        let common = defect * most / (1.0 - defect);
        let mut by_column = [0.0; WIDTH];
        for (radius, (column, row)) in radius.iter().zip(&self.basic[..self.size]) {
            let radius = radius + common + UNDERFLOW;
            by_column[*column] = radius;
            inside(&self.at.basic[*row], point[*column], radius)?;
        }
        for spot in self.at.basic[..self.at.rows()].iter().filter(|spot| spot.variable >= self.start.columns()) {
            let entries = &self.start.entries[spot.variable - self.start.columns()];
            let (activity, size) = dot(entries, &point);
            inside(spot, activity, error::<WIDTH>(size) + dot(entries, &by_column).1)?;
        }
        Some(())
    }

    /// What the standing rows lack at a point, and what that can be off by.
    fn residual(&self, point: &[f64; WIDTH]) -> ([f64; WIDTH], [f64; WIDTH]) {
        let (mut residual, mut errors) = ([0.0; WIDTH], [0.0; WIDTH]);
        for (index, (row, position)) in self.standing[..self.size].iter().enumerate() {
            let end = self.at.standing(*position);
            let (activity, size) = dot(&self.start.entries[*row], point);
            residual[index] = end - activity;
            errors[index] = error::<WIDTH>(size + end.abs());
        }
        (residual, errors)
    }
}

/// That a number within `radius` of `value` is inside the exact ends, which are next to those of `spot`.
fn inside(spot: &Spot, value: f64, radius: f64) -> Option<()> {
    if spot.low.is_finite() {
        greater(value - spot.low, (radius + TWICE_ROUNDOFF * spot.low.abs()) * ROUNDED_UP)?;
    }
    if spot.high.is_finite() {
        greater(spot.high - value, (radius + TWICE_ROUNDOFF * spot.high.abs()) * ROUNDED_UP)?;
    }
    Some(())
}

fn accumulate<const WIDTH: usize>(sums: &mut [f64; WIDTH], sizes: &mut [f64; WIDTH], factor: f64, line: &[f64; WIDTH]) {
    for ((sum, size), entry) in sums.iter_mut().zip(sizes).zip(line) {
        let product = factor * entry;
        *sum += product;
        *size += product.abs();
    }
}

/// The sum of products and that of their magnitudes; eight sums side by side, for any order of adding has the same
/// bound.
fn dot<const WIDTH: usize>(left: &[f64; WIDTH], right: &[f64; WIDTH]) -> (f64, f64) {
    let (mut sums, mut sizes) = ([0.0; LANES], [0.0; LANES]);
    for (left, right) in left.chunks_exact(LANES).zip(right.chunks_exact(LANES)) {
        for lane in 0..LANES {
            let product = left[lane] * right[lane];
            sums[lane] += product;
            sizes[lane] += product.abs();
        }
    }
    (sums.iter().sum(), sizes.iter().sum())
}

#[cfg(test)]
mod tests;
