//! The embedded table: water, ions, acids and bases, and what each substance brings into water.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::collections::HashMap;
use std::sync::{Arc, LazyLock};

use super::acid::Facts;
use super::{Acid, Ion, Water};
use crate::bounds::Quantity;
use crate::document::{Notation, Reader, TableView, fold, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::substance::SubstanceTable;

const WATER: &str = include_str!("../../data/ph/water.toml");
const ELECTROLYTES: &str = include_str!("../../data/ph/electrolytes.toml");
const ACIDS: &str = include_str!("../../data/ph/acids.toml");

static STARTER: LazyLock<Table> = LazyLock::new(|| {
    // The embedded files are read by a test; a fault there is a fault of the build.
    Table::read(WATER, ELECTROLYTES, ACIDS).unwrap_or_else(|error| panic!("data/ph: {error}"))
});

/// What one formula unit of a substance brings into water.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Brought {
    pub(super) acids: Vec<(Arc<Acid>, f64)>,
    pub(super) ions: Vec<(Ion, f64)>,
    /// The pH that it must stay below as a pH adjuster in the European Union.
    pub(super) ceiling: Option<f64>,
    pub(super) note: Option<String>,
}

#[derive(Debug)]
pub(super) struct Table {
    water: Vec<WaterRow>,
    ions: Vec<Ion>,
    acids: Vec<Arc<Acid>>,
    acid_by_name: HashMap<String, usize>,
    brought: HashMap<String, Brought>,
}

/// What a row of the acids says, before the acids it names are found.
struct AcidRow {
    acid: Acid,
    brought_by: Vec<BroughtRow>,
}

struct BroughtRow {
    inci: String,
    units: f64,
    ions: Vec<(String, f64)>,
    bases: Vec<(String, f64)>,
    ceiling: Option<f64>,
    note: Option<String>,
}

/// One row of the table of water.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct WaterRow {
    pub(super) temperature: f64,
    pub(super) pkw: f64,
    pub(super) davies: f64,
}

impl Table {
    pub(super) fn starter() -> &'static Table {
        &STARTER
    }

    pub(super) fn water(&self) -> &[WaterRow] {
        &self.water
    }

    pub(super) fn acids(&self) -> &[Arc<Acid>] {
        &self.acids
    }

    pub(super) fn acid(&self, name: &str) -> Result<Arc<Acid>, Error> {
        let found = self.acid_by_name.get(&fold(name)).map(|index| Arc::clone(&self.acids[*index]));
        found.ok_or_else(|| unknown_name("acid or base", name, self.acids.iter().map(|acid| acid.name())).into())
    }

    pub(super) fn ion(&self, name: &str) -> Result<Ion, Error> {
        let found = self.ions.iter().find(|ion| ion.symbol() == name.trim() || fold(ion.name()) == fold(name));
        found.cloned().ok_or_else(|| {
            let known: Vec<&str> = self.ions.iter().map(Ion::symbol).collect();
            unknown_name("ion", name, self.ions.iter().map(Ion::name))
                .allowed(format!("{}, or one of your own", known.join(", ")))
                .into()
        })
    }

    /// What a substance brings, by INCI name.
    pub(super) fn brought(&self, inci: &str) -> Option<&Brought> {
        self.brought.get(&fold(inci))
    }

    fn read(water: &str, electrolytes: &str, acids: &str) -> Result<Self, Error> {
        let mut table = Table {
            water: Reader::read(water, Notation::Toml, read_water)?,
            ions: Vec::new(),
            acids: Vec::new(),
            acid_by_name: HashMap::new(),
            brought: HashMap::new(),
        };
        let (ions, rows) = Reader::read(electrolytes, Notation::Toml, |view| {
            view.version("electrolytes/1");
            view.prose("source");
            Some((view.tables("ion", read_ion), view.tables("electrolyte", |view| read_brought(view, true))))
        })?;
        table.ions = ions;
        let acids = Reader::read(acids, Notation::Toml, |view| {
            view.version("acids/1");
            Some(view.tables("acid", read_acid))
        })?;
        for row in &acids {
            table.acid_by_name.insert(fold(row.acid.name()), table.acids.len());
            table.acids.push(Arc::new(row.acid.clone()));
        }
        for row in rows {
            table.put(None, row)?;
        }
        for (index, row) in acids.into_iter().enumerate() {
            for brought in row.brought_by {
                table.put(Some(index), brought)?;
            }
        }
        Ok(table)
    }

    fn put(&mut self, acid: Option<usize>, row: BroughtRow) -> Result<(), Error> {
        let mut acids: Vec<(Arc<Acid>, f64)> =
            acid.map(|index| (Arc::clone(&self.acids[index]), row.units)).into_iter().collect();
        for (name, count) in &row.bases {
            acids.push((self.acid(name)?, *count));
        }
        let ions =
            row.ions.iter().map(|(symbol, count)| Ok((self.ion(symbol)?, *count))).collect::<Result<_, Error>>()?;
        let brought = Brought { acids, ions, ceiling: row.ceiling, note: row.note };
        if self.brought.insert(fold(&row.inci), brought).is_some() {
            return Err(Fault::new(FaultKind::Duplicate, "a substance dissociates in two ways")
                .value(format!("{:?}", row.inci))
                .into());
        }
        Ok(())
    }
}

