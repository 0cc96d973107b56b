//! How much a requirement has to give for a brief to become answerable.
//!
//! Without the member, what it limits can take every value of an interval (the brief's formulas are a convex set and
//! the quantity is continuous on it), so the least change moves the limit to the nearer end of that interval: the
//! [reach](super::Reach) of the quantity. Where the member asks for one value, the values of the interval would do and
//! no others. What is asked for every composition has its least change in `robust`.

use super::constraint::{Constraint, End, Limit};
use super::member::{has_two_ends, without, words};
use super::program::{BriefProgram, currency};
use super::reach::ends_of;
use super::robust;
use crate::bounds::Quantity;
use crate::brief::{Brief, Parameter, Role};
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Measure, Scope};
use crate::number::{Exact, HalfWay, ToExact};

/// A change of one limit.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Relaxation {
    /// What is changed.
    pub constraint: Constraint,
    /// What is changed, in the words of the brief.
    pub words: String,
    /// The limit as it is.
    pub from: Exact,
    /// The nearest limit that would do.
    pub to: Exact,
    /// The farthest value that would do, where one value is asked for: `to` itself where nothing else does. `None`
    /// where every farther one does.
    pub until: Option<Exact>,
    /// Its unit.
    pub unit: String,
}

/// The most and the fewest decimals in a sentence, and those of a line, which the grid has.
const MOST_DECIMALS: u32 = 18;
const FEWEST_DECIMALS: u32 = 2;
const LINE_DECIMALS: u32 = 4;

fn step(decimals: u32) -> Exact {
    Exact::ratio(1, 10_i64.pow(decimals))
}

/// The nearest number of so many decimals that is not below the value, or not above it.
fn rounded(value: &Exact, decimals: u32, upwards: bool) -> Exact {
    if upwards { -(-value).floor_to(&step(decimals)) } else { value.floor_to(&step(decimals)) }
}

impl Relaxation {
    /// True where the limit rises.
    #[must_use]
    pub fn upwards(&self) -> bool {
        self.to > self.from
    }

    /// A change as its parts say it, such as one that comes back from a document.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::solve::{Constraint, End, Relaxation};
    /// let brief = Brief::new("Weak", &Catalogue::starter())?.between("capb-30", 0, 50)?.qs("water")?.at_least(Measure::active_matter(), 18)?;
    /// let little = Constraint::Line { index: 0, name: "capb-30".to_string(), end: End::High };
    /// let change = Relaxation::new(little, "line capb-30", 50, 60, None::<u32>, "%")?;
    /// assert_eq!(change.sentence(), "raise line capb-30 to 60 % or more");
    /// assert!(change.taken(&brief)?.solve().is_ok());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// What is no number.
    pub fn new(
        constraint: Constraint,
        words: &str,
        from: impl ToExact,
        to: impl ToExact,
        until: Option<impl ToExact>,
        unit: &str,
    ) -> Result<Self, Error> {
        let until = until.map(ToExact::to_exact).transpose()?;
        let (from, to) = (from.to_exact()?, to.to_exact()?);
        Ok(Relaxation { constraint, words: words.to_string(), from, to, until, unit: unit.to_string() })
    }

    /// The brief with this change made, on the very value that the sentence says: nearest to what was asked, with as
    /// few decimals as do.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// use tenside::solve::Outcome;
    /// let brief = Brief::new("Weak", &Catalogue::starter())?.between("capb-30", 0, 50)?.qs("water")?.at_least(Measure::active_matter(), 18)?;
    /// let Outcome::Conflict(conflict) = brief.try_solve()? else { panic!("50 % of a 30 % grade brings 15 %") };
    /// for change in conflict.relaxations()?.iter().flatten() {
    ///     assert!(change.taken(&brief)?.solve().is_ok(), "{}", change.sentence());
    /// }
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that does not ask for what is changed, and a value that it cannot take beside what else it asks for.
    pub fn taken(&self, brief: &Brief) -> Result<Brief, Error> {
        let parameter = match &self.constraint {
            Constraint::Line { name, end, .. } => match (end, self.said()) {
                (End::Both, Said::Range(nearest)) => {
                    let from = &self.from;
                    return brief.clone().change_line(name, Role::between(from.min(&nearest), from.max(&nearest))?);
                }
                (End::Both, _) => Parameter::Fixed(name.clone()),
                (End::Low, _) => Parameter::Lowest(name.clone()),
                (End::High, _) => Parameter::Highest(name.clone()),
            },
            Constraint::Split { name, member, .. } => Parameter::part(name, member),
            Constraint::Requirement { name, end, .. } => {
                let asked = brief.requirements().iter().find(|known| known.name() == *name);
                let one_value = asked.is_some_and(|known| known.low() == known.high());
                match end {
                    // For every composition one value has two ends, and is one number of the brief all the same.
                    End::Both => Parameter::Target(name.clone()),
                    _ if one_value => Parameter::Target(name.clone()),
                    End::Low => Parameter::AtLeast(name.clone()),
                    End::High => Parameter::AtMost(name.clone()),
                }
            }
            Constraint::WaterToKeep { .. } | Constraint::Total => {
                let fault =
                    Fault::new(FaultKind::Unsupported, "no number of the brief stands for this").value(&self.words);
                return Err(fault.remedy("change one of the conflict's other members").into());
            }
        };
        let value = match self.said() {
            Said::OrFarther(nearest) | Said::Between(nearest, _) | Said::Range(nearest) => nearest,
            Said::Exactly => self.to.clone(),
        };
        brief.with_parameter(&parameter, value)
    }

