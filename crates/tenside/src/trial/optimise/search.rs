//! The search for the best formula on models: branch and bound over boxes of the components.
//!
//! Over a box each property is at most a linear form plus a bound of what that leaves out; the greatest value of the
//! form among the formulas of the brief in the box is a linear program, solved and proved exactly by `tenside-lp`.
//! Boxes that cannot hold a better formula than one found are dropped, the others halved where it helps most. What is
//! left is the bound.

use std::cmp::Ordering;
use std::collections::BinaryHeap;

use tenside_lp::{Column, Halt, Program, solve_watched};

use super::goal::Goal;
use super::polynomial::Polynomial;
use crate::brief::Brief;
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::solve::{Outcome, rows};

/// Boxes have their walls on whole parts of this many to the percent.
const GRID: i64 = 1_000_000_000;
/// To how many digits slopes are written for the linear programs; what is cut off is added to the bound.
const DIGITS: usize = 9;

/// What the search found.
pub(super) struct Found {
    /// Exact percentages of the brief's lines.
    pub(super) percents: Vec<Exact>,
    /// The goal there.
    pub(super) value: f64,
    /// What no formula of the brief is above.
    pub(super) bound: f64,
    /// Boxes that were looked at.
    pub(super) boxes: u64,
}

struct Region<'a> {
    brief: &'a Brief,
    columns: Vec<Column>,
    rows: Vec<tenside_lp::Row>,
    /// The place of each component among the lines.
    places: Vec<usize>,
    /// Percent that the components are of the formula.
    whole: f64,
}

/// Walls of a box, in parts of [`GRID`] to the percent.
#[derive(Clone)]
struct Walls(Vec<(i64, i64)>);

struct Node {
    bound: f64,
    walls: Walls,
    number: u64,
}

impl PartialEq for Node {
    fn eq(&self, other: &Self) -> bool {
        self.cmp(other) == Ordering::Equal
    }
}

impl Eq for Node {}

impl PartialOrd for Node {
    fn partial_cmp(&self, other: &Self) -> Option<Ordering> {
        Some(self.cmp(other))
    }
}

impl Ord for Node {
    /// The greatest bound first, of equals the first found.
    fn cmp(&self, other: &Self) -> Ordering {
        self.bound.total_cmp(&other.bound).then(other.number.cmp(&self.number))
    }
}

impl<'a> Region<'a> {
    fn new(brief: &'a Brief, components: &[String]) -> Result<Self, Error> {
        let program = rows(brief)?;
        let names = || brief.lines().iter().map(crate::brief::BriefLine::name);
        let mut places = Vec::new();
        let mut faults = Vec::new();
        for component in components {
            match names().position(|name| name == component) {
                Some(place) => places.push(place),
                None => faults.push(unknown_name("line of the brief: a component of the model", component, names())),
            }
        }
        Error::check(faults, ())?;
        let (columns, rows) = (program.program().columns().to_vec(), program.program().rows().to_vec());
        let mut region = Region { brief, columns, rows, places, whole: 0.0 };
        let mut sum = vec![Exact::ZERO; brief.lines().len()];
        region.places.iter().for_each(|place| sum[*place] = Exact::ONE);
        let ends = (region.least(&sum, None)?, region.least(&sum.iter().map(|one| -one).collect::<Vec<_>>(), None)?);
        let (Some((least, _)), Some((most, _))) = ends else { return Err(unanswerable(brief)?) };
        if least != -&most || !least.is_positive() {
            let fault = Fault::new(
                FaultKind::Unsupported,
                "the model's components are not the same percentage of every formula of the brief",
            );
            let fault = fault
                .value(format!("{} to {} %", least.rounded_text(4), (-most).rounded_text(4)))
                .at(components.join(", "));
            return Err(fault
                .remedy("fix every line that is no component of the model, and let a component fill to 100")
                .into());
        }
        region.whole = least.to_f64();
        Ok(region)
    }

