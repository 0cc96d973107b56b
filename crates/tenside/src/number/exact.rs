//! Exact rational numbers: every solved value, proof and composition product is one.

use std::cmp::Ordering;
use std::fmt;
use std::ops::{Add, AddAssign, Div, Mul, MulAssign, Neg, Sub, SubAssign};
use std::str::FromStr;

use dashu_base::{Abs, Gcd, Inverse, Sign, Signed, UnsignedAbs};
use dashu_int::{IBig, UBig};
use dashu_ratio::RBig;
use rust_decimal::Decimal;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

use crate::error::{Error, Fault, FaultKind};

/// The longest text, in characters, that is read as one number.
const LONGEST_NUMBER_TEXT: usize = 4096;
/// Decimal places past which a terminating fraction is printed as `p/q` all the same: the most that are read.
const LONGEST_DECIMAL: usize = 28;

/// An exact rational number.
///
/// It prints as a decimal where that ends within 28 digits (`12.5`), else as a fraction (`1/3`), and reads both back.
///
/// ```
/// use tenside::number::Exact;
/// let third: Exact = "1/3".parse()?;
/// let sum = &third + &third + third.clone();
/// assert_eq!(sum, Exact::from(1));
/// assert_eq!("0.125".parse::<Exact>()?, Exact::ratio(1, 8));
/// assert_eq!(Exact::ratio(2, 3).rounded_text(2), "0.67");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Default)]
pub struct Exact(RBig);

/// Which way a value half-way between two steps goes.
///
/// Source: ISO 80000-1 Annex B, rules A and B (from memory).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum HalfWay {
    /// To the even multiple (rule A); what every table here uses.
    ToEven,
    /// To the multiple of greater magnitude (rule B).
    AwayFromZero,
}

impl Exact {
    /// Zero.
    pub const ZERO: Exact = Exact(RBig::ZERO);
    /// One.
    pub const ONE: Exact = Exact(RBig::ONE);

    /// `numerator / denominator`.
    ///
    /// # Panics
    /// Where `denominator` is 0; it is meant for constants. Use `/` after a check for computed values.
    #[must_use]
    pub fn ratio(numerator: i64, denominator: i64) -> Self {
        assert!(denominator != 0, "a ratio's denominator is not 0");
        Exact(RBig::from_parts_signed(IBig::from(numerator), IBig::from(denominator)))
    }

    /// One hundred, the whole in percent.
    #[must_use]
    pub fn hundred() -> Self {
        Exact::from(100)
    }

    /// The number a Python or JSON user means by a binary float: the shortest decimal that prints it.
    ///
    /// # Errors
    /// Not-a-number and infinities are refused.
    pub fn from_shortest(value: f64) -> Result<Self, Error> {
        if !value.is_finite() {
            return Err(Fault::new(FaultKind::NotANumber, "a finite number is needed").value(value).into());
        }
        format!("{value:e}").parse()
    }

    /// Just the value of a binary float, digit by digit; nothing for not-a-number and infinities.
    pub(crate) fn from_binary(value: f64) -> Option<Self> {
        RBig::try_from(value).ok().map(Exact)
    }

    /// True for 0.
    #[must_use]
    pub fn is_zero(&self) -> bool {
        self.0.is_zero()
    }

    /// True for values above 0.
    #[must_use]
    pub fn is_positive(&self) -> bool {
        self.0.sign() == Sign::Positive && !self.0.is_zero()
    }

    /// True for values below 0.
    #[must_use]
    pub fn is_negative(&self) -> bool {
        self.0.is_negative()
    }

    /// True if the value is a whole number.
    #[must_use]
    pub fn is_whole(&self) -> bool {
        self.0.is_int()
    }

    /// `numerator / denominator`, the denominator not being 0.
    pub(crate) fn over(numerator: i128, denominator: u64) -> Self {
        Exact(RBig::from_parts(IBig::from(numerator), UBig::from(denominator)))
    }

    /// The value where it is a whole number of up to 128 bits.
    pub(crate) fn to_whole(&self) -> Option<i128> {
        if self.is_whole() { i128::try_from(self.0.numerator()).ok() } else { None }
    }

