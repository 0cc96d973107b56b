//! Formulas in documents: they embed the materials and lots they use.

use std::sync::Arc;

use serde::Serialize;

use super::parent::{ParentDocument, read_parent};
use super::{Formula, Line, Phase, PhaseDocument, Purpose, read_phase};
use crate::catalogue::{Catalogue, ContentsDocument, PriceListDocument, Winner, read_contents, read_prices};
use crate::document::{Materials, Notation, Number, Reader, TableView, always_written, write};
use crate::error::{Error, Fault, FaultKind};

/// A formula as documents hold it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct FormulaDocument {
    /// Kind and version.
    tenside: &'static str,
    /// Title.
    title: String,
    /// What it came from.
    #[serde(skip_serializing_if = "Option::is_none")]
    parent: Option<ParentDocument>,
    /// Phases in working order.
    #[serde(rename = "phase", skip_serializing_if = "always_written")]
    phases: Vec<PhaseDocument>,
    /// Lines; percentages sum to exactly 100.
    #[serde(rename = "line")]
    lines: Vec<LineDocument>,
    /// Prices.
    #[serde(skip_serializing_if = "Option::is_none")]
    prices: Option<PriceListDocument>,
    /// The substances, materials and lots it uses.
    #[serde(flatten)]
    contents: ContentsDocument,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct LineDocument {
    /// Name of the line.
    name: String,
    /// Id of the raw material, embedded below.
    material: String,
    /// Its lot.
    #[serde(skip_serializing_if = "Option::is_none")]
    lot: Option<String>,
    /// Phase; that of the raw material where it is not stated.
    #[serde(skip_serializing_if = "always_written")]
    phase: String,
    /// Percent as supplied.
    percent: Number,
    /// Groups it belongs to.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    groups: Vec<String>,
    /// What it is there for; not stated if none is named.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    purposes: Vec<Purpose>,
    /// True for the line that fills to 100.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    qs: bool,
    /// True where the percentage is the user's own.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    fixed: bool,
}

impl From<&Formula> for FormulaDocument {
    fn from(formula: &Formula) -> Self {
        FormulaDocument::of(formula, Materials::Embedded)
    }
}

impl FormulaDocument {
    /// A formula inside the document of a result whose question has its raw materials.
    pub(crate) fn named(formula: &Formula) -> Self {
        FormulaDocument::of(formula, Materials::Named)
    }

    /// What is written of a formula: with the raw materials that it uses, or with their names alone, lots apart.
    #[must_use]
    pub fn of(formula: &Formula, materials: Materials) -> Self {
        FormulaDocument {
            tenside: "formula/1",
            title: formula.title().to_string(),
            parent: formula.parent().map(ParentDocument::from),
            phases: formula.phases().iter().map(PhaseDocument::from).collect(),
            lines: formula
                .lines()
                .iter()
                .map(|line| LineDocument {
                    name: line.name().to_string(),
                    material: line.material().id().to_string(),
                    lot: line.material().lot().map(|lot| lot.id().to_string()),
                    phase: line.phase().to_string(),
                    percent: line.percent().into(),
                    groups: line.groups().to_vec(),
                    purposes: line.purposes().to_vec(),
                    qs: line.is_qs(),
                    fixed: line.is_fixed(),
                })
                .collect(),
            prices: formula.prices().map(|prices| PriceListDocument::from(prices.as_ref())),
            contents: ContentsDocument::of_lines(formula.lines().iter().map(Line::material), materials),
        }
    }
}

impl Formula {
    /// Writes the formula: with everything it uses, or with the raw materials by name.
    ///
    /// # Errors
    /// None for a valid formula.
    pub fn write(&self, notation: Notation, materials: Materials) -> Result<String, Error> {
        write(&FormulaDocument::of(self, materials), notation)
    }

    /// The JSON Schema of formula documents.
    ///
    /// ```
    /// assert!(tenside::formula::Formula::schema().contains("\"$schema\""));
    /// ```
    #[cfg(feature = "schema")]
    #[must_use]
    pub fn schema() -> String {
        crate::document::schema_text::<FormulaDocument>("formula")
    }

