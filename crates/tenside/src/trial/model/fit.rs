//! A polynomial fitted to the results of a log.

use std::collections::HashSet;

use super::distributions::two_sided;
use super::least_squares::{Alias, LeastSquares, aliases};
use crate::document::{shown, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{DoubleDouble, Exact};
use crate::trial::log::{Response, ResponseScale, TrialLog, TrialRun, no_results};
use crate::trial::whole_plots::WholePlots;
use crate::trial::{Blend, ProcessVariable, Terms};

/// What counts as told apart, a run: a part per million of the components, which is how finely percentages are stated.
const FINEST: f64 = 1e-6;
/// Residuals below this share of what varies are rounding.
const NOTHING: f64 = 1e-20;

/// A term that the design cannot tell from others.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct AliasedTerm {
    /// The term that was left out.
    pub term: String,
    /// The terms it is a sum of in every run, with their factors.
    pub of: Vec<(String, f64)>,
}

impl AliasedTerm {
    /// `a*b = 0.5 a + 0.5 b` in every run.
    #[must_use]
    pub fn words(&self) -> String {
        let sum: Vec<String> = self.of.iter().map(|(term, factor)| format!("{factor:.4} {term}")).collect();
        format!(
            "{} = {}",
            self.term,
            if sum.is_empty() { "0".to_string() } else { sum.join(" + ").replace("+ -", "- ") }
        )
    }
}

/// One coefficient of a fitted model.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct FittedTerm {
    /// The term.
    pub term: String,
    /// Its coefficient, in the unit of the property. That of a component alone is the value fitted for it pure.
    pub coefficient: f64,
    /// The standard error of that.
    pub error: f64,
    /// The coefficient over its error; `None` where the model passes through every result. For a component alone it
    /// asks whether its value is 0, which is seldom of interest.
    pub t: Option<f64>,
    /// How often chance alone gives a t so far from 0, if the coefficient is 0.
    pub p: Option<f64>,
}

/// One run in a fitted model.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct FittedRun {
    /// The run.
    pub run: String,
    /// What was measured.
    pub measured: f64,
    /// What the model says.
    pub fitted: f64,
    /// Measured less fitted.
    pub residual: f64,
    /// What share of its fitted value its own result decides, 0 to 1; in whole plots the variance of its fitted value
    /// over that of a run, without that of its whole plot.
    pub leverage: f64,
    /// The residual over its own standard error; `None` where it has none.
    pub studentised: Option<f64>,
    /// Cook's distance: how far leaving the run out moves all coefficients. Above 1 is far (common practice, no
    /// source). `None` in whole plots, where a run is not left out alone.
    pub cook: Option<f64>,
}

/// A model of one measured property, fitted to the batches as they were made.
///
/// ```
/// use tenside::number::Ppm;
/// use tenside::trial::{Blend, Response, ResultUnit, Terms, TrialLog, TrialRun};
/// let results = [(100, "11.0"), (100, "12.4"), (50, "15.0"), (50, "14.8"), (50, "16.1"), (0, "8.8"), (0, "10.0")];
/// let run = |(index, (share, result)): (usize, (u32, &str))| {
///     let lines = [("sci-powder", share), ("kaolin", 100 - share)].map(|(line, percent)| Ok((line.to_string(), Ppm::from_parts(percent * 10_000)?)));
///     TrialRun::of_lines(&format!("{}", index + 1), lines.into_iter().collect::<Result<_, tenside::Error>>()?)?.with_result("hardness", result)
/// };
/// let runs = results.into_iter().enumerate().map(run).collect::<Result<_, _>>()?;
/// let log = TrialLog::new("Two parts", vec![Response::new("hardness", ResultUnit::Newton)?], runs)?;
/// let model = log.fit("hardness", &Terms::new(["sci-powder", "kaolin"], Blend::Quadratic)?)?;
/// assert_eq!(model.terms()[2].term, "sci-powder*kaolin");
/// assert!((model.terms()[2].coefficient - 19.0).abs() < 1e-9);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct FittedModel {
    pub(super) log: TrialLog,
    pub(super) response: Response,
    pub(super) model: Terms,
    /// The runs with a result.
    pub(super) used: Vec<usize>,
    pub(super) values: Vec<f64>,
    /// The terms that stayed.
    pub(super) kept: Vec<usize>,
    aliased: Vec<AliasedTerm>,
    /// In whole plots: of what is left of each row and result without its share of the whole plot.
    pub(super) fit: LeastSquares,
    pub(super) whole_plots: Option<WholePlots>,
    /// What is left of each result.
    pub(super) residuals: Vec<f64>,
    /// The variance of each fitted value, over that of a run.
    pub(super) leverages: Vec<f64>,
    /// The sum of squares about the mean.
    pub(in crate::trial) total: f64,
}

