//! Charge of a substance.

use rust_decimal::Decimal;

/// The charge a substance brings into water.
#[derive(Clone, Debug, PartialEq)]
pub enum Charge {
    /// No net charge of its own; the counter-ions of an electrolyte salt cancel.
    Neutral,
    /// Elementary charges per molecule of the surface-active or acting ion, signed.
    PerMole(Decimal),
    /// Charge density in mmol/g, signed: polymers.
    PerGram(Decimal),
    /// Depends on the pH: betaines, amines, soaps, amino acids.
    PhDependent,
    /// Not known; it stays unknown in every sum.
    Unknown,
}
