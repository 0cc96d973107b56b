//! How wet a dough is.

use pyo3::prelude::*;

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::input::Several;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::pickled::Call;
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::measure::Measure;

record! {
    "tenside.formula",
    /// Shares of a mix in percent of it.
    DoughShares of &tenside::batch::DoughShares, |shares| {
        /// Watery liquids and pastes.
        liquid: Fraction = Fraction(shares.liquid.clone()),
        /// Oils.
        oil: Fraction = Fraction(shares.oil.clone()),
        /// Solids that are melted to be worked.
        meltable: Fraction = Fraction(shares.meltable.clone()),
        /// Powders, needles, flakes and granules.
        powder: Fraction = Fraction(shares.powder.clone()),
    }
}

record! {
    "tenside.formula",
    /// A dough that was made before, and how it worked in the maker's own words.
    DoughTrial of &tenside::batch::DoughTrial, |trial| {
        /// The title of its formula.
        title: String = trial.title.clone(),
        /// How it worked.
        words: String = trial.words.clone(),
        /// Its shares.
        shares: DoughShares = DoughShares::from(&trial.shares),
        /// The part of the mix, in percent, that would have to be another to have the same shares.
        distance: Fraction = Fraction(trial.distance.clone()),
    }
}

/// A dough beside trials, the nearest first.
#[pyclass(frozen, eq, module = "tenside.formula")]
#[derive(Clone)]
pub(crate) struct Dough(tenside::batch::Dough, Call);

impl PartialEq for Dough {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

value!(Dough, |it| it.hint());

arrow!(Dough, |it, _py| batch_of(it.trials())?);

shown!(Dough, |it| it.0.page());

getters!(Dough {
    /// Its shares.
    shares: DoughShares = |it| DoughShares::from(it.shares());
    /// The trials, the nearest first.
    trials: Rows<DoughTrial> = |it| it.trials().iter().map(DoughTrial::from).collect();
    /// The nearest trial in words, which is a hint and no verdict; None without trials.
    hint: Option<String> = |it| it.hint();
    /// The shares beside those of the trials.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Dough {
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<crate::convert::pickled::Reduced<'py>> {
        self.1.reduced(py)
    }

    fn __repr__(&self) -> String {
        let shares = self.0.shares();
        let text = |share: &tenside::number::Exact| share.rounded_text(1);
        format!(
            "<Dough: {} % liquid, {} % oil, {} % meltable, {} % powder>",
            text(&shares.liquid),
            text(&shares.oil),
            text(&shares.meltable),
            text(&shares.powder)
        )
    }
}

/// The share of raw materials that are worked as "liquid" (watery liquids and pastes), "oil", "meltable" or "powder",
/// as a measure.
///
/// >>> bar = td.Formula("Bar", {"sci-powder": 92, "water": 8}, td.Catalogue.starter())
/// >>> float(bar.measure(td.formula.dough_share("liquid")))
/// 8.0
#[pyfunction]
pub(crate) fn dough_share(of: &str) -> Outcome<Measure> {
    Ok(Measure(tenside::batch::dough_share(of)?))
}

#[pymethods]
impl Formula {
    /// How wet a dough of this formula is, beside `trials` made before: formulas with how they worked, in words.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> dry, wet = td.Formula("Trial 1", {"sci-powder": 92, "water": 8}, cat), td.Formula("Trial 2", {"sci-powder": 80, "water": 20}, cat)
    /// >>> dough = td.Formula("New", {"sci-powder": 90, "water": 10}, cat).dough([(dry, "crumbles"), (wet, "sticks")])
    /// >>> dough.trials[0].title, float(dough.shares.liquid)
    /// ('Trial 1', 10.0)
    #[pyo3(signature = (trials=None))]
    fn dough(&self, trials: Option<Several<(Formula, String)>>) -> Outcome<Dough> {
        let trials = trials.map_or_else(Vec::new, |trials| trials.0);
        let given: Vec<(&tenside::formula::Formula, &str)> =
            trials.iter().map(|(formula, words)| (&formula.0, words.as_str())).collect();
        let dough = self.0.dough(&given)?;
        let call = Call::new(self.clone(), "dough").argument(trials);
        Ok(Dough(dough, call))
    }
}
