//! Catalogues and price lists from a table of one's own.

use std::sync::Arc;

use indexmap::IndexMap;
use pyo3::prelude::*;
use pyo3::types::PyType;
use tenside::catalogue::{TableOf, TableOptions};
use tenside::document::Delimiter;
use tenside::error::{Error, Fault};

use crate::convert::failure::{Failure, Outcome};
use crate::convert::frame::ATable;
use crate::convert::input::Names;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::material::catalogue::Catalogue;
use crate::material::prices::PriceList;

record! {
    "tenside.material",
    /// Something wrong with a table.
    TableFault of Fault, |fault| {
        /// The line, from 1; the headings are line 1.
        line: Option<u32> = fault.position.map(|(line, _)| line),
        /// The number of the cell in its line, from 1.
        column: Option<u32> = fault.position.map(|(_, column)| column),
        /// Where, in words.
        place: String = fault.place,
        /// What is wrong.
        message: String = fault.message,
        /// What was found.
        value: Option<String> = fault.value,
        /// What is allowed.
        allowed: Option<String> = fault.allowed,
        /// The way out.
        remedy: Option<String> = fault.remedy,
    }
}

/// So many unknown columns are told at once.
const MOST_UNKNOWN: usize = 100;

fn options(
    columns: Option<IndexMap<String, String>>,
    ignore: Option<Names>,
    delimiter: Option<Word<Delimiter>>,
    decimal_comma: Option<bool>,
) -> Outcome<TableOptions> {
    let (mut options, mut faults) = (TableOptions::new(), Vec::new());
    for (column, heading) in columns.into_iter().flatten() {
        if faults.len() >= MOST_UNKNOWN {
            break;
        }
        match options.clone().with_column(&column, &heading) {
            Ok(with) => options = with,
            // The columns there are make a long list, which is read once.
            Err(error) => faults.extend(
                error
                    .into_faults()
                    .into_iter()
                    .map(|mut fault| {
                        fault.allowed = fault.allowed.filter(|_| faults.is_empty());
                        fault
                    })
                    .collect::<Vec<_>>(),
            ),
        }
    }
    if let Some(error) = Error::from_faults(faults) {
        return Err(error.into());
    }
    let options =
        ignore.iter().flat_map(|names| &names.0).fold(options, |options, heading| options.with_ignored(heading));
    let options = match delimiter {
        Some(delimiter) => options.with_delimiter(delimiter.0),
        None => options,
    };
    Ok(decimal_comma.into_iter().fold(options, TableOptions::with_decimal_comma))
}

/// The faults of what was read.
fn faults<T>(read: Outcome<T>) -> Outcome<Rows<TableFault>> {
    match read {
        Ok(_) => Ok(Vec::<TableFault>::new().into_iter().collect()),
        Err(Failure::Core(error)) => Ok(error.into_faults().into_iter().map(TableFault::from).collect()),
        Err(failure) => Err(failure),
    }
}

#[allow(clippy::too_many_arguments, reason = "keywords in Python")]
fn catalogue(
    py: Python<'_>,
    table: ATable,
    columns: Option<IndexMap<String, String>>,
    ignore: Option<Names>,
    delimiter: Option<Word<Delimiter>>,
    decimal_comma: Option<bool>,
    rest_unspecified: bool,
    source: Option<&str>,
    catalogue: Option<&Catalogue>,
) -> Outcome<tenside::catalogue::Catalogue> {
    let mut options = options(columns, ignore, delimiter, decimal_comma)?;
    if rest_unspecified {
        options = options.with_rest_unspecified();
    }
    if let Some(source) = source {
        options = options.with_source(source);
    }
    let substances = Arc::clone(Catalogue::or_starter(catalogue).0.substances());
    table.read(py, decimal_comma, move |table| tenside::catalogue::Catalogue::read_table(table, &options, &substances))
}

