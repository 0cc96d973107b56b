//! The tests of net content: the average system of the European Union, the Category A test of the United States.

use super::{Weights, grams, moments, shortfall, whole};
use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass};
use crate::rule::{Market, NetRules, Plan, net_rules};

named_enum! {
    /// What a check of weights looks at.
    CheckKind "check of weights" {
        /// The mean of the packages.
        Mean = "mean",
        /// How many packages fall short by more than is tolerable: those below T1, or short by more than the maximum
        /// allowable variation.
        Short = "short",
        /// How many fall short by more than twice of it: those below T2.
        FarShort = "far-short",
    }
}

named_enum! {
    /// What a test of weights came to.
    TestOutcome "outcome of a test of weights" {
        /// Every check holds.
        Accepted = "accepted",
        /// A check does not hold.
        Rejected = "rejected",
        /// The first sample leaves it open: the second has to be weighed.
        SecondSample = "second-sample",
        /// The sample is smaller than the plan's: no test of the law.
        NoTest = "no-test",
    }
}

/// One check of a test.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct WeightCheck {
    /// What it looks at.
    pub kind: CheckKind,
    /// How many packages it looks at.
    pub packages: u32,
    /// The mean in grams, or how many packages were found.
    pub found: Exact,
    /// The least mean in grams (within the rounding of a float), or the most packages.
    pub limit: f64,
    /// Whether it holds; nothing where too few were weighed to say so.
    pub is_met: Option<bool>,
}

/// A test of net content. It rehearses the law's test; an inspector's own sample decides.
///
/// ```
/// use tenside::batch::{CheckKind, TestOutcome, Weights};
/// use tenside::rule::Market;
/// let grams: Vec<_> = (0..12).map(|index| format!("{} g", 60 + index % 3).parse().unwrap()).collect();
/// // Twelve of twenty-four are a sample: in the European Union all of a small batch are weighed.
/// let test = Weights::new(&grams, Some(24))?.test(&"60 g".parse()?, Market::Eu)?;
/// assert_eq!(test.outcome(), TestOutcome::NoTest);
/// let test = Weights::new(&grams, Some(24))?.test(&"60 g".parse()?, Market::Us)?;
/// assert_eq!((test.outcome(), test.checks()[0].kind), (TestOutcome::Accepted, CheckKind::Mean));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct WeightTest {
    weights: Weights,
    nominal: Mass,
    market: Market,
    tolerable: Exact,
    plan: Plan,
    checks: Vec<WeightCheck>,
    outcome: TestOutcome,
}

impl Weights {
    /// The test of a market on the net content that the label states.
    ///
    /// # Errors
    /// A content outside the market's table, and weights that do not say of how many bars they are.
    pub fn test(&self, nominal: &Mass, market: Market) -> Result<WeightTest, Error> {
        WeightTest::new(self, nominal, market)
    }

    /// The largest multiple of `step` that the market's test accepts as nominal content of these bars.
    ///
    /// # Errors
    /// A step of 0 or one that is too fine to be tried, weights that make no test, and a batch that supports no content
    /// of the table.
    pub fn supported_nominal(&self, market: Market, step: &Mass) -> Result<Mass, Error> {
        supported(self, market, step)
    }
}

getters!(WeightTest {
    /// The weights.
    weights: &Weights,
    /// The content that the label states.
    nominal: &Mass,
    /// The market.
    market: Market,
    /// The checks, the mean first.
    checks: &[WeightCheck],
    /// What it came to.
    outcome: TestOutcome,
});

impl WeightTest {
    fn new(weights: &Weights, nominal: &Mass, market: Market) -> Result<Self, Error> {
        let rules = net_rules(market);
        let tolerable = shortfall(nominal, market)?;
        let plan = plan_of(weights, rules)?;
        let checks = checks(weights, nominal.grams(), &tolerable, rules, plan);
        let met: Vec<Option<bool>> = checks.iter().map(|check| check.is_met).collect();
        let outcome = if met.contains(&Some(false)) {
            TestOutcome::Rejected
        } else if met.iter().all(|met| *met == Some(true)) {
            TestOutcome::Accepted
        } else if weights.net.len() >= plan.first() as usize {
            TestOutcome::SecondSample
        } else {
            TestOutcome::NoTest
        };
        Ok(WeightTest { weights: weights.clone(), nominal: nominal.clone(), market, tolerable, plan, checks, outcome })
    }

    /// By how many grams one package may fall short: the tolerable negative error, or the maximum allowable variation.
    #[must_use]
    pub fn tolerable_shortfall(&self) -> &Exact {
        &self.tolerable
    }

    /// The mass below which a package is short, T1, grams.
    #[must_use]
    pub fn least_single(&self) -> Exact {
        self.nominal.grams() - &self.tolerable
    }

