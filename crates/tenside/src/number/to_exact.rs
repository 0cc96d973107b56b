//! What may be given where a number is asked for.

use rust_decimal::Decimal;

use super::{Exact, Ppm};
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};

/// Something that reads as an exact number: text, whole numbers, decimals, floats, or a reference to one of them. A
/// float counts as the shortest decimal that prints it. Sealed: what counts as an exact number is decided here.
///
/// Whatever can refuse a percentage takes it so; what cannot takes a [`Ppm`], which is one already.
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

    /// The number as a percentage on the grid.
    ///
    /// # Errors
    /// No number, one outside 0 to 100, one between two whole parts per million.
    fn to_ppm(self) -> Result<Ppm, Error>
    where
        Self: Sized,
    {
        Ppm::from_exact_percent(&self.to_exact()?)
    }
}

impl Quantity {
    /// The number as a decimal, if it is inside the range.
    ///
    /// # Errors
    /// What is no number, the value with the allowed range, a number without an end as a decimal.
    pub(crate) fn decimal(self, value: impl ToExact) -> Result<Decimal, Error> {
        let value = value.to_exact()?;
        self.check(&value)?;
        value
            .to_decimal()
            .ok_or_else(|| Fault::new(FaultKind::NotANumber, "not a decimal of up to 28 digits").value(&value).into())
    }
}

mod sealed {
    /// What [`ToExact`](super::ToExact) is implemented for.
    pub trait Sealed {}
}
use sealed::Sealed;

macro_rules! reads_as_exact {
    ($($type:ty: |$value:ident| $exact:expr;)*) => {
        $(
            impl Sealed for $type {}

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
    &str: |text| Ok(text.parse()?);
    String: |text| Ok(text.parse()?);
    i32: |whole| Ok(Exact::from(whole));
    u32: |whole| Ok(Exact::from(whole));
    i64: |whole| Ok(Exact::from(whole));
    u64: |whole| Ok(whole.to_string().parse()?);
    usize: |whole| Ok(whole.to_string().parse()?);
    f64: |float| Ok(Exact::from_shortest(float)?);
    Exact: |exact| Ok(exact);
    Decimal: |decimal| Ok(Exact::from(decimal));
    Ppm: |percent| Ok(percent.percent());
}

impl<T: ToExact + Clone> Sealed for &T {}

impl<T: ToExact + Clone> ToExact for &T {
    fn to_exact(self) -> Result<Exact, Error> {
        self.clone().to_exact()
    }
}
