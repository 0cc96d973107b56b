//! The pH of clear watery solutions, reckoned; readings against the ranges of the raw materials; and how to bring a batch to a pH.
//!
//! A bar has no pH. A dispersion of it has one, and that is measured: for whatever holds surfactant or free fatty acid this room predicts
//! nothing, since micelles take up hydrogen ions and acids, and lots differ in free alkali. A reading rules.

mod acid;
mod balance;
mod caveat;
mod equilibrium;
mod ion;
mod solution;
mod table;
mod water;

pub use acid::{Acid, MOST_STEPS};
pub use caveat::Caveat;
pub use equilibrium::{AcidForms, Equilibrium, Form};
pub use ion::Ion;
pub use solution::Solution;
pub use water::Water;
