//! placeholder
pub mod bounds;
pub mod error;
pub mod number;
pub use error::Error;
