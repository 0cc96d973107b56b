//! The record of a batch: what was planned, what was done, what was read, and who released it.
//!
//! # Why
//! - It follows the elements that ISO 22716:2007 asks of manufacturing, testing and release (clauses 7 to 9, from
//!   memory): product and batch number, raw materials with lots and masses, equipment, operations, in-process controls,
//!   deviations, release by a named person.
//! - What was not written down is blank, never right: a test without a reading is "not measured", a batch without
//!   masses has no balance.
//! - A release is a person's decision. It is recorded as it is, and what speaks against it stands beside it.

mod document;
mod page;
mod set;
mod test;

pub use document::BatchRecordDocument;
pub use set::{LotInBatch, Records};
pub use test::{ProductTest, ReadingOutcome, TestResult};

use super::made::Actual;
use super::method::{Step, check_steps, few};
use super::{Batch, Made, NoteKind, outside_range};
use crate::document::{check_name, check_prose, named_enum, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Line;
use crate::number::{Date, Exact, ToExact};

named_enum! {
    /// What was decided of a batch.
    Decision "decision" {
        /// It may be sold or used.
        Released = "released",
        /// It may not.
        Rejected = "rejected",
        /// Nothing yet.
        OnHold = "on-hold",
    }
}

/// Who decided what, and when.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Release {
    /// What was decided.
    pub decision: Decision,
    /// By whom.
    pub by: String,
    /// On which day.
    pub on: Date,
}

/// What to know about a record.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct RecordNote {
    /// What it is about.
    pub kind: NoteKind,
    /// The line or test that it is about.
    pub about: Option<String>,
    /// The note.
    pub sentence: String,
}

/// The record of a batch. Values are immutable; a record before the batch is made has blanks to fill.
///
/// ```
/// use tenside::batch::{Actual, BatchRecord, BatchSize, Decision, NoteKind, ProductTest, Scales};
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::{Exact, Ppm};
/// let line = |id: &str, percent: &str| Line::new(id, Catalogue::starter().material(id)?.clone(), Ppm::from_percent(percent)?);
/// let formula = Formula::new("Plain bar", vec![line("sci-powder", "60")?, line("cetyl-alcohol", "15")?, line("kaolin", "25")?])?;
/// let batch = formula.batch(BatchSize::of_mass("200 g".parse()?)?, Scales::new("0.1 g".parse()?)?)?.numbered("7")?.dated("2026-11-24".parse()?);
/// let record = BatchRecord::new(&batch)
///     .with_test(ProductTest::new("pH of a 10 % dispersion", "")?.at_least(5)?.at_most(6)?)?
///     .as_made(Actual::new().weighed("sci-powder", "121 g".parse()?)?)?
///     .with_reading("pH of a 10 % dispersion", Exact::ratio(56, 10))?
///     .released(Decision::Released, "the maker", "2026-12-08".parse()?)?;
/// assert!(record.notes().iter().all(|note| note.kind != NoteKind::TestNotMeasured));
/// assert!(record.page().text(100).contains("pH of a 10 % dispersion"));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct BatchRecord {
    batch: Batch,
    made: Option<Made>,
    steps: Vec<Step>,
    equipment: Vec<String>,
    made_by: Option<String>,
    tests: Vec<ProductTest>,
    readings: Vec<(String, Exact)>,
    deviations: Vec<String>,
    release: Option<Release>,
}

getters!(BatchRecord {
    /// The batch as planned.
    batch: &Batch,
    /// The batch as made, once it is.
    made: Option<&Made>,
    /// How it is worked.
    steps: &[Step],
    /// Equipment used.
    equipment: &[String],
    /// Its specification.
    tests: &[ProductTest],
    /// What went another way.
    deviations: &[String],
    /// What was decided of it.
    release: Option<&Release>,
});

impl BatchRecord {
    /// A record to be filled.
    #[must_use]
    pub fn new(batch: &Batch) -> Self {
        BatchRecord {
            batch: batch.clone(),
            made: None,
            steps: Vec::new(),
            equipment: Vec::new(),
            made_by: None,
            tests: Vec::new(),
            readings: Vec::new(),
            deviations: Vec::new(),
            release: None,
        }
    }

    /// The record of a batch that was made.
    #[must_use]
    pub fn of(made: &Made) -> Self {
        BatchRecord { made: Some(made.clone()), ..BatchRecord::new(made.batch()) }
    }

    /// With how it is worked.
    ///
    /// # Errors
    /// No step, and a step of a phase that the formula does not have.
    pub fn with_steps(mut self, steps: &[Step]) -> Result<Self, Error> {
        check_steps(self.batch.formula(), steps)?;
        self.steps = steps.to_vec();
        Ok(self)
    }

