//! Prices per kilogram.

use std::sync::Arc;

use arrow_array::{Float64Array, StringArray};
use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::{PyIterator, PyList, PyType};
use pyo3::{PyTypeInfo, type_hint_union};
use rust_decimal::Decimal;
use tenside::bounds::Quantity;
use tenside::catalogue::{CsvOptions, PriceRow};
use tenside::document::{Delimiter, Notation};
use tenside::error::{Fault, FaultKind};
use tenside::number::Exact;

use crate::convert::column::of_columns;
use crate::convert::documents::as_dict;
use crate::convert::failure::Outcome;
use crate::convert::input::{ByName, exact, one_by_one};
use crate::convert::output::Fraction;
use crate::convert::pickled::Reduced;
use crate::convert::running::reading;
use crate::convert::word::Word;
use crate::material::Material;
use crate::material::catalogue::Catalogue;

/// What prices are in if nobody says so.
const CURRENCY: &str = "currency";

/// Prices per kilogram as supplied, in one currency, by the id of the raw material; given as `prices` of a brief or
/// formula. Read from TOML, JSON or CSV, or made of a mapping by name or a data frame with the columns "material",
/// "price_per_kg" and, unless it is stated here, "currency". Names are looked up in the catalogue, by default the
/// starter catalogue. Every fault is said at once.
///
/// >>> prices = td.PriceList({"kaolin": 1.9, "SCI powder": "6.40"}, currency="EUR")
/// >>> prices["sci-powder"], prices.currency, len(prices)
/// (Decimal('6.4'), 'EUR', 2)
/// >>> td.PriceList({"kaoline": 1.9}, currency="EUR")
/// Traceback (most recent call last):
/// ...
/// tenside.errors.UnknownName: file prices, line 1, column 1: price of "kaoline": unknown raw material (found "kaoline"); did you mean "kaolin"?
/// >>> brief = td.Brief("Clay", td.Catalogue.starter(), prices=prices).qs("kaolin").minimise(td.measure.cost)
/// >>> brief.currency
/// 'EUR'
#[pyclass(frozen, eq, mapping, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct PriceList(pub(crate) Arc<tenside::catalogue::PriceList>);

value!(PriceList, |it| it.iter().collect::<Vec<_>>());

arrow!(PriceList, |it, _py| it.columns()?);

getters!(PriceList {
    /// The currency.
    currency: String = |it| it.currency().to_string();
});

impl PriceList {
    fn columns(&self) -> Outcome<arrow_array::RecordBatch> {
        let prices = || self.0.iter();
        let materials: StringArray = prices().map(|(id, _)| Some(id)).collect();
        let numbers: Float64Array = prices().map(|(_, price)| Some(Exact::from(price).to_f64())).collect();
        let currencies: StringArray = prices().map(|_| Some(self.0.currency())).collect();
        let columns = vec![
            ("material".to_string(), Arc::new(materials) as arrow_array::ArrayRef),
            ("price_per_kg".to_string(), Arc::new(numbers)),
            ("currency".to_string(), Arc::new(currencies)),
        ];
        of_columns(columns, prices().count())
    }

    pub(crate) fn read(py: Python<'_>, text: &str, notation: Notation, catalogue: &Catalogue) -> Outcome<Self> {
        let catalogue = catalogue.0.clone();
        let list = reading(py, [text], move |[text]| tenside::catalogue::PriceList::read(text, notation, &catalogue))?;
        Ok(PriceList(Arc::new(list)))
    }
}

