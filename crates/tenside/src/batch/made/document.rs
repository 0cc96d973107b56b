//! Batches as made as documents, and back. Masses are in grams.

use std::sync::Arc;

use super::actual::Added;
use super::{Actual, Made, MadeLine, MassBalance};
use crate::batch::document::{PlanDocument, read_batch};
use crate::catalogue::Catalogue;
use crate::document::{IntervalDocument, Notation, Number, TableView, form, forms, restore, written};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, FormulaDocument, Line, read_formula};
use crate::material::Material;
use crate::number::Mass;

written! {
    /// The mass of a line.
    struct LineMassDocument {
        /// The line.
        line: String,
        /// Its mass.
        mass: Number,
    }
}

written! {
    /// The lot that a line was taken from.
    struct LineLotDocument {
        /// The line.
        line: String,
        /// The lot.
        lot: String,
    }
}

form! {
    /// What was added beyond the plan.
    AddedDocument of Added, |it| {
        /// The line it went to, or its own.
        line: String,
        /// The raw material, where it is a line of its own.
        #[serde(skip_serializing_if = "Option::is_none")]
        material: Option<String> = it.material.as_ref().map(|material| material.id().to_string()),
        /// Its lot.
        #[serde(skip_serializing_if = "Option::is_none")]
        lot: Option<String> = it.material.as_ref().and_then(|material| Some(material.lot()?.id().to_string())),
        /// Its mass.
        mass: Number,
    }
}

form! {
    /// What was really weighed and what happened to it; what is not stated was done as planned.
    ActualDocument of Actual, |it| {
        /// What lines really weighed.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        weighed: Vec<LineMassDocument> =
            it.weighed.iter().map(|(line, mass)| LineMassDocument { line: line.clone(), mass: mass.into() }).collect(),
        /// Lots that lines were really taken from.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        lots: Vec<LineLotDocument> =
            it.lots.iter().map(|(line, lot)| LineLotDocument { line: line.clone(), lot: lot.id().to_string() }).collect(),
        /// What was added beyond the plan.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        added: Vec<AddedDocument> = forms(&it.added),
        /// Water that left before pressing.
        #[serde(skip_serializing_if = "Option::is_none")]
        boiled_off: Option<Number> = it.boiled_off.as_ref().map(Number::from),
        /// The net mass in the bowl before pressing, from which the water that left follows.
        #[serde(skip_serializing_if = "Option::is_none")]
        in_bowl: Option<Number> = it.in_bowl.as_ref().map(Number::from),
        /// The bars as pressed, together.
        #[serde(skip_serializing_if = "Option::is_none")]
        pressed: Option<Number> = it.pressed.as_ref().map(Number::from),
        /// Trimmed off.
        #[serde(skip_serializing_if = "Option::is_none")]
        trim: Option<Number> = it.trim.as_ref().map(Number::from),
        /// Of that, returned to the bowl.
        #[serde(skip_serializing_if = "Option::is_none")]
        trim_returned: Option<Number> = it.trim_returned.as_ref().map(Number::from),
        /// Rejected.
        #[serde(skip_serializing_if = "Option::is_none")]
        rejected: Option<Number> = it.rejected.as_ref().map(Number::from),
    }
}

form! {
    /// A line as it was made.
    MadeLineDocument of MadeLine, |it| {
        /// The line's name.
        line: String = it.line().name().to_string(),
        /// The mass that the sheet asked for; null where the plan does not have it.
        planned: Option<Number> = it.planned().map(Number::from),
        /// False where nothing was stated, so that it counts as planned.
        is_stated: bool = it.is_stated(),
        /// The mass in the batch.
        mass: Number = it.mass().into(),
        /// Its share of the batch in percent, with what the scales could not see.
        percent: IntervalDocument = it.percent().into(),
        /// By how much it is more than planned, percent of the line.
        deviation_percent: Option<Number> = it.deviation_percent().map(Number::from),
        /// The same in percent of the batch as planned.
        deviation_of_batch: Number = it.deviation_of_batch().into(),
    }
}

form! {
    /// The mass of a batch from the scale to the bars.
    MassBalanceDocument of MassBalance, |it| {
        /// Weighed in as planned or instead.
        weighed: Number,
        /// Added beyond the plan.
        added: Number,
        /// Water that left before pressing.
        boiled_off: Number,
        /// In the bowl before pressing.
        in_bowl: Number,
        /// Trimmed off and not returned.
        trim: Number,
        /// Rejected.
        rejected: Number,
        /// The bars as pressed, together; null where they were not weighed.
        pressed: Option<Number> = it.pressed.as_ref().map(Number::from),
        /// What is left of the mass in the bowl after trim, rejects and bars.
        unaccounted: Option<Number> = it.unaccounted.as_ref().map(Number::from),
    }
}

