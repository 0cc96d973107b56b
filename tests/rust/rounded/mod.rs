//! Rounded formulas, choices, nearest formulas and substitutes against exhaustive enumeration, and what is refused.

mod candidates;
mod choices;
mod enumerated;
mod ratios;
mod refused;
mod small;
mod squares;
mod substitutes;
