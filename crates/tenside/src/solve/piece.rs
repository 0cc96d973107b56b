//! A basis of a swept program as polynomials: where it is the answer, and what every line is there.
//!
//! # Polynomials
//! With `M` the matrix of a basis, Cramer's rule gives every value, multiplier and entry of its dictionary as a quotient of determinants over
//! `D = det M`. Each dial moves one row, the costs or one end, so each of these determinants is of the first degree in every dial; `2^k` exact
//! evaluations at the corners of a box settle the coefficients. (A requirement that is basic is a row more, and its quantity the determinant
//! of the matrix bordered by it.)
//!
//! # What is proved where the conditions hold
//! `D > 0`, no slack below 0, and for every variable that stands at an end and could move, the first of the following that is not 0 everywhere
//! is above 0: its reduced cost, then the change of each line of the order as it moves inwards. Any other point in all ranges is reached by
//! moving standing variables inwards, so it costs more, or as much with an earlier line greater: the basis is the canonical answer. Along a
//! dial every condition is a linear function, so what holds at two points holds between them.
//!
//! A conflict is a row of the dictionary that cannot come into its range though every standing variable may move as it likes. Its members are
//! the only irreducible conflict that there is if without any one of them all the others can be met: an irreducible conflict that lacked that
//! member would be one of the others. So whatever way an irreducible conflict is looked for there, these are its members.
//!
//! Source: Cramer's rule; lexicographic dual simplex method as in [`search`](super::search).

use super::conflict::Conflict;
use super::linear::{Basis, Candidate, Outcome, Place, Program};
use super::member::{Member, members};
use super::objective::optimise;
use super::point::{Limit, limit};
use super::program::frame;
use super::search::{Found, find};
use super::swept::SweptProgram;
use crate::brief::{Brief, Role};
use crate::error::Error;
use crate::number::Exact;

/// A polynomial of the first degree in every dial: the coefficient at place `mask` belongs to the product of the dials whose bits are set.
pub(crate) type Form = Vec<Exact>;

/// What a basis says, and where. The conditions are over a common denominator that they demand to be above 0.
#[derive(Clone, Debug)]
pub(crate) struct Piece {
    /// What every line's form is divided by; empty for a conflict.
    pub(crate) denominator: Form,
    /// The lines; empty for a conflict.
    pub(crate) lines: Vec<Form>,
    /// The cost of the program.
    pub(crate) cost: Form,
    /// At least 0; where it is 0 the limit binds.
    pub(crate) slacks: Vec<(Form, Option<Limit>)>,
    /// Above 0.
    pub(crate) strict: Vec<Form>,
    /// What binds everywhere, or what conflicts.
    pub(crate) limits: Vec<Limit>,
    /// True where no formula meets the limits.
    pub(crate) is_conflict: bool,
}

/// Between which offsets forms are evaluated, one pair a dial; the first is that of the point itself.
pub(crate) type Span = Vec<(Exact, Exact)>;

/// What the search names at a point: enough to tell whether a piece is known.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Named(Candidate);

impl Named {
    /// What the search names where the dials stand at these offsets.
    pub(crate) fn at(swept: &SweptProgram, offsets: &[Exact]) -> Option<Self> {
        let order: Vec<usize> = (0..swept.lines()).collect();
        find(&swept.at(offsets), &order).map(|Found { candidate, .. }| Named(candidate))
    }

    /// True where there seems to be a formula.
    pub(crate) fn is_optimal(&self) -> bool {
        matches!(self.0, Candidate::Optimal(_))
    }
}

