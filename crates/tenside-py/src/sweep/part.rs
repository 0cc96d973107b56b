//! Consecutive rows of a sweep, to be worked out somewhere else, and what was gathered of them there.

use pyo3::IntoPyObjectExt;
use pyo3::prelude::*;
use pyo3::types::PyAnyMethods;
use tenside::error::{Fault, FaultKind};
use tenside::sweep::{AxisSummary, Bins, Comparison, Histogram, Level, PlaceSummary, StreamPart as CorePart};

use crate::convert::failure::Outcome;
use crate::convert::input::{Names, Number, Several};
use crate::convert::output::{Keywords, length};
use crate::convert::running::{AProgress, run};
use crate::convert::word::Word;
use crate::sweep::Sweep;
use crate::sweep::query::{AColumn, StreamKeywords, StreamQuery};
use crate::sweep::result::StreamResult;

/// Consecutive rows of a sweep: a piece of work of its own that can be pickled, does not know of the other parts, and
/// comes to the same numbers wherever and whenever it is done. `Sweep.parts` makes them; `tenside.cluster` sends them
/// to other machines. It ends before the row `end`.
///
/// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
/// >>> sweep = td.Sweep(brief.target(td.measure.active_matter, 50), td.axis("wash.capb-30", range(1, 11)))
/// >>> first, second = sweep.parts(2)
/// >>> first.rows, second.rows
/// (range(0, 5), range(5, 10))
/// >>> second.table().column("line.kaolin") == sweep.table().column("line.kaolin")[5:]
/// True
#[pyclass(frozen, eq, module = "tenside.sweep")]
pub(crate) struct SweepPart {
    pub(super) sweep: Py<Sweep>,
    pub(super) first: u64,
    pub(super) end: u64,
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

    fn __getnewargs__(&self, py: Python<'_>) -> (Py<Sweep>, u64, u64) {
        (self.sweep.clone_ref(py), self.first, self.end)
    }

    fn __repr__(&self) -> String {
        format!(
            "<SweepPart of {:?}: rows {} to before {}>",
            self.sweep.get().core.brief().title(),
            self.first,
            self.end
        )
    }
}

/// What was gathered of one part; `Sweep.join` puts the parts of a sweep together.
#[pyclass(frozen, eq, module = "tenside.sweep")]
pub(crate) struct StreamPart {
    part: Py<SweepPart>,
    query: StreamQuery,
    core: CorePart,
}

impl PartialEq for StreamPart {
    fn eq(&self, other: &Self) -> bool {
        self.query == other.query && self.core == other.core && self.part.get() == other.part.get()
    }
}

impl StreamPart {
    /// What was gathered, if it was gathered of this sweep and for this query; that of the first part is the query of
    /// all.
    fn of(&self, sweep: &Sweep, first: &StreamQuery) -> Outcome<CorePart> {
        if self.part.get().sweep.get() != sweep || self.query != *first {
            let rows = format!("rows {} to before {}", self.core.rows.start, self.core.rows.end);
            return Err(Fault::new(
                FaultKind::Contradiction,
                "a part was gathered of another sweep or for another query",
            )
            .value(rows)
            .into());
        }
        Ok(self.core.clone())
    }
}

/// A summary of one value: rows, least, greatest, sum.
type Place = (u64, Option<f64>, Option<f64>, Option<i128>);
/// A histogram: its counts, rows below, rows above.
type Counts = (Vec<u64>, u64, u64);
/// Everything that is gathered of a part, as plain numbers.
type Numbers = (u64, u64, Vec<(f64, u64)>, Vec<(Vec<f64>, u64)>, Vec<Counts>, Vec<Vec<Vec<Place>>>);

#[pymethods]
impl StreamPart {
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
    fn query<'py>(&self, py: Python<'py>) -> PyResult<Keywords<'py>> {
        self.query.keywords(py)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, Bound<'py, PyAny>)> {
        let StreamPart { part, query, core } = self;
        let counts = |found: &Histogram| (found.counts.clone(), found.below, found.above);
        let place = |found: &PlaceSummary| (found.rows, found.least(), found.greatest(), found.sum());
        let summaries =
            |axes: &Vec<AxisSummary>| axes.iter().map(|axis| axis.places.iter().map(place).collect()).collect();
        let numbers: Numbers = (
            core.feasible,
            core.kept,
            core.best.clone(),
            core.front.clone(),
            core.histograms.iter().map(counts).collect(),
            core.summaries.iter().map(summaries).collect(),
        );
        let restored = py.import("functools")?.getattr("partial")?;
        let restored =
            restored.call((part.bind(py).getattr("_restored")?,), Some(&query.keywords(py)?.into_pyobject(py)?))?;
        Ok((restored, (numbers,).into_bound_py_any(py)?))
    }

    fn __repr__(&self) -> String {
        format!(
            "<StreamPart of rows {} to before {}: {} kept>",
            self.core.rows.start, self.core.rows.end, self.core.kept
        )
    }
}

