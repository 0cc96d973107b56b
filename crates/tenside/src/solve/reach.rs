//! How far a measure can go among the formulas that meet a brief.

use std::sync::Arc;

use super::objective::{Ratio, least, least_ratio, plain_costs};
use super::program::{currency, frame_on};
use super::proof::fails;
use super::sides::sides;
use crate::brief::{Brief, Direction, Objective, Requirement};
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Measure, Scope};
use crate::number::{Exact, ToExact};

/// Lowest and highest attainable value, exact. A formula in which a ratio's denominator is 0 has no value; an end is
/// absent where there is none: where the denominator is 0 in every formula, or can come so near to 0 that the ratio has
/// no end.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Reach {
    /// The lowest value.
    pub lowest: Option<Exact>,
    /// The highest value.
    pub highest: Option<Exact>,
    /// Its unit.
    pub unit: String,
}

/// Lowest and highest value, or nothing if no formula meets the brief. A ratio has them among the formulas whose
/// denominator is not 0, by Dinkelbach's steps from a formula with the greatest denominator; where the best corner has a
/// denominator of 0 there is no end.
#[allow(clippy::type_complexity, reason = "two ends of one range")]
pub(super) fn ends_of(
    brief: &Brief,
    measure: &Measure,
    basis: &Basis,
) -> Result<Option<(Option<Exact>, Option<Exact>)>, Error> {
    let (frame, watched) = (frame_on(brief, basis)?, brief.watched());
    let (numerator, denominator) = match sides(brief, measure, basis) {
        // Its denominator can be negative.
        Err(error) if error.is_unsupported() => return Ok(Some((None, None))),
        sides => sides?,
    };
    let end = |sign: Exact| -> Result<Option<Option<Exact>>, Error> {
        if let Some(costs) = plain_costs(&sign, &numerator, &denominator) {
            return Ok(least(&frame, costs, watched)?.map(|(end, _)| Some(end * sign)));
        }
        let greatest = denominator.iter().map(|value| -value).collect();
        let Some((_, point)) = least(&frame, greatest, watched)? else { return Ok(None) };
        let ratio = Ratio::new(&sign, &numerator, Arc::clone(&denominator));
        let end = least_ratio(&frame, watched, point, |point| {
            let reached = ratio.at(point)?;
            let costs = ratio.costs(&reached);
            Some((reached, costs))
        })?;
        Ok(Some(end.map(|end| end * sign)))
    };
    let Some(lowest) = end(Exact::ONE)? else { return Ok(None) };
    Ok(end(Exact::from(-1))?.map(|highest| (lowest, highest)))
}

impl Brief {
    /// The lowest and highest value a measure can have under this brief, whatever its objective: of that only the water
    /// counts which has to be charged where it is on a finished basis.
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
        let unit = measure.unit(currency(self));
        match ends_of(self, measure, basis)? {
            Some((lowest, highest)) => Ok(Reach { lowest, highest, unit }),
            None => Err(self.solve().err().unwrap_or_else(|| fails("no formula meets the measure's basis"))),
        }
    }

    /// The lowest and highest percentage of each line among the formulas whose objective is at most `extra` worse than
    /// the best, in the objective's unit.
    ///
    /// # Errors
    /// A brief that cannot be asked or answered, one without a measure as objective, a negative `extra`.
    pub fn line_ranges_within(&self, extra: impl ToExact) -> Result<Vec<(String, Exact, Exact)>, Error> {
        let Some(Objective::Measure { direction, measure, basis }) = self.objective().cloned() else {
            return Err(Fault::new(
                FaultKind::Unsupported,
                "a brief without a measure as objective has no cost to stay within",
            )
            .remedy("minimise or maximise one")
            .into());
        };
        let extra = extra.to_exact()?;
        if extra.is_negative() {
            return Err(Fault::new(FaultKind::OutOfRange, "less than the best cannot be asked for")
                .value(extra)
                .allowed("0 or more")
                .into());
        }
        let best = self.solve()?.objective().cloned().unwrap_or_default();
        let limit = match direction {
            Direction::Minimise => Requirement::at_most(measure, best + &extra)?,
            Direction::Maximise => Requirement::at_least(measure, best - &extra)?,
        };
        let near = self.clone().require(limit.on(basis).named("within the extra allowed")?)?;
        let mut ranges = Vec::new();
        for line in self.lines() {
            let measure = Measure::as_supplied().contributed_by(Scope::Lines(vec![line.name().to_string()]));
            if let Some((Some(lowest), Some(highest))) = ends_of(&near, &measure, &Basis::AsCharged)? {
                ranges.push((line.name().to_string(), lowest, highest));
            }
        }
        Ok(ranges)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Catalogue;

    #[test]
    fn a_ratio_over_what_can_be_nothing_has_the_ends_that_it_has() {
        let brief = Brief::new("Wash", &Catalogue::starter())
            .unwrap()
            .between("capb-30", 0, 40)
            .unwrap()
            .between("kaolin", 10, 50)
            .unwrap()
            .qs("water");
        let brief = brief.unwrap();
        let ratio = Measure::as_supplied().contributed_by(Scope::Lines(vec!["kaolin".to_string()]));
        let per_active = ratio.per(&Measure::active_matter());
        // 10 % kaolin over 12 % active is least; without betaine there is no greatest.
        let reach = brief.reach(&per_active, &Basis::AsCharged).unwrap();
        assert_eq!((reach.lowest, reach.highest), (Some(Exact::ratio(10, 12)), None));
        let turned = Measure::active_matter().per(&Measure::water());
        assert!(brief.clone().reach(&turned, &Basis::AsCharged).unwrap().lowest.unwrap().is_zero());
        let dry = Brief::new("Dry", &Catalogue::starter()).unwrap().qs("sodium-chloride").unwrap();
        let reach = dry.reach(&Measure::as_supplied().per(&Measure::active_matter()), &Basis::AsCharged).unwrap();
        assert_eq!((reach.lowest, reach.highest), (None, None));
    }
}
