//! Models fitted to what was measured.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::trial::{Blend, Criterion, Crossing, ProcessOrder, ProcessVariable, Terms};

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::input::{ByName, Names, Number, Several, numbers};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::pickled::Reduced;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::measure::Measure;
use crate::product::weights::confidence_of;
use crate::trial::log::{Response, TrialLog};

record! {
    "tenside.trial",
    /// A coefficient of a fitted model.
    FittedTerm of tenside::trial::FittedTerm, |term| {
        /// The term.
        term: String = term.term,
        /// Its coefficient, in the unit of the property; that of a component alone is the value fitted for it pure.
        coefficient: f64 = term.coefficient,
        /// The standard error of that.
        error: f64 = term.error,
        /// One over the other; None where the model passes through every result.
        t: Option<f64> = term.t,
        /// How often chance alone gives a t so far from 0, if the coefficient is 0.
        p: Option<f64> = term.p,
    }
}

record! {
    "tenside.trial",
    /// A run in a fitted model.
    FittedRun of tenside::trial::FittedRun, |run| {
        /// The run.
        run: String = run.run,
        /// What was measured.
        measured: f64 = run.measured,
        /// What the model says.
        fitted: f64 = run.fitted,
        /// Measured less fitted.
        residual: f64 = run.residual,
        /// What share of its fitted value its own result decides, 0 to 1; in whole plots the variance of its fitted
        /// value over that of a run, without that of its whole plot.
        leverage: f64 = run.leverage,
        /// The residual over its own standard error; None where it has none.
        studentised: Option<f64> = run.studentised,
        /// Cook's distance: how far leaving the run out moves all coefficients.
        cook: Option<f64> = run.cook,
    }
}

record! {
    "tenside.trial",
    /// A row of an analysis of variance.
    AnovaRow of tenside::trial::AnovaRow, |row| {
        /// Where the variation is from: model, inside it the steps of the model, each after those before it, residual,
        /// lack of fit, pure error, total.
        source: String = row.source.to_string(),
        /// Degrees of freedom.
        degrees_of_freedom: usize = row.degrees_of_freedom,
        /// Sum of squares.
        sum_of_squares: f64 = row.sum_of_squares,
        /// That over the degrees of freedom.
        mean_square: Option<f64> = row.mean_square,
        /// Over the mean square it is compared with.
        f: Option<f64> = row.f,
        /// How often chance alone gives such an F or a greater one.
        p: Option<f64> = row.p,
    }
}

record! {
    "tenside.trial",
    /// Whether more is left than repetitions explain.
    LackOfFit of tenside::trial::LackOfFit, |lack| {
        /// What the model leaves between blends over what repetitions differ by; None where repetitions do not differ.
        f: Option<f64> = lack.f,
        /// How often chance alone gives such an F or a greater one: small where the model is too simple.
        p: Option<f64> = lack.p,
        /// Blends less fitted terms.
        degrees_of_freedom: usize = lack.degrees_of_freedom,
        /// Runs less blends.
        pure_error_degrees_of_freedom: usize = lack.pure_error_degrees_of_freedom,
        /// The standard deviation of repetitions, in the unit of the property.
        pure_error_deviation: f64 = lack.pure_error_deviation,
    }
}

record! {
    "tenside.trial",
    /// A term that the design cannot tell from others.
    AliasedTerm of &tenside::trial::AliasedTerm, |alias| {
        /// The term that was left out.
        term: String = alias.term.clone(),
        /// The terms it is a sum of in every run, with their factors.
        of: IndexMap<String, f64> = alias.of.iter().cloned().collect(),
    }
}

record! {
    "tenside.trial",
    /// What a model says of one formula, in the unit of the property.
    Prediction of tenside::trial::Prediction, |prediction| {
        /// The value.
        value: f64 = prediction.value,
        /// Its standard error.
        error: f64 = prediction.error,
        /// Where the mean of many such batches lies: the low end.
        confidence_low: f64 = prediction.confidence_low,
        /// The high end.
        confidence_high: f64 = prediction.confidence_high,
        /// Where the result of one further batch lies: the low end.
        low: f64 = prediction.low,
        /// The high end.
        high: f64 = prediction.high,
        /// How far the formula is from the middle of the runs, as their leverages are.
        leverage: f64 = prediction.leverage,
        /// True if it is further out than every run, or a line that is no component stands where no run had it: the
        /// model was not checked there.
        is_extrapolation: bool = prediction.is_extrapolation,
    }
}