fn float(view: &TableView<'_>, key: &'static str, quantity: Quantity) -> Option<f64> {
    view.decimal(key, quantity).map(|value| Exact::from(value).to_f64())
}

fn floats(view: &TableView<'_>, key: &'static str, quantity: Quantity) -> Vec<f64> {
    view.decimals(key, quantity).into_iter().map(|value| Exact::from(value).to_f64()).collect()
}

fn counts(view: &TableView<'_>, key: &'static str) -> Vec<(String, f64)> {
    view.named_decimals(key, Quantity::IonCount)
        .into_iter()
        .map(|(_, name, count)| (name, Exact::from(count).to_f64()))
        .collect()
}

/// A whole charge in its range.
fn charge(view: &TableView<'_>) -> Option<i32> {
    let charge = view.needed("charge", |view| view.exact("charge", Some(Quantity::AcidCharge)))?;
    charge.floor_i64().and_then(|charge| i32::try_from(charge).ok())
}

fn read_water(view: &TableView<'_>) -> Option<Vec<WaterRow>> {
    view.version("water/1");
    view.prose("source");
    Some(view.tables("rows", |view| {
        Some(WaterRow {
            temperature: view.needed("temperature", |view| float(view, "temperature", Quantity::Temperature))?,
            pkw: view.needed("pkw", |view| float(view, "pkw", Quantity::Pkw))?,
            davies: view.needed("davies", |view| float(view, "davies", Quantity::DaviesConstant))?,
        })
    }))
}

fn read_ion(view: &TableView<'_>) -> Option<Ion> {
    let (symbol, name, charge) = (view.needed_name("symbol"), view.needed_name("name"), charge(view));
    view.accept("charge", Ion::of(&symbol?, &name?, charge?))
}

fn read_brought(view: &TableView<'_>, with_source: bool) -> Option<BroughtRow> {
    if with_source {
        view.needed("source", |view| view.prose("source"));
    }
    let inci = view.needed_name("inci")?;
    view.accept("inci", SubstanceTable::starter().get(&inci).map(|_| ()));
    Some(BroughtRow {
        inci,
        units: float(view, "units", Quantity::IonCount).unwrap_or(1.0),
        ions: counts(view, "ions"),
        bases: counts(view, "bases"),
        ceiling: float(view, "ceiling", Quantity::Ph),
        note: view.prose("note"),
    })
}

fn read_acid(view: &TableView<'_>) -> Option<AcidRow> {
    let name = view.needed_name("name")?;
    let charge = charge(view)?;
    let mut pka = floats(view, "pka", Quantity::SolutionPka);
    let parent = view.name("constants_of");
    if let Some(inci) = &parent {
        let substance = view.accept("constants_of", SubstanceTable::starter().get(inci).cloned())?;
        pka = substance.pka().iter().map(|value| Exact::from(*value).to_f64()).collect();
    }
    let mut acid = view.accept("pka", Acid::new(&name, charge, &pka))?;
    let enthalpies = floats(view, "enthalpy", Quantity::IonisationEnthalpy);
    if !enthalpies.is_empty() {
        acid = view.accept("enthalpy", acid.with_enthalpies(&enthalpies))?;
    }
    let source = view.needed("source", |view| view.prose("source"))?;
    let pairing = float(view, "pairing", Quantity::PairingConstant);
    let facts = Facts {
        parent,
        pairing,
        preservative: view.boolean("preservative").unwrap_or(false),
        note: view.prose("note"),
        source,
    };
    let brought_by = view.tables("brought_by", |view| read_brought(view, false));
    Some(AcidRow { acid: acid.with_facts(facts), brought_by })
}

