//! A batch as made as a page.

use super::Made;
use crate::batch::outside_range;
use crate::batch::shown::brief;
use crate::number::{Exact, Mass};
use crate::render::{Alignment, Page, Part, Table};

/// Of a line of which nobody said what was weighed.
const AS_PLANNED: &str = "not stated";
const LESS_WATER: &str = "less water that left";

impl Made {
    /// The lines beside the plan, where the mass went, and what the numbers rest on.
    #[must_use]
    pub fn page(&self) -> Page {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let mut lines = Table::new(&[
            ("line", left),
            ("planned g", right),
            ("made g", right),
            ("off, % of line", right),
            ("off, % of batch", right),
            ("share %", right),
            ("", left),
        ]);
        let signed = |value: &Exact| {
            if value.is_positive() { format!("+{}", value.rounded_text(2)) } else { value.rounded_text(2) }
        };
        for line in self.lines() {
            let planned = line.planned().map_or_else(|| "not planned".to_string(), |mass| mass.grams().rounded_text(2));
            lines.push([
                line.line().name().to_string(),
                planned,
                line.mass().grams().rounded_text(2),
                line.deviation_percent().as_ref().map_or_else(String::new, signed),
                signed(line.deviation_of_batch()),
                line.percent().text(2),
                match line.is_stated() {
                    true => String::new(),
                    false if line.deviation_of_batch().is_zero() => AS_PLANNED.to_string(),
                    false => LESS_WATER.to_string(),
                },
            ]);
        }
        let mut notes = vec![
            "The share of each line reaches as far as the scales could have meant: half a division for every weighing."
                .to_string(),
        ];
        if self.lines().iter().any(|line| !line.is_stated()) {
            notes.push("A line of which nothing is stated counts as planned.".to_string());
        }
        if self.balance().boiled_off.grams().is_positive() {
            notes.push("What left the bowl is counted as water, and taken from the lines of water.".to_string());
        }
        let used = self.formula().lines().iter().filter(|line| !line.percent().is_zero());
        notes.extend(used.flat_map(outside_range).map(|(_, sentence)| sentence));
        let title = format!(
            "{}{}, as made",
            self.formula().title(),
            self.batch().number().map_or_else(String::new, |number| format!(", batch {number}"))
        );
        Page::new(&title)
            .with(Part::Table(lines))
            .section("Where the mass went", Part::Table(self.balance_table()))
            .section("To know about these", Part::List(notes))
    }

    /// Where the mass went.
    pub(in crate::batch) fn balance_table(&self) -> Table {
        let unit = self.batch().scales().unit();
        let balance = self.balance();
        let mut masses = Table::new(&[("", Alignment::Left), ("mass", Alignment::Right)]);
        let mut row = |name: &str, mass: &Mass| masses.push([name.to_string(), brief(mass, unit)]);
        row("weighed in", &balance.weighed);
        row("added beyond the plan", &balance.added);
        row("water that left", &balance.boiled_off);
        row("in the bowl before pressing", &balance.in_bowl);
        row("trim not returned", &balance.trim);
        row("rejected", &balance.rejected);
        match (&balance.pressed, &balance.unaccounted) {
            (Some(pressed), Some(rest)) => {
                row("bars as pressed", pressed);
                let percent = balance
                    .unaccounted_percent()
                    .map_or_else(String::new, |percent| format!(" ({} % of the bowl)", percent.rounded_text(2)));
                masses.push(["not accounted for".to_string(), format!("{} g{percent}", rest.rounded_text(2))]);
            }
            _ => masses.push([
                "bars as pressed".to_string(),
                "not weighed, so nothing is said of what is missing".to_string(),
            ]),
        }
        masses
    }
}
