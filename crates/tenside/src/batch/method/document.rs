//! Steps in documents.

use super::Step;
use crate::bounds::Quantity;
use crate::document::{Number, TableView, form};

form! {
    /// A step of a method.
    StepDocument of Step, |it| {
        /// What is done.
        kind: super::StepKind = it.kind(),
        /// In words.
        words: String = it.words().to_string(),
        /// The phase that it belongs to.
        #[serde(skip_serializing_if = "Option::is_none")]
        phase: Option<String> = it.phase().map(str::to_string),
        /// The temperature of the mass in °C.
        #[serde(skip_serializing_if = "Option::is_none")]
        temperature: Option<Number> = it.temperature().map(Number::from),
        /// The minutes that it usually takes.
        #[serde(skip_serializing_if = "Option::is_none")]
        minutes: Option<Number> = it.minutes().map(Number::from),
        /// Its caution.
        #[serde(skip_serializing_if = "Option::is_none")]
        caution: Option<String> = it.caution().map(str::to_string),
        /// What is looked at before the next step.
        #[serde(skip_serializing_if = "Option::is_none")]
        check: Option<String> = it.check().map(str::to_string),
    }
}

/// Reads a step.
pub(in crate::batch) fn read_step(view: &TableView<'_>) -> Option<Step> {
    let kind = view.needed("kind", |view| view.choice("kind"));
    let words = view.needed("words", |view| view.prose("words"));
    let (phase, caution, check) = (view.name("phase"), view.prose("caution"), view.prose("check"));
    let (temperature, minutes) =
        (view.decimal("temperature", Quantity::Temperature), view.decimal("minutes", Quantity::StepTime));
    Some(Step { kind: kind?, words: words?, phase, temperature, minutes, caution, check })
}
