//! Whole plots among the candidates of a design: runs of one block at one combination of settings.
//!
//! With a column for each whole plot beside the terms, `J = [F P]'[F P] + diag(0, I / d)` has the information matrix
//! `M = F' V^-1 F` of generalised least squares, `V = I + d P P'`, as its Schur complement: `M^-1` is what `J^-1` has
//! in the terms' rows and columns, and `det M` is `det J` over the product of what the whole plots have on the
//! diagonal, `1 / d` and their runs. So the choice among independent runs becomes that among runs in whole plots.
//!
//! What no design is above: for any shift `h_w` of each whole plot and any matrix `Z`
//!
//! ```text
//! tr(Z M Z') <= sum_w |h_w|^2 / d + sum_i |Z f_i - h_w(i)|^2
//! ```
//!
//! since `M` is the least of `[I -H] J [I -H]'` over all `H`. Equal at `h_w = sum Z f_i / (1 / d + runs)`.
//!
//! Source: split-plot designs by such a criterion: P. Goos, M. Vandebroek, Optimal split-plot designs, Journal of
//! Quality Technology 33, 2001, 436-450 (from memory); the bound is our own.

use nalgebra::DMatrix;

use super::points::Point;
use super::rows::Rows;

/// The whole plots of candidates, each candidate once for every block: all of the first block, then all of the next.
pub(super) struct Plots {
    /// The combination of settings of each candidate.
    settings: Vec<usize>,
    combinations: usize,
    blocks: usize,
    /// How many times the variance of a single run that of a whole plot is.
    pub(super) ratio: f64,
    /// Bars of a run.
    replicates: f64,
}

impl Plots {
    pub(super) fn new(candidates: &[Point], blocks: usize, ratio: f64, replicates: usize) -> Self {
        let mut known: Vec<&[i8]> = Vec::new();
        let mut settings = Vec::with_capacity(candidates.len());
        for point in candidates {
            let place = known.iter().position(|coded| *coded == point.coded);
            settings.push(place.unwrap_or(known.len()));
            if place.is_none() {
                known.push(&point.coded);
            }
        }
        Plots { settings, combinations: known.len(), blocks, ratio, replicates: replicates as f64 }
    }

    pub(super) fn blocks(&self) -> usize {
        self.blocks
    }

    pub(super) fn count(&self) -> usize {
        self.combinations * self.blocks
    }

    /// The whole plot of a candidate in a block.
    pub(super) fn of(&self, place: usize) -> usize {
        let candidates = self.settings.len();
        place / candidates * self.combinations + self.settings[place % candidates]
    }

    /// Rows with a column for each whole plot, once for every block.
    pub(super) fn beside(&self, rows: &Rows) -> Rows {
        let mut beside = Rows::new(rows.width() + self.count());
        for place in 0..rows.count() * self.blocks {
            let mut own = vec![0.0; self.count()];
            own[self.of(place)] = self.replicates.sqrt();
            beside.push(rows.row(place % rows.count()).iter().copied().chain(own));
        }
        beside
    }

    /// A matrix of terms with the whole plots beside them, which have this on the diagonal.
    pub(super) fn around(&self, terms: &DMatrix<f64>, diagonal: f64) -> DMatrix<f64> {
        let width = terms.nrows();
        let mut around = DMatrix::zeros(width + self.count(), width + self.count());
        around.view_mut((0, 0), (width, width)).copy_from(terms);
        (width..width + self.count()).for_each(|place| around[(place, place)] = diagonal);
        around
    }

    /// What the whole plots have on the diagonal of the information with these runs.
    pub(super) fn held(&self, chosen: &[usize]) -> Vec<f64> {
        let mut held = vec![1.0 / self.ratio; self.count()];
        chosen.iter().for_each(|place| self.hold(&mut held, *place, 1.0));
        held
    }

    /// With one run more, or less.
    pub(super) fn hold(&self, held: &mut [f64], place: usize, sign: f64) {
        held[self.of(place)] += sign * self.replicates;
    }

    /// By what the whole plots' own determinant grows with one run more, or less.
    pub(super) fn grown(&self, held: &[f64], place: usize, sign: f64) -> f64 {
        1.0 + sign * self.replicates / held[self.of(place)]
    }

    /// The same where one run goes and another comes.
    pub(super) fn moved(&self, held: &[f64], leaving: usize, entering: usize) -> f64 {
        if self.of(leaving) == self.of(entering) {
            return 1.0;
        }
        self.grown(held, leaving, -1.0) * self.grown(held, entering, 1.0)
    }
}

/// The information of the terms alone out of that with whole plots beside them, and the mean row of each whole plot,
/// drawn to 0 by what is not known of its departure.
pub(super) fn apart(information: &DMatrix<f64>, terms: usize) -> (DMatrix<f64>, DMatrix<f64>) {
    let plots = information.nrows() - terms;
    let across = information.view((0, terms), (terms, plots));
    let mut shifts = across.into_owned();
    for (place, mut column) in shifts.column_iter_mut().enumerate() {
        column /= information[(terms + place, terms + place)];
    }
    let own = information.view((0, 0), (terms, terms)) - &shifts * across.transpose();
    (own, shifts)
}
