//! Catalogues in two sheets, as spreadsheets keep them: one row a material, and one row a constituent.
//!
//! The rows become the tree that TOML and JSON are read into, and the same reader walks it, so that every check exists once.

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::Arc;

use super::{AliasTable, Catalogue, document};
use crate::document::{Columns, DecimalMark, Delimiter, Entry, Named, Node, Row, Sheets, Value, check_prose, shown, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Composition, Constituent, Contained, Material};
use crate::number::Ppm;
use crate::substance::{Attribute, SubstanceTable};

/// What separates several values in one cell.
const SEPARATOR: char = '|';

const MATERIALS: Columns = Columns {
    file: "materials",
    known: &[
        "id",
        "name",
        "form",
        "phase",
        "difference_to",
        "active_convention",
        "density",
        "melting_point",
        "highest_process_temperature",
        "bound_water",
        "ph_low",
        "ph_high",
        "use",
        "use_low",
        "use_high",
        "cautions",
        "aliases",
        "sulfate",
        "palm",
        "animal",
        "silicone",
        "ethoxylated",
        "natural_origin",
        "source",
        "descending",
        "starter",
    ],
    needed: &["id", "name", "form"],
};

const CONSTITUENTS: Columns = Columns {
    file: "constituents",
    known: &["material", "constituent", "typical", "low", "high", "declared", "of", "source"],
    needed: &["material", "constituent"],
};

/// Columns that hold text as it is.
const TEXTS: &[&str] = &["id", "name", "form", "phase", "difference_to", "active_convention", "source"];
/// Columns that hold a number.
const NUMBERS: &[&str] = &["density", "melting_point", "highest_process_temperature", "bound_water"];
/// Columns that hold yes or no.
const YES_OR_NO: &[&str] = &["descending", "starter"];
/// Columns that hold several values.
const LISTS: &[&str] = &["cautions", "aliases"];

/// How the two sheets of a catalogue are written.
///
/// The text is UTF-8, with or without a byte order mark. Sheets exported in another encoding (UTF-16, a Windows code page) are to be
/// exported again as "CSV UTF-8", not decoded with replacement characters: a damaged name is not found again.
///
/// ```
/// use tenside::catalogue::CsvOptions;
/// use tenside::document::Delimiter;
/// let options = CsvOptions::default().with_decimal_comma(true).with_delimiter(Delimiter::Semicolon).with_source("our data sheets");
/// assert!(options.decimal_comma());
/// ```
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct CsvOptions {
    delimiter: Option<Delimiter>,
    decimal_comma: bool,
    source: Option<String>,
}

impl CsvOptions {
    /// With a delimiter; without one, each sheet's is found from its header row.
    #[must_use]
    pub fn with_delimiter(mut self, delimiter: Delimiter) -> Self {
        self.delimiter = Some(delimiter);
        self
    }

    /// With decimals written `84,5`. It is never guessed: the same text could be eighty-four and a half or eight hundred and forty-five.
    #[must_use]
    pub fn with_decimal_comma(mut self, decimal_comma: bool) -> Self {
        self.decimal_comma = decimal_comma;
        self
    }

    /// With the source of the materials whose row does not state one.
    #[must_use]
    pub fn with_source(mut self, source: &str) -> Self {
        self.source = Some(source.to_string());
        self
    }

    /// The delimiter, if it is stated.
    #[must_use]
    pub fn delimiter(&self) -> Option<Delimiter> {
        self.delimiter
    }

    /// True for decimals written `84,5`.
    #[must_use]
    pub fn decimal_comma(&self) -> bool {
        self.decimal_comma
    }

    /// The source of the materials whose row does not state one.
    #[must_use]
    pub fn source(&self) -> Option<&str> {
        self.source.as_deref()
    }
}

