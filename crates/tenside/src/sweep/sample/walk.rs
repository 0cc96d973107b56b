//! Samples spread evenly over what a brief allows: a random walk by hit and run.

use crate::bounds::Quantity;
use crate::brief::Brief;
use crate::error::Error;
use crate::solve::{Region, Walk};

/// Steps between two questions to the watcher.
const WATCHED: usize = 4096;

/// Formulas drawn from what a brief allows.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Samples {
    /// Percentages line by line, in the order of the brief's lines: one entry a sample. They sum to 100 to within the
    /// rounding of `f64`.
    pub lines: Vec<Vec<f64>>,
    /// How many directions the brief leaves free.
    pub dimension: usize,
    /// Steps thrown away before the first sample.
    pub burn_in: usize,
    /// Steps from one sample to the next.
    pub thinning: usize,
}

impl Brief {
    /// `count` formulas drawn evenly from all that the brief allows, whatever its objective; the same for the same
    /// seed.
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
        Quantity::Samples.check_count(count)?;
        let region = Region::new(self)?;
        let mut walk = Walk::new(&region, seed);
        let (dimension, thinning, burn_in) = (region.dimension(), walk.thinning(), walk.burn_in());
        let mut lines = vec![Vec::with_capacity(count); self.lines().len()];
        let (mut steps, mut reported) = (0, 0);
        for sample in 0..count {
            for _ in 0..if sample == 0 { burn_in } else { thinning } {
                walk.step();
                steps += 1;
                if steps % WATCHED == 0 {
                    self.watched().check_after((sample - reported) as u64)?;
                    reported = sample;
                }
            }
            lines.iter_mut().zip(walk.percents()).for_each(|(line, percent)| line.push(percent));
        }
        self.watched().go_on((count - reported) as u64);
        Ok(Samples { lines, dimension, burn_in, thinning })
    }
}
