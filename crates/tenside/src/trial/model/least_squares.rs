//! Least squares on given columns, by Householder's orthogonal factorisation and iterative refinement.
//!
//! ```text
//! minimise |y - X b|²,   X S = Q R,   S = 1 / the columns' lengths,   T = S R^-1
//! X T = Q' R',   (X'X)^-1 = (T R'^-1) (T R'^-1)',   b += (X'X)^-1 X'(y - X b)
//! ```
//!
//! Columns and values have twice the digits of an `f64`. The factorisation is of their leading parts, so that `T` is
//! near what makes them orthonormal; `X T` is worked out with twice the digits and factorised again, after which both
//! `T R'^-1` and `Q'` are right to an `f64`, however near the columns come to sums of each other. Remainders are worked
//! out with twice the digits (Å. Björck, BIT 7, 1967, 257-278; Y. Yamamoto et al. on factorising twice, Electronic
//! Transactions on Numerical Analysis 44, 2015, 306-326; both from memory), until a step changes nothing that shows.
//! [`LeastSquares::digits`] says how many digits the last step left alone.

use nalgebra::{DMatrix, DVector};

use crate::number::{DoubleDouble, two_product, two_sum};

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
    /// Of each column, the sum of squares that it takes from the values after those before it.
    pub(super) sequential: Vec<f64>,
    /// Of each row, what share of it its own value decides.
    pub(super) leverages: Vec<f64>,
    /// `T R'^-1`: its rows' lengths are the coefficients' standard errors in units of the residual deviation.
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

    fn add_product(&mut self, left: DoubleDouble, right: f64) {
        let (product, lost) = two_product(left.high, right);
        self.add(product);
        self.1 += lost + left.low * right;
    }

    fn parts(self) -> (f64, f64) {
        two_sum(self.0, self.1)
    }
}

