//! Tables of records: rows in Python, columns in Arrow, a page where one is shown.

use std::sync::OnceLock;

use arrow_array::RecordBatch;
use pyo3::exceptions::PyIndexError;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::pyclass_init::PyClassInitializer;
use pyo3::types::{PyIterator, PyList, PySlice, PyTuple, PyType};
use pyo3::{PyClass, PyTypeInfo, type_hint_subscript};
use tenside::error::{Fault, FaultKind};
use tenside::render;

use crate::convert::arrow::cell;
use crate::convert::column::{self, Cell};
use crate::convert::failure::Outcome;
use crate::convert::page::{Page, WIDTH};
use crate::convert::pickled::Reduced;

/// How the page of rows is made, when it is asked for.
type MakePage = Box<dyn Fn() -> Result<render::Page, tenside::Error> + Send + Sync>;

/// Records on their way to a `Table`.
pub(crate) struct Rows<T> {
    rows: Vec<T>,
    page: Option<MakePage>,
}

impl<T> FromIterator<T> for Rows<T> {
    fn from_iter<I: IntoIterator<Item = T>>(rows: I) -> Self {
        Rows { rows: rows.into_iter().collect(), page: None }
    }
}

impl<T> IntoIterator for Rows<T> {
    type Item = T;
    type IntoIter = std::vec::IntoIter<T>;

    fn into_iter(self) -> Self::IntoIter {
        self.rows.into_iter()
    }
}

impl<T> Rows<T> {
    /// These rows with the page that shows them.
    pub(crate) fn shown(self, page: impl Fn() -> Result<render::Page, tenside::Error> + Send + Sync + 'static) -> Self {
        Rows { page: Some(Box::new(page)), ..self }
    }
}

/// What a row of a table is.
pub(crate) trait Record:
    Cell + PyClass<Frozen = pyo3::pyclass::boolean_struct::True> + Into<PyClassInitializer<Self>> + Sync
{
}

impl<T: Cell + PyClass<Frozen = pyo3::pyclass::boolean_struct::True> + Into<PyClassInitializer<T>> + Sync> Record
    for T
{
}

impl<'py, T: Record> IntoPyObject<'py> for Rows<T> {
    type Target = Table;
    type Output = Bound<'py, Table>;
    type Error = PyErr;
    const OUTPUT_TYPE: PyStaticExpr =
        type_hint_subscript!(<Table as PyTypeInfo>::TYPE_HINT, <T as PyTypeInfo>::TYPE_HINT);

    fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
        let rows = self.rows.into_iter().map(|row| Ok(Py::new(py, row)?.into_any())).collect::<PyResult<_>>()?;
        Bound::new(py, Table::new::<T>(py, rows, self.page))
    }
}

/// Records by the row: an index gives one, a notebook shows them all, and any library that takes Arrow takes their
/// fields as columns: `polars.DataFrame(table)`, `pyarrow.table(table)`, DuckDB by the name of the variable. Exact
/// numbers become the nearest doubles there; of an interval, `percent` is the typical value beside `percent.low` and
/// `percent.high`.
///
/// >>> cat = td.Catalogue.starter()
/// >>> rows = td.Formula("Half and half", {"sci-powder": 50, "kaolin": 50}, cat).expand()
/// >>> rows[0].inci, len(rows) > 2
/// ('KAOLIN', True)
/// >>> rows.columns
/// ['inci', 'percent', 'percent.low', 'percent.high', 'lines', 'declaration']
/// >>> rows.column("percent")[0]
/// 50.0
#[pyclass(frozen, generic, module = "tenside.document")]
pub(crate) struct Table {
    rows: Vec<Py<PyAny>>,
    /// The class of a row.
    record: Py<PyType>,
    make_batch: fn(&Table, Python<'_>) -> Outcome<RecordBatch>,
    batch: OnceLock<RecordBatch>,
    make_page: Option<MakePage>,
    page: OnceLock<Page>,
}

copied!(Table);
arrow!(Table, |it, py| *it.batch(py)?);

impl Table {
    fn new<T: Record>(py: Python<'_>, rows: Vec<Py<PyAny>>, make_page: Option<MakePage>) -> Self {
        let record = T::type_object(py).unbind();
        Table {
            rows,
            record,
            make_batch: Table::columns_of::<T>,
            batch: OnceLock::new(),
            make_page,
            page: OnceLock::new(),
        }
    }

    /// The table that was pickled: rows of a class that has hidden `_table`.
    pub(crate) fn of_rows<T: Record>(py: Python<'_>, rows: Vec<Py<T>>, page: Option<Page>) -> Self {
        let rows = rows.into_iter().map(Py::into_any).collect();
        Table::new::<T>(py, rows, page.map(|page| -> MakePage { Box::new(move || Ok(page.0.clone())) }))
    }

    fn columns_of<T: Record>(&self, py: Python<'_>) -> Outcome<RecordBatch> {
        let rows = self
            .rows
            .iter()
            .map(|row| Ok(row.bind(py).cast::<T>().map_err(PyErr::from)?.get()))
            .collect::<Outcome<Vec<&T>>>()?;
        column::batch(&rows.into_iter().map(Some).collect::<Vec<_>>())
    }

