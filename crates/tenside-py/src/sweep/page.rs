//! A sweep's table on a page.

use std::sync::Arc;

use arrow_array::{ArrayRef, RecordBatch};
use arrow_schema::{Field, Schema};
use pyo3::prelude::*;
use tenside::render;
use tenside::sweep::{Column, Sweep};

use crate::convert::arrow::failed;
use crate::convert::column;
use crate::convert::failure::Outcome;
use crate::convert::page::{Page, WIDTH};

/// A column of numbers is at least so wide on a page.
const NARROWEST: usize = 8;

/// The axes, then what is measured, then lines, as many as stand side by side, with their units; the others by name.
pub(crate) fn side_by_side(py: Python<'_>, sweep: &Sweep, batch: &RecordBatch) -> Outcome<Page> {
    let schema = batch.schema();
    let name = |place: usize| schema.field(place).name().as_str();
    let units = sweep.units();
    let known = |place: usize| sweep.names().iter().position(|known| known == name(place));
    let heading = |place: usize| {
        let short = ["axis.", "line."].iter().find_map(|prefix| name(place).strip_prefix(prefix));
        let unit = known(place).and_then(|known| units[known].split(" of ").next()).unwrap_or_default();
        let comma = if unit.is_empty() { "" } else { ", " };
        format!("{}{comma}{unit}", short.unwrap_or(name(place)))
    };
    // A code is a number that says nothing before it is read.
    let is_code = |place: usize| {
        let column = known(place).map(|known| &sweep.columns()[known]);
        matches!(column, Some(Column::Binding | Column::Conflict | Column::Review(_)))
    };
    let mut places: Vec<usize> = (0..batch.num_columns()).filter(|place| !is_code(*place)).collect();
    places.sort_by_key(|place| (!name(*place).starts_with("axis."), name(*place).starts_with("line.")));
    let mut room = WIDTH;
    let fits = |place: &usize| {
        // A heading is broken at blanks and hyphens.
        let piece = heading(*place).split_inclusive([' ', '-']).map(|piece| piece.trim_end().chars().count()).max();
        let width = piece.unwrap_or_default().max(NARROWEST) + 2;
        let fits = width <= room;
        room = if fits { room - width } else { 0 };
        fits
    };
    let shown: Vec<usize> = places.iter().copied().take_while(fits).collect();
    // Of what is too wide to stand beside anything, the whole table.
    let shown = if shown.len() < 2 { (0..batch.num_columns()).collect() } else { shown };
    let rest: Vec<&str> = (0..batch.num_columns()).filter(|place| !shown.contains(place)).map(name).collect();
    let fields: Vec<Field> =
        shown.iter().map(|place| schema.field(*place).clone().with_name(heading(*place))).collect();
    let columns = shown.iter().map(|place| ArrayRef::clone(batch.column(*place))).collect();
    let shown = RecordBatch::try_new(Arc::new(Schema::new(fields)), columns).map_err(failed)?;
    let page = sweep.brief().marked(column::page(py, sweep.brief().title(), &shown)?);
    if rest.is_empty() {
        return Ok(Page(page));
    }
    Ok(Page(page.with(render::Part::Text(format!("Further columns: {}.", rest.join(", "))))))
}
