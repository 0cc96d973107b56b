//! Checks an outcome against its program, sharing nothing with the engine but the types.
//!
//! The equations are those of the [room](super): feasibility, stationarity, signs with complementary slackness and
//! equal objectives for an optimum; a gap between what the rows ask and what the columns reach for infeasibility; a
//! feasible ray of falling cost for unboundedness.

use super::outcome::{Crossing, Farkas, Optimum, Outcome, Ray};
use super::program::{Column, Program, Row};
use crate::error::{Error, ErrorKind};
use crate::exact::Exact;

/// Proves the outcome right for the program, or names what is wrong with it.
///
/// For a lexicographic optimum it proves the least cost; the later objectives leave no certificate.
///
/// ```
/// use tenside_lp::{Column, Exact, Outcome, Program, solve, verify};
/// let column = Column { low: Some(Exact::ONE), high: None, cost: Exact::ONE };
/// let program = Program::new(vec![column], Vec::new())?;
/// let mut outcome = solve(&program);
/// assert!(verify(&program, &outcome).is_ok());
/// if let Outcome::Optimal(optimum) = &mut outcome {
///     optimum.values[0] = Exact::from(2);
/// }
/// assert!(verify(&program, &outcome).is_err());
/// # Ok::<(), tenside_lp::Error>(())
/// ```
///
/// # Errors
/// The first part of the certificate that does not hold, with its place and value.
pub fn verify(program: &Program, outcome: &Outcome) -> Result<(), Error> {
    match outcome {
        Outcome::Optimal(optimum) => verify_optimum(program, optimum),
        Outcome::Infeasible(farkas) => verify_farkas(program, farkas),
        Outcome::Unbounded(ray) => verify_ray(program, ray),
    }
}

/// The low and the high end of a range; an absent end is no limit.
type Ends<'a> = (Option<&'a Exact>, Option<&'a Exact>);

fn column_ends(column: &Column) -> Ends<'_> {
    (column.low.as_ref(), column.high.as_ref())
}

fn row_ends(row: &Row) -> Ends<'_> {
    (row.low.as_ref(), row.high.as_ref())
}

fn verify_optimum(program: &Program, optimum: &Optimum) -> Result<(), Error> {
    let Optimum { values, row_multipliers, reduced_costs, objective, .. } = optimum;
    let columns = program.columns();
    right_length("reduced_costs", reduced_costs, columns.len())?;
    right_length("row_multipliers", row_multipliers, program.rows().len())?;
    feasible(program, "values", values)?;
    let mut dual = Exact::ZERO;
    for (index, (column, share)) in columns.iter().zip(combine(program, row_multipliers)).enumerate() {
        let (place, reduced) = (format!("reduced_costs[{index}]"), &reduced_costs[index]);
        let rest = &column.cost - share;
        if rest != *reduced {
            return refuse(place, "a reduced cost is not the cost less the multipliers' share", reduced, &rest);
        }
        dual += held(place, reduced, &values[index], column_ends(column))?;
    }
    for (index, (row, multiplier)) in program.rows().iter().zip(row_multipliers).enumerate() {
        let place = format!("row_multipliers[{index}]");
        dual += held(place, multiplier, &dot(&row.coefficients, values), row_ends(row))?;
    }
    if let Some(other) = [cost(program, values), dual].iter().find(|other| *other != objective) {
        let message = "the objective is not the cost of the values and of the multipliers";
        return refuse("objective", message, objective, other);
    }
    if optimum.unique && !pinned(program, optimum) {
        let fault = broken("unique", "the multipliers do not prove that no other point has the least cost");
        return Err(fault.value(true));
    }
    Ok(())
}