    /// By how many times three standard deviations the mean lies above T1, with its standard error: the lower
    /// capability index, `(mean - T1) / (3 s)`, error `sqrt(1/(9n) + C^2 / (2n - 2))` (approximation of Bissell 1990,
    /// from memory). Nothing where the bars show no spread.
    #[must_use]
    pub fn capability(&self) -> Option<(f64, f64)> {
        let (deviation, n) = (self.weights.standard_deviation(), self.weights.net.len() as f64);
        let capability = (self.weights.mean() - self.least_single()).to_f64() / (3.0 * deviation);
        (deviation > 0.0).then(|| (capability, (1.0 / (9.0 * n) + capability * capability / (2.0 * n - 2.0)).sqrt()))
    }

    /// What the test is called, and how many packages it takes.
    #[must_use]
    pub fn plan(&self) -> String {
        let name = &net_rules(self.market).test.name;
        match self.plan {
            Plan::All { batch, accept } => format!("{name}: all {batch} packages, of which {accept} may be short"),
            Plan::Sample { first, accept, reject, second, mean_of } => {
                let further = second.map_or_else(String::new, |(number, both)| {
                    format!(
                        ", from {} to {} a second sample of {number} is weighed, and {both} of both may be short",
                        accept + 1,
                        reject - 1
                    )
                });
                format!(
                    "{name}: a sample of {first} packages, of which {accept} may be short{further}; the mean is that \
                     of {mean_of}"
                )
            }
        }
    }

    /// What to know about it.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = self.weights.notes();
        let weighed = self.weights.net.len();
        match self.outcome {
            TestOutcome::NoTest => notes.push(format!(
                "{} were weighed and the plan takes {}: this is no test of the law, only a look at a sample",
                self.weights.words(),
                self.plan.first()
            )),
            TestOutcome::SecondSample => {
                let second = if let Plan::Sample { second: Some((number, _)), .. } = self.plan { number } else { 0 };
                notes.push(format!(
                    "the first sample leaves it open: weigh {second} more, drawn at random, and give all in the order \
                     drawn"
                ));
            }
            TestOutcome::Accepted | TestOutcome::Rejected => {}
        }
        if matches!(self.plan, Plan::Sample { .. }) {
            notes.push("the order given is taken as the order in which the bars were drawn at random".to_string());
            if weighed > self.plan.first() as usize {
                notes.push(format!(
                    "{weighed} were weighed; the plan looks at the first so many, and at all of them for a bar that \
                     is far short"
                ));
            }
        }
        if let Some((most, bars)) =
            net_rules(self.market).test.largest_batch.zip(self.weights.bars()).filter(|(most, bars)| bars > most)
        {
            notes.push(format!(
                "batches of more than {most} packages are tested in parts, unless {bars} are an hour's output at the \
                 end of the line"
            ));
        }
        if self.weights.drying_loss().is_zero() {
            notes.push(
                "no drying after this weighing is counted: bars that still lose water weigh less when they are sold"
                    .to_string(),
            );
        } else {
            notes.push(format!(
                "{} % are taken to be lost on drying after this weighing",
                self.weights.drying_loss().normalize()
            ));
        }
        notes.push(
            "weights are net, without packaging; an inspector's own sample decides, by the rules in force where it is \
             sold"
                .to_string(),
        );
        notes
    }

    /// Where plan and tolerable shortfall come from.
    #[must_use]
    pub fn sources(&self) -> [&'static str; 2] {
        let rules = net_rules(self.market);
        [&rules.source, &rules.test.source]
    }
}

fn plan_of(weights: &Weights, rules: &NetRules) -> Result<Plan, Error> {
    let missing = || {
        let fault = Fault::new(FaultKind::Missing, "the test needs to know how many bars the batch has").at("weights");
        fault.value(weights.words()).remedy("state the number of bars of the batch beside those that were weighed")
    };
    let bars = weights.of.ok_or_else(missing)?;
    rules.test.plan(bars).ok_or_else(|| missing().into())
}

fn checks(weights: &Weights, nominal: &Exact, tolerable: &Exact, rules: &NetRules, plan: Plan) -> Vec<WeightCheck> {
    let net = &weights.net;
    let enough = net.len() >= plan.first() as usize;
    let mut checks =
        vec![mean_check(net, nominal, rules, plan, enough), short_check(net, &(nominal - tolerable), plan, enough)];
    if let Some(times) = &rules.test.never_beyond {
        let least = nominal - tolerable * times;
        let found = net.iter().filter(|mass| **mass < least).count();
        let is_met = if found > 0 { Some(false) } else { enough.then_some(true) };
        checks.push(WeightCheck {
            kind: CheckKind::FarShort,
            packages: narrow(net.len()),
            found: whole(found),
            limit: 0.0,
            is_met,
        });
    }
    checks
}

