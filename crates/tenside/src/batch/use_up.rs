//! How bars are used up: grams a wash, and what follows from it.
//!
//! ```text
//! grams a wash of a bar = (first weigh-in - last weigh-in) / washes between them      washes a bar = net content / grams a wash
//! ```
//!
//! The mean is that over the bars, each counted once, with the spread between them; it is the user's habit that spreads
//! most. Bars are weighed dry: a wet one holds water that was not there before.

use super::weights::student;
use crate::bounds::Quantity;
use crate::document::{Notation, Number, check_name, form, forms, restore, written};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, ToExact};
use crate::render::{Alignment, Page, Part, Table, so_many};

/// One bar in use.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct UsedBar {
    /// What the bar, or who uses it, is called.
    pub name: String,
    /// Washes so far, rising, and what it weighed then.
    pub weigh_ins: Vec<(u32, Mass)>,
}

impl UsedBar {
    /// A bar with its weigh-ins in order.
    ///
    /// # Errors
    /// A bad name.
    pub fn new(name: &str, weigh_ins: Vec<(u32, Mass)>) -> Result<Self, Error> {
        Ok(UsedBar { name: check_name(name)?, weigh_ins })
    }

    /// Washes between the first and the last weigh-in, and what they took.
    fn used(&self) -> Option<(u32, Exact)> {
        let ((before, heavy), (after, light)) = (self.weigh_ins.first()?, self.weigh_ins.last()?);
        Some((after.checked_sub(*before)?, heavy.grams() - light.grams()))
    }

    /// Grams a wash, exact. Every bar that is taken has washes.
    #[must_use]
    pub fn grams_a_wash(&self) -> Exact {
        self.used().and_then(|(washes, grams)| grams.checked_div(&Exact::from(washes))).unwrap_or(Exact::ZERO)
    }

    fn faults(&self) -> Vec<Fault> {
        let place = format!("bar {:?}", self.name);
        let mut faults = Vec::new();
        if self.weigh_ins.len() < 2 {
            let fault = Fault::new(FaultKind::Missing, "too few weigh-ins to see what a wash takes")
                .at(&*place)
                .value(self.weigh_ins.len());
            faults.push(fault.allowed("at least two").remedy("weigh the dry bar again after some washes"));
        }
        for (index, pair) in self.weigh_ins.windows(2).enumerate() {
            let [(before, heavier), (after, lighter)] = pair else { continue };
            let at = format!("{place}, weigh-in {}", index + 2);
            if after <= before {
                let fault = Fault::new(FaultKind::Contradiction, "the number of washes does not rise")
                    .at(&*at)
                    .value(format!("{after} after {before}"));
                faults.push(
                    fault.remedy("count the washes from the first one on, and give the weigh-ins in their order"),
                );
            }
            if lighter >= heavier {
                let fault = Fault::new(FaultKind::Contradiction, "the bar did not become lighter")
                    .at(at)
                    .value(format!("{lighter} after {heavier}"));
                faults.push(fault.remedy("let it dry before it is weighed, or take more washes between two weigh-ins"));
            }
        }
        faults
    }
}

/// How bars are used up.
///
/// ```
/// use tenside::batch::{UseUp, UsedBar};
/// let bars = [("first", ["60 g", "48 g"]), ("second", ["60 g", "45 g"])];
/// let bars = bars.map(|(name, masses)| UsedBar::new(name, vec![(0, masses[0].parse().unwrap()), (10, masses[1].parse().unwrap())]).unwrap());
/// let used = UseUp::new(bars.to_vec(), "60 g".parse()?)?.with_active(50)?.with_price(6)?;
/// assert_eq!((used.grams_a_wash().to_string(), used.washes_a_bar().rounded_text(1)), ("1.35".to_string(), "44.4".to_string()));
/// assert_eq!((used.active_a_wash().unwrap().to_string(), used.cost_a_wash().unwrap().to_string()), ("0.675".to_string(), "0.135".to_string()));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct UseUp {
    bars: Vec<UsedBar>,
    net: Mass,
    active: Option<Exact>,
    price: Option<Exact>,
}

getters!(UseUp {
    /// The bars in use.
    bars: &[UsedBar],
    /// The net content of a new bar.
    net: &Mass,
    /// The active matter of the bar, percent, if stated.
    active: Option<&Exact>,
    /// What a bar costs, if stated.
    price: Option<&Exact>,
});