impl Catalogue {
    /// Reads a catalogue from two sheets with a header row each, columns in any order. Its materials may name the embedded substances.
    ///
    /// `materials` has one row a material: `id`, `name`, `form`, and as wanted `phase`, `difference_to`, `active_convention`, `density`,
    /// `melting_point`, `highest_process_temperature`, `bound_water`, `ph_low`, `ph_high`, `use`, `use_low`, `use_high`, `cautions`,
    /// `aliases`, `sulfate`, `palm`, `animal`, `silicone`, `ethoxylated`, `natural_origin`, `source`, `descending`, `starter`. Several
    /// cautions, aliases or uses in one cell are separated by `|`; yes-or-no columns hold yes, no, true, false or nothing.
    ///
    /// `constituents` has one row a constituent: `material`, `constituent`, and as wanted `typical`, `low`, `high`, `declared`. With
    /// something in the column `of`, the row is a substance contained in that ingredient, and may have a `source` of its own.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, CsvOptions};
    /// let materials = "id;name;form;source\nhouse-glycerin;Glycerin 99,5 %;liquid;invented for this example\n";
    /// let constituents = "material;constituent;typical;low;high\nhouse-glycerin;GLYCERIN;99,5;99;100\nhouse-glycerin;WATER;0,5;;\n";
    /// let catalogue = Catalogue::read_csv(materials, constituents, CsvOptions::default().with_decimal_comma(true))?;
    /// assert_eq!(catalogue.material("house-glycerin")?.composition().constituents().len(), 2);
    ///
    /// let error = Catalogue::read_csv(materials, constituents, CsvOptions::default()).unwrap_err();
    /// assert_eq!((error.faults()[0].file, error.faults()[0].position), (Some("constituents"), Some((2, 3))));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of both sheets at once, with file, line and the number of the cell.
    pub fn read_csv(materials: &str, constituents: &str, options: CsvOptions) -> Result<Self, Error> {
        Catalogue::read_csv_over(materials, constituents, options, &SubstanceTable::starter())
    }

    /// As [`Catalogue::read_csv`], with materials that may also name the given substances.
    ///
    /// # Errors
    /// Every fault of both sheets at once, with file, line and the number of the cell.
    pub fn read_csv_over(materials: &str, constituents: &str, options: CsvOptions, substances: &Arc<SubstanceTable>) -> Result<Self, Error> {
        let source = options.source.as_deref().map(check_prose).transpose().map_err(|error| error.within("option source"))?;
        let mut sheets = Sheets::default();
        let needed: Vec<&'static str> = MATERIALS.needed.iter().copied().chain(source.is_none().then_some("source")).collect();
        let materials = sheets.read(materials, MATERIALS, &needed, options.delimiter);
        let constituents = sheets.read(constituents, CONSTITUENTS, CONSTITUENTS.needed, options.delimiter);
        // Where one sheet cannot be told apart, what the other lacks for it would only mislead.
        let (materials, constituents) = materials.zip(constituents).unwrap_or_default();
        let groups = group(&materials, &constituents, &mut sheets);
        let tables = materials.iter().map(|row| material_table(row, groups.get(row.text("id")).map_or(&[], Vec::as_slice), &mut sheets)).collect();
        let root =
            Node { offset: 0, value: Value::Table(vec![Entry { key: "material".into(), offset: 0, node: Node { offset: 0, value: Value::List(tables) } }]) };
        let decimals = if options.decimal_comma { DecimalMark::CommaInSheet } else { DecimalMark::PointInSheet };
        sheets.into_reader(decimals).walk(&root, |view| {
            let (materials, _) = document::read_materials(view, substances, &indexmap::IndexMap::new(), source.as_deref());
            Some(Catalogue { substances: Arc::clone(substances), materials, lots: Default::default(), aliases: AliasTable::default() })
        })
    }