    /// The magnitude.
    #[must_use]
    pub fn abs(&self) -> Self {
        Exact(self.0.clone().abs())
    }

    /// `1 / self`, or nothing for 0.
    #[must_use]
    pub fn reciprocal(&self) -> Option<Self> {
        (!self.is_zero()).then(|| Exact(self.0.clone().inv()))
    }

    /// `self / divisor`, or `None` if the divisor is 0.
    #[must_use]
    pub fn checked_div(&self, divisor: &Exact) -> Option<Self> {
        (!divisor.is_zero()).then(|| Exact(&self.0 / &divisor.0))
    }

    /// The nearest `f64`.
    #[must_use]
    pub fn to_f64(&self) -> f64 {
        // The quotient of two whole numbers that f64 holds is rounded once, to the nearest.
        let held = |whole: i64| (whole.unsigned_abs() <= 1 << 53).then_some(whole as f64);
        let numerator = i64::try_from(self.0.numerator()).ok().and_then(held);
        let denominator = i64::try_from(self.0.denominator()).ok().and_then(held);
        match (numerator, denominator) {
            (Some(numerator), Some(denominator)) => numerator / denominator,
            _ => self.0.to_f64().value(),
        }
    }

    /// The greatest whole number that is not above the value, where it fits `i64`.
    #[must_use]
    pub fn floor_i64(&self) -> Option<i64> {
        i64::try_from(self.0.floor()).ok()
    }

    /// The whole number nearest to the value, where it fits `i64`.
    #[must_use]
    pub fn round_i64(&self, half_way: HalfWay) -> Option<i64> {
        i64::try_from(round_whole(&self.0, half_way)).ok()
    }

    /// The nearest multiple of `step` (a positive number).
    #[must_use]
    pub fn rounded_to(&self, step: &Exact, half_way: HalfWay) -> Self {
        match self.checked_div(step) {
            Some(quotient) => Exact(RBig::from(round_whole(&quotient.0, half_way)) * &step.0),
            None => self.clone(),
        }
    }

    /// Text with exactly `places` decimals, half-way values to even; `-0.00` is written `0.00`.
    #[must_use]
    pub fn rounded_text(&self, places: u32) -> String {
        self.text_in(places, |value| round_whole(value, HalfWay::ToEven))
    }

    /// Text with exactly `places` decimals, never above the value: for ceilings, so that what is read is on the allowed side.
    #[must_use]
    pub fn floor_text(&self, places: u32) -> String {
        self.text_in(places, |value| value.floor())
    }

    fn text_in(&self, places: u32, to_whole: impl Fn(&RBig) -> IBig) -> String {
        let scale = UBig::from(10u8).pow(places as usize);
        let scaled = to_whole(&(&self.0 * RBig::from(scale.clone())));
        let (sign, digits) = (scaled.sign(), scaled.unsigned_abs());
        let text = format!("{digits:0>width$}", digits = digits.to_string(), width = places as usize + 1);
        let (whole, fraction) = text.split_at(text.len() - places as usize);
        let minus = if sign == Sign::Negative && !digits.is_zero() { "-" } else { "" };
        if places == 0 { format!("{minus}{whole}") } else { format!("{minus}{whole}.{fraction}") }
    }

    /// The decimal text where the decimal ends and is not longer than what is read: 28 places, 28 digits.
    #[must_use]
    pub fn decimal_text(&self) -> Option<String> {
        let mut rest = self.0.denominator().clone();
        let (two, five) = (UBig::from(2u8), UBig::from(5u8));
        let (mut twos, mut fives) = (0usize, 0usize);
        while (&rest % &two).is_zero() && twos <= LONGEST_DECIMAL {
            rest /= &two;
            twos += 1;
        }
        while (&rest % &five).is_zero() && fives <= LONGEST_DECIMAL {
            rest /= &five;
            fives += 1;
        }
        let places = twos.max(fives);
        (rest.is_one() && places <= LONGEST_DECIMAL).then(|| self.rounded_text(places as u32)).filter(|text| Decimal::from_str_exact(text).is_ok())
    }

