//! Square systems of whole numbers, solved exactly without a fraction on the way.
//!
//! ```text
//! row_i  <-  (p / g) row_i - (a / g) row_p        p the pivot, a the entry below it, g their greatest common divisor
//! ```
//!
//! then the row is divided by the common divisor of its entries. The pivot is the entry whose row and column have the
//! fewest others (least product, then first row, then first column), since the systems of formulas are nearly
//! triangular. Going back, all unknowns of a right-hand side are kept over one common denominator.
//!
//! Source: pivots by H. M. Markowitz, The elimination form of the inverse, Management Science 3 (1957) (from memory).

use super::whole::{Unproved, Whole};

/// The unknowns of one right-hand side, each a numerator over the same denominator above 0.
pub(super) struct Unknowns<T> {
    pub(super) numerators: Vec<T>,
    pub(super) denominator: T,
}

/// A square matrix with right-hand sides after it, row by row.
pub(super) struct System<T> {
    size: usize,
    width: usize,
    entries: Vec<T>,
}

impl<T: Whole> System<T> {
    /// A system of zeros.
    pub(super) fn new(size: usize, right_sides: usize) -> Self {
        System { size, width: size + right_sides, entries: vec![T::ZERO; size * (size + right_sides)] }
    }

    /// Sets an entry; right-hand sides are the columns from `size` on.
    pub(super) fn set(&mut self, row: usize, column: usize, value: T) {
        self.entries[row * self.width + column] = value;
    }

    fn at(&self, row: usize, column: usize) -> &T {
        &self.entries[row * self.width + column]
    }

    /// The solution of every right-hand side.
    pub(super) fn solve(mut self) -> Result<Vec<Unknowns<T>>, Unproved> {
        let pivots = self.eliminate()?;
        (self.size..self.width).map(|side| self.go_back(&pivots, side)).collect()
    }

    fn eliminate(&mut self) -> Result<Vec<(usize, usize)>, Unproved> {
        let mut open_rows: Vec<usize> = (0..self.size).collect();
        let mut open_columns: Vec<usize> = (0..self.size).collect();
        let mut pivots = Vec::with_capacity(self.size);
        let mut by_row = vec![0; self.size];
        let mut by_column = vec![0; self.size];
        while !open_rows.is_empty() {
            by_row.fill(0);
            by_column.fill(0);
            for &row in &open_rows {
                for &column in open_columns.iter().filter(|&&column| !self.at(row, column).is_nought()) {
                    by_row[row] += 1;
                    by_column[column] += 1;
                }
            }
            let entries = open_rows.iter().flat_map(|&row| open_columns.iter().map(move |&column| (row, column)));
            let entries = entries.filter(|&(row, column)| !self.at(row, column).is_nought());
            let (pivot_row, pivot_column) = entries
                .min_by_key(|&(row, column)| (by_row[row] - 1) * (by_column[column] - 1))
                .ok_or(Unproved::Refused)?;
            open_rows.retain(|&row| row != pivot_row);
            open_columns.retain(|&column| column != pivot_column);
            for &row in open_rows.iter().filter(|_| by_column[pivot_column] > 1) {
                if !self.at(row, pivot_column).is_nought() {
                    self.clear(row, pivot_row, pivot_column)?;
                }
            }
            pivots.push((pivot_row, pivot_column));
        }
        Ok(pivots)
    }