/// The mean of the first so many: it may fall short by `k` of their standard deviations.
fn mean_check(net: &[Exact], nominal: &Exact, rules: &NetRules, plan: Plan, enough: bool) -> WeightCheck {
    let looked_at = &net[..net.len().min(plan.mean_of() as usize)];
    let (mean, variance) = moments(looked_at);
    let factor = rules.test.factor(plan).cloned().unwrap_or(Exact::ZERO);
    let missing = nominal - &mean;
    let holds = !missing.is_positive() || &missing * &missing <= &factor * &factor * &variance;
    let limit = nominal.to_f64() - factor.to_f64() * variance.to_f64().sqrt();
    WeightCheck {
        kind: CheckKind::Mean,
        packages: narrow(looked_at.len()),
        found: mean,
        limit,
        is_met: enough.then_some(holds),
    }
}

/// How many are short: of all, or of the first sample and, where that leaves it open, of both.
fn short_check(net: &[Exact], least: &Exact, plan: Plan, enough: bool) -> WeightCheck {
    let short = |of: usize| narrow(net[..net.len().min(of)].iter().filter(|mass| *mass < least).count());
    let check = |packages: usize, found: u32, limit: u32, is_met: Option<bool>| WeightCheck {
        kind: CheckKind::Short,
        packages: narrow(packages.min(net.len())),
        found: Exact::from(found),
        limit: f64::from(limit),
        is_met,
    };
    match plan {
        Plan::All { batch, accept } => {
            let found = short(batch as usize);
            check(batch as usize, found, accept, if found > accept { Some(false) } else { enough.then_some(true) })
        }
        Plan::Sample { first, accept, reject, second, .. } => {
            let found = short(first as usize);
            let both = second.map(|(number, most)| ((first + number) as usize, most));
            match both {
                _ if found >= reject => check(first as usize, found, accept, Some(false)),
                _ if found <= accept => check(first as usize, found, accept, enough.then_some(true)),
                Some((of, most)) => {
                    let found = short(of);
                    let is_met = if found > most { Some(false) } else { (net.len() >= of).then_some(true) };
                    check(of, found, most, is_met)
                }
                None => check(first as usize, found, accept, Some(false)),
            }
        }
    }
}

fn narrow(number: usize) -> u32 {
    u32::try_from(number).unwrap_or(u32::MAX)
}

/// The most bars that are looked at, over all contents that are tried: about a second's work.
const MOST_LOOKS: i64 = 10_000_000;

/// The largest multiple of `step` that is accepted, tried from the largest that the mean could carry.
fn supported(weights: &Weights, market: Market, step: &Mass) -> Result<Mass, Error> {
    let rules = net_rules(market);
    let plan = plan_of(weights, rules)?;
    if weights.net.len() < plan.first() as usize {
        return Err(Fault::new(FaultKind::Missing, "too few bars were weighed for the test")
            .at("weights")
            .value(weights.words())
            .allowed(format!("at least {}", plan.first()))
            .remedy("weigh as many as the plan takes")
            .into());
    }
    let step = step.grams();
    // The mean of the first so many and their spread bound what can be accepted; its float is good to far less than a
    // step.
    let (mean, variance) = moments(&weights.net[..weights.net.len().min(plan.mean_of() as usize)]);
    let factor = rules.test.factor(plan).map_or(0.0, Exact::to_f64);
    let most = (mean + Exact::from_shortest(factor * variance.to_f64().sqrt()).unwrap_or(Exact::ZERO) + step)
        .min(rules.largest());
    let tries = if step.is_positive() { (&most / step).floor_i64() } else { None };
    let most_tries = MOST_LOOKS / i64::try_from(weights.net.len()).unwrap_or(i64::MAX).max(1);
    let Some(tries) = tries.filter(|tries| *tries <= most_tries) else {
        return Err(Fault::new(FaultKind::OutOfRange, "no step that could be tried")
            .at("step")
            .value(format!("{step} g"))
            .allowed(format!("above 0 g, and {most_tries} steps to the mean at most"))
            .remedy("give the step in which labels are stated, such as 1 g")
            .into());
    };
    for multiple in (1..=tries).rev() {
        let nominal = grams(&(step * Exact::from(multiple)))?;
        // Contents outside the table are passed over.
        let Some(tolerable) = rules.shortfall(nominal.grams()).filter(|tolerable| !tolerable.is_zero()) else {
            continue;
        };
        if checks(weights, nominal.grams(), &tolerable, rules, plan).iter().all(|check| check.is_met == Some(true)) {
            return Ok(nominal);
        }
    }
    Err(Fault::new(FaultKind::OutOfRange, "these bars support no net content of the market's table")
        .at("weights")
        .value(format!("mean {} g", weights.mean().rounded_text(3)))
        .allowed(rules.contents())
        .remedy("sort out the bars that are far too light, or take a finer step")
        .into())
}
