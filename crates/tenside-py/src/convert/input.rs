//! What Python may hand over, read permissively in one place: numbers of every usual kind, names, words, masses, days.

use pyo3::exceptions::{PyTypeError, PyValueError};
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::{PyBool, PyByteArray, PyBytes, PyFloat, PyInt, PyString};
use pyo3::{type_hint_identifier, type_hint_subscript, type_hint_union};
use rust_decimal::Decimal;
use rust_decimal::prelude::ToPrimitive;
use tenside::bounds::Quantity;
use tenside::error::{Fault, FaultKind};
use tenside::number::{Date, Exact, Mass, Ppm};

use crate::convert::failure::{Failure, Outcome};

pub(crate) const TEXT: PyStaticExpr = type_hint_identifier!("builtins", "str");
const NUMBER: PyStaticExpr = type_hint_union!(type_hint_identifier!("typing", "SupportsFloat"), TEXT);
/// Decimals of more powers of ten than this are refused before their digits are written out.
const GREATEST_EXPONENT: i64 = 4000;

/// Any number: whole numbers, fractions and decimals exactly; a float, those of numpy too, as the shortest decimal that
/// prints it.
pub(crate) struct Number(pub(crate) Exact);

impl<'a, 'py> FromPyObject<'a, 'py> for Number {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = NUMBER;

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        exact(&object).map(Number)
    }
}

pub(crate) fn exact(object: &Bound<'_, PyAny>) -> Outcome<Exact> {
    let has = |name: &str| object.hasattr(name);
    if object.is_instance_of::<PyBool>() {
        return Err(no_number(object)?.into());
    }
    if let Ok(text) = object.cast::<PyString>() {
        return Ok(text.to_cow()?.parse()?);
    }
    if let Ok(float) = object.cast::<PyFloat>() {
        return Ok(Exact::from_shortest(float.extract()?)?);
    }
    if object.is_instance_of::<PyInt>() {
        if object.is_exact_instance_of::<PyInt>()
            && let Ok(whole) = object.extract::<i64>()
        {
            return Ok(Exact::from(whole));
        }
        return ratio(object, &PyInt::new(object.py(), 1));
    }
    if has("dtype")? {
        // numpy prints each of its kinds with the digits that kind needs; converting first would add those of a float.
        return Ok(object.str()?.to_cow()?.parse()?);
    }
    if has("numerator")? && has("denominator")? {
        return ratio(&object.getattr("numerator")?, &object.getattr("denominator")?);
    }
    if has("as_integer_ratio")? && has("adjusted")? {
        if !object.call_method0("is_finite")?.is_truthy()?
            || object.call_method0("adjusted")?.extract::<i64>()?.abs() > GREATEST_EXPONENT
        {
            return Err(no_number(object)?.into());
        }
        let (numerator, denominator): (Bound<'_, PyAny>, Bound<'_, PyAny>) =
            object.call_method0("as_integer_ratio")?.extract()?;
        return ratio(&numerator, &denominator);
    }
    if has("__float__")? {
        return Ok(Exact::from_shortest(object.extract()?)?);
    }
    Err(no_number(object)?.into())
}

fn ratio(numerator: &Bound<'_, PyAny>, denominator: &Bound<'_, PyAny>) -> Outcome<Exact> {
    let digits = |whole: &Bound<'_, PyAny>| -> Outcome<String> {
        match whole.str() {
            Ok(digits) => Ok(digits.to_cow()?.into_owned()),
            // Python refuses to write whole numbers of more than 4300 digits; the core reads fewer. Anything else is
            // not for us to keep.
            Err(error) if error.is_instance_of::<PyValueError>(whole.py()) => {
                Err(Fault::new(FaultKind::NotANumber, "a number is longer than 4096 characters").into())
            }
            Err(error) => Err(error.into()),
        }
    };
    Ok(format!("{}/{}", digits(numerator)?, digits(denominator)?).parse()?)
}

fn no_number(object: &Bound<'_, PyAny>) -> PyResult<Fault> {
    let shown: String = object.repr()?.to_cow()?.chars().take(80).collect();
    Ok(Fault::new(FaultKind::NotANumber, "a finite number is needed")
        .value(shown)
        .allowed("int, float, Decimal, Fraction, numpy scalar or text"))
}

