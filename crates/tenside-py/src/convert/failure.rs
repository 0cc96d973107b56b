//! The one place where errors of the core become exceptions; the exceptions themselves are in `tenside.errors`.

use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::error::Fault;

/// Why a call failed: an error of the core, or an exception already.
pub(crate) enum Failure {
    Core(tenside::Error),
    Python(PyErr),
}

/// What fallible methods give.
pub(crate) type Outcome<T> = Result<T, Failure>;

impl From<tenside::Error> for Failure {
    fn from(error: tenside::Error) -> Self {
        Failure::Core(error)
    }
}

impl From<tenside_lp::Error> for Failure {
    fn from(error: tenside_lp::Error) -> Self {
        Failure::Core(error.into())
    }
}

impl From<Fault> for Failure {
    fn from(fault: Fault) -> Self {
        Failure::Core(fault.into())
    }
}

impl From<PyErr> for Failure {
    fn from(error: PyErr) -> Self {
        Failure::Python(error)
    }
}

impl From<Failure> for PyErr {
    fn from(failure: Failure) -> Self {
        match failure {
            Failure::Python(error) => error,
            Failure::Core(error) => Python::attach(|py| exception(py, &error).unwrap_or_else(|error| error)),
        }
    }
}

fn exception(py: Python<'_>, error: &tenside::Error) -> PyResult<PyErr> {
    let arguments = (error.to_string(), faults(py, error.faults())?);
    Ok(PyErr::from_value(py.import("tenside.errors")?.call_method1("of_faults", arguments)?))
}

/// Faults as `tenside.errors.Fault`.
pub(crate) fn faults<'py>(py: Python<'py>, faults: &[Fault]) -> PyResult<Vec<Bound<'py, PyAny>>> {
    let class = py.import("tenside.errors")?.getattr("Fault")?.cast_into::<PyType>()?;
    let fault = |fault: &Fault| {
        let Fault { kind, place, file, position, message, value, allowed, remedy, .. } = fault;
        class.call1((
            kind.slug(),
            place,
            *position,
            message,
            value.as_deref(),
            allowed.as_deref(),
            remedy.as_deref(),
            *file,
            fault.to_string(),
        ))
    };
    faults.iter().map(fault).collect()
}
