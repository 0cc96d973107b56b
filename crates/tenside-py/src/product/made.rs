//! A batch as it was made.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::batch::Actual;
use tenside::number::Mass;

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, MassByName};
use crate::convert::interval::Interval;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::pickled::Call;
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::material::catalogue::Catalogue;
use crate::material::lot::ALot;
use crate::measure::basis::Basis;
use crate::measure::measured::Measured;
use crate::measure::{AMeasure, Measure};
use crate::product::batch::{Batch, grams};

record! {
    "tenside.batch",
    /// A line as it was made; masses in grams.
    MadeLine of &tenside::batch::MadeLine, |line| {
        /// The line's name.
        line: String = line.line().name().to_string(),
        /// The mass that the sheet asked for; None where the plan does not have it.
        planned: Option<Fraction> = line.planned().map(grams),
        /// False where nothing was stated, so that it counts as planned.
        is_stated: bool = line.is_stated(),
        /// The mass in the batch: weighed, added, less water that left.
        mass: Fraction = grams(line.mass()),
        /// Its share of the batch in percent, with what the scales could not see.
        percent: Interval = Interval(line.percent().clone()),
        /// By how much it is more (below 0: less) than planned, percent of the line; None where nothing was planned.
        deviation_percent: Option<Fraction> = line.deviation_percent().map(Fraction),
        /// The same in percent of the batch as planned.
        deviation_of_batch: Fraction = Fraction(line.deviation_of_batch().clone()),
    }
}

record! {
    "tenside.batch",
    /// The mass of a batch from the scale to the bars, in grams.
    MassBalance of &tenside::batch::MassBalance, |balance| {
        /// Weighed in as planned or instead.
        weighed: Fraction = grams(&balance.weighed),
        /// Added beyond the plan.
        added: Fraction = grams(&balance.added),
        /// Water that left before pressing.
        boiled_off: Fraction = grams(&balance.boiled_off),
        /// In the bowl before pressing.
        in_bowl: Fraction = grams(&balance.in_bowl),
        /// Trimmed off and not returned.
        trim: Fraction = grams(&balance.trim),
        /// Rejected.
        rejected: Fraction = grams(&balance.rejected),
        /// The bars as pressed, together; None where they were not weighed.
        pressed: Option<Fraction> = balance.pressed.as_ref().map(grams),
        /// What is left of the mass in the bowl after trim, rejects and bars; None where the bars were not weighed.
        unaccounted: Option<Fraction> = balance.unaccounted.clone().map(Fraction),
        /// The same in percent of the mass in the bowl.
        unaccounted_percent: Option<Fraction> = balance.unaccounted_percent().map(Fraction),
    }
}

/// A batch as it was made: what was really weighed, and the formula that came of it.
///
/// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
/// >>> made = bar.batch(mass="200 g", readability="0.1 g").as_made({"sci-powder": "130 g"})
/// >>> float(made.lines[0].percent.typical), made.lines[0].is_stated, made.lines[1].is_stated
/// (61.904761904761905, True, False)
#[pyclass(frozen, eq, from_py_object, module = "tenside.batch")]
#[derive(Clone, PartialEq)]
pub(crate) struct Made(pub(crate) tenside::batch::Made);

value!(Made, |it| (it.formula().title(), it.balance().in_bowl.grams()));

arrow!(Made, |it, _py| batch_of(it.lines())?);

document!(Made, |it| &it.0, back by tenside::batch::Made);

shown!(Made, |it| it.0.page());

