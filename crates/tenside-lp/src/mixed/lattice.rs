//! What the equations of a program leave of the multiples of the steps.
//!
//! With `x_j = s_j k_j` an equation of two lines without a constant, `a s_1 k_1 + b s_2 k_2 = 0`, has only the
//! solutions with `k_1` a multiple of `|b s_2| / g` and `k_2` one of `|a s_1| / g`, `g` being the greatest common
//! measure of `a s_1` and `b s_2`. And `sum a_j s_j k_j = r` has a solution in whole numbers only if the greatest
//! common measure of the `a_j s_j` goes into `r` (Bezout).
//!
//! A target of 58 % reads `sum (a_j - 58) x_j = 0`, which hides that. So every equation is also looked at less a
//! multiple of the first row (the lines sum to 100), such that the coefficient that stands most often becomes 0:
//! `sum a_j x_j = 5800`.

use crate::exact::Exact;
use crate::linear::{Program, Row};

/// The steps that the equations leave.
pub(super) struct Lattice {
    pub(super) steps: Vec<Option<Exact>>,
}

/// An equation with the columns that can move, each with its coefficient times its step, and the rest of the equation.
type Equation = (Vec<(usize, Exact)>, Exact);

impl Lattice {
    pub(super) fn new(program: &Program, steps: &[Option<Exact>]) -> Self {
        let mut lattice = Lattice { steps: steps.to_vec() };
        // Every pass makes steps coarser or is the last; a step past the whole leaves only 0, and is coarse enough.
        while lattice.coarsen(program) {}
        lattice
    }

