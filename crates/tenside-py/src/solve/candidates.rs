//! Which raw materials could stand in for one.

use pyo3::prelude::*;

use crate::convert::column::batch_of;
use crate::convert::failure::Outcome;
use crate::convert::page::Page;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::material::Material;
use crate::material::catalogue::Catalogue;
use crate::measure::{Measure, Measures};
use crate::solve::substitution::Substitution;

record! {
    "tenside.solve",
    /// A raw material that matches, with what putting it in comes to.
    Candidate of &tenside::solve::Candidate, |candidate| {
        /// The raw material.
        material: Material = Material(candidate.material.clone()),
        /// What putting it in comes to.
        substitution: Substitution = Substitution(candidate.substitution.clone()),
    }
}

record! {
    "tenside.solve",
    /// A raw material of the same class that does not match, or of which it is not known.
    PassedOver of &tenside::solve::PassedOver, |passed| {
        /// Its id.
        material: String = passed.material.clone(),
        /// Why.
        reasons: Vec<String> = passed.reasons.clone(),
    }
}

/// Raw materials that match a line's in class, form, pH range and attributes, those that disturb least first; a table
/// in a notebook.
///
/// >>> cat = td.Catalogue.starter()
/// >>> bar = td.Formula("Bar", {"stearic-acid": 20, "kaolin": 80}, cat)
/// >>> candidates = bar.candidates("stearic-acid", keep=td.measure.class_("fatty-acid"), catalogue=cat)
/// >>> [candidate.material.id for candidate in candidates.ranked if candidate.substitution.is_exact][:2]
/// ['stearic-acid-90', 'behenic-acid']
#[pyclass(frozen, eq, module = "tenside.solve")]
#[derive(Clone, PartialEq)]
pub(crate) struct Candidates {
    found: tenside::solve::Candidates,
    formula: Formula,
    catalogue: Catalogue,
    keep: Vec<Measure>,
}

impl Candidates {
    pub(crate) fn new(
        formula: &Formula,
        line: &str,
        catalogue: Catalogue,
        keep: Vec<tenside::measure::Measure>,
        watch: std::sync::Arc<dyn tenside::watch::Watch>,
    ) -> Result<Self, tenside::Error> {
        let found = formula.0.candidates_watched(line, &catalogue.0, &keep, watch)?;
        Ok(Candidates { found, formula: formula.clone(), catalogue, keep: keep.into_iter().map(Measure).collect() })
    }
}

shown!(Candidates, |it| it.found.page());
copied!(Candidates);

arrow!(Candidates, |it, _py| batch_of(it.ranked())?);

#[pymethods]
impl Candidates {
    /// The line.
    #[getter]
    fn line(&self) -> &str {
        &self.found.line
    }

    /// Those that match: by total departure of what is kept, then by the change of the other lines, of the line itself,
    /// then by id.
    #[getter]
    fn ranked(&self) -> Rows<Candidate> {
        self.found.ranked.iter().map(Candidate::from).collect()
    }

    /// Those of the same class that do not match, or of which it is not known.
    #[getter]
    fn passed_over(&self) -> Rows<PassedOver> {
        self.found.passed_over.iter().map(PassedOver::from).collect()
    }

    /// The ranking as a table.
    fn page(&self) -> Page {
        Page(self.found.page())
    }

    #[allow(clippy::type_complexity, reason = "what Python calls")]
    fn __reduce__<'py>(
        &self,
        py: Python<'py>,
    ) -> PyResult<(Bound<'py, PyAny>, (Formula, String, Vec<Measure>, Catalogue))> {
        let arguments = (self.formula.clone(), self.found.line.clone(), self.keep.clone(), self.catalogue.clone());
        Ok((py.get_type::<Formula>().getattr("candidates")?, arguments))
    }

    fn __hash__(&self) -> u64 {
        crate::convert::output::hash(&self.found.line)
    }

    fn __repr__(&self) -> String {
        format!(
            "<Candidates for {:?}: {} match, {} passed over>",
            self.found.line,
            self.found.ranked.len(),
            self.found.passed_over.len()
        )
    }
}

#[pymethods]
impl Formula {
    /// The raw materials of a catalogue (the starter one where none is given) that match a line's in class, form, pH
    /// range and attributes, ranked by how little they disturb the formula with these measures kept. What is not stated
    /// does not match.
    ///
    /// >>> bar = td.Formula("Bar", {"stearic-acid": 20, "kaolin": 80}, td.Catalogue.starter())
    /// >>> bar.candidates("stearic-acid", keep=td.measure.class_("fatty-acid")).line
    /// 'stearic-acid'
    #[pyo3(signature = (line, keep, catalogue=None))]
    fn candidates(
        &self,
        py: Python<'_>,
        line: &str,
        keep: Measures,
        catalogue: Option<&Catalogue>,
    ) -> Outcome<Candidates> {
        let catalogue = Catalogue::or_starter(catalogue);
        watched(py, None, |watch| Candidates::new(self, line, catalogue, keep.0, watch))
    }
}
