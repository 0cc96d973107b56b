//! What a model says of a formula that was not made.
//!
//! ```text
//! error² = s² h      confidence  ŷ ± t s √h      prediction  ŷ ± t s √(1 + d + h)      h = x' (X'X)⁻¹ x
//! ```
//!
//! with `d` the ratio of whole plots, 0 without them, and `X` what is left without their share.

use std::collections::HashMap;

use super::distributions::student;
use super::fit::{FittedModel, fractions};
use crate::bounds::Quantity;
use crate::document::{shown, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::number::{Exact, ToExact};
use crate::trial::log::VARIED_PARTS;
use crate::trial::whole_plots::WholePlots;

/// What a model says of one formula.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Prediction {
    /// The value, in the unit of the property.
    pub value: f64,
    /// Its standard error.
    pub error: f64,
    /// Where the mean of many such batches lies, with the confidence asked for: the low end.
    pub confidence_low: f64,
    /// The high end.
    pub confidence_high: f64,
    /// Where the result of one further batch lies, with the confidence asked for: the low end.
    pub low: f64,
    /// The high end.
    pub high: f64,
    /// How far the formula is from the middle of the runs, as their leverages are.
    pub leverage: f64,
    /// True if it is further out than every run, or if a line that is no component of the model stands where no run had
    /// it: the model was not checked there.
    pub is_extrapolation: bool,
}

impl FittedModel {
    /// What the model says of a formula made with these settings, with the confidence in percent.
    ///
    /// # Errors
    /// A formula without the model's components, another number of settings than the model has process variables, a
    /// confidence out of range.
    pub fn predict(&self, formula: &Formula, settings: &[f64], confidence: impl ToExact) -> Result<Prediction, Error> {
        let prediction = self.predict_at(&self.fractions_of(formula)?, settings, confidence)?;
        let is_extrapolation = prediction.is_extrapolation || self.is_beside_the_runs(formula);
        Ok(Prediction { is_extrapolation, ..prediction })
    }

    /// Whether a line that is no component is further from what the runs had of it than weighing explains.
    fn is_beside_the_runs(&self, formula: &Formula) -> bool {
        let is_other = |line: &str| !self.model.components().iter().any(|component| component == line);
        let parts = |name: &str| formula.line(name).map_or(0, |line| line.percent().parts());
        let lines = self.log.lines();
        let is_new = |line: &Line| is_other(line.name()) && !lines.contains(&line.name());
        let is_far = |(place, line): (usize, &&str)| {
            let span = self.log.span(place, self.used.iter().copied());
            span.is_some_and(|(least, most)| {
                parts(line) + VARIED_PARTS < least.parts() || parts(line) > most.parts() + VARIED_PARTS
            })
        };
        formula.lines().iter().any(|line| is_new(line) && line.percent().parts() > VARIED_PARTS)
            || lines.iter().enumerate().filter(|(_, line)| is_other(line)).any(is_far)
    }

    /// The fractions of the model's components in a formula.
    pub(in crate::trial) fn fractions_of(&self, formula: &Formula) -> Result<Vec<f64>, Error> {
        let parts = self
            .model
            .components()
            .iter()
            .map(|component| formula.line(component).map(|line| line.percent().parts()))
            .collect::<Result<Vec<_>, _>>()?;
        fractions(&parts).ok_or_else(|| {
            let fault = Fault::new(FaultKind::Contradiction, "the formula has none of the model's components");
            fault.value(self.model.components().join(", ")).into()
        })
    }

