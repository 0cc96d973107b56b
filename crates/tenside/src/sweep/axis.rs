//! What an axis varies in a brief.

use std::fmt;
use std::sync::Arc;

use super::{Lattice, Values};
use crate::bounds::Quantity;
use crate::brief::{Brief, Parameter};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::measure::Basis;
use crate::number::{Exact, Ppm};

/// One axis of a sweep: what is varied, and the values it takes.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub enum Axis {
    /// One number of the brief.
    Parameter(Parameter, Values),
    /// The share of one member of a split in percent of the split; the other members keep their proportions.
    Share {
        /// The split's name.
        split: String,
        /// The member.
        line: String,
        /// Shares in percent, 0 to 100.
        values: Values,
    },
    /// The shares of all members of a split.
    Lattice {
        /// The split's name.
        split: String,
        /// The points; as many members as the split has.
        lattice: Lattice,
    },
    /// The residual moisture of every finished basis: of requirements, objective and columns.
    Moisture(Values),
    /// The raw material of a line.
    Material {
        /// The line, which keeps its name.
        line: String,
        /// The raw materials.
        materials: Vec<Arc<Material>>,
    },
}

impl Axis {
    /// The shares of all members of a split in `steps` steps.
    ///
    /// # Errors
    /// An unknown split, too many points.
    pub fn lattice(brief: &Brief, split: &str, steps: u32) -> Result<Self, Error> {
        let lattice = Lattice::new(parts_of(brief, split)?.len(), steps)?;
        Ok(Axis::Lattice { split: split.to_string(), lattice })
    }

    /// How many points it has.
    #[must_use]
    pub fn len(&self) -> usize {
        match self {
            Axis::Parameter(_, values) | Axis::Share { values, .. } | Axis::Moisture(values) => values.len(),
            Axis::Lattice { lattice, .. } => lattice.len(),
            Axis::Material { materials, .. } => materials.len(),
        }
    }

