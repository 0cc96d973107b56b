//! Exact numbers and decimals of `rust_decimal`.

use rust_decimal::Decimal;

use super::Exact;
use super::text::Typed;

impl Exact {
    /// The value as a `rust_decimal` number where it is one.
    #[must_use]
    pub fn to_decimal(&self) -> Option<Decimal> {
        let Some((numerator, denominator)) = self.small() else {
            return Decimal::from_str_exact(&self.decimal_text()?).ok();
        };
        let twos = denominator.trailing_zeros();
        let (mut rest, mut fives) = (denominator >> twos, 0);
        while rest % 5 == 0 {
            (rest, fives) = (rest / 5, fives + 1);
        }
        let scale = if rest == 1 { twos.max(fives) } else { return None };
        let factor = 10i128.checked_pow(scale)? / i128::from(denominator);
        Decimal::try_from_i128_with_scale(i128::from(numerator).checked_mul(factor)?, scale).ok()
    }
}

impl From<Decimal> for Exact {
    fn from(value: Decimal) -> Self {
        Exact::of_parts(value.mantissa(), 10i128.pow(value.scale()))
    }
}

/// A decimal as typed; `None` if it is no number or has more digits than [`Decimal`] holds exactly.
///
/// ```
/// use tenside_lp::parse_decimal;
/// assert_eq!(parse_decimal("1.50").map(|number| number.scale()), Some(2));
/// assert_eq!(parse_decimal("1,5"), None);
/// ```
#[must_use]
pub fn parse_decimal(text: &str) -> Option<Decimal> {
    let Typed { is_negative, mantissa, scale } = Typed::read(text)?;
    let mut decimal = Decimal::try_from_i128_with_scale(i128::try_from(mantissa).ok()?, scale).ok()?;
    decimal.set_sign_negative(is_negative);
    Some(decimal)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    proptest! {
        /// As its text is read, with as many decimals.
        #[test]
        fn a_number_is_the_decimal_that_it_prints(numerator in any::<i64>(), twos in 0u32..40, fives in 0u32..20, other in 1i64..4) {
            let denominator = (0..fives).fold(Exact::from(other), |power, _| power * Exact::from(5)) * Exact::from(1i64 << twos);
            for value in [Exact::from(numerator) / &denominator, Exact::from(numerator % 1000) / &denominator] {
                let read = value.decimal_text().and_then(|text| Decimal::from_str_exact(&text).ok());
                prop_assert_eq!(value.to_decimal(), read);
                prop_assert_eq!(value.to_decimal().map(|decimal| decimal.scale()), read.map(|decimal| decimal.scale()));
            }
        }

        /// What that crate reads of a text that looks like a decimal is what is read here.
        #[test]
        fn decimals_are_read_as_another_reader_does(text in "[-+]?[0-9.]{0,34}", exponent in -40i32..40, short in "[-+.0-9]{0,4}") {
            for text in [text.as_str(), short.as_str()] {
                prop_assert_eq!(parse_decimal(text), Decimal::from_str_exact(text).ok(), "{}", text);
                prop_assert_eq!(parse_decimal(text).map(|read| read.scale()), Decimal::from_str_exact(text).ok().map(|read| read.scale()));
                let scientific = format!("{text}e{exponent}");
                let read = Decimal::from_str_exact(text).ok().map(Exact::from);
                let factor = (0..exponent.abs()).fold(Exact::ONE, |power, _| power * Exact::from(10));
                let expected = read.map(|read| if exponent < 0 { read / factor } else { read * factor });
                // What is read is right; beyond 28 digits, or 28 decimals as it is typed, it may be refused, never
                // rounded.
                let decimals = text.split_once('.').map_or(0, |(_, decimals)| i32::try_from(decimals.len()).unwrap_or(i32::MAX));
                match parse_decimal(&scientific).map(Exact::from) {
                    None => prop_assert!(expected.is_none_or(|value| value.to_decimal().is_none() || decimals - exponent > 28), "{}", scientific),
                    found => prop_assert_eq!(found, expected),
                }
            }
        }
    }
}
