//! A sweep worked out, as Python has it.

use std::ops::Range;

use arrow_array::{ArrayRef, RecordBatch};
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::IntoPyDict;
use tenside::bounds::Quantity;
use tenside::brief::Direction;
use tenside::error::{Fault, FaultKind};
use tenside::rule::Severity;
use tenside::sweep::{GIB_ALLOWED, Legend, Level, Spare, Table, front_of};

use crate::brief::Brief;
use crate::convert::arrow::{batch, cell, flag, numbers, picked};
use crate::convert::failure::Outcome;
use crate::convert::input::{APath, Number, one_by_one};
use crate::convert::page::{Page, WIDTH};
use crate::convert::running::{AProgress, run, watched};
use crate::convert::word::Word;
use crate::product::Product;
use crate::solve::answer::Answer;
use crate::solve::outcome::Tried;
use crate::sweep::Sweep;
use crate::sweep::axis::Axis;
use crate::sweep::page::side_by_side;
use crate::sweep::part::SweepPart;
use crate::trial::micelle::MixedMicelles;

/// Formulas by the row, what is known of them by the column. Its names, units and codes are those of the sweep. Any
/// library that takes Arrow takes it without a copy: `polars.DataFrame(table)`, `pyarrow.table(table)`, DuckDB by the
/// name of the variable.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
/// >>> table = brief.target(td.measure.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2, 3]))
/// >>> table.column("line.kaolin")
/// [33.333333333333336, 27.083333333333332, 21.568627450980394]
#[pyclass(frozen, module = "tenside.sweep")]
pub(crate) struct SweepTable {
    sweep: Py<Sweep>,
    batch: RecordBatch,
    rows: Rows,
    /// What the rows are the front of; empty if they are none.
    ranked: Vec<(String, Direction)>,
}

/// Which rows of its sweep a table has.
enum Rows {
    All,
    /// Consecutive ones.
    Run(Range<u64>),
    Each(Vec<u64>),
}

arrow!(SweepTable, |it, _py| it.batch);

/// What a code says; a bit that stands for nothing is refused, not passed over.
fn read(legend: &Legend, code: u64) -> Outcome<Vec<String>> {
    if code.checked_shr(legend.words().len() as u32).is_some_and(|rest| rest != 0) {
        let fault = Fault::new(FaultKind::OutOfRange, "the code has bits that stand for nothing here").value(code);
        return Err(fault.remedy("read a code by the table that it stands in").into());
    }
    Ok(legend.read(code).into_iter().map(String::from).collect())
}

fn not_asked(column: &str) -> Fault {
    let fault = Fault::new(FaultKind::Missing, "no review was asked for, so that there are no such codes");
    fault.value(format!("{column:?}")).remedy("sweep with `review=`")
}

impl SweepTable {
    fn new(sweep: Py<Sweep>, batch: RecordBatch, rows: Rows) -> Self {
        SweepTable { sweep, batch, rows, ranked: Vec::new() }
    }

    fn page(&self, py: Python<'_>) -> Outcome<Page> {
        side_by_side(py, &self.sweep.get().core, &self.batch)
    }

    /// The columns that a front is better in, one way.
    fn ranked_by(&self, wanted: Direction) -> Vec<String> {
        self.ranked.iter().filter(|(_, direction)| *direction == wanted).map(|(column, _)| column.clone()).collect()
    }

    /// The row of the sweep at a place.
    fn row_of(&self, place: usize) -> u64 {
        match &self.rows {
            Rows::All => place as u64,
            Rows::Run(rows) => rows.start + place as u64,
            Rows::Each(rows) => rows[place],
        }
    }

    fn place(&self, index: isize) -> Outcome<usize> {
        let count = self.batch.num_rows();
        let from_end = if index < 0 { index + isize::try_from(count).unwrap_or(isize::MAX) } else { index };
        let place = usize::try_from(from_end).ok().filter(|place| *place < count);
        place.ok_or_else(|| {
            Fault::new(FaultKind::OutOfRange, "the table has no such row")
                .value(index)
                .allowed(format!("0 to {}", count.saturating_sub(1)))
                .into()
        })
    }

    /// Rows of it as a table of their own.
    fn subset(&self, py: Python<'_>, places: &[usize]) -> Outcome<SweepTable> {
        let rows = places.iter().map(|place| self.row_of(*place)).collect();
        Ok(SweepTable::new(self.sweep.clone_ref(py), picked(&self.batch, places)?, Rows::Each(rows)))
    }

