//! How bars dry.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::batch::BarWeighIns;
use tenside::error::{Error, Fault, FaultKind};
use tenside::number::{Exact, Mass};

use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, Number, Several, WeighDay};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::product::weights::confidence_of;

record! {
    "tenside.batch",
    /// What one bar comes to; standard errors are those of the linearised fit.
    DriedBar of tenside::batch::DriedBar, |bar| {
        /// What the bar is called.
        name: String = bar.name,
        /// Its final weight, grams.
        plateau: f64 = bar.plateau,
        /// The standard error of that.
        plateau_error: f64 = bar.plateau_error,
        /// What leaves it from the first weigh-in on, percent of what it weighs then by the fit.
        loss: f64 = bar.loss,
        /// The standard error of that.
        loss_error: f64 = bar.loss_error,
    }
}

record! {
    "tenside.batch",
    /// When one bar is within a tolerance of its final weight.
    ReadyBar of tenside::batch::ReadyBar, |bar| {
        /// What the bar is called.
        name: String = bar.name,
        /// The day on which it is, by the fit; the first weigh-in, where the fit gives an earlier one.
        day: f64 = bar.day,
        /// The standard error of the day that the fit gives, which may lie before the first weigh-in.
        error: f64 = bar.error,
        /// The day by which it is with the confidence asked for; the first weigh-in at the earliest.
        sure_day: f64 = bar.sure_day,
    }
}

record! {
    "tenside.batch",
    /// What one bar weighs on a day; masses in grams.
    DayWeight of tenside::batch::DayWeight, |weight| {
        /// What the bar is called.
        name: String = weight.name,
        /// The day.
        day: f64 = weight.day,
        /// What it weighs by the fit.
        mass: f64 = weight.mass,
        /// The low end of what a weigh-in of that day shows with the confidence asked for.
        low: f64 = weight.low,
        /// The high end.
        high: f64 = weight.high,
    }
}

/// Bars that dry to their final weights, each to its own and all at one rate. `weigh_ins` are by bar its days, counted
/// from any day, and what it weighed; `readability` is the division of the balance, by which readings may seem to rise.
/// In the place of every day a `datetime.date` can stand; the earliest is day 0 then.
///
/// >>> masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
/// >>> drying = td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g")
/// >>> loss, error = drying.loss
/// >>> round(loss, 1), error < 0.2
/// (7.0, True)
/// >>> td.batch.DryingCurve({"first": [(0, "70 g"), (1, "70 g"), (2, "70 g"), (3, "70 g")]})
/// Traceback (most recent call last):
/// ...
/// tenside.errors.Contradiction: bar "first": every weigh-in is the same (found 70 g and then 70 g); a bar that does not dry has its final weight already; leave it out
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct DryingCurve(pub(crate) tenside::batch::DryingCurve);

shown!(DryingCurve, |it| it.0.page());
value!(DryingCurve, |it| it.weigh_ins().len());

document!(DryingCurve, |it| &it.0, back alone by tenside::batch::DryingCurve);