    /// A sentence to act on; what it says can be typed as it stands, and does. A limit is rounded to the side that
    /// does: `raise ... to 66.13 % or more`. Where one value is asked for and only some would do, they are said:
    /// `to between 57.94 and 60 %`, or the only one, `to exactly 1680/29 % (about 57.931 %)`. A fixed line that would
    /// need a percentage off the grid is given a range instead.
    #[must_use]
    pub fn sentence(&self) -> String {
        let Relaxation { words, from, to, unit, .. } = self;
        let upwards = self.upwards();
        let (verb, more) = if upwards { ("raise", "more") } else { ("lower", "less") };
        let unit = if unit.is_empty() { String::new() } else { format!(" {unit}") };
        match self.said() {
            Said::OrFarther(nearest) => {
                let beyond = if self.is_last(&nearest) { String::new() } else { format!(" or {more}") };
                format!("{verb} {words} to {nearest}{unit}{beyond}")
            }
            Said::Between(nearest, farthest) if nearest == farthest => {
                format!("{verb} {words} to exactly {nearest}{unit}")
            }
            Said::Between(nearest, farthest) => {
                let (low, high) = ((&nearest).min(&farthest), (&nearest).max(&farthest));
                format!("{verb} {words} to between {low} and {high}{unit}")
            }
            Said::Range(nearest) => {
                format!("give {words} a range from {} to {}{unit}", from.min(&nearest), from.max(&nearest))
            }
            Said::Exactly => format!(
                "{verb} {words} to exactly {to}{unit} (about {}{unit})",
                to.rounded_to(&step(self.decimals()), HalfWay::ToEven)
            ),
        }
    }

    /// The values of few decimals that do.
    fn said(&self) -> Said {
        let (upwards, decimals) = (self.upwards(), self.decimals());
        let nearest = rounded(&self.to, decimals, upwards);
        let Some(farthest) = self.until.as_ref().filter(|until| !self.is_last(until)) else {
            return Said::OrFarther(nearest);
        };
        let on_grid = matches!(self.constraint, Constraint::Line { .. });
        for decimals in decimals..=if on_grid { decimals } else { MOST_DECIMALS } {
            let (nearest, farthest) = (rounded(&self.to, decimals, upwards), rounded(farthest, decimals, !upwards));
            if nearest == farthest || (nearest < farthest) == upwards {
                return Said::Between(nearest, farthest);
            }
        }
        if on_grid { Said::Range(nearest) } else { Said::Exactly }
    }

    /// As many decimals as four digits need, two at least; of a line the grid's. What is rounded up or down so leaves
    /// the whole ppm of a formula some room.
    fn decimals(&self) -> u32 {
        if matches!(self.constraint, Constraint::Line { .. }) {
            return LINE_DECIMALS;
        }
        let do_they = |decimals: &u32| self.to.is_zero() || self.to.abs() >= step(*decimals) * Exact::from(1000);
        (FEWEST_DECIMALS..=MOST_DECIMALS).find(do_they).unwrap_or(MOST_DECIMALS)
    }

    /// True where nothing lies farther: a percentage of 0 or 100, the least or greatest part of a split, an amount of
    /// nothing.
    fn is_last(&self, value: &Exact) -> bool {
        let (lowest, highest) = match &self.constraint {
            Constraint::Line { .. } => (Exact::ZERO, Exact::hundred()),
            Constraint::Split { .. } => parts(),
            // One value of a measure that is asked for is said as it is.
            one => return one.end() != End::Both && !self.upwards() && value.is_zero(),
        };
        *value == if self.upwards() { highest } else { lowest }
    }
}

/// What a sentence says of the values that do, the nearest one first.
enum Said {
    /// This and every farther one.
    OrFarther(Exact),
    /// From this to that one.
    Between(Exact, Exact),
    /// None on the grid: a range of the line as far as this one.
    Range(Exact),
    /// The exact one alone.
    Exactly,
}

