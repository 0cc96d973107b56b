//! What the equations of a program leave of the multiples of the steps.
//!
//! With `x_j = s_j k_j` an equation of two lines without a constant, `a s_1 k_1 + b s_2 k_2 = 0`, has only the solutions with `k_1` a
//! multiple of `|b s_2| / g` and `k_2` one of `|a s_1| / g`, `g` being the greatest common measure of `a s_1` and `b s_2`. And
//! `sum a_j s_j k_j = r` has a solution in whole numbers only if the greatest common measure of the `a_j s_j` goes into `r` (Bezout).

use crate::number::Exact;
use crate::solve::linear::{Program, Row};

/// The steps that the equations leave.
pub(super) struct Lattice {
    pub(super) steps: Vec<Option<Exact>>,
}

/// An equation with the columns that can move, each with its coefficient times its step, and the rest of the equation.
struct Equation {
    terms: Vec<(usize, Exact)>,
    rest: Exact,
}

impl Lattice {
    pub(super) fn new(program: &Program, steps: &[Option<Exact>]) -> Self {
        let mut lattice = Lattice { steps: steps.to_vec() };
        // Every pass makes steps coarser or is the last; a step past the whole leaves only 0, and is coarse enough.
        while lattice.coarsen(program) {}
        lattice
    }

    fn coarsen(&mut self, program: &Program) -> bool {
        let mut changed = false;
        for row in program.rows() {
            let Some(Equation { terms, rest }) = self.equation(program, row) else { continue };
            let [(first, left), (second, right)] = terms.as_slice() else { continue };
            let common = left.common_measure(right);
            if !rest.is_zero() || common.is_zero() {
                continue;
            }
            for (column, other) in [(*first, right), (*second, left)] {
                let factor = other.abs() / &common;
                if let Some(step) = self.steps[column].as_mut().filter(|step| factor > Exact::ONE && **step <= Exact::hundred()) {
                    *step *= &factor;
                    changed = true;
                }
            }
        }
        changed
    }

    /// The row as an equation of whole numbers, if it is one: equal ends, and a step on every column that can move.
    fn equation(&self, program: &Program, row: &Row) -> Option<Equation> {
        let mut rest = row.low.clone().filter(|low| row.high.as_ref() == Some(low))?;
        let mut terms = Vec::new();
        for (index, (coefficient, column)) in row.coefficients.iter().zip(program.columns()).enumerate().filter(|(_, (value, _))| !value.is_zero()) {
            match &column.low {
                Some(low) if column.high.as_ref() == Some(low) => rest -= &(coefficient * low),
                _ => terms.push((index, coefficient * self.steps[index].as_ref()?)),
            }
        }
        Some(Equation { terms, rest })
    }

    /// The first row that no multiples can meet.
    pub(super) fn indivisible(&self, program: &Program) -> Option<usize> {
        program.rows().iter().position(|row| {
            self.equation(program, row).is_some_and(|Equation { terms, rest }| {
                let common = terms.iter().fold(Exact::ZERO, |common, (_, term)| common.common_measure(term));
                match rest.checked_div(&common) {
                    Some(count) => !count.is_whole(),
                    None => !rest.is_zero(),
                }
            })
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::solve::linear::Column;

    fn equation(coefficients: [i64; 3], value: i64) -> Row {
        let value = Some(Exact::from(value));
        Row { coefficients: coefficients.map(Exact::from).to_vec(), low: value.clone(), high: value }
    }

    fn program(rows: Vec<Row>) -> Program {
        let column = Column { low: Some(Exact::ZERO), high: Some(Exact::from(30)), cost: Exact::ZERO };
        Program::new(vec![column; 3], rows).unwrap()
    }

    /// Every whole point that meets the equations stands on the coarser steps, and a row is called indivisible only without any.
    #[test]
    fn loses_no_point() {
        for (left, right, last) in [(2, -3, 4), (4, -6, 7), (5, -1, 3), (6, -4, 1)] {
            for value in [7, 20, 21] {
                let program = program(vec![equation([left, right, 0], 0), equation([0, 2, -last], 0), equation([1, 1, 1], value)]);
                let lattice = Lattice::new(&program, &vec![Some(Exact::ONE); 3]);
                let mut points = 0;
                for point in (0..31i64).flat_map(|a| (0..31i64).flat_map(move |b| (0..31i64).map(move |c| [a, b, c]))) {
                    let [a, b, c] = point;
                    if left * a + right * b == 0 && 2 * b == last * c && a + b + c == value {
                        points += 1;
                        for (value, step) in point.iter().zip(&lattice.steps) {
                            assert!(Exact::from(*value).checked_div(step.as_ref().unwrap()).unwrap().is_whole(), "{point:?}");
                        }
                    }
                }
                if lattice.indivisible(&program).is_some() {
                    assert_eq!(points, 0);
                }
            }
        }
    }

    #[test]
    fn names_the_row_that_no_multiples_meet() {
        let program = program(vec![equation([1, 1, 1], 21), equation([2, 4, 6], 7)]);
        assert_eq!(Lattice::new(&program, &vec![Some(Exact::ONE); 3]).indivisible(&program), Some(1));
        assert_eq!(Lattice::new(&program, &vec![Some(Exact::ratio(1, 2)); 3]).indivisible(&program), None);
        assert_eq!(Lattice::new(&program, &[Some(Exact::ONE), None, None]).indivisible(&program), None);
    }
}