/// The piece of a basis that is taken to be optimal; nothing where its matrix is singular at a corner or it cannot be optimal anywhere.
/// Whether it is the answer at a point is told by its conditions there.
pub(crate) fn optimal_piece(brief: &Brief, swept: &SweptProgram, named: &Named, span: &Span) -> Option<Piece> {
    let Candidate::Optimal(basis) = &named.0 else { return None };
    let corners = Corners::new(swept, basis, span)?;
    let mut piece = Piece {
        lines: (0..swept.lines()).map(|line| corners.form(|corner| corner.values[line].clone())).collect(),
        cost: corners.form(|corner| corner.program.columns().iter().zip(&corner.values).map(|(column, value)| &column.cost * value).sum()),
        denominator: corners.form(|_| Exact::ONE),
        slacks: Vec::new(),
        strict: Vec::new(),
        limits: Vec::new(),
        is_conflict: false,
    };
    piece.strict.push(piece.denominator.clone());
    for (slack, variable, upper) in corners.slacks() {
        let bound = limit_of(brief, swept, &corners, variable, upper);
        if slack.iter().all(Exact::is_zero) {
            piece.limits.extend(bound);
        } else if !is_positive_multiple(&slack, &piece.denominator) {
            piece.slacks.push((slack, bound));
        }
    }
    for variable in corners.standing().filter(|variable| !corners.is_fixed(*variable)) {
        let condition = corners.first_change(variable, swept.lines())?;
        if !is_positive_multiple(&condition, &piece.denominator) {
            piece.strict.push(condition);
        }
    }
    Some(piece)
}

/// The piece of a conflict; nothing where it is not shown to be the only irreducible one. Without `codes` only that there is no formula.
///
/// # Errors
/// As solving the brief.
pub(crate) fn conflict_piece(brief: &Brief, swept: &SweptProgram, span: &Span, codes: bool) -> Result<Option<Piece>, Error> {
    let mut piece =
        Piece { denominator: Vec::new(), lines: Vec::new(), cost: Vec::new(), slacks: Vec::new(), strict: Vec::new(), limits: Vec::new(), is_conflict: true };
    let offsets: Vec<Exact> = span.iter().map(|(here, _)| here.clone()).collect();
    if !codes {
        return Ok(refuse(swept, &offsets, span, &mut piece).map(|()| piece));
    }
    let proof = optimise(brief, frame(brief)?)?;
    if !matches!(proof.outcome(), Outcome::Infeasible(_)) || proof.program().names().len() != swept.names().len() {
        return Ok(None);
    }
    let all = members(brief, proof.program());
    let conflict = Conflict::new(brief.clone(), proof)?;
    let kept = &conflict.members;
    let mut shown = refuse(&swept.only(kept), &offsets, span, &mut piece);
    for left_out in kept {
        let others: Vec<Member> = all.iter().copied().filter(|member| member != left_out).collect();
        shown = shown.and_then(|()| admit(&swept.only(&others), &offsets, span, &mut piece));
    }
    piece.limits.extend(kept.iter().filter_map(|member| match member {
        Member::Row(row) => limit(&swept.names()[*row]),
        Member::Line(line) => Some(Limit::Line(*line)),
    }));
    Ok(shown.map(|()| piece))
}

/// The conditions under which a dictionary row proves that no point is in all ranges.
fn refuse(swept: &SweptProgram, offsets: &[Exact], span: &Span, piece: &mut Piece) -> Option<()> {
    let Candidate::Infeasible { basis, variable, below } = find(&swept.at(offsets), &[])?.candidate else { return None };
    let corners = Corners::new(swept, &basis, span)?;
    let outwards = if below { Exact::ONE } else { Exact::from(-1) };
    piece.strict.push(corners.form(|_| Exact::ONE));
    piece.strict.push(corners.form_of(|corner| {
        let end = corner.end(variable, !below)?;
        Some((end - corner.activity(variable)) * &outwards)
    })?);
    for standing in corners.standing().filter(|standing| !corners.is_fixed(*standing)) {
        let turned = -(&outwards * inwards(corners.basis.place(standing)));
        let form = corners.form(|corner| corner.change(variable, standing) * &turned);
        if !form.iter().all(Exact::is_zero) {
            piece.slacks.push((form, None));
        }
    }
    Some(())
}

/// The conditions under which a basis has its point in all ranges.
fn admit(swept: &SweptProgram, offsets: &[Exact], span: &Span, piece: &mut Piece) -> Option<()> {
    let Candidate::Optimal(basis) = find(&swept.at(offsets), &[])?.candidate else { return None };
    let corners = Corners::new(swept, &basis, span)?;
    let denominator = corners.form(|_| Exact::ONE);
    let slacks = corners.slacks().into_iter().map(|(slack, _, _)| slack);
    let slacks = slacks.filter(|slack| !slack.iter().all(Exact::is_zero) && !is_positive_multiple(slack, &denominator));
    piece.slacks.extend(slacks.map(|slack| (slack, None)));
    piece.strict.push(denominator);
    Some(())
}

