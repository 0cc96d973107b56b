//! A record as a page, with blanks where something is to be written.

use super::super::sheet::{STANDING, advice, draft};
use super::{BatchRecord, Decision};
use crate::batch::shown::brief;
use crate::document::Named;
use crate::formula::Phase;
use crate::number::Exact;
use crate::render::{Alignment, Page, Part, Table};

const BLANK: &str = "________";
const BOX: &str = "\u{2610}";

impl BatchRecord {
    /// The record to print and fill, or as it was filled.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut page = Page::new(&format!("Batch record: {}", self.batch().formula().title()));
        if let Some(draft) = draft(self.batch()) {
            page = page.mark(&format!("DRAFT. {draft}"));
        }
        let notes: Vec<String> = self.notes().into_iter().map(|note| note.sentence).collect();
        let cautions = advice(self.batch()).iter().map(ToString::to_string).collect();
        page.with(Part::List(self.facts()))
            .section("Before you start", Part::List(cautions))
            .with(Part::Text(STANDING.to_string()))
            .section("Raw materials", Part::Table(self.materials()))
            .section("Steps", Part::Table(self.step_table()))
            .section("Tests", Part::Table(self.test_table()))
            .section("Where the mass went", Part::Table(self.balance_table()))
            .section("What went another way", Part::List(self.deviations().to_vec()))
            .section("To know about this record", Part::List(notes))
            .section("Release", Part::Table(self.release_table()))
    }

    fn facts(&self) -> Vec<String> {
        let batch = self.batch();
        let or_blank = |value: Option<String>| value.unwrap_or_else(|| BLANK.to_string());
        let equipment = if self.equipment().is_empty() { BLANK.to_string() } else { self.equipment().join(", ") };
        vec![
            format!("Batch number: {}", or_blank(batch.number().map(str::to_string))),
            format!("Date: {}", or_blank(batch.date().map(|date| date.to_string()))),
            format!("To weigh: {} in all ({})", brief(batch.weighed(), batch.scales().unit()), batch.size()),
            format!("Made by: {}", or_blank(self.maker().map(str::to_string))),
            format!("Equipment: {equipment}; clean before use: {BOX}"),
        ]
    }

    fn materials(&self) -> Table {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let mut table = Table::new(&[
            ("done", left),
            ("phase", left),
            ("material", left),
            ("lot", left),
            ("to weigh", right),
            ("weighed", right),
            ("% of line", right),
        ]);
        let unit = self.batch().scales().unit();
        // In working order, phase by phase.
        let formula = self.made().map_or_else(|| self.batch().formula(), super::super::Made::formula);
        let of_phase = |phase: &Phase| {
            let name = phase.name().to_string();
            self.lines().iter().filter(move |line| line.phase() == name)
        };
        for line in formula.phases().iter().flat_map(of_phase) {
            let planned = self.batch().weighings().iter().find(|weighing| weighing.line().name() == line.name());
            let made = self.made().and_then(|made| made.lines().iter().find(|made| made.line().name() == line.name()));
            if planned.is_none() && made.is_none_or(|made| made.mass().grams().is_zero()) {
                continue;
            }
            let lot = line.material().lot().map_or_else(|| BLANK.to_string(), |lot| lot.id().to_string());
            let weighed = match made {
                Some(made) if made.is_stated() => brief(made.mass(), unit),
                Some(made) if made.deviation_of_batch().is_zero() => {
                    format!("{} (as planned)", brief(made.mass(), unit))
                }
                Some(made) => format!("{} (as planned, less water)", brief(made.mass(), unit)),
                None => BLANK.to_string(),
            };
            let name = if line.name() == line.material().id() {
                line.material().name().to_string()
            } else {
                format!("{} ({})", line.name(), line.material().name())
            };
            table.push([
                if made.is_some() { String::new() } else { BOX.to_string() },
                line.phase().to_string(),
                name,
                lot,
                planned.map_or_else(|| "not planned".to_string(), |weighing| brief(weighing.rounded(), unit)),
                weighed,
                made.and_then(|made| made.deviation_percent())
                    .map_or_else(String::new, |percent: Exact| percent.rounded_text(2)),
            ]);
        }
        table
    }

    fn step_table(&self) -> Table {
        let left = Alignment::Left;
        let mut table = Table::new(&[
            ("done", left),
            ("", Alignment::Right),
            ("step", left),
            ("look at", left),
            ("time, by", left),
        ]);
        for (place, step) in self.steps().iter().enumerate() {
            let caution = step.caution().map_or_else(String::new, |caution| format!(" {caution}"));
            let check = step.check().unwrap_or_default().to_string();
            table.push([
                BOX.to_string(),
                (place + 1).to_string(),
                format!("{}{caution}", step.sentence()),
                check,
                BLANK.to_string(),
            ]);
        }
        table
    }

    fn test_table(&self) -> Table {
        let left = Alignment::Left;
        let mut table = Table::new(&[("test", left), ("limits", left), ("read", Alignment::Right), ("", left)]);
        for result in self.results() {
            let values: Vec<String> = result.values.iter().map(ToString::to_string).collect();
            let read = if values.is_empty() { BLANK.to_string() } else { values.join(", ") };
            table.push([result.test, result.limits, read, result.outcome.slug().replace('-', " ")]);
        }
        table
    }

    fn balance_table(&self) -> Table {
        self.made().map_or_else(
            || Table::new(&[("", Alignment::Left), ("mass", Alignment::Right)]),
            super::super::Made::balance_table,
        )
    }

    fn release_table(&self) -> Table {
        let mut table = Table::new(&[("decision", Alignment::Left), ("by", Alignment::Left), ("on", Alignment::Left)]);
        match self.release() {
            Some(release) => {
                table.push([release.decision.slug().replace('-', " "), release.by.clone(), release.on.to_string()])
            }
            None => {
                let words: Vec<String> = Decision::ALL
                    .iter()
                    .map(|decision| format!("{BOX} {}", decision.slug().replace('-', " ")))
                    .collect();
                table.push([words.join("  "), BLANK.to_string(), BLANK.to_string()]);
            }
        }
        table
    }
}
