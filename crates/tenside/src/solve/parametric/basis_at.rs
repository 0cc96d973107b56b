//! A basis of a program at one point of the parameters, worked out exactly: inverse and determinant, values,
//! multipliers.

use tenside_lp::{Basis, Place, Program, dot};

use crate::number::Exact;

/// A basis of the program at a point.
pub(in crate::solve) struct BasisAt {
    pub(super) program: Program,
    basic: Vec<usize>,
    nonbasic_rows: Vec<usize>,
    /// Rows: basic columns; columns: nonbasic rows.
    inverse: Vec<Vec<Exact>>,
    pub(super) determinant: Exact,
    pub(super) values: Vec<Exact>,
    reduced_costs: Vec<Exact>,
}

impl BasisAt {
    /// `None` if the matrix of the basis is singular.
    pub(in crate::solve) fn new(program: Program, basis: &Basis) -> Option<Self> {
        let (basic, nonbasic_rows) = (basis.basic_columns(), basis.nonbasic_rows());
        let entry = |row: &usize, column: &usize| program.rows()[*row].coefficients[*column].clone();
        let matrix = nonbasic_rows.iter().map(|row| basic.iter().map(|column| entry(row, column)).collect()).collect();
        let (inverse, determinant) = inverted(matrix)?;
        let mut at = BasisAt {
            values: Vec::new(),
            reduced_costs: Vec::new(),
            program,
            basic,
            nonbasic_rows,
            inverse,
            determinant,
        };
        let mut values = Vec::with_capacity(at.columns());
        for variable in 0..at.columns() {
            let is_basic = basis.column(variable) == Place::Basic;
            values.push(if is_basic { Exact::ZERO } else { at.end(variable, basis.column(variable) == Place::High)? });
        }
        let mut rests = Vec::with_capacity(at.nonbasic_rows.len());
        for row in &at.nonbasic_rows {
            let end = at.end(at.columns() + row, basis.row(*row) == Place::High)?;
            rests.push(end - dot(&at.program.rows()[*row].coefficients, &values));
        }
        for (column, line) in at.basic.iter().zip(&at.inverse) {
            values[*column] = dot(line, &rests);
        }
        at.reduced_costs = at.reduced(at.program.columns().iter().map(|column| &column.cost));
        at.values = values;
        Some(at)
    }

    fn columns(&self) -> usize {
        self.program.columns().len()
    }

    /// An end of a variable; `None` if it has none.
    pub(in crate::solve) fn end(&self, variable: usize, upper: bool) -> Option<Exact> {
        let (low, high) = match variable.checked_sub(self.columns()) {
            Some(row) => (&self.program.rows()[row].low, &self.program.rows()[row].high),
            None => (&self.program.columns()[variable].low, &self.program.columns()[variable].high),
        };
        if upper { high.clone() } else { low.clone() }
    }

    /// What a variable comes to.
    pub(in crate::solve) fn activity(&self, variable: usize) -> Exact {
        match variable.checked_sub(self.columns()) {
            Some(row) => dot(&self.program.rows()[row].coefficients, &self.values),
            None => self.values[variable].clone(),
        }
    }

    /// The cost of the point.
    pub(super) fn cost(&self) -> Exact {
        dot(self.program.columns().iter().map(|column| &column.cost), &self.values)
    }

    /// How the cost changes as a variable grows: 0 for a basic one.
    pub(in crate::solve) fn reduced_cost(&self, variable: usize) -> Exact {
        self.reduced_costs[variable].clone()
    }

    /// How these costs of the columns change as each variable grows.
    pub(in crate::solve) fn reduced<'c>(&self, costs: impl Iterator<Item = &'c Exact>) -> Vec<Exact> {
        let costs: Vec<&Exact> = costs.collect();
        let mut reduced: Vec<Exact> = costs.iter().map(|cost| (*cost).clone()).collect();
        reduced.resize(self.columns() + self.program.rows().len(), Exact::ZERO);
        for (place, row) in self.nonbasic_rows.iter().enumerate() {
            let of_basic = self.basic.iter().map(|column| costs[*column]);
            let multiplier = dot(of_basic, self.inverse.iter().map(|line| &line[place]));
            if multiplier.is_zero() {
                continue;
            }
            let coefficients = self.program.rows()[*row].coefficients.iter();
            for (reduced, coefficient) in reduced.iter_mut().zip(coefficients).filter(|(_, entry)| !entry.is_zero()) {
                *reduced -= &(coefficient * &multiplier);
            }
            reduced[self.columns() + row] = multiplier;
        }
        reduced
    }

    /// How every basic column changes as a nonbasic variable grows.
    fn column_changes(&self, nonbasic: usize) -> Vec<Exact> {
        match nonbasic.checked_sub(self.columns()) {
            Some(row) => {
                let place = self.nonbasic_rows.iter().position(|known| *known == row);
                self.inverse.iter().map(|line| place.map_or(Exact::ZERO, |place| line[place].clone())).collect()
            }
            None => {
                let column: Vec<Exact> =
                    self.nonbasic_rows.iter().map(|row| -&self.program.rows()[*row].coefficients[nonbasic]).collect();
                self.inverse.iter().map(|line| dot(line, &column)).collect()
            }
        }
    }

    /// How a variable changes as a nonbasic one grows.
    pub(super) fn change(&self, variable: usize, nonbasic: usize) -> Exact {
        self.change_of(variable, nonbasic, &self.column_changes(nonbasic))
    }

    /// How every variable changes as a nonbasic one grows.
    pub(in crate::solve) fn changes(&self, nonbasic: usize) -> Vec<Exact> {
        let changes = self.column_changes(nonbasic);
        let variables = 0..self.columns() + self.program.rows().len();
        variables.map(|variable| self.change_of(variable, nonbasic, &changes)).collect()
    }

    fn change_of(&self, variable: usize, nonbasic: usize, changes: &[Exact]) -> Exact {
        match variable.checked_sub(self.columns()) {
            Some(row) => {
                let coefficients = &self.program.rows()[row].coefficients;
                let own = if nonbasic < self.columns() { coefficients[nonbasic].clone() } else { Exact::ZERO };
                let moving = self.basic.iter().zip(changes);
                let moving = moving.filter(|(column, change)| !change.is_zero() && !coefficients[**column].is_zero());
                moving.fold(own, |sum, (column, change)| sum + &coefficients[*column] * change)
            }
            None if variable == nonbasic => Exact::ONE,
            None => self
                .basic
                .iter()
                .position(|basic| *basic == variable)
                .map_or(Exact::ZERO, |place| changes[place].clone()),
        }
    }
}

