//! How deep a text nests, found before a parser walks down into it: the parsers' recursion stays shallow.

use super::Notation;

/// Deepest nesting of a document; ours need eight.
pub(super) const DEEPEST: usize = 32;

pub(super) fn too_deep_message() -> String {
    format!("nested deeper than {DEEPEST} levels")
}

/// The first bracket past the deepest level, outside strings and comments.
pub(super) fn too_deep(text: &str, notation: Notation, deepest: usize) -> Option<usize> {
    let bytes = text.as_bytes();
    let (mut depth, mut at) = (0usize, 0);
    while let Some(&byte) = bytes.get(at) {
        match (byte, notation) {
            (b'"', _) | (b'\'', Notation::Toml) => {
                at = after_string(bytes, at, notation);
                continue;
            }
            (b'#', Notation::Toml) => {
                at += bytes[at..].iter().take_while(|byte| **byte != b'\n').count();
                continue;
            }
            (b'[' | b'{', _) => {
                depth += 1;
                if depth > deepest {
                    return Some(at);
                }
            }
            (b']' | b'}', _) => depth = depth.saturating_sub(1),
            _ => {}
        }
        at += 1;
    }
    None
}

/// The place after the string that opens at `start`. A TOML string of one quote ends with its line at the latest, so
/// that text which is not well-formed hides nothing on the next line.
fn after_string(bytes: &[u8], start: usize, notation: Notation) -> usize {
    let quote = bytes[start];
    let of_lines = notation == Notation::Toml && bytes[start..].starts_with(&[quote; 3]);
    let ends_with_line = notation == Notation::Toml && !of_lines;
    let mut at = start + if of_lines { 3 } else { 1 };
    while let Some(&byte) = bytes.get(at) {
        let next_ends_line = bytes.get(at + 1) == Some(&b'\n');
        match byte {
            b'\\' if quote == b'"' && !(ends_with_line && next_ends_line) => at += 2,
            b'\n' if ends_with_line => return at,
            _ if byte == quote && !of_lines => return at + 1,
            // Up to two quotes before the closing three belong to the string.
            _ if byte == quote && bytes[at..].starts_with(&[quote; 3]) => {
                return at + bytes[at..].iter().take(5).take_while(|byte| **byte == quote).count();
            }
            _ => at += 1,
        }
    }
    bytes.len()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn brackets_count_outside_strings_and_comments_only() {
        let deep = |text: &str, notation| too_deep(text, notation, 2);
        for text in ["[[1]]", "\"[[[\"", "[\"a\\\"[[[\", 1]", "{\"a\": \"]]]\", \"b\": [1]}", "[\"a\n[[[\"]"] {
            assert_eq!(deep(text, Notation::Json), None, "{text}");
        }
        for (text, at) in [("[[[", 2), ("[\"\\\\\", [[", 8), ("[\"a\nb\", [[", 9), ("[\"'\", [['", 7)] {
            assert_eq!(deep(text, Notation::Json), Some(at), "{text}");
        }
        for text in
            ["# [[[", "a = '[[['", "a = \"\"\"\n[[[ \"\" [[[\"\"\"\"\"", "a = '''\n[[[\n'''", "[[a]]\n[[a]]\n[[a]]"]
        {
            assert_eq!(deep(text, Notation::Toml), None, "{text}");
        }
        for (text, at) in [
            ("a = [\"\"\"x\"y\"\"\", [[", 17),
            ("a = \"[[[\nb = [[[", 15),
            ("a = \"\\\n[[[", 9),
            ("a = ['''''', [[", 14),
            ("a = ['\\', [[", 11),
        ] {
            assert_eq!(deep(text, Notation::Toml), Some(at), "{text}");
        }
    }
}
