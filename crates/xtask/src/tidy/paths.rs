//! The paths that Rust text names: `use` trees opened out, and paths in the middle of code.

use super::tokens::Token;

/// One path and where it starts.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct NamedPath {
    pub(super) segments: Vec<String>,
    pub(super) line: usize,
}

/// Every path, single names included.
pub(super) fn paths(tokens: &[Token]) -> Vec<NamedPath> {
    let mut found = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        // `use ::std::fs` starts at `std`.
        let starts = tokens[at].word().is_some_and(|word| word != "use");
        at = if starts { tree(tokens, at, &[], &mut found) } else { at + 1 };
    }
    found
}

/// Reads the tree that starts at a word, and says where it ends.
fn tree(tokens: &[Token], mut at: usize, prefix: &[String], found: &mut Vec<NamedPath>) -> usize {
    let line = tokens[at].line;
    let mut segments = prefix.to_vec();
    while let Some(word) = tokens.get(at).and_then(Token::word) {
        segments.push(word.to_string());
        at += 1;
        if !(0..2).all(|next| tokens.get(at + next).is_some_and(|token| token.is_mark(':'))) {
            break;
        }
        at += 2;
        if tokens.get(at).is_some_and(|token| token.is_mark('{')) {
            return group(tokens, at + 1, &segments, found);
        }
    }
    found.push(NamedPath { segments, line });
    at
}

/// Reads the members of a group up to its closing brace, and says where it ends.
fn group(tokens: &[Token], mut at: usize, prefix: &[String], found: &mut Vec<NamedPath>) -> usize {
    while let Some(token) = tokens.get(at) {
        at = match token.word() {
            _ if token.is_mark('}') => return at + 1,
            Some("as") => at + 2,
            Some(_) => tree(tokens, at, prefix, found),
            None => at + 1,
        };
    }
    at
}

#[cfg(test)]
mod tests {
    use super::super::tokens::tokens;
    use super::*;

    fn joined(text: &str) -> Vec<String> {
        paths(&tokens(text)).iter().map(|path| path.segments.join("::")).filter(|path| path.contains("::")).collect()
    }

    #[test]
    fn use_trees_are_opened_out() {
        assert_eq!(
            joined("use crate::{error::{Error, Fault}, number::Exact as Number};"),
            ["crate::error::Error", "crate::error::Fault", "crate::number::Exact"]
        );
        assert_eq!(joined("use ::std::fs; pub(in crate::solve) fn f()"), ["std::fs", "crate::solve"]);
    }

    #[test]
    fn paths_in_code_are_found_with_their_lines() {
        assert_eq!(
            joined("let a = crate::measure::Row::new(Vec::<std::fs::File>::new());"),
            ["crate::measure::Row::new", "std::fs::File"]
        );
        assert_eq!(paths(&tokens("\n\nstd::env::var()"))[0].line, 3);
    }
}
