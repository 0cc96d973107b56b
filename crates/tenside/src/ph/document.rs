//! Titrations, and batches brought to a pH by one, as documents, and back. Masses are in grams.

use std::sync::Arc;

use super::titration::Calculation;
use super::{Adjustment, Effect, Portion, Titration, TitrationPoint};
use crate::bounds::Quantity;
use crate::catalogue::{Catalogue, ContentsDocument, Winner, read_contents};
use crate::document::{IntervalDocument, Materials, Notation, Number, TableView, form, forms, restore, written};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{FormulaDocument, read_formula};
use crate::material::Material;
use crate::number::Exact;
use crate::reading::{ReadingDocument, read_reading};

written! {
    /// What was added.
    struct ReagentDocument {
        /// The id of the raw material.
        id: String,
        /// The id of its lot.
        #[serde(skip_serializing_if = "Option::is_none")]
        lot_id: Option<String>,
        /// The substances, raw material and lot that it is.
        #[serde(flatten)]
        contents: ContentsDocument,
    }
}

impl ReagentDocument {
    fn of(reagent: &Arc<Material>, materials: Materials) -> Self {
        ReagentDocument {
            id: reagent.id().to_string(),
            lot_id: reagent.lot().map(|lot| lot.id().to_string()),
            contents: ContentsDocument::of_lines(std::iter::once(reagent), materials),
        }
    }
}

fn read_reagent(view: &TableView<'_>, catalogue: &Catalogue) -> Option<Arc<Material>> {
    let id = view.needed("id", |view| view.text("id"));
    let lot = view.text("lot_id");
    let embedded = read_contents(view, catalogue.substances(), |id| catalogue.find(id));
    let catalogue = view.accept("material", catalogue.merge(&embedded, Winner::Theirs))?;
    let material = view.accept("id", catalogue.material(id?))?;
    match lot {
        None => Some(Arc::clone(material)),
        Some(lot) => {
            Some(Arc::new(view.accept("lot_id", material.with_lot(view.accept("lot_id", catalogue.lot(lot))?))?.0))
        }
    }
}

form! {
    /// A point of a titration.
    TitrationPointDocument of TitrationPoint, |it| {
        /// All that has been added up to here, grams.
        added: Number = it.added.grams().into(),
        /// The pH then read.
        ph: Number = it.ph.into(),
    }
}

written! {
    /// What a titration was calculated from.
    struct CalculationDocument {
        /// The formula.
        formula: FormulaDocument,
        /// The most that is added, grams.
        most: Number,
        /// °C.
        temperature: Number,
    }
}

form! {
    /// A trial titration.
    TitrationDocument of Titration as "titration/1", |it, materials| {
        /// The mass of product titrated, grams.
        sample: Number = it.sample().grams().into(),
        /// What was added.
        reagent: ReagentDocument = ReagentDocument::of(it.reagent(), materials),
        /// What that does to the pH.
        effect: Effect,
        /// How the sample was dispersed, by mass.
        dilution: String = it.dilution().to_string(),
        /// The points, in the order of adding.
        points: Vec<TitrationPointDocument> = forms(it.points()),
        /// What a reading may be off by, in pH.
        uncertainty: Number,
        /// What it was calculated from; absent where its points were read.
        #[serde(skip_serializing_if = "Option::is_none")]
        calculation: Option<CalculationDocument> = it.calculation.as_deref().map(|calculation| CalculationDocument {
            formula: FormulaDocument::of(&calculation.formula, materials),
            most: calculation.most.grams().into(),
            temperature: Exact::from_shortest(calculation.temperature).unwrap_or_default().into(),
        }),
    }
}

const TITRATION: [&str; 7] = ["sample", "reagent", "effect", "dilution", "points", "uncertainty", "calculation"];

fn read_titration(view: &TableView<'_>, catalogue: &Catalogue) -> Option<Titration> {
    let sample = view.needed("sample", |view| view.grams("sample"));
    let reagent = view.needed("reagent", |view| view.table("reagent", |view| read_reagent(view, catalogue)));
    let effect = view.needed("effect", |view| view.choice("effect"));
    let dilution = view.needed("dilution", |view| view.accept("dilution", view.text("dilution")?.parse()));
    let points = view.tables("points", |view| {
        let added = view.needed("added", |view| view.grams("added"));
        let ph = view.needed("ph", |view| view.decimal("ph", Quantity::Ph));
        Some((added?, ph?))
    });
    let uncertainty = view.needed("uncertainty", |view| view.decimal("uncertainty", Quantity::PhUncertainty));
    let mut is_calculated = false;
    let calculation = view.table("calculation", |view| {
        is_calculated = true;
        let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
        let most = view.needed("most", |view| view.grams("most"));
        let temperature = view.needed("temperature", |view| view.exact("temperature", Some(Quantity::Temperature)));
        Some(Calculation { formula: formula?, most: most?, temperature: temperature?.to_f64() })
    });
    // What could not be read is reported already.
    if points.len() != view.count("points") || is_calculated != calculation.is_some() {
        return None;
    }
    let (sample, reagent, dilution, uncertainty) = (sample?, reagent?, dilution?, uncertainty?);
    let read = Titration::with_effect(sample, Arc::clone(&reagent), dilution, points, effect?);
    let read = view.accept("points", view.accept("points", read)?.with_uncertainty(uncertainty))?;
    let Some(Calculation { formula, most, temperature }) = calculation else { return Some(read) };
    let calculated =
        view.accept("calculation", formula.calculated_titration(reagent, &most, &dilution, temperature))?;
    if read.calculation_aside() != calculated.calculation_aside() {
        let fault = Fault::new(FaultKind::Contradiction, "a calculation gives another titration");
        view.fault("points", fault.remedy("calculate it again"));
        return None;
    }
    Some(calculated)
}

