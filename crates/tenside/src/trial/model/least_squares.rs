//! Least squares on given columns, by Householder's orthogonal factorisation with iterative refinement.
//!
//! ```text
//! minimise |y - X b|²,   X S = Q R,   S = 1 / the columns' lengths
//! ```
//!
//! The coefficients and residuals are refined together on the augmented system `r + X b = y, X'r = 0`, whose remainders
//! are worked out with twice the digits (Å. Björck, BIT 7, 1967, 257-278; from memory), until a step changes nothing
//! that shows. [`LeastSquares::digits`] says how many digits the last step left alone, which is how far the
//! coefficients answer to the columns as given.

use nalgebra::{DMatrix, DVector};

use crate::number::{two_product, two_sum};

/// More steps than ever help.
const STEPS: usize = 12;

/// A fitted sum of columns.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct LeastSquares {
    pub(super) coefficients: Vec<f64>,
    /// What is left of each value.
    pub(super) residuals: Vec<f64>,
    /// The sum of squares of that.
    pub(super) squares: f64,
    /// Of each row, what share of it its own value decides.
    pub(super) leverages: Vec<f64>,
    /// `S R^-1`: its rows' lengths are the coefficients' standard errors in units of the residual deviation.
    root: DMatrix<f64>,
    /// Decimal digits that the last step of refinement left alone in every coefficient.
    pub(super) digits: f64,
}

/// A column that the ones before it say already.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Alias {
    pub(super) column: usize,
    /// The columns that it is a sum of, with their factors.
    pub(super) of: Vec<(usize, f64)>,
}

fn dot(left: &[f64], right: &[f64]) -> f64 {
    left.iter().zip(right).map(|(left, right)| left * right).sum()
}

/// The columns that cannot be told from sums of those before them: what is left of one is no longer than `finest` a
/// row.
pub(super) fn aliases(columns: &[Vec<f64>], finest: f64) -> Vec<Alias> {
    let mut basis: Vec<Vec<f64>> = Vec::new();
    // Each vector of the basis as a sum of kept columns.
    let mut made_of: Vec<Vec<f64>> = Vec::new();
    let mut kept: Vec<usize> = Vec::new();
    let mut found = Vec::new();
    for (place, column) in columns.iter().enumerate() {
        let mut left = column.clone();
        let mut sum = vec![0.0; kept.len()];
        // Twice is enough (W. Kahan and B. N. Parlett; from memory).
        for _ in 0..2 {
            for (vector, made) in basis.iter().zip(&made_of) {
                let share = dot(vector, &left);
                left.iter_mut().zip(vector).for_each(|(left, vector)| *left -= share * vector);
                sum.iter_mut().zip(made).for_each(|(sum, made)| *sum += share * made);
            }
        }
        let length = dot(&left, &left).sqrt();
        if length <= finest * (column.len() as f64).sqrt() {
            let largest = sum.iter().fold(0.0, |largest: f64, factor| largest.max(factor.abs()));
            let of = kept.iter().copied().zip(sum).filter(|(_, factor)| factor.abs() > 1e-4 * largest).collect();
            found.push(Alias { column: place, of });
            continue;
        }
        left.iter_mut().for_each(|left| *left /= length);
        basis.push(left);
        let mut made: Vec<f64> = sum.iter().map(|factor| -factor / length).collect();
        made.push(1.0 / length);
        made_of.iter_mut().for_each(|made| made.push(0.0));
        made_of.push(made);
        kept.push(place);
    }
    found
}

/// A sum with twice the digits.
#[derive(Clone, Copy, Default)]
struct Sum(f64, f64);

impl Sum {
    fn add(&mut self, value: f64) {
        let (sum, lost) = two_sum(self.0, value);
        (self.0, self.1) = (sum, self.1 + lost);
    }

    fn add_product(&mut self, left: f64, right: f64) {
        let (product, lost) = two_product(left, right);
        self.add(product);
        self.1 += lost;
    }

    fn value(self) -> f64 {
        self.0 + self.1
    }
}

impl LeastSquares {
    /// The fit of columns that are no sums of each other; `None` if they are, as far as `f64` can tell, or if there are
    /// more of them than values.
    pub(super) fn fit(columns: &[Vec<f64>], values: &[f64]) -> Option<Self> {
        let (rows, terms) = (values.len(), columns.len());
        if rows < terms || terms == 0 {
            return None;
        }
        // Powers of two, which round nothing.
        let scales: Vec<f64> =
            columns.iter().map(|column| (-dot(column, column).sqrt().log2().round()).exp2()).collect();
        let scaled = DMatrix::from_fn(rows, terms, |row, term| columns[term][row] * scales[term]);
        let decomposed = scaled.clone().qr();
        let (q, r) = (decomposed.q(), decomposed.r());
        let triangle = r.try_inverse()?;
        if triangle.iter().any(|entry| !entry.is_finite()) {
            return None;
        }
        let rest = DVector::from_column_slice(values);
        let mut scaled_coefficients = DVector::<f64>::zeros(terms);
        let mut low = DVector::<f64>::zeros(terms);
        let mut residuals = DVector::<f64>::zeros(rows);
        let mut last = f64::INFINITY;
        let mut digits = 0.0;
        for step in 0..STEPS {
            let (mut f, mut g) = (rest.clone(), DVector::<f64>::zeros(terms));
            if step > 0 {
                for row in 0..rows {
                    let mut sum = Sum::default();
                    sum.add(values[row]);
                    sum.add(-residuals[row]);
                    for term in 0..terms {
                        sum.add_product(-scaled[(row, term)], scaled_coefficients[term]);
                        sum.add_product(-scaled[(row, term)], low[term]);
                    }
                    f[row] = sum.value();
                }
                for term in 0..terms {
                    let mut sum = Sum::default();
                    (0..rows).for_each(|row| sum.add_product(-scaled[(row, term)], residuals[row]));
                    g[term] = sum.value();
                }
            }
            let (along, across) = (q.tr_mul(&f), triangle.tr_mul(&g));
            let change = &triangle * (&along - &across);
            let moved: DVector<f64> = &f - &q * (&along - &across);
            let size = change.iter().zip(&scaled_coefficients).fold(0.0, |size: f64, (change, coefficient)| {
                if step == 0 || *change == 0.0 { size } else { size.max((change / coefficient).abs()) }
            });
            if step > 0 {
                if size >= last {
                    break;
                }
                last = size;
                digits = -size.max(f64::EPSILON / 2.0).log10();
            }
            for term in 0..terms {
                let (sum, lost) = two_sum(scaled_coefficients[term], change[term]);
                let (high, rest) = two_sum(sum, lost + low[term]);
                (scaled_coefficients[term], low[term]) = (high, rest);
            }
            residuals += moved;
            if step > 0 && size == 0.0 {
                break;
            }
        }
        let coefficients =
            scaled_coefficients.iter().zip(&scales).map(|(coefficient, scale)| coefficient * scale).collect();
        let mut squares = Sum::default();
        residuals.iter().for_each(|residual| squares.add_product(*residual, *residual));
        let leverages = q.row_iter().map(|row| row.norm_squared()).collect();
        let root = DMatrix::from_fn(terms, terms, |row, column| triangle[(row, column)] * scales[row]);
        Some(LeastSquares {
            coefficients,
            residuals: residuals.iter().copied().collect(),
            squares: squares.value(),
            leverages,
            root,
            digits,
        })
    }

