//! What a sweep is along its inner dials while its other axes stand still: the program along the dials, the weights of measures, and the
//! pieces found so far.

use std::sync::{Arc, Mutex, RwLock};

use super::ready::Ready;
use super::sure::Sure;
use crate::brief::{Brief, Dial};
use crate::error::Error;
use crate::measure::{Basis, Measure};
use crate::number::Exact;
use crate::solve::{Named, Span, SweptProgram, beyond_cost, conflict_piece, numerator_and_denominator, optimal_piece, program_of, weights_as_far_as_known};
use crate::sweep::definition::{Sweep, turned};
use crate::sweep::fill::Asked;
use crate::sweep::solved::swept_basis;
use crate::sweep::turn::Axis;

/// Pieces past this many are not kept: then every point is solved by itself.
const MOST_PIECES: usize = 4096;

/// A number and how it moves with dials.
pub(super) type Weight = (Exact, Vec<(usize, Exact)>);

/// A measure's weights, line by line.
#[derive(Clone, Debug)]
pub(super) struct MeasureWeights {
    pub(super) numerator: Vec<Weight>,
    pub(super) denominator: Vec<Weight>,
    /// Water as charged less what the basis keeps: below 0 there is no value.
    pub(super) water: Option<Vec<Weight>>,
}

/// What columns are made of.
#[derive(Clone, Debug)]
pub(super) struct Weighing {
    pub(super) measures: Vec<MeasureWeights>,
    /// Where the objective is no measure: what its value has more than the cost.
    pub(super) beyond_cost: Option<Exact>,
}

/// One dial: its offsets from the value in the middle of the axis.
#[derive(Clone, Debug)]
pub(super) struct Offsets {
    pub(super) exact: Vec<Exact>,
    /// To twice the length of an `f64`.
    pub(super) high: Vec<f64>,
    pub(super) low: Vec<f64>,
}

impl Offsets {
    pub(super) fn new(axis: &Axis) -> Option<Self> {
        let Axis::Dial(_, values) = axis else { return None };
        let middle = values.get(values.len() / 2)?;
        let exact: Vec<Exact> = values.iter().map(|value| value - middle).collect();
        let (high, low) = exact.iter().map(Sure::of).map(|offset| (offset.high, offset.low)).unzip();
        Some(Offsets { exact, high, low })
    }

    pub(super) fn at(&self, place: usize) -> Sure {
        Sure::of_parts(self.high[place], self.low[place])
    }

    pub(super) fn are_in_order(&self) -> bool {
        self.exact.is_sorted() || self.exact.iter().rev().is_sorted()
    }

    /// Least and greatest.
    pub(super) fn ends(&self) -> (f64, f64) {
        self.high.iter().fold((0.0, 0.0), |(low, high): (f64, f64), offset| (low.min(*offset), high.max(*offset)))
    }
}

/// The program and pieces at one combination of the axes that are not dials of the pieces.
pub(super) struct State {
    brief: Brief,
    program: SweptProgram,
    /// With the splits in the brief's own order, for conflicts; nothing where a dial moves several of its rows.
    as_given: Option<SweptProgram>,
    weighing: Weighing,
    codes: bool,
    pieces: RwLock<Vec<Arc<Ready>>>,
    /// What was asked for, and how often no piece of it held.
    tried: Mutex<Vec<(Named, u32)>>,
}

/// Places on the axes: of the stepped ones as given, of the dials as said.
struct Places<'a> {
    all: Vec<usize>,
    dials: &'a [usize],
}

impl Places<'_> {
    fn with(&self, dial: usize, place: usize) -> Vec<usize> {
        let mut all = self.all.clone();
        all[self.dials[dial]] = place;
        all
    }
}

