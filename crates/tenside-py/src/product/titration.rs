//! A trial titration, and a batch brought to a pH by it.

use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::type_hint_union;
use pyo3::types::PyTuple;
use rust_decimal::Decimal;
use tenside::number::Mass;
use tenside::ph::Effect;

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{AMass, Number, Several};
use crate::convert::interval::Interval;
use crate::convert::output::Fraction;
use crate::convert::page::{Page, WIDTH};
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::formula::reading::Reading;
use crate::material::Material;

/// A trial titration: to a sample of the product, dispersed at one dilution, so much of one raw material was added in
/// all, and the pH read. An `effect` ("lowers" or "raises") is stated for a raw material of which nothing is known
/// here. `uncertainty` is how far a pH may be off.
///
/// >>> acid = td.Catalogue.starter().material("citric-acid-50")
/// >>> points = [("0 g", 7.9), ("0.2 g", 6.8), ("0.4 g", 5.9), ("0.6 g", 5.2), ("0.8 g", 4.7)]
/// >>> trial = td.ph.Titration(points, sample="100 g", reagent=acid, dilution="1+9")
/// >>> print(trial.grams_at(5.5))
/// 0.51 (0.40 to 0.60)
#[pyclass(frozen, eq, module = "tenside.ph")]
#[derive(Clone, PartialEq)]
pub(crate) struct Titration(tenside::ph::Titration);

document!(Titration, |it| &it.0, back by tenside::ph::Titration);

value!(Titration, |it| (it.sample().to_string(), it.reagent().id(), it.points().len()));

getters!(Titration {
    /// Grams added in all and the pH then read.
    points: Vec<(Fraction, Decimal)> = |it| it.points().iter().map(|point| (grams(&point.added), point.ph)).collect();
    /// Grams of product titrated.
    sample: Fraction = |it| grams(it.sample());
    /// What was added.
    reagent: Material = |it| Material(it.reagent().clone());
    /// How the sample was dispersed, by mass.
    dilution: String = |it| it.dilution().to_string();
    /// What a reading may be off by, in pH.
    uncertainty: Decimal = |it| it.uncertainty();
    /// True if the points were calculated by the model and not read.
    is_calculated: bool = |it| it.is_calculated();
});

#[pymethods]
impl Titration {
    #[new]
    #[pyo3(signature = (points, *, sample, reagent, dilution, uncertainty=None, effect=None))]
    fn new(
        points: Several<(AMass, Number)>,
        sample: AMass,
        reagent: Material,
        dilution: &str,
        uncertainty: Option<Number>,
        effect: Option<Word<Effect>>,
    ) -> Outcome<Self> {
        let points = points.0.into_iter().map(|(added, ph)| (added.0, ph.0));
        let dilution = dilution.parse()?;
        let trial = match effect {
            Some(effect) => tenside::ph::Titration::with_effect(sample.0, reagent.0, dilution, points, effect.0)?,
            None => tenside::ph::Titration::new(sample.0, reagent.0, dilution, points)?,
        };
        let trial = match uncertainty {
            Some(uncertainty) => trial.with_uncertainty(uncertainty.0)?,
            None => trial,
        };
        Ok(Titration(trial))
    }

    /// The grams, for the sample, at which it has that pH: by monotone interpolation, between the points that are
    /// surely before and past it. `ph` is that pH.
    fn grams_at(&self, ph: Number) -> Outcome<Interval> {
        Ok(Interval(self.0.grams_at(ph.0)?))
    }

    /// How a batch is brought from a measured pH to a target, or by the least dose into a range of it: to the end that
    /// is nearer, and with nothing from inside. `reading` is the pH read in the batch, `target` a pH or a pair of them.
    ///
    /// >>> acid = td.Catalogue.starter().material("citric-acid-50")
    /// >>> trial = td.ph.Titration([("0 g", 8), ("1 g", 6), ("2 g", 5)], sample="100 g", reagent=acid, dilution="1+9")
    /// >>> print(trial.adjust("2 kg", td.Reading(8, dilution="1+9"), target=5.5).remaining())
    /// 28.81 (20.00 to 40.00)
    /// >>> plan = trial.adjust("2 kg", td.Reading(8, dilution="1+9"), target=(5.2, 5.5))
    /// >>> plan.target, plan.range
    /// (Decimal('5.5'), (Decimal('5.2'), Decimal('5.5')))
    #[pyo3(signature = (batch, reading, *, target))]
    fn adjust(&self, batch: AMass, reading: Reading, target: Target) -> Outcome<Adjustment> {
        Ok(Adjustment(match target {
            Target::Point(target) => self.0.adjust(batch.0, reading.0, target.0)?,
            Target::Range((low, high)) => self.0.adjust_into(batch.0, reading.0, low.0, high.0)?,
        }))
    }

    fn __repr__(&self) -> String {
        let ends = (self.0.points().first(), self.0.points().last());
        let read = ends.0.zip(ends.1).map(|(first, last)| format!(", pH {} to {}", first.ph, last.ph));
        format!("<Titration of {} with {}{}>", self.0.sample(), self.0.reagent().id(), read.unwrap_or_default())
    }
}

/// A pH to be reached, or the lowest and highest that will do.
enum Target {
    Range((Number, Number)),
    Point(Number),
}

impl<'a, 'py> FromPyObject<'a, 'py> for Target {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(<(Number, Number)>::INPUT_TYPE, Number::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if object.is_instance_of::<PyTuple>() {
            Ok(Target::Range(object.extract()?))
        } else {
            Ok(Target::Point(object.extract()?))
        }
    }
}

