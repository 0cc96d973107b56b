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
use super::elimination::{System, Unknowns, Unproved};
use super::outcome::{Farkas, Optimum};
use super::program::Program;
use super::scaled::{Ends, Scaled};
use super::whole::Whole;
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
    let full = Unproved::Overflow;
    let value_denominator = values.denominator.times(&scaled.end_factor).ok_or(full)?;
    let multiplier_denominator = denominator.times(&scaled.cost_factor).ok_or(full)?;
    let objective = dot(&scaled.costs, &values.numerators)?;
    let column_values =
        program.columns().iter().zip(&values.numerators).enumerate().map(|(index, (column, numerator))| {
            match basis.column(index) {
                Place::Basic => fraction(numerator, &value_denominator),
                Place::Low => column.low.clone().unwrap_or_default(),
                Place::High => column.high.clone().unwrap_or_default(),
            }
        });
    let values = column_values.collect();
    let mut row_multipliers = vec![Exact::ZERO; scaled.row_factors.len()];
    for (&row, multiplier) in standing.standing.iter().zip(&rows).filter(|(_, multiplier)| !multiplier.is_nought()) {
        row_multipliers[row] =
            fraction(&multiplier.times(&scaled.row_factors[row]).ok_or(full)?, &multiplier_denominator);
    }
    Ok(Optimum {
        values,
        row_multipliers,
        reduced_costs: columns.iter().map(|numerator| fraction(numerator, &multiplier_denominator)).collect(),
        objective: fraction(&objective, &value_denominator.times(&scaled.cost_factor).ok_or(full)?),
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
    let full = Unproved::Overflow;
    let standing = Standing::new(scaled, basis)?;
    let size = standing.basic.len();
    let mut system = standing.system(1, true);
    for (place, &column) in standing.basic.iter().enumerate() {
        let side = if variable < scaled.columns {
            if variable == column { T::ONE } else { T::ZERO }
        } else {
            scaled.row(variable - scaled.columns)[column].clone()
        };
        system.set(place, size, side);
    }
    let Unknowns { numerators, denominator } = system.solve()?.remove(0);
    // The variable is `numerators . activities / denominator` and what the standing columns bring. Below its low end,
    // that form asks for too little: it is used turned round.
    let turned = |numerator: T, turn: bool| if turn { numerator.negated().ok_or(full) } else { Ok(numerator) };
    let mut multipliers = vec![T::ZERO; scaled.row_factors.len()];
    for (&row, numerator) in standing.standing.iter().zip(numerators) {
        multipliers[row] = turned(numerator, below)?;
    }
    if variable >= scaled.columns {
        multipliers[variable - scaled.columns] = turned(denominator, !below)?;
    }
    standing.check_gap(&multipliers)?;
    let row_multipliers = multipliers.iter().zip(&scaled.row_factors).map(|(multiplier, factor)| {
        if multiplier.is_nought() {
            Some(Exact::ZERO)
        } else {
            multiplier.times(factor).map(|product| fraction(&product, &T::ONE))
        }
    });
    Ok(Farkas { row_multipliers: row_multipliers.collect::<Option<_>>().ok_or(full)?, crossing: None })
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
        if basic.len() == standing.len() {
            Ok(Standing { scaled, basis, basic, standing })
        } else {
            Err(Unproved::Refused)
        }
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
        let full = Unproved::Overflow;
        let mut at_end = vec![T::ZERO; self.scaled.columns];
        for (column, ends) in self.scaled.column_ends.iter().enumerate() {
            if let Some(end) = end(self.basis.column(column), ends)? {
                at_end[column] = end;
            }
        }
        let mut system = self.system(1, false);
        for (place, &row) in self.standing.iter().enumerate() {
            let end = end(self.basis.row(row), &self.scaled.row_ends[row])?.ok_or(Unproved::Refused)?;
            let brought = dot(self.scaled.row(row), &at_end)?;
            system.set(place, self.basic.len(), end.minus(&brought).ok_or(full)?);
        }
        let Unknowns { numerators, denominator } = system.solve()?.remove(0);
        let mut values = at_end;
        if denominator != T::ONE {
            for value in values.iter_mut().filter(|value| !value.is_nought()) {
                *value = value.times(&denominator).ok_or(full)?;
            }
        }
        for (&column, numerator) in self.basic.iter().zip(numerators) {
            values[column] = numerator;
        }
        Ok(Unknowns { numerators: values, denominator })
    }

    /// That every basic variable is in its range.
    fn check_ranges(&self, values: &Unknowns<T>) -> Result<(), Unproved> {
        for &column in &self.basic {
            within(&values.numerators[column], &self.scaled.column_ends[column], &values.denominator)?;
        }
        for row in self.basis.basic_rows() {
            within(&dot(self.scaled.row(row), &values.numerators)?, &self.scaled.row_ends[row], &values.denominator)?;
        }
        Ok(())
    }

    /// The multipliers, if each has the sign of its end.
    fn multipliers(&self) -> Result<Multipliers<T>, Unproved> {
        let full = Unproved::Overflow;
        let mut system = self.system(1, true);
        for (place, &column) in self.basic.iter().enumerate() {
            system.set(place, self.basic.len(), self.scaled.costs[column].clone());
        }
        let Unknowns { numerators: rows, denominator } = system.solve()?.remove(0);
        let mut undecided = Vec::new();
        let mut columns = Vec::with_capacity(self.scaled.columns);
        for cost in &self.scaled.costs {
            columns.push(if cost.is_nought() { T::ZERO } else { cost.times(&denominator).ok_or(full)? });
        }
        for (&row, multiplier) in self.standing.iter().zip(&rows).filter(|(_, multiplier)| !multiplier.is_nought()) {
            for (sum, coefficient) in
                columns.iter_mut().zip(self.scaled.row(row)).filter(|(_, coefficient)| !coefficient.is_nought())
            {
                *sum = sum.minus(&coefficient.times(multiplier).ok_or(full)?).ok_or(full)?;
            }
        }
        for (column, reduced) in
            columns.iter().enumerate().filter(|(column, _)| self.basis.column(*column) != Place::Basic)
        {
            if self.is_undecided(reduced, self.basis.column(column), &self.scaled.column_ends[column])? {
                undecided.push(column);
            }
        }
        for (&row, multiplier) in self.standing.iter().zip(&rows) {
            if self.is_undecided(multiplier, self.basis.row(row), &self.scaled.row_ends[row])? {
                undecided.push(self.scaled.columns + row);
            }
        }
        Ok(Multipliers { rows, columns, denominator, undecided })
    }

    /// Whether a standing variable could move at no cost; refused where it would lessen the cost. One that cannot move
    /// is used by either end.
    fn is_undecided(&self, multiplier: &T, place: Place, ends: &Ends<T>) -> Result<bool, Unproved> {
        if ends.are_equal() {
            return Ok(false);
        }
        if multiplier.is_nought() {
            return Ok(true);
        }
        if multiplier.is_below_nought() == (place == Place::High) { Ok(false) } else { Err(Unproved::Refused) }
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
        for &column in order {
            match wanted.iter().position(|(basic, _)| *basic == column) {
                // Moving inwards from its low end it grows, from its high end it does not.
                None if self.basis.column(column) == Place::High && undecided.contains(&column) => {
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
        let full = Unproved::Overflow;
        sums.fill(T::ZERO);
        for (&row, multiplier) in
            self.standing.iter().zip(&form.numerators).filter(|(_, multiplier)| !multiplier.is_nought())
        {
            for &column in undecided.iter().take_while(|&&variable| variable < self.scaled.columns) {
                let coefficient = &self.scaled.row(row)[column];
                if !coefficient.is_nought() {
                    sums[column] = sums[column].minus(&coefficient.times(multiplier).ok_or(full)?).ok_or(full)?;
                }
            }
        }
        let mut refused = false;
        undecided.retain(|&variable| {
            let (change, place) = if variable < self.scaled.columns {
                (&sums[variable], self.basis.column(variable))
            } else {
                let row = variable - self.scaled.columns;
                let place = self.standing.partition_point(|&standing| standing < row);
                (&form.numerators[place], self.basis.row(row))
            };
            refused |= !change.is_nought() && change.is_below_nought() != (place == Place::High);
            change.is_nought()
        });
        if refused { Err(Unproved::Refused) } else { Ok(()) }
    }

    /// That the rows with these multipliers ask for more than the columns reach.
    fn check_gap(&self, multipliers: &[T]) -> Result<(), Unproved> {
        let full = Unproved::Overflow;
        let mut gap = T::ZERO;
        let mut shares = vec![T::ZERO; self.scaled.columns];
        for (row, multiplier) in multipliers.iter().enumerate().filter(|(_, multiplier)| !multiplier.is_nought()) {
            let ends = &self.scaled.row_ends[row];
            let end = if multiplier.is_below_nought() { &ends.high } else { &ends.low };
            gap = gap.plus(&end.as_ref().ok_or(Unproved::Refused)?.times(multiplier).ok_or(full)?).ok_or(full)?;
            for (share, coefficient) in
                shares.iter_mut().zip(self.scaled.row(row)).filter(|(_, coefficient)| !coefficient.is_nought())
            {
                *share = share.plus(&coefficient.times(multiplier).ok_or(full)?).ok_or(full)?;
            }
        }
        for (share, ends) in shares.iter().zip(&self.scaled.column_ends).filter(|(share, _)| !share.is_nought()) {
            let end = if share.is_below_nought() { &ends.low } else { &ends.high };
            gap = gap.minus(&end.as_ref().ok_or(Unproved::Refused)?.times(share).ok_or(full)?).ok_or(full)?;
        }
        if gap > T::ZERO { Ok(()) } else { Err(Unproved::Refused) }
    }
}

/// The end at which a variable stands; none for a basic one.
fn end<T: Whole>(place: Place, ends: &Ends<T>) -> Result<Option<T>, Unproved> {
    let end = match place {
        Place::Basic => return Ok(None),
        Place::Low => &ends.low,
        Place::High => &ends.high,
    };
    end.clone().ok_or(Unproved::Refused).map(Some)
}

fn within<T: Whole>(numerator: &T, ends: &Ends<T>, denominator: &T) -> Result<(), Unproved> {
    let scaled = |end: &T| end.times(denominator).ok_or(Unproved::Overflow);
    if let Some(low) = &ends.low
        && *numerator < scaled(low)?
    {
        return Err(Unproved::Refused);
    }
    if let Some(high) = &ends.high
        && *numerator > scaled(high)?
    {
        return Err(Unproved::Refused);
    }
    Ok(())
}

fn dot<T: Whole>(coefficients: &[T], values: &[T]) -> Result<T, Unproved> {
    let full = Unproved::Overflow;
    let mut sum = T::ZERO;
    for (coefficient, value) in
        coefficients.iter().zip(values).filter(|(coefficient, value)| !coefficient.is_nought() && !value.is_nought())
    {
        sum = sum.plus(&coefficient.times(value).ok_or(full)?).ok_or(full)?;
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
