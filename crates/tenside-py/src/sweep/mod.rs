//! Many formulas at once: a brief, its axes, its columns.

use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use tenside::bounds::Quantity;
use tenside::brief::Direction;
use tenside::error::{Fault, FaultKind};
use tenside::measure::Basis as CoreBasis;
use tenside::rule::Severity;

use crate::brief::Brief;
use crate::convert::arrow::Pool;
use crate::convert::failure::Outcome;
use crate::convert::input::one_by_one;
use crate::convert::output::{Keywords, length};
use crate::convert::running::watched;
use crate::convert::word::Word;
use crate::measure::basis::Basis;
use crate::measure::{AMeasure, Measure};
use crate::product::Product;
use crate::solve::answer::Answer;
use crate::solve::conflict::or_unanswerable;
use crate::solve::outcome::Tried;
use crate::sweep::axis::Axis;
use crate::trial::micelle::MixedMicelles;

/// A method with the keywords of a stream; after its own parameters, in Python and in Rust.
macro_rules! with_stream_keywords {
    ($class:ident, $(#[$($attribute:tt)*])* $name:ident($($signature:tt)*)($($parameters:tt)*) -> $result:ty,
        |$keywords:ident| $body:expr) => {
        #[pymethods]
        impl $class {
            $(#[$($attribute)*])*
            #[pyo3(signature = ($($signature)* *,
                only=None,
                without=None,
                best=None,
                maximise_best=false,
                minimise: "str | Measure | Iterable[str | Measure] | None"=None,
                maximise: "str | Measure | Iterable[str | Measure] | None"=None,
                histograms: "Mapping[str | Measure, tuple[float, float, int]] | None"=None,
                summaries: "str | Measure | Iterable[str | Measure] | None"=None,
                progress=None))]
            #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
            fn $name(
                $($parameters)*
                only: Option<Several<(AColumn<'_>, Word<Comparison>, Number)>>,
                without: Option<Names>,
                best: Option<(usize, AColumn<'_>)>,
                maximise_best: bool,
                minimise: Option<Bound<'_, PyAny>>,
                maximise: Option<Bound<'_, PyAny>>,
                histograms: Option<Bound<'_, PyAny>>,
                summaries: Option<Bound<'_, PyAny>>,
                progress: Option<AProgress<'_>>,
            ) -> $result {
                let $keywords = StreamKeywords {
                    only, without, best, maximise_best, minimise, maximise, histograms, summaries, progress,
                };
                $body
            }
        }
    };
}

pub(crate) mod axis;
pub(crate) mod page;
pub(crate) mod part;
pub(crate) mod query;
pub(crate) mod result;
pub(crate) mod samples;
pub(crate) mod solution_path;
pub(crate) mod table;

/// A measure, or a measure with the basis it is taken on.
#[derive(Clone, PartialEq)]
struct MeasureColumn(Measure, Option<Basis>);

/// A brief varied along axes: one formula for every combination of their values, the last axis fastest. `Brief.sweep`
/// makes one and works it out; one that is kept can stream what is too large to keep. `measures` are further columns,
/// each a measure or one with its basis; `review` is a `Product` that every row is reviewed for, with findings at least
/// as grave as `severity`; `micelles` are mixed micelles at a dilution.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
/// >>> sweep = td.Sweep(brief.target(td.measure.active_matter, 50), td.axis("wash.capb-30", [1, 2, 3]), td.axis(td.measure.active_matter, range(40, 60)))
/// >>> len(sweep), sweep.columns[:3]
/// (60, ['axis.wash.capb-30', 'axis.target.active-matter', 'line.sci-powder'])
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone)]
pub(crate) struct Sweep {
    pub(crate) core: tenside::sweep::Sweep,
    axes: Vec<Axis>,
    measures: Vec<MeasureColumn>,
    review: Option<Product>,
    severity: Option<String>,
    micelles: Option<(MixedMicelles, String)>,
    chosen: Option<Vec<String>>,
    /// The memory of a table that nobody needs any more.
    pub(crate) pool: Pool,
}

impl PartialEq for Sweep {
    fn eq(&self, other: &Self) -> bool {
        self.core == other.core
            && self.axes == other.axes
            && self.measures == other.measures
            && self.review == other.review
            && self.chosen == other.chosen
    }
}

impl Sweep {
    /// The name of a column that is named, or of the column of a measure.
    pub(crate) fn column(&self, column: &Bound<'_, PyAny>) -> Outcome<String> {
        let name = match column.extract::<String>() {
            Ok(name) => name,
            Err(_) => {
                let measure = column.extract::<AMeasure>()?;
                let bases = self.core.columns().iter().filter_map(|column| match column {
                    tenside::sweep::Column::Measure(known, basis) if *known == measure.0 => Some(basis.clone()),
                    _ => None,
                });
                let bases: Vec<CoreBasis> = bases.collect();
                // On the one basis that there is, else as charged.
                let basis = if let [basis] = bases.as_slice() { basis.clone() } else { CoreBasis::AsCharged };
                self.core.name_of(&measure.0, &basis)
            }
        };
        self.core.column(&name)?;
        Ok(name)
    }

