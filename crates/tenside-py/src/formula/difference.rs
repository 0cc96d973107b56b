//! Two formulas side by side.

use pyo3::prelude::*;
use tenside::formula::DifferenceRow;
use tenside::render;

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::output::Fraction;
use crate::convert::table::Rows;
use crate::formula::Formula;

record! {
    "tenside.formula",
    /// One row: percent in both formulas.
    DifferenceLine of &DifferenceRow, |row| {
        /// What is compared.
        name: String = row.name.clone(),
        /// In the first; None if it does not have it, or it is not known how much.
        before: Option<Fraction> = row.before.known().cloned().map(Fraction),
        /// In the second; None if it does not have it, or it is not known how much.
        after: Option<Fraction> = row.after.known().cloned().map(Fraction),
        /// By how much the second has more; None if one side is not known.
        change: Option<Fraction> = row.change().map(Fraction),
        /// True if the raw material, its lot or its phase changed too.
        changed_otherwise: bool = row.changed_otherwise,
    }
}

/// What differs between two formulas; a table in a notebook.
///
/// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
/// >>> clay.difference(clay.with_title("Later")).after
/// 'Later'
#[pyclass(frozen, eq, module = "tenside.formula")]
#[derive(Clone, PartialEq)]
pub(crate) struct Difference(tenside::formula::Difference, render::Page, [Formula; 2]);

shown!(Difference, |it| it.1);
value!(Difference, |it| (&it.before, &it.after));

impl Difference {
    pub(crate) fn new(before: &Formula, after: &Formula) -> Result<Self, tenside::Error> {
        Ok(Difference(
            before.0.difference(&after.0),
            before.0.difference_page(&after.0)?,
            [before.clone(), after.clone()],
        ))
    }
}

arrow!(Difference, |it, _py| batch_of(it.lines())?);

document!(Difference, |it| &it.0);

getters!(Difference {
    /// Title of the first.
    before: String = |it| it.before.clone();
    /// Title of the second.
    after: String = |it| it.after.clone();
    /// Every line of either.
    lines: Rows<DifferenceLine> = |it| rows(&it.lines);
    /// Every constituent of either, as charged, typical values; those that differ most first.
    constituents: Rows<DifferenceLine> = |it| rows(&it.constituents);
});

#[pymethods]
impl Difference {
    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Formula, Formula))> {
        let [before, after] = self.2.clone();
        Ok((py.get_type::<Formula>().getattr("difference")?, (before, after)))
    }

    fn __repr__(&self) -> String {
        format!("<Difference of {:?} and {:?}>", self.0.before, self.0.after)
    }
}

#[pymethods]
impl Formula {
    /// This formula and a later one, side by side.
    ///
    /// >>> cat = td.Catalogue.starter()
    /// >>> first = td.Formula("First", {"sci-powder": 60, "kaolin": 40}, cat)
    /// >>> second = td.Formula("Second", {"sci-powder": 55, "corn-starch": 45}, cat)
    /// >>> [(row.name, row.before, row.after) for row in first.difference(second).lines][0]
    /// ('sci-powder', Fraction(60, 1), Fraction(55, 1))
    fn difference(&self, py: Python<'_>, after: &Self) -> Outcome<Difference> {
        Ok(py.detach(|| Difference::new(self, after))?)
    }
}

fn rows(rows: &[DifferenceRow]) -> Rows<DifferenceLine> {
    rows.iter().map(DifferenceLine::from).collect()
}
