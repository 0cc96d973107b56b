//! Results as documents.

use pyo3::prelude::*;
use tenside::document::{Materials, Notation, ResultDocument};

use crate::convert::failure::Outcome;

/// What a keyword says of raw materials.
pub(crate) fn embedded(materials: bool) -> Materials {
    if materials { Materials::Embedded } else { Materials::Named }
}

pub(crate) fn written(
    py: Python<'_>,
    result: &(impl ResultDocument + Sync),
    notation: Notation,
    materials: bool,
) -> Outcome<String> {
    Ok(py.detach(|| result.write(notation, embedded(materials)))?)
}

pub(crate) fn as_dict<'py>(py: Python<'py>, json: &str) -> Outcome<Bound<'py, PyAny>> {
    Ok(py.import("json")?.call_method1("loads", (json,))?)
}
