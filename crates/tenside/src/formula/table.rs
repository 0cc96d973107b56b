//! Formulas, their constituents and differences as tables. Two decimals and the interval; the full numbers are the values' own.

use super::{Difference, DifferenceRow, Expanded, Formula};
use crate::number::{Exact, Ppm};
use crate::render::{Alignment, Table};

/// What a formula resting on starter values is marked with.
const DRAFT: &str = "DRAFT: rests on typical values of the starter catalogue";

impl Formula {
    /// The lines by phase, as supplied.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::Ppm;
    /// let clay = Line::new("kaolin", Catalogue::starter().material("kaolin")?.clone(), Ppm::WHOLE)?;
    /// let text = Formula::new("Clay alone", vec![clay])?.table().text(80);
    /// assert!(text.contains("100.00") && text.contains("DRAFT"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn table(&self) -> Table {
        let mut table = Table::new(&[(self.title(), Alignment::Left), ("raw material", Alignment::Left), ("% as supplied", Alignment::Right)]);
        for phase in self.phases() {
            let heading = phase.temperature().map_or_else(|| format!("phase {}", phase.name()), |at| format!("phase {}, {at} °C", phase.name()));
            table.push([heading]);
            for line in self.lines().iter().filter(|line| line.phase() == phase.name()) {
                table.push([line.name().to_string(), line.material().to_string(), line.percent().percent().rounded_text(2)]);
            }
        }
        let mark = if self.is_draft() { DRAFT } else { "" };
        table.footer.push(vec!["all".to_string(), mark.to_string(), Ppm::WHOLE.percent().rounded_text(2)]);
        table
    }
}

impl Expanded {
    /// Constituents as charged, in the order given.
    #[must_use]
    pub fn table(rows: &[Expanded]) -> Table {
        let mut table =
            Table::new(&[("constituent", Alignment::Left), ("% as charged", Alignment::Right), ("from", Alignment::Left), ("declared", Alignment::Left)]);
        for row in rows {
            let percent = row.percent.as_ref().map_or_else(|| "not known".to_string(), |percent| percent.text(2));
            table.push([row.substance.inci().to_string(), percent, row.lines.join(", "), row.declaration.to_string()]);
        }
        table
    }
}

impl Difference {
    /// The lines side by side, then the constituents.
    #[must_use]
    pub fn tables(&self) -> [Table; 2] {
        [self.side_by_side("line", &self.lines, |percent| percent.percent()), self.side_by_side("constituent", &self.constituents, Exact::clone)]
    }

    fn side_by_side<T>(&self, what: &str, rows: &[DifferenceRow<T>], percent: impl Fn(&T) -> Exact) -> Table {
        let columns = [(what, Alignment::Left), (self.before.as_str(), Alignment::Right), (self.after.as_str(), Alignment::Right)];
        let mut table = Table::new(&columns);
        table.headers.extend(["change".to_string(), String::new()]);
        table.alignments.push(Alignment::Right);
        for row in rows {
            let (before, after) = (row.before.as_ref().map(&percent), row.after.as_ref().map(&percent));
            let shown = |value: &Option<Exact>| value.as_ref().map_or_else(String::new, |value| value.rounded_text(2));
            let change = after.clone().unwrap_or_default() - before.clone().unwrap_or_default();
            let sign = if change.is_positive() { "+" } else { "" };
            let note = if row.changed_otherwise { "raw material, lot or phase changed" } else { "" };
            table.push([row.name.clone(), shown(&before), shown(&after), format!("{sign}{}", change.rounded_text(2)), note.to_string()]);
        }
        table
    }
}
