//! The mean to fill to, and how often a plan accepts batches filled to other means: its operating characteristic.

use rust_decimal::Decimal;

use super::distribution::{mean_accepts, none_of, normal, short_accepts};
use super::{left_after, shortfall};
use crate::batch::dilution::up_to_whole;
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, ToExact};
use crate::rule::{Market, Plan, net_rules};

/// How often batches filled to one mean are accepted, rates from 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct AcceptRates {
    /// The mean as it is weighed, before drying, grams.
    pub fill: f64,
    /// The mean that drying leaves, grams.
    pub net: f64,
    /// How often the mean of the sample is accepted.
    pub mean: f64,
    /// How often the number of short packages is accepted.
    pub short: f64,
    /// How often no package of the whole batch is far short, where the market asks for it.
    pub far_short: Option<f64>,
    /// All of it at least so often.
    pub at_least: f64,
    /// All of it at most so often.
    pub at_most: f64,
}

/// The mean to fill to, so that a batch is accepted at least with the chosen probability.
///
/// For bars that are normally distributed with a standard deviation that is known. Rates are calculated in `f64` and
/// hold to nine digits. A sample may be accepted whose batch lies a little below the nominal content, but the law asks
/// for a mean that does not: the fill never leaves less than the nominal content.
///
/// ```
/// use tenside::batch::TargetFill;
/// use tenside::rule::Market;
/// let target = TargetFill::new(&"60 g".parse()?, Market::Eu, 240, &"0.8 g".parse()?, 99)?.with_drying_loss(4)?;
/// assert_eq!(target.fill().to_string(), "62.5");
/// let there = target.rates();
/// assert!(there.at_least >= 0.99 && there.net >= 60.0);
/// // Filled to the nominal content, half a gram less when dry, hardly any batch is accepted.
/// assert!(target.at(60.0).at_most < 0.01);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct TargetFill {
    nominal: Mass,
    market: Market,
    bars: u32,
    spread: Mass,
    probability: Decimal,
    drying_loss: Decimal,
    tolerable: Exact,
    plan: Plan,
    fill: Exact,
}

getters!(TargetFill {
    /// The nominal content.
    nominal: &Mass,
    /// The market.
    market: Market,
    /// How many bars a batch has.
    bars: u32,
    /// The probability with which a batch is to be accepted, percent.
    probability: Decimal,
    /// What the bars lose on drying after they are weighed, percent.
    drying_loss: Decimal,
    /// The mean to fill to, before drying, grams: the least hundredth with which batches are accepted at least as often
    /// as was asked for, and of which drying leaves the nominal content.
    fill: &Exact,
});

impl TargetFill {
    /// For a nominal content, a market, so many bars a batch, their standard deviation as they are weighed, and the
    /// probability in percent with which a batch is to be accepted; nothing is lost on drying.
    ///
    /// # Errors
    /// A content outside the market's table, no bars, and spreads and probabilities outside their ranges.
    pub fn new(
        nominal: &Mass,
        market: Market,
        bars: u32,
        spread: &Mass,
        probability: impl ToExact,
    ) -> Result<Self, Error> {
        Quantity::Bars.check(&Exact::from(bars)).map_err(|error| error.within("bars"))?;
        Quantity::Spread.check(spread.grams())?;
        let probability = Quantity::Confidence.decimal(probability).map_err(|error| error.within("probability"))?;
        let tolerable = shortfall(nominal, market)?;
        if bars < 2 {
            return Err(Fault::new(FaultKind::OutOfRange, "one bar is no batch to test")
                .at("bars")
                .value(bars)
                .allowed("2 bars or more")
                .into());
        }
        let Some(plan) = net_rules(market).test.plan(bars) else {
            return Err(Fault::new(FaultKind::Unsupported, "the market has no plan for batches of this size")
                .at("bars")
                .value(bars)
                .into());
        };
        let target = TargetFill {
            nominal: nominal.clone(),
            market,
            bars,
            spread: spread.clone(),
            probability,
            drying_loss: Decimal::ZERO,
            tolerable,
            plan,
            fill: Exact::ZERO,
        };
        target.filled()
    }

    /// With what the bars lose on drying after they are weighed, percent.
    ///
    /// # Errors
    /// A loss below 0 or so near 100 % that nothing is left.
    pub fn with_drying_loss(mut self, percent: impl ToExact) -> Result<Self, Error> {
        self.drying_loss = Quantity::Loss.decimal(percent).map_err(|error| error.within("drying loss"))?;
        self.filled()
    }

