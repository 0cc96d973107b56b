//! An exact rational number.

use std::str::FromStr;

use pyo3::exceptions::PyValueError;
use pyo3::prelude::*;

/// An exact rational number.
///
/// >>> td.Exact("0.125")
/// Exact("0.125")
/// >>> str(td.Exact("1/3"))
/// '1/3'
#[pyclass(frozen, eq, ord, hash, module = "tenside")]
#[derive(PartialEq, Eq, PartialOrd, Ord, Hash)]
pub(crate) struct Exact(tenside::number::Exact);

#[pymethods]
impl Exact {
    #[new]
    fn new(text: &str) -> PyResult<Self> {
        tenside::number::Exact::from_str(text).map(Exact).map_err(|error| PyValueError::new_err(error.to_string()))
    }

    /// True where the value is a whole number.
    ///
    /// >>> td.Exact("6/3").is_whole()
    /// True
    fn is_whole(&self) -> bool {
        self.0.is_whole()
    }

    fn __str__(&self) -> String {
        self.0.to_string()
    }

    fn __repr__(&self) -> String {
        format!("Exact(\"{}\")", self.0)
    }
}