/// The inverse of a square matrix and its determinant; `None` if it is singular. The pivot is the entry whose row and
/// column have the fewest others, as in [`linear`](tenside_lp).
fn inverted(mut matrix: Vec<Vec<Exact>>) -> Option<(Vec<Vec<Exact>>, Exact)> {
    let size = matrix.len();
    for (row, line) in matrix.iter_mut().enumerate() {
        line.extend((0..size).map(|column| if row == column { Exact::ONE } else { Exact::ZERO }));
    }
    let (mut open_rows, mut open_columns): (Vec<usize>, Vec<usize>) = ((0..size).collect(), (0..size).collect());
    let mut pivot_row_of = vec![0; size];
    let mut determinant = Exact::ONE;
    while !open_rows.is_empty() {
        let count = |row: usize| open_columns.iter().filter(|column| !matrix[row][**column].is_zero()).count();
        let across: Vec<usize> = open_rows.iter().map(|row| count(*row)).collect();
        let down: Vec<usize> = open_columns
            .iter()
            .map(|column| open_rows.iter().filter(|row| !matrix[**row][*column].is_zero()).count())
            .collect();
        let entries = open_rows.iter().zip(&across).flat_map(|(row, across)| {
            open_columns
                .iter()
                .zip(&down)
                .map(move |(column, down)| (*row, *column, (across.max(&1) - 1) * (down.max(&1) - 1)))
        });
        let (pivot_row, pivot_column, _) =
            entries.filter(|(row, column, _)| !matrix[*row][*column].is_zero()).min_by_key(|(_, _, others)| *others)?;
        open_rows.retain(|row| *row != pivot_row);
        open_columns.retain(|column| *column != pivot_column);
        pivot_row_of[pivot_column] = pivot_row;
        determinant *= &matrix[pivot_row][pivot_column];
        let inverse = matrix[pivot_row][pivot_column].reciprocal()?;
        matrix[pivot_row].iter_mut().filter(|entry| !entry.is_zero()).for_each(|entry| *entry = &*entry * &inverse);
        let pivot = matrix[pivot_row].clone();
        for (row, line) in matrix.iter_mut().enumerate() {
            if row == pivot_row || line[pivot_column].is_zero() {
                continue;
            }
            let factor = line[pivot_column].clone();
            for (entry, above) in line.iter_mut().zip(&pivot).filter(|(_, above)| !above.is_zero()) {
                *entry -= &(&factor * above);
            }
        }
    }
    if is_odd(&pivot_row_of) {
        determinant = -determinant;
    }
    let inverse = pivot_row_of.iter().map(|row| matrix[*row][size..].to_vec()).collect();
    Some((inverse, determinant))
}

/// Whether a permutation takes an odd number of exchanges: as many pairs stand in it the wrong way round.
fn is_odd(permutation: &[usize]) -> bool {
    let wrong = |(place, known): (usize, &usize)| permutation[..place].iter().filter(|before| *before > known).count();
    permutation.iter().enumerate().map(wrong).sum::<usize>() % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::tests::Numbers;

    #[test]
    fn an_inverse_times_its_matrix_is_one_and_determinants_multiply() {
        let mut numbers = Numbers(11);
        let mut inverses = 0;
        for size in 1..6 {
            for _ in 0..40 {
                let mut matrix = |sparse: u64| -> Vec<Vec<Exact>> {
                    (0..size)
                        .map(|_| {
                            (0..size)
                                .map(|_| if numbers.below(sparse) == 0 { Exact::ZERO } else { numbers.share() })
                                .collect()
                        })
                        .collect()
                };
                let (first, second) = (matrix(2), matrix(5));
                let times = |left: &[Vec<Exact>], right: &[Vec<Exact>]| -> Vec<Vec<Exact>> {
                    (0..size)
                        .map(|row| {
                            (0..size)
                                .map(|column| (0..size).map(|inner| &left[row][inner] * &right[inner][column]).sum())
                                .collect()
                        })
                        .collect()
                };
                let (Some((inverse, determinant)), Some((_, other))) =
                    (inverted(first.clone()), inverted(second.clone()))
                else {
                    continue;
                };
                let one = times(&first, &inverse);
                assert!(
                    (0..size)
                        .all(|row| (0..size).all(|column| one[row][column] == Exact::from(i64::from(row == column))))
                );
                assert_eq!(inverted(times(&first, &second)).unwrap().1, &determinant * &other);
                inverses += 1;
            }
        }
        assert!(inverses > 90, "{inverses}");
        let dependent = [[1, 2], [2, 4]].map(|row| row.map(Exact::from).to_vec()).to_vec();
        assert!(inverted(dependent).is_none());
    }
}