    /// Writes the materials as two sheets (RFC 4180, comma, decimal point) that [`Catalogue::read_csv`] reads: materials and constituents.
    ///
    /// Sheets have no place for the catalogue's own substances and alias table, nor for a second source beside the material's on a pH
    /// range, use level or attribute; [`Catalogue::write`] keeps them.
    ///
    /// # Errors
    /// Premixes and lots, which are no rows of such sheets, and a `|` in an alias or product use.
    pub fn write_csv(&self) -> Result<(String, String), Error> {
        let mut faults = Vec::new();
        let mut materials = vec![MATERIALS.known.iter().map(|name| (*name).to_string()).collect::<Vec<_>>()];
        let mut constituents = vec![CONSTITUENTS.known.iter().map(|name| (*name).to_string()).collect::<Vec<_>>()];
        for lot in self.lots() {
            faults.push(Fault::new(FaultKind::Unsupported, "a lot cannot be written as CSV").at(format!("lot {:?}", lot.id())).remedy("write TOML or JSON"));
        }
        for material in self.materials() {
            let place = format!("material {:?}", material.id());
            if matches!(material.composition(), Composition::Premix(_)) {
                faults.push(Fault::new(FaultKind::Unsupported, "a premix cannot be written as CSV").at(place).remedy("write TOML or JSON"));
                continue;
            }
            let uses = material.use_levels().iter().map(|level| &level.product_use);
            for name in material.aliases().iter().chain(uses).filter(|name| name.contains(SEPARATOR)) {
                let fault = Fault::new(FaultKind::Unsupported, "a name with the mark that separates names in a cell cannot be written as CSV");
                faults.push(fault.at(place.clone()).value(shown(name)).allowed("names without |").remedy("rename it, or write TOML or JSON"));
            }
            materials.push(MATERIALS.known.iter().map(|column| material_cell(material, column)).collect());
            constituents.extend(material.composition().constituents().iter().map(|row| constituent_row(material.id(), row)));
            constituents.extend(material.contained().iter().map(|part| contained_row(material.id(), part)));
        }
        Error::check(faults, ())?;
        Ok((sheet(&materials)?, sheet(&constituents)?))
    }
}

/// The rows of each material, by its id as written; rows of materials that have no row of their own are reported.
fn group<'r, 't>(materials: &[Row<'t>], constituents: &'r [Row<'t>], sheets: &mut Sheets) -> HashMap<String, Vec<&'r Row<'t>>> {
    let mut groups: HashMap<String, Vec<&Row<'_>>> = materials.iter().map(|row| (row.text("id").to_string(), Vec::new())).collect();
    // One row names a material, its constituents repeat the name: the nearest known id is looked for once.
    let mut unknown: HashMap<&str, Fault> = HashMap::new();
    for row in constituents {
        let material = row.text("material");
        let mark = row.mark("material");
        if material.is_empty() {
            sheets.fault(mark, Fault::new(FaultKind::Missing, "a row without a material").remedy("write the id of its material, or empty the row"));
        } else if let Some(group) = groups.get_mut(material) {
            group.push(row);
        } else if sheets.is_full() {
            sheets.fault(mark, unknown_name("raw material", material, std::iter::empty()));
        } else {
            let fault = unknown.entry(material).or_insert_with(|| {
                let fault = unknown_name("raw material", material, materials.iter().map(|row| row.text("id")));
                let remedy = fault.remedy.clone();
                fault.remedy(remedy.unwrap_or_else(|| "add a row for it to the materials".to_string()))
            });
            sheets.fault(mark, fault.clone());
        }
    }
    groups
}

fn entry<'r>(key: &'static str, node: Node<'r>) -> Entry<'r> {
    Entry { key: Cow::Borrowed(key), offset: node.offset, node }
}

fn text<'r>(row: &'r Row<'_>, column: &str) -> Node<'r> {
    row.node(column, |text| Value::Text(Cow::Borrowed(text)))
}

fn number<'r>(row: &'r Row<'_>, column: &str) -> Node<'r> {
    row.node(column, |text| Value::Number(Cow::Borrowed(text)))
}

fn yes_or_no<'r>(row: &'r Row<'_>, column: &str) -> Node<'r> {
    row.node(column, |text| match text.to_ascii_lowercase().as_str() {
        "yes" | "true" => Value::Bool(true),
        "no" | "false" => Value::Bool(false),
        _ => Value::Text(Cow::Borrowed(text)),
    })
}

fn parts<'r>(row: &'r Row<'_>, column: &str) -> Node<'r> {
    let mark = row.mark(column);
    row.node(column, |text| {
        let parts = text.split(SEPARATOR).map(str::trim).filter(|part| !part.is_empty());
        Value::List(parts.map(|part| Node { offset: mark, value: Value::Text(Cow::Borrowed(part)) }).collect())
    })
}

/// A table of some columns; empty where all of them are.
fn table<'r>(entries: Vec<Entry<'r>>, mark: usize) -> Node<'r> {
    let empty = entries.iter().all(|entry| entry.node.is_empty());
    Node { offset: mark, value: if empty { Value::Empty } else { Value::Table(entries) } }
}

