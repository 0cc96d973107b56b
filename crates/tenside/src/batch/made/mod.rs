//! A batch as it was made: what was really weighed, and the formula that came of it.
//!
//! # Why
//! - What is not stated is as planned, and says so line by line: nobody writes down what went right.
//! - A scale that counts in `d` shows a mass that is off by up to `d/2`, so a line weighs between `m - d/2` and
//!   `m + d/2`; a measure of what was made reaches over all such masses and all compositions together. A line that was
//!   weighed twice is off by two halves.
//! - A bowl that was weighed says of all lines together what the scales could not see of each: their masses add up to
//!   its own, within half a division. Where it seems to have gained, or lost what no line of water held, by no more than
//!   the scales could not see, nothing has left it, and it says no more than the lines do.
//! - Water that leaves the bowl is taken from the lines that are water; where they hold less than that, the batch has
//!   no formula of raw materials any more, and drying is said by a basis instead.

mod actual;
mod balance;
mod document;
mod page;

use std::sync::Arc;

pub use actual::Actual;
pub use balance::MassBalance;
pub use document::MadeDocument;
pub(super) use document::{ActualDocument, MadeLineDocument, MassBalanceDocument, read_actual};

use super::{Batch, Weighing};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line, absorber};
use crate::measure::{Amount, Basis, Measure, Measured};
use crate::number::{Exact, Interval, Mass, MassUnit, Ppm, apportion_to};
use crate::substance::{Class, Substance};

/// A batch as it was made.
///
/// ```
/// use tenside::batch::{Actual, BatchSize, Scales};
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::measure::{Basis, Measure};
/// use tenside::number::{Exact, Ppm};
/// let catalogue = Catalogue::starter();
/// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
/// let formula = Formula::new("Plain bar", vec![line("sci-powder", "60")?, line("cetyl-alcohol", "15")?, line("kaolin", "25")?])?;
/// let batch = formula.batch(BatchSize::of_mass("200 g".parse()?)?, Scales::new("0.1 g".parse()?)?)?;
/// let made = batch.as_made(&Actual::new().weighed("sci-powder", "130 g".parse()?)?)?;
/// assert_eq!(made.formula().line("sci-powder")?.percent().to_string(), "61.9048");
/// assert_eq!(made.lines()[0].deviation_percent().unwrap().rounded_text(2), "8.33");
/// assert!(!made.lines()[1].is_stated());
/// let active = made.measure(&Measure::as_supplied(), &Basis::AsCharged)?.value.unwrap();
/// assert_eq!(active.typical, Some(Exact::from(100)));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Made {
    batch: Batch,
    actual: Actual,
    lines: Vec<MadeLine>,
    amounts: Vec<Amount>,
    /// Between what their sum lies, where the bowl was weighed.
    total: Option<[Exact; 2]>,
    formula: Formula,
    balance: MassBalance,
}

/// A line as it was made.
#[derive(Clone, Debug, PartialEq)]
pub struct MadeLine {
    line: Line,
    planned: Option<Mass>,
    is_stated: bool,
    mass: Mass,
    of_batch: Exact,
    percent: Interval,
}

getters!(MadeLine {
    /// The line of the made formula.
    line: &Line,
    /// The mass that the sheet asked for; `None` where the plan does not have it.
    planned: Option<&Mass>,
    /// False where nothing was stated, so that it counts as planned.
    is_stated: bool,
    /// The mass in the batch: weighed, added, less water that left.
    mass: &Mass,
    /// Its share of the batch in percent, with what the scales could not see.
    percent: &Interval,
});

impl MadeLine {
    /// By how much it is more (or, below 0, less) than planned, in percent of the line; `None` where nothing was
    /// planned.
    #[must_use]
    pub fn deviation_percent(&self) -> Option<Exact> {
        let planned = self.planned.as_ref().filter(|planned| planned.grams().is_positive())?;
        Some((self.mass.grams() - planned.grams()) / planned.grams() * Exact::hundred())
    }

    /// The same in percent of the batch as planned.
    #[must_use]
    pub fn deviation_of_batch(&self) -> &Exact {
        &self.of_batch
    }
}

/// A line being reckoned.
struct Tally {
    line: Line,
    planned: Option<Mass>,
    is_stated: bool,
    grams: Exact,
    /// What the scales could not see of it, grams.
    unseen: Exact,
}