impl TrialLog {
    /// The lines that were varied as the components of a model.
    ///
    /// # Errors
    /// No line that was varied, and as for [`Terms::new`].
    pub fn terms(&self, blend: Blend) -> Result<Terms, Error> {
        let varied = self.varied();
        if varied.is_empty() {
            let fault = Fault::new(FaultKind::NotKnown, "no line differs enough between runs to count as varied")
                .allowed(format!("more than {} % w/w", crate::trial::VARIED));
            return Err(fault.remedy("name the components of the model").into());
        }
        Terms::new(varied, blend)
    }

    /// Fits a model to the results of a property: least squares over the runs that have a result, by what was in the
    /// bowl.
    ///
    /// The fraction of a component is its percentage over that of all components of the model; lines that are no
    /// components are taken as held. Where the model has whole plots, the fit is by generalised least squares: runs of
    /// one whole plot share a departure, so that less is known of what is only changed between them.
    ///
    /// # Errors
    /// An unknown property, component or setting; a property without results or with the same in every run; a run
    /// without any component, one without a whole plot where the model has them; no more results than terms that can be
    /// told apart.
    pub fn fit(&self, response: &str, model: &Terms) -> Result<FittedModel, Error> {
        let response = self.response(response)?.clone();
        let mut faults = Vec::new();
        let (lines, settings) = (self.lines(), self.settings());
        for component in model.components().iter().filter(|component| !lines.contains(&component.as_str())) {
            let fault = unknown_name("component: no line of the log", component, lines.iter().copied());
            faults.push(if fault.remedy.is_some() {
                fault
            } else {
                fault.allowed(lines.join(", ")).remedy("fit the log of this model's trial, or name lines of this one")
            });
        }
        for variable in model.process().iter().filter(|variable| !settings.contains(&variable.name())) {
            faults.push(unknown_name(
                "process variable: no setting of the log",
                variable.name(),
                settings.iter().copied(),
            ));
        }
        Error::check(faults, ())?;
        let used: Vec<usize> =
            (0..self.runs().len()).filter(|index| self.runs()[*index].result(response.name()).is_some()).collect();
        let results: Vec<&Exact> =
            used.iter().filter_map(|index| self.runs()[*index].result(response.name())).collect();
        let Some(first) = results.first() else { return Err(no_results(&response).into()) };
        let places: Vec<usize> = model.components().iter().filter_map(|component| self.line_place(component)).collect();
        let mut rows = Vec::with_capacity(used.len());
        for index in &used {
            let run = &self.runs()[*index];
            let coded = |variable: &ProcessVariable| {
                run.setting(variable.name()).map(|setting| DoubleDouble::of(&variable.coded_exactly(setting)))
            };
            let settings: Vec<DoubleDouble> = model.process().iter().filter_map(coded).collect();
            let parts = parts_of(run, &places).ok_or_else(|| {
                let fault = Fault::new(FaultKind::Contradiction, "the run has none of the model's components")
                    .at(format!("run {}", shown(run.name())));
                fault.value(model.components().join(", "))
            })?;
            rows.push(model.fine_values(&parts, &settings));
        }
        let names = model.names();
        let mut columns: Vec<Vec<DoubleDouble>> =
            (0..names.len()).map(|term| rows.iter().map(|row| row[term]).collect()).collect();
        let leading: Vec<Vec<f64>> =
            columns.iter().map(|column| column.iter().map(|value| value.high).collect()).collect();
        let found = aliases(&leading, FINEST);
        let aliased: Vec<AliasedTerm> = found.iter().map(|alias| named(alias, &names)).collect();
        let kept: Vec<usize> =
            (0..names.len()).filter(|term| !found.iter().any(|alias| alias.column == *term)).collect();
        if used.len() <= kept.len() || used.len() <= 1 {
            return Err(too_few(used.len(), names.len(), kept.len(), &aliased).into());
        }
        if results.iter().all(|result| result == first) {
            let fault = Fault::new(FaultKind::Contradiction, "every run has the same result: there is nothing to fit")
                .at(response.name())
                .value(first);
            return Err(fault.remedy("read the instrument to more digits, or vary the blends more").into());
        }
        let values: Vec<f64> = results.iter().map(|result| result.to_f64()).collect();
        let mut fine: Vec<DoubleDouble> = results.iter().map(|result| DoubleDouble::of(result)).collect();
        let whole_plots = self.whole_plots(&used, model)?;
        if let Some(whole_plots) = &whole_plots {
            columns.iter_mut().chain([&mut fine]).for_each(|column| whole_plots.whiten(column));
        }
        let kept_columns: Vec<Vec<DoubleDouble>> =
            kept.iter().map(|term| std::mem::take(&mut columns[*term])).collect();
        let Some(fit) = LeastSquares::fit(&kept_columns, &fine) else {
            return Err(too_few(used.len(), names.len(), kept.len(), &aliased).into());
        };
        let (mut residuals, mut leverages) = (fit.residuals.clone(), fit.leverages.clone());
        let (mut ones, mut whitened) = (vec![1.0; values.len()], values.clone());
        if let Some(whole_plots) = &whole_plots {
            whole_plots.colour(&mut residuals);
            leverages = (0..used.len())
                .map(|run| fit.leverage(&kept.iter().map(|term| leading[*term][run]).collect::<Vec<_>>()))
                .collect();
            whole_plots.whiten(&mut ones);
            whole_plots.whiten(&mut whitened);
        }
        let dot = |left: &[f64], right: &[f64]| left.iter().zip(right).map(|(left, right)| left * right).sum::<f64>();
        let mean = dot(&whitened, &ones) / dot(&ones, &ones);
        let total = whitened.iter().zip(&ones).map(|(value, one)| (value - mean * one) * (value - mean * one)).sum();
        let (log, model) = (self.clone(), model.clone());
        Ok(FittedModel {
            log,
            response,
            model,
            used,
            values,
            kept,
            aliased,
            fit,
            whole_plots,
            residuals,
            leverages,
            total,
        })
    }

