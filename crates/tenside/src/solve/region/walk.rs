//! Samples spread evenly over what a brief allows: a random walk by hit and run.
//!
//! From the point reached, a direction is drawn (evenly from a box as wide as the region along each free line) and a
//! point evenly from the chord in that direction. The even distribution over the region is the one that the walk leaves
//! as it is, for any symmetric way to draw directions that reaches everywhere. Before the first sample `100 (k^2 + 10)`
//! steps are thrown away, and between samples `k^2 + 10`, with `k` free directions: common practice, no source; thin
//! regions of many directions mix more slowly.
//!
//! Source: R. L. Smith, Efficient Monte Carlo procedures for generating points uniformly distributed over bounded
//! regions, Operations Research 32, 1984 (from memory).

use super::Region;
use crate::number::{Exact, Random};

/// A walk through a region.
pub(crate) struct Walk {
    random: Random,
    base: Vec<f64>,
    lines: Vec<Vec<f64>>,
    point: Vec<f64>,
    direction: Vec<f64>,
    widths: Vec<f64>,
    limits: Vec<(Vec<f64>, f64)>,
}

impl Walk {
    /// From the point inside.
    pub(crate) fn new(region: &Region, seed: u64) -> Self {
        let floats = |values: &[Exact]| -> Vec<f64> { values.iter().map(Exact::to_f64).collect() };
        Walk {
            random: Random::new(seed),
            base: floats(&region.base),
            lines: region.directions.iter().map(|line| floats(line)).collect(),
            point: floats(&region.inside),
            direction: vec![0.0; region.dimension()],
            widths: floats(&region.widths),
            limits: region.limits.iter().map(|limit| (floats(&limit.weights), limit.most.to_f64())).collect(),
        }
    }

    /// Steps from one sample to the next.
    pub(crate) fn thinning(&self) -> usize {
        self.point.len() * self.point.len() + 10
    }

    /// Steps thrown away before the first sample.
    pub(crate) fn burn_in(&self) -> usize {
        100 * self.thinning()
    }

    /// The percentage of each line at the point reached.
    pub(crate) fn percents(&self) -> impl Iterator<Item = f64> + '_ {
        let percent = |(base, directions): (&f64, &Vec<f64>)| {
            directions.iter().zip(&self.point).fold(*base, |percent, (direction, value)| percent + direction * value)
        };
        self.base.iter().zip(&self.lines).map(percent)
    }

    /// On to another point.
    pub(crate) fn step(&mut self) {
        for (direction, width) in self.direction.iter_mut().zip(&self.widths) {
            *direction = (2.0 * self.random.unit() - 1.0) * width;
        }
        let (mut back, mut on) = (f64::NEG_INFINITY, f64::INFINITY);
        for (weights, most) in &self.limits {
            let dot =
                |values: &[f64]| weights.iter().zip(values).fold(0.0, |sum, (weight, value)| sum + weight * value);
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