fn inwards(place: Place) -> Exact {
    if place == Place::High { Exact::from(-1) } else { Exact::ONE }
}

/// True where a form is the other one times a number above 0.
fn is_positive_multiple(form: &Form, of: &Form) -> bool {
    multiple(form, of).is_some_and(|factor| factor.is_positive())
}

/// The number that a form is the other one times, if it is.
pub(crate) fn multiple(form: &Form, of: &Form) -> Option<Exact> {
    let place = of.iter().position(|number| !number.is_zero())?;
    let factor = form[place].checked_div(&of[place])?;
    form.iter().zip(of).all(|(form, of)| *form == &factor * of).then_some(factor)
}

fn limit_of(brief: &Brief, swept: &SweptProgram, corners: &Corners<'_>, variable: usize, upper: bool) -> Option<Limit> {
    match variable.checked_sub(corners.columns) {
        // An equation is no limit that binds.
        Some(row) => limit(&swept.names()[row]).filter(|_| !corners.is_fixed(variable)),
        None if variable >= swept.lines() || matches!(brief.lines()[variable].role(), Role::Fixed(_)) => None,
        None => Some(if upper { Limit::High(variable) } else { Limit::Low(variable) }),
    }
}

/// A basis of the program at one corner.
struct Corner {
    program: Program,
    basic: Vec<usize>,
    standing: Vec<usize>,
    /// Rows: basic columns; columns: standing rows.
    inverse: Vec<Vec<Exact>>,
    determinant: Exact,
    values: Vec<Exact>,
    /// Costs of the basic columns times the inverse.
    multipliers: Vec<Exact>,
}

impl Corner {
    fn new(program: Program, basis: &Basis) -> Option<Self> {
        let (basic, standing) = (basis.basic_columns(), basis.standing_rows());
        let matrix = standing.iter().map(|row| basic.iter().map(|column| program.rows()[*row].coefficients[*column].clone()).collect()).collect();
        let (inverse, determinant) = inverted(matrix)?;
        let mut corner = Corner { values: Vec::new(), multipliers: Vec::new(), program, basic, standing, inverse, determinant };
        let mut values = Vec::with_capacity(corner.program.columns().len());
        for variable in 0..corner.program.columns().len() {
            values.push(if basis.column(variable) == Place::Basic { Exact::ZERO } else { corner.end(variable, basis.column(variable) == Place::High)? });
        }
        let mut rests = Vec::with_capacity(corner.standing.len());
        for row in &corner.standing {
            let end = corner.end(corner.program.columns().len() + row, basis.row(*row) == Place::High)?;
            rests.push(end - dot(&corner.program.rows()[*row].coefficients, &values));
        }
        for (column, line) in corner.basic.iter().zip(&corner.inverse) {
            values[*column] = dot(line, &rests);
        }
        corner.multipliers = (0..corner.standing.len())
            .map(|place| {
                let products = corner.basic.iter().zip(&corner.inverse).filter(|(_, line)| !line[place].is_zero());
                products.map(|(column, line)| &corner.program.columns()[*column].cost * &line[place]).sum()
            })
            .collect();
        corner.values = values;
        Some(corner)
    }

    /// An end of a variable; nothing where it has none.
    fn end(&self, variable: usize, upper: bool) -> Option<Exact> {
        let (low, high) = match variable.checked_sub(self.program.columns().len()) {
            Some(row) => (&self.program.rows()[row].low, &self.program.rows()[row].high),
            None => (&self.program.columns()[variable].low, &self.program.columns()[variable].high),
        };
        if upper { high.clone() } else { low.clone() }
    }

    /// What a variable comes to.
    fn activity(&self, variable: usize) -> Exact {
        match variable.checked_sub(self.program.columns().len()) {
            Some(row) => dot(&self.program.rows()[row].coefficients, &self.values),
            None => self.values[variable].clone(),
        }
    }

    /// How the cost changes as a standing variable grows.
    fn reduced_cost(&self, variable: usize) -> Exact {
        match variable.checked_sub(self.program.columns().len()) {
            Some(row) => self.place_of(row).map_or(Exact::ZERO, |place| self.multipliers[place].clone()),
            None => {
                let rows = self.standing.iter().zip(&self.multipliers).filter(|(_, multiplier)| !multiplier.is_zero());
                let brought: Exact = rows.map(|(row, multiplier)| &self.program.rows()[*row].coefficients[variable] * multiplier).sum();
                &self.program.columns()[variable].cost - brought
            }
        }
    }

