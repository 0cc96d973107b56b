//! Why a command stopped: one plain sentence that says what is missing and the way out.

use std::fmt;

/// The sentence.
#[derive(Debug)]
pub(crate) struct Failure(String);

/// What a command or step ends with.
pub(crate) type Outcome<T = ()> = Result<T, Failure>;

impl Failure {
    pub(crate) fn new(sentence: impl Into<String>) -> Self {
        Failure(sentence.into())
    }
}

impl fmt::Display for Failure {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.0)
    }
}
