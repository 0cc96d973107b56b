//! One test batch: what it was made of, how it was made, and what was measured on it.

use crate::bounds::Quantity;
use crate::document::{check_name, shown};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::{Exact, Ppm, ToExact};

/// A batch as it was made, with its results. What is not measured is absent.
#[derive(Clone, Debug, PartialEq)]
pub struct TrialRun {
    pub(super) name: String,
    pub(super) blend: Option<String>,
    pub(super) whole_plot: Option<String>,
    pub(super) lines: Vec<(String, Ppm)>,
    pub(super) settings: Vec<(String, Exact)>,
    pub(super) results: Vec<(String, Exact)>,
}

getters!(TrialRun {
    /// Its name.
    name: &str,
    /// What it was made of: lines with their percentages.
    lines: &[(String, Ppm)],
    /// How it was made.
    settings: &[(String, Exact)],
    /// What was measured.
    results: &[(String, Exact)],
});

impl TrialRun {
    /// A run of what a formula says. Give the formula as made, not as planned: results belong to what was in the bowl.
    ///
    /// # Errors
    /// A bad name.
    pub fn new(name: &str, made: &Formula) -> Result<Self, Error> {
        TrialRun::of_lines(name, made.lines().iter().map(|line| (line.name().to_string(), line.percent())).collect())
    }

    /// A run of lines with their percentages.
    ///
    /// # Errors
    /// A bad name, no line or one that stands twice, percentages that do not sum to 100.
    pub fn of_lines(name: &str, lines: Vec<(String, Ppm)>) -> Result<Self, Error> {
        let name = check_name(name)?;
        Quantity::Lines.check(&Exact::from(u32::try_from(lines.len().max(1)).unwrap_or(u32::MAX)))?;
        let mut faults = Vec::new();
        let mut known = std::collections::HashSet::new();
        for (line, _) in &lines {
            if let Err(error) = check_name(line) {
                faults.extend(error.into_faults());
            } else if !known.insert(line.as_str()) {
                faults
                    .push(Fault::new(FaultKind::Duplicate, "two lines of a run have the same name").value(shown(line)));
            }
        }
        let sum: u64 = lines.iter().map(|(_, percent)| u64::from(percent.parts())).sum();
        if sum != u64::from(Ppm::WHOLE.parts()) {
            let fault = Fault::new(FaultKind::Contradiction, "the percentages of a run do not sum to 100")
                .value(Exact::ratio(i64::try_from(sum).unwrap_or(i64::MAX), 10_000));
            faults.push(
                fault
                    .allowed("exactly 100 % w/w")
                    .remedy("give every line of the batch, in percent of what was in the bowl"),
            );
        }
        Error::check(faults, ()).map_err(|error| error.within(&format!("run {}", shown(&name))))?;
        Ok(TrialRun { name, blend: None, whole_plot: None, lines, settings: Vec::new(), results: Vec::new() })
    }

    /// As a repetition of the blend of that name: runs of one blend were planned alike, and tell the error of making
    /// and measuring.
    ///
    /// # Errors
    /// A bad name.
    pub fn of_blend(mut self, blend: &str) -> Result<Self, Error> {
        self.blend = Some(check_name(blend)?);
        Ok(self)
    }

    /// In this whole plot: between the runs of one nothing of the process was changed (one warming-up of the press, one
    /// bowl), so that they share what went wrong with it.
    ///
    /// # Errors
    /// A bad name.
    pub fn in_whole_plot(mut self, whole_plot: &str) -> Result<Self, Error> {
        self.whole_plot = Some(check_name(whole_plot)?);
        Ok(self)
    }

    /// With a setting of the process, in the unit of its variable.
    ///
    /// # Errors
    /// A bad name, one that is set already, no number, or one out of range.
    pub fn with_setting(mut self, variable: &str, setting: impl ToExact) -> Result<Self, Error> {
        let (variable, setting) = (check_name(variable)?, setting.to_exact()?);
        Quantity::ProcessSetting
            .check(&setting)
            .map_err(|error| error.within(&format!("run {}, setting {}", shown(&self.name), shown(&variable))))?;
        Quantity::ModelTerms.check(&Exact::from(i64::try_from(self.settings.len() + 1).unwrap_or(i64::MAX)))?;
        if self.settings.iter().any(|(known, _)| *known == variable) {
            return Err(Fault::new(FaultKind::Duplicate, "a setting stands twice")
                .at(format!("run {}", shown(&self.name)))
                .value(shown(&variable))
                .into());
        }
        self.settings.push((variable, setting));
        Ok(self)
    }

    /// With a result, in the unit of its property.
    ///
    /// # Errors
    /// A bad name, one that has a result already, no finite number, or one out of range.
    pub fn with_result(mut self, response: &str, result: impl ToExact) -> Result<Self, Error> {
        let place = || format!("run {}, {}", shown(&self.name), shown(response));
        let (response, result) = (check_name(response)?, result.to_exact().map_err(|error| error.within(&place()))?);
        Quantity::TrialResult.check(&result).map_err(|error| error.within(&place()))?;
        Quantity::TrialResponses.check(&Exact::from(i64::try_from(self.results.len() + 1).unwrap_or(i64::MAX)))?;
        if self.results.iter().any(|(known, _)| *known == response) {
            let fault = Fault::new(FaultKind::Duplicate, "a run has two results of one property").at(place());
            return Err(fault.remedy("give their mean, or a run of the same blend where two batches were made").into());
        }
        self.results.push((response, result));
        Ok(self)
    }

    /// The blend that it repeats, if stated.
    #[must_use]
    pub fn blend(&self) -> Option<&str> {
        self.blend.as_deref()
    }

    /// The whole plot that it is in, if stated.
    #[must_use]
    pub fn whole_plot(&self) -> Option<&str> {
        self.whole_plot.as_deref()
    }

    /// Its result of a property, if there is one.
    #[must_use]
    pub fn result(&self, response: &str) -> Option<&Exact> {
        self.results.iter().find(|(known, _)| known == response).map(|(_, result)| result)
    }

    /// The percentage of the line at a place.
    pub(in crate::trial) fn percent(&self, place: usize) -> Ppm {
        self.lines[place].1
    }

    pub(in crate::trial) fn setting(&self, variable: &str) -> Option<&Exact> {
        self.settings.iter().find(|(known, _)| known == variable).map(|(_, setting)| setting)
    }
}
