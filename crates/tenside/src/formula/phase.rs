//! Phases: what is worked together.

use rust_decimal::Decimal;
use serde::Serialize;

use crate::bounds::Quantity;
use crate::document::{Number, TableView, check_name};
use crate::error::Error;
use crate::number::ToExact;

/// A phase with the temperature it is worked at, if stated.
#[derive(Clone, Debug, PartialEq)]
pub struct Phase {
    name: String,
    temperature: Option<Decimal>,
}

getters!(Phase {
    /// Its name.
    name: &str,
    /// Its temperature in °C, if stated.
    temperature: Option<Decimal>,
});

impl Phase {
    /// A phase without a stated temperature.
    ///
    /// # Errors
    /// A bad name.
    pub fn new(name: &str) -> Result<Self, Error> {
        Ok(Phase { name: check_name(name)?, temperature: None })
    }

    /// Worked at this temperature in °C.
    ///
    /// # Errors
    /// A temperature out of range.
    pub fn at(mut self, temperature: impl ToExact) -> Result<Self, Error> {
        self.temperature = Some(Quantity::Temperature.decimal(temperature)?);
        Ok(self)
    }
}

/// The order in which a bar is usually worked (common practice, no source); other phases follow as they come.
pub(crate) const USUAL_ORDER: [&str; 4] = ["melted", "liquid", "powder", "cool-down"];

/// The stated phases, then those that only lines name: the usual ones in working order, the others as they come.
pub(crate) fn order_phases<'a>(stated: &[Phase], named: impl Iterator<Item = &'a str>) -> Vec<Phase> {
    let mut phases = stated.to_vec();
    let mut others: Vec<&str> = Vec::new();
    for name in named {
        if !phases.iter().any(|phase| phase.name == name) && !others.contains(&name) {
            others.push(name);
        }
    }
    others.sort_by_key(|name| USUAL_ORDER.iter().position(|usual| usual == name).unwrap_or(USUAL_ORDER.len()));
    phases.extend(others.into_iter().map(|name| Phase { name: name.to_string(), temperature: None }));
    phases
}

/// A phase as documents hold it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(crate) struct PhaseDocument {
    /// Name.
    name: String,
    /// °C.
    #[serde(skip_serializing_if = "Option::is_none")]
    temperature: Option<Number>,
}

impl From<&Phase> for PhaseDocument {
    fn from(phase: &Phase) -> Self {
        PhaseDocument { name: phase.name.clone(), temperature: phase.temperature.map(Number::from) }
    }
}

pub(crate) fn read_phase(view: &TableView<'_>) -> Option<Phase> {
    let name = view.needed_name("name");
    let temperature = view.decimal("temperature", Quantity::Temperature);
    Some(Phase { name: name?, temperature })
}
