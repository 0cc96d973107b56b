//! From a basis to an optimum or an infeasibility that holds exactly, or the news that the basis is not what it was
//! taken for.
//!
//! With `B` the basic columns, `R` the rows that stand at an end and `M` the square matrix of `R` and `B`:
//!
//! ```text
//! values        M x_B = ends of R - what the standing columns bring     feasible if all values and activities are in their ranges
//! multipliers   y M = costs of B,  d = c - y A                          optimal if each has the sign of the end where its variable stands
//! ```
//!
//! Only `M` is eliminated; it has a row for each requirement that holds with equality and no more. Where a multiplier
//! is 0 and its variable could move, the point need not be the only one of least cost. Then the rows of the inverse of
//! `M` say how the columns of the order change as that variable moves inwards: the first one that changes has to grow.

use super::basis::{Basis, Place};
use super::elimination::{System, Unknowns};
use super::outcome::{Farkas, Optimum};
use super::program::Program;
use super::scaled::{Ends, Scaled};
use super::whole::{Unproved, Whole};
use crate::exact::Exact;

/// A basis of a program, with the lists that follow from it.
struct Standing<'a, T> {
    scaled: &'a Scaled<T>,
    basis: &'a Basis,
    basic: Vec<usize>,
    standing: Vec<usize>,
}

/// The optimum at this basis, if it is one, and the first in the order if `order` is not empty.
pub(super) fn optimum<T: Whole>(
    program: &Program,
    scaled: &Scaled<T>,
    basis: &Basis,
    order: &[usize],
    pivots: usize,
) -> Result<Optimum, Unproved> {
    let standing = Standing::new(scaled, basis)?;
    let values = standing.values()?;
    standing.check_ranges(&values)?;
    let Multipliers { rows, columns, denominator, undecided } = standing.multipliers()?;
    if !undecided.is_empty() && !order.is_empty() {
        standing.check_order(undecided.clone(), order)?;
    }
    let value_denominator = values.denominator.times(&scaled.end_factor)?;
    let multiplier_denominator = denominator.times(&scaled.cost_factor)?;
    let objective = dot(&scaled.costs, &values.numerators)?;
    let column_values =
        program.columns().iter().zip(&values.numerators).enumerate().map(|(index, (column, numerator))| {
            match basis.place(index) {
                Place::Basic => fraction(numerator, &value_denominator),
                Place::Low => column.low.clone().unwrap_or_default(),
                Place::High => column.high.clone().unwrap_or_default(),
            }
        });
    let values = column_values.collect();
    let mut row_multipliers = vec![Exact::ZERO; scaled.row_factors.len()];
    for (&row, multiplier) in standing.standing.iter().zip(&rows) {
        row_multipliers[row] = fraction(&multiplier.times(&scaled.row_factors[row])?, &multiplier_denominator);
    }
    Ok(Optimum {
        values,
        row_multipliers,
        reduced_costs: columns.iter().map(|numerator| fraction(numerator, &multiplier_denominator)).collect(),
        objective: fraction(&objective, &value_denominator.times(&scaled.cost_factor)?),
        unique: undecided.is_empty(),
        pivots,
    })
}

/// The combination of rows by which `variable`, basic here, cannot come into its range.
pub(super) fn infeasibility<T: Whole>(
    scaled: &Scaled<T>,
    basis: &Basis,
    variable: usize,
    below: bool,
) -> Result<Farkas, Unproved> {
    let standing = Standing::new(scaled, basis)?;
    let size = standing.basic.len();
    let itself = variable.checked_sub(scaled.columns);
    let mut system = standing.system(1, true);
    for (place, &column) in standing.basic.iter().enumerate() {
        let side = match itself {
            Some(row) => scaled.row(row)[column].clone(),
            None if variable == column => T::ONE,
            None => T::ZERO,
        };
        system.set(place, size, side);
    }
    let Unknowns { numerators, denominator } = system.solve()?.remove(0);
    // The variable is `numerators . activities / denominator` and what the standing columns bring. Below its low end,
    // that form asks for too little: it is used turned round.
    let turned = |numerator: T, turn: bool| if turn { T::ZERO.minus(&numerator) } else { Ok(numerator) };
    let mut multipliers = vec![T::ZERO; scaled.row_factors.len()];
    for (&row, numerator) in standing.standing.iter().zip(numerators) {
        multipliers[row] = turned(numerator, below)?;
    }
    if let Some(row) = itself {
        multipliers[row] = turned(denominator, !below)?;
    }
    standing.check_gap(&multipliers)?;
    let row_multipliers = multipliers
        .iter()
        .zip(&scaled.row_factors)
        .map(|(multiplier, factor)| Ok(fraction(&multiplier.times(factor)?, &T::ONE)));
    Ok(Farkas { row_multipliers: row_multipliers.collect::<Result<_, _>>()?, crossing: None })
}