form! {
    /// A batch as it was made. Masses are in grams.
    MadeDocument of Made as "made/1", |it, materials| {
        /// The batch as planned.
        plan: PlanDocument = PlanDocument::of(it.batch(), materials),
        /// What was stated of how it went.
        actual: ActualDocument,
        /// The formula that came of it.
        formula: FormulaDocument = FormulaDocument::of(it.formula(), materials),
        /// The lines: those planned in their order, then additions.
        lines: Vec<MadeLineDocument> = forms(it.lines()),
        /// Where the mass went.
        balance: MassBalanceDocument,
    }
}

/// The raw material of an entry: one of the formula made, else one of the catalogue.
fn material_of(made: &Formula, catalogue: &Catalogue, id: &str, lot: Option<&str>) -> Result<Arc<Material>, Error> {
    let is_it = |line: &&Line| line.material().id() == id && line.material().lot().map(|lot| lot.id()) == lot;
    if let Some(line) = made.lines().iter().find(is_it) {
        return Ok(Arc::clone(line.material()));
    }
    let material = catalogue.material(id)?;
    match lot {
        Some(lot) => Ok(Arc::new(material.with_lot(catalogue.lot(lot)?)?.0)),
        None => Ok(Arc::clone(material)),
    }
}

/// Reads what was stated; lots and raw materials are those of the formula made or of the catalogue.
pub(in crate::batch) fn read_actual(view: &TableView<'_>, made: &Formula, catalogue: &Catalogue) -> Option<Actual> {
    let mut actual = Actual::new();
    let weighed = view.tables("weighed", |view| {
        Some((
            view.needed("line", |view| view.text("line"))?.to_string(),
            view.needed("mass", |view| view.grams("mass"))?,
        ))
    });
    for (line, mass) in weighed {
        actual = view.accept("weighed", actual.weighed(&line, mass))?;
    }
    let lots = view.tables("lots", |view| {
        Some((
            view.needed("line", |view| view.text("line"))?.to_string(),
            view.needed("lot", |view| view.text("lot"))?.to_string(),
        ))
    });
    for (line, lot) in lots {
        let known =
            made.lines().iter().filter_map(|line| line.material().lot()).find(|known| known.id() == lot).cloned();
        let lot = match known {
            Some(lot) => lot,
            None => Arc::clone(view.accept("lots", catalogue.lot(&lot))?),
        };
        actual = view.accept("lots", actual.from_lot(&line, &lot))?;
    }
    let added = view.tables("added", |view| {
        let line = view.needed("line", |view| view.text("line")).map(str::to_string);
        let (material, lot) = (view.text("material"), view.text("lot"));
        let mass = view.needed("mass", |view| view.grams("mass"));
        let material = match material {
            Some(id) => Some(view.accept("material", material_of(made, catalogue, id, lot))?),
            None => None,
        };
        Some((line?, material, mass?))
    });
    for (line, material, mass) in added {
        let with = match material {
            Some(material) => actual.added_material(&line, &material, mass),
            None => actual.added(&line, mass),
        };
        actual = view.accept("added", with)?;
    }
    if let Some(mass) = view.grams("boiled_off") {
        actual = view.accept("boiled_off", actual.boiled_off(mass))?;
    }
    if let Some(mass) = view.grams("in_bowl") {
        actual = view.accept("in_bowl", actual.in_bowl(mass))?;
    }
    let none = || -> Option<Mass> { "0 g".parse().ok() };
    match (view.grams("trim"), view.grams("trim_returned")) {
        (None, None) => {}
        (off, returned) => actual = view.accept("trim", actual.trimmed(off.or_else(none)?, returned.or_else(none)?))?,
    }
    if let Some(mass) = view.grams("pressed") {
        actual = actual.pressed(mass);
    }
    if let Some(mass) = view.grams("rejected") {
        actual = actual.rejected(mass);
    }
    Some(actual)
}

impl Made {
    /// Reads a batch as made back. It is believed where reckoning again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of plan and statements with line and column; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, &["plan", "actual", "formula"], |view| read_made(view, catalogue))
    }
}

/// Reads plan, statements and the formula made.
fn read_made(view: &TableView<'_>, catalogue: &Catalogue) -> Option<Made> {
    let plan = view.needed("plan", |view| view.table("plan", |view| read_batch(view, catalogue)));
    let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)))?;
    let actual = view.needed("actual", |view| view.table("actual", |view| read_actual(view, &formula, catalogue)));
    let made = view.accept("actual", plan?.as_made(&actual?))?;
    if *made.formula() != formula {
        let fault = Fault::new(FaultKind::Contradiction, "this is not the formula that comes of what was weighed");
        view.fault(
            "formula",
            fault.remedy(
                "it was edited, or its raw materials are others; state what was weighed and let it be worked out",
            ),
        );
        return None;
    }
    Some(made)
}
