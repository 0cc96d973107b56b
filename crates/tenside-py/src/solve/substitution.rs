//! One raw material in place of another.

use indexmap::IndexMap;
use pyo3::prelude::*;

use crate::convert::failure::Outcome;
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::formula::difference::Difference;
use crate::material::catalogue::Catalogue;
use crate::material::{AMaterial, Material};
use crate::measure::{Measure, Measures};

record! {
    "tenside.solve",
    /// A measure that was to be kept.
    Kept of &tenside::solve::Kept, |kept| {
        /// The measure.
        measure: Measure = Measure(kept.measure.clone()),
        /// Its unit.
        unit: String = kept.unit.clone(),
        /// Its value before.
        before: Fraction = Fraction(kept.before.clone()),
        /// Its value in the new formula.
        after: Fraction = Fraction(kept.after.clone()),
        /// True if the exact solution keeps it; the grid formula then departs by less than rounding to 0.0001 % can.
        is_exact: bool = kept.is_exact,
    }
}

record! {
    "tenside.solve",
    /// A line at another percentage.
    LineChange of &tenside::solve::LineChange, |change| {
        /// The line.
        line: String = change.line.clone(),
        /// Percent before.
        before: Fraction = Fraction(change.before.clone()),
        /// Percent after.
        after: Fraction = Fraction(change.after.clone()),
    }
}

/// A formula with one raw material replaced; a table in a notebook. What is kept is equal in composition, not in foam
/// or feel.
///
/// >>> cat = td.Catalogue.starter()
/// >>> bar = td.Formula("Bar", {"sci-powder": 40, "stearic-acid": 20, "kaolin": 40}, cat)
/// >>> noodles = bar.substitute("sci-powder", "sci-noodles", keep=[td.measure.active_matter, td.measure.class_("fatty-acid")])
/// >>> noodles.is_exact, noodles.after.percentages["stearic-acid"] < 20
/// (True, True)
#[pyclass(frozen, eq, from_py_object, module = "tenside.solve")]
#[derive(Clone, PartialEq)]
pub(crate) struct Substitution(pub(crate) tenside::solve::Substitution);

shown!(Substitution, |it| it.0.page());
value!(Substitution, |it| it.sentence());

document!(Substitution, |it| &it.0);

getters!(Substitution {
    /// The formula before.
    before: Formula = |it| Formula(it.before().clone());
    /// The new formula: the exact one, or the nearest where a measure cannot be kept.
    after: Formula = |it| Formula(it.after().clone());
    /// The line whose raw material is replaced, as it was called before.
    line: String = |it| it.line().to_string();
    /// What the line of the new raw material is called.
    new_line: String = |it| it.new_line().to_string();
    /// The new raw material.
    replacement: Outcome<Material> = |it| Ok(Material(it.replacement()?.clone()));
    /// True if every measure is kept exactly, before rounding to 0.0001 %.
    is_exact: bool = |it| it.is_exact();
    /// The sum of the departures of the kept measures at the exact percentages, each in parts of its value before (of one
    /// unit where that was 0): the least there is, but where a ratio is kept beside other measures the least that was
    /// found.
    total_departure: Fraction = |it| Fraction(it.total_departure().clone());
    /// Exact percent by line of the new formula.
    exact: IndexMap<String, Fraction> = |it| {
        it.after().lines().iter().zip(it.exact()).map(|(line, percent)| (line.name().to_string(), Fraction(percent.clone()))).collect()
    };
    /// The kept measures, before and after.
    kept: Rows<Kept> = |it| it.kept().iter().map(Kept::from).collect();
    /// Percent of the new raw material that brings what the line brought of the first kept measure; it can be
    /// above 100.
    needed: Option<Fraction> = |it| it.needed().cloned().map(Fraction);
    /// The lines that stay as they are (fixed, or dosed with care) and would have to give for the measures to be kept.
    would_have_to_give: Rows<LineChange> = |it| it.would_have_to_give().iter().map(LineChange::from).collect();
    /// The other lines that change.
    changes: Rows<LineChange> = |it| it.changes().iter().map(LineChange::from).collect();
    /// The sum of the changes of the other lines, in percent points.
    disturbance: Fraction = |it| Fraction(it.disturbance());
    /// One sentence: what becomes of the line, and what cannot be kept.
    sentence: String = |it| it.sentence();
});

row!(Substitution {
    line: String = |it| it.line(),
    new_line: String = |it| it.new_line(),
    is_exact: bool = |it| it.is_exact(),
    total_departure: Fraction = |it| it.total_departure(),
    needed: Option<Fraction> = |it| it.needed(),
    disturbance: Fraction = |it| it.disturbance(),
    sentence: String = |it| it.sentence(),
});

#[pymethods]
impl Substitution {
    /// The two formulas side by side.
    fn difference(&self, py: Python<'_>) -> Outcome<Difference> {
        Ok(py.detach(|| Difference::new(&self.before(), &self.after()))?)
    }

    /// Checks the certificates and the new formula without the solver: True, or Contradiction is raised.
    fn verify(&self, py: Python<'_>) -> Outcome<bool> {
        py.detach(|| self.0.verify())?;
        Ok(true)
    }

    /// The kept measures and the lines, before and after.
    fn page(&self) -> Page {
        Page(self.0.page())
    }

    #[allow(clippy::type_complexity, reason = "what Python calls")]
    fn __reduce__<'py>(
        &self,
        py: Python<'py>,
    ) -> Outcome<(Bound<'py, PyAny>, (Formula, String, Material, Vec<Measure>))> {
        let keep = self.0.kept().iter().map(|kept| Measure(kept.measure.clone())).collect();
        Ok((py.get_type::<Formula>().getattr("substitute")?, (self.before(), self.line(), self.replacement()?, keep)))
    }

    fn __repr__(&self) -> String {
        format!("<Substitution: {}>", self.0.sentence())
    }
}

#[pymethods]
impl Formula {
    /// Replaces the raw material of a line by another, keeping these measures exactly where that is possible, else as
    /// nearly as it is; the other lines change least. Of what a ratio divides by, a thousandth at least stays. A name is
    /// looked up in the catalogue, in the starter catalogue where none is given. `replacement` is a raw material or its
    /// name.
    ///
    /// >>> wash = td.Formula("Wash", {"capb-30": 20, "glycerin-99-5": 5, "water": 75}, td.Catalogue.starter())
    /// >>> substitution = wash.substitute("capb-30", "coco-glucoside-50", keep=[td.measure.active_matter])
    /// >>> substitution.after.percentages["coco-glucoside-50"], substitution.is_exact
    /// (Decimal('11.7647'), True)
    /// >>> print(wash.substitute("water", "glycerin-99-5", keep=td.measure.water).sentence.split(";")[0])
    /// it cannot be done exactly
    #[pyo3(signature = (line, replacement, keep, catalogue=None))]
    fn substitute(
        &self,
        py: Python<'_>,
        line: &str,
        replacement: AMaterial,
        keep: Measures,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Substitution> {
        let replacement = replacement.find(&Catalogue::or_starter(catalogue).0)?;
        Ok(Substitution(watched(py, None, |watch| self.0.substitute_watched(line, &replacement, &keep.0, watch))?))
    }
}
