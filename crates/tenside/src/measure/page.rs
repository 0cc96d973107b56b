//! A formula shown: its lines, the usual measures, its constituents, and two formulas side by side.

use super::{Basis, Measure, Measured};
use crate::bounds::Quantity;
use crate::error::Error;
use crate::formula::{DifferenceRow, Expanded, Formula, Phase, Presence};
use crate::material::{DRAFT, Declaration, Material};
use crate::number::Exact;
use crate::render::{Alignment, Page, Part, Table};
use crate::substance::Class;

/// A constituent on a basis.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct ConstituentReading {
    /// What it is and where it comes from, as charged.
    pub expanded: Expanded,
    /// Its percentage on the basis asked for.
    pub measured: Measured,
}

impl Formula {
    /// The measures that a formula is usually read by: active matter in all and by class as far as there is any, water,
    /// solids, cost if it has prices, the charge ratio if it has cationics, and what the suppliers do not name.
    #[must_use]
    pub fn usual_measures(&self) -> Vec<Measure> {
        // An impurity makes no product cationic.
        let lines = self.lines().iter().filter(|line| !line.percent().is_zero());
        let leaves: Vec<&Material> = lines.flat_map(|line| line.material().leaves()).map(|(leaf, _)| leaf).collect();
        let rows = || leaves.iter().flat_map(|leaf| leaf.composition().constituents());
        let has = |class: Class| {
            rows().any(|row| row.substance().class() == class && row.declaration() != Declaration::NotDeclared)
        };
        let mut measures = vec![Measure::active_matter()];
        if has(Class::AnionicSurfactant) {
            measures.push(Measure::anionic_active());
        }
        if has(Class::AmphotericSurfactant) {
            measures.push(Measure::amphoteric_active());
        }
        if has(Class::NonionicSurfactant) {
            measures.push(Measure::nonionic_active());
        }
        if has(Class::CationicSurfactant) || has(Class::CationicPolymer) {
            measures.extend([Measure::cationic_surfactant(), Measure::charge_ratio()]);
        }
        measures.extend([Measure::water(), Measure::solids()]);
        if self.prices().is_some() {
            measures.push(Measure::cost());
        }
        measures.push(Measure::unspecified());
        measures
    }

    /// The constituents on a basis, largest first as charged.
    ///
    /// # Errors
    /// None for a valid formula.
    pub fn constituents(&self, basis: &Basis) -> Result<Vec<ConstituentReading>, Error> {
        let rows = self.expand().into_iter();
        rows.map(|expanded| {
            Ok(ConstituentReading {
                measured: self.measure(&Measure::constituent(expanded.substance.inci())?, basis)?,
                expanded,
            })
        })
        .collect()
    }

    /// Lines and usual measures on the given bases.
    ///
    /// # Errors
    /// None for a valid formula.
    pub fn page(&self, bases: &[Basis]) -> Result<Page, Error> {
        let page = self.marked(Page::new(self.title())).with(Part::Table(self.line_table()));
        let page = page.section("Lots against the typical composition", Part::List(lots(self)));
        let [table, notes] = self.measure_parts(bases)?;
        Ok(page.section("Measures", table).section("To know about these", notes))
    }

    /// Reads the usual measures.
    ///
    /// # Errors
    /// None for a valid formula.
    pub fn measures(&self, basis: &Basis) -> Result<Vec<Measured>, Error> {
        self.usual_measures().iter().map(|measure| self.measure(measure, basis)).collect()
    }

    /// The usual measures alone.
    ///
    /// # Errors
    /// None for a valid formula.
    pub fn measure_page(&self, basis: &Basis) -> Result<Page, Error> {
        let [table, notes] = self.measure_parts(std::slice::from_ref(basis))?;
        Ok(self
            .marked(Page::new(&format!("{}: measures", self.title())))
            .with(table)
            .section("To know about these", notes))
    }