    /// A column, named or a measure's.
    fn array(&self, column: &Bound<'_, PyAny>) -> Outcome<&ArrayRef> {
        let sweep = self.sweep.get();
        Ok(self.batch.column(sweep.core.column(&sweep.column(column)?)?))
    }

    /// Which rows have a formula, where that is known.
    fn feasible(&self) -> Option<&ArrayRef> {
        self.sweep.get().core.names().iter().position(|name| name == "feasible").map(|place| self.batch.column(place))
    }

    /// The values of a column of numbers and whether each is there.
    fn numbers<'t>(&'t self, column: &Bound<'_, PyAny>) -> Outcome<(&'t [f64], impl Fn(usize) -> bool + use<'t>)> {
        let name = self.sweep.get().column(column)?;
        self.numbers_of(&name)
    }

    fn numbers_of<'t>(&'t self, name: &str) -> Outcome<(&'t [f64], impl Fn(usize) -> bool + use<'t>)> {
        let array = self.batch.column(self.sweep.get().core.column(name)?);
        Ok(numbers(array).ok_or_else(|| {
            Fault::new(FaultKind::Unsupported, "the column holds no numbers").at(format!("column {name:?}"))
        })?)
    }

    /// The places of the rows by a column, and how many of them have a value in it: those without stand last.
    fn sorted(&self, column: &Bound<'_, PyAny>, descending: bool) -> Outcome<(Vec<usize>, usize)> {
        let (values, holds) = self.numbers(column)?;
        let (mut places, without): (Vec<usize>, Vec<usize>) = (0..values.len()).partition(|place| holds(*place));
        places.sort_by(|left, right| {
            let order = values[*left].total_cmp(&values[*right]);
            if descending { order.reverse() } else { order }
        });
        let with_value = places.len();
        places.extend(without);
        Ok((places, with_value))
    }

    fn drawn<'py>(
        slf: &Bound<'py, Self>,
        picture: &str,
        arguments: impl pyo3::call::PyCallArgs<'py>,
        keywords: &[(&str, Bound<'py, PyAny>)],
    ) -> PyResult<Bound<'py, PyAny>> {
        let keywords = keywords.into_py_dict(slf.py())?;
        slf.py().import("tenside.plot")?.getattr(picture)?.call(arguments, Some(&keywords))
    }
}

#[pymethods]
impl SweepTable {
    /// How many rows.
    fn __len__(&self) -> usize {
        self.batch.num_rows()
    }

    /// The sweep.
    #[getter]
    fn sweep(&self, py: Python<'_>) -> Py<Sweep> {
        self.sweep.clone_ref(py)
    }

    /// The names of its columns.
    #[getter]
    fn columns(&self) -> Vec<String> {
        self.sweep.get().core.names().to_vec()
    }

    /// Which rows of the sweep these are.
    #[getter]
    fn rows(&self) -> Vec<u64> {
        (0..self.batch.num_rows()).map(|place| self.row_of(place)).collect()
    }

    /// The cells of a column, named or a measure's; None if there is nothing.
    #[pyo3(signature = (column: "str | Measure"))]
    fn column<'py>(&self, py: Python<'py>, column: &Bound<'py, PyAny>) -> Outcome<Vec<Bound<'py, PyAny>>> {
        let array = self.array(column)?;
        Ok((0..self.batch.num_rows()).map(|row| cell(py, array, row)).collect::<PyResult<_>>()?)
    }

    /// The name of a column that is named or a measure's.
    #[pyo3(signature = (column: "str | Measure"))]
    fn column_name(&self, column: &Bound<'_, PyAny>) -> Outcome<String> {
        self.sweep.get().column(column)
    }

