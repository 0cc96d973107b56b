//! How bars dry, from weigh-ins: the weight that each comes to, and when it is there.
//!
//! ```text
//! m_i(t) = P_i + A_i exp(-k t)
//! ```
//!
//! with the final weight `P` and the water `A` that leaves each bar for itself, and one rate `k` for all of them, since
//! bars of one batch on one shelf dry alike. Fitted by least squares to all weigh-ins together; their errors are taken
//! to be alike and independent.
//!
//! # Why
//! - A balance sees all water that leaves, bound or not; the final weight is that at the air of the shelf, not
//!   bone-dry.
//! - The first days may be faster than the model (a wet surface); where its residuals say so, leave them out. One to
//!   two weeks are usual until bars are hard (common practice, no source).
//! - Readings that bend too little to show a plateau are refused: a rate that is not surely above 0 says nothing of a
//!   final weight.
//! - A rise of up to two divisions is the balance's own; more is moisture from the air, another bar or a slip, and is
//!   asked about.

mod document;
mod fit;
mod page;

pub use document::DryingCurveDocument;

use super::weights::student;
use crate::bounds::Quantity;
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Date, Exact, Mass, ToExact};
use fit::{Columns, Fit, NoFit, Series, fit};

/// The weigh-ins of one bar.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct BarWeighIns {
    /// What the bar is called.
    pub name: String,
    /// Days since pressing (or any day they are counted from), rising, and what it weighed.
    pub weigh_ins: Vec<(Exact, Mass)>,
}

impl BarWeighIns {
    /// A bar with its weigh-ins in the order of the days.
    ///
    /// # Errors
    /// A bad name, and a day that is no number.
    pub fn new(name: &str, weigh_ins: impl IntoIterator<Item = (impl ToExact, Mass)>) -> Result<Self, Error> {
        let weigh_ins = weigh_ins.into_iter().map(|(day, mass)| Ok((day.to_exact()?, mass)));
        Ok(BarWeighIns { name: check_name(name)?, weigh_ins: weigh_ins.collect::<Result<_, Error>>()? })
    }

    /// A bar with its weigh-ins by date, counted in days from `day_zero`: for all bars of a curve the same date, which
    /// [`DryingCurve::counted_from`] takes.
    ///
    /// ```
    /// use tenside::batch::BarWeighIns;
    /// let weighed = vec![("2026-11-24".parse()?, "70.1 g".parse()?), ("2026-12-01".parse()?, "68 g".parse()?)];
    /// let bar = BarWeighIns::dated("first", "2026-11-24".parse()?, weighed)?;
    /// assert_eq!(bar.weigh_ins[1].0, 7.into());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A bad name, and dates that do not rise.
    pub fn dated(name: &str, day_zero: Date, weigh_ins: Vec<(Date, Mass)>) -> Result<Self, Error> {
        let later = weigh_ins.windows(2).zip(2..).filter(|(pair, _)| pair[1].0 <= pair[0].0);
        let faults = later.map(|(pair, place)| {
            Fault::new(FaultKind::Contradiction, "the dates of the weigh-ins do not rise")
                .at(format!("bar {name:?}, weigh-in {place}"))
                .value(format!("{} after {}", pair[1].0, pair[0].0))
                .remedy("give each bar's weigh-ins in the order of the days, one a day")
        });
        Error::check(faults.collect(), ())?;
        let counted = weigh_ins.into_iter().map(|(date, mass)| (Exact::from(date.days_since(day_zero)), mass));
        BarWeighIns::new(name, counted)
    }
}

/// What one bar comes to.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DriedBar {
    /// What the bar is called.
    pub name: String,
    /// Its final weight, grams.
    pub plateau: f64,
    /// The standard error of that.
    pub plateau_error: f64,
    /// What leaves it from the first weigh-in on, percent of what it weighs then by the fit.
    pub loss: f64,
    /// The standard error of that.
    pub loss_error: f64,
}

/// When one bar is within a tolerance of its final weight.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ReadyBar {
    /// What the bar is called.
    pub name: String,
    /// The day on which it is, by the fit; the first weigh-in, where the fit gives an earlier one.
    pub day: f64,
    /// The standard error of the day that the fit gives, which may lie before the first weigh-in.
    pub error: f64,
    /// The day by which it is with the confidence asked for; the first weigh-in at the earliest.
    pub sure_day: f64,
}

