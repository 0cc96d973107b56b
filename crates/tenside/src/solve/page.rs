//! An answer and a conflict shown.

use super::{Answer, Conflict, Side};
use crate::error::Error;
use crate::measure::Basis;
use crate::render::{Page, Part};

impl Answer {
    /// The grid formula with its measures on the given bases, what binds, where it departs from an equation, and what is proved.
    ///
    /// # Errors
    /// An answer without grid formula.
    pub fn page(&self, bases: &[Basis]) -> Result<Page, Error> {
        let page = self.formula()?.page(bases)?;
        let best = match (self.brief().objective(), self.objective()) {
            (Some(objective), Some(value)) => format!("Best for: {}, {}.", objective.words(), value.rounded_text(4)),
            _ => "No objective: nearest to the middle of the ranges.".to_string(),
        };
        let binding = self.binding().into_iter().map(|binding| {
            let side = match binding.side {
                Side::AtLowest => "at its lowest",
                Side::AtHighest => "at its highest",
                Side::Fixed => "met exactly",
            };
            format!("{}: {side}{}", binding.words, if binding.decisive { "" } else { " (not decisive)" })
        });
        let departures = self.departures().iter().map(|departure| {
            format!("{}: {} {} (at most {})", departure.words, departure.departure.rounded_text(6), departure.unit, departure.bound.rounded_text(6))
        });
        Ok(page
            .section("What holds it there", Part::List(binding.collect()))
            .section("Rounded to whole 0.0001 %, an equation departs by", Part::List(departures.collect()))
            .section("Proof", Part::Text(format!("{best} The arithmetic is proved for the compositions given; it says nothing of foam, feel or stability."))))
    }
}

impl Conflict {
    /// What cannot hold together.
    #[must_use]
    pub fn page(&self) -> Page {
        Page::new(&format!("{}: no formula", self.brief().title()))
            .with(Part::Text("No percentages meet these together:".to_string()))
            .with(Part::List(self.members().into_iter().map(|member| member.words).collect()))
            .section(
                "Proof",
                Part::Text(
                    "Proved exactly for the compositions given: a combination of these requirements asks for more than any lines inside their ranges can give."
                        .to_string(),
                ),
            )
    }
}
