//! Exact numbers as they are typed and printed.

use std::fmt;
use std::str::FromStr;

use dashu_base::{Sign, Signed, UnsignedAbs};
use dashu_int::{IBig, UBig};

use super::{Exact, HalfWay};
use crate::error::{Error, ErrorKind};

/// The longest text, in characters, that is read as one number.
const LONGEST_NUMBER_TEXT: usize = 4096;
/// Decimal places past which a terminating fraction is printed as `p/q` all the same: the most that are read.
const LONGEST_DECIMAL: usize = 28;
/// What the digits of a decimal without its point stay below.
const LONGEST_MANTISSA: u128 = 1 << 96;

impl Exact {
    /// Text with exactly `places` decimals, half-way values to even; `-0.00` is written `0.00`.
    #[must_use]
    pub fn rounded_text(&self, places: u32) -> String {
        self.text_in(places, |value| value.round(HalfWay::ToEven))
    }

    /// Text with exactly `places` decimals, never above the value: for ceilings, so that what is read is on the allowed
    /// side.
    #[must_use]
    pub fn floor_text(&self, places: u32) -> String {
        self.text_in(places, Exact::floor)
    }

    /// Text with exactly `places` decimals, never below the value.
    ///
    /// ```
    /// use tenside_lp::Exact;
    /// let third = Exact::ratio(1, 3);
    /// assert_eq!((third.floor_text(2), third.ceiling_text(2)), ("0.33".to_string(), "0.34".to_string()));
    /// assert_eq!(Exact::ratio(-1, 3).ceiling_text(2), "-0.33");
    /// ```
    #[must_use]
    pub fn ceiling_text(&self, places: u32) -> String {
        self.text_in(places, |value| -(-value).floor())
    }

    fn text_in(&self, places: u32, to_whole: impl Fn(&Exact) -> Exact) -> String {
        let whole = to_whole(&(self * ten_to(places))).parts().0;
        let (sign, digits) = (whole.sign(), whole.unsigned_abs());
        let text = format!("{digits:0>width$}", digits = digits.to_string(), width = places as usize + 1);
        let (whole, fraction) = text.split_at(text.len() - places as usize);
        let minus = if sign == Sign::Negative && !digits.is_zero() { "-" } else { "" };
        if places == 0 { format!("{minus}{whole}") } else { format!("{minus}{whole}.{fraction}") }
    }

    /// The decimal text where the decimal ends and is not longer than what is read: 28 places, 28 digits.
    #[must_use]
    pub fn decimal_text(&self) -> Option<String> {
        let mut rest = self.denominator();
        let mut factors = |prime: i64| {
            let mut count = 0;
            while count <= LONGEST_DECIMAL {
                let fewer = &rest * Exact::ratio(1, prime);
                if !fewer.is_whole() {
                    break;
                }
                (rest, count) = (fewer, count + 1);
            }
            count
        };
        let places = factors(2).max(factors(5));
        (rest == Exact::ONE && places <= LONGEST_DECIMAL)
            .then(|| self.rounded_text(places as u32))
            .filter(|text| Typed::read(text).is_some())
    }
}

fn ten_to(places: u32) -> Exact {
    10i64
        .checked_pow(places)
        .map_or_else(|| Exact::from_parts(IBig::from(10).pow(places as usize), UBig::ONE), Exact::whole)
}

/// A decimal as typed: `mantissa / 10^scale`.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Typed {
    pub(super) is_negative: bool,
    /// Below 2^96.
    pub(super) mantissa: u128,
    /// At most [`LONGEST_DECIMAL`].
    pub(super) scale: u32,
}

impl Typed {
    /// Reads `12.5`, `-3` and `1.5e-3`; `None` if it is no number, or longer than is held.
    pub(super) fn read(text: &str) -> Option<Self> {
        match text.split_once(['e', 'E']) {
            None => Typed::without_exponent(text),
            Some((number, exponent)) => {
                let is_plain = exponent.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'-' | b'+'));
                let exponent: i32 = if is_plain { exponent.parse().ok()? } else { return None };
                Typed::without_exponent(number)?.times_ten_to(exponent)
            }
        }
    }

    fn without_exponent(text: &str) -> Option<Self> {
        let digits = text.strip_prefix(['-', '+']).unwrap_or(text);
        let (whole, places) = digits.split_once('.').unwrap_or((digits, ""));
        let mut mantissa = 0u128;
        for byte in whole.bytes().chain(places.bytes()) {
            let digit = byte.is_ascii_digit().then(|| u128::from(byte - b'0'))?;
            mantissa = Some(mantissa * 10 + digit).filter(|mantissa| *mantissa < LONGEST_MANTISSA)?;
        }
        let is_number = whole.len() + places.len() > 0 && places.len() <= LONGEST_DECIMAL;
        is_number.then(|| Typed { is_negative: text.starts_with('-'), mantissa, scale: places.len() as u32 })
    }

    fn times_ten_to(mut self, exponent: i32) -> Option<Self> {
        if self.mantissa == 0 {
            return Some(Typed { is_negative: false, mantissa: 0, scale: 0 });
        }
        while self.scale > 0 && self.mantissa.is_multiple_of(10) {
            (self.mantissa, self.scale) = (self.mantissa / 10, self.scale - 1);
        }
        let scale = i64::from(self.scale) - i64::from(exponent);
        let factor = 10u128.checked_pow(u32::try_from(-scale.min(0)).ok()?)?;
        let mantissa = self.mantissa.checked_mul(factor).filter(|mantissa| *mantissa < LONGEST_MANTISSA)?;
        let scale = u32::try_from(scale.max(0)).ok().filter(|scale| *scale <= LONGEST_DECIMAL as u32)?;
        Some(Typed { mantissa, scale, ..self })
    }
}

