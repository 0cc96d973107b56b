//! An exposure as a page.

use super::Exposure;
use super::table::guidance;
use crate::material::DRAFT;
use crate::number::Interval;
use crate::render::{Alignment, Page, Part, Table};

impl Exposure {
    /// The numbers with what they rest on.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut page = Page::new(&format!("{}: exposure to {}", self.formula.title(), self.substance));
        if self.rests_on_starter {
            page = page.mark(DRAFT);
        }
        let mut table = Table::new(&[("", Alignment::Left), ("value", Alignment::Right), ("unit", Alignment::Left)]);
        let mut row = |name: &str, value: String, unit: &str| table.push([name.to_string(), value, unit.to_string()]);
        row(&format!("share, {}", self.share.basis), self.percent.text(4), "%");
        row("product that stays, E", self.product_exposure().rounded_text(2), "mg/kg/day");
        row("through the skin", self.absorption().to_string(), "%");
        row("systemic exposure dose, SED", self.dose.text(6), "mg/kg/day");
        if let Some(reference) = self.reference_dose() {
            row("dose without adverse effect, systemic", reference.rounded_text(3), "mg/kg/day");
        }
        if let Some(margin) = &self.margin {
            row("margin of safety, MoS", margin_text(margin), "");
        }
        let sources = vec![guidance().document.clone(), guidance().source.clone()];
        page.with(Part::Table(table))
            .section("To know about these", Part::List(self.notes()))
            .section("Where the numbers come from", Part::List(sources))
    }
}

/// Rounded down, the typical value too: never more of a margin than there is.
fn margin_text(margin: &Interval) -> String {
    let typical = margin.typical.as_ref().map_or_else(|| "not known".to_string(), |typical| typical.floor_text(0));
    match &margin.low {
        Some(low) if Some(low) != margin.typical.as_ref() => format!("{typical} (at least {})", low.floor_text(0)),
        Some(_) => typical,
        None => format!("{typical} (typical only)"),
    }
}
