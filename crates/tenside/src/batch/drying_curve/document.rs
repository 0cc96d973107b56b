//! Drying curves as documents, and back. Masses are in grams, days are days; floats have nine digits.

use super::{BarWeighIns, DriedBar, DryingCurve};
use crate::bounds::Quantity;
use crate::document::{Notation, Number, TableView, form, forms, restore, written};
use crate::error::Error;
use crate::number::{Exact, Mass};

written! {
    /// One weigh-in.
    struct WeighInDocument {
        /// The day.
        day: Number,
        /// What the bar weighed.
        mass: Number,
    }
}

form! {
    /// The weigh-ins of one bar.
    BarWeighInsDocument of BarWeighIns, |it| {
        /// What the bar is called.
        name: String,
        /// Its weigh-ins.
        weigh_ins: Vec<WeighInDocument> = it.weigh_ins.iter().map(|(day, mass)| WeighInDocument { day: day.into(), mass: mass.into() }).collect(),
    }
}

form! {
    /// What one bar comes to.
    DriedBarDocument of DriedBar, |it| {
        /// What the bar is called.
        name: String,
        /// Its final weight.
        plateau: Number = Number::of_float(it.plateau),
        /// The standard error of that.
        plateau_error: Number = Number::of_float(it.plateau_error),
        /// What leaves it from the first weigh-in on, percent.
        loss: Number = Number::of_float(it.loss),
        /// The standard error of that.
        loss_error: Number = Number::of_float(it.loss_error),
    }
}

form! {
    /// Bars that dry to their final weights.
    DryingCurveDocument of DryingCurve as "drying-curve/1", |it, _materials| {
        /// The bars with their weigh-ins.
        bars: Vec<BarWeighInsDocument> = forms(it.weigh_ins()),
        /// The division of the balance.
        #[serde(skip_serializing_if = "Option::is_none")]
        readability: Option<Number> = it.readability().map(Number::from),
        /// The date from which days are counted: day 0.
        #[serde(skip_serializing_if = "Option::is_none")]
        day_zero: Option<String> = it.day_zero().map(|date| date.to_string()),
        /// The rate, per day.
        rate: Number = Number::of_float(it.rate().0),
        /// The standard error of that.
        rate_error: Number = Number::of_float(it.rate().1),
        /// The mean loss from the first weigh-in on, percent.
        loss: Number = Number::of_float(it.loss().0),
        /// The standard error of that.
        loss_error: Number = Number::of_float(it.loss().1),
        /// The standard deviation of a weigh-in about the curve.
        residual_deviation: Number = Number::of_float(it.residual_deviation()),
        /// Weigh-ins less what was fitted.
        degrees_of_freedom: u32,
        /// What each bar comes to.
        dried: Vec<DriedBarDocument> = forms(&it.bars()),
        /// What to know about it.
        notes: Vec<String>,
    }
}

fn read_bar(view: &TableView<'_>) -> Option<BarWeighIns> {
    let name = view.needed("name", |view| view.name("name"));
    let weigh_ins: Vec<(Exact, Mass)> = view.tables("weigh_ins", |view| {
        let day = view.needed("day", |view| view.exact("day", Some(Quantity::Day)));
        Some((day?, view.needed("mass", |view| view.grams("mass"))?))
    });
    Some(BarWeighIns { name: name?, weigh_ins })
}

impl DryingCurve {
    /// Reads a drying curve back. It is believed where fitting it again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of the weigh-ins; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["bars", "readability", "day_zero"], |view| {
            let (bars, readability) = (view.tables("bars", read_bar), view.grams("readability"));
            let curve = view.accept("bars", DryingCurve::new(bars, readability))?;
            Some(match view.date("day_zero") {
                Some(day_zero) => curve.counted_from(day_zero),
                None => curve,
            })
        })
    }
}