fn material_table<'r>(row: &'r Row<'_>, constituents: &[&'r Row<'_>], sheets: &mut Sheets) -> Node<'r> {
    let mut entries: Vec<Entry<'r>> = TEXTS.iter().map(|column| entry(column, text(row, column))).collect();
    entries.extend(NUMBERS.iter().map(|column| entry(column, number(row, column))));
    entries.extend(YES_OR_NO.iter().map(|column| entry(column, yes_or_no(row, column))));
    entries.extend(LISTS.iter().map(|column| entry(column, parts(row, column))));
    let ph_range = vec![entry("low", number(row, "ph_low")), entry("high", number(row, "ph_high"))];
    entries.push(entry("ph_range", table(ph_range, row.mark("ph_low"))));
    let attributes = Attribute::ALL.iter().map(|attribute| entry(attribute.slug(), yes_or_no(row, attribute.slug())));
    let attributes = attributes.chain([entry("natural_origin", number(row, "natural_origin"))]).collect();
    entries.push(entry("attributes", table(attributes, row.mark("sulfate"))));
    entries.push(entry("use_levels", use_levels(row, sheets)));
    let (contained, ingredients): (Vec<&&Row<'_>>, Vec<&&Row<'_>>) = constituents.iter().partition(|row| !row.text("of").is_empty());
    let list = |key: &'static str, rows: Vec<&&'r Row<'_>>, sheets: &mut Sheets| {
        let mark = rows.first().map_or(row.mark("id"), |row| row.mark("constituent"));
        let tables: Vec<Node<'r>> = rows.into_iter().map(|row| constituent_table(row, sheets)).collect();
        entry(key, Node { offset: mark, value: if tables.is_empty() { Value::Empty } else { Value::List(tables) } })
    };
    entries.push(list("constituents", ingredients, sheets));
    entries.push(list("contained", contained, sheets));
    Node { offset: row.mark("id"), value: Value::Table(entries) }
}

/// Several uses stand in one cell, their ends in the same order in the other two.
fn use_levels<'r>(row: &'r Row<'_>, sheets: &mut Sheets) -> Node<'r> {
    const COLUMNS: [(&str, &str); 3] = [("use", "use"), ("use_low", "low"), ("use_high", "high")];
    let mark = row.mark("use");
    if COLUMNS.iter().all(|(column, _)| row.text(column).is_empty()) {
        return Node { offset: mark, value: Value::Empty };
    }
    let split = COLUMNS.map(|(column, _)| row.text(column).split(SEPARATOR).map(str::trim).collect::<Vec<_>>());
    let counts = [split[0].len(), split[1].len(), split[2].len()];
    if counts.iter().any(|count| *count != counts[0]) {
        let fault = Fault::new(FaultKind::Contradiction, "use, use_low and use_high hold different numbers of values");
        sheets.fault(mark, fault.value(format!("{}, {} and {}", counts[0], counts[1], counts[2])).remedy("separate them by | and write as many ends as uses"));
        return Node { offset: mark, value: Value::Empty };
    }
    let levels = (0..counts[0]).map(|index| {
        let entries = COLUMNS.iter().zip(&split).map(|((column, key), values)| {
            let value = match (values[index], *column) {
                ("", _) => Value::Empty,
                (text, "use") => Value::Text(Cow::Borrowed(text)),
                (text, _) => Value::Number(Cow::Borrowed(text)),
            };
            entry(key, Node { offset: row.mark(column), value })
        });
        Node { offset: mark, value: Value::Table(entries.collect()) }
    });
    Node { offset: mark, value: Value::List(levels.collect()) }
}

