//! What may be given where a number is asked for.

use rust_decimal::Decimal;

use super::{Exact, parse_decimal};
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};

/// Something that reads as an exact number: text, whole numbers, decimals, floats, or a reference to one of them. A
/// float counts as the shortest decimal that prints it. Sealed: what counts as an exact number is decided here.
///
/// Whatever can refuse a percentage takes it so; what cannot takes a [`Ppm`](crate::number::Ppm), which is one already.
///
/// ```
/// use tenside::number::{Exact, ToExact};
/// for given in [0.1.to_exact()?, "0.1".to_exact()?, String::from("1/10").to_exact()?, (&Exact::ratio(1, 10)).to_exact()?] {
///     assert_eq!(given, Exact::ratio(1, 10));
/// }
/// assert_eq!(7_u64.to_exact()?, Exact::from(7));
/// assert!(f64::NAN.to_exact().is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
pub trait ToExact: Sealed {
    /// The number.
    ///
    /// # Errors
    /// Text that is no number, and a float that is not finite.
    fn to_exact(self) -> Result<Exact, Error>;
}

impl Quantity {
    /// The number as a decimal, if it is inside the range.
    ///
    /// # Errors
    /// What is no number, the value with the allowed range, a number without an end as a decimal.
    pub(crate) fn decimal(self, value: impl ToExact) -> Result<Decimal, Error> {
        let as_given = value.decimal_as_given();
        let value = value.to_exact()?;
        self.check(&value)?;
        as_given
            .or_else(|| value.to_decimal())
            .ok_or_else(|| Fault::new(FaultKind::NotANumber, "not a decimal of up to 28 digits").value(&value).into())
    }

    /// The number, if it is inside the range.
    ///
    /// # Errors
    /// What is no number, the value with the allowed range.
    pub(crate) fn exact(self, value: impl ToExact) -> Result<Exact, Error> {
        let value = value.to_exact()?;
        self.check(&value)?;
        Ok(value)
    }

    /// The number as the nearest float, for what is calculated in floats, if it is inside the range.
    ///
    /// # Errors
    /// What is no number, the value with the allowed range.
    pub(crate) fn float(self, value: impl ToExact) -> Result<f64, Error> {
        Ok(self.exact(value)?.to_f64())
    }
}

pub(super) mod sealed {
    use rust_decimal::Decimal;

    /// What [`ToExact`](super::ToExact) is implemented for.
    pub trait Sealed {
        /// The decimal with the places it was given with, where it was given as one: a pH of 6.0 is read to a tenth.
        fn decimal_as_given(&self) -> Option<Decimal> {
            None
        }
    }
}
use sealed::Sealed;

macro_rules! reads_as_exact {
    ($($type:ty: |$value:ident| $exact:expr $(, |$given:ident| $as_given:expr)?;)*) => {
        $(
            impl Sealed for $type {
                $(fn decimal_as_given(&self) -> Option<Decimal> {
                    let $given = self;
                    $as_given
                })?
            }

            impl ToExact for $type {
                fn to_exact(self) -> Result<Exact, Error> {
                    let $value = self;
                    $exact
                }
            }
        )*
    };
}

reads_as_exact! {
    &str: |text| Ok(text.parse()?), |text| parse_decimal(text.trim());
    String: |text| Ok(text.parse()?), |text| parse_decimal(text.trim());
    i32: |whole| Ok(Exact::from(whole));
    u32: |whole| Ok(Exact::from(whole));
    i64: |whole| Ok(Exact::from(whole));
    u64: |whole| Ok(whole.to_string().parse()?);
    usize: |whole| Ok(whole.to_string().parse()?);
    f64: |float| Ok(Exact::from_shortest(float)?);
    Exact: |exact| Ok(exact);
    Decimal: |decimal| Ok(Exact::from(decimal)), |decimal| Some(*decimal);
}

impl<T: ToExact + Clone> Sealed for &T {
    fn decimal_as_given(&self) -> Option<Decimal> {
        (**self).decimal_as_given()
    }
}

impl<T: ToExact + Clone> ToExact for &T {
    fn to_exact(self) -> Result<Exact, Error> {
        self.clone().to_exact()
    }
}
