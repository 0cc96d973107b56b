//! Mixed micelles as pages.

use super::{MicelleInteraction, MixedMicelles};
use crate::error::Error;
use crate::render::{Alignment, Page, Part, Table, so_many};
use crate::trial::model::digits;

impl MixedMicelles {
    /// The surfactants and their first micelles on one page.
    ///
    /// # Errors
    /// As for [`cmc`](Self::cmc).
    pub fn page(&self) -> Result<Page, Error> {
        let right = Alignment::Right;
        let columns = [
            ("surfactant", Alignment::Left),
            ("mol %", right),
            ("alone, mmol/L", right),
            ("in first micelles, mol %", right),
            ("activity coefficient", right),
        ];
        let mut table = Table::new(&columns);
        for surfactant in self.surfactants()? {
            table.push([
                surfactant.name.clone(),
                digits(100.0 * surfactant.share),
                digits(surfactant.cmc),
                digits(100.0 * surfactant.in_micelles),
                digits(surfactant.activity),
            ]);
        }
        let said = format!(
            "Micelles form from {} mmol/L of all surfactants on; if they mixed ideally, from {} mmol/L. The equations \
             hold to {:.0e} of each.",
            digits(self.cmc()?),
            digits(self.ideal_cmc()),
            self.error()?
        );
        Ok(Page::new("Mixed micelles")
            .with(Part::Text(said))
            .with(Part::Table(table))
            .section("To know about these", Part::List(self.notes())))
    }
}

impl MicelleInteraction {
    /// The parameter and its mixtures on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let columns = [
            ("first, mol %", right),
            ("measured, mmol/L", right),
            ("fitted, mmol/L", right),
            ("in first micelles, mol %", right),
            ("parameter alone", right),
        ];
        let mut table = Table::new(&columns);
        for pair in &self.pairs {
            let alone = pair.alone.map_or_else(|| "none".to_string(), digits);
            table.push([
                digits(100.0 * pair.share),
                digits(pair.measured),
                digits(pair.fitted),
                digits(100.0 * pair.in_micelles),
                alone,
            ]);
        }
        let said = match (self.error, self.deviation) {
            (Some(error), Some(deviation)) => format!(
                "Interaction parameter {} ± {} (standard error, {}); measured concentrations lie \
                 about {:.2} % from the fitted ones.",
                digits(self.parameter),
                digits(error),
                so_many(self.pairs.len() - 1, "degree of freedom", "degrees of freedom"),
                100.0 * deviation
            ),
            _ => format!("Interaction parameter {}, from one mixture, which tells no error.", digits(self.parameter)),
        };
        Page::new("Interaction of two surfactants").with(Part::Text(said)).with(Part::Table(table))
    }
}
