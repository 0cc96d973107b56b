//! A catalogue or price list from one table of one's own.
//!
//! The rows become those of the sheets that a catalogue is read from, and the same reader walks them.

use std::borrow::Cow;
use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use indexmap::IndexMap;
use rust_decimal::Decimal;

use super::csv::{CONSTITUENTS, MATERIALS, SEPARATOR, entry, material_table, text};
use super::price_document::price_list;
use super::table_options::{CURRENCY, INCI_LIST, MORE_NUMBERS, PACK, PACK_KG, PRICE, PRICE_PER_KG, missing};
use super::{Catalogue, Contents, PriceList, TableOptions, TableText, document};
use crate::bounds::Quantity;
use crate::document::{DecimalMark, Entry, Node, Row, Sheets, Value, check_prose, fold, read_decimal, shown};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, HalfWay, Mass};
use crate::substance::SubstanceTable;

/// Decimals of a price per kg that has no end as a decimal.
const PRICE_PLACES: u32 = 10;

impl Catalogue {
    /// Reads a catalogue from one table under headings of its own. Without a column `id` the ids are made of the names:
    /// lower case, hyphens, `ae` for `ä`. Its materials may name the given substances, by INCI names, names on labels
    /// and CAS numbers. What is paid is for [`PriceList::read_table`].
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, TableOptions, TableText};
    /// use tenside::substance::SubstanceTable;
    /// let sheet = "Bezeichnung;Form;INCI;Gehalt %;EUR/kg\nKaolin weiß;powder;KAOLIN;100;1,90\nBetain 30;liquid;Cocamidopropyl Betaine;30;2,90\n";
    /// let options = TableOptions::new()
    ///     .with_column("name", "Bezeichnung")?
    ///     .with_column("constituent", "INCI")?
    ///     .with_column("typical", "Gehalt %")?
    ///     .with_column("price_per_kg", "EUR/kg")?
    ///     .with_rest_unspecified()
    ///     .with_source("our shelf (invented)");
    /// let catalogue = Catalogue::read_table(TableText::Sheet(sheet), &options, &SubstanceTable::starter())?;
    /// assert_eq!(catalogue.material("betain-30")?.composition().unspecified().to_string(), "70");
    /// assert!(catalogue.find("kaolin-weiss").is_some());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the table at once, with line and the number of the cell: unknown, missing and doubled columns,
    /// rows of one material that say different things, numbers that could be two, and as [`Catalogue::read_csv`].
    pub fn read_table(
        table: TableText<'_>,
        options: &TableOptions,
        substances: &Arc<SubstanceTable>,
    ) -> Result<Self, Error> {
        let source = options.source().map(check_prose).transpose().map_err(|error| error.within("option source"))?;
        let mut sheets = Sheets::default();
        let rows = options.rows(table, &["name", "form"], &mut sheets).unwrap_or_default();
        let mark = options.decimal_mark(&rows, &MORE_NUMBERS);
        let says_source = source.is_some() || rows.is_empty() || rows.iter().any(|row| !row.text("source").is_empty());
        if !says_source {
            sheets.fault(0, missing("values without a source", "state the source of all of them, or a column source"));
        }
        // Once is enough.
        let source = if says_source { source } else { Some(String::new()) };
        let groups = group(rows, &mut sheets);
        let materials: Vec<Row<'_>> = groups.iter().map(|(id, rows)| material_row(id, &rows[0])).collect();
        let mut constituents: Vec<Vec<Row<'_>>> =
            groups.values().map(|rows| constituent_rows(rows, options, mark, &mut sheets)).collect();
        let other_names = other_names(substances);
        for row in constituents.iter_mut().flatten() {
            for column in ["constituent", "of"] {
                if let Some(Some(inci)) = other_names.get(&fold(row.text(column))) {
                    row.reword(column, inci);
                }
            }
        }
        let mut nodes = Vec::with_capacity(materials.len());
        for ((row, own), rows) in materials.iter().zip(&constituents).zip(groups.values()) {
            let mut node = material_table(row, &own.iter().collect::<Vec<_>>(), &mut sheets);
            if !rows[0].text(INCI_LIST).is_empty() {
                in_descending_order(&mut node);
            }
            nodes.push(node);
        }
        let root = Node {
            offset: 0,
            value: Value::Table(vec![entry("material", Node { offset: 0, value: Value::List(nodes) })]),
        };
        sheets.into_reader(mark).walk(&root, |view| {
            let (materials, _) = document::read_materials(view, substances, &IndexMap::new(), source.as_deref());
            Some(Catalogue::of(Contents { substances: Arc::clone(substances), materials, ..Contents::default() }))
        })
    }
}

