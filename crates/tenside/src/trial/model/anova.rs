//! How good a fit is: analysis of variance, R-squared three ways, lack of fit.
//!
//! ```text
//! PRESS = sum (e_i / (1 - h_i))²      predicted R² = 1 - PRESS / SST
//! lack of fit = sum over blends n_j ē_j²      pure error = sum over blends sum (e_ij - ē_j)²
//! ```
//!
//! with the residuals `e`, the leverages `h` and the mean residual `ē_j` of the `n_j` runs of a blend. For runs made
//! exactly alike that is the textbook's lack of fit; where repetitions were weighed a little differently the two still
//! sum to the residual sum of squares, and neither falls below 0. PRESS: D. M. Allen, Technometrics 16, 1974, 125-127;
//! leverage and distance: R. D. Cook, Technometrics 19, 1977, 15-18 (both from memory).

use super::distributions::beyond;
use super::fit::{FittedModel, decides};

/// One row of an analysis of variance.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct AnovaRow {
    /// Where the variation is from: model, inside it the steps of the model, residual, lack of fit, pure error, total.
    pub source: &'static str,
    /// Degrees of freedom.
    pub degrees_of_freedom: usize,
    /// Sum of squares, about the mean where it is of the model or of all; in the square of the property's unit.
    pub sum_of_squares: f64,
    /// That over the degrees of freedom.
    pub mean_square: Option<f64>,
    /// Over the mean square it is compared with: that of the residual, for lack of fit that of pure error.
    pub f: Option<f64>,
    /// How often chance alone gives such an F or a greater one.
    pub p: Option<f64>,
}

/// Whether more is left than repetitions explain.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LackOfFit {
    /// What the model leaves between blends over what repetitions differ by, by mean squares; `None` where repetitions
    /// do not differ.
    pub f: Option<f64>,
    /// How often chance alone gives such an F or a greater one: small where the model is too simple.
    pub p: Option<f64>,
    /// Blends less fitted terms.
    pub degrees_of_freedom: usize,
    /// Runs less blends.
    pub pure_error_degrees_of_freedom: usize,
    /// The standard deviation of repetitions, in the unit of the property.
    pub pure_error_deviation: f64,
}

impl FittedModel {
    /// Sums of squares and degrees of freedom between blends and within them.
    fn split(&self) -> Option<[(f64, usize); 2]> {
        if self.whole_plots.is_some() {
            return None;
        }
        let (mut between, mut within, mut blends) = (0.0, 0.0, 0);
        for (_, runs) in self.log.blends(true) {
            let own: Vec<f64> = runs
                .iter()
                .filter_map(|run| self.used.binary_search(run).ok())
                .map(|place| self.fit.residuals[place])
                .collect();
            if own.is_empty() {
                continue;
            }
            blends += 1;
            let mean = own.iter().sum::<f64>() / own.len() as f64;
            between += own.len() as f64 * mean * mean;
            within += own.iter().map(|residual| (residual - mean) * (residual - mean)).sum::<f64>();
        }
        let free = self.values.len() - blends;
        (free > 0 && blends > self.kept.len()).then(|| [(between, blends - self.kept.len()), (within, free)])
    }

    /// Whether more is left than repetitions explain; `None` without repeated blends, with no more blends than terms,
    /// or in whole plots.
    #[must_use]
    pub fn lack_of_fit(&self) -> Option<LackOfFit> {
        let [(between, degrees), (within, free)] = self.split()?;
        let pure = within / free as f64;
        let f = (pure > 0.0 && !self.is_perfect()).then(|| between / degrees as f64 / pure);
        let p = f.map(|f| beyond(f, degrees as f64, free as f64));
        Some(LackOfFit {
            f,
            p,
            degrees_of_freedom: degrees,
            pure_error_degrees_of_freedom: free,
            pure_error_deviation: pure.sqrt(),
        })
    }

