//! Weights of the bars of a batch: their mean and spread, the tests of net content, the mean to fill to.
//!
//! Bars are weighed without packaging, some of them or all. What drying still takes after weighing counts: everything
//! here is of the net masses that are then left.
//!
//! # Why
//! - Verdicts are exact: a mean `x` that falls short of `Q` by `d` is accepted where `d^2 <= k^2 s^2`, which needs no
//!   root. Floats stand where a distribution is asked: intervals, accept rates, the fill.
//! - The law calls the packages that are tested together a batch (European Union) or an inspection lot (United States);
//!   here it is a batch.
//! - A sample that is smaller than the plan asks for is no test of the law, and its checks say so instead of passing. A
//!   sample that already holds too many short bars is rejected all the same.
//! - The order in which bars are given is taken as the order in which they were drawn: plans take the first so many.
//! - The checks of one sample depend on each other, so that their rates are bounded, not multiplied: all hold together
//!   at least as often as 1 less the sum of the rates at which each fails, and at most as often as the rarest one.

mod check;
mod distribution;
mod document;
mod fill;
mod page;

pub use check::{CheckKind, TestOutcome, WeightCheck, WeightTest};
pub(super) use distribution::student;
pub use document::{TargetFillDocument, WeightTestDocument, WeightsDocument};
pub use fill::{AcceptRates, TargetFill};

use rust_decimal::Decimal;

use super::outlier::outlier_note;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, MassUnit, ToExact};
use crate::rule::{Market, net_rules};

/// Bars of one batch as they were weighed, without packaging.
///
/// ```
/// use tenside::batch::{TestOutcome, Weights};
/// use tenside::rule::Market;
/// let grams = ["62.1 g", "61.8 g", "62.6 g", "62.0 g", "61.5 g", "62.3 g"].map(|text| text.parse().unwrap());
/// let weights = Weights::new(&grams, Some(6))?;
/// assert_eq!(weights.mean().rounded_text(2), "62.05");
/// assert_eq!(format!("{:.3}", weights.standard_deviation()), "0.383");
/// assert_eq!(weights.test(&"60 g".parse()?, Market::Eu)?.outcome(), TestOutcome::Accepted);
/// // What is accepted as it is weighed may not be once it has dried.
/// let dry = weights.with_drying_loss("4")?;
/// assert_eq!(dry.test(&"60 g".parse()?, Market::Eu)?.outcome(), TestOutcome::Rejected);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Weights {
    masses: Vec<Mass>,
    of: Option<u32>,
    drying_loss: Decimal,
    net: Vec<Exact>,
    mean: Exact,
    variance: Exact,
}

getters!(Weights {
    /// The masses as they were weighed, in the order given.
    masses: &[Mass],
    /// What they still lose after this weighing, percent.
    drying_loss: Decimal,
    /// The net masses, grams: what drying leaves of each.
    net: &[Exact],
    /// Their mean, grams.
    mean: &Exact,
});

impl Weights {
    /// Bars weighed from a batch of so many; without that number they are a sample of a batch that nothing can be
    /// tested of.
    ///
    /// # Errors
    /// Fewer than two bars, a bar without mass, and more bars than the batch has.
    pub fn new(masses: &[Mass], of: Option<u32>) -> Result<Self, Error> {
        let empty = masses.iter().enumerate().filter(|(_, mass)| mass.grams().is_zero());
        let faults = empty.map(|(index, mass)| {
            Fault::new(FaultKind::OutOfRange, "a bar without mass")
                .at(format!("bar {}", index + 1))
                .value(mass)
                .allowed("above 0 g")
        });
        Error::check(faults.collect(), ())?;
        if masses.len() < 2 {
            let fault =
                Fault::new(FaultKind::Missing, "one bar has no spread").value(masses.len()).allowed("two bars or more");
            return Err(fault
                .at("weights")
                .remedy("weigh at least two bars of the batch, or read the single mass for itself")
                .into());
        }
        Quantity::Entries.check(&whole(masses.len()))?;
        if let Some(of) = of {
            Quantity::Bars.check(&Exact::from(of)).map_err(|error| error.within("batch"))?;
            if whole(masses.len()) > Exact::from(of) {
                return Err(Fault::new(FaultKind::OutOfRange, "more bars were weighed than the batch has")
                    .at("weights")
                    .value(masses.len())
                    .allowed(format!("2 to {of}"))
                    .remedy("check that every bar is of this batch, or state its number of bars anew")
                    .into());
            }
        }
        let net = masses.iter().map(|mass| mass.grams().clone()).collect();
        Ok(Weights::of(masses.to_vec(), of, Decimal::ZERO, net))
    }

    fn of(masses: Vec<Mass>, of: Option<u32>, drying_loss: Decimal, net: Vec<Exact>) -> Self {
        let (mean, variance) = moments(&net);
        Weights { masses, of, drying_loss, net, mean, variance }
    }

