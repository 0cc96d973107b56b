//! The equations of mixed micelles, solved by Newton's method in the logarithms of the shares.

use nalgebra::{DMatrix, DVector};

/// Steps in which the interaction is turned on, or the concentration raised, at most doubled until they hold.
const FIRST_STEPS: usize = 8;
const MOST_STEPS: usize = 4096;
const ITERATIONS: usize = 60;
/// To what the equations are to hold.
const CLOSE: f64 = 1e-13;
/// What is accepted where rounding allows no more.
const ENOUGH: f64 = 1e-10;

#[derive(Clone, Debug)]
pub(super) struct Solution {
    /// The concentration of all together.
    pub(super) total: f64,
    /// What of it is in micelles.
    pub(super) held: f64,
    pub(super) micelles: Vec<f64>,
    pub(super) activities: Vec<f64>,
    /// The largest remainder of the equations, as a part.
    pub(super) error: f64,
}

struct Mixture<'a> {
    shares: &'a [f64],
    cmcs: &'a [f64],
    interactions: &'a [Vec<f64>],
    /// How far the interaction is turned on.
    strength: f64,
}

/// What is looked for besides the composition of the micelles.
#[derive(Clone, Copy)]
enum Unknown {
    /// The concentration at which the first micelles form.
    Total,
    /// What is in micelles, at this concentration.
    Held(f64),
}

impl Mixture<'_> {
    /// `sum_j B_ij x_j` of each.
    fn fields(&self, x: &[f64]) -> Vec<f64> {
        self.interactions
            .iter()
            .map(|row| self.strength * row.iter().zip(x).map(|(parameter, x)| parameter * x).sum::<f64>())
            .collect()
    }

    fn activities(&self, x: &[f64]) -> Vec<f64> {
        let fields = self.fields(x);
        let mean: f64 = fields.iter().zip(x).map(|(field, x)| field * x).sum::<f64>() / 2.0;
        fields.iter().map(|field| (field - mean).exp()).collect()
    }

    /// From shares in micelles and what else is unknown to a solution, if there is one near.
    fn newton(&self, unknown: Unknown, start: &Solution) -> Option<Solution> {
        let count = self.shares.len();
        let mut logs: Vec<f64> = start.micelles.iter().map(|x| x.ln()).collect();
        // The logarithm of the total, or what is held.
        let mut other = match unknown {
            Unknown::Total => start.total.ln(),
            Unknown::Held(_) => start.held,
        };
        let mut best: Option<Solution> = None;
        for _ in 0..ITERATIONS {
            let x: Vec<f64> = logs.iter().map(|log| log.exp()).collect();
            let (fields, activities) = (self.fields(&x), self.activities(&x));
            let (total, held) = match unknown {
                Unknown::Total => (other.exp(), 0.0),
                Unknown::Held(total) => (total, other),
            };
            let mut remainders = DVector::<f64>::zeros(count + 1);
            let mut slopes = DMatrix::<f64>::zeros(count + 1, count + 1);
            for i in 0..count {
                let single = activities[i] * self.cmcs[i];
                let both = single + held;
                remainders[i] = logs[i] + both.ln() - (self.shares[i] * total).ln();
                for j in 0..count {
                    let turned = self.strength * self.interactions[i][j] - fields[j];
                    slopes[(i, j)] = single / both * turned * x[j] + if i == j { 1.0 } else { 0.0 };
                }
                slopes[(i, count)] = match unknown {
                    Unknown::Total => -1.0,
                    Unknown::Held(_) => 1.0 / both,
                };
                slopes[(count, i)] = x[i];
            }
            remainders[count] = x.iter().sum::<f64>() - 1.0;
            let error = remainders.amax();
            if !error.is_finite() {
                return best.filter(|best| best.error < ENOUGH);
            }
            if best.as_ref().is_none_or(|best| error < best.error) {
                best = Some(Solution { total, held, micelles: x, activities, error });
            }
            if error < CLOSE {
                return best;
            }
            let change = slopes.lu().solve(&remainders)?;
            let largest = change.rows(0, count).amax();
            let mut step = if largest > 1.0 { 1.0 / largest } else { 1.0 };
            if let Unknown::Held(total) = unknown {
                // Below 0 nothing is held, above the total nothing is single.
                while step > 1e-6 && !(0.0..total).contains(&(other - step * change[count])) {
                    step /= 2.0;
                }
            }
            logs.iter_mut().enumerate().for_each(|(i, log)| *log -= step * change[i]);
            other -= step * change[count];
        }
        best.filter(|best| best.error < ENOUGH)
    }
}

/// Goes from a solution to another in ever smaller steps, until each is near enough to the one before.
fn in_steps(start: &Solution, step: impl Fn(f64, &Solution) -> Option<Solution>) -> Option<Solution> {
    let mut steps = FIRST_STEPS;
    while steps <= MOST_STEPS {
        let reached = (1..=steps).try_fold(start.clone(), |from, index| step(index as f64 / steps as f64, &from));
        if reached.is_some() {
            return reached;
        }
        steps *= 4;
    }
    None
}

/// The first micelles.
pub(super) fn at_onset(shares: &[f64], cmcs: &[f64], interactions: &[Vec<f64>]) -> Option<Solution> {
    let total = 1.0 / shares.iter().zip(cmcs).map(|(share, cmc)| share / cmc).sum::<f64>();
    let micelles = shares.iter().zip(cmcs).map(|(share, cmc)| share * total / cmc).collect();
    let ideal = Solution { total, held: 0.0, micelles, activities: vec![1.0; shares.len()], error: f64::EPSILON };
    if interactions.iter().flatten().all(|parameter| *parameter == 0.0) {
        return Some(ideal);
    }
    in_steps(&ideal, |strength, from| Mixture { shares, cmcs, interactions, strength }.newton(Unknown::Total, from))
}

/// Micelles at a concentration above that of the first.
fn above(shares: &[f64], cmcs: &[f64], interactions: &[Vec<f64>], onset: &Solution, total: f64) -> Option<Solution> {
    let ratio = (total / onset.total).ln();
    in_steps(onset, |part, from| {
        let to = if part == 1.0 { total } else { onset.total * (ratio * part).exp() };
        // What comes on top goes mostly into micelles.
        let start = Solution { held: from.held + (to - from.total) / 2.0, ..from.clone() };
        Mixture { shares, cmcs, interactions, strength: 1.0 }.newton(Unknown::Held(to), &start)
    })
}

/// Surfactants at a concentration of all together; concentrations in mmol/L.
pub(crate) struct InUse {
    /// The critical micelle concentration of the mixture.
    pub(crate) cmc: f64,
    /// Each one's, single.
    pub(crate) single: Vec<f64>,
    /// Each one's mole share of the micelles; nothing where there are none.
    pub(crate) in_micelles: Option<Vec<f64>>,
}

/// Of mole shares, all above 0; nothing where no single kind of micelle is found.
pub(super) fn in_use(shares: &[f64], cmcs: &[f64], interactions: &[Vec<f64>], concentration: f64) -> Option<InUse> {
    let onset = at_onset(shares, cmcs, interactions)?;
    if concentration <= onset.total {
        let single = shares.iter().map(|share| share * concentration).collect();
        return Some(InUse { cmc: onset.total, single, in_micelles: None });
    }
    let found = above(shares, cmcs, interactions, &onset, concentration)?;
    let single = (0..shares.len()).map(|place| found.micelles[place] * found.activities[place] * cmcs[place]).collect();
    Some(InUse { cmc: onset.total, single, in_micelles: Some(found.micelles) })
}