    /// The analysis of variance. Where the model has several steps (linear, quadratic and cubic terms of the blend, of
    /// the process), the sum of squares of each is what it takes after those before it.
    #[must_use]
    pub fn anova(&self) -> Vec<AnovaRow> {
        let row = |source, (sum_of_squares, degrees_of_freedom): (f64, usize), test: Option<(f64, f64)>| AnovaRow {
            source,
            degrees_of_freedom,
            sum_of_squares,
            mean_square: (degrees_of_freedom > 0).then(|| sum_of_squares / degrees_of_freedom as f64),
            f: test.map(|(f, _)| f),
            p: test.map(|(_, p)| p),
        };
        let (fitted, free) = (self.kept.len() - 1, self.degrees_of_freedom());
        let explained = self.total - self.fit.squares;
        let test = |sum_of_squares: f64, degrees: usize| {
            let f = (degrees > 0 && !self.is_perfect()).then(|| sum_of_squares / degrees as f64 / self.variance());
            f.map(|f| (f, beyond(f, degrees as f64, free as f64)))
        };
        let mut rows = vec![row("model", (explained, fitted), test(explained, fitted))];
        let steps = self.sequential(explained);
        if steps.len() > 1 {
            rows.extend(
                steps.into_iter().map(|(step, squares, degrees)| row(step, (squares, degrees), test(squares, degrees))),
            );
        }
        rows.push(row("residual", (self.fit.squares, free), None));
        if let Some([between, within]) = self.split() {
            let tested = self.lack_of_fit().and_then(|lack| lack.f.zip(lack.p));
            rows.extend([row("lack of fit", between, tested), row("pure error", within, None)]);
        }
        rows.push(row("total", (self.total, self.values.len() - 1), None));
        rows
    }

    /// What each step of the model takes after those before it, with its terms; the first, which has the mean in it,
    /// what the others leave.
    fn sequential(&self, explained: f64) -> Vec<(&'static str, f64, usize)> {
        let words = self.model.steps();
        let mut steps: Vec<(&'static str, f64, usize)> = Vec::new();
        for (term, squares) in self.kept.iter().zip(&self.fit.sequential) {
            match steps.last_mut() {
                Some((step, sum, terms)) if *step == words[*term] => {
                    *sum += squares;
                    *terms += 1;
                }
                _ => steps.push((words[*term], *squares, 1)),
            }
        }
        let others: f64 = steps.iter().skip(1).map(|(_, squares, _)| squares).sum();
        if let Some((_, squares, terms)) = steps.first_mut() {
            *squares = (explained - others).max(0.0);
            *terms -= 1;
        }
        steps
    }

    /// The share of the variation about the mean that the model explains.
    #[must_use]
    pub fn r_squared(&self) -> f64 {
        1.0 - self.fit.squares / self.total
    }

    /// The same by mean squares, which more terms do not raise by themselves.
    #[must_use]
    pub fn adjusted(&self) -> f64 {
        1.0 - self.variance() / (self.total / (self.values.len() - 1) as f64)
    }

    /// The sum of squares by which the model misses each result when fitted without it; `None` where a run alone
    /// decides a term, and in whole plots.
    #[must_use]
    pub fn press(&self) -> Option<f64> {
        if self.whole_plots.is_some() {
            return None;
        }
        let missed =
            |(residual, leverage): (&f64, &f64)| (!decides(*leverage)).then(|| (residual / (1.0 - leverage)).powi(2));
        self.fit.residuals.iter().zip(&self.fit.leverages).map(missed).sum()
    }

    /// The share of the variation that the model predicts of results it was not fitted to. Below 0 the mean predicts
    /// better.
    #[must_use]
    pub fn predicted(&self) -> Option<f64> {
        self.press().map(|press| 1.0 - press / self.total)
    }

    /// Akaike's criterion with the correction for few results, `n ln(SSE / n) + 2 k + 2 k (k + 1) / (n - k - 1)` with
    /// `k` coefficients and the variance; `None` with too few results for it or nothing left of them. (C. M. Hurvich
    /// and C.-L. Tsai, Biometrika 76, 1989, 297-307; from memory.)
    #[must_use]
    pub fn aicc(&self) -> Option<f64> {
        let (n, k) = (self.values.len() as f64, self.kept.len() as f64 + 1.0);
        (n > k + 1.0 && !self.is_perfect())
            .then(|| n * (self.fit.squares / n).ln() + 2.0 * k + 2.0 * k * (k + 1.0) / (n - k - 1.0))
    }
}
