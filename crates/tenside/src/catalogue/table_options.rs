//! How a table of one's own is read: its headings, what they mean, and what is left out.

use super::csv::{CONSTITUENTS, MATERIALS, NUMBERS};
use super::table_of::{TableOf, both};
use crate::document::Named;
use crate::document::{
    Columns, DecimalMark, Delimiter, Headings, Row, Sheets, has_decimal_comma, likeliest, unknown_name,
};
use crate::error::{Error, Fault};

pub(super) const INCI_LIST: &str = "inci_list";
pub(super) const PRICE_PER_KG: &str = "price_per_kg";
pub(super) const PRICE: &str = "price";
pub(super) const PACK: &str = "pack";
pub(super) const PACK_KG: &str = "pack_kg";
pub(super) const CURRENCY: &str = "currency";

/// The columns of a table: those of the sheets of materials and constituents, the supplier's list, and what is paid.
const KNOWN: [&str; 48] = both(
    MATERIALS.known,
    &[
        "constituent",
        "typical",
        "low",
        "high",
        "declared",
        "of",
        INCI_LIST,
        PRICE_PER_KG,
        PRICE,
        PACK,
        PACK_KG,
        CURRENCY,
    ],
);
pub(super) const TABLE: Columns = Columns { file: "table", known: &KNOWN, needed: &["name"] };

/// Columns that hold a number besides those of materials.
pub(super) const MORE_NUMBERS: [&str; 7] = ["typical", "low", "high", "natural_origin", PRICE_PER_KG, PRICE, PACK_KG];

/// A table as text, or as cells under their headings.
#[derive(Clone, Copy, Debug)]
pub enum TableText<'t> {
    /// A sheet (CSV) with a header row.
    Sheet(&'t str),
    /// Rows of cells as a data frame gives them, texts; empty where there is nothing.
    Cells {
        /// What stands over each column.
        headings: &'t [String],
        /// The rows, each with a cell a heading.
        rows: &'t [Vec<String>],
    },
}

/// How a table of one's own is read.
///
/// The columns are those of the sheets that [`Catalogue::read_csv`](super::Catalogue::read_csv) takes, materials and
/// constituents in one table: `id`, `name`, `form` and so on, `constituent` with `typical`, `low`, `high`, `declared`
/// and `of`. A raw material with several constituents has several rows of the same id. Besides there are `inci_list`, a
/// supplier's ingredients in descending order in one cell, separated by `|`, `;` or a comma and a blank; and what is
/// paid: `price_per_kg`, or `price` with `pack` (`25 kg`) or `pack_kg`; `currency`.
///
/// ```
/// use tenside::catalogue::TableOptions;
/// let options = TableOptions::new().with_column("name", "Bezeichnung")?.with_column("typical", "Gehalt %")?.with_ignored("Regal");
/// assert!(TableOptions::new().with_column("naem", "Bezeichnung").unwrap_err().to_string().contains("did you mean \"name\"?"));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct TableOptions {
    columns: Vec<(String, String)>,
    ignored: Vec<String>,
    delimiter: Option<Delimiter>,
    decimal_comma: Option<bool>,
    source: Option<String>,
    rest_unspecified: bool,
}

impl TableOptions {
    /// Headings as the columns are called; decimals by themselves.
    #[must_use]
    pub fn new() -> Self {
        TableOptions::default()
    }

    /// With the heading that stands over a column.
    ///
    /// # Errors
    /// A column that no table has, with those there are.
    pub fn with_column(mut self, column: &str, heading: &str) -> Result<Self, Error> {
        let added = || TableOf::ALL.iter().flat_map(|of| of.columns().known);
        if !TABLE.known.iter().chain(added()).any(|known| *known == column) {
            let fault = unknown_name("column", column, TABLE.known.iter().chain(added()).copied());
            return Err(if fault.remedy.is_some() {
                fault
            } else {
                fault.allowed(likeliest(column, TABLE.known.iter().copied()))
            }
            .into());
        }
        self.columns.push((column.to_string(), heading.to_string()));
        Ok(self)
    }

    /// With a heading over a column that is not read.
    #[must_use]
    pub fn with_ignored(mut self, heading: &str) -> Self {
        self.ignored.push(heading.to_string());
        self
    }

    /// With the delimiter of a sheet; without one it is found from the header row.
    #[must_use]
    pub fn with_delimiter(mut self, delimiter: Delimiter) -> Self {
        self.delimiter = Some(delimiter);
        self
    }

    /// With decimals written `84,5`, or `84.5`. Without, each number is read by itself, and one that could be two,
    /// `1,234`, is refused.
    #[must_use]
    pub fn with_decimal_comma(mut self, decimal_comma: bool) -> Self {
        self.decimal_comma = Some(decimal_comma);
        self
    }

    /// With the source of the materials whose row does not state one.
    #[must_use]
    pub fn with_source(mut self, source: &str) -> Self {
        self.source = Some(source.to_string());
        self
    }

    /// With what the typical shares of a raw material leave to 100 % as `unspecified`. Otherwise shares that do not sum
    /// to 100 are refused.
    #[must_use]
    pub fn with_rest_unspecified(mut self) -> Self {
        self.rest_unspecified = true;
        self
    }

    pub(super) fn rest_unspecified(&self) -> bool {
        self.rest_unspecified
    }

    pub(super) fn source(&self) -> Option<&str> {
        self.source.as_deref()
    }

    /// The rows of a table of raw materials and prices.
    pub(super) fn rows<'t>(
        &self,
        table: TableText<'t>,
        needed: &[&'static str],
        sheets: &mut Sheets,
    ) -> Option<Vec<Row<'t>>> {
        self.rows_of(table, TABLE, needed, sheets)
    }

    /// The rows of a table of these columns.
    pub(super) fn rows_of<'t>(
        &self,
        table: TableText<'t>,
        columns: Columns,
        needed: &[&'static str],
        sheets: &mut Sheets,
    ) -> Option<Vec<Row<'t>>> {
        let headings = Headings { mapped: Some(&self.columns), ignored: &self.ignored };
        match table {
            TableText::Sheet(text) => sheets.read_under(text, columns, &headings, needed, self.delimiter),
            TableText::Cells { headings: names, rows } => sheets.cells_under((names, rows), columns, &headings, needed),
        }
    }

    /// How the numbers of these rows are read, those of raw materials and `more`.
    pub(super) fn decimal_mark(&self, rows: &[Row<'_>], more: &[&str]) -> DecimalMark {
        let mut numbers = rows.iter().flat_map(|row| NUMBERS.iter().chain(more).map(|column| row.text(column)));
        match self.decimal_comma {
            Some(true) => DecimalMark::CommaInSheet,
            Some(false) => DecimalMark::PointInSheet,
            None => DecimalMark::ByItself { among_commas: numbers.any(has_decimal_comma) },
        }
    }
}

/// The fault where something is needed that no column has.
pub(super) fn missing(message: &str, remedy: &str) -> Fault {
    Fault::new(crate::error::FaultKind::Missing, message).remedy(remedy)
}

const _: () = assert!(CONSTITUENTS.known.len() == 8);
