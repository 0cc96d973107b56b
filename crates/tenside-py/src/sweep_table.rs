//! A sweep worked out, as Python has it.

use std::ops::Range;

use arrow_array::RecordBatch;
use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{IntoPyDict, PyCapsule};
use tenside::brief::Direction;
use tenside::error::{Fault, FaultKind};
use tenside::sweep::front_of;

use crate::answer::Answer;
use crate::brief::{Brief, Tried};
use crate::export::{c_schema, cell, numbers, stream};
use crate::failure::Outcome;
use crate::input::APath;
use crate::running::watched;
use crate::sweep::{Sweep, subset};
use crate::sweep_part::SweepPart;

/// Formulas by the row, what is known of them by the column. Its names, units and codes are those of the sweep. Any library that takes Arrow
/// takes it without a copy: `polars.DataFrame(table)`, `pyarrow.table(table)`, DuckDB by the name of the variable.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
/// >>> table = brief.target(td.measure.active_matter, 50).sweep(td.axis("wash.capb-30", [1, 2, 3]))
/// >>> table.column("line.kaolin")
/// [33.3333, 27.0834, 21.5686]
#[pyclass(frozen, module = "tenside")]
pub(crate) struct SweepTable {
    sweep: Py<Sweep>,
    batch: RecordBatch,
    rows: Rows,
    /// What the rows are the front of; empty where they are none.
    ranked: Vec<(String, Direction)>,
}

/// Which rows of its sweep a table has.
pub(crate) enum Rows {
    All,
    /// Consecutive ones.
    Run(Range<u64>),
    Each(Vec<u64>),
}

impl SweepTable {
    pub(crate) fn new(sweep: Py<Sweep>, batch: RecordBatch, rows: Rows) -> Self {
        SweepTable { sweep, batch, rows, ranked: Vec::new() }
    }

    /// The columns that a front is better in, one way.
    fn ranked_by(&self, wanted: Direction) -> Vec<String> {
        self.ranked.iter().filter(|(_, direction)| *direction == wanted).map(|(column, _)| column.clone()).collect()
    }

    pub(crate) fn batch(&self) -> &RecordBatch {
        &self.batch
    }

    pub(crate) fn sweep_of(&self, py: Python<'_>) -> Py<Sweep> {
        self.sweep.clone_ref(py)
    }

