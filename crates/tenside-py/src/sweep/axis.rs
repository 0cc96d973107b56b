//! An axis of a sweep, before it is known of which brief.

use std::sync::Arc;

use pyo3::prelude::*;
use tenside::bounds::Quantity;
use tenside::brief::Brief;
use tenside::number::Exact;
use tenside::sweep::{Values, Varied};

use crate::convert::failure::Outcome;
use crate::convert::input::{Number, one_by_one};
use crate::convert::output::{Fraction, pasted, quoted};
use crate::material::{AMaterial, Material};
use crate::measure::Measure;

/// What is varied.
#[derive(Clone, PartialEq)]
pub(crate) enum Subject {
    Word(String),
    Measure(Measure),
}

impl Subject {
    /// What it is of a brief.
    pub(crate) fn of(&self, brief: &Brief) -> Outcome<Varied> {
        Ok(match self {
            Subject::Word(word) => Varied::named(brief, word)?,
            Subject::Measure(measure) => Varied::of_measure(brief, &measure.0)?,
        })
    }
}

impl From<ASubject<'_>> for Subject {
    fn from(subject: ASubject<'_>) -> Self {
        match subject {
            ASubject::Word(word) => Subject::Word(word),
            ASubject::Measure(measure) => Subject::Measure(measure.get().clone()),
        }
    }
}

/// A raw material by name or as it is.
#[derive(Clone, PartialEq)]
enum Exchanged {
    Name(String),
    Material(Material),
}

#[derive(Clone, PartialEq)]
enum Points {
    Numbers(Vec<Exact>),
    Materials(Vec<Exchanged>),
    Lattice(u32),
}

/// What a sweep varies and the values it takes; made by `axis` and `lattice`, given to `Brief.sweep` or `Sweep`.
///
/// >>> td.axis("wash.capb-30", [0.5, 1, 2])
/// axis('wash.capb-30', [0.5, 1, 2])
/// >>> len(td.axis(td.measure.active_matter, range(50, 63)))
/// 13
#[pyclass(frozen, eq, from_py_object, module = "tenside.sweep")]
#[derive(Clone, PartialEq)]
pub(crate) struct Axis {
    subject: Subject,
    points: Points,
}

impl Axis {
    /// The axis of a brief.
    pub(crate) fn of(&self, brief: &Brief) -> Outcome<tenside::sweep::Axis> {
        Ok(match (&self.points, self.subject.of(brief)?) {
            (Points::Lattice(steps), Varied::Split(split)) => tenside::sweep::Axis::lattice(brief, &split, *steps)?,
            (Points::Lattice(_), other) => return Err(other.no_lattice().into()),
            (Points::Numbers(numbers), varied) => varied.over(Values::new(numbers)?)?,
            (Points::Materials(materials), Varied::Material(line)) => {
                let find = |material: &Exchanged| -> Outcome<_> {
                    Ok(match material {
                        Exchanged::Name(name) => Arc::clone(brief.catalogue().material(name)?),
                        Exchanged::Material(material) => Arc::clone(&material.0),
                    })
                };
                tenside::sweep::Axis::Material { line, materials: materials.iter().map(find).collect::<Outcome<_>>()? }
            }
            (Points::Materials(_), other) => return Err(other.no_materials().into()),
        })
    }

    fn len(&self) -> usize {
        match &self.points {
            Points::Numbers(numbers) => numbers.len(),
            Points::Materials(materials) => materials.len(),
            Points::Lattice(steps) => *steps as usize,
        }
    }
}

#[pymethods]
impl Axis {
    /// How many values it has; of a lattice, how many steps.
    fn __len__(&self) -> usize {
        self.len()
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        let native = py.import("tenside._native")?;
        let subject = match &self.subject {
            Subject::Word(word) => word.into_pyobject(py)?.into_any(),
            Subject::Measure(measure) => measure.clone().into_pyobject(py)?.into_any(),
        };
        let call = |name: &str, points: Bound<'py, PyAny>| {
            Ok((native.getattr(name)?, (subject.clone(), points)).into_pyobject(py)?.into_any())
        };
        match &self.points {
            Points::Numbers(numbers) => {
                call("axis", numbers.iter().cloned().map(Fraction).collect::<Vec<_>>().into_pyobject(py)?.into_any())
            }
            Points::Materials(materials) => {
                let object = |material: &Exchanged| -> PyResult<Bound<'py, PyAny>> {
                    Ok(match material {
                        Exchanged::Name(name) => name.into_pyobject(py)?.into_any(),
                        Exchanged::Material(material) => material.clone().into_pyobject(py)?.into_any(),
                    })
                };
                call("axis", materials.iter().map(object).collect::<PyResult<Vec<_>>>()?.into_pyobject(py)?.into_any())
            }
            Points::Lattice(steps) => call("lattice", steps.into_pyobject(py)?.into_any()),
        }
    }

    fn __repr__(&self, py: Python<'_>) -> PyResult<String> {
        let subject = match &self.subject {
            Subject::Word(word) => quoted(py, word)?,
            Subject::Measure(measure) => measure.clone().into_pyobject(py)?.repr()?.to_string(),
        };
        Ok(match &self.points {
            Points::Numbers(numbers) if numbers.len() <= 12 => {
                format!("axis({subject}, [{}])", numbers.iter().map(pasted).collect::<Vec<_>>().join(", "))
            }
            Points::Lattice(steps) => format!("lattice({subject}, {steps})"),
            points => format!(
                "<Axis {subject} of {} {}>",
                self.len(),
                if matches!(points, Points::Numbers(_)) { "values" } else { "raw materials" }
            ),
        })
    }
}

