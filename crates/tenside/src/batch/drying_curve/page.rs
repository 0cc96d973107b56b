//! A drying curve as a page.

use super::DryingCurve;
use crate::render::{Alignment, Page, Part, Table, so_many};

impl DryingCurve {
    /// Rate and final weights on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let mut table = Table::new(&[
            ("bar", Alignment::Left),
            ("weigh-ins", right),
            ("final weight, g", right),
            ("loss, %", right),
        ]);
        for (bar, weighed) in self.bars().iter().zip(self.weigh_ins()) {
            table.push([
                bar.name.clone(),
                weighed.weigh_ins.len().to_string(),
                format!("{:.3} ± {:.3}", bar.plateau, bar.plateau_error),
                format!("{:.2} ± {:.2}", bar.loss, bar.loss_error),
            ]);
        }
        let ((rate, rate_error), (half, half_error), (loss, loss_error)) = (self.rate(), self.half_time(), self.loss());
        let said = format!(
            "Rate {rate:.4} ± {rate_error:.4} a day: half of what is left to dry leaves in {half:.2} ± \
             {half_error:.2} days. Loss from the first weigh-in on {loss:.2} ± {loss_error:.2} %. A weigh-in lies \
             about {:.3} g from the curve; {}. Behind ± stand standard errors.",
            self.residual_deviation(),
            so_many(self.degrees_of_freedom(), "degree of freedom", "degrees of freedom")
        );
        Page::new("Drying")
            .with(Part::Text(said))
            .with(Part::Table(table))
            .section("To know about these", Part::List(self.notes()))
    }
}
