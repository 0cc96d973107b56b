//! What a brief allows, without asking for a best: samples spread evenly over it, and its corners.
//!
//! # Why
//! - Samples draw directions from a box, not a sphere: the even distribution stays as it is for any symmetric
//!   choice, and no function whose last digit differs between machines is needed. Equations in disguise are found
//!   by one linear program per limit.

use crate::bounds::Quantity;
use crate::brief::Brief;
use crate::error::Error;
use crate::number::Exact;
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

/// Corners of what a brief allows.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Corners {
    /// Exact percentages, in the order of the brief's lines; the corners in the order of their percentages.
    pub formulas: Vec<Vec<Exact>>,
    /// True where these are all; false where the limit was reached.
    pub complete: bool,
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

    /// The corner formulas of what the brief allows, whatever its objective, up to a limit. A hundred thousand corners
    /// of 26 lines take some 500 MB.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::number::Exact;
    /// let brief = Brief::new("Powders", &Catalogue::starter())?.between("kaolin", 0, 30)?.free("corn-starch")?.qs("sci-powder")?;
    /// let corners = brief.corners(100)?;
    /// assert!(corners.complete);
    /// assert_eq!(corners.formulas.len(), 4);
    /// assert_eq!(corners.formulas[0], [0, 0, 100].map(Exact::from));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked or allows no formula, a limit of nothing or of more than a hundred thousand.
    pub fn corners(&self, limit: usize) -> Result<Corners, Error> {
        Quantity::Corners.check_count(limit)?;
        let vertices = Region::new(self)?.vertices(limit, self.watched())?;
        Ok(Corners {
            formulas: vertices.list.into_iter().map(|vertex| vertex.percents).collect(),
            complete: vertices.complete,
        })
    }
}
