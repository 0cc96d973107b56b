//! Weights, tests and target fills as documents, and back. Masses are in grams; floats have nine digits.

use super::{AcceptRates, CheckKind, TargetFill, TestOutcome, WeightCheck, WeightTest, Weights};
use crate::bounds::Quantity;
use crate::document::{Notation, Number, TableView, form, forms, restore};
use crate::error::Error;
use crate::number::{Mass, MassUnit};
use crate::rule::Market;

form! {
    /// Bars of one batch as they were weighed, without packaging.
    WeightsDocument of Weights as "weights/1", |it, _materials| {
        /// The masses as they were weighed, in the order given.
        masses: Vec<Number> = it.masses().iter().map(Number::from).collect(),
        /// How many bars the batch has.
        #[serde(skip_serializing_if = "Option::is_none")]
        bars: Option<u32>,
        /// What they still lose after this weighing, percent.
        drying_loss: Number,
        /// The mean that drying leaves.
        mean: Number,
        /// The lightest that drying leaves.
        lowest: Number,
        /// The heaviest that drying leaves.
        highest: Number,
        /// Their standard deviation.
        standard_deviation: Number = Number::of_float(it.standard_deviation()),
        /// The standard deviation in percent of the mean.
        relative_standard_deviation: Number = Number::of_float(it.relative_standard_deviation()),
        /// True if every bar of the batch was weighed.
        is_whole: bool,
        /// The low end of the mean of the whole batch, with 95 % confidence; 0 where it would be less.
        mean_low: Number = Number::of_float(it.mean_interval(95)?.0),
        /// The high end.
        mean_high: Number = Number::of_float(it.mean_interval(95)?.1),
        /// What to know about them.
        notes: Vec<String>,
    }
}

fn read_weights(view: &TableView<'_>) -> Option<Weights> {
    let grams = view.exacts("masses", Quantity::Mass);
    let masses: Option<Vec<Mass>> =
        grams.iter().map(|grams| view.accept("masses", Mass::new(grams, MassUnit::Gram))).collect();
    let (bars, loss) = (view.whole("bars"), view.decimal("drying_loss", Quantity::Loss));
    let weights = view.accept("masses", Weights::new(&masses?, bars))?;
    match loss {
        Some(loss) => view.accept("drying_loss", weights.with_drying_loss(loss)),
        None => Some(weights),
    }
}

form! {
    /// One check of a test.
    WeightCheckDocument of WeightCheck, |it| {
        /// What it looks at.
        kind: CheckKind,
        /// How many packages it looks at.
        packages: u32,
        /// The mean, or how many packages were found.
        found: Number,
        /// The least mean, or the most packages.
        limit: Number = Number::of_float(it.limit),
        /// Whether it holds; nothing where too few were weighed.
        is_met: Option<bool>,
    }
}

form! {
    /// A test of net content.
    WeightTestDocument of WeightTest as "weight-test/1", |it, _materials| {
        /// The masses as they were weighed, in the order given.
        masses: Vec<Number> = it.weights().masses().iter().map(Number::from).collect(),
        /// How many bars the batch has.
        #[serde(skip_serializing_if = "Option::is_none")]
        bars: Option<u32> = it.weights().bars(),
        /// What they still lose after this weighing, percent.
        drying_loss: Number = it.weights().drying_loss().into(),
        /// The content that the label states.
        nominal: Number,
        /// The market.
        market: Market,
        /// By how many grams one package may fall short.
        tolerable_shortfall: Number,
        /// How many packages the test takes, and what it allows.
        plan: String,
        /// The checks.
        checks: Vec<WeightCheckDocument> = forms(it.checks()),
        /// What it came to.
        outcome: TestOutcome,
        /// By how many times three standard deviations the mean lies above the least single mass; nothing where the
        /// bars show no spread.
        capability: Option<Number> = it.capability().map(|(index, _)| Number::of_float(index)),
        /// What to know about it.
        notes: Vec<String>,
        /// Where plan and tolerable shortfall come from.
        sources: Vec<&'static str>,
    }
}

form! {
    /// How often batches filled to one mean are accepted, from 0 to 1.
    AcceptRatesDocument of AcceptRates, |it| {
        /// The mean as it is weighed.
        fill: Number = Number::of_float(it.fill),
        /// The mean that drying leaves.
        net: Number = Number::of_float(it.net),
        /// How often the mean of the sample is accepted.
        mean: Number = Number::of_float(it.mean),
        /// How often the number of short packages is accepted.
        short: Number = Number::of_float(it.short),
        /// How often no package of the whole batch is far short.
        far_short: Option<Number> = it.far_short.map(Number::of_float),
        /// All of it at least so often.
        at_least: Number = Number::of_float(it.at_least),
        /// All of it at most so often.
        at_most: Number = Number::of_float(it.at_most),
    }
}

form! {
    /// The mean to fill to, so that batches are accepted at least with the chosen probability.
    TargetFillDocument of TargetFill as "target-fill/1", |it, _materials| {
        /// The nominal content.
        nominal: Number,
        /// The market.
        market: Market,
        /// How many bars a batch has.
        bars: u32,
        /// The standard deviation of bars as they are weighed.
        standard_deviation: Number,
        /// The probability, percent.
        probability: Number,
        /// What the bars lose on drying after they are weighed, percent.
        drying_loss: Number,
        /// The mean to fill to.
        fill: Number,
        /// How often batches filled so are accepted.
        rates: AcceptRatesDocument = (&it.rates()).into(),
        /// What to know about it.
        notes: Vec<String>,
        /// Where plan and tolerable shortfall come from.
        sources: Vec<&'static str>,
    }
}

impl Weights {
    /// Reads weights back. They are believed where working them out again gives just what is said; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of the masses; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["masses", "bars", "drying_loss"], read_weights)
    }
}

impl WeightTest {
    /// Reads a test back, as [`Weights::read`] does.
    ///
    /// # Errors
    /// Every fault of weights and content; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["masses", "bars", "drying_loss", "nominal", "market"], |view| {
            let weights = read_weights(view);
            let nominal = view.needed("nominal", |view| view.grams("nominal"));
            let market = view.needed("market", |view| view.choice("market"));
            view.accept("nominal", weights?.test(&nominal?, market?))
        })
    }
}

impl TargetFill {
    /// Reads a target fill back, as [`Weights::read`] does.
    ///
    /// # Errors
    /// Every fault of what was asked; else everything that is not what comes of it.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(
            text,
            notation,
            &["nominal", "market", "bars", "standard_deviation", "probability", "drying_loss"],
            |view| {
                let (nominal, spread) = (
                    view.needed("nominal", |view| view.grams("nominal")),
                    view.needed("standard_deviation", |view| view.grams("standard_deviation")),
                );
                let market: Option<Market> = view.needed("market", |view| view.choice("market"));
                let bars = view.needed("bars", |view| view.whole("bars"));
                let probability = view.needed("probability", |view| view.decimal("probability", Quantity::Confidence));
                let loss = view.decimal("drying_loss", Quantity::Loss);
                let target =
                    view.accept("nominal", TargetFill::new(&nominal?, market?, bars?, &spread?, probability?))?;
                match loss {
                    Some(loss) => view.accept("drying_loss", target.with_drying_loss(loss)),
                    None => Some(target),
                }
            },
        )
    }
}