    /// The row of the sweep at a place.
    pub(crate) fn row_of(&self, place: usize) -> u64 {
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
            Fault::new(FaultKind::OutOfRange, "the table has no such row").value(index).allowed(format!("0 to {}", count.saturating_sub(1))).into()
        })
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

    fn in_python(slf: &Bound<'_, Self>, name: &str) -> PyResult<Py<PyAny>> {
        Ok(slf.py().import("tenside.handover")?.call_method1(name, (slf,))?.unbind())
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
        self.sweep_of(py)
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

    /// The cells of a column, named or a measure's; None where there is nothing.
    #[pyo3(signature = (column: "str | Measure"))]
    fn column<'py>(&self, py: Python<'py>, column: &Bound<'py, PyAny>) -> Outcome<Vec<Bound<'py, PyAny>>> {
        let name = self.sweep.get().column(column)?;
        let array = self.batch.column(self.sweep.get().core.column(&name)?);
        Ok((0..self.batch.num_rows()).map(|row| cell(py, array, row)).collect::<PyResult<_>>()?)
    }

    /// The name of a column that is named or a measure's.
    #[pyo3(signature = (column: "str | Measure"))]
    fn column_name(&self, column: &Bound<'_, PyAny>) -> Outcome<String> {
        self.sweep.get().column(column)
    }

    /// A row as cells by column.
    fn row<'py>(&self, py: Python<'py>, index: isize) -> Outcome<indexmap::IndexMap<String, Bound<'py, PyAny>>> {
        let place = self.place(index)?;
        let cells = self.columns().into_iter().zip(self.batch.columns()).map(|(name, array)| Ok((name, cell(py, array, place)?)));
        Ok(cells.collect::<PyResult<_>>()?)
    }

    /// The brief of a row.
    fn brief(&self, index: isize) -> Outcome<Brief> {
        Ok(Brief(self.sweep.get().core.brief_at(self.row_of(self.place(index)?))?))
    }

    /// The exact answer of a row, with its proof and grid formula; raises Unanswerable where there is none.
    fn answer(&self, py: Python<'_>, index: isize) -> Outcome<Answer> {
        self.sweep.get().answer(py, self.row_of(self.place(index)?))
    }

    /// What a row comes to: an Answer, or the Conflict.
    fn outcome(&self, py: Python<'_>, index: isize) -> Outcome<Tried> {
        self.sweep.get().outcome(py, self.row_of(self.place(index)?))
    }

    /// What a code of the column "binding" says.
    fn read_binding(&self, code: u64) -> Vec<String> {
        self.sweep.get().core.binding_legend().read(code).into_iter().map(String::from).collect()
    }

    /// What a code of the column "conflict" says.
    fn read_conflict(&self, code: u64) -> Vec<String> {
        self.sweep.get().core.conflict_legend().read(code).into_iter().map(String::from).collect()
    }

    /// The names of the rules in a code of the columns "findings", "findings.certain" and "findings.unchecked".
    fn read_findings(&self, code: u64) -> Vec<String> {
        self.sweep.get().core.findings_legend().map_or_else(Vec::new, |legend| legend.read(code).into_iter().map(String::from).collect())
    }

    /// What a code of the column "use-levels" says.
    fn read_use_levels(&self, code: u64) -> Vec<String> {
        self.sweep.get().core.use_levels_legend().map_or_else(Vec::new, |legend| legend.read(code).into_iter().map(String::from).collect())
    }

    /// The rows that no other row is as good as in every one of these columns and better in one.
    #[pyo3(signature = (*, minimise: "str | Measure | Iterable[str | Measure] | None"=None, maximise: "str | Measure | Iterable[str | Measure] | None"=None))]
    fn pareto(&self, py: Python<'_>, minimise: Option<Bound<'_, PyAny>>, maximise: Option<Bound<'_, PyAny>>) -> Outcome<Self> {
        let ranked = self.sweep.get().ranked(minimise, maximise)?;
        let mut columns: Vec<(&[f64], Direction)> = Vec::new();
        let mut held = Vec::new();
        for (name, direction) in &ranked {
            let array = self.batch.column(self.sweep.get().core.column(name)?);
            let (values, holds) =
                numbers(array).ok_or_else(|| Fault::new(FaultKind::Unsupported, "the column holds no numbers").at(format!("column {name:?}")))?;
            columns.push((values, *direction));
            held.push(holds);
        }
        if columns.is_empty() {
            return Err(Fault::new(FaultKind::Missing, "what is better is not said").allowed("minimise, maximise or both").into());
        }
        // A row without formula is on no front, not even by what was swept.
        let feasible = self.sweep.get().core.names().iter().position(|name| name == "feasible").map(|place| self.batch.column(place));
        let has = |row: usize| feasible.is_none_or(|flags| crate::export::flag(flags, row));
        let holds = |row: usize| has(row) && held.iter().all(|holds| holds(row));
        let places = watched(py, None, |watch| front_of(&columns, self.batch.num_rows(), holds, watch.as_ref()))?;
        let mut front = subset(self, py, &places)?;
        front.ranked = ranked;
        Ok(front)
    }

    /// What these rows are the front of, as columns to minimise and to maximise; both empty where they are none.
    #[getter]
    fn front_of(&self) -> (Vec<String>, Vec<String>) {
        (self.ranked_by(Direction::Minimise), self.ranked_by(Direction::Maximise))
    }

    /// A picture of a front by two columns, over the rows of the table that it is the front of if that is given as `among`; gives the
    /// matplotlib axes. Needs the extra `plot`; see `tenside.plot.front`.
    #[pyo3(signature = (*, among: "SweepTable | None"=None, ax: "Any"=None) -> "Any")]
    fn plot<'py>(slf: &Bound<'py, Self>, among: Option<Bound<'py, Self>>, ax: Option<Bound<'py, PyAny>>) -> PyResult<Bound<'py, PyAny>> {
        let keywords = [("among", among.into_bound_py_any(slf.py())?), ("ax", ax.into_bound_py_any(slf.py())?)];
        Self::drawn(slf, "front", (slf,), &keywords)
    }

    /// A map of a column over three surfactants that share a split, by the lattice axis of the sweep; gives the matplotlib axes. Needs the
    /// extra `plot`; see `tenside.plot.ternary`.
    #[pyo3(signature = (column: "str | Measure", *, split: "str | None"=None, at: "Mapping[str, float | str] | None"=None, ax: "Any"=None) -> "Any")]
    fn ternary<'py>(
        slf: &Bound<'py, Self>,
        column: &Bound<'py, PyAny>,
        split: Option<&str>,
        at: Option<Bound<'py, PyAny>>,
        ax: Option<Bound<'py, PyAny>>,
    ) -> PyResult<Bound<'py, PyAny>> {
        let py = slf.py();
        let keywords = [("split", split.into_bound_py_any(py)?), ("at", at.into_bound_py_any(py)?), ("ax", ax.into_bound_py_any(py)?)];
        Self::drawn(slf, "ternary", (slf, column), &keywords)
    }

    /// Bands across parallel scales, one a column: the rows in as many groups by the first column. Gives the matplotlib axes. Needs the
    /// extra `plot`; see `tenside.plot.bands`.
    #[pyo3(signature = (columns: "Iterable[str | Measure]", *, groups=3, ax: "Any"=None) -> "Any")]
    fn bands<'py>(slf: &Bound<'py, Self>, columns: &Bound<'py, PyAny>, groups: usize, ax: Option<Bound<'py, PyAny>>) -> PyResult<Bound<'py, PyAny>> {
        let keywords = [("groups", groups.into_bound_py_any(slf.py())?), ("ax", ax.into_bound_py_any(slf.py())?)];
        Self::drawn(slf, "bands", (slf, columns), &keywords)
    }

    /// The Arrow C stream of the table: one record batch. A schema that is asked for is not converted to.
    #[pyo3(signature = (requested_schema: "object | None"=None) -> "object")]
    fn __arrow_c_stream__<'py>(&self, py: Python<'py>, requested_schema: Option<Bound<'py, PyAny>>) -> PyResult<Bound<'py, PyCapsule>> {
        let _ = requested_schema;
        stream(py, &self.batch)
    }

    /// The Arrow C schema of the table.
    #[pyo3(signature = () -> "object")]
    fn __arrow_c_schema__<'py>(&self, py: Python<'py>) -> Outcome<Bound<'py, PyCapsule>> {
        c_schema(py, &self.batch)
    }

    /// As a polars data frame, without a copy.
    #[pyo3(signature = () -> "Any")]
    fn to_polars(slf: &Bound<'_, Self>) -> PyResult<Py<PyAny>> {
        Self::in_python(slf, "to_polars")
    }

    /// As a pyarrow table, without a copy.
    #[pyo3(signature = () -> "Any")]
    fn to_pyarrow(slf: &Bound<'_, Self>) -> PyResult<Py<PyAny>> {
        Self::in_python(slf, "to_pyarrow")
    }

    /// As a pandas data frame through pyarrow, its columns backed by Arrow: without a copy.
    #[pyo3(signature = () -> "Any")]
    fn to_pandas(slf: &Bound<'_, Self>) -> PyResult<Py<PyAny>> {
        Self::in_python(slf, "to_pandas")
    }

    /// Writes a Parquet file by pyarrow or polars, whole or not at all.
    fn write_parquet(slf: &Bound<'_, Self>, path: APath<'_>) -> PyResult<()> {
        slf.py().import("tenside.handover")?.call_method1("write_parquet", (slf, path.0)).map(drop)
    }

    /// Writes a CSV file by pyarrow or polars, whole or not at all.
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
                let columns = [Direction::Minimise, Direction::Maximise].map(|direction| self.ranked_by(direction).into_bound_py_any(py));
                let [minimise, maximise] = columns;
                let arguments = vec![sweep.clone().into_any(), rows.into_pyobject(py)?.into_any(), minimise?, maximise?];
                Ok((py.import("tenside.handover")?.getattr("front")?, tuple(arguments)?))
            }
        }
    }

    fn __repr__(&self) -> String {
        let core = &self.sweep.get().core;
        format!("<SweepTable of {:?}: {} rows, {} columns>", core.brief().title(), self.batch.num_rows(), core.names().len())
    }
}
