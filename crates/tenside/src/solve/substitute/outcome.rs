//! What a substitution came to: read, shown, checked.

use std::sync::Arc;

use tenside_lp::{Outcome, verify};

use super::{EQUAL_IN, Kept, LineChange, Substitution};
use crate::error::Error;
use crate::formula::{Difference, Formula, Line};
use crate::material::Material;
use crate::measure::Basis;
use crate::number::{Exact, Ppm};
use crate::render::{Alignment, Page, Part, Table};
use crate::solve::proof::fails;

getters!(Substitution {
    /// The formula before.
    before: &Formula,
    /// The line whose raw material is replaced, as it was called before.
    line: &str,
    /// The new formula: the exact one, or the nearest where a measure cannot be kept.
    after: &Formula,
    /// The sum of the departures of the kept measures at the exact percentages, each in parts of its value before (of one
    /// unit where that was 0): the least there is, but where a ratio is kept beside other measures the least that was
    /// found.
    total_departure: &Exact,
    /// The exact percentages, in the order of the lines.
    exact: &[Exact],
    /// The kept measures, before and after.
    kept: &[Kept],
    /// What the line of the new raw material is called.
    new_line: &str,
    /// Percent of the new raw material that brings what the line brought of the first kept measure; it can be
    /// above 100.
    needed: Option<&Exact>,
    /// The lines that stay as they are (fixed, or dosed with care) and would have to give for the measures to be kept;
    /// empty where they are kept, and where no change of any line would do.
    would_have_to_give: &[LineChange],
});

impl Substitution {
    /// The new raw material.
    ///
    /// # Errors
    /// None for a valid substitution.
    pub fn replacement(&self) -> Result<&Arc<Material>, Error> {
        Ok(self.after.line(&self.new_line)?.material())
    }

    /// True where every measure is kept exactly (before rounding to 0.0001 %).
    #[must_use]
    pub fn is_exact(&self) -> bool {
        self.total_departure.is_zero()
    }

    /// The percentage of the line before, and of what stands in its place.
    pub(in crate::solve) fn percents(&self) -> [Ppm; 2] {
        [(&self.before, &self.line), (&self.after, &self.new_line)]
            .map(|(formula, name)| formula.line(name).map(Line::percent).unwrap_or_default())
    }

    /// The other lines that change.
    #[must_use]
    pub fn changes(&self) -> Vec<LineChange> {
        let pairs = self
            .before
            .lines()
            .iter()
            .zip(self.after.lines())
            .filter(|(before, after)| before.name() != self.line && before.percent() != after.percent());
        pairs
            .map(|(before, after)| LineChange {
                line: after.name().to_string(),
                before: before.percent().percent(),
                after: after.percent().percent(),
            })
            .collect()
    }

    /// The sum of the changes of the other lines, in percent points.
    #[must_use]
    pub fn disturbance(&self) -> Exact {
        self.changes().iter().map(|change| (&change.after - &change.before).abs()).sum()
    }

    /// The two formulas side by side.
    #[must_use]
    pub fn difference(&self) -> Difference {
        self.before.difference(&self.after)
    }

    /// One sentence: what becomes of the line, and what cannot be kept.
    #[must_use]
    pub fn sentence(&self) -> String {
        let [before, after] = self.percents();
        let mut sentence = format!("{before} % {} becomes {after} % {}", self.line, self.new_line);
        let emptied = self.emptied();
        if self.is_exact() {
            return format!("{sentence}; what was to be kept is kept ({EQUAL_IN}){emptied}");
        }
        let lost: Vec<String> = self
            .kept
            .iter()
            .filter(|kept| !kept.is_exact)
            .map(|kept| {
                format!(
                    "{} goes from {} to {} {}",
                    kept.measure.name(),
                    kept.before.rounded_text(2),
                    kept.after.rounded_text(2),
                    kept.unit
                )
            })
            .collect();
        sentence = format!("it cannot be done exactly; at the nearest {sentence}, and {}{emptied}", lost.join(", "));
        if let Some(needed) = self.needed.as_ref().filter(|needed| **needed > self.room) {
            sentence.push_str(&format!(
                "; it needs {} % and there is room for {} %",
                needed.rounded_text(2),
                self.room.rounded_text(2)
            ));
        }
        match self.would_have_to_give.as_slice() {
            [] => sentence.push_str("; no change of the other lines would do"),
            lines => {
                let gives = lines.iter().map(|change| {
                    format!(
                        "{} from {} to {} %",
                        change.line,
                        change.before.rounded_text(2),
                        change.after.rounded_text(2)
                    )
                });
                sentence.push_str(&format!("; these would have to give: {}", gives.collect::<Vec<_>>().join(", ")));
            }
        }
        sentence
    }