impl PriceList {
    /// Reads the prices of a table that [`Catalogue::read_table`] reads too: `price_per_kg`, or `price` for a `pack`
    /// (`25 kg`, `500 g`) or for `pack_kg` kilograms, of the raw material that the catalogue has under the `id`, or
    /// else the `name`. A row without a price is not priced. A price per kg that has no end as a decimal is rounded to
    /// ten places, half to even.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, PriceList, TableOptions, TableText};
    /// let sheet = "id;price;pack\nkaolin;47,50;25 kg\nsci-powder;3,20;500 g\n";
    /// let prices = PriceList::read_table(TableText::Sheet(sheet), Some("EUR"), &TableOptions::new(), &Catalogue::starter())?;
    /// assert_eq!(prices.get("kaolin").unwrap().to_string(), "1.9");
    /// assert_eq!(prices.get("sci-powder").unwrap().to_string(), "6.4");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the table at once, as [`PriceList::read_csv`].
    pub fn read_table(
        table: TableText<'_>,
        currency: Option<&str>,
        options: &TableOptions,
        catalogue: &Catalogue,
    ) -> Result<Self, Error> {
        let mut sheets = Sheets::default();
        let rows = options.rows(table, &[], &mut sheets);
        let read = rows.is_some();
        let rows = rows.unwrap_or_default();
        let mark = options.decimal_mark(&rows, &MORE_NUMBERS);
        let has = |column: &str| rows.iter().any(|row| !row.text(column).is_empty());
        if read && !has(PRICE_PER_KG) && !has(PRICE) {
            sheets
                .fault(0, missing("no row has a price", "name the column price_per_kg, or price with pack or pack_kg"));
        }
        let mut nodes = Vec::new();
        for row in &rows {
            let Some((column, price)) = price_of(row, mark, &mut sheets) else { continue };
            let named = if row.text("id").is_empty() { "name" } else { "id" };
            let price = Node { offset: row.mark(column), value: Value::Number(Cow::Owned(price)) };
            let entries = vec![
                entry("material", text(row, named)),
                entry(PRICE_PER_KG, price),
                entry(CURRENCY, text(row, CURRENCY)),
            ];
            nodes.push(Node { offset: row.mark(named), value: Value::Table(entries) });
        }
        price_list(nodes, sheets, mark, currency, catalogue)
    }
}

/// The rows of each material by its id, as written or made of its name. Later rows repeat what the first says, or leave
/// it out.
pub(super) fn group<'t>(rows: Vec<Row<'t>>, sheets: &mut Sheets) -> IndexMap<String, Vec<Row<'t>>> {
    let mut groups: IndexMap<String, Vec<Row<'t>>> = IndexMap::new();
    let mut made: HashSet<String> = HashSet::new();
    for row in rows {
        let (id, name) = (row.text("id"), row.text("name"));
        if id.is_empty() && name.is_empty() {
            sheets.fault(
                row.mark("name"),
                missing("a row without a name or id", "write what it belongs to, or empty the row"),
            );
            continue;
        }
        let id = if id.is_empty() {
            let Some(id) = id_of(name) else {
                let fault = Fault::new(FaultKind::OutOfRange, "no id can be made of this name").value(shown(name));
                sheets.fault(row.mark("name"), fault.allowed("letters a to z and digits").remedy("add a column id"));
                continue;
            };
            made.insert(id.clone());
            id
        } else {
            id.to_string()
        };
        if let Some(first) = groups.get(&id).map(|rows| &rows[0]) {
            for column in MATERIALS.known.iter().filter(|column| **column != "id") {
                let (said, again) = (first.text(column), row.text(column));
                if again.is_empty() || said == again {
                    continue;
                }
                let message = "two rows of one raw material say different things";
                let fault =
                    Fault::new(FaultKind::Contradiction, message).at(format!("material {}, {column}", shown(&id)));
                let fault = fault.value(format!("{}, and above {}", shown(again), shown(said)));
                let remedy = if made.contains(&id) {
                    "give them different names, or a column id"
                } else {
                    "keep one of them, or give the rows different ids"
                };
                sheets.fault(row.mark(column), fault.remedy(remedy));
            }
        }
        groups.entry(id).or_default().push(row);
    }
    groups
}

