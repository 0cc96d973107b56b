//! The points of a sweep: a brief, and the axes along which it is turned.

use super::axis::{Axis, swept};
use super::values::Values;
use crate::brief::{Brief, Parameter};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;

/// One point for every combination of the axes' values, the last axis fastest.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Points {
    pub(super) brief: Brief,
    pub(super) axes: Vec<Axis>,
    /// How many.
    pub(super) count: u64,
}

impl Points {
    /// Refuses axes that name what the brief does not have, two on the same thing, and ends that cross.
    pub(super) fn new(brief: &Brief, axes: Vec<Axis>) -> Result<Self, Error> {
        let faults = axes.iter().filter_map(|axis| axis.check(brief).err()).flat_map(Error::into_faults).collect();
        Error::check(faults, ())?;
        check_apart(&axes)?;
        check_ends(brief, &axes)?;
        let mut count: u64 = 1;
        for axis in &axes {
            count = count.checked_mul(axis.len() as u64).ok_or_else(|| {
                Error::from(
                    Fault::new(FaultKind::OutOfRange, "the sweep has more points than a 64-bit number can count")
                        .remedy("give the axes fewer values"),
                )
            })?;
        }
        Ok(Points { brief: brief.clone(), axes, count })
    }

    /// The place on each axis of a row.
    pub(super) fn places(&self, row: u64) -> Vec<usize> {
        let mut rest = row;
        let mut places: Vec<usize> = self
            .axes
            .iter()
            .rev()
            .map(|axis| {
                let length = axis.len() as u64;
                let place = rest % length;
                rest /= length;
                usize::try_from(place).unwrap_or(usize::MAX)
            })
            .collect();
        places.reverse();
        places
    }

    /// The brief of a row, members of splits whose part is 0 still in their splits.
    pub(super) fn brief_of(&self, row: u64) -> Result<Brief, Error> {
        turned(&self.brief, &self.axes, &self.places(row))
    }
}

/// The brief with each axis turned to its place. Ends of one range may have to be turned in one order: what fails is
/// tried again last.
pub(super) fn turned(brief: &Brief, axes: &[Axis], places: &[usize]) -> Result<Brief, Error> {
    let mut now = brief.clone();
    let mut again = Vec::new();
    for (axis, place) in axes.iter().zip(places) {
        match turned_by(brief, &now, axis, *place) {
            Ok(next) => now = next,
            Err(_) => again.push((axis, place)),
        }
    }
    for (axis, place) in again {
        now = turned_by(brief, &now, axis, *place).map_err(|error| error.within(&format!("axis {axis}")))?;
    }
    Ok(now)
}

fn turned_by(given: &Brief, now: &Brief, axis: &Axis, place: usize) -> Result<Brief, Error> {
    match axis {
        Axis::Parameter(parameter, values) => {
            Axis::Parameter(renamed(given, now, parameter), values.clone_at(place)).applied_to(now, 0)
        }
        other => other.applied_to(now, place),
    }
}

/// The same parameter of a brief that was varied: a requirement's name may change with its value, so it is found by its
/// place.
pub(super) fn renamed(given: &Brief, now: &Brief, parameter: &Parameter) -> Parameter {
    let name = |name: &String| {
        let index = given.requirements().iter().position(|known| known.name() == *name);
        index.map_or_else(|| name.clone(), |index| now.requirements()[index].name())
    };
    match parameter {
        Parameter::Target(known) => Parameter::Target(name(known)),
        Parameter::AtLeast(known) => Parameter::AtLeast(name(known)),
        Parameter::AtMost(known) => Parameter::AtMost(name(known)),
        other => other.clone(),
    }
}

fn check_apart(axes: &[Axis]) -> Result<(), Error> {
    for (index, axis) in axes.iter().enumerate() {
        for earlier in &axes[..index] {
            let whole_split = |axis: &Axis| matches!(axis, Axis::Share { .. } | Axis::Lattice { .. });
            let same_split = axis.split().is_some()
                && axis.split() == earlier.split()
                && (whole_split(axis) || whole_split(earlier));
            // Whole splits were compared by their names.
            if same_split || !whole_split(axis) && axis.to_string() == earlier.to_string() {
                return Err(Fault::new(FaultKind::Duplicate, "two axes vary the same thing")
                    .value(format!("{earlier} and {axis}"))
                    .remedy(
                        "join their values on one axis, or drop one of them; shares of one split are not independent, \
                         take a lattice",
                    )
                    .into());
            }
        }
    }
    Ok(())
}

/// Refuses ends that would cross at some point of the sweep.
fn check_ends(brief: &Brief, axes: &[Axis]) -> Result<(), Error> {
    let values = |wanted: &Parameter| swept(axes, wanted).map(|(_, values)| values);
    let mut faults = Vec::new();
    let mut check = |place: String, low: Option<(Option<&Values>, Exact)>, high: Option<(Option<&Values>, Exact)>| {
        let (Some((low_values, low)), Some((high_values, high))) = (low, high) else { return };
        let greatest_low = low_values.map_or(low, |values| values.iter().max().cloned().unwrap_or_default());
        let least_high = high_values.map_or(high, |values| values.iter().min().cloned().unwrap_or_default());
        if (low_values.is_some() || high_values.is_some()) && greatest_low > least_high {
            faults.push(
                Fault::new(
                    FaultKind::Contradiction,
                    "the lower end of a range would be above its upper end at some points",
                )
                .at(place)
                .value(format!("lowest up to {greatest_low}, highest down to {least_high}"))
                .allowed("lowest <= highest at every point")
                .remedy("give the axes values that do not cross, or sweep in two parts"),
            );
        }
    };
    for line in brief.lines() {
        if let crate::brief::Role::Between(low, high) = line.role() {
            let name = line.name().to_string();
            let (low_end, high_end) =
                (values(&Parameter::Lowest(name.clone())), values(&Parameter::Highest(name.clone())));
            check(format!("line {name:?}"), Some((low_end, low.percent())), Some((high_end, high.percent())));
        }
    }
    for requirement in brief.requirements() {
        let name = requirement.name();
        let (low_end, high_end) = (values(&Parameter::AtLeast(name.clone())), values(&Parameter::AtMost(name.clone())));
        let end = |values, end: Option<&Exact>| end.map(|end| (values, end.clone()));
        check(format!("requirement {name:?}"), end(low_end, requirement.low()), end(high_end, requirement.high()));
    }
    Error::check(faults, ())
}
