//! A brief as a page.

use super::Brief;
use crate::material::{DRAFT, Material};
use crate::number::Exact;
use crate::render::{Alignment, Page, Part, Table};

impl Brief {
    /// What is asked: lines with what their percentages may be, splits, requirements and what is to be best.
    ///
    /// ```
    /// use tenside::prelude::*;
    /// let brief = Brief::new("Plain bar", &Catalogue::starter())?.between("sci-powder", 50, 60)?.qs("kaolin")?.at_least(Measure::active_matter(), 45)?;
    /// let text = brief.page().text(100);
    /// assert!(text.contains("between 50 and 60 %") && text.contains("- active matter at least 45 %"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn page(&self) -> Page {
        let per_kilogram = self.prices().map(|prices| format!("{} per kg", prices.currency()));
        let mut columns = vec![
            ("line", Alignment::Left),
            ("raw material", Alignment::Left),
            ("phase", Alignment::Left),
            ("% w/w", Alignment::Left),
        ];
        columns.extend(per_kilogram.as_deref().map(|heading| (heading, Alignment::Right)));
        let mut table = Table::new(&columns);
        for line in self.lines() {
            let mut row =
                vec![line.name().to_string(), said(line.material()), line.phase().to_string(), line.role().words()];
            row.extend(self.prices().map(|prices| {
                prices
                    .get(line.material().id())
                    .map_or_else(|| "not stated".to_string(), |price| Exact::from(price).to_string())
            }));
            table.push(row);
        }
        let splits = self.splits().iter().map(|split| split.words(&(0..split.parts().len()).collect::<Vec<_>>()));
        self.marked(Page::new(self.title()))
            .with(Part::Table(table))
            .section("Splits", Part::List(splits.collect()))
            .section("Requirements", Part::List(self.requirements().iter().map(super::Requirement::words).collect()))
            .section("Choices", Part::List(self.at_most_of.iter().map(super::AtMostOf::words).collect()))
            .section("To be best", Part::List(self.objective().map(super::Objective::words).into_iter().collect()))
    }

    /// A page about it, marked as a draft where one of its raw materials is of the starter catalogue.
    #[must_use]
    pub fn marked(&self, page: Page) -> Page {
        if self.lines().iter().any(|line| line.material().is_starter()) { page.mark(DRAFT) } else { page }
    }
}

fn said(material: &Material) -> String {
    material.lot().map_or_else(|| material.name().to_string(), |lot| format!("{}, lot {}", material.name(), lot.id()))
}