impl Number {
    pub(crate) fn ppm(&self) -> Outcome<Ppm> {
        Ok(Ppm::from_percent(&self.0)?)
    }

    /// A decimal inside the range of its quantity.
    pub(crate) fn decimal(&self, quantity: Quantity) -> Outcome<Decimal> {
        quantity.check(&self.0)?;
        self.0
            .to_decimal()
            .ok_or_else(|| Fault::new(FaultKind::NotANumber, "not a decimal of up to 28 digits").value(&self.0).into())
    }
}

/// Items between two looks for signals.
const LOOK: usize = 1024;

/// What an object gives one by one, up to as many as `most` allows. Nothing is kept for what an object says of its own
/// length, and text is refused: it is one thing, and would be taken to pieces.
pub(crate) fn one_by_one<'py, T>(
    object: &Bound<'py, PyAny>,
    most: Quantity,
    mut take: impl FnMut(Bound<'py, PyAny>) -> Outcome<T>,
) -> Outcome<Vec<T>> {
    if object.is_instance_of::<PyString>()
        || object.is_instance_of::<PyBytes>()
        || object.is_instance_of::<PyByteArray>()
    {
        let shown: String = object.repr()?.to_cow()?.chars().take(80).collect();
        let message = format!(
            "several values are needed, one by one, and text is one value (found {shown}); for a single one write a \
             list of it"
        );
        return Err(PyTypeError::new_err(message).into());
    }
    let highest = most.range().1.to_usize().unwrap_or(usize::MAX);
    let mut taken = Vec::new();
    for item in object.try_iter()? {
        if taken.len() >= highest {
            return Err(most.fault(format!("more than {highest}")).into());
        }
        if taken.len() % LOOK == LOOK - 1 {
            object.py().check_signals()?;
            // Nothing here runs in the interpreter, which would let other threads in by itself.
            object.py().detach(|| ());
        }
        taken.push(take(item?)?);
    }
    Ok(taken)
}

/// Several things of one kind, from anything that gives them one by one.
pub(crate) struct Several<T>(pub(crate) Vec<T>);

impl<'a, 'py, T: FromPyObjectOwned<'py>> FromPyObject<'a, 'py> for Several<T> {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr =
        type_hint_subscript!(type_hint_identifier!("collections.abc", "Iterable"), T::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        one_by_one(&object, Quantity::Entries, |item| {
            item.extract::<T>().map_err(|error| Failure::Python(error.into()))
        })
        .map(Several)
    }
}

/// The items of a mapping.
pub(crate) fn items<'py>(object: &Bound<'py, PyAny>) -> PyResult<Bound<'py, PyAny>> {
    if !object.hasattr("items")? {
        return Err(PyTypeError::new_err(format!("a mapping by name is needed (found {})", object.get_type().name()?)));
    }
    object.call_method0("items")
}

/// Numbers by name, in the order given.
pub(crate) struct ByName(pub(crate) Vec<(String, Number)>);

impl<'a, 'py> FromPyObject<'a, 'py> for ByName {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr =
        type_hint_subscript!(type_hint_identifier!("collections.abc", "Mapping"), TEXT, NUMBER);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        let entry = |entry: Bound<'py, PyAny>| {
            let (name, number): (String, Bound<'py, PyAny>) = entry.extract()?;
            Ok((name, Number(exact(&number)?)))
        };
        one_by_one(&items(&object)?, Quantity::Entries, entry).map(ByName)
    }
}

/// Numbers by name as the core takes them, with its range checks; none where nothing is given.
pub(crate) fn numbers(by_name: Option<ByName>) -> impl Iterator<Item = (String, Exact)> {
    by_name.into_iter().flat_map(|by_name| by_name.0).map(|(name, number)| (name, number.0))
}

/// Masses by name, in the order given.
pub(crate) struct MassByName(pub(crate) Vec<(String, Mass)>);

impl<'a, 'py> FromPyObject<'a, 'py> for MassByName {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr =
        type_hint_subscript!(type_hint_identifier!("collections.abc", "Mapping"), TEXT, TEXT);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        let entry = |entry: Bound<'py, PyAny>| {
            let (name, mass): (String, Bound<'py, PyAny>) = entry.extract()?;
            Ok((name, AMass::extract(mass.as_borrowed())?.0))
        };
        one_by_one(&items(&object)?, Quantity::Entries, entry).map(MassByName)
    }
}

