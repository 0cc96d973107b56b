//! What a formula contains, constituent by constituent.

use pyo3::prelude::*;
use tenside::formula::Expanded;
use tenside::material::Declaration;

use crate::convert::interval::Interval;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;
record! {
    "tenside.formula",
    /// One constituent of a formula as charged.
    ExpandedRow of &Expanded, |row| {
        /// INCI name.
        inci: String = row.substance.inci().to_string(),
        /// Percent of the formula.
        percent: Interval = Interval(row.percent.clone()),
        /// The lines that bring it.
        lines: Vec<String> = row.lines.clone(),
        /// "declared", "not-declared" or "ask".
        declaration: Word<Declaration> = Word(row.declaration),
    }
}

#[pymethods]
impl Formula {
    /// The constituents as charged, largest first, with their intervals; a table in a notebook.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    /// >>> [row.inci for row in clay.expand()]
    /// ['KAOLIN']
    fn expand(&self, py: Python<'_>) -> Rows<ExpandedRow> {
        let rows = py.detach(|| self.0.expand());
        let formula = self.0.clone();
        rows.iter()
            .map(ExpandedRow::from)
            .collect::<Rows<_>>()
            .shown(move || formula.constituent_page(&tenside::measure::Basis::AsCharged))
    }
}
