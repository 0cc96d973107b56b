//! A number as documents carry it.

#[cfg(feature = "schema")]
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Serialize, Serializer};

use crate::number::{Exact, Interval, Mass, Ppm};

/// Significant digits that a binary double always carries there and back.
const SAFE_DIGITS: usize = 15;

/// An exact number in a document: a plain number where every reader of the notation gets the same decimal back, else
/// text (`"1/3"`, or more than 15 digits).
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Number(Exact);

impl From<Exact> for Number {
    fn from(value: Exact) -> Self {
        Number(value)
    }
}

impl From<&Exact> for Number {
    fn from(value: &Exact) -> Self {
        Number(value.clone())
    }
}

impl From<rust_decimal::Decimal> for Number {
    fn from(value: rust_decimal::Decimal) -> Self {
        Number(value.into())
    }
}

impl From<Ppm> for Number {
    fn from(value: Ppm) -> Self {
        Number(value.percent())
    }
}

/// Grams.
impl From<Mass> for Number {
    fn from(mass: Mass) -> Self {
        (&mass).into()
    }
}

/// Grams.
impl From<&Mass> for Number {
    fn from(mass: &Mass) -> Self {
        mass.grams().into()
    }
}

#[cfg(any(feature = "statistics", feature = "trial"))]
impl Number {
    /// A float with the nine digits that are sure of it, so that a document is the same on every machine.
    pub(crate) fn of_float(value: f64) -> Self {
        // What was just written as a number is read as one, if it is finite.
        format!("{value:.8e}").parse::<Exact>().unwrap_or(Exact::ZERO).into()
    }
}

/// A value with its ends in a document; null where one is not stated, or the typical value not known.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(JsonSchema))]
#[serde(deny_unknown_fields)]
pub(crate) struct IntervalDocument {
    /// The lowest attainable value.
    low: Option<Number>,
    /// The value for typical compositions.
    typical: Option<Number>,
    /// The highest attainable value.
    high: Option<Number>,
}

impl From<&Interval> for IntervalDocument {
    fn from(interval: &Interval) -> Self {
        let number = |end: &Option<Exact>| end.as_ref().map(Number::from);
        IntervalDocument {
            low: number(&interval.low),
            typical: number(&interval.typical),
            high: number(&interval.high),
        }
    }
}

impl Serialize for Number {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let text = self.0.to_string();
        let digits = text.trim_start_matches(['-', '0', '.']).bytes().filter(u8::is_ascii_digit).count();
        if text.contains('/') || digits > SAFE_DIGITS {
            return serializer.serialize_str(&text);
        }
        match text.parse::<i64>() {
            Ok(whole) => serializer.serialize_i64(whole),
            Err(_) => serializer.serialize_f64(self.0.to_f64()),
        }
    }
}

#[cfg(feature = "schema")]
impl JsonSchema for Number {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "Number".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({
            "description": "An exact number: a JSON or TOML number, or text holding a decimal (\"12.5\") or a fraction (\"7/3\").",
            "type": ["number", "string"],
        })
    }
}
