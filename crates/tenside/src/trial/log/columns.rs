//! Logs as tables: one row a run, in CSV or from any data frame.
//!
//! The columns are `run`; `blend` and `whole plot`, if wanted; `line.kaolin` for the percentage of each line;
//! `setting.press force` for each process setting; and one a measured property, headed by its name and unit: `hardness,
//! N`. An empty cell is a missing value.

use std::collections::HashSet;

use super::response::{BLEND, LINE, RUN, SETTING, WHOLE_PLOT, unit_of};
use super::{Response, TrialLog, TrialRun};
use crate::bounds::Quantity;
use crate::document::{DecimalMark, Delimiter, Splitter, guarded, read_decimal, shown, unguarded};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Ppm};

const FILE: &str = "trial log";

/// A cell of a table of runs.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum LogCell {
    /// Nothing: a missing value.
    Missing,
    /// A number.
    Number(Exact),
    /// Text: a name, or a number with or without its unit.
    Text(String),
}

/// What a column holds.
enum Kind {
    Run,
    Blend,
    WholePlot,
    Line(String),
    Setting(String),
    Result(usize),
}

/// How text becomes a number.
type Read = fn(&str) -> Result<Exact, Error>;

fn with_point(text: &str) -> Result<Exact, Error> {
    number(text, DecimalMark::PointInSheet)
}

fn with_comma(text: &str) -> Result<Exact, Error> {
    number(text, DecimalMark::CommaInSheet)
}

/// A decimal, or the fraction that a log writes where a mean of readings has no decimal.
fn number(text: &str, mark: DecimalMark) -> Result<Exact, Error> {
    if text.contains('/') {
        return text.parse().map_err(Error::from);
    }
    read_decimal(text, mark).map(Exact::from).map_err(|fault| Error::from(*fault))
}

impl TrialLog {
    /// A log from the columns of a table, one row a run. `responses` are properties whose unit, scale or method is
    /// stated here rather than in the heading of their column.
    ///
    /// ```
    /// use tenside::number::Exact;
    /// use tenside::trial::{LogCell, TrialLog};
    /// let numbers = |numbers: &[i64]| numbers.iter().map(|number| LogCell::Number(Exact::from(*number))).collect::<Vec<_>>();
    /// let columns = vec![
    ///     ("run".to_string(), numbers(&[1, 2])),
    ///     ("line.sci-powder".to_string(), numbers(&[70, 60])),
    ///     ("line.kaolin".to_string(), numbers(&[30, 40])),
    ///     ("hardness, N".to_string(), vec![LogCell::Text("41.5 N".to_string()), LogCell::Missing]),
    /// ];
    /// let log = TrialLog::of_columns("Kaolin", columns, &[])?;
    /// assert_eq!(log.runs()[0].result("hardness"), Some(&"41.5".parse()?));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Every fault of the table at once: columns of different lengths, without unit or of an unknown one, cells that
    /// are no numbers or in another unit than their column; and as for [`new`](Self::new).
    pub fn of_columns(
        title: &str,
        columns: Vec<(String, Vec<LogCell>)>,
        responses: &[Response],
    ) -> Result<Self, Error> {
        of_columns(title, columns, responses, with_point, &|row, column| {
            Fault::new(FaultKind::NotANumber, "").at(format!("row {}, column {column}", row + 1))
        })
    }

