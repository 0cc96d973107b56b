//! The question.

pub(crate) mod line;
pub(crate) mod requirement;

use indexmap::IndexMap;
use pyo3::prelude::*;
use pyo3::types::PyType;
use rust_decimal::Decimal;
use tenside::brief::{Direction, Objective, SplitBasis};
use tenside::document::Notation;
use tenside::number::Exact;

use crate::convert::documents::embedded;
use crate::convert::failure::Outcome;
use crate::convert::input::{ByName, Number};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::running::reading;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
use crate::formula::line::{Phase, phase};
use crate::material::catalogue::Catalogue;
use crate::material::prices::{Prices, price_by_id, price_list};
use crate::measure::AMeasure;
use crate::measure::basis::Basis;

record! {
    "tenside.brief",
    /// Lines that stand in a stated ratio.
    BriefSplit of &tenside::brief::Split, |split| {
        /// Its name.
        name: String = split.name().to_string(),
        /// What the parts are parts of: "weight", "active" or "mole".
        by: Word<SplitBasis> = Word(split.basis()),
        /// Parts by line.
        parts: Vec<(String, Fraction)> =
            split.parts().iter().map(|(line, part)| (line.clone(), Fraction(part.clone()))).collect(),
    }
}

/// What is asked for: lines, splits, requirements and an objective. Immutable: every method gives a new brief. It has a
/// `title` and looks raw materials up in a `catalogue`; `prices` per kilogram are a `PriceList`, or numbers by name in
/// a `currency`.
///
/// >>> from tenside import measure as m
/// >>> brief = (td.Brief("Plain bar", td.Catalogue.starter())
/// ...     .split({"sci-powder": 14, "scs-needles": 5, "capb-30": 1}, by="active", name="wash")
/// ...     .fix("panthenol", 1.5)
/// ...     .between("cetyl-alcohol", 3, 6)
/// ...     .qs("kaolin")
/// ...     .target(m.active_matter, 58)
/// ...     .at_most(m.water, 9))
/// >>> answer = brief.solve()
/// >>> answer.verify(), answer.formula.percentages["panthenol"]
/// (True, Decimal('1.5'))
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Brief(pub(crate) tenside::brief::Brief);

value!(Brief, |it| (it.title(), it.lines().len()));

shown!(Brief, |it| it.0.page());

getters!(Brief {
    /// Its title.
    title: String = |it| it.title().to_string();
    /// Its catalogue.
    catalogue: Catalogue = |it| it.catalogue().clone().into();
    /// Prices per kilogram by material id.
    prices: Option<IndexMap<String, Decimal>> = |it| it.prices().map(|prices| price_by_id(prices));
    /// The currency of the prices.
    currency: Option<String> = |it| it.prices().map(|prices| prices.currency().to_string());
    /// Its phases, in working order.
    phases: Rows<Phase> = |it| it.phases().iter().map(Phase::from).collect();
    /// Its splits.
    splits: Rows<BriefSplit> = |it| it.splits().iter().map(BriefSplit::from).collect();
    /// How many lines of a group may be present, by group.
    at_most_of_groups: IndexMap<String, usize> = |it| it.at_most_of_groups().iter().map(|limit| (limit.group().to_string(), limit.most())).collect();
    /// True if lines may be absent or a group is limited: such a brief is answered by `choose` and `solve_rounded`.
    has_choices: bool = |it| it.has_choices();
    /// Its objective in words; None asks for the middle of the ranges.
    objective: Option<String> = |it| it.objective().map(Objective::words);
});

impl Brief {
    fn aiming(&self, direction: Direction, measure: AMeasure, basis: Option<Basis>) -> Self {
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        Brief(self.0.clone().with_objective(Some(Objective::measure(direction, measure.0, basis))))
    }
}

#[pymethods]
impl Brief {
    #[new]
    #[pyo3(signature = (title, catalogue, *, prices=None, currency=None))]
    fn new(title: &str, catalogue: &Catalogue, prices: Option<Prices>, currency: Option<&str>) -> Outcome<Self> {
        let brief = Brief(tenside::brief::Brief::new(title, &catalogue.0)?);
        prices.map_or_else(|| Ok(brief.clone()), |prices| brief.with_prices(prices, currency))
    }

    /// With prices per kilogram by the name of a raw material in the catalogue or of one of the lines, or a
    /// `PriceList`, which states its own currency.
    #[pyo3(signature = (prices, *, currency=None))]
    fn with_prices(&self, prices: Prices, currency: Option<&str>) -> Outcome<Self> {
        Ok(Brief(self.0.clone().with_prices(&price_list(&prices, currency)?)?))
    }

