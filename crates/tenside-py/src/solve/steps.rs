//! How a formula is to be rounded.

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::PyType;
use pyo3::{PyTypeInfo, type_hint_union};
use tenside::bounds::Quantity;
use tenside::error::{Fault, FaultKind};
use tenside::number::Exact;
use tenside::solve::Tolerance;

use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{AMass, ByName, Names, Number};
use crate::convert::output::{Fraction, Keywords};

/// The steps that percentages are multiples of, and how splits and targets are taken; everything else always holds
/// exactly. `giving_up` names splits and targets that need not be kept.
///
/// `lines` have steps of their own. A split or target, by its name, may be `within` a tolerance in its unit (a split:
/// in percent points of what a member brings) or be given up; with `half_a_step` every other one may depart by what
/// half a step, moved from one line to another, does to it. A search solves at most so many linear programs, its
/// `nodes`.
///
/// >>> td.solve.Steps("0.5", lines={"panthenol": "0.1"}, within={"wash": "0.2"}).words
/// 'multiples of 0.5 %, panthenol of 0.1 %'
/// >>> try: td.solve.Steps("0.3")
/// ... except td.errors.OutOfRange as error: print(error.faults[0].message)
/// the step does not go into 100 %
#[pyclass(frozen, eq, module = "tenside.solve")]
#[derive(Clone, PartialEq)]
pub(crate) struct Steps(pub(crate) tenside::solve::Steps);

value!(Steps, |it| (it.words(), it.nodes()));

getters!(Steps {
    /// The step of every line that has none of its own, in percent.
    step: Fraction = |it| Fraction(it.step().clone());
    /// The lines with steps of their own, in percent.
    lines: IndexMap<String, Fraction> = |it| it.lines().iter().map(|(line, step)| (line.clone(), Fraction(step.clone()))).collect();
    /// The splits and targets with a tolerance of their own.
    within: IndexMap<String, Fraction> = |it| it.equations().iter().filter_map(|(name, tolerance)| Some((name.clone(), width(tolerance)?))).collect();
    /// The splits and targets that are not asked for.
    giving_up: Vec<String> = |it| it.equations().iter().filter(|(_, tolerance)| *tolerance == Tolerance::GivenUp).map(|(name, _)| name.clone()).collect();
    /// True if every other split and target may depart by half a step's effect.
    half_a_step: bool = |it| it.is_within_half_a_step();
    /// How many linear programs a search may solve.
    nodes: usize = |it| it.nodes();
    /// In words.
    words: String = |it| it.words();
});

fn width(tolerance: &Tolerance) -> Option<Fraction> {
    match tolerance {
        Tolerance::Within(tolerance) => Some(Fraction(tolerance.clone())),
        Tolerance::WithinHalfAStep | Tolerance::GivenUp => None,
    }
}

/// What steps may carry besides the step itself.
struct Further {
    lines: Option<ByName>,
    within: Option<ByName>,
    giving_up: Option<Names>,
    half_a_step: bool,
    nodes: Option<usize>,
}

impl Further {
    fn with(self, mut steps: tenside::solve::Steps) -> Outcome<Steps> {
        let named = |names: Option<ByName>| names.map_or_else(Vec::new, |names| names.0);
        for (line, step) in named(self.lines) {
            steps = steps.line(&line, step.0)?;
        }
        let (within, giving_up) = (named(self.within), self.giving_up.map_or_else(Vec::new, |names| names.0));
        Quantity::Requirements
            .check(&Exact::from(u32::try_from(within.len() + giving_up.len()).unwrap_or(u32::MAX)))?;
        if let Some((twice, _)) = within.iter().find(|(name, _)| giving_up.contains(name)) {
            return Err(Fault::new(FaultKind::Contradiction, "an equation that is given up has no tolerance")
                .at(format!("{twice:?}"))
                .into());
        }
        for (equation, tolerance) in within {
            steps = steps.within(&equation, tolerance.0)?;
        }
        steps = giving_up.iter().fold(steps, |steps, equation| steps.giving_up(equation));
        if self.half_a_step {
            steps = steps.within_half_a_step();
        }
        Ok(Steps(match self.nodes {
            Some(nodes) => steps.up_to_nodes(nodes)?,
            None => steps,
        }))
    }
}

#[pymethods]
impl Steps {
    #[new]
    #[pyo3(signature = (step, *, lines=None, within=None, giving_up=None, half_a_step=false, nodes=None))]
    fn new(
        step: Number,
        lines: Option<ByName>,
        within: Option<ByName>,
        giving_up: Option<Names>,
        half_a_step: bool,
        nodes: Option<usize>,
    ) -> Outcome<Self> {
        Further { lines, within, giving_up, half_a_step, nodes }.with(tenside::solve::Steps::of(step.0)?)
    }

    /// Every line a whole number of a scale's divisions in a batch of this mass.
    /// `division` is the scale's; `lines`, `within`, `giving_up`, `half_a_step` and `nodes` as for `Steps`.
    ///
    /// >>> td.solve.Steps.of_weighing("2 kg", "1 g").step
    /// Fraction(1, 20)
    #[classmethod]
    #[pyo3(signature = (batch, division, *, lines=None, within=None, giving_up=None, half_a_step=false, nodes=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn of_weighing(
        _class: &Bound<'_, PyType>,
        batch: AMass,
        division: AMass,
        lines: Option<ByName>,
        within: Option<ByName>,
        giving_up: Option<Names>,
        half_a_step: bool,
        nodes: Option<usize>,
    ) -> Outcome<Self> {
        Further { lines, within, giving_up, half_a_step, nodes }
            .with(tenside::solve::Steps::of_weighing(&batch.0, &division.0)?)
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((Fraction,), Keywords<'py>)> {
        let keywords = IndexMap::from([
            ("lines", self.lines().into_pyobject(py)?.into_any()),
            ("within", self.within().into_pyobject(py)?.into_any()),
            ("giving_up", self.giving_up().into_pyobject(py)?.into_any()),
            ("half_a_step", self.half_a_step().into_pyobject(py)?.to_owned().into_any()),
            ("nodes", self.nodes().into_pyobject(py)?.into_any()),
        ]);
        Ok(((self.step(),), keywords))
    }

    fn __repr__(&self) -> String {
        format!("<Steps: {}>", self.0.words())
    }
}

/// Steps, or one step for every line.
pub(crate) struct ASteps(pub(crate) tenside::solve::Steps);

impl<'a, 'py> FromPyObject<'a, 'py> for ASteps {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(Steps::TYPE_HINT, <Number as FromPyObject>::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        match object.cast::<Steps>() {
            Ok(steps) => Ok(ASteps(steps.get().0.clone())),
            Err(_) => Ok(ASteps(tenside::solve::Steps::of(object.extract::<Number>()?.0)?)),
        }
    }
}