    /// A log from CSV with a header row, as [`to_csv`](Self::to_csv) writes it and as spreadsheets do. Without a
    /// delimiter it is found from the header.
    ///
    /// # Errors
    /// Every fault of the sheet at once, with line and column.
    pub fn of_csv(
        title: &str,
        text: &str,
        delimiter: Option<Delimiter>,
        decimal_comma: bool,
        responses: &[Response],
    ) -> Result<Self, Error> {
        let text = text.strip_prefix('\u{FEFF}').unwrap_or(text);
        Quantity::DocumentLength.check(&Exact::from(i64::try_from(text.len()).unwrap_or(i64::MAX)))?;
        let header = text.lines().next().unwrap_or_default();
        let detected = || {
            if header.contains('\t') {
                Delimiter::Tab
            } else if header.contains(';') {
                Delimiter::Semicolon
            } else {
                Delimiter::Comma
            }
        };
        let mut splitter = Splitter::new(text, delimiter.unwrap_or_else(detected));
        let at = |fault: Fault, line: u32, column: u32| fault.file(Some(FILE)).position(Some((line, column)));
        let mut columns: Vec<(String, Vec<LogCell>)> = Vec::new();
        let mut lines: Vec<u32> = Vec::new();
        let mut faults = Vec::new();
        while let Some(row) = splitter.row() {
            let cells = row.map_err(|bad| {
                Error::from(at(Fault::new(FaultKind::Syntax, bad.message).remedy(bad.remedy), bad.line, bad.column))
            })?;
            if cells.iter().all(|cell| cell.text.is_empty()) {
                continue;
            }
            let line = cells.first().map_or(0, |cell| cell.line);
            if columns.is_empty() {
                Quantity::TrialColumns.check(&Exact::from(i64::try_from(cells.len()).unwrap_or(i64::MAX)))?;
                columns = cells.into_iter().map(|cell| (unguarded(cell.text).into_owned(), Vec::new())).collect();
                continue;
            }
            if lines.len() >= MOST_RUNS {
                return Err(Quantity::TrialRuns.fault(format!("more than {MOST_RUNS}")).into());
            }
            if cells.len() > columns.len() {
                let column = u32::try_from(columns.len() + 1).unwrap_or(u32::MAX);
                faults.push(at(
                    Fault::new(FaultKind::Syntax, "more cells than the header has columns")
                        .value(cells.len())
                        .allowed(columns.len().to_string()),
                    line,
                    column,
                ));
            }
            lines.push(line);
            let mut cells = cells.into_iter();
            for (_, column) in &mut columns {
                let text = cells.next().map_or_else(String::new, |cell| unguarded(cell.text).into_owned());
                column.push(if text.is_empty() { LogCell::Missing } else { LogCell::Text(text) });
            }
        }
        Error::check(faults, ())?;
        let headings: Vec<String> = columns.iter().map(|(heading, _)| heading.clone()).collect();
        let place = |row: usize, column: &str| {
            let place = headings.iter().position(|heading| heading == column).map_or(1, |place| place + 1);
            at(
                Fault::new(FaultKind::NotANumber, ""),
                lines.get(row).copied().unwrap_or(1),
                u32::try_from(place).unwrap_or(u32::MAX),
            )
        };
        of_columns(title, columns, responses, if decimal_comma { with_comma } else { with_point }, &place)
    }

    /// The log as CSV: RFC 4180 with a header row, decimals with a point, a fraction where there is none. Methods and scales of the properties do not
    /// stand in it; the document of a log has them.
    ///
    /// # Errors
    /// None but what the writer of CSV may have.
    pub fn to_csv(&self) -> Result<String, Error> {
        let mut writer = csv::WriterBuilder::new().terminator(csv::Terminator::CRLF).from_writer(Vec::new());
        let failed = |error: csv::Error| {
            Error::from(Fault::new(FaultKind::Syntax, format!("the sheet could not be written: {error}")))
        };
        let columns = self.to_columns();
        writer.write_record(columns.iter().map(|(heading, _)| guarded(heading).into_owned())).map_err(failed)?;
        for row in 0..self.runs.len() {
            let cell = |(_, cells): &(String, Vec<LogCell>)| match cells.get(row) {
                Some(LogCell::Number(number)) => number.to_string(),
                Some(LogCell::Text(text)) => guarded(text).into_owned(),
                _ => String::new(),
            };
            writer.write_record(columns.iter().map(cell)).map_err(failed)?;
        }
        let bytes = writer.into_inner().map_err(|error| {
            Error::from(Fault::new(FaultKind::Syntax, format!("the sheet could not be written: {error}")))
        })?;
        // It was written from text.
        Ok(String::from_utf8_lossy(&bytes).into_owned())
    }

