//! A review laid out: the number of checks, the findings, what was not checked, what is not covered, the lists used.

use super::{Finding, Review};
use crate::document::Named;
use crate::material::DRAFT;
use crate::render::{Alignment, Page, Part, Table, so_many};
use crate::rule::{Product, RuleList, Search, Severity, Status, StatusKind};

const STANDING: &str = "This review compares numbers with the lists named. It is no approval and no legal advice, and \
                        it replaces no safety data sheet, no local rule and no assessment by a qualified person.";

impl Review {
    /// The review as a page.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut page = Page::new(&format!("Review: {}", self.title()));
        if self.is_draft() {
            page = page.mark(DRAFT);
        }
        page = page.with(Part::Text(product_line(self.product())));
        page = page.with(Part::Text(self.summary()));
        for severity in Severity::ALL {
            let of: Vec<&Finding> = self.findings().iter().filter(|finding| finding.severity() == *severity).collect();
            page = page.section(heading(*severity, of.len()), Part::Table(table(&of)));
        }
        page =
            page.section("What the law is known to say of each substance", Part::List(status_lines(&self.statuses())));
        page =
            page.section("Not checked", Part::List(self.unchecked().iter().map(super::Unchecked::sentence).collect()));
        page = page.section("Not covered", Part::List(self.not_covered().map(str::to_string).collect()));
        page = page.section(
            "Lists used",
            Part::List(self.lists().iter().map(|list| list_line(list, self.product())).collect()),
        );
        page.with(Part::Text(STANDING.to_string()))
    }
}

/// One line for each thing that is known, and one for what nobody looked up.
fn status_lines(statuses: &[Status]) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for kind in StatusKind::ALL {
        let names = names(statuses, |status| status.gravest() == Some(*kind));
        lines.extend((!names.is_empty()).then(|| format!("{kind}: {}", names.join(", "))));
    }
    for how in Search::ALL {
        let of = |status: &Status| {
            status.entries.is_empty() && status.searched.as_ref().is_some_and(|(known, ..)| known == how)
        };
        let found = names(statuses, of);
        lines.extend((!found.is_empty()).then(|| {
            format!(
                "none found {}, which is no clearance: {}",
                how.words(),
                so_many(found.len(), "substance", "substances")
            )
        }));
    }
    let unknown = names(statuses, Status::is_not_looked_up);
    lines.push(format!(
        "not looked up: {}",
        if unknown.is_empty() { "none".to_string() } else { format!("{} ({})", unknown.len(), unknown.join(", ")) }
    ));
    lines
}

fn names(statuses: &[Status], is: impl Fn(&Status) -> bool) -> Vec<&str> {
    statuses.iter().filter(|status| is(status)).map(|status| status.name.as_str()).collect()
}

fn heading(severity: Severity, count: usize) -> &'static str {
    match (severity, count) {
        (Severity::Error, 1) => "Beyond a published limit",
        (Severity::Error, _) => "Beyond published limits",
        (Severity::Warning, _) => "Beyond what is usual or known to hold",
        (Severity::Question, _) => "To find out",
        (Severity::Information, _) => "Worth knowing",
    }
}

fn table(findings: &[&Finding]) -> Table {
    let mut table =
        Table::new(&[("finding", Alignment::Left), ("certain?", Alignment::Left), ("what", Alignment::Left)]);
    for finding in findings {
        table.push([finding.slug(), finding.certainty().words(), &finding.sentence()]);
    }
    table
}

fn product_line(product: &Product) -> String {
    let uses: Vec<String> = product.uses().iter().map(ToString::to_string).collect();
    let mut text = format!("Market {}, used as {}, on {}", product.market(), uses.join(" and "), product.on());
    let mut add = |what: &str, value: Option<String>| {
        if let Some(value) = value {
            text += &format!("; {what}{value}");
        }
    };
    add("", product.placing().map(|placing| placing.to_string()));
    let form = match (product.stated_form(), product.form()) {
        (Some(form), _) => Some(form.to_string()),
        (None, Some(_)) => None,
        (None, None) => Some("solid or liquid not stated".to_string()),
    };
    add("", form);
    add("", product.reading().map(ToString::to_string));
    add("residual moisture ", product.moisture().map(|moisture| format!("{moisture} %")));
    add("kept ", product.storage().map(|storage| storage.to_string()));
    add("water activity ", product.water_activity().map(|activity| activity.to_string()));
    add("scent limit ", product.scent_limit().map(ToString::to_string));
    text + "."
}

fn list_line(list: &RuleList, product: &Product) -> String {
    let older = list.consolidated().filter(|text| *text < product.on());
    let since =
        older.map_or_else(String::new, |_| format!("; what changed from then to {} is not in it", product.on()));
    let note = list.note().map_or_else(String::new, |note| format!(". {note}"));
    format!("{}{since}{note}", list.heading())
}
