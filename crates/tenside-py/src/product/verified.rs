//! What verified scales can weigh.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::batch::{Fits, ScaleClass};
use tenside::number::Mass;

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, Number, Several};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::product::batch::Batch;

record! {
    "tenside.batch",
    /// A dilution to weigh instead of a line that is too small; masses in grams.
    PreDilution of &tenside::batch::PreDilution, |dilution| {
        /// Parts of carrier to one part of material.
        parts: u32 = dilution.parts,
        /// The material to weigh for it.
        material: Fraction = grams(&dilution.material),
        /// The carrier to weigh for it: a line of the same phase that it goes into.
        carrier: Fraction = grams(&dilution.carrier),
        /// How much of the dilution goes into the batch.
        portion: Fraction = grams(&dilution.portion),
    }
}

record! {
    "tenside.batch",
    /// What scales say of one line; masses in grams.
    WeighableLine of &tenside::batch::WeighableLine, |row| {
        /// The line.
        line: String = row.line.clone(),
        /// What is to be weighed.
        mass: Fraction = grams(&row.mass),
        /// The scale that weighs it best, if any takes it.
        scale: Option<String> = row.scale.clone(),
        /// The most that scale may be off, if it takes it.
        error: Option<Fraction> = row.error.as_ref().map(grams),
        /// Whether it can be weighed: "weighable", "too-small", "too-large".
        fits: Word<Fits> = Word(row.fits),
        /// The smallest load that scale weighs within the error asked for.
        least: Option<Fraction> = row.least.as_ref().map(grams),
        /// How to dilute it, where it is too small and another line of its phase is large enough for it.
        dilution: Option<PreDilution> = row.dilution.as_ref().map(PreDilution::from),
    }
}

/// A verified scale: its `name`, its accuracy class `class_` ("I" to "IIII"), its verification `interval` e and its
/// `largest` load, as its plate says.
///
/// >>> bench = td.batch.VerifiedScale("bench", "II", interval="0.1 g", largest="3 kg")
/// >>> bench.smallest, bench.error("100 g"), bench.error("1 g")
/// (Fraction(5, 1), Fraction(1, 10), None)
#[pyclass(frozen, eq, from_py_object, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct VerifiedScale(pub(crate) tenside::batch::VerifiedScale);

value!(VerifiedScale, |it| it.name());

getters!(VerifiedScale {
    /// Its name.
    name: String = |it| it.name().to_string();
    /// Its class.
    class_: Word<ScaleClass> = |it| Word(it.class());
    /// Its verification interval, grams.
    interval: Fraction = |it| grams(it.interval());
    /// Its largest load, grams.
    largest: Fraction = |it| grams(it.largest());
    /// Its minimum capacity, below which it is not used, grams.
    smallest: Fraction = |it| grams(&it.smallest());
});

#[pymethods]
impl VerifiedScale {
    #[new]
    #[pyo3(signature = (name, class_, *, interval, largest))]
    fn new(name: &str, class_: Word<ScaleClass>, interval: AMass, largest: AMass) -> Outcome<Self> {
        Ok(VerifiedScale(tenside::batch::VerifiedScale::new(name, class_.0, interval.0, largest.0)?))
    }

    /// The most it may be off at a load in service, grams; None outside of what it weighs.
    ///
    /// >>> td.batch.VerifiedScale("kitchen", "III", interval="1 g", largest="3 kg").error("1500 g")
    /// Fraction(2, 1)
    fn error(&self, load: AMass) -> Option<Fraction> {
        self.0.error(&load.0).map(|error| grams(&error))
    }

    fn __getnewargs_ex__(&self) -> ((String, Word<ScaleClass>), IndexMap<&'static str, String>) {
        let masses = [("interval", self.0.interval().to_string()), ("largest", self.0.largest().to_string())];
        ((self.name(), self.class_()), masses.into_iter().collect())
    }

    fn __repr__(&self) -> String {
        format!(
            "<VerifiedScale {:?}: class {}, e = {}, Max {}>",
            self.0.name(),
            self.0.class(),
            self.0.interval(),
            self.0.largest()
        )
    }
}

/// Which lines verified scales can weigh, each within so many percent of its own mass (`tolerance`), and how to dilute
/// what is too small: with another of the lines, if one is large enough; in a batch, with one of its phase.
///
/// >>> bench = td.batch.VerifiedScale("bench", "II", interval="0.1 g", largest="3 kg")
/// >>> weighable = td.batch.Weighable({"kaolin": "600 g", "dye": "0.8 g"}, [bench], tolerance=2)
/// >>> [(row.line, row.fits) for row in weighable.rows]
/// [('kaolin', 'weighable'), ('dye', 'too-small')]
/// >>> weighable.rows[1].dilution
/// PreDilution(parts=9, material=Fraction(5, 1), carrier=Fraction(45, 1), portion=Fraction(8, 1))
#[pyclass(frozen, eq, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Weighable(pub(crate) tenside::batch::Weighable);

shown!(Weighable, |it| it.0.page());
value!(Weighable, |it| it.lines());
arrow!(Weighable, |it, _py| batch_of(it.rows())?);

document!(Weighable, |it| &it.0, back alone by tenside::batch::Weighable);

getters!(Weighable {
    /// The scales.
    scales: Vec<VerifiedScale> = |it| it.scales().iter().cloned().map(VerifiedScale).collect();
    /// The relative error asked for, percent of each line.
    tolerance: Fraction = |it| Fraction(it.tolerance().into());
    /// What the scales say of each line.
    rows: Rows<WeighableLine> = |it| it.rows().iter().map(WeighableLine::from).collect();
    /// What to know about it.
    notes: Vec<String> = |it| it.notes();
    /// Each line with its scale on one page, and the dilutions.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Weighable {
    #[new]
    #[pyo3(signature = (lines, scales, *, tolerance))]
    fn new(lines: IndexMap<String, AMass>, scales: Several<VerifiedScale>, tolerance: Number) -> Outcome<Self> {
        let lines: Vec<(String, Mass)> = lines.into_iter().map(|(line, mass)| (line, mass.0)).collect();
        Ok(Weighable(tenside::batch::Weighable::new(&lines, &plain(scales), &tolerance.0)?))
    }

    fn __repr__(&self) -> String {
        format!("<Weighable: {} lines on {} scales>", self.0.lines().len(), self.0.scales().len())
    }
}

fn plain(scales: Several<VerifiedScale>) -> Vec<tenside::batch::VerifiedScale> {
    scales.0.into_iter().map(|scale| scale.0).collect()
}

#[pymethods]
impl Batch {
    /// Which of its lines verified scales can weigh, each within so many percent of its own mass.
    ///
    /// >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": "39.9", "panthenol": "0.1"}, td.Catalogue.starter())
    /// >>> bench = td.batch.VerifiedScale("bench", "II", interval="0.1 g", largest="3 kg")
    /// >>> bar.batch(mass="2 kg", readability="0.1 g").weighable([bench], tolerance=2).rows[2].fits
    /// 'too-small'
    #[pyo3(signature = (scales, *, tolerance))]
    fn weighable(&self, scales: Several<VerifiedScale>, tolerance: Number) -> Outcome<Weighable> {
        Ok(Weighable(self.0.weighable(&plain(scales), &tolerance.0)?))
    }
}

fn grams(mass: &Mass) -> Fraction {
    Fraction(mass.grams().clone())
}
