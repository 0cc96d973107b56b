//! CAS registry numbers with their check digit.

use std::fmt;
use std::str::FromStr;

use crate::error::{Error, Fault, FaultKind};

/// A CAS registry number whose check digit is right.
///
/// The last digit is the sum of the other digits, each times its place counted from the right, modulo 10
/// (Chemical Abstracts Service, check digit verification; from memory).
///
/// ```
/// use tenside::substance::Cas;
/// assert_eq!("7732-18-5".parse::<Cas>()?.to_string(), "7732-18-5");
/// assert!("7732-18-6".parse::<Cas>().is_err());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cas(String);

impl Cas {
    /// The number as text.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for Cas {
    type Err = Error;

    fn from_str(text: &str) -> Result<Self, Error> {
        let trimmed = text.trim();
        let shown: String = trimmed.chars().take(40).collect();
        let refuse = |message: &str| Fault::new(FaultKind::OutOfRange, message).value(format!("{shown:?}"));
        let parts: Vec<&str> = trimmed.split('-').collect();
        let digits = |part: &str, lengths: std::ops::RangeInclusive<usize>| {
            lengths.contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit())
        };
        let well_formed = matches!(parts.as_slice(), [first, second, check] if digits(first, 2..=7) && digits(second, 2..=2) && digits(check, 1..=1));
        if !well_formed {
            return Err(refuse("not a CAS number")
                .allowed("2 to 7 digits, 2 digits, 1 check digit, joined by hyphens")
                .into());
        }
        let (body, check) = (format!("{}{}", parts[0], parts[1]), parts[2]);
        let sum: u32 = body.bytes().rev().zip(1u32..).map(|(byte, place)| u32::from(byte - b'0') * place).sum();
        let right = (sum % 10).to_string();
        if right != check {
            return Err(refuse("a CAS number's check digit is wrong")
                .allowed(format!("a last digit of {right}"))
                .remedy("look the number up again")
                .into());
        }
        Ok(Cas(trimmed.to_string()))
    }
}

impl fmt::Display for Cas {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.pad(&self.0)
    }
}
