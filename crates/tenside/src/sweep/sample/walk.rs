//! Samples spread evenly over what a brief allows: a random walk by hit and run.
//!
//! From the point reached, a direction is drawn (evenly from a box as wide as the region along each free line) and a point evenly from the
//! chord in that direction. The even distribution over the region is the one that the walk leaves as it is, for any symmetric way to draw
//! directions that reaches everywhere. Before the first sample `100 (k^2 + 10)` steps are thrown away, and between samples `k^2 + 10`, with
//! `k` free directions: common practice, no source; thin regions of many directions mix more slowly.
//!
//! Source: R. L. Smith, Efficient Monte Carlo procedures for generating points uniformly distributed over bounded regions, Operations Research
//! 32, 1984 (from memory).

use super::random::Random;
use super::region::Region;
use crate::brief::Brief;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::watch::stopped;

/// The most samples drawn at once.
const MOST_SAMPLES: usize = 10_000_000;
/// Steps between two questions to the watcher.
const WATCHED: usize = 4096;

/// Formulas drawn from what a brief allows.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Samples {
    /// Percentages line by line, in the order of the brief's lines: one entry a sample. They sum to 100 to within the rounding of `f64`.
    pub lines: Vec<Vec<f64>>,
    /// How many directions the brief leaves free.
    pub dimension: usize,
    /// Steps thrown away before the first sample.
    pub burn_in: usize,
    /// Steps from one sample to the next.
    pub thinning: usize,
}

impl Brief {
    /// `count` formulas drawn evenly from all that the brief allows, whatever its objective; the same for the same seed.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// let brief = Brief::new("Powders", &Catalogue::starter())?.free("kaolin")?.free("corn-starch")?.qs("sci-powder")?;
    /// let samples = brief.samples(2000, 1)?;
    /// assert_eq!((samples.dimension, samples.lines.len()), (2, 3));
    /// let mean = samples.lines[0].iter().sum::<f64>() / 2000.0;
    /// assert!((mean - 100.0 / 3.0).abs() < 2.0);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked or allows no formula, no samples or more than ten million.
    pub fn samples(&self, count: usize, seed: u64) -> Result<Samples, Error> {
        if count == 0 || count > MOST_SAMPLES {
            return Err(Fault::new(FaultKind::OutOfRange, "number of samples out of range").value(count).allowed(format!("1 to {MOST_SAMPLES}")).into());
        }
        let region = Region::new(self)?;
        let dimension = region.dimension();
        let thinning = dimension * dimension + 10;
        let burn_in = 100 * thinning;
        let (base, directions) = region.floats();
        let mut walk = Walk::new(&region, seed);
        let mut lines = vec![Vec::with_capacity(count); base.len()];
        let (mut steps, mut reported) = (0, 0);
        for sample in 0..count {
            for _ in 0..if sample == 0 { burn_in } else { thinning } {
                walk.step();
                steps += 1;
                if steps % WATCHED == 0 {
                    if !self.watched().go_on((sample - reported) as u64) {
                        return Err(stopped());
                    }
                    reported = sample;
                }
            }
            for ((line, base), directions) in lines.iter_mut().zip(&base).zip(&directions) {
                line.push(directions.iter().zip(&walk.point).fold(*base, |percent, (direction, value)| percent + direction * value));
            }
        }
        self.watched().go_on((count - reported) as u64);
        Ok(Samples { lines, dimension, burn_in, thinning })
    }
}

struct Walk {
    random: Random,
    point: Vec<f64>,
    direction: Vec<f64>,
    widths: Vec<f64>,
    limits: Vec<(Vec<f64>, f64)>,
}

impl Walk {
    fn new(region: &Region, seed: u64) -> Self {
        let floats = |values: &[Exact]| -> Vec<f64> { values.iter().map(Exact::to_f64).collect() };
        Walk {
            random: Random::new(seed),
            point: floats(&region.inside),
            direction: vec![0.0; region.dimension()],
            widths: floats(&region.widths),
            limits: region.limits.iter().map(|limit| (floats(&limit.weights), limit.most.to_f64())).collect(),
        }
    }

    fn step(&mut self) {
        for (direction, width) in self.direction.iter_mut().zip(&self.widths) {
            *direction = (2.0 * self.random.unit() - 1.0) * width;
        }
        let (mut back, mut on) = (f64::NEG_INFINITY, f64::INFINITY);
        for (weights, most) in &self.limits {
            let dot = |values: &[f64]| weights.iter().zip(values).fold(0.0, |sum, (weight, value)| sum + weight * value);
            let (speed, room) = (dot(&self.direction), (most - dot(&self.point)).max(0.0));
            if speed > 0.0 {
                on = on.min(room / speed);
            } else if speed < 0.0 {
                back = back.max(room / speed);
            }
        }
        // Without a limit both ways (no direction at all) the point stays.
        if on.is_finite() && back.is_finite() {
            let step = back + (on - back) * self.random.unit();
            self.point.iter_mut().zip(&self.direction).for_each(|(value, direction)| *value += step * direction);
        }
    }
}
