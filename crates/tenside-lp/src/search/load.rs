//! A program read into the dictionary that the search starts from.

use super::tableau::{NONE, Side, Spot, Tableau};
use crate::exact::Exact;
use crate::linear::Program;

/// Magnitudes that the search takes, 0 aside. Products and sums of a few of these neither overflow nor lose digits
/// below the least normal number.
const SMALLEST: f64 = 1e-60;
const GREATEST: f64 = 1e60;

/// The columns in the order in which they are to be least, then the others.
pub(super) fn order<const WIDTH: usize>(program: &Program, order: &[usize]) -> [u8; WIDTH] {
    let mut places = [NONE; WIDTH];
    let mut count = 0;
    let columns = program.columns().len();
    for column in order.iter().copied().filter(|&column| column < columns).chain(0..columns) {
        if !places[..count].contains(&(column as u8)) {
            places[count] = column as u8;
            count += 1;
        }
    }
    places
}

impl<const WIDTH: usize> Tableau<WIDTH> {
    /// All activities basic, each column at the end that its cost asks for; nothing where it has no such end or a
    /// number is out of scale.
    pub(super) fn load(program: &Program) -> Option<Self> {
        let (columns, rows) = (program.columns(), program.rows());
        if columns.len().max(rows.len()) > WIDTH {
            return None;
        }
        let mut tableau = Tableau::empty(rows.len(), columns.len());
        let mut costs = [0.0; WIDTH];
        for (cost, column) in costs.iter_mut().zip(columns) {
            *cost = number(&column.cost)?;
        }
        let cost_scale = scale(&costs);
        for (position, column) in columns.iter().enumerate() {
            let side = if costs[position] < 0.0 { Side::High } else { Side::Low };
            let spot = spot(position, &column.low, &column.high, 1.0).filter(|spot| spot.end(side).is_finite())?;
            (tableau.nonbasic[position], tableau.sides[position]) = (spot, side);
            tableau.slopes[position] = costs[position] * cost_scale;
        }
        for (index, row) in rows.iter().enumerate() {
            let entries = &mut tableau.entries[index];
            for (entry, coefficient) in
                entries.iter_mut().zip(&row.coefficients).filter(|(_, coefficient)| !coefficient.is_zero())
            {
                *entry = number(coefficient)?;
            }
            let scale = scale(entries);
            entries.iter_mut().for_each(|entry| *entry *= scale);
            tableau.basic[index] = spot(columns.len() + index, &row.low, &row.high, scale)?;
        }
        tableau.follow_anew();
        Some(tableau)
    }
}

/// A variable with its ends, if the search can work with them and tells them apart where they differ.
fn spot(variable: usize, low: &Option<Exact>, high: &Option<Exact>, scale: f64) -> Option<Spot> {
    let end = |end: &Option<Exact>, absent: f64| end.as_ref().map_or(Some(absent), |end| Some(number(end)? * scale));
    let spot = Spot { variable, low: end(low, f64::NEG_INFINITY)?, high: end(high, f64::INFINITY)? };
    (!spot.is_fixed() || low == high).then_some(spot)
}

/// The nearest `f64`, of a magnitude that can be worked with.
fn number(value: &Exact) -> Option<f64> {
    if value.is_zero() {
        return Some(0.0);
    }
    let number = value.to_f64();
    (SMALLEST..=GREATEST).contains(&number.abs()).then_some(number)
}

/// The power of two that brings the greatest magnitude to 1 to 2; multiplying by it rounds nothing.
pub(super) fn scale<const WIDTH: usize>(numbers: &[f64; WIDTH]) -> f64 {
    let greatest = numbers.iter().fold(0.0f64, |greatest, number| greatest.max(number.abs()));
    if greatest == 0.0 {
        return 1.0;
    }
    // The exponent of a normal number, turned round.
    let exponent = (greatest.to_bits() >> 52) & 0x7ff;
    f64::from_bits((2046 - exponent) << 52)
}
