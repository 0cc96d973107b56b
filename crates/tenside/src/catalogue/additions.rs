//! Substances, lots and premixes from one table of one's own, added to a catalogue.
//!
//! As in `table`, the rows become the tree that documents are read into, and the reader of documents walks it.

use std::sync::Arc;

use indexmap::IndexMap;

use super::csv::{attributes, entry, material_table, number, parts, table, text, yes_or_no};
use super::resolve::resolve;
use super::table::{group, material_row};
use super::table_of::TableOf;
use super::{Catalogue, TableOptions, TableText};
use crate::document::{Entry, Node, Row, Sheets, Value, check_prose, shown};
use crate::error::{Error, Fault, FaultKind};
use crate::material::{MaterialRow, read_lot, read_material_row};
use crate::substance::{SubstanceTable, read_substance};

impl Catalogue {
    /// With the substances, lots or premixes of one table under headings of its own. Raw materials are named by ids or
    /// other names of this catalogue; a premix may also hold another one of the table.
    ///
    /// ```
    /// use tenside::catalogue::{Catalogue, TableOf, TableOptions, TableText};
    /// let shelf = Catalogue::starter();
    /// let sheet = "Charge;Artikel;WAS;Methode\nW-27;CAPB 30;29,1;titrated\n";
    /// let options = TableOptions::new()
    ///     .with_column("id", "Charge")?
    ///     .with_column("material", "Artikel")?
    ///     .with_column("active", "WAS")?
    ///     .with_column("method", "Methode")?;
    /// let shelf = shelf.with_table(TableText::Sheet(sheet), TableOf::Lots, &options)?;
    /// assert_eq!(shelf.lot("W-27")?.material(), "capb-30");
    ///
    /// let sheet = "name;form;part;percent\nTwo powders;powder;kaolin;75\nTwo powders;powder;corn-starch;25\n";
    /// let options = TableOptions::new().with_source("our mixing book (invented)");
    /// let shelf = shelf.with_table(TableText::Sheet(sheet), TableOf::Premixes, &options)?;
    /// assert_eq!(shelf.material("two-powders")?.leaves().len(), 2);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the table at once, with line and the number of the cell, as [`Catalogue::read_table`]; lots and
    /// premixes that the catalogue has already, and what contradicts it.
    pub fn with_table(&self, table: TableText<'_>, of: TableOf, options: &TableOptions) -> Result<Self, Error> {
        let source = options.source().map(check_prose).transpose().map_err(|error| error.within("option source"))?;
        let mut sheets = Sheets::default();
        let mut rows = options.rows_of(table, of.columns(), &[], &mut sheets).unwrap_or_default();
        let mark = options.decimal_mark(&rows, of.numbers());
        for row in &mut rows {
            for column in ["material", "part"] {
                if let Ok(known) = self.material(row.text(column)) {
                    row.reword(column, known.id());
                }
            }
        }
        let groups =
            if of == TableOf::Premixes { group(std::mem::take(&mut rows), &mut sheets) } else { IndexMap::default() };
        let premixes: Vec<Row<'_>> = groups.iter().map(|(id, rows)| material_row(id, &rows[0])).collect();
        let nodes: Vec<Node<'_>> = match of {
            TableOf::Substances => rows.iter().map(substance_table).collect(),
            TableOf::Lots => rows.iter().map(lot_table).collect(),
            TableOf::Premixes => premixes
                .iter()
                .zip(groups.values())
                .map(|(row, parts)| with_parts(material_table(row, &[], &mut sheets), parts))
                .collect(),
        };
        let root =
            Node { offset: 0, value: Value::Table(vec![entry("row", Node { offset: 0, value: Value::List(nodes) })]) };
        let mut catalogue = self.clone();
        sheets.into_reader(mark).walk(&root, |view| {
            match of {
                TableOf::Substances => {
                    let mut own = SubstanceTable::default();
                    view.tables("row", |view| {
                        let substance = Arc::new(read_substance(view, source.as_deref())?);
                        view.accept("inci", own.insert(Arc::clone(&substance)))?;
                        catalogue = view.accept("inci", catalogue.with_substance(substance))?;
                        Some(())
                    });
                }
                TableOf::Lots => {
                    view.tables("row", |view| {
                        let lot = Arc::new(read_lot(view)?);
                        catalogue = view.accept("id", catalogue.with_lot(lot))?;
                        Some(())
                    });
                }
                TableOf::Premixes => {
                    let rows: Vec<MaterialRow> = view.tables("row", |view| {
                        let row = read_material_row(view, self.substances(), source.as_deref())?;
                        if self.find(row.material.id()).is_some() {
                            let fault = Fault::new(FaultKind::Duplicate, "a raw material of this id exists already");
                            view.fault("id", fault.value(shown(row.material.id())).remedy("give it another id"));
                        }
                        Some(row)
                    });
                    catalogue = self
                        .with_premix_rows(rows, groups.keys().cloned(), &mut |mark, fault| view.fault_at(mark, fault));
                }
            }
            Some(catalogue)
        })
    }

    /// With premixes of its raw materials and of each other.
    fn with_premix_rows(
        &self,
        rows: Vec<MaterialRow>,
        named: impl Iterator<Item = String>,
        report: &mut dyn FnMut(usize, Fault),
    ) -> Self {
        let own = self.contents.materials.values().map(|material| self.row_of(material, 0));
        let all = own.chain(rows).collect();
        let named = self.contents.materials.keys().cloned().chain(named).collect();
        let mut catalogue = self.clone();
        catalogue.change().materials = resolve(all, &named, &self.contents.lots, report);
        catalogue
    }
}

