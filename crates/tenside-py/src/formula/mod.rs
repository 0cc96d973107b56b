//! A formula on the grid of 0.0001 %.

pub(crate) mod difference;
pub(crate) mod draft;
pub(crate) mod expansion;
pub(crate) mod history;
pub(crate) mod line;
pub(crate) mod reading;

use std::sync::Arc;

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::type_hint_union;
use pyo3::types::PyType;
use rust_decimal::Decimal;
use tenside::document::Notation;
use tenside::formula::Purpose;
use tenside::material::Form;

use crate::convert::column::batch_of;
use crate::convert::documents::embedded;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{AMass, ByName, Number, Several};
use crate::convert::running::reading;
use crate::convert::table::Rows;
use crate::convert::word::{Word, Words};
use crate::formula::line::{Line, Phase, phase};
use crate::material::Material;
use crate::material::catalogue::Catalogue;
use crate::material::prices::{Prices, price_by_id, price_list};

/// The lines of a formula: percentages by material of a catalogue, or lines.
pub(crate) enum Lines {
    Each(Vec<Line>),
    Percent(ByName),
}

impl<'a, 'py> FromPyObject<'a, 'py> for Lines {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(Several::<Line>::INPUT_TYPE, ByName::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if object.hasattr("items")? {
            Ok(Lines::Percent(object.extract()?))
        } else {
            Ok(Lines::Each(object.extract::<Several<Line>>()?.0))
        }
    }
}

/// Lines of raw materials in phases whose percentages sum to exactly 100. Immutable. `title` is its own; `lines` are
/// `Line`s, or percentages by name that are looked up in the `catalogue`; `prices` per kilogram are a `PriceList`, or
/// numbers by name in a `currency`.
///
/// >>> cat = td.Catalogue.starter()
/// >>> bar = td.Formula("Plain bar", {"sci-powder": 60, "cetyl-alcohol": 15, "kaolin": 25}, cat)
/// >>> print(bar.measure(td.measure.active_matter).text())
/// 50.40 (49.20 to 52.20) %
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Formula(pub(crate) tenside::formula::Formula);

value!(Formula, |it| (it.title(), it.lines().iter().map(|line| line.percent()).collect::<Vec<_>>()));

arrow!(Formula, |it, _py| batch_of(it.lines())?);

text_cell!(Formula, |it| it.0.title().to_string());

getters!(Formula {
    /// Its title.
    title: String = |it| it.title().to_string();
    /// Its lines, in the order given.
    lines: Rows<Line> = |it| it.lines().iter().cloned().map(Line).collect();
    /// Its phases, in working order.
    phases: Rows<Phase> = |it| it.phases().iter().map(Phase::from).collect();
    /// Percent as supplied by line.
    percentages: IndexMap<String, Decimal> = |it| it.lines().iter().map(|line| (line.name().to_string(), line.percent().decimal_percent())).collect();
    /// Prices per kilogram by material id, if it was given any.
    prices: Option<IndexMap<String, Decimal>> = |it| it.prices().map(|prices| price_by_id(prices));
    /// The currency of the prices.
    currency: Option<String> = |it| it.prices().map(|prices| prices.currency().to_string());
    /// True if it rests on values of the starter catalogue.
    is_draft: bool = |it| it.is_draft();
    /// The line that takes rounding rests.
    absorber: String = |it| it.lines()[it.absorber()].name().to_string();
});

fn read(py: Python<'_>, text: &str, notation: Notation, catalogue: Option<&Catalogue>) -> Outcome<Formula> {
    let catalogue = catalogue.map_or_else(tenside::catalogue::Catalogue::empty, |catalogue| catalogue.0.clone());
    Ok(Formula(reading(py, [text], move |[text]| tenside::formula::Formula::read(text, notation, &catalogue))?))
}

#[pymethods]
impl Formula {
    #[new]
    #[pyo3(signature = (title, lines, catalogue=None, *, phases=None, prices=None, currency=None))]
    fn new(
        title: &str,
        lines: Lines,
        catalogue: Option<&Catalogue>,
        phases: Option<IndexMap<String, Option<Number>>>,
        prices: Option<Prices>,
        currency: Option<&str>,
    ) -> Outcome<Self> {
        let lines = match lines {
            Lines::Each(lines) => lines.into_iter().map(|line| line.0).collect(),
            Lines::Percent(percent) => {
                let none = tenside::catalogue::Catalogue::empty();
                let catalogue = catalogue.map_or(&none, |catalogue| &catalogue.0);
                let line = |(name, percent): (String, Number)| {
                    let material = catalogue.material(&name)?;
                    Ok(tenside::formula::Line::new(material.id(), Arc::clone(material), percent.ppm()?)?)
                };
                percent.0.into_iter().map(line).collect::<Outcome<_>>()?
            }
        };
        let mut formula = tenside::formula::Formula::new(title, lines)?;
        if let Some(phases) = phases {
            let phases: Vec<_> =
                phases.into_iter().map(|(name, temperature)| phase(&name, temperature)).collect::<Outcome<_>>()?;
            formula = formula.with_phases(&phases)?;
        }
        let mut prices = prices.map(|prices| price_list(&prices, currency)).transpose()?;
        if let (Some(prices), Some(catalogue)) = (&mut prices, catalogue) {
            *prices = prices.with_ids_of(&catalogue.0, formula.lines().iter().map(tenside::formula::Line::material))?;
        }
        Ok(Formula(formula.with_prices(prices.map(Arc::new))))
    }

