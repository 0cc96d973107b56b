//! How a value that a formula's method gave comes back from a pickle: by the same call.

use indexmap::IndexMap;
use pyo3::prelude::*;
use pyo3::types::{PyDict, PyTuple};
use tenside::error::{Fault, FaultKind};
use tenside::number::Exact;

use crate::basis::Basis;
use crate::catalogue::Catalogue;
use crate::declaration::ScentDeclaration;
use crate::formula::Formula;
use crate::material::Material;
use crate::measure::Measure;
use crate::output::Fraction;

/// A value that a call was given.
#[derive(Clone, IntoPyObject)]
pub(crate) enum Given {
    Text(String),
    Float(f64),
    Whole(u32),
    Number(Fraction),
    Flag(bool),
    Measure(Measure),
    ByName(IndexMap<String, String>),
    Names(Vec<String>),
    Basis(Basis),
    Material(Material),
    Declarations(Vec<ScentDeclaration>),
    Catalogue(Catalogue),
}

impl From<Exact> for Given {
    fn from(number: Exact) -> Self {
        Given::Number(Fraction(number))
    }
}

/// A call of a formula's method.
#[derive(Clone)]
pub(crate) struct Again {
    formula: Formula,
    method: &'static str,
    arguments: Vec<Given>,
    keywords: Vec<(&'static str, Given)>,
}

/// The fault of an outcome that is another one where it is worked out again, as by another version.
pub(crate) fn come_back(what: &str, remedy: &str) -> Fault {
    let fault = Fault::new(FaultKind::Contradiction, format!("{what} was pickled, and here its brief has a formula"));
    fault.remedy(format!("pickle and read with the same version; the brief's own {remedy}"))
}

/// What `__reduce__` gives.
pub(crate) type Reduced<'py> = (Bound<'py, PyAny>, Bound<'py, PyTuple>);

impl Again {
    pub(crate) fn new(formula: &Formula, method: &'static str) -> Self {
        Again { formula: formula.clone(), method, arguments: Vec::new(), keywords: Vec::new() }
    }

    pub(crate) fn argument(mut self, value: Given) -> Self {
        self.arguments.push(value);
        self
    }

    /// A keyword that was given; one that was not is left out.
    pub(crate) fn keyword(mut self, name: &'static str, value: Option<Given>) -> Self {
        self.keywords.extend(value.map(|value| (name, value)));
        self
    }

    pub(crate) fn reduced<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        let method = self.formula.clone().into_pyobject(py)?.getattr(self.method)?;
        let keywords = PyDict::new(py);
        for (name, value) in &self.keywords {
            keywords.set_item(name, value.clone())?;
        }
        let call = py.import("functools")?.getattr("partial")?.call((method,), Some(&keywords))?;
        Ok((call, PyTuple::new(py, self.arguments.clone())?))
    }
}
