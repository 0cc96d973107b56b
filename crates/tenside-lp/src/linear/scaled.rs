//! A program in whole numbers: each row, the costs and the ends of the columns times what makes them whole.
//!
//! ```text
//! z = e x    e makes every end of a column whole
//! row i:     f_i low_i e  <=  (f_i a_i) . z  <=  f_i high_i e
//! cost:      c . x = (g c) . z / (g e)
//! ```

use super::program::Program;
use super::whole::{Unproved, Whole};
use crate::exact::Exact;

/// Both ends of a range; an absent end is no limit.
pub(super) struct Ends<T> {
    pub(super) low: Option<T>,
    pub(super) high: Option<T>,
}

/// The program; see the [module](self) for the letters.
pub(super) struct Scaled<T> {
    pub(super) columns: usize,
    coefficients: Vec<T>,
    pub(super) costs: Vec<T>,
    /// Of the columns, then of the rows.
    pub(super) ends: Vec<Ends<T>>,
    /// `f_i`.
    pub(super) row_factors: Vec<T>,
    /// `g`.
    pub(super) cost_factor: T,
    /// `e`.
    pub(super) end_factor: T,
}

impl<T: Whole> Scaled<T> {
    /// The program, unless a number is too great.
    pub(super) fn new(program: &Program) -> Result<Self, Unproved> {
        let (columns, rows) = (program.columns(), program.rows());
        let end_factor = factor(columns.iter().flat_map(|column| [&column.low, &column.high]).flatten())?;
        let cost_factor = factor(columns.iter().map(|column| &column.cost))?;
        let ends = |low: &Option<Exact>, high: &Option<Exact>, factor: &T| -> Result<Ends<T>, Unproved> {
            let mut times = Times::new(factor);
            let mut whole = |end: &Option<Exact>| end.as_ref().map(|end| times.whole(end)).transpose();
            Ok(Ends { low: whole(low)?, high: whole(high)? })
        };
        let mut priced = Times::new(&cost_factor);
        let costs = columns.iter().map(|column| priced.whole(&column.cost)).collect::<Result<_, _>>()?;
        let mut scaled = Scaled {
            columns: columns.len(),
            coefficients: Vec::with_capacity(columns.len() * rows.len()),
            costs,
            ends: Vec::with_capacity(columns.len() + rows.len()),
            row_factors: Vec::with_capacity(rows.len()),
            cost_factor,
            end_factor,
        };
        for column in columns {
            scaled.ends.push(ends(&column.low, &column.high, &scaled.end_factor)?);
        }
        for row in rows {
            let mut row_factor = factor(row.coefficients.iter())?;
            for end in [&row.low, &row.high].into_iter().flatten() {
                // What of the end's denominator the columns' ends do not bring already.
                let denominator = T::denominator(end)?;
                let missing = denominator.over(&denominator.common(&scaled.end_factor));
                row_factor = least_multiple(row_factor, &missing)?;
            }
            let mut times = Times::new(&row_factor);
            for coefficient in &row.coefficients {
                scaled.coefficients.push(times.whole(coefficient)?);
            }
            scaled.ends.push(ends(&row.low, &row.high, &row_factor.times(&scaled.end_factor)?)?);
            scaled.row_factors.push(row_factor);
        }
        Ok(scaled)
    }

    /// The coefficients of a row.
    pub(super) fn row(&self, index: usize) -> &[T] {
        &self.coefficients[index * self.columns..(index + 1) * self.columns]
    }
}

/// The least number that makes the numbers whole.
fn factor<'a, T: Whole>(mut numbers: impl Iterator<Item = &'a Exact>) -> Result<T, Unproved> {
    let mut last = T::ONE;
    numbers.try_fold(T::ONE, |factor, number| {
        let denominator = T::denominator(number)?;
        if denominator == T::ONE || denominator == last {
            return Ok(factor);
        }
        let multiple = least_multiple(factor, &denominator);
        last = denominator;
        multiple
    })
}

fn least_multiple<T: Whole>(left: T, right: &T) -> Result<T, Unproved> {
    // Most denominators divide what stands already, and a division takes less than a greatest common divisor.
    if left.over(right).times(right)? == left {
        return Ok(left);
    }
    left.times(&right.over(&left.common(right)))
}

/// A factor over the last denominator: many numbers in a row have the same one.
struct Times<'a, T> {
    factor: &'a T,
    denominator: T,
    quotient: T,
}

impl<'a, T: Whole> Times<'a, T> {
    fn new(factor: &'a T) -> Self {
        Times { factor, denominator: T::ONE, quotient: factor.clone() }
    }

    /// `number . factor`, which is whole: the factor is a multiple of the number's denominator.
    fn whole(&mut self, number: &Exact) -> Result<T, Unproved> {
        let (numerator, denominator) = (T::numerator(number)?, T::denominator(number)?);
        if numerator.is_nought() {
            return Ok(numerator);
        }
        if denominator != self.denominator {
            self.quotient = self.factor.over(&denominator);
            self.denominator = denominator;
        }
        if self.quotient == T::ONE { Ok(numerator) } else { numerator.times(&self.quotient) }
    }
}