record! {
    "tenside.ph",
    /// One portion, as it was weighed in, and the reading after it.
    Portion of &tenside::ph::Portion, |portion| {
        /// Grams added.
        added: Fraction = grams(&portion.added),
        /// The reading after it.
        reading: Reading = Reading(portion.reading.clone()),
    }
}

/// How a batch is brought to a pH: portion by portion, each with a reading. Immutable: each portion gives a new one.
///
/// >>> cat = td.Catalogue.starter()
/// >>> points = [("0 g", 7.9), ("0.2 g", 6.8), ("0.4 g", 5.9), ("0.6 g", 5.2), ("0.8 g", 4.7)]
/// >>> trial = td.ph.Titration(points, sample="100 g", reagent=cat.material("citric-acid-50"), dilution="1+9")
/// >>> plan = trial.adjust("2 kg", td.Reading(7.9, dilution="1+9"), target=5.5)
/// >>> plan.next_portion(division="0.1 g")
/// Fraction(8, 1)
/// >>> plan = plan.with_portion("8 g", td.Reading(5.85, dilution="1+9"))
/// >>> plan.formula(td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, cat)).percentages["citric-acid-50"]
/// Decimal('0.3984')
#[pyclass(frozen, eq, module = "tenside.ph")]
#[derive(Clone, PartialEq)]
pub(crate) struct Adjustment(tenside::ph::Adjustment);

document!(Adjustment, |it| &it.0, back by tenside::ph::Adjustment);

value!(Adjustment, |it| (it.batch().to_string(), it.target(), it.range(), it.portions().len()));

getters!(Adjustment {
    /// Grams of product before anything was added.
    batch: Fraction = |it| grams(it.batch());
    /// The pH wanted; of a range the one in it that is nearest to the last reading.
    target: Decimal = |it| it.target();
    /// The ends of the range that is wanted; None where one pH is.
    range: Option<(Decimal, Decimal)> = |it| it.range();
    /// What went in so far.
    portions: Rows<Portion> = |it| it.portions().iter().map(Portion::from).collect();
    /// The reading before anything was added.
    start: Reading = |it| Reading(it.start().clone());
    /// The last reading.
    reading: Reading = |it| Reading(it.reading().clone());
    /// True if the last reading is within what a reading may be off by of the target, or lies inside the range.
    is_reached: bool = |it| it.is_reached();
    /// True if the last reading lies past the target.
    is_overshot: bool = |it| it.is_overshot();
    /// What to know, cautions included.
    notes: Vec<String> = |it| it.notes();
});

#[pymethods]
impl Adjustment {
    /// All that went in so far, in grams.
    fn added(&self) -> Outcome<Fraction> {
        Ok(grams(&self.0.added()?))
    }

    /// The grams still missing, going by the last reading; none where that lies inside the range.
    fn remaining(&self) -> Outcome<Interval> {
        Ok(Interval(self.0.remaining()?))
    }

    /// The next portion in grams, in whole divisions of the scale; None if the target is reached or less than a
    /// division is missing.
    #[pyo3(signature = (*, division))]
    fn next_portion(&self, division: AMass) -> Outcome<Option<Fraction>> {
        Ok(self.0.next_portion(&division.0)?.as_ref().map(grams))
    }

    /// With a portion as it was weighed in, and the reading after it.
    /// `added` is a mass: "8 g".
    fn with_portion(&self, added: AMass, reading: Reading) -> Outcome<Self> {
        Ok(Adjustment(self.0.clone().with_portion(added.0, reading.0)?))
    }

    /// The formula with every portion in it.
    fn formula(&self, formula: &Formula) -> Outcome<Formula> {
        Ok(Formula(self.0.formula(&formula.0)?))
    }

    /// The plan for people.
    /// `division` is that of the scale: "0.1 g".
    #[pyo3(signature = (*, division))]
    fn page(&self, division: AMass) -> Outcome<Page> {
        Ok(Page(self.0.page(&division.0)?))
    }

    fn _repr_html_(&self) -> Outcome<String> {
        Ok(self.0.page(&usual_division()?)?.html())
    }

    fn __str__(&self) -> Outcome<String> {
        Ok(self.0.page(&usual_division()?)?.text(WIDTH))
    }

    fn __repr__(&self) -> String {
        format!(
            "<Adjustment to pH {} with {}, {} portions>",
            self.0.wanted(),
            self.0.titration().reagent().id(),
            self.0.portions().len()
        )
    }
}

/// The division that a plan is shown for where none is named.
fn usual_division() -> Outcome<Mass> {
    Ok("0.1 g".parse()?)
}

fn grams(mass: &Mass) -> Fraction {
    Fraction(mass.grams().clone())
}

#[pymethods]
impl Formula {
    /// A titration of a hundred grams of it with up to `most` of a raw material, calculated by the model: for solutions
    /// without surfactant. `reagent` is that raw material, `dilution` that of the sample ("1+9"), `temperature` in °C.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> rinse = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, cat)
    /// >>> print(rinse.calculated_titration(cat.material("sodium-hydroxide-10"), most="3 g").grams_at(5))
    /// 1.95 (typical only)
    #[pyo3(signature = (reagent, *, most, dilution="1+0", temperature=25.0))]
    fn calculated_titration(
        &self,
        py: Python<'_>,
        reagent: Material,
        most: AMass,
        dilution: &str,
        temperature: f64,
    ) -> Outcome<Titration> {
        let dilution = dilution.parse()?;
        Ok(Titration(py.detach(|| self.0.calculated_titration(reagent.0, &most.0, &dilution, temperature))?))
    }
}
