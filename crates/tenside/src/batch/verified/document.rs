//! What scales say, as a document, and back. Masses are in grams.

use super::{Fits, PreDilution, ScaleClass, VerifiedScale, Weighable, WeighableLine};
use crate::bounds::Quantity;
use crate::document::{Notation, Number, form, forms, restore, written};
use crate::error::Error;

written! {
    /// A line to weigh.
    struct LineMassDocument {
        /// The line.
        line: String,
        /// What is to be weighed.
        mass: Number,
        /// The phase that it belongs to: it is diluted with a line of that.
        #[serde(skip_serializing_if = "Option::is_none")]
        phase: Option<String>,
    }
}

form! {
    /// A verified scale.
    VerifiedScaleDocument of VerifiedScale, |it| {
        /// Its name.
        name: String = it.name().to_string(),
        /// Its class.
        class: ScaleClass = it.class(),
        /// Its verification interval.
        interval: Number = it.interval().into(),
        /// Its largest load.
        largest: Number = it.largest().into(),
    }
}

form! {
    /// A dilution to weigh instead of a line that is too small.
    PreDilutionDocument of PreDilution, |it| {
        /// Parts of carrier to one part of material.
        parts: u32,
        /// The material to weigh for it.
        material: Number,
        /// The carrier to weigh for it.
        carrier: Number,
        /// How much of the dilution goes into the batch.
        portion: Number,
    }
}

form! {
    /// What scales say of one line.
    WeighableLineDocument of WeighableLine, |it| {
        /// The line.
        line: String,
        /// What is to be weighed.
        mass: Number,
        /// The scale that weighs it best.
        scale: Option<String>,
        /// The most that scale may be off.
        error: Option<Number> = it.error.as_ref().map(Number::from),
        /// Whether it can be weighed.
        fits: Fits,
        /// The smallest load that scale weighs within the error asked for.
        least: Option<Number> = it.least.as_ref().map(Number::from),
        /// How to dilute it.
        dilution: Option<PreDilutionDocument> = it.dilution.as_ref().map(PreDilutionDocument::from),
    }
}

form! {
    /// Which lines scales can weigh within a relative error.
    WeighableDocument of Weighable as "weighable/1", |it, _materials| {
        /// The lines with what is to be weighed.
        lines: Vec<LineMassDocument> = it.lines().iter().zip(&it.phases)
            .map(|((line, mass), phase)| LineMassDocument { line: line.clone(), mass: mass.into(), phase: phase.clone() }).collect(),
        /// The scales.
        scales: Vec<VerifiedScaleDocument> = forms(it.scales()),
        /// The relative error asked for, percent of each line.
        tolerance: Number,
        /// What the scales say of each line.
        rows: Vec<WeighableLineDocument> = forms(it.rows()),
        /// What to know about it.
        notes: Vec<String>,
        /// Where classes and errors come from.
        source: &'static str,
    }
}

impl Weighable {
    /// Reads the answer back. It is believed where asking the scales again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of lines and scales; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["lines", "scales", "tolerance"], |view| {
            let lines = view.tables("lines", |view| {
                let line = view.needed("line", |view| view.name("line"));
                let (mass, phase) = (view.needed("mass", |view| view.grams("mass")), view.name("phase"));
                Some(((line?, mass?), phase))
            });
            let scales = view.tables("scales", |view| {
                let name = view.needed("name", |view| view.name("name"));
                let class = view.needed("class", |view| view.choice::<ScaleClass>("class"));
                let (interval, largest) = (
                    view.needed("interval", |view| view.grams("interval")),
                    view.needed("largest", |view| view.grams("largest")),
                );
                view.accept("interval", VerifiedScale::new(&name?, class?, interval?, largest?))
            });
            let tolerance = view.needed("tolerance", |view| view.decimal("tolerance", Quantity::RoundingTolerance));
            let (lines, phases) = lines.into_iter().unzip();
            view.accept("lines", Weighable::in_phases(lines, phases, &scales, tolerance?))
        })
    }
}
