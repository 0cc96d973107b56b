//! The record of a batch, how it is worked, and its card.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::batch::{Decision, NoteKind, ReadingOutcome, StepKind};
use tenside::document::Named;
use tenside::error::{Fault, FaultKind};
use tenside::measure::Measure;
use tenside::rule::ProductForm;

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::input::{Day, Names, Number, Several};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::material::catalogue::Catalogue;
use crate::product::batch::{Batch, grams};
use crate::product::made::Made;

/// A step of a method: its `kind`, what is done in `words`; the `phase` it belongs to, the `temperature` of the mass in
/// °C, the `minutes` it usually takes, a `caution`, and what to `check` before the next step.
///
/// >>> td.batch.Step("rest", "Let it rest under a cloth.", minutes=20, check="no skin on it")
/// Step('rest', 'Let it rest under a cloth.', minutes=Decimal('20'), check='no skin on it')
#[pyclass(frozen, eq, from_py_object, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Step(pub(crate) tenside::batch::Step);

value!(Step, |it| it.sentence());

getters!(Step {
    /// What is done: "melt", "blend-dry", "wet", "dissolve", "disperse", "knead", "add", "set-ph", "rest", "press",
    /// "fill", "chill", "set", "dry", "cure", "weigh-again".
    kind: Word<StepKind> = |it| Word(it.kind());
    /// In words.
    words: String = |it| it.words().to_string();
    /// The phase that it belongs to; None where it is all of the batch.
    phase: Option<String> = |it| it.phase().map(str::to_string);
    /// The temperature of the mass in °C.
    temperature: Option<rust_decimal::Decimal> = |it| it.temperature();
    /// The minutes that it usually takes.
    minutes: Option<rust_decimal::Decimal> = |it| it.minutes();
    /// Its caution.
    caution: Option<String> = |it| it.caution().map(str::to_string);
    /// What is looked at before the next step.
    check: Option<String> = |it| it.check().map(str::to_string);
    /// Words with temperature and time.
    sentence: String = |it| it.sentence();
});

row!(Step {
    kind: Word<StepKind> = |it| it.kind(),
    words: String = |it| it.words(),
    phase: Option<String> = |it| it.phase(),
    temperature: Option<rust_decimal::Decimal> = |it| it.temperature(),
    minutes: Option<rust_decimal::Decimal> = |it| it.minutes(),
    caution: Option<String> = |it| it.caution(),
    check: Option<String> = |it| it.check(),
});

#[pymethods]
impl Step {
    #[new]
    #[pyo3(signature = (kind, words, *, phase=None, temperature=None, minutes=None, caution=None, check=None))]
    fn new(
        kind: Word<StepKind>,
        words: &str,
        phase: Option<&str>,
        temperature: Option<Number>,
        minutes: Option<Number>,
        caution: Option<&str>,
        check: Option<&str>,
    ) -> Outcome<Self> {
        let mut step = tenside::batch::Step::new(kind.0, words)?;
        if let Some(phase) = phase {
            step = step.of_phase(phase);
        }
        if let Some(temperature) = temperature {
            step = step.at(temperature.0)?;
        }
        if let Some(minutes) = minutes {
            step = step.for_minutes(minutes.0)?;
        }
        if let Some(caution) = caution {
            step = step.with_caution(caution)?;
        }
        Ok(Step(match check {
            Some(check) => step.checked_by(check)?,
            None => step,
        }))
    }

    fn __getnewargs_ex__<'py>(
        &self,
        py: Python<'py>,
    ) -> PyResult<((Word<StepKind>, String), crate::convert::output::Keywords<'py>)> {
        Ok(((self.kind(), self.words()), self.keywords(py)?))
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let keywords = self.keywords(py)?;
        let shown = keywords
            .iter()
            .map(|(name, value)| Ok(format!(", {name}={}", value.repr()?)))
            .collect::<PyResult<String>>()?;
        let text = |text: &str| -> PyResult<String> { Ok(pyo3::types::PyString::new(py, text).repr()?.to_string()) };
        Ok(format!("Step({}, {}{shown})", text(self.0.kind().slug())?, text(&self.words())?))
    }
}

impl Step {
    fn keywords<'py>(&self, py: Python<'py>) -> PyResult<crate::convert::output::Keywords<'py>> {
        use pyo3::IntoPyObjectExt as _;
        let mut keywords: crate::convert::output::Keywords<'py> = IndexMap::new();
        let texts = [("phase", self.phase()), ("caution", self.caution()), ("check", self.check())];
        let numbers = [("temperature", self.temperature()), ("minutes", self.minutes())];
        for (name, number) in numbers {
            if let Some(number) = number {
                keywords.insert(name, number.into_bound_py_any(py)?);
            }
        }
        for (name, text) in texts {
            if let Some(text) = text {
                keywords.insert(name, text.into_bound_py_any(py)?);
            }
        }
        Ok(keywords)
    }
}