    /// With what the bars still lose after this weighing, percent of what they weighed.
    ///
    /// # Errors
    /// A loss below 0 or so near 100 % that nothing is left.
    pub fn with_drying_loss(self, percent: impl ToExact) -> Result<Self, Error> {
        let loss = Quantity::Loss.decimal(percent).map_err(|error| error.within("drying loss"))?;
        let left = left_after(loss);
        let net = self.masses.iter().map(|mass| mass.grams() * &left).collect();
        Ok(Weights::of(self.masses, self.of, loss, net))
    }

    /// How many bars the batch has, if stated.
    #[must_use]
    pub fn bars(&self) -> Option<u32> {
        self.of
    }

    /// True if every bar of the batch was weighed.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.of.is_some_and(|of| Exact::from(of) == whole(self.masses.len()))
    }

    /// How many were weighed, of how many: `12 of 24 bars`.
    #[must_use]
    pub fn words(&self) -> String {
        let of = self.of.map_or_else(String::new, |of| format!(" of {of}"));
        format!("{}{of} bars", self.masses.len())
    }

    /// The lightest, grams.
    #[must_use]
    pub fn lowest(&self) -> Exact {
        self.net.iter().min().cloned().unwrap_or(Exact::ZERO)
    }

    /// The heaviest, grams.
    #[must_use]
    pub fn highest(&self) -> Exact {
        self.net.iter().max().cloned().unwrap_or(Exact::ZERO)
    }

    /// Their standard deviation, grams: that of a sample, over one less than their number.
    #[must_use]
    pub fn standard_deviation(&self) -> f64 {
        self.variance.to_f64().sqrt()
    }

    /// The standard deviation in percent of the mean: how even the bars are.
    #[must_use]
    pub fn relative_standard_deviation(&self) -> f64 {
        self.standard_deviation() / self.mean.to_f64() * 100.0
    }

    /// Between which means of the whole batch the true one lies with so many percent of confidence, grams: Student's t,
    /// for weights that are normally distributed. Of a batch whose every bar was weighed the mean is known. The low end
    /// is no less than 0, since no bar weighs less; where it is 0, the scatter is too great for an interval.
    ///
    /// # Errors
    /// A confidence out of range.
    pub fn mean_interval(&self, confidence: impl ToExact) -> Result<(f64, f64), Error> {
        let confidence = Quantity::Confidence.float(confidence)?;
        let (mean, n) = (self.mean.to_f64(), self.net.len() as f64);
        // What of the batch was weighed is no longer uncertain.
        let unknown = self.of.map_or(1.0, |of| 1.0 - n / f64::from(of));
        let half = student(0.5 + confidence / 200.0, n - 1.0) * self.standard_deviation() * (unknown / n).sqrt();
        Ok(((mean - half).max(0.0), mean + half))
    }

    /// What to know about them: weights that stand far from the others, and a scatter that is too great for an interval
    /// of the mean.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes: Vec<String> = outlier_note(&self.masses).into_iter().collect();
        if self.mean_interval(95).is_ok_and(|(low, _)| low <= 0.0) {
            notes.push(
                "the weights scatter too much for an interval of the mean: at 95 % confidence it would reach below \
                 0 g, and ends there"
                    .to_string(),
            );
        }
        notes
    }
}

/// Mean and variance of a sample.
fn moments(values: &[Exact]) -> (Exact, Exact) {
    let n = whole(values.len());
    let mean = values.iter().sum::<Exact>() / &n;
    let squares: Exact = values.iter().map(|value| (value - &mean) * (value - &mean)).sum();
    let variance = squares / (n - Exact::ONE).max(Exact::ONE);
    (mean, variance)
}

/// The share that a drying loss leaves, 0 to 1.
fn left_after(loss: Decimal) -> Exact {
    Exact::ONE - Exact::from(loss) / Exact::hundred()
}

fn whole(number: usize) -> Exact {
    Exact::from(i64::try_from(number).unwrap_or(i64::MAX))
}

/// By how many grams a bar of that content may fall short in a market.
fn shortfall(nominal: &Mass, market: Market) -> Result<Exact, Error> {
    let rules = net_rules(market);
    rules.shortfall(nominal.grams()).filter(|grams| !grams.is_zero()).ok_or_else(|| {
        Fault::new(
            FaultKind::OutOfRange,
            format!("no tolerable shortfall is stated for this net content in the {market}"),
        )
        .at("nominal")
        .value(nominal)
        .allowed(rules.contents())
        .remedy("state the net content of one package; larger and smaller ones are not tested by this system")
        .into()
    })
}

fn grams(value: &Exact) -> Result<Mass, Error> {
    Mass::new(value, MassUnit::Gram)
}