impl LeastSquares {
    /// The fit of columns that are no sums of each other; `None` if they are, as far as can be told, or if there are
    /// more of them than values.
    pub(super) fn fit(columns: &[Vec<DoubleDouble>], values: &[DoubleDouble]) -> Option<Self> {
        let (rows, terms) = (values.len(), columns.len());
        if rows < terms || terms == 0 {
            return None;
        }
        let leading = DMatrix::from_fn(rows, terms, |row, term| columns[term][row].high);
        // Powers of two, which round nothing.
        let scales: Vec<f64> = leading.column_iter().map(|column| (-column.norm().log2().round()).exp2()).collect();
        let scaled = DMatrix::from_fn(rows, terms, |row, term| leading[(row, term)] * scales[term]);
        let inverse = |triangle: DMatrix<f64>| {
            let inverse = triangle.solve_upper_triangular(&DMatrix::identity(terms, terms))?;
            inverse.iter().all(|entry| entry.is_finite()).then_some(inverse)
        };
        let mut root = inverse(scaled.qr().r())?;
        for (mut row, scale) in root.row_iter_mut().zip(&scales) {
            row *= *scale;
        }
        let turned = DMatrix::from_fn(rows, terms, |row, column| {
            let mut sum = Sum::default();
            (0..=column).for_each(|term| sum.add_product(columns[term][row], root[(term, column)]));
            sum.parts().0
        });
        let again = turned.qr();
        let root = root * inverse(again.r())?;
        let orthonormal = again.q();
        let leading = DVector::from_iterator(rows, values.iter().map(|value| value.high));
        let sequential = orthonormal.tr_mul(&leading).iter().map(|along| along * along).collect();
        let leverages = orthonormal.row_iter().map(|row| row.norm_squared()).collect();

        let mut coefficients = vec![(0.0, 0.0); terms];
        let mut residuals: Vec<(f64, f64)> = values.iter().map(|value| (value.high, value.low)).collect();
        let (mut last, mut digits) = (f64::INFINITY, 0.0);
        for step in 0..STEPS {
            let along = DVector::from_fn(terms, |term, _| {
                let mut sum = Sum::default();
                for (value, residual) in columns[term].iter().zip(&residuals) {
                    sum.add_product(*value, residual.0);
                    sum.add_product(*value, residual.1);
                }
                sum.parts().0
            });
            let change = &root * root.tr_mul(&along);
            if step > 0 {
                let parts = change.iter().zip(&coefficients);
                let size =
                    parts.fold(
                        0.0,
                        |size: f64, (change, coefficient)| {
                            if *change == 0.0 { size } else { size.max((change / coefficient.0).abs()) }
                        },
                    );
                if size >= last {
                    break;
                }
                last = size;
                digits = -size.max(f64::EPSILON / 2.0).log10();
            }
            for (coefficient, change) in coefficients.iter_mut().zip(change.iter()) {
                let (sum, lost) = two_sum(coefficient.0, *change);
                *coefficient = two_sum(sum, lost + coefficient.1);
            }
            for (row, residual) in residuals.iter_mut().enumerate() {
                let mut sum = Sum::default();
                sum.add(values[row].high);
                sum.add(values[row].low);
                for (column, coefficient) in columns.iter().zip(&coefficients) {
                    sum.add_product(column[row], -coefficient.0);
                    sum.add_product(column[row], -coefficient.1);
                }
                *residual = sum.parts();
            }
            if last == 0.0 {
                break;
            }
        }
        let residuals: Vec<f64> = residuals.into_iter().map(|(residual, _)| residual).collect();
        Some(LeastSquares {
            coefficients: coefficients.into_iter().map(|(coefficient, _)| coefficient).collect(),
            squares: residuals.iter().map(|residual| residual * residual).sum(),
            residuals,
            sequential,
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
    use crate::number::Exact;

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
            let rows: Vec<&toml::value::Array> =
                set["x"].as_array().unwrap().iter().map(|row| row.as_array().unwrap()).collect();
            let (y, certified, errors) = (numbers(&set["y"]), numbers(&set["coefficients"]), numbers(&set["errors"]));
            // As the terms of a model are formed: from exact numbers, each product with twice the digits.
            let wide = |value: &toml::Value| DoubleDouble::of(&value.as_str().unwrap().parse().unwrap());
            let one = DoubleDouble::of(&Exact::ONE);
            let mut columns = vec![vec![one; y.len()]];
            for place in 0..rows[0].len() {
                let x: Vec<DoubleDouble> = rows.iter().map(|row| wide(&row[place])).collect();
                for power in 1..=degree {
                    columns.push(x.iter().map(|x| (0..power).fold(one, |product, _| product.times(*x))).collect());
                }
            }
            let values: Vec<DoubleDouble> = set["y"].as_array().unwrap().iter().map(wide).collect();
            let fit = LeastSquares::fit(&columns, &values).unwrap();
            for (found, certified) in fit.coefficients.iter().zip(&certified) {
                assert!(agree(*found, *certified) > 13.5, "{name}: {found} for {certified}");
            }
            let deviation = (fit.squares / (y.len() - certified.len()) as f64).sqrt();
            for (found, certified) in fit.unit_errors().iter().zip(&errors) {
                assert!(
                    agree(found * deviation, *certified) > 13.5,
                    "{name}: error {} for {certified}",
                    found * deviation
                );
            }
            if let Some(squares) = set.get("squares") {
                assert!(
                    agree(fit.squares, squares.as_str().unwrap().parse().unwrap()) > 13.0,
                    "{name}: {}",
                    fit.squares
                );
            }
            let leading: Vec<Vec<f64>> =
                columns.iter().map(|column| column.iter().map(|value| value.high).collect()).collect();
            assert_eq!(aliases(&leading, 1e-9), [], "{name}");
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
        let wide =
            |values: &[i64]| values.iter().map(|value| DoubleDouble::of(&Exact::from(*value))).collect::<Vec<_>>();
        let three = [wide(&[1, 2]), wide(&[2, 4]), wide(&[1, 1])];
        assert_eq!(LeastSquares::fit(&three, &wide(&[1, 2])), None);
        // More columns than rows: the later ones are sums.
        assert_eq!(aliases(&[vec![1.0, 0.0], vec![0.0, 1.0], vec![3.0, 4.0]], 1e-9)[0].of, [(0, 3.0), (1, 4.0)]);
    }
}