getters!(DryingCurve {
    /// The weigh-ins by bar: day, and grams.
    weigh_ins: IndexMap<String, Vec<(Fraction, Fraction)>> = |it| {
        let grams = |(day, mass): &(Exact, Mass)| (Fraction(day.clone()), Fraction(mass.grams().clone()));
        it.weigh_ins().iter().map(|bar| (bar.name.clone(), bar.weigh_ins.iter().map(grams).collect())).collect()
    };
    /// The division of the balance, grams, if stated.
    readability: Option<Fraction> = |it| it.readability().map(|division| Fraction(division.grams().clone()));
    /// The date that is day 0, if the weigh-ins are by date.
    day_zero: Option<String> = |it| it.day_zero().map(|date| date.to_string());
    /// The rate, per day, with its standard error.
    rate: (f64, f64) = |it| it.rate();
    /// The days in which half of what is still to leave does, with their standard error.
    half_time: (f64, f64) = |it| it.half_time();
    /// What leaves a bar from its first weigh-in on, percent: the mean over the bars, with its standard error.
    loss: (f64, f64) = |it| it.loss();
    /// The standard deviation of a weigh-in about the curve, grams.
    residual_deviation: f64 = |it| it.residual_deviation();
    /// Weigh-ins less what was fitted.
    degrees_of_freedom: u32 = |it| it.degrees_of_freedom();
    /// What each bar comes to.
    bars: Rows<DriedBar> = |it| it.bars().into_iter().map(DriedBar::from).collect();
    /// What to know about it.
    notes: Vec<String> = |it| it.notes();
    /// Rate and final weights on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl DryingCurve {
    #[new]
    #[pyo3(signature = (weigh_ins, *, readability=None))]
    fn new(
        py: Python<'_>,
        weigh_ins: IndexMap<String, Several<(WeighDay, AMass)>>,
        readability: Option<AMass>,
    ) -> Outcome<Self> {
        let days = || weigh_ins.values().flat_map(|bar| &bar.0).map(|(day, _)| day);
        let dates = || days().filter_map(|day| if let WeighDay::Dated(date) = day { Some(date.0) } else { None });
        let day_zero = dates().min();
        if day_zero.is_some() && dates().count() < days().count() {
            let fault =
                Fault::new(FaultKind::Contradiction, "some weigh-ins are by date and some by the number of the day");
            return Err(Error::from(fault.at("weigh-ins").remedy("give all by date, or all by day")).into());
        }
        let bars = weigh_ins
            .into_iter()
            .map(|(name, weigh_ins)| {
                let (mut counted, mut dated) = (Vec::new(), Vec::new());
                for (day, mass) in weigh_ins.0 {
                    match day {
                        WeighDay::Counted(day) => counted.push((day.0, mass.0)),
                        WeighDay::Dated(date) => dated.push((date.0, mass.0)),
                    }
                }
                match day_zero {
                    Some(day_zero) => BarWeighIns::dated(&name, day_zero, dated),
                    None => BarWeighIns::new(&name, counted),
                }
            })
            .collect::<Result<Vec<_>, _>>()?;
        let curve = py.detach(|| tenside::batch::DryingCurve::new(bars, readability.map(|division| division.0)))?;
        Ok(DryingCurve(match day_zero {
            Some(day_zero) => curve.counted_from(day_zero),
            None => curve,
        }))
    }

    /// When each bar is within so many percent of its final weight: by the fit, and with the confidence in percent.
    ///
    /// >>> masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
    /// >>> ready = td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g").ready(tolerance=0.5)[0]
    /// >>> 5 < ready.day < ready.sure_day < 10
    /// True
    #[pyo3(signature = (*, tolerance, confidence=None))]
    fn ready(&self, tolerance: Number, confidence: Option<Number>) -> Outcome<Rows<ReadyBar>> {
        let ready = self.0.ready(tolerance.0, confidence_of(confidence)?)?;
        Ok(ready.into_iter().map(ReadyBar::from).collect())
    }

    /// What each bar weighs on a day, or on a date where the weigh-ins are by date, with the interval in which a
    /// weigh-in lies with the confidence in percent.
    ///
    /// >>> masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
    /// >>> day = td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g").at(14)[0]
    /// >>> day.low < day.mass < day.high
    /// True
    #[pyo3(signature = (day, *, confidence=None))]
    fn at(&self, day: WeighDay, confidence: Option<Number>) -> Outcome<Rows<DayWeight>> {
        let day = match day {
            WeighDay::Counted(day) => day.0.to_f64(),
            WeighDay::Dated(date) => Exact::from(self.0.day_of(date.0)?).to_f64(),
        };
        Ok(self.0.at(day, confidence_of(confidence)?)?.into_iter().map(DayWeight::from).collect())
    }

    /// What each bar weighs at so many `points` in time, evenly from the first weigh-in until hardly anything is left
    /// to dry; `confidence` as for `at`.
    ///
    /// >>> masses = ["70.0 g", "68.2 g", "67.1 g", "66.3 g", "65.9 g", "65.6 g", "65.4 g"]
    /// >>> len(td.batch.DryingCurve({"first": list(enumerate(masses))}, readability="0.1 g").curve(20))
    /// 20
    #[pyo3(signature = (points=61, *, confidence=None))]
    fn curve(&self, py: Python<'_>, points: u32, confidence: Option<Number>) -> Outcome<Rows<DayWeight>> {
        let confidence = confidence_of(confidence)?;
        Ok(py.detach(|| self.0.curve(points, confidence))?.into_iter().map(DayWeight::from).collect())
    }

    fn __repr__(&self) -> String {
        let (loss, error) = self.0.loss();
        format!("<DryingCurve of {} bars, loss {loss:.2} ± {error:.2} %>", self.0.weigh_ins().len())
    }
}
