//! What a sweep is along its coordinates while its other axes stand still: the parametric program, the weights of
//! measures, and the regions found so far.

use std::sync::{Arc, Mutex, RwLock};

use super::coordinate::Coordinate;
use super::prepared::Prepared;
use super::weighing::{MeasureWeights, Weighing, Weight};
use crate::brief::{Brief, Parameter};
use crate::error::Error;
use crate::number::Exact;
use crate::solve::{
    NamedBasis, ParametricProgram, Span, beyond_cost, conflict_region, optimal_region, water_left, weight_rates,
    weights_as_far_as_known,
};
use crate::sweep::axis::{Axis, swept};
use crate::sweep::definition::Sweep;
use crate::sweep::query::Query;
use crate::sweep::solved::swept_basis;

/// Regions past this many are not kept: then every point is solved by itself.
const MOST_REGIONS: usize = 4096;

/// The program and regions at one combination of the axes that have no coordinates.
pub(super) struct State {
    brief: Brief,
    program: ParametricProgram,
    weighing: Weighing,
    conflict: bool,
    regions: RwLock<Vec<Arc<Prepared>>>,
    /// Bases that were made a region or are none, and how often what was made of them did not hold where it was asked
    /// for.
    tried: Mutex<Vec<(NamedBasis, u32)>>,
}

impl State {
    /// The state of `brief`, whose coordinates stand at their origins; `None` if regions do not say it all: numbers
    /// that do not move along lines.
    pub(super) fn new(
        sweep: &Sweep,
        query: &Query,
        coordinates: &[Coordinate],
        brief: Brief,
        places: &[usize],
    ) -> Result<Option<Self>, Error> {
        let directions: Vec<_> =
            coordinates.iter().map(|coordinate| coordinate.direction_in(sweep.brief(), &brief)).collect();
        let Some(program) = ParametricProgram::new(&brief, &directions)? else { return Ok(None) };
        let Some(measures) = measure_weights(sweep, query, &brief, &program, coordinates, places)? else {
            return Ok(None);
        };
        let beyond_cost = (query.objective == Some(query.measures.len())).then(|| beyond_cost(&brief));
        let weighing = Weighing { measures, beyond_cost };
        Ok(Some(State {
            brief,
            program,
            weighing,
            conflict: query.conflict,
            regions: RwLock::default(),
            tried: Mutex::default(),
        }))
    }

    /// The regions past the first `known`.
    pub(super) fn more(&self, known: usize) -> Vec<Arc<Prepared>> {
        self.regions.read().map_or_else(|_| Vec::new(), |regions| regions.get(known..).unwrap_or_default().to_vec())
    }

    /// Looks for a region at a row; true where one was added that may hold there.
    pub(super) fn look(
        &self,
        sweep: &Sweep,
        row: u64,
        here: &[Exact],
        coordinates: &[Coordinate],
        ends: &[(f64, f64)],
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
                match conflict_region(&sweep.row_brief(row)?, &self.program, &span, self.conflict) {
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
        let prepared = Arc::new(Prepared::new(region, &self.weighing, legend, ends));
        if prepared.is_conflict {
            // It was made for this row; what else the basis is part of is another region.
            let Ok(mut tried) = self.tried.lock() else { return Ok(false) };
            tried.retain(|(known, _)| *known != named);
        }
        Ok(self.regions.write().map(|mut regions| regions.push(prepared)).is_ok())
    }
}

/// Boxes with a corner at the point; a matrix may be singular at a corner of one of them.
fn spans(here: &[Exact], coordinates: &[Coordinate]) -> Vec<Span> {
    let to = |place: &dyn Fn(usize) -> usize| -> Span {
        here.iter()
            .zip(coordinates)
            .map(|(here, coordinate)| {
                let offsets = &coordinate.offsets.exact;
                let wanted = &offsets[place(offsets.len()).min(offsets.len() - 1)];
                let other = if wanted == here { offsets.iter().find(|offset| *offset != here) } else { Some(wanted) };
                (here.clone(), other.unwrap_or(here).clone())
            })
            .collect()
    };
    vec![to(&|count| count / 2), to(&|count| count - 1), to(&|_| 0)]
}

/// The weights of each measure; `None` if they move along a direction that moves more than costs.
fn measure_weights(
    sweep: &Sweep,
    query: &Query,
    brief: &Brief,
    program: &ParametricProgram,
    coordinates: &[Coordinate],
    places: &[usize],
) -> Result<Option<Vec<MeasureWeights>>, Error> {
    let still =
        |weights: &[Exact]| -> Vec<Weight> { weights.iter().map(|weight| (weight.clone(), Vec::new())).collect() };
    let mut found = Vec::with_capacity(query.measures.len());
    for (measure, basis) in &query.measures {
        let basis = swept_basis(sweep, places, basis)?;
        let (numerator, denominator) = weights_as_far_as_known(brief, measure, &basis)?;
        let water = water_left(brief, &basis)?.as_deref().map(still);
        let mut weights = MeasureWeights { numerator: still(&numerator), denominator: still(&denominator), water };
        for (direction, coordinate) in coordinates.iter().enumerate() {
            // What else an axis varies is no weight.
            let Some(material) = coordinate.price() else { continue };
            let (above, below) = weight_rates(brief, material, measure, &basis)?;
            for (weights, rates) in [(&mut weights.numerator, above), (&mut weights.denominator, below)] {
                for (weight, rate) in weights.iter_mut().zip(&*rates).filter(|(_, rate)| !rate.is_zero()) {
                    if !program.moves_only_costs(direction) {
                        return Ok(None);
                    }
                    weight.1.push((direction, rate.clone()));
                }
            }
        }
        found.push(weights);
    }
    Ok(Some(found))
}

/// True where the axis leads a requirement's end to the other end, where two limits are one equation.
pub(super) fn meets_other_end(brief: &Brief, axes: &[Axis], axis: &Axis) -> bool {
    let Axis::Parameter(parameter @ (Parameter::AtLeast(name) | Parameter::AtMost(name)), values) = axis else {
        return false;
    };
    let Some(requirement) = brief.requirements().iter().find(|known| known.name() == *name) else { return false };
    let rises = matches!(parameter, Parameter::AtLeast(_));
    let fixed = if rises { requirement.high() } else { requirement.low() };
    let other = if rises { Parameter::AtMost(name.clone()) } else { Parameter::AtLeast(name.clone()) };
    match swept(axes, &other) {
        Some((_, others)) => values.iter().any(|value| others.iter().any(|other| other == value)),
        None => fixed.is_some_and(|end| values.iter().any(|value| value == end)),
    }
}
