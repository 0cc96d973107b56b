//! An answer and a conflict shown.

use super::{Answer, Conflict, Side};
use crate::error::Error;
use crate::measure::Basis;
use crate::render::{Alignment, Page, Part, Table};

impl Answer {
    /// The grid formula with its measures on the given bases (or the exact percentages, and why there is no grid formula), what binds,
    /// where it departs from an equation, and what is proved.
    ///
    /// # Errors
    /// None for a valid answer.
    pub fn page(&self, bases: &[Basis]) -> Result<Page, Error> {
        let page = match self.formula() {
            Ok(formula) => formula.page(bases)?,
            Err(refusal) => self.without_grid(&refusal),
        };
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

impl Answer {
    fn without_grid(&self, refusal: &Error) -> Page {
        let mut table = Table::new(&[("line", Alignment::Left), ("exact % w/w", Alignment::Right)]);
        for (line, percent) in self.brief().lines().iter().zip(self.exact()) {
            table.push([line.name().to_string(), percent.rounded_text(6)]);
        }
        Page::new(self.brief().title()).with(Part::Text(refusal.to_string())).with(Part::Table(table))
    }
}

impl Conflict {
    /// What cannot hold together, and what would help.
    ///
    /// # Errors
    /// None for a valid conflict.
    pub fn page(&self) -> Result<Page, Error> {
        let single: Vec<String> = self.relaxations()?.iter().flatten().map(|change| change.sentence()).collect();
        let together: Vec<String> = if single.is_empty() { self.least_changes()?.iter().map(|change| change.sentence()).collect() } else { Vec::new() };
        Ok(Page::new(&format!("{}: no formula", self.brief().title()))
            .with(Part::Text("No percentages meet these together; without any one of them the others can be met:".to_string()))
            .with(Part::List(self.members()))
            .section("Any one of these changes would do", Part::List(single))
            .section("No single change would do; these together would", Part::List(together))
            .section(
                "Proof",
                Part::Text(
                    "Proved exactly for the compositions given: a combination of these requirements asks for more than any lines inside their ranges can give."
                        .to_string(),
                ),
            ))
    }
}
