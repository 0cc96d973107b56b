//! A raw material and a lot on their pages.

use rust_decimal::Decimal;

use super::{Composition, Lot, Material, StatedActive};
use crate::document::Named;
use crate::error::Error;
use crate::number::{Exact, Ppm};
use crate::render::{Alignment, Page, Part, Table};
use crate::substance::Attribute;

const DRAFT: &str = "DRAFT: typical values of the starter catalogue, no supplier's. Put in what your own supplier \
                     states before you rely on it.";
const SHEET: &str = "The supplier's safety data sheet rules.";
const FOLLOWS: &str = "* follows from what is stated of the others";

impl Material {
    /// Its page: cautions first, then names, active matter, water, composition with ranges, use levels, the lot, and
    /// who says all this.
    ///
    /// ```
    /// let page = tenside::catalogue::Catalogue::starter().material("capb-30")?.page();
    /// assert!(page.marks[0].starts_with("DRAFT"));
    /// assert!(page.text(100).contains("COCAMIDOPROPYL BETAINE"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn page(&self) -> Page {
        let mut page = Page::new(&self.to_string());
        if self.is_starter() {
            page = page.mark(DRAFT);
        }
        let cautions = self.cautions();
        let mut warnings: Vec<String> =
            cautions.iter().map(|caution| format!("{caution}: {}", caution.advice())).collect();
        warnings.push(if cautions.is_empty() {
            format!("No caution is stated, which is not the same as none. {SHEET}")
        } else {
            SHEET.to_string()
        });
        page = page.section("Cautions", Part::List(warnings)).section("The raw material", Part::Table(self.facts()));
        if let Composition::Premix(parts) = self.composition() {
            let mut table = Table::new(&[("part", Alignment::Left), ("lot", Alignment::Left), ("%", Alignment::Right)]);
            for (part, share) in parts {
                table.push([part.id(), part.lot().map_or("", |lot| lot.id()), &share.to_string()]);
            }
            page = page.section("Premix of", Part::Table(table));
        }
        let (rows, follows) = self.ingredients();
        page = page.section("Composition, % by mass", Part::Table(rows));
        if follows {
            page = page.with(Part::Text(FOLLOWS.to_string()));
        }
        page = page.section("Contained in an ingredient, % of it", Part::Table(self.contained_rows()));
        if let Some(lot) = self.lot() {
            page = page.section(&format!("Certificate of lot {}", lot.id()), Part::Table(lot.facts()));
            page = page.section("What it changes", Part::Table(self.changes()));
        }
        let mut levels = Table::new(&[
            ("product use", Alignment::Left),
            ("% as supplied", Alignment::Right),
            ("source", Alignment::Left),
        ]);
        for level in self.use_levels() {
            levels.push([level.product_use.clone(), range(Some(level.low), Some(level.high)), level.source.clone()]);
        }
        page = page.section("Recommended use levels", Part::Table(levels));
        page.section("Source", Part::Text(self.source().to_string()))
    }

    fn facts(&self) -> Table {
        let mut table = Table::new(&[("what", Alignment::Left), ("value", Alignment::Left)]);
        let mut say = |what: &str, value: String| table.push([what.to_string(), value]);
        // Who says so is told below, unless it is somebody else.
        let by = |source: &str| if source == self.source() { String::new() } else { format!(" ({source})") };
        say("id", self.id().to_string());
        if !self.aliases().is_empty() {
            say("also called", self.aliases().join("; "));
        }
        say("class", self.main_class().to_string());
        say("form", self.form().to_string());
        say("usual phase", self.phase().to_string());
        let convention = self.active_convention().map(|convention| format!(" ({convention})")).unwrap_or_default();
        say("active matter", percent(self.active().map(|active| active.percent().clone())) + &convention);
        say("water", percent(self.typical_percent(crate::substance::Substance::is_water)));
        if let Some(bound) = self.bound_water() {
            say("bound water", format!("{bound} % besides"));
        }
        let ph =
            self.ph_range().map(|range| format!("stable from {} to {}{}", range.low, range.high, by(&range.source)));
        say("pH", ph.unwrap_or_else(|| "no range stated".to_string()));
        let mut number = |what: &str, value: Option<Decimal>, unit: &str| {
            value.into_iter().for_each(|value| say(what, format!("{value} {unit}")))
        };
        number("density", self.density(), "g/mL");
        number("melting point", self.melting_point(), "°C");
        number("work it at most at", self.highest_process_temperature(), "°C");
        for attribute in Attribute::ALL {
            let statement = self.attribute(*attribute);
            let said = statement.map(|it| format!("{}{}", if it.value { "yes" } else { "no" }, by(&it.source)));
            say(attribute.slug(), said.unwrap_or_else(|| "not known".to_string()));
        }
        if let Some((share, source)) = self.attributes().natural_origin() {
            say("natural origin", format!("{share} %{}", by(source)));
        }
        if let Some(share) = self.scent_reported_above() {
            say("scent constituents", format!("all listed from {share} % on"));
        }
        if !self.remainder_may_hold().is_empty() {
            say(
                "remainder may hold",
                self.remainder_may_hold().iter().map(ToString::to_string).collect::<Vec<_>>().join(", "),
            );
        }
        table
    }

    /// The ingredients, those of a premix by part, and whether an end follows from the others.
    fn ingredients(&self) -> (Table, bool) {
        let columns = ["ingredient", "typical", "range", "declared", "class", "charge"];
        let mut table =
            Table::new(&columns.map(|name| {
                (name, if matches!(name, "typical" | "range") { Alignment::Right } else { Alignment::Left })
            }));
        let mut follows = false;
        for row in self.composition().constituents() {
            let (low, high) = (row.low(), row.high());
            let derived = low != row.stated_low() || high != row.stated_high();
            follows |= derived;
            let substance = row.substance();
            table.push([
                substance.inci().to_string(),
                row.share().map_or_else(|| "not stated".to_string(), |share| share.to_string()),
                range(low, high) + if derived { "*" } else { "" },
                row.declaration().to_string(),
                substance.class().to_string(),
                if substance.is_unspecified() { String::new() } else { substance.charge().in_words() },
            ]);
        }
        (table, follows)
    }

    fn contained_rows(&self) -> Table {
        let columns = [
            ("substance", Alignment::Left),
            ("of", Alignment::Left),
            ("typical", Alignment::Right),
            ("range", Alignment::Right),
            ("source", Alignment::Left),
        ];
        let mut table = Table::new(&columns);
        for part in self.contained() {
            let typical = part.share().map_or_else(|| "not stated".to_string(), |share| share.to_string());
            table.push([
                part.substance().inci().to_string(),
                part.of().to_string(),
                typical,
                range(part.low(), part.high()),
                part.source().to_string(),
            ]);
        }
        table
    }

    fn changes(&self) -> Table {
        let mut table = Table::new(&[
            ("ingredient", Alignment::Left),
            ("typical", Alignment::Right),
            ("lot", Alignment::Right),
            ("", Alignment::Left),
        ]);
        for change in self.certificate_changes() {
            let mut notes = Vec::new();
            notes.extend(change.takes_difference.then_some("takes the difference"));
            notes.extend(change.outside_range.then_some("outside the stated range"));
            table.push([
                change.constituent.clone(),
                change.typical.to_string(),
                change.lot.to_string(),
                notes.join(", "),
            ]);
        }
        table
    }
}