    /// The usual measures on the given bases, and what to know about them as charged.
    fn measure_parts(&self, bases: &[Basis]) -> Result<[Part; 2], Error> {
        Quantity::Bases.check(&Exact::from(u32::try_from(bases.len()).unwrap_or(u32::MAX)))?;
        let as_charged = self.measures(&Basis::AsCharged)?;
        let mut others: Vec<Option<Vec<Measured>>> = Vec::with_capacity(bases.len());
        for basis in bases {
            others.push(if *basis == Basis::AsCharged { None } else { Some(self.measures(basis)?) });
        }
        let columns: Vec<&[Measured]> =
            others.iter().map(|other| other.as_ref().unwrap_or(&as_charged).as_slice()).collect();
        let mut said = notes(&as_charged);
        // Misspelt, a phase would take its temperature along unseen.
        let is_empty = |phase: &&Phase| self.lines().iter().all(|line| line.phase() != phase.name());
        said.extend(
            self.phases().iter().filter(is_empty).map(|phase| format!("no line is in phase {:?}", phase.name())),
        );
        for (basis, other) in bases.iter().zip(&others) {
            // What keeps a basis from being is said once, not of every measure.
            let faults = other.iter().flatten().flat_map(|measured| &measured.why_not);
            for fault in faults.filter(|fault| !as_charged.iter().any(|measured| measured.why_not.contains(fault))) {
                let reason = format!("{basis}: {fault}");
                if !said.contains(&reason) {
                    said.push(reason);
                }
            }
        }
        Ok([Part::Table(measure_table(bases, &as_charged, &columns)), Part::List(said)])
    }

    /// Constituents with their intervals.
    ///
    /// # Errors
    /// None for a valid formula.
    pub fn constituent_page(&self, basis: &Basis) -> Result<Page, Error> {
        let mut table = Table::new(&[
            ("constituent", Alignment::Left),
            (&format!("% {basis}"), Alignment::Right),
            ("from", Alignment::Left),
            ("declared", Alignment::Left),
        ]);
        for row in self.constituents(basis)? {
            let value = row.measured.value.map_or_else(|| "not known".to_string(), |value| value.text(2));
            table.push([
                row.expanded.substance.inci().to_string(),
                value,
                row.expanded.lines.join(", "),
                row.expanded.declaration.to_string(),
            ]);
        }
        Ok(self.marked(Page::new(&format!("{}: constituents", self.title()))).with(Part::Table(table)))
    }

    /// This formula and a later one, side by side: lines, usual measures, constituents.
    ///
    /// # Errors
    /// None for valid formulas.
    pub fn difference_page(&self, after: &Formula) -> Result<Page, Error> {
        let difference = self.difference(after);
        let columns = [
            ("", Alignment::Left),
            ("before", Alignment::Right),
            ("after", Alignment::Right),
            ("change", Alignment::Right),
            ("", Alignment::Left),
        ];
        let mut lines = Table::new(&columns);
        difference.lines.iter().for_each(|row| lines.push(difference_row(row)));
        let mut measures = Table::new(&columns);
        let mut asked = self.usual_measures();
        asked.extend(after.usual_measures().into_iter().filter(|measure| !asked.contains(measure)).collect::<Vec<_>>());
        for measure in asked {
            let value = |formula: &Formula| -> Result<Presence, Error> {
                let value = formula.measure(&measure, &Basis::AsCharged)?.value;
                Ok(value.and_then(|value| value.typical).map_or(Presence::NotKnown, Presence::Known))
            };
            let unit = |formula: &Formula| measure.unit(formula.prices().map(|prices| prices.currency()));
            // A measure without a unit of its own on one side takes that of the other: a cost that is not known has no
            // currency.
            let (unit_before, unit_after) = match (unit(self), unit(after)) {
                (before, _) if after.prices().is_none() => (before.clone(), before),
                (_, after) if self.prices().is_none() => (after.clone(), after),
                both => both,
            };
            let row = DifferenceRow {
                name: format!("{}, {unit_after}", measure.name()),
                before: value(self)?,
                after: value(after)?,
                changed_otherwise: false,
            };
            measures.push(if unit_before == unit_after {
                difference_row(&row)
            } else {
                let row =
                    DifferenceRow { name: format!("{}, {unit_before}, then {unit_after}", measure.name()), ..row };
                vec![
                    row.name.clone(),
                    shown(&row.before),
                    shown(&row.after),
                    "-".to_string(),
                    "in two currencies".to_string(),
                ]
            });
        }
        let mut constituents = Table::new(&columns);
        let differs =
            |row: &&DifferenceRow| row.change().is_none_or(|change| !change.is_zero()) || row.before != row.after;
        difference.constituents.iter().filter(differs).for_each(|row| constituents.push(difference_row(row)));
        let title = if difference.before == difference.after {
            format!("{}, before and after", difference.after)
        } else {
            format!("{} and {}", difference.before, difference.after)
        };
        let page = after.marked(Page::new(&title));
        Ok(page
            .section("Lines, % w/w as charged", Part::Table(lines))
            .section("Measures, typical, as charged", Part::Table(measures))
            .section("Constituents that differ, % typical, as charged", Part::Table(constituents)))
    }

