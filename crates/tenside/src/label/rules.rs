//! What a market's label follows, read once from the embedded data; every value has its source there.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::sync::LazyLock;

use super::{Contact, Market, Placing};
use crate::document::{Notation, Reader, TableView};
use crate::number::{Date, Ppm};
use crate::rule::{RuleBook, StatusKind, Thresholds, Use};

/// The rules of one market.
pub(super) struct Rules {
    pub(super) heading: String,
    /// From this share on (see `boundary_is_ordered`) ingredients stand in descending order.
    pub(super) boundary: Ppm,
    pub(super) boundary_is_ordered: bool,
    pub(super) water_question: String,
    pub(super) list_source: String,
    pub(super) scent: ScentRule,
    pub(super) checks: Vec<Check>,
}

/// When scent constituents are named one by one.
pub(super) struct ScentRule {
    pub(super) state: String,
    in_force: bool,
    pub(super) applies_from: Date,
    newer_until: Option<(Date, Date)>,
    pub(super) source: String,
}

/// Something else that a label needs.
pub(super) struct Check {
    pub(super) slug: String,
    pub(super) text: String,
    pub(super) when: String,
    pub(super) source: String,
}

impl ScentRule {
    /// What must be exceeded; `None` if no rule is in force.
    pub(super) fn threshold(&self, contact: Contact) -> Option<Ppm> {
        let used = if contact == Contact::RinseOff { Use::RinseOff } else { Use::LeaveOn };
        self.in_force.then(|| Thresholds::starter().fragrance(used))
    }

    /// The last day on which the newer entries need not be named.
    pub(super) fn newer_until(&self, placing: Placing) -> Option<Date> {
        self.newer_until.map(|(placed, available)| if placing == Placing::Placed { placed } else { available })
    }
}

/// Names under which constituents of an entry are bought.
pub(super) struct Members {
    pub(super) number: u32,
    pub(super) names: Vec<String>,
}

static EU: LazyLock<Rules> =
    LazyLock::new(|| embedded("eu_rules.toml", include_str!("../../data/label/eu_rules.toml"), read_rules));
static US: LazyLock<Rules> =
    LazyLock::new(|| embedded("us_rules.toml", include_str!("../../data/label/us_rules.toml"), read_rules));
static MEMBERS: LazyLock<Vec<Members>> = LazyLock::new(|| {
    embedded("eu_scent_members.toml", include_str!("../../data/label/eu_scent_members.toml"), read_members)
});

/// The rules of a market.
pub(super) fn rules(market: Market) -> &'static Rules {
    match market {
        Market::Eu => &EU,
        Market::Us => &US,
    }
}

/// Whether a name stands for a color additive that is listed in the United States: the rules' list is the label's.
pub(super) fn is_us_colour(name: &str) -> bool {
    RuleBook::starter().status(Market::Us, name).entries.iter().any(|entry| entry.kind() == StatusKind::Colour)
}

pub(super) fn members() -> &'static [Members] {
    &MEMBERS
}

fn embedded<T>(file: &str, text: &str, read: fn(&TableView<'_>) -> Option<T>) -> T {
    // The embedded files are read by a test; a fault there is a fault of the build.
    Reader::read(text, Notation::Toml, read).unwrap_or_else(|error| panic!("{file}: {error}"))
}

fn read_rules(view: &TableView<'_>) -> Option<Rules> {
    view.version("label-rules/1");
    view.needed("source", |view| view.prose("source"))?;
    let checks = view.tables("check", |view| {
        Some(Check {
            slug: view.needed_slug("slug")?,
            text: needed_prose(view, "text")?,
            when: view.needed_slug("when")?,
            source: needed_prose(view, "source")?,
        })
    });
    let scent = view.needed("scent", |view| view.table("scent", read_scent))?;
    view.needed("list", |view| {
        view.table("list", |view| {
            Some(Rules {
                heading: view.needed_name("heading")?,
                boundary: view.needed("boundary", |view| view.ppm("boundary"))?,
                boundary_is_ordered: view.needed("boundary_is_ordered", |view| view.boolean("boundary_is_ordered"))?,
                water_question: needed_prose(view, "water_question")?,
                list_source: needed_prose(view, "source")?,
                scent,
                checks,
            })
        })
    })
}

fn read_scent(view: &TableView<'_>) -> Option<ScentRule> {
    let date = |key: &'static str| view.text(key).and_then(|text| view.accept(key, text.parse::<Date>()));
    Some(ScentRule {
        state: view.needed_name("state")?,
        in_force: view.needed("in_force", |view| view.boolean("in_force"))?,
        applies_from: view.needed("applies_from", |_| date("applies_from"))?,
        newer_until: date("newer_placed_until").zip(date("newer_available_until")),
        source: needed_prose(view, "source")?,
    })
}

fn needed_prose(view: &TableView<'_>, key: &'static str) -> Option<String> {
    view.needed(key, |view| view.prose(key))
}

fn read_members(view: &TableView<'_>) -> Option<Vec<Members>> {
    view.version("label-members/1");
    needed_prose(view, "source")?;
    Some(view.tables("entry", |view| {
        let names = view.texts("names").into_iter().map(str::to_string).collect();
        Some(Members { number: view.needed("number", |view| view.whole("number"))?, names })
    }))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_embedded_file_is_read() {
        for market in [Market::Eu, Market::Us] {
            assert!(rules(market).checks.len() >= 8);
            assert!(rules(market).checks.iter().all(|check| {
                ["always", "naked", "scalp-active", "by-volume", "not-by-volume"].contains(&check.when.as_str())
            }));
            assert_eq!(rules(market).boundary, Ppm::from_percent("1").unwrap());
        }
        assert!(
            is_us_colour("RED 40") && is_us_colour("CI 77891") && !is_us_colour("LEAD ACETATE") && members().len() > 30
        );
    }

    #[test]
    fn thresholds_and_transition_are_those_of_the_data() {
        let scent = &rules(Market::Eu).scent;
        assert_eq!(scent.threshold(Contact::RinseOff).map(Ppm::parts), Some(100));
        assert_eq!(scent.threshold(Contact::LeaveOn).map(Ppm::parts), Some(10));
        assert_eq!(scent.newer_until(Placing::Placed).unwrap().to_string(), "2026-07-31");
        assert_eq!(scent.newer_until(Placing::MadeAvailable).unwrap().to_string(), "2028-07-31");
        let pending = &rules(Market::Us).scent;
        assert_eq!((pending.threshold(Contact::LeaveOn), pending.newer_until(Placing::Placed)), (None, None));
    }
}