    /// With another title.
    fn with_title(&self, title: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().with_title(title)?))
    }

    /// With a named ratio by "weight" as supplied, by "active" matter or by "mole" of active. Members that are no lines
    /// yet become free. `parts` are numbers by line, in the ratio wanted; `name` is the split's.
    #[pyo3(signature = (parts, *, by, name))]
    fn split(&self, parts: ByName, by: Word<SplitBasis>, name: &str) -> Outcome<Self> {
        let members: Vec<(&str, &Exact)> = parts.0.iter().map(|(line, part)| (line.as_str(), &part.0)).collect();
        Ok(Brief(self.0.clone().split(name, by.0, members)?))
    }

    /// With a phase and its temperature in °C; phases keep the order in which they are stated.
    /// `name` is the phase's.
    #[pyo3(signature = (name, temperature=None))]
    fn phase(&self, name: &str, temperature: Option<Number>) -> Outcome<Self> {
        Ok(Brief(self.0.clone().phase(phase(name, temperature)?)?))
    }

    /// Without a split; its lines stay.
    /// `name` is the split's.
    fn drop_split(&self, name: &str) -> Outcome<Self> {
        Ok(Brief(self.0.clone().drop_split(name)?))
    }

    /// Asking for the formula with the least value of a measure.
    /// `basis` is what it is counted on, as charged unless stated.
    #[pyo3(signature = (measure, *, basis=None))]
    fn minimise(&self, measure: AMeasure, basis: Option<Basis>) -> Self {
        self.aiming(Direction::Minimise, measure, basis)
    }

    /// Asking for the formula with the greatest value of a measure.
    /// `basis` is what it is counted on, as charged unless stated.
    #[pyo3(signature = (measure, *, basis=None))]
    fn maximise(&self, measure: AMeasure, basis: Option<Basis>) -> Self {
        self.aiming(Direction::Maximise, measure, basis)
    }

    /// Asking for the formula that changes least from a given one: the least sum of the changes, which falls to few
    /// lines.
    fn least_change_from(&self, formula: &Formula) -> Self {
        Brief(self.0.clone().least_change_from(&formula.0))
    }

    /// Asking for the formula nearest to a given one by least squares: many small changes rather than a large one.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> base = td.Formula("Three", {"capb-30": 20, "glycerin-99-5": 40, "water": 40}, cat)
    /// >>> brief = td.Brief("Three", cat).between("capb-30", 23, 100).free("glycerin-99-5").qs("water")
    /// >>> brief.least_squares_from(base).solve().exact["water"]
    /// Fraction(77, 2)
    fn least_squares_from(&self, formula: &Formula) -> Self {
        Brief(self.0.clone().least_squares_from(&formula.0))
    }

    /// As a TOML document that embeds what the lines use; with `materials=False` one that names its raw materials only.
    #[pyo3(signature = (*, materials=true))]
    fn to_toml(&self, materials: bool) -> Outcome<String> {
        Ok(self.0.write(Notation::Toml, embedded(materials))?)
    }

    /// As a JSON document that embeds what the lines use; with `materials=False` one that names its raw materials only.
    #[pyo3(signature = (*, materials=true))]
    fn to_json(&self, materials: bool) -> Outcome<String> {
        Ok(self.0.write(Notation::Json, embedded(materials))?)
    }

    /// Reads a brief document in TOML; what it does not embed is looked up in the catalogue.
    /// `text` is the document.
    ///
    /// >>> brief = td.Brief("Clay", td.Catalogue.starter()).qs("kaolin")
    /// >>> td.Brief.from_toml(brief.to_toml()) == brief == td.Brief.from_json(brief.to_json())
    /// True
    #[classmethod]
    #[pyo3(signature = (text, catalogue=None))]
    fn from_toml(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        text: &str,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Self> {
        read(py, text, Notation::Toml, catalogue)
    }

    /// Reads a brief document in JSON; what it does not embed is looked up in the catalogue.
    /// `text` is the document.
    #[classmethod]
    #[pyo3(signature = (text, catalogue=None))]
    fn from_json(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        text: &str,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Self> {
        read(py, text, Notation::Json, catalogue)
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String, Catalogue))> {
        let it = slf.get();
        Ok((slf.get_type().getattr("from_json")?, (it.to_json(true)?, it.catalogue())))
    }

    /// The page that is shown: lines, splits, requirements, what is to be best.
    #[getter]
    fn page(&self) -> Page {
        Page(self.0.page())
    }

    fn __repr__(&self) -> String {
        format!(
            "<Brief {:?} of {} lines and {} requirements>",
            self.0.title(),
            self.0.lines().len(),
            self.0.requirements().len()
        )
    }
}

fn read(py: Python<'_>, text: &str, notation: Notation, catalogue: Option<&Catalogue>) -> Outcome<Brief> {
    let catalogue = catalogue.map_or_else(tenside::catalogue::Catalogue::empty, |catalogue| catalogue.0.clone());
    Ok(Brief(reading(py, [text], move |[text]| tenside::brief::Brief::read(text, notation, &catalogue))?))
}