record! {
    "tenside.trial",
    /// A model that was tried.
    ModelCandidate of &tenside::trial::ModelCandidate, |candidate| {
        /// Its polynomial.
        model: Word<Blend> = Word(candidate.blend),
        /// How many terms it has.
        terms: usize = candidate.terms,
        /// Its criterion; None if it has none.
        value: Option<f64> = candidate.value,
        /// Its predicted R-squared.
        predicted: Option<f64> = candidate.predicted,
        /// Its residual deviation, in the unit of the property.
        residual_deviation: Option<f64> = candidate.residual_deviation,
        /// Why it is not in the choice.
        refused: Option<String> = candidate.refused.clone(),
    }
}

/// A model of one measured property, fitted to the batches as they were made: see `TrialLog.fit`.
///
/// >>> shares = [100, 100, 50, 50, 50, 0, 0]
/// >>> results = ["11.0", "12.4", "15.0", "14.8", "16.1", "8.8", "10.0"]
/// >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": s, "kaolin": 100 - s}, {"hardness": y}) for n, (s, y) in enumerate(zip(shares, results))]
/// >>> model = td.trial.TrialLog("Two parts", {"hardness": "N"}, runs).fit("hardness")
/// >>> [(row.term, round(row.coefficient, 3), round(row.error, 3)) for row in model.terms]
/// [('sci-powder', 11.7, 0.579), ('kaolin', 9.4, 0.579), ('sci-powder*kaolin', 19.0, 2.501)]
#[pyclass(frozen, eq, from_py_object, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct FittedModel(pub(crate) tenside::trial::FittedModel);

shown!(FittedModel, |it| it.0.page());
value!(FittedModel, |it| it.response().heading());
document!(FittedModel, |it| &it.0, back alone by tenside::trial::FittedModel, pickled otherwise);
text_cell!(FittedModel, |it| it.0.response().heading());