impl State {
    /// Nothing where pieces do not say it all: numbers that do not move along lines, members of a split without a part.
    pub(super) fn new(sweep: &Sweep, asked: &Asked, dials: &[usize], offsets: &[Offsets], places: &[usize]) -> Result<Option<Self>, Error> {
        let axes = sweep.axes();
        let mut middle = places.to_vec();
        dials.iter().for_each(|axis| middle[*axis] = axes[*axis].len() / 2);
        let places = Places { all: middle, dials };
        let at = |places: &[usize]| turned(sweep.brief(), axes, places);
        let brief = at(&places.all)?;
        if brief.splits().len() != sweep.brief().splits().len()
            || brief.splits().iter().zip(sweep.brief().splits()).any(|(now, given)| now.parts().len() != given.parts().len())
        {
            return Ok(None);
        }
        let arranged = |brief: Brief| {
            dials.iter().fold(brief, |brief, axis| match &axes[*axis] {
                Axis::Dial(Dial::Part { split, line }, _) => brief.with_part_last(split, line),
                _ => brief,
            })
        };
        let program = |arrange: bool| -> Result<Option<SweptProgram>, Error> {
            let compile = |places: &[usize]| {
                let brief = at(places)?;
                program_of(&if arrange { arranged(brief) } else { brief })
            };
            let Some(start) = compile(&places.all)? else { return Ok(None) };
            let mut moved = Vec::new();
            for (dial, offsets) in offsets.iter().enumerate() {
                let Some(program) = compile(&places.with(dial, 0))? else { return Ok(None) };
                moved.push((program, offsets.exact[0].clone()));
            }
            // All at once, each as far as it goes the other way.
            let mut last = places.all.clone();
            let mut far = Vec::new();
            for (axis, offsets) in dials.iter().zip(offsets) {
                last[*axis] = if offsets.exact.len() > 2 { offsets.exact.len() - 1 } else { 0 };
                far.push(offsets.exact[last[*axis]].clone());
            }
            let Some(all) = compile(&last)? else { return Ok(None) };
            Ok(SweptProgram::new(&start, &moved, (&all, &far)))
        };
        let as_given = program(false)?;
        let Some(program) = (match &as_given {
            Some(known) => Some(known.clone()),
            None => program(true)?,
        }) else {
            return Ok(None);
        };
        let Some(measures) = measure_weights(sweep, asked, &brief, &program, &places, offsets)? else { return Ok(None) };
        let beyond_cost = (asked.objective == Some(asked.measures.len())).then(|| beyond_cost(&brief));
        let weighing = Weighing { measures, beyond_cost };
        Ok(Some(State { brief, program, as_given, weighing, codes: asked.codes, pieces: RwLock::default(), tried: Mutex::default() }))
    }

    /// The pieces past the first `known`.
    pub(super) fn more(&self, known: usize) -> Vec<Arc<Ready>> {
        self.pieces.read().map_or_else(|_| Vec::new(), |pieces| pieces.get(known..).unwrap_or_default().to_vec())
    }

    /// Looks for a piece at a row; true where one was added that may hold there.
    pub(super) fn look(&self, sweep: &Sweep, row: u64, here: &[Exact], offsets: &[Offsets], ends: &[(f64, f64)]) -> Result<bool, Error> {
        let Some(named) = Named::at(&self.program, here) else { return Ok(false) };
        {
            let Ok(mut tried) = self.tried.lock() else { return Ok(false) };
            let full = tried.len() >= MOST_PIECES;
            match tried.iter_mut().find(|(known, _)| *known == named) {
                // What conflicts may be plain some rows on: at the second, fourth, eighth row that asks it is looked at again. A basis is a piece
                // or not, whatever the row.
                Some((_, times)) => {
                    *times = times.saturating_add(1);
                    if named.is_optimal() || !times.is_power_of_two() {
                        return Ok(false);
                    }
                }
                None if full => return Ok(false),
                None => tried.push((named.clone(), 1)),
            }
        }
        let piece = if named.is_optimal() {
            spans(here, offsets).iter().find_map(|span| optimal_piece(&self.brief, &self.program, &named, span))
        } else {
            let program = if self.codes { self.as_given.as_ref() } else { Some(&self.program) };
            match program {
                Some(program) => {
                    let brief = sweep.brief_at(row)?;
                    let mut found = None;
                    for span in spans(here, offsets) {
                        found = conflict_piece(&brief, program, &span, self.codes)?;
                        if found.is_some() {
                            break;
                        }
                    }
                    found
                }
                None => None,
            }
        };
        let Some(piece) = piece else { return Ok(false) };
        let legend = if piece.is_conflict { sweep.conflict_legend() } else { sweep.binding_legend() };
        let ready = Arc::new(Ready::new(piece, &self.weighing, legend, ends));
        Ok(self.pieces.write().map(|mut pieces| pieces.push(ready)).is_ok())
    }
}