impl Lot {
    /// Its page: what its certificate of analysis states.
    ///
    /// ```
    /// use tenside::material::{Certificate, Lot};
    /// use tenside::number::Ppm;
    /// let lot = Lot::new("W-27", "capb-30", Certificate { salt: Some(Ppm::from_percent("5.2")?), ..Certificate::default() })?;
    /// assert!(lot.page().text(80).contains("5.2 %"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn page(&self) -> Page {
        Page::new(&format!("Lot {} of {}", self.id(), self.material())).with(Part::Table(self.facts()))
    }

    fn facts(&self) -> Table {
        let certificate = self.certificate();
        let mut table = Table::new(&[("certificate", Alignment::Left), ("value", Alignment::Left)]);
        let mut say = |what: &str, value: Option<String>| {
            value.into_iter().for_each(|value| table.push([what.to_string(), value]))
        };
        let active = |active: &StatedActive| {
            let mass = active.molar_mass.map(|mass| format!(", calculated with {mass} g/mol")).unwrap_or_default();
            format!("{} % ({}{mass})", active.percent, active.method)
        };
        let share = |share: Option<Ppm>| share.map(|share| format!("{share} %"));
        say("active matter", certificate.active.as_ref().map(active));
        say("solids", share(certificate.solids));
        say("loss on drying", share(certificate.loss_on_drying));
        say("salt", share(certificate.salt));
        say("free fatty acid", share(certificate.free_fatty_acid));
        say("pH", certificate.ph.map(|ph| ph.to_string()));
        say("to be tested again by", certificate.retest.map(|date| date.to_string()));
        if table.rows.is_empty() {
            table.push(["nothing is stated", ""]);
        }
        table
    }
}

fn percent(value: Result<Exact, Error>) -> String {
    value.map_or_else(|_| "not known: bounds only".to_string(), |value| format!("{value} %"))
}

/// From the lowest to the highest, as far as they are known.
fn range(low: Option<Ppm>, high: Option<Ppm>) -> String {
    match (low, high) {
        (Some(low), Some(high)) => format!("{low} to {high}"),
        (Some(low), None) => format!("from {low}"),
        (None, Some(high)) => format!("up to {high}"),
        (None, None) => "not stated".to_string(),
    }
}
