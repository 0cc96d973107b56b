//! A pH as somebody read it.

use pyo3::prelude::*;
use rust_decimal::Decimal;

use crate::convert::failure::Outcome;
use crate::convert::input::{Day, Number};
use crate::convert::output::{Keywords, repr};

const FIELDS: [&str; 8] = ["value", "dilution", "temperature", "water", "instrument", "after", "method", "on"];

/// A pH as somebody read it in a dispersion: "1+9" is one part of product and nine of water by mass. `after` is in
/// minutes. `value` is the pH, `method` how it was read, `on` which day.
///
/// >>> str(td.Reading(5.6, dilution="1+9", temperature=22))
/// 'pH 5.6 at 1+9 by mass, 22 °C'
/// >>> str(td.Reading(5.6, dilution="1+9", water="deionised", instrument="glass electrode", after=30))
/// 'pH 5.6 at 1+9 by mass, in deionised water, after 30 min, glass electrode'
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
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
    /// The water it was dispersed in, if stated.
    water: Option<String> = |it| it.water().map(str::to_string);
    /// The instrument, if stated.
    instrument: Option<String> = |it| it.instrument().map(str::to_string);
    /// Minutes from dispersing to reading, if stated.
    after: Option<Decimal> = |it| it.minutes_after();
    /// What else matters of how it was got, if stated.
    method: Option<String> = |it| it.method().map(str::to_string);
    /// The day, if stated.
    on: Option<String> = |it| it.date().map(|date| date.to_string());
});

row!(Reading {
    value: Decimal = |it| it.value(),
    dilution: String = |it| it.dilution(),
    temperature: Option<Decimal> = |it| it.temperature(),
    water: Option<String> = |it| it.water(),
    instrument: Option<String> = |it| it.instrument(),
    after: Option<Decimal> = |it| it.after(),
    method: Option<String> = |it| it.method(),
    on: Option<String> = |it| it.on(),
});

#[pymethods]
impl Reading {
    #[new]
    #[pyo3(signature = (value, *, dilution, temperature=None, water=None, instrument=None, after=None, method=None, on=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn new(
        value: Number,
        dilution: &str,
        temperature: Option<Number>,
        water: Option<&str>,
        instrument: Option<&str>,
        after: Option<Number>,
        method: Option<&str>,
        on: Option<Day>,
    ) -> Outcome<Self> {
        let mut reading = tenside::reading::Reading::ph(value.0, dilution.parse()?)?;
        if let Some(temperature) = temperature {
            reading = reading.at_temperature(temperature.0)?;
        }
        if let Some(water) = water {
            reading = reading.in_water(water)?;
        }
        if let Some(instrument) = instrument {
            reading = reading.with_instrument(instrument)?;
        }
        if let Some(after) = after {
            reading = reading.after_minutes(after.0)?;
        }
        if let Some(method) = method {
            reading = reading.by(method)?;
        }
        Ok(Reading(match on {
            Some(day) => reading.on(day.0),
            None => reading,
        }))
    }

    fn __getnewargs_ex__<'py>(slf: &Bound<'py, Self>) -> PyResult<((Decimal,), Keywords<'py>)> {
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