    /// Makes the entry of `row` in the pivot's column 0.
    fn clear(&mut self, row: usize, pivot_row: usize, column: usize) -> Result<(), Unproved> {
        let divisor = self.at(pivot_row, column).common(self.at(row, column));
        let (keep, take) = (self.at(pivot_row, column).over(&divisor), self.at(row, column).over(&divisor));
        let mut common = T::ZERO;
        for other in 0..self.width {
            let (above, entry) = (self.at(pivot_row, other), self.at(row, other));
            if above.is_nought() && entry.is_nought() {
                continue;
            }
            let value = match (above.is_nought(), entry.is_nought()) {
                (true, _) => entry.times(&keep)?,
                (false, true) => T::ZERO.minus(&above.times(&take)?)?,
                (false, false) => entry.times(&keep)?.minus(&above.times(&take)?)?,
            };
            if common != T::ONE && !value.is_nought() {
                common = common.common(&value);
            }
            self.set(row, other, value);
        }
        if !common.is_nought() && common != T::ONE {
            for entry in
                self.entries[row * self.width..(row + 1) * self.width].iter_mut().filter(|entry| !entry.is_nought())
            {
                *entry = entry.over(&common);
            }
        }
        Ok(())
    }

    fn go_back(&self, pivots: &[(usize, usize)], side: usize) -> Result<Unknowns<T>, Unproved> {
        let mut numerators = vec![T::ZERO; self.size];
        let mut denominator = T::ONE;
        for &(row, column) in pivots.iter().rev() {
            let mut sum = self.at(row, side).times(&denominator)?;
            for (other, numerator) in numerators.iter().enumerate().filter(|(_, numerator)| !numerator.is_nought()) {
                let entry = self.at(row, other);
                if !entry.is_nought() {
                    sum = sum.minus(&entry.times(numerator)?)?;
                }
            }
            let pivot = self.at(row, column);
            let divisor = pivot.common(&sum);
            let (mut sum, mut rest) = (sum.over(&divisor), pivot.over(&divisor));
            if rest.is_below_nought() {
                (sum, rest) = (T::ZERO.minus(&sum)?, T::ZERO.minus(&rest)?);
            }
            if rest != T::ONE {
                denominator = denominator.times(&rest)?;
                for numerator in numerators.iter_mut().filter(|numerator| !numerator.is_nought()) {
                    *numerator = numerator.times(&rest)?;
                }
            }
            numerators[column] = sum;
        }
        Ok(Unknowns { numerators, denominator })
    }
}

#[cfg(test)]
mod tests {
    use dashu_int::IBig;

    use super::*;
    use crate::exact::Exact;

    fn system<T: Whole>(rows: &[&[i64]]) -> System<T> {
        let mut system = System::new(rows.len(), rows[0].len() - rows.len());
        for (row, entries) in rows.iter().enumerate() {
            for (column, entry) in entries.iter().enumerate() {
                system.set(row, column, T::numerator(&Exact::from(*entry)).unwrap());
            }
        }
        system
    }

    fn solved<T: Whole>(rows: &[&[i64]]) -> Result<Vec<(Vec<IBig>, IBig)>, Unproved> {
        let all = system::<T>(rows).solve()?;
        let whole = |number: &T| T::fraction(number, &T::ONE).parts().0;
        Ok(all.iter().map(|side| (side.numerators.iter().map(whole).collect(), whole(&side.denominator))).collect())
    }

    /// x + 2 y = 5, 3 x - y = 1 gives x = 1, y = 2; the second side 1, 0 gives x = 1/7, y = 3/7.
    #[test]
    fn two_sides_by_hand() {
        for solved in [solved::<i128>, solved::<IBig>] {
            let sides = solved(&[&[1, 2, 5, 1], &[3, -1, 1, 0]]).unwrap();
            assert_eq!(sides[0], ([1, 2].map(IBig::from).to_vec(), IBig::from(1)));
            assert_eq!(sides[1], ([1, 3].map(IBig::from).to_vec(), IBig::from(7)));
        }
    }

