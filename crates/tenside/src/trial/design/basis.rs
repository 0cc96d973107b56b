//! Coordinates in which the candidates are about as long one way as another, and the terms that they cannot tell apart.

use nalgebra::DMatrix;

use super::rows::Rows;

/// A term is a sum of earlier ones if what is left of it is this much shorter.
const NOTHING_LEFT: f64 = 1e-9;
/// What counts in such a sum.
const COUNTS: f64 = 1e-6;

/// A term that is a sum of others over all rows given.
pub(super) struct Aliased {
    pub(super) term: usize,
    pub(super) with: Vec<usize>,
}

/// The lower triangular matrix that makes the rows' average information the identity; or the terms that are sums of
/// earlier ones.
///
/// The columns are made orthogonal one after the other, each twice (Gram and Schmidt, with reorthogonalisation), so
/// that narrow regions keep their digits.
pub(super) fn basis(rows: &Rows) -> Result<DMatrix<f64>, Vec<Aliased>> {
    let (count, width) = (rows.count(), rows.width());
    let mut orthogonal: Vec<(usize, Vec<f64>)> = Vec::new();
    let mut factors = DMatrix::<f64>::zeros(width, width);
    let mut aliased = Vec::new();
    for term in 0..width {
        let mut column: Vec<f64> = rows.iter().map(|row| row[term]).collect();
        let long = norm(&column);
        for _ in 0..2 {
            for (known, unit) in &orthogonal {
                let along: f64 = column.iter().zip(unit).map(|(value, unit)| value * unit).sum();
                column.iter_mut().zip(unit).for_each(|(value, unit)| *value -= along * unit);
                factors[(*known, term)] += along;
            }
        }
        let left = norm(&column);
        if left <= NOTHING_LEFT * long || long == 0.0 {
            let known: Vec<usize> = orthogonal.iter().map(|(known, _)| *known).collect();
            let square = DMatrix::from_fn(known.len(), known.len(), |row, column| factors[(known[row], known[column])]);
            let right = DMatrix::from_fn(known.len(), 1, |row, _| factors[(known[row], term)]);
            let sum = square.solve_upper_triangular(&right).unwrap_or(right);
            let largest = sum.iter().fold(0.0_f64, |largest, value| largest.max(value.abs()));
            let with = known
                .into_iter()
                .zip(sum.iter())
                .filter(|(_, value)| value.abs() > COUNTS * largest)
                .map(|(known, _)| known)
                .collect();
            aliased.push(Aliased { term, with });
            continue;
        }
        factors[(term, term)] = left;
        column.iter_mut().for_each(|value| *value /= left);
        orthogonal.push((term, column));
    }
    if !aliased.is_empty() {
        return Err(aliased);
    }
    let scaled = factors.transpose() / (count as f64).sqrt();
    // The diagonal is above 0.
    Ok(scaled
        .solve_lower_triangular(&DMatrix::identity(width, width))
        .unwrap_or_else(|| DMatrix::identity(width, width)))
}

/// Rows in these coordinates.
pub(super) fn turned(rows: &Rows, basis: &DMatrix<f64>) -> Rows {
    let mut turned = Rows::new(rows.width());
    for place in 0..rows.count() {
        turned.push((basis * rows.vector(place)).iter().copied());
    }
    turned
}

fn norm(values: &[f64]) -> f64 {
    values.iter().map(|value| value * value).sum::<f64>().sqrt()
}
