//! Consecutive rows of a sweep, to be worked out somewhere else, and what was gathered of them there.

use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::{PyAnyMethods, PyDict};
use tenside::error::{Fault, FaultKind};
use tenside::sweep::{AxisSummary, Bins, GIB_ALLOWED, Histogram, Level, PlaceSummary, SeenPart as CorePart};

use crate::export::batch;
use crate::failure::{Failure, Outcome};
use crate::input::{Names, Number, Several};
use crate::output::{Keywords, length};
use crate::running::{AProgress, run};
use crate::sweep::Sweep;
use crate::sweep_table::{Rows, SweepTable};
use crate::wanted::{Given, Wanted};

/// Consecutive rows of a sweep: a piece of work of its own that can be pickled, does not know of the other parts, and comes to the same
/// numbers wherever and whenever it is done. `Sweep.parts` makes them; `tenside.cluster` sends them to other machines.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
/// >>> sweep = td.Sweep(brief.target(td.measure.active_matter, 50), td.axis("wash.capb-30", range(1, 11)))
/// >>> first, second = sweep.parts(2)
/// >>> first.rows, second.rows
/// (range(0, 5), range(5, 10))
/// >>> second.table().column("line.kaolin") == sweep.table().column("line.kaolin")[5:]
/// True
#[pyclass(frozen, eq, module = "tenside")]
pub(crate) struct SweepPart {
    sweep: Py<Sweep>,
    first: u64,
    end: u64,
}

impl PartialEq for SweepPart {
    fn eq(&self, other: &Self) -> bool {
        self.first == other.first && self.end == other.end && self.sweep.get() == other.sweep.get()
    }
}

impl SweepPart {
    pub(crate) fn over(sweep: Py<Sweep>, rows: std::ops::Range<u64>) -> Self {
        SweepPart { sweep, first: rows.start, end: rows.end }
    }
}

#[pymethods]
impl SweepPart {
    /// The rows from `first` to before `end`.
    #[new]
    fn new(sweep: Py<Sweep>, first: u64, end: u64) -> Outcome<Self> {
        let rows = sweep.get().core.rows();
        if first >= end || end > rows {
            return Err(Fault::new(FaultKind::OutOfRange, "the sweep has no such rows")
                .value(format!("{first} to before {end}"))
                .allowed(format!("some of 0 to before {rows}"))
                .into());
        }
        Ok(SweepPart { sweep, first, end })
    }

    /// The sweep.
    #[getter]
    fn sweep(&self, py: Python<'_>) -> Py<Sweep> {
        self.sweep.clone_ref(py)
    }

