//! How bars are used up.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::batch::UsedBar;

use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, Number, Several};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::product::weights::confidence_of;

record! {
    "tenside.batch",
    /// What a wash takes of one bar.
    BarUse of &UsedBar, |bar| {
        /// What the bar, or who uses it, is called.
        name: String = bar.name.clone(),
        /// Grams a wash, between the first and the last weigh-in.
        grams_a_wash: Fraction = Fraction(bar.grams_a_wash()),
    }
}

/// How bars are used up. `weigh_ins` are by bar the washes so far and what the dry bar weighed; `net` is the net
/// content of a new bar, `active` its active matter in percent, `price` what it costs in any currency.
///
/// >>> used = td.batch.UseUp({"first": [(0, "60 g"), (10, "48 g")], "second": [(0, "60 g"), (10, "45 g")]}, net="60 g", active=50, price=6)
/// >>> float(used.grams_a_wash), round(float(used.washes_a_bar), 1), float(used.active_a_wash), float(used.cost_a_wash)
/// (1.35, 44.4, 0.675, 0.135)
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct UseUp(pub(crate) tenside::batch::UseUp);

shown!(UseUp, |it| it.0.page());
value!(UseUp, |it| it.net());

document!(UseUp, |it| &it.0, back alone by tenside::batch::UseUp);

getters!(UseUp {
    /// What a wash takes of each bar.
    bars: Rows<BarUse> = |it| it.bars().iter().map(BarUse::from).collect();
    /// The net content of a new bar, grams.
    net: Fraction = |it| Fraction(it.net().grams().clone());
    /// The active matter of the bar, percent, if stated.
    active: Option<Fraction> = |it| it.active().cloned().map(Fraction);
    /// What a bar costs, if stated.
    price: Option<Fraction> = |it| it.price().cloned().map(Fraction);
    /// Grams a wash: the mean over the bars.
    grams_a_wash: Fraction = |it| Fraction(it.grams_a_wash());
    /// The standard deviation between the bars, grams a wash; None of one bar.
    standard_deviation: Option<f64> = |it| it.standard_deviation();
    /// How many washes a bar gives.
    washes_a_bar: Fraction = |it| Fraction(it.washes_a_bar());
    /// Grams of active matter a wash, where its percentage is stated.
    active_a_wash: Option<Fraction> = |it| it.active_a_wash().map(Fraction);
    /// What a wash costs, where the price of a bar is stated.
    cost_a_wash: Option<Fraction> = |it| it.cost_a_wash().map(Fraction);
    /// What to know about it.
    notes: Vec<String> = |it| it.notes();
    /// Figures on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl UseUp {
    #[new]
    #[pyo3(signature = (weigh_ins, *, net, active=None, price=None))]
    fn new(
        weigh_ins: IndexMap<String, Several<(u32, AMass)>>,
        net: AMass,
        active: Option<Number>,
        price: Option<Number>,
    ) -> Outcome<Self> {
        let bar = |(name, weigh_ins): (String, Several<(u32, AMass)>)| {
            UsedBar::new(&name, weigh_ins.0.into_iter().map(|(washes, mass)| (washes, mass.0)).collect())
        };
        let bars = weigh_ins.into_iter().map(bar).collect::<Result<Vec<_>, _>>()?;
        let mut used = tenside::batch::UseUp::new(bars, net.0)?;
        if let Some(active) = active {
            used = used.with_active(active.0)?;
        }
        Ok(UseUp(match price {
            Some(price) => used.with_price(price.0)?,
            None => used,
        }))
    }

    /// Between which means of many bars the true one lies with so many percent of confidence, grams a wash; None of one
    /// bar. The low end is no less than 0; where it is 0, the scatter is too great for an interval.
    ///
    /// >>> used = td.batch.UseUp({"first": [(0, "60 g"), (10, "48 g")], "second": [(0, "60 g"), (10, "45 g")]}, net="60 g")
    /// >>> low, high = used.interval(90)
    /// >>> round(low, 2), round(high, 2)
    /// (0.4, 2.3)
    #[pyo3(signature = (confidence=None))]
    fn interval(&self, confidence: Option<Number>) -> Outcome<Option<(f64, f64)>> {
        Ok(self.0.interval(confidence_of(confidence)?)?)
    }

    fn __repr__(&self) -> String {
        format!("<UseUp of {} bars, {} g a wash>", self.0.bars().len(), self.0.grams_a_wash().rounded_text(3))
    }
}
