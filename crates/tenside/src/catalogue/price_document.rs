//! Price lists as documents, sheets and rows.
//!
//! The rows of a sheet become the tree that TOML and JSON are read into, as those of a catalogue do.

use std::borrow::Cow;

use indexmap::IndexMap;
use rust_decimal::Decimal;
use serde::Serialize;

use super::csv::{entry, number, sheet, text};
use super::{Catalogue, CsvOptions, PriceList};
use crate::bounds::Quantity;
use crate::document::{
    Columns, DecimalMark, Node, Notation, Number, Reader, Row, Sheets, TableView, Value, always_written, check_name,
    shown, write,
};
use crate::error::{Error, Fault, FaultKind};

const MATERIAL: &str = "material";
const PRICE: &str = "price_per_kg";
const CURRENCY: &str = "currency";
const PRICES: Columns = Columns { file: "prices", known: &[MATERIAL, PRICE, CURRENCY], needed: &[MATERIAL, PRICE] };

/// A price list as a document of its own.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct PricesDocument {
    /// Kind and version.
    tenside: &'static str,
    /// The prices.
    #[serde(flatten)]
    prices: PriceListDocument,
}

/// A price list as formulas and briefs hold it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct PriceListDocument {
    /// Currency.
    currency: String,
    /// Price per kilogram by material id.
    #[serde(skip_serializing_if = "always_written")]
    per_kg: IndexMap<String, Number>,
}

impl From<&PriceList> for PriceListDocument {
    fn from(list: &PriceList) -> Self {
        PriceListDocument {
            currency: list.currency().to_string(),
            per_kg: list.iter().map(|(id, price)| (id.to_string(), price.into())).collect(),
        }
    }
}

/// The prices that a formula or brief holds, by id.
pub(crate) fn read_prices(view: &TableView<'_>) -> Option<PriceList> {
    let currency = view.needed_name("currency");
    let prices = view.named_decimals("per_kg", Quantity::Price).into_iter().map(|(_, id, price)| (id, price));
    view.accept("per_kg", PriceList::new(&currency?, prices))
}

/// One price as it is written somewhere: texts, of which the currency may be empty where it is stated for all.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct PriceRow {
    /// Id or another name of a raw material.
    pub material: String,
    /// Price per kilogram as supplied, a decimal with a point.
    pub price: String,
    /// The currency.
    pub currency: String,
}

impl PriceList {
    /// Reads a document of prices: `tenside = "prices/1"`, the `currency`, and a table `per_kg` of prices per kilogram
    /// as supplied, each under the id or another name of a raw material of the catalogue. They are kept by id.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, PriceList};
    /// use tenside::document::Notation;
    /// let text = "tenside = \"prices/1\"\ncurrency = \"EUR\"\n[per_kg]\n\"SCI powder\" = 6.4\nkaolin = 1.9\n";
    /// let prices = PriceList::read(text, Notation::Toml, &Catalogue::starter())?;
    /// assert!(prices.get("sci-powder").is_some());
    /// assert_eq!(PriceList::read(&prices.write(Notation::Json)?, Notation::Json, &Catalogue::starter())?, prices);
    ///
    /// let error = PriceList::read(&text.replace("kaolin", "kaoline"), Notation::Toml, &Catalogue::starter()).unwrap_err();
    /// assert_eq!((error.faults()[0].position, error.faults()[0].remedy.as_deref()), (Some((5, 1)), Some("did you mean \"kaolin\"?")));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the document at once, with line and column: unknown and ambiguous names, prices out of range, a
    /// raw material priced under two of its names.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        Reader::read(text, notation, |view| {
            view.version("prices/1");
            let currency = view.needed_name(CURRENCY);
            let prices = view.needed("per_kg", |view| Some(view.named_decimals("per_kg", Quantity::Price)))?;
            by_id(view, currency, prices, catalogue)
        })
    }

    /// Reads a sheet with a header row, one row a price: `material`, `price_per_kg`, and `currency` unless it is stated
    /// here for all. Of the options, delimiter and decimal comma count.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, CsvOptions, PriceList};
    /// let sheet = "material;price_per_kg\nkaolin;1,90\nSCI powder;6,40\n";
    /// let comma = CsvOptions::default().with_decimal_comma(true);
    /// let prices = PriceList::read_csv(sheet, Some("EUR"), &comma, &Catalogue::starter())?;
    /// assert_eq!(prices.get("kaolin").unwrap().to_string(), "1.90");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the sheet at once, with line and the number of the cell, as for [`PriceList::read`]; two
    /// currencies.
    pub fn read_csv(
        text: &str,
        currency: Option<&str>,
        options: &CsvOptions,
        catalogue: &Catalogue,
    ) -> Result<Self, Error> {
        let mut sheets = Sheets::default();
        let rows = sheets.read(text, PRICES, PRICES.needed, options.delimiter()).unwrap_or_default();
        of_rows(&rows, sheets, options, currency, catalogue)
    }

    /// Prices row by row, as a data frame or a database gives them. A fault says the number of the row, from 1, as its
    /// line.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, PriceList, PriceRow};
    /// let row = |material: &str, price: &str| PriceRow { material: material.into(), price: price.into(), currency: "EUR".into() };
    /// let prices = PriceList::of_rows(&[row("kaolin", "1.9"), row("sci-powder", "6.4")], None, &Catalogue::starter())?;
    /// assert_eq!(prices.currency(), "EUR");
    /// let error = PriceList::of_rows(&[row("kaolin", "-1"), row("kaolin", "2")], None, &Catalogue::starter()).unwrap_err();
    /// assert_eq!(error.faults()[0].position, Some((1, 2)));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`PriceList::read_csv`].
    pub fn of_rows(rows: &[PriceRow], currency: Option<&str>, catalogue: &Catalogue) -> Result<Self, Error> {
        let mut sheets = Sheets::default();
        let rows = sheets.rows(
            rows.iter().map(|row| [&row.material, &row.price, &row.currency].map(|cell| Cow::Borrowed(cell.trim()))),
            PRICES,
        );
        of_rows(&rows, sheets, &CsvOptions::default(), currency, catalogue)
    }

    /// Writes the list as a document.
    ///
    /// # Errors
    /// None for a valid list.
    pub fn write(&self, notation: Notation) -> Result<String, Error> {
        write(&PricesDocument { tenside: "prices/1", prices: self.into() }, notation)
    }

    /// Writes the list as a sheet that [`PriceList::read_csv`] reads (RFC 4180, comma, decimal point).
    ///
    /// # Errors
    /// None for a valid list.
    pub fn write_csv(&self) -> Result<String, Error> {
        let header = vec![PRICES.known.iter().map(ToString::to_string).collect()];
        let rows = self.iter().map(|(id, price)| vec![id.to_string(), price.to_string(), self.currency().to_string()]);
        sheet(&header.into_iter().chain(rows).collect::<Vec<Vec<String>>>())
    }

    /// The JSON Schema of documents of prices.
    ///
    /// ```
    /// assert!(tenside::catalogue::PriceList::schema().contains("\"$schema\""));
    /// ```
    #[cfg(feature = "schema")]
    #[must_use]
    pub fn schema() -> String {
        crate::document::schema_text::<PricesDocument>("prices")
    }
}