impl UseUp {
    /// Bars in use, and the net content of a new one.
    ///
    /// # Errors
    /// No bar, two of one name, fewer than two weigh-ins of a bar, washes that do not rise, weights that do not fall,
    /// and a net content of 0.
    pub fn new(bars: Vec<UsedBar>, net: Mass) -> Result<Self, Error> {
        let mut faults: Vec<Fault> = bars.iter().flat_map(UsedBar::faults).collect();
        if bars.is_empty() {
            faults
                .push(Fault::new(FaultKind::Missing, "no bar in use").remedy("give the weigh-ins of at least one bar"));
        }
        let mut names = std::collections::HashSet::new();
        for bar in &bars {
            if !names.insert(bar.name.as_str()) {
                let fault = Fault::new(FaultKind::Duplicate, "two bars have one name").value(format!("{:?}", bar.name));
                faults.push(fault.remedy("name them apart, or give all weigh-ins of one bar together"));
            }
        }
        if net.grams().is_zero() {
            faults.push(
                Fault::new(FaultKind::OutOfRange, "a bar without mass").at("net").value(&net).allowed("above 0 g"),
            );
        }
        Error::check(faults, UseUp { bars, net, active: None, price: None })
    }

    /// With the active matter of the bar, percent.
    ///
    /// # Errors
    /// A percentage out of range.
    pub fn with_active(mut self, percent: impl ToExact) -> Result<Self, Error> {
        self.active = Some(Quantity::Percent.exact(percent).map_err(|error| error.within("active"))?);
        Ok(self)
    }

    /// With what a bar costs, in any currency.
    ///
    /// # Errors
    /// A price out of range.
    pub fn with_price(mut self, price: impl ToExact) -> Result<Self, Error> {
        self.price = Some(Quantity::BarPrice.exact(price).map_err(|error| error.within("price"))?);
        Ok(self)
    }

    /// Grams a wash: the mean over the bars.
    #[must_use]
    pub fn grams_a_wash(&self) -> Exact {
        let sum: Exact = self.bars.iter().map(UsedBar::grams_a_wash).sum();
        sum / Exact::from(i64::try_from(self.bars.len()).unwrap_or(i64::MAX))
    }

    /// The standard deviation between the bars, grams a wash; nothing of one bar.
    #[must_use]
    pub fn standard_deviation(&self) -> Option<f64> {
        let mean = self.grams_a_wash();
        let squares: Exact =
            self.bars.iter().map(|bar| (bar.grams_a_wash() - &mean) * (bar.grams_a_wash() - &mean)).sum();
        (self.bars.len() > 1).then(|| (squares.to_f64() / (self.bars.len() - 1) as f64).sqrt())
    }

    /// Between which means of many bars the true one lies with so many percent of confidence, grams a wash, by
    /// Student's t; nothing of one bar. The low end is no less than 0; where it is 0, the scatter is too great for an
    /// interval.
    ///
    /// # Errors
    /// A confidence out of range.
    pub fn interval(&self, confidence: impl ToExact) -> Result<Option<(f64, f64)>, Error> {
        let confidence = Quantity::Confidence.float(confidence)?;
        let n = self.bars.len() as f64;
        Ok(self.standard_deviation().map(|deviation| {
            let half = student(0.5 + confidence / 200.0, n - 1.0) * deviation / n.sqrt();
            let mean = self.grams_a_wash().to_f64();
            ((mean - half).max(0.0), mean + half)
        }))
    }

    /// How many washes a bar gives.
    #[must_use]
    pub fn washes_a_bar(&self) -> Exact {
        self.net.grams() / self.grams_a_wash()
    }

    /// Grams of active matter a wash, where its percentage is stated.
    #[must_use]
    pub fn active_a_wash(&self) -> Option<Exact> {
        self.active.as_ref().map(|percent| self.grams_a_wash() * percent / Exact::hundred())
    }

    /// What a wash costs, where the price of a bar is stated.
    #[must_use]
    pub fn cost_a_wash(&self) -> Option<Exact> {
        self.price.as_ref().map(|price| price / self.washes_a_bar())
    }

