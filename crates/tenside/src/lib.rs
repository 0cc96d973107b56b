//! placeholder
pub mod bounds;
pub mod error;
pub mod number;
pub mod solve;
pub use error::Error;
