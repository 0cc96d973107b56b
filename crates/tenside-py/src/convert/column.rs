//! Records by the row, their fields by the column: how any table of the library becomes one of Arrow.
//!
//! A field says by its type which columns it makes (`Cell`), and a record makes those of its fields. So a table needs
//! nothing of its own.

use std::sync::Arc;

use arrow_array::{
    Array, ArrayRef, BooleanArray, Float64Array, Int64Array, ListArray, RecordBatch, RecordBatchOptions, StringArray,
    StructArray, UInt64Array,
};
use arrow_buffer::{NullBuffer, OffsetBuffer};
use arrow_schema::{Field, Schema};
use indexmap::IndexMap;
use pyo3::prelude::*;
use pyo3::types::{PyFloat, PyList};
use rust_decimal::Decimal;
use tenside::number::Exact;
use tenside::render;

use crate::convert::arrow::{cell, failed};
use crate::convert::failure::Outcome;
use crate::convert::interval::Interval;
use crate::convert::output::Fraction;

/// Named columns, one after the other.
pub(crate) type Columns = Vec<(String, ArrayRef)>;

/// How many rows such a page shows.
const MOST_ROWS: usize = 50;

/// These columns as a page, for rows that no room has a page of its own for: the first rows of many, and how many there
/// are.
pub(crate) fn page(py: Python<'_>, title: &str, batch: &RecordBatch) -> PyResult<render::Page> {
    let schema = batch.schema();
    let aligned =
        |field: &Field| if field.data_type().is_numeric() { render::Alignment::Right } else { render::Alignment::Left };
    let heading: Vec<(&str, render::Alignment)> =
        schema.fields().iter().map(|field| (field.name().as_str(), aligned(field))).collect();
    let mut table = render::Table::new(&heading);
    for row in 0..batch.num_rows().min(MOST_ROWS) {
        table.push(batch.columns().iter().map(|array| shown(&cell(py, array, row)?)).collect::<PyResult<Vec<_>>>()?);
    }
    let page = render::Page::new(title).with(render::Part::Table(table));
    if batch.num_rows() <= MOST_ROWS {
        return Ok(page);
    }
    Ok(page.with(render::Part::Text(format!("The first {MOST_ROWS} of {} rows.", batch.num_rows()))))
}

fn shown(cell: &Bound<'_, PyAny>) -> PyResult<String> {
    if cell.is_none() {
        return Ok(String::new());
    }
    if let Ok(number) = cell.cast::<PyFloat>() {
        let value = number.value();
        // A table is read; the whole number is in the column.
        if value == 0.0 || (1e-3..1e9).contains(&value.abs()) {
            let text = format!("{value:.4}");
            return Ok(text.trim_end_matches('0').trim_end_matches('.').to_string());
        }
    }
    match cell.cast::<PyList>() {
        Ok(cells) => Ok(cells.iter().map(|cell| shown(&cell)).collect::<PyResult<Vec<_>>>()?.join(", ")),
        Err(_) => Ok(cell.str()?.to_string()),
    }
}

/// What a field makes columns of.
pub(crate) trait Cell: Sized {
    /// Adds the columns of these cells; `None` where there is nothing.
    fn columns(name: &str, cells: &[Option<&Self>], into: &mut Columns);
}

/// These rows as one batch; of none of them the columns without a row.
pub(crate) fn batch<T: Cell>(rows: &[Option<&T>]) -> Outcome<RecordBatch> {
    let mut columns = Columns::new();
    T::columns("", rows, &mut columns);
    of_columns(columns, rows.len())
}

/// Rows that a method gave, as one batch.
pub(crate) fn batch_of<T: Cell>(rows: impl IntoIterator<Item = T>) -> Outcome<RecordBatch> {
    let rows: Vec<T> = rows.into_iter().collect();
    batch(&rows.iter().map(Some).collect::<Vec<_>>())
}

/// Named columns of so many rows as one batch.
pub(crate) fn of_columns(columns: Columns, rows: usize) -> Outcome<RecordBatch> {
    let fields = columns.iter().map(|(name, array)| Field::new(name, array.data_type().clone(), true));
    let schema = Arc::new(Schema::new(fields.collect::<Vec<_>>()));
    let arrays = columns.into_iter().map(|(_, array)| array).collect();
    RecordBatch::try_new_with_options(schema, arrays, &RecordBatchOptions::new().with_row_count(Some(rows)))
        .map_err(failed)
}

/// The name of a record's field: behind that of the field in which the record itself stands.
pub(crate) fn inside(record: &str, field: &str) -> String {
    if record.is_empty() { field.to_string() } else { format!("{record}.{field}") }
}

