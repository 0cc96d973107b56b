//! A brief of which one number is turned, and how far that number goes.

use std::sync::{Mutex, MutexGuard, PoisonError};

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::sweep::Turned;

use crate::answer::Answer;
use crate::axis::{ASubject, Subject};
use crate::brief::{Brief, Tried};
use crate::failure::Outcome;
use crate::input::Number;
use crate::output::Fraction;
use crate::running::watched;

record! {
    /// One number of a brief and the range in which the recipe keeps its structure.
    DialRange {
        /// The number, spelt as for `axis`: "wash.capb-30".
        what: String,
        /// Its value.
        value: Fraction,
        /// The lowest value; None where there is no lowest.
        low: Option<Fraction>,
        /// The highest value; None where there is no highest.
        high: Option<Fraction>,
        /// All of it in one sentence.
        sentence: String,
    }
}

record! {
    /// How the points of a turned brief were proved.
    Ways {
        /// Stretches of values proved in floating point with bounds of its error.
        filtered: usize,
        /// Stretches of values proved exactly.
        exact: usize,
        /// Points solved by themselves.
        points: usize,
    }
}

/// A brief of which one number is turned and solved again from where it stands; `Brief.turning` makes it.
///
/// Between two values of the number the structure of the recipe often stays: such a stretch is proved once, every further point in it is a
/// multiplication and an addition a line. Every point is the same as from cold. Pickling it keeps the brief and the number, not the stretches.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
/// >>> turning = brief.between("cetyl-alcohol", 3, 6).target(td.measure.active_matter, 50).minimise(td.measure.water).turning("wash.capb-30")
/// >>> [round(turning.percents(part)["capb-30"], 4) for part in (1, 2, 3)]
/// [11.1111, 20.8333, 29.4118]
/// >>> turning
/// <Turning "wash.capb-30" of "Wash">
#[pyclass(frozen, module = "tenside")]
pub(crate) struct Turning(Mutex<tenside::solve::Turning>);

impl Turning {
    /// A panic while it was held leaves at worst a stretch that is not known yet.
    fn held(&self) -> MutexGuard<'_, tenside::solve::Turning> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn spelling(&self) -> String {
        spelling(self.held().dial())
    }
}

fn spelling(dial: &tenside::brief::Dial) -> String {
    Turned::Dial(dial.clone()).spelling()
}

fn dial_range(range: tenside::solve::DialRange) -> DialRange {
    DialRange {
        sentence: range.sentence(),
        what: spelling(&range.dial),
        value: Fraction(range.value),
        low: range.from.map(Fraction),
        high: range.to.map(Fraction),
    }
}

#[pymethods]
impl Turning {
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

    /// The proved stretch of values that the last point of `percents` lay in; None for a point that was solved by itself.
    #[getter]
    fn stretch(&self, py: Python<'_>) -> Option<(f64, f64)> {
        py.detach(|| self.held().stretch())
    }

    /// How the points so far were proved.
    #[getter]
    fn ways(&self, py: Python<'_>) -> Ways {
        let ways = py.detach(|| self.held().ways());
        Ways { filtered: ways.filtered, exact: ways.exact, points: ways.points }
    }

    /// Percent by line of the one canonical answer where the number is `value`, or None where no formula meets the brief. The structure is
    /// proved; the floats are within 1e-9 % of the exact solution (tested, not proved).
    fn percents(&self, py: Python<'_>, value: Number) -> Outcome<Option<IndexMap<String, f64>>> {
        py.detach(|| {
            let mut turning = self.held();
            let Some(percents) = turning.percents(&value.0)?.map(<[f64]>::to_vec) else { return Ok(None) };
            let names = turning.brief().lines().iter().map(|line| line.name().to_string());
            Ok(Some(names.zip(percents).collect()))
        })
    }

    /// The Answer or the Conflict where the number is `value`: exact solution, proof and grid formula; solved from cold.
    fn solve(&self, py: Python<'_>, value: Number) -> Outcome<Tried> {
        let solved = watched(py, None, |watch| {
            let turned = {
                let turning = self.held();
                turning.brief().turned(turning.dial(), &value.0)?
            };
            turned.watched_by(watch).try_solve()
        })?;
        Ok(Tried::from(solved))
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, (Brief, String))> {
        Ok((py.get_type::<Brief>().getattr("turning")?, (self.brief(py), self.what(py))))
    }

