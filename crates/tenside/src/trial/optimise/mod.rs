//! The best formula on fitted models, inside what a brief asks.
//!
//! # Why
//! - A linear model is a measure ([`FittedModel::measure`]): everything that a brief can ask of a measure, it can ask
//!   of the model, exactly and proved.
//! - Anything else is searched by branch and bound. Each bound rests on a linear program that is proved exactly; the
//!   models themselves are in `f64`, and their rounding, a part in 10^12 of the sum of their coefficients, is added to
//!   it. So the best is known to lie between value and bound, and a search that is ended early says how far apart they
//!   are.
//! - The best of a model is the model's best: where its prediction interval is wide, or the formula lies outside the
//!   runs, it is a place to try next and no result.

mod document;
mod goal;
mod page;
mod polynomial;
mod search;

pub use document::{BestOnModelDocument, MostDesirableDocument};
pub use goal::{Desirability, Desired};

use rust_decimal::Decimal;

use crate::bounds::Quantity;
use crate::brief::{Brief, Direction};
use crate::document::{check_name, shown};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::measure::{Measure, Scope, ScoreTable};
use crate::number::{Exact, Ppm, ToExact, apportion};
use crate::trial::model::{FittedModel, Prediction};
use goal::Goal;
use polynomial::Polynomial;
use search::{Found, search};

/// How a search for the best formula ends.
#[derive(Clone, Debug, PartialEq)]
pub struct SearchEnd {
    tolerance: Option<f64>,
    boxes: u64,
}

impl Default for SearchEnd {
    fn default() -> Self {
        SearchEnd { tolerance: None, boxes: 20_000 }
    }
}

impl SearchEnd {
    /// Ends once nothing can be better by more than this; without it, a hundredth of the residual deviation, or 0.001
    /// of desirability.
    ///
    /// # Errors
    /// A tolerance that is no number above 0.
    pub fn within(mut self, tolerance: f64) -> Result<Self, Error> {
        if !(tolerance.is_finite() && tolerance > 0.0) {
            return Err(Fault::new(FaultKind::OutOfRange, "a tolerance out of range")
                .value(tolerance)
                .allowed("above 0, in the unit of what is made best")
                .into());
        }
        self.tolerance = Some(tolerance);
        Ok(self)
    }

    /// Ends after so many boxes, 20,000 unless said otherwise, with what it has.
    ///
    /// # Errors
    /// None or too many.
    pub fn after(mut self, boxes: u64) -> Result<Self, Error> {
        Quantity::SearchBoxes.check(&Exact::from(i64::try_from(boxes).unwrap_or(i64::MAX)))?;
        self.boxes = boxes;
        Ok(self)
    }
}

/// The best formula on a model.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct BestOnModel {
    /// The brief that was asked.
    pub brief: Brief,
    /// The model.
    pub model: FittedModel,
    /// The settings, in the order of the model's process variables.
    pub settings: Vec<f64>,
    /// The confidence of the prediction, percent.
    pub confidence: Exact,
    /// How the search was to end.
    pub end: SearchEnd,
    /// The property, with its unit.
    pub response: String,
    /// Whether little or much of it is wanted.
    pub direction: Direction,
    /// The formula, on the grid.
    pub formula: Formula,
    /// What the model says of it.
    pub prediction: Prediction,
    /// What the model says of no formula of the brief to be better than.
    pub bound: f64,
    /// How far the formula may be from the best: bound and prediction apart.
    pub gap: f64,
    /// True where that is within the tolerance and what rounding to the grid takes.
    pub is_proved: bool,
    /// Boxes that were looked at.
    pub boxes: u64,
}

/// One property of the most desirable formula.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DesiredResponse {
    /// The property, with its unit.
    pub response: String,
    /// What its model says of the formula.
    pub prediction: Prediction,
    /// How desirable that is, 0 to 1.
    pub desirability: f64,
}

/// The most desirable formula on several models.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct MostDesirable {
    /// The brief that was asked.
    pub brief: Brief,
    /// The models, each with how desirable the values of its property are.
    pub wanted: Vec<(FittedModel, Desirability)>,
    /// The settings, in the order of the models' process variables.
    pub settings: Vec<f64>,
    /// The confidence of the predictions, percent.
    pub confidence: Exact,
    /// How the search was to end.
    pub end: SearchEnd,
    /// The formula, on the grid.
    pub formula: Formula,
    /// The geometric mean of what its properties are worth, 0 to 1.
    pub desirability: f64,
    /// What no formula of the brief is above.
    pub bound: f64,
    /// The properties.
    pub responses: Vec<DesiredResponse>,
    /// True where desirability and bound are within the tolerance and what rounding to the grid takes.
    pub is_proved: bool,
    /// Boxes that were looked at.
    pub boxes: u64,
}