impl Titration {
    /// Reads a titration back; one that was calculated is calculated again.
    ///
    /// # Errors
    /// Every fault of the document with line and column, and points that a calculation does not give.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, &TITRATION, |view| read_titration(view, catalogue))
    }
}

form! {
    /// A portion, and the reading after it.
    PortionDocument of Portion, |it| {
        /// What was added, grams.
        added: Number = it.added.grams().into(),
        /// The reading after it.
        reading: ReadingDocument = (&it.reading).into(),
    }
}

written! {
    /// A range of pH that is wanted.
    struct TargetRangeDocument {
        /// Its low end.
        low: Number,
        /// Its high end.
        high: Number,
    }
}

form! {
    /// A batch brought to a pH.
    AdjustmentDocument of Adjustment as "adjustment/1", |it, materials| {
        /// The trial.
        titration: TitrationDocument = crate::document::ResultDocument::form(it.titration(), materials)?,
        /// The mass of product before anything was added, grams.
        batch: Number = it.batch().grams().into(),
        /// The first reading.
        start: ReadingDocument,
        /// The pH wanted; absent where a range is.
        #[serde(skip_serializing_if = "Option::is_none")]
        target: Option<Number> = it.range().is_none().then(|| it.target().into()),
        /// The range wanted.
        #[serde(skip_serializing_if = "Option::is_none")]
        range: Option<TargetRangeDocument> = it.range().map(|(low, high)| TargetRangeDocument { low: low.into(), high: high.into() }),
        /// Of a range, the pH that is nearest to the last reading.
        #[serde(skip_serializing_if = "Option::is_none")]
        nearest: Option<Number> = it.range().map(|_| it.target().into()),
        /// What went in so far.
        portions: Vec<PortionDocument> = forms(it.portions()),
        /// All that went in so far, grams.
        added: Number = it.added()?.grams().into(),
        /// The grams still missing, going by the last reading; null where that cannot be said.
        remaining: Option<IntervalDocument> = it.remaining().ok().as_ref().map(IntervalDocument::from),
        /// True if the last reading is within what a reading may be off by of the target, or lies inside the range.
        is_reached: bool,
        /// True if the last reading lies past the target.
        is_overshot: bool,
        /// What to know, cautions included.
        notes: Vec<String>,
    }
}

impl Adjustment {
    /// Reads the adjustment of a batch back. What it says besides is believed where working it out again gives just
    /// that.
    ///
    /// # Errors
    /// Every fault of titration, readings and portions; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, &["titration", "batch", "start", "target", "range", "portions"], |view| {
            let titration = view.needed("titration", |view| {
                view.table("titration", |view| {
                    view.version("titration/1");
                    read_titration(view, catalogue)
                })
            });
            let batch = view.needed("batch", |view| view.grams("batch"));
            let start = view.needed("start", |view| view.table("start", read_reading));
            let (key, ends) = if view.has("range") {
                let end = |view: &TableView<'_>, key| view.needed(key, |view| view.decimal(key, Quantity::Ph));
                ("range", view.table("range", |view| Some((end(view, "low"), end(view, "high")))))
            } else {
                let target = view.needed("target", |view| view.decimal("target", Quantity::Ph));
                ("target", Some((target, target)))
            };
            let portions = view.tables("portions", |view| {
                let added = view.needed("added", |view| view.grams("added"));
                let reading = view.needed("reading", |view| view.table("reading", read_reading));
                Some((added?, reading?))
            });
            // What could not be read is reported already.
            let titration = titration.filter(|_| portions.len() == view.count("portions"))?;
            let (low, high) = ends?;
            let mut adjustment = view.accept(key, titration.adjust_into(batch?, start?, low?, high?))?;
            for (added, reading) in portions {
                adjustment = view.accept("portions", adjustment.with_portion(added, reading))?;
            }
            Some(adjustment)
        })
    }
}