/// A test of a product by its `name`, with the lowest and highest value allowed (`at_least`, `at_most`), in its `unit`,
/// which holds no figures.
///
/// >>> td.batch.ProductTest("pH of a 10 % dispersion", at_least=5, at_most=6).limits
/// '5 to 6'
#[pyclass(frozen, eq, from_py_object, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct ProductTest(pub(crate) tenside::batch::ProductTest);

value!(ProductTest, |it| (it.name(), it.limits()));

getters!(ProductTest {
    /// Its name.
    name: String = |it| it.name().to_string();
    /// Its unit.
    unit: String = |it| it.unit().to_string();
    /// Its lowest allowed value.
    at_least: Option<Fraction> = |it| it.low().cloned().map(Fraction);
    /// Its highest allowed value.
    at_most: Option<Fraction> = |it| it.high().cloned().map(Fraction);
    /// Its limits in words.
    limits: String = |it| it.limits();
});

#[pymethods]
impl ProductTest {
    #[new]
    #[pyo3(signature = (name, unit="", *, at_least=None, at_most=None))]
    fn new(name: &str, unit: &str, at_least: Option<Number>, at_most: Option<Number>) -> Outcome<Self> {
        let mut test = tenside::batch::ProductTest::new(name, unit)?;
        if let Some(low) = at_least {
            test = test.at_least(low.0)?;
        }
        Ok(ProductTest(match at_most {
            Some(high) => test.at_most(high.0)?,
            None => test,
        }))
    }

    #[allow(clippy::type_complexity, reason = "what pickle asks for")]
    fn __reduce__<'py>(
        &self,
        py: Python<'py>,
    ) -> PyResult<(Bound<'py, PyAny>, (String, String, Option<Fraction>, Option<Fraction>))> {
        Ok((py.get_type::<ProductTest>().getattr("_of")?, (self.name(), self.unit(), self.at_least(), self.at_most())))
    }

    #[classmethod]
    fn _of(
        _class: &Bound<'_, pyo3::types::PyType>,
        name: &str,
        unit: &str,
        at_least: Option<Number>,
        at_most: Option<Number>,
    ) -> Outcome<Self> {
        ProductTest::new(name, unit, at_least, at_most)
    }

    fn __repr__(&self) -> String {
        format!("<ProductTest {:?}: {}>", self.0.name(), self.0.limits())
    }
}

record! {
    "tenside.batch",
    /// A test with its readings.
    TestResult of tenside::batch::TestResult, |result| {
        /// The test.
        test: String = result.test,
        /// Its limits in words.
        limits: String = result.limits,
        /// The readings, in the order recorded.
        values: Vec<Fraction> = result.values.into_iter().map(Fraction).collect(),
        /// "within", "outside", "not-measured", of which nothing is known, or "no-limit", where there is none that the
        /// readings could keep.
        outcome: Word<ReadingOutcome> = Word(result.outcome),
    }
}

record! {
    "tenside.batch",
    /// What to know about a record.
    RecordNote of tenside::batch::RecordNote, |note| {
        /// What it is about.
        kind: Word<NoteKind> = Word(note.kind),
        /// The line or test that it is about.
        about: Option<String> = note.about,
        /// The note as a sentence.
        sentence: String = note.sentence,
    }
}

record! {
    "tenside.batch",
    /// So much of a lot in a batch.
    LotInBatch of tenside::batch::LotInBatch, |found| {
        /// The lot.
        lot: String = found.lot,
        /// The raw material.
        material: String = found.material,
        /// The batch number.
        batch: Option<String> = found.batch,
        /// The day of the batch.
        date: Option<String> = found.date.map(|date| date.to_string()),
        /// The product.
        product: String = found.product,
        /// The line.
        line: String = found.line,
        /// How much of the lot is in the batch, in grams; of a lot in a premix its part of the premix.
        mass: Fraction = grams(&found.mass),
        /// False where the batch is recorded as planned only, and not as made.
        is_made: bool = found.is_made,
    }
}

one_of! {
    /// A batch as planned, or as it was made.
    #[allow(clippy::large_enum_variant, reason = "taken apart at once")]
    pub(crate) enum PlannedOrMade: "a Batch, or a Made" {
        Made(Made),
        Batch(Batch),
    }
}

one_of! {
    /// One reading of a test, or several.
    pub(crate) enum Readings: "a number or several" {
        One(Number),
        Some(Several<Number>),
    }
}

