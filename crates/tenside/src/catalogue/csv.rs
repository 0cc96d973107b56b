//! Catalogues in sheets, as spreadsheets keep them: one row a material, one row a constituent, and one row a name that
//! could mean several.
//!
//! The rows become the tree that TOML and JSON are read into, and the same reader walks it, so that every check exists
//! once.

use std::borrow::Cow;
use std::collections::HashMap;
use std::sync::Arc;

use super::{Catalogue, Contents, document, unknown_material};
use crate::document::{
    Columns, DecimalMark, Delimiter, Entry, Named, Node, Row, Sheets, Value, check_prose, guarded, shown,
};
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Composition, Constituent, Contained, Material};
use crate::number::Ppm;
use crate::substance::{Attribute, SubstanceTable};

/// What separates several values in one cell.
pub(super) const SEPARATOR: char = '|';
/// What the name of a column ends in that holds the source of the column before it.
const SOURCE: &str = "_source";
const NATURAL_ORIGIN: &str = "natural_origin";

pub(super) const MATERIALS: Columns = Columns {
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
        "scent_reported_above",
        "remainder_may_hold",
        "ph_low",
        "ph_high",
        "ph_source",
        "use",
        "use_low",
        "use_high",
        "use_source",
        "cautions",
        "aliases",
        "sulfate",
        "sulfate_source",
        "palm",
        "palm_source",
        "animal",
        "animal_source",
        "silicone",
        "silicone_source",
        "ethoxylated",
        "ethoxylated_source",
        "natural_origin",
        "natural_origin_source",
        "source",
        "descending",
        "starter",
    ],
    needed: &["id", "name", "form"],
};

pub(super) const CONSTITUENTS: Columns = Columns {
    file: "constituents",
    known: &["material", "constituent", "typical", "low", "high", "declared", "of", "source"],
    needed: &["material", "constituent"],
};

const NAMES: Columns = Columns { file: "names", known: &["name", "materials", "note"], needed: &["name", "materials"] };

/// Columns that hold text as it is.
const TEXTS: &[&str] = &["id", "name", "form", "phase", "difference_to", "active_convention", "source"];
/// Columns that hold a number.
pub(super) const NUMBERS: &[&str] =
    &["density", "melting_point", "highest_process_temperature", "bound_water", "scent_reported_above"];
/// Columns that hold yes or no.
const YES_OR_NO: &[&str] = &["descending", "starter"];
/// Columns that hold several values.
const LISTS: &[&str] = &["cautions", "aliases", "remainder_may_hold"];

/// How the sheets of a catalogue are written.
///
/// The text is UTF-8, with or without a byte order mark. Sheets exported in another encoding (UTF-16, a Windows code
/// page) are to be exported again as "CSV UTF-8", not decoded with replacement characters: a damaged name is not found
/// again.
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

getters!(CsvOptions {
    /// The delimiter, if it is stated.
    delimiter: Option<Delimiter>,
    /// True for decimals written `84,5`.
    decimal_comma: bool,
});

impl CsvOptions {
    /// With a delimiter; without one, each sheet's is found from its header row.
    #[must_use]
    pub fn with_delimiter(mut self, delimiter: Delimiter) -> Self {
        self.delimiter = Some(delimiter);
        self
    }

    /// With decimals written `84,5`. It is never guessed: the same text could be eighty-four and a half or eight
    /// hundred and forty-five.
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

    pub(super) fn decimal_mark(&self) -> DecimalMark {
        if self.decimal_comma { DecimalMark::CommaInSheet } else { DecimalMark::PointInSheet }
    }

    /// The source of the materials whose row does not state one.
    #[must_use]
    pub fn source(&self) -> Option<&str> {
        self.source.as_deref()
    }
}