/// What the grid may take of a desirability.
const GRID_LOSS: f64 = 1e-4;

impl FittedModel {
    /// A linear model as a measure of formulas of a brief: a score of the raw materials of its components, over those
    /// lines. A brief can then ask for it as for any other measure, exactly. Coefficients are written to twelve digits.
    ///
    /// # Errors
    /// A model that is not linear in the mixture, components that are no lines of the brief, two of one raw material,
    /// another number of settings.
    pub fn measure(&self, brief: &Brief, settings: &[f64]) -> Result<Measure, Error> {
        self.check_settings(settings)?;
        let polynomial = Polynomial::of(self, settings);
        if !polynomial.is_linear() {
            let fault =
                Fault::new(FaultKind::Unsupported, "only a linear model is a measure").value(self.model().blend());
            return Err(fault.remedy("fit a linear model, or ask for the best formula on this one").into());
        }
        let mut scores: Vec<(String, Decimal)> = Vec::new();
        let components = self.model().components();
        for (place, component) in components.iter().enumerate() {
            let line = brief.lines().iter().find(|line| line.name() == component);
            let line = line.ok_or_else(|| {
                crate::document::unknown_name(
                    "line of the brief: a component of the model",
                    component,
                    brief.lines().iter().map(crate::brief::BriefLine::name),
                )
            })?;
            let alone: Vec<f64> = (0..components.len()).map(|other| if other == place { 1.0 } else { 0.0 }).collect();
            let score = format!("{:.11e}", polynomial.at(&alone)).parse::<Exact>()?;
            Quantity::Score.check(&score)?;
            let score = score.to_decimal().ok_or_else(|| Quantity::Score.fault(&score))?;
            if scores.iter().any(|(id, _)| id == line.material().id()) {
                let fault = Fault::new(FaultKind::Duplicate, "two components of the model are the same raw material")
                    .value(shown(line.material().id()));
                return Err(fault.remedy("ask for the best formula on the model instead").into());
            }
            scores.push((line.material().id().to_string(), score));
        }
        let table = ScoreTable::new(&check_name(&self.response().heading())?, scores)?;
        Ok(Measure::score(table).within(Scope::Lines(components.to_vec())))
    }

    fn check_settings(&self, settings: &[f64]) -> Result<(), Error> {
        let whole = 1.0 / self.model().components().len() as f64;
        self.model().row(&vec![whole; self.model().components().len()], settings).map(|_| ())
    }
}

impl Brief {
    /// The best formula of this brief on a model, its own objective aside: made with these settings, with the
    /// prediction's confidence in percent.
    ///
    /// ```
    /// use tenside::brief::Direction;
    /// use tenside::prelude::*;
    /// use tenside::trial::{Blend, Response, ResultUnit, SearchEnd, Terms, TrialLog, TrialRun};
    /// // Invented: harder with more kaolin, hardest near 60 %.
    /// let results = [(20, "30.1"), (20, "29.8"), (40, "42.2"), (60, "46.0"), (60, "45.7"), (80, "41.8"), (100, "30.2")];
    /// let run = |(index, (kaolin, result)): (usize, (u32, &str))| {
    ///     let lines = [("sci-powder", 100 - kaolin), ("kaolin", kaolin)].map(|(line, percent)| Ok((line.to_string(), Ppm::from_parts(percent * 10_000)?)));
    ///     TrialRun::of_lines(&format!("{}", index + 1), lines.into_iter().collect::<Result<_, tenside::Error>>()?)?.with_result("hardness", result)
    /// };
    /// let runs = results.into_iter().enumerate().map(run).collect::<Result<_, _>>()?;
    /// let log = TrialLog::new("Kaolin", vec![Response::new("hardness", ResultUnit::Newton)?], runs)?;
    /// let model = log.fit("hardness", &Terms::new(["sci-powder", "kaolin"], Blend::Quadratic)?)?;
    /// let brief = Brief::new("Hard", &Catalogue::starter())?.between("kaolin", 30, 90)?.qs("sci-powder")?;
    /// let best = brief.best_on(&model, Direction::Maximise, &[], 95, &SearchEnd::default())?;
    /// assert!(best.is_proved && best.prediction.low < 46.0 && best.prediction.high > 46.0);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked or answered, one whose lines do not leave the model's components the same
    /// percentage in every formula, another number of settings than the model has, a confidence out of range.
    pub fn best_on(
        &self,
        model: &FittedModel,
        direction: Direction,
        settings: &[f64],
        confidence: impl ToExact,
        end: &SearchEnd,
    ) -> Result<BestOnModel, Error> {
        model.check_settings(settings)?;
        let confidence = Quantity::Confidence.exact(confidence)?;
        let sign = if direction == Direction::Maximise { 1.0 } else { -1.0 };
        let tolerance =
            end.tolerance.unwrap_or_else(|| (model.residual_deviation() / 100.0).max(1e-9 * model.total.sqrt()));
        let found = search(
            self,
            model.model().components(),
            &[Polynomial::of(model, settings)],
            &Goal::One(sign),
            tolerance,
            end.boxes,
        )?;
        let formula = self.on_grid(&found)?;
        let prediction = model.predict(&formula, settings, &confidence)?;
        let gap = (found.bound - sign * prediction.value).max(0.0);
        // What the grid takes is what the search found over what the formula has.
        let taken = (found.value - sign * prediction.value).max(0.0);
        Ok(BestOnModel {
            brief: self.unwatched(),
            model: model.clone(),
            settings: settings.to_vec(),
            confidence,
            end: end.clone(),
            response: model.response().heading(),
            direction,
            formula,
            prediction,
            bound: sign * found.bound,
            gap,
            is_proved: gap - taken <= tolerance * (1.0 + 1e-9),
            boxes: found.boxes,
        })
    }

