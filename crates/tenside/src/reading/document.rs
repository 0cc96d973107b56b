//! Readings in documents.

use super::Reading;
use crate::bounds::Quantity;
use crate::document::{Number, TableView, form};

form! {
    /// A pH as somebody read it in a dispersion.
    ReadingDocument of Reading, |it| {
        /// The pH.
        ph: Number = it.value().into(),
        /// Parts of product + parts of water by mass: `1+9`.
        dilution: String = it.dilution().to_string(),
        /// °C.
        #[serde(skip_serializing_if = "Option::is_none")]
        temperature: Option<Number> = it.temperature().map(Number::from),
        /// The water it was dispersed in.
        #[serde(skip_serializing_if = "Option::is_none")]
        water: Option<String> = it.water().map(str::to_string),
        /// The instrument.
        #[serde(skip_serializing_if = "Option::is_none")]
        instrument: Option<String> = it.instrument().map(str::to_string),
        /// Minutes from dispersing to reading.
        #[serde(skip_serializing_if = "Option::is_none")]
        after: Option<Number> = it.minutes_after().map(Number::from),
        /// What else matters of how it was got.
        #[serde(skip_serializing_if = "Option::is_none")]
        method: Option<String> = it.method().map(str::to_string),
        /// The day.
        #[serde(skip_serializing_if = "Option::is_none")]
        on: Option<String> = it.date().map(|date| date.to_string()),
    }
}

pub(crate) fn read_reading(view: &TableView<'_>) -> Option<Reading> {
    let ph = view.needed("ph", |view| view.decimal("ph", Quantity::Ph));
    let dilution = view.needed("dilution", |view| view.accept("dilution", view.text("dilution")?.parse()));
    let (temperature, after) =
        (view.decimal("temperature", Quantity::Temperature), view.decimal("after", Quantity::Waiting));
    let (water, instrument, method) = (view.text("water"), view.text("instrument"), view.text("method"));
    let on = view.date("on");
    let mut reading = view.accept("ph", Reading::ph(ph?, dilution?))?;
    if let Some(temperature) = temperature {
        reading = view.accept("temperature", reading.at_temperature(temperature))?;
    }
    if let Some(after) = after {
        reading = view.accept("after", reading.after_minutes(after))?;
    }
    if let Some(water) = water {
        reading = view.accept("water", reading.in_water(water))?;
    }
    if let Some(instrument) = instrument {
        reading = view.accept("instrument", reading.with_instrument(instrument))?;
    }
    if let Some(method) = method {
        reading = view.accept("method", reading.by(method))?;
    }
    Some(match on {
        Some(on) => reading.on(on),
        None => reading,
    })
}
