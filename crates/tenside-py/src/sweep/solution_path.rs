//! The answers of a brief as one of its numbers moves, and how far that number goes.

use std::sync::{Mutex, MutexGuard, PoisonError};

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::sweep::Varied;

use crate::brief::Brief;
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::Number;
use crate::convert::output::Fraction;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::solve::answer::Answer;
use crate::solve::outcome::Tried;
use crate::sweep::axis::{ASubject, Subject};

record! {
    "tenside.solve",
    /// One number of a brief and the range in which the recipe keeps its structure.
    ParameterRange of &tenside::solve::ParameterRange, |range| {
        /// The number, spelt as for `axis`: "wash.capb-30".
        what: String = spelling(&range.parameter),
        /// Its value.
        value: Fraction = Fraction(range.value.clone()),
        /// The lowest value; None if there is no lowest.
        low: Option<Fraction> = range.from.clone().map(Fraction),
        /// The highest value; None if there is no highest.
        high: Option<Fraction> = range.to.clone().map(Fraction),
        /// All of it in one sentence.
        sentence: String = range.sentence(),
    }
}

record! {
    "tenside.brief",
    /// A critical region of a solution path: a stretch in which the recipe keeps its structure.
    PathRegion of tenside::solve::PathRegion, |region| {
        /// Where it begins.
        low: Fraction = Fraction(region.from),
        /// Where it ends.
        high: Fraction = Fraction(region.to),
        /// True if the brief has a formula there.
        answered: bool = region.is_answered,
    }
}

/// The answers of a brief as one of its numbers moves; `Brief.solution_path` makes it.
///
/// Between two values of the number the structure of the recipe often stays: such a critical region is worked out once,
/// exactly; every further point in it is a few operations per line. Every point is the same as from cold. Pickling it
/// keeps the brief and the number.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
/// >>> path = brief.between("cetyl-alcohol", 3, 6).target(td.measure.active_matter, 50).minimise(td.measure.water).solution_path("wash.capb-30")
/// >>> [round(path.percents(part)["capb-30"], 4) for part in (1, 2, 3)]
/// [11.1111, 20.8333, 29.4118]
/// >>> path
/// <SolutionPath "wash.capb-30" of "Wash">
#[pyclass(frozen, module = "tenside.brief")]
pub(crate) struct SolutionPath(Mutex<tenside::solve::SolutionPath>);

impl SolutionPath {
    /// A panic while it was held leaves at worst a region that is not known yet.
    fn held(&self) -> MutexGuard<'_, tenside::solve::SolutionPath> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn spelling(&self) -> String {
        spelling(self.held().parameter())
    }
}

fn spelling(parameter: &tenside::brief::Parameter) -> String {
    Varied::Parameter(parameter.clone()).spelling()
}

#[pymethods]
impl SolutionPath {
    /// The brief, the number where it was.
    #[getter]
    fn brief(&self, py: Python<'_>) -> Brief {
        Brief(py.detach(|| self.held().brief().clone()))
    }

    /// The number, spelt as for `axis`.
    #[getter]
    fn what(&self, py: Python<'_>) -> String {
        py.detach(|| self.spelling())
    }

    /// Percent by line of the one canonical answer where the number is `value`, each the float nearest to the exact
    /// solution; None if no formula meets the brief there.
    fn percents(&self, py: Python<'_>, value: Number) -> Outcome<Option<IndexMap<String, f64>>> {
        py.detach(|| {
            let mut path = self.held();
            let Some(percents) = path.percents(&value.0)? else { return Ok(None) };
            let names = path.brief().lines().iter().map(|line| line.name().to_string());
            Ok(Some(names.zip(percents).collect()))
        })
    }

    /// The critical regions of the path between two values of the number, in order: in each of them the recipe keeps
    /// its structure, and where two meet, lines and limits change their roles. Raises Unsupported if several numbers of
    /// the linear program move with it. From `low` to `high`.
    ///
    /// >>> m = td.measure
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).between("capb-30", 0, 50).between("sci-powder", 0, 10).qs("water")
    /// >>> path = brief.target(m.active_matter, 5).minimise(m.material("sci-powder")).solution_path(m.active_matter)
    /// >>> [(float(region.high), region.answered) for region in path.regions(1, 30)]
    /// [(15.0, True), (23.4, True), (30.0, False)]
    fn regions(&self, py: Python<'_>, low: Number, high: Number) -> Outcome<Rows<PathRegion>> {
        let regions = watched(py, None, |watch| {
            let (brief, parameter) = {
                let path = self.held();
                (path.brief().clone(), path.parameter().clone())
            };
            brief.watched_by(watch).solution_path(&parameter)?.regions(&low.0, &high.0)
        })?;
        Ok(regions.into_iter().map(PathRegion::from).collect())
    }

    /// The Answer or the Conflict where the number is `value`: exact solution, proof and grid formula; solved from
    /// cold.
    fn solve(&self, py: Python<'_>, value: Number) -> Outcome<Tried> {
        let solved = watched(py, None, |watch| {
            let turned = {
                let path = self.held();
                path.brief().with_parameter(path.parameter(), &value.0)?
            };
            turned.watched_by(watch).try_solve()
        })?;
        Ok(Tried::from(solved))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Brief, String))> {
        Ok((py.get_type::<Brief>().getattr("solution_path")?, (self.brief(py), self.what(py))))
    }

    fn __repr__(&self, py: Python<'_>) -> String {
        py.detach(|| format!("<SolutionPath {:?} of {:?}>", self.spelling(), self.held().brief().title()))
    }
}