impl Batch {
    /// The batch as it was made.
    ///
    /// # Errors
    /// A line that the batch does not have, a lot of another raw material, an addition under a name that is in use,
    /// more water gone than the lines of water hold, more in the bowl than went in, more out of it than was in it, and
    /// a batch of nothing.
    pub fn as_made(&self, actual: &Actual) -> Result<Made, Error> {
        let mut tallies = self.planned_lines(actual)?;
        let weighed: Exact = tallies.iter().map(|tally| &tally.grams).sum();
        let added: Exact = actual.added.iter().map(|added| added.mass.grams()).sum();
        for (place, added) in actual.added.iter().enumerate() {
            let half = self.half_division(
                tallies.iter().find(|tally| tally.line.name() == added.line).map_or("", |tally| tally.line.phase()),
            );
            join(&mut tallies, added, half).map_err(|error| error.within(&format!("addition {}", place + 1)))?;
        }
        let unseen: Exact = tallies.iter().map(|tally| &tally.unseen).sum();
        let held: Exact = tallies.iter().filter(|tally| tally.is_water()).map(|tally| &tally.grams).sum();
        let (boiled_off, unsure) = self.water_that_left(actual, &(&weighed + &added), &unseen, &held)?;
        let unseen = unseen + &unsure;
        take_water(&mut tallies, &boiled_off, &unsure)?;
        let balance = MassBalance::new(actual, &weighed, &added, &boiled_off, &unseen)?;
        let total: Exact = tallies.iter().map(|tally| &tally.grams).sum();
        if !total.is_positive() {
            return Err(Fault::new(FaultKind::OutOfRange, "nothing was weighed in")
                .at("batch")
                .value("0 g")
                .allowed("above 0 g")
                .into());
        }
        let mut amounts: Vec<Amount> = tallies.iter().map(Tally::amount).collect();
        let half = self.half_division("");
        let bowl = actual.in_bowl.as_ref().filter(|bowl| *bowl.grams() == total);
        let in_all = bowl.map(|bowl| [(bowl.grams() - &half).max(Exact::ZERO), bowl.grams() + &half]);
        if let Some(in_all) = &in_all {
            narrow(&mut amounts, in_all);
        }
        let formula = made_formula(self.formula(), &tallies, &total)?;
        let (low, high): (Exact, Exact) =
            (amounts.iter().map(|amount| &amount.low).sum(), amounts.iter().map(|amount| &amount.high).sum());
        let line = |((tally, amount), line): ((Tally, &Amount), &Line)| -> Result<MadeLine, Error> {
            let share = |grams: &Exact, whole: Exact| grams.checked_div(&whole).map(|share| share * Exact::hundred());
            let (mut most, mut least) = (&amount.low + (&high - &amount.high), &amount.high + (&low - &amount.low));
            if let Some([in_all_low, in_all_high]) = &in_all {
                (most, least) = (most.min(in_all_high.clone()), least.max(in_all_low.clone()));
            }
            let percent = Interval {
                low: share(&amount.low, most),
                typical: Some(&tally.grams / &total * Exact::hundred()),
                high: share(&amount.high, least),
            };
            let planned = tally.planned.as_ref().map_or(Exact::ZERO, |planned| planned.grams().clone());
            let of_batch = (&tally.grams - planned) / self.weighed().grams() * Exact::hundred();
            let mass = Mass::new(&tally.grams, MassUnit::Gram)?;
            Ok(MadeLine {
                line: line.clone(),
                planned: tally.planned,
                is_stated: tally.is_stated,
                mass,
                of_batch,
                percent,
            })
        };
        let lines = tallies.into_iter().zip(&amounts).zip(formula.lines()).map(line).collect::<Result<_, _>>()?;
        Ok(Made { batch: self.clone(), actual: actual.clone(), lines, amounts, total: in_all, formula, balance })
    }

    /// The lines as planned, with what was stated of them.
    fn planned_lines(&self, actual: &Actual) -> Result<Vec<Tally>, Error> {
        let names = || self.formula().lines().iter().map(Line::name);
        let stated = actual.weighed.keys().chain(actual.lots.keys());
        let faults: Vec<Fault> = stated
            .filter(|name| !names().any(|known| known == name.as_str()))
            .map(|name| unknown_name("line", name, names()))
            .collect();
        Error::check(faults, ())?;
        let tally = |line: &Line| -> Result<Tally, Error> {
            let planned =
                self.weighings().iter().find(|weighing| weighing.line().name() == line.name()).map(Weighing::rounded);
            let stated = actual.weighed.get(line.name());
            let line = match actual.lots.get(line.name()) {
                Some(lot) => {
                    let material = line.material();
                    let (of_lot, _) = material
                        .typical()
                        .unwrap_or(material)
                        .with_lot(lot)
                        .map_err(|error| error.within(&format!("line {:?}", line.name())))?;
                    line.clone().of_material(Arc::new(of_lot))
                }
                None => line.clone(),
            };
            let grams = stated.or(planned).map_or(Exact::ZERO, |mass| mass.grams().clone());
            // What was left out was left out.
            let unseen = if grams.is_zero() { Exact::ZERO } else { self.half_division(line.phase()) };
            Ok(Tally {
                planned: Some(planned.cloned().map_or_else(|| Mass::new(&Exact::ZERO, MassUnit::Gram), Ok)?),
                is_stated: stated.is_some(),
                line,
                grams,
                unseen,
            })
        };
        self.formula().lines().iter().map(tally).collect()
    }

