//! A pH as somebody read it.

use indexmap::IndexMap;
use pyo3::prelude::*;
use rust_decimal::Decimal;
use tenside::bounds::Quantity;

use crate::failure::Outcome;
use crate::input::Number;
use crate::output::repr;

const FIELDS: [&str; 5] = ["value", "dilution", "temperature", "method", "on"];

/// A pH as somebody read it in a dispersion: "1+9" is one part of product and nine of water by mass.
///
/// >>> str(td.Reading(5.6, dilution="1+9", temperature=22))
/// 'pH 5.6 at 1+9 by mass, 22 °C'
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Reading(pub(crate) tenside::reading::Reading);

value!(Reading, |it| it.value());

getters!(Reading {
    /// The pH.
    value: Decimal = |it| it.value();
    /// Parts of product + parts of water by mass.
    dilution: String = |it| it.dilution().to_string();
    /// Temperature in °C, if stated.
    temperature: Option<Decimal> = |it| it.temperature();
    /// Instrument, water and so on, if stated.
    method: Option<String> = |it| it.method().map(str::to_string);
    /// The day, if stated.
    on: Option<String> = |it| it.date().map(|date| date.to_string());
});

#[pymethods]
impl Reading {
    #[new]
    #[pyo3(signature = (value, *, dilution, temperature=None, method=None, on=None))]
    fn new(value: Number, dilution: &str, temperature: Option<Number>, method: Option<&str>, on: Option<&str>) -> Outcome<Self> {
        let mut reading = tenside::reading::Reading::ph(value.decimal(Quantity::Ph)?, dilution.parse()?)?;
        if let Some(temperature) = temperature {
            reading = reading.at_temperature(temperature.decimal(Quantity::Temperature)?)?;
        }
        if let Some(method) = method {
            reading = reading.by(method)?;
        }
        Ok(Reading(match on {
            Some(date) => reading.on(date.parse()?),
            None => reading,
        }))
    }

    fn __getnewargs_ex__<'py>(slf: &Bound<'py, Self>) -> PyResult<((Decimal,), IndexMap<&'static str, Bound<'py, PyAny>>)> {
        let keywords = FIELDS[1..].iter().map(|name| Ok((*name, slf.getattr(*name)?))).collect::<PyResult<_>>()?;
        Ok(((slf.get().value(),), keywords))
    }

    fn __str__(&self) -> String {
        self.0.to_string()
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        Ok(repr(slf, &FIELDS)?.replacen("value=", "", 1))
    }
}
