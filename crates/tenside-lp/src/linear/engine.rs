//! A basis from the search, proved here; the exact simplex method where the search gives none or a wrong one.

use super::basis::{Basis, Candidate};
use super::dictionary::Dictionary;
use super::exactly::{crossed, solve_from};
use super::outcome::Outcome;
use super::program::Program;
use super::proved::{infeasibility, optimum};
use super::scaled::Scaled;
use super::whole::{Unproved, Whole};
use crate::halt::{Halt, Unwatched};
use crate::search::{self, Found};

/// How an answer was come by. It does not change what is proved.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Path {
    /// A range was empty by itself, or the search's basis was proved in numbers of 128 bits.
    Search,
    /// The search's basis was proved in numbers of any length.
    Wide,
    /// The search's basis was where the exact simplex method started from.
    Warm,
    /// The exact simplex method alone.
    Exact,
}

/// Solves a program exactly. Every outcome carries what [`verify`](super::verify) needs.
///
/// ```
/// use tenside_lp::{Column, Exact, Program, Row, solve, verify};
/// // The cheapest 100 % of which at least 60 % is active: a powder of 85 % at 4 a unit, a filler at 1.
/// let column = |cost: i64| Column { low: Some(Exact::ZERO), high: Some(Exact::hundred()), cost: Exact::from(cost) };
/// let total = Row { coefficients: vec![Exact::ONE, Exact::ONE], low: Some(Exact::hundred()), high: Some(Exact::hundred()) };
/// let active = Row { coefficients: vec!["0.85".parse()?, Exact::ZERO], low: Some(Exact::from(60)), high: None };
/// let program = Program::new(vec![column(4), column(1)], vec![total, active])?;
/// let outcome = solve(&program);
/// verify(&program, &outcome)?;
/// let optimum = outcome.optimum().unwrap();
/// assert_eq!(optimum.values[0], Exact::ratio(1200, 17));
/// assert_eq!(optimum.row_multipliers[1], Exact::ratio(60, 17)); // what one more percent active costs
/// assert!(optimum.unique);
/// # Ok::<(), tenside_lp::Error>(())
/// ```
#[must_use]
pub fn solve(program: &Program) -> Outcome {
    solve_lexicographic(program, &[])
}

/// Solves a program exactly and, among the points of least cost, goes to the one where column `order[0]` is least,
/// among those to the one where column `order[1]` is least, and so on.
///
/// Multipliers, reduced costs, `objective` and `unique` are those of the cost. Where a column of the order has no least
/// value on what is left of the optimal face, the point reached so far stands. Indices past the last column are passed
/// over.
///
/// ```
/// use tenside_lp::{Column, Exact, Program, Row, solve_lexicographic};
/// let column = Column { low: Some(Exact::ZERO), high: Some(Exact::from(80)), cost: Exact::ONE };
/// let total = Row { coefficients: vec![Exact::ONE, Exact::ONE], low: Some(Exact::hundred()), high: Some(Exact::hundred()) };
/// let program = Program::new(vec![column.clone(), column], vec![total])?;
/// let outcome = solve_lexicographic(&program, &[1, 0]);
/// assert_eq!(outcome.optimum().unwrap().values, [Exact::from(80), Exact::from(20)]);
/// # Ok::<(), tenside_lp::Error>(())
/// ```
#[must_use]
pub fn solve_lexicographic(program: &Program, order: &[usize]) -> Outcome {
    solve_on_path(program, order).0
}

/// Solves as [`solve_lexicographic`] does and tells how.
///
/// ```
/// use tenside_lp::{Column, Exact, Path, Program, solve_on_path};
/// let boxed = Column { low: Some(Exact::ZERO), high: Some(Exact::ONE), cost: Exact::from(-1) };
/// let open = Column { high: None, ..boxed.clone() };
/// assert_eq!(solve_on_path(&Program::new(vec![boxed], Vec::new())?, &[]).1, Path::Search);
/// assert_eq!(solve_on_path(&Program::new(vec![open], Vec::new())?, &[]).1, Path::Exact);
/// # Ok::<(), tenside_lp::Error>(())
/// ```
#[must_use]
pub fn solve_on_path(program: &Program, order: &[usize]) -> (Outcome, Path) {
    let Ok(solved) = on_path(program, order, &Unwatched);
    solved
}

/// Solves as [`solve_lexicographic`] does unless it is stopped.
///
/// ```
/// use tenside_lp::{Column, Halt, Program, solve_watched};
/// struct Never;
/// impl Halt for Never {
///     type Stopped = &'static str;
///     fn check(&self) -> Result<(), &'static str> {
///         Err("stopped")
///     }
/// }
/// let program = Program::new(vec![Column::default()], Vec::new())?;
/// assert_eq!(solve_watched(&program, &[], &Never), Err("stopped"));
/// # Ok::<(), tenside_lp::Error>(())
/// ```
///
/// # Errors
/// What stopped work gives, if it was.
pub fn solve_watched<H: Halt>(program: &Program, order: &[usize], halt: &H) -> Result<Outcome, H::Stopped> {
    on_path(program, order, halt).map(|(outcome, _)| outcome)
}

