//! The best approximate design: how the runs would be shared out among the candidates if they could be divided.
//!
//! Weights are multiplied by what their candidates are worth, `w_i d_i / p` for the determinant and `w_i sqrt(q_i)` for
//! the average variance (made to sum to 1 again), and brought to rest on a few candidates; then the candidates that
//! break the condition of the equivalence theorem join, and steps of Newton's method on the weights that are left, kept
//! where they better the design, bring it to rest. It need not be the best: the certificate holds for any design, and
//! is the closer the better this one is.
//!
//! Source: S. D. Silvey, D. M. Titterington, B. Torsney, An algorithm for optimal designs on a finite design space,
//! Communications in Statistics A 7, 1978, 1379-1389; J. Kiefer, J. Wolfowitz, The equivalence of two extremum
//! problems, Canadian Journal of Mathematics 12, 1960, 363-366 (both from memory).
//!
//! # Why
//! - Multiplied weights alone near the best ever more slowly: with 36 terms and a thousand candidates (quadratic, eight
//!   components) they were a part of 2e-3 to 3e-3 from it after some 170 rounds, for either criterion. With Newton's
//!   steps it takes some 70 rounds to 1e-5 or less there, and 5 to 70 with six components and fewer.

use nalgebra::{DMatrix, DVector};

use super::exchange::{Criterion, greatest};
use super::plots::apart;
use super::rows::Rows;

/// Rounds in which candidates join.
const MOST_ROUNDS: usize = 400;
/// Steps of the weights in a round.
const STEPS: usize = 12;
/// Newton's steps after them.
const NEWTON_STEPS: usize = 3;
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
        for _ in 0..NEWTON_STEPS {
            let now = information(&weights);
            let Some(moved) = newton(candidates, criterion, &weights, &now, mass) else { break };
            match (value(criterion, &information(&moved)), value(criterion, &now)) {
                (Some(new), Some(old)) if new > old => weights = moved,
                _ => break,
            }
        }
    }
    best.map(|(_, information)| information)
}

/// The logarithm of what a design is worth: concave in the weights.
fn value(criterion: &Criterion, information: &DMatrix<f64>) -> Option<f64> {
    criterion.worth(&information.clone().cholesky()?.inverse())
}

/// The weights where a quadratic of the same slope and curvature is greatest, or as far that way as none falls below 0.
///
/// With `J` the information and `J_w` what a whole plot has on its diagonal, the slopes are `f_i' S f_i`, with
/// `S = J^-1 - diag(0, 1 / J_w)` for the determinant and `J^-1 K J^-1 / tr K J^-1` for the average, and the curvature
/// `-(f_i' J^-1 f_j)^2 + (f_i' diag(0, 1 / J_w) f_j)^2`, or `-2 (f_i' J^-1 f_j)(f_i' S f_j) + s_i s_j`.
fn newton(
    candidates: &Rows,
    criterion: &Criterion,
    weights: &[(usize, f64)],
    information: &DMatrix<f64>,
    mass: f64,
) -> Option<Vec<(usize, f64)>> {
    let inverse = information.clone().cholesky()?.inverse();
    let rows = DMatrix::from_fn(weights.len(), candidates.width(), |row, term| candidates.row(weights[row].0)[term]);
    let crossed = &rows * &inverse * rows.transpose();
    let (slopes, curvature) = match criterion {
        Criterion::Determinant(terms) => {
            let of_plots = DMatrix::from_fn(weights.len(), weights.len(), |left, right| {
                (*terms..candidates.width())
                    .map(|plot| rows[(left, plot)] * rows[(right, plot)] / information[(plot, plot)])
                    .sum::<f64>()
            });
            let curvature = crossed.component_mul(&crossed) - of_plots.component_mul(&of_plots);
            ((crossed - of_plots).diagonal(), curvature)
        }
        Criterion::Average(moments) => {
            let averaged = &rows * (&inverse * moments * &inverse) * rows.transpose() / moments.dot(&inverse);
            let slopes = averaged.diagonal();
            let curvature = crossed.component_mul(&averaged) * 2.0 - &slopes * slopes.transpose();
            (slopes, curvature)
        }
    };
    // Weights sum to 1: with a multiplier beside them.
    let count = weights.len();
    let ridge = 1e-10 * curvature.trace() / count as f64;
    let system = DMatrix::from_fn(count + 1, count + 1, |row, column| match (row < count, column < count) {
        (true, true) => mass * mass * (curvature[(row, column)] + if row == column { ridge } else { 0.0 }),
        (false, false) => 0.0,
        _ => mass,
    });
    let right = DVector::from_fn(count + 1, |row, _| if row < count { mass * slopes[row] } else { 0.0 });
    let step = system.lu().solve(&right)?;
    let longest =
        weights.iter().zip(step.iter()).filter(|(_, step)| **step < 0.0).map(|((_, weight), step)| -weight / step);
    let longest = longest.fold(1.0, f64::min);
    let moved = weights.iter().zip(step.iter()).map(|((place, weight), step)| (*place, weight + longest * step));
    let kept: Vec<(usize, f64)> = moved.filter(|(_, weight)| *weight > LEAST_WEIGHT).collect();
    let sum: f64 = kept.iter().map(|(_, weight)| weight).sum();
    Some(kept.into_iter().map(|(place, weight)| (place, weight / sum)).collect())
}