#[pymethods]
impl PriceList {
    #[new]
    #[pyo3(signature = (prices: "Mapping[str, SupportsFloat | str] | Any", *, currency=None, catalogue=None))]
    fn new(
        py: Python<'_>,
        prices: &Bound<'_, PyAny>,
        currency: Option<&str>,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Self> {
        let rows = rows(prices)?;
        let catalogue = Catalogue::or_starter(catalogue);
        Ok(PriceList(Arc::new(py.detach(|| tenside::catalogue::PriceList::of_rows(&rows, currency, &catalogue.0))?)))
    }

    /// Reads a TOML document: `tenside = "prices/1"`, `currency`, and under `[per_kg]` a price for each raw material,
    /// by id or another name in the `catalogue`, by default the starter catalogue. `text` is the document.
    ///
    /// >>> td.PriceList.from_toml('tenside = "prices/1"\ncurrency = "EUR"\n[per_kg]\nkaolin = 1.9\n')
    /// <PriceList of 1 price in EUR>
    #[classmethod]
    #[pyo3(signature = (text, catalogue=None))]
    fn from_toml(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        text: &str,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Self> {
        PriceList::read(py, text, Notation::Toml, &Catalogue::or_starter(catalogue))
    }

    /// Reads a JSON document, as `from_toml` does.
    /// `text` is the document; names are looked up in the `catalogue`.
    ///
    /// >>> prices = td.PriceList({"kaolin": 1.9}, currency="EUR")
    /// >>> td.PriceList.from_json(prices.to_json()) == td.PriceList.from_csv(prices.to_csv()) == prices
    /// True
    #[classmethod]
    #[pyo3(signature = (text, catalogue=None))]
    fn from_json(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        text: &str,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Self> {
        PriceList::read(py, text, Notation::Json, &Catalogue::or_starter(catalogue))
    }

    /// Reads a sheet with the columns "material" and "price_per_kg" in any order, and "currency" unless `currency`
    /// states it for all rows. The `delimiter` ("comma", "semicolon" or "tab") is found from the header row unless it
    /// is stated; `decimal_comma` reads 6,40. Names are looked up in the `catalogue`, by default the starter catalogue.
    /// `text` is the sheet.
    ///
    /// >>> sheet = "material;price_per_kg\nkaolin;1,90\nSCI powder;6,40\n"
    /// >>> td.PriceList.from_csv(sheet, currency="EUR", decimal_comma=True)["sci-powder"]
    /// Decimal('6.40')
    #[classmethod]
    #[pyo3(signature = (text, catalogue=None, *, currency=None, delimiter=None, decimal_comma=false))]
    fn from_csv(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        text: &str,
        catalogue: Option<&Catalogue>,
        currency: Option<String>,
        delimiter: Option<Word<Delimiter>>,
        decimal_comma: bool,
    ) -> Outcome<Self> {
        let catalogue = Catalogue::or_starter(catalogue).0;
        let options = CsvOptions::default().with_decimal_comma(decimal_comma);
        let options = delimiter.map_or(options.clone(), |delimiter| options.with_delimiter(delimiter.0));
        let read = move |[text]: [&str; 1]| {
            tenside::catalogue::PriceList::read_csv(text, currency.as_deref(), &options, &catalogue)
        };
        Ok(PriceList(Arc::new(reading(py, [text], read)?)))
    }

    /// As a TOML document.
    fn to_toml(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Toml)?)
    }

    /// As a JSON document.
    fn to_json(&self) -> Outcome<String> {
        Ok(self.0.write(Notation::Json)?)
    }

    /// The JSON document as a dict, list and plain values.
    #[pyo3(signature = () -> "dict[str, Any]")]
    fn to_dict<'py>(&self, py: Python<'py>) -> Outcome<Bound<'py, PyAny>> {
        as_dict(py, &self.to_json()?)
    }

    /// As a sheet that `from_csv` reads: commas, decimal points.
    fn to_csv(&self) -> Outcome<String> {
        Ok(self.0.write_csv()?)
    }

    /// What a kilogram of a raw `material` costs: its own price, or for a premix without one what its parts come to, of
    /// which each then needs one.
    ///
    /// >>> float(td.PriceList({"kaolin": 1.9}, currency="EUR").price_of(td.Catalogue.starter()["kaolin"]))
    /// 1.9
    fn price_of(&self, material: &Material) -> Outcome<Fraction> {
        Ok(Fraction(self.0.price_of(&material.0)?))
    }

    /// The ids of what is priced.
    fn keys(&self) -> Vec<String> {
        self.0.iter().map(|(id, _)| id.to_string()).collect()
    }

    /// The prices.
    fn values(&self) -> Vec<Decimal> {
        self.0.iter().map(|(_, price)| price).collect()
    }

    /// Id and price of each.
    fn items(&self) -> Vec<(String, Decimal)> {
        self.0.iter().map(|(id, price)| (id.to_string(), price)).collect()
    }

    fn __getitem__(&self, material: &str) -> Outcome<Decimal> {
        self.0.get(material).ok_or_else(|| {
            Fault::new(FaultKind::UnknownName, "no price of this raw material").value(format!("{material:?}")).into()
        })
    }

    fn __contains__(&self, material: &str) -> bool {
        self.0.get(material).is_some()
    }

    fn __len__(&self) -> usize {
        self.0.iter().count()
    }

    fn __iter__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyIterator>> {
        PyList::new(py, self.keys())?.try_iter()
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        Ok((py.get_type::<PriceList>().getattr("_of")?, (price_by_id(&self.0), self.currency()).into_pyobject(py)?))
    }

    #[classmethod]
    fn _of(_class: &Bound<'_, PyType>, prices: ByName, currency: &str) -> Outcome<Self> {
        Ok(PriceList(Arc::new(price_list(&Prices::Named(prices), Some(currency))?)))
    }

    fn __repr__(&self) -> String {
        let count = self.__len__();
        format!("<PriceList of {count} price{} in {}>", if count == 1 { "" } else { "s" }, self.0.currency())
    }
}