#[pymethods]
impl Sweep {
    /// The sweep in so many parts of consecutive rows, as even as may be: fewer where there are fewer rows.
    /// `count` is how many.
    fn parts(slf: &Bound<'_, Self>, count: u64) -> Outcome<Vec<SweepPart>> {
        let ranges = slf.get().core.parts(count)?;
        Ok(ranges.into_iter().map(|rows| SweepPart::over(slf.clone().unbind(), rows)).collect())
    }

    /// What the parts of this sweep gathered, in whatever order they come, as one: what `stream` would have kept, bit
    /// for bit. Rows that no part has, or two, are refused.
    fn join(&self, py: Python<'_>, parts: Several<Py<StreamPart>>) -> Outcome<StreamResult> {
        let parts = parts.0;
        let query = parts.first().map(|part| part.get().query.clone()).unwrap_or_default();
        let stream = query.stream()?;
        let gathered = parts.iter().map(|part| part.get().of(self, &query)).collect::<Outcome<Vec<_>>>()?;
        let seen =
            run(py, self.core.rows(), None, |watch| self.core.clone().watched_by(watch).join_parts(&stream, gathered))?;
        Ok(StreamResult::new(&self.core, seen, &stream))
    }
}

with_stream_keywords!(
    SweepPart,
    /// What `Sweep.stream` keeps, of these rows alone; `Sweep.join` puts the parts together. `only`, `without`, `best`,
    /// `maximise_best`, `minimise`, `maximise`, `histograms`, `summaries` and `progress` are those of `Sweep.stream`.
    ///
    /// >>> brief = td.Brief("Wash", td.Catalogue.starter()).split({"sci-powder": 14, "capb-30": 1}, by="active", name="wash").qs("kaolin")
    /// >>> sweep = td.Sweep(brief.target(td.measure.active_matter, 50), td.axis("wash.capb-30", range(1, 11)), measures=[td.measure.water])
    /// >>> parts = [part.stream(best=(1, td.measure.water)) for part in sweep.parts(3)]
    /// >>> sweep.join(parts) == sweep.stream(best=(1, td.measure.water))
    /// True
    stream()(slf: &Bound<'_, Self>,) -> Outcome<StreamPart>,
    |keywords| {
        let part = slf.get();
        let sweep = part.sweep.get();
        let (query, progress) = keywords.query(sweep)?;
        let stream = query.stream()?;
        let rows = part.first..part.end;
        let core = run(slf.py(), part.end - part.first, progress, |watch| {
            sweep.core.clone().watched_by(watch).stream_part(&stream, rows, Level::best())
        })?;
        Ok(StreamPart { part: slf.clone().unbind(), query, core })
    }
);

with_stream_keywords!(
    SweepPart,
    /// What was gathered of it, when it comes back from a pickle.
    _restored(numbers: "tuple",)(slf: &Bound<'_, Self>, numbers: Numbers,) -> Outcome<StreamPart>,
    |keywords| {
        let part = slf.get();
        let (query, _) = keywords.query(part.sweep.get())?;
        let (feasible, kept, best, front, counted, summarised) = numbers;
        let histogram = |(bins, (counts, below, above)): (Bins, Counts)| Histogram { bins, counts, below, above };
        let place = |(rows, least, greatest, sum): Place| PlaceSummary::restored(rows, least.zip(greatest), sum);
        let summary = |(axis, places): (usize, Vec<Place>)| {
            AxisSummary { axis, places: places.into_iter().map(place).collect() }
        };
        let core = CorePart {
            rows: part.first..part.end,
            feasible,
            kept,
            best,
            front,
            histograms: query.bins()?.into_iter().zip(counted).map(histogram).collect(),
            summaries: summarised.into_iter().map(|axes| axes.into_iter().enumerate().map(summary).collect()).collect(),
        };
        Ok(StreamPart { part: slf.clone().unbind(), query, core })
    }
);