/// The record of a batch: what was planned, what was done, what was read, and who released it; a page in a notebook, to
/// print and to fill.
///
/// `of` is a batch to be made, or one as it was made. `made_by` is who made it, `steps` are how it is worked,
/// `equipment` what was used, `tests` the specification of the product with `readings` by test (one or several),
/// `deviations` what went another way, in words. `decision` is "released", "rejected" or "on-hold", with `decided_by`
/// and `decided_on`.
///
/// Raises NotKnown for a reading of no test or a step of no phase, Duplicate for two tests of one name, Contradiction
/// for a decision of a day before the batch.
///
/// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
/// >>> batch = bar.batch(mass="200 g", readability="0.1 g", number="7", date="2026-11-24")
/// >>> ph = td.batch.ProductTest("pH of a 10 % dispersion", at_least=5, at_most=6)
/// >>> record = td.batch.BatchRecord(batch.as_made({"sci-powder": "124 g"}), tests=[ph], readings={"pH of a 10 % dispersion": 6.3})
/// >>> [note.kind for note in record.notes]
/// ['off-plan', 'test-outside', 'not-weighed']
#[pyclass(frozen, eq, from_py_object, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct BatchRecord(pub(crate) tenside::batch::BatchRecord);

value!(BatchRecord, |it| (it.batch().formula().title(), it.batch().number()));

document!(BatchRecord, |it| &it.0, back by tenside::batch::BatchRecord);

shown!(BatchRecord, |it| it.0.page());

getters!(BatchRecord {
    /// The batch as planned.
    batch: Batch = |it| Batch(it.batch().clone());
    /// The batch as made, once it is.
    made: Option<Made> = |it| it.made().cloned().map(Made);
    /// How it is worked.
    steps: Rows<Step> = |it| it.steps().iter().cloned().map(Step).collect();
    /// Equipment used.
    equipment: Vec<String> = |it| it.equipment().to_vec();
    /// Who made it.
    made_by: Option<String> = |it| it.maker().map(str::to_string);
    /// Each test with its readings and what they come to.
    results: Rows<TestResult> = |it| it.results().into_iter().map(TestResult::from).collect();
    /// What went another way.
    deviations: Vec<String> = |it| it.deviations().to_vec();
    /// What was decided: "released", "rejected", "on-hold"; None where nothing was.
    decision: Option<Word<Decision>> = |it| it.release().map(|release| Word(release.decision));
    /// What to know about it: a line off its plan by more than the scales' tolerance, in percent of the line, mass
    /// unaccounted for by more than that beyond the process loss planned, in percent of what was in the bowl, and what
    /// nobody recorded.
    notes: Rows<RecordNote> = |it| it.notes().into_iter().map(RecordNote::from).collect();
    /// The record to print and fill, or as it was filled.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl BatchRecord {
    #[new]
    #[pyo3(signature = (of, *, steps=None, equipment=None, made_by=None, tests=None, readings=None, deviations=None, decision=None, decided_by=None, decided_on=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn new(
        of: PlannedOrMade,
        steps: Option<Several<Step>>,
        equipment: Option<Names>,
        made_by: Option<&str>,
        tests: Option<Several<ProductTest>>,
        readings: Option<IndexMap<String, Readings>>,
        deviations: Option<Names>,
        decision: Option<Word<Decision>>,
        decided_by: Option<&str>,
        decided_on: Option<Day>,
    ) -> Outcome<Self> {
        let mut record = match of {
            PlannedOrMade::Batch(batch) => tenside::batch::BatchRecord::new(&batch.0),
            PlannedOrMade::Made(made) => tenside::batch::BatchRecord::of(&made.0),
        };
        if let Some(steps) = steps {
            record = record.with_steps(&steps.0.into_iter().map(|step| step.0).collect::<Vec<_>>())?;
        }
        for name in equipment.map_or_else(Vec::new, |names| names.0) {
            record = record.with_equipment(&name)?;
        }
        if let Some(maker) = made_by {
            record = record.made_by(maker)?;
        }
        for test in tests.map_or_else(Vec::new, |tests| tests.0) {
            record = record.with_test(test.0)?;
        }
        for (test, readings) in readings.unwrap_or_default() {
            let values = match readings {
                Readings::One(value) => vec![value],
                Readings::Some(values) => values.0,
            };
            for value in values {
                record = record.with_reading(&test, value.0)?;
            }
        }
        for words in deviations.map_or_else(Vec::new, |words| words.0) {
            record = record.with_deviation(&words)?;
        }
        Ok(BatchRecord(match (decision, decided_by, decided_on) {
            (None, None, None) => record,
            (Some(decision), Some(by), Some(on)) => record.released(decision.0, by, on.0)?,
            _ => {
                let fault = Fault::new(FaultKind::Missing, "a decision is one of somebody on some day");
                return Err(fault.allowed("decision=, decided_by= and decided_on= together").into());
            }
        }))
    }

    fn __repr__(&self) -> String {
        let number = self.0.batch().number().map_or_else(String::new, |number| format!(" {number}"));
        format!("<BatchRecord{number} of {:?}>", self.0.batch().formula().title())
    }
}