impl Catalogue {
    /// Reads a catalogue from sheets with a header row each, columns in any order. Its materials may name the embedded
    /// substances.
    ///
    /// `materials` has one row a material: `id`, `name`, `form`, and as wanted `phase`, `difference_to`,
    /// `active_convention`, `density`, `melting_point`, `highest_process_temperature`, `bound_water`,
    /// `scent_reported_above`, `remainder_may_hold`, `ph_low`, `ph_high`, `use`, `use_low`, `use_high`, `cautions`,
    /// `aliases`, `sulfate`, `palm`, `animal`, `silicone`, `ethoxylated`, `natural_origin`, `source`, `descending`,
    /// `starter`. Several cautions, aliases or uses in one cell are separated by `|`; yes-or-no columns hold yes, no,
    /// true, false or nothing. What has another source than the row says so in `ph_source`, `use_source`,
    /// `sulfate_source` and so on.
    ///
    /// `constituents` has one row a constituent: `material`, `constituent`, and as wanted `typical`, `low`, `high`,
    /// `declared`. With something in the column `of`, the row is a substance contained in that ingredient, and may have
    /// a `source` of its own.
    ///
    /// `names`, if there is such a sheet, has one row for each name that could mean several raw materials: `name`,
    /// their ids in `materials` separated by `|`, and as wanted a `note`.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, CsvOptions};
    /// let materials = "id;name;form;source\nhouse-glycerin;Glycerin 99,5 %;liquid;invented for this example\n";
    /// let constituents = "material;constituent;typical;low;high\nhouse-glycerin;GLYCERIN;99,5;99;100\nhouse-glycerin;WATER;0,5;;\n";
    /// let catalogue = Catalogue::read_csv(materials, constituents, None, CsvOptions::default().with_decimal_comma(true))?;
    /// assert_eq!(catalogue.material("house-glycerin")?.composition().constituents().len(), 2);
    ///
    /// let error = Catalogue::read_csv(materials, constituents, None, CsvOptions::default()).unwrap_err();
    /// assert_eq!((error.faults()[0].file, error.faults()[0].position), (Some("constituents"), Some((2, 3))));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of both sheets at once, with file, line and the number of the cell.
    pub fn read_csv(
        materials: &str,
        constituents: &str,
        names: Option<&str>,
        options: CsvOptions,
    ) -> Result<Self, Error> {
        Catalogue::read_csv_over(materials, constituents, names, options, &SubstanceTable::starter())
    }

    /// As [`Catalogue::read_csv`], with materials that may also name the given substances.
    ///
    /// # Errors
    /// Every fault of all sheets at once, with file, line and the number of the cell.
    pub fn read_csv_over(
        materials: &str,
        constituents: &str,
        names: Option<&str>,
        options: CsvOptions,
        substances: &Arc<SubstanceTable>,
    ) -> Result<Self, Error> {
        let source =
            options.source.as_deref().map(check_prose).transpose().map_err(|error| error.within("option source"))?;
        let mut sheets = Sheets::default();
        let needed: Vec<&'static str> =
            MATERIALS.needed.iter().copied().chain(source.is_none().then_some("source")).collect();
        let materials = sheets.read(materials, MATERIALS, &needed, options.delimiter);
        let constituents = sheets.read(constituents, CONSTITUENTS, CONSTITUENTS.needed, options.delimiter);
        let names = names.map_or(Some(Vec::new()), |names| sheets.read(names, NAMES, NAMES.needed, options.delimiter));
        // Where one sheet cannot be told apart, what the others lack for it would only mislead.
        let ((materials, constituents), names) = materials.zip(constituents).zip(names).unwrap_or_default();
        let groups = group(&materials, &constituents, &mut sheets);
        let tables = materials
            .iter()
            .map(|row| material_table(row, groups.get(row.text("id")).map_or(&[], Vec::as_slice), &mut sheets))
            .collect();
        let list = |tables| Node { offset: 0, value: Value::List(tables) };
        let entries =
            vec![entry("material", list(tables)), entry("alias", list(names.iter().map(alias_table).collect()))];
        let root = Node { offset: 0, value: Value::Table(entries) };
        sheets.into_reader(options.decimal_mark()).walk(&root, |view| {
            let (materials, named) =
                document::read_materials(view, substances, &indexmap::IndexMap::new(), source.as_deref());
            let aliases = document::read_aliases(view, &materials, &named);
            Some(Catalogue::of(Contents {
                substances: Arc::clone(substances),
                materials,
                aliases,
                ..Contents::default()
            }))
        })
    }