/// An identifier of the letters and digits of a name.
fn id_of(name: &str) -> Option<String> {
    let mut id = String::new();
    for c in name.chars().flat_map(char::to_lowercase) {
        match c {
            'a'..='z' | '0'..='9' => id.push(c),
            'ä' | 'æ' => id.push_str("ae"),
            'ö' | 'ø' | 'œ' => id.push_str("oe"),
            'ü' => id.push_str("ue"),
            'ß' => id.push_str("ss"),
            'à' | 'á' | 'â' | 'ã' | 'å' => id.push('a'),
            'ç' => id.push('c'),
            'è' | 'é' | 'ê' | 'ë' => id.push('e'),
            'ì' | 'í' | 'î' | 'ï' => id.push('i'),
            'ñ' => id.push('n'),
            'ò' | 'ó' | 'ô' | 'õ' => id.push('o'),
            'ù' | 'ú' | 'û' => id.push('u'),
            c if c.is_alphabetic() => return None,
            _ if id.ends_with('-') || id.is_empty() => {}
            _ => id.push('-'),
        }
    }
    let id = id.trim_end_matches('-');
    (!id.is_empty()).then(|| id.to_string())
}

/// The first row of a material as a row of the sheet of materials, with its id.
pub(super) fn material_row<'t>(id: &str, row: &Row<'t>) -> Row<'t> {
    if row.text("id").is_empty() {
        row.with_cell("id", id).of_columns(MATERIALS, Some)
    } else {
        row.of_columns(MATERIALS, Some)
    }
}

fn constituent_rows<'t>(
    rows: &[Row<'t>],
    options: &TableOptions,
    mark: DecimalMark,
    sheets: &mut Sheets,
) -> Vec<Row<'t>> {
    // The source of a row is the material's.
    let named = |column: &'static str| (!matches!(column, "material" | "source")).then_some(column);
    let stated = || rows.iter().filter(|row| !row.text("constituent").is_empty());
    for row in rows.iter().filter(|row| row.text("constituent").is_empty()) {
        if let Some(column) = ["typical", "low", "high", "of"].into_iter().find(|column| !row.text(column).is_empty()) {
            let fault = missing("a share of nothing", "write in the column constituent what it is a share of")
                .value(shown(row.text(column)));
            sheets.fault(row.mark(column), fault);
        }
    }
    let mut own: Vec<Row<'t>> = stated().map(|row| row.of_columns(CONSTITUENTS, named)).collect();
    for row in rows.iter().filter(|row| !row.text(INCI_LIST).is_empty()) {
        if !own.is_empty() {
            let fault =
                Fault::new(FaultKind::Contradiction, "a list of ingredients beside constituents, or a second list")
                    .value(shown(row.text(INCI_LIST)));
            sheets.fault(row.mark(INCI_LIST), fault.remedy("state one of them"));
            return own;
        }
        let at = row.mark(INCI_LIST);
        own.extend(
            ingredients(row.text(INCI_LIST))
                .map(|name| Row::made(CONSTITUENTS, &[("constituent", name.to_string())], at)),
        );
    }
    if let Some(rest) = options.rest_unspecified().then(|| rest_of(&own, mark)).flatten() {
        let cells = [("constituent", crate::substance::UNSPECIFIED.to_string()), ("typical", mark.written(rest))];
        let at = rows[0].mark("constituent");
        own.push(Row::made(CONSTITUENTS, &cells, at));
    }
    own
}

/// The INCI names of substances by what else they go by, names on labels and CAS numbers; none by what several go by.
fn other_names(substances: &SubstanceTable) -> HashMap<String, Option<&str>> {
    let mut names: HashMap<String, Option<&str>> = HashMap::new();
    for substance in substances.iter() {
        let labels = [substance.label_eu(), substance.label_us()]
            .into_iter()
            .chain(substance.cas().iter().map(|cas| cas.as_str()));
        for name in labels.filter(|name| substances.find(name).is_none()) {
            let known = names.entry(fold(name)).or_insert(Some(substance.inci()));
            if *known != Some(substance.inci()) {
                *known = None;
            }
        }
    }
    names
}

/// The names of a list of ingredients. A comma may stand in a name, a comma and a blank may not.
fn ingredients(list: &str) -> impl Iterator<Item = &str> {
    list.split([SEPARATOR, ';', '\n']).flat_map(|part| part.split(", ")).map(str::trim).filter(|name| !name.is_empty())
}