fn substance_table<'r>(row: &'r Row<'_>) -> Node<'r> {
    let texts = ["inci", "class", "label_eu", "label_us", "formula", "charge", "volatility", "source"];
    let mut entries: Vec<Entry<'r>> = texts.map(|column| entry(column, text(row, column))).into();
    entries.extend(["charge_per_mole", "charge_per_gram"].map(|column| entry(column, number(row, column))));
    entries.extend(["cas", "pka"].map(|column| entry(column, parts(row, column))));
    entries.push(entry("counts_as_active", yes_or_no(row, "counts_as_active")));
    let molar_mass = vec![
        entry("typical", number(row, "molar_mass")),
        entry("low", number(row, "molar_mass_low")),
        entry("high", number(row, "molar_mass_high")),
        entry("chain", text(row, "chain")),
    ];
    entries.push(entry("molar_mass", table(molar_mass, row.mark("molar_mass"))));
    entries.push(attributes(row));
    Node { offset: row.mark("inci"), value: Value::Table(entries) }
}

fn lot_table<'r>(row: &'r Row<'_>) -> Node<'r> {
    let mut entries: Vec<Entry<'r>> =
        ["id", "material", "retest"].map(|column| entry(column, text(row, column))).into();
    let numbers = ["solids", "loss_on_drying", "salt", "free_fatty_acid", "ph"];
    entries.extend(numbers.map(|column| entry(column, number(row, column))));
    let active = vec![
        entry("percent", number(row, "active")),
        entry("method", text(row, "method")),
        entry("molar_mass", number(row, "molar_mass")),
    ];
    entries.push(entry("active", table(active, row.mark("active"))));
    Node { offset: row.mark("id"), value: Value::Table(entries) }
}

/// A raw material's table with the parts that its rows name.
fn with_parts<'r>(mut material: Node<'r>, rows: &'r [Row<'_>]) -> Node<'r> {
    let part = |row: &'r Row<'_>| {
        let entries = vec![
            entry("material", text(row, "part")),
            entry("percent", number(row, "percent")),
            entry("lot", text(row, "lot")),
        ];
        Node { offset: row.mark("part"), value: Value::Table(entries) }
    };
    if let Value::Table(entries) = &mut material.value {
        let parts = rows.iter().map(part).collect();
        entries.push(entry("premix", Node { offset: material.offset, value: Value::List(parts) }));
    }
    material
}