impl Acid {
    /// The acid or base of that name in the embedded table.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn named(name: &str) -> Result<Arc<Acid>, Error> {
        Table::starter().acid(name)
    }

    /// Every acid and base of the embedded table.
    #[must_use]
    pub fn all() -> &'static [Arc<Acid>] {
        Table::starter().acids()
    }
}

impl Ion {
    /// The ion of that symbol or name in the embedded table.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn named(name: &str) -> Result<Self, Error> {
        Table::starter().ion(name)
    }
}

impl Water {
    /// Water at a temperature in °C.
    ///
    /// # Errors
    /// A temperature outside 15 to 40 °C.
    pub fn at(temperature: f64) -> Result<Self, Error> {
        let temperature = Quantity::SolutionTemperature.checked_float(temperature)?;
        let rows = Table::starter().water();
        Ok(Water {
            temperature,
            pkw: interpolated(rows, temperature, |row| row.pkw),
            davies: interpolated(rows, temperature, |row| row.davies),
        })
    }
}

/// Lagrange's polynomial through the four rows about the temperature.
fn interpolated(rows: &[WaterRow], temperature: f64, value: impl Fn(&WaterRow) -> f64) -> f64 {
    let above = rows.partition_point(|row| row.temperature < temperature);
    let first = above.saturating_sub(2).min(rows.len().saturating_sub(4));
    let near = &rows[first..(first + 4).min(rows.len())];
    let weight = |row: &WaterRow| -> f64 {
        let others = near.iter().filter(|other| other.temperature != row.temperature);
        others.map(|other| (temperature - other.temperature) / (row.temperature - other.temperature)).product()
    };
    near.iter().map(|row| value(row) * weight(row)).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_embedded_row_is_read() {
        let table = Table::read(WATER, ELECTROLYTES, ACIDS).unwrap();
        assert_eq!((table.water.len(), table.ions.len()), (8, 7));
        assert!(
            table.acids.len() >= 45 && table.brought.len() >= 80,
            "{} and {}",
            table.acids.len(),
            table.brought.len()
        );
    }

    /// A salt of an acid states the same constants as the acid, and what a formula unit brings agrees with its
    /// molecular formula.
    #[test]
    fn it_agrees_with_the_substance_table() {
        let substances = SubstanceTable::starter();
        let mut checked = 0;
        for (inci, brought) in &Table::starter().brought {
            let substance = substances.get(inci).unwrap();
            if let [(acid, _)] = brought.acids.as_slice() {
                let stated: Vec<f64> = substance.pka().iter().map(|value| Exact::from(*value).to_f64()).collect();
                assert!(stated.is_empty() || stated == acid.pka(), "{inci}: {stated:?} and {:?}", acid.pka());
            }
            let Some(formula) = substance.formula() else { continue };
            for (ion, count) in brought.ions.iter().filter(|(ion, _)| ion.symbol() != "NO3") {
                assert_eq!(atoms(formula, ion.symbol()), *count, "{inci}, {}", ion.symbol());
                checked += 1;
            }
        }
        assert!(checked >= 30, "{checked}");
    }

    /// How many atoms of an element a formula in Hill order has.
    fn atoms(formula: &str, element: &str) -> f64 {
        let mut rest = formula;
        while let Some(at) = rest.find(element) {
            let after = &rest[at + element.len()..];
            if after.starts_with(|c: char| c.is_ascii_lowercase()) {
                rest = after;
                continue;
            }
            let digits: String = after.chars().take_while(char::is_ascii_digit).collect();
            return digits.parse().unwrap_or(1.0);
        }
        0.0
    }

    #[test]
    fn unknown_names_are_refused_with_the_nearest() {
        let error = Table::starter().acid("citric acd").unwrap_err();
        assert!(error.is_unknown_name() && error.to_string().contains("citric acid"), "{error}");
        assert!(Table::starter().ion("Xx").unwrap_err().is_unknown_name());
    }
}