fn verify_farkas(program: &Program, farkas: &Farkas) -> Result<(), Error> {
    let (columns, rows) = (program.columns(), program.rows());
    right_length("row_multipliers", &farkas.row_multipliers, rows.len())?;
    if let Some(crossing) = farkas.crossing {
        let (place, ends) = match crossing {
            Crossing::Column(index) => (format!("columns[{index}]"), columns.get(index).map(column_ends)),
            Crossing::Row(index) => (format!("rows[{index}]"), rows.get(index).map(row_ends)),
        };
        let (low, high) = ends.unwrap_or_default();
        if low.zip(high).is_none_or(|(low, high)| low <= high) {
            return Err(broken(place, "the ends of the range do not cross"));
        }
        return match farkas.row_multipliers.iter().enumerate().find(|(_, multiplier)| !multiplier.is_zero()) {
            None => Ok(()),
            Some((index, multiplier)) => {
                let place = format!("row_multipliers[{index}]");
                refuse(place, "a crossing needs no multiplier", multiplier, &Exact::ZERO)
            }
        };
    }
    let (mut asked, mut reached) = (Exact::ZERO, Exact::ZERO);
    for (index, (row, multiplier)) in rows.iter().zip(&farkas.row_multipliers).enumerate() {
        asked += end_value(format!("row_multipliers[{index}]"), multiplier, row_ends(row))?;
    }
    for (index, (column, share)) in columns.iter().zip(combine(program, &farkas.row_multipliers)).enumerate() {
        // The greatest value of a share stands at the other end than the least.
        reached -= end_value(format!("columns[{index}]"), &-share, column_ends(column))?;
    }
    if asked > reached {
        return Ok(());
    }
    let fault = broken("row_multipliers", "the columns reach what the combination of rows asks for");
    Err(fault.value(&reached).allowed(format!("below {asked}")))
}

fn verify_ray(program: &Program, ray: &Ray) -> Result<(), Error> {
    right_length("direction", &ray.direction, program.columns().len())?;
    feasible(program, "point", &ray.point)?;
    for (place, change, (low, high)) in taken(program, &ray.direction) {
        if low.is_some() && change.is_negative() || high.is_some() && change.is_positive() {
            return refuse(place, "the ray leaves a range", &change, &Exact::ZERO);
        }
    }
    let change = cost(program, &ray.direction);
    if change.is_negative() {
        return Ok(());
    }
    Err(broken("direction", "the cost does not fall along the ray").value(&change).allowed("below 0"))
}

/// What does not hold.
fn broken(place: impl Into<String>, message: &'static str) -> Error {
    Error::new(ErrorKind::Contradiction, message).at(place).remedy("solve the program again")
}

fn refuse<T>(place: impl Into<String>, message: &'static str, found: &Exact, expected: &Exact) -> Result<T, Error> {
    Err(broken(place, message).value(found).allowed(expected.to_string()))
}

fn right_length(place: &str, values: &[Exact], expected: usize) -> Result<(), Error> {
    if values.len() == expected {
        return Ok(());
    }
    let fault = Error::new(ErrorKind::OutOfRange, "the certificate has another size than the program").at(place);
    Err(fault.value(values.len()).allowed(expected.to_string()).remedy("verify it against the program it was made for"))
}

/// Plain sums, so that no short cut of the engine's stands in its own check.
fn dot(left: &[Exact], right: &[Exact]) -> Exact {
    left.iter().zip(right).map(|(left, right)| left * right).sum()
}

fn cost(program: &Program, values: &[Exact]) -> Exact {
    program.columns().iter().zip(values).map(|(column, value)| &column.cost * value).sum()
}

/// `y . A`, one entry a column.
fn combine(program: &Program, multipliers: &[Exact]) -> Vec<Exact> {
    let share = |column: usize| {
        program.rows().iter().zip(multipliers).map(|(row, multiplier)| &row.coefficients[column] * multiplier).sum()
    };
    (0..program.columns().len()).map(share).collect()
}

/// What every column and every row takes at these values of the columns, with its place and its range.
fn taken<'a>(program: &'a Program, values: &'a [Exact]) -> impl Iterator<Item = (String, Exact, Ends<'a>)> {
    let columns = program.columns().iter().zip(values).enumerate();
    let columns =
        columns.map(|(index, (column, value))| (format!("columns[{index}]"), value.clone(), column_ends(column)));
    let rows = program.rows().iter().enumerate();
    columns.chain(rows.map(|(index, row)| (format!("rows[{index}]"), dot(&row.coefficients, values), row_ends(row))))
}