/// What a part of a split may be.
fn parts() -> (Exact, Exact) {
    let (lowest, highest) = Quantity::SplitPart.range();
    (lowest.into(), highest.into())
}

/// What a member limits, between which values, and in which unit.
struct Limited {
    words: String,
    measure: Measure,
    basis: Basis,
    low: Option<Exact>,
    high: Option<Exact>,
    unit: String,
    /// What a value of the measure is multiplied with to be in the words' own terms: of a split the part of the other
    /// member.
    scale: Exact,
}

fn limited(brief: &Brief, program: &BriefProgram, member: Limit) -> Option<Limited> {
    let said = words(brief, program, member);
    match member {
        Limit::Line(index) => {
            let line = &brief.lines()[index];
            let (low, high) = line.role().range();
            Some(Limited {
                words: said,
                measure: Measure::as_supplied().contributed_by(Scope::Lines(vec![line.name().to_string()])),
                basis: Basis::AsCharged,
                low: Some(low.percent()),
                high: Some(high.percent()),
                unit: "%".to_string(),
                scale: Exact::ONE,
            })
        }
        Limit::Requirement { index, upper } => {
            let requirement = &brief.requirements()[index];
            let equation = requirement.low() == requirement.high();
            Some(Limited {
                // `the low end of ...`
                words: if has_two_ends(brief, index) { format!("the {said}") } else { said },
                scale: Exact::ONE,
                measure: requirement.measure().clone(),
                basis: requirement.basis().clone(),
                low: requirement.low().filter(|_| equation || !upper).cloned(),
                high: requirement.high().filter(|_| equation || upper).cloned(),
                unit: requirement.measure().unit(currency(brief)),
            })
        }
        Limit::Split { split, member } => {
            let split = &brief.splits()[split];
            // Against any other member: they keep their ratio.
            let reference = usize::from(member == 0);
            let ((first, first_part), (other, part)) = (&split.parts()[reference], &split.parts()[member]);
            let all: Vec<usize> = (0..split.parts().len()).collect();
            let words = format!("the part of {other} in {}", split.words(&all));
            let measure = split.measure_of(other).per(&split.measure_of(first));
            // By weight the ratio is a percentage.
            let scale = first_part / measure.factor();
            let ratio = part / &scale;
            Some(Limited {
                words,
                measure,
                basis: Basis::AsCharged,
                low: Some(ratio.clone()),
                high: Some(ratio),
                unit: String::new(),
                scale,
            })
        }
        Limit::WaterToKeep | Limit::Low(_) | Limit::High(_) => None,
    }
}

/// The least change of one member with which alone there is a formula that meets the brief.
pub(super) fn relaxation(brief: &Brief, program: &BriefProgram, member: Limit) -> Result<Option<Relaxation>, Error> {
    let Some(Limited { words, measure, basis, low, high, unit, scale }) = limited(brief, program, member) else {
        return Ok(None);
    };
    let (change, end) = if let Limit::Requirement { index, upper } = member
        && brief.requirements()[index].is_for_every_composition()
    {
        // The worst composition changes with the limit, so that it does not move along a row.
        let to = robust::nearest_limit(brief, index, upper)?;
        (low.or(high).zip(to).map(|(from, to)| (from, to, None)), End::Both)
    } else {
        let Some((lowest, highest)) = ends_of(&without(brief, member), &measure, &basis)? else {
            return Ok(None);
        };
        match (low, high) {
            (Some(low), _) if highest.as_ref().is_some_and(|highest| *highest < low) => {
                (highest.map(|to| (low, to, lowest)), End::Low)
            }
            (_, Some(high)) if lowest.as_ref().is_some_and(|lowest| *lowest > high) => {
                (lowest.map(|to| (high, to, highest)), End::High)
            }
            _ => return Ok(None),
        }
    };
    let (Some((from, to, until)), Some(constraint)) = (change, Constraint::of_limit(brief, member, end)) else {
        return Ok(None);
    };
    let until = until.filter(|_| constraint.end() == End::Both).map(|until| until * &scale);
    let mut change = Relaxation { words, from: from * &scale, to: to * &scale, until, unit, constraint };
    if matches!(change.constraint, Constraint::Split { .. }) {
        // What no part may be is left out.
        let (lowest, highest) = parts();
        if change.to < lowest || change.to > highest {
            return Ok(None);
        }
        let end = if change.upwards() { highest } else { lowest };
        change.until = Some(match change.until.take() {
            Some(until) if change.upwards() => until.min(end),
            Some(until) => until.max(end),
            None => end,
        });
    }
    Ok(Some(change))
}
