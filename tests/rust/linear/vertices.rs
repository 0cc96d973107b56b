//! Brute force: of all corners of a program whose columns have both ends, the feasible one that comes first in a given
//! order.

use tenside::number::Exact;
use tenside_lp::Program;

/// The cost and the values of the first feasible corner, by cost and then by the columns in `order`; nothing where none
/// is feasible.
pub(crate) fn first_corner(program: &Program, order: &[usize]) -> Option<(Exact, Vec<Exact>)> {
    let rank = |values: &Vec<Exact>| {
        let cost: Exact = program.columns().iter().zip(values).map(|(column, value)| &column.cost * value).sum();
        std::iter::once(cost).chain(order.iter().map(|&column| values[column].clone())).collect::<Vec<_>>()
    };
    let first = corners(program).into_iter().map(|values| (rank(&values), values)).min()?;
    Some((first.0[0].clone(), first.1))
}

fn corners(program: &Program) -> Vec<Vec<Exact>> {
    let columns = program.columns().len();
    let mut planes = Vec::new();
    for (index, column) in program.columns().iter().enumerate() {
        let mut unit = vec![Exact::ZERO; columns];
        unit[index] = Exact::ONE;
        planes.extend([&column.low, &column.high].into_iter().flatten().map(|end| (unit.clone(), end.clone())));
    }
    for row in program.rows() {
        planes.extend([&row.low, &row.high].into_iter().flatten().map(|end| (row.coefficients.clone(), end.clone())));
    }
    let mut corners = Vec::new();
    choose(&planes, columns, &mut Vec::new(), &mut |chosen| {
        corners.extend(meeting_point(chosen).filter(|point| feasible(program, point)))
    });
    corners
}

type Plane = (Vec<Exact>, Exact);

fn choose(planes: &[Plane], count: usize, chosen: &mut Vec<Plane>, found: &mut impl FnMut(&[Plane])) {
    if chosen.len() == count {
        return found(chosen);
    }
    for (index, plane) in planes.iter().enumerate() {
        chosen.push(plane.clone());
        choose(&planes[index + 1..], count, chosen, found);
        chosen.pop();
    }
}

/// The one point on all planes, by elimination.
fn meeting_point(planes: &[Plane]) -> Option<Vec<Exact>> {
    let mut planes = planes.to_vec();
    for column in 0..planes.len() {
        let pivot = (column..planes.len()).find(|&row| !planes[row].0[column].is_zero())?;
        planes.swap(column, pivot);
        let (leader, end) = planes[column].clone();
        for (_, plane) in planes.iter_mut().enumerate().filter(|(row, _)| *row != column) {
            let factor = &plane.0[column] / &leader[column];
            if !factor.is_zero() {
                plane.0.iter_mut().zip(&leader).for_each(|(entry, above)| *entry -= &(above * &factor));
                plane.1 -= &(&end * &factor);
            }
        }
    }
    Some(planes.iter().enumerate().map(|(index, (coefficients, end))| end / &coefficients[index]).collect())
}

fn feasible(program: &Program, point: &[Exact]) -> bool {
    let within = |value: &Exact, low: &Option<Exact>, high: &Option<Exact>| {
        low.as_ref().is_none_or(|low| low <= value) && high.as_ref().is_none_or(|high| value <= high)
    };
    let activity =
        |coefficients: &[Exact]| coefficients.iter().zip(point).map(|(coefficient, value)| coefficient * value).sum();
    program.columns().iter().zip(point).all(|(column, value)| within(value, &column.low, &column.high))
        && program.rows().iter().all(|row| within(&activity(&row.coefficients), &row.low, &row.high))
}
