//! Tables that Python hands over: a sheet as text, or a data frame of any library as cells.

use std::collections::HashMap;

use pyo3::exceptions::{PyTypeError, PyValueError};
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyString};
use pyo3::{type_hint_identifier, type_hint_union};
use tenside::bounds::Quantity;
use tenside::catalogue::TableText;
use tenside::error::{Fault, FaultKind};

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{TEXT, exact, one_by_one};
use crate::convert::running::reading;

/// What stands for nothing in a column of pandas.
const NOTHING: [&str; 2] = ["NAType", "NaTType"];

/// CSV text, or a data frame (pandas, polars, pyarrow) or mapping of columns by heading.
pub(crate) enum ATable {
    Sheet(String),
    Cells { headings: Vec<String>, rows: Vec<Vec<Cell>> },
}

/// A cell of a frame: text, or a number, which is one number only whatever decimal mark texts have.
pub(crate) enum Cell {
    Text(String),
    Number(String),
}

/// A table has a line of headings and more, or headings apart; a name has neither.
fn is_name_of_a_file(text: &str) -> bool {
    let text = text.trim().to_ascii_lowercase();
    !text.contains(['\n', ',', ';', '\t']) && [".csv", ".tsv", ".txt", ".xlsx"].iter().any(|end| text.ends_with(end))
}

impl<'a, 'py> FromPyObject<'a, 'py> for ATable {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(TEXT, type_hint_identifier!("typing", "Any"));

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if let Ok(text) = object.cast::<PyString>() {
            let text = text.to_cow()?;
            if is_name_of_a_file(&text) {
                return Err(Fault::new(FaultKind::Unsupported, "a file's name is not what stands in the file")
                    .value(format!("{text:?}"))
                    .remedy("read the file first: pathlib.Path(name).read_text(encoding=\"utf-8\")")
                    .into());
            }
            return Ok(ATable::Sheet(text.into_owned()));
        }
        let names = ["column_names", "columns"]
            .into_iter()
            .find_map(|name| object.getattr_opt(name).transpose())
            .transpose()?;
        let names = match (names, object.getattr_opt("keys")?) {
            (Some(names), _) => names,
            (None, Some(keys)) => keys.call0()?,
            (None, None) => {
                let message = format!(
                    "a table is CSV text, a data frame, or a mapping of columns by heading (found {})",
                    object.get_type().name()?
                );
                return Err(PyTypeError::new_err(message).into());
            }
        };
        let headings: Vec<String> =
            one_by_one(&names, Quantity::Entries, |name| Ok(name.str()?.to_cow()?.into_owned()))?;
        let names: Vec<Bound<'_, PyAny>> = names.try_iter()?.collect::<PyResult<_>>()?;
        let mut counts: HashMap<&str, usize> = HashMap::new();
        headings.iter().for_each(|heading| *counts.entry(heading).or_default() += 1);
        let mut columns: Vec<Option<Vec<Cell>>> = Vec::new();
        for (name, heading) in names.iter().zip(&headings) {
            // A heading that stands twice is refused; which of the two columns a name means need not be known.
            columns.push(if counts[heading.as_str()] > 1 {
                None
            } else {
                Some(one_by_one(&object.get_item(name)?, Quantity::Entries, |cell| taken(&cell))?)
            });
        }
        let length = columns.iter().flatten().map(Vec::len).max().unwrap_or(0);
        if let Some((heading, column)) = headings
            .iter()
            .zip(&columns)
            .find(|(_, column)| column.as_ref().is_some_and(|column| column.len() != length))
        {
            let found = column.as_ref().map_or(0, Vec::len);
            return Err(PyValueError::new_err(format!(
                "columns of different lengths: {heading:?} has {found} rows, another {length}"
            ))
            .into());
        }
        let mut columns: Vec<Option<std::vec::IntoIter<Cell>>> =
            columns.into_iter().map(|column| column.map(Vec::into_iter)).collect();
        let row = |columns: &mut Vec<Option<std::vec::IntoIter<Cell>>>| -> Vec<Cell> {
            columns
                .iter_mut()
                .map(|column| column.as_mut().and_then(Iterator::next).unwrap_or(Cell::Text(String::new())))
                .collect()
        };
        let rows = (0..length).map(|_| row(&mut columns)).collect();
        Ok(ATable::Cells { headings, rows })
    }
}

fn taken(cell: &Bound<'_, PyAny>) -> Outcome<Cell> {
    let cell = match cell.getattr_opt("as_py")? {
        Some(as_py) => as_py.call0()?,
        None => cell.clone(),
    };
    if let Ok(text) = cell.cast::<PyString>() {
        return Ok(Cell::Text(text.to_cow()?.into_owned()));
    }
    if cell.is_none() || NOTHING.contains(&&*cell.get_type().name()?.to_cow()?) {
        return Ok(Cell::Text(String::new()));
    }
    if cell.is_instance_of::<PyBool>() {
        return Ok(Cell::Text(cell.str()?.to_cow()?.into_owned()));
    }
    match exact(&cell) {
        Ok(number) => Ok(Cell::Number(number.to_string())),
        // Not a number: the mark of a missing cell.
        Err(_) if cell.ne(&cell)? => Ok(Cell::Text(String::new())),
        Err(_) => Ok(Cell::Text(cell.str()?.to_cow()?.into_owned())),
    }
}

/// A number with the decimal mark of the texts beside it, and never with three digits behind it, which could be
/// thousands.
fn marked(number: String, decimal_comma: Option<bool>) -> String {
    if decimal_comma == Some(true) {
        return number.replace('.', ",");
    }
    let three = number.split_once('.').is_some_and(|(_, places)| places.len() == 3);
    if three { number + "0" } else { number }
}

impl ATable {
    /// What comes of reading it.
    pub(crate) fn read<T: Send + 'static>(
        self,
        py: Python<'_>,
        decimal_comma: Option<bool>,
        read: impl FnOnce(TableText<'_>) -> Result<T, tenside::Error> + Send + 'static,
    ) -> Outcome<T> {
        match self {
            ATable::Sheet(text) => reading(py, [&text], move |[text]| read(TableText::Sheet(text))),
            ATable::Cells { headings, rows } => Ok(py.detach(move || {
                let text = |cell| match cell {
                    Cell::Text(text) => text,
                    Cell::Number(number) => marked(number, decimal_comma),
                };
                let rows: Vec<Vec<String>> = rows.into_iter().map(|row| row.into_iter().map(text).collect()).collect();
                read(TableText::Cells { headings: &headings, rows: &rows })
            })?),
        }
    }
}