    /// Reads a formula document; materials and lots that it does not embed are looked up in the catalogue.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::document::{Materials, Notation};
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::Ppm;
    /// let kaolin = Line::new("clay", Catalogue::starter().material("kaolin")?.clone(), Ppm::WHOLE)?;
    /// let formula = Formula::new("Clay alone", vec![kaolin])?;
    /// assert_eq!(Formula::read(&formula.write(Notation::Toml, Materials::Embedded)?, Notation::Toml, &Catalogue::empty())?, formula);
    /// assert_eq!(Formula::read(&formula.write(Notation::Json, Materials::Named)?, Notation::Json, &Catalogue::starter())?, formula);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the document at once, with line and column.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        Reader::read(text, notation, |view| read_formula(view, catalogue))
    }
}

/// A formula, alone or inside the document of what was made of it.
pub(crate) fn read_formula(view: &TableView<'_>, catalogue: &Catalogue) -> Option<Formula> {
    view.version("formula/1");
    let title = view.needed_name("title");
    let parent = view.table("parent", read_parent);
    let phases = view.tables("phase", read_phase);
    let prices = view.table("prices", read_prices).map(Arc::new);
    let embedded = read_contents(view, catalogue.substances(), |id| catalogue.find(id));
    let catalogue = view.accept("material", catalogue.merge(&embedded, Winner::Theirs))?;
    let mut complete = true;
    let lines = view.tables("line", |view| {
        let line = read_line(view, &catalogue);
        complete &= line.is_some();
        line
    });
    // A line that could not be read is reported already; the sum would only add a second, misleading fault.
    if !complete {
        return None;
    }
    Some(assemble(view, &title?, lines, &phases, prices)?.with_parent(parent))
}

fn assemble(
    view: &TableView<'_>,
    title: &str,
    lines: Vec<Line>,
    phases: &[Phase],
    prices: Option<Arc<crate::catalogue::PriceList>>,
) -> Option<Formula> {
    let formula = view.accept("line", Formula::new(title, lines))?;
    let formula = view.accept("phase", formula.with_phases(phases))?;
    Some(formula.with_prices(prices))
}

fn read_line(view: &TableView<'_>, embedded: &Catalogue) -> Option<Line> {
    let name = view.needed_name("name");
    if let Some(name) = &name {
        view.label(format!("line {name:?}"));
    }
    let material = view.needed("material", |view| view.text("material"));
    let lot = view.text("lot");
    let phase = view.name("phase");
    let percent = view.needed("percent", |view| view.ppm("percent"));
    let groups: Vec<String> = view.texts("groups").into_iter().map(str::to_string).collect();
    let purposes = view.choices("purposes");
    let (qs, fixed) = (view.boolean("qs").unwrap_or(false), view.boolean("fixed").unwrap_or(false));
    let Some(material) = embedded.find(material?) else {
        let fault = embedded.unknown(material?);
        let embed = "embed it as a [[material]], or read with a catalogue that has it";
        let remedy = fault.remedy.as_ref().map_or_else(|| embed.to_string(), |near| format!("{near} else {embed}"));
        view.fault("material", fault.remedy(remedy));
        return None;
    };
    let material = match lot {
        None => Arc::clone(material),
        Some(id) => Arc::new(view.accept("lot", material.with_lot(view.accept("lot", embedded.lot(id))?))?.0),
    };
    let line = view.accept("name", Line::new(&name?, material, percent?))?;
    let line = match phase {
        Some(phase) => view.accept("phase", line.in_phase(&phase))?,
        None => line,
    };
    if qs && fixed {
        view.fault("qs", Fault::new(FaultKind::Contradiction, "a line fills to 100 or is fixed, not both"));
    }
    Some(line.in_groups(&groups).for_purposes(&purposes).as_qs(qs).as_fixed(fixed))
}
