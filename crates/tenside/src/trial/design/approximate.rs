//! The best approximate design: how the runs would be shared out among the candidates if they could be divided.
//!
//! Weights are multiplied by what their candidates are worth, `w_i d_i / p` for the determinant and `w_i sqrt(q_i)` for
//! the average variance (made to sum to 1 again), and brought to rest on a few candidates; then the candidates that
//! break the condition of the equivalence theorem join. It need not be the best: the certificate holds for any design,
//! and is the closer the better this one is.
//!
//! Source: S. D. Silvey, D. M. Titterington, B. Torsney, An algorithm for optimal designs on a finite design space,
//! Communications in Statistics A 7, 1978, 1379-1389; J. Kiefer, J. Wolfowitz, The equivalence of two extremum
//! problems, Canadian Journal of Mathematics 12, 1960, 363-366 (both from memory).

use nalgebra::DMatrix;

use super::exchange::{Criterion, greatest};
use super::plots::apart;
use super::rows::Rows;

/// Rounds in which candidates join.
const MOST_ROUNDS: usize = 400;
/// Steps of the weights in a round.
const STEPS: usize = 12;
/// How near the bound is to come to what was found, as a share.
const CLOSE: f64 = 2e-5;
/// Weights below are given up.
const LEAST_WEIGHT: f64 = 1e-7;

/// The information matrix of that many runs by the best approximate design found, with what was made; nothing where
/// none is regular.
pub(super) fn approximate(
    candidates: &Rows,
    made: &DMatrix<f64>,
    criterion: &Criterion,
    runs: usize,
    chosen: &[usize],
    mut go_on: impl FnMut() -> bool,
) -> Option<DMatrix<f64>> {
    let mass = runs as f64;
    let mut weights: Vec<(usize, f64)> = Vec::new();
    for place in chosen {
        match weights.iter_mut().find(|(known, _)| known == place) {
            Some((_, weight)) => *weight += 1.0 / mass,
            None => weights.push((*place, 1.0 / mass)),
        }
    }
    let information = |weights: &[(usize, f64)]| {
        let mut sum = made.clone();
        for (place, weight) in weights {
            let row = candidates.vector(*place);
            sum.ger(mass * weight, &row, &row, 1.0);
        }
        sum
    };
    // What each candidate is worth, what the made runs are, and what all would come to at the best.
    let worth = |information: &DMatrix<f64>| match criterion {
        Criterion::Determinant(terms) => {
            let (own, shifts) = apart(information, *terms);
            let inverse = own.cholesky()?.inverse();
            let mut beside = DMatrix::identity(*terms, information.nrows());
            beside.view_mut((0, *terms), shifts.shape()).copy_from(&-shifts);
            Some((beside.tr_mul(&(inverse * &beside)), *terms as f64))
        }
        Criterion::Average(moments) => {
            let inverse = information.clone().cholesky()?.inverse();
            Some((&inverse * moments * &inverse, moments.dot(&inverse)))
        }
    };
    let mut best: Option<(f64, DMatrix<f64>)> = None;
    for _ in 0..MOST_ROUNDS {
        for _ in 0..STEPS {
            let (matrix, _) = worth(&information(&weights))?;
            for (place, weight) in &mut weights {
                let row = candidates.vector(*place);
                let own = (&matrix * &row).dot(&row);
                *weight *= if matches!(criterion, Criterion::Determinant(_)) { own } else { own.max(0.0).sqrt() };
            }
            let sum: f64 = weights.iter().map(|(_, weight)| weight).sum();
            weights.iter_mut().for_each(|(_, weight)| *weight /= sum);
        }
        weights.retain(|(_, weight)| *weight > LEAST_WEIGHT);
        let now = information(&weights);
        let (matrix, at_best) = worth(&now)?;
        let forms = candidates.forms(&matrix);
        let worst = greatest(&forms);
        let gap = (matrix.dot(made) + mass * forms[worst]) / at_best - 1.0;
        if best.as_ref().is_none_or(|(known, _)| gap < *known) {
            best = Some((gap, now));
        }
        if gap < CLOSE || !go_on() {
            break;
        }
        // Those that break the condition by more than half of the worst, a few at a time.
        let level = (at_best - matrix.dot(made)) / mass;
        let mut breaking: Vec<usize> =
            (0..forms.len()).filter(|place| 2.0 * forms[*place] > level + forms[worst]).collect();
        breaking.sort_by(|left, right| forms[*right].total_cmp(&forms[*left]));
        for place in breaking.into_iter().take(1 + candidates.width() / 4) {
            if weights.iter().all(|(known, _)| *known != place) {
                weights.push((place, gap.min(0.5) / mass));
            }
        }
    }
    best.map(|(_, information)| information)
}