    /// Writes three sheets (RFC 4180, comma, decimal point) that [`Catalogue::read_csv`] reads back to an equal
    /// catalogue: materials, constituents, and the names that could mean several.
    ///
    /// A text that a spreadsheet would take for a formula (it begins with `=`, `+`, `-` or `@`) stands behind an
    /// apostrophe, which the reader takes off again.
    ///
    /// # Errors
    /// What such sheets have no place for, each by its name: premixes, lots, substances that are not the embedded ones,
    /// and a `|` in an alias, a product use or the source of a use level. [`Catalogue::write`] keeps them.
    pub fn write_csv(&self) -> Result<(String, String, String), Error> {
        let mut faults = Vec::new();
        let mut cannot = |place: String, message: &str| {
            faults.push(
                Fault::new(FaultKind::Unsupported, format!("{message} cannot be written as CSV"))
                    .at(place)
                    .remedy("write TOML or JSON"),
            );
        };
        let header = |columns: Columns| columns.known.iter().map(|name| (*name).to_string()).collect::<Vec<_>>();
        let (mut materials, mut constituents, mut names) =
            (vec![header(MATERIALS)], vec![header(CONSTITUENTS)], vec![header(NAMES)]);
        for substance in self.own_substances() {
            cannot(format!("substance {}", shown(substance.inci())), "a substance of the catalogue's own");
        }
        for lot in self.lots() {
            cannot(format!("lot {:?}", lot.id()), "a lot");
        }
        for material in self.materials() {
            let place = || format!("material {:?}", material.id());
            if matches!(material.composition(), Composition::Premix(_)) {
                cannot(place(), "a premix");
                continue;
            }
            let (uses, sources) = (
                material.use_levels().iter().map(|level| level.product_use.as_str()),
                own_sources(material).into_iter().flatten(),
            );
            for text in material
                .aliases()
                .iter()
                .map(String::as_str)
                .chain(uses)
                .chain(sources)
                .filter(|text| text.contains(SEPARATOR))
            {
                cannot(place(), &format!("{} with | , which separates the values of a cell,", shown(text)));
            }
            materials.push(MATERIALS.known.iter().map(|column| material_cell(material, column)).collect());
            constituents
                .extend(material.composition().constituents().iter().map(|row| constituent_row(material.id(), row)));
            constituents.extend(material.contained().iter().map(|part| contained_row(material, part)));
        }
        for alias in self.aliases().iter() {
            names.push(vec![alias.name.clone(), joined(&alias.candidates), alias.note.clone().unwrap_or_default()]);
        }
        Error::check(faults, ())?;
        Ok((sheet(&materials)?, sheet(&constituents)?, sheet(&names)?))
    }
}

/// The rows of each material, by its id as written; rows of materials that have no row of their own are reported.
fn group<'r, 't>(
    materials: &[Row<'t>],
    constituents: &'r [Row<'t>],
    sheets: &mut Sheets,
) -> HashMap<String, Vec<&'r Row<'t>>> {
    let mut groups: HashMap<String, Vec<&Row<'_>>> =
        materials.iter().map(|row| (row.text("id").to_string(), Vec::new())).collect();
    // One row names a material, its constituents repeat the name: the nearest known id is looked for once.
    let mut unknown: HashMap<&str, Fault> = HashMap::new();
    for row in constituents {
        let material = row.text("material");
        let mark = row.mark("material");
        if material.is_empty() {
            sheets.fault(
                mark,
                Fault::new(FaultKind::Missing, "a row without a material")
                    .remedy("write the id of its material, or empty the row"),
            );
        } else if let Some(group) = groups.get_mut(material) {
            group.push(row);
        } else if sheets.is_full() {
            sheets.fault(mark, unknown_material("raw material", material, std::iter::empty()));
        } else {
            let fault = unknown.entry(material).or_insert_with(|| {
                let fault = unknown_material("raw material", material, materials.iter().map(|row| row.text("id")));
                let remedy = fault.remedy.clone();
                fault.remedy(remedy.unwrap_or_else(|| "add a row for it to the materials".to_string()))
            });
            sheets.fault(mark, fault.clone());
        }
    }
    groups
}

pub(super) fn entry<'r>(key: &'static str, node: Node<'r>) -> Entry<'r> {
    Entry { key: Cow::Borrowed(key), offset: node.offset, node }
}

pub(super) fn text<'r>(row: &'r Row<'_>, column: &str) -> Node<'r> {
    row.node(column, |text| Value::Text(Cow::Borrowed(text)))
}

pub(super) fn number<'r>(row: &'r Row<'_>, column: &str) -> Node<'r> {
    row.node(column, |text| Value::Number(Cow::Borrowed(text)))
}

pub(super) fn yes_or_no<'r>(row: &'r Row<'_>, column: &str) -> Node<'r> {
    row.node(column, |text| match text.to_ascii_lowercase().as_str() {
        "yes" | "true" => Value::Bool(true),
        "no" | "false" => Value::Bool(false),
        _ => Value::Text(Cow::Borrowed(text)),
    })
}

