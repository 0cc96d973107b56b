//! Runs in whole plots: between the runs of one nothing of the process was changed, so that they share a departure.
//!
//! ```text
//! V = I + d Z Z',   V^-1/2 = I - Z diag(c_m) Z',   c_m = (1 - 1 / √(1 + d m)) / m
//! ```
//!
//! with `Z` the whole plots of the runs, `d` how many times the variance of a single run that of a whole plot is, and
//! `m` the runs of one. Rows from which `c_m` times the sum over their whole plot is taken are independent and of one
//! variance: least squares on them is generalised least squares on the runs. (By the square of `I - c 1 1'`.)

use crate::number::DoubleDouble;

/// What can be shared out.
pub(super) trait Shared: Copy + Default {
    /// This less so many times another.
    fn less(self, times: f64, other: Self) -> Self;
}

impl Shared for f64 {
    fn less(self, times: f64, other: f64) -> f64 {
        self - times * other
    }
}

impl Shared for DoubleDouble {
    fn less(self, times: f64, other: DoubleDouble) -> DoubleDouble {
        self.minus(other.times(DoubleDouble::of_parts(times, 0.0)))
    }
}

/// Which runs share a whole plot.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct WholePlots {
    plots: Vec<Vec<usize>>,
    ratio: f64,
}

impl WholePlots {
    /// From what each run's whole plot is called.
    pub(super) fn new<N: PartialEq>(names: impl IntoIterator<Item = N>, ratio: f64) -> Self {
        let mut known: Vec<(N, Vec<usize>)> = Vec::new();
        for (run, name) in names.into_iter().enumerate() {
            match known.iter_mut().find(|(known, _)| *known == name) {
                Some((_, runs)) => runs.push(run),
                None => known.push((name, vec![run])),
            }
        }
        WholePlots { plots: known.into_iter().map(|(_, runs)| runs).collect(), ratio }
    }

    /// How many times the variance of a single run that of a whole plot is.
    pub(super) fn ratio(&self) -> f64 {
        self.ratio
    }

    fn shrunk(&self, runs: usize) -> f64 {
        1.0 / (1.0 + self.ratio * runs as f64).sqrt()
    }

    /// Takes from each run's value its share of the whole plot.
    pub(super) fn whiten<T: Shared>(&self, values: &mut [T]) {
        self.share(values, |runs| 1.0 - self.shrunk(runs));
    }

    /// Gives it back.
    pub(super) fn colour(&self, values: &mut [f64]) {
        self.share(values, |runs| 1.0 - 1.0 / self.shrunk(runs));
    }

    fn share<T: Shared>(&self, values: &mut [T], part: impl Fn(usize) -> f64) {
        for runs in &self.plots {
            let sum = runs.iter().fold(T::default(), |sum, run| sum.less(-1.0, values[*run]));
            let share = part(runs.len()) / runs.len() as f64;
            runs.iter().for_each(|run| values[*run] = values[*run].less(share, sum));
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn whitened_runs_are_independent_and_of_one_variance() {
        let plots = WholePlots::new(["a", "b", "a", "a", "b"], 1.7);
        // Columns of V^-1/2, whose square times V is the identity.
        let column = |run: usize| {
            let mut column = [0.0; 5];
            column[run] = 1.0;
            plots.whiten(&mut column);
            column
        };
        let root: Vec<[f64; 5]> = (0..5).map(column).collect();
        let together = |left: usize, right: usize| [0, 2, 3].contains(&left) == [0, 2, 3].contains(&right);
        let covariance = |left: usize, right: usize| {
            f64::from(u8::from(left == right)) + if together(left, right) { 1.7 } else { 0.0 }
        };
        for left in 0..5 {
            for right in 0..5 {
                let product: f64 =
                    (0..25).map(|of| root[left][of / 5] * covariance(of / 5, of % 5) * root[of % 5][right]).sum();
                assert!((product - f64::from(u8::from(left == right))).abs() < 1e-14, "{product}");
            }
        }
        let mut values = [3.0, -1.0, 4.0, 1.5, 9.0];
        plots.whiten(&mut values);
        plots.colour(&mut values);
        for (value, expected) in values.iter().zip([3.0, -1.0, 4.0, 1.5, 9.0]) {
            assert!((value - expected).abs() < 1e-13);
        }
    }
}
