//! A value with the ends it can reach.

use indexmap::IndexMap;
use pyo3::prelude::*;

use tenside::error::{Fault, FaultKind};

use crate::convert::failure::Outcome;
use crate::convert::input::Number;
use crate::convert::output::{Fraction, repr};

/// A typical value with its lowest and highest attainable value. An end that is None is not stated, a typical value
/// that is None is not known.
///
/// >>> active = td.measure.Interval(58, low="55.2", high="60.8")
/// >>> active.text(1), float(active)
/// ('58.0 (55.2 to 60.8)', 58.0)
#[pyclass(frozen, eq, from_py_object, module = "tenside.measure")]
#[derive(Clone, PartialEq)]
pub(crate) struct Interval(pub(crate) tenside::number::Interval);

value!(Interval, |it| &it.typical);

getters!(Interval {
    /// The value for typical compositions, if it is known.
    typical: Option<Fraction> = |it| it.typical.clone().map(Fraction);
    /// The lowest attainable value, if stated.
    low: Option<Fraction> = |it| it.low.clone().map(Fraction);
    /// The highest attainable value, if stated.
    high: Option<Fraction> = |it| it.high.clone().map(Fraction);
});

#[pymethods]
impl Interval {
    #[new]
    #[pyo3(signature = (typical=None, *, low=None, high=None))]
    fn new(typical: Option<Number>, low: Option<Number>, high: Option<Number>) -> Outcome<Self> {
        Ok(Interval(tenside::number::Interval::new(
            low.map(|low| low.0),
            typical.map(|typical| typical.0),
            high.map(|high| high.0),
        )?))
    }

    /// Typical value and ends with that many decimals; the ends are rounded outwards, so that what is shown holds.
    #[pyo3(signature = (decimals=2))]
    fn text(&self, decimals: u8) -> String {
        self.0.text(u32::from(decimals))
    }

    fn __float__(&self) -> Outcome<f64> {
        let unknown = || {
            Fault::new(FaultKind::NotKnown, "the typical value is not known").value(&self.0).remedy("read low and high")
        };
        Ok(self.0.typical.as_ref().ok_or_else(unknown)?.to_f64())
    }

    fn __getnewargs_ex__(&self) -> ((Option<Fraction>,), IndexMap<&'static str, Option<Fraction>>) {
        ((self.typical(),), [("low", self.low()), ("high", self.high())].into_iter().collect())
    }

    fn __str__(&self) -> String {
        self.0.to_string()
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        repr(slf, &["typical", "low", "high"])
    }
}