/// What typical shares leave to a hundred; `None` where there is nothing left, or where a share is no number or
/// missing.
fn rest_of(rows: &[Row<'_>], mark: DecimalMark) -> Option<Decimal> {
    let ingredients: Vec<&Row<'_>> = rows.iter().filter(|row| row.text("of").is_empty()).collect();
    let mut rest = Decimal::ONE_HUNDRED;
    for row in &ingredients {
        rest = rest.checked_sub(read_decimal(row.text("typical"), mark).ok()?)?;
    }
    (!ingredients.is_empty() && rest > Decimal::ZERO).then_some(rest)
}

/// Says of a material's table that its constituents stand in descending order.
fn in_descending_order(material: &mut Node<'_>) {
    let Value::Table(entries) = &mut material.value else { return };
    if let Some(Entry { node, .. }) = entries.iter_mut().find(|entry| entry.key == "descending") {
        node.value = Value::Bool(true);
    }
}

/// The price per kg of a row as it would stand in the sheet, and the column it comes from; `None` where there is none.
fn price_of(row: &Row<'_>, mark: DecimalMark, sheets: &mut Sheets) -> Option<(&'static str, String)> {
    let (per_kg, price) = (row.text(PRICE_PER_KG), row.text(PRICE));
    match (per_kg.is_empty(), price.is_empty()) {
        (true, true) => None,
        (false, true) => Some((PRICE_PER_KG, per_kg.to_string())),
        (false, false) => {
            let fault =
                Fault::new(FaultKind::Contradiction, "a price per kg beside a price of a pack").value(shown(price));
            sheets.fault(row.mark(PRICE), fault.remedy("state one of them"));
            None
        }
        (true, false) => match per_kilogram(row, price, mark) {
            Ok(price) => Some((PRICE, mark.written(price))),
            Err((column, error)) => {
                error.into_faults().into_iter().for_each(|fault| sheets.fault(row.mark(column), fault));
                None
            }
        },
    }
}

/// The price of a pack for each kg in it, or the column at fault.
fn per_kilogram(row: &Row<'_>, price: &str, mark: DecimalMark) -> Result<Decimal, (&'static str, Error)> {
    let decimal =
        |column: &'static str, text: &str| read_decimal(text, mark).map_err(|fault| (column, Error::from(*fault)));
    let kilograms = match (row.text(PACK), row.text(PACK_KG)) {
        ("", "") => {
            let fault = missing(
                "the price of a pack without its size",
                "add pack (\"25 kg\") or pack_kg, or state price_per_kg",
            );
            return Err((PRICE, fault.value(shown(price)).into()));
        }
        ("", kilograms) => Exact::from(decimal(PACK_KG, kilograms)?),
        (pack, "") => {
            let unit = pack.find(|c: char| !c.is_ascii_digit() && !matches!(c, '.' | ',')).unwrap_or(pack.len());
            let (number, unit) = pack.split_at(unit);
            let mass = format!("{} {unit}", decimal(PACK, number)?).parse::<Mass>().map_err(|error| (PACK, error))?;
            mass.grams() / Exact::from(1000)
        }
        (_, kilograms) => {
            let fault =
                Fault::new(FaultKind::Contradiction, "the size of a pack in two columns").value(shown(kilograms));
            return Err((PACK_KG, fault.remedy("state one of them").into()));
        }
    };
    if !kilograms.is_positive() {
        let column = if row.text(PACK).is_empty() { PACK_KG } else { PACK };
        return Err((
            column,
            Fault::new(FaultKind::OutOfRange, "a pack of nothing").value(kilograms).allowed("more than 0 kg").into(),
        ));
    }
    let exact = Exact::from(decimal(PRICE, price)?) / kilograms;
    Quantity::Price.check(&exact).map_err(|error| (PRICE, error))?;
    let rounded = || {
        (exact.clone() * Exact::from(10_i64.pow(PRICE_PLACES)))
            .round_i64(HalfWay::ToEven)
            .map(|whole| Decimal::new(whole, PRICE_PLACES))
    };
    match exact.to_decimal().filter(|decimal| decimal.scale() <= PRICE_PLACES).or_else(rounded) {
        Some(decimal) => Ok(decimal.normalize()),
        None => Err((PRICE, Quantity::Price.fault(exact).into())),
    }
}