    /// Its columns, made when they are first asked for.
    fn batch(&self, py: Python<'_>) -> Outcome<&RecordBatch> {
        if let Some(batch) = self.batch.get() {
            return Ok(batch);
        }
        let batch = (self.make_batch)(self, py)?;
        Ok(self.batch.get_or_init(|| batch))
    }

    /// Its page, made when it is first asked for.
    fn shown(&self, py: Python<'_>) -> Outcome<&Page> {
        if let Some(page) = self.page.get() {
            return Ok(page);
        }
        let page = match &self.make_page {
            Some(make) => Page(make()?),
            None => {
                let title =
                    format!("{}, rows: {}", in_words(&self.record.bind(py).name()?.to_string()), self.rows.len());
                Page(column::page(py, &title, self.batch(py)?)?)
            }
        };
        Ok(self.page.get_or_init(|| page))
    }

    fn list<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyList>> {
        PyList::new(py, &self.rows)
    }
}

#[pymethods]
impl Table {
    /// The page that is shown.
    #[getter]
    fn page(&self, py: Python<'_>) -> Outcome<Page> {
        Ok(self.shown(py)?.clone())
    }

    /// The names of its columns: the fields of its rows, one of a record inside a record as `constraint.name`.
    #[getter]
    fn columns(&self, py: Python<'_>) -> Outcome<Vec<String>> {
        Ok(self.batch(py)?.schema().fields().iter().map(|field| field.name().clone()).collect())
    }

    /// The cells of a column; None if there is nothing.
    /// `name` is one of `columns`.
    fn column<'py>(&self, py: Python<'py>, name: &str) -> Outcome<Vec<Bound<'py, PyAny>>> {
        let batch = self.batch(py)?;
        let Some(array) = batch.column_by_name(name) else {
            let schema = batch.schema();
            let known: Vec<&str> = schema.fields().iter().map(|field| field.name().as_str()).collect();
            return Err(Fault::new(FaultKind::UnknownName, "unknown column")
                .value(format!("{name:?}"))
                .allowed(known.join(", "))
                .into());
        };
        Ok((0..batch.num_rows()).map(|row| cell(py, array, row)).collect::<PyResult<_>>()?)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Outcome<Reduced<'py>> {
        let page = if self.make_page.is_some() { Some(self.shown(py)?.clone()) } else { None };
        Ok((self.record.bind(py).getattr("_table")?, (self.list(py)?, page).into_pyobject(py)?))
    }

    /// Equal to a table, list or tuple of equal rows.
    fn __eq__(&self, py: Python<'_>, other: &Bound<'_, PyAny>) -> PyResult<bool> {
        let rows = self.list(py)?;
        if let Ok(other) = other.cast::<Table>() {
            return rows.eq(other.get().list(py)?);
        }
        if let Ok(other) = other.cast::<PyTuple>() {
            return rows.eq(other.to_list());
        }
        rows.eq(other)
    }

    fn __hash__(&self, py: Python<'_>) -> PyResult<isize> {
        PyTuple::new(py, &self.rows)?.hash()
    }

    fn __len__(&self) -> usize {
        self.rows.len()
    }

    /// A row, or the table of the rows of a slice.
    fn __getitem__<'py>(&self, py: Python<'py>, index: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
        if index.is_instance_of::<PySlice>() {
            let rows = self.list(py)?.into_any().get_item(index)?;
            return self.record.bind(py).getattr("_table")?.call1((rows, None::<Page>));
        }
        let place: isize = index.extract()?;
        let from_end = if place < 0 { place + isize::try_from(self.rows.len()).unwrap_or(isize::MAX) } else { place };
        let row = usize::try_from(from_end).ok().and_then(|place| self.rows.get(place));
        row.map(|row| row.bind(py).clone())
            .ok_or_else(|| PyIndexError::new_err(format!("row {place} of {}", self.rows.len())))
    }

    fn __iter__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyIterator>> {
        self.list(py)?.try_iter()
    }

    fn _repr_html_(&self, py: Python<'_>) -> Outcome<String> {
        Ok(self.shown(py)?.0.html())
    }

    fn __str__(&self, py: Python<'_>) -> Outcome<String> {
        Ok(self.shown(py)?.0.text(WIDTH))
    }

    fn __repr__(&self, py: Python<'_>) -> Outcome<String> {
        if self.make_page.is_some() {
            return self.__str__(py);
        }
        Ok(self.list(py)?.repr()?.to_string())
    }
}

/// The name of a class as words: "SearchHit" as "Search hit".
fn in_words(class: &str) -> String {
    let mut words = String::new();
    for (place, letter) in class.chars().enumerate() {
        if place > 0 && letter.is_uppercase() {
            words.push(' ');
            words.extend(letter.to_lowercase());
        } else {
            words.push(letter);
        }
    }
    words
}
