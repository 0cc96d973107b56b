//! As charged, or finished at a stated residual moisture.

use pyo3::prelude::*;

use crate::convert::failure::Outcome;
use crate::convert::input::Number;
use crate::convert::output::{Fraction, pasted};

/// What a measure's hundred percent is: `as_charged`, or `finished(moisture=5)`.
///
/// >>> td.measure.Basis() == td.as_charged
/// True
/// >>> str(td.finished(moisture=5))
/// 'finished at 5 % residual moisture'
#[pyclass(frozen, eq, from_py_object, module = "tenside.measure")]
#[derive(Clone, PartialEq)]
pub(crate) struct Basis(pub(crate) tenside::measure::Basis);

value!(Basis, |it| it.to_string());

getters!(Basis {
    /// Residual moisture in percent of the finished product; None as charged.
    moisture: Option<Fraction> = |it| match it {
        tenside::measure::Basis::Finished(moisture) => Some(Fraction(moisture.clone())),
        _ => None,
    };
});

text_cell!(Basis, |it| it.0.to_string());

#[pymethods]
impl Basis {
    #[new]
    #[pyo3(signature = (moisture=None))]
    fn new(moisture: Option<Number>) -> Outcome<Self> {
        Ok(Basis(match moisture {
            Some(moisture) => tenside::measure::Basis::finished(moisture.0)?,
            None => tenside::measure::Basis::AsCharged,
        }))
    }

    fn __getnewargs__(&self) -> (Option<Fraction>,) {
        (self.moisture(),)
    }

    fn __str__(&self) -> String {
        self.0.to_string()
    }

    fn __repr__(&self) -> String {
        match &self.0 {
            tenside::measure::Basis::Finished(moisture) => format!("finished(moisture={})", pasted(moisture)),
            _ => "as_charged".to_string(),
        }
    }
}

/// Dried to a residual moisture, percent of the finished product.
///
/// >>> td.finished(moisture=5)
/// finished(moisture=5)
#[pyfunction]
#[pyo3(signature = (*, moisture))]
pub(crate) fn finished(moisture: Number) -> Outcome<Basis> {
    Basis::new(Some(moisture))
}

/// The bases named, as charged where none is.
pub(crate) fn on(bases: Vec<Basis>) -> Vec<tenside::measure::Basis> {
    if bases.is_empty() {
        vec![tenside::measure::Basis::AsCharged]
    } else {
        bases.into_iter().map(|basis| basis.0).collect()
    }
}