    /// A row as cells by column.
    /// `index` is the row's, from 0.
    fn row<'py>(&self, py: Python<'py>, index: isize) -> Outcome<indexmap::IndexMap<String, Bound<'py, PyAny>>> {
        let place = self.place(index)?;
        let cells = self
            .columns()
            .into_iter()
            .zip(self.batch.columns())
            .map(|(name, array)| Ok((name, cell(py, array, place)?)));
        Ok(cells.collect::<PyResult<_>>()?)
    }

    /// The brief of a row.
    /// `index` is the row's, from 0.
    fn brief(&self, index: isize) -> Outcome<Brief> {
        Ok(Brief(self.sweep.get().core.brief_at(self.row_of(self.place(index)?))?))
    }

    /// The exact answer of a row, with its proof and grid formula; raises Unanswerable if there is none.
    /// `index` is the row's, from 0.
    fn answer(&self, py: Python<'_>, index: isize) -> Outcome<Answer> {
        self.sweep.get().answer(py, self.row_of(self.place(index)?))
    }

    /// What a row comes to: an Answer, or the Conflict.
    /// `index` is the row's, from 0.
    fn outcome(&self, py: Python<'_>, index: isize) -> Outcome<Tried> {
        self.sweep.get().outcome(py, self.row_of(self.place(index)?))
    }

    /// What a code of the column "binding" says.
    fn read_binding(&self, code: u64) -> Outcome<Vec<String>> {
        read(self.sweep.get().core.binding_legend(), code)
    }

    /// What a code of the column "conflict" says.
    fn read_conflict(&self, code: u64) -> Outcome<Vec<String>> {
        read(self.sweep.get().core.conflict_legend(), code)
    }

    /// The names of the rules in a code of the columns "findings", "findings.certain" and "findings.unchecked". Raises
    /// Missing where no review was asked for.
    fn read_findings(&self, code: u64) -> Outcome<Vec<String>> {
        let legend = self.sweep.get().core.findings_legend().ok_or_else(|| not_asked("findings"))?;
        read(legend, code)
    }

    /// What a code of the column "use-levels" says. Raises Missing where no review was asked for.
    fn read_use_levels(&self, code: u64) -> Outcome<Vec<String>> {
        let legend = self.sweep.get().core.use_levels_legend().ok_or_else(|| not_asked("use-levels"))?;
        read(legend, code)
    }

    /// The rows that no other row is as good as in every one of these columns and better in one.
    /// Better is less in the columns of `minimise`, more in those of `maximise`.
    #[pyo3(signature = (*, minimise: "str | Measure | Iterable[str | Measure] | None"=None, maximise: "str | Measure | Iterable[str | Measure] | None"=None))]
    fn pareto(
        &self,
        py: Python<'_>,
        minimise: Option<Bound<'_, PyAny>>,
        maximise: Option<Bound<'_, PyAny>>,
    ) -> Outcome<Self> {
        let ranked = self.sweep.get().ranked(minimise, maximise)?;
        let mut columns: Vec<(&[f64], Direction)> = Vec::new();
        let mut held = Vec::new();
        for (name, direction) in &ranked {
            let (values, holds) = self.numbers_of(name)?;
            columns.push((values, *direction));
            held.push(holds);
        }
        if columns.is_empty() {
            return Err(Fault::new(FaultKind::Missing, "no column to minimise or maximise is named")
                .allowed("minimise, maximise or both")
                .into());
        }
        // A row without formula is on no front, not even by what was swept.
        let feasible = self.feasible();
        let has = |row: usize| feasible.is_none_or(|flags| flag(flags, row));
        let holds = |row: usize| has(row) && held.iter().all(|holds| holds(row));
        let places = watched(py, None, |watch| front_of(&columns, self.batch.num_rows(), holds, watch.as_ref()))?;
        let mut front = self.subset(py, &places)?;
        front.ranked = ranked;
        Ok(front)
    }

    /// The rows in which a column has at least, at most or exactly so much; rows in which it has nothing are left out.
    /// They are named by `at_least`, `at_most` and `equal`; of the first two the nearest float counts, as in a stream.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    /// >>> table = brief.target(td.measure.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2, 3]))
    /// >>> table.filter("line.kaolin", at_least=25).rows, table.filter("feasible", equal=False).rows
    /// ([0, 1], [])
    #[pyo3(signature = (column: "str | Measure", *, at_least=None, at_most=None, equal: "bool | SupportsFloat | str | None"=None))]
    fn filter(
        &self,
        py: Python<'_>,
        column: &Bound<'_, PyAny>,
        at_least: Option<Number>,
        at_most: Option<Number>,
        equal: Option<Bound<'_, PyAny>>,
    ) -> Outcome<Self> {
        if at_least.is_none() && at_most.is_none() && equal.is_none() {
            let fault = Fault::new(FaultKind::Missing, "nothing is said of the column");
            return Err(fault.allowed("at_least, at_most or both, or equal").into());
        }
        let array = self.array(column)?;
        let (least, most) = (at_least.map(|number| number.0.to_f64()), at_most.map(|number| number.0.to_f64()));
        let mut places = Vec::new();
        if least.is_some() || most.is_some() {
            let (values, holds) = self.numbers(column)?;
            let within = |value: f64| least.is_none_or(|least| value >= least) && most.is_none_or(|most| value <= most);
            places.extend((0..values.len()).filter(|place| holds(*place) && within(values[*place])));
        } else {
            places.extend(0..self.batch.num_rows());
        }
        if let Some(equal) = equal {
            let mut same = Vec::new();
            for place in places {
                let cell = cell(py, array, place)?;
                if !cell.is_none() && cell.eq(&equal)? {
                    same.push(place);
                }
            }
            places = same;
        }
        self.subset(py, &places)
    }

    /// The rows by a column, from its lowest value up; rows in which it has nothing come last, rows in which it is
    /// equal as they stood.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    /// >>> table = brief.target(td.measure.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2, 3]))
    /// >>> table.sort("line.kaolin").rows, table.sort("line.kaolin", descending=True).rows
    /// ([2, 1, 0], [0, 1, 2])
    #[pyo3(signature = (column: "str | Measure", *, descending=false))]
    fn sort(&self, py: Python<'_>, column: &Bound<'_, PyAny>, descending: bool) -> Outcome<Self> {
        self.subset(py, &self.sorted(column, descending)?.0)
    }

    /// The best rows by one column, the best first; rows without a formula are none of them.
    /// `count` is how many; the column is named by `minimise` or `maximise`.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    /// >>> table = brief.target(td.measure.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2, 3]))
    /// >>> table.best(1, minimise="line.kaolin").column("axis.wash.capb-30")
    /// [3.0]
    #[pyo3(signature = (count=5, *, minimise: "str | Measure | None"=None, maximise: "str | Measure | None"=None))]
    fn best(
        &self,
        py: Python<'_>,
        count: usize,
        minimise: Option<Bound<'_, PyAny>>,
        maximise: Option<Bound<'_, PyAny>>,
    ) -> Outcome<Self> {
        let (column, descending) = match (minimise, maximise) {
            (Some(column), None) => (column, false),
            (None, Some(column)) => (column, true),
            _ => {
                return Err(Fault::new(FaultKind::Missing, "best by one column")
                    .allowed("minimise=, or maximise=")
                    .into());
            }
        };
        let (places, with_value) = self.sorted(&column, descending)?;
        let feasible = self.feasible();
        let has = |row: &usize| feasible.is_none_or(|flags| flag(flags, *row));
        let best: Vec<usize> = places.into_iter().take(with_value).filter(has).take(count).collect();
        self.subset(py, &best)
    }

    /// What these rows are the front of, as columns to minimise and to maximise; both empty if they are none.
    #[getter]
    fn front_of(&self) -> (Vec<String>, Vec<String>) {
        (self.ranked_by(Direction::Minimise), self.ranked_by(Direction::Maximise))
    }

    /// A picture of a front by two columns, over the rows of the table that it is the front of if that is given as
    /// `among`; gives the matplotlib axes. Needs the extra `plot`; see `tenside.plot.front`. `ax` is the picture's
    /// place, a new one unless given.
    #[pyo3(signature = (*, among: "SweepTable | None"=None, ax: "Any"=None) -> "Any")]
    fn plot<'py>(
        slf: &Bound<'py, Self>,
        among: Option<Bound<'py, Self>>,
        ax: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let keywords = [("among", among.into_bound_py_any(slf.py())?), ("ax", ax.into_bound_py_any(slf.py())?)];
        Self::drawn(slf, "front", (slf,), &keywords)
    }

    /// A map of a column over three surfactants that share a split, by the lattice axis of the sweep; gives the
    /// matplotlib axes. Needs the extra `plot`; see `tenside.plot.ternary`. `at` states the values of the other axes;
    /// `ax` is the picture's place, a new one unless given.
    #[pyo3(signature = (column: "str | Measure", *, split: "str | None"=None, at: "Mapping[str, float | str] | None"=None, ax: "Any"=None) -> "Any")]
    fn ternary<'py>(
        slf: &Bound<'py, Self>,
        column: &Bound<'py, PyAny>,
        split: Option<&str>,
        at: Option<Bound<'py, PyAny>>,
        ax: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        let keywords = [
            ("split", split.into_bound_py_any(py)?),
            ("at", at.into_bound_py_any(py)?),
            ("ax", ax.into_bound_py_any(py)?),
        ];
        Self::drawn(slf, "ternary", (slf, column), &keywords)
    }

    /// Bands across parallel scales, one a column: the rows in as many groups by the first column. Gives the matplotlib
    /// axes. Needs the extra `plot`; see `tenside.plot.bands`. `columns` are two or more, named or a measure's; `ax` is
    /// the picture's place, a new one unless given.
    #[pyo3(signature = (columns: "Iterable[str | Measure]", *, groups=3, ax: "Any"=None) -> "Any")]
    fn bands<'py>(
        slf: &Bound<'py, Self>,
        columns: &Bound<'py, PyAny>,
        groups: usize,
        ax: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let keywords = [("groups", groups.into_bound_py_any(slf.py())?), ("ax", ax.into_bound_py_any(slf.py())?)];
        Self::drawn(slf, "bands", (slf, columns), &keywords)
    }

    /// Writes a Parquet file by pyarrow or polars, whole or not at all.
    /// `path` is the file's.
    fn write_parquet(slf: &Bound<'_, Self>, path: APath<'_>) -> PyResult<()> {
        slf.py().import("tenside.handover")?.call_method1("write_parquet", (slf, path.0)).map(drop)
    }

    /// Writes a CSV file by pyarrow or polars, whole or not at all.
    /// `path` is the file's.
    fn write_csv(slf: &Bound<'_, Self>, path: APath<'_>) -> PyResult<()> {
        slf.py().import("tenside.handover")?.call_method1("write_csv", (slf, path.0)).map(drop)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, Bound<'py, pyo3::types::PyTuple>)> {
        let sweep = self.sweep.bind(py);
        let class = sweep.get_type();
        let tuple = |arguments: Vec<Bound<'py, PyAny>>| pyo3::types::PyTuple::new(py, arguments);
        match &self.rows {
            Rows::All => Ok((class.getattr("table")?, tuple(vec![sweep.clone().into_any()])?)),
            Rows::Run(rows) => {
                let part = Bound::new(py, SweepPart::over(self.sweep.clone_ref(py), rows.clone()))?.into_any();
                Ok((part.get_type().getattr("table")?, tuple(vec![part])?))
            }
            Rows::Each(rows) if self.ranked.is_empty() => {
                Ok((class.getattr("pick")?, tuple(vec![sweep.clone().into_any(), rows.into_pyobject(py)?.into_any()])?))
            }
            // The front of a front is itself.
            Rows::Each(rows) => {
                let columns = [Direction::Minimise, Direction::Maximise]
                    .map(|direction| self.ranked_by(direction).into_bound_py_any(py));
                let [minimise, maximise] = columns;
                let arguments =
                    vec![sweep.clone().into_any(), rows.into_pyobject(py)?.into_any(), minimise?, maximise?];
                Ok((py.import("tenside.handover")?.getattr("front")?, tuple(arguments)?))
            }
        }
    }

    fn _repr_html_(&self, py: Python<'_>) -> Outcome<String> {
        Ok(self.page(py)?.0.html())
    }

    fn __str__(&self, py: Python<'_>) -> Outcome<String> {
        Ok(self.page(py)?.0.text(WIDTH))
    }

    fn __repr__(&self) -> String {
        let core = &self.sweep.get().core;
        format!(
            "<SweepTable of {:?}: {} rows, {} columns>",
            core.brief().title(),
            self.batch.num_rows(),
            core.names().len()
        )
    }
}