    /// The other lines of which nothing is left, which makes another product of the formula.
    fn emptied(&self) -> String {
        let changes = self.changes();
        let emptied = changes.iter().filter(|change| change.after.is_zero());
        let lines: Vec<String> =
            emptied.map(|change| format!("{} from {} %", change.line, change.before.rounded_text(2))).collect();
        if lines.is_empty() { String::new() } else { format!("; to nothing go {}", lines.join(", ")) }
    }

    /// The kept measures and the lines, before and after.
    #[must_use]
    pub fn page(&self) -> Page {
        let columns = [("", Alignment::Left), ("before", Alignment::Right), ("after", Alignment::Right)];
        let mut kept = Table::new(&columns);
        for row in &self.kept {
            kept.push([
                format!("{}, {}", row.measure.name(), row.unit),
                row.before.rounded_text(2),
                row.after.rounded_text(2),
            ]);
        }
        let mut lines = Table::new(&columns);
        for (before, after) in self.before.lines().iter().zip(self.after.lines()) {
            let name = if before.name() == after.name() {
                after.name().to_string()
            } else {
                format!("{}, then {}", before.name(), after.name())
            };
            lines.push([name, before.percent().percent().rounded_text(2), after.percent().percent().rounded_text(2)]);
        }
        let page = self.after.marked(Page::new(self.after.title()));
        page.with(Part::Text(format!("{}.", self.sentence())))
            .section("Kept", Part::Table(kept))
            .section("Lines, % w/w", Part::Table(lines))
            .with(Part::Text(format!("What is kept is {EQUAL_IN}.")))
    }

    /// Checks the certificates of the four stages, that phases and held lines are as before, and reads the kept
    /// measures off the new formula: what is kept exactly departs by no more than rounding each line to 0.0001 % can
    /// do.
    ///
    /// # Errors
    /// What does not hold.
    pub fn verify(&self) -> Result<(), Error> {
        let fails = |what: String| fails(what).within("substitution");
        for (program, optimum) in &self.stages {
            verify(program, &Outcome::Optimal(optimum.clone()))?;
        }
        for (before, after) in self.before.lines().iter().zip(self.after.lines()) {
            let held = before.is_fixed() || before.material().main_class().is_dosed_with_care();
            let moved = before.percent() != after.percent();
            if before.phase() != after.phase() || (held && moved && before.name() != self.line && !before.is_qs()) {
                return Err(fails(format!("line {:?} was to stay as it is", before.name())));
            }
        }
        // Every share is at most the whole, so a percentage point moves a percentage by at most one.
        let most = Exact::ratio(i64::try_from(self.after.lines().len()).unwrap_or(i64::MAX), 10_000);
        for kept in &self.kept {
            let value = self.after.measure(&kept.measure, &Basis::AsCharged)?.value.and_then(|value| value.typical);
            let far = kept.is_exact && kept.unit == "%" && (&kept.after - &kept.before).abs() > most;
            if value.as_ref() != Some(&kept.after) || far {
                return Err(fails(format!("{} is not what was reported", kept.measure.name())));
            }
        }
        Ok(())
    }
}
