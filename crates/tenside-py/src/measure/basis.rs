//! As charged, or finished at a stated residual moisture.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::error::{Error, Fault, FaultKind};
use tenside::measure::Basis as CoreBasis;

use crate::convert::failure::Outcome;
use crate::convert::input::Number;
use crate::convert::output::{Fraction, pasted};

/// What a measure's hundred percent is: `as_charged`, or `finished(moisture=5)`.
///
/// >>> td.measure.Basis() == td.as_charged
/// True
/// >>> str(td.finished(moisture=5))
/// 'finished at 5 % residual moisture'
/// >>> td.finished(moisture=5, with_bound_water=True).with_bound_water
/// True
#[pyclass(frozen, eq, from_py_object, module = "tenside.measure")]
#[derive(Clone, PartialEq)]
pub(crate) struct Basis(pub(crate) CoreBasis);

value!(Basis, |it| it.to_string());

getters!(Basis {
    /// Residual moisture in percent of the finished product; None as charged.
    moisture: Option<Fraction> = |it| match it {
        CoreBasis::Finished(moisture) | CoreBasis::FinishedWithBoundWater(moisture) => Some(Fraction(moisture.clone())),
        _ => None,
    };
    /// Whether the water held by starches, clays and hydrates is counted in that.
    with_bound_water: bool = |it| matches!(it, CoreBasis::FinishedWithBoundWater(_));
});

text_cell!(Basis, |it| it.0.to_string());

#[pymethods]
impl Basis {
    #[new]
    #[pyo3(signature = (moisture=None, *, with_bound_water=false))]
    fn new(moisture: Option<Number>, with_bound_water: bool) -> Outcome<Self> {
        Ok(Basis(match (moisture, with_bound_water) {
            (Some(moisture), false) => CoreBasis::finished(moisture.0)?,
            (Some(moisture), true) => CoreBasis::finished_with_bound_water(moisture.0)?,
            (None, false) => CoreBasis::AsCharged,
            (None, true) => {
                let fault = Fault::new(FaultKind::Missing, "bound water is counted in a moisture, and none is stated");
                return Err(Error::from(fault.remedy("state the moisture")).into());
            }
        }))
    }

    fn __getnewargs_ex__(&self) -> ((Option<Fraction>,), IndexMap<&'static str, bool>) {
        ((self.moisture(),), IndexMap::from([("with_bound_water", self.with_bound_water())]))
    }

    fn __str__(&self) -> String {
        self.0.to_string()
    }

    fn __repr__(&self) -> String {
        match &self.0 {
            CoreBasis::Finished(moisture) => format!("finished(moisture={})", pasted(moisture)),
            CoreBasis::FinishedWithBoundWater(moisture) => {
                format!("finished(moisture={}, with_bound_water=True)", pasted(moisture))
            }
            _ => "as_charged".to_string(),
        }
    }
}

/// Dried to a residual moisture, percent of the finished product; `with_bound_water` counts the water in it that
/// starches, clays and hydrates hold, as a balance does that dries a sample.
///
/// >>> td.finished(moisture=5)
/// finished(moisture=5)
#[pyfunction]
#[pyo3(signature = (*, moisture, with_bound_water=false))]
pub(crate) fn finished(moisture: Number, with_bound_water: bool) -> Outcome<Basis> {
    Basis::new(Some(moisture), with_bound_water)
}

/// The bases named, as charged where none is.
pub(crate) fn on(bases: Vec<Basis>) -> Vec<CoreBasis> {
    if bases.is_empty() { vec![CoreBasis::AsCharged] } else { bases.into_iter().map(|basis| basis.0).collect() }
}