    /// The value as a `rust_decimal` number where it is one.
    #[must_use]
    pub fn to_decimal(&self) -> Option<Decimal> {
        Decimal::from_str_exact(&self.decimal_text()?).ok()
    }

    /// The greatest number of which both are whole multiples; of 0 and a number, the number's magnitude.
    ///
    /// ```
    /// use tenside::number::Exact;
    /// assert_eq!(Exact::ratio(1, 2).common_measure(&Exact::ratio(3, 10)), Exact::ratio(1, 10));
    /// ```
    #[must_use]
    pub fn common_measure(&self, other: &Exact) -> Self {
        let ((left, below), (right, under)) = (self.parts(), other.parts());
        let (left, right) = (left.clone().unsigned_abs() * under, right.clone().unsigned_abs() * below);
        if left.is_zero() && right.is_zero() {
            return Exact::ZERO;
        }
        Exact(RBig::from_parts(IBig::from(left.gcd(right)), below * under))
    }

    /// The greatest multiple of `step` (a positive number) that is not above the value.
    #[must_use]
    pub fn floor_to(&self, step: &Exact) -> Self {
        self.checked_div(step).map_or_else(|| self.clone(), |quotient| Exact(RBig::from(quotient.0.floor()) * &step.0))
    }

    /// Numerator and positive denominator, in lowest terms.
    pub(crate) fn parts(&self) -> (&IBig, &UBig) {
        (self.0.numerator(), self.0.denominator())
    }

    /// The fraction of these parts; the denominator is not 0.
    pub(crate) fn from_parts(numerator: IBig, denominator: UBig) -> Self {
        Exact(RBig::from_parts(numerator, denominator))
    }

    /// Numerator and positive denominator in lowest terms as hexadecimal digits, which other languages read without a limit on length.
    ///
    /// ```
    /// use tenside::number::Exact;
    /// assert_eq!(Exact::ratio(-510, 512).parts_hexadecimal(), ("-ff".to_string(), "100".to_string()));
    /// ```
    #[must_use]
    pub fn parts_hexadecimal(&self) -> (String, String) {
        (format!("{:x}", self.0.numerator()), format!("{:x}", self.0.denominator()))
    }
}

fn round_whole(value: &RBig, half_way: HalfWay) -> IBig {
    let floor = value.floor();
    let twice_rest = (value - RBig::from(floor.clone())) * RBig::from(2u8);
    match (twice_rest.cmp(&RBig::ONE), half_way) {
        (Ordering::Less, _) => floor,
        (Ordering::Greater, _) => floor + IBig::ONE,
        (Ordering::Equal, HalfWay::ToEven) if (&floor % IBig::from(2)).is_zero() => floor,
        (Ordering::Equal, HalfWay::AwayFromZero) if floor.is_negative() => floor,
        (Ordering::Equal, _) => floor + IBig::ONE,
    }
}

impl From<i64> for Exact {
    fn from(value: i64) -> Self {
        Exact(RBig::from(value))
    }
}

impl From<u32> for Exact {
    fn from(value: u32) -> Self {
        Exact(RBig::from(value))
    }
}

impl From<i32> for Exact {
    fn from(value: i32) -> Self {
        Exact(RBig::from(value))
    }
}

impl From<Decimal> for Exact {
    fn from(value: Decimal) -> Self {
        let denominator = UBig::from(10u8).pow(value.scale() as usize);
        Exact(RBig::from_parts(IBig::from(value.mantissa()), denominator))
    }
}

impl FromStr for Exact {
    type Err = Error;

    /// Reads `12.5`, `-3`, `1.5e-3` and `7/3`. Decimals past the range of 28 digits are refused, never rounded.
    fn from_str(text: &str) -> Result<Self, Error> {
        let trimmed = text.trim();
        let refuse = |what: &str| -> Error {
            let shown: String = trimmed.chars().take(40).collect();
            Fault::new(FaultKind::NotANumber, what).value(format!("{shown:?}")).remedy("write a decimal such as 12.5 or a fraction such as 7/3").into()
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
            return Ok(Exact(RBig::from_parts(numerator, denominator.unsigned_abs())));
        }
        parse_decimal(trimmed).map(Exact::from).ok_or_else(|| refuse("not a number of up to 28 digits"))
    }
}

