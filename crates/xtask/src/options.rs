//! The words after the command: `--name value` pairs and at most one plain word.

use crate::failure::{Failure, Outcome};

pub(crate) struct Options {
    words: Vec<String>,
}

impl Options {
    pub(crate) fn new(words: Vec<String>) -> Self {
        Options { words }
    }

    /// Refuses options that the command does not know, options without a value and surplus words.
    pub(crate) fn check(&self, allowed: &[&str], words: usize) -> Outcome {
        for (at, word) in self.words.iter().enumerate().filter(|(_, word)| word.starts_with("--")) {
            if !allowed.contains(&word.as_str()) {
                return Err(Failure::new(format!("there is no option {word} here; allowed: {}", list(allowed))));
            }
            if self.words.get(at + 1).is_none_or(|value| value.starts_with("--")) {
                return Err(Failure::new(format!("the option {word} needs a value after it")));
            }
        }
        match self.plain().nth(words) {
            Some(surplus) => Err(Failure::new(format!(
                "there is no use for {surplus:?} here; allowed: {words} plain words and {}",
                list(allowed)
            ))),
            None => Ok(()),
        }
    }

    /// The plain word.
    pub(crate) fn word(&self) -> Option<&str> {
        self.plain().next()
    }

    /// The value of an option.
    pub(crate) fn text(&self, name: &str) -> Option<&str> {
        let at = self.words.iter().position(|word| word == name)?;
        self.words.get(at + 1).map(String::as_str)
    }

    /// The whole number of an option, at least 1.
    pub(crate) fn number(&self, name: &str, default: u32) -> Outcome<u32> {
        let Some(text) = self.text(name) else { return Ok(default) };
        match text.parse() {
            Ok(number) if number > 0 => Ok(number),
            _ => Err(Failure::new(format!("the option {name} needs a whole number of at least 1 (found {text:?})"))),
        }
    }

    fn plain(&self) -> impl Iterator<Item = &str> {
        let is_value = |at: usize| at > 0 && self.words[at - 1].starts_with("--");
        self.words
            .iter()
            .enumerate()
            .filter(move |(at, word)| !word.starts_with("--") && !is_value(*at))
            .map(|(_, word)| word.as_str())
    }
}

fn list(allowed: &[&str]) -> String {
    if allowed.is_empty() { "no options".to_string() } else { allowed.join(", ") }
}

#[cfg(test)]
mod tests {
    use super::Options;

    fn options(text: &str) -> Options {
        Options::new(text.split_whitespace().map(String::from).collect())
    }

    #[test]
    fn words_and_values_are_told_apart() {
        let both = options("number --seconds 5");
        assert!(both.check(&["--seconds"], 1).is_ok());
        assert_eq!((both.word(), both.number("--seconds", 60).unwrap()), (Some("number"), 5));
        let neither = options("");
        assert_eq!((neither.word(), neither.number("--seconds", 60).unwrap()), (None, 60));
    }

    #[test]
    fn what_has_no_use_is_refused() {
        assert!(options("--second 5").check(&["--seconds"], 1).is_err());
        assert!(options("--seconds").check(&["--seconds"], 1).is_err());
        assert!(options("number mass").check(&["--seconds"], 1).is_err());
        for bad in ["--seconds 0", "--seconds -1", "--seconds many"] {
            assert!(options(bad).number("--seconds", 60).is_err(), "{bad}");
        }
    }
}
