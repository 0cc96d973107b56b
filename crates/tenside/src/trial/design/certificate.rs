//! What any design can reach at most, and a design's efficiency beside it.
//!
//! For a matrix `M` of information with `p` rows and **any** regular `Z`, the geometric mean of the eigenvalues of
//! `Z M Z'` is at most their arithmetic mean:
//!
//! ```text
//! det(M)^(1/p) <= tr(Z M Z') / (p det(Z)^(2/p)) <= c / (p det(Z)^(2/p)),   c = tr(Z M_0 Z') + n max_x |Z f(x)|^2
//! ```
//!
//! for whichever `n` runs are added to the information `M_0` of runs already made. For the average variance
//! `tr(K M^-1)`, the inequality of Cauchy and Schwarz with `K = G G'` says for any symmetric `Q` of the same size
//!
//! ```text
//! tr(K M^-1) >= tr(Z K Z')^2 / c,   c = tr((Z K Z')(Z M_0 Z')) + n max_x f' Z'(Z K Z')Z f
//! ```
//!
//! Both are equalities at the best approximate design if `Z'Z` is the inverse of its information: the equivalence
//! theorem. So the approximate design only makes the bound close. That it holds follows from the few numbers evaluated
//! here, and the errors of these are bounded: `Z f` is a sum of `p` products, so that it is off by no more than
//! `(p + 8) u |Z| m` with `u = 2^-53` and `m` the terms of absolute values; `c` is raised and the design's own value
//! lowered by what follows from that.
//!
//! In whole plots `M` is that of generalised least squares, and `|Z f|^2` becomes `|Z f - h_w|^2` with what the shifts
//! `h_w` cost beside it (`design/plots.rs`); bars made already are whole plots of their own.
//!
//! Source: J. Kiefer, J. Wolfowitz, Canadian Journal of Mathematics 12, 1960, 363-366; V. V. Fedorov, Theory of Optimal
//! Experiments, 1972; A. C. Atkinson, A. N. Donev, R. D. Tobias, Optimum Experimental Designs, with SAS, 2007 (from
//! memory).

use nalgebra::{DMatrix, DVector};

use super::plots::Plots;
use super::rows::Rows;
use crate::trial::whole_plots::WholePlots;

/// The unit roundoff.
const ROUNDOFF: f64 = f64::EPSILON / 2.0;

/// What a design is judged by.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Certificate {
    /// Lower triangular.
    z: DMatrix<f64>,
    /// `Z K Z'` and its greatest error, where the average variance is asked for.
    moments: Option<(DMatrix<f64>, f64)>,
    made: Rows,
    made_sizes: Rows,
    /// `c`, not below the true one.
    most: f64,
}

/// Rows of a model with the same terms of absolute values.
pub(super) struct Sized<'a> {
    pub(super) rows: &'a Rows,
    pub(super) sizes: &'a Rows,
}

/// What is taken from the rows of each whole plot, in a column of its own, in the coordinates of `Z f`.
pub(super) struct Shifted<'a> {
    pub(super) plots: &'a Plots,
    pub(super) shifts: DMatrix<f64>,
}

/// `Z f` for some rows, as columns, and how far each may be off.
struct Turned {
    width: usize,
    columns: Vec<DVector<f64>>,
    off: Vec<f64>,
}

impl Certificate {
    /// From `Z`, the candidates, the runs made, how many runs are added, and the mixtures over which the variance is
    /// averaged; in whole plots with what is taken from the rows of each.
    pub(super) fn new(
        z: DMatrix<f64>,
        candidates: &Sized<'_>,
        made: &Sized<'_>,
        runs: usize,
        averaged: Option<&Sized<'_>>,
        shifted: Option<&Shifted<'_>>,
    ) -> Self {
        let moments = averaged.map(|averaged| {
            let turned = turned(&z, averaged);
            let count = turned.columns.len() as f64;
            let (sum, off) = turned.information();
            (sum / count, off / count)
        });
        let (mut of_candidates, of_made) = (turned(&z, candidates), turned(&z, made));
        let mut of_plots = Turned { width: z.nrows(), columns: Vec::new(), off: Vec::new() };
        if let Some(Shifted { plots, shifts }) = shifted {
            of_candidates = of_candidates.shifted(plots, shifts);
            let root = plots.ratio.sqrt();
            for shift in shifts.column_iter() {
                of_plots.columns.push(shift / root);
                of_plots.off.push(shift.norm() / root * 4.0 * ROUNDOFF);
            }
        }
        let size = |turned: &Turned| -> Vec<f64> {
            let one = |(column, off): (&DVector<f64>, &f64)| match &moments {
                None => (column.norm() + off).powi(2),
                Some((moments, moments_off)) => {
                    let form = (moments * column).dot(column).max(0.0);
                    let norm = column.norm() + off;
                    form + moments.norm() * off * (2.0 * norm + off) + moments_off * norm * norm
                }
            };
            turned.columns.iter().zip(&turned.off).map(one).collect()
        };
        let greatest = size(&of_candidates).into_iter().fold(0.0, f64::max);
        let width = z.nrows() as f64;
        let beside = size(&of_made).into_iter().chain(size(&of_plots)).sum::<f64>();
        let most = (beside + runs as f64 * greatest)
            * (1.0 + 8.0 * (width * width + runs as f64 + of_plots.columns.len() as f64) * ROUNDOFF);
        Certificate { z, moments, made: made.rows.clone(), made_sizes: made.sizes.clone(), most }
    }

