//! The share of an acid preservative that is left undissociated, which is the part that preserves.
//!
//! `100 / (1 + 10^(pH - pKa))` percent; in `f64`, good to twelve digits for a pH and pKa as people state them. It is an
//! upper bound for a product with surfactant: micelles and fats take the acid up. Checked against
//! `tests/data/undissociated_preservative.toml`.

/// Percent of a monoprotic acid undissociated in water at that pH.
///
/// ```
/// let percent = tenside::rule::undissociated_percent(5.0, 4.19);
/// assert_eq!(format!("{percent:.2}"), "13.41");
/// ```
#[must_use]
pub fn undissociated_percent(ph: f64, pka: f64) -> f64 {
    100.0 / (1.0 + 10f64.powf(ph - pka))
}