    /// With equipment used, one more of it.
    ///
    /// # Errors
    /// A bad name.
    pub fn with_equipment(mut self, name: &str) -> Result<Self, Error> {
        few(self.equipment.len() + 1).map_err(|error| error.within("equipment"))?;
        self.equipment.push(check_name(name)?);
        Ok(self)
    }

    /// With who made it.
    ///
    /// # Errors
    /// A bad name.
    pub fn made_by(mut self, name: &str) -> Result<Self, Error> {
        self.made_by = Some(check_name(name).map_err(|error| error.within("made by"))?);
        Ok(self)
    }

    /// With how it was made; see [`Batch::as_made`].
    ///
    /// # Errors
    /// As [`Batch::as_made`].
    pub fn as_made(mut self, actual: Actual) -> Result<Self, Error> {
        self.made = Some(self.batch.as_made(&actual)?);
        Ok(self)
    }

    /// With one more test of its specification.
    ///
    /// # Errors
    /// A test of a name in use.
    pub fn with_test(mut self, test: ProductTest) -> Result<Self, Error> {
        if self.tests.iter().any(|known| known.name() == test.name()) {
            return Err(Fault::new(FaultKind::Duplicate, "two tests have the same name")
                .value(format!("{:?}", test.name()))
                .into());
        }
        few(self.tests.len() + 1).map_err(|error| error.within("tests"))?;
        self.tests.push(test);
        Ok(self)
    }

    /// With the reading of a test; several readings of one test are all held against its limits.
    ///
    /// # Errors
    /// A test that the specification does not have, and a reading that is no number.
    pub fn with_reading(mut self, test: &str, value: impl ToExact) -> Result<Self, Error> {
        if !self.tests.iter().any(|known| known.name() == test) {
            return Err(unknown_name("test", test, self.tests.iter().map(ProductTest::name)).into());
        }
        few(self.readings.len() + 1).map_err(|error| error.within("readings"))?;
        self.readings.push((test.to_string(), value.to_exact()?));
        Ok(self)
    }

    /// With something that went another way, in words.
    ///
    /// # Errors
    /// Words that are none.
    pub fn with_deviation(mut self, words: &str) -> Result<Self, Error> {
        few(self.deviations.len() + 1).map_err(|error| error.within("deviations"))?;
        self.deviations.push(check_prose(words)?);
        Ok(self)
    }

    /// With what was decided of it.
    ///
    /// # Errors
    /// A bad name, and a decision of a day before the batch.
    pub fn released(mut self, decision: Decision, by: &str, on: Date) -> Result<Self, Error> {
        if let Some(date) = self.batch.date().filter(|date| on < *date) {
            return Err(Fault::new(FaultKind::Contradiction, "it was decided before the batch was made")
                .at("release")
                .value(on)
                .allowed(format!("{date} or later"))
                .remedy("check both dates")
                .into());
        }
        self.release = Some(Release { decision, by: check_name(by).map_err(|error| error.within("release"))?, on });
        Ok(self)
    }

    /// Who made it.
    #[must_use]
    pub fn maker(&self) -> Option<&str> {
        self.made_by.as_deref()
    }

    /// Each test with its readings and what they come to.
    #[must_use]
    pub fn results(&self) -> Vec<TestResult> {
        let values = |test: &ProductTest| {
            self.readings.iter().filter(|(name, _)| name == test.name()).map(|(_, value)| value.clone()).collect()
        };
        self.tests.iter().map(|test| test.result(values(test))).collect()
    }

    /// The lines as they are or will be in the batch: with the lots really used once it is made.
    pub(crate) fn lines(&self) -> &[Line] {
        self.made.as_ref().map_or_else(|| self.batch.formula().lines(), |made| made.formula().lines())
    }

