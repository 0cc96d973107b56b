//! The numbers that axes turn, as whole multiples of a common measure.

use super::polynomial::Polynomial;
use crate::brief::{Brief, Parameter};
use crate::number::Exact;
use crate::sweep::axis::{Axis, swept};

/// One number that is turned: at every place of its axis a multiple of one measure, whole if that is short enough.
#[derive(Clone, Debug)]
pub(super) struct Variable {
    /// The axis it belongs to.
    pub(super) axis: usize,
    /// What one unit is.
    pub(super) unit: Exact,
    /// How many units at each place of the axis.
    pub(super) exact: Vec<Exact>,
    /// The same, the nearest float: exact where all are whole numbers below 2^53.
    pub(super) nearest: Vec<f64>,
    pub(super) is_short: bool,
}

impl Variable {
    fn new(axis: usize, values: Vec<Exact>) -> Self {
        let measure = values.iter().fold(Exact::ZERO, |measure, value| measure.common_measure(value));
        let unit = if measure.is_zero() { Exact::ONE } else { measure };
        let exact: Vec<Exact> = values.iter().map(|value| value / &unit).collect();
        let limit = Exact::from(1i64 << 53);
        let is_short = exact.iter().all(|value| value.is_whole() && value.abs() < limit);
        let nearest = exact.iter().map(Exact::to_f64).collect();
        Variable { axis, unit, exact, nearest, is_short }
    }
}

/// Every variable of a sweep, and how each axis is said by them.
#[derive(Clone, Debug, Default)]
pub(super) struct Variables {
    pub(super) all: Vec<Variable>,
}

impl Variables {
    /// The variables of the axes that turn numbers alone; a lattice's last member has the rest.
    pub(super) fn new(axes: &[Axis], is_symbolic: &[bool]) -> Self {
        let mut all = Vec::new();
        for (axis, known) in axes.iter().enumerate().filter(|(axis, _)| is_symbolic[*axis]) {
            match known {
                Axis::Parameter(_, values) | Axis::Share { values, .. } => {
                    all.push(Variable::new(axis, values.iter().cloned().collect()))
                }
                Axis::Lattice { lattice, .. } => {
                    for member in 0..lattice.members() - 1 {
                        all.push(Variable::new(
                            axis,
                            (0..lattice.len()).map(|index| Exact::from(lattice.steps_at(index)[member])).collect(),
                        ));
                    }
                }
                Axis::Moisture(_) | Axis::Material { .. } => {}
            }
        }
        Variables { all }
    }

    pub(super) fn constant(&self, value: &Exact) -> Polynomial {
        Polynomial::constant(value.clone(), self.all.len())
    }

    /// The value of the variable at a place, in the unit of what is turned.
    pub(super) fn value(&self, index: usize) -> Polynomial {
        Polynomial::variable(index, self.all[index].unit.clone(), self.all.len())
    }

    /// The first variable of an axis.
    pub(super) fn of_axis(&self, axis: usize) -> Option<usize> {
        self.all.iter().position(|variable| variable.axis == axis)
    }

    /// The value that an axis gives a parameter.
    pub(super) fn of_dial(&self, axes: &[Axis], wanted: &Parameter) -> Option<Polynomial> {
        let (axis, _) = swept(axes, wanted)?;
        Some(self.value(self.of_axis(axis)?))
    }

    /// The parts of a split.
    pub(super) fn parts(&self, brief: &Brief, axes: &[Axis], split: usize) -> Vec<Polynomial> {
        let split = &brief.splits()[split];
        let whole = axes.iter().enumerate().find(|(_, axis)| {
            matches!(axis, Axis::Share { .. } | Axis::Lattice { .. }) && axis.split() == Some(split.name())
        });
        match whole {
            Some((axis, Axis::Lattice { lattice, .. })) => {
                let first = self.of_axis(axis).unwrap_or(0);
                let mut parts: Vec<Polynomial> =
                    (0..lattice.members() - 1).map(|member| self.value(first + member)).collect();
                let rest =
                    parts.iter().fold(self.constant(&Exact::from(lattice.steps())), |rest, part| rest.minus(part));
                parts.push(rest);
                parts
            }
            Some((axis, Axis::Share { line, .. })) => {
                let share = self.value(self.of_axis(axis).unwrap_or(0));
                let others: Exact =
                    split.parts().iter().filter(|(member, _)| member != line).map(|(_, part)| part.clone()).sum();
                let rest = self.constant(&Exact::hundred()).minus(&share);
                split
                    .parts()
                    .iter()
                    .map(
                        |(member, part)| {
                            if member == line { share.times_number(&others) } else { rest.times_number(part) }
                        },
                    )
                    .collect()
            }
            _ => {
                let part = |(line, part): &(String, Exact)| {
                    self.of_dial(axes, &Parameter::part(split.name(), line)).unwrap_or_else(|| self.constant(part))
                };
                split.parts().iter().map(part).collect()
            }
        }
    }

    /// The least and the greatest value of each variable.
    pub(super) fn ends(&self) -> (Vec<Exact>, Vec<Exact>) {
        let end = |greatest: bool| {
            let of = |variable: &Variable| {
                let values = variable.exact.iter();
                if greatest { values.max().cloned() } else { values.min().cloned() }.unwrap_or_default()
            };
            self.all.iter().map(of).collect()
        };
        (end(false), end(true))
    }

    /// The exact values at places on the axes.
    pub(super) fn at(&self, places: &[usize]) -> Vec<Exact> {
        self.all.iter().map(|variable| variable.exact[places[variable.axis]].clone()).collect()
    }
}
