//! A substance on a page.

use super::{Charge, MolarMass, Substance};
use crate::document::Named;
use crate::render::{Alignment, Page, Part, Table};
use crate::substance::Attribute;

impl Charge {
    /// In words, with its unit: `-1 per molecule`, `not known`.
    #[must_use]
    pub fn in_words(&self) -> String {
        match self {
            Charge::Neutral => "none".to_string(),
            Charge::PerMole(value) => format!("{value:+} per molecule"),
            Charge::PerGram(value) => format!("{value:+} mmol/g"),
            Charge::PhDependent => "depends on the pH".to_string(),
            Charge::Unknown => "not known".to_string(),
        }
    }
}

fn molar_mass(mass: &MolarMass) -> String {
    let range = mass
        .chain()
        .and_then(|chain| chain.range)
        .map(|(low, high)| format!(", mixtures from {low} to {high}"))
        .unwrap_or_default();
    let chains = mass.chain().map(|chain| format!(" (chains: {})", chain.basis)).unwrap_or_default();
    format!("{} g/mol{range}{chains}", mass.typical())
}

impl Substance {
    /// Its page: names, numbers, class, charge, what is stated of it and by whom.
    ///
    /// ```
    /// use tenside::substance::SubstanceTable;
    /// let page = SubstanceTable::starter().named("7647-14-5")?.page();
    /// assert!(page.text(80).starts_with("SODIUM CHLORIDE\n"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn page(&self) -> Page {
        let mut table = Table::new(&[("what", Alignment::Left), ("value", Alignment::Left)]);
        let mut say = |what: &str, value: String| table.push([what.to_string(), value]);
        if self.label_eu() != self.inci() {
            say("on labels of the EU", self.label_eu().to_string());
        }
        if self.label_us() != self.inci() {
            say("on labels of the US", self.label_us().to_string());
        }
        let numbers: Vec<&str> = self.cas().iter().map(super::Cas::as_str).collect();
        say("CAS number", if numbers.is_empty() { "not stated".to_string() } else { numbers.join(", ") });
        say("class", self.class().to_string());
        say(
            "active matter",
            if self.counts_as_active() { "counts as active" } else { "does not count as active" }.to_string(),
        );
        say("charge", self.charge().in_words());
        say("molar mass", self.molar_mass().map_or_else(|| "not known".to_string(), molar_mass));
        if let Some(formula) = self.formula() {
            say("formula", formula.to_string());
        }
        if !self.pka().is_empty() {
            say("pKa", self.pka().iter().map(ToString::to_string).collect::<Vec<_>>().join(", "));
        }
        say("on drying", self.volatility().about().to_lowercase().trim_end_matches('.').to_string());
        // Who says so is told below, unless it is somebody else.
        let by = |source: &str| if source == self.source() { String::new() } else { format!(" ({source})") };
        for attribute in Attribute::ALL {
            let said = self
                .attributes()
                .get(*attribute)
                .map(|it| format!("{}{}", if it.value { "yes" } else { "no" }, by(&it.source)));
            say(attribute.slug(), said.unwrap_or_else(|| "not known".to_string()));
        }
        if let Some((share, source)) = self.attributes().natural_origin() {
            say("natural origin", format!("{share} %{}", by(source)));
        }
        if let Some(entry) = self.annex_iii_entry() {
            say("EU, Annex III", format!("entry {entry}: declared as a fragrance constituent above its threshold"));
        }
        say("source", self.source().to_string());
        Page::new(self.inci()).with(Part::Table(table))
    }
}