#[pymethods]
impl Catalogue {
    /// Reads a catalogue from one `table` of your own: CSV text, a data frame, or a mapping of columns by heading.
    /// `columns` says under which heading each thing stands, {"name": "Bezeichnung"}; what is not said stands under its
    /// own name. Headings in `ignore` are not read; any other that is not known is refused.
    ///
    /// A raw material has `name` and `form`, an `id` (else made of the name), and whatever else `to_csv` writes. Its
    /// ingredients stand one a row under `constituent` with `typical`, `low`, `high`, `declared`, several rows for one
    /// id, or in the supplier's descending order in one cell under `inci_list`. With `rest_unspecified` what typical
    /// shares leave to 100 is "unspecified". Prices (`price_per_kg`, or `price` with `pack` or `pack_kg`; `currency`)
    /// may stand in the same table: `PriceList.from_table` reads them.
    ///
    /// The `delimiter` of text is found from the headings unless stated. `decimal_comma` reads 84,5 (True) or 84.5
    /// (False); by default each number is read by itself, and one that could be two, 1,234, is refused. `source` is
    /// that of rows that state none. Substances are those of the `catalogue`, by default the starter catalogue.
    ///
    /// >>> sheet = "Artikel;Form;INCI;Gehalt;Preis;Gebinde\nKaolin weiß;powder;KAOLIN;100;47,50;25 kg\nBetain 30;liquid;Cocamidopropyl Betaine;30;14,50;5 kg\n"
    /// >>> columns = {"name": "Artikel", "constituent": "INCI", "typical": "Gehalt", "price": "Preis", "pack": "Gebinde"}
    /// >>> shelf = td.Catalogue.from_table(sheet, columns=columns, rest_unspecified=True, source="our shelf (invented)")
    /// >>> [material.id for material in shelf], float(shelf["betain-30"].active())
    /// (['kaolin-weiss', 'betain-30'], 30.0)
    /// >>> td.PriceList.from_table(sheet, shelf, columns=columns, currency="EUR")["kaolin-weiss"]
    /// Decimal('1.9')
    #[classmethod]
    #[pyo3(signature = (table, *, columns=None, ignore=None, delimiter=None, decimal_comma=None, rest_unspecified=false, source=None, catalogue=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn from_table(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        table: ATable,
        columns: Option<IndexMap<String, String>>,
        ignore: Option<Names>,
        delimiter: Option<Word<Delimiter>>,
        decimal_comma: Option<bool>,
        rest_unspecified: bool,
        source: Option<&str>,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Self> {
        Ok(self::catalogue(py, table, columns, ignore, delimiter, decimal_comma, rest_unspecified, source, catalogue)?
            .into())
    }

    /// What is wrong with a `table` that `from_table` would read with the same `columns`, `ignore`, `delimiter`,
    /// `decimal_comma`, `rest_unspecified`, `source` and `catalogue`: a row for each fault, none if it can be read.
    ///
    /// >>> sheet = {"name": ["Kaolin", "Betain 30"], "form": ["powder", "liquid"], "constituent": ["KAOLIN", "COCAMIDOPROPYL BETAIN"], "typical": ["100", "1,234"]}
    /// >>> [(fault.line, fault.column) for fault in td.Catalogue.check_table(sheet, source="our shelf (invented)")]
    /// [(3, 3), (3, 4)]
    #[classmethod]
    #[pyo3(signature = (table, *, columns=None, ignore=None, delimiter=None, decimal_comma=None, rest_unspecified=false, source=None, catalogue=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn check_table(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        table: ATable,
        columns: Option<IndexMap<String, String>>,
        ignore: Option<Names>,
        delimiter: Option<Word<Delimiter>>,
        decimal_comma: Option<bool>,
        rest_unspecified: bool,
        source: Option<&str>,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Rows<TableFault>> {
        faults(self::catalogue(
            py,
            table,
            columns,
            ignore,
            delimiter,
            decimal_comma,
            rest_unspecified,
            source,
            catalogue,
        ))
    }
}

#[allow(clippy::too_many_arguments, reason = "keywords in Python")]
fn with_table(
    py: Python<'_>,
    catalogue: &Catalogue,
    table: ATable,
    of: TableOf,
    columns: Option<IndexMap<String, String>>,
    ignore: Option<Names>,
    delimiter: Option<Word<Delimiter>>,
    decimal_comma: Option<bool>,
    source: Option<&str>,
) -> Outcome<Catalogue> {
    let options = options(columns, ignore, delimiter, decimal_comma)?;
    let options = source.into_iter().fold(options, TableOptions::with_source);
    let catalogue = catalogue.0.clone();
    Ok(table.read(py, decimal_comma, move |table| catalogue.with_table(table, of, &options))?.into())
}