/// Boxes with a corner at the point; a matrix may be singular at a corner of one of them.
fn spans(here: &[Exact], offsets: &[Offsets]) -> Vec<Span> {
    let to = |place: &dyn Fn(usize) -> usize| -> Span {
        here.iter()
            .zip(offsets)
            .map(|(here, offsets)| {
                let count = offsets.exact.len();
                let wanted = &offsets.exact[place(count).min(count - 1)];
                let other = if wanted == here { offsets.exact.iter().find(|offset| *offset != here) } else { Some(wanted) };
                (here.clone(), other.unwrap_or(here).clone())
            })
            .collect()
    };
    vec![to(&|count| count / 2), to(&|count| count - 1), to(&|_| 0)]
}

type Sides = Vec<(Vec<Exact>, Vec<Exact>, Option<Vec<Exact>>)>;

/// The weights of each measure; nothing where they move with a dial that moves more than costs.
fn measure_weights(
    sweep: &Sweep,
    asked: &Asked,
    brief: &Brief,
    program: &SweptProgram,
    places: &Places<'_>,
    offsets: &[Offsets],
) -> Result<Option<Vec<MeasureWeights>>, Error> {
    let sides = |brief: &Brief, places: &[usize]| -> Result<Sides, Error> {
        let of = |(measure, basis): &(Measure, Basis)| {
            let basis = swept_basis(sweep, places, basis)?;
            let (numerator, denominator) = weights_as_far_as_known(brief, measure, &basis)?;
            let water = match &basis {
                Basis::Finished(moisture) => {
                    // The lines sum to 100, so the water kept is `moisture` of every percent.
                    let (water, _) = numerator_and_denominator(brief, &Measure::water(), &Basis::AsCharged)?;
                    Some(water.iter().map(|weight| weight - moisture).collect())
                }
                Basis::AsCharged => None,
            };
            Ok((numerator, denominator, water))
        };
        asked.measures.iter().map(of).collect()
    };
    let base = sides(brief, &places.all)?;
    let still = |weights: &[Exact]| -> Vec<Weight> { weights.iter().map(|weight| (weight.clone(), Vec::new())).collect() };
    let mut found: Vec<MeasureWeights> = base
        .iter()
        .map(|(numerator, denominator, water)| MeasureWeights {
            numerator: still(numerator),
            denominator: still(denominator),
            water: water.as_deref().map(still),
        })
        .collect();
    for (dial, axis) in places.dials.iter().enumerate() {
        // What else a dial turns is no weight.
        if !matches!(sweep.axes()[*axis], Axis::Dial(Dial::Price(_), _)) {
            continue;
        }
        let moved_places = places.with(dial, 0);
        let moved = sides(&turned(sweep.brief(), sweep.axes(), &moved_places)?, &moved_places)?;
        let mut moves = false;
        for (weights, (before, after)) in found.iter_mut().zip(base.iter().zip(&moved)) {
            for (weights, before, after) in [(&mut weights.numerator, &before.0, &after.0), (&mut weights.denominator, &before.1, &after.1)] {
                for (weight, (before, after)) in weights.iter_mut().zip(before.iter().zip(after)).filter(|(_, (before, after))| before != after) {
                    let Some(rate) = (after - before).checked_div(&offsets[dial].exact[0]) else { return Ok(None) };
                    weight.1.push((dial, rate));
                    moves = true;
                }
            }
        }
        if moves && !program.moves_only_costs(dial) {
            return Ok(None);
        }
    }
    Ok(Some(found))
}
