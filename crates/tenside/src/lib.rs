//! Formulas of solid shampoos.
pub mod batch;
pub mod bounds;
pub mod catalogue;
pub mod document;
pub mod error;
pub mod formula;
pub mod material;
pub mod number;
pub mod reading;
pub mod render;
pub mod solve;
pub mod substance;
pub use error::Error;