    fn half_division(&self, phase: &str) -> Exact {
        self.scales().division(phase).grams() / Exact::from(2)
    }

    /// Water that left, of so much that lines of water `held`, and what is not sure of it.
    fn water_that_left(
        &self,
        actual: &Actual,
        went_in: &Exact,
        unseen: &Exact,
        held: &Exact,
    ) -> Result<(Exact, Exact), Error> {
        let half = self.half_division("");
        match (&actual.boiled_off, &actual.in_bowl) {
            (Some(mass), _) if mass.grams().is_zero() => Ok((Exact::ZERO, Exact::ZERO)),
            (Some(mass), _) => Ok((mass.grams().clone(), half)),
            (None, Some(bowl)) => {
                let unsure = unseen + &half;
                if bowl.grams() > &(went_in + &unsure) {
                    return Err(Fault::new(FaultKind::Contradiction, "more is in the bowl than went into it")
                        .at("mass in the bowl")
                        .value(bowl)
                        .allowed(format!("at most {} g", went_in.rounded_text(2)))
                        .remedy(
                            "take off the empty bowl, and state every addition and every line that weighed more than \
                             planned",
                        )
                        .into());
                }
                // A bowl that seems to have gained lost nothing that a scale could see, nor did one that seems to have
                // lost as much more than there was.
                let left = (went_in - bowl.grams()).max(Exact::ZERO);
                let left = if left <= held + &unsure { left.min(held.clone()) } else { left };
                Ok((left, unsure))
            }
            (None, None) => Ok((Exact::ZERO, Exact::ZERO)),
        }
    }
}

impl Tally {
    fn is_water(&self) -> bool {
        self.line.material().main_class() == Class::Water
    }

    fn amount(&self) -> Amount {
        Amount {
            low: (&self.grams - &self.unseen).max(Exact::ZERO),
            stated: self.grams.clone(),
            high: &self.grams + &self.unseen,
        }
    }
}

/// Narrows amounts to what each can be beside the others, where together they lie between two ends.
fn narrow(amounts: &mut [Amount], [least, most]: &[Exact; 2]) {
    let (low, high): (Exact, Exact) =
        (amounts.iter().map(|amount| &amount.low).sum(), amounts.iter().map(|amount| &amount.high).sum());
    for amount in amounts {
        let (others_low, others_high) = (&low - &amount.low, &high - &amount.high);
        amount.low = (least - others_high).max(amount.low.clone());
        amount.high = (most - others_low).min(amount.high.clone());
    }
}

fn join(tallies: &mut Vec<Tally>, added: &actual::Added, half: Exact) -> Result<(), Error> {
    let known = tallies.iter_mut().find(|tally| tally.line.name() == added.line);
    match (known, &added.material) {
        (Some(tally), material) => {
            if let Some(material) = material.as_ref().filter(|material| *material != tally.line.material()) {
                return Err(Fault::new(FaultKind::Contradiction, "the line is of another raw material or lot")
                    .at(format!("line {:?}", added.line))
                    .value(format!("{:?}", material.id()))
                    .remedy("give the addition a name of its own")
                    .into());
            }
            tally.grams += added.mass.grams();
            tally.unseen += half;
            tally.is_stated = true;
        }
        (None, Some(material)) => {
            let line = Line::new(&added.line, Arc::clone(material), Ppm::ZERO)?;
            tallies.push(Tally {
                line,
                planned: None,
                is_stated: true,
                grams: added.mass.grams().clone(),
                unseen: half,
            });
        }
        (None, None) => {
            return Err(unknown_name("line", &added.line, tallies.iter().map(|tally| tally.line.name())).into());
        }
    }
    Ok(())
}

