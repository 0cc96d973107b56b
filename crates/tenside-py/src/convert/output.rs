//! What goes to Python: exact numbers as fractions, and how values are printed, pickled and hashed.

use std::hash::{DefaultHasher, Hash, Hasher};

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::sync::PyOnceLock;
use pyo3::type_hint_identifier;
use pyo3::types::{PyInt, PyType};
use tenside::error::{Fault, FaultKind};
use tenside::number::Exact;

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::Number;

static FRACTION: PyOnceLock<Py<PyType>> = PyOnceLock::new();

/// An exact number, a `fractions.Fraction` in Python that takes formats.
#[derive(Clone, PartialEq)]
pub(crate) struct Fraction(pub(crate) Exact);

impl<'py> IntoPyObject<'py> for &Fraction {
    type Target = PyAny;
    type Output = Bound<'py, PyAny>;
    type Error = PyErr;
    const OUTPUT_TYPE: PyStaticExpr = type_hint_identifier!("tenside.number", "Fraction");

    fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
        // Hexadecimal, because Python limits how many decimal digits it reads.
        let whole = |text: String| py.get_type::<PyInt>().call1((text, 16));
        let (numerator, denominator) = self.0.parts_hexadecimal();
        FRACTION.import(py, "tenside.number", "Fraction")?.call1((whole(numerator)?, whole(denominator)?))
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
        let fault = Fault::new(FaultKind::OutOfRange, "more rows than len() can return")
            .value(rows)
            .allowed(format!("up to {} rows", isize::MAX));
        fault.remedy("take fewer values along the axes").into()
    })
}

pub(crate) fn hash(value: &impl Hash) -> u64 {
    let mut hasher = DefaultHasher::new();
    value.hash(&mut hasher);
    hasher.finish()
}

/// How much of one field `repr` writes.
const LONGEST_FIELD: usize = 2000;

/// `Class(field=value, ...)`; fields that are `None` are left out, and a field of very many entries is cut.
pub(crate) fn repr(value: &Bound<'_, PyAny>, fields: &[&str]) -> PyResult<String> {
    let mut shown = Vec::new();
    for field in fields {
        let field_value = value.getattr(*field)?;
        if !field_value.is_none() {
            let written = field_value.repr()?.to_string();
            let shown_of_it: String = written.chars().take(LONGEST_FIELD).collect();
            shown.push(if shown_of_it.len() < written.len() {
                format!("{field}={shown_of_it}...")
            } else {
                format!("{field}={written}")
            });
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
    Fault::new(FaultKind::Syntax, format!("a pickled value cannot be read: {error}"))
        .remedy("pickle and read with the same version")
}
