//! Which lines verified scales can weigh within a chosen relative error, and how to dilute what is too small first.
//!
//! ```text
//! error(load) = 2 * (0.5, 1 or 1.5) e, by how many intervals e the load has      relative error = error / load
//! ```
//!
//! A scale is not used below its minimum capacity or above its largest load. The errors are the most that a scale in
//! service may have, so that a good one does better. Source: OIML R 76-1, see `data/scales/oiml.toml`.

mod document;
mod page;
mod table;

pub use document::WeighableDocument;
pub use table::ScaleClass;

use std::collections::HashMap;

use rust_decimal::Decimal;

use super::Batch;
use super::dilution::up_to_whole;
use crate::bounds::Quantity;
use crate::document::{check_name, named_enum};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Mass, MassUnit, ToExact};
use table::{ClassRow, classes};

named_enum! {
    /// Whether a line can be weighed.
    Fits "answer of a scale" {
        /// Within the error asked for.
        Weighable = "weighable",
        /// Its error would be larger, or it lies below the minimum capacity.
        TooSmall = "too-small",
        /// It lies above the largest load of every scale.
        TooLarge = "too-large",
    }
}

/// A verified scale: class, verification interval and largest load, as its plate says.
///
/// ```
/// use tenside::batch::{ScaleClass, VerifiedScale};
/// let bench = VerifiedScale::new("bench", ScaleClass::Two, "0.1 g".parse()?, "3 kg".parse()?)?;
/// assert_eq!(bench.smallest(), "5 g".parse()?);
/// assert_eq!(bench.error(&"100 g".parse()?), Some("0.1 g".parse()?));
/// assert!(VerifiedScale::new("bench", ScaleClass::Three, "0.1 g".parse()?, "3 kg".parse()?).is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct VerifiedScale {
    name: String,
    class: ScaleClass,
    interval: Mass,
    largest: Mass,
    row: ClassRow,
}

getters!(VerifiedScale {
    /// Its name.
    name: &str,
    /// Its class.
    class: ScaleClass,
    /// Its verification interval.
    interval: &Mass,
    /// Its largest load.
    largest: &Mass,
});

impl VerifiedScale {
    /// A scale of that name.
    ///
    /// # Errors
    /// A bad name, and an interval or number of intervals that its class does not have.
    pub fn new(name: &str, class: ScaleClass, interval: Mass, largest: Mass) -> Result<Self, Error> {
        let name = check_name(name)?;
        let place = format!("scale {name:?}");
        let grams = interval.grams();
        let of_class = || classes().rows.iter().filter(move |row| row.class == class);
        let Some(row) = of_class().find(|row| *grams >= row.from && row.to.as_ref().is_none_or(|to| grams <= to))
        else {
            let span = |row: &ClassRow| {
                row.to
                    .as_ref()
                    .map_or_else(|| format!("from {} g on", row.from), |to| format!("{} to {to} g", row.from))
            };
            let fault =
                Fault::new(FaultKind::OutOfRange, format!("no scale of class {class} has this verification interval"));
            let allowed = of_class().map(span).collect::<Vec<_>>().join(", ");
            return Err(fault
                .at(place)
                .value(interval)
                .allowed(allowed)
                .remedy("read class and e off the scale's plate")
                .into());
        };
        let intervals = largest.grams() / grams;
        if intervals < Exact::from(row.least) || row.most.is_some_and(|most| intervals > Exact::from(most)) {
            let many = if intervals < Exact::from(row.least) { "few" } else { "many" };
            let message = format!("no scale of class {class} has so {many} intervals");
            let allowed =
                row.most.map_or_else(|| format!("{} or more", row.least), |most| format!("{} to {most}", row.least));
            return Err(Fault::new(FaultKind::OutOfRange, message)
                .at(place)
                .value(format!("{largest} of {interval}: {intervals}"))
                .allowed(format!("{allowed} intervals"))
                .remedy("read Max and e off the scale's plate")
                .into());
        }
        Ok(VerifiedScale { name, class, row: row.clone(), interval, largest })
    }

    /// Its minimum capacity, below which it is not used.
    #[must_use]
    pub fn smallest(&self) -> Mass {
        // So many intervals are less than the largest load, which is a mass.
        grams(&(self.interval.grams() * Exact::from(self.row.minimum))).unwrap_or_else(|_| self.largest.clone())
    }

    /// The most it may be off at a load in service; nothing outside of what it weighs.
    #[must_use]
    pub fn error(&self, load: &Mass) -> Option<Mass> {
        if *load < self.smallest() || *load > self.largest {
            return None;
        }
        let intervals = load.grams() / self.interval.grams();
        let zones = classes().zones(self.class);
        let (_, error) = zones.iter().find(|(to, _)| to.is_none_or(|to| intervals <= Exact::from(to)))?;
        grams(&(self.interval.grams() * error)).ok()
    }

