//! Logs of trials.

use indexmap::IndexMap;
use pyo3::inspect::PyStaticExpr;
use pyo3::prelude::*;
use pyo3::types::{PyString, PyType};
use pyo3::{PyTypeInfo, type_hint_identifier, type_hint_subscript, type_hint_union};
use tenside::bounds::Quantity;
use tenside::document::Delimiter;
use tenside::number::Ppm;
use tenside::trial::{LogCell, ResponseScale, ResultUnit};

use crate::convert::column::{Cell, Columns, of_columns};
use crate::convert::failure::{Failure, Outcome};
use crate::convert::input::{ByName, Several, TEXT, exact, items, one_by_one};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::pickled::Reduced;
use crate::convert::running::reading;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;

/// A property that is measured on every test bar, in a `unit`, by a `method`, on a `scale`: points of a panel are
/// ordered, all else is measured unless it says otherwise. `name` is what it is called.
///
/// >>> td.trial.Response("hardness", "N", method="penetrometer, 24 h after pressing").heading
/// 'hardness, N'
/// >>> td.trial.Response("slip", "score").scale
/// 'ordered'
#[pyclass(frozen, eq, from_py_object, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct Response(pub(crate) tenside::trial::Response);

value!(Response, |it| it.heading());
text_cell!(Response, |it| it.0.heading());

getters!(Response {
    /// What it is called.
    name: String = |it| it.name().to_string();
    /// Its unit.
    unit: Word<ResultUnit> = |it| Word(it.unit());
    /// What kind of numbers it is of.
    scale: Word<ResponseScale> = |it| Word(it.scale());
    /// How it is measured, if stated.
    method: Option<String> = |it| it.method().map(String::from);
    /// Name and unit, as columns and axes say them.
    heading: String = |it| it.heading();
});

#[pymethods]
impl Response {
    #[new]
    #[pyo3(signature = (name, unit, *, method=None, scale=None))]
    fn new(
        name: &str,
        unit: Word<ResultUnit>,
        method: Option<&str>,
        scale: Option<Word<ResponseScale>>,
    ) -> Outcome<Self> {
        let mut response = tenside::trial::Response::new(name, unit.0)?;
        if let Some(method) = method {
            response = response.by(method)?;
        }
        Ok(Response(scale.map_or_else(|| response.clone(), |scale| response.clone().on_scale(scale.0))))
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        crate::convert::output::repr(slf, &["name", "unit", "method", "scale"])
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<Reduced<'py>> {
        let it = &slf.get().0;
        let call = crate::convert::pickled::Call::new(SelfClass, "Response")
            .argument(it.name().to_string())
            .argument(Word(it.unit()));
        Ok(call
            .keyword("method", it.method().map(String::from))
            .keyword("scale", Some(Word(it.scale())))
            .reduced(slf.py())?)
    }
}

/// The module of trials, whose classes are called to make a value anew.
#[derive(Clone)]
pub(crate) struct SelfClass;

impl<'py> IntoPyObject<'py> for SelfClass {
    type Target = PyModule;
    type Output = Bound<'py, PyModule>;
    type Error = PyErr;

    fn into_pyobject(self, py: Python<'py>) -> PyResult<Self::Output> {
        py.import("tenside.trial")
    }
}

/// Measured properties: units by name, or each as a response.
pub(crate) struct Responses(pub(crate) Vec<tenside::trial::Response>);

impl<'a, 'py> FromPyObject<'a, 'py> for Responses {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(
        type_hint_subscript!(
            type_hint_identifier!("collections.abc", "Mapping"),
            TEXT,
            type_hint_identifier!("tenside.words", "ResultUnit")
        ),
        type_hint_subscript!(type_hint_identifier!("collections.abc", "Iterable"), <Response as PyTypeInfo>::TYPE_HINT)
    );

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if object.hasattr("items")? {
            let entry = |entry: Bound<'py, PyAny>| {
                let (name, unit): (String, Word<ResultUnit>) = entry.extract()?;
                Ok(tenside::trial::Response::new(&name, unit.0)?)
            };
            return one_by_one(&items(&object)?, Quantity::TrialResponses, entry).map(Responses);
        }
        one_by_one(&object, Quantity::TrialResponses, |response| {
            Ok(response.extract::<Response>().map_err(PyErr::from)?.0)
        })
        .map(Responses)
    }
}

