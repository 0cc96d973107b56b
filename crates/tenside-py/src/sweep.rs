//! Many formulas at once: a brief, its axes, the columns that are wanted.

use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use tenside::bounds::Quantity;
use tenside::brief::Direction;
use tenside::error::{Fault, FaultKind};
use tenside::measure::Basis as CoreBasis;
use tenside::rule::Severity;
use tenside::sweep::{GIB_ALLOWED, Level, Spare, Table};

use crate::answer::Answer;
use crate::axis::Axis;
use crate::basis::Basis;
use crate::brief::{Brief, Tried};
use crate::export::{Pool, batch, picked};
use crate::failure::Outcome;
use crate::input::{AMeasure, Names, Number, Several, Word, one_by_one};
use crate::measure::Measure;
use crate::output::{Keywords, length};
use crate::product::Product;
use crate::running::{AProgress, run, watched};
use crate::seen::Seen;
use crate::sweep_part::{SeenPart, SweepPart};
use crate::sweep_table::{Rows, SweepTable};
use crate::wanted::Given;

/// A measure, or a measure with the basis it is taken on.
#[derive(Clone, PartialEq)]
struct Asked(Measure, Option<Basis>);

/// A brief varied along axes: one formula for every combination of their values, the last axis fastest. `Brief.sweep` makes one and works it
/// out; one that is kept can stream what is too large to keep.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
/// >>> sweep = td.Sweep(brief.target(td.measure.active_matter, 50), td.axis("wash.capb-30", [1, 2, 3]), td.axis(td.measure.active_matter, range(40, 60)))
/// >>> len(sweep), sweep.columns[:3]
/// (60, ['axis.wash.capb-30', 'axis.target.active matter', 'line.sci-powder'])
#[pyclass(frozen, eq, module = "tenside")]
#[derive(Clone)]
pub(crate) struct Sweep {
    pub(crate) core: tenside::sweep::Sweep,
    axes: Vec<Axis>,
    measures: Vec<Asked>,
    review: Option<Product>,
    severity: Option<String>,
    chosen: Option<Vec<String>>,
    /// The memory of a table that nobody needs any more.
    pub(crate) pool: Pool,
}

impl PartialEq for Sweep {
    fn eq(&self, other: &Self) -> bool {
        self.core == other.core && self.axes == other.axes && self.measures == other.measures && self.review == other.review && self.chosen == other.chosen
    }
}

impl Sweep {
    pub(crate) fn worked_out(slf: &Bound<'_, Self>, progress: Option<AProgress<'_>>, max_gib: Option<u32>) -> Outcome<SweepTable> {
        let Sweep { core, pool, .. } = slf.get();
        let mut spare = pool.lock().map_or_else(|_| Spare::default(), |mut spare| std::mem::take(&mut *spare));
        let gib = max_gib.unwrap_or(GIB_ALLOWED);
        let table: Table = run(slf.py(), core.rows(), progress, |watch| core.clone().watched_by(watch).table_over(gib, Level::best(), &mut spare))?;
        Ok(SweepTable::new(slf.clone().unbind(), batch(table, pool)?, Rows::All))
    }

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