    /// The whole plots of the runs that are used, where the model has them.
    fn whole_plots(&self, used: &[usize], model: &Terms) -> Result<Option<WholePlots>, Error> {
        let Some(ratio) = model.whole_plot_ratio() else { return Ok(None) };
        let of = |index: &usize| {
            let run = &self.runs()[*index];
            run.whole_plot().ok_or_else(|| {
                let fault = Fault::new(FaultKind::Missing, "the run is in no whole plot, and the model has them")
                    .at(format!("run {}", shown(run.name())));
                Error::from(fault.remedy("say for every run which it was made together with, a single one in its own"))
            })
        };
        let names = used.iter().map(of).collect::<Result<Vec<_>, _>>()?;
        Ok(Some(WholePlots::new(names, ratio.to_f64())))
    }
}

/// The fractions of the components of a run; `None` if it has none of them.
fn parts_of(run: &TrialRun, places: &[usize]) -> Option<Vec<DoubleDouble>> {
    let parts = || places.iter().map(|place| run.percent(*place).parts());
    let sum: u64 = parts().map(u64::from).sum();
    (sum > 0).then(|| parts().map(|part| DoubleDouble::of(&Exact::over(part.into(), sum))).collect())
}

/// Parts over their sum.
pub(in crate::trial) fn fractions(parts: &[u32]) -> Option<Vec<f64>> {
    let sum: u64 = parts.iter().map(|part| u64::from(*part)).sum();
    (sum > 0).then(|| parts.iter().map(|part| f64::from(*part) / sum as f64).collect())
}