    pub(crate) fn marked(&self, page: Page) -> Page {
        if self.is_draft() { page.mark(DRAFT) } else { page }
    }

    fn line_table(&self) -> Table {
        let mut table = Table::new(&[
            ("line", Alignment::Left),
            ("raw material", Alignment::Left),
            ("phase", Alignment::Left),
            ("% w/w", Alignment::Right),
        ]);
        for phase in self.phases() {
            for line in self.lines().iter().filter(|line| line.phase() == phase.name()) {
                let percent = line.percent().percent().rounded_text(2);
                let percent = if line.is_qs() { format!("q.s. {percent}") } else { percent };
                table.push([line.name().to_string(), line.material().to_string(), phase.name().to_string(), percent]);
            }
        }
        table.footer.push(vec!["all".to_string(), String::new(), String::new(), "100.00".to_string()]);
        table
    }
}

/// One row a measure, one column a basis.
fn measure_table(bases: &[Basis], measures: &[Measured], columns: &[&[Measured]]) -> Table {
    let headers: Vec<String> = bases
        .iter()
        .map(|basis| match basis {
            Basis::AsCharged => basis.to_string(),
            Basis::Finished(moisture) => format!("finished, {moisture} % moist"),
            Basis::FinishedWithBoundWater(moisture) => format!("finished, {moisture} % moist with bound water"),
        })
        .collect();
    let headed = headers.iter().map(|header| (header.as_str(), Alignment::Right));
    let mut table = Table::new(&std::iter::once(("measure", Alignment::Left)).chain(headed).collect::<Vec<_>>());
    for (place, measured) in measures.iter().enumerate() {
        let values = columns
            .iter()
            .map(|column| column[place].value.as_ref().map_or_else(|| "not known".to_string(), |value| value.text(2)));
        table.push(
            std::iter::once(format!("{}, {}", measured.measure.name(), measured.unit))
                .chain(values)
                .collect::<Vec<_>>(),
        );
    }
    table
}

/// What the certificates changed.
fn lots(formula: &Formula) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for (material, lot) in formula.lines().iter().filter_map(|line| Some((line.material(), line.material().lot()?))) {
        let changes = material.certificate_changes().iter().map(|change| {
            let note = match (change.takes_difference, change.outside_range) {
                (true, _) => " (takes the difference)",
                (_, true) => " (outside the range stated for the material)",
                _ => "",
            };
            format!("{} {} % instead of {} %{note}", change.constituent, change.lot, change.typical)
        });
        let changes: Vec<String> = changes.collect();
        let sentence = format!(
            "lot {} of {}: {}",
            lot.id(),
            material.id(),
            if changes.is_empty() { "as typical".to_string() } else { changes.join("; ") }
        );
        if !said.contains(&sentence) {
            said.push(sentence);
        }
    }
    said
}

/// Why a measure has no value, and what was left out of the count, each said once.
fn notes(measures: &[Measured]) -> Vec<String> {
    let mut notes: Vec<String> = Vec::new();
    for measured in measures {
        let reasons = measured.why_not.iter().map(|fault| format!("{}: {fault}", measured.measure.name()));
        for note in measured.notes.iter().cloned().chain(reasons) {
            if !notes.contains(&note) {
                notes.push(note);
            }
        }
    }
    notes
}

fn shown(side: &Presence) -> String {
    match side {
        Presence::Absent => "-".to_string(),
        Presence::NotKnown => "not known".to_string(),
        Presence::Known(value) => value.rounded_text(2),
    }
}

fn difference_row(row: &DifferenceRow) -> Vec<String> {
    let change = row.change().map_or_else(
        || "-".to_string(),
        |change| {
            let text = change.rounded_text(2);
            let is_seen = text.bytes().any(|digit| (b'1'..=b'9').contains(&digit));
            if change.is_positive() && is_seen { format!("+{text}") } else { text }
        },
    );
    let note = match (&row.before, &row.after) {
        (Presence::Absent, _) => "new",
        (_, Presence::Absent) => "gone",
        _ if row.changed_otherwise => "material, lot or phase changed",
        _ => "",
    };
    vec![row.name.clone(), shown(&row.before), shown(&row.after), change, note.to_string()]
}
