//! The best formula on a model as a document, and back. Floats have nine digits.

use super::{BestOnModel, SearchEnd};
use crate::bounds::Quantity;
use crate::brief::{BriefDocument, Direction, read_brief};
use crate::catalogue::Catalogue;
use crate::document::{Notation, Number, TableView, form, restore};
use crate::error::Error;
use crate::number::Exact;
use crate::trial::model::{FitDocument, Prediction, read_fit};

form! {
    /// What a model says of a formula.
    PredictionDocument of Prediction, |it| {
        /// The value, in the unit of the property.
        value: Number = Number::of_float(it.value),
        /// Its standard error.
        error: Number = Number::of_float(it.error),
        /// Where the mean of many such batches lies: the low end.
        confidence_low: Number = Number::of_float(it.confidence_low),
        /// The high end.
        confidence_high: Number = Number::of_float(it.confidence_high),
        /// Where the result of one further batch lies: the low end.
        low: Number = Number::of_float(it.low),
        /// The high end.
        high: Number = Number::of_float(it.high),
        /// True if the formula is further out than every run.
        is_extrapolation: bool = it.is_extrapolation,
    }
}

/// A line with its percentage.
#[derive(Clone, Debug, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct LineShareDocument {
    /// The line.
    line: String,
    /// Its percentage.
    percent: Number,
}

/// A float as it is.
fn as_is(value: f64) -> Number {
    // Finite: it was checked.
    Exact::from_shortest(value).unwrap_or_default().into()
}

form! {
    /// The best formula of a brief on a model.
    BestOnModelDocument of BestOnModel as "best-on-model/1", |it, materials| {
        /// The brief.
        brief: BriefDocument = BriefDocument::of(&it.brief, materials),
        /// What was fitted.
        fit: FitDocument = FitDocument::of(&it.model, materials)?,
        /// Whether little or much of the property is wanted.
        direction: Direction = it.direction,
        /// The settings, in the order of the model's process variables.
        settings: Vec<Number> = it.settings.iter().map(|setting| as_is(*setting)).collect(),
        /// The confidence of the prediction, percent.
        confidence: Number = Number::from(&it.confidence),
        /// What the search had to come within; a hundredth of the residual deviation where it is null.
        tolerance: Option<Number> = it.end.tolerance.map(as_is),
        /// After how many boxes it had to end.
        most_boxes: u64 = it.end.boxes,
        /// The property, with its unit.
        response: String = it.response.clone(),
        /// The formula, on the grid.
        formula: Vec<LineShareDocument> = it.formula.lines().iter().map(|line| LineShareDocument { line: line.name().to_string(), percent: line.percent().into() }).collect(),
        /// What the model says of it.
        prediction: PredictionDocument = (&it.prediction).into(),
        /// What the model says of no formula of the brief to be better than.
        bound: Number = Number::of_float(it.bound),
        /// How far the formula may be from the best.
        gap: Number = Number::of_float(it.gap),
        /// True where that is within the tolerance and what rounding to the grid takes.
        is_proved: bool = it.is_proved,
        /// Boxes that were looked at.
        boxes: u64 = it.boxes,
    }
}

fn read_end(view: &TableView<'_>) -> Option<SearchEnd> {
    let tolerance = view.exact("tolerance", None);
    let boxes = view.needed("most_boxes", |view| view.whole("most_boxes"));
    let mut end = view.accept("most_boxes", SearchEnd::default().after(u64::from(boxes?)))?;
    if let Some(tolerance) = tolerance {
        end = view.accept("tolerance", end.within(tolerance.to_f64()))?;
    }
    Some(end)
}

impl BestOnModel {
    /// Reads the best formula on a model back. It is believed where asking again gives just what it says.
    ///
    /// # Errors
    /// Every fault of brief, log and model; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        const QUESTION: [&str; 7] = ["brief", "fit", "direction", "settings", "confidence", "tolerance", "most_boxes"];
        restore(text, notation, &QUESTION, |view| {
            let brief = view.needed("brief", |view| view.table("brief", |view| read_brief(view, catalogue)));
            let fit = view.needed("fit", |view| view.table("fit", read_fit));
            let direction = view.needed("direction", |view| view.choice("direction"));
            let settings: Vec<f64> =
                view.exacts("settings", Quantity::ProcessSetting).iter().map(Exact::to_f64).collect();
            let confidence = view.needed("confidence", |view| view.exact("confidence", Some(Quantity::Confidence)));
            let end = read_end(view);
            view.accept("brief", brief?.best_on(&fit?, direction?, &settings, confidence?, &end?))
        })
    }
}