    /// The formula of this brief that is the most desirable on several models of the same components, its own objective
    /// aside.
    ///
    /// # Errors
    /// As for [`best_on`](Self::best_on); no model, models of other components, and a brief no formula of which has
    /// every property in its acceptable range.
    pub fn most_desirable(
        &self,
        wanted: &[(FittedModel, Desirability)],
        settings: &[f64],
        confidence: impl ToExact,
        end: &SearchEnd,
    ) -> Result<MostDesirable, Error> {
        Quantity::TrialResponses.check(&Exact::from(i64::try_from(wanted.len()).unwrap_or(i64::MAX)))?;
        let confidence = Quantity::Confidence.exact(confidence)?;
        let components = wanted.first().map_or(&[][..], |(model, _)| model.model().components());
        let mut polynomials = Vec::new();
        for (model, _) in wanted {
            model
                .check_settings(settings)
                .map_err(|error| error.within(&format!("model of {}", shown(model.response().name()))))?;
            if model.model().components() != components {
                let fault = Fault::new(FaultKind::Contradiction, "the models are of different components")
                    .at(format!("model of {}", shown(model.response().name())));
                return Err(fault
                    .value(model.model().components().join(", "))
                    .allowed(components.join(", "))
                    .remedy("fit them with the same components in the same order")
                    .into());
            }
            polynomials.push(Polynomial::of(model, settings));
        }
        let goal = Goal::Several(wanted.iter().map(|(_, desirability)| desirability.clone()).collect());
        let tolerance = end.tolerance.unwrap_or(0.001);
        let found = search(self, components, &polynomials, &goal, tolerance, end.boxes)?;
        if found.bound <= 0.0 {
            let fault = Fault::new(
                FaultKind::Contradiction,
                "no formula of the brief has every property in its acceptable range",
            );
            let names: Vec<&str> = wanted.iter().map(|(model, _)| model.response().name()).collect();
            return Err(fault
                .value(names.join(", "))
                .remedy("widen a range, or ask for the best on one model at a time to see which is out of reach")
                .into());
        }
        let formula = self.on_grid(&found)?;
        let mut responses = Vec::new();
        for (model, desirability) in wanted {
            let prediction = model.predict(&formula, settings, &confidence)?;
            responses.push(DesiredResponse {
                response: model.response().heading(),
                desirability: desirability.of(prediction.value),
                prediction,
            });
        }
        let values: Vec<f64> = responses.iter().map(|response| response.prediction.value).collect();
        let desirability = goal.of(&values);
        let is_proved = found.bound - desirability <= tolerance + GRID_LOSS;
        Ok(MostDesirable {
            brief: self.unwatched(),
            wanted: wanted.to_vec(),
            settings: settings.to_vec(),
            confidence,
            end: end.clone(),
            formula,
            desirability,
            bound: found.bound.min(1.0),
            responses,
            is_proved,
            boxes: found.boxes,
        })
    }

    /// The formula on the grid that is nearest to what was found.
    fn on_grid(&self, found: &Found) -> Result<Formula, Error> {
        let parts = apportion(&found.percents, i64::from(Ppm::WHOLE.parts()))?.units;
        let lines = self.lines().iter().zip(parts).map(|(line, parts)| {
            Line::new(line.name(), line.material().clone(), Ppm::from_parts(u32::try_from(parts).unwrap_or(u32::MAX))?)
        });
        let near = Formula::new(self.title(), lines.collect::<Result<Vec<_>, _>>()?)?;
        Ok(self.clone().least_change_from(&near).solve()?.formula()?.clone())
    }
}