fn feasible(program: &Program, place: &str, values: &[Exact]) -> Result<(), Error> {
    right_length(place, values, program.columns().len())?;
    for (place, value, (low, high)) in taken(program, values) {
        if low.is_some_and(|low| value < *low) || high.is_some_and(|high| value > *high) {
            let text = |end: Option<&Exact>, none: &str| end.map_or(none.to_string(), Exact::to_string);
            let allowed = format!("{} to {}", text(low, "-infinity"), text(high, "infinity"));
            return Err(broken(place, "the point is outside a range").value(value).allowed(allowed));
        }
    }
    Ok(())
}

/// `multiplier . end`, with the low end above 0 and the high end below; an absent end proves nothing.
fn end_value(place: String, multiplier: &Exact, (low, high): Ends<'_>) -> Result<Exact, Error> {
    let (end, allowed) = if multiplier.is_zero() {
        return Ok(Exact::ZERO);
    } else if multiplier.is_positive() {
        (low, "0 or below, for there is no low end")
    } else {
        (high, "0 or above, for there is no high end")
    };
    end.map(|end| multiplier * end)
        .ok_or_else(|| broken(place, "a multiplier uses an absent end").value(multiplier).allowed(allowed))
}

/// [`end_value`] of a multiplier whose end the value stands at.
fn held(place: String, multiplier: &Exact, value: &Exact, ends: Ends<'_>) -> Result<Exact, Error> {
    let share = end_value(place.clone(), multiplier, ends)?;
    if share == multiplier * value {
        return Ok(share);
    }
    refuse(place, "a multiplier is not 0 though its end does not hold", multiplier, &Exact::ZERO)
}

/// True where the equations that the multipliers and the equal ends stand for have one solution only.
fn pinned(program: &Program, optimum: &Optimum) -> bool {
    let is_fixed = |(low, high): Ends<'_>| low.is_some() && low == high;
    let columns = program.columns().iter().zip(&optimum.reduced_costs).enumerate();
    let open: Vec<usize> = columns
        .filter(|(_, (column, reduced))| reduced.is_zero() && !is_fixed(column_ends(column)))
        .map(|(index, _)| index)
        .collect();
    let rows = program.rows().iter().zip(&optimum.row_multipliers);
    let equations = rows
        .filter(|(row, multiplier)| !multiplier.is_zero() || is_fixed(row_ends(row)))
        .map(|(row, _)| open.iter().map(|&index| row.coefficients[index].clone()).collect())
        .collect();
    rank(equations) == open.len()
}