/// What one bar weighs on a day.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DayWeight {
    /// What the bar is called.
    pub name: String,
    /// The day.
    pub day: f64,
    /// What it weighs by the fit, grams.
    pub mass: f64,
    /// The low end of what a weigh-in of that day shows with the confidence asked for.
    pub low: f64,
    /// The high end.
    pub high: f64,
}

/// Bars that dry to their final weights.
///
/// ```
/// use tenside::batch::{BarWeighIns, DryingCurve};
/// let masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"];
/// let weigh_ins = masses.iter().zip(0..).map(|(mass, day)| Ok((day, mass.parse()?))).collect::<Result<Vec<_>, tenside::Error>>()?;
/// let drying = DryingCurve::new(vec![BarWeighIns::new("first", weigh_ins)?], Some("0.1 g".parse()?))?;
/// assert_eq!(format!("{:.1} g, {:.1} %", drying.bars()[0].plateau, drying.loss().0), "65.1 g, 7.0 %");
/// let ready = &drying.ready("0.5", "95")?[0];
/// assert!(ready.day < ready.sure_day && ready.sure_day < 10.0);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct DryingCurve {
    weigh_ins: Vec<BarWeighIns>,
    readability: Option<Mass>,
    day_zero: Option<Date>,
    first: f64,
    last: f64,
    fit: Fit<2>,
}

/// A plateau, and what is above it.
const COLUMNS: Columns<2> = |rate, x| {
    let left = (-rate * x).exp();
    [(1.0, 0.0), (left, -x * left)]
};
/// Weigh-ins of one bar from which plateau, loss and rate can be told.
const FEWEST: usize = 3;
/// By how many divisions a weigh-in may lie above the one before.
const DIVISIONS: i32 = 2;
/// The confidence with which the rate has to be above 0.
const SURELY: f64 = 0.975;

getters!(DryingCurve {
    /// The date from which its days are counted, if stated.
    day_zero: Option<Date>,
    /// The bars with their weigh-ins.
    weigh_ins: &[BarWeighIns],
    /// The division of the balance, if stated.
    readability: Option<&Mass>,
});

impl DryingCurve {
    /// The curve through all weigh-ins together; `readability` is the division of the balance, by which readings may
    /// seem to rise.
    ///
    /// # Errors
    /// No bar, two of one name, fewer than three weigh-ins of a bar or four in all, days that do not rise, weights that
    /// rise or stay, and weigh-ins that do not show a plateau.
    pub fn new(bars: Vec<BarWeighIns>, readability: Option<Mass>) -> Result<Self, Error> {
        let weighed: usize = bars.iter().map(|bar| bar.weigh_ins.len()).sum();
        Quantity::WeighIns.check(&Exact::from(i64::try_from(weighed.max(FEWEST + 1)).unwrap_or(i64::MAX)))?;
        let mut faults: Vec<Fault> = bars.iter().flat_map(|bar| faults_of(bar, readability.as_ref())).collect();
        let mut names = std::collections::HashSet::new();
        for bar in &bars {
            if !names.insert(bar.name.as_str()) {
                let fault = Fault::new(FaultKind::Duplicate, "two bars have one name").value(format!("{:?}", bar.name));
                faults.push(fault.remedy("name them apart, or give all weigh-ins of one bar together"));
            }
        }
        Error::check(faults, ())?;
        let weighed: usize = bars.iter().map(|bar| bar.weigh_ins.len()).sum();
        Quantity::WeighIns.check(&Exact::from(i64::try_from(weighed).unwrap_or(i64::MAX)))?;
        let days = || bars.iter().flat_map(|bar| bar.weigh_ins.iter().map(|(day, _)| day.to_f64()));
        let (first, last) = (days().fold(f64::INFINITY, f64::min), days().fold(f64::NEG_INFINITY, f64::max));
        let series: Vec<Series> = bars
            .iter()
            .map(|bar| bar.weigh_ins.iter().map(|(day, mass)| (day.to_f64() - first, mass.grams().to_f64())).collect())
            .collect();
        let gaps = series.iter().flat_map(|series| series.windows(2).map(|pair| pair[1].0 - pair[0].0));
        let shortest = gaps.fold(f64::INFINITY, f64::min);
        // From a thousandth of a turn in all the time, to all over in a thirtieth of the shortest gap.
        let found = fit(&series, COLUMNS, 1e-3 / (last - first), 30.0 / shortest).map_err(|none| no_plateau(&none))?;
        if found.rate_error() * student(SURELY, found.degrees) >= found.rate {
            return Err(no_plateau(&NoFit::TooSlow).into());
        }
        for (bar, [plateau, above]) in bars.iter().zip(&found.coefficients) {
            if *above <= 0.0 || *plateau <= 0.0 {
                return Err(Fault::new(FaultKind::Contradiction, "the bar does not dry as the others do")
                    .at(place(bar))
                    .remedy("leave it out, or fit it alone: all bars share one rate")
                    .into());
            }
        }
        Ok(DryingCurve { weigh_ins: bars, readability, day_zero: None, first, last, fit: found })
    }