impl From<Typed> for Exact {
    fn from(typed: Typed) -> Self {
        // Below 2^96, and 10^28 at most.
        let mantissa = typed.mantissa as i128;
        Exact::of_parts(if typed.is_negative { -mantissa } else { mantissa }, 10i128.pow(typed.scale))
    }
}

impl FromStr for Exact {
    type Err = Error;

    /// Reads `12.5`, `-3`, `1.5e-3` and `7/3`. Decimals past the range of 28 digits are refused, never rounded.
    fn from_str(text: &str) -> Result<Self, Error> {
        let trimmed = text.trim();
        let refuse = |what: &'static str| -> Error {
            let shown: String = trimmed.chars().take(40).collect();
            let error = Error::new(ErrorKind::NotANumber, what).value(format!("{shown:?}"));
            error.remedy("write a decimal such as 12.5 or a fraction such as 7/3")
        };
        if trimmed.len() > LONGEST_NUMBER_TEXT {
            return Err(refuse("a number is longer than 4096 characters"));
        }
        if let Some((numerator, denominator)) = trimmed.split_once('/') {
            let whole = |part: &str| {
                let digits = part.strip_prefix('-').unwrap_or(part);
                let plain = !digits.is_empty() && digits.bytes().all(|byte| byte.is_ascii_digit());
                if plain { IBig::from_str(part).ok() } else { None }
            };
            let (Some(numerator), Some(denominator)) = (whole(numerator.trim()), whole(denominator.trim())) else {
                return Err(refuse("not a fraction of two whole numbers"));
            };
            if !denominator.is_positive() || denominator.is_zero() {
                return Err(refuse("a fraction's denominator is not above 0"));
            }
            return Ok(Exact::from_parts(numerator, denominator.unsigned_abs()));
        }
        Typed::read(trimmed).map(Exact::from).ok_or_else(|| refuse("not a number of up to 28 digits"))
    }
}

impl fmt::Display for Exact {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if let Some((whole, 1)) = self.small() {
            return formatter.pad(&whole.to_string());
        }
        match self.decimal_text() {
            Some(text) => formatter.pad(&text),
            None => formatter.pad(&format!("{}/{}", self.parts().0, self.parts().1)),
        }
    }
}

impl fmt::Debug for Exact {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}", self.big())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(text: &str) -> Exact {
        text.parse().unwrap()
    }

    #[test]
    fn reads_what_people_type() {
        assert_eq!(exact(" 12.50 "), Exact::ratio(25, 2));
        assert_eq!(exact("1.5e-3"), Exact::ratio(15, 10_000));
        assert_eq!(exact("2E2"), Exact::from(200));
        assert_eq!(exact("-7/21"), Exact::ratio(-1, 3));
        for bad in [
            "",
            "nan",
            "inf",
            "1e400",
            "1e-400",
            "1,5",
            "0x10",
            "1/0",
            "1/-2",
            "--1",
            "1_000",
            "1/2/3",
            "12345678901234567890123456789012345",
        ] {
            assert!(bad.parse::<Exact>().is_err(), "{bad} was read");
        }
        // What the readers underneath would take for digits.
        for bad in ["1_0/3", "3/1_0", "+1/2", "/2", "1_0e2", "1_0.5E-1", "1e1_0", "1e"] {
            assert!(bad.parse::<Exact>().is_err(), "{bad} was read");
        }
    }

    #[test]
    fn the_longest_number_has_4096_characters() {
        let fraction = |length: usize| format!("1/{}", "7".repeat(length - 2)).parse::<Exact>();
        assert_eq!(fraction(4096).unwrap().to_string().len(), 4096);
        for length in [4097, 4098, 9000] {
            assert!(fraction(length).unwrap_err().to_string().contains("longer than 4096 characters"), "{length}");
        }
    }

    #[test]
    fn a_number_in_a_failing_test_is_shown_as_a_fraction() {
        assert_eq!(format!("{:?} {:?}", Exact::ratio(-1, 4), Exact::from(7)), "-1/4 7");
    }

    #[test]
    fn prints_and_reads_back() {
        for text in ["0", "-0.25", "1/3", "-22/7", "100"] {
            assert_eq!(exact(text).to_string(), text);
        }
        assert_eq!(exact("-0.001").rounded_text(2), "0.00");
        assert_eq!(exact("1234.5").rounded_text(0), "1234");
    }
}
