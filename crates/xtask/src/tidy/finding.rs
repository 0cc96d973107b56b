//! One place that breaks a rule.

use std::fmt;

#[derive(Debug, PartialEq, Eq)]
pub(super) struct Finding {
    file: String,
    line: usize,
    sentence: String,
}

impl Finding {
    pub(super) fn new(file: &str, line: usize, sentence: impl Into<String>) -> Self {
        Finding { file: file.to_string(), line, sentence: sentence.into() }
    }
}

impl fmt::Display for Finding {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(formatter, "{}:{}: {}", self.file, self.line, self.sentence)
    }
}
