//! The best formulas on models as documents, and back. Floats have nine digits.

use super::{BestOnModel, Desirability, Desired, DesiredResponse, MostDesirable, SearchEnd};
use crate::bounds::Quantity;
use crate::brief::{BriefDocument, Direction, read_brief};
use crate::catalogue::read_back;
use crate::document::{Materials, Number, TableView, form, forms, written};
use crate::error::Error;
use crate::formula::{Formula, Line};
use crate::number::Exact;
use crate::trial::model::{FitDocument, FittedModel, Prediction, read_fit};

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
        is_extrapolation: bool,
    }
}

written! {
    /// A line with its percentage.
    struct LineShareDocument {
        /// The line.
        line: String,
        /// Its percentage.
        percent: Number,
    }
}

fn line_shares(formula: &Formula) -> Vec<LineShareDocument> {
    let share = |line: &Line| LineShareDocument { line: line.name().to_string(), percent: line.percent().into() };
    formula.lines().iter().map(share).collect()
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
        /// What the search had to come within; a hundredth of the residual deviation where it is absent.
        #[serde(skip_serializing_if = "Option::is_none")]
        tolerance: Option<Number> = it.end.tolerance.map(as_is),
        /// After how many boxes it had to end.
        most_boxes: u64 = it.end.boxes,
        /// The property, with its unit.
        response: String = it.response.clone(),
        /// The formula, on the grid.
        formula: Vec<LineShareDocument> = line_shares(&it.formula),
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

/// What is asked of a search besides brief and models.
struct Search {
    settings: Vec<f64>,
    confidence: Exact,
    end: SearchEnd,
}

fn read_search(view: &TableView<'_>) -> Option<Search> {
    let settings = view.exacts("settings", Quantity::ProcessSetting).iter().map(Exact::to_f64).collect();
    let confidence = view.needed("confidence", |view| view.exact("confidence", Some(Quantity::Confidence)));
    let end = read_end(view);
    Some(Search { settings, confidence: confidence?, end: end? })
}

read_back! {
    /// Reads the best formula on a model back.
    BestOnModel, &["brief", "fit", "direction", "settings", "confidence", "tolerance", "most_boxes"],
    |view, catalogue, watch| {
        let brief = view.needed("brief", |view| view.table("brief", |view| read_brief(view, catalogue)));
        let fit = view.needed("fit", |view| view.table("fit", read_fit));
        let direction = view.needed("direction", |view| view.choice("direction"));
        let Search { settings, confidence, end } = read_search(view)?;
        let brief = brief?.watched_by(watch);
        view.accept("brief", brief.best_on(&fit?, direction?, &settings, confidence, &end))
    }
}

written! {
    /// A model, and how desirable the values of its property are.
    struct WantedDocument {
        /// What was fitted.
        fit: FitDocument,
        /// Which values are wanted.
        desired: Desired,
        /// The low end of the values between which it changes.
        low: Number,
        /// The target; absent where none is wanted.
        #[serde(skip_serializing_if = "Option::is_none")]
        target: Option<Number>,
        /// The high end.
        high: Number,
        /// The exponent.
        shape: Number,
    }
}

impl WantedDocument {
    fn of((model, desirability): &(FittedModel, Desirability), materials: Materials) -> Result<Self, Error> {
        let (low, target, high) = desirability.ends();
        let desired = desirability.desired();
        Ok(WantedDocument {
            fit: FitDocument::of(model, materials)?,
            desired,
            low: as_is(low),
            target: (desired == Desired::Target).then(|| as_is(target)),
            high: as_is(high),
            shape: as_is(desirability.shape()),
        })
    }
}

fn read_wanted(view: &TableView<'_>) -> Option<(FittedModel, Desirability)> {
    let fit = view.needed("fit", |view| view.table("fit", read_fit));
    let desired = view.needed("desired", |view| view.choice("desired"));
    let end = |key| view.exact(key, Some(Quantity::TrialResult));
    let (low, target, high) = (view.needed("low", |_| end("low")), end("target"), view.needed("high", |_| end("high")));
    let shape = view.needed("shape", |view| view.exact("shape", Some(Quantity::DesirabilityShape)));
    let desirability = view.accept("desired", Desirability::of_words(desired?, low?, target, high?))?;
    Some((fit?, view.accept("shape", desirability.with_shape(shape?))?))
}

form! {
    /// One property of the most desirable formula.
    DesiredResponseDocument of DesiredResponse, |it| {
        /// The property, with its unit.
        response: String,
        /// What its model says of the formula.
        prediction: PredictionDocument = (&it.prediction).into(),
        /// How desirable that is, 0 to 1.
        desirability: Number = Number::of_float(it.desirability),
    }
}

form! {
    /// The most desirable formula of a brief on several models.
    MostDesirableDocument of MostDesirable as "most-desirable/1", |it, materials| {
        /// The brief.
        brief: BriefDocument = BriefDocument::of(&it.brief, materials),
        /// The models, and what is wanted of each.
        wanted: Vec<WantedDocument> = it.wanted.iter().map(|wanted| WantedDocument::of(wanted, materials)).collect::<Result<_, Error>>()?,
        /// The settings, in the order of the models' process variables.
        settings: Vec<Number> = it.settings.iter().map(|setting| as_is(*setting)).collect(),
        /// The confidence of the predictions, percent.
        confidence: Number = Number::from(&it.confidence),
        /// What the search had to come within, in desirability; 0.001 where it is absent.
        #[serde(skip_serializing_if = "Option::is_none")]
        tolerance: Option<Number> = it.end.tolerance.map(as_is),
        /// After how many boxes it had to end.
        most_boxes: u64 = it.end.boxes,
        /// The formula, on the grid.
        formula: Vec<LineShareDocument> = line_shares(&it.formula),
        /// The geometric mean of what its properties are worth, 0 to 1.
        desirability: Number = Number::of_float(it.desirability),
        /// What no formula of the brief is above.
        bound: Number = Number::of_float(it.bound),
        /// The properties.
        responses: Vec<DesiredResponseDocument> = forms(&it.responses),
        /// True where desirability and bound are within the tolerance and what rounding to the grid takes.
        is_proved: bool = it.is_proved,
        /// Boxes that were looked at.
        boxes: u64 = it.boxes,
    }
}

read_back! {
    /// Reads the most desirable formula back.
    MostDesirable, &["brief", "wanted", "settings", "confidence", "tolerance", "most_boxes"],
    |view, catalogue, watch| {
        let brief = view.needed("brief", |view| view.table("brief", |view| read_brief(view, catalogue)));
        let wanted = view.tables("wanted", read_wanted);
        let Search { settings, confidence, end } = read_search(view)?;
        // What could not be read is reported already.
        let brief = brief.filter(|_| wanted.len() == view.count("wanted"))?.watched_by(watch);
        view.accept("brief", brief.most_desirable(&wanted, &settings, confidence, &end))
    }
}