#[pymethods]
impl Catalogue {
    /// The catalogue with what one `table` of your own lists, CSV text, a data frame or a mapping of columns by
    /// heading: `of` says whether its rows are "substances" (`inci`, `class`, as wanted `cas`, `molar_mass`, ...),
    /// "lots" (`id`, `material`, as wanted `active` with its `method`, `solids`, `ph`, `retest`, ...) or "premixes" (as
    /// raw materials, with a row for each `part` and its `percent`). Raw materials are named as the catalogue knows
    /// them. `columns`, `ignore`, `delimiter`, `decimal_comma` and `source` are as for `from_table`.
    ///
    /// >>> lots = "Charge;Artikel;WAS;Methode\nW-27;CAPB 30;29,1;titrated\n"
    /// >>> columns = {"id": "Charge", "material": "Artikel", "active": "WAS", "method": "Methode"}
    /// >>> cat = td.Catalogue.starter().with_table(lots, "lots", columns=columns)
    /// >>> cat.lot("W-27").material
    /// 'capb-30'
    /// >>> frame = {"name": ["Two powders"] * 2, "form": ["powder"] * 2, "part": ["kaolin", "corn-starch"], "percent": [75, 25]}
    /// >>> cat = cat.with_table(frame, "premixes", source="our mixing book (invented)")
    /// >>> td.PriceList({"kaolin": 2, "corn-starch": 4}, currency="EUR").price_of(cat["two-powders"])
    /// Fraction(5, 2)
    #[pyo3(signature = (table, of, *, columns=None, ignore=None, delimiter=None, decimal_comma=None, source=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn with_table(
        &self,
        py: Python<'_>,
        table: ATable,
        of: Word<TableOf>,
        columns: Option<IndexMap<String, String>>,
        ignore: Option<Names>,
        delimiter: Option<Word<Delimiter>>,
        decimal_comma: Option<bool>,
        source: Option<&str>,
    ) -> Outcome<Self> {
        self::with_table(py, self, table, of.0, columns, ignore, delimiter, decimal_comma, source)
    }

    /// What is wrong with a `table` that `with_table` would read with the same `of`, `columns`, `ignore`, `delimiter`,
    /// `decimal_comma` and `source`: a row for each fault, none if it can be read.
    ///
    /// >>> frame = {"id": ["W-27", "W-28"], "material": ["capb-30", "unobtainium"], "ph": [17.2, 5]}
    /// >>> [(fault.line, fault.message) for fault in td.Catalogue.starter().check_with_table(frame, "lots")]
    /// [(2, 'pH out of range'), (3, 'unknown raw material')]
    #[pyo3(signature = (table, of, *, columns=None, ignore=None, delimiter=None, decimal_comma=None, source=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn check_with_table(
        &self,
        py: Python<'_>,
        table: ATable,
        of: Word<TableOf>,
        columns: Option<IndexMap<String, String>>,
        ignore: Option<Names>,
        delimiter: Option<Word<Delimiter>>,
        decimal_comma: Option<bool>,
        source: Option<&str>,
    ) -> Outcome<Rows<TableFault>> {
        faults(self::with_table(py, self, table, of.0, columns, ignore, delimiter, decimal_comma, source))
    }
}

#[allow(clippy::too_many_arguments, reason = "keywords in Python")]
fn prices(
    py: Python<'_>,
    table: ATable,
    catalogue: Option<&Catalogue>,
    columns: Option<IndexMap<String, String>>,
    ignore: Option<Names>,
    currency: Option<String>,
    delimiter: Option<Word<Delimiter>>,
    decimal_comma: Option<bool>,
) -> Outcome<PriceList> {
    let options = options(columns, ignore, delimiter, decimal_comma)?;
    let catalogue = Catalogue::or_starter(catalogue).0;
    let read = move |table: tenside::catalogue::TableText<'_>| {
        tenside::catalogue::PriceList::read_table(table, currency.as_deref(), &options, &catalogue)
    };
    Ok(PriceList(Arc::new(table.read(py, decimal_comma, read)?)))
}

#[pymethods]
impl PriceList {
    /// Reads the prices of a `table` that `Catalogue.from_table` reads too, with the same `columns`, `ignore`,
    /// `delimiter` and `decimal_comma`: `price_per_kg`, or `price` for a `pack` ("25 kg") or for `pack_kg` kilograms,
    /// of what the `catalogue`, by default the starter catalogue, has under the `id`, else the `name`. `currency`
    /// states the currency unless a column does. A row without a price is not priced. A price per kg that has no end as
    /// a decimal is rounded to ten places.
    ///
    /// >>> frame = {"id": ["kaolin", "sci-powder"], "price": [47.5, 19.2], "pack_kg": [25, 3]}
    /// >>> td.PriceList.from_table(frame, currency="EUR").items()
    /// [('kaolin', Decimal('1.9')), ('sci-powder', Decimal('6.4'))]
    #[classmethod]
    #[pyo3(signature = (table, catalogue=None, *, columns=None, ignore=None, currency=None, delimiter=None, decimal_comma=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn from_table(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        table: ATable,
        catalogue: Option<&Catalogue>,
        columns: Option<IndexMap<String, String>>,
        ignore: Option<Names>,
        currency: Option<String>,
        delimiter: Option<Word<Delimiter>>,
        decimal_comma: Option<bool>,
    ) -> Outcome<Self> {
        prices(py, table, catalogue, columns, ignore, currency, delimiter, decimal_comma)
    }

    /// What is wrong with a `table` that `from_table` would read with the same `catalogue`, `columns`, `ignore`,
    /// `currency`, `delimiter` and `decimal_comma`: a row for each fault, none if it can be read.
    ///
    /// >>> frame = {"id": ["kaoline"], "price": [47.5]}
    /// >>> [fault.message for fault in td.PriceList.check_table(frame, currency="EUR")]
    /// ['the price of a pack without its size']
    #[classmethod]
    #[pyo3(signature = (table, catalogue=None, *, columns=None, ignore=None, currency=None, delimiter=None, decimal_comma=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn check_table(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        table: ATable,
        catalogue: Option<&Catalogue>,
        columns: Option<IndexMap<String, String>>,
        ignore: Option<Names>,
        currency: Option<String>,
        delimiter: Option<Word<Delimiter>>,
        decimal_comma: Option<bool>,
    ) -> Outcome<Rows<TableFault>> {
        faults(prices(py, table, catalogue, columns, ignore, currency, delimiter, decimal_comma))
    }
}