    fn coarsen(&mut self, program: &Program) -> bool {
        let mut changed = false;
        for (_, row) in equations(program) {
            let Some((terms, rest)) = self.equation(program, &row) else { continue };
            let [(first, left), (second, right)] = terms.as_slice() else { continue };
            let common = left.common_measure(right);
            if !rest.is_zero() || common.is_zero() {
                continue;
            }
            for (column, other) in [(*first, right), (*second, left)] {
                let factor = other.abs() / &common;
                if let Some(step) =
                    self.steps[column].as_mut().filter(|step| factor > Exact::ONE && **step <= Exact::hundred())
                {
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
        for (index, (coefficient, column)) in
            row.coefficients.iter().zip(program.columns()).enumerate().filter(|(_, (value, _))| !value.is_zero())
        {
            match &column.low {
                Some(low) if column.high.as_ref() == Some(low) => rest -= coefficient * low,
                _ => terms.push((index, coefficient * self.steps[index].as_ref()?)),
            }
        }
        Some((terms, rest))
    }

    /// The first row that no multiples can meet.
    pub(super) fn indivisible(&self, program: &Program) -> Option<usize> {
        let unmet = |row: &Row| {
            self.equation(program, row).is_some_and(|(terms, rest)| {
                let common = terms.iter().fold(Exact::ZERO, |common, (_, term)| common.common_measure(term));
                !rest.is_multiple_of(&common)
            })
        };
        equations(program).into_iter().find(|(_, row)| unmet(row)).map(|(index, _)| index)
    }
}

/// The equations of a program by their place, each as it stands and, where that says something else, less a multiple of
/// the first row.
fn equations(program: &Program) -> Vec<(usize, Row)> {
    let is_equation = |row: &&Row| row.low.is_some() && row.low == row.high;
    let first = program.rows().first().filter(is_equation);
    let mut found = Vec::new();
    for (index, row) in program.rows().iter().enumerate().filter(|(_, row)| is_equation(row)) {
        found.push((index, row.clone()));
        let Some(first) = first.filter(|_| index > 0) else { continue };
        let usual = most_frequent(program, row, first);
        if usual.is_zero() {
            continue;
        }
        let coefficients = row
            .coefficients
            .iter()
            .zip(&first.coefficients)
            .map(|(coefficient, unit)| coefficient - &usual * unit)
            .collect();
        let less =
            |end: &Option<Exact>, of: &Option<Exact>| end.as_ref().zip(of.as_ref()).map(|(end, of)| end - &usual * of);
        found.push((index, Row { coefficients, low: less(&row.low, &first.low), high: less(&row.high, &first.high) }));
    }
    found
}

/// The coefficient that most columns of the first row have in this row, per unit there; columns that cannot move do not
/// count.
fn most_frequent(program: &Program, row: &Row, first: &Row) -> Exact {
    let mut counts: Vec<(Exact, usize)> = Vec::new();
    for ((coefficient, unit), column) in row.coefficients.iter().zip(&first.coefficients).zip(program.columns()) {
        if let Some(value) = coefficient.checked_div(unit).filter(|_| column.low != column.high) {
            match counts.iter_mut().find(|(known, _)| *known == value) {
                Some((_, count)) => *count += 1,
                None => counts.push((value, 1)),
            }
        }
    }
    // The first among equals.
    counts.into_iter().rev().max_by_key(|(_, count)| *count).map_or(Exact::ZERO, |(value, _)| value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::linear::Column;

    fn equation(coefficients: [i64; 3], value: i64) -> Row {
        let value = Some(Exact::from(value));
        Row { coefficients: coefficients.map(Exact::from).to_vec(), low: value.clone(), high: value }
    }

    fn program(rows: Vec<Row>) -> Program {
        let column = Column { low: Some(Exact::ZERO), high: Some(Exact::from(30)), cost: Exact::ZERO };
        Program::new(vec![column; 3], rows).unwrap()
    }

    /// Every whole point that meets the equations stands on the coarser steps, and a row is called indivisible only
    /// without any.
    #[test]
    fn loses_no_point() {
        for (left, right, last) in [(2, -3, 4), (4, -6, 7), (5, -1, 3), (6, -4, 1)] {
            for value in [7, 20, 21] {
                let program = program(vec![
                    equation([1, 1, 1], value),
                    equation([left, right, 0], 0),
                    equation([0, 2, -last], 0),
                    equation([left + 1, right + 1, 1], value),
                ]);
                let lattice = Lattice::new(&program, &vec![Some(Exact::ONE); 3]);
                let mut points = 0;
                for point in (0..31i64).flat_map(|a| (0..31i64).flat_map(move |b| (0..31i64).map(move |c| [a, b, c]))) {
                    let [a, b, c] = point;
                    if left * a + right * b == 0 && 2 * b == last * c && a + b + c == value {
                        points += 1;
                        for (value, step) in point.iter().zip(&lattice.steps) {
                            assert!(
                                Exact::from(*value).checked_div(step.as_ref().unwrap()).unwrap().is_whole(),
                                "{point:?}"
                            );
                        }
                    }
                }
                if lattice.indivisible(&program).is_some() {
                    assert_eq!(points, 0);
                }
            }
        }
    }

    /// 26 a + 35 b - 28 c = 0 has whole solutions; with a + b + c = 100 it is 9 b - 54 c = -2600, which has none.
    #[test]
    fn sees_through_a_target() {
        let alone = program(vec![equation([26, 35, -28], 0)]);
        assert_eq!(Lattice { steps: vec![Some(Exact::ONE); 3] }.indivisible(&alone), None);
        let summed = program(vec![equation([1, 1, 1], 100), equation([26, 35, -28], 0)]);
        assert_eq!(Lattice { steps: vec![Some(Exact::ONE); 3] }.indivisible(&summed), Some(1));
    }

    #[test]
    fn names_the_row_that_no_multiples_meet() {
        let program = program(vec![equation([1, 1, 1], 21), equation([2, 4, 6], 7)]);
        assert_eq!(Lattice::new(&program, &vec![Some(Exact::ONE); 3]).indivisible(&program), Some(1));
        assert_eq!(Lattice::new(&program, &vec![Some(Exact::ratio(1, 2)); 3]).indivisible(&program), None);
        assert_eq!(Lattice::new(&program, &[Some(Exact::ONE), None, None]).indivisible(&program), None);
    }

    /// Of two lines as 14 to 5 in steps of a half, multiples of 7 and of 2.5 are left; a fixed line in the equation
    /// changes nothing of that where it brings nothing.
    #[test]
    fn an_equation_of_two_lines_makes_steps_coarser() {
        let half = vec![Some(Exact::ratio(1, 2)); 3];
        let lattice = Lattice::new(&program(vec![equation([5, -14, 0], 0)]), &half);
        assert_eq!(lattice.steps, [Some(Exact::from(7)), Some(Exact::ratio(5, 2)), Some(Exact::ratio(1, 2))]);
        let lattice = Lattice::new(&program(vec![equation([5, -14, 0], 7)]), &half);
        assert_eq!(lattice.steps, half, "with a constant, other multiples are left");
    }

    fn with_fixed(row: Row, lows: [i64; 3], highs: [i64; 3]) -> Program {
        let column = |(low, high): (i64, i64)| Column {
            low: Some(Exact::from(low)),
            high: Some(Exact::from(high)),
            cost: Exact::ZERO,
        };
        Program::new(lows.into_iter().zip(highs).map(column).collect(), vec![row]).unwrap()
    }

    /// What lines that cannot move bring is taken off first; then the greatest common measure alone decides (Bezout),
    /// and the ranges here are wide enough for it.
    #[test]
    fn fixed_lines_are_taken_off_before_the_rest_is_divided() {
        let whole = vec![Some(Exact::ONE); 3];
        let (mut met, mut unmet) = (0, 0);
        for (last, coefficient, value) in
            (0..4).flat_map(|last| (1..4).flat_map(move |factor| (-3..9).map(move |value| (last, factor, value))))
        {
            let program = with_fixed(equation([6, -9, coefficient], value), [-30, -30, last], [30, 30, last]);
            let none = (-30..31).all(|a| (-30..31).all(|b| 6 * a - 9 * b + coefficient * last != value));
            assert_eq!(
                Lattice { steps: whole.clone() }.indivisible(&program).is_some(),
                none,
                "6 a - 9 b + {coefficient} {last} = {value}"
            );
            if none { unmet += 1 } else { met += 1 }
        }
        assert!(met > 20 && unmet > 20);
        for (value, broken) in [(14, None), (15, Some(0))] {
            let program = with_fixed(equation([1, 2, 3], value), [1, 2, 3], [1, 2, 3]);
            assert_eq!(Lattice { steps: whole.clone() }.indivisible(&program), broken, "1 + 4 + 9 = {value}");
        }
    }

    /// With the sum of the lines as first row: a row is called indivisible only where no whole point meets both, and
    /// what is left of the steps loses no such point.
    #[test]
    fn no_point_of_two_equations_is_lost() {
        let (mut closed, mut coarser) = (0, 0);
        for (sum, left, right) in
            (5..9).flat_map(|sum| (-6..7).flat_map(move |left| (-6..7).map(move |right| (sum, left, right))))
        {
            for (last, value) in [(left, 5), (left, 0), (right + 4, 7), (0, 0)] {
                let program = program(vec![equation([1, 1, 1], sum), equation([left, right, last], value)]);
                let lattice = Lattice::new(&program, &vec![Some(Exact::ONE); 3]);
                let points = (0..=sum)
                    .flat_map(|a| (0..=sum - a).map(move |b| [a, b, sum - a - b]))
                    .filter(|[a, b, c]| left * a + right * b + last * c == value);
                let points: Vec<[i64; 3]> = points.collect();
                for (value, step) in points.iter().flat_map(|point| point.iter().zip(&lattice.steps)) {
                    assert!(
                        Exact::from(*value).checked_div(step.as_ref().unwrap()).unwrap().is_whole(),
                        "{sum} {left} {right} {last}"
                    );
                }
                coarser += usize::from(lattice.steps.iter().any(|step| *step != Some(Exact::ONE)));
                if lattice.indivisible(&program).is_some() {
                    closed += 1;
                    assert!(points.is_empty(), "{sum} {left} {right} {last} {value}");
                }
            }
        }
        assert!(closed > 100 && coarser > 100, "{closed} {coarser}");
    }
}