    fn place_of(&self, row: usize) -> Option<usize> {
        self.standing.iter().position(|standing| *standing == row)
    }

    /// How every basic column changes as a standing variable grows.
    fn column_changes(&self, standing: usize) -> Vec<Exact> {
        match standing.checked_sub(self.program.columns().len()) {
            Some(row) => {
                let place = self.place_of(row);
                self.inverse.iter().map(|line| place.map_or(Exact::ZERO, |place| line[place].clone())).collect()
            }
            None => {
                let column: Vec<Exact> = self.standing.iter().map(|row| -&self.program.rows()[*row].coefficients[standing]).collect();
                self.inverse.iter().map(|line| dot(line, &column)).collect()
            }
        }
    }

    /// How a variable changes as a standing one grows.
    fn change(&self, variable: usize, standing: usize) -> Exact {
        let changes = self.column_changes(standing);
        match variable.checked_sub(self.program.columns().len()) {
            Some(row) => {
                let coefficients = &self.program.rows()[row].coefficients;
                let own = if standing < self.program.columns().len() { coefficients[standing].clone() } else { Exact::ZERO };
                self.basic.iter().zip(&changes).filter(|(_, change)| !change.is_zero()).fold(own, |sum, (column, change)| sum + &coefficients[*column] * change)
            }
            None if variable == standing => Exact::ONE,
            None => self.basic.iter().position(|basic| *basic == variable).map_or(Exact::ZERO, |place| changes[place].clone()),
        }
    }
}

/// A basis at the corners of a box.
struct Corners<'a> {
    basis: &'a Basis,
    columns: usize,
    rows: usize,
    span: &'a Span,
    /// Bit `k` of a corner's place is set where dial `k` stands at its second offset.
    corners: Vec<Corner>,
    /// Makes the denominator 1 at the first corner.
    factor: Exact,
}

impl<'a> Corners<'a> {
    fn new(swept: &SweptProgram, basis: &'a Basis, span: &'a Span) -> Option<Self> {
        let mut corners = Vec::with_capacity(1 << span.len());
        for mask in 0..1usize << span.len() {
            let offsets: Vec<Exact> =
                span.iter().enumerate().map(|(dial, (first, second))| if mask >> dial & 1 == 0 { first.clone() } else { second.clone() }).collect();
            corners.push(Corner::new(swept.at(&offsets), basis)?);
        }
        let first: &Corner = corners.first()?;
        let (columns, rows) = (first.program.columns().len(), first.program.rows().len());
        let factor = first.determinant.reciprocal()?;
        Some(Corners { basis, columns, rows, span, corners, factor })
    }

    /// The polynomial of a quantity times the denominator.
    fn form(&self, quantity: impl Fn(&Corner) -> Exact) -> Form {
        self.interpolated(self.corners.iter().map(|corner| quantity(corner) * &corner.determinant * &self.factor).collect())
    }

    /// The same where the quantity may be absent.
    fn form_of(&self, quantity: impl Fn(&Corner) -> Option<Exact>) -> Option<Form> {
        let values: Option<Vec<Exact>> = self.corners.iter().map(|corner| Some(quantity(corner)? * &corner.determinant * &self.factor)).collect();
        values.map(|values| self.interpolated(values))
    }

    fn interpolated(&self, mut values: Vec<Exact>) -> Form {
        for (dial, (first, second)) in self.span.iter().enumerate() {
            let width = second - first;
            for place in (0..values.len()).filter(|place| place >> dial & 1 == 1) {
                let other = place ^ (1 << dial);
                if values[place] == values[other] {
                    values[place] = Exact::ZERO;
                    continue;
                }
                let rate = (&values[place] - &values[other]) / &width;
                values[other] -= &(&rate * first);
                values[place] = rate;
            }
        }
        values
    }

    /// Every variable that stands at an end.
    fn standing(&self) -> impl Iterator<Item = usize> {
        (0..self.columns + self.rows).filter(|variable| self.basis.place(*variable) != Place::Basic)
    }

    /// True where a variable cannot move, wherever the dials stand.
    fn is_fixed(&self, variable: usize) -> bool {
        self.corners.iter().all(|corner| corner.end(variable, false).is_some_and(|low| corner.end(variable, true) == Some(low)))
    }