    /// The log as columns of a table, one row a run.
    #[must_use]
    pub fn to_columns(&self) -> Vec<(String, Vec<LogCell>)> {
        let mut columns =
            vec![(RUN.to_string(), self.runs.iter().map(|run| LogCell::Text(run.name.clone())).collect::<Vec<_>>())];
        if self.runs.iter().any(|run| run.blend.is_some()) {
            let blend = |run: &TrialRun| run.blend.clone().map_or(LogCell::Missing, LogCell::Text);
            columns.push((BLEND.to_string(), self.runs.iter().map(blend).collect()));
        }
        if self.runs.iter().any(|run| run.whole_plot.is_some()) {
            let whole_plot = |run: &TrialRun| run.whole_plot.clone().map_or(LogCell::Missing, LogCell::Text);
            columns.push((WHOLE_PLOT.to_string(), self.runs.iter().map(whole_plot).collect()));
        }
        let number = |number: Option<Exact>| number.map_or(LogCell::Missing, LogCell::Number);
        for (place, line) in self.lines().into_iter().enumerate() {
            columns.push((
                format!("{LINE}{line}"),
                self.runs.iter().map(|run| number(Some(run.percent(place).percent()))).collect(),
            ));
        }
        for variable in self.settings() {
            columns.push((
                format!("{SETTING}{variable}"),
                self.runs.iter().map(|run| number(run.setting(variable).cloned())).collect(),
            ));
        }
        for response in &self.responses {
            columns.push((
                response.heading(),
                self.runs.iter().map(|run| number(run.result(response.name()).cloned())).collect(),
            ));
        }
        columns
    }
}

/// As many as [`Quantity::TrialRuns`] allows.
const MOST_RUNS: usize = 2000;

fn of_columns(
    title: &str,
    columns: Vec<(String, Vec<LogCell>)>,
    responses: &[Response],
    read: Read,
    place: &dyn Fn(usize, &str) -> Fault,
) -> Result<TrialLog, Error> {
    let count = |number: usize| Exact::from(i64::try_from(number).unwrap_or(i64::MAX));
    Quantity::TrialColumns.check(&count(columns.len()))?;
    let rows = columns.first().map_or(0, |(_, cells)| cells.len());
    Quantity::TrialRuns.check(&count(rows))?;
    let mut faults = Vec::new();
    let mut measured: Vec<Response> = Vec::new();
    let mut kinds = Vec::new();
    let mut seen = HashSet::new();
    for (heading, cells) in &columns {
        if !seen.insert(heading.as_str()) {
            faults.push(Fault::new(FaultKind::Duplicate, "two columns have the same heading").value(shown(heading)));
        }
        if cells.len() != rows {
            let fault = Fault::new(FaultKind::Contradiction, "a column of another length than the first")
                .at(format!("column {}", shown(heading)));
            faults.push(fault.value(cells.len()).allowed(rows.to_string()));
        }
        kinds.push(match heading.as_str() {
            RUN => Some(Kind::Run),
            BLEND => Some(Kind::Blend),
            WHOLE_PLOT => Some(Kind::WholePlot),
            heading => match (heading.strip_prefix(LINE), heading.strip_prefix(SETTING)) {
                (Some(line), _) => Some(Kind::Line(line.to_string())),
                (_, Some(variable)) => Some(Kind::Setting(variable.to_string())),
                _ => {
                    let stated =
                        responses.iter().find(|response| response.name() == heading || response.heading() == heading);
                    match stated.cloned().map_or_else(|| Response::of_heading(heading), Ok) {
                        Ok(response) => {
                            measured.push(response);
                            Some(Kind::Result(measured.len() - 1))
                        }
                        Err(error) => {
                            faults.extend(error.within(&format!("column {}", shown(heading))).into_faults());
                            None
                        }
                    }
                }
            },
        });
    }
    if !kinds.iter().any(|kind| matches!(kind, Some(Kind::Line(_)))) {
        faults.push(
            Fault::new(FaultKind::Missing, "no column of a line")
                .remedy("head the percentage of each line with \"line.\" and its name: \"line.kaolin\""),
        );
    }
    if let Some(missing) =
        responses.iter().find(|response| !measured.iter().any(|known| known.name() == response.name()))
    {
        faults
            .push(Fault::new(FaultKind::Missing, "a measured property without a column").value(shown(missing.name())));
    }
    Error::check(faults, ())?;

    let mut faults = Vec::new();
    let mut runs = Vec::with_capacity(rows);
    for row in 0..rows {
        match run_of(row, &columns, &kinds, &measured, read, place) {
            Ok(run) => runs.push(run),
            Err(found) => faults.extend(found),
        }
    }
    Error::check(faults, ())?;
    TrialLog::new(title, measured, runs)
}

