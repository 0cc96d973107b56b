//! From exact shares to the grid.

use super::survey::survey;
use super::temperature;
use super::total::Share;
use super::{Draft, Question};
use crate::catalogue::Catalogue;
use crate::error::Error;
use crate::formula::{Formula, Line, Phase, absorber};
use crate::number::{Exact, HalfWay, Ppm, apportion_to};

/// What a line departs from its exact percentage for standing on the grid of whole ppm.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Departure {
    /// The line's name in the formula.
    pub line: String,
    /// The exact percentage.
    pub exact: Exact,
    /// The percentage on the grid.
    pub grid: Ppm,
    /// True for the line that took the rounding rests of the others; every other departs by half a ppm at most.
    pub absorber: bool,
}

/// A draft that became a formula.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Settled {
    /// The formula.
    pub formula: Formula,
    /// The lines that are not on the grid exactly; none where all percentages were.
    pub departures: Vec<Departure>,
}

impl Draft {
    /// The formula, with what each line departs from its exact percentage for standing on the grid.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Draft, DraftLine};
    /// let thirds = ["kaolin", "cetyl-alcohol", "sci-powder"].map(|id| DraftLine::new(id, "70 g"));
    /// let settled = Draft::new("Thirds", thirds.to_vec())?.settle(&Catalogue::starter())?;
    /// assert_eq!(settled.formula.lines()[1].percent().to_string(), "33.3333");
    /// assert_eq!(settled.departures.len(), 3);
    /// assert_eq!(settled.departures[1].exact.to_string(), "100/3");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// All open questions.
    pub fn settle(&self, catalogue: &Catalogue) -> Result<Settled, Error> {
        let surveyed = survey(self, catalogue);
        Error::check(surveyed.questions.iter().map(Question::fault).collect(), ())?;
        settle(&self.title, &surveyed.shares)
    }

    /// The formula.
    ///
    /// # Errors
    /// All open questions.
    pub fn into_formula(self, catalogue: &Catalogue) -> Result<Formula, Error> {
        self.settle(catalogue).map(|settled| settled.formula)
    }
}

/// The shares sum to 100.
fn settle(title: &str, shares: &[Share]) -> Result<Settled, Error> {
    let exact: Vec<Exact> = shares.iter().map(|share| &share.percent * Exact::from(10_000)).collect();
    let near = |share: &Exact| {
        Ppm::from_parts(share.round_i64(HalfWay::ToEven).and_then(|parts| u32::try_from(parts).ok()).unwrap_or(0))
    };
    let mut lines = Vec::with_capacity(shares.len());
    for (share, exact) in shares.iter().zip(&exact) {
        let line = Line::new(&share.name, share.material.clone(), near(exact)?)?.as_qs(share.qs);
        lines.push(match &share.phase {
            Some(phase) => line.in_phase(phase)?,
            None => line,
        });
    }
    let whole = i64::from(Ppm::WHOLE.parts());
    let mut takes_rest = absorber(&lines);
    let rounded = apportion_to(&exact, whole, takes_rest).or_else(|_| {
        // A tiny line cannot give what many others round up; the largest always can.
        takes_rest = (0..exact.len()).fold(0, |best, index| if exact[index] > exact[best] { index } else { best });
        apportion_to(&exact, whole, takes_rest)
    })?;
    let mut departures = Vec::new();
    let mut on_grid = Vec::with_capacity(lines.len());
    for (index, line) in lines.into_iter().enumerate() {
        let grid = Ppm::from_parts(u32::try_from(rounded.units[index]).unwrap_or(u32::MAX))?;
        if !rounded.departures[index].is_zero() {
            let exact = shares[index].percent.clone();
            departures.push(Departure { line: line.name().to_string(), exact, grid, absorber: index == takes_rest });
        }
        on_grid.push(line.with_percent(grid));
    }
    let formula = Formula::new(title, on_grid)?;
    let worked_at = |phase: &Phase| match temperature::of(phase.name()).and_then(|stated| stated.kept()) {
        Some(temperature) => phase.clone().at(temperature),
        None => Ok(phase.clone()),
    };
    let phases: Vec<Phase> = formula.phases().iter().map(worked_at).collect::<Result<_, Error>>()?;
    Ok(Settled { formula: formula.with_phases(&phases)?, departures })
}
