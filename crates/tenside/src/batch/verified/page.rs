//! What scales say, as a page.

use super::{Fits, Weighable};
use crate::render::{Alignment, Page, Part, Table};

impl Weighable {
    /// Each line with its scale on one page, and the dilutions.
    #[must_use]
    pub fn page(&self) -> Page {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let mut table =
            Table::new(&[("line", left), ("mass, g", right), ("scale", left), ("error, g", right), ("", left)]);
        let mut dilutions = Vec::new();
        for row in self.rows() {
            let answer = match (row.fits, &row.least) {
                (Fits::Weighable, _) => "weighable".to_string(),
                (Fits::TooLarge, _) => "above the largest load: weigh in parts".to_string(),
                (_, Some(least)) => format!("too small: at least {} g", least.grams().rounded_text(3)),
                (_, None) => "no load is weighed so well".to_string(),
            };
            let error = row.error.as_ref().map_or_else(String::new, |error| error.grams().to_string());
            table.push([
                row.line.clone(),
                row.mass.grams().rounded_text(3),
                row.scale.clone().unwrap_or_default(),
                error,
                answer,
            ]);
            if let Some(dilution) = &row.dilution {
                dilutions.push(format!(
                    "{}: weigh {} and {} of a line of its phase that it goes into (1+{}), mix, and take {} g of that; \
                     that line gets so much less",
                    row.line,
                    dilution.material,
                    dilution.carrier,
                    dilution.parts,
                    dilution.portion.grams().rounded_text(3)
                ));
            }
        }
        Page::new(&format!("Weighable within {} %", self.tolerance().normalize()))
            .with(Part::Table(table))
            .section("To dilute first", Part::List(dilutions))
            .section("To know about these", Part::List(self.notes()))
            .section("Where classes and errors come from", Part::List(vec![self.source().to_string()]))
    }
}
