//! What was wrong with what was asked.

use std::fmt;

/// What kind of error it is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum ErrorKind {
    /// Text or a float that is no finite number.
    NotANumber,
    /// A list of another length than the program has.
    OutOfRange,
    /// A certificate that does not hold.
    Contradiction,
}

/// What is wrong, where, with which value, what would be allowed, and the way out.
///
/// ```
/// use tenside_lp::{ErrorKind, Exact};
/// let error = "twelve".parse::<Exact>().unwrap_err();
/// assert_eq!(error.kind, ErrorKind::NotANumber);
/// assert!(error.to_string().starts_with("not a number of up to 28 digits (found \"twelve\")"));
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Error {
    /// Its kind.
    pub kind: ErrorKind,
    /// Where it is; may be empty.
    pub place: String,
    /// What is wrong.
    pub message: &'static str,
    /// The value found.
    pub value: Option<String>,
    /// What would be allowed.
    pub allowed: Option<String>,
    /// The way out.
    pub remedy: Option<&'static str>,
}

impl Error {
    pub(crate) fn new(kind: ErrorKind, message: &'static str) -> Self {
        Error { kind, place: String::new(), message, value: None, allowed: None, remedy: None }
    }

    pub(crate) fn at(self, place: impl Into<String>) -> Self {
        Error { place: place.into(), ..self }
    }

    pub(crate) fn value(self, value: impl fmt::Display) -> Self {
        Error { value: Some(value.to_string()), ..self }
    }

    pub(crate) fn allowed(self, allowed: impl Into<String>) -> Self {
        Error { allowed: Some(allowed.into()), ..self }
    }

    pub(crate) fn remedy(self, remedy: &'static str) -> Self {
        Error { remedy: Some(remedy), ..self }
    }
}

impl fmt::Display for Error {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        if !self.place.is_empty() {
            write!(formatter, "{}: ", self.place)?;
        }
        formatter.write_str(self.message)?;
        if let Some(value) = &self.value {
            write!(formatter, " (found {value})")?;
        }
        if let Some(allowed) = &self.allowed {
            write!(formatter, "; allowed: {allowed}")?;
        }
        match self.remedy {
            Some(remedy) => write!(formatter, "; {remedy}"),
            None => Ok(()),
        }
    }
}

impl std::error::Error for Error {}