    /// Leaves only these columns; a measure that is none yet becomes one, as charged.
    fn choose(&mut self, columns: &[Bound<'_, PyAny>]) -> Outcome<()> {
        if columns.is_empty() {
            let fault = Fault::new(FaultKind::Missing, "a sweep needs a column");
            return Err(fault.remedy("name one, or leave the choice out").into());
        }
        let mut names = Vec::new();
        for column in columns {
            let name = match self.column(column) {
                Ok(name) => name,
                Err(fault) => {
                    let Ok(measure) = column.extract::<AMeasure>() else { return Err(fault) };
                    self.core = self.core.clone().with_measure(&measure.0, &CoreBasis::AsCharged)?;
                    self.measures.push(MeasureColumn(Measure(measure.0), None));
                    self.column(column)?
                }
            };
            names.push(name);
        }
        self.core = self.core.clone().with_columns(&names.iter().map(String::as_str).collect::<Vec<_>>())?;
        self.chosen = Some(names);
        Ok(())
    }

    /// Columns with the way that is better.
    pub(crate) fn ranked(
        &self,
        minimise: Option<Bound<'_, PyAny>>,
        maximise: Option<Bound<'_, PyAny>>,
    ) -> Outcome<Vec<(String, Direction)>> {
        let mut ranked = Vec::new();
        for (columns, direction) in [(minimise, Direction::Minimise), (maximise, Direction::Maximise)] {
            for column in columns.iter().map(each).collect::<Outcome<Vec<_>>>()?.into_iter().flatten() {
                ranked.push((self.column(&column)?, direction));
            }
        }
        Ok(ranked)
    }
}

/// One thing, or several.
pub(crate) fn each<'py>(one_or_more: &Bound<'py, PyAny>) -> Outcome<Vec<Bound<'py, PyAny>>> {
    if one_or_more.extract::<String>().is_ok() || one_or_more.cast::<Measure>().is_ok() {
        return Ok(vec![one_or_more.clone()]);
    }
    one_by_one(one_or_more, Quantity::Entries, Ok)
}

#[pymethods]
impl Sweep {
    /// `measures` are columns besides those that requirements and objective name: measures, or pairs of a measure and a
    /// basis. With `review`, a Product, there are columns of what a review of each row's formula says: "findings",
    /// "findings.certain", "findings.unchecked" and "use-levels", codes of rules at least as grave as `severity`
    /// ("information") and of lines. With `micelles`, a pair of MixedMicelles and a dilution by mass such as "1+99",
    /// there are columns of the mixed micelles of each row's active matter: "micelles.cmc" (mmol/L), and by INCI name
    /// "micelles.share. ..." (mole share of the micelles at the dilution) and "micelles.single. ..." (mmol/L). Names,
    /// critical concentrations and interactions of the pair's first count, parts are the row's own; a cell is null
    /// where something of an active substance is not known. `columns` leaves only these, axes too: by name, or measures,
    /// which become columns if they are none yet.
    #[new]
    #[pyo3(signature = (brief, *axes: "Axis", measures: "Iterable[Measure | tuple[Measure, Basis]] | None"=None, columns: "str | Measure | Iterable[str | Measure] | None"=None, review=None, severity=None, micelles=None))]
    pub(crate) fn new(
        brief: &Brief,
        axes: Vec<Axis>,
        measures: Option<Bound<'_, PyAny>>,
        columns: Option<Bound<'_, PyAny>>,
        review: Option<Product>,
        severity: Option<Word<Severity>>,
        micelles: Option<(MixedMicelles, String)>,
    ) -> Outcome<Self> {
        let of_brief = axes.iter().map(|axis| axis.of(&brief.0)).collect::<Outcome<Vec<_>>>()?;
        let mut core = tenside::sweep::Sweep::new(&brief.0, of_brief)?;
        let mut columns_of_measures = Vec::new();
        for measure in measures.iter().map(each).collect::<Outcome<Vec<_>>>()?.into_iter().flatten() {
            let (measure, basis) = match measure.extract::<(Bound<'_, PyAny>, Basis)>() {
                Ok((measure, basis)) => (measure.extract::<AMeasure>()?, Some(basis)),
                Err(_) => (measure.extract::<AMeasure>()?, None),
            };
            core = core.with_measure(&measure.0, &basis.clone().map_or(CoreBasis::AsCharged, |basis| basis.0))?;
            columns_of_measures.push(MeasureColumn(Measure(measure.0), basis));
        }
        let severity = severity.map(|severity| severity.0);
        if let Some(product) = &review {
            core = core.with_review(product.book()?.as_ref(), &product.0, severity.unwrap_or(Severity::Information))?;
        } else if severity.is_some() {
            let fault = Fault::new(FaultKind::Missing, "a severity without a review")
                .remedy("say what is reviewed: review=td.Product(...)");
            return Err(fault.into());
        }
        if let Some((mixture, dilution)) = &micelles {
            core = core.with_micelles(&mixture.0, dilution.parse()?)?;
        }
        let severity = severity.map(|severity| severity.to_string());
        let mut sweep = Sweep {
            core,
            axes,
            measures: columns_of_measures,
            review,
            severity,
            micelles,
            chosen: None,
            pool: Pool::default(),
        };
        if let Some(columns) = columns {
            sweep.choose(&each(&columns)?)?;
        }
        Ok(sweep)
    }

