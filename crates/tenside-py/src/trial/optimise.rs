//! The best formulas on fitted models.

use pyo3::prelude::*;
use tenside::bounds::Quantity;
use tenside::brief::Direction;
use tenside::trial::{Desired, SearchEnd};

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::input::{ByName, Number, Several};
use crate::convert::output::{Fraction, pasted};
use crate::convert::page::Page;
use crate::convert::pickled::{Call, Reduced};
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::product::weights::confidence_of;
use crate::solve::conflict::or_unanswerable;
use crate::trial::log::SelfClass;
use crate::trial::model::{FittedModel, Prediction};

/// How desirable the values of a property are, from 0 to 1: `desired` larger ones, nothing up to `low` and all from
/// `high` on; smaller ones; or a `target` between them. The exponent `shape` is 1 where it is straight; above 1 only
/// values near the best are worth much.
///
/// >>> hard = td.trial.Desirability("larger", 30, 50, shape=2)
/// >>> hard.of(20), hard.of(40), hard.of(60)
/// (0.0, 0.25, 1.0)
/// >>> td.trial.Desirability("target", "4.5", "6.5", target="5.5").of(6)
/// 0.5
#[pyclass(frozen, eq, from_py_object, module = "tenside.trial")]
#[derive(Clone)]
pub(crate) struct Desirability {
    core: tenside::trial::Desirability,
    low: Fraction,
    high: Fraction,
    target: Option<Fraction>,
    shape: Fraction,
}

impl PartialEq for Desirability {
    fn eq(&self, other: &Self) -> bool {
        self.core == other.core
    }
}

copied!(Desirability);

#[pymethods]
impl Desirability {
    #[new]
    #[pyo3(signature = (desired, low, high, *, target=None, shape=None))]
    fn new(
        desired: Word<Desired>,
        low: Number,
        high: Number,
        target: Option<Number>,
        shape: Option<Number>,
    ) -> Outcome<Self> {
        let shape = shape.map_or_else(|| tenside::number::Exact::ONE, |shape| shape.0);
        let core = tenside::trial::Desirability::of_words(
            desired.0,
            &low.0,
            target.as_ref().map(|target| &target.0),
            &high.0,
        )?
        .with_shape(&shape)?;
        Ok(Desirability {
            core,
            low: Fraction(low.0),
            high: Fraction(high.0),
            target: target.map(|target| Fraction(target.0)),
            shape: Fraction(shape),
        })
    }

    /// Which values are wanted.
    #[getter]
    fn desired(&self) -> Word<Desired> {
        Word(self.core.desired())
    }

    /// The low end.
    #[getter]
    fn low(&self) -> Fraction {
        self.low.clone()
    }

    /// The high end.
    #[getter]
    fn high(&self) -> Fraction {
        self.high.clone()
    }

    /// The target, if one is wanted.
    #[getter]
    fn target(&self) -> Option<Fraction> {
        self.target.clone()
    }

    /// The exponent.
    #[getter]
    fn shape(&self) -> Fraction {
        self.shape.clone()
    }

    /// How desirable a `value` is, 0 to 1.
    fn of(&self, value: f64) -> f64 {
        self.core.of(value)
    }

    fn __hash__(&self) -> u64 {
        crate::convert::output::hash(&self.core.desired())
    }

    fn __repr__(&self) -> String {
        let target = self.target.as_ref().map_or_else(String::new, |target| format!(", target={}", pasted(&target.0)));
        format!(
            "Desirability('{}', {}, {}{target}, shape={})",
            self.core.desired(),
            pasted(&self.low.0),
            pasted(&self.high.0),
            pasted(&self.shape.0)
        )
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Outcome<Reduced<'py>> {
        let call =
            Call::new(SelfClass, "Desirability").argument(self.desired()).argument(self.low()).argument(self.high());
        Ok(call.keyword("target", self.target()).keyword("shape", Some(self.shape())).reduced(py)?)
    }
}

record! {
    "tenside.trial",
    /// One property of the most desirable formula.
    DesiredResponse of &tenside::trial::DesiredResponse, |row| {
        /// The property, with its unit.
        response: String = row.response.clone(),
        /// What its model says of the formula.
        prediction: Prediction = Prediction::from(row.prediction.clone()),
        /// How desirable that is, 0 to 1.
        desirability: f64 = row.desirability,
    }
}

/// The best formula on a model: see `Brief.best_on`.
#[pyclass(frozen, eq, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct BestOnModel(tenside::trial::BestOnModel);

document!(BestOnModel, |it| &it.0, back watched by tenside::trial::BestOnModel);

shown!(BestOnModel, |it| it.0.page());
value!(BestOnModel, |it| &it.response);

