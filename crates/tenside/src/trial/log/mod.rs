//! The log of a trial: test batches as they were made, and what was measured on them.
//!
//! # Why
//! - A result belongs to the batch as made. Two bars of one plan were weighed in two ways, and a model of the plan
//!   would call that difference error of measuring. What was planned alike says so by the name of a blend.
//! - Results are exact decimals as typed, so that a log goes out and comes back unchanged; models take them as `f64`.
//! - A property has one unit. A cell in another one is refused rather than converted: whoever wrote it knows whether it
//!   is a slip.

mod columns;
mod document;
mod page;
mod ranks;
mod response;
mod run;

pub use columns::LogCell;
pub use document::TrialLogDocument;
pub(in crate::trial) use document::read_log;
pub use ranks::{RankSummary, RankedBlend};
pub use response::{Response, ResponseScale, ResultUnit};
pub use run::TrialRun;

use std::collections::{HashMap, HashSet};

use crate::bounds::Quantity;
use crate::document::{check_name, shown, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Ppm};

/// Batches of one trial. Values are immutable.
///
/// ```
/// use tenside::prelude::*;
/// use tenside::trial::{Response, ResultUnit, TrialLog, TrialRun};
/// let catalogue = Catalogue::starter();
/// let bar = |kaolin: u32| {
///     let line = |id: &str, percent: u32| Line::new(id, catalogue.material(id)?.clone(), percent);
///     Formula::new("Test bar", vec![line("sci-powder", 100 - kaolin)?, line("kaolin", kaolin)?])
/// };
/// let runs = vec![
///     TrialRun::new("1", &bar(30)?)?.with_result("hardness", "41.5")?,
///     TrialRun::new("2", &bar(40)?)?.with_result("hardness", 44)?,
///     TrialRun::new("3", &bar(50)?)?,
/// ];
/// let log = TrialLog::new("Kaolin", vec![Response::new("hardness", ResultUnit::Newton)?], runs)?;
/// assert_eq!(log.lines(), ["sci-powder", "kaolin"]);
/// assert_eq!(log.runs()[2].result("hardness"), None);
/// assert_eq!(TrialLog::of_csv("Kaolin", &log.to_csv()?, None, false, &[])?, log);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct TrialLog {
    title: String,
    responses: Vec<Response>,
    runs: Vec<TrialRun>,
}

getters!(TrialLog {
    /// What the trial is called.
    title: &str,
    /// What is measured.
    responses: &[Response],
    /// The batches, in the order given.
    runs: &[TrialRun],
});

impl TrialLog {
    /// A log of these runs.
    ///
    /// # Errors
    /// Everything that is wrong with it: a bad title, no property or run, two of one name, too many; runs of other
    /// lines than the first, of other settings, and results of a property that the log does not have.
    pub fn new(title: &str, responses: Vec<Response>, runs: Vec<TrialRun>) -> Result<Self, Error> {
        let title = check_name(title)?;
        let count = |number: usize| Exact::from(i64::try_from(number).unwrap_or(i64::MAX));
        Quantity::TrialRuns.check(&count(runs.len()))?;
        Quantity::TrialResponses.check(&count(responses.len()))?;
        let mut faults = Vec::new();
        let mut named: HashMap<&str, &Response> = HashMap::new();
        for response in &responses {
            if named.insert(response.name(), response).is_some() {
                faults.push(
                    Fault::new(FaultKind::Duplicate, "two measured properties have the same name")
                        .value(shown(response.name())),
                );
            }
        }
        // The number of runs was checked.
        let Some(first) = runs.first() else { return Err(Quantity::TrialRuns.fault(0).into()) };
        let lines: HashSet<&str> = first.lines.iter().map(|(line, _)| line.as_str()).collect();
        let settings: HashSet<&str> = first.settings.iter().map(|(variable, _)| variable.as_str()).collect();
        let mut names = HashSet::new();
        for run in &runs {
            let at = |fault: Fault| fault.at(format!("run {}", shown(&run.name)));
            if !names.insert(run.name.as_str()) {
                let fault = Fault::new(FaultKind::Duplicate, "two runs have the same name").value(shown(&run.name));
                faults.push(fault.remedy("give each batch a name of its own; what was planned alike shares a blend"));
            }
            for (line, _) in run.lines.iter().filter(|(line, _)| !lines.contains(line.as_str())) {
                let fault = Fault::new(
                    FaultKind::Contradiction,
                    "the run has a line that the first run has not: it is of another trial",
                )
                .value(shown(line));
                faults.push(at(fault).remedy(
                    "give every run the same lines, with 0 % where there is none of it, or keep a log for each trial",
                ));
            }
            let own: HashSet<&str> = run.lines.iter().map(|(line, _)| line.as_str()).collect();
            for (line, _) in first.lines.iter().filter(|(line, _)| !own.contains(line.as_str())) {
                let fault = Fault::new(
                    FaultKind::Contradiction,
                    "the run has not a line that the first run has: it is of another trial",
                )
                .value(shown(line));
                faults.push(at(fault).remedy(
                    "give every run the same lines, with 0 % where there is none of it, or keep a log for each trial",
                ));
            }
            if settings.len() != run.settings.len()
                || run.settings.iter().any(|(variable, _)| !settings.contains(variable.as_str()))
            {
                let fault =
                    Fault::new(FaultKind::Contradiction, "the run has other process settings than the first run");
                faults.push(at(fault).remedy("state every setting for every run"));
            }
            if faults.len() >= MOST_FAULTS {
                break;
            }
            for (response, _) in run.results.iter().filter(|(response, _)| !named.contains_key(response.as_str())) {
                faults.push(at(unknown_name("measured property", response, named.keys().copied())));
            }
        }
        Error::check(faults, ())?;
        Ok(TrialLog { title, runs: in_one_order(runs, &responses), responses })
    }

