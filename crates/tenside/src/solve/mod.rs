//! Solving: from linear programs up to the answer of a brief.

pub mod linear;