    fn __repr__(&self, py: Python<'_>) -> String {
        py.detach(|| format!("<Turning {:?} of {:?}>", self.spelling(), self.held().brief().title()))
    }
}

#[pymethods]
impl Brief {
    /// What one number of the brief stands at, named as for `axis`.
    ///
    /// >>> td.Brief("Bar", td.Catalogue.starter()).between("cetyl-alcohol", 3, 6).dial_value("highest.cetyl-alcohol")
    /// Fraction(6, 1)
    #[pyo3(signature = (what: "str | Measure"))]
    fn dial_value(&self, what: ASubject<'_>) -> Outcome<Fraction> {
        Ok(Fraction(self.0.dial_value(&Subject::from(what).of(&self.0)?.into_dial()?)?))
    }

    /// The brief with one number of it, named as for `axis`, at another value.
    ///
    /// >>> brief = td.Brief("Bar", td.Catalogue.starter()).fix("panthenol", 1.5).qs("kaolin").at_most(td.measure.water, 9)
    /// >>> brief.turned("panthenol", 2).turned(td.measure.water, 8).requirements[0].name
    /// 'water at most 8 %'
    #[pyo3(signature = (what: "str | Measure", value))]
    fn turned(&self, what: ASubject<'_>, value: Number) -> Outcome<Self> {
        Ok(Brief(self.0.turned(&Subject::from(what).of(&self.0)?.into_dial()?, &value.0)?))
    }

    /// Makes one number of the brief, named as for `axis`, ready to be turned and solved again and again.
    #[pyo3(signature = (what: "str | Measure"))]
    fn turning(&self, py: Python<'_>, what: ASubject<'_>) -> Outcome<Turning> {
        let subject = Subject::from(what);
        Ok(Turning(Mutex::new(py.detach(|| Ok::<_, crate::failure::Failure>(self.0.turning(&subject.of(&self.0)?.into_dial()?)?))?)))
    }
}

#[pymethods]
impl Answer {
    /// From where to where one number of the brief, named as for `axis`, can be turned while the recipe keeps its structure: the same
    /// requirements bind, the same lines stand at their ends. The ends are exact. None where several rows of the linear program move with the
    /// number, and where the answer stands just where two structures meet.
    ///
    /// >>> brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 10).between("corn-starch", 0, 30)
    /// >>> brief = brief.split({"kaolin": 1, "corn-starch": 1}, by="weight", name="powders").qs("water").minimise(td.measure.water)
    /// >>> brief.solve().dial_range("powders.corn-starch").sentence
    /// 'part of corn-starch in split powders at 1: the same structure up to 3.0000'
    #[pyo3(signature = (what: "str | Measure"))]
    fn dial_range(&self, py: Python<'_>, what: ASubject<'_>) -> Outcome<Option<DialRange>> {
        let dial = Subject::from(what).of(self.0.brief())?.into_dial()?;
        let range = watched(py, None, |watch| self.0.clone().watched_by(watch).dial_range(&dial))?;
        Ok(range.map(dial_range))
    }

    /// The range of every part of every split that has one: how far the ratios can be turned while the recipe keeps its structure.
    ///
    /// >>> brief = td.Brief("Powders", td.Catalogue.starter()).between("kaolin", 0, 10).between("corn-starch", 0, 30)
    /// >>> brief = brief.split({"kaolin": 1, "corn-starch": 1}, by="weight", name="powders").qs("water").minimise(td.measure.water)
    /// >>> [(range.what, range.high) for range in brief.solve().ratio_ranges()]
    /// [('powders.kaolin', None), ('powders.corn-starch', Fraction(3, 1))]
    fn ratio_ranges(&self, py: Python<'_>) -> Outcome<Vec<DialRange>> {
        Ok(watched(py, None, |watch| self.0.clone().watched_by(watch).ratio_ranges())?.into_iter().map(dial_range).collect())
    }
}