#[pymethods]
impl Brief {
    /// The value of one number of the brief, named as for `axis`.
    /// `what` is its word.
    ///
    /// >>> td.Brief("Bar", td.Catalogue.starter()).between("cetyl-alcohol", 3, 6).parameter_value("highest.cetyl-alcohol")
    /// Fraction(6, 1)
    #[pyo3(signature = (what: "str | Measure"))]
    fn parameter_value(&self, what: ASubject<'_>) -> Outcome<Fraction> {
        Ok(Fraction(self.0.parameter_value(&Subject::from(what).of(&self.0)?.into_parameter()?)?))
    }

    /// The brief with one number of it, named as for `axis`, at another value.
    /// `what` is its word.
    ///
    /// >>> brief = td.Brief("Bar", td.Catalogue.starter()).fix("panthenol", 1.5).qs("kaolin").at_most(td.measure.water, 9)
    /// >>> brief.with_parameter("panthenol", 2).with_parameter(td.measure.water, 8).requirements[0].name
    /// 'water at most 8 %'
    #[pyo3(signature = (what: "str | Measure", value))]
    fn with_parameter(&self, what: ASubject<'_>, value: Number) -> Outcome<Self> {
        Ok(Brief(self.0.with_parameter(&Subject::from(what).of(&self.0)?.into_parameter()?, &value.0)?))
    }

    /// The answers of the brief as one of its numbers, named as for `axis`, moves.
    /// `what` is its word.
    #[pyo3(signature = (what: "str | Measure"))]
    fn solution_path(&self, py: Python<'_>, what: ASubject<'_>) -> Outcome<SolutionPath> {
        let subject = Subject::from(what);
        Ok(SolutionPath(Mutex::new(
            py.detach(|| Ok::<_, Failure>(self.0.solution_path(&subject.of(&self.0)?.into_parameter()?)?))?,
        )))
    }
}

#[pymethods]
impl Answer {
    /// From where to where one number of the brief, named as for `axis`, can go while the recipe keeps its structure:
    /// the same requirements bind, the same lines stand at their ends. The ends are exact, and no further than the
    /// number may go. None if several rows of the linear program move with the number, and if the answer stands just
    /// where two structures meet. `what` is its word.
    ///
    /// >>> brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 10).between("corn-starch", 0, 30)
    /// >>> brief = brief.split({"kaolin": 1, "corn-starch": 1}, by="weight", name="powders").qs("water").minimise(td.measure.water)
    /// >>> brief.solve().parameter_range("powders.corn-starch").sentence
    /// 'part of corn-starch in split powders at 1: the same structure up to 3.0000'
    #[pyo3(signature = (what: "str | Measure"))]
    fn parameter_range(&self, py: Python<'_>, what: ASubject<'_>) -> Outcome<Option<ParameterRange>> {
        let parameter = Subject::from(what).of(self.0.brief())?.into_parameter()?;
        let range = watched(py, None, |watch| self.0.clone().watched_by(watch).parameter_range(&parameter))?;
        Ok(range.as_ref().map(ParameterRange::from))
    }

    /// The range of every part of every split that has one: how far the ratios can go while the recipe keeps its
    /// structure.
    ///
    /// >>> brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 10).between("corn-starch", 0, 30)
    /// >>> brief = brief.split({"kaolin": 1, "corn-starch": 1}, by="weight", name="powders").qs("water").minimise(td.measure.water)
    /// >>> [(range.what, range.high) for range in brief.solve().ratio_ranges()]
    /// [('powders.kaolin', None), ('powders.corn-starch', Fraction(3, 1))]
    fn ratio_ranges(&self, py: Python<'_>) -> Outcome<Rows<ParameterRange>> {
        Ok(watched(py, None, |watch| self.0.clone().watched_by(watch).ratio_ranges())?
            .iter()
            .map(ParameterRange::from)
            .collect())
    }
}