    /// With the date from which its days are counted.
    #[must_use]
    pub fn counted_from(mut self, day_zero: Date) -> Self {
        self.day_zero = Some(day_zero);
        self
    }

    /// The day of a date.
    ///
    /// # Errors
    /// A curve of days that are counted from no date.
    pub fn day_of(&self, date: Date) -> Result<i64, Error> {
        let fault = || {
            Fault::new(FaultKind::Missing, "the weigh-ins are by day, and from which date they count is not stated")
                .value(date)
                .remedy("give the day as a number, or the weigh-ins by date")
        };
        Ok(date.days_since(self.day_zero.ok_or_else(fault)?))
    }

    /// The rate, per day, with its standard error.
    #[must_use]
    pub fn rate(&self) -> (f64, f64) {
        (self.fit.rate, self.fit.rate_error())
    }

    /// The time in which half of what is still to leave does, days, with its standard error.
    #[must_use]
    pub fn half_time(&self) -> (f64, f64) {
        let time = std::f64::consts::LN_2 / self.fit.rate;
        (time, time * self.fit.rate_error() / self.fit.rate)
    }

    /// The standard deviation of a weigh-in about the curve, grams.
    #[must_use]
    pub fn residual_deviation(&self) -> f64 {
        self.fit.variance.sqrt()
    }

    /// Degrees of freedom: weigh-ins less what was fitted.
    #[must_use]
    pub fn degrees_of_freedom(&self) -> u32 {
        self.fit.degrees as u32
    }

    /// What each bar comes to.
    #[must_use]
    pub fn bars(&self) -> Vec<DriedBar> {
        let bar = |(index, bar): (usize, &BarWeighIns)| {
            let (loss, by, by_rate) = self.loss_of(index);
            DriedBar {
                name: bar.name.clone(),
                plateau: self.fit.coefficients[index][0],
                plateau_error: self.fit.error(&[(index, [1.0, 0.0], 0.0)]),
                loss,
                loss_error: self.fit.error(&[(index, by, by_rate)]),
            }
        };
        self.weigh_ins.iter().enumerate().map(bar).collect()
    }

    /// What leaves a bar from its first weigh-in on, percent: the mean over the bars, with its standard error. It is
    /// what a batch takes as drying loss.
    #[must_use]
    pub fn loss(&self) -> (f64, f64) {
        let losses: Vec<(f64, [f64; 2], f64)> = (0..self.weigh_ins.len()).map(|index| self.loss_of(index)).collect();
        let gradients: Vec<(usize, [f64; 2], f64)> =
            losses.iter().enumerate().map(|(index, (_, by, by_rate))| (index, *by, *by_rate)).collect();
        (losses.iter().map(|(loss, ..)| loss).sum::<f64>() / losses.len() as f64, self.fit.error(&gradients))
    }

    /// `100 a / (P + a)` with `a = A exp(-k t)` at the bar's first weigh-in, and its derivatives.
    fn loss_of(&self, index: usize) -> (f64, [f64; 2], f64) {
        let [plateau, above] = self.fit.coefficients[index];
        let since = self.weigh_ins[index].weigh_ins.first().map_or(0.0, |(day, _)| day.to_f64() - self.first);
        let left = (-self.fit.rate * since).exp();
        let water = above * left;
        let whole = plateau + water;
        let by_water = 100.0 * plateau / (whole * whole);
        (100.0 * water / whole, [-100.0 * water / (whole * whole), by_water * left], -by_water * since * water)
    }

