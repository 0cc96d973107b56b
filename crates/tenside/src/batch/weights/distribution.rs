//! The distributions behind weights: Student's t, and how often a plan accepts. Calculated in `f64`; against tables and
//! an integration of another library they agree to nine digits.

use statrs::distribution::{Binomial, ContinuousCDF, Discrete, DiscreteCDF, Normal, StudentsT};
use statrs::function::gamma::ln_gamma;

use crate::rule::Plan;

/// The quantile of Student's t at `probability` with so many degrees of freedom, above 0.
pub(in crate::batch) fn student(probability: f64, degrees: f64) -> f64 {
    // The parameters are a location of 0, a scale of 1 and degrees above 0, which are always taken.
    StudentsT::new(0.0, 1.0, degrees).map_or(f64::NAN, |student| student.inverse_cdf(probability))
}

/// The share of a normal distribution below so many standard deviations.
pub(super) fn normal(deviations: f64) -> f64 {
    Normal::standard().cdf(deviations)
}

/// Intervals of the integration over the standard deviation of a sample.
const INTERVALS: u32 = 8000;

/// How often the mean of `n` values from a normal distribution, whose own mean lies `above` of its standard deviations
/// above a limit, is not more than `factor` standard deviations of the sample below that limit.
///
/// ```text
/// P = ∫ f(u) Φ(√n (above + factor u)) du,   f(u) the density of the sample's standard deviation over the true one
/// ```
///
/// By Simpson's rule; the same as 1 - F(-factor √n) of the noncentral t with n - 1 degrees of freedom and noncentrality
/// √n above.
pub(super) fn mean_accepts(n: u32, factor: f64, above: f64) -> f64 {
    let root = f64::from(n).sqrt();
    if factor == 0.0 {
        return normal(root * above);
    }
    let degrees = f64::from(n) - 1.0;
    let constant = std::f64::consts::LN_2 + degrees / 2.0 * (degrees / 2.0).ln() - ln_gamma(degrees / 2.0);
    let density = |u: f64| {
        if u > 0.0 {
            (constant + (degrees - 1.0) * u.ln() - degrees * u * u / 2.0).exp()
        } else if n == 2 {
            constant.exp()
        } else {
            0.0
        }
    };
    // Beyond it lies less than 1e-16 of the distribution.
    let end = ((degrees + 12.0 * (2.0 * degrees).sqrt() + 150.0) / degrees).sqrt();
    let step = end / f64::from(INTERVALS);
    let at = |index: u32| {
        let u = step * f64::from(index);
        density(u) * normal(root * (above + factor * u))
    };
    let weighted = |index: u32| {
        if index == 0 || index == INTERVALS { at(index) } else { at(index) * if index % 2 == 1 { 4.0 } else { 2.0 } }
    };
    ((0..=INTERVALS).map(weighted).sum::<f64>() * step / 3.0).clamp(0.0, 1.0)
}

/// How often a plan accepts the number of short packages, where each is short with the probability `short`.
pub(super) fn short_accepts(plan: Plan, short: f64) -> f64 {
    // Of a probability from 0 to 1 there is always a distribution.
    let of = |number: u32| Binomial::new(short.clamp(0.0, 1.0), u64::from(number)).ok();
    let at_most = |number: u32, most: u32| of(number).map_or(f64::NAN, |counts| counts.cdf(u64::from(most)));
    match plan {
        Plan::All { batch, accept } => at_most(batch, accept),
        Plan::Sample { first, accept, reject, second, .. } => {
            let open = |(number, both): (u32, u32)| {
                let exactly = |count: u32| of(first).map_or(f64::NAN, |counts| counts.pmf(u64::from(count)));
                (accept + 1..reject).map(|count| exactly(count) * at_most(number, both - count)).sum::<f64>()
            };
            at_most(first, accept) + second.map_or(0.0, open)
        }
    }
}

/// How often none of so many packages has what each has with that probability.
pub(super) fn none_of(number: u32, each: f64) -> f64 {
    (f64::from(number) * (-each).ln_1p()).exp()
}
