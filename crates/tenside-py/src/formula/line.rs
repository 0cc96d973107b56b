//! Lines and phases of a formula.

use std::sync::Arc;

use pyo3::prelude::*;
use rust_decimal::Decimal;
use tenside::formula::Purpose;

use crate::convert::failure::Outcome;
use crate::convert::input::{Names, Number};
use crate::convert::output::Keywords;
use crate::convert::word::{Word, Words, words};
use crate::material::Material;

record! {
    "tenside.formula",
    /// What is worked together, and at which temperature in °C where stated.
    Phase of &tenside::formula::Phase, |phase| {
        /// Its name.
        name: String = phase.name().to_string(),
        /// °C.
        temperature: Option<Decimal> = phase.temperature(),
    }
}

/// A raw material at a percentage as supplied, in a phase, for one or more purposes ("preservative", "anti-dandruff",
/// "colour", "scent", "uv-filter", "ph-adjuster", "conditioning", "solvent", "other") where they are stated. `groups`
/// are those it belongs to; `qs` marks the line that fills to 100, `fixed` one whose percentage is the user's own.
///
/// >>> kaolin = td.Catalogue.starter().material("kaolin")
/// >>> line = td.Line(kaolin, 40, name="clay on top", phase="cool-down")
/// >>> line.name, line.percent
/// ('clay on top', Decimal('40'))
#[pyclass(frozen, eq, from_py_object, module = "tenside")]
#[derive(Clone, PartialEq)]
pub(crate) struct Line(pub(crate) tenside::formula::Line);

value!(Line, |it| it.name());

getters!(Line {
    /// Its name.
    name: String = |it| it.name().to_string();
    /// Its raw material, typical or a lot.
    material: Material = |it| Material(Arc::clone(it.material()));
    /// Its phase.
    phase: String = |it| it.phase().to_string();
    /// Percent as supplied, as charged.
    percent: Decimal = |it| it.percent().decimal_percent();
    /// The groups it belongs to, splits included.
    groups: Vec<String> = |it| it.groups().to_vec();
    /// What it is there for; empty if that is not stated.
    purposes: Vec<Word<Purpose>> = |it| words(it.purposes());
    /// True for the line that fills to 100.
    is_qs: bool = |it| it.is_qs();
    /// True for a line whose percentage the user fixed.
    is_fixed: bool = |it| it.is_fixed();
});

row!(Line {
    name: String = |it| it.name(),
    material: String = |it| it.0.material().id().to_string(),
    lot: Option<String> = |it| it.0.material().lot().map(|lot| lot.id().to_string()),
    phase: String = |it| it.phase(),
    percent: Decimal = |it| it.percent(),
    groups: Vec<String> = |it| it.groups(),
    is_qs: bool = |it| it.is_qs(),
    is_fixed: bool = |it| it.is_fixed(),
});

#[pymethods]
impl Line {
    #[new]
    #[pyo3(signature = (material, percent, *, name=None, phase=None, groups=None, purposes=None, qs=false, fixed=false))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn new(
        material: Material,
        percent: Number,
        name: Option<&str>,
        phase: Option<&str>,
        groups: Option<Names>,
        purposes: Option<Words<Purpose>>,
        qs: bool,
        fixed: bool,
    ) -> Outcome<Self> {
        let line =
            tenside::formula::Line::new(name.unwrap_or(material.0.id()), Arc::clone(&material.0), percent.ppm()?)?;
        let line = match phase {
            Some(phase) => line.in_phase(phase)?,
            None => line,
        };
        let line = line.for_purposes(&purposes.map_or_else(Vec::new, |purposes| purposes.0));
        Ok(Line(line.in_groups(&groups.map_or_else(Vec::new, |groups| groups.0)).as_qs(qs).as_fixed(fixed)))
    }

    fn __getnewargs_ex__<'py>(slf: &Bound<'py, Self>) -> PyResult<((Material, Decimal), Keywords<'py>)> {
        const KEYWORDS: [(&str, &str); 6] = [
            ("name", "name"),
            ("phase", "phase"),
            ("groups", "groups"),
            ("purposes", "purposes"),
            ("qs", "is_qs"),
            ("fixed", "is_fixed"),
        ];
        let keywords =
            KEYWORDS.iter().map(|(keyword, field)| Ok((*keyword, slf.getattr(*field)?))).collect::<PyResult<_>>()?;
        Ok(((slf.get().material(), slf.get().percent()), keywords))
    }

    fn __repr__(&self) -> String {
        format!("<Line {:?}, {} %>", self.0.name(), self.0.percent())
    }
}

/// A phase as keywords say it.
pub(crate) fn phase(name: &str, temperature: Option<Number>) -> Outcome<tenside::formula::Phase> {
    let phase = tenside::formula::Phase::new(name)?;
    Ok(match temperature {
        Some(temperature) => phase.at(temperature.0)?,
        None => phase,
    })
}