/// The list that rows of a sheet make.
fn of_rows(
    rows: &[Row<'_>],
    sheets: Sheets,
    options: &CsvOptions,
    currency: Option<&str>,
    catalogue: &Catalogue,
) -> Result<PriceList, Error> {
    price_list(rows.iter().map(price_table).collect(), sheets, options.decimal_mark(), currency, catalogue)
}

/// The list that tables of a raw material, its price per kg and as wanted a currency make.
pub(super) fn price_list(
    prices: Vec<Node<'_>>,
    sheets: Sheets,
    mark: DecimalMark,
    currency: Option<&str>,
    catalogue: &Catalogue,
) -> Result<PriceList, Error> {
    let currency = currency.map(check_name).transpose().map_err(|error| error.within("option currency"))?;
    let root =
        Node { offset: 0, value: Value::Table(vec![entry("price", Node { offset: 0, value: Value::List(prices) })]) };
    sheets.into_reader(mark).walk(&root, |view| {
        let for_all = currency.is_some();
        let (mut stated, mut without) = (currency, Vec::new());
        let prices = view.tables("price", |row| {
            let name = row.needed_name(MATERIAL);
            if let Some(name) = &name {
                row.label(format!("price of {name:?}"));
            }
            // Everything is asked for before anything is missed, so that no key counts as unknown.
            let (price, currency) = (row.needed(PRICE, |row| row.decimal(PRICE, Quantity::Price)), row.name(CURRENCY));
            let name = name?;
            match (&stated, currency) {
                (Some(stated), Some(other)) if *stated != other => {
                    let fault = Fault::new(FaultKind::Contradiction, "prices in two currencies")
                        .value(shown(&other))
                        .allowed(stated.clone());
                    row.fault(CURRENCY, fault.remedy("convert them first; nothing is converted here"));
                }
                (None, Some(first)) => stated = Some(first),
                (_, None) if !for_all => without.push((row.mark(), name.clone())),
                _ => {}
            }
            Some((row.mark(), name, price?))
        });
        if stated.is_none() {
            view.fault(
                "",
                Fault::new(FaultKind::Missing, "prices without a currency")
                    .remedy("state it for all of them, or in a column `currency`"),
            );
        } else {
            // What one row states says nothing of another's.
            for (mark, name) in without {
                let fault = Fault::new(FaultKind::Missing, "a price without a currency, beside prices that have one");
                let fault = fault.at(format!("price of {name:?}"));
                view.fault_at(mark, fault.remedy("state it in its row, or for all of them"));
            }
        }
        by_id(view, stated, prices, catalogue)
    })
}

fn price_table<'r>(row: &'r Row<'_>) -> Node<'r> {
    let entries = vec![
        entry(MATERIAL, text(row, MATERIAL)),
        entry(PRICE, number(row, PRICE)),
        entry(CURRENCY, text(row, CURRENCY)),
    ];
    Node { offset: row.mark(MATERIAL), value: Value::Table(entries) }
}

/// Prices by the ids of the raw materials that their names mean, each with the mark of where it stands.
fn by_id(
    view: &TableView<'_>,
    currency: Option<String>,
    prices: Vec<(usize, String, Decimal)>,
    catalogue: &Catalogue,
) -> Option<PriceList> {
    let mut found: IndexMap<String, Decimal> = IndexMap::new();
    for (mark, name, price) in prices {
        // The nearest name is looked for each time, and nobody reads further.
        if view.is_full() {
            view.fault_at(mark, Fault::new(FaultKind::UnknownName, "further prices are not looked at").at("prices"));
            break;
        }
        let fault = match catalogue.material(&name) {
            Ok(material) if found.insert(material.id().to_string(), price).is_none() => continue,
            Ok(material) => {
                let fault = Fault::new(FaultKind::Duplicate, "a material is priced twice").value(shown(&name));
                vec![fault.remedy(format!("keep one price of {:?}", material.id()))]
            }
            Err(error) => error.into_faults(),
        };
        fault.into_iter().for_each(|fault| view.fault_at(mark, fault.at(format!("price of {name:?}"))));
    }
    view.accept("", PriceList::new(&currency?, found))
}