    /// The smallest load that it weighs within so many percent of the load; nothing if there is none.
    fn least_within(&self, share: &Exact) -> Option<Mass> {
        let e = self.interval.grams();
        let least = classes().zones(self.class).into_iter().find_map(|(to, error)| {
            let load = (e * error / share).max(self.smallest().grams().clone());
            to.is_none_or(|to| load <= e * Exact::from(to)).then_some(load)
        })?;
        (least <= *self.largest.grams()).then(|| grams(&least).ok()).flatten()
    }

    /// True if it weighs that load within that share of it.
    fn holds(&self, load: &Mass, share: &Exact) -> bool {
        self.error(load).is_some_and(|error| *error.grams() <= load.grams() * share)
    }
}

/// A dilution to weigh instead of a line that is too small.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct PreDilution {
    /// Parts of carrier to one part of material.
    pub parts: u32,
    /// The material to weigh for it.
    pub material: Mass,
    /// The carrier to weigh for it: a line of the same phase that it goes into.
    pub carrier: Mass,
    /// How much of the dilution goes into the batch.
    pub portion: Mass,
}

/// What scales say of one line.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct WeighableLine {
    /// The line.
    pub line: String,
    /// What is to be weighed.
    pub mass: Mass,
    /// The scale that weighs it best, if any takes it.
    pub scale: Option<String>,
    /// The most that scale may be off, if it takes it.
    pub error: Option<Mass>,
    /// Whether it can be weighed.
    pub fits: Fits,
    /// The smallest load that scale weighs within the error asked for.
    pub least: Option<Mass>,
    /// How to dilute it, where it is too small and another line of its phase is large enough for it.
    pub dilution: Option<PreDilution>,
}

/// Which lines scales can weigh within a relative error.
///
/// ```
/// use tenside::batch::{Fits, ScaleClass, VerifiedScale, Weighable};
/// let bench = VerifiedScale::new("bench", ScaleClass::Two, "0.1 g".parse()?, "3 kg".parse()?)?;
/// let lines = [("kaolin".to_string(), "600 g".parse()?), ("dye".to_string(), "0.8 g".parse()?)];
/// let weighable = Weighable::new(&lines, &[bench], 2)?;
/// let dye = &weighable.rows()[1];
/// assert_eq!((dye.fits, dye.dilution.as_ref().unwrap().parts), (Fits::TooSmall, 9));
/// assert_eq!(dye.dilution.as_ref().unwrap().portion, "8 g".parse()?);
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Weighable {
    lines: Vec<(String, Mass)>,
    /// The phase of each line, if they are those of a batch.
    phases: Vec<Option<String>>,
    scales: Vec<VerifiedScale>,
    tolerance: Decimal,
    rows: Vec<WeighableLine>,
}

/// Parts of carrier that are tried, the least first (common practice, no source).
const CARRIER_PARTS: [u32; 4] = [9, 19, 49, 99];

getters!(Weighable {
    /// The lines with what is to be weighed.
    lines: &[(String, Mass)],
    /// The scales.
    scales: &[VerifiedScale],
    /// The relative error asked for, percent of each line.
    tolerance: Decimal,
    /// What the scales say of each line.
    rows: &[WeighableLine],
});

impl Weighable {
    /// These lines on these scales, each within so many percent of its own mass. Lines without a phase may be diluted
    /// with each other.
    ///
    /// # Errors
    /// No scale, two of one name, lines without mass, and a tolerance out of range.
    pub fn new(lines: &[(String, Mass)], scales: &[VerifiedScale], tolerance: impl ToExact) -> Result<Self, Error> {
        Weighable::in_phases(lines.to_vec(), vec![None; lines.len()], scales, tolerance)
    }

