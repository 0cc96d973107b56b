//! What goes to Python: exact numbers as fractions, pages, and how values are printed and hashed.

use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::OnceLock;

use indexmap::IndexMap;
use pyo3::PyClass;
use pyo3::exceptions::PyIndexError;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::pyclass_init::PyClassInitializer;
use pyo3::sync::PyOnceLock;
use pyo3::type_hint_identifier;
use pyo3::types::{PyInt, PyList, PyTuple, PyType};
use tenside::error::{Fault, FaultKind};
use tenside::number::Exact;
use tenside::render;

use crate::again::Reduced;
use crate::failure::{Failure, Outcome};
use crate::input::Number;

static FRACTION: PyOnceLock<Py<PyType>> = PyOnceLock::new();
/// Columns of a terminal.
pub(crate) const WIDTH: usize = 80;

/// An exact number, `fractions.Fraction` in Python.
#[derive(Clone, PartialEq)]
pub(crate) struct Fraction(pub(crate) Exact);

impl<'py> IntoPyObject<'py> for &Fraction {
    type Target = PyAny;
    type Output = Bound<'py, PyAny>;
    type Error = PyErr;
    const OUTPUT_TYPE: PyStaticExpr = type_hint_identifier!("fractions", "Fraction");

    fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
        // Hexadecimal, because Python limits how many decimal digits it reads.
        let whole = |text: String| py.get_type::<PyInt>().call1((text, 16));
        let (numerator, denominator) = self.0.parts_hexadecimal();
        FRACTION.import(py, "fractions", "Fraction")?.call1((whole(numerator)?, whole(denominator)?))
    }
}

impl<'py> IntoPyObject<'py> for Fraction {
    type Target = PyAny;
    type Output = Bound<'py, PyAny>;
    type Error = PyErr;
    const OUTPUT_TYPE: PyStaticExpr = <&Fraction as IntoPyObject<'_>>::OUTPUT_TYPE;

    fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
        (&self).into_pyobject(py)
    }
}

impl<'a, 'py> FromPyObject<'a, 'py> for Fraction {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = Number::INPUT_TYPE;

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        Number::extract(object).map(|number| Fraction(number.0))
    }
}

/// Keywords that make a value anew.
pub(crate) type Keywords<'py> = IndexMap<&'static str, Bound<'py, PyAny>>;

/// A number of rows as `len` takes it.
pub(crate) fn length(rows: u64) -> Outcome<usize> {
    // Python's own limit.
    isize::try_from(rows).ok().and_then(|rows| usize::try_from(rows).ok()).ok_or_else(|| {
        let fault = Fault::new(FaultKind::OutOfRange, "more rows than len() can say").value(rows).allowed(format!("up to {} rows", isize::MAX));
        fault.remedy("take fewer values along the axes").into()
    })
}

pub(crate) fn hash(value: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    value.hash(&mut hasher);
    hasher.finish()
}

/// `Class(field=value, ...)`; fields that are `None` are left out.
pub(crate) fn repr(value: &Bound<'_, PyAny>, fields: &[&str]) -> PyResult<String> {
    let mut shown = Vec::new();
    for field in fields {
        let field_value = value.getattr(*field)?;
        if !field_value.is_none() {
            shown.push(format!("{field}={}", field_value.repr()?));
        }
    }
    Ok(format!("{}({})", value.get_type().name()?, shown.join(", ")))
}

/// `text` as Python writes it, between quotes.
pub(crate) fn quoted(py: Python<'_>, text: &str) -> PyResult<String> {
    Ok(text.into_pyobject(py)?.repr()?.to_string())
}

/// A number as it can be pasted back: plain where a float says it exactly, else between quotes.
pub(crate) fn pasted(number: &Exact) -> String {
    let text = number.to_string();
    let plain = text.len() <= 15 && text.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'-'));
    if plain { text } else { format!("\"{text}\"") }
}

/// A value of the core's own making as text, for a pickle.
pub(crate) fn to_json(value: &impl serde::Serialize) -> Outcome<String> {
    serde_json::to_string(value).map_err(|error| pickled(&error).into())
}

/// The value that was pickled as text.
pub(crate) fn from_json<T: serde::de::DeserializeOwned>(json: &str) -> Outcome<T> {
    serde_json::from_str(json).map_err(|error| pickled(&error).into())
}

fn pickled(error: &serde_json::Error) -> Fault {
    Fault::new(FaultKind::Syntax, format!("a pickled value cannot be read: {error}")).remedy("pickle and read with the same version")
}

/// A page for a notebook (escaped HTML), a terminal or a document.
///
/// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
/// >>> clay.page(td.as_charged, td.finished(moisture=1)).markdown().splitlines()[0]
/// '# Clay'
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Page(pub(crate) render::Page);

value!(Page, |it| &it.title);

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

    fn _repr_html_(&self) -> String {
        self.0.html()
    }

    fn __str__(&self) -> String {
        self.0.text(WIDTH)
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

    fn __copy__(slf: Py<Self>) -> Py<Self> {
        slf
    }

    #[pyo3(signature = (memo, /))]
    fn __deepcopy__(slf: Py<Self>, memo: &Bound<'_, PyAny>) -> Py<Self> {
        let _ = memo;
        slf
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