fn rank(mut rows: Vec<Vec<Exact>>) -> usize {
    let mut rank = 0;
    for column in 0..rows.first().map_or(0, Vec::len) {
        let Some(found) = (rank..rows.len()).find(|&row| !rows[row][column].is_zero()) else { continue };
        rows.swap(rank, found);
        let (done, rest) = rows.split_at_mut(rank + 1);
        let leader = &done[rank];
        for row in rest.iter_mut().filter(|row| !row[column].is_zero()) {
            let factor = &row[column] / &leader[column];
            for (entry, above) in row.iter_mut().zip(leader) {
                *entry -= above * &factor;
            }
        }
        rank += 1;
    }
    rank
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(value: i64) -> Exact {
        Exact::from(value)
    }

    fn program(columns: &[(Option<i64>, Option<i64>, i64)], rows: &[(&[i64], Option<i64>, Option<i64>)]) -> Program {
        let columns = columns.iter().map(|&(low, high, cost)| Column {
            low: low.map(exact),
            high: high.map(exact),
            cost: exact(cost),
        });
        let rows = rows.iter().map(|&(coefficients, low, high)| Row {
            coefficients: coefficients.iter().copied().map(exact).collect(),
            low: low.map(exact),
            high: high.map(exact),
        });
        Program::new(columns.collect(), rows.collect()).unwrap()
    }

    fn refused(program: &Program, outcome: Outcome, place: &str, message: &str) {
        let error = verify(program, &outcome).expect_err(&format!("{outcome:?} was let through"));
        assert!(error.place == place && error.message.contains(message), "{outcome:?} gave {error}");
    }

    /// Written by hand: x + y = 10, x - y <= 2, cost 1 and 3, so x = 6, y = 4, objective 18, multipliers 2 and -1.
    fn by_hand() -> (Program, Optimum) {
        let program = program(
            &[(Some(0), None, 1), (Some(0), Some(9), 3)],
            &[(&[1, 1], Some(10), Some(10)), (&[1, -1], None, Some(2))],
        );
        let optimum = Optimum {
            values: vec![exact(6), exact(4)],
            row_multipliers: vec![exact(2), exact(-1)],
            reduced_costs: vec![exact(0), exact(0)],
            objective: exact(18),
            unique: true,
            pivots: 0,
        };
        (program, optimum)
    }

    #[test]
    fn a_hand_made_optimum_holds_and_each_forged_part_is_refused() {
        let (program, good) = by_hand();
        verify(&program, &Outcome::Optimal(good.clone())).unwrap();
        let forged = |forge: &dyn Fn(&mut Optimum), place: &str, message: &'static str| {
            let mut optimum = good.clone();
            forge(&mut optimum);
            refused(&program, Outcome::Optimal(optimum), place, message);
        };
        forged(&|o| o.values[0] = exact(-1), "columns[0]", "outside a range");
        forged(&|o| o.values[1] = exact(10), "columns[1]", "outside a range");
        forged(&|o| o.values = vec![exact(5), exact(4)], "rows[0]", "outside a range");
        forged(&|o| o.values = vec![exact(7), exact(3)], "rows[1]", "outside a range");
        forged(&|o| o.values = vec![exact(5), exact(5)], "row_multipliers[1]", "its end does not hold");
        forged(&|o| o.values.truncate(1), "values", "another size");
        forged(&|o| o.row_multipliers[0] = exact(3), "reduced_costs[0]", "not the cost less");
        forged(&|o| o.row_multipliers.push(exact(0)), "row_multipliers", "another size");
        let forged_reduced = Optimum { reduced_costs: vec![exact(0), exact(5)], ..good.clone() };
        let error = verify(&program, &Outcome::Optimal(forged_reduced)).unwrap_err();
        assert_eq!((error.value.as_deref(), error.allowed.as_deref()), (Some("5"), Some("0")));
        forged(&|o| o.reduced_costs[1] = exact(1), "reduced_costs[1]", "not the cost less");
        forged(&|o| o.reduced_costs.clear(), "reduced_costs", "another size");
        forged(&|o| o.objective = exact(17), "objective", "not the cost of the values");
    }

    #[test]
    fn a_multiplier_of_the_wrong_sign_is_refused() {
        // Stationary and equal in objective, but the row has no low end.
        let program = program(&[(Some(0), None, 1)], &[(&[1], None, Some(0))]);
        let optimum = |multiplier: i64, reduced: i64| {
            Outcome::Optimal(Optimum {
                values: vec![exact(0)],
                row_multipliers: vec![exact(multiplier)],
                reduced_costs: vec![exact(reduced)],
                objective: exact(0),
                unique: false,
                pivots: 0,
            })
        };
        verify(&program, &optimum(0, 1)).unwrap();
        verify(&program, &optimum(-1, 2)).unwrap();
        refused(&program, optimum(1, 0), "row_multipliers[0]", "absent end");
        refused(&program, optimum(2, -1), "reduced_costs[0]", "absent end");
    }

    #[test]
    fn uniqueness_is_proved_or_refused() {
        let (program_one, optimum) = by_hand();
        let cheap = program(
            &[(Some(0), Some(9), 1), (Some(0), Some(9), 1)],
            &[(&[1, 1], Some(10), Some(10)), (&[2, 2], Some(20), Some(20))],
        );
        let mut tie = optimum.clone();
        tie.row_multipliers = vec![exact(1), exact(0)];
        tie.objective = exact(10);
        refused(&cheap, Outcome::Optimal(tie.clone()), "unique", "no other point");
        tie.unique = false;
        verify(&cheap, &Outcome::Optimal(tie)).unwrap();
        verify(&program_one, &Outcome::Optimal(optimum)).unwrap();
    }

    #[test]
    fn a_hand_made_infeasibility_holds_and_forged_ones_are_refused() {
        // x + y >= 5 with both at most 2; and a row that proves nothing.
        let program = program(
            &[(Some(0), Some(2), 1), (None, Some(2), 1)],
            &[(&[1, 1], Some(5), None), (&[1, 0], Some(0), Some(9))],
        );
        let proof = |multipliers: &[i64]| {
            Outcome::Infeasible(Farkas {
                row_multipliers: multipliers.iter().copied().map(exact).collect(),
                crossing: None,
            })
        };
        verify(&program, &proof(&[1, 0])).unwrap();
        verify(&program, &proof(&[3, 0])).unwrap();
        refused(&program, proof(&[0, 0]), "row_multipliers", "the columns reach");
        refused(&program, proof(&[1, 1]), "row_multipliers", "the columns reach");
        refused(&program, proof(&[-1, 0]), "row_multipliers[0]", "absent end");
        refused(&program, proof(&[1]), "row_multipliers", "another size");
        let open = Program::new(
            program.columns().iter().cloned().map(|column| Column { high: None, ..column }).collect(),
            program.rows().to_vec(),
        );
        refused(&open.unwrap(), proof(&[1, 0]), "columns[0]", "absent end");
    }

    #[test]
    fn a_crossing_is_checked_at_its_place() {
        let program = program(
            &[(Some(1), Some(0), 0), (Some(1), Some(1), 0)],
            &[(&[1, 1], Some(3), Some(2)), (&[1, 1], Some(3), None)],
        );
        let proof = |crossing, multiplier: i64| {
            Outcome::Infeasible(Farkas { row_multipliers: vec![exact(multiplier), exact(0)], crossing: Some(crossing) })
        };
        verify(&program, &proof(Crossing::Column(0), 0)).unwrap();
        verify(&program, &proof(Crossing::Row(0), 0)).unwrap();
        refused(&program, proof(Crossing::Column(1), 0), "columns[1]", "do not cross");
        refused(&program, proof(Crossing::Row(1), 0), "rows[1]", "do not cross");
        refused(&program, proof(Crossing::Row(7), 0), "rows[7]", "do not cross");
        refused(&program, proof(Crossing::Row(0), 1), "row_multipliers[0]", "needs no multiplier");
    }

    #[test]
    fn a_hand_made_ray_holds_and_forged_ones_are_refused() {
        // y may grow with x for ever while y - x <= 1.
        let program = program(&[(Some(0), None, 0), (None, None, -1)], &[(&[-1, 1], None, Some(1))]);
        let ray = |point: [i64; 2], direction: [i64; 2]| {
            Outcome::Unbounded(Ray { point: point.map(exact).to_vec(), direction: direction.map(exact).to_vec() })
        };
        verify(&program, &ray([0, 1], [1, 1])).unwrap();
        refused(&program, ray([-1, 0], [1, 1]), "columns[0]", "outside a range");
        refused(&program, ray([0, 2], [1, 1]), "rows[0]", "outside a range");
        refused(&program, ray([0, 1], [0, 1]), "rows[0]", "leaves a range");
        refused(&program, ray([0, 1], [-1, -1]), "columns[0]", "leaves a range");
        refused(&program, ray([0, 1], [1, 0]), "direction", "does not fall");
        refused(&program, ray([0, 1], [0, 0]), "direction", "does not fall");
        refused(
            &program,
            Outcome::Unbounded(Ray { point: vec![exact(0), exact(1)], direction: Vec::new() }),
            "direction",
            "another size",
        );
    }
}
