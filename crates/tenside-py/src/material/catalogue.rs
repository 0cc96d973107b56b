//! A set of raw materials.

use pyo3::prelude::*;
use pyo3::types::{PyTuple, PyType};
use tenside::catalogue::{CsvOptions, Winner};
use tenside::document::{Delimiter, Notation};

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::running::reading;
use crate::convert::word::Word;

/// Raw materials with the substances they name, their lots and other names. Immutable: a change gives a new catalogue.
///
/// >>> cat = td.Catalogue.starter()
/// >>> cat.material("kaolin")
/// <Material "kaolin">
/// >>> try: cat.material("SCS")
/// ... except td.errors.AmbiguousName as error: print(error.faults[0].message)
/// the name could mean several raw materials
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Catalogue(pub(crate) tenside::catalogue::Catalogue);

value!(Catalogue, |it| it.materials().map(|material| material.id()).collect::<Vec<_>>());

impl From<tenside::catalogue::Catalogue> for Catalogue {
    fn from(catalogue: tenside::catalogue::Catalogue) -> Self {
        Catalogue(catalogue)
    }
}

impl Catalogue {
    /// The catalogue named, else the starter catalogue.
    pub(crate) fn or_starter(catalogue: Option<&Self>) -> Self {
        catalogue.cloned().unwrap_or_else(|| tenside::catalogue::Catalogue::starter().into())
    }
}

arrow!(Catalogue, |it, _py| batch_of(it.materials())?);

#[pymethods]
impl Catalogue {
    /// Without any material, over the embedded substances.
    #[new]
    fn new() -> Self {
        tenside::catalogue::Catalogue::empty().into()
    }

    /// The embedded catalogue of generic raw materials: typical values without prices. What rests on them is a DRAFT.
    ///
    /// >>> len(td.Catalogue.starter()) > 100
    /// True
    #[classmethod]
    fn starter(_class: &Bound<'_, PyType>, py: Python<'_>) -> Self {
        py.detach(tenside::catalogue::Catalogue::starter).into()
    }

    /// Reads a catalogue document in TOML.
    ///
    /// >>> text = td.Catalogue.starter().to_toml()
    /// >>> td.Catalogue.from_toml(text) == td.Catalogue.starter()
    /// True
    #[classmethod]
    fn from_toml(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(reading(py, [text], |[text]| tenside::catalogue::Catalogue::read(text, Notation::Toml))?.into())
    }

    /// Reads a catalogue document in JSON.
    /// `text` is the document.
    ///
    /// >>> len(td.Catalogue.from_json('{"tenside": "catalogue/1"}'))
    /// 0
    #[classmethod]
    fn from_json(_class: &Bound<'_, PyType>, py: Python<'_>, text: &str) -> Outcome<Self> {
        Ok(reading(py, [text], |[text]| tenside::catalogue::Catalogue::read(text, Notation::Json))?.into())
    }

    /// As TOML.
    ///
    /// >>> td.Catalogue().to_toml().strip()
    /// 'tenside = "catalogue/1"'
    fn to_toml(&self, py: Python<'_>) -> Outcome<String> {
        Ok(py.detach(|| self.0.write(Notation::Toml))?)
    }

    /// As JSON.
    fn to_json(&self, py: Python<'_>) -> Outcome<String> {
        Ok(py.detach(|| self.0.write(Notation::Json))?)
    }

    /// Reads a catalogue from CSV sheets in any order of columns, given as text: one row a material, one row a
    /// constituent, and if there is a third, one row a name that could mean several raw materials. `names` is the third
    /// sheet.
    ///
    /// The `delimiter` ("comma", "semicolon" or "tab") is found from the header rows unless it is stated;
    /// `decimal_comma` reads 84,5; `source` is that of materials whose row states none.
    ///
    /// >>> materials = "id;name;form;source\nhouse-glycerin;Glycerin 99,5 %;liquid;invented for this example\n"
    /// >>> constituents = "material;constituent;typical\nhouse-glycerin;GLYCERIN;99,5\nhouse-glycerin;WATER;0,5\n"
    /// >>> td.Catalogue.from_csv(materials, constituents, decimal_comma=True).material("house-glycerin").constituents[0].typical
    /// Decimal('99.5')
    #[classmethod]
    #[pyo3(signature = (materials, constituents, names=None, *, delimiter=None, decimal_comma=false, source=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn from_csv(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        materials: &str,
        constituents: &str,
        names: Option<&str>,
        delimiter: Option<Word<Delimiter>>,
        decimal_comma: bool,
        source: Option<&str>,
    ) -> Outcome<Self> {
        let mut options = CsvOptions::default().with_decimal_comma(decimal_comma);
        if let Some(delimiter) = delimiter {
            options = options.with_delimiter(delimiter.0);
        }
        if let Some(source) = source {
            options = options.with_source(source);
        }
        let names = names.map(String::from);
        let read = move |[materials, constituents]: [&str; 2]| {
            tenside::catalogue::Catalogue::read_csv(materials, constituents, names.as_deref(), options)
        };
        Ok(reading(py, [materials, constituents], read)?.into())
    }

    /// As three CSV sheets: materials, constituents, and names that could mean several. Premixes, lots and substances
    /// of its own have no place there and are refused. A text that a spreadsheet would take for a formula stands behind
    /// an apostrophe, which the reader takes off again.
    ///
    /// >>> materials, constituents, names = td.Catalogue.starter().to_csv()
    /// >>> td.Catalogue.from_csv(materials, constituents, names) == td.Catalogue.starter()
    /// True
    fn to_csv(&self, py: Python<'_>) -> Outcome<(String, String, String)> {
        Ok(py.detach(|| self.0.write_csv())?)
    }

    /// Both catalogues in one. Where both have something of the same name with other values, `winner` decides: "ours",
    /// "theirs", or "neither", which refuses.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> cat.merge(cat) == cat
    /// True
    #[pyo3(signature = (other, *, winner=Word(Winner::Neither)))]
    fn merge(&self, other: &Self, winner: Word<Winner>) -> Outcome<Self> {
        Ok(self.0.merge(&other.0, winner.0)?.into())
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<(Bound<'py, PyAny>, Bound<'py, PyAny>)> {
        let (py, class) = (slf.py(), slf.get_type());
        if slf.get().0 == tenside::catalogue::Catalogue::starter() {
            return Ok((class.getattr("starter")?, PyTuple::empty(py).into_any()));
        }
        Ok((class.getattr("from_json")?, (slf.get().to_json(py)?,).into_pyobject(py)?.into_any()))
    }

    fn __repr__(&self) -> String {
        format!("<Catalogue of {} materials and {} lots>", self.0.materials().count(), self.0.lots().count())
    }
}