    /// What to know about it.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = vec![
            "bars are weighed dry; what a wash takes depends on hair, water and habit more than on the bar".to_string(),
        ];
        if self.bars.len() == 1 {
            notes.push("one bar shows no spread between users".to_string());
        }
        if matches!(self.interval(95), Ok(Some((low, _))) if low <= 0.0) {
            notes.push(
                "the bars differ too much for an interval of the mean: at 95 % confidence it would reach below 0 g, \
                 and ends there"
                    .to_string(),
            );
        }
        notes
            .push("the last piece of a bar is often not used up: a bar gives fewer washes than calculated".to_string());
        notes
    }

    /// Figures on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let mut table =
            Table::new(&[("bar", Alignment::Left), ("washes", right), ("used, g", right), ("g a wash", right)]);
        for bar in &self.bars {
            let (washes, grams) = bar.used().unwrap_or((0, Exact::ZERO));
            table.push([
                bar.name.clone(),
                washes.to_string(),
                grams.rounded_text(2),
                bar.grams_a_wash().rounded_text(3),
            ]);
        }
        let mut words = format!("{} g a wash", self.grams_a_wash().rounded_text(3));
        if let (Some(deviation), Ok(Some((low, high)))) = (self.standard_deviation(), self.interval(95)) {
            words += &format!(
                ", standard deviation between bars {deviation:.3} g, mean with 95 % confidence {low:.3} to {high:.3} g"
            );
        }
        words +=
            &format!("; {} from a bar of {}", so_many(self.washes_a_bar().floor_text(0), "wash", "washes"), self.net);
        if let Some(active) = self.active_a_wash() {
            words += &format!("; {} g of active matter a wash", active.rounded_text(3));
        }
        if let Some(cost) = self.cost_a_wash() {
            words += &format!("; a wash costs {}", cost.rounded_text(4));
        }
        Page::new("Bars in use")
            .with(Part::Text(format!("{words}.")))
            .with(Part::Table(table))
            .section("To know about these", Part::List(self.notes()))
    }
}

written! {
    /// One weigh-in.
    struct UseWeighInDocument {
        /// Washes so far.
        washes: u32,
        /// What the bar weighed.
        mass: Number,
    }
}

form! {
    /// One bar in use.
    UsedBarDocument of UsedBar, |it| {
        /// What it is called.
        name: String,
        /// Its weigh-ins.
        weigh_ins: Vec<UseWeighInDocument> =
            it.weigh_ins.iter().map(|(washes, mass)| UseWeighInDocument { washes: *washes, mass: mass.into() }).collect(),
    }
}

form! {
    /// How bars are used up. Masses are in grams.
    UseUpDocument of UseUp as "use-up/1", |it, _materials| {
        /// The bars in use.
        bars: Vec<UsedBarDocument> = forms(it.bars()),
        /// The net content of a new bar.
        net: Number,
        /// The active matter of the bar, percent.
        #[serde(skip_serializing_if = "Option::is_none")]
        active: Option<Number> = it.active().map(Number::from),
        /// What a bar costs.
        #[serde(skip_serializing_if = "Option::is_none")]
        price: Option<Number> = it.price().map(Number::from),
        /// Grams a wash.
        grams_a_wash: Number,
        /// The standard deviation between the bars.
        standard_deviation: Option<Number> = it.standard_deviation().map(Number::of_float),
        /// How many washes a bar gives.
        washes_a_bar: Number,
        /// Grams of active matter a wash.
        active_a_wash: Option<Number> = it.active_a_wash().map(Number::from),
        /// What a wash costs.
        cost_a_wash: Option<Number> = it.cost_a_wash().map(Number::from),
        /// What to know about it.
        notes: Vec<String>,
    }
}

impl UseUp {
    /// Reads it back. It is believed where working it out again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of the weigh-ins; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["bars", "net", "active", "price"], |view| {
            let bars = view.tables("bars", |view| {
                let name = view.needed("name", |view| view.name("name"));
                let weigh_ins = view.tables("weigh_ins", |view| {
                    let washes = view.needed("washes", |view| view.whole("washes"));
                    Some((washes?, view.needed("mass", |view| view.grams("mass"))?))
                });
                Some(UsedBar { name: name?, weigh_ins })
            });
            let net = view.needed("net", |view| view.grams("net"));
            let (active, price) =
                (view.exact("active", Some(Quantity::Percent)), view.exact("price", Some(Quantity::BarPrice)));
            let mut used = view.accept("bars", UseUp::new(bars, net?))?;
            if let Some(active) = active {
                used = view.accept("active", used.with_active(active))?;
            }
            match price {
                Some(price) => view.accept("price", used.with_price(price)),
                None => Some(used),
            }
        })
    }
}
