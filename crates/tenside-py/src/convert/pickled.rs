//! How a value that a method gave comes back from a pickle: by the same call.

use std::sync::Arc;

use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use tenside::error::{Fault, FaultKind};

/// What `__reduce__` gives.
pub(crate) type Reduced<'py> = (Bound<'py, PyAny>, Bound<'py, PyTuple>);

/// A value that a call was given; it becomes a Python object only when something is pickled.
type Given = Arc<dyn for<'py> Fn(Python<'py>) -> PyResult<Bound<'py, PyAny>> + Send + Sync>;

/// What can be made a Python object as often as it is asked for.
pub(crate) trait Repeatable: for<'py> IntoPyObject<'py> + Clone + Send + Sync + 'static {}

impl<T: for<'py> IntoPyObject<'py> + Clone + Send + Sync + 'static> Repeatable for T {}

fn given<T: Repeatable>(value: T) -> Given {
    Arc::new(move |py| value.clone().into_bound_py_any(py))
}

/// A call of a method of some value.
#[derive(Clone)]
pub(crate) struct Call {
    of: Given,
    method: &'static str,
    arguments: Vec<Given>,
    keywords: Vec<(&'static str, Given)>,
}

impl Call {
    pub(crate) fn new<T: Repeatable>(of: T, method: &'static str) -> Self {
        Call { of: given(of), method, arguments: Vec::new(), keywords: Vec::new() }
    }

    pub(crate) fn argument<T: Repeatable>(mut self, value: T) -> Self {
        self.arguments.push(given(value));
        self
    }

    /// A keyword that was given; one that was not is left out.
    pub(crate) fn keyword<T: Repeatable>(mut self, name: &'static str, value: Option<T>) -> Self {
        self.keywords.extend(value.map(|value| (name, given(value))));
        self
    }

    pub(crate) fn reduced<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let method = (self.of)(py)?.getattr(self.method)?;
        let keywords = PyDict::new(py);
        for (name, value) in &self.keywords {
            keywords.set_item(name, value(py)?)?;
        }
        let call = py.import("functools")?.getattr("partial")?.call((method,), Some(&keywords))?;
        let arguments = self.arguments.iter().map(|value| value(py)).collect::<PyResult<Vec<_>>>()?;
        Ok((call, PyTuple::new(py, arguments)?))
    }
}

/// An attribute of some value.
#[derive(Clone)]
pub(crate) struct Attribute {
    of: Given,
    name: &'static str,
}

impl Attribute {
    pub(crate) fn new<T: Repeatable>(of: T, name: &'static str) -> Self {
        Attribute { of: given(of), name }
    }

    pub(crate) fn reduced<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let read = py.import("operator")?.getattr("attrgetter")?.call1((self.name,))?;
        Ok((read, PyTuple::new(py, [(self.of)(py)?])?))
    }
}

/// The fault of an outcome that is another one where it is worked out again, as by another version.
pub(crate) fn comes_back(what: &str, remedy: &str) -> Fault {
    let fault = Fault::new(FaultKind::Contradiction, format!("{what} was pickled, and here its brief has a formula"));
    fault.remedy(format!("pickle and read with the same version; the brief's own {remedy}"))
}
