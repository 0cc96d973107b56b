//! What may be given where a brief asks for a number.

use crate::error::Error;
use crate::number::{Exact, Ppm};

/// Something that reads as an exact number: text, whole numbers, decimals. Sealed: what counts as an exact number is decided here.
pub trait ToExact: Sealed {
    /// The number.
    ///
    /// # Errors
    /// Text that is no number.
    fn to_exact(self) -> Result<Exact, Error>;
}

mod sealed {
    /// What [`ToExact`](super::ToExact) is implemented for.
    pub trait Sealed {}
}
use sealed::Sealed;

impl Sealed for &str {}
impl Sealed for i32 {}
impl Sealed for Exact {}
impl Sealed for &Exact {}
impl Sealed for rust_decimal::Decimal {}
impl Sealed for Ppm {}

impl ToExact for &str {
    fn to_exact(self) -> Result<Exact, Error> {
        Ok(self.parse()?)
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