one_of! {
    /// What names one thing that is varied: its spelling, or the measure that a requirement limits.
    pub(crate) enum ASubject<'py>: "a word or a Measure" {
        Word(String),
        Measure(Bound<'py, Measure>),
    }
}

/// An axis: what is varied, by its spelling or by the measure that a requirement limits, and its values.
///
/// | spelling | what is varied |
/// |---|---|
/// | "wash.capb-30" | a part of split "wash" |
/// | "share.wash.capb-30" | its share of the split in percent, the others in proportion |
/// | "fix.panthenol" | a fixed line |
/// | "lowest.cetyl-alcohol", "highest.cetyl-alcohol" | an end of a line's range |
/// | "target.active-matter", "at-least.water", "at-most.water" | what a requirement asks for |
/// | "price.sci-powder" | a price |
/// | "material.capb-30" | the raw material of a line; the values are raw materials |
/// | "moisture" | the residual moisture of every finished basis |
///
/// A bare name is enough where it means one thing. A float counts as the shortest decimal that prints it.
#[pyfunction]
#[pyo3(signature = (what: "str | Measure", values: "Iterable[SupportsFloat | str | Material]"))]
pub(crate) fn axis(what: ASubject<'_>, values: &Bound<'_, PyAny>) -> Outcome<Axis> {
    let subject = Subject::from(what);
    let points = match &subject {
        Subject::Word(word) if word.starts_with("material.") => {
            let material = |value: Bound<'_, PyAny>| -> Outcome<Exchanged> {
                Ok(match value.extract::<AMaterial>()? {
                    AMaterial::Name(name) => Exchanged::Name(name),
                    AMaterial::Material(material) => Exchanged::Material(material),
                })
            };
            Points::Materials(one_by_one(values, Quantity::AxisPoints, material)?)
        }
        _ => Points::Numbers(one_by_one(values, Quantity::AxisPoints, |value| Ok(value.extract::<Number>()?.0))?),
    };
    Ok(Axis { subject, points })
}

/// An axis of all ways to share a split out among its members in whole steps: of three members in steps of 5 %, 231.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 1, "scs-needles": 1, "capb-30": 1}, by="active", name="wash")
/// >>> brief = brief.qs("kaolin").target(td.measure.active_matter, 40)
/// >>> len(brief.sweep(td.lattice("wash", 20)))
/// 231
#[pyfunction]
pub(crate) fn lattice(split: String, steps: u32) -> Outcome<Axis> {
    Quantity::LatticeSteps.check(&Exact::from(steps))?;
    Ok(Axis { subject: Subject::Word(split), points: Points::Lattice(steps) })
}

/// `count` values from `start` to `stop`, evenly spaced, each rounded to a multiple of `grid`, so that all are short
/// exact decimals.
///
/// >>> [str(value) for value in td.linspace(0, 1, 4)]
/// ['0', '3333/10000', '6667/10000', '1']
#[pyfunction]
#[pyo3(signature = (start, stop, count, *, grid=None))]
pub(crate) fn linspace(start: Number, stop: Number, count: usize, grid: Option<Number>) -> Outcome<Vec<Fraction>> {
    Ok(fractions(&Values::linspace(&start.0, &stop.0, count, grid_or_usual(grid))?))
}

/// `count` values from `start` to `stop` in a constant ratio, each rounded to a multiple of `grid`.
///
/// >>> [str(value) for value in td.geomspace(1, 100, 3)]
/// ['1', '10', '100']
#[pyfunction]
#[pyo3(signature = (start, stop, count, *, grid=None))]
pub(crate) fn geomspace(start: Number, stop: Number, count: usize, grid: Option<Number>) -> Outcome<Vec<Fraction>> {
    Ok(fractions(&Values::geomspace(&start.0, &stop.0, count, grid_or_usual(grid))?))
}

fn grid_or_usual(grid: Option<Number>) -> Exact {
    grid.map_or_else(Values::usual_grid, |grid| grid.0)
}

fn fractions(values: &Values) -> Vec<Fraction> {
    values.iter().cloned().map(Fraction).collect()
}
