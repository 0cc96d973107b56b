//! The pH of clear watery solutions, calculated; readings against the ranges of the raw materials; and how to bring a
//! batch to a pH.
//!
//! A bar has no pH. A dispersion of it has one, and that is measured: for whatever holds surfactant or free fatty acid
//! this room predicts nothing, since micelles take up hydrogen ions and acids, and lots differ in free alkali. A
//! reading rules.
//!
//! # Why
//! - The pH of a solution is two brackets, one inside the other (proof in `ph/balance.rs`): at a given ionic
//!   strength the balance of charges is monotonic in the activity of the hydrogen ion, so that its root is unique.
//!   Newton's steps on `ln P - ln N` find it, halving where a step leaves the bracket.
//! - Floats are right for pH: their error (below 1e-6, charge left over below 1e-15 mol/kg) is nothing beside the
//!   model's (0.011 against the primary buffers at 25 °C, 0.022 from 15 to 40 °C). Doses are exact again: a
//!   titration is a list of decimals, its interpolation rational.
//! - The activity of water is 1 - 0.017 times what is dissolved, as PHREEQC takes it; without it strong alkali is
//!   off by a few thousandths. Outside pH 0 to 14 there is no answer: the Davies equation has long ended there, and
//!   such totals are nearly always a forgotten counter-ion.
//! - Surfactant and free fatty acid are refused by class, and what is in no table is refused too: a whitelist,
//!   since silence about a constituent would be a guess. Up to 1 % unnamed is a caveat.
//! - A dose's interval is what monotonicity alone proves: it lies between the last point surely before the target
//!   and the first surely past it, "surely" by what a reading may be off by. A portion is half of what is typically
//!   missing, or the low end of the interval if that is more: the low end cannot be too much if the trial holds.
//! - What a reagent does to a pH is read off `data/ph` (every proton on: it lowers; every proton off: it raises;
//!   between: either), so that a titration against it is refused; where nothing is known the user states it.
//! - The undissociated share is taken without activity coefficients, which would lower it: it is reported as an
//!   upper bound.
//! - Known limits: the pH of a formula is calculated for typical compositions and has no interval; ion pairs,
//!   solids and gases are caveats, not chemistry; chelants are not in `data/ph`, so that a solution with one is
//!   refused; sorbic, dehydroacetic and gluconic acid have no ionisation enthalpy there.

mod acid;
mod adjust;
mod balance;
mod caveat;
mod curve;
mod dissolved;
mod document;
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
pub use caveat::{Caveat, CaveatKind};
pub use document::{AdjustmentDocument, TitrationDocument};
pub use effect::Effect;
pub use equilibrium::{AcidForms, Equilibrium, Form};
pub use ion::Ion;
pub use preservative::{PreservativeState, Standing, UPPER_BOUND, Undissociated};
pub use solution::Solution;
pub use titration::{Titration, TitrationPoint};
pub use water::Water;
pub use window::{Distance, PhWindow, WindowRow};