fn constituent_table<'r>(row: &'r Row<'_>, sheets: &mut Sheets) -> Node<'r> {
    let mut entries = vec![entry("inci", text(row, "constituent"))];
    entries.extend(["typical", "low", "high"].map(|column| entry(column, number(row, column))));
    let (column, other, message) = if row.text("of").is_empty() {
        ("declared", "source", "only a contained substance has a source of its own here")
    } else {
        entries.push(entry("of", text(row, "of")));
        ("source", "declared", "a contained substance is not declared by itself")
    };
    entries.push(entry(column, text(row, column)));
    if !row.text(other).is_empty() {
        let fault = Fault::new(FaultKind::Contradiction, message).value(shown(row.text(other)));
        sheets.fault(row.mark(other), fault.remedy("empty this cell, or look at the cell in the column \"of\""));
    }
    Node { offset: row.mark("constituent"), value: Value::Table(entries) }
}

fn yes(value: bool) -> String {
    if value { "yes" } else { "no" }.to_string()
}

fn material_cell(material: &Material, column: &str) -> String {
    let decimal = |value: Option<rust_decimal::Decimal>| value.map(|value| value.to_string()).unwrap_or_default();
    let joined = |parts: Vec<String>| parts.join(&SEPARATOR.to_string());
    let levels = material.use_levels();
    match column {
        "id" => material.id().to_string(),
        "name" => material.name().to_string(),
        "form" => material.form().to_string(),
        "phase" => material.phase().to_string(),
        "difference_to" => material.stated_difference_to().unwrap_or_default().to_string(),
        "active_convention" => material.active_convention().map(|convention| convention.to_string()).unwrap_or_default(),
        "density" => decimal(material.density()),
        "melting_point" => decimal(material.melting_point()),
        "highest_process_temperature" => decimal(material.highest_process_temperature()),
        "bound_water" => share(material.bound_water()),
        "ph_low" => decimal(material.ph_range().map(|range| range.low)),
        "ph_high" => decimal(material.ph_range().map(|range| range.high)),
        "use" => joined(levels.iter().map(|level| level.product_use.clone()).collect()),
        "use_low" => joined(levels.iter().map(|level| level.low.to_string()).collect()),
        "use_high" => joined(levels.iter().map(|level| level.high.to_string()).collect()),
        "cautions" => joined(material.cautions().iter().map(ToString::to_string).collect()),
        "aliases" => joined(material.aliases().to_vec()),
        "natural_origin" => decimal(material.attributes().natural_origin().map(|(share, _)| share)),
        "source" => material.source().to_string(),
        "descending" if material.composition().is_descending() => yes(true),
        "starter" if material.is_starter() => yes(true),
        "descending" | "starter" => String::new(),
        attribute => {
            Attribute::from_slug(attribute).and_then(|attribute| material.attributes().get(attribute)).map(|statement| yes(statement.value)).unwrap_or_default()
        }
    }
}

fn share(share: Option<Ppm>) -> String {
    share.map(|share| share.to_string()).unwrap_or_default()
}

fn constituent_row(material: &str, row: &Constituent) -> Vec<String> {
    let (low, high) = (row.stated_low(), row.stated_high());
    let inci = row.substance().inci().to_string();
    vec![material.to_string(), inci, share(row.share()), share(low), share(high), row.declaration().to_string(), String::new(), String::new()]
}

fn contained_row(material: &str, part: &Contained) -> Vec<String> {
    let inci = part.substance().inci().to_string();
    let (of, source) = (part.of().to_string(), part.source().to_string());
    vec![material.to_string(), inci, share(part.share()), share(part.low()), share(part.high()), String::new(), of, source]
}

fn sheet(rows: &[Vec<String>]) -> Result<String, Error> {
    let mut writer = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new());
    let failed = |what: String| Error::from(Fault::new(FaultKind::Unsupported, format!("the sheet cannot be written: {what}")));
    for row in rows {
        writer.write_record(row).map_err(|error| failed(error.to_string()))?;
    }
    let bytes = writer.into_inner().map_err(|error| failed(error.to_string()))?;
    String::from_utf8(bytes).map_err(|error| failed(error.to_string()))
}
