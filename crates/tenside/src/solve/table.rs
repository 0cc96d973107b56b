//! Answers and conflicts as tables.

use super::{Answer, Conflict};
use crate::measure::{Basis, Measured};
use crate::render::{Alignment, Table};

/// What every shown answer says: more is not proved.
const PROVED: &str = "arithmetic proved for the compositions given";

impl Answer {
    /// The grid formula or why there is none, its usual measures, what binds, and where the grid departs from the exact solution.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// let answer = Brief::new("Half", &Catalogue::starter())?.fix("sci-powder", 50)?.qs("kaolin")?.solve()?;
    /// let text: String = answer.tables().iter().map(|table| table.text(80)).collect();
    /// assert!(text.contains("arithmetic proved for the compositions given"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn tables(&self) -> Vec<Table> {
        let mut tables = Vec::new();
        match self.formula() {
            Ok(formula) => {
                let mut table = formula.table();
                table.footer.push(vec![PROVED.to_string()]);
                tables.push(table);
                tables.extend(formula.measures(&Basis::AsCharged).ok().map(|readings| Measured::table(&readings)));
            }
            Err(error) => {
                let mut table = Table::new(&[(self.brief().title(), Alignment::Left), ("exact %", Alignment::Right)]);
                for (line, exact) in self.brief().lines().iter().zip(self.exact()) {
                    table.push([line.name().to_string(), exact.rounded_text(2)]);
                }
                table.footer.extend([vec![error.to_string()], vec![PROVED.to_string()]]);
                tables.push(table);
            }
        }
        let mut binding = Table::new(&[("what binds", Alignment::Left), ("decisive", Alignment::Left)]);
        for row in self.binding() {
            binding.push([row.words, if row.decisive { "yes" } else { "no" }.to_string()]);
        }
        let mut departures =
            Table::new(&[("grid formula off by", Alignment::Left), ("departure", Alignment::Right), ("at most", Alignment::Right), ("unit", Alignment::Left)]);
        for row in self.departures() {
            departures.push([row.words.clone(), row.departure.rounded_text(6), row.bound.rounded_text(6), row.unit.clone()]);
        }
        tables.extend([binding, departures].into_iter().filter(|table| !table.rows.is_empty()));
        tables
    }
}

impl Conflict {
    /// What cannot hold together, each with its weight in the proof.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::solve::Outcome;
    /// let brief = Brief::new("Not full", &Catalogue::starter())?.fix("kaolin", 60)?;
    /// let Outcome::Conflict(conflict) = brief.try_solve()? else { panic!("60 % is not 100 %") };
    /// assert!(conflict.table().text(80).contains("line kaolin fixed at 60 %"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn table(&self) -> Table {
        let mut table = Table::new(&[("no formula meets these together", Alignment::Left), ("weight in the proof", Alignment::Right)]);
        for member in self.members() {
            table.push([member.words, member.multiplier.rounded_text(4)]);
        }
        table.footer.push(vec![self.sentence()]);
        table
    }
}