pub(super) fn parts<'r>(row: &'r Row<'_>, column: &str) -> Node<'r> {
    let mark = row.mark(column);
    row.node(column, |text| {
        let parts = text.split(SEPARATOR).map(str::trim).filter(|part| !part.is_empty());
        Value::List(parts.map(|part| Node { offset: mark, value: Value::Text(Cow::Borrowed(part)) }).collect())
    })
}

/// A table of some columns; empty if all of them are.
pub(super) fn table<'r>(entries: Vec<Entry<'r>>, mark: usize) -> Node<'r> {
    let empty = entries.iter().all(|entry| entry.node.is_empty());
    Node { offset: mark, value: if empty { Value::Empty } else { Value::Table(entries) } }
}

/// A value that may have a source of its own in the column beside it.
fn sourced<'r>(
    row: &'r Row<'_>,
    column: &'static str,
    key: &'static str,
    value: impl Fn(&'r Row<'_>, &str) -> Node<'r>,
) -> Entry<'r> {
    let (node, source) = (value(row, column), text(row, &format!("{column}{SOURCE}")));
    entry(
        column,
        if source.is_empty() { node } else { table(vec![entry(key, node), entry("source", source)], row.mark(column)) },
    )
}

fn alias_table<'r>(row: &'r Row<'_>) -> Node<'r> {
    let entries = vec![
        entry("name", text(row, "name")),
        entry("candidates", parts(row, "materials")),
        entry("note", text(row, "note")),
    ];
    Node { offset: row.mark("name"), value: Value::Table(entries) }
}

/// Yes-or-no properties and the share of natural origin.
pub(super) fn attributes<'r>(row: &'r Row<'_>) -> Entry<'r> {
    let attributes = Attribute::ALL.iter().map(|attribute| sourced(row, attribute.slug(), "value", yes_or_no));
    let attributes = attributes.chain([sourced(row, NATURAL_ORIGIN, "share", number)]).collect();
    entry("attributes", table(attributes, row.mark("sulfate")))
}