    /// The same of fractions of the components, in the order of the model.
    ///
    /// # Errors
    /// Fractions that do not sum to 1, and as for [`predict`](Self::predict).
    pub fn predict_at(&self, parts: &[f64], settings: &[f64], confidence: impl ToExact) -> Result<Prediction, Error> {
        let share = Quantity::Confidence.float(confidence)? / 100.0;
        let row = self.checked_row(parts, settings)?;
        let row: Vec<f64> = self.kept.iter().map(|term| row[*term]).collect();
        let value: f64 = row.iter().zip(&self.fit.coefficients).map(|(term, coefficient)| term * coefficient).sum();
        let (leverage, deviation) = (self.fit.leverage(&row), self.residual_deviation());
        let quantile = student(0.5 + share / 2.0, self.degrees_of_freedom() as f64);
        // A further batch is of a whole plot of its own.
        let apart = 1.0 + self.whole_plots.as_ref().map_or(0.0, WholePlots::ratio);
        let (mean, one) = (quantile * deviation * leverage.sqrt(), quantile * deviation * (apart + leverage).sqrt());
        let furthest = self.leverages.iter().fold(0.0, |furthest: f64, leverage| furthest.max(*leverage));
        Ok(Prediction {
            value,
            error: deviation * leverage.sqrt(),
            confidence_low: value - mean,
            confidence_high: value + mean,
            low: value - one,
            high: value + one,
            leverage,
            // A run itself comes out a little off by rounding.
            is_extrapolation: leverage > furthest * (1.0 + 1e-9),
        })
    }

    /// The values alone at many mixtures, for maps: fractions of the components, and settings.
    ///
    /// # Errors
    /// As for [`predict_at`](Self::predict_at), and too many.
    pub fn values_at(&self, mixtures: &[Vec<f64>], settings: &[f64]) -> Result<Vec<f64>, Error> {
        Quantity::Entries.check(&Exact::from(i64::try_from(mixtures.len()).unwrap_or(i64::MAX)))?;
        let value = |parts: &Vec<f64>| {
            let row = self.checked_row(parts, settings)?;
            Ok(self.kept.iter().zip(&self.fit.coefficients).map(|(term, coefficient)| row[*term] * coefficient).sum())
        };
        mixtures.iter().map(value).collect()
    }

    fn checked_row(&self, parts: &[f64], settings: &[f64]) -> Result<Vec<f64>, Error> {
        let row = self.model.row(parts, settings)?;
        let sum: f64 = parts.iter().sum();
        if (sum - 1.0).abs() > 1e-6 || parts.iter().any(|part| *part < -1e-9) {
            let fault =
                Fault::new(FaultKind::OutOfRange, "these are no fractions of a mixture").value(format!("{parts:?}"));
            return Err(fault.allowed("fractions from 0 on that sum to 1").into());
        }
        Ok(row)
    }
}

impl FittedModel {
    /// Settings by name in the order of the model's process variables.
    ///
    /// # Errors
    /// Everything that is wrong with them: unknown and missing variables, one stated twice, numbers out of range.
    pub fn settings<N: AsRef<str>, S: ToExact>(
        &self,
        by_name: impl IntoIterator<Item = (N, S)>,
    ) -> Result<Vec<f64>, Error> {
        let names = || self.model.process().iter().map(crate::trial::ProcessVariable::name);
        let mut faults = Vec::new();
        let mut known: HashMap<String, f64> = HashMap::new();
        for (name, setting) in by_name {
            let name = name.as_ref();
            if !names().any(|known| known == name) {
                let fault = unknown_name("process variable of the model", name, names());
                faults.push(if names().next().is_none() {
                    fault.remedy("the model has no process variables; leave settings out")
                } else {
                    fault
                });
                continue;
            }
            let setting = Quantity::ProcessSetting.float(setting).unwrap_or_else(|error| {
                faults.extend(error.within(&format!("setting {}", shown(name))).into_faults());
                f64::NAN
            });
            if known.insert(name.to_string(), setting).is_some() {
                faults.push(Fault::new(FaultKind::Duplicate, "a setting is stated twice").value(shown(name)));
            }
        }
        let of = |name: &str| known.get(name).copied();
        let found: Vec<f64> = names().filter_map(of).collect();
        faults.extend(
            names()
                .filter(|name| of(name).is_none())
                .map(|name| Fault::new(FaultKind::Missing, "the model needs a setting").value(shown(name))),
        );
        Error::check(faults, found)
    }
}
