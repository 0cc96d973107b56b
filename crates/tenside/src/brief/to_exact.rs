//! What may be given where a brief asks for a number.

use crate::error::Error;
use crate::number::{Exact, Ppm};

/// Something that reads as an exact number: text, whole numbers, decimals.
pub trait ToExact {
    /// The number.
    ///
    /// # Errors
    /// Text that is no number.
    fn to_exact(self) -> Result<Exact, Error>;
}

impl ToExact for &str {
    fn to_exact(self) -> Result<Exact, Error> {
        self.parse()
    }
}

impl ToExact for i32 {
    fn to_exact(self) -> Result<Exact, Error> {
        Ok(Exact::from(self))
    }
}

impl ToExact for Exact {
    fn to_exact(self) -> Result<Exact, Error> {
        Ok(self)
    }
}

impl ToExact for &Exact {
    fn to_exact(self) -> Result<Exact, Error> {
        Ok(self.clone())
    }
}

impl ToExact for rust_decimal::Decimal {
    fn to_exact(self) -> Result<Exact, Error> {
        Ok(Exact::from(self))
    }
}

impl ToExact for Ppm {
    fn to_exact(self) -> Result<Exact, Error> {
        Ok(self.percent())
    }
}