fn on_path<H: Halt>(program: &Program, order: &[usize], halt: &H) -> Result<(Outcome, Path), H::Stopped> {
    halt.check()?;
    if let Some(outcome) = crossed(program) {
        return Ok((outcome, Path::Search));
    }
    let Some(Found { candidate, pivots }) = search::find(program, order) else {
        return warm(program, None, order, halt);
    };
    match judge::<i128>(program, &candidate, order, pivots) {
        Ok(outcome) => return Ok((outcome, Path::Search)),
        Err(Unproved::Overflow) => {
            if let Ok(outcome) = judge::<dashu_int::IBig>(program, &candidate, order, pivots) {
                return Ok((outcome, Path::Wide));
            }
        }
        Err(Unproved::Refused) => {}
    }
    let (Candidate::Optimal(basis) | Candidate::Infeasible { basis, .. }) = &candidate;
    warm(program, Some(basis), order, halt)
}

fn judge<T: Whole>(
    program: &Program,
    candidate: &Candidate,
    order: &[usize],
    pivots: usize,
) -> Result<Outcome, Unproved> {
    let scaled = Scaled::<T>::new(program)?;
    match candidate {
        Candidate::Optimal(basis) => optimum(program, &scaled, basis, order, pivots).map(Outcome::Optimal),
        Candidate::Infeasible { basis, variable, below } => {
            infeasibility(&scaled, basis, *variable, *below).map(Outcome::Infeasible)
        }
    }
}

/// The exact simplex method from a basis that did not do, if it is one.
fn warm<H: Halt>(
    program: &Program,
    basis: Option<&Basis>,
    order: &[usize],
    halt: &H,
) -> Result<(Outcome, Path), H::Stopped> {
    let (dictionary, path) = match basis.and_then(|basis| Dictionary::at(program, basis)) {
        Some(dictionary) => (dictionary, Path::Warm),
        None => (Dictionary::new(program), Path::Exact),
    };
    Ok((solve_from(program, dictionary, order, halt)?, path))
}

#[cfg(test)]
pub(crate) mod tests {
    use super::super::basis::Place;
    use super::super::program::{Column, Row};
    use super::super::{solve_exactly, verify};
    use super::*;
    use crate::exact::Exact;
    use crate::search::tests::Numbers;

    /// What a candidate comes to where it holds, whatever the size of the numbers.
    pub(crate) fn judge_exactly(program: &Program, candidate: &Candidate, order: &[usize]) -> Option<Outcome> {
        match judge::<i128>(program, candidate, order, 0) {
            Err(Unproved::Overflow) => judge::<dashu_int::IBig>(program, candidate, order, 0).ok(),
            judged => judged.ok(),
        }
    }

    /// Three columns in 0 to 10 that sum to 15, cost 1, 2, 3, the first two at most 12 together.
    fn program() -> Program {
        let column =
            |cost: i64| Column { low: Some(Exact::ZERO), high: Some(Exact::from(10)), cost: Exact::from(cost) };
        let row = |coefficients: [i64; 3], low: Option<i64>, high: i64| Row {
            coefficients: coefficients.map(Exact::from).to_vec(),
            low: low.map(Exact::from),
            high: Some(Exact::from(high)),
        };
        Program::new([1, 2, 3].map(column).to_vec(), vec![row([1, 1, 1], Some(15), 15), row([1, 1, 0], None, 12)])
            .unwrap()
    }

    /// Every basis there is, right or wrong, leads to the one optimum.
    #[test]
    fn any_basis_is_a_good_enough_start() {
        let program = program();
        let expected = solve_exactly(&program, &[0, 1, 2]);
        let places = [Place::Basic, Place::Low, Place::High];
        let (mut judged, mut warmed) = (0, 0);
        for code in 0..3usize.pow(5) {
            let places = (0..5).map(|digit| places[code / 3usize.pow(digit) % 3]).collect::<Vec<_>>();
            if places.iter().filter(|&&place| place == Place::Basic).count() != 2 {
                continue;
            }
            let basis = Basis::new(places, 3);
            let values = |outcome: &Outcome| outcome.optimum().unwrap().values.clone();
            for candidate in [
                Candidate::Optimal(basis.clone()),
                Candidate::Infeasible { basis: basis.clone(), variable: 3, below: true },
                Candidate::Infeasible { basis: basis.clone(), variable: 0, below: false },
            ] {
                if let Ok(outcome) = judge::<i128>(&program, &candidate, &[0, 1, 2], 0) {
                    verify(&program, &outcome).unwrap();
                    assert_eq!(values(&outcome), values(&expected));
                    judged += 1;
                }
            }
            let Ok((outcome, path)) = warm(&program, Some(&basis), &[0, 1, 2], &Unwatched);
            verify(&program, &outcome).unwrap();
            assert_eq!(values(&outcome), values(&expected));
            warmed += usize::from(path == Path::Warm);
        }
        assert!(judged >= 1 && warmed > 20, "{judged} {warmed}");
    }

