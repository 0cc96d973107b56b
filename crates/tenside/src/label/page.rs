//! A label's content as a page.

use super::rules::rules;
use super::{ItemClass, Label, LabelItem, Market, NetContent, NetQuantity, ScentAnswer, ScentRow};
use crate::material::{DRAFT, NO_SCENT_IN_REMAINDERS};
use crate::number::{Exact, Interval, Ppm};
use crate::render::{Alignment, Page, Part, Table};
use crate::rule::RuleBook;

/// What a label that rests on starter values is marked with.
/// What a label with open questions is marked with.
const OPEN: &str = "DRAFT: the questions below keep it one.";
/// What a page ends with.
const NO_OPINION: &str = "This is arithmetic on what was stated, not a legal opinion. Whoever is responsible for the \
                          product checks the rules in force, the suppliers' documents and the assessment by a \
                          qualified safety assessor.";

impl Label {
    /// Everything on one page: the list, what each position rests on, scent constituents, net content, questions, what
    /// else is needed.
    #[must_use]
    pub fn page(&self) -> Page {
        let request = &self.request;
        let rule = rules(request.market);
        let mut page = Page::new(&format!("{}: label, {}", self.title(), request.market));
        if self.rests_on_starter {
            page = page.mark(DRAFT);
        }
        if self.questions.iter().any(|question| question.keeps_draft) {
            page = page.mark(OPEN);
        }
        let facts = format!("{} on {}, {}.", request.placing, request.on, request.contact);
        page = page.with(Part::Text(facts)).section(&rule.heading, Part::Text(self.ingredients()));
        if let Some(sold) = self.ingredients_as_sold() {
            page = page.section("In the order of the product as sold", Part::Text(sold));
        }
        let questions = self.questions.iter().map(|question| question.sentence.clone()).collect();
        page = page
            .section("To settle", Part::List(questions))
            .section("What the list rests on, % as charged", Part::Table(self.item_table()));
        page = page.section("Not listed", Part::List(self.unlisted()));
        page = self.with_scent(page);
        if let Some(net) = self.net() {
            let rounded = net.is_rounded().then(|| format!("rounded down from {}", net.content()));
            let said = std::iter::once(net.text().to_string()).chain(rounded).chain(shortfall(net));
            page = page.section("Net content", Part::List(said.collect()));
        }
        let checks = self.checks.iter().map(|check| format!("{} ({})", check.text, check.source)).collect();
        page = page
            .section("What else the label needs", Part::List(checks))
            .section("Where the rules come from", Part::List(self.sources()));
        page.with(Part::Text(NO_OPINION.to_string()))
    }

    fn item_table(&self) -> Table {
        let mut table = Table::new(&[
            ("name", Alignment::Left),
            ("%", Alignment::Right),
            ("order", Alignment::Left),
            ("position", Alignment::Left),
            ("from", Alignment::Left),
        ]);
        for item in &self.items {
            let percent = item.percent().text(4);
            let from = item.entry.map_or_else(|| item.lines.join(", "), |entry| format!("contained; entry {entry}"));
            table.push([item.name.clone(), percent, class_words(item.class).to_string(), position_words(item), from]);
        }
        table
    }

    fn unlisted(&self) -> Vec<String> {
        let shown = |percent: &Interval| format!("{} %", percent.text(4));
        let mut said: Vec<String> = self
            .left_out
            .iter()
            .map(|row| format!("{}, {}: not declared by the suppliers", row.inci, shown(&row.percent())))
            .collect();
        if self.nameless != Interval::point(Exact::ZERO) {
            said.push(format!("{} without a name", shown(&self.nameless)));
        }
        said
    }

