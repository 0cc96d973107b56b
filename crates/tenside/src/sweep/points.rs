//! The points of a sweep: a brief, and the axes along which it is turned.

use std::sync::Arc;

use super::axis::{Axis, swept, value};
use crate::brief::{Brief, BriefLine, Parameter, Role};
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
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
        let count =
            axes.iter().try_fold(1, |count: u64, axis| count.checked_mul(axis.len() as u64)).ok_or_else(|| {
                Fault::new(FaultKind::OutOfRange, "the sweep has more points than a 64-bit number can count")
                    .remedy("give the axes fewer values")
            })?;
        Ok(Points { brief: brief.clone(), axes, count })
    }

    /// The place on each axis of a row.
    pub(super) fn places(&self, row: u64) -> Vec<usize> {
        let mut rest = row;
        let mut places = vec![0; self.axes.len()];
        for (place, axis) in places.iter_mut().zip(&self.axes).rev() {
            let length = axis.len() as u64;
            *place = (rest % length) as usize;
            rest /= length;
        }
        places
    }

    /// The brief of a row, members of splits whose part is 0 still in their splits.
    pub(super) fn brief_of(&self, row: u64) -> Result<Brief, Error> {
        turned(&self.brief, &self.axes, &self.places(row))
    }

    /// What is known of each raw material that a line has.
    pub(super) fn of_materials<T>(
        &self,
        line: &BriefLine,
        of: impl FnMut(&Arc<Material>) -> Result<T, Error>,
    ) -> Result<Turned<T>, Error> {
        let exchanged = self.axes.iter().enumerate().find_map(|(place, axis)| match axis {
            Axis::Material { line: exchanged, materials } if exchanged == line.name() => Some((place, materials)),
            _ => None,
        });
        let materials = exchanged.map_or(std::slice::from_ref(line.material()), |(_, materials)| materials);
        let values = materials.iter().map(of).collect::<Result<_, Error>>()?;
        Ok(Turned { axis: exchanged.map(|(place, _)| place), values })
    }

    /// A number of the brief, or what it is swept over.
    pub(super) fn number(&self, wanted: &Parameter, given: &Exact) -> Turned<f64> {
        match swept(&self.axes, wanted) {
            Some((place, values)) => Turned { axis: Some(place), values: values.iter().map(Exact::to_f64).collect() },
            None => Turned::still(given.to_f64()),
        }
    }
}

/// What an axis turns: a value for each of its places, or the only one where none does.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Turned<T> {
    axis: Option<usize>,
    pub(super) values: Vec<T>,
}

impl<T> Turned<T> {
    /// What no axis turns.
    pub(super) fn still(value: T) -> Self {
        Turned { axis: None, values: vec![value] }
    }

    /// The value at the places of a row on each axis.
    pub(super) fn at(&self, places: &[usize]) -> &T {
        &self.values[self.axis.map_or(0, |axis| places[axis])]
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
        Axis::Parameter(parameter, values) => now.with_parameter(&renamed(given, now, parameter), value(values, place)),
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
        let whole_split = |axis: &Axis| matches!(axis, Axis::Share { .. } | Axis::Lattice { .. });
        let is_same = |earlier: &&Axis| {
            if whole_split(axis) || whole_split(earlier) {
                axis.split().is_some() && axis.split() == earlier.split()
            } else {
                axis.to_string() == earlier.to_string()
            }
        };
        if let Some(earlier) = axes[..index].iter().find(is_same) {
            return Err(Fault::new(FaultKind::Duplicate, "two axes vary the same thing")
                .value(format!("{earlier} and {axis}"))
                .remedy(
                    "join their values on one axis, or drop one of them; shares of one split are not independent, \
                     take a lattice",
                )
                .into());
        }
    }
    Ok(())
}

/// Refuses ends that would cross at some point of the sweep.
fn check_ends(brief: &Brief, axes: &[Axis]) -> Result<(), Error> {
    let of_lines = brief.lines().iter().filter_map(|line| {
        let Role::Between(low, high) = line.role() else { return None };
        let name = line.name().to_string();
        let place = format!("line {name:?}");
        Some((place, (Parameter::Lowest(name.clone()), low.percent()), (Parameter::Highest(name), high.percent())))
    });
    let of_requirements = brief.requirements().iter().filter_map(|requirement| {
        let name = requirement.name();
        let (low, high) = (requirement.low()?.clone(), requirement.high()?.clone());
        let place = format!("requirement {name:?}");
        Some((place, (Parameter::AtLeast(name.clone()), low), (Parameter::AtMost(name), high)))
    });
    let mut faults = Vec::new();
    for (place, (lowest, low), (highest, high)) in of_lines.chain(of_requirements) {
        let greatest_low = swept(axes, &lowest).and_then(|(_, values)| values.iter().max().cloned()).unwrap_or(low);
        let least_high = swept(axes, &highest).and_then(|(_, values)| values.iter().min().cloned()).unwrap_or(high);
        if greatest_low > least_high {
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
    }
    Error::check(faults, ())
}