    /// When each bar is within so many percent of its final weight: by the fit, and with the confidence in percent
    /// (one-sided, by the linearised standard error of that day).
    ///
    /// # Errors
    /// A tolerance or confidence out of range.
    pub fn ready(&self, tolerance: impl ToExact, confidence: impl ToExact) -> Result<Vec<ReadyBar>, Error> {
        let tolerance = Quantity::DryingTolerance.float(tolerance)? / 100.0;
        let quantile = student(Quantity::Confidence.float(confidence)? / 100.0, self.fit.degrees);
        let rate = self.fit.rate;
        let bar = |(index, bar): (usize, &BarWeighIns)| {
            let [plateau, above] = self.fit.coefficients[index];
            let time = (above / (tolerance * plateau)).ln() / rate;
            let error = self.fit.error(&[(index, [-1.0 / (rate * plateau), 1.0 / (rate * above)], -time / rate)]);
            // Error and quantile belong to the time that the fit gives; nothing is ready before it was first weighed.
            ReadyBar {
                name: bar.name.clone(),
                day: self.first + time.max(0.0),
                error,
                sure_day: self.first + (time + quantile * error).max(0.0),
            }
        };
        Ok(self.weigh_ins.iter().enumerate().map(bar).collect())
    }

    /// What each bar weighs on a day, with the interval in which a weigh-in lies with the confidence in percent.
    ///
    /// # Errors
    /// A day before the first weigh-in or out of range, and a confidence out of range.
    pub fn at(&self, day: f64, confidence: impl ToExact) -> Result<Vec<DayWeight>, Error> {
        let day = Quantity::Day.checked_float(day)?;
        if day < self.first {
            let fault =
                Fault::new(FaultKind::OutOfRange, "the day lies before the first weigh-in").at("day").value(day);
            return Err(fault
                .allowed(format!("from day {} on", self.first))
                .remedy("nothing is known of how bars dried before they were weighed")
                .into());
        }
        let quantile = student(0.5 + Quantity::Confidence.float(confidence)? / 200.0, self.fit.degrees);
        let (since, rate) = (day - self.first, self.fit.rate);
        let left = (-rate * since).exp();
        let bar = |(index, bar): (usize, &BarWeighIns)| {
            let [plateau, above] = self.fit.coefficients[index];
            let mass = plateau + above * left;
            let error = self.fit.error(&[(index, [1.0, left], -since * above * left)]);
            let half = quantile * (self.fit.variance + error * error).sqrt();
            DayWeight { name: bar.name.clone(), day, mass, low: mass - half, high: mass + half }
        };
        Ok(self.weigh_ins.iter().enumerate().map(bar).collect())
    }

    /// What each bar weighs on so many days, evenly from the first weigh-in to the day on which what is left to dry is
    /// a hundredth of what was, or to the last weigh-in if that is later.
    ///
    /// # Errors
    /// A number of points, of one bar or of all, or a confidence out of range.
    pub fn curve(&self, points: u32, confidence: impl ToExact) -> Result<Vec<DayWeight>, Error> {
        let confidence = Quantity::Confidence.exact(confidence)?;
        Quantity::CurvePoints.check(&Exact::from(points))?;
        let bars = i64::try_from(self.weigh_ins.len()).unwrap_or(i64::MAX);
        Quantity::Entries
            .check(&(Exact::from(points) * Exact::from(bars)))
            .map_err(|error| error.within("points of all bars"))?;
        let end = self
            .last
            .max(self.first + 100.0_f64.ln() / self.fit.rate)
            .min(Exact::from(Quantity::Day.range().1).to_f64());
        let step = (end - self.first) / f64::from(points - 1);
        let days = (0..points).map(|index| self.at((self.first + step * f64::from(index)).min(end), &confidence));
        Ok(days.collect::<Result<Vec<_>, _>>()?.into_iter().flatten().collect())
    }