    /// Columns with the way that is better.
    pub(crate) fn ranked(&self, minimise: Option<Bound<'_, PyAny>>, maximise: Option<Bound<'_, PyAny>>) -> Outcome<Vec<(String, Direction)>> {
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
    /// `measures` are columns besides those that requirements and objective name: measures, or pairs of a measure and a basis. With `review`, a
    /// Product, there are columns of what a review of each row's formula says: "findings", "findings.certain", "findings.unchecked" and
    /// "use-levels", codes of rules at least as grave as `severity` ("information") and of lines. `columns` leaves only these, by name.
    #[new]
    #[pyo3(signature = (brief, *axes: "Axis", measures: "Iterable[Measure | tuple[Measure, Basis]] | None"=None, columns=None, review=None, severity=None))]
    pub(crate) fn new(
        brief: &Brief,
        axes: Vec<Axis>,
        measures: Option<Bound<'_, PyAny>>,
        columns: Option<Several<String>>,
        review: Option<Product>,
        severity: Option<Word<Severity>>,
    ) -> Outcome<Self> {
        let of_brief = axes.iter().map(|axis| axis.of(&brief.0)).collect::<Outcome<Vec<_>>>()?;
        let mut core = tenside::sweep::Sweep::new(&brief.0, of_brief)?;
        let mut asked = Vec::new();
        for measure in measures.iter().map(each).collect::<Outcome<Vec<_>>>()?.into_iter().flatten() {
            let (measure, basis) = match measure.extract::<(Bound<'_, PyAny>, Basis)>() {
                Ok((measure, basis)) => (measure.extract::<AMeasure>()?, Some(basis)),
                Err(_) => (measure.extract::<AMeasure>()?, None),
            };
            core = core.with_measure(&measure.0, &basis.clone().map_or(CoreBasis::AsCharged, |basis| basis.0))?;
            asked.push(Asked(Measure(measure.0), basis));
        }
        let severity = severity.map(|severity| severity.0);
        if let Some(product) = &review {
            core = core.with_review(product.0.book()?.as_ref(), &product.0.product, severity.unwrap_or(Severity::Information))?;
        } else if severity.is_some() {
            let fault = Fault::new(FaultKind::Missing, "a severity without a review").remedy("say what is reviewed: review=td.Product(...)");
            return Err(fault.into());
        }
        let columns = columns.map(|columns| columns.0);
        if let Some(columns) = &columns {
            core = core.with_columns(&columns.iter().map(String::as_str).collect::<Vec<_>>())?;
        }
        let severity = severity.map(|severity| severity.to_string());
        Ok(Sweep { core, axes, measures: asked, review, severity, chosen: columns, pool: Pool::default() })
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

    /// The units of its columns; empty where there is none.
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

    /// What the bits of the columns "findings", "findings.certain" and "findings.unchecked" stand for, the lowest first: names of rules. Empty without
    /// a review.
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

    /// The exact answer of a row; raises Unanswerable where it has none.
    pub(crate) fn answer(&self, py: Python<'_>, row: u64) -> Outcome<Answer> {
        Ok(Answer(watched(py, None, |watch| self.core.brief_at(row)?.watched_by(watch).solve())?))
    }

    /// What a row comes to: an Answer, or the Conflict.
    pub(crate) fn outcome(&self, py: Python<'_>, row: u64) -> Outcome<Tried> {
        Ok(Tried::from(watched(py, None, |watch| self.core.brief_at(row)?.watched_by(watch).try_solve())?))
    }

    /// Every row worked out and kept. A table of more than `max_gib` GiB (8) is refused. `progress` is True for a bar, if tqdm is there, or
    /// is called with rows done and rows in all. A sweep that is kept works its next table out in the memory of the last, once nobody needs that
    /// any more, which takes less time.
    #[pyo3(signature = (*, progress=None, max_gib=None))]
    fn table(slf: &Bound<'_, Self>, progress: Option<AProgress<'_>>, max_gib: Option<u32>) -> Outcome<SweepTable> {
        Sweep::worked_out(slf, progress, max_gib)
    }

    /// Some rows worked out and kept.
    #[pyo3(signature = (rows: "Iterable[int]"))]
    fn pick(slf: &Bound<'_, Self>, rows: &Bound<'_, PyAny>) -> Outcome<SweepTable> {
        let rows = one_by_one(rows, Quantity::PickedRows, |row| Ok(row.extract::<u64>()?))?;
        let core = &slf.get().core;
        let table = run(slf.py(), rows.len() as u64, None, |watch| core.clone().watched_by(watch).pick(&rows, Level::best()))?;
        Ok(SweepTable::new(slf.clone().unbind(), batch(table, &slf.get().pool)?, Rows::Each(rows)))
    }

    /// Every row worked out, and kept of it in constant memory: how many there are, the `best` rows by a column, the Pareto front of columns
    /// to `minimise` and to `maximise`, histograms by column as (from, to, bins), and summaries along every axis. Columns are named, or are
    /// measures. `only` keeps rows that meet all its comparisons, as ("water", "<", 9); rows without formula are never kept. `without` keeps rows of
    /// which these columns of a review say nothing, such as "findings.certain".
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    /// >>> brief = brief.target(td.measure.active_matter, 50).at_most(td.measure.water, 30)
    /// >>> sweep = td.Sweep(brief, td.axis("wash.capb-30", range(1, 15)))
    /// >>> seen = sweep.stream(only=[(td.measure.water, "<", 9)], best=(2, "line.capb-30"), maximise_best=True)
    /// >>> seen.rows, seen.kept, [kept.row for kept in seen.best]
    /// (14, 1, [0])
    #[pyo3(signature = (*, only: "Iterable[tuple[str | Measure, str, SupportsFloat | str]] | None"=None, without=None, best: "tuple[int, str | Measure] | None"=None, maximise_best=false,
        minimise: "str | Measure | Iterable[str | Measure] | None"=None, maximise: "str | Measure | Iterable[str | Measure] | None"=None,
        histograms: "Mapping[str | Measure, tuple[float, float, int]] | None"=None, summaries: "str | Measure | Iterable[str | Measure] | None"=None,
        progress=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn stream(
        &self,
        py: Python<'_>,
        only: Option<Several<(Bound<'_, PyAny>, String, Number)>>,
        without: Option<Names>,
        best: Option<(usize, Bound<'_, PyAny>)>,
        maximise_best: bool,
        minimise: Option<Bound<'_, PyAny>>,
        maximise: Option<Bound<'_, PyAny>>,
        histograms: Option<Bound<'_, PyAny>>,
        summaries: Option<Bound<'_, PyAny>>,
        progress: Option<AProgress<'_>>,
    ) -> Outcome<Seen> {
        let stream = Given { only, without, best, maximise_best, minimise, maximise, histograms, summaries }.of(self)?.stream()?;
        let seen = run(py, self.core.rows(), progress, |watch| self.core.clone().watched_by(watch).stream(&stream))?;
        Ok(Seen::new(&self.core, seen, &stream))
    }

    /// The sweep in so many parts of consecutive rows, as even as may be: fewer where there are fewer rows.
    fn parts(slf: &Bound<'_, Self>, count: u64) -> Outcome<Vec<SweepPart>> {
        let ranges = slf.get().core.parts(count)?;
        Ok(ranges.into_iter().map(|rows| SweepPart::over(slf.clone().unbind(), rows)).collect())
    }

    /// What the parts of this sweep gathered, in whatever order they come, as one: what `stream` would have kept, bit for bit. Rows that no
    /// part has, or two, are refused.
    fn join(&self, py: Python<'_>, parts: Several<Py<SeenPart>>) -> Outcome<Seen> {
        let parts = parts.0;
        let wanted = parts.first().map(|part| part.get().wishes().clone()).unwrap_or_default();
        let stream = wanted.stream()?;
        let gathered = parts.iter().map(|part| part.get().of(self, &wanted)).collect::<Outcome<Vec<_>>>()?;
        let seen = run(py, self.core.rows(), None, |watch| self.core.clone().watched_by(watch).join_parts(&stream, gathered))?;
        Ok(Seen::new(&self.core, seen, &stream))
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, pyo3::types::PyTuple>, Keywords<'py>)> {
        let axes = self.axes.iter().map(|axis| axis.clone().into_bound_py_any(py));
        let arguments = std::iter::once(self.brief().into_bound_py_any(py)).chain(axes).collect::<PyResult<Vec<_>>>()?;
        let measure = |asked: &Asked| match &asked.1 {
            Some(basis) => (asked.0.clone(), basis.clone()).into_bound_py_any(py),
            None => asked.0.clone().into_bound_py_any(py),
        };
        let mut keywords = Keywords::new();
        keywords.insert("measures", self.measures.iter().map(measure).collect::<PyResult<Vec<_>>>()?.into_bound_py_any(py)?);
        keywords.insert("review", self.review.clone().into_bound_py_any(py)?);
        keywords.insert("severity", self.severity.clone().into_bound_py_any(py)?);
        keywords.insert("columns", self.chosen.clone().into_bound_py_any(py)?);
        Ok((pyo3::types::PyTuple::new(py, arguments)?, keywords))
    }

    fn __repr__(&self) -> String {
        format!("<Sweep of {:?}: {} rows, {} columns>", self.core.brief().title(), self.core.rows(), self.core.names().len())
    }
}

#[pymethods]
impl Brief {
    /// Every combination of the axes' values worked out, the last axis fastest; see `Sweep` for what is too large to keep. The columns are the
    /// axes, the lines, the measures that requirements and objective name, `measures`, the objective, whether there is a formula, what binds
    /// and what conflicts, and what a `review` says, as for `Sweep`; or `columns` of these.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    /// >>> brief = brief.target(td.measure.active_matter, 50).at_most(td.measure.water, 9)
    /// >>> brief.sweep(td.axis("wash.capb-30", [0.5, 1, 8]), td.axis(td.measure.active_matter, range(50, 63)))
    /// <SweepTable of "Wash": 39 rows, 10 columns>
    /// >>> shampoo = td.Product(market="EU", use="shampoo-bar", on="2026-11-24")
    /// >>> table = brief.fix("sodium-benzoate", 1).sweep(td.axis("sodium-benzoate", [1, 4]), review=shampoo, severity="error")
    /// >>> [table.read_findings(code) for code in table.column("findings")]
    /// [[], ['annex-v-1-rinse-off']]
    #[pyo3(signature = (*axes: "Axis", measures: "Iterable[Measure | tuple[Measure, Basis]] | None"=None, columns=None,
        review=None, severity=None, progress=None, max_gib=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn sweep(
        &self,
        py: Python<'_>,
        axes: Vec<Axis>,
        measures: Option<Bound<'_, PyAny>>,
        columns: Option<Several<String>>,
        review: Option<Product>,
        severity: Option<Word<Severity>>,
        progress: Option<AProgress<'_>>,
        max_gib: Option<u32>,
    ) -> Outcome<SweepTable> {
        Sweep::worked_out(&Bound::new(py, Sweep::new(self, axes, measures, columns, review, severity)?)?, progress, max_gib)
    }
}

/// Rows of a batch as a table of their own.
pub(crate) fn subset(table: &SweepTable, py: Python<'_>, places: &[usize]) -> Outcome<SweepTable> {
    let rows = places.iter().map(|place| table.row_of(*place)).collect();
    Ok(SweepTable::new(table.sweep_of(py), picked(table.batch(), places)?, Rows::Each(rows)))
}