    /// False for every axis that a sweep takes.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.len() == 0
    }

    /// The brief at a point of the axis.
    ///
    /// # Errors
    /// A value that is none for what is varied.
    pub fn applied_to(&self, brief: &Brief, index: usize) -> Result<Brief, Error> {
        match self {
            Axis::Parameter(parameter, values) => brief.with_parameter(parameter, value(values, index)),
            // `share * sum of the others` and `(100 - share) * part`.
            Axis::Share { split, line, values } => {
                let place = split_place(brief, split)?;
                let parts = brief.splits()[place].parts();
                let others: Exact = parts.iter().filter(|(member, _)| member != line).map(|(_, part)| part).sum();
                let share = value(values, index);
                let rest = Exact::hundred() - share;
                let turned = parts.iter().map(|(member, part)| {
                    let product = if member == line { share * &others } else { &rest * part };
                    product / Exact::hundred()
                });
                Ok(brief.with_parts(place, &turned.collect::<Vec<_>>()))
            }
            Axis::Lattice { split, lattice } => {
                let parts: Vec<Exact> = lattice.steps_at(index).iter().map(|steps| Exact::from(*steps)).collect();
                Ok(brief.with_parts(split_place(brief, split)?, &parts))
            }
            Axis::Moisture(values) => brief.at_moisture(value(values, index)),
            Axis::Material { line, materials } => brief.with_material(line, &materials[index]),
        }
    }

    /// The split whose parts it turns.
    pub(super) fn split(&self) -> Option<&str> {
        match self {
            Axis::Parameter(Parameter::Part { split, .. }, _)
            | Axis::Share { split, .. }
            | Axis::Lattice { split, .. } => Some(split),
            _ => None,
        }
    }

    /// True where it turns the weights of measures, so that a brief has to be compiled anew at each of its values.
    pub(super) fn turns_weights(&self) -> bool {
        matches!(self, Axis::Moisture(_) | Axis::Material { .. } | Axis::Parameter(Parameter::Price(_), _))
    }

    /// Refuses what the brief does not have and values that are none for it.
    pub(super) fn check(&self, brief: &Brief) -> Result<(), Error> {
        self.check_values(brief).map_err(|error| error.within(&format!("axis {self}")))
    }

    fn check_values(&self, brief: &Brief) -> Result<(), Error> {
        match self {
            Axis::Parameter(parameter, values) => {
                brief.parameter_value(parameter)?;
                match parameter {
                    Parameter::Fixed(_) | Parameter::Lowest(_) | Parameter::Highest(_) => {
                        for value in values.iter() {
                            Ppm::from_percent(value)?;
                        }
                    }
                    // Whether ends cross is seen when all axes are known.
                    Parameter::AtLeast(_) | Parameter::AtMost(_) => {}
                    _ => {
                        for value in values.iter().min().into_iter().chain(values.iter().max()) {
                            brief.with_parameter(parameter, value)?;
                        }
                    }
                }
            }
            Axis::Share { split, line, values } => {
                let parts = parts_of(brief, split)?;
                if !parts.iter().any(|(member, _)| member == line) {
                    let members = parts.iter().map(|(member, _)| member.as_str());
                    return Err(unknown_name("member of the split", line, members).into());
                }
                for value in values.iter() {
                    Quantity::Share.check(value)?;
                }
            }
            Axis::Lattice { split, lattice } => {
                let members = parts_of(brief, split)?.len();
                if members != lattice.members() {
                    return Err(Fault::new(
                        FaultKind::Contradiction,
                        "a lattice has as many members as its split has lines",
                    )
                    .value(lattice.members())
                    .allowed(members.to_string())
                    .into());
                }
            }
            Axis::Moisture(values) => {
                for value in values.iter() {
                    Basis::finished(value.clone())?;
                }
            }
            Axis::Material { line, materials } => {
                if materials.is_empty() {
                    return Err(Fault::new(FaultKind::Missing, "an axis without raw materials")
                        .allowed("one raw material or more")
                        .into());
                }
                for (index, material) in materials.iter().enumerate() {
                    if materials[..index].iter().any(|earlier| earlier.id() == material.id()) {
                        return Err(Fault::new(FaultKind::Duplicate, "a raw material occurs twice on an axis")
                            .value(material.id())
                            .into());
                    }
                    brief.with_material(line, material)?;
                }
            }
        }
        Ok(())
    }
}

impl fmt::Display for Axis {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Axis::Parameter(parameter, _) => write!(formatter, "{parameter}"),
            Axis::Share { split, line, .. } => write!(formatter, "share of {line} in split {split}"),
            Axis::Lattice { split, .. } => write!(formatter, "shares of split {split}"),
            Axis::Moisture(_) => formatter.write_str("residual moisture"),
            Axis::Material { line, .. } => write!(formatter, "raw material of {line}"),
        }
    }
}

pub(super) fn value(values: &Values, index: usize) -> &Exact {
    const NONE: &Exact = &Exact::ZERO;
    // An index comes from a row of the sweep, which is as long as its axes.
    values.get(index).unwrap_or(NONE)
}

/// After how many rows an axis comes to its next place, and how many places it has.
pub(super) fn strides(axes: &[Axis], axis: usize) -> (u64, u64) {
    (axes[axis + 1..].iter().map(|axis| axis.len() as u64).product(), axes[axis].len() as u64)
}

/// The axis that turns a number of the brief, and the values it takes.
pub(super) fn swept<'a>(axes: &'a [Axis], wanted: &Parameter) -> Option<(usize, &'a Values)> {
    axes.iter().enumerate().find_map(|(place, axis)| match axis {
        Axis::Parameter(parameter, values) if parameter == wanted => Some((place, values)),
        _ => None,
    })
}

fn split_place(brief: &Brief, split: &str) -> Result<usize, Error> {
    let place = brief.splits().iter().position(|known| known.name() == split);
    place.ok_or_else(|| unknown_name("split", split, brief.splits().iter().map(crate::brief::Split::name)).into())
}

pub(super) fn parts_of<'a>(brief: &'a Brief, split: &str) -> Result<&'a [(String, Exact)], Error> {
    Ok(brief.splits()[split_place(brief, split)?].parts())
}