/// A set of records: which batches a lot went into. It goes into any data frame as one row a lot and batch.
///
/// >>> lot = td.Lot("W-27", "capb-30", active=29.1, method="titrated")
/// >>> wash = td.Formula("Wash", [td.Line(td.Catalogue.starter().material("capb-30").with_lot(lot), 100)])
/// >>> records = td.batch.Records([td.batch.BatchRecord(wash.batch(mass="200 g", readability="1 g", number="7"))])
/// >>> [(use.batch, float(use.mass)) for use in records.batches_using("W-27")]
/// [('7', 200.0)]
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Records(tenside::batch::Records);

value!(Records, |it| it.records().len());

arrow!(Records, |it, _py| batch_of(it.lot_uses())?);

#[pymethods]
impl Records {
    #[new]
    fn new(records: Several<BatchRecord>) -> Outcome<Self> {
        Ok(Records(tenside::batch::Records::new(records.0.into_iter().map(|record| record.0).collect())?))
    }

    /// The records, in the order given.
    #[getter]
    fn records(&self) -> Vec<BatchRecord> {
        self.0.records().iter().cloned().map(BatchRecord).collect()
    }

    /// Every lot in every batch, lots in premixes included.
    #[getter]
    fn lot_uses(&self) -> Rows<LotInBatch> {
        self.0.lot_uses().into_iter().map(LotInBatch::from).collect()
    }

    /// The batches that a `lot` went into, as made where that is recorded; none for a lot that no record names.
    fn batches_using(&self, lot: &str) -> Rows<LotInBatch> {
        self.0.batches_using(lot).into_iter().map(LotInBatch::from).collect()
    }

    fn __len__(&self) -> usize {
        self.0.records().len()
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Vec<BatchRecord>,))> {
        Ok((py.get_type::<Records>().into_any(), (self.records(),)))
    }

    fn __repr__(&self) -> String {
        format!("<{} batch records>", self.0.records().len())
    }
}

#[pymethods]
impl Formula {
    /// The usual steps of making it as a product of this `form`, "solid" or "liquid"; they can be replaced, left out
    /// and put in another order.
    ///
    /// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
    /// >>> [step.kind for step in bar.usual_steps("solid")][:3]
    /// ['melt', 'blend-dry', 'knead']
    #[pyo3(signature = (form))]
    fn usual_steps(&self, form: Word<ProductForm>) -> Rows<Step> {
        tenside::batch::usual_steps(&self.0, form.0).into_iter().map(Step).collect()
    }
}

#[pymethods]
impl Batch {
    /// The recipe card to share with a class or with readers: cautions first, percent and masses with what each raw
    /// material brings, the `steps`, and what could stand in for the lines named in `substitutes`: raw materials of the
    /// `catalogue`, by default the starter catalogue, that keep active matter and water exactly.
    ///
    /// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
    /// >>> card = bar.batch(mass="200 g", bars=3, readability="0.1 g").recipe_card(bar.usual_steps("solid"))
    /// >>> "typical values" in card.text()
    /// True
    #[pyo3(signature = (steps=None, *, substitutes=None, catalogue=None))]
    fn recipe_card(
        &self,
        py: Python<'_>,
        steps: Option<Several<Step>>,
        substitutes: Option<Names>,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Page> {
        let steps: Vec<tenside::batch::Step> =
            steps.map_or_else(Vec::new, |steps| steps.0.into_iter().map(|step| step.0).collect());
        let catalogue = Catalogue::or_starter(catalogue);
        let keep = [Measure::active_matter(), Measure::water()];
        let lines = substitutes.map_or_else(Vec::new, |names| names.0);
        let mut seen = std::collections::HashSet::new();
        if let Some(twice) = lines.iter().find(|line| !seen.insert(line.as_str())) {
            let fault =
                Fault::new(FaultKind::Duplicate, "a line is named twice").at("substitutes").value(format!("{twice:?}"));
            return Err(fault.remedy("name each line once").into());
        }
        let card = crate::convert::running::watched(py, None, |watch| {
            let found = lines.iter().map(|line| {
                self.0.formula().candidates_watched(line, &catalogue.0, &keep, std::sync::Arc::clone(&watch))
            });
            self.0.recipe_card(&steps, &found.collect::<Result<Vec<_>, _>>()?)
        })?;
        Ok(Page(card))
    }
}