fn named(alias: &Alias, names: &[String]) -> AliasedTerm {
    AliasedTerm {
        term: names[alias.column].clone(),
        of: alias.of.iter().map(|(term, factor)| (names[*term].clone(), *factor)).collect(),
    }
}

fn too_few(results: usize, terms: usize, kept: usize, aliased: &[AliasedTerm]) -> Fault {
    let which = if aliased.is_empty() {
        String::new()
    } else {
        let words: Vec<String> = aliased.iter().map(AliasedTerm::words).collect();
        format!("; not told apart from others: {}", words.join("; "))
    };
    let fault = Fault::new(FaultKind::NotKnown, format!("too few results for a model of {terms} terms{which}"))
        .value(format!("{results} results"));
    fault
        .allowed(format!("more than {kept} results, one for each term that can be told apart and one for the error"))
        .remedy("make more runs, or take a lower model")
}

getters!(FittedModel {
    /// The log that it was fitted to.
    log: &TrialLog,
    /// The property that it is a model of.
    response: &Response,
    /// What it is a sum of.
    model: &Terms,
    /// Terms that were left out because the design cannot tell them from those before them.
    aliased: &[AliasedTerm],
});

impl FittedModel {
    /// How many results it was fitted to.
    #[must_use]
    pub fn results(&self) -> usize {
        self.values.len()
    }

    /// Degrees of freedom of the error: results less fitted terms.
    #[must_use]
    pub fn degrees_of_freedom(&self) -> usize {
        self.values.len() - self.kept.len()
    }

    /// The standard deviation of results about the model, in the unit of the property.
    #[must_use]
    pub fn residual_deviation(&self) -> f64 {
        self.variance().sqrt()
    }

    pub(super) fn variance(&self) -> f64 {
        self.fit.squares / self.degrees_of_freedom() as f64
    }

    /// True where nothing but rounding is left of the results.
    pub(super) fn is_perfect(&self) -> bool {
        self.fit.squares <= NOTHING * self.total
    }

    /// The coefficients with their standard errors.
    #[must_use]
    pub fn terms(&self) -> Vec<FittedTerm> {
        let (deviation, degrees) = (self.residual_deviation(), self.degrees_of_freedom() as f64);
        let names = self.model.names();
        let term = |((term, coefficient), unit): ((&usize, &f64), f64)| {
            let error = unit * deviation;
            let t = (!self.is_perfect()).then(|| coefficient / error);
            FittedTerm {
                term: names[*term].clone(),
                coefficient: *coefficient,
                error,
                t,
                p: t.map(|t| two_sided(t, degrees)),
            }
        };
        self.kept.iter().zip(&self.fit.coefficients).zip(self.fit.unit_errors()).map(term).collect()
    }

    /// One coefficient for each term of the model, 0 where it was left out.
    pub(in crate::trial) fn coefficients(&self) -> Vec<f64> {
        let mut coefficients = vec![0.0; self.model.len()];
        self.kept.iter().zip(&self.fit.coefficients).for_each(|(term, coefficient)| coefficients[*term] = *coefficient);
        coefficients
    }

