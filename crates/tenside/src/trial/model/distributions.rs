//! The distributions behind a fit: Student's t and Fisher's F. Calculated in `f64`; another library's agree to nine
//! digits.

use statrs::distribution::{ContinuousCDF, FisherSnedecor, StudentsT};

/// The quantile of Student's t at `probability`.
pub(super) fn student(probability: f64, degrees: f64) -> f64 {
    StudentsT::new(0.0, 1.0, degrees).map_or(f64::NAN, |student| student.inverse_cdf(probability))
}

/// How often chance alone gives a t so far from 0.
pub(super) fn two_sided(t: f64, degrees: f64) -> f64 {
    StudentsT::new(0.0, 1.0, degrees).map_or(f64::NAN, |student| 2.0 * student.sf(t.abs()))
}

/// How often chance alone gives such an F or a greater one.
pub(super) fn beyond(f: f64, above: f64, below: f64) -> f64 {
    FisherSnedecor::new(above, below).map_or(f64::NAN, |fisher| fisher.sf(f))
}