/// What a run was made of: a formula, or percentages by line.
enum Made {
    Formula(Formula),
    Lines(ByName),
}

impl<'a, 'py> FromPyObject<'a, 'py> for Made {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_union!(<Formula as PyTypeInfo>::TYPE_HINT, ByName::INPUT_TYPE);

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        if let Ok(formula) = object.extract::<Formula>() {
            return Ok(Made::Formula(formula));
        }
        ByName::extract(object).map(Made::Lines)
    }
}

/// One test batch. `made` is the formula as it was made, not as it was planned, or its percentages by line; `results`
/// are by property and `settings` by process variable, both in their units. Runs of one `blend` were planned alike and
/// tell the error of making and measuring; between those of one `whole_plot` nothing of the process was changed, so
/// that they share what went wrong with it. `name` is what the run is called.
///
/// >>> run = td.trial.TrialRun("1", {"sci-powder": 70, "kaolin": 30}, {"hardness": "41.5"})
/// >>> run.results
/// {'hardness': Fraction(83, 2)}
#[pyclass(frozen, eq, from_py_object, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct TrialRun(pub(crate) tenside::trial::TrialRun);

value!(TrialRun, |it| it.name());

getters!(TrialRun {
    /// What it is called.
    name: String = |it| it.name().to_string();
    /// The blend that it repeats, if stated.
    blend: Option<String> = |it| it.blend().map(String::from);
    /// The whole plot that it is in, if stated.
    whole_plot: Option<String> = |it| it.whole_plot().map(String::from);
    /// What it was made of: percentages by line.
    made: IndexMap<String, Fraction> = |it| it.lines().iter().map(|(line, percent)| (line.clone(), Fraction(percent.percent()))).collect();
    /// How it was made.
    settings: IndexMap<String, Fraction> = |it| it.settings().iter().map(|(name, setting)| (name.clone(), Fraction(setting.clone()))).collect();
    /// What was measured.
    results: IndexMap<String, Fraction> = |it| it.results().iter().map(|(name, result)| (name.clone(), Fraction(result.clone()))).collect();
});

#[pymethods]
impl TrialRun {
    #[new]
    #[pyo3(signature = (name, made, results=None, *, settings=None, blend=None, whole_plot=None))]
    fn new(
        name: &str,
        made: Made,
        results: Option<ByName>,
        settings: Option<ByName>,
        blend: Option<&str>,
        whole_plot: Option<&str>,
    ) -> Outcome<Self> {
        let mut run = match made {
            Made::Formula(formula) => tenside::trial::TrialRun::new(name, &formula.0)?,
            Made::Lines(lines) => {
                let line = |(line, percent): (String, crate::convert::input::Number)| Ok((line, percent.ppm()?));
                tenside::trial::TrialRun::of_lines(
                    name,
                    lines.0.into_iter().map(line).collect::<Outcome<Vec<(String, Ppm)>>>()?,
                )?
            }
        };
        if let Some(blend) = blend {
            run = run.of_blend(blend)?;
        }
        if let Some(whole_plot) = whole_plot {
            run = run.in_whole_plot(whole_plot)?;
        }
        for (variable, setting) in settings.into_iter().flat_map(|settings| settings.0) {
            run = run.with_setting(&variable, &setting.0)?;
        }
        for (response, result) in results.into_iter().flat_map(|results| results.0) {
            run = run.with_result(&response, &result.0)?;
        }
        Ok(TrialRun(run))
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        crate::convert::output::repr(slf, &["name", "made", "results", "settings", "blend", "whole_plot"])
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<Reduced<'py>> {
        let it = slf.get();
        let call = crate::convert::pickled::Call::new(SelfClass, "TrialRun")
            .argument(it.0.name().to_string())
            .argument(it.made())
            .argument(it.results());
        Ok(call
            .keyword("settings", Some(it.settings()))
            .keyword("blend", it.blend())
            .keyword("whole_plot", it.whole_plot())
            .reduced(slf.py())?)
    }
}

