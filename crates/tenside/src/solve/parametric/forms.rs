//! Quantities of a basis as polynomials in the parameters.
//!
//! By Cramer's rule every value, multiplier and entry of a dictionary is a quotient of determinants over `D = det M`,
//! with `M` the matrix of the basis. Along directions that each move one row, one column, the costs or one end, such a
//! determinant is of the first degree in each direction, and of the first degree together in those that move the same.
//! So exact evaluations at a few points settle its coefficients: one for each product of directions of which no two
//! move the same. (A row that is basic is a row more, and its activity the determinant of the matrix bordered by it.)

use tenside_lp::{Basis, Place};

use super::basis_at::BasisAt;
use super::program::ParametricProgram;
use crate::number::Exact;

/// A polynomial of the first degree in every direction: the coefficient at place `mask` belongs to the product of the
/// directions whose bits are set.
pub(crate) type Form = Vec<Exact>;

/// Between which offsets forms are evaluated, one pair for each direction; the first is that of the point itself.
pub(crate) type Span = Vec<(Exact, Exact)>;

/// A basis at as many points as settle a form.
pub(super) struct Forms<'a> {
    pub(super) basis: &'a Basis,
    pub(super) columns: usize,
    rows: usize,
    span: &'a Span,
    /// Bit `k` of a mask is set where direction `k` stands at its second offset.
    points: Vec<(usize, BasisAt)>,
    /// Makes the denominator 1 at the first point.
    factor: Exact,
}

impl<'a> Forms<'a> {
    /// `None` if the matrix of the basis is singular at one of the points.
    pub(super) fn new(program: &ParametricProgram, basis: &'a Basis, span: &'a Span) -> Option<Self> {
        let groups = program.groups();
        let is_product = |mask: &usize| {
            let within = |direction: &usize| mask >> direction & 1 == 1;
            let set: Vec<usize> = (0..span.len()).filter(within).collect();
            set.iter().enumerate().all(|(place, one)| set[..place].iter().all(|other| groups[*one] != groups[*other]))
        };
        let mut points = Vec::new();
        for mask in (0..1usize << span.len()).filter(is_product) {
            let offset = |(direction, (first, second)): (usize, &(Exact, Exact))| {
                if mask >> direction & 1 == 0 { first.clone() } else { second.clone() }
            };
            let offsets: Vec<Exact> = span.iter().enumerate().map(offset).collect();
            points.push((mask, BasisAt::new(program.at(&offsets), basis)?));
        }
        let (_, first) = points.first()?;
        let (columns, rows) = (first.program.columns().len(), first.program.rows().len());
        let factor = first.determinant.reciprocal()?;
        Some(Forms { basis, columns, rows, span, points, factor })
    }

    /// The polynomial of a quantity times the denominator.
    pub(super) fn form(&self, quantity: impl Fn(&BasisAt) -> Exact) -> Form {
        self.interpolated(self.points.iter().map(|(_, at)| quantity(at)))
    }

    /// The same where the quantity may be absent.
    pub(super) fn form_of(&self, quantity: impl Fn(&BasisAt) -> Option<Exact>) -> Option<Form> {
        let values: Option<Vec<Exact>> = self.points.iter().map(|(_, at)| quantity(at)).collect();
        values.map(|values| self.interpolated(values.into_iter()))
    }

    fn interpolated(&self, quantities: impl Iterator<Item = Exact>) -> Form {
        let mut form = vec![Exact::ZERO; 1 << self.span.len()];
        for ((mask, at), quantity) in self.points.iter().zip(quantities) {
            if !quantity.is_zero() {
                form[*mask] = quantity * &at.determinant * &self.factor;
            }
        }
        // Differences, then rates, about the point itself.
        for (direction, (first, second)) in self.span.iter().enumerate() {
            let width = second - first;
            for (mask, _) in self.points.iter().filter(|(mask, _)| mask >> direction & 1 == 1) {
                let rate = &form[*mask] - &form[mask ^ 1 << direction];
                form[*mask] = if rate.is_zero() { rate } else { rate / &width };
            }
        }
        // About the origin of the offsets.
        for (direction, (first, _)) in self.span.iter().enumerate().filter(|(_, (first, _))| !first.is_zero()) {
            for (mask, _) in self.points.iter().filter(|(mask, _)| mask >> direction & 1 == 1) {
                if !form[*mask].is_zero() {
                    let moved = &form[*mask] * first;
                    form[mask ^ 1 << direction] -= &moved;
                }
            }
        }
        form
    }

