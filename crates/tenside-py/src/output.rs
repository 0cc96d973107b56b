//! What goes to Python: exact numbers as fractions, pages, and how values are printed and hashed.

use std::hash::{DefaultHasher, Hash, Hasher};

use indexmap::IndexMap;
use pyo3::PyClass;
use pyo3::exceptions::PyIndexError;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::pyclass_init::PyClassInitializer;
use pyo3::sync::PyOnceLock;
use pyo3::type_hint_identifier;
use pyo3::types::{PyInt, PyType};
use tenside::number::Exact;
use tenside::render;

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

/// A page for a notebook (escaped HTML), a terminal or a document.
///
/// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
/// >>> clay.page(td.as_charged, td.finished(moisture=1)).markdown().splitlines()[0]
/// '# Clay'
#[pyclass(frozen, eq, module = "tenside")]
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
    /// The page that is shown.
    #[pyo3(get)]
    page: Page,
}

impl Table {
    pub(crate) fn new<T: PyClass + Into<PyClassInitializer<T>>>(py: Python<'_>, rows: impl IntoIterator<Item = T>, page: render::Page) -> PyResult<Self> {
        let rows = rows.into_iter().map(|row| Ok(Py::new(py, row)?.into_any())).collect::<PyResult<_>>()?;
        Ok(Table { rows, page: Page(page) })
    }
}

#[pymethods]
impl Table {
    fn __len__(&self) -> usize {
        self.rows.len()
    }

    fn __getitem__(&self, py: Python<'_>, index: isize) -> PyResult<Py<PyAny>> {
        let from_end = if index < 0 { index + isize::try_from(self.rows.len()).unwrap_or(isize::MAX) } else { index };
        let row = usize::try_from(from_end).ok().and_then(|index| self.rows.get(index));
        row.map(|row| row.clone_ref(py)).ok_or_else(|| PyIndexError::new_err(format!("row {index} of {}", self.rows.len())))
    }

    fn _repr_html_(&self) -> String {
        self.page.html()
    }

    fn __repr__(&self) -> String {
        self.page.__repr__()
    }
}