impl Sweep {
    fn worked_out(slf: &Bound<'_, Self>, progress: Option<AProgress<'_>>, max_gib: Option<u32>) -> Outcome<SweepTable> {
        let Sweep { core, pool, .. } = slf.get();
        let mut spare = pool.lock().map_or_else(|_| Spare::default(), |mut spare| std::mem::take(&mut *spare));
        let gib = max_gib.unwrap_or(GIB_ALLOWED);
        let table: Table = run(slf.py(), core.rows(), progress, |watch| {
            core.clone().watched_by(watch).table_over(gib, Level::best(), &mut spare)
        })?;
        Ok(SweepTable::new(slf.clone().unbind(), batch(table, pool)?, Rows::All))
    }
}

#[pymethods]
impl Sweep {
    /// Every row worked out and kept. A table of more than `max_gib` GiB (8) is refused. `progress` is True for a bar,
    /// if tqdm is there, or is called with rows done and rows in all. A sweep that is kept works its next table out in
    /// the memory of the last, once nobody needs that any more, which takes less time.
    #[pyo3(signature = (*, progress=None, max_gib=None))]
    fn table(slf: &Bound<'_, Self>, progress: Option<AProgress<'_>>, max_gib: Option<u32>) -> Outcome<SweepTable> {
        Sweep::worked_out(slf, progress, max_gib)
    }