/// One name or several.
pub(crate) struct Names(pub(crate) Vec<String>);

impl<'a, 'py> FromPyObject<'a, 'py> for Names {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr =
        type_hint_union!(TEXT, type_hint_subscript!(type_hint_identifier!("collections.abc", "Iterable"), TEXT));

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        match object.cast::<PyString>() {
            Ok(name) => Ok(Names(vec![name.extract()?])),
            Err(_) => one_by_one(&object, Quantity::Entries, |name| Ok(name.extract()?)).map(Names),
        }
    }
}

impl Names {
    pub(crate) fn each(&self) -> Vec<&str> {
        self.0.iter().map(String::as_str).collect()
    }
}

/// A mass with its unit: "60 g", "2 lb".
pub(crate) struct AMass(pub(crate) Mass);

impl<'a, 'py> FromPyObject<'a, 'py> for AMass {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = TEXT;

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        // A bare number is refused by the same words as text without a unit.
        if object.is_instance_of::<PyString>() || object.hasattr("__float__")? {
            return Ok(AMass(object.str()?.to_cow()?.parse()?));
        }
        let found = object.get_type().name()?;
        let message = format!("a mass is text with its unit, such as \"60 g\" (found {})", found.to_cow()?);
        Err(PyTypeError::new_err(message).into())
    }
}

/// A day: a `datetime.date`, or text as year-month-day. A `datetime.datetime` is refused: which day it is depends on a
/// time zone.
#[derive(Clone, Copy)]
pub(crate) struct Day(pub(crate) Date);

impl<'a, 'py> FromPyObject<'a, 'py> for Day {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(type_hint_identifier!("datetime", "date"), TEXT);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if let Ok(text) = object.cast::<PyString>() {
            return Ok(Day(text.to_cow()?.parse()?));
        }
        let module = object.py().import("datetime")?;
        let is = |class: &str| object.is_instance(&module.getattr(class)?);
        if is("datetime")? {
            let shown = object.str()?;
            let message = format!(
                "a day has no time of day (found {}); write .date() behind it, in the time zone that counts",
                shown.to_cow()?
            );
            return Err(PyTypeError::new_err(message).into());
        }
        if is("date")? {
            return Ok(Day(object
                .call_method0("isoformat")?
                .cast::<PyString>()
                .map_err(PyErr::from)?
                .to_cow()?
                .parse()?));
        }
        let message = format!(
            "a day is a datetime.date, or text such as \"2026-11-24\" (found {})",
            object.get_type().name()?.to_cow()?
        );
        Err(PyTypeError::new_err(message).into())
    }
}

/// A day of a weigh-in: its number, or its date.
pub(crate) enum WeighDay {
    Counted(Number),
    Dated(Day),
}

impl<'a, 'py> FromPyObject<'a, 'py> for WeighDay {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(Number::INPUT_TYPE, type_hint_identifier!("datetime", "date"));

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        let is_date = object.is_instance(&object.py().import("datetime")?.getattr("date")?)?;
        let is_written_date =
            || object.cast::<PyString>().is_ok_and(|text| text.to_cow().is_ok_and(|text| text.parse::<Date>().is_ok()));
        if is_date || is_written_date() {
            return Ok(WeighDay::Dated(object.extract()?));
        }
        Ok(WeighDay::Counted(object.extract()?))
    }
}

/// What names a file: text, bytes, or what has a path. It is passed on to Python, which opens it.
pub(crate) struct APath<'py>(pub(crate) Bound<'py, PyAny>);

impl<'a, 'py> FromPyObject<'a, 'py> for APath<'py> {
    type Error = PyErr;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(
        TEXT,
        type_hint_identifier!("builtins", "bytes"),
        type_hint_subscript!(type_hint_identifier!("os", "PathLike"), TEXT),
        type_hint_subscript!(type_hint_identifier!("os", "PathLike"), type_hint_identifier!("builtins", "bytes"))
    );

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> PyResult<Self> {
        Ok(APath(object.to_owned()))
    }
}