    /// The least value of a linear form of the lines in a box, and where; `None` if no formula is in it.
    fn least(&self, costs: &[Exact], walls: Option<&Walls>) -> Result<Option<(Exact, Vec<Exact>)>, Error> {
        let mut columns: Vec<Column> = self
            .columns
            .iter()
            .zip(costs)
            .map(|(column, cost)| Column { cost: cost.clone(), ..column.clone() })
            .collect();
        if let Some(walls) = walls {
            for (place, (low, high)) in self.places.iter().zip(&walls.0) {
                let exact = |wall: i64| Exact::over(i128::from(wall), GRID.unsigned_abs());
                let column = &mut columns[*place];
                column.low = column.low.take().map_or_else(|| Some(exact(*low)), |own| Some(own.max(exact(*low))));
                column.high = column.high.take().map_or_else(|| Some(exact(*high)), |own| Some(own.min(exact(*high))));
                if column.low > column.high {
                    return Ok(None);
                }
            }
        }
        let outcome = solve_watched(&Program::new(columns, self.rows.clone())?, &[], self.brief.watched())?;
        Ok(outcome.optimum().map(|optimum| (optimum.objective.clone(), optimum.values.clone())))
    }

    fn fractions(&self, percents: &[Exact]) -> Vec<f64> {
        self.places.iter().map(|place| percents[*place].to_f64() / self.whole).collect()
    }

    /// The box around all formulas.
    fn walls(&self) -> Result<Walls, Error> {
        let mut walls = Vec::new();
        for place in &self.places {
            let mut form = vec![Exact::ZERO; self.columns.len()];
            form[*place] = Exact::ONE;
            let low = self.least(&form, None)?;
            form[*place] = Exact::from(-1);
            let high = self.least(&form, None)?;
            let (Some((low, _)), Some((high, _))) = (low, high) else { return Err(unanswerable(self.brief)?) };
            let wall = |percent: f64, up: bool| {
                if up { (percent * GRID as f64).ceil() as i64 + 1 } else { (percent * GRID as f64).floor() as i64 - 1 }
            };
            walls.push((wall(low.to_f64(), false).max(0), wall((-high).to_f64(), true)));
        }
        Ok(Walls(walls))
    }

    fn box_of(&self, walls: &Walls) -> (Vec<f64>, Vec<f64>) {
        let scale = 2.0 * GRID as f64 * self.whole;
        let middle = walls.0.iter().map(|(low, high)| (low + high) as f64 / scale).collect();
        // A little wider, for what rounding took.
        let half = walls.0.iter().map(|(low, high)| (high - low) as f64 / scale * (1.0 + 1e-12) + 1e-15).collect();
        (middle, half)
    }
}

fn unanswerable(brief: &Brief) -> Result<Error, Error> {
    Ok(match brief.try_solve()? {
        Outcome::Conflict(conflict) => conflict.into_error(),
        Outcome::Answered(_) => Fault::new(FaultKind::Contradiction, "no formula meets the brief").into(),
    })
}

/// To so many digits, with what that changes.
fn written(slope: f64) -> Result<Exact, Error> {
    Ok(format!("{slope:.DIGITS$e}").parse::<Exact>()?)
}