/// Prices as they are written, row by row: those of a mapping, or of a frame with a column of each kind.
fn rows(prices: &Bound<'_, PyAny>) -> Outcome<Vec<PriceRow>> {
    let names =
        ["column_names", "columns"].into_iter().find_map(|name| prices.getattr_opt(name).transpose()).transpose()?;
    let Some(names) = names else {
        let items = crate::convert::input::items(prices)?;
        return one_by_one(&items, Quantity::Entries, |item| {
            let (material, price): (String, Bound<'_, PyAny>) = item.extract()?;
            Ok(PriceRow { material, price: written(&price)?, currency: String::new() })
        });
    };
    let names: Vec<String> = one_by_one(&names, Quantity::Entries, |name| Ok(name.str()?.to_cow()?.into_owned()))?;
    let column = |name: &str| -> Outcome<Option<Vec<String>>> {
        if !names.iter().any(|known| known == name) {
            return Ok(None);
        }
        one_by_one(&prices.get_item(name)?, Quantity::Entries, |cell| written(&cell)).map(Some)
    };
    let missing = |name: &str| {
        let fault = Fault::new(FaultKind::Missing, "a required column is missing").value(format!("{name:?}"));
        fault.allowed("material, price_per_kg, and currency").remedy("rename or add the column")
    };
    let materials = column("material")?.ok_or_else(|| missing("material"))?;
    let numbers = column("price_per_kg")?.ok_or_else(|| missing("price_per_kg"))?;
    let currencies = column("currency")?.unwrap_or_else(|| vec![String::new(); materials.len()]);
    let cells = materials.into_iter().zip(numbers).zip(currencies);
    Ok(cells.map(|((material, price), currency)| PriceRow { material, price, currency }).collect())
}

/// A cell as text; empty where there is nothing. What is no number stays as it is, for the core to refuse.
fn written(cell: &Bound<'_, PyAny>) -> Outcome<String> {
    let cell = match cell.getattr_opt("as_py")? {
        Some(as_py) => as_py.call0()?,
        None => cell.clone(),
    };
    if cell.is_none() {
        return Ok(String::new());
    }
    Ok(match exact(&cell) {
        Ok(number) => number.to_string(),
        Err(_) => cell.str()?.to_cow()?.into_owned(),
    })
}

/// Prices as they are given: a list with its currency, or numbers by name.
pub(crate) enum Prices {
    List(PriceList),
    Named(ByName),
}

impl<'a, 'py> FromPyObject<'a, 'py> for Prices {
    type Error = crate::convert::failure::Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(<PriceList as PyTypeInfo>::TYPE_HINT, ByName::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        match object.cast::<PriceList>() {
            Ok(list) => Ok(Prices::List(list.get().clone())),
            Err(_) => ByName::extract(object).map(Prices::Named),
        }
    }
}

/// The price list given, in the currency that it or the keyword states.
pub(crate) fn price_list(prices: &Prices, currency: Option<&str>) -> Outcome<tenside::catalogue::PriceList> {
    match prices {
        Prices::Named(prices) => {
            let prices = prices.0.iter().map(|(material, price)| (material, &price.0));
            Ok(tenside::catalogue::PriceList::new(currency.unwrap_or(CURRENCY), prices)?)
        }
        Prices::List(list) if currency.is_none_or(|currency| currency == list.0.currency()) => {
            Ok(list.0.as_ref().clone())
        }
        Prices::List(list) => {
            let fault = Fault::new(FaultKind::Contradiction, "a price list in one currency, and another one beside it");
            Err(fault
                .value(format!("{:?}", currency.unwrap_or_default()))
                .allowed(list.0.currency())
                .remedy("leave currency= out")
                .into())
        }
    }
}

pub(crate) fn price_by_id(prices: &tenside::catalogue::PriceList) -> IndexMap<String, Decimal> {
    prices.iter().map(|(id, price)| (id.to_string(), price)).collect()
}
