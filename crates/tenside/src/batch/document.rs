//! Batches as documents, and back. Masses are in grams.

use super::{BarMasses, Batch, BatchSize, Note, Scales, Weighing};
use crate::bounds::Quantity;
use crate::catalogue::Catalogue;
use crate::document::{Materials, Notation, Number, TableView, form, forms, restore, written};
use crate::error::Error;
use crate::formula::{FormulaDocument, read_formula};
use crate::number::{Mass, MassUnit};

form! {
    /// How much is made: the mass charged, or so many bars of a net mass.
    BatchSizeDocument of BatchSize, |it| {
        /// The mass charged.
        #[serde(skip_serializing_if = "Option::is_none")]
        mass: Option<Number> = it.stated_mass().map(Number::from),
        /// How many bars.
        #[serde(skip_serializing_if = "Option::is_none")]
        bars: Option<u32> = it.bars(),
        /// What one of them weighs when it is dry.
        #[serde(skip_serializing_if = "Option::is_none")]
        net: Option<Number> = it.net().map(Number::from),
        /// What drying takes, percent.
        drying_loss: Number = it.drying_loss().into(),
        /// What stays in bowl and press, percent.
        process_loss: Number = it.process_loss().into(),
    }
}

written! {
    /// The scale of one phase.
    struct PhaseScaleDocument {
        /// The phase.
        phase: String,
        /// What its scale counts in.
        division: Number,
    }
}

form! {
    /// What it is weighed on.
    ScalesDocument of Scales, |it| {
        /// What the scale counts in.
        division: Number = it.division("").into(),
        /// Phases with scales of their own.
        phases: Vec<PhaseScaleDocument> =
            it.phases().map(|phase| PhaseScaleDocument { phase: phase.to_string(), division: it.division(phase).into() }).collect(),
        /// The unit of the sheet.
        unit: &'static str = it.unit().symbol(),
        /// The rounding error in percent of a line that is accepted without a note.
        tolerance: Number = it.tolerance().into(),
    }
}

fn read_size(view: &TableView<'_>) -> Option<BatchSize> {
    let (mass, net, bars) = (view.grams("mass"), view.grams("net"), view.whole("bars"));
    let (drying, process) = (view.decimal("drying_loss", Quantity::Loss), view.decimal("process_loss", Quantity::Loss));
    let mut size = match (mass, net, bars) {
        (Some(mass), None, None) => view.accept("mass", BatchSize::of_mass(mass))?,
        (Some(mass), None, Some(bars)) => {
            view.accept("mass", BatchSize::of_mass(mass).and_then(|size| size.pressed_as(bars)))?
        }
        (None, Some(net), Some(bars)) => view.accept("bars", BatchSize::of_bars(bars, net))?,
        _ => {
            let fault = crate::error::Fault::new(
                crate::error::FaultKind::Missing,
                "the size of the batch must be stated exactly once",
            );
            view.fault("", fault.allowed("bars and net, or mass, or mass and bars"));
            return None;
        }
    };
    if let Some(loss) = drying {
        size = view.accept("drying_loss", size.with_drying_loss(loss))?;
    }
    match process {
        Some(loss) => view.accept("process_loss", size.with_process_loss(loss)),
        None => Some(size),
    }
}

fn read_scales(view: &TableView<'_>) -> Option<Scales> {
    let division = view.needed("division", |view| view.grams("division"));
    let phases: Vec<(String, Mass)> = view.tables("phases", |view| {
        let phase = view.needed("phase", |view| view.text("phase")).map(str::to_string);
        Some((phase?, view.needed("division", |view| view.grams("division"))?))
    });
    let unit: Option<MassUnit> = view.text("unit").and_then(|unit| view.accept("unit", unit.parse()));
    let tolerance = view.decimal("tolerance", Quantity::RoundingTolerance);
    let mut scales = view.accept("division", Scales::new(division?))?;
    for (phase, division) in phases {
        scales = view.accept("phases", scales.for_phase(&phase, division))?;
    }
    if let Some(unit) = unit {
        scales = scales.shown_in(unit);
    }
    match tolerance {
        Some(tolerance) => view.accept("tolerance", scales.tolerating(tolerance)),
        None => Some(scales),
    }
}