    /// The lines of every run, in the order of the first.
    #[must_use]
    pub fn lines(&self) -> Vec<&str> {
        self.runs.first().map_or_else(Vec::new, |run| run.lines.iter().map(|(line, _)| line.as_str()).collect())
    }

    /// The process settings of every run, in the order of the first.
    #[must_use]
    pub fn settings(&self) -> Vec<&str> {
        self.runs
            .first()
            .map_or_else(Vec::new, |run| run.settings.iter().map(|(variable, _)| variable.as_str()).collect())
    }

    /// The place of a line among those of every run.
    pub(in crate::trial) fn line_place(&self, line: &str) -> Option<usize> {
        self.runs.first()?.lines.iter().position(|(known, _)| known == line)
    }

    /// The least and the greatest percentage of the line at a place.
    pub(in crate::trial) fn span(&self, place: usize, runs: impl Iterator<Item = usize>) -> Option<(Ppm, Ppm)> {
        let percents = runs.map(|run| self.runs[run].lines[place].1);
        percents.fold(None, |span: Option<(Ppm, Ppm)>, percent| {
            Some(span.map_or((percent, percent), |(least, most)| (least.min(percent), most.max(percent))))
        })
    }

    /// The property of that name.
    ///
    /// # Errors
    /// An unknown name, with the nearest known one.
    pub fn response(&self, name: &str) -> Result<&Response, Error> {
        let found = self.responses.iter().find(|response| response.name() == name);
        found.ok_or_else(|| unknown_name("measured property", name, self.responses.iter().map(Response::name)).into())
    }

    /// With further runs, as they come off the bench.
    ///
    /// # Errors
    /// As for [`new`](Self::new).
    pub fn with_runs(&self, runs: impl IntoIterator<Item = TrialRun>) -> Result<Self, Error> {
        TrialLog::new(&self.title, self.responses.clone(), self.runs.iter().cloned().chain(runs).collect())
    }

    /// The lines that were varied: whose percentages differ between runs by more than [`VARIED`] % w/w.
    #[must_use]
    pub fn varied(&self) -> Vec<String> {
        let spread = |(place, _): &(usize, &str)| {
            self.span(*place, 0..self.runs.len())
                .is_some_and(|(least, most)| most.parts() - least.parts() > VARIED_PARTS)
        };
        self.lines().into_iter().enumerate().filter(spread).map(|(_, line)| line.to_string()).collect()
    }
}

/// By how many percent of the formula a line has to differ between runs to count as varied, where nobody says which
/// are; less is taken for weighing. Our choice.
pub const VARIED: f64 = 0.5;
pub(in crate::trial) const VARIED_PARTS: u32 = 5_000;

/// Lines and settings of every run in the order of the first, results in that of the properties.
fn in_one_order(mut runs: Vec<TrialRun>, responses: &[Response]) -> Vec<TrialRun> {
    let places = |names: &mut dyn Iterator<Item = &String>| -> HashMap<String, usize> {
        names.enumerate().map(|(place, name)| (name.clone(), place)).collect()
    };
    let (mut lines, mut settings) = (HashMap::new(), HashMap::new());
    if let Some(first) = runs.first() {
        lines = places(&mut first.lines.iter().map(|(line, _)| line));
        settings = places(&mut first.settings.iter().map(|(variable, _)| variable));
    }
    let properties: HashMap<&str, usize> =
        responses.iter().enumerate().map(|(place, response)| (response.name(), place)).collect();
    for run in &mut runs {
        run.lines.sort_by_key(|(line, _)| lines.get(line).copied());
        run.settings.sort_by_key(|(variable, _)| settings.get(variable).copied());
        run.results.sort_by_key(|(response, _)| properties.get(response.as_str()).copied());
    }
    runs
}

/// After so many faults nobody reads on.
const MOST_FAULTS: usize = 1000;

/// The fault for a property that nothing was measured of.
pub(in crate::trial) fn no_results(response: &Response) -> Fault {
    Fault::new(FaultKind::Missing, "a measured property without any result")
        .value(shown(response.name()))
        .remedy("write the results into the log first")
}