    /// Some rows worked out and kept.
    #[pyo3(signature = (rows: "Iterable[int]"))]
    fn pick(slf: &Bound<'_, Self>, rows: &Bound<'_, PyAny>) -> Outcome<SweepTable> {
        let rows = one_by_one(rows, Quantity::PickedRows, |row| Ok(row.extract::<u64>()?))?;
        let core = &slf.get().core;
        let table =
            run(slf.py(), rows.len() as u64, None, |watch| core.clone().watched_by(watch).pick(&rows, Level::best()))?;
        Ok(SweepTable::new(slf.clone().unbind(), batch(table, &slf.get().pool)?, Rows::Each(rows)))
    }
}

#[pymethods]
impl SweepPart {
    /// The rows worked out and kept, as `Sweep.table` does. `progress` is True for a bar, or called with rows done and
    /// rows in all; `max_gib` is how much memory the table may take.
    #[pyo3(signature = (*, progress=None, max_gib=None))]
    pub(crate) fn table(
        &self,
        py: Python<'_>,
        progress: Option<AProgress<'_>>,
        max_gib: Option<u32>,
    ) -> Outcome<SweepTable> {
        let Sweep { core, pool, .. } = self.sweep.get();
        let gib = max_gib.unwrap_or(GIB_ALLOWED);
        let table = run(py, self.end - self.first, progress, |watch| {
            core.clone().watched_by(watch).part(self.first..self.end, gib, Level::best())
        })?;
        Ok(SweepTable::new(self.sweep.clone_ref(py), batch(table, pool)?, Rows::Run(self.first..self.end)))
    }
}

