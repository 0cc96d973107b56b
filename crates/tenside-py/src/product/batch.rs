//! A formula weighed out.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::batch::{BatchSize, NoteKind, Scales, SheetFormat};
use tenside::error::{Fault, FaultKind};
use tenside::number::{Mass, MassUnit};
use tenside::render::framed;

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, Day, Number, Several};
use crate::convert::output::Fraction;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;

record! {
    "tenside.batch",
    /// A line to weigh; masses in grams.
    Weighing of &tenside::batch::Weighing, |weighing| {
        /// The line's name.
        line: String = weighing.line().name().to_string(),
        /// The line as the sheet names it.
        label: String = weighing.label(),
        /// Its phase.
        phase: String = weighing.line().phase().to_string(),
        /// What its scale counts in.
        division: Fraction = grams(weighing.division()),
        /// What the percentage asks for.
        exact: Fraction = grams(weighing.exact()),
        /// What is weighed: whole divisions.
        rounded: Fraction = grams(weighing.rounded()),
        /// True for the line that takes the rounding rest of the others.
        takes_rest: bool = weighing.takes_rest(),
        /// The rounding error in percent of the line.
        error_percent: Fraction = Fraction(weighing.error_percent()),
    }
}

record! {
    "tenside.batch",
    /// What to know beyond the numbers.
    BatchNote {
        /// What it is about.
        kind: Word<NoteKind>,
        /// The line it is about, where it is about one.
        line: Option<String>,
        /// The note as a sentence.
        sentence: String,
    }
}

record! {
    "tenside.batch",
    /// What one bar weighs on its way, in grams; exact means over even bars.
    BarMasses of tenside::batch::BarMasses, |bar| {
        /// How many.
        bars: u32 = bar.bars,
        /// Weighed in for one.
        charged: Fraction = grams(&bar.charged),
        /// Left of it after bowl and press.
        pressed: Fraction = grams(&bar.pressed),
        /// Left of that after drying.
        dry: Fraction = grams(&bar.dry),
    }
}

record! {
    "tenside.batch",
    /// Bars as they came out of the press; masses in grams.
    Pressed of tenside::batch::Pressed, |pressed| {
        /// The bars, in the order recorded.
        masses: Vec<Fraction> = pressed.masses().iter().map(grams).collect(),
        /// Their sum.
        sum: Fraction = grams(pressed.sum()),
        /// Their mean.
        mean: Fraction = grams(pressed.mean()),
        /// The lightest.
        lowest: Fraction = grams(pressed.lowest()),
        /// The heaviest.
        highest: Fraction = grams(pressed.highest()),
        /// The heaviest less the lightest.
        range: Fraction = grams(pressed.range()),
        /// How many bars the batch was pressed as, if stated.
        bars: Option<u32> = pressed.bars(),
        /// How many were weighed, of how many: "12 of 24 bars".
        words: String = pressed.words(),
        /// What did not become bars, percent of the mass weighed; None if only some of the bars were weighed.
        implied_process_loss: Option<Fraction> = pressed.implied_process_loss().cloned().map(Fraction),
        /// What to know about them: weights that stand far from the others.
        notes: Vec<String> = pressed.notes(),
    }
}

/// A formula weighed out: rounded masses that sum exactly to the batch, and what to know about them. Masses are in
/// grams.
///
/// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
/// >>> batch = bar.batch(mass="200 g", bars=3, readability="0.1 g")
/// >>> sum(weighing.rounded for weighing in batch.weighings) == batch.weighed == 200
/// True
#[pyclass(frozen, eq, from_py_object, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Batch(pub(crate) tenside::batch::Batch);

value!(Batch, |it| (it.formula().title(), it.weighed().grams()));

arrow!(Batch, |it, _py| batch_of(it.weighings())?);

document!(Batch, |it| &it.0, back by tenside::batch::Batch);

getters!(Batch {
    /// The formula.
    formula: Formula = |it| Formula(it.formula().clone());
    /// The mass asked for, exact.
    asked: Fraction = |it| grams(it.asked());
    /// The mass weighed: the exact sum of the rounded lines.
    weighed: Fraction = |it| grams(it.weighed());
    /// The lines to weigh, phase by phase in working order.
    weighings: Rows<Weighing> = |it| it.weighings().iter().map(Weighing::from).collect();
    /// What to know beyond the numbers, heat first.
    notes: Rows<BatchNote> = |it| it.notes().iter().map(|note| self::note(note, it.scales().unit())).collect();
    /// What one bar weighs on its way, where the number of bars is stated.
    bar_masses: Option<BarMasses> = |it| it.bar_masses().map(BarMasses::from);
    /// The batch number, if one was given.
    number: Option<String> = |it| it.number().map(str::to_string);
    /// The date, if one was given.
    date: Option<String> = |it| it.date().map(|date| date.to_string());
});

impl Batch {
    pub(crate) fn size_of(
        bars: Option<u32>,
        net: Option<AMass>,
        mass: Option<AMass>,
        drying_loss: Option<Number>,
        process_loss: Option<Number>,
    ) -> Outcome<BatchSize> {
        let mut size = match (bars, net, mass) {
            (Some(bars), Some(net), None) => BatchSize::of_bars(bars, net.0)?,
            (None, None, Some(mass)) => BatchSize::of_mass(mass.0)?,
            (Some(bars), None, Some(mass)) => BatchSize::of_mass(mass.0)?.pressed_as(bars)?,
            _ => {
                let fault = Fault::new(FaultKind::Missing, "the size of the batch must be stated exactly once");
                return Err(fault.allowed("bars= and net=, or mass=, or mass= and bars=").into());
            }
        };
        if let Some(loss) = drying_loss {
            size = size.with_drying_loss(loss.0)?;
        }
        if let Some(loss) = process_loss {
            size = size.with_process_loss(loss.0)?;
        }
        Ok(size)
    }

