//! Rounded formulas, choices and nearest formulas against exhaustive enumeration, and what is refused.

mod choices;
mod enumerated;
mod refused;
mod small;
mod squares;