/// Takes water that left from the lines that are water, the largest first.
fn take_water(tallies: &mut [Tally], grams: &Exact, unsure: &Exact) -> Result<(), Error> {
    if grams.is_zero() && unsure.is_zero() {
        return Ok(());
    }
    let held: Exact = tallies.iter().filter(|tally| tally.is_water()).map(|tally| &tally.grams).sum();
    if *grams > held {
        let others = tallies.iter().filter(|tally| !tally.is_water());
        let brought = |tally: &Tally| -> Option<Exact> {
            let percent = tally.line.material().typical_percent(Substance::is_water).ok()?;
            Some(percent * &tally.grams / Exact::hundred())
        };
        let brought: Option<Exact> = others.map(brought).sum();
        let brought = match brought {
            Some(grams) => format!("typically {} g", grams.rounded_text(1)),
            None => "how much is not known".to_string(),
        };
        return Err(Fault::new(FaultKind::OutOfRange, "more water left than the lines of water hold")
            .at("water that left")
            .value(format!("{} g", grams.rounded_text(2)))
            .allowed(format!("0 to {} g", held.floor_text(2)))
            .remedy(format!(
                "state what stuck or was spilled as rejected; water that the other raw materials bring ({brought}) is \
                 not taken from them: leave it out here, and measure on a finished basis, since a bar that dried is no \
                 mix of its raw materials"
            ))
            .into());
    }
    let mut water: Vec<&mut Tally> = tallies.iter_mut().filter(|tally| tally.is_water()).collect();
    water.sort_by(|left, right| right.grams.cmp(&left.grams));
    let mut rest = grams.clone();
    for tally in water {
        let taken = rest.clone().min(tally.grams.clone());
        tally.grams = &tally.grams - &taken;
        tally.unseen += unsure;
        rest -= taken;
    }
    Ok(())
}

/// The lines at their shares on the grid; the line that takes rounding rests takes them here too.
fn made_formula(plan: &Formula, tallies: &[Tally], total: &Exact) -> Result<Formula, Error> {
    let shares: Vec<Exact> =
        tallies.iter().map(|tally| &tally.grams / total * Exact::from(i64::from(Ppm::WHOLE.parts()))).collect();
    let lines: Vec<Line> = tallies.iter().map(|tally| tally.line.clone()).collect();
    let rounded = apportion_to(&shares, i64::from(Ppm::WHOLE.parts()), absorber(&lines_at(&lines, &shares)?))?;
    if let Some((tally, _)) =
        tallies.iter().zip(&rounded.units).find(|(tally, units)| **units == 0 && tally.grams.is_positive())
    {
        return Err(Fault::new(
            FaultKind::OutOfRange,
            "a line is too small a part of the batch for the grid of percentages",
        )
        .at(format!("line {:?}", tally.line.name()))
        .value(format!("{} g", tally.grams.rounded_text(4)))
        .allowed("half a part of a million of the batch, or more")
        .remedy("check its mass and unit")
        .into());
    }
    let at = |(line, units): (Line, &i64)| {
        Ok(line.with_percent(Ppm::from_parts(u32::try_from(*units).unwrap_or(u32::MAX))?))
    };
    let lines = lines.into_iter().zip(&rounded.units).map(at).collect::<Result<Vec<Line>, Error>>()?;
    Ok(Formula::new(plan.title(), lines)?.with_phases(plan.phases())?.with_prices(plan.prices().cloned()))
}

/// The lines with about their percentages, from which the one is chosen that takes rounding rests.
fn lines_at(lines: &[Line], shares: &[Exact]) -> Result<Vec<Line>, Error> {
    let at = |(line, share): (&Line, &Exact)| {
        Ok(line
            .clone()
            .with_percent(Ppm::from_parts(share.floor_i64().and_then(|parts| u32::try_from(parts).ok()).unwrap_or(0))?))
    };
    lines.iter().zip(shares).map(at).collect()
}

getters!(Made {
    /// The batch as planned.
    batch: &Batch,
    /// What was stated.
    actual: &Actual,
    /// The lines: those planned in their order, then additions.
    lines: &[MadeLine],
    /// The formula that came of it, on the grid: with the plan's title, names, phases and temperatures, and the lots
    /// really used. It can be reviewed, labelled and compared like any other.
    formula: &Formula,
    /// Where the mass went.
    balance: &MassBalance,
});

impl Made {
    /// The lines of the plan of which nobody stated what was weighed; what was added to them later says nothing of it.
    pub(super) fn not_weighed(&self) -> Vec<&str> {
        let weighings = self.batch.weighings().iter().map(|weighing| weighing.line().name());
        weighings.filter(|name| !self.actual.weighed.contains_key(*name)).collect()
    }

    /// A measure of what was made: typical at the masses weighed, its interval over all masses that the scales could
    /// have meant and all compositions together.
    ///
    /// # Errors
    /// As [`Formula::measure`].
    pub fn measure(&self, measure: &Measure, basis: &Basis) -> Result<Measured, Error> {
        self.formula.measure_of_amounts(measure, basis, &self.amounts, self.total.as_ref())
    }
}