    /// Few different numbers, so that many bases are tied, degenerate or none.
    fn small(numbers: &mut Numbers) -> Program {
        let (columns, rows) = (2 + numbers.below(3) as usize, 1 + numbers.below(2) as usize);
        let mut whole = |low: i64, high: i64| low + numbers.below((high - low + 1) as u64) as i64;
        let columns: Vec<Column> = (0..columns)
            .map(|_| {
                let (low, width) = (whole(-2, 2), whole(0, 4));
                Column {
                    low: (whole(0, 7) > 0).then(|| Exact::from(low)),
                    high: (whole(0, 5) > 0).then(|| Exact::from(low + width)),
                    cost: Exact::from(whole(-1, 2)),
                }
            })
            .collect();
        let rows = (0..rows).map(|_| {
            let coefficients = columns.iter().map(|_| Exact::ratio(whole(-2, 3), whole(1, 2))).collect();
            let (low, width) = (whole(-4, 4), whole(0, 4));
            Row {
                coefficients,
                low: (whole(0, 3) > 0).then(|| Exact::from(low)),
                high: (whole(0, 2) > 0).then(|| Exact::from(low + width)),
            }
        });
        let rows = rows.collect();
        Program::new(columns, rows).unwrap()
    }

    /// Whether the dictionary of this basis is in its ranges, of least cost, and the first of the order among the
    /// points of that cost.
    fn is_first(program: &Program, basis: &Basis, order: &[usize]) -> bool {
        let Some(mut dictionary) = Dictionary::at(program, basis) else { return false };
        let units = order
            .iter()
            .map(|&column| (0..program.columns().len()).map(|other| Exact::from(i64::from(other == column))).collect());
        let costs = std::iter::once(program.columns().iter().map(|column| column.cost.clone()).collect::<Vec<_>>());
        dictionary.violation_slopes().is_none()
            && costs.chain(units).all(|form| {
                let slopes = dictionary.slopes(&form);
                let least = dictionary.entering(&slopes).is_none();
                dictionary.settle(&slopes);
                least
            })
    }

    /// A basis is let through exactly where the simplex method would stop there: no wrong one, and no right one is left
    /// to it in vain.
    #[test]
    fn a_basis_is_judged_as_its_dictionary_says() {
        let mut numbers = Numbers(4);
        let (mut let_through, mut tied, mut out_of_reach) = (0, 0, 0);
        for _ in 0..70 {
            let program = small(&mut numbers);
            let (columns, all) = (program.columns().len(), program.columns().len() + program.rows().len());
            let orders =
                [Vec::new(), (0..columns).collect::<Vec<_>>(), (0..columns).rev().collect(), vec![columns - 1]];
            let outcomes = orders.each_ref().map(|order| solve_exactly(&program, order));
            for code in 0..3usize.pow(all as u32) {
                let places: Vec<Place> = (0..all)
                    .map(|digit| [Place::Basic, Place::Low, Place::High][code / 3usize.pow(digit as u32) % 3])
                    .collect();
                if places.iter().filter(|&&place| place == Place::Basic).count() != program.rows().len() {
                    continue;
                }
                let basis = Basis::new(places, columns);
                let found = orders
                    .each_ref()
                    .map(|order| judge::<i128>(&program, &Candidate::Optimal(basis.clone()), order, 0).ok());
                for ((order, found), expected) in orders.iter().zip(&found).zip(&outcomes) {
                    assert_eq!(
                        found.is_some(),
                        is_first(&program, &basis, order),
                        "{basis:?} in order {order:?}: {program:#?}"
                    );
                    let Some(outcome) = found else { continue };
                    verify(&program, outcome).unwrap();
                    let (optimum, expected) = (outcome.optimum().unwrap(), expected.optimum().unwrap());
                    assert_eq!(optimum.objective, expected.objective);
                    assert!(
                        order.len() < columns || optimum.values == expected.values,
                        "{basis:?} in order {order:?}: {program:#?}"
                    );
                    let_through += 1;
                }
                tied += usize::from(found[0].is_some() && found[1].is_none());
                for (variable, below) in (0..all)
                    .filter(|&variable| basis.place(variable) == Place::Basic)
                    .flat_map(|variable| [(variable, false), (variable, true)])
                {
                    let infeasible = judge::<i128>(
                        &program,
                        &Candidate::Infeasible { basis: basis.clone(), variable, below },
                        &[],
                        0,
                    )
                    .ok();
                    if let Some(outcome) = &infeasible {
                        verify(&program, outcome).unwrap();
                    }
                    let stuck =
                        Dictionary::at(&program, &basis).is_some_and(|dictionary| dictionary.is_stuck(variable, below));
                    assert!(infeasible.is_some() || !stuck, "{basis:?} {variable} {below}: {program:#?}");
                    out_of_reach += usize::from(stuck);
                }
            }
        }
        assert!(let_through > 250 && tied > 15 && out_of_reach > 200, "{let_through} {tied} {out_of_reach}");
    }
}