getters!(Made {
    /// The batch as planned.
    batch: Batch = |it| Batch(it.batch().clone());
    /// The formula that came of it: with the plan's names, phases and temperatures, and the lots really used.
    formula: Formula = |it| Formula(it.formula().clone());
    /// The lines: those planned in their order, then additions.
    lines: Rows<MadeLine> = |it| it.lines().iter().map(MadeLine::from).collect();
    /// Where the mass went.
    balance: MassBalance = |it| MassBalance::from(it.balance());
    /// The lines beside the plan, and where the mass went.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Made {
    /// A measure of what was made: typical at the masses weighed, its interval over all masses that the scales could
    /// have meant and all compositions together. The `basis` is as charged, or `td.finished(moisture=...)`.
    ///
    /// >>> bar = td.Formula("Wash", {"capb-30": 50, "kaolin": 50}, td.Catalogue.starter())
    /// >>> made = bar.batch(mass="200 g", readability="1 g").as_made({"capb-30": "110 g"})
    /// >>> made.measure(td.measure.material("kaolin")).text()
    /// '47.62 (47.38 to 47.86) %'
    #[pyo3(signature = (measure, basis=None))]
    fn measure(&self, py: Python<'_>, measure: AMeasure, basis: Option<Basis>) -> Outcome<Measured> {
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        let call =
            Call::new(self.clone(), "measure").argument(Measure(measure.0.clone())).argument(Basis(basis.clone()));
        Ok(Measured(py.detach(|| self.0.measure(&measure.0, &basis))?, call))
    }

    fn __repr__(&self) -> String {
        format!("<Made of {:?}, {}>", self.0.formula().title(), self.0.balance().in_bowl)
    }
}

#[pymethods]
impl Batch {
    /// The batch as it was made. What is not stated was done as planned.
    ///
    /// `weighed` are the masses that lines really had ("0 g" for one left out), `lots` the lots they were really taken
    /// from; `added` is what was added beyond the plan, to a line or as a raw material of the `catalogue` (by default
    /// the starter catalogue). Water that left is `boiled_off`, or follows from the net mass `in_bowl` before pressing.
    /// `pressed` is the mass of all bars as pressed, `trim` what was trimmed off, `trim_returned` what of that went
    /// back, `rejected` what was thrown out.
    ///
    /// Raises NotKnown for a line that the batch does not have, OutOfRange for more water gone than the lines of water
    /// hold, Contradiction for more in the bowl than went in.
    ///
    /// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, td.Catalogue.starter())
    /// >>> batch = bar.batch(mass="200 g", bars=3, readability="0.1 g")
    /// >>> made = batch.as_made(added={"water": "5 g"}, pressed="198.9 g", trim="4 g")
    /// >>> made.balance.in_bowl, made.balance.unaccounted
    /// (Fraction(205, 1), Fraction(21, 10))
    #[pyo3(signature = (weighed=None, *, lots=None, added=None, boiled_off=None, in_bowl=None, pressed=None, trim=None, trim_returned=None, rejected=None, catalogue=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn as_made(
        &self,
        weighed: Option<MassByName>,
        lots: Option<IndexMap<String, ALot>>,
        added: Option<MassByName>,
        boiled_off: Option<AMass>,
        in_bowl: Option<AMass>,
        pressed: Option<AMass>,
        trim: Option<AMass>,
        trim_returned: Option<AMass>,
        rejected: Option<AMass>,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Made> {
        let catalogue = Catalogue::or_starter(catalogue);
        let mut actual = Actual::new();
        for (line, mass) in weighed.map_or_else(Vec::new, |masses| masses.0) {
            actual = actual.weighed(&line, mass)?;
        }
        for (line, lot) in lots.unwrap_or_default() {
            actual = actual.from_lot(&line, &lot.find(&catalogue.0)?)?;
        }
        for (line, mass) in added.map_or_else(Vec::new, |masses| masses.0) {
            actual = if self.0.formula().line(&line).is_ok() {
                actual.added(&line, mass)?
            } else {
                actual.added_material(&line, catalogue.0.material(&line)?, mass)?
            };
        }
        if let Some(mass) = boiled_off {
            actual = actual.boiled_off(mass.0)?;
        }
        if let Some(mass) = in_bowl {
            actual = actual.in_bowl(mass.0)?;
        }
        if let Some(mass) = pressed {
            actual = actual.pressed(mass.0);
        }
        if trim.is_some() || trim_returned.is_some() {
            let or_none = |mass: Option<AMass>| mass.map_or_else(Mass::default, |mass| mass.0);
            actual = actual.trimmed(or_none(trim), or_none(trim_returned))?;
        }
        if let Some(mass) = rejected {
            actual = actual.rejected(mass.0);
        }
        Ok(Made(self.0.as_made(&actual)?))
    }
}
