//! Drafts in documents: the lines as written, and beside them what was answered.

#[cfg(feature = "schema")]
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Serialize;

use super::line::LineAnswers;
use super::{Draft, DraftLine, FigureUnit, LineRole, QuestionKind};
use crate::document::{Notation, Reader, TableView, check_name, check_slug, write};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Mass;

/// A draft as documents hold it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct DraftDocument {
    /// Kind and version.
    tenside: &'static str,
    /// Title.
    title: String,
    /// Answered: scale the total to 100.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    normalise: bool,
    /// Answered: add lines of the same raw material.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    merge_duplicates: bool,
    /// Answered: mass of the batch.
    #[serde(skip_serializing_if = "Option::is_none")]
    batch: Option<String>,
    /// Answered: what figures without a unit count, `percent` or `gram`.
    #[serde(skip_serializing_if = "Option::is_none")]
    figures: Option<FigureUnit>,
    /// Lines as written.
    #[serde(rename = "line")]
    lines: Vec<LineDocument>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct LineDocument {
    /// The whole line of a pasted text.
    #[serde(skip_serializing_if = "Option::is_none")]
    written: Option<String>,
    /// What the line is read as, where it is no raw material.
    #[serde(skip_serializing_if = "is_material")]
    role: LineRole,
    /// The raw material as written; the text of a line that is none.
    item: String,
    /// The amount as written.
    #[serde(skip_serializing_if = "Option::is_none")]
    amount: Option<Written>,
    /// The phase it was written under.
    #[serde(skip_serializing_if = "Option::is_none")]
    phase: Option<String>,
    /// The lot that it names.
    #[serde(skip_serializing_if = "Option::is_none")]
    lot: Option<String>,
    /// Whether it was written as optional.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    optional: bool,
    /// Stands in the method but not in the list.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    in_method: bool,
    /// What was answered about the line.
    #[serde(skip_serializing_if = "Option::is_none")]
    answers: Option<AnswersDocument>,
}

#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct AnswersDocument {
    /// What the line is to be read as.
    #[serde(skip_serializing_if = "Option::is_none")]
    role: Option<LineRole>,
    /// The raw material as it is to be read.
    #[serde(skip_serializing_if = "Option::is_none")]
    item: Option<String>,
    /// The amount as it is to be read.
    #[serde(skip_serializing_if = "Option::is_none")]
    amount: Option<String>,
    /// The raw material that was chosen.
    #[serde(skip_serializing_if = "Option::is_none")]
    material: Option<String>,
    /// The lot that was chosen.
    #[serde(skip_serializing_if = "Option::is_none")]
    lot: Option<String>,
    /// A name for the line.
    #[serde(skip_serializing_if = "Option::is_none")]
    name: Option<String>,
    /// Whether the line is left out.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    dropped: bool,
    /// Whether it is merged with the earlier line of the same raw material.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    merged: bool,
    /// Questions accepted as they stand.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    accepted: Vec<QuestionKind>,
}

/// Most lines are raw materials, and say nothing about it.
fn is_material(role: &LineRole) -> bool {
    *role == LineRole::Material
}

impl Draft {
    /// The JSON Schema of draft documents.
    ///
    /// ```
    /// assert!(tenside::formula::Draft::schema().contains("\"$schema\""));
    /// ```
    #[cfg(feature = "schema")]
    #[must_use]
    pub fn schema() -> String {
        crate::document::schema_text::<DraftDocument>("draft")
    }
}

/// An amount as written. A bare number may stand in a document as one.
#[derive(Clone, Debug, Serialize)]
struct Written(String);

#[cfg(feature = "schema")]
impl JsonSchema for Written {
    fn schema_name() -> std::borrow::Cow<'static, str> {
        "WrittenAmount".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "description": "An amount as a recipe gives it: text such as \"12 %\", \"3 drops\", \"q.s.\", or a bare number.", "type": ["string", "number"] })
    }
}

impl From<&Draft> for DraftDocument {
    fn from(draft: &Draft) -> Self {
        DraftDocument {
            tenside: "draft/1",
            title: draft.title.clone(),
            normalise: draft.normalise,
            merge_duplicates: draft.merge_duplicates,
            batch: draft.batch.as_ref().map(Mass::to_string),
            figures: draft.figures,
            lines: draft.lines.iter().map(LineDocument::from).collect(),
        }
    }
}