    /// The standard error of each coefficient, for a residual deviation of 1.
    pub(super) fn unit_errors(&self) -> Vec<f64> {
        self.root.row_iter().map(|row| row.norm()).collect()
    }

    /// The variance of the fitted value at a row, for a residual variance of 1.
    pub(super) fn leverage(&self, row: &[f64]) -> f64 {
        self.root.tr_mul(&DVector::from_column_slice(row)).norm_squared()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Decimal digits that agree.
    fn agree(found: f64, certified: f64) -> f64 {
        let off = if certified == 0.0 { found.abs() } else { ((found - certified) / certified).abs() };
        -off.max(1e-16).log10()
    }

    #[test]
    fn the_reference_datasets_of_nist_come_out() {
        let text = include_str!("../../../../../tests/data/nist_strd_linear.toml");
        let data: toml::Table = text.parse().unwrap();
        let numbers = |value: &toml::Value| -> Vec<f64> {
            value.as_array().unwrap().iter().map(|number| number.as_str().unwrap().parse().unwrap()).collect()
        };
        let mut seen = 0;
        for set in data["set"].as_array().unwrap() {
            let name = set["name"].as_str().unwrap();
            let degree = set["degree"].as_integer().unwrap();
            let rows: Vec<Vec<f64>> = set["x"].as_array().unwrap().iter().map(numbers).collect();
            let (y, certified, errors) = (numbers(&set["y"]), numbers(&set["coefficients"]), numbers(&set["errors"]));
            let mut columns = vec![vec![1.0; y.len()]];
            for place in 0..rows[0].len() {
                let x: Vec<f64> = rows.iter().map(|row| row[place]).collect();
                for power in 1..=degree {
                    columns.push(x.iter().map(|x| (0..power).fold(1.0, |product, _| product * x)).collect());
                }
            }
            let fit = LeastSquares::fit(&columns, &y).unwrap();
            // The powers of the hardest set are rounded to 53 bits before anything is fitted.
            let (digits, of_errors) = if name == "Filip" { (7.5, 7.5) } else { (12.9, 12.5) };
            for (found, certified) in fit.coefficients.iter().zip(&certified) {
                assert!(agree(*found, *certified) > digits, "{name}: {found} for {certified}");
            }
            let deviation = (fit.squares / (y.len() - certified.len()) as f64).sqrt();
            for (found, certified) in fit.unit_errors().iter().zip(&errors) {
                assert!(
                    agree(found * deviation, *certified) > of_errors,
                    "{name}: error {} for {certified}",
                    found * deviation
                );
            }
            if let Some(squares) = set.get("squares") {
                assert!(
                    agree(fit.squares, squares.as_str().unwrap().parse().unwrap()) > digits.min(12.0),
                    "{name}: {}",
                    fit.squares
                );
            }
            assert_eq!(aliases(&columns, 1e-9), [], "{name}");
            seen += 1;
        }
        assert_eq!(seen, 7);
    }

    #[test]
    fn what_is_a_sum_of_others_is_named_with_its_factors() {
        let columns = vec![
            vec![1.0, 2.0, 3.0, 5.0],
            vec![0.0, 1.0, 0.0, 1.0],
            vec![2.0, 3.0, 6.0, 9.0],
            vec![1.0, 1.0, 1.0, 0.0],
        ];
        let found = aliases(&columns, 1e-9);
        assert_eq!((found.len(), found[0].column, found[0].of.len()), (1, 2, 2));
        assert!((found[0].of[0].1 - 2.0).abs() < 1e-12 && (found[0].of[1].1 + 1.0).abs() < 1e-12);
        assert_eq!(LeastSquares::fit(&[vec![1.0, 2.0], vec![2.0, 4.0], vec![1.0, 1.0]], &[1.0, 2.0]), None);
        // More columns than rows: the later ones are sums.
        assert_eq!(aliases(&[vec![1.0, 0.0], vec![0.0, 1.0], vec![3.0, 4.0]], 1e-9)[0].of, [(0, 3.0), (1, 4.0)]);
    }
}