getters!(FittedModel {
    /// The log that it was fitted to.
    log: TrialLog = |it| TrialLog(it.log().clone());
    /// The property that it is a model of.
    response: Response = |it| Response(it.response().clone());
    /// The polynomial of the mixture.
    model: Word<Blend> = |it| Word(it.model().blend());
    /// The components of the mixture.
    components: Vec<String> = |it| it.model().components().to_vec();
    /// The process variables: unit, the setting that is -1 in the model, the one that is 1.
    process: IndexMap<String, (String, Fraction, Fraction)> = |it| {
        let of = |variable: &ProcessVariable| (variable.unit().to_string(), Fraction(variable.low().clone()), Fraction(variable.high().clone()));
        it.model().process().iter().map(|variable| (variable.name().to_string(), of(variable))).collect()
    };
    /// How many times the variance of a single run that of a whole plot is; None where every run is set up anew.
    whole_plot_ratio: Option<Fraction> = |it| it.model().whole_plot_ratio().cloned().map(Fraction);
    /// The coefficients with their standard errors.
    terms: Rows<FittedTerm> = |it| it.terms().into_iter().map(FittedTerm::from).collect();
    /// The analysis of variance.
    anova: Rows<AnovaRow> = |it| it.anova().into_iter().map(AnovaRow::from).collect();
    /// The runs with their residuals.
    runs: Rows<FittedRun> = |it| it.runs().into_iter().map(FittedRun::from).collect();
    /// Terms that were left out because the design cannot tell them from those before them.
    aliased: Rows<AliasedTerm> = |it| it.aliased().iter().map(AliasedTerm::from).collect();
    /// The share of the variation about the mean that it explains.
    r_squared: f64 = |it| it.r_squared();
    /// The same by mean squares, which more terms do not raise by themselves.
    adjusted: f64 = |it| it.adjusted();
    /// The share of the variation that it predicts of results it was not fitted to; None where a run alone decides a
    /// term.
    predicted: Option<f64> = |it| it.predicted();
    /// The sum of squares by which it misses each result when fitted without it; None where a run alone decides a term.
    press: Option<f64> = |it| it.press();
    /// Akaike's criterion with the correction for few results; None with too few of them.
    aicc: Option<f64> = |it| it.aicc();
    /// Whether more is left than repetitions explain; None without repeated blends, with no more blends than terms, or
    /// in whole plots.
    lack_of_fit: Option<LackOfFit> = |it| it.lack_of_fit().map(LackOfFit::from);
    /// The standard deviation of results about it, in the unit of the property.
    residual_deviation: f64 = |it| it.residual_deviation();
    /// Results less fitted terms.
    degrees_of_freedom: usize = |it| it.degrees_of_freedom();
    /// Decimal digits to which the coefficients are worked out.
    digits: u32 = |it| it.digits();
    /// What to know about it.
    notes: Vec<String> = |it| it.notes();
    /// Coefficients, analysis of variance and what to know on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl FittedModel {
    fn __repr__(&self) -> String {
        format!("<FittedModel of {:?}, {}>", self.0.response().name(), self.0.model().blend())
    }

    /// What the model says of a `formula` made with these `settings`, by process variable, with the `confidence` in
    /// percent.
    ///
    /// >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate([(30, 41), (40, 44), (50, 48)])]
    /// >>> model = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness", model="linear")
    /// >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
    /// >>> round(model.predict(bar).value, 3), model.predict(bar).is_extrapolation
    /// (44.333, False)
    #[pyo3(signature = (formula, *, settings=None, confidence=None))]
    fn predict(&self, formula: &Formula, settings: Option<ByName>, confidence: Option<Number>) -> Outcome<Prediction> {
        Ok(Prediction::from(self.0.predict(&formula.0, &self.settings(settings)?, confidence_of(confidence)?)?))
    }

    /// The values alone at many `mixtures`, for maps: fractions of the components in their order, which sum to 1;
    /// `settings` as for `predict`.
    ///
    /// >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate([(0, 40), (50, 45), (100, 50)])]
    /// >>> model = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness", model="linear")
    /// >>> [round(value, 6) for value in model.values_at([[1, 0], [0.25, 0.75]])]
    /// [40.0, 47.5]
    #[pyo3(signature = (mixtures, *, settings=None))]
    fn values_at(
        &self,
        py: Python<'_>,
        mixtures: Several<Several<f64>>,
        settings: Option<ByName>,
    ) -> Outcome<Vec<f64>> {
        let settings = self.settings(settings)?;
        let mixtures: Vec<Vec<f64>> = mixtures.0.into_iter().map(|mixture| mixture.0).collect();
        Ok(py.detach(|| self.0.values_at(&mixtures, &settings))?)
    }

    /// A linear model as a measure of formulas of a `brief`, which can then ask for it as for any other, exactly;
    /// `settings` as for `predict`.
    ///
    /// >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in enumerate([(30, 41), (40, 44), (50, 48)])]
    /// >>> model = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness", model="linear")
    /// >>> brief = td.Brief("Hard", td.Catalogue.starter()).between("kaolin", 20, 60).qs("sci-powder")
    /// >>> round(float(brief.maximise(model.measure(brief)).solve().objective), 3)
    /// 51.333
    #[pyo3(signature = (brief, *, settings=None))]
    fn measure(&self, brief: &Brief, settings: Option<ByName>) -> Outcome<Measure> {
        Ok(Measure(self.0.measure(&brief.0, &self.settings(settings)?)?))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<Reduced<'py>> {
        let text = slf.get().to_json(slf.py(), false)?;
        Ok((slf.get_type().getattr("from_json")?, (text,).into_pyobject(slf.py())?))
    }
}

impl FittedModel {
    pub(crate) fn settings(&self, settings: Option<ByName>) -> Outcome<Vec<f64>> {
        Ok(self.0.settings(numbers(settings))?)
    }
}

/// The models that were tried, and the one with the least criterion: see `TrialLog.best_model`.
#[pyclass(frozen, eq, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct ModelChoice(tenside::trial::ModelChoice);

document!(ModelChoice, |it| &it.0, back alone by tenside::trial::ModelChoice, pickled otherwise);

shown!(ModelChoice, |it| it.0.page());
value!(ModelChoice, |it| it.best.response().heading());

getters!(ModelChoice {
    /// What they were compared by.
    criterion: Word<Criterion> = |it| Word(it.criterion);
    /// Every polynomial, from the simplest.
    candidates: Rows<ModelCandidate> = |it| it.candidates.iter().map(ModelCandidate::from).collect();
    /// The one with the least criterion, the simplest of equals.
    best: FittedModel = |it| FittedModel(it.best.clone());
    /// The models that were tried on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl ModelChoice {
    fn __repr__(&self) -> String {
        format!("<ModelChoice of {} models by {}>", self.0.candidates.len(), self.0.criterion)
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<Reduced<'py>> {
        let text = slf.get().to_json(slf.py(), false)?;
        Ok((slf.get_type().getattr("from_json")?, (text,).into_pyobject(slf.py())?))
    }
}

/// Process variables by name: unit, low and high end of the range in which each was varied.
type Process = IndexMap<String, (String, Fraction, Fraction)>;

/// The terms that keywords ask for.
fn terms(
    log: &TrialLog,
    blend: Blend,
    components: Option<&Names>,
    process: Option<&Process>,
    order: Option<Word<ProcessOrder>>,
    crossing: Option<Word<Crossing>>,
    whole_plot_ratio: Option<Number>,
) -> Outcome<Terms> {
    let terms = match components {
        Some(components) => Terms::new(components.each(), blend)?,
        None => log.0.terms(blend)?,
    };
    let variable = |(name, (unit, low, high)): (&String, &(String, Fraction, Fraction))| {
        ProcessVariable::new(name, unit, &low.0, &high.0)
    };
    let variables = process.into_iter().flatten().map(variable).collect::<Result<Vec<_>, _>>()?;
    let terms = terms.with_process(
        variables,
        order.map_or(ProcessOrder::Linear, |order| order.0),
        crossing.map_or(Crossing::Added, |crossing| crossing.0),
    )?;
    Ok(match whole_plot_ratio {
        Some(ratio) => terms.with_whole_plots(&ratio.0)?,
        None => terms,
    })
}

#[pymethods]
impl TrialLog {
    /// Fits a `model` to the results of a property, `response`: least squares over the runs that have one, by what was
    /// in the bowl.
    ///
    /// `components` are the lines that were varied, by default those that differ between runs by more than 0.5 % w/w;
    /// the fraction of each is its percentage over that of all of them. `process` are process variables by name, each
    /// with its unit and the range in which it was varied, followed to this `order` and added to the mixture's terms
    /// or, by `crossing`, times each of them.
    ///
    /// `whole_plot_ratio` says that runs of one whole plot share a departure, of so many times the variance of a run:
    /// the fit is by generalised least squares, so that less is known of what is only changed between whole plots. 1
    /// where nothing is known of it (common practice, no source).
    ///
    /// >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": 40}) for n, k in enumerate([30, 40, 50])]
    /// >>> td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness", model="linear")
    /// Traceback (most recent call last):
    /// ...
    /// tenside.errors.Contradiction: hardness: every run has the same result: there is nothing to fit (found 40); read the instrument to more digits, or vary the blends more
    #[pyo3(signature = (response, *, model=None, components=None, process=None, order=None, crossing=None, whole_plot_ratio=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn fit(
        &self,
        py: Python<'_>,
        response: &str,
        model: Option<Word<Blend>>,
        components: Option<Names>,
        process: Option<Process>,
        order: Option<Word<ProcessOrder>>,
        crossing: Option<Word<Crossing>>,
        whole_plot_ratio: Option<Number>,
    ) -> Outcome<FittedModel> {
        let blend = model.map_or(Blend::Quadratic, |model| model.0);
        let terms = terms(self, blend, components.as_ref(), process.as_ref(), order, crossing, whole_plot_ratio)?;
        Ok(FittedModel(py.detach(|| self.0.fit(response, &terms))?))
    }

    /// Fits every polynomial to the results of a property, `response`, and takes the one with the least `criterion`,
    /// AICc unless it says otherwise; those with terms that the design does not tell apart are left out. The other
    /// keywords are those of `fit`: `components`, `process`, `order`, `crossing`, `whole_plot_ratio`.
    ///
    /// >>> results = enumerate([(0, 9), (0, 10), (50, 15), (50, 16), (100, 11), (100, 12)])
    /// >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in results]
    /// >>> choice = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).best_model("hardness", criterion="PRESS")
    /// >>> choice.best.model
    /// 'quadratic'
    #[pyo3(signature = (response, *, criterion=None, components=None, process=None, order=None, crossing=None, whole_plot_ratio=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn best_model(
        &self,
        py: Python<'_>,
        response: &str,
        criterion: Option<Word<Criterion>>,
        components: Option<Names>,
        process: Option<Process>,
        order: Option<Word<ProcessOrder>>,
        crossing: Option<Word<Crossing>>,
        whole_plot_ratio: Option<Number>,
    ) -> Outcome<ModelChoice> {
        let (components, process) = (components.as_ref(), process.as_ref());
        let like = terms(self, Blend::Linear, components, process, order, crossing, whole_plot_ratio)?;
        let criterion = criterion.map_or(Criterion::Aicc, |criterion| criterion.0);
        Ok(ModelChoice(py.detach(|| self.0.best_model(response, &like, criterion))?))
    }
}