/// Multipliers of the standing rows and of every column over one denominator, and the variables that could move at no
/// cost.
struct Multipliers<T> {
    rows: Vec<T>,
    columns: Vec<T>,
    denominator: T,
    undecided: Vec<usize>,
}

impl<'a, T: Whole> Standing<'a, T> {
    fn new(scaled: &'a Scaled<T>, basis: &'a Basis) -> Result<Self, Unproved> {
        let (basic, standing) = (basis.basic_columns(), basis.nonbasic_rows());
        holds(basic.len() == standing.len())?;
        Ok(Standing { scaled, basis, basic, standing })
    }

    /// `M`, or `M` turned over, with room for right-hand sides.
    fn system(&self, sides: usize, turned: bool) -> System<T> {
        let mut system = System::new(self.basic.len(), sides);
        for (place, &row) in self.standing.iter().enumerate() {
            let coefficients = self.scaled.row(row);
            for (side, &column) in
                self.basic.iter().enumerate().filter(|(_, column)| !coefficients[**column].is_nought())
            {
                let (row, side) = if turned { (side, place) } else { (place, side) };
                system.set(row, side, coefficients[column].clone());
            }
        }
        system
    }

    /// The value of every column.
    fn values(&self) -> Result<Unknowns<T>, Unproved> {
        let mut values = vec![T::ZERO; self.scaled.columns];
        for (column, value) in values.iter_mut().enumerate() {
            if self.basis.place(column) != Place::Basic {
                *value = self.end(column)?.clone();
            }
        }
        let mut system = self.system(1, false);
        for (place, &row) in self.standing.iter().enumerate() {
            let end = self.end(self.scaled.columns + row)?;
            system.set(place, self.basic.len(), end.minus(&dot(self.scaled.row(row), &values)?)?);
        }
        let Unknowns { numerators, denominator } = system.solve()?.remove(0);
        if denominator != T::ONE {
            for value in &mut values {
                *value = value.times(&denominator)?;
            }
        }
        for (&column, numerator) in self.basic.iter().zip(numerators) {
            values[column] = numerator;
        }
        Ok(Unknowns { numerators: values, denominator })
    }

    /// The end at which a variable stands.
    fn end(&self, variable: usize) -> Result<&T, Unproved> {
        let Ends { low, high } = &self.scaled.ends[variable];
        let end = match self.basis.place(variable) {
            Place::Basic => &None,
            Place::Low => low,
            Place::High => high,
        };
        end.as_ref().ok_or(Unproved::Refused)
    }

    /// That every basic variable is in its range.
    fn check_ranges(&self, values: &Unknowns<T>) -> Result<(), Unproved> {
        for (variable, ends) in self.scaled.ends.iter().enumerate() {
            if self.basis.place(variable) == Place::Basic {
                let activity;
                let value = match variable.checked_sub(self.scaled.columns) {
                    None => &values.numerators[variable],
                    Some(row) => {
                        activity = dot(self.scaled.row(row), &values.numerators)?;
                        &activity
                    }
                };
                within(value, ends, &values.denominator)?;
            }
        }
        Ok(())
    }

    /// The multipliers, if each has the sign of its end.
    fn multipliers(&self) -> Result<Multipliers<T>, Unproved> {
        let mut system = self.system(1, true);
        for (place, &column) in self.basic.iter().enumerate() {
            system.set(place, self.basic.len(), self.scaled.costs[column].clone());
        }
        let Unknowns { numerators: rows, denominator } = system.solve()?.remove(0);
        let scaled_costs = self.scaled.costs.iter().map(|cost| cost.times(&denominator));
        let mut columns = scaled_costs.collect::<Result<Vec<T>, _>>()?;
        self.less_rows(&mut columns, 0..self.scaled.columns, self.standing.iter().copied().zip(&rows))?;
        let mut undecided = Vec::new();
        let standing = self.standing.iter().map(|row| self.scaled.columns + row);
        for (variable, multiplier) in columns.iter().enumerate().chain(standing.zip(&rows)) {
            if self.is_undecided(variable, multiplier)? {
                undecided.push(variable);
            }
        }
        Ok(Multipliers { rows, columns, denominator, undecided })
    }

    /// Takes from these columns' sums what the rows bring with these multipliers.
    fn less_rows<'m>(
        &self,
        sums: &mut [T],
        columns: impl Iterator<Item = usize> + Clone,
        multipliers: impl Iterator<Item = (usize, &'m T)>,
    ) -> Result<(), Unproved>
    where
        T: 'm,
    {
        for (row, multiplier) in multipliers.filter(|(_, multiplier)| !multiplier.is_nought()) {
            let coefficients = self.scaled.row(row);
            for column in columns.clone().filter(|column| !coefficients[*column].is_nought()) {
                sums[column] = sums[column].minus(&coefficients[column].times(multiplier)?)?;
            }
        }
        Ok(())
    }

