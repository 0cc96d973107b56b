//! Rows of a model, one for each candidate, in one piece of memory.

use nalgebra::{DMatrix, DVector};

use crate::trial::whole_plots::WholePlots;

/// Rows of one width.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Rows {
    width: usize,
    values: Vec<f64>,
}

impl Rows {
    /// Rows of this many values, which there is at least one of.
    pub(super) fn new(width: usize) -> Self {
        Rows { width, values: Vec::new() }
    }

    pub(super) fn push(&mut self, row: impl IntoIterator<Item = f64>) {
        self.values.extend(row);
    }

    pub(super) fn width(&self) -> usize {
        self.width
    }

    pub(super) fn count(&self) -> usize {
        self.values.len() / self.width
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = &[f64]> {
        self.values.chunks_exact(self.width)
    }

    pub(super) fn row(&self, place: usize) -> &[f64] {
        &self.values[place * self.width..(place + 1) * self.width]
    }

    pub(super) fn vector(&self, place: usize) -> DVector<f64> {
        DVector::from_column_slice(self.row(place))
    }

    /// What is left of each row without its share of the whole plot.
    pub(super) fn whitened(&self, plots: &WholePlots) -> Self {
        let mut whitened = self.clone();
        for term in 0..self.width {
            let mut column: Vec<f64> = self.iter().map(|row| row[term]).collect();
            plots.whiten(&mut column);
            let own = whitened.values.iter_mut().skip(term).step_by(self.width);
            own.zip(column).for_each(|(value, left)| *value = left);
        }
        whitened
    }

    /// Each row times a vector.
    pub(super) fn times(&self, vector: &DVector<f64>) -> Vec<f64> {
        self.iter().map(|row| dot(row, vector.as_slice())).collect()
    }

    /// `f' S f` of each row, for a symmetric matrix.
    pub(super) fn forms(&self, matrix: &DMatrix<f64>) -> Vec<f64> {
        let form = |row: &[f64]| -> f64 {
            matrix.column_iter().zip(row).map(|(column, value)| value * dot(row, column.as_slice())).sum()
        };
        self.iter().map(form).collect()
    }

    /// `sum w f f'`, with a weight for each row.
    pub(super) fn information(&self, weights: impl IntoIterator<Item = f64>) -> DMatrix<f64> {
        let mut sum = DMatrix::zeros(self.width, self.width);
        for (row, weight) in self.iter().zip(weights) {
            if weight != 0.0 {
                for (column, value) in row.iter().enumerate() {
                    let factor = weight * value;
                    sum.column_mut(column).iter_mut().zip(row).for_each(|(sum, value)| *sum += factor * value);
                }
            }
        }
        sum
    }
}

fn dot(left: &[f64], right: &[f64]) -> f64 {
    // Four sums side by side, so that none waits for the one before.
    let (left_four, left_rest) = left.as_chunks::<4>();
    let (right_four, right_rest) = right.as_chunks::<4>();
    let mut sums = [0.0; 4];
    for (left, right) in left_four.iter().zip(right_four) {
        for place in 0..4 {
            sums[place] += left[place] * right[place];
        }
    }
    let rest: f64 = left_rest.iter().zip(right_rest).map(|(left, right)| left * right).sum();
    (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
}