/// A decimal as typed, or nothing if it is no number or has more digits than `rust_decimal` holds exactly.
pub(crate) fn parse_decimal(text: &str) -> Option<Decimal> {
    let plain = |part: &str| !part.is_empty() && part.bytes().all(|byte| byte.is_ascii_digit() || matches!(byte, b'.' | b'-' | b'+'));
    match text.split_once(['e', 'E']) {
        None if plain(text) => Decimal::from_str_exact(text).ok(),
        Some((mantissa, exponent)) if plain(mantissa) && plain(exponent) => {
            let mantissa = Decimal::from_str_exact(mantissa).ok()?;
            let exponent: i32 = exponent.parse().ok()?;
            scale_by_ten(mantissa, exponent)
        }
        _ => None,
    }
}

fn scale_by_ten(mantissa: Decimal, exponent: i32) -> Option<Decimal> {
    if mantissa.is_zero() {
        return Some(Decimal::ZERO);
    }
    let mantissa = mantissa.normalize();
    let scale = i64::from(mantissa.scale()) - i64::from(exponent);
    if scale >= 0 {
        return Decimal::try_from_i128_with_scale(mantissa.mantissa(), u32::try_from(scale).ok()?).ok();
    }
    let factor = 10i128.checked_pow(u32::try_from(-scale).ok()?)?;
    Decimal::try_from_i128_with_scale(mantissa.mantissa().checked_mul(factor)?, 0).ok()
}

impl fmt::Display for Exact {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        // Only decimals that are read back are written as such.
        match self.to_decimal().and_then(|_| self.decimal_text()) {
            Some(text) => formatter.pad(&text),
            None => formatter.pad(&format!("{}/{}", self.0.numerator(), self.0.denominator())),
        }
    }
}

impl fmt::Debug for Exact {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}", self.0)
    }
}

impl Serialize for Exact {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

impl<'de> Deserialize<'de> for Exact {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = std::borrow::Cow::<'de, str>::deserialize(deserializer)?;
        text.parse().map_err(serde::de::Error::custom)
    }
}

macro_rules! operator {
    ($trait:ident, $method:ident, $sign:tt) => {
        impl $trait for Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                Exact(self.0 $sign other.0)
            }
        }
        impl $trait<&Exact> for Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                Exact(self.0 $sign &other.0)
            }
        }
        impl $trait<Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: Exact) -> Exact {
                Exact(&self.0 $sign other.0)
            }
        }
        impl $trait<&Exact> for &Exact {
            type Output = Exact;
            fn $method(self, other: &Exact) -> Exact {
                Exact(&self.0 $sign &other.0)
            }
        }
    };
}
operator!(Add, add, +);
operator!(Sub, sub, -);
operator!(Mul, mul, *);
// Division by zero panics as for integers; callers use `checked_div` wherever the divisor is not known to be non-zero.
operator!(Div, div, /);

impl Neg for Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        Exact(-self.0)
    }
}

impl Neg for &Exact {
    type Output = Exact;
    fn neg(self) -> Exact {
        Exact(-self.0.clone())
    }
}

impl AddAssign<&Exact> for Exact {
    fn add_assign(&mut self, other: &Exact) {
        self.0 += &other.0;
    }
}

impl AddAssign for Exact {
    fn add_assign(&mut self, other: Exact) {
        self.0 += other.0;
    }
}

impl SubAssign<&Exact> for Exact {
    fn sub_assign(&mut self, other: &Exact) {
        self.0 -= &other.0;
    }
}

impl MulAssign<&Exact> for Exact {
    fn mul_assign(&mut self, other: &Exact) {
        self.0 *= &other.0;
    }
}

impl std::iter::Sum for Exact {
    fn sum<I: Iterator<Item = Exact>>(values: I) -> Exact {
        values.fold(Exact::ZERO, |sum, value| sum + value)
    }
}