    fn in_phases(
        lines: Vec<(String, Mass)>,
        phases: Vec<Option<String>>,
        scales: &[VerifiedScale],
        tolerance: impl ToExact,
    ) -> Result<Self, Error> {
        let tolerance = Quantity::RoundingTolerance.decimal(tolerance)?;
        let mut faults = Vec::new();
        if scales.is_empty() {
            faults.push(Fault::new(FaultKind::Missing, "no scale to weigh on").remedy("give at least one scale"));
        }
        for (index, scale) in scales.iter().enumerate() {
            if scales[..index].iter().any(|other| other.name == scale.name) {
                faults.push(
                    Fault::new(FaultKind::Duplicate, "two scales have one name")
                        .value(format!("{:?}", scale.name))
                        .remedy("name them apart"),
                );
            }
        }
        for (line, mass) in &lines {
            if mass.grams().is_zero() {
                let fault = Fault::new(FaultKind::OutOfRange, "a line without mass")
                    .at(format!("line {line:?}"))
                    .value(mass)
                    .allowed("above 0 g");
                faults.push(fault.remedy("leave out what is not weighed"));
            }
        }
        Error::check(faults, ())?;
        let share = Exact::from(tolerance) / Exact::hundred();
        // The two largest lines of each phase: one of them is another than the line itself.
        let mut order: Vec<usize> = (0..lines.len()).collect();
        order.sort_by(|left, right| lines[*right].1.cmp(&lines[*left].1));
        let mut largest: HashMap<&Option<String>, Vec<usize>> = HashMap::new();
        for index in order {
            let of_phase = largest.entry(&phases[index]).or_default();
            if of_phase.len() < 2 {
                of_phase.push(index);
            }
        }
        let row = |(index, (line, mass)): (usize, &(String, Mass))| {
            let other = largest.get(&phases[index]).into_iter().flatten().find(|other| **other != index);
            row(line, mass, other.map(|other| &lines[*other].1), scales, &share)
        };
        let rows = lines.iter().enumerate().map(row).collect();
        Ok(Weighable { lines, phases, scales: scales.to_vec(), tolerance, rows })
    }

    /// What to know about it.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        vec![
            "errors are the most that a verified scale in service may have; one that was not verified may be off by \
             more"
                .to_string(),
            "what goes through a dilution takes up three weighings, whose errors add; try a little first, and keep to \
             the cautions of the material"
                .to_string(),
        ]
    }

    /// Where classes and errors come from.
    #[must_use]
    pub fn source(&self) -> &'static str {
        &classes().source
    }
}

/// `carrier` is the largest other line of its phase.
fn row(line: &str, mass: &Mass, carrier: Option<&Mass>, scales: &[VerifiedScale], share: &Exact) -> WeighableLine {
    let takes = || scales.iter().filter(|scale| *mass <= scale.largest);
    let good = takes().filter(|scale| scale.holds(mass, share)).min_by_key(|scale| scale.error(mass));
    // Where none is good enough: the one that comes nearest to it.
    let best =
        good.or_else(|| takes().min_by_key(|scale| (scale.least_within(share).is_none(), scale.least_within(share))));
    let dilution = if good.is_none() { best.and_then(|scale| dilution(mass, carrier?, scale, share)) } else { None };
    WeighableLine {
        line: line.to_string(),
        mass: mass.clone(),
        scale: best.map(|scale| scale.name.clone()),
        error: best.and_then(|scale| scale.error(mass)),
        fits: if good.is_some() {
            Fits::Weighable
        } else if best.is_some() {
            Fits::TooSmall
        } else {
            Fits::TooLarge
        },
        least: best.and_then(|scale| scale.least_within(share)),
        dilution,
    }
}

/// The least dilution whose every weighing the scale holds, and that needs no more of the carrier than there is.
fn dilution(mass: &Mass, at_most: &Mass, scale: &VerifiedScale, share: &Exact) -> Option<PreDilution> {
    let least = scale.least_within(share)?;
    let material = grams(&up_to_whole(least.grams(), scale.interval.grams()))
        .ok()
        .filter(|material| scale.holds(material, share) && mass <= material)?;
    CARRIER_PARTS.iter().find_map(|&parts| {
        let carrier = grams(&(material.grams() * Exact::from(parts))).ok()?;
        let portion = grams(&(mass.grams() * (Exact::from(parts) + Exact::ONE))).ok()?;
        (carrier <= *at_most && scale.holds(&carrier, share) && scale.holds(&portion, share)).then_some(PreDilution {
            parts,
            material: material.clone(),
            carrier,
            portion,
        })
    })
}

impl Batch {
    /// Which of its lines verified scales can weigh, each within so many percent of its own mass.
    ///
    /// # Errors
    /// As [`Weighable::new`].
    pub fn weighable(&self, scales: &[VerifiedScale], tolerance: impl ToExact) -> Result<Weighable, Error> {
        let lines = self.weighings().iter().map(|line| (line.line().name().to_string(), line.exact().clone()));
        let phases = self.weighings().iter().map(|line| Some(line.line().phase().to_string()));
        Weighable::in_phases(lines.collect(), phases.collect(), scales, tolerance)
    }
}

fn grams(value: &Exact) -> Result<Mass, Error> {
    Mass::new(value, MassUnit::Gram)
}