impl From<&DraftLine> for LineDocument {
    fn from(line: &DraftLine) -> Self {
        let answers = &line.answers;
        let document = AnswersDocument {
            role: answers.role,
            lot: answers.lot.clone(),
            item: answers.item.clone(),
            amount: answers.amount.clone(),
            material: answers.material.clone(),
            name: answers.name.clone(),
            dropped: answers.dropped,
            merged: answers.merged,
            accepted: answers.accepted.iter().copied().collect(),
        };
        LineDocument {
            written: line.written.clone(),
            role: line.role,
            lot: line.lot.clone(),
            item: line.item.clone(),
            amount: line.amount.clone().map(Written),
            phase: line.phase.clone(),
            optional: line.optional,
            in_method: line.in_method,
            answers: (*answers != LineAnswers::default()).then_some(document),
        }
    }
}

impl Draft {
    /// Writes the draft, what was answered included.
    ///
    /// # Errors
    /// None for a valid draft.
    pub fn write(&self, notation: Notation) -> Result<String, Error> {
        write(&DraftDocument::from(self), notation)
    }

    /// Reads a draft document. Names and amounts are kept as they are; what is wrong with them is asked, not refused.
    ///
    /// ```
    /// use tenside::document::Notation;
    /// use tenside::formula::Draft;
    /// let text = r#"
    /// tenside = "draft/1"
    /// title = "Half-written bar"
    /// [[line]]
    /// item = "kaolin"
    /// amount = 12.5
    /// [[line]]
    /// item = "Rosemary oil"
    /// amount = "3 drops"
    /// phase = "cool-down"
    /// optional = true
    /// "#;
    /// let draft = Draft::read(text, Notation::Toml)?;
    /// assert_eq!(draft.line(1)?.amount(), Some("12.5"));
    /// assert_eq!(Draft::read(&draft.write(Notation::Json)?, Notation::Json)?, draft);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the document at once, with line and column.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        Reader::read(text, notation, |view| {
            view.version("draft/1");
            let title = view.needed_name("title");
            let normalise = view.boolean("normalise").unwrap_or(false);
            let merge_duplicates = view.boolean("merge_duplicates").unwrap_or(false);
            let batch = view.text("batch").and_then(|batch| view.accept("batch", batch.parse::<Mass>()));
            let figures = view.choice::<FigureUnit>("figures");
            let mut complete = true;
            let lines = view.tables("line", |view| {
                let line = read_line(view);
                complete &= line.is_some();
                line
            });
            if !complete {
                return None;
            }
            let draft = view.accept("line", Draft::new(&title?, lines))?;
            let draft = Draft { normalise, merge_duplicates, figures, ..draft };
            match batch {
                Some(batch) => view.accept("batch", draft.with_batch(batch)),
                None => Some(draft),
            }
        })
    }
}

fn read_line(view: &TableView<'_>) -> Option<DraftLine> {
    let written = view.text("written").map(str::to_string);
    let role = view.choice::<LineRole>("role").unwrap_or(LineRole::Material);
    let item = view.needed("item", |view| view.text("item"));
    let amount = view.written("amount").map(str::to_string);
    let phase = view.name("phase");
    let lot = view.name("lot");
    let optional = view.boolean("optional").unwrap_or(false);
    let in_method = view.boolean("in_method").unwrap_or(false);
    let answers = view.table("answers", |view| Some(read_answers(view))).unwrap_or_default();
    Some(DraftLine { written, role, lot, item: item?.to_string(), amount, phase, optional, in_method, answers })
}

fn read_answers(view: &TableView<'_>) -> LineAnswers {
    let role = view.choice::<LineRole>("role");
    let lot = view.name("lot");
    let item = view.text("item").and_then(|item| view.accept("item", check_name(item)));
    let amount = view.text("amount").map(str::to_string);
    let material = view.text("material").and_then(|material| view.accept("material", check_slug(material)));
    let name = view.name("name");
    let dropped = view.boolean("dropped").unwrap_or(false);
    let merged = view.boolean("merged").unwrap_or(false);
    let accepted = view.choices::<QuestionKind>("accepted");
    for kind in accepted.iter().filter(|kind| !QuestionKind::can_be_accepted().any(|known| known == **kind)) {
        let allowed: Vec<String> = QuestionKind::can_be_accepted().map(|kind| kind.to_string()).collect();
        let fault = Fault::new(FaultKind::Unsupported, "the question cannot be accepted as it stands").value(kind);
        view.fault("accepted", fault.allowed(allowed.join(", ")));
    }
    LineAnswers { role, item, amount, material, lot, name, dropped, merged, accepted: accepted.into_iter().collect() }
}