    fn with_scent(&self, page: Page) -> Page {
        let Some(threshold) = self.scent.threshold else {
            return page.section(
                "Scent constituents",
                Part::Text(format!("Naming them one by one: {}. {}.", self.scent.state, self.scent.source)),
            );
        };
        let mut table = Table::new(&[
            ("scent constituent", Alignment::Left),
            ("% as charged", Alignment::Right),
            ("% as judged", Alignment::Right),
            ("answer", Alignment::Left),
            ("from", Alignment::Left),
        ]);
        // In a column of its own this made the table too wide for paper.
        let mut kept_off = Vec::new();
        for row in self.scent.rows.iter().filter(|row| row.required) {
            let name = format!("{} ({})", row.entry.name(), row.entry.number());
            let judged =
                self.scent.percent_as_judged(row).map_or_else(|| "not known".to_string(), |percent| percent.text(5));
            let charged = row.percent().text(5);
            table.push([name, charged, judged, row.answer.to_string(), row.materials.join(", ")]);
            kept_off.extend((!row.keeps_off.is_empty()).then(|| format!("{}: {}", row.entry.name(), keeps_off(row))));
        }
        let count = |answer| self.scent.count(answer);
        let mut said = vec![
            format!(
                "above {} % is named; at {} % exactly it is not; judged {}",
                threshold.percent(),
                threshold.percent(),
                self.scent.basis()
            ),
            format!(
                "of all entries {} certain, {} possible, {} below, {} unknown",
                count(ScentAnswer::Certain),
                count(ScentAnswer::Possible),
                count(ScentAnswer::Below),
                count(ScentAnswer::Unknown)
            ),
        ];
        if self.nameless != Interval::point(Exact::ZERO) {
            said.push(NO_SCENT_IN_REMAINDERS.to_string());
        }
        if let Some(until) = self.scent.newer_until.filter(|_| !self.scent.newer_required) {
            let waiting: Vec<&str> = self
                .scent
                .rows
                .iter()
                .filter(|row| !row.required && row.answer <= ScentAnswer::Possible)
                .map(|row| row.entry.name())
                .collect();
            said.push(format!(
                "entries that came in 2023 need not be named until {until} ({})",
                if waiting.is_empty() { "none is known here".to_string() } else { waiting.join(", ") }
            ));
        }
        let page = page.section("Scent constituents", Part::List(said));
        let page = page.section("Scent constituents that are known to be in it", Part::Table(table));
        page.section("What keeps them off: the most of each, ppm as charged", Part::List(kept_off))
    }

    fn sources(&self) -> Vec<String> {
        let rule = rules(self.request.market);
        let mut sources = vec![format!("list: {}", rule.list_source), format!("scent: {}", rule.scent.source)];
        if self.request.market == Market::Us && self.items.iter().any(|item| item.class == ItemClass::Colour) {
            let list = RuleBook::starter().lists().iter().find(|list| list.id() == "us-colours");
            sources.extend(list.map(|list| format!("colours: {}", list.heading())));
        }
        sources.extend(self.net.as_ref().map(|net| format!("net content: {}", net.shortfall_source())));
        sources.extend(
            self.request
                .declarations
                .iter()
                .map(|declaration| format!("scent in {}: {}", declaration.material(), declaration.source())),
        );
        sources
    }
}

/// What is tolerated of a net content; of a mass outside the table nothing is said.
fn shortfall(net: &NetContent) -> Option<String> {
    match (net.content(), net.tolerated_shortfall()) {
        (NetQuantity::Mass(_), grams) => grams.map(|grams| {
            format!(
                "a single package may fall short by {grams} g, the mean of the lot by nothing; a bar goes on drying \
                 in the shop"
            )
        }),
        (NetQuantity::Volume(_), Some(millilitres)) => Some(format!(
            "a single package may fall short by {millilitres} ml at 20 °C, the mean of the lot by nothing"
        )),
        (NetQuantity::Volume(_), None) => {
            Some("by how much a single package may fall short is not known here".to_string())
        }
    }
}

fn class_words(class: ItemClass) -> &'static str {
    match class {
        ItemClass::Ordered => "descending",
        ItemClass::Free => "free",
        ItemClass::Colour => "colour, last",
    }
}

fn position_words(item: &LabelItem) -> String {
    if item.is_certain { "certain".to_string() } else { "not certain".to_string() }
}

/// The most of each raw material, one after the other.
fn keeps_off(row: &ScentRow) -> String {
    let most = |most: Option<Ppm>| {
        most.map_or_else(
            || "the others exceed it".to_string(),
            |ppm| format!("{} ({} %)", ppm.parts(), Exact::from(ppm.decimal_percent())),
        )
    };
    let words = row.keeps_off.iter().map(|keeps| {
        let note = if keeps.typical_only { ", by what is not stated to its end" } else { "" };
        format!("{}: {}{note}", keeps.material, most(keeps.most))
    });
    words.collect::<Vec<_>>().join("; ")
}
