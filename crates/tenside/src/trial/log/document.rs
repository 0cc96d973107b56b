//! Logs of trials as documents, and back.

use super::{Response, ResponseScale, ResultUnit, TrialLog, TrialRun};
use crate::bounds::Quantity;
use crate::document::{Notation, Number, TableView, form, forms, restore, written};
use crate::error::Error;
use crate::number::{Exact, Ppm};

written! {
    /// A name with a number.
    struct NamedNumber {
        /// The line, the setting or the property.
        name: String,
        /// Its percentage, setting or result.
        value: Number,
    }
}

fn named<'a>(pairs: impl IntoIterator<Item = (&'a String, Number)>) -> Vec<NamedNumber> {
    pairs.into_iter().map(|(name, value)| NamedNumber { name: name.clone(), value }).collect()
}

form! {
    /// A property that is measured.
    ResponseDocument of Response, |it| {
        /// What it is called.
        name: String = it.name().to_string(),
        /// Its unit.
        unit: ResultUnit = it.unit(),
        /// What kind of numbers it is of.
        scale: ResponseScale = it.scale(),
        /// How it is measured.
        #[serde(skip_serializing_if = "Option::is_none")]
        method: Option<String> = it.method().map(String::from),
    }
}

form! {
    /// One batch with its results.
    TrialRunDocument of TrialRun, |it| {
        /// What it is called.
        name: String = it.name().to_string(),
        /// The blend that it repeats.
        #[serde(skip_serializing_if = "Option::is_none")]
        blend: Option<String> = it.blend().map(String::from),
        /// The whole plot that it is in.
        #[serde(skip_serializing_if = "Option::is_none")]
        whole_plot: Option<String> = it.whole_plot().map(String::from),
        /// Its lines with their percentages.
        lines: Vec<NamedNumber> = named(it.lines().iter().map(|(line, percent)| (line, Number::from(&percent.percent())))),
        /// Its process settings.
        settings: Vec<NamedNumber> = named(it.settings().iter().map(|(variable, setting)| (variable, Number::from(setting)))),
        /// What was measured on it.
        results: Vec<NamedNumber> = named(it.results().iter().map(|(response, result)| (response, Number::from(result)))),
    }
}

form! {
    /// Test batches and what was measured on them.
    TrialLogDocument of TrialLog as "trial-log/1", |it, _materials| {
        /// What the trial is called.
        title: String,
        /// What is measured.
        responses: Vec<ResponseDocument> = forms(it.responses()),
        /// The batches.
        runs: Vec<TrialRunDocument> = forms(it.runs()),
    }
}

fn read_named(view: &TableView<'_>, quantity: Quantity) -> Option<(String, Exact)> {
    let (name, value) = (view.needed_name("name"), view.needed("value", |view| view.exact("value", Some(quantity))));
    Some((name?, value?))
}

fn read_response(view: &TableView<'_>) -> Option<Response> {
    let name = view.needed_name("name");
    let unit: Option<ResultUnit> = view.needed("unit", |view| view.choice("unit"));
    let (scale, method) = (view.choice::<ResponseScale>("scale"), view.name("method"));
    let mut response = view.accept("name", Response::new(&name?, unit?))?;
    if let Some(scale) = scale {
        response = response.on_scale(scale);
    }
    match method {
        Some(method) => view.accept("method", response.by(&method)),
        None => Some(response),
    }
}

fn read_run(view: &TableView<'_>) -> Option<TrialRun> {
    let (name, blend, whole_plot) = (view.needed_name("name"), view.name("blend"), view.name("whole_plot"));
    let lines: Vec<(String, Ppm)> = view.tables("lines", |view| {
        let (name, percent) = (view.needed_name("name"), view.needed("value", |view| view.ppm("value")));
        Some((name?, percent?))
    });
    let settings = view.tables("settings", |view| read_named(view, Quantity::ProcessSetting));
    let results = view.tables("results", |view| read_named(view, Quantity::TrialResult));
    let name = name?;
    let made = || {
        let mut run = TrialRun::of_lines(&name, lines)?;
        if let Some(blend) = blend {
            run = run.of_blend(&blend)?;
        }
        if let Some(whole_plot) = whole_plot {
            run = run.in_whole_plot(&whole_plot)?;
        }
        for (variable, setting) in &settings {
            run = run.with_setting(variable, setting)?;
        }
        for (response, result) in &results {
            run = run.with_result(response, result)?;
        }
        Ok(run)
    };
    view.accept("name", made())
}

/// What a log is made of, under the keys of its document.
pub(in crate::trial) fn read_log(view: &TableView<'_>) -> Option<TrialLog> {
    let title = view.needed_name("title");
    let (responses, runs) = (view.tables("responses", read_response), view.tables("runs", read_run));
    // What could not be read is reported already.
    let whole = responses.len() == view.count("responses") && runs.len() == view.count("runs");
    let title = title.filter(|_| whole)?;
    view.accept("runs", TrialLog::new(&title, responses, runs))
}

impl TrialLog {
    /// Reads a log back.
    ///
    /// # Errors
    /// Every fault of the document.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        restore(text, notation, &["title", "responses", "runs"], read_log)
    }
}
