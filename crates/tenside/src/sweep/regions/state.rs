//! What a sweep is along its coordinates while its other axes stand still: the parametric program, the weights of
//! measures, and the regions found so far.

use std::sync::{Arc, Mutex, RwLock};

use super::coordinate::Coordinate;
use super::prepared::{MeasureWeights, Prepared, Weighing};
use crate::brief::{Brief, Parameter};
use crate::error::Error;
use crate::number::Exact;
use crate::solve::{NamedBasis, ParametricProgram, Span, beyond_cost, conflict_region, optimal_region, weight_rates};
use crate::sweep::axis::{Axis, swept};
use crate::sweep::definition::Sweep;
use crate::sweep::points::turned;
use crate::sweep::query::Query;
use crate::sweep::solved::weighed;

/// Regions past this many are not kept: then every point is solved by itself.
const MOST_REGIONS: usize = 4096;

/// The program and regions at one combination of the axes that have no coordinates.
pub(super) struct State {
    /// The brief with every coordinate at its origin, the middle of its axis.
    brief: Brief,
    program: ParametricProgram,
    weighing: Weighing,
    regions: RwLock<Vec<Arc<Prepared>>>,
    /// Bases that were made a region or are none, and how often what was made of them did not hold where it was asked
    /// for.
    tried: Mutex<Vec<(NamedBasis, u32)>>,
}

impl State {
    /// The state at these places of the axes without coordinates; `None` if regions do not say it all: numbers that do
    /// not move along lines.
    pub(super) fn new(
        sweep: &Sweep,
        query: &Query,
        coordinates: &[Coordinate],
        places: &[usize],
    ) -> Result<Option<Self>, Error> {
        let mut middle = places.to_vec();
        coordinates.iter().for_each(|coordinate| middle[coordinate.axis] = sweep.axes()[coordinate.axis].len() / 2);
        let brief = turned(sweep.brief(), sweep.axes(), &middle)?;
        let directions: Vec<_> =
            coordinates.iter().map(|coordinate| coordinate.direction_in(sweep.brief(), &brief)).collect();
        let Some(program) = ParametricProgram::new(&brief, &directions)? else { return Ok(None) };
        let mut measures = Vec::with_capacity(query.measures.len());
        for ((measure, _), (basis, still, water)) in query.measures.iter().zip(weighed(sweep, query, &brief, places)?) {
            let mut sides = vec![(0, still)];
            for (direction, coordinate) in coordinates.iter().enumerate() {
                // What else an axis varies is no weight.
                let Some(material) = coordinate.price() else { continue };
                let (above, below) = weight_rates(&brief, material, measure, &basis)?;
                if above.iter().chain(&*below).any(|rate| !rate.is_zero()) {
                    if !program.moves_only_costs(direction) {
                        return Ok(None);
                    }
                    sides.push((1 << direction, (above, below)));
                }
            }
            measures.push(MeasureWeights { sides, water });
        }
        let weighing =
            Weighing { lines: query.lines, measures, beyond_cost: query.objective.then(|| beyond_cost(&brief)) };
        Ok(Some(State { brief, program, weighing, regions: RwLock::default(), tried: Mutex::default() }))
    }

    /// The regions past the first `known`.
    pub(super) fn more(&self, known: usize) -> Vec<Arc<Prepared>> {
        self.regions.read().map_or_else(|_| Vec::new(), |regions| regions.get(known..).unwrap_or_default().to_vec())
    }

    /// Looks for a region at a row; true where one was added that may hold there.
    pub(super) fn look(
        &self,
        sweep: &Sweep,
        query: &Query,
        coordinates: &[Coordinate],
        row: u64,
        here: &[Exact],
    ) -> Result<bool, Error> {
        let Some(named) = NamedBasis::at(&self.program, here) else { return Ok(false) };
        {
            let Ok(mut tried) = self.tried.lock() else { return Ok(false) };
            if self.regions.read().map_or(0, |regions| regions.len()) >= MOST_REGIONS {
                return Ok(false);
            }
            match tried.iter_mut().find(|(known, _)| *known == named) {
                // A basis is a region or not, whatever the row. What conflicts hangs on other bases too: once those
                // have failed it is looked at again at the second, fourth, eighth row that asks.
                Some((_, times)) => {
                    *times = times.saturating_add(1);
                    if named.is_optimal() || !times.is_power_of_two() {
                        return Ok(false);
                    }
                }
                None => tried.push((named.clone(), 1)),
            }
        }
        let mut found = None;
        for span in spans(here, coordinates) {
            found = if named.is_optimal() {
                optimal_region(&self.brief, &self.program, &named, &span)
            } else {
                match conflict_region(&sweep.points().brief_of(row)?, &self.program, &span, query.conflict) {
                    // Solving the row says what is wrong with it.
                    Err(error) if error.is_unsupported() => None,
                    region => region?,
                }
            };
            if found.is_some() {
                break;
            }
        }
        let Some(region) = found else { return Ok(false) };
        let legend = if region.is_conflict { sweep.conflict_legend() } else { sweep.binding_legend() };
        let ends: Vec<(f64, f64)> = coordinates.iter().map(|coordinate| coordinate.offsets.ends).collect();
        let prepared = Arc::new(Prepared::new(region, &self.weighing, legend, &ends));
        if prepared.is_conflict {
            // It was made for this row; what else the basis is part of is another region.
            let Ok(mut tried) = self.tried.lock() else { return Ok(false) };
            tried.retain(|(known, _)| *known != named);
        }
        Ok(self.regions.write().map(|mut regions| regions.push(prepared)).is_ok())
    }
}

/// Boxes with a corner at the point, to the middles, the last and the first of the offsets; a matrix may be singular at a
/// corner of one of them.
fn spans(here: &[Exact], coordinates: &[Coordinate]) -> [Span; 3] {
    [1, 2, 0].map(|halves| {
        let end = |(here, coordinate): (&Exact, &Coordinate)| {
            let offsets = &coordinate.offsets.exact;
            let wanted = &offsets[(offsets.len() - 1) * halves / 2];
            let other = if wanted == here { offsets.iter().find(|offset| *offset != here) } else { Some(wanted) };
            (here.clone(), other.unwrap_or(here).clone())
        };
        here.iter().zip(coordinates).map(end).collect()
    })
}

/// True where the axis leads a requirement's end to the other end, where two limits are one equation.
pub(super) fn meets_other_end(brief: &Brief, axes: &[Axis], axis: &Axis) -> bool {
    let Axis::Parameter(parameter @ (Parameter::AtLeast(name) | Parameter::AtMost(name)), values) = axis else {
        return false;
    };
    let Some(requirement) = brief.requirements().iter().find(|known| known.name() == *name) else { return false };
    let (other, end) = match parameter {
        Parameter::AtLeast(_) => (Parameter::AtMost(name.clone()), requirement.high()),
        _ => (Parameter::AtLeast(name.clone()), requirement.low()),
    };
    match swept(axes, &other) {
        Some((_, others)) => values.iter().any(|value| others.iter().any(|other| other == value)),
        None => end.is_some_and(|end| values.iter().any(|value| value == end)),
    }
}