/// The columns of values that were worked out for each row.
pub(crate) fn worked_out<T: Cell>(name: &str, values: &[Option<T>], into: &mut Columns) {
    T::columns(name, &values.iter().map(Option::as_ref).collect::<Vec<_>>(), into);
}

macro_rules! cells {
    ($($type:ty: $array:ty = |$value:ident| $cell:expr;)*) => {
        $(
            impl Cell for $type {
                fn columns(name: &str, cells: &[Option<&Self>], into: &mut Columns) {
                    let array: $array = cells.iter().map(|cell| cell.map(|$value| $cell)).collect();
                    into.push((name.to_string(), Arc::new(array)));
                }
            }
        )*
    };
}

cells! {
    String: StringArray = |text| text.as_str();
    bool: BooleanArray = |flag| *flag;
    i32: Int64Array = |count| i64::from(*count);
    u32: UInt64Array = |count| u64::from(*count);
    u64: UInt64Array = |count| *count;
    usize: UInt64Array = |count| *count as u64;
    f64: Float64Array = |number| *number;
    Exact: Float64Array = |number| number.to_f64();
    Fraction: Float64Array = |number| number.0.to_f64();
    Decimal: Float64Array = |number| Exact::from(*number).to_f64();
}

impl<A: Cell, B: Cell> Cell for (A, B) {
    fn columns(name: &str, cells: &[Option<&Self>], into: &mut Columns) {
        A::columns(&inside(name, "0"), &cells.iter().map(|cell| cell.map(|pair| &pair.0)).collect::<Vec<_>>(), into);
        B::columns(&inside(name, "1"), &cells.iter().map(|cell| cell.map(|pair| &pair.1)).collect::<Vec<_>>(), into);
    }
}

impl<T: Cell> Cell for Option<T> {
    fn columns(name: &str, cells: &[Option<&Self>], into: &mut Columns) {
        T::columns(name, &cells.iter().map(|cell| cell.and_then(Option::as_ref)).collect::<Vec<_>>(), into);
    }
}

/// The typical value under the field's own name, its ends beside it.
impl Cell for Interval {
    fn columns(name: &str, cells: &[Option<&Self>], into: &mut Columns) {
        let mut add = |name: &str, end: fn(&tenside::number::Interval) -> Option<&Exact>| {
            Exact::columns(
                name,
                &cells.iter().map(|cell| cell.and_then(|interval| end(&interval.0))).collect::<Vec<_>>(),
                into,
            );
        };
        add(if name.is_empty() { "typical" } else { name }, |interval| interval.typical.as_ref());
        add(&inside(name, "low"), |interval| interval.low.as_ref());
        add(&inside(name, "high"), |interval| interval.high.as_ref());
    }
}

/// A list a cell: of what the elements have one column of, else of structs.
impl<T: Cell> Cell for Vec<T> {
    fn columns(name: &str, cells: &[Option<&Self>], into: &mut Columns) {
        let mut columns = Columns::new();
        T::columns(
            "",
            &cells.iter().flatten().flat_map(|cell| cell.iter()).map(Some).collect::<Vec<_>>(),
            &mut columns,
        );
        let elements: ArrayRef = match &columns[..] {
            [(name, array)] if name.is_empty() => Arc::clone(array),
            _ => {
                let field = |(name, array): (String, ArrayRef)| {
                    (Arc::new(Field::new(name, array.data_type().clone(), true)), array)
                };
                Arc::new(StructArray::from(columns.into_iter().map(field).collect::<Vec<_>>()))
            }
        };
        let item = Arc::new(Field::new_list_field(elements.data_type().clone(), true));
        let lengths = OffsetBuffer::from_lengths(cells.iter().map(|cell| cell.map_or(0, Vec::len)));
        let there = NullBuffer::from_iter(cells.iter().map(Option::is_some));
        into.push((name.to_string(), Arc::new(ListArray::new(item, lengths, elements, Some(there)))));
    }
}

/// A column a name, in the order in which the names come up: the percentages of formulas by line.
impl<T: Cell> Cell for IndexMap<String, T> {
    fn columns(name: &str, cells: &[Option<&Self>], into: &mut Columns) {
        let mut names: Vec<&str> = Vec::new();
        for key in cells.iter().flatten().flat_map(|cell| cell.keys()) {
            if !names.contains(&key.as_str()) {
                names.push(key);
            }
        }
        for key in names {
            T::columns(
                &inside(name, key),
                &cells.iter().map(|cell| cell.and_then(|cell| cell.get(key))).collect::<Vec<_>>(),
                into,
            );
        }
    }
}