    /// The runs with their residuals.
    #[must_use]
    pub fn runs(&self) -> Vec<FittedRun> {
        let (variance, terms) = (self.variance(), self.kept.len() as f64);
        let run = |(place, index): (usize, &usize)| {
            let (measured, residual, leverage) = (self.values[place], self.residuals[place], self.leverages[place]);
            let ratio = self.whole_plots.as_ref().map(WholePlots::ratio);
            let own = (!decides(self.fit.leverages[place]) && !self.is_perfect())
                .then_some(1.0 + ratio.unwrap_or(0.0) - leverage);
            FittedRun {
                run: self.log.runs()[*index].name().to_string(),
                measured,
                fitted: measured - residual,
                residual,
                leverage,
                studentised: own.map(|own| residual / (variance * own).sqrt()),
                cook: own
                    .filter(|_| ratio.is_none())
                    .map(|own| residual * residual * leverage / (terms * variance * own * own)),
            }
        };
        self.used.iter().enumerate().map(run).collect()
    }

    /// Decimal digits to which the coefficients are worked out.
    #[must_use]
    pub fn digits(&self) -> u32 {
        // From 0 to 16.
        self.fit.digits.clamp(0.0, 16.0) as u32
    }

    /// What to know about it.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        if self.response.scale() == ResponseScale::Ordered {
            notes.push(format!(
                "{} is of ordered categories: means, errors and tests of this model take a point more to mean the \
                 same everywhere, which nobody has shown; look at the ranks too",
                self.response.name()
            ));
        }
        if self.is_perfect() {
            notes.push(
                "the model passes through every result within rounding: results that were calculated, or copied, tell \
                 nothing of errors"
                    .to_string(),
            );
        }
        match self.model.whole_plot_ratio() {
            Some(ratio) => notes.push(format!(
                "by generalised least squares: runs of one whole plot share a departure whose variance is taken to be \
                 {} times that of a run; errors and tests rest on that, sums of squares are of results without their \
                 share of it, and there is no lack of fit and nothing predicted of runs left out",
                ratio
            )),
            None => {
                let plots: HashSet<Option<&str>> =
                    self.used.iter().map(|index| self.log.runs()[*index].whole_plot()).collect();
                if plots.len() > 1 || (plots.len() == 1 && !plots.contains(&None)) {
                    notes.push(
                        "the runs are in whole plots, which the model does not see: what changes between them looks \
                         surer than it is; state the ratio of their variance"
                            .to_string(),
                    );
                }
            }
        }
        notes.extend(self.aliased.iter().map(|alias| format!("left out, since in every run {}", alias.words())));
        let components: HashSet<&str> = self.model.components().iter().map(String::as_str).collect();
        for (place, line) in self.log.lines().into_iter().enumerate().filter(|(_, line)| !components.contains(line)) {
            if let Some((least, most)) =
                self.log.span(place, self.used.iter().copied()).filter(|(least, most)| least != most)
            {
                notes.push(format!(
                    "{line} is no component: the model does not see that it went from {} to {} %",
                    least.percent(),
                    most.percent()
                ));
            }
        }
        for variable in self
            .log
            .settings()
            .into_iter()
            .filter(|variable| !self.model.process().iter().any(|known| known.name() == *variable))
        {
            let settings: Vec<&Exact> =
                self.used.iter().filter_map(|index| self.log.runs()[*index].setting(variable)).collect();
            if settings.windows(2).any(|pair| pair[0] != pair[1]) {
                notes.push(format!("{variable} is no term of the model, which does not see that it was varied"));
            }
        }
        let missing = self.log.runs().len() - self.used.len();
        if missing > 0 {
            notes.push(format!("runs without a result: {missing}; left out"));
        }
        let alone = self.fit.leverages.iter().filter(|leverage| decides(**leverage)).count();
        if alone > 0 {
            notes.push(format!("runs that alone decide a term, so that nothing checks them: {alone}"));
        }
        if self.fit.digits < 9.0 {
            notes.push(format!(
                "the blends lie so close together that coefficients are good to {:.0} digits only",
                self.fit.digits.floor()
            ));
        }
        notes
    }
}

/// True for a run that the model has to pass through.
pub(super) fn decides(leverage: f64) -> bool {
    leverage > 1.0 - 1e-10
}