    /// The line of that name.
    fn line(&self, name: &str) -> Outcome<Line> {
        Ok(Line(self.0.line(name)?.clone()))
    }

    /// The formula of a batch to which so much of a raw material was added.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, cat)
    /// >>> bar.with_addition(cat.material("citric-acid-50"), "8 g", batch="2 kg").percentages["citric-acid-50"]
    /// Decimal('0.3984')
    #[pyo3(signature = (material, added, *, batch))]
    fn with_addition(&self, material: Material, added: AMass, batch: AMass) -> Outcome<Self> {
        Ok(Formula(self.0.with_addition(&material.0, &added.0, &batch.0)?))
    }

    /// This formula as a raw material of another: a premix.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> wash = td.Formula("Wash powder", {"sci-powder": 80, "kaolin": 20}, cat).to_material("wash-powder", form="powder")
    /// >>> td.Formula("Bar", {"wash-powder": 90, "glycerin-99-5": 10}, cat.with_material(wash)).lines[0].material.id
    /// 'wash-powder'
    #[pyo3(signature = (id, *, form))]
    fn to_material(&self, id: &str, form: Word<Form>) -> Outcome<Material> {
        Ok(Material(Arc::new(self.0.to_material(id, form.0)?)))
    }

    /// With prices per kilogram by material id, or a `PriceList`, so that cost can be read off it.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()).with_prices({"kaolin": 1.9}, currency="EUR")
    /// >>> clay.measure(td.measure.cost).text()
    /// '1.90 EUR per kg'
    #[pyo3(signature = (prices, *, currency=None))]
    fn with_prices(&self, prices: Prices, currency: Option<&str>) -> Outcome<Self> {
        Ok(Formula(self.0.clone().with_prices(Some(Arc::new(price_list(&prices, currency)?)))))
    }

    /// With what a line is there for stated, all of it. Some limits are those of one purpose only.
    ///
    /// >>> bar = td.Formula("Scalp bar", {"salicylic-acid": 2, "kaolin": 98}, td.Catalogue.starter())
    /// >>> bar.with_purposes("salicylic-acid", "anti-dandruff").line("salicylic-acid").purposes
    /// ['anti-dandruff']
    fn with_purposes(&self, line: &str, purposes: Words<Purpose>) -> Outcome<Self> {
        Ok(Formula(self.0.clone().with_purposes(line, &purposes.0)?))
    }

    /// With another title.
    fn with_title(&self, title: &str) -> Outcome<Self> {
        Ok(Formula(self.0.clone().with_title(title)?))
    }

    /// As a TOML document that needs no catalogue; with `materials=False` one that names its raw materials only.
    #[pyo3(signature = (*, materials=true))]
    fn to_toml(&self, materials: bool) -> Outcome<String> {
        Ok(self.0.write(Notation::Toml, embedded(materials))?)
    }

    /// As a JSON document that needs no catalogue; with `materials=False` one that names its raw materials only.
    #[pyo3(signature = (*, materials=true))]
    fn to_json(&self, materials: bool) -> Outcome<String> {
        Ok(self.0.write(Notation::Json, embedded(materials))?)
    }

    /// Reads a formula document in TOML; what it does not embed is looked up in the catalogue.
    /// `text` is the document.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    /// >>> td.Formula.from_toml(clay.to_toml()) == clay == td.Formula.from_json(clay.to_json())
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

    /// Reads a formula document in JSON; what it does not embed is looked up in the catalogue.
    /// `text` is the document.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    /// >>> td.Formula.from_json(clay.to_json(materials=False), td.Catalogue.starter()) == clay
    /// True
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

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, (String,))> {
        Ok((slf.get_type().getattr("from_json")?, (slf.get().to_json(true)?,)))
    }

    fn __repr__(&self) -> String {
        format!("<Formula {:?} of {} lines>", self.0.title(), self.0.lines().len())
    }
}