    /// What to know about it.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = vec![
            "a balance sees all water that leaves, bound water too; the final weight is that in the air of this \
             shelf, and moves with its humidity"
                .to_string(),
            "bars that were not weighed may dry otherwise: thicker ones, and those in the middle of a shelf, more \
             slowly"
                .to_string(),
        ];
        if let Some(day_zero) = self.day_zero {
            notes.push(format!("days are counted from {day_zero}, which is day 0"));
        }
        let unseen = (-self.fit.rate * (self.last - self.first)).exp();
        if unseen > 0.2 {
            notes.push(format!(
                "{:.0} % of what leaves had not left at the last weigh-in: the final weight is largely an \
                 extrapolation; weigh on",
                unseen * 100.0
            ));
        }
        notes
    }
}

fn place(bar: &BarWeighIns) -> String {
    format!("bar {:?}", bar.name)
}

fn no_plateau(none: &NoFit) -> Fault {
    match none {
        NoFit::TooSlow => {
            Fault::new(FaultKind::NotKnown, "the weigh-ins do not show yet that the bars come to a final weight")
                .at("weigh-ins")
                .remedy("weigh on for some days, or weigh more bars")
        }
        NoFit::TooFast => {
            Fault::new(FaultKind::NotKnown, "all drying lies between two weigh-ins, so that its course is not known")
                .at("weigh-ins")
                .remedy("take the mean of the later weights as final, or weigh more often in the beginning")
        }
    }
}

fn faults_of(bar: &BarWeighIns, readability: Option<&Mass>) -> Vec<Fault> {
    let mut faults = Vec::new();
    let weigh_ins = &bar.weigh_ins;
    let at = |index: usize| format!("{}, weigh-in {}", place(bar), index + 1);
    for (index, (day, mass)) in weigh_ins.iter().enumerate() {
        if let Err(error) = Quantity::Day.check(day) {
            faults.extend(error.within(&at(index)).into_faults());
        }
        if mass.grams().is_zero() {
            faults.push(
                Fault::new(FaultKind::OutOfRange, "a bar without mass").at(at(index)).value(mass).allowed("above 0 g"),
            );
        }
    }
    if weigh_ins.len() < FEWEST {
        let fault = Fault::new(FaultKind::Missing, "too few weigh-ins to see how the bar dries")
            .at(place(bar))
            .value(weigh_ins.len());
        faults.push(
            fault
                .allowed(format!("at least {FEWEST} of each bar, and four in all"))
                .remedy("weigh it on further days, or leave the bar out"),
        );
        return faults;
    }
    let divisions = readability.map_or(Exact::ZERO, |division| division.grams() * Exact::from(DIVISIONS));
    for (index, pair) in weigh_ins.windows(2).enumerate() {
        let [(before, heavier), (day, lighter)] = pair else { continue };
        if day <= before {
            let fault = Fault::new(FaultKind::Contradiction, "the days of the weigh-ins do not rise").at(at(index + 1));
            faults.push(
                fault
                    .value(format!("day {day} after day {before}"))
                    .remedy("give each bar's weigh-ins in the order of the days, one a day"),
            );
        } else if *lighter.grams() > heavier.grams() + &divisions {
            let fault = Fault::new(FaultKind::Contradiction, "the bar grew heavier")
                .at(at(index + 1))
                .value(format!("{lighter} after {heavier}"));
            let remedy = match readability {
                Some(_) => {
                    "check the slip; a bar that takes up moisture from the air does not dry, leave those days out"
                }
                None => {
                    "state the readability of the balance, of which two divisions may be its own, or check the slip"
                }
            };
            faults.push(fault.remedy(remedy));
        }
    }
    let (Some((_, first)), Some((_, last))) = (weigh_ins.first(), weigh_ins.last()) else { return faults };
    if faults.is_empty() && last >= first {
        let message = if weigh_ins.iter().all(|(_, mass)| mass == first) {
            "every weigh-in is the same"
        } else {
            "the bar did not become lighter"
        };
        let fault =
            Fault::new(FaultKind::Contradiction, message).at(place(bar)).value(format!("{first} and then {last}"));
        faults.push(fault.remedy("a bar that does not dry has its final weight already; leave it out"));
    }
    faults
}