form! {
    /// A line to weigh.
    WeighingDocument of Weighing, |it| {
        /// The line's name.
        line: String = it.line().name().to_string(),
        /// The line as the sheet names it.
        label: String = it.label(),
        /// Its phase.
        phase: String = it.line().phase().to_string(),
        /// What its scale counts in.
        division: Number = it.division().into(),
        /// What the percentage asks for.
        exact: Number = it.exact().into(),
        /// What is weighed: whole divisions.
        rounded: Number = it.rounded().into(),
        /// Whether it takes the rounding rest of the others.
        takes_rest: bool = it.takes_rest(),
        /// The rounding error in percent of the line.
        error_percent: Number = it.error_percent().into(),
    }
}

form! {
    /// What one bar weighs on its way; exact means over even bars.
    BarMassesDocument of BarMasses, |it| {
        /// How many.
        bars: u32,
        /// Weighed in for one.
        charged: Number,
        /// Left of it after bowl and press.
        pressed: Number,
        /// Left of that after drying.
        dry: Number,
    }
}

written! {
    /// What to know beyond the numbers.
    struct NoteDocument {
        /// What it is about.
        kind: super::NoteKind,
        /// The line it is about, where it is about one.
        line: Option<String>,
        /// The note.
        sentence: String,
    }
}

impl NoteDocument {
    fn of(note: &Note, unit: MassUnit) -> Self {
        NoteDocument { kind: note.kind(), line: note.line().map(str::to_string), sentence: note.sentence(unit) }
    }
}

form! {
    /// A formula weighed out. Masses are in grams.
    BatchDocument of Batch as "batch/1", |it, materials| {
        /// The formula.
        formula: FormulaDocument = FormulaDocument::of(it.formula(), materials),
        /// How much is made.
        size: BatchSizeDocument,
        /// What it is weighed on.
        scales: ScalesDocument,
        /// The batch number.
        #[serde(skip_serializing_if = "Option::is_none")]
        number: Option<String> = it.number().map(str::to_string),
        /// The day.
        #[serde(skip_serializing_if = "Option::is_none")]
        date: Option<String> = it.date().map(|date| date.to_string()),
        /// The mass asked for, exact.
        asked: Number,
        /// The mass weighed: the exact sum of the rounded lines.
        weighed: Number,
        /// The lines to weigh, phase by phase in working order.
        weighings: Vec<WeighingDocument> = forms(it.weighings()),
        /// What one bar weighs on its way, where the number of bars is stated.
        bar_masses: Option<BarMassesDocument> = it.bar_masses().as_ref().map(BarMassesDocument::from),
        /// What to know beyond the numbers.
        notes: Vec<NoteDocument> = it.notes().iter().map(|note| NoteDocument::of(note, it.scales().unit())).collect(),
    }
}

impl Batch {
    /// Reads a batch back. It is believed where weighing out again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of formula, size and scales with line and column; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, &["formula", "size", "scales", "number", "date"], |view| read_batch(view, catalogue))
    }
}

written! {
    /// A batch as it is asked for: alone, or inside the document of what was made of it.
    pub(super) struct PlanDocument {
        /// The formula.
        formula: FormulaDocument,
        /// How much is made.
        size: BatchSizeDocument,
        /// What it is weighed on.
        scales: ScalesDocument,
        /// The batch number.
        #[serde(skip_serializing_if = "Option::is_none")]
        number: Option<String>,
        /// The day.
        #[serde(skip_serializing_if = "Option::is_none")]
        date: Option<String>,
    }
}

impl PlanDocument {
    pub(super) fn of(batch: &Batch, materials: Materials) -> Self {
        PlanDocument {
            formula: FormulaDocument::of(batch.formula(), materials),
            size: batch.size().into(),
            scales: batch.scales().into(),
            number: batch.number().map(str::to_string),
            date: batch.date().map(|date| date.to_string()),
        }
    }
}

/// Reads what a batch was asked for, and weighs it out.
pub(super) fn read_batch(view: &TableView<'_>, catalogue: &Catalogue) -> Option<Batch> {
    let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
    let size = view.needed("size", |view| view.table("size", read_size));
    let scales = view.needed("scales", |view| view.table("scales", read_scales));
    let (number, date) = (view.text("number"), view.date("date"));
    let mut batch = view.accept("size", formula?.batch(size?, scales?))?;
    if let Some(number) = number {
        batch = view.accept("number", batch.numbered(number))?;
    }
    Some(match date {
        Some(date) => batch.dated(date),
        None => batch,
    })
}
