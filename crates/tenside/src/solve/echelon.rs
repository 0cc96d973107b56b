//! Rows of equations, brought to reduced echelon form one by one.

use crate::error::Error;
use crate::number::Exact;
use crate::watch::{Halt, Watched};

/// Rows with their pivots: in a pivot's column its row has 1 and every other row 0.
pub(super) type Echelon = Vec<(usize, Vec<Exact>)>;

/// Adds a row; false where it is a combination of the others as far as `pivot`, which is asked for a place that is not
/// 0, finds none.
pub(super) fn add_row(
    rows: &mut Echelon,
    mut row: Vec<Exact>,
    pivot: impl Fn(&[Exact]) -> Option<usize>,
    watched: &Watched,
) -> Result<bool, Error> {
    for (pivot, known) in rows.iter() {
        watched.check()?;
        clear(&mut row, *pivot, known);
    }
    let Some(pivot) = pivot(&row) else { return Ok(false) };
    let scale = row[pivot].clone();
    row.iter_mut().for_each(|entry| *entry = &*entry / &scale);
    for (_, known) in rows.iter_mut() {
        watched.check()?;
        clear(known, pivot, &row);
    }
    rows.push((pivot, row));
    Ok(true)
}

/// Makes the entry of a row in the pivot's column 0.
fn clear(row: &mut [Exact], pivot: usize, known: &[Exact]) {
    let factor = row[pivot].clone();
    if !factor.is_zero() {
        row.iter_mut().zip(known).for_each(|(entry, known)| *entry -= &(&factor * known));
    }
}
