//! What a brief allows: as matrices, and a point of it as a formula.

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::type_hint_union;
use tenside::number::Exact;

use crate::brief::Brief;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{ByName, Number, Several, items};
use crate::convert::output::Fraction;
use crate::formula::Formula;

record! {
    "tenside.trial",
    /// What a brief allows as plain matrices, for any optimiser: `low <= x <= high` and `lower <= A x <= upper`, with x
    /// the percentages of the lines.
    BriefRegion of &tenside::trial::BriefRegion, |region| {
        /// The lines: what each column of A is.
        names: Vec<String> = region.names.clone(),
        /// The least percentage of each line.
        low: Vec<f64> = floats(&region.low),
        /// The greatest.
        high: Vec<f64> = floats(&region.high),
        /// A, row by row.
        matrix: Vec<Vec<f64>> = region.matrix.iter().map(|row| floats(row)).collect(),
        /// The least that each row may come to; minus infinity where it has no least.
        lower: Vec<f64> = ends(&region.row_low, f64::NEG_INFINITY),
        /// The most; infinity where it has none.
        upper: Vec<f64> = ends(&region.row_high, f64::INFINITY),
        /// What each row says, in the words of the brief.
        row_names: Vec<String> = region.row_names.clone(),
        /// The rows whose least is their most.
        equalities: Vec<usize> = region.equalities(),
        /// A with exact fractions.
        exact_matrix: Vec<Vec<Fraction>> =
            region.matrix.iter().map(|row| row.iter().cloned().map(Fraction).collect()).collect(),
        /// The least of each row, exactly; None where it has no least.
        exact_lower: Vec<Option<Fraction>> = fractions(&region.row_low),
        /// The most.
        exact_upper: Vec<Option<Fraction>> = fractions(&region.row_high),
    }
}

fn floats(values: &[Exact]) -> Vec<f64> {
    values.iter().map(Exact::to_f64).collect()
}

fn ends(ends: &[Option<Exact>], open: f64) -> Vec<f64> {
    ends.iter().map(|end| end.as_ref().map_or(open, Exact::to_f64)).collect()
}

fn fractions(ends: &[Option<Exact>]) -> Vec<Option<Fraction>> {
    ends.iter().map(|end| end.clone().map(Fraction)).collect()
}

/// A point of a brief: percentages by line, or in the order of the lines.
pub(crate) enum APoint {
    ByLine(Vec<(String, Exact)>),
    InOrder(Vec<Exact>),
}

impl<'a, 'py> FromPyObject<'a, 'py> for APoint {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(ByName::INPUT_TYPE, Several::<Number>::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if items(&object).is_ok() {
            return Ok(APoint::ByLine(
                ByName::extract(object)?.0.into_iter().map(|(name, number)| (name, number.0)).collect(),
            ));
        }
        Ok(APoint::InOrder(Several::<Number>::extract(object)?.0.into_iter().map(|number| number.0).collect()))
    }
}

#[pymethods]
impl Brief {
    /// The formula nearest to a `point`, on the grid: a corner, a sample, `Answer.exact`. `point` is the percentage of
    /// every line, by name or in the order of the lines.
    ///
    /// It is rounded as `solve` rounds: ranges and one-sided requirements hold exactly, splits and targets may be
    /// missed by what one part per million of the lines does. A point may lie outside by what half of that does, as
    /// samples in floats do.
    ///
    /// Raises OutOfRange for a point further outside, with every line and requirement that it does not meet.
    ///
    /// >>> brief = td.Brief("Powders", td.Catalogue.starter()).free("kaolin").free("corn-starch").qs("sci-powder")
    /// >>> third = brief.formula_at({"kaolin": "100/3", "corn-starch": "100/3", "sci-powder": "100/3"})
    /// >>> third.line("sci-powder").percent
    /// Decimal('33.3334')
    /// >>> [brief.formula_at(corner).title for corner in brief.corners().formulas]
    /// ['Powders', 'Powders', 'Powders']
    fn formula_at(&self, py: Python<'_>, point: APoint) -> Outcome<Formula> {
        Ok(Formula(py.detach(|| match point {
            APoint::ByLine(percents) => self.0.formula_at_lines(percents),
            APoint::InOrder(percents) => self.0.formula_at(&percents),
        })?))
    }

    /// What the brief allows, whatever its objective, as plain matrices.
    ///
    /// >>> brief = td.Brief("Bar", td.Catalogue.starter()).between("sci-powder", 30, 70).qs("kaolin").at_most(td.measure.water, 9)
    /// >>> region = brief.region()
    /// >>> region.names, region.row_names[0], region.equalities
    /// (['sci-powder', 'kaolin'], 'the lines sum to 100 %', [0])
    fn region(&self) -> Outcome<BriefRegion> {
        Ok(BriefRegion::from(&self.0.region()?))
    }
}

/// Numbers by name, for a record.
pub(crate) fn by_name<'a>(
    names: impl Iterator<Item = &'a str>,
    values: impl Iterator<Item = Exact>,
) -> IndexMap<String, Fraction> {
    names.map(String::from).zip(values.map(Fraction)).collect()
}