    #[test]
    fn dependent_rows_are_singular_and_great_numbers_overflow_the_small_size_only() {
        let dependent: &[&[i64]] = &[&[1, 2, 1], &[2, 4, 2]];
        assert_eq!(solved::<i128>(dependent), Err(Unproved::Refused));
        assert_eq!(solved::<IBig>(dependent), Err(Unproved::Refused));
        let primes = [9_223_372_036_854_775_783, 9_223_372_036_854_775_643, 9_223_372_036_854_775_549];
        let great: &[&[i64]] = &[
            &[primes[0], primes[1], primes[2], 1],
            &[primes[1], primes[2], primes[0], 2],
            &[primes[2], primes[0] - 7, primes[1], 5],
        ];
        assert_eq!(solved::<i128>(great), Err(Unproved::Overflow));
        let (unknowns, denominator) = solved::<IBig>(great).unwrap().remove(0);
        for row in great {
            let sum: IBig = row.iter().zip(&unknowns).map(|(entry, unknown)| IBig::from(*entry) * unknown).sum();
            assert_eq!(sum, IBig::from(row[3]) * &denominator);
        }
    }

    /// Both sizes give the same unknowns, which solve the system; in the small one nothing overflows.
    fn solves(rows: &[Vec<i64>]) {
        let rows: Vec<&[i64]> = rows.iter().map(Vec::as_slice).collect();
        let value = |(unknowns, denominator): &(Vec<IBig>, IBig)| {
            unknowns
                .iter()
                .map(|unknown| Exact::from_parts(unknown.clone(), denominator.clone().into_parts().1))
                .collect::<Vec<_>>()
        };
        let [small, big] = [solved::<i128>(&rows).unwrap().remove(0), solved::<IBig>(&rows).unwrap().remove(0)];
        assert_eq!(value(&small), value(&big));
        for row in &rows {
            let sum: IBig = row.iter().zip(&small.0).map(|(entry, unknown)| IBig::from(*entry) * unknown).sum();
            assert_eq!(sum, IBig::from(row[rows.len()]) * &small.1);
        }
    }

    /// All but the diagonal, the last row and the last column are 0: to begin in their corner would fill the matrix
    /// with products of long numbers.
    #[test]
    fn a_matrix_with_few_entries_is_not_filled() {
        let entry = |row: i64, column: i64| match (row, column) {
            (_, 9) => 1 + row,
            (8, _) => 10_000_000_000_037 + 1202 * column,
            (_, 8) => 9_999_999_999_971 - 1414 * row * row,
            _ => i64::from(row == column),
        };
        solves(&(0..9).map(|row| (0..10).map(|column| entry(row, column)).collect()).collect::<Vec<_>>());
    }

    /// A row and a column with one entry come first, though other entries stand in rows and columns of fewer entries
    /// together.
    #[test]
    fn the_entry_with_the_fewest_others_across_is_the_pivot() {
        // The last row has one entry, in a column of six; elsewhere an entry of a row of three stands in a column of
        // two.
        let rows: [[i64; 6]; 6] = [
            [1, 2, 0, 0, 0, 1],
            [3, 1, 0, 2, 0, 1],
            [0, 0, 2, 1, 1, 1],
            [0, 0, 1, 3, 1, 1],
            [0, 0, 3, 1, 2, 1],
            [0, 0, 0, 0, 0, 1],
        ];
        let first = |entries: &dyn Fn(usize, usize) -> i64| {
            let rows: Vec<Vec<i64>> =
                (0..6).map(|row| (0..6).map(|column| entries(row, column)).chain([1]).collect()).collect();
            let rows: Vec<&[i64]> = rows.iter().map(Vec::as_slice).collect();
            system::<i128>(&rows).eliminate().unwrap()[0]
        };
        assert_eq!(first(&|row, column| rows[row][column]), (5, 5));
        assert_eq!(first(&|row, column| rows[column][row]), (5, 5));
    }

    /// Without the common divisor of each row taken out, each step would double the digits.
    #[test]
    fn common_divisors_keep_a_full_matrix_short() {
        let entry = |place: i64| (5 * place.pow(3) + 37 * place.pow(2) + 11) % 97 + 1;
        solves(&(0..10).map(|row| (0..11).map(|column| entry(11 * row + column)).collect()).collect::<Vec<_>>());
    }
}
