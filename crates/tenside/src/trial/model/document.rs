//! Fitted models as documents, and back. Floats have nine digits.

use super::{AliasedTerm, AnovaRow, Criterion, FittedModel, FittedRun, FittedTerm, ModelCandidate, ModelChoice};
use crate::bounds::Quantity;
use crate::document::{Materials, Notation, Number, TableView, form, forms, restore, written};
use crate::error::{Error, Fault, FaultKind};
use crate::trial::log::{TrialLog, TrialLogDocument, read_log};
use crate::trial::{Blend, Crossing, ProcessOrder, ProcessVariable, Terms};

fn float(value: Option<f64>) -> Option<Number> {
    value.map(Number::of_float)
}

form! {
    /// A setting of the process that is varied.
    ProcessVariableDocument of ProcessVariable, |it| {
        /// What it is called.
        name: String = it.name().to_string(),
        /// Its unit; may be empty.
        unit: String = it.unit().to_string(),
        /// The setting that is -1 in the model.
        low: Number = it.low().into(),
        /// The setting that is 1.
        high: Number = it.high().into(),
    }
}

form! {
    /// What a model is a sum of.
    TermsDocument of Terms, |it| {
        /// The components of the mixture.
        components: Vec<String> = it.components().to_vec(),
        /// The polynomial of the mixture.
        blend: Blend = it.blend(),
        /// The process variables.
        process: Vec<ProcessVariableDocument> = forms(it.process()),
        /// How far it follows them.
        order: ProcessOrder = it.order(),
        /// How mixture and process go together.
        crossing: Crossing = it.crossing(),
        /// How many times the variance of a single run that of a whole plot is.
        #[serde(skip_serializing_if = "Option::is_none")]
        whole_plot_ratio: Option<Number> = it.whole_plot_ratio().map(Number::from),
    }
}

form! {
    /// A coefficient.
    FittedTermDocument of FittedTerm, |it| {
        /// The term.
        term: String,
        /// Its coefficient.
        coefficient: Number = Number::of_float(it.coefficient),
        /// The standard error of that.
        error: Number = Number::of_float(it.error),
        /// One over the other.
        t: Option<Number> = float(it.t),
        /// How often chance alone gives such a t.
        p: Option<Number> = float(it.p),
    }
}

written! {
    /// A term with a factor.
    struct FactorDocument {
        /// The term.
        term: String,
        /// Its factor.
        factor: Number,
    }
}

form! {
    /// A term that was left out.
    AliasedTermDocument of AliasedTerm, |it| {
        /// The term.
        term: String,
        /// What it is the sum of in every run.
        of: Vec<FactorDocument> = it.of.iter().map(|(term, factor)| FactorDocument { term: term.clone(), factor: Number::of_float(*factor) }).collect(),
    }
}

form! {
    /// A row of the analysis of variance.
    AnovaRowDocument of AnovaRow, |it| {
        /// Where the variation is from.
        source: String = it.source.to_string(),
        /// Degrees of freedom.
        degrees_of_freedom: usize,
        /// Sum of squares.
        sum_of_squares: Number = Number::of_float(it.sum_of_squares),
        /// Over the mean square it is compared with.
        f: Option<Number> = float(it.f),
        /// How often chance alone gives such an F.
        p: Option<Number> = float(it.p),
    }
}

form! {
    /// A run in the model.
    FittedRunDocument of FittedRun, |it| {
        /// The run.
        run: String,
        /// What was measured.
        measured: Number = Number::of_float(it.measured),
        /// What the model says.
        fitted: Number = Number::of_float(it.fitted),
        /// What share of that its own result decides.
        leverage: Number = Number::of_float(it.leverage),
        /// Cook's distance.
        cook: Option<Number> = float(it.cook),
    }
}

form! {
    /// A model of a measured property.
    FittedModelDocument of FittedModel as "model/1", |it, materials| {
        /// The log that it was fitted to.
        log: TrialLogDocument = crate::document::ResultDocument::form(it.log(), materials)?,
        /// The property.
        response: String = it.response().name().to_string(),
        /// What it is a sum of.
        model: TermsDocument,
        /// The coefficients.
        terms: Vec<FittedTermDocument> = forms(&it.terms()),
        /// Terms that could not be told apart.
        aliased: Vec<AliasedTermDocument> = forms(it.aliased()),
        /// The standard deviation of results about the model.
        residual_deviation: Number = Number::of_float(it.residual_deviation()),
        /// Results less fitted terms.
        degrees_of_freedom: usize,
        /// The share of the variation that it explains.
        r_squared: Number = Number::of_float(it.r_squared()),
        /// The same by mean squares.
        adjusted: Number = Number::of_float(it.adjusted()),
        /// The share that it predicts.
        predicted: Option<Number> = float(it.predicted()),
        /// The analysis of variance.
        anova: Vec<AnovaRowDocument> = forms(&it.anova()),
        /// The runs.
        runs: Vec<FittedRunDocument> = forms(&it.runs()),
        /// What to know about it.
        notes: Vec<String>,
    }
}

