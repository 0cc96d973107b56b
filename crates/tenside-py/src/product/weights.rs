//! Weights of the bars of a batch, and the mean to fill to.

use pyo3::prelude::*;
use tenside::batch::{CheckKind, TestOutcome};
use tenside::bounds::Quantity;
use tenside::number::Mass;
use tenside::rule::Market;

use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, Number, Several};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::Word;

record! {
    "tenside.batch",
    /// One check of a test of weights.
    WeightCheck of &tenside::batch::WeightCheck, |check| {
        /// What it looks at: "mean", "short" (bars that fall short by more than is tolerable), "far-short" (by more
        /// than twice of it).
        kind: Word<CheckKind> = Word(check.kind),
        /// How many packages it looks at.
        packages: u32 = check.packages,
        /// The mean in grams, or how many packages were found.
        found: Fraction = Fraction(check.found.clone()),
        /// The least mean in grams, or the most packages.
        limit: f64 = check.limit,
        /// Whether it holds; None where too few were weighed to say so.
        is_met: Option<bool> = check.is_met,
    }
}

record! {
    "tenside.batch",
    /// How often batches filled to one mean are accepted; masses in grams, rates from 0 to 1.
    AcceptRates of &tenside::batch::AcceptRates, |rates| {
        /// The mean as it is weighed, before drying.
        fill: f64 = rates.fill,
        /// The mean that drying leaves.
        net: f64 = rates.net,
        /// How often the mean of the sample is accepted.
        mean: f64 = rates.mean,
        /// How often the number of short packages is accepted.
        short: f64 = rates.short,
        /// How often no package of the whole batch is far short; None where the market does not ask for it.
        far_short: Option<f64> = rates.far_short,
        /// All of it at least so often.
        at_least: f64 = rates.at_least,
        /// All of it at most so often.
        at_most: f64 = rates.at_most,
    }
}

/// Bars of one batch as they were weighed, without packaging: some, or all of the `bars` that the batch has.
/// `drying_loss` is what they still lose after this weighing, percent; all but `masses` is of what that leaves, in
/// grams.
///
/// >>> weights = td.batch.Weights(["62.1 g", "61.8 g", "62.6 g", "62.0 g", "61.5 g", "62.3 g"], bars=6)
/// >>> float(weights.mean), round(weights.standard_deviation, 3)
/// (62.05, 0.383)
/// >>> weights.test("60 g", market="EU").outcome
/// 'accepted'
/// >>> td.batch.Weights(["60 g"])
/// Traceback (most recent call last):
/// ...
/// tenside.errors.Missing: weights: one bar has no spread (found 1); allowed: two bars or more; weigh at least two bars of the batch, or read the single mass for itself
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Weights(pub(crate) tenside::batch::Weights);

shown!(Weights, |it| it.0.page());
value!(Weights, |it| it.mean());

document!(Weights, |it| &it.0, back alone by tenside::batch::Weights);