    pub(crate) fn scales_of(
        readability: AMass,
        of: Option<IndexMap<String, AMass>>,
        unit: Option<&str>,
        tolerance: Option<Number>,
    ) -> Outcome<Scales> {
        let mut scales = Scales::new(readability.0)?;
        for (phase, readability) in of.unwrap_or_default() {
            scales = scales.for_phase(&phase, readability.0)?;
        }
        if let Some(unit) = unit {
            scales = scales.shown_in(unit.parse()?);
        }
        Ok(match tolerance {
            Some(tolerance) => scales.tolerating(tolerance.0)?,
            None => scales,
        })
    }
}

#[pymethods]
impl Batch {
    /// The sheet to work by, with cautions; a page in a notebook.
    ///
    /// >>> sheet = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).batch(mass="200 g", readability="0.1 g").sheet()
    /// >>> "200.0 g" in sheet.text, "no safety data sheet" in sheet.markdown
    /// (True, True)
    fn sheet(&self) -> Sheet {
        Sheet(self.0.clone())
    }

    /// The bars pressed from it, as they were weighed before drying: all of them, or some where the batch states how
    /// many there are. `masses` are theirs, one by one: "66 g".
    ///
    /// >>> batch = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).batch(mass="200 g", bars=3, readability="0.1 g")
    /// >>> float(batch.pressed(["66.2 g", "66.9 g", "66.3 g"]).implied_process_loss)
    /// 0.3
    fn pressed(&self, masses: Several<AMass>) -> Outcome<Pressed> {
        let masses: Vec<Mass> = masses.0.into_iter().map(|mass| mass.0).collect();
        Ok(Pressed::from(tenside::batch::Pressed::new(&self.0, &masses)?))
    }

    fn _repr_html_(&self) -> String {
        framed(self.0.formula().title(), &self.0.sheet(SheetFormat::Html))
    }

    fn __str__(&self) -> String {
        self.0.sheet(SheetFormat::Text)
    }

    fn __repr__(&self) -> String {
        format!("<Batch of {:?}, {}>", self.0.formula().title(), self.0.weighed())
    }
}

/// A batch sheet: plain text, Markdown, or a page of HTML that prints.
///
/// >>> sheet = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).batch(mass="200 g", readability="0.1 g").sheet()
/// >>> sheet.html.startswith("<!DOCTYPE html>")
/// True
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Sheet(tenside::batch::Batch);

getters!(Sheet {
    /// Plain text of at most 80 columns.
    text: String = |it| it.sheet(SheetFormat::Text);
    /// Markdown with pipe tables.
    markdown: String = |it| it.sheet(SheetFormat::Markdown);
    /// A whole page of HTML that prints on A4 and US Letter.
    html: String = |it| it.sheet(SheetFormat::Html);
});

value!(Sheet, |it| it.weighed().grams());

#[pymethods]
impl Sheet {
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Batch,))> {
        Ok((py.get_type::<Batch>().getattr("sheet")?, (Batch(self.0.clone()),)))
    }

    fn _repr_html_(&self) -> String {
        framed(self.0.formula().title(), &self.html())
    }

    fn __str__(&self) -> String {
        self.text()
    }

    fn __repr__(&self) -> String {
        self.text()
    }
}

pub(crate) fn grams(mass: &Mass) -> Fraction {
    Fraction(mass.grams().clone())
}

fn note(note: &tenside::batch::Note, unit: MassUnit) -> BatchNote {
    BatchNote { kind: Word(note.kind()), line: note.line().map(str::to_string), sentence: note.sentence(unit) }
}

#[pymethods]
impl Formula {
    /// The formula weighed out: so many `bars` of a `net` mass with what is lost on the way, or a `mass` (pressed as so
    /// many bars). The sheet is in `unit` ("g", "kg", "oz", "lb"), in which a scale must be able to count, and carries
    /// the batch's `number` and `date`.
    ///
    /// `readability` is what the scale counts in, `readability_of` that of phases weighed on another one; `tolerance`
    /// is the rounding error in percent of a line that is accepted without a note.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 85, "water": 15}, td.Catalogue.starter())
    /// >>> batch = clay.batch(bars=24, net="60 g", drying_loss=8, process_loss=4, readability="0.1 g")
    /// >>> batch.weighed
    /// Fraction(8152, 5)
    #[pyo3(signature = (*, bars=None, net=None, mass=None, drying_loss=None, process_loss=None, readability, readability_of=None, unit=None, tolerance=None, number=None, date=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn batch(
        &self,
        bars: Option<u32>,
        net: Option<AMass>,
        mass: Option<AMass>,
        drying_loss: Option<Number>,
        process_loss: Option<Number>,
        readability: AMass,
        readability_of: Option<IndexMap<String, AMass>>,
        unit: Option<&str>,
        tolerance: Option<Number>,
        number: Option<&str>,
        date: Option<Day>,
    ) -> Outcome<Batch> {
        let size = Batch::size_of(bars, net, mass, drying_loss, process_loss)?;
        let scales = Batch::scales_of(readability, readability_of, unit, tolerance)?;
        let mut batch = self.0.batch(size, scales)?;
        if let Some(number) = number {
            batch = batch.numbered(number)?;
        }
        let batch = match date {
            Some(date) => batch.dated(date.0),
            None => batch,
        };
        Ok(Batch(batch))
    }
}