    /// The share of the bound that these runs reach at the least, with those already made; nothing where they leave
    /// terms undetermined.
    pub(super) fn efficiency(&self, runs: &Sized<'_>) -> Option<f64> {
        let made = Sized { rows: &self.made, sizes: &self.made_sizes };
        let (mut information, mut off) = turned(&self.z, runs).information();
        let (of_made, made_off) = turned(&self.z, &made).information();
        information += of_made;
        off += made_off;
        let width = self.z.nrows() as f64;
        let count = (runs.rows.count() + self.made.count()) as f64;
        let factor = information.clone().cholesky()?;
        let inverse = factor.inverse();
        // Of the sums and of the factorisation.
        off += 4.0 * width * (width + count) * ROUNDOFF * information.trace();
        let loss = off * inverse.trace();
        if loss.is_nan() || loss >= 0.5 {
            return None;
        }
        let share = match &self.moments {
            None => {
                let logarithm: f64 = factor.l_dirty().diagonal().iter().map(|value| 2.0 * value.ln()).sum();
                width * (logarithm / width).exp() / self.most * (1.0 - loss)
            }
            Some((moments, moments_off)) => {
                let at_best = (moments.trace() - width * moments_off).powi(2) / self.most;
                let reached = (moments.dot(&inverse) + moments_off * inverse.trace()) / (1.0 - loss);
                at_best / reached
            }
        };
        Some((share * (1.0 - 4.0 * width * width * ROUNDOFF)).clamp(0.0, 1.0))
    }
}

/// Rows without their shares of whole plots, and what bounds the errors of these as sizes do those of rows: the sum
/// over a whole plot is one of its runs, so that `m + 4` roundings come to the `p + 8` that are reckoned with twice.
pub(super) fn whitened(of: &Sized<'_>, plots: &WholePlots) -> (Rows, Rows) {
    let mut sizes = Rows::new(of.sizes.width());
    let most = 1.0 + (of.sizes.count() as f64 + 4.0) / 16.0;
    let mut greatest = vec![0.0; of.sizes.width()];
    for row in of.sizes.iter() {
        greatest.iter_mut().zip(row).for_each(|(greatest, size): (&mut f64, &f64)| *greatest = greatest.max(*size));
    }
    // A share of a sum is no greater than the greatest of those summed.
    of.sizes.iter().for_each(|row| sizes.push(row.iter().zip(&greatest).map(|(size, other)| (size + other) * most)));
    (of.rows.whitened(plots), sizes)
}

/// Columns of `Z f`.
fn turned(z: &DMatrix<f64>, of: &Sized<'_>) -> Turned {
    let absolute = z.abs();
    let terms = z.nrows() as f64 + 8.0;
    let columns = (0..of.rows.count()).map(|place| z * of.rows.vector(place)).collect();
    let off = (0..of.sizes.count()).map(|place| (&absolute * of.sizes.vector(place)).norm() * terms * 2.0 * ROUNDOFF);
    Turned { width: z.nrows(), columns, off: off.collect() }
}

impl Turned {
    /// Less what is taken from each whole plot, once for every block.
    fn shifted(&self, plots: &Plots, shifts: &DMatrix<f64>) -> Self {
        let count = self.columns.len();
        let (mut columns, mut off) = (Vec::new(), Vec::new());
        for place in 0..count * plots.blocks() {
            let (column, shift) = (&self.columns[place % count], shifts.column(plots.of(place)));
            columns.push(column - shift);
            off.push(self.off[place % count] + 2.0 * ROUNDOFF * (column.norm() + shift.norm()));
        }
        Turned { width: self.width, columns, off }
    }

    /// `sum Zf (Zf)'` and the norm of what it may be off by.
    fn information(&self) -> (DMatrix<f64>, f64) {
        let mut sum = DMatrix::zeros(self.width, self.width);
        let mut off = 0.0;
        for (column, of_column) in self.columns.iter().zip(&self.off) {
            sum.ger(1.0, column, column, 1.0);
            let norm = column.norm();
            off += of_column * (2.0 * norm + of_column) + 2.0 * self.columns.len() as f64 * ROUNDOFF * norm * norm;
        }
        (sum, off)
    }
}

/// `Z` from the information of an approximate design in turned coordinates and the turning: `Z'Z` is nearly the inverse
/// of the information.
pub(super) fn turning(information: &DMatrix<f64>, basis: &DMatrix<f64>) -> Option<DMatrix<f64>> {
    let factor = information.clone().cholesky()?.l();
    factor.solve_lower_triangular(basis)
}

/// What the runs made bring, in turned coordinates.
pub(super) fn information_of(rows: &Rows) -> DMatrix<f64> {
    rows.information(std::iter::repeat(1.0))
}