getters!(Weights {
    /// The masses as they were weighed, in the order given.
    masses: Vec<Fraction> = |it| it.masses().iter().map(|mass| Fraction(mass.grams().clone())).collect();
    /// How many bars the batch has, if stated.
    bars: Option<u32> = |it| it.bars();
    /// What they still lose after this weighing, percent.
    drying_loss: Fraction = |it| Fraction(it.drying_loss().into());
    /// True if every bar of the batch was weighed.
    is_whole: bool = |it| it.is_whole();
    /// How many were weighed, of how many: "12 of 24 bars".
    words: String = |it| it.words();
    /// The net masses: what drying leaves of each.
    net: Vec<Fraction> = |it| it.net().iter().cloned().map(Fraction).collect();
    /// Their mean.
    mean: Fraction = |it| Fraction(it.mean().clone());
    /// The lightest.
    lowest: Fraction = |it| Fraction(it.lowest());
    /// The heaviest.
    highest: Fraction = |it| Fraction(it.highest());
    /// Their standard deviation: that of a sample, over one less than their number.
    standard_deviation: f64 = |it| it.standard_deviation();
    /// The standard deviation in percent of the mean: how even the bars are.
    relative_standard_deviation: f64 = |it| it.relative_standard_deviation();
    /// What to know about them: weights that stand far from the others, and a scatter that is too great for an interval
    /// of the mean.
    notes: Vec<String> = |it| it.notes();
    /// Mean and spread on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Weights {
    #[new]
    #[pyo3(signature = (masses, *, bars=None, drying_loss=None))]
    fn new(masses: Several<AMass>, bars: Option<u32>, drying_loss: Option<Number>) -> Outcome<Self> {
        let masses: Vec<Mass> = masses.0.into_iter().map(|mass| mass.0).collect();
        let weights = tenside::batch::Weights::new(&masses, bars)?;
        Ok(Weights(match drying_loss {
            Some(loss) => weights.with_drying_loss(loss.0)?,
            None => weights,
        }))
    }

    /// Between which means of the whole batch the true one lies with so many percent of confidence: Student's t, for
    /// weights that are normally distributed. Of a batch whose every bar was weighed the mean is known. The low end is
    /// no less than 0; where it is 0, the scatter is too great for an interval.
    ///
    /// >>> low, high = td.batch.Weights(["60 g", "61 g", "62 g"]).mean_interval(95)
    /// >>> round(low, 3), round(high, 3)
    /// (58.516, 63.484)
    #[pyo3(signature = (confidence=None))]
    fn mean_interval(&self, confidence: Option<Number>) -> Outcome<(f64, f64)> {
        Ok(self.0.mean_interval(confidence_of(confidence)?)?)
    }

    /// The test of a `market` on the `nominal` content that the label states: the reference test of the average system
    /// (EU), or the Category A test (US). A sample smaller than the plan takes is no test, and says so.
    ///
    /// >>> half = td.batch.Weights(["60.2 g", "60.4 g"] * 6, bars=24)
    /// >>> half.test("60 g", market="EU").outcome, half.test("60 g", market="US").outcome
    /// ('no-test', 'accepted')
    #[pyo3(signature = (nominal, *, market))]
    fn test(&self, nominal: AMass, market: Word<Market>) -> Outcome<WeightTest> {
        Ok(WeightTest(self.0.test(&nominal.0, market.0)?))
    }

    /// The largest multiple of `step` in grams that the market's test accepts as nominal content of these bars.
    ///
    /// >>> weights = td.batch.Weights(["62.1 g", "61.8 g", "62.6 g", "62.0 g", "61.5 g", "62.3 g"], bars=6)
    /// >>> weights.supported_nominal(market="EU", step="1 g"), weights.supported_nominal(market="US", step="1 g")
    /// (Fraction(62, 1), Fraction(62, 1))
    #[pyo3(signature = (*, market, step))]
    fn supported_nominal(&self, py: Python<'_>, market: Word<Market>, step: AMass) -> Outcome<Fraction> {
        let supported = py.detach(|| self.0.supported_nominal(market.0, &step.0))?;
        Ok(Fraction(supported.grams().clone()))
    }

    fn __repr__(&self) -> String {
        format!("<Weights of {}, mean {} g>", self.0.words(), self.0.mean().rounded_text(2))
    }
}

/// 95 % where none is given.
pub(crate) fn confidence_of(confidence: Option<Number>) -> Outcome<tenside::Decimal> {
    confidence.map_or(Ok(95.into()), |confidence| confidence.decimal(Quantity::Confidence))
}

/// A test of net content. It rehearses the law's test; an inspector's own sample decides, by the rules in force where
/// it is sold.
///
/// >>> test = td.batch.Weights(["62 g", "61 g", "55.4 g", "62 g"], bars=4).test("60 g", market="EU")
/// >>> test.outcome, [(check.kind, check.is_met) for check in test.checks]
/// ('rejected', [('mean', True), ('short', False), ('far-short', True)])
/// >>> test.plan
/// 'reference test of the average system: all 4 packages, of which 0 may be short'
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct WeightTest(pub(crate) tenside::batch::WeightTest);

shown!(WeightTest, |it| it.0.page());
value!(WeightTest, |it| it.nominal());

document!(WeightTest, |it| &it.0, back alone by tenside::batch::WeightTest);

getters!(WeightTest {
    /// The weights.
    weights: Weights = |it| Weights(it.weights().clone());
    /// The content that the label states.
    nominal: Fraction = |it| Fraction(it.nominal().grams().clone());
    /// The market.
    market: Word<Market> = |it| Word(it.market());
    /// By how many grams one package may fall short: the tolerable negative error, or the maximum allowable variation.
    tolerable_shortfall: Fraction = |it| Fraction(it.tolerable_shortfall().clone());
    /// The mass below which a package is short, T1.
    least_single: Fraction = |it| Fraction(it.least_single());
    /// How many packages the test takes, and what it allows.
    plan: String = |it| it.plan();
    /// The checks, the mean first.
    checks: Rows<WeightCheck> = |it| it.checks().iter().map(WeightCheck::from).collect();
    /// What it came to: "accepted", "rejected", "second-sample" (the first leaves it open), "no-test" (too few were
    /// weighed).
    outcome: Word<TestOutcome> = |it| Word(it.outcome());
    /// By how many times three standard deviations the mean lies above T1, with its standard error; None where the bars
    /// show no spread.
    capability: Option<(f64, f64)> = |it| it.capability();
    /// What to know about it.
    notes: Vec<String> = |it| it.notes();
    /// Where plan and tolerable shortfall come from.
    sources: Vec<String> = |it| it.sources().map(str::to_string).to_vec();
    /// Checks and outcome on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl WeightTest {
    fn __repr__(&self) -> String {
        format!("<WeightTest of {} in the {}: {}>", self.0.nominal(), self.0.market(), self.0.outcome())
    }
}

/// The mean to fill to, so that a batch of `bars` is accepted at least with the chosen `probability` in percent, and
/// drying leaves the nominal content on average, given the standard deviation of bars as they are weighed and what they
/// lose on drying after that, percent. Masses in grams.
///
/// >>> target = td.batch.TargetFill("60 g", market="EU", bars=240, standard_deviation="0.8 g", probability=99, drying_loss=4)
/// >>> float(target.fill), round(target.rates.net, 2)
/// (62.5, 60.0)
/// >>> target.at(62.3).at_least < 0.99 <= target.rates.at_least
/// True
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct TargetFill(pub(crate) tenside::batch::TargetFill);

shown!(TargetFill, |it| it.0.page());
value!(TargetFill, |it| it.fill());

document!(TargetFill, |it| &it.0, back alone by tenside::batch::TargetFill);

getters!(TargetFill {
    /// The nominal content.
    nominal: Fraction = |it| Fraction(it.nominal().grams().clone());
    /// The market.
    market: Word<Market> = |it| Word(it.market());
    /// How many bars a batch has.
    bars: u32 = |it| it.bars();
    /// The standard deviation of bars as they are weighed.
    standard_deviation: Fraction = |it| Fraction(it.standard_deviation().grams().clone());
    /// The probability with which a batch is to be accepted, percent.
    probability: Fraction = |it| Fraction(it.probability().into());
    /// What the bars lose on drying after they are weighed, percent.
    drying_loss: Fraction = |it| Fraction(it.drying_loss().into());
    /// The mean to fill to, before drying: the least hundredth of a gram that will do.
    fill: Fraction = |it| Fraction(it.fill().clone());
    /// How often batches filled so are accepted.
    rates: AcceptRates = |it| AcceptRates::from(&it.rates());
    /// What to know about it.
    notes: Vec<String> = |it| it.notes();
    /// Where plan and tolerable shortfall come from.
    sources: Vec<String> = |it| it.sources().map(str::to_string).to_vec();
    /// The fill and its rates on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl TargetFill {
    #[new]
    #[pyo3(signature = (nominal, *, market, bars, standard_deviation, probability, drying_loss=None))]
    fn new(
        py: Python<'_>,
        nominal: AMass,
        market: Word<Market>,
        bars: u32,
        standard_deviation: AMass,
        probability: Number,
        drying_loss: Option<Number>,
    ) -> Outcome<Self> {
        let probability = probability.decimal(Quantity::Confidence)?;
        let loss = drying_loss.map(|loss| loss.decimal(Quantity::Loss)).transpose()?;
        let target = py.detach(|| {
            let target =
                tenside::batch::TargetFill::new(&nominal.0, market.0, bars, &standard_deviation.0, probability)?;
            loss.map_or(Ok(target.clone()), |loss| target.with_drying_loss(loss))
        })?;
        Ok(TargetFill(target))
    }

    /// How often batches filled to another mean, `fill`, are accepted; grams before drying.
    ///
    /// >>> target = td.batch.TargetFill("60 g", market="US", bars=240, standard_deviation="0.8 g", probability=99)
    /// >>> round(target.at(60).mean, 3)
    /// 0.975
    fn at(&self, fill: Number) -> Outcome<AcceptRates> {
        Ok(AcceptRates::from(&self.0.at(Quantity::Mass.checked_float(fill.0.to_f64())?)))
    }

    /// The operating curve: the rates at so many `points`, evenly from where hardly any batch can be accepted to where
    /// hardly any is not.
    ///
    /// >>> target = td.batch.TargetFill("60 g", market="EU", bars=240, standard_deviation="0.8 g", probability=99)
    /// >>> curve = target.curve(5)
    /// >>> len(curve), curve[0].at_most < 0.01, curve[4].at_least > 0.99
    /// (5, True, True)
    #[pyo3(signature = (points=41))]
    fn curve(&self, py: Python<'_>, points: u32) -> Outcome<Rows<AcceptRates>> {
        Ok(py.detach(|| self.0.curve(points))?.iter().map(AcceptRates::from).collect())
    }

    fn __repr__(&self) -> String {
        format!(
            "<TargetFill of {} g for {} in the {}>",
            self.0.fill().rounded_text(2),
            self.0.nominal(),
            self.0.market()
        )
    }
}