impl<'a> std::iter::Sum<&'a Exact> for Exact {
    fn sum<I: Iterator<Item = &'a Exact>>(values: I) -> Exact {
        values.fold(Exact::ZERO, |sum, value| sum + value)
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
        for bad in ["", "nan", "inf", "1e400", "1e-400", "1,5", "0x10", "1/0", "1/-2", "--1", "1_000", "1/2/3", "12345678901234567890123456789012345"] {
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

    /// Neither neighbour is nearer, on either side of 2^53, up to which f64 holds every whole number.
    #[test]
    fn the_nearest_float_is_found() {
        let mut state = 88_172_645_463_325_252u64;
        let mut next = || {
            state ^= state << 13;
            state ^= state >> 7;
            state ^= state << 17;
            i64::try_from(state >> (1 + state % 40)).unwrap().max(1)
        };
        let edge = 1i64 << 53;
        let drawn: Vec<(i64, i64)> = (0..300).map(|_| (next(), next())).collect();
        for (numerator, denominator) in drawn.into_iter().chain([(edge + 1, edge + 3), (edge + 3, edge + 1), (edge + 1, 1), (1, edge + 1), (edge, 3)]) {
            let value = Exact::ratio(numerator, denominator);
            let found = value.to_f64();
            let off = |float: f64| (Exact::from_binary(float).unwrap() - &value).abs();
            for neighbour in [found.to_bits() - 1, found.to_bits() + 1].map(f64::from_bits) {
                assert!(off(found) <= off(neighbour), "{numerator}/{denominator}");
            }
            assert_eq!((-value).to_f64(), -found);
        }
    }

    #[test]
    fn a_number_in_a_failing_test_is_shown_as_a_fraction() {
        assert_eq!(format!("{:?} {:?}", Exact::ratio(-1, 4), Exact::from(7)), "-1/4 7");
    }

    #[test]
    fn floats_are_their_shortest_decimal() {
        assert_eq!(Exact::from_shortest(0.1).unwrap(), Exact::ratio(1, 10));
        assert_eq!(Exact::from_shortest(58.0).unwrap(), Exact::from(58));
        assert!(Exact::from_shortest(f64::NAN).is_err());
        assert!(Exact::from_shortest(1e300).is_err());
    }

    #[test]
    fn prints_and_reads_back() {
        for text in ["0", "-0.25", "1/3", "-22/7", "100"] {
            assert_eq!(exact(text).to_string(), text);
        }
        assert_eq!(exact("-0.001").rounded_text(2), "0.00");
        assert_eq!(exact("1234.5").rounded_text(0), "1234");
    }

    /// ISO 80000-1 Annex B and NIST SP 811 B.7.1, both from memory.
    #[test]
    fn rounds_as_the_standards_say() {
        for (value, step, rule, expected) in [
            ("12.223", "0.1", HalfWay::ToEven, "12.2"),
            ("12.251", "0.1", HalfWay::ToEven, "12.3"),
            ("12.275", "0.1", HalfWay::ToEven, "12.3"),
            ("1222.3", "10", HalfWay::ToEven, "1220"),
            ("1225.1", "10", HalfWay::ToEven, "1230"),
            ("1227.5", "10", HalfWay::ToEven, "1230"),
            ("12.25", "0.1", HalfWay::ToEven, "12.2"),
            ("12.35", "0.1", HalfWay::ToEven, "12.4"),
            ("1225.0", "10", HalfWay::ToEven, "1220"),
            ("1235.0", "10", HalfWay::ToEven, "1240"),
            ("12.25", "0.1", HalfWay::AwayFromZero, "12.3"),
            ("-12.25", "0.1", HalfWay::AwayFromZero, "-12.3"),
            ("1225.0", "10", HalfWay::AwayFromZero, "1230"),
            ("6.9749515", "0.01", HalfWay::ToEven, "6.97"),
            ("6.9749515", "0.0001", HalfWay::ToEven, "6.975"),
            ("6.9749515", "0.000001", HalfWay::ToEven, "6.974952"),
            ("6.9749505", "0.000001", HalfWay::ToEven, "6.97495"),
        ] {
            assert_eq!(exact(value).rounded_to(&exact(step), rule), exact(expected), "{value} to {step}");
        }
        assert_eq!(exact("2.9499999").floor_text(4), "2.9499");
        assert_eq!(exact("-0.5").floor_text(0), "-1");
    }
}