    /// How many formulas.
    fn __len__(&self) -> Outcome<usize> {
        length(self.core.rows())
    }

    /// The brief that is swept.
    #[getter]
    fn brief(&self) -> Brief {
        Brief(self.core.brief().clone())
    }

    /// Its axes, the fastest last.
    #[getter]
    fn axes(&self) -> Vec<Axis> {
        self.axes.clone()
    }

    /// The names of its columns.
    #[getter]
    fn columns(&self) -> Vec<String> {
        self.core.names().to_vec()
    }

    /// The units of its columns; empty if there is none.
    #[getter]
    fn units(&self) -> Vec<String> {
        self.core.units()
    }

    /// What the bits of the column "binding" stand for, the lowest first.
    #[getter]
    fn binding_legend(&self) -> Vec<String> {
        self.core.binding_legend().words().to_vec()
    }

    /// What the bits of the column "conflict" stand for, the lowest first.
    #[getter]
    fn conflict_legend(&self) -> Vec<String> {
        self.core.conflict_legend().words().to_vec()
    }

    /// What the bits of the columns "findings", "findings.certain" and "findings.unchecked" stand for, the lowest
    /// first: names of rules. Empty without a review.
    #[getter]
    fn findings_legend(&self) -> Vec<String> {
        self.core.findings_legend().map_or_else(Vec::new, |legend| legend.words().to_vec())
    }

    /// What the bits of the column "use-levels" stand for, the lowest first. Empty without a review.
    #[getter]
    fn use_levels_legend(&self) -> Vec<String> {
        self.core.use_levels_legend().map_or_else(Vec::new, |legend| legend.words().to_vec())
    }

    /// How many bytes its table takes.
    #[getter]
    fn size_in_bytes(&self) -> u128 {
        self.core.bytes()
    }

    /// The brief of a row.
    fn brief_at(&self, row: u64) -> Outcome<Brief> {
        Ok(Brief(self.core.brief_at(row)?))
    }

    /// The exact answer of a row; raises Unanswerable if it has none.
    pub(crate) fn answer(&self, py: Python<'_>, row: u64) -> Outcome<Answer> {
        let answer = watched(py, None, |watch| self.core.brief_at(row)?.watched_by(watch).solve());
        Ok(Answer(or_unanswerable(py, answer)?))
    }

    /// What a row comes to: an Answer, or the Conflict.
    pub(crate) fn outcome(&self, py: Python<'_>, row: u64) -> Outcome<Tried> {
        Ok(Tried::from(watched(py, None, |watch| self.core.brief_at(row)?.watched_by(watch).try_solve())?))
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, pyo3::types::PyTuple>, Keywords<'py>)> {
        let axes = self.axes.iter().map(|axis| axis.clone().into_bound_py_any(py));
        let arguments =
            std::iter::once(self.brief().into_bound_py_any(py)).chain(axes).collect::<PyResult<Vec<_>>>()?;
        let measure = |column: &MeasureColumn| match &column.1 {
            Some(basis) => (column.0.clone(), basis.clone()).into_bound_py_any(py),
            None => column.0.clone().into_bound_py_any(py),
        };
        let mut keywords = Keywords::new();
        keywords.insert(
            "measures",
            self.measures.iter().map(measure).collect::<PyResult<Vec<_>>>()?.into_bound_py_any(py)?,
        );
        keywords.insert("review", self.review.clone().into_bound_py_any(py)?);
        keywords.insert("severity", self.severity.clone().into_bound_py_any(py)?);
        keywords.insert("micelles", self.micelles.clone().into_bound_py_any(py)?);
        keywords.insert("columns", self.chosen.clone().into_bound_py_any(py)?);
        Ok((pyo3::types::PyTuple::new(py, arguments)?, keywords))
    }

    fn __repr__(&self) -> String {
        format!(
            "<Sweep of {:?}: {} rows, {} columns>",
            self.core.brief().title(),
            self.core.rows(),
            self.core.names().len()
        )
    }
}