/// One row as a run, or everything that is wrong with it.
fn run_of(
    row: usize,
    columns: &[(String, Vec<LogCell>)],
    kinds: &[Option<Kind>],
    measured: &[Response],
    read: Read,
    place: &dyn Fn(usize, &str) -> Fault,
) -> Result<TrialRun, Vec<Fault>> {
    let (mut name, mut blend, mut whole_plot, mut faults) = ((row + 1).to_string(), None, None, Vec::new());
    let (mut lines, mut settings, mut results) = (Vec::new(), Vec::new(), Vec::new());
    for ((heading, cells), kind) in columns.iter().zip(kinds) {
        let cell = cells.get(row).unwrap_or(&LogCell::Missing);
        let number = || match cell {
            LogCell::Missing => Ok(None),
            LogCell::Number(number) => Ok(Some(number.clone())),
            LogCell::Text(text) => read(text).map(Some),
        };
        let mut found = |error: Error| {
            let at = place(row, heading);
            faults.extend(error.into_faults().into_iter().map(|fault| Fault {
                place: at.place.clone(),
                file: at.file,
                position: at.position,
                ..fault
            }));
        };
        match kind {
            Some(Kind::Run | Kind::Blend | Kind::WholePlot) => {
                let text = match cell {
                    LogCell::Missing => None,
                    LogCell::Number(number) => Some(number.to_string()),
                    LogCell::Text(text) => Some(text.clone()),
                };
                match (kind, text) {
                    (Some(Kind::Run), Some(text)) => name = text,
                    (Some(Kind::Run), None) => found(Fault::new(FaultKind::Missing, "a run without a name").into()),
                    (Some(Kind::Blend), text) => blend = text,
                    (_, text) => whole_plot = text,
                }
            }
            Some(Kind::Line(line)) => match number().and_then(|number| number.map(Ppm::from_percent).transpose()) {
                Ok(Some(percent)) => lines.push((line.clone(), percent)),
                Ok(None) => found(
                    Fault::new(FaultKind::Missing, "a line without a percentage")
                        .remedy("write 0 where the batch has none of it")
                        .into(),
                ),
                Err(error) => found(error),
            },
            Some(Kind::Setting(variable)) => match number() {
                Ok(Some(setting)) => settings.push((variable, setting)),
                Ok(None) => found(
                    Fault::new(FaultKind::Missing, "a run without a setting that others have")
                        .remedy("state every setting for every run")
                        .into(),
                ),
                Err(error) => found(error),
            },
            Some(Kind::Result(index)) => {
                match number().or_else(|error| in_unit(cell, &measured[*index], read).unwrap_or(Err(error))) {
                    Ok(Some(result)) => results.push((measured[*index].name(), result)),
                    Ok(None) => {}
                    Err(error) => found(error),
                }
            }
            None => {}
        }
    }
    if !faults.is_empty() {
        return Err(faults);
    }
    let made = || {
        let mut run = TrialRun::of_lines(&name, lines)?;
        if let Some(blend) = blend {
            run = run.of_blend(&blend)?;
        }
        if let Some(whole_plot) = whole_plot {
            run = run.in_whole_plot(&whole_plot)?;
        }
        for (variable, setting) in settings {
            run = run.with_setting(variable, setting)?;
        }
        for (response, result) in results {
            run = run.with_result(response, result)?;
        }
        Ok(run)
    };
    made().map_err(|error: Error| error.into_faults())
}

/// A result that is written with its unit; `None` if it is not.
fn in_unit(cell: &LogCell, response: &Response, read: Read) -> Option<Result<Option<Exact>, Error>> {
    let LogCell::Text(text) = cell else { return None };
    let (number, unit) = text.trim().rsplit_once(|c: char| c.is_whitespace())?;
    let unit = match unit_of(unit) {
        Ok(unit) => unit,
        Err(error) => return Some(Err(error)),
    };
    if unit != response.unit() {
        let fault = Fault::new(FaultKind::Contradiction, "a result in another unit than its column")
            .value(shown(text))
            .allowed(response.unit().to_string());
        return Some(Err(fault.remedy("convert it, or give the property a column for each unit").into()));
    }
    Some(read(number.trim()).map(Some))
}
