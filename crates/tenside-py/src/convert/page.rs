//! Pages, and rows that are also shown as a page.

use std::sync::OnceLock;

use pyo3::PyClass;
use pyo3::exceptions::PyIndexError;
use pyo3::prelude::*;
use pyo3::pyclass_init::PyClassInitializer;
use pyo3::types::{PyList, PyTuple, PyType};
use tenside::render;

use crate::convert::failure::Outcome;
use crate::convert::output::{from_json, hash, to_json};
use crate::convert::pickled::Reduced;

/// Columns of a terminal.
pub(crate) const WIDTH: usize = 80;

/// A page for a notebook (escaped HTML), a terminal or a document.
///
/// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
/// >>> clay.page(td.as_charged, td.finished(moisture=1)).markdown().splitlines()[0]
/// '# Clay'
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Page(pub(crate) render::Page);

value!(Page, |it| &it.title);
shown!(Page, |it| it.0);

#[pymethods]
impl Page {
    /// As plain text of at most that many columns.
    #[pyo3(signature = (width=80))]
    fn text(&self, width: u16) -> String {
        self.0.text(usize::from(width))
    }

    /// As Markdown, markup in names escaped.
    fn markdown(&self) -> String {
        self.0.markdown()
    }

    /// As an HTML element, everything escaped.
    fn html(&self) -> String {
        self.0.html()
    }

    /// As a whole HTML document that prints on its own.
    fn html_document(&self) -> String {
        self.0.html_document()
    }

    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, json: &str) -> Outcome<Self> {
        Ok(Page(from_json(json)?))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String,))> {
        Ok((slf.get_type().getattr("_of")?, (to_json(&slf.get().0)?,)))
    }

    fn __repr__(&self) -> String {
        self.0.text(WIDTH)
    }
}

/// Rows that are also shown as a page: an index gives a row, a notebook shows the whole.
///
/// >>> cat = td.Catalogue.starter()
/// >>> rows = td.Formula("Half and half", {"sci-powder": 50, "kaolin": 50}, cat).expand()
/// >>> rows[0].inci, len(rows) > 2
/// ('KAOLIN', True)
#[pyclass(frozen, module = "tenside")]
pub(crate) struct Table {
    rows: Vec<Py<PyAny>>,
    make_page: Box<dyn Fn() -> Result<render::Page, tenside::Error> + Send + Sync>,
    page: OnceLock<Page>,
}

copied!(Table);

impl Table {
    pub(crate) fn new<T: PyClass + Into<PyClassInitializer<T>>>(
        py: Python<'_>,
        rows: impl IntoIterator<Item = T>,
        make_page: impl Fn() -> Result<render::Page, tenside::Error> + Send + Sync + 'static,
    ) -> PyResult<Self> {
        let rows = rows.into_iter().map(|row| Ok(Py::new(py, row)?.into_any())).collect::<PyResult<_>>()?;
        Ok(Table { rows, make_page: Box::new(make_page), page: OnceLock::new() })
    }

    /// The page, made when it is first asked for.
    fn shown(&self) -> Outcome<&Page> {
        if let Some(page) = self.page.get() {
            return Ok(page);
        }
        let page = Page((self.make_page)()?);
        Ok(self.page.get_or_init(|| page))
    }

    fn list<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyList>> {
        PyList::new(py, &self.rows)
    }
}

#[pymethods]
impl Table {
    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, rows: Vec<Py<PyAny>>, page: Page) -> Self {
        Table { rows, make_page: Box::new(move || Ok(page.0.clone())), page: OnceLock::new() }
    }

    /// The page that is shown.
    #[getter]
    fn page(&self) -> Outcome<Page> {
        Ok(self.shown()?.clone())
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<Reduced<'py>> {
        let fields = [slf.get().list(slf.py())?.into_any(), slf.getattr("page")?];
        Ok((slf.get_type().getattr("_of")?, PyTuple::new(slf.py(), fields)?))
    }

    fn __eq__(&self, py: Python<'_>, other: &Bound<'_, PyAny>) -> Outcome<bool> {
        let Ok(other) = other.cast::<Table>() else { return Ok(false) };
        Ok(self.list(py)?.eq(other.get().list(py)?)? && self.shown()? == other.get().shown()?)
    }

    fn __hash__(&self) -> Outcome<u64> {
        Ok(hash(&(&self.shown()?.0.title, self.rows.len())))
    }

    fn __len__(&self) -> usize {
        self.rows.len()
    }

    fn __getitem__(&self, py: Python<'_>, index: isize) -> PyResult<Py<PyAny>> {
        let from_end = if index < 0 { index + isize::try_from(self.rows.len()).unwrap_or(isize::MAX) } else { index };
        let row = usize::try_from(from_end).ok().and_then(|index| self.rows.get(index));
        row.map(|row| row.clone_ref(py)).ok_or_else(|| PyIndexError::new_err(format!("row {index} of {}", self.rows.len())))
    }

    fn _repr_html_(&self) -> Outcome<String> {
        Ok(self.shown()?.html())
    }

    fn __repr__(&self) -> Outcome<String> {
        Ok(self.shown()?.__repr__())
    }
}