#[pymethods]
impl Brief {
    /// Every combination of the axes' values worked out, the last axis fastest; see `Sweep` for what is too large to
    /// keep. The columns are the axes, the lines, the measures that requirements and objective name, `measures`, the
    /// objective, whether there is a formula, what binds and what conflicts, and what a `review` says (of `severity`),
    /// and mixed `micelles`, as for `Sweep`; or `columns` of these. `progress` is True for a bar, or called with rows
    /// done and rows in all; `max_gib` is how much memory the table may take.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    /// >>> brief = brief.target(td.measure.active_matter, 50).at_most(td.measure.water, 9)
    /// >>> brief.sweep(td.axis("wash.capb-30", [0.5, 1, 8]), td.axis(td.measure.active_matter, range(50, 63)))
    /// <SweepTable of "Wash": 39 rows, 10 columns>
    /// >>> shampoo = td.Product(market="EU", use="shampoo-bar", on="2026-11-24")
    /// >>> brief = brief.fix("sodium-benzoate", 1).with_purposes("sodium-benzoate", "preservative")
    /// >>> table = brief.sweep(td.axis("sodium-benzoate", [1, 4]), review=shampoo, severity="error")
    /// >>> [table.read_findings(code) for code in table.column("findings")]
    /// [[], ['annex-v-1-rinse-off']]
    /// >>> brief.sweep(td.axis("sodium-benzoate", [1, 4]), columns=["line.kaolin", td.measure.solids]).columns
    /// ['line.kaolin', 'solids']
    #[pyo3(signature = (*axes: "Axis", measures: "Iterable[Measure | tuple[Measure, Basis]] | None"=None,
        columns: "str | Measure | Iterable[str | Measure] | None"=None, review=None, severity=None, micelles=None, progress=None, max_gib=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn sweep(
        &self,
        py: Python<'_>,
        axes: Vec<Axis>,
        measures: Option<Bound<'_, PyAny>>,
        columns: Option<Bound<'_, PyAny>>,
        review: Option<Product>,
        severity: Option<Word<Severity>>,
        micelles: Option<(MixedMicelles, String)>,
        progress: Option<AProgress<'_>>,
        max_gib: Option<u32>,
    ) -> Outcome<SweepTable> {
        Sweep::worked_out(
            &Bound::new(py, Sweep::new(self, axes, measures, columns, review, severity, micelles)?)?,
            progress,
            max_gib,
        )
    }
}