record! {
    "tenside.trial",
    /// The results of one blend by their ranks among all results.
    RankedBlend of tenside::trial::RankedBlend, |blend| {
        /// The blend, or the first run of it where none is stated.
        blend: String = blend.blend,
        /// How many results it has.
        results: usize = blend.results,
        /// The lowest.
        lowest: f64 = blend.lowest,
        /// The middle one, or the mean of the two in the middle.
        median: f64 = blend.median,
        /// The highest.
        highest: f64 = blend.highest,
        /// The mean of their ranks, 1 for the lowest of all results.
        mean_rank: f64 = blend.mean_rank,
    }
}

/// A property by the ranks of its results.
#[pyclass(frozen, eq, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct RankSummary(tenside::trial::RankSummary, TrialLog);

shown!(RankSummary, |it| it.0.page());
value!(RankSummary, |it| it.blends.len());

getters!(RankSummary {
    /// The property.
    response: Response = |it| Response(it.response.clone());
    /// Its blends, the highest mean rank first.
    blends: Rows<RankedBlend> = |it| it.blends.iter().cloned().map(RankedBlend::from).collect();
    /// The statistic H of Kruskal and Wallis; None for a single blend, or where all results are equal.
    statistic: Option<f64> = |it| it.statistic;
    /// Its degrees of freedom.
    degrees_of_freedom: usize = |it| it.degrees_of_freedom;
    /// How often chance alone gives such a statistic or a greater one, if no blend is better than another; by
    /// chi-squared.
    p: Option<f64> = |it| it.p;
    /// What to know about it.
    notes: Vec<String> = |it| it.notes();
    /// The summary as a page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl RankSummary {
    fn __repr__(&self) -> String {
        format!("<RankSummary of {:?}, {} blends>", self.0.response.name(), self.0.blends.len())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Outcome<Reduced<'py>> {
        Ok(crate::convert::pickled::Call::new(self.1.clone(), "ranks")
            .argument(self.0.response.name().to_string())
            .reduced(py)?)
    }
}

/// Test batches as they were made, and what was measured on them. `title` is what the trial is called, `responses` are
/// what is measured, units by name or each as a response, `runs` the batches, all of the same lines. As an Arrow table
/// it has one row a run.
///
/// >>> runs = [td.trial.TrialRun(str(kaolin), {"sci-powder": 100 - kaolin, "kaolin": kaolin}, {"hardness": newtons}) for kaolin, newtons in [(30, 41), (40, 44)]]
/// >>> log = td.trial.TrialLog("Kaolin", {"hardness": "N"}, runs)
/// >>> print(log.to_csv().splitlines()[1])
/// 30,70,30,41
/// >>> td.trial.TrialLog.from_csv("Kaolin", log.to_csv()) == log
/// True
/// >>> td.trial.TrialLog("Kaolin", {"foam": "mm"}, runs[:1])
/// Traceback (most recent call last):
/// ...
/// tenside.errors.UnknownName: run "30": unknown measured property (found "hardness")
#[pyclass(frozen, eq, from_py_object, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct TrialLog(pub(crate) tenside::trial::TrialLog);

shown!(TrialLog, |it| it.0.page());
value!(TrialLog, |it| it.title());
document!(TrialLog, |it| &it.0, back alone by tenside::trial::TrialLog, pickled otherwise);
arrow!(TrialLog, |it, _py| {
    let mut columns = Columns::new();
    for (heading, cells) in it.0.to_columns() {
        if cells.iter().any(|cell| matches!(cell, LogCell::Text(_))) {
            let texts: Vec<Option<String>> = cells
                .iter()
                .map(|cell| if let LogCell::Text(text) = cell { Some(text.clone()) } else { None })
                .collect();
            String::columns(&heading, &texts.iter().map(Option::as_ref).collect::<Vec<_>>(), &mut columns);
        } else {
            let numbers: Vec<Option<f64>> = cells
                .iter()
                .map(|cell| if let LogCell::Number(number) = cell { Some(number.to_f64()) } else { None })
                .collect();
            f64::columns(&heading, &numbers.iter().map(Option::as_ref).collect::<Vec<_>>(), &mut columns);
        }
    }
    of_columns(columns, it.0.runs().len())?
});

getters!(TrialLog {
    /// What the trial is called.
    title: String = |it| it.title().to_string();
    /// What is measured.
    responses: Vec<Response> = |it| it.responses().iter().cloned().map(Response).collect();
    /// The batches.
    runs: Vec<TrialRun> = |it| it.runs().iter().cloned().map(TrialRun).collect();
    /// The lines of every run.
    lines: Vec<String> = |it| it.lines().into_iter().map(String::from).collect();
    /// The process settings of every run.
    settings: Vec<String> = |it| it.settings().into_iter().map(String::from).collect();
    /// The lines that differ between runs by more than 0.5 % w/w: the components of a model where nobody names them.
    varied: Vec<String> = |it| it.varied();
    /// The log as a page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl TrialLog {
    fn __repr__(&self) -> String {
        format!("<TrialLog {:?} of {} runs>", self.0.title(), self.0.runs().len())
    }

    #[new]
    #[pyo3(signature = (title, responses, runs))]
    fn new(py: Python<'_>, title: &str, responses: Responses, runs: Several<TrialRun>) -> Outcome<Self> {
        let runs = runs.0.into_iter().map(|run| run.0).collect();
        Ok(TrialLog(py.detach(|| tenside::trial::TrialLog::new(title, responses.0, runs))?))
    }

    /// A log from CSV `text` with a header row: `run`; `blend` and `whole plot`, if wanted; `line.kaolin` for the
    /// percentage of each line; `setting.press force` for each process setting; and one column a property, headed by
    /// its name and unit: `hardness, N`. An empty cell is a missing value. `responses` say units, scales and methods
    /// that do not stand in the header; the `delimiter` is found from it; `decimal_comma` is for decimals written 84,5;
    /// `title` is what the trial is called.
    ///
    /// >>> log = td.trial.TrialLog.from_csv("Kaolin", "run;line.sci-powder;line.kaolin;hardness, N\n1;70;30;41,5\n2;60;40;\n", decimal_comma=True)
    /// >>> [run.results for run in log.runs]
    /// [{'hardness': Fraction(83, 2)}, {}]
    #[classmethod]
    #[pyo3(signature = (title, text, *, responses=None, delimiter=None, decimal_comma=false))]
    fn from_csv(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        title: String,
        text: &str,
        responses: Option<Responses>,
        delimiter: Option<Word<Delimiter>>,
        decimal_comma: bool,
    ) -> Outcome<Self> {
        let responses = responses.map_or_else(Vec::new, |responses| responses.0);
        let delimiter = delimiter.map(|delimiter| delimiter.0);
        Ok(TrialLog(reading(py, [text], move |[text]| {
            tenside::trial::TrialLog::of_csv(&title, text, delimiter, decimal_comma, &responses)
        })?))
    }

    /// A log from a `table` of any kind, its columns headed as in `from_csv`: a mapping of columns, or a data frame or
    /// Arrow table (through pyarrow). None and not-a-number are missing values. `responses` and `title` as for
    /// `from_csv`.
    ///
    /// >>> columns = {"run": ["1", "2"], "line.sci-powder": [70, 60], "line.kaolin": [30, 40], "hardness, N": [41.5, None]}
    /// >>> td.trial.TrialLog.from_table("Kaolin", columns).runs[1].results
    /// {}
    #[classmethod]
    #[pyo3(signature = (title, table, *, responses=None))]
    fn from_table(
        _class: &Bound<'_, PyType>,
        py: Python<'_>,
        title: &str,
        table: ATable,
        responses: Option<Responses>,
    ) -> Outcome<Self> {
        let responses = responses.map_or_else(Vec::new, |responses| responses.0);
        Ok(TrialLog(py.detach(|| tenside::trial::TrialLog::of_columns(title, table.0, &responses))?))
    }

    /// The log as CSV, headed as `from_csv` reads it. Methods and scales of the properties do not stand in it;
    /// `to_json` has them.
    fn to_csv(&self) -> Outcome<String> {
        Ok(self.0.to_csv()?)
    }

    /// With further `runs`, as they come off the bench.
    ///
    /// >>> log = td.trial.TrialLog("Kaolin", {"hardness": "N"}, [td.trial.TrialRun("1", {"sci-powder": 70, "kaolin": 30}, {"hardness": 41})])
    /// >>> len(log.with_runs([td.trial.TrialRun("2", {"sci-powder": 60, "kaolin": 40})]).runs)
    /// 2
    fn with_runs(&self, runs: Several<TrialRun>) -> Outcome<Self> {
        Ok(TrialLog(self.0.with_runs(runs.0.into_iter().map(|run| run.0))?))
    }

    /// A property, `response`, by the ranks of its results, for panel scores and whatever has an order only.
    ///
    /// >>> runs = [td.trial.TrialRun(str(n), {"sci-powder": 100 - k, "kaolin": k}, {"slip": s}) for n, (k, s) in enumerate([(30, 2), (30, 3), (40, 4), (40, 5)])]
    /// >>> ranks = td.trial.TrialLog("Kaolin", {"slip": "score"}, runs).ranks("slip")
    /// >>> [blend.mean_rank for blend in ranks.blends], round(ranks.statistic, 3)
    /// ([3.5, 1.5], 2.4)
    fn ranks(&self, response: &str) -> Outcome<RankSummary> {
        Ok(RankSummary(self.0.ranks(response)?, self.clone()))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<Reduced<'py>> {
        let text = slf.get().to_json(slf.py(), false)?;
        Ok((slf.get_type().getattr("from_json")?, (text,).into_pyobject(slf.py())?))
    }
}

/// A table by its columns.
struct ATable(Vec<(String, Vec<LogCell>)>);

impl<'a, 'py> FromPyObject<'a, 'py> for ATable {
    type Error = Failure;
    const INPUT_TYPE: PyStaticExpr = type_hint_identifier!("typing", "Any");

    fn extract(object: Borrowed<'a, 'py, PyAny>) -> Outcome<Self> {
        let object: Bound<'py, PyAny> = if object.hasattr("__arrow_c_stream__")? {
            object.py().import("tenside.handover")?.call_method1("columns_of", (object,))?
        } else {
            object.to_owned()
        };
        let column = |entry: Bound<'py, PyAny>| {
            let (heading, cells): (String, Bound<'py, PyAny>) = entry.extract()?;
            Ok((heading, one_by_one(&cells, Quantity::TrialRuns, |cell| log_cell(&cell))?))
        };
        one_by_one(&items(&object)?, Quantity::TrialColumns, column).map(ATable)
    }
}

fn log_cell(cell: &Bound<'_, PyAny>) -> Outcome<LogCell> {
    if cell.is_none() || cell.ne(cell)? {
        return Ok(LogCell::Missing);
    }
    if let Ok(text) = cell.cast::<PyString>() {
        return Ok(LogCell::Text(text.to_cow()?.into_owned()));
    }
    Ok(LogCell::Number(exact(cell)?))
}