    /// For every end of every variable, how far the variable is inside it.
    fn slacks(&self) -> Vec<(Form, usize, bool)> {
        let mut slacks = Vec::new();
        for variable in 0..self.columns + self.rows {
            for upper in [false, true] {
                let distance = |corner: &Corner| {
                    let end = corner.end(variable, upper)?;
                    Some(if upper { end - corner.activity(variable) } else { corner.activity(variable) - end })
                };
                slacks.extend(self.form_of(distance).map(|slack| (slack, variable, upper)));
            }
        }
        slacks
    }

    /// Of a standing variable that moves inwards, the first of cost and lines that changes at all; nothing where a line of the order falls
    /// everywhere or nothing changes.
    fn first_change(&self, variable: usize, lines: usize) -> Option<Form> {
        let inwards = inwards(self.basis.place(variable));
        let cost = self.form(|corner| corner.reduced_cost(variable) * &inwards);
        if !cost.iter().all(Exact::is_zero) {
            return Some(cost);
        }
        for line in 0..lines {
            let change = self.form(|corner| corner.change(line, variable) * &inwards);
            if !change.iter().all(Exact::is_zero) {
                return Some(change);
            }
        }
        None
    }
}

fn dot(left: &[Exact], right: &[Exact]) -> Exact {
    left.iter().zip(right).filter(|(left, right)| !left.is_zero() && !right.is_zero()).map(|(left, right)| left * right).sum()
}

/// The inverse of a square matrix and its determinant; nothing where it is singular. The pivot is the entry whose row and column have the
/// fewest others, as in [`linear`](super::linear).
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
        let down: Vec<usize> = open_columns.iter().map(|column| open_rows.iter().filter(|row| !matrix[**row][*column].is_zero()).count()).collect();
        let entries = open_rows
            .iter()
            .zip(&across)
            .flat_map(|(row, across)| open_columns.iter().zip(&down).map(move |(column, down)| (*row, *column, (across.max(&1) - 1) * (down.max(&1) - 1))));
        let (pivot_row, pivot_column, _) = entries.filter(|(row, column, _)| !matrix[*row][*column].is_zero()).min_by_key(|(_, _, others)| *others)?;
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

/// Whether a permutation takes an odd number of exchanges: one fewer than its places for each cycle.
fn is_odd(permutation: &[usize]) -> bool {
    let mut seen = vec![false; permutation.len()];
    let mut exchanges: usize = 0;
    for start in 0..permutation.len() {
        let (mut place, mut length) = (start, 0_usize);
        while !seen[place] {
            seen[place] = true;
            place = permutation[place];
            length += 1;
        }
        exchanges += length.saturating_sub(1);
    }
    exchanges % 2 == 1
}

#[cfg(test)]
mod tests {
    use super::super::search::tests::Numbers;
    use super::*;

    #[test]
    fn an_inverse_times_its_matrix_is_one_and_determinants_multiply() {
        let mut numbers = Numbers(11);
        let mut inverses = 0;
        for size in 1..6 {
            for _ in 0..40 {
                let mut matrix = |sparse: u64| -> Vec<Vec<Exact>> {
                    (0..size).map(|_| (0..size).map(|_| if numbers.below(sparse) == 0 { Exact::ZERO } else { numbers.share() }).collect()).collect()
                };
                let (first, second) = (matrix(2), matrix(5));
                let times = |left: &[Vec<Exact>], right: &[Vec<Exact>]| -> Vec<Vec<Exact>> {
                    (0..size).map(|row| (0..size).map(|column| (0..size).map(|inner| &left[row][inner] * &right[inner][column]).sum()).collect()).collect()
                };
                let (Some((inverse, determinant)), Some((_, other))) = (inverted(first.clone()), inverted(second.clone())) else { continue };
                let one = times(&first, &inverse);
                assert!((0..size).all(|row| (0..size).all(|column| one[row][column] == Exact::from(i64::from(row == column)))));
                assert_eq!(inverted(times(&first, &second)).unwrap().1, &determinant * &other);
                inverses += 1;
            }
        }
        assert!(inverses > 90, "{inverses}");
        let dependent = [[1, 2], [2, 4]].map(|row| row.map(Exact::from).to_vec()).to_vec();
        assert!(inverted(dependent).is_none());
    }

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