pub(super) fn material_table<'r>(row: &'r Row<'_>, constituents: &[&'r Row<'_>], sheets: &mut Sheets) -> Node<'r> {
    let mut entries: Vec<Entry<'r>> = TEXTS.iter().map(|column| entry(column, text(row, column))).collect();
    entries.extend(NUMBERS.iter().map(|column| entry(column, number(row, column))));
    entries.extend(YES_OR_NO.iter().map(|column| entry(column, yes_or_no(row, column))));
    entries.extend(LISTS.iter().map(|column| entry(column, parts(row, column))));
    let ph_range = vec![
        entry("low", number(row, "ph_low")),
        entry("high", number(row, "ph_high")),
        entry("source", text(row, "ph_source")),
    ];
    entries.push(entry("ph_range", table(ph_range, row.mark("ph_low"))));
    entries.push(attributes(row));
    entries.push(entry("use_levels", use_levels(row, sheets)));
    let (contained, ingredients): (Vec<&&Row<'_>>, Vec<&&Row<'_>>) =
        constituents.iter().partition(|row| !row.text("of").is_empty());
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
    const COLUMNS: [(&str, &str); 4] =
        [("use", "use"), ("use_low", "low"), ("use_high", "high"), ("use_source", "source")];
    let mark = row.mark("use");
    if COLUMNS.iter().all(|(column, _)| row.text(column).is_empty()) {
        return Node { offset: mark, value: Value::Empty };
    }
    let mut split = COLUMNS.map(|(column, _)| row.text(column).split(SEPARATOR).map(str::trim).collect::<Vec<_>>());
    if row.text("use_source").is_empty() {
        split[3] = vec![""; split[0].len()];
    }
    let counts = [split[0].len(), split[1].len(), split[2].len(), split[3].len()];
    if counts.iter().any(|count| *count != counts[0]) {
        let fault = Fault::new(
            FaultKind::Contradiction,
            "use, use_low, use_high and use_source hold different numbers of values",
        );
        let found = format!("{}, {}, {} and {}", counts[0], counts[1], counts[2], counts[3]);
        sheets.fault(
            mark,
            fault.value(found).remedy("separate them by | and write as many ends as uses, and as many sources or none"),
        );
        return Node { offset: mark, value: Value::Empty };
    }
    let levels = (0..counts[0]).map(|index| {
        let entries = COLUMNS.iter().zip(&split).map(|((column, key), values)| {
            let value = match (values[index], *column) {
                ("", _) => Value::Empty,
                (text, "use" | "use_source") => Value::Text(Cow::Borrowed(text)),
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
    let levels = material.use_levels();
    let own = |source: &str| if source == material.source() { String::new() } else { source.to_string() };
    match column {
        "id" => material.id().to_string(),
        "name" => material.name().to_string(),
        "form" => material.form().to_string(),
        "phase" => material.phase().to_string(),
        "difference_to" => material.stated_difference_to().unwrap_or_default().to_string(),
        "active_convention" => {
            material.active_convention().map(|convention| convention.to_string()).unwrap_or_default()
        }
        "density" => decimal(material.density()),
        "melting_point" => decimal(material.melting_point()),
        "highest_process_temperature" => decimal(material.highest_process_temperature()),
        "bound_water" => share(material.bound_water()),
        "scent_reported_above" => share(material.scent_reported_above()),
        "remainder_may_hold" => joined(material.remainder_may_hold()),
        "ph_low" => decimal(material.ph_range().map(|range| range.low)),
        "ph_high" => decimal(material.ph_range().map(|range| range.high)),
        "ph_source" => material.ph_range().map(|range| own(&range.source)).unwrap_or_default(),
        "use" => joined(levels.iter().map(|level| &level.product_use)),
        "use_low" => joined(levels.iter().map(|level| level.low)),
        "use_high" => joined(levels.iter().map(|level| level.high)),
        "use_source" => own_sources(material).map(joined).unwrap_or_default(),
        "cautions" => joined(material.cautions()),
        "aliases" => joined(material.aliases()),
        NATURAL_ORIGIN => decimal(material.attributes().natural_origin().map(|(share, _)| share)),
        "source" => material.source().to_string(),
        "descending" if material.composition().is_descending() => yes(true),
        "starter" if material.is_starter() => yes(true),
        "descending" | "starter" => String::new(),
        attribute => {
            if let Some(attribute) = attribute.strip_suffix(SOURCE) {
                let attributes = material.attributes();
                let source = match Attribute::from_slug(attribute) {
                    Some(attribute) => attributes.get(attribute).map(|statement| statement.source.as_str()),
                    None => attributes.natural_origin().map(|(_, source)| source),
                };
                return source.map(own).unwrap_or_default();
            }
            Attribute::from_slug(attribute)
                .and_then(|attribute| material.attributes().get(attribute))
                .map(|statement| yes(statement.value))
                .unwrap_or_default()
        }
    }
}

/// Several values in one cell.
fn joined<T: ToString>(parts: impl IntoIterator<Item = T>) -> String {
    parts.into_iter().map(|part| part.to_string()).collect::<Vec<_>>().join(&SEPARATOR.to_string())
}

/// The sources of the use levels, empty for the material's own; `None` if all are.
fn own_sources(material: &Material) -> Option<Vec<&str>> {
    let sources = material
        .use_levels()
        .iter()
        .map(|level| if level.source == material.source() { "" } else { level.source.as_str() });
    let sources: Vec<&str> = sources.collect();
    sources.iter().any(|source| !source.is_empty()).then_some(sources)
}

fn share(share: Option<Ppm>) -> String {
    share.map(|share| share.to_string()).unwrap_or_default()
}

fn constituent_row(material: &str, row: &Constituent) -> Vec<String> {
    let (low, high) = (row.stated_low(), row.stated_high());
    let inci = row.substance().inci().to_string();
    vec![
        material.to_string(),
        inci,
        share(row.share()),
        share(low),
        share(high),
        row.declaration().to_string(),
        String::new(),
        String::new(),
    ]
}

fn contained_row(material: &Material, part: &Contained) -> Vec<String> {
    let inci = part.substance().inci().to_string();
    let source = if part.source() == material.source() { String::new() } else { part.source().to_string() };
    let of = part.of().to_string();
    vec![
        material.id().to_string(),
        inci,
        share(part.share()),
        share(part.low()),
        share(part.high()),
        String::new(),
        of,
        source,
    ]
}

pub(super) fn sheet(rows: &[Vec<String>]) -> Result<String, Error> {
    let mut writer = ::csv::WriterBuilder::new().terminator(::csv::Terminator::CRLF).from_writer(Vec::new());
    let failed =
        |what: String| Error::from(Fault::new(FaultKind::Unsupported, format!("the sheet cannot be written: {what}")));
    for row in rows {
        writer
            .write_record(row.iter().map(|cell| guarded(cell).into_owned()))
            .map_err(|error| failed(error.to_string()))?;
    }
    let bytes = writer.into_inner().map_err(|error| failed(error.to_string()))?;
    String::from_utf8(bytes).map_err(|error| failed(error.to_string()))
}
