//! How far a measure can go among the formulas that meet a brief.

use super::Outcome;
use super::linear;
use super::objective::optimise;
use super::program::frame;
use crate::brief::{Brief, Direction, Objective, Requirement};
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Measure, Scope};
use crate::number::Exact;

/// Lowest and highest attainable value, exact; an end is absent where a ratio's denominator can be 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reach {
    /// The lowest value.
    pub lowest: Option<Exact>,
    /// The highest value.
    pub highest: Option<Exact>,
    /// Its unit.
    pub unit: String,
}

impl Brief {
    /// The lowest and highest value a measure can have under this brief, whatever its objective.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::{Basis, Measure};
    /// use tenside::number::Exact;
    /// let brief = Brief::new("Two of a kind", &Catalogue::starter())?.between("capb-30", 10, 50)?.qs("water")?;
    /// let reach = brief.reach(&Measure::active_matter(), &Basis::AsCharged)?;
    /// assert_eq!((reach.lowest, reach.highest), (Some(Exact::from(3)), Some(Exact::from(15))));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked or answered, and a measure whose weights are not known.
    pub fn reach(&self, measure: &Measure, basis: &Basis) -> Result<Reach, Error> {
        let unit = measure.unit(self.prices().map(|prices| prices.currency()));
        match reach_of(self, measure, basis)? {
            Some((lowest, highest)) => Ok(Reach { lowest, highest, unit }),
            None => Err(match self.try_solve()? {
                Outcome::Conflict(conflict) => Fault::new(FaultKind::Contradiction, conflict.sentence()).remedy("loosen one of them").into(),
                Outcome::Answered(_) => Fault::new(FaultKind::Contradiction, "no formula meets the measure's basis").into(),
            }),
        }
    }

    /// The lowest and highest percentage of each line among the formulas whose objective is at most `extra` worse than the best, in the
    /// objective's unit.
    ///
    /// # Errors
    /// A brief that cannot be asked or answered, one without a measure as objective, a negative `extra`.
    pub fn line_ranges_within(&self, extra: &Exact) -> Result<Vec<(String, Exact, Exact)>, Error> {
        let Some(Objective::Measure { direction, measure, basis }) = self.objective().cloned() else {
            return Err(Fault::new(FaultKind::Unsupported, "a brief without a measure as objective has no cost to stay within")
                .remedy("minimise or maximise one")
                .into());
        };
        if extra.is_negative() {
            return Err(Fault::new(FaultKind::OutOfRange, "less than the best cannot be asked for").value(extra).allowed("0 or more").into());
        }
        let best = self.solve()?.objective().cloned().unwrap_or_default();
        let limit = match direction {
            Direction::Minimise => Requirement::at_most(measure, best + extra),
            Direction::Maximise => Requirement::at_least(measure, best - extra),
        };
        let near = self.clone().require(limit.on(basis).named("within the extra allowed")?)?;
        let mut ranges = Vec::new();
        for line in self.lines() {
            let measure = Measure::as_supplied().contributed_by(Scope::Lines(vec![line.name().to_string()]));
            if let Some((Some(lowest), Some(highest))) = reach_of(&near, &measure, &Basis::AsCharged)? {
                ranges.push((line.name().to_string(), lowest, highest));
            }
        }
        Ok(ranges)
    }
}

/// Lowest and highest value, or nothing if no formula meets the brief.
#[allow(clippy::type_complexity, reason = "two ends of one range")]
pub(super) fn reach_of(brief: &Brief, measure: &Measure, basis: &Basis) -> Result<Option<(Option<Exact>, Option<Exact>)>, Error> {
    let end = |direction: Direction| -> Result<Option<Option<Exact>>, Error> {
        let asked = brief.clone().with_objective(Some(Objective::measure(direction, measure.clone(), basis.clone())));
        match optimise(&asked, frame(&asked)?) {
            Ok(proof) => match proof.outcome() {
                linear::Outcome::Optimal(_) => Ok(Some(proof.objective_value(&asked)?)),
                linear::Outcome::Infeasible(_) | linear::Outcome::Unbounded(_) => Ok(None),
            },
            // A ratio whose denominator can be 0 has no end that way.
            Err(error) if error.is_unsupported() => Ok(Some(None)),
            Err(error) => Err(error),
        }
    };
    let Some(lowest) = end(Direction::Minimise)? else { return Ok(None) };
    Ok(end(Direction::Maximise)?.map(|highest| (lowest, highest)))
}