    /// What to know about it: a line off its plan by more than the scales' tolerance, in percent of the line, and mass
    /// unaccounted for by more than that beyond the process loss planned, in percent of what was in the bowl.
    #[must_use]
    pub fn notes(&self) -> Vec<RecordNote> {
        let mut notes = self.lot_notes();
        let mut note = |kind, about: &str, sentence: String| {
            notes.push(RecordNote { kind, about: Some(about.to_string()), sentence })
        };
        let tolerance = Exact::from(self.batch.scales().tolerance());
        for line in self.made.iter().flat_map(Made::lines) {
            let name = line.line().name();
            match line.deviation_percent() {
                None if line.planned().is_none() => note(
                    NoteKind::OffPlan,
                    name,
                    format!("{name}: {} were added that the plan does not have.", line.mass()),
                ),
                Some(percent) if percent.abs() > tolerance => {
                    let (way, size) = if percent.is_negative() { ("less", percent.abs()) } else { ("more", percent) };
                    let size = size.rounded_text(2);
                    note(
                        NoteKind::OffPlan,
                        name,
                        format!("{name}: {size} % {way} than planned, {} instead of {}.", line.mass(), planned(line)),
                    );
                }
                _ => {}
            }
        }
        for result in self.results() {
            match result.outcome {
                ReadingOutcome::Within => {}
                ReadingOutcome::Outside => {
                    note(NoteKind::TestOutside, &result.test, format!("{}: outside {}.", result.test, result.limits))
                }
                ReadingOutcome::NotMeasured => {
                    note(NoteKind::TestNotMeasured, &result.test, format!("{}: not measured.", result.test))
                }
                ReadingOutcome::NoLimit => note(
                    NoteKind::TestWithoutLimit,
                    &result.test,
                    format!("{}: it has no limit, so what was read is held against nothing.", result.test),
                ),
            }
        }
        notes.extend(self.unaccounted());
        notes.extend(self.not_weighed());
        let open = notes.iter().filter(|note| note.kind != NoteKind::OffPlan).count();
        if let Some(release) =
            self.release.as_ref().filter(|release| release.decision == Decision::Released && open > 0)
        {
            let points = match notes.len() - open {
                0 if open == 1 => "a point is open above".to_string(),
                0 => format!("{open} points are open above"),
                off_plan => format!(
                    "of the {} points above {open} {} open: all but the {off_plan} of what was weighed off its plan",
                    notes.len(),
                    if open == 1 { "is" } else { "are" }
                ),
            };
            let sentence = format!("{} released it on {}, and {points}.", release.by, release.on);
            notes.push(RecordNote { kind: NoteKind::ReleasedWithOpenPoints, about: None, sentence });
        }
        notes
    }

    /// That nobody recorded what was weighed, or of which lines nobody did: they count as planned.
    fn not_weighed(&self) -> Option<RecordNote> {
        let sentence = match &self.made {
            None => "What was really weighed is not recorded.".to_string(),
            Some(made) => match made.not_weighed().as_slice() {
                [] => return None,
                lines => format!(
                    "What was really weighed is not recorded of {} of {} lines, which count as planned: {}.",
                    lines.len(),
                    self.batch.weighings().len(),
                    lines.join("; ")
                ),
            },
        };
        Some(RecordNote { kind: NoteKind::NotWeighed, about: None, sentence })
    }

    /// Mass that is missing beyond the process loss planned and what is tolerated of a line, in percent of the bowl.
    fn unaccounted(&self) -> Option<RecordNote> {
        let balance = self.made.as_ref()?.balance();
        let (missing, percent) = (balance.unaccounted.as_ref()?, balance.unaccounted_percent()?);
        let (planned, tolerance) = (self.batch.size().process_loss(), self.batch.scales().tolerance());
        (percent > Exact::from(planned) + Exact::from(tolerance)).then(|| RecordNote {
            kind: NoteKind::Unaccounted,
            about: None,
            sentence: format!(
                "{} g, {} % of what was in the bowl, are not accounted for; planned is a process loss of {} %, and {} % \
                 beyond it are accepted.",
                missing.rounded_text(2),
                percent.rounded_text(2),
                planned.normalize(),
                tolerance.normalize()
            ),
        })
    }

    /// Lots that are others than planned, lots outside the range of their raw material and lots past their retest date.
    fn lot_notes(&self) -> Vec<RecordNote> {
        let mut notes = Vec::new();
        for (planned, line) in self.batch.formula().lines().iter().zip(self.lines()) {
            let of = |line: &Line| line.material().lot().map(|lot| lot.id().to_string());
            let (before, after) = (of(planned), of(line));
            if before != after {
                let said = |lot: Option<String>| lot.map_or_else(|| "no lot".to_string(), |lot| format!("lot {lot}"));
                let sentence = format!("{}: {} on the sheet, {} in the batch.", line.name(), said(before), said(after));
                notes.push(RecordNote { kind: NoteKind::LotChanged, about: Some(line.name().to_string()), sentence });
            }
        }
        let used = || self.lines().iter().filter(|line| !line.percent().is_zero());
        notes.extend(used().flat_map(outside_range).map(|(line, sentence)| RecordNote {
            kind: NoteKind::LotOutsideRange,
            about: Some(line),
            sentence,
        }));
        for note in super::retest_notes(used().map(|line| (line, line.name().to_string())), self.batch.date()) {
            let about = note.line().map(str::to_string);
            notes.push(RecordNote { kind: note.kind(), about, sentence: note.sentence(self.batch.scales().unit()) });
        }
        notes
    }
}

fn planned(line: &super::MadeLine) -> String {
    line.planned().map_or_else(String::new, ToString::to_string)
}