getters!(BestOnModel {
    /// The property, with its unit.
    response: String = |it| it.response.clone();
    /// Whether little or much of it is wanted.
    direction: Word<Direction> = |it| Word(it.direction);
    /// The formula, on the grid.
    formula: Formula = |it| Formula(it.formula.clone());
    /// What the model says of it.
    prediction: Prediction = |it| Prediction::from(it.prediction.clone());
    /// What no formula of the brief is better than, by the model.
    bound: f64 = |it| it.bound;
    /// How far the formula may be from the best: bound and prediction apart.
    gap: f64 = |it| it.gap;
    /// True where that is within the tolerance and what rounding to the grid takes.
    is_proved: bool = |it| it.is_proved;
    /// Boxes that were looked at.
    boxes: u64 = |it| it.boxes;
    /// The formula and what the model says of it on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl BestOnModel {
    fn __repr__(&self) -> String {
        format!("<BestOnModel of {:?}: {:?}>", self.0.response, self.0.formula.title())
    }
}

/// The most desirable formula on several models: see `Brief.most_desirable`.
#[pyclass(frozen, eq, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct MostDesirable(tenside::trial::MostDesirable);

document!(MostDesirable, |it| &it.0, back watched by tenside::trial::MostDesirable);

shown!(MostDesirable, |it| it.0.page());
value!(MostDesirable, |it| it.responses.len());

getters!(MostDesirable {
    /// The formula, on the grid.
    formula: Formula = |it| Formula(it.formula.clone());
    /// The geometric mean of what its properties are worth, 0 to 1.
    desirability: f64 = |it| it.desirability;
    /// What no formula of the brief is above, by the models.
    bound: f64 = |it| it.bound;
    /// The properties.
    responses: Rows<DesiredResponse> = |it| it.responses.iter().map(DesiredResponse::from).collect();
    /// True where desirability and bound are within the tolerance and what rounding to the grid takes.
    is_proved: bool = |it| it.is_proved;
    /// Boxes that were looked at.
    boxes: u64 = |it| it.boxes;
    /// The formula and what the models say of it on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl MostDesirable {
    fn __repr__(&self) -> String {
        format!("<MostDesirable {:?}>", self.0.formula.title())
    }
}

fn end(tolerance: Option<f64>, boxes: Option<u64>) -> Outcome<SearchEnd> {
    let end = tolerance.map_or_else(|| Ok(SearchEnd::default()), |tolerance| SearchEnd::default().within(tolerance))?;
    Ok(boxes.map_or_else(|| Ok(end.clone()), |boxes| end.clone().after(boxes))?)
}

#[pymethods]
impl Brief {
    /// The best formula of this brief on a fitted `model`, its own objective aside; by `direction` the greatest, unless
    /// it says `"minimise"`.
    ///
    /// Every formula of the brief has to have the same percentage of the model's components together. The search is
    /// branch and bound: each bound rests on a linear program that is proved exactly. It ends once nothing can be
    /// better by more than the `tolerance`, in the unit of the property (a hundredth of the residual deviation unless
    /// stated), or after so many `boxes` (20,000), with value and bound. `settings` by process variable and the
    /// `confidence` of the prediction in percent are those of `FittedModel.predict`.
    ///
    /// >>> results = enumerate([(20, 30.1), (20, 29.8), (40, 42.2), (60, 46.0), (60, 45.7), (80, 41.8), (100, 30.2)])
    /// >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y}) for n, (k, y) in results]
    /// >>> model = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs).fit("hardness")
    /// >>> best = td.Brief("Hard", td.Catalogue.starter()).between("kaolin", 30, 90).qs("sci-powder").best_on(model)
    /// >>> best.is_proved, best.prediction.low < 46 < best.prediction.high
    /// (True, True)
    #[pyo3(signature = (model, direction=None, *, settings=None, confidence=None, tolerance=None, boxes=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn best_on(
        &self,
        py: Python<'_>,
        model: FittedModel,
        direction: Option<Word<Direction>>,
        settings: Option<ByName>,
        confidence: Option<Number>,
        tolerance: Option<f64>,
        boxes: Option<u64>,
    ) -> Outcome<BestOnModel> {
        let (settings, confidence, end) =
            (model.settings(settings)?, confidence_of(confidence)?, end(tolerance, boxes)?);
        let wanted = direction.map_or(Direction::Maximise, |direction| direction.0);
        let best = watched(py, None, |watch| {
            self.0.clone().watched_by(watch).best_on(&model.0, wanted, &settings, confidence, &end)
        });
        Ok(BestOnModel(or_unanswerable(py, best)?))
    }

    /// The formula of this brief that is the most desirable on several models of the same components, its own objective
    /// aside. `wanted` are models, each with the desirability of its property; together they count by their geometric
    /// mean. `tolerance` is in desirability, 0.001 unless stated; the other keywords are those of `best_on`:
    /// `settings`, `confidence`, `boxes`.
    ///
    /// >>> results = enumerate([(20, 30, 9), (40, 42, 8), (60, 46, 6), (80, 42, 3), (100, 30, 1), (50, 45, 7)])
    /// >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"hardness": y, "foam": f}) for n, (k, y, f) in results]
    /// >>> log = td.trial.TrialLog("Kaolin", {"hardness": "N", "foam": "cm"}, runs)
    /// >>> wanted = [(log.fit("hardness"), td.trial.Desirability("larger", 30, 45)), (log.fit("foam"), td.trial.Desirability("larger", 5, 9))]
    /// >>> best = td.Brief("Both", td.Catalogue.starter()).between("kaolin", 20, 90).qs("sci-powder").most_desirable(wanted)
    /// >>> best.is_proved, 0.5 < best.desirability <= best.bound
    /// (True, True)
    #[pyo3(signature = (wanted, *, settings=None, confidence=None, tolerance=None, boxes=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn most_desirable(
        &self,
        py: Python<'_>,
        wanted: Several<(FittedModel, Desirability)>,
        settings: Option<ByName>,
        confidence: Option<Number>,
        tolerance: Option<f64>,
        boxes: Option<u64>,
    ) -> Outcome<MostDesirable> {
        let settings = match wanted.0.first() {
            Some((model, _)) => model.settings(settings)?,
            None => return Err(Quantity::TrialResponses.fault(0).into()),
        };
        let (confidence, end) = (confidence_of(confidence)?, end(tolerance, boxes)?);
        let cores: Vec<_> =
            wanted.0.iter().map(|(model, desirability)| (model.0.clone(), desirability.core.clone())).collect();
        let best = watched(py, None, |watch| {
            self.0.clone().watched_by(watch).most_desirable(&cores, &settings, confidence, &end)
        });
        Ok(MostDesirable(or_unanswerable(py, best)?))
    }
}