/// What a model was asked: fitted again, it is the model.
#[derive(Clone, Debug, serde::Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(in crate::trial) struct FitDocument {
    /// The log that it was fitted to.
    log: TrialLogDocument,
    /// The property.
    response: String,
    /// What it is a sum of.
    model: TermsDocument,
}

impl FitDocument {
    pub(in crate::trial) fn of(model: &FittedModel, materials: Materials) -> Result<Self, Error> {
        Ok(FitDocument {
            log: crate::document::ResultDocument::form(model.log(), materials)?,
            response: model.response().name().to_string(),
            model: model.model().into(),
        })
    }
}

form! {
    /// A model that was tried.
    ModelCandidateDocument of ModelCandidate, |it| {
        /// Its polynomial.
        model: Blend = it.blend,
        /// How many terms it has.
        terms: usize,
        /// Its criterion.
        value: Option<Number> = float(it.value),
        /// The share of the variation that it predicts.
        predicted: Option<Number> = float(it.predicted),
        /// The standard deviation of results about it.
        residual_deviation: Option<Number> = float(it.residual_deviation),
        /// Why it is not in the choice.
        refused: Option<String>,
    }
}

form! {
    /// Models of a measured property that were compared.
    ModelChoiceDocument of ModelChoice as "model-choice/1", |it, materials| {
        /// What was fitted: the model here is the one with the least criterion, the others differ in their polynomial.
        fit: FitDocument = FitDocument::of(&it.best, materials)?,
        /// What they were compared by.
        criterion: Criterion = it.criterion,
        /// Every polynomial, from the simplest.
        candidates: Vec<ModelCandidateDocument> = forms(&it.candidates),
        /// The one with the least criterion.
        best: Blend = it.best.model().blend(),
        /// Its coefficients.
        terms: Vec<FittedTermDocument> = forms(&it.best.terms()),
    }
}

fn read_variable(view: &TableView<'_>) -> Option<ProcessVariable> {
    let (name, unit) = (view.needed_name("name"), view.needed("unit", |view| view.text("unit")));
    let end = |key| view.needed(key, |view| view.exact(key, Some(Quantity::ProcessSetting)));
    let (low, high) = (end("low"), end("high"));
    view.accept("name", ProcessVariable::new(&name?, unit?, low?, high?))
}

fn read_terms(view: &TableView<'_>) -> Option<Terms> {
    let components = view.texts("components");
    let blend = view.needed("blend", |view| view.choice("blend"));
    let process = view.tables("process", read_variable);
    let (order, crossing) =
        (view.needed("order", |view| view.choice("order")), view.needed("crossing", |view| view.choice("crossing")));
    let ratio = view.exact("whole_plot_ratio", Some(Quantity::WholePlotRatio));
    let (order, crossing) = (order?, crossing?);
    let terms = Terms::new(components, blend?).and_then(|terms| terms.with_process(process, order, crossing));
    let terms = view.accept("components", terms)?;
    match ratio {
        Some(ratio) => view.accept("whole_plot_ratio", terms.with_whole_plots(ratio)),
        None => Some(terms),
    }
}

fn read_whole_log(view: &TableView<'_>) -> Option<TrialLog> {
    view.version("trial-log/1");
    read_log(view)
}

/// The log, the property and the terms of a model.
fn read_question(view: &TableView<'_>) -> Option<(TrialLog, String, Terms)> {
    let log = view.needed("log", |view| view.table("log", read_whole_log));
    let response = view.needed("response", |view| view.name("response"));
    let model = view.needed("model", |view| view.table("model", read_terms));
    Some((log?, response?, model?))
}

/// A model from what it was asked.
pub(in crate::trial) fn read_fit(view: &TableView<'_>) -> Option<FittedModel> {
    let (log, response, model) = read_question(view)?;
    view.accept("model", log.fit(&response, &model))
}

impl ModelChoice {
    /// Reads a choice of models back. It is believed where choosing again gives just what it says.
    ///
    /// # Errors
    /// Every fault of the log and the terms; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["fit", "criterion"], |view| {
            let fit = view.needed("fit", |view| view.table("fit", read_question));
            let criterion = view.needed("criterion", |view| view.choice("criterion"));
            let ((log, response, like), criterion) = (fit?, criterion?);
            let choice = view.accept("fit", log.best_model(&response, &like, criterion))?;
            if choice.best.model() != &like {
                let fault = Fault::new(FaultKind::Contradiction, "this is not the model with the least criterion");
                let fault = fault.value(like.blend()).allowed(choice.best.model().blend().to_string());
                return view.accept("fit", Err(fault.into()));
            }
            Some(choice)
        })
    }
}

impl FittedModel {
    /// Reads a model back. It is believed where fitting it again gives just what it says.
    ///
    /// # Errors
    /// Every fault of the log and the model; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["log", "response", "model"], read_fit)
    }
}
