//! How the axes of a sweep move along directions of a parametric program.
//!
//! | axis | directions | offset |
//! |---|---|---|
//! | a parameter | one | its value less that in the middle of the axis |
//! | a share | one: the member's part against the others' | the share less that in the middle |
//! | a lattice of `m` members | `m - 1`: a member's part against the last one's | its steps less those in the middle of the axis |
//!
//! Consecutive rows go along the innermost coordinate: to the end of the axis, of a lattice until the last member has
//! no steps left.

use crate::brief::{Brief, Parameter};
use crate::number::{DoubleDouble, Exact};
use crate::solve::Direction;
use crate::sweep::Values;
use crate::sweep::axis::{Axis, parts_of};
use crate::sweep::points::renamed;

/// The offsets that a coordinate takes, by place.
pub(super) struct Offsets {
    pub(super) exact: Vec<Exact>,
    /// To twice the length of an `f64`.
    pub(super) high: Vec<f64>,
    pub(super) low: Vec<f64>,
    /// Least and greatest, 0 between them.
    pub(super) ends: (f64, f64),
    /// True where they only rise or only fall.
    are_in_order: bool,
}

impl Offsets {
    fn new(values: impl Iterator<Item = Exact>, origin: &Exact) -> Self {
        let exact: Vec<Exact> = values.map(|value| value - origin).collect();
        let (high, low): (Vec<f64>, _) =
            exact.iter().map(DoubleDouble::of).map(|offset| (offset.high, offset.low)).unzip();
        let are_in_order = exact.is_sorted() || exact.iter().rev().is_sorted();
        let ends =
            high.iter().fold((0.0, 0.0), |(low, high): (f64, f64), offset| (low.min(*offset), high.max(*offset)));
        Offsets { exact, high, low, ends, are_in_order }
    }

    pub(super) fn at(&self, place: usize) -> DoubleDouble {
        DoubleDouble::of_parts(self.high[place], self.low[place])
    }
}

/// One direction, and the axis that goes along it.
pub(super) struct Coordinate {
    pub(super) axis: usize,
    /// Of a lattice, the member.
    member: usize,
    direction: Direction,
    pub(super) offsets: Offsets,
}

impl Coordinate {
    /// The coordinates of an axis, the innermost last; none for an axis of anything but numbers.
    pub(super) fn of(brief: &Brief, place: usize, axis: &Axis) -> Vec<Self> {
        let one = |direction: Direction, values: &Values| {
            let middle = values.get(values.len() / 2).cloned().unwrap_or_default();
            let offsets = Offsets::new(values.iter().cloned(), &middle);
            vec![Coordinate { axis: place, member: 0, direction, offsets }]
        };
        let parts = axis.split().and_then(|split| parts_of(brief, split).ok()).unwrap_or_default();
        match axis {
            Axis::Parameter(parameter, values) => one(vec![(parameter.clone(), Exact::ONE)], values),
            Axis::Share { split, line, values } => {
                let others: Exact = parts.iter().filter(|(member, _)| member != line).map(|(_, part)| part).sum();
                let rate = |member: &String, part: &Exact| if member == line { others.clone() } else { -part } / Exact::hundred();
                let direction = parts.iter().map(|(member, part)| (Parameter::part(split, member), rate(member, part)));
                one(direction.collect(), values)
            }
            Axis::Lattice { split, lattice } => {
                let Some(((last, _), others)) = parts.split_last() else { return Vec::new() };
                let middle = lattice.steps_at(lattice.len() / 2);
                let of = |(member, (line, _)): (usize, &(String, Exact))| Coordinate {
                    axis: place,
                    member,
                    direction: vec![
                        (Parameter::part(split, line), Exact::ONE),
                        (Parameter::part(split, last), Exact::from(-1)),
                    ],
                    offsets: Offsets::new((0..=lattice.steps()).map(Exact::from), &Exact::from(middle[member])),
                };
                others.iter().enumerate().map(of).collect()
            }
            Axis::Moisture(_) | Axis::Material { .. } => Vec::new(),
        }
    }

    /// Its direction in a brief that was varied.
    pub(super) fn direction_in(&self, given: &Brief, now: &Brief) -> Direction {
        self.direction.iter().map(|(parameter, step)| (renamed(given, now, parameter), step.clone())).collect()
    }

    /// Which of the offsets it has at a place of its axis.
    pub(super) fn index(&self, axis: &Axis, place: usize) -> usize {
        match axis {
            Axis::Lattice { lattice, .. } => lattice.steps_at(place)[self.member] as usize,
            _ => place,
        }
    }

    /// The raw material whose price it is.
    pub(super) fn price(&self) -> Option<&str> {
        match self.direction.as_slice() {
            [(Parameter::Price(material), _)] => Some(material),
            _ => None,
        }
    }

    /// How many rows from a place of the axis on go along this coordinate alone.
    pub(super) fn run(&self, axis: &Axis, place: usize) -> usize {
        match axis {
            Axis::Lattice { lattice, .. } => lattice.steps_at(place).last().map_or(1, |left| *left as usize + 1),
            _ if self.offsets.are_in_order => axis.len() - place,
            _ => 1,
        }
    }
}