    /// Which rows of the sweep these are.
    #[getter]
    fn rows<'py>(&self, py: Python<'py>) -> PyResult<Bound<'py, PyAny>> {
        py.import("builtins")?.getattr("range")?.call1((self.first, self.end))
    }

    /// How many rows.
    fn __len__(&self) -> Outcome<usize> {
        length(self.end - self.first)
    }

    /// The rows worked out and kept, as `Sweep.table` does.
    #[pyo3(signature = (*, progress=None, max_gib=None))]
    pub(crate) fn table(&self, py: Python<'_>, progress: Option<AProgress<'_>>, max_gib: Option<u32>) -> Outcome<SweepTable> {
        let Sweep { core, pool, .. } = self.sweep.get();
        let gib = max_gib.unwrap_or(GIB_ALLOWED);
        let table = run(py, self.end - self.first, progress, |watch| core.clone().watched_by(watch).part(self.first..self.end, gib, Level::best()))?;
        Ok(SweepTable::new(self.sweep.clone_ref(py), batch(table, pool)?, Rows::Run(self.first..self.end)))
    }

    /// What `Sweep.stream` keeps, of these rows alone; `Sweep.join` puts the parts together.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    /// >>> sweep = td.Sweep(brief.target(td.measure.active_matter, 50), td.axis("wash.capb-30", range(1, 11)), measures=[td.measure.water])
    /// >>> parts = [part.stream(best=(1, td.measure.water)) for part in sweep.parts(3)]
    /// >>> sweep.join(parts) == sweep.stream(best=(1, td.measure.water))
    /// True
    #[pyo3(signature = (*, only: "Iterable[tuple[str | Measure, str, SupportsFloat | str]] | None"=None, without=None, best: "tuple[int, str | Measure] | None"=None, maximise_best=false,
        minimise: "str | Measure | Iterable[str | Measure] | None"=None, maximise: "str | Measure | Iterable[str | Measure] | None"=None,
        histograms: "Mapping[str | Measure, tuple[float, float, int]] | None"=None, summaries: "str | Measure | Iterable[str | Measure] | None"=None,
        progress=None))]
    #[allow(clippy::too_many_arguments, reason = "keywords in Python")]
    fn stream(
        slf: &Bound<'_, Self>,
        only: Option<Several<(Bound<'_, PyAny>, String, Number)>>,
        without: Option<Names>,
        best: Option<(usize, Bound<'_, PyAny>)>,
        maximise_best: bool,
        minimise: Option<Bound<'_, PyAny>>,
        maximise: Option<Bound<'_, PyAny>>,
        histograms: Option<Bound<'_, PyAny>>,
        summaries: Option<Bound<'_, PyAny>>,
        progress: Option<AProgress<'_>>,
    ) -> Outcome<SeenPart> {
        let part = slf.get();
        let sweep = part.sweep.get();
        let wanted = Given { only, without, best, maximise_best, minimise, maximise, histograms, summaries }.of(sweep)?;
        let stream = wanted.stream()?;
        let rows = part.first..part.end;
        let core = run(slf.py(), part.end - part.first, progress, |watch| sweep.core.clone().watched_by(watch).stream_part(&stream, rows, Level::best()))?;
        Ok(SeenPart { part: slf.clone().unbind(), wanted, core })
    }

    fn __getnewargs__(&self, py: Python<'_>) -> (Py<Sweep>, u64, u64) {
        (self.sweep.clone_ref(py), self.first, self.end)
    }

    fn __repr__(&self) -> String {
        format!("<SweepPart of {:?}: rows {} to before {}>", self.sweep.get().core.brief().title(), self.first, self.end)
    }
}

/// What was gathered of one part; `Sweep.join` puts the parts of a sweep together.
#[pyclass(frozen, eq, module = "tenside")]
pub(crate) struct SeenPart {
    part: Py<SweepPart>,
    wanted: Wanted,
    core: CorePart,
}

impl PartialEq for SeenPart {
    fn eq(&self, other: &Self) -> bool {
        self.wanted == other.wanted && self.core == other.core && self.part.get() == other.part.get()
    }
}

impl SeenPart {
    /// What was gathered, if it was gathered of this sweep and with these wishes; those of the first part are the wishes of all.
    pub(crate) fn of(&self, sweep: &Sweep, first: &Wanted) -> Outcome<CorePart> {
        if self.part.get().sweep.get() != sweep || self.wanted != *first {
            let rows = format!("rows {} to before {}", self.core.rows.start, self.core.rows.end);
            return Err(Fault::new(FaultKind::Contradiction, "a part was gathered of another sweep or for other wishes").value(rows).into());
        }
        Ok(self.core.clone())
    }

    pub(crate) fn wishes(&self) -> &Wanted {
        &self.wanted
    }
}

/// A summary of one value: rows, least, greatest, sum.
type Place = (u64, Option<f64>, Option<f64>, Option<i128>);
/// A histogram: its counts, rows below, rows above.
type Counts = (Vec<u64>, u64, u64);
/// Everything that is gathered of a part, as plain numbers.
type Numbers = (u64, u64, Vec<(f64, u64)>, Vec<(Vec<f64>, u64)>, Vec<Counts>, Vec<Vec<Vec<Place>>>);

#[pymethods]
impl SeenPart {
    /// The part.
    #[getter]
    fn part(&self, py: Python<'_>) -> Py<SweepPart> {
        self.part.clone_ref(py)
    }

    /// Rows with a formula.
    #[getter]
    fn feasible(&self) -> u64 {
        self.core.feasible
    }

    /// Rows with a formula that meet the comparisons.
    #[getter]
    fn kept(&self) -> u64 {
        self.core.kept
    }

    /// The keywords of `SweepPart.stream` that it was gathered for, columns by name.
    #[getter]
    fn wanted<'py>(&self, py: Python<'py>) -> PyResult<Keywords<'py>> {
        self.wanted.keywords(py)
    }

    /// What was pickled, whole again.
    #[staticmethod]
    #[pyo3(signature = (part, wanted: "dict", numbers: "tuple"))]
    fn _restored(py: Python<'_>, part: Py<SweepPart>, wanted: &Bound<'_, PyDict>, numbers: Numbers) -> Outcome<Self> {
        fn keyword<'py, T: FromPyObjectOwned<'py>>(wanted: &Bound<'py, PyDict>, name: &str) -> Outcome<T> {
            let value = wanted.get_item(name)?.ok_or_else(|| Failure::Python(pyo3::exceptions::PyKeyError::new_err(name.to_string())))?;
            value.extract().map_err(|error: T::Error| Failure::Python(error.into()))
        }
        let given = Given {
            only: keyword(wanted, "only")?,
            without: keyword(wanted, "without")?,
            best: keyword(wanted, "best")?,
            maximise_best: keyword(wanted, "maximise_best")?,
            minimise: keyword(wanted, "minimise")?,
            maximise: keyword(wanted, "maximise")?,
            histograms: keyword(wanted, "histograms")?,
            summaries: keyword(wanted, "summaries")?,
        };
        let wanted = given.of(part.bind(py).get().sweep.get())?;
        let (feasible, kept, best, front, counted, summarised) = numbers;
        let histogram = |(bins, (counts, below, above)): (Bins, Counts)| Histogram { bins, counts, below, above };
        let place = |(rows, least, greatest, sum): Place| PlaceSummary::restored(rows, least.zip(greatest), sum);
        let summary = |(axis, places): (usize, Vec<Place>)| AxisSummary { axis, places: places.into_iter().map(place).collect() };
        let core = CorePart {
            rows: part.get().first..part.get().end,
            feasible,
            kept,
            best,
            front,
            histograms: wanted.bins()?.into_iter().zip(counted).map(histogram).collect(),
            summaries: summarised.into_iter().map(|axes| axes.into_iter().enumerate().map(summary).collect()).collect(),
        };
        Ok(SeenPart { part, wanted, core })
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, Bound<'py, PyAny>)> {
        let py = slf.py();
        let SeenPart { part, wanted, core } = slf.get();
        let counts = |found: &Histogram| (found.counts.clone(), found.below, found.above);
        let place = |found: &PlaceSummary| (found.rows, found.least(), found.greatest(), found.sum());
        let summaries = |axes: &Vec<AxisSummary>| axes.iter().map(|axis| axis.places.iter().map(place).collect()).collect();
        let numbers: Numbers = (
            core.feasible,
            core.kept,
            core.best.clone(),
            core.front.clone(),
            core.histograms.iter().map(counts).collect(),
            core.summaries.iter().map(summaries).collect(),
        );
        let arguments = (part.clone_ref(py), wanted.keywords(py)?, numbers).into_bound_py_any(py)?;
        Ok((slf.get_type().getattr("_restored")?, arguments))
    }

    fn __repr__(&self) -> String {
        format!("<SeenPart of rows {} to before {}: {} kept>", self.core.rows.start, self.core.rows.end, self.core.kept)
    }
}