    /// Whether a variable could move at no cost; refused where it would lessen the cost. A basic one follows, and one
    /// that cannot move is used by either end.
    fn is_undecided(&self, variable: usize, multiplier: &T) -> Result<bool, Unproved> {
        let (place, Ends { low, high }) = (self.basis.place(variable), &self.scaled.ends[variable]);
        if place == Place::Basic || low.is_some() && low == high {
            return Ok(false);
        }
        let is_nought = multiplier.is_nought();
        holds(is_nought || multiplier.is_below_nought() == (place == Place::High))?;
        Ok(is_nought)
    }

    /// That no move of the undecided variables comes earlier in the order.
    fn check_order(&self, mut undecided: Vec<usize>, order: &[usize]) -> Result<(), Unproved> {
        let size = self.basic.len();
        let wanted: Vec<(usize, usize)> =
            order.iter().filter_map(|&column| Some((column, self.basic.binary_search(&column).ok()?))).collect();
        let mut system = self.system(wanted.len(), true);
        for (side, (_, place)) in wanted.iter().enumerate() {
            system.set(*place, size + side, T::ONE);
        }
        let forms = system.solve()?;
        let mut sums = vec![T::ZERO; self.scaled.columns];
        for &column in order.iter().filter(|&&column| column < self.scaled.columns) {
            match wanted.iter().position(|(basic, _)| *basic == column) {
                // Moving inwards from its low end it grows, from its high end it does not.
                None if self.basis.place(column) == Place::High && undecided.contains(&column) => {
                    return Err(Unproved::Refused);
                }
                None => undecided.retain(|&variable| variable != column),
                Some(form) => self.check_form(&forms[form], &mut undecided, &mut sums)?,
            }
            if undecided.is_empty() {
                return Ok(());
            }
        }
        Ok(())
    }

    /// Leaves those undecided that do not change what this form of the standing variables says; none may lessen it.
    fn check_form(&self, form: &Unknowns<T>, undecided: &mut Vec<usize>, sums: &mut [T]) -> Result<(), Unproved> {
        sums.fill(T::ZERO);
        let columns = undecided.iter().copied().take_while(|&variable| variable < self.scaled.columns);
        self.less_rows(sums, columns, self.standing.iter().copied().zip(&form.numerators))?;
        let mut refused = false;
        undecided.retain(|&variable| {
            let change = match variable.checked_sub(self.scaled.columns) {
                None => &sums[variable],
                Some(row) => &form.numerators[self.standing.partition_point(|&standing| standing < row)],
            };
            let is_high = self.basis.place(variable) == Place::High;
            refused |= !change.is_nought() && change.is_below_nought() != is_high;
            change.is_nought()
        });
        holds(!refused)
    }

    /// That the rows with these multipliers ask for more than the columns reach.
    fn check_gap(&self, multipliers: &[T]) -> Result<(), Unproved> {
        // Less what the rows ask of each column: it is reached by the end by which a row with that multiplier asks.
        let mut shares = vec![T::ZERO; self.scaled.columns];
        self.less_rows(&mut shares, 0..self.scaled.columns, multipliers.iter().enumerate())?;
        let (columns, rows) = self.scaled.ends.split_at(self.scaled.columns);
        let mut gap = T::ZERO;
        for (multiplier, ends) in multipliers.iter().zip(rows).chain(shares.iter().zip(columns)) {
            if !multiplier.is_nought() {
                let end = if multiplier.is_below_nought() { &ends.high } else { &ends.low };
                gap = gap.plus(&end.as_ref().ok_or(Unproved::Refused)?.times(multiplier)?)?;
            }
        }
        holds(gap > T::ZERO)
    }
}

fn holds(condition: bool) -> Result<(), Unproved> {
    if condition { Ok(()) } else { Err(Unproved::Refused) }
}

fn within<T: Whole>(numerator: &T, ends: &Ends<T>, denominator: &T) -> Result<(), Unproved> {
    if let Some(low) = &ends.low {
        holds(*numerator >= low.times(denominator)?)?;
    }
    if let Some(high) = &ends.high {
        holds(*numerator <= high.times(denominator)?)?;
    }
    Ok(())
}

fn dot<T: Whole>(coefficients: &[T], values: &[T]) -> Result<T, Unproved> {
    let mut sum = T::ZERO;
    for (coefficient, value) in
        coefficients.iter().zip(values).filter(|(coefficient, value)| !coefficient.is_nought() && !value.is_nought())
    {
        sum = sum.plus(&coefficient.times(value)?)?;
    }
    Ok(sum)
}

/// `numerator / denominator`, the denominator above 0.
fn fraction<T: Whole>(numerator: &T, denominator: &T) -> Exact {
    if numerator.is_nought() {
        return Exact::ZERO;
    }
    let common = numerator.common(denominator);
    T::fraction(&numerator.over(&common), &denominator.over(&common))
}
