//! Records as documents, and back. Masses are in grams.

use super::{BatchRecord, Decision, ProductTest, RecordNote, Release, TestResult};
use crate::batch::document::{PlanDocument, read_batch};
use crate::batch::made::{ActualDocument, MadeLineDocument, MassBalanceDocument, read_actual};
use crate::batch::method::{StepDocument, read_step};
use crate::catalogue::Catalogue;
use crate::document::{Notation, Number, TableView, form, forms, restore, written};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{FormulaDocument, read_formula};

form! {
    /// A test of the product.
    ProductTestDocument of ProductTest, |it| {
        /// Its name.
        name: String = it.name().to_string(),
        /// Its unit.
        #[serde(skip_serializing_if = "String::is_empty")]
        unit: String = it.unit().to_string(),
        /// Its lowest allowed value.
        #[serde(skip_serializing_if = "Option::is_none")]
        at_least: Option<Number> = it.low().map(Number::from),
        /// Its highest allowed value.
        #[serde(skip_serializing_if = "Option::is_none")]
        at_most: Option<Number> = it.high().map(Number::from),
    }
}

written! {
    /// A reading of a test.
    struct ReadingDocument {
        /// The test.
        test: String,
        /// What was read.
        value: Number,
    }
}

form! {
    /// What was decided of the batch.
    ReleaseDocument of Release, |it| {
        /// What was decided.
        decision: Decision,
        /// By whom.
        by: String,
        /// On which day.
        on: String = it.on.to_string(),
    }
}

form! {
    /// A test with its readings.
    TestResultDocument of TestResult, |it| {
        /// The test.
        test: String,
        /// Its limits in words.
        limits: String,
        /// The readings.
        values: Vec<Number> = it.values.iter().map(Number::from).collect(),
        /// What they come to.
        outcome: super::ReadingOutcome,
    }
}

form! {
    /// What to know about the record.
    RecordNoteDocument of RecordNote, |it| {
        /// Its stable name.
        kind: super::NoteKind,
        /// The line or test that it is about.
        about: Option<String>,
        /// The note.
        sentence: String,
    }
}

form! {
    /// The record of a batch. Masses are in grams.
    BatchRecordDocument of BatchRecord as "batch-record/1", |it, materials| {
        /// The batch as planned.
        plan: PlanDocument = PlanDocument::of(it.batch(), materials),
        /// How it is worked.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        steps: Vec<StepDocument> = forms(it.steps()),
        /// Equipment used.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        equipment: Vec<String>,
        /// Who made it.
        #[serde(skip_serializing_if = "Option::is_none")]
        made_by: Option<String> = it.maker().map(str::to_string),
        /// What was stated of how it went; absent before it is made.
        #[serde(skip_serializing_if = "Option::is_none")]
        actual: Option<ActualDocument> = it.made().map(|made| made.actual().into()),
        /// The formula that came of it.
        #[serde(skip_serializing_if = "Option::is_none")]
        formula: Option<FormulaDocument> = it.made().map(|made| FormulaDocument::of(made.formula(), materials)),
        /// The specification of the product.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        tests: Vec<ProductTestDocument> = forms(it.tests()),
        /// What was read.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        readings: Vec<ReadingDocument> =
            it.readings.iter().map(|(test, value)| ReadingDocument { test: test.clone(), value: value.into() }).collect(),
        /// What went another way.
        #[serde(skip_serializing_if = "Vec::is_empty")]
        deviations: Vec<String>,
        /// What was decided of it.
        #[serde(skip_serializing_if = "Option::is_none")]
        release: Option<ReleaseDocument> = it.release().map(ReleaseDocument::from),
        /// The lines as made; empty before it is made.
        lines: Vec<MadeLineDocument> = it.made().map_or_else(Vec::new, |made| forms(made.lines())),
        /// Where the mass went.
        balance: Option<MassBalanceDocument> = it.made().map(|made| made.balance().into()),
        /// Each test with its readings.
        results: Vec<TestResultDocument> = forms(&it.results()),
        /// What to know about it.
        notes: Vec<RecordNoteDocument> = forms(&it.notes()),
    }
}

const QUESTION: &[&str] =
    &["plan", "steps", "equipment", "made_by", "actual", "formula", "tests", "readings", "deviations", "release"];

fn read_test(view: &TableView<'_>) -> Option<ProductTest> {
    let name = view.needed("name", |view| view.name("name"));
    let unit = view.text("unit").unwrap_or_default();
    let (low, high) = (view.exact("at_least", None), view.exact("at_most", None));
    let mut test = view.accept("name", ProductTest::new(&name?, unit))?;
    if let Some(low) = low {
        test = view.accept("at_least", test.at_least(low))?;
    }
    match high {
        Some(high) => view.accept("at_most", test.at_most(high)),
        None => Some(test),
    }
}

fn read_record(view: &TableView<'_>, catalogue: &Catalogue) -> Option<BatchRecord> {
    let plan = view.needed("plan", |view| view.table("plan", |view| read_batch(view, catalogue)));
    let steps = view.tables("steps", read_step);
    let (equipment, maker) = (view.texts("equipment"), view.text("made_by"));
    let formula = view.table("formula", |view| read_formula(view, catalogue));
    let tests = view.tables("tests", read_test);
    let readings = view.tables("readings", |view| {
        Some((
            view.needed("test", |view| view.text("test"))?.to_string(),
            view.needed("value", |view| view.exact("value", None))?,
        ))
    });
    let deviations = view.texts("deviations");
    let release = view.table("release", |view| {
        let decision = view.needed("decision", |view| view.choice::<Decision>("decision"));
        let by = view.needed("by", |view| view.text("by")).map(str::to_string);
        let on = view.needed("on", |view| view.date("on"));
        Some((decision?, by?, on?))
    });
    let plan = plan?;
    let materials = formula.as_ref().unwrap_or_else(|| plan.formula());
    let actual = view.table("actual", |view| read_actual(view, materials, catalogue));
    let mut record = BatchRecord::new(&plan);
    if !steps.is_empty() {
        record = view.accept("steps", record.with_steps(&steps))?;
    }
    for name in equipment {
        record = view.accept("equipment", record.with_equipment(name))?;
    }
    if let Some(maker) = maker {
        record = view.accept("made_by", record.made_by(maker))?;
    }
    if let Some(actual) = actual {
        record = view.accept("actual", record.as_made(actual))?;
    }
    if record.made().map(super::super::Made::formula) != formula.as_ref() {
        let fault = Fault::new(FaultKind::Contradiction, "this is not the formula that comes of what was weighed");
        view.fault("formula", fault.remedy("leave it out and let it be worked out, or correct what was weighed"));
        return None;
    }
    for test in tests {
        record = view.accept("tests", record.with_test(test))?;
    }
    for (test, value) in readings {
        record = view.accept("readings", record.with_reading(&test, value))?;
    }
    for words in deviations {
        record = view.accept("deviations", record.with_deviation(words))?;
    }
    match release {
        Some((decision, by, on)) => view.accept("release", record.released(decision, &by, on)),
        None => Some(record),
    }
}

impl BatchRecord {
    /// Reads a record back. It is believed where reckoning again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of plan, statements and tests with line and column; else everything that is not what comes of them.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, QUESTION, |view| read_record(view, catalogue))
    }
}