    /// Looks for the least fill, up to the next hundredth of a gram.
    fn filled(mut self) -> Result<Self, Error> {
        let wanted = Exact::from(self.probability).to_f64() / 100.0;
        let exact = self.fill_where(|rates| rates.at_least >= wanted);
        let hundredth = Exact::ratio(1, 100);
        let nominal = up_to_whole(&(self.nominal.grams() / left_after(self.drying_loss)), &hundredth);
        let mut fill = Exact::from_shortest(exact)?.floor_to(&hundredth).max(nominal);
        // The float may lie on either side of a hundredth.
        while self.at(fill.to_f64()).at_least < wanted {
            fill += &hundredth;
        }
        self.fill = fill;
        Ok(self)
    }

    /// The least fill, grams, at which something holds that holds from there on: within a millionth of a standard
    /// deviation, and never above it by more.
    fn fill_where(&self, holds: impl Fn(AcceptRates) -> bool) -> f64 {
        let (spread, left) = (self.spread.grams().to_f64(), left_after(self.drying_loss).to_f64());
        // At forty standard deviations to either side, and the shortfall below, every rate is 0 or 1 as far as a float
        // can say.
        let room = 40.0 * spread + 2.0 * self.tolerable.to_f64() / left;
        let middle = self.nominal.grams().to_f64() / left;
        let (mut low, mut high) = ((middle - room).max(0.0), middle + room);
        while high - low > 1e-6 * spread {
            let fill = (low + high) / 2.0;
            if holds(self.at(fill)) {
                high = fill;
            } else {
                low = fill;
            }
        }
        low
    }

    /// The standard deviation of bars as they are weighed.
    #[must_use]
    pub fn standard_deviation(&self) -> &Mass {
        &self.spread
    }

    /// How often batches filled so are accepted.
    #[must_use]
    pub fn rates(&self) -> AcceptRates {
        self.at(self.fill.to_f64())
    }

    /// How often batches filled to another mean are accepted, grams before drying.
    #[must_use]
    pub fn at(&self, fill: f64) -> AcceptRates {
        let left = left_after(self.drying_loss).to_f64();
        let (net, spread) = (fill * left, self.spread.grams().to_f64() * left);
        let (nominal, tolerable) = (self.nominal.grams().to_f64(), self.tolerable.to_f64());
        let test = &net_rules(self.market).test;
        let mean = mean_accepts(
            self.plan.mean_of(),
            test.factor(self.plan).map_or(0.0, Exact::to_f64),
            (net - nominal) / spread,
        );
        let below = |times: f64| normal((nominal - times * tolerable - net) / spread);
        let short = short_accepts(self.plan, below(1.0));
        let far_short = test.never_beyond.as_ref().map(|times| none_of(self.bars, below(times.to_f64())));
        let rates = [mean, short, far_short.unwrap_or(1.0)];
        let at_most = rates.into_iter().fold(1.0, f64::min);
        // The sum of floats may end a last digit above the rarest one.
        let at_least = (1.0 - rates.iter().map(|rate| 1.0 - rate).sum::<f64>()).clamp(0.0, at_most);
        AcceptRates { fill, net, mean, short, far_short, at_least, at_most }
    }

    /// The operating curve: the rates at so many means, evenly from where hardly any batch can be accepted (one in a
    /// thousand) to where hardly any is not.
    ///
    /// # Errors
    /// A number of points out of range.
    pub fn curve(&self, points: u32) -> Result<Vec<AcceptRates>, Error> {
        Quantity::CurvePoints.check(&Exact::from(points))?;
        let low = self.fill_where(|rates| rates.at_most >= 0.001);
        let high = self.fill_where(|rates| rates.at_least >= 0.999).max(self.fill.to_f64());
        let step = (high - low) / f64::from(points - 1);
        Ok((0..points).map(|index| self.at(low + step * f64::from(index))).collect())
    }

    /// What to know about it.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        vec![
            "bars are taken to be normally distributed with a known standard deviation; one that was estimated from \
             few bars is itself uncertain"
                .to_string(),
            "the mean that drying leaves is never less than the nominal content, whatever a sample would let pass: \
             the law asks for it of the batch"
                .to_string(),
            "the checks look at the same bars: all hold together at least, and at most, as often as stated".to_string(),
            "a second look by an inspector, other packaging or more drying are not in these rates; the rules in force \
             where it is sold decide"
                .to_string(),
        ]
    }

    /// Where plan and tolerable shortfall come from.
    #[must_use]
    pub fn sources(&self) -> [&'static str; 2] {
        let rules = net_rules(self.market);
        [&rules.source, &rules.test.source]
    }
}
