//! What is read off a formula.

use pyo3::prelude::*;
use tenside::error::{Fault, FaultKind};

use crate::convert::failure::{Outcome, faults};
use crate::convert::interval::Interval;
use crate::convert::page::Page;
use crate::convert::pickled::{Call, Reduced};
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::material::catalogue::Catalogue;
use crate::measure::basis::{Basis, on};
use crate::measure::{AMeasure, Measure};
/// What was read off a formula, with the interval that the composition ranges allow.
///
/// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
/// >>> reading = clay.measure(td.measure.active_matter)
/// >>> reading.value.typical, reading.unit
/// (Fraction(0, 1), '%')
#[pyclass(frozen, eq, module = "tenside.measure")]
#[derive(Clone)]
pub(crate) struct Measured(pub(crate) tenside::measure::Measured, pub(crate) Call);

impl PartialEq for Measured {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

getters!(Measured {
    /// What was measured.
    measure: Measure = |it| Measure(it.measure.clone());
    /// On which basis.
    basis: Basis = |it| Basis(it.basis.clone());
    /// Its unit.
    unit: String = |it| it.unit.clone();
    /// The value; None if the denominator is 0 or something needed is not known.
    value: Option<Interval> = |it| it.value.clone().map(Interval);
    /// What was left out of the count.
    notes: Vec<String> = |it| it.notes.clone();
});

value!(Measured, |it| it.text());

row!(Measured {
    measure: String = |it| it.0.measure.name(),
    value: Option<Interval> = |it| it.value(),
    unit: String = |it| it.unit(),
    basis: String = |it| it.0.basis.to_string(),
    notes: Vec<String> = |it| it.notes(),
    why_not: Vec<String> = |it| it.0.why_not.iter().map(ToString::to_string).collect(),
});

#[pymethods]
impl Measured {
    /// Value, interval and unit with two decimals, or "not known".
    fn text(&self) -> String {
        self.0.text()
    }

    /// Why there is no value, as faults.
    #[getter]
    fn why_not<'py>(&self, py: Python<'py>) -> PyResult<Vec<Bound<'py, PyAny>>> {
        faults(py, &self.0.why_not)
    }

    fn __float__(&self) -> Outcome<f64> {
        match self.0.value.as_ref().and_then(|value| value.typical.as_ref()) {
            Some(typical) => Ok(typical.to_f64()),
            None => Err(tenside::Error::check(self.0.why_not.clone(), f64::NAN).map_or_else(Into::into, |_| {
                Fault::new(FaultKind::NotKnown, "there is no value").at(self.0.measure.name()).into()
            })),
        }
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Reduced<'py>> {
        self.1.reduced(py)
    }

    fn __repr__(&self) -> String {
        format!("<{}: {}, {}>", self.0.measure.name(), self.0.text(), self.0.basis)
    }
}

impl Formula {
    /// The call that reads a measure again.
    fn call_of(&self, measure: &tenside::measure::Measure, basis: &tenside::measure::Basis) -> Call {
        Call::new(self.clone(), "measure").argument(Measure(measure.clone())).argument(Basis(basis.clone()))
    }
}

#[pymethods]
impl Formula {
    /// Reads a measure, for typical compositions and with its interval.
    /// `basis` is what it is counted on, as charged unless stated.
    ///
    /// >>> bar = td.Formula("Wash", {"capb-30": 50, "kaolin": 50}, td.Catalogue.starter())
    /// >>> float(bar.measure(td.measure.active_matter))
    /// 15.0
    /// >>> float(bar.measure(td.measure.active_matter, td.finished(moisture=5))) > 15
    /// True
    ///
    /// A substance or raw material is known by the formula or the starter catalogue, or else by the `catalogue` given.
    /// What a raw material leaves open has ends and no typical value.
    ///
    /// >>> td.Formula("Scented", {"kaolin": 99, "fragrance-oil": 1}, td.Catalogue.starter()).measure(td.measure.substance("LIMONENE")).text()
    /// 'not known (0.00 to 1.00) %'
    #[pyo3(signature = (measure, basis=None, *, catalogue=None))]
    fn measure(
        &self,
        py: Python<'_>,
        measure: AMeasure,
        basis: Option<Basis>,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Measured> {
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        let call = self.call_of(&measure.0, &basis);
        let read = || match catalogue {
            Some(catalogue) => self.0.measure_with(&measure.0, &basis, &catalogue.0),
            None => self.0.measure(&measure.0, &basis),
        };
        Ok(Measured(py.detach(read)?, call.keyword("catalogue", catalogue.cloned())))
    }

    /// Reads the usual measures; a table in a notebook.
    /// `basis` is what they are counted on, as charged unless stated.
    ///
    /// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
    /// >>> clay.measures()[0].measure.name
    /// 'active matter'
    #[pyo3(signature = (basis=None))]
    fn measures(&self, py: Python<'_>, basis: Option<Basis>) -> Outcome<Rows<Measured>> {
        let basis = basis.map_or_else(Default::default, |basis| basis.0);
        let readings = py.detach(|| self.0.measures(&basis))?;
        let rows = readings.into_iter().map(|reading| {
            let call = self.call_of(&reading.measure, &basis);
            Measured(reading, call)
        });
        let (formula, on) = (self.0.clone(), basis.clone());
        Ok(rows.collect::<Rows<_>>().shown(move || formula.measure_page(&on)))
    }

    /// Lines and usual measures on these bases, as charged where none is given.
    #[pyo3(signature = (*bases: "Basis"))]
    fn page(&self, bases: Vec<Basis>) -> Outcome<Page> {
        Ok(Page(self.0.page(&on(bases))?))
    }
}

shown!(Formula, |it| it.0.page(&on(Vec::new())), fallible);