    /// Every variable that stands at an end.
    pub(super) fn nonbasic(&self) -> impl Iterator<Item = usize> {
        (0..self.columns + self.rows).filter(|variable| self.basis.place(*variable) != Place::Basic)
    }

    /// True where a variable cannot move, wherever the parameters stand.
    pub(super) fn is_fixed(&self, variable: usize) -> bool {
        self.points.iter().all(|(_, at)| at.end(variable, false).is_some_and(|low| at.end(variable, true) == Some(low)))
    }

    /// For every end of every variable, how far the variable is inside it.
    pub(super) fn slacks(&self) -> Vec<(Form, usize, bool)> {
        let mut slacks = Vec::new();
        for variable in 0..self.columns + self.rows {
            // Worked out once for both ends.
            let activities: Vec<Exact> = self.points.iter().map(|(_, at)| at.activity(variable)).collect();
            for upper in [false, true] {
                let ends: Option<Vec<Exact>> = self.points.iter().map(|(_, at)| at.end(variable, upper)).collect();
                let Some(ends) = ends else { continue };
                let inside = |(end, activity): (&Exact, &Exact)| if upper { end - activity } else { activity - end };
                slacks.push((self.interpolated(ends.iter().zip(&activities).map(inside)), variable, upper));
            }
        }
        slacks
    }

    /// Of a nonbasic variable that moves inwards, the first of cost and lines that changes at all; `None` if none does.
    pub(super) fn first_change(&self, variable: usize, lines: usize) -> Option<Form> {
        let inwards = inwards(self.basis.place(variable));
        let cost = self.form(|at| at.reduced_cost(variable) * &inwards);
        if !cost.iter().all(Exact::is_zero) {
            return Some(cost);
        }
        let changes = (0..lines).map(|line| self.form(|at| at.change(line, variable) * &inwards));
        changes.into_iter().find(|change| !change.iter().all(Exact::is_zero))
    }
}

pub(super) fn inwards(place: Place) -> Exact {
    if place == Place::High { Exact::from(-1) } else { Exact::ONE }
}

/// True where a form is the other one times a number above 0.
pub(super) fn is_positive_multiple(form: &Form, of: &Form) -> bool {
    multiple(form, of).is_some_and(|factor| factor.is_positive())
}

/// The number that a form is the other one times, if it is.
pub(crate) fn multiple(form: &Form, of: &Form) -> Option<Exact> {
    let place = of.iter().position(|number| !number.is_zero())?;
    let factor = form[place].checked_div(&of[place])?;
    form.iter().zip(of).all(|(form, of)| *form == &factor * of).then_some(factor)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_form_is_a_multiple_where_every_coefficient_is() {
        let form = |numbers: [i64; 4]| numbers.map(Exact::from).to_vec();
        let of = form([0, 2, -3, 0]);
        for (other, factor) in [([0, 4, -6, 0], Some(2)), ([0, -2, 3, 0], Some(-1)), ([0, 0, 0, 0], Some(0))] {
            assert_eq!(multiple(&form(other), &of), factor.map(Exact::from));
            assert_eq!(is_positive_multiple(&form(other), &of), factor > Some(0));
        }
        for other in [[0, 4, -6, 1], [1, 4, -6, 0], [0, 4, -5, 0], [0, 4, 0, 0], [0, 0, -6, 0]] {
            assert_eq!(multiple(&form(other), &of), None);
            assert!(!is_positive_multiple(&form(other), &of));
        }
        // A sum of the factor and the other's coefficients is no product.
        assert_eq!(multiple(&form([4, 2, 2, 2]), &form([2, 0, 0, 0])), None);
        assert_eq!(multiple(&of, &form([0, 0, 0, 0])), None);
    }
}
