//! The pH of clear watery solutions, calculated; readings against the ranges of the raw materials; and how to bring a batch to a pH.
//!
//! A bar has no pH. A dispersion of it has one, and that is measured: for whatever holds surfactant or free fatty acid this room predicts
//! nothing, since micelles take up hydrogen ions and acids, and lots differ in free alkali. A reading rules.

mod acid;
mod adjust;
mod balance;
mod caveat;
mod curve;
mod dissolved;
mod effect;
mod equilibrium;
mod ion;
mod preservative;
mod solution;
mod table;
mod titration;
mod water;
mod window;

pub use acid::{Acid, MOST_STEPS};
pub use adjust::{Adjustment, Portion};
pub use caveat::Caveat;
pub use effect::Effect;
pub use equilibrium::{AcidForms, Equilibrium, Form};
pub use ion::Ion;
pub use preservative::{PreservativeState, Standing, UPPER_BOUND, Undissociated};
pub use solution::Solution;
pub use titration::{Titration, TitrationPoint};
pub use water::Water;
pub use window::{Distance, PhWindow, WindowRow};