/// The best formula of a brief by a goal on models of the same components, within `tolerance` or after so many boxes.
pub(super) fn search(
    brief: &Brief,
    components: &[String],
    models: &[Polynomial],
    goal: &Goal,
    tolerance: f64,
    most_boxes: u64,
) -> Result<Found, Error> {
    let region = Region::new(brief, components)?;
    let mut best: Option<(f64, Vec<Exact>)> = None;
    let mut queue = BinaryHeap::new();
    let mut number = 0_u64;
    let first = Node { bound: f64::INFINITY, walls: region.walls()?, number };
    // What was set aside because it can be better by less than the tolerance.
    let mut aside = f64::NEG_INFINITY;
    queue.push(first);
    let mut boxes = 0_u64;
    while let Some(node) = queue.pop() {
        let value = best.as_ref().map_or(f64::NEG_INFINITY, |(value, _)| *value);
        if node.bound <= value + tolerance || boxes >= most_boxes || (boxes > 0 && !brief.watched().search_on()) {
            // The greatest bound comes first: nothing left is above it.
            aside = aside.max(node.bound);
            break;
        }
        boxes += 1;
        let (middle, half) = region.box_of(&node.walls);
        let mut ends = Vec::with_capacity(models.len());
        let mut gains = vec![0.0; middle.len()];
        let mut empty = false;
        for (property, model) in models.iter().enumerate() {
            let (constant, slopes, off) = model.about(&middle, &half);
            let rounding = model.size() * 1e-12;
            let (low, high) = goal.asks(property);
            let mut end = |sign: f64, asked: bool| -> Result<f64, Error> {
                if !asked || empty {
                    return Ok(f64::NAN);
                }
                let mut costs = vec![Exact::ZERO; region.columns.len()];
                let mut cut = 0.0_f64;
                for (place, slope) in region.places.iter().zip(&slopes) {
                    let exact = written(-sign * slope / region.whole)?;
                    cut = cut.max((exact.to_f64() * region.whole + sign * slope).abs());
                    costs[*place] = exact;
                }
                match region.least(&costs, Some(&node.walls))? {
                    Some((least, percents)) => {
                        consider(&region, models, goal, &mut best, percents);
                        // Fractions sum to 1, so that what was cut off the slopes changes no more than the largest cut.
                        Ok(sign * (-least.to_f64() + off + cut + rounding + sign * constant))
                    }
                    None => {
                        empty = true;
                        Ok(f64::NAN)
                    }
                }
            };
            let (below, above) = (end(-1.0, low)?, end(1.0, high)?);
            ends.push((below, above));
            for (place, gain) in gains.iter_mut().enumerate() {
                let mut halved = half.clone();
                halved[place] /= 2.0;
                let saved = off - model.about(&middle, &halved).2;
                let spread = if models.len() > 1 { slopes[place].abs() * half[place] } else { 0.0 };
                *gain += (saved + spread) / (model.size() + f64::MIN_POSITIVE);
            }
        }
        if empty {
            continue;
        }
        let known: Vec<(f64, f64)> = ends
            .into_iter()
            .map(|(low, high)| {
                if low.is_nan() {
                    (high, high)
                } else if high.is_nan() {
                    (low, low)
                } else {
                    (low, high)
                }
            })
            .collect();
        let bound = goal.most(&known).min(node.bound);
        let value = best.as_ref().map_or(f64::NEG_INFINITY, |(value, _)| *value);
        if bound <= value + tolerance {
            aside = aside.max(bound);
            continue;
        }
        let widest = |places: &dyn Fn(usize) -> f64| {
            (0..middle.len())
                .filter(|place| node.walls.0[*place].1 - node.walls.0[*place].0 > 2)
                .max_by(|left, right| places(*left).total_cmp(&places(*right)))
        };
        let chosen =
            widest(&|place| gains[place]).filter(|place| gains[*place] > 0.0).or_else(|| widest(&|place| half[place]));
        let Some(place) = chosen else {
            aside = aside.max(bound);
            continue;
        };
        let (low, high) = node.walls.0[place];
        let wall = low + (high - low) / 2;
        for part in [(low, wall), (wall, high)] {
            let mut walls = node.walls.clone();
            walls.0[place] = part;
            number += 1;
            queue.push(Node { bound, walls, number });
        }
    }
    let Some((value, percents)) = best else { return Err(unanswerable(brief)?) };
    Ok(Found { percents, value, bound: aside.max(value), boxes })
}

/// Keeps a formula, or the one halfway to the best, if it is better.
fn consider(
    region: &Region<'_>,
    models: &[Polynomial],
    goal: &Goal,
    best: &mut Option<(f64, Vec<Exact>)>,
    percents: Vec<Exact>,
) {
    let value = |percents: &[Exact]| {
        let x = region.fractions(percents);
        goal.of(&models.iter().map(|model| model.at(&x)).collect::<Vec<_>>())
    };
    let half = Exact::ratio(1, 2);
    let halfway = best
        .as_ref()
        .filter(|(_, known)| *known != percents && known.iter().all(|percent| percent.to_string().len() < 40));
    let halfway: Option<Vec<Exact>> =
        halfway.map(|(_, known)| known.iter().zip(&percents).map(|(known, new)| (known + new) * &half).collect());
    for candidate in [Some(percents), halfway].into_iter().flatten() {
        let found = value(&candidate);
        if best.as_ref().is_none_or(|(known, _)| found > *known) {
            *best = Some((found, candidate));
        }
    }
}
