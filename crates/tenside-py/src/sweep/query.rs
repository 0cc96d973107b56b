//! What is asked of a sweep too large to keep, as keywords say it.

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::{IntoPyObjectExt, PyTypeInfo, type_hint_union};
use tenside::bounds::Quantity;
use tenside::brief::Direction;
use tenside::sweep::{Bins, Comparison, Condition, Stream};

use crate::convert::failure::Outcome;
use crate::convert::input::{Names, Number, Several, TEXT, items, one_by_one};
use crate::convert::output::{Fraction, Keywords};
use crate::convert::running::AProgress;
use crate::convert::word::Word;
use crate::measure::Measure;
use crate::sweep::{Sweep, each};

/// The keywords of `Sweep.stream` with columns by name, so that they can be sent elsewhere.
#[derive(Clone, Default, PartialEq)]
pub(crate) struct StreamQuery {
    only: Vec<(String, Word<Comparison>, Fraction)>,
    without: Vec<String>,
    best: Option<(usize, String)>,
    maximise_best: bool,
    minimise: Vec<String>,
    maximise: Vec<String>,
    histograms: IndexMap<String, (f64, f64, usize)>,
    summaries: Vec<String>,
}

/// A column of a sweep, named or a measure's.
pub(crate) struct AColumn<'py>(pub(crate) Bound<'py, PyAny>);

impl<'a, 'py> FromPyObject<'a, 'py> for AColumn<'py> {
    type Error = PyErr;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(TEXT, <Measure as PyTypeInfo>::TYPE_HINT);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> PyResult<Self> {
        Ok(AColumn(object.to_owned()))
    }
}

/// The keywords as they are given.
pub(crate) struct StreamKeywords<'py> {
    pub(crate) only: Option<Several<(AColumn<'py>, Word<Comparison>, Number)>>,
    pub(crate) without: Option<Names>,
    pub(crate) best: Option<(usize, AColumn<'py>)>,
    pub(crate) maximise_best: bool,
    pub(crate) minimise: Option<Bound<'py, PyAny>>,
    pub(crate) maximise: Option<Bound<'py, PyAny>>,
    pub(crate) histograms: Option<Bound<'py, PyAny>>,
    pub(crate) summaries: Option<Bound<'py, PyAny>>,
    pub(crate) progress: Option<AProgress<'py>>,
}

impl<'py> StreamKeywords<'py> {
    pub(crate) fn query(self, sweep: &Sweep) -> Outcome<(StreamQuery, Option<AProgress<'py>>)> {
        let names = |columns: Option<Bound<'_, PyAny>>| -> Outcome<Vec<String>> {
            let columns = columns.iter().map(each).collect::<Outcome<Vec<_>>>()?;
            columns.iter().flatten().map(|column| sweep.column(column)).collect()
        };
        let mut query = StreamQuery { maximise_best: self.maximise_best, ..StreamQuery::default() };
        for (column, comparison, value) in self.only.into_iter().flat_map(|only| only.0) {
            query.only.push((sweep.column(&column.0)?, comparison, Fraction(value.0)));
        }
        query.without = self.without.map_or_else(Vec::new, |names| names.0);
        if let Some((count, column)) = self.best {
            query.best = Some((count, sweep.column(&column.0)?));
        }
        (query.minimise, query.maximise, query.summaries) =
            (names(self.minimise)?, names(self.maximise)?, names(self.summaries)?);
        if let Some(histograms) = self.histograms {
            one_by_one(&items(&histograms)?, Quantity::Entries, |entry| {
                let (column, bins): (Bound<'_, PyAny>, (f64, f64, usize)) = entry.extract()?;
                Ok(query.histograms.insert(sweep.column(&column)?, bins))
            })?;
        }
        Ok((query, self.progress))
    }
}

impl StreamQuery {
    pub(crate) fn stream(&self) -> Outcome<Stream> {
        let mut stream = Stream::default();
        for (column, comparison, value) in &self.only {
            stream =
                stream.only(Condition { column: column.clone(), comparison: comparison.0, value: value.0.clone() });
        }
        for column in &self.without {
            stream = stream.without(column);
        }
        if let Some((count, column)) = &self.best {
            stream =
                stream.best(*count, column, if self.maximise_best { Direction::Maximise } else { Direction::Minimise });
        }
        let minimised = self.minimise.iter().map(|column| (column.as_str(), Direction::Minimise));
        let front: Vec<(&str, Direction)> =
            minimised.chain(self.maximise.iter().map(|column| (column.as_str(), Direction::Maximise))).collect();
        stream = stream.pareto(&front);
        for (column, (from, to, bins)) in &self.histograms {
            stream = stream.histogram(column, Bins::new(*from, *to, *bins)?);
        }
        Ok(self.summaries.iter().fold(stream, |stream, column| stream.summary(column)))
    }

    /// The bins of its histograms.
    pub(crate) fn bins(&self) -> Outcome<Vec<Bins>> {
        self.histograms.values().map(|(from, to, bins)| Ok(Bins::new(*from, *to, *bins)?)).collect()
    }

    /// As keywords again.
    pub(crate) fn keywords<'py>(&self, py: Python<'py>) -> PyResult<Keywords<'py>> {
        let mut keywords = Keywords::new();
        keywords.insert("only", self.only.clone().into_bound_py_any(py)?);
        keywords.insert("without", self.without.clone().into_bound_py_any(py)?);
        keywords.insert("best", self.best.clone().into_bound_py_any(py)?);
        keywords.insert("maximise_best", self.maximise_best.into_bound_py_any(py)?);
        keywords.insert("minimise", self.minimise.clone().into_bound_py_any(py)?);
        keywords.insert("maximise", self.maximise.clone().into_bound_py_any(py)?);
        keywords.insert("histograms", self.histograms.clone().into_bound_py_any(py)?);
        keywords.insert("summaries", self.summaries.clone().into_bound_py_any(py)?);
        Ok(keywords)
    }
}
