//! Rust text as words and marks, without comments, and with literals told apart.

/// One token and its line, from 1.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token {
    pub(super) kind: Kind,
    pub(super) line: usize,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A name or keyword; lifetimes are left out.
    Word(String),
    /// `::`.
    Join,
    /// Any other punctuation, a character each.
    Mark(char),
    /// A string, character or byte literal.
    Text,
    /// A whole number.
    Whole,
    /// A number with a point, an exponent or a float's suffix.
    Float,
}

impl Token {
    pub(super) fn word(&self) -> Option<&str> {
        if let Kind::Word(word) = &self.kind { Some(word) } else { None }
    }

    pub(super) fn is_word(&self, wanted: &str) -> bool {
        self.word() == Some(wanted)
    }

    pub(super) fn is_mark(&self, wanted: char) -> bool {
        self.kind == Kind::Mark(wanted)
    }
}

/// The tokens of a file.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut reader = Reader { rest: text, line: 1, found: Vec::new() };
    while !reader.rest.is_empty() {
        reader.step();
    }
    reader.found
}

/// The same tokens without the modules that are compiled for tests only.
pub(super) fn without_tests(tokens: &[Token]) -> Vec<Token> {
    let mut kept = Vec::new();
    let mut at = 0;
    while at < tokens.len() {
        match end_of_test_module(&tokens[at..]) {
            Some(length) => at += length,
            None => {
                kept.push(tokens[at].clone());
                at += 1;
            }
        }
    }
    kept
}

fn end_of_test_module(tokens: &[Token]) -> Option<usize> {
    let attribute = ['#', '[', 'c', '(', 't', ')', ']'];
    let fits = |(token, mark): (&Token, &char)| match mark {
        'c' => token.is_word("cfg"),
        't' => token.is_word("test"),
        mark => token.is_mark(*mark),
    };
    let is_module = tokens.len() > 10 && tokens.iter().zip(&attribute).all(fits) && tokens[7].is_word("mod") && tokens[9].is_mark('{');
    if !is_module {
        return None;
    }
    let mut depth = 0;
    for (at, token) in tokens.iter().enumerate().skip(9) {
        match token.kind {
            Kind::Mark('{') => depth += 1,
            Kind::Mark('}') => depth -= 1,
            _ => {}
        }
        if depth == 0 {
            return Some(at + 1);
        }
    }
    Some(tokens.len())
}

struct Reader<'a> {
    rest: &'a str,
    line: usize,
    found: Vec<Token>,
}

impl<'a> Reader<'a> {
    fn step(&mut self) {
        let rest = self.rest;
        let Some(first) = rest.chars().next() else { return };
        if first.is_whitespace() {
            self.take(first.len_utf8());
        } else if rest.starts_with("//") {
            self.take(rest.find('\n').unwrap_or(rest.len()));
        } else if rest.starts_with("/*") {
            self.take(length_of_block_comment(rest));
        } else if let Some(length) = length_of_string(rest) {
            self.push(Kind::Text, length);
        } else if first == '\'' {
            self.quote();
        } else if first.is_ascii_digit() {
            self.number();
        } else if is_word(first) {
            let length = rest.find(|c| !is_word(c)).unwrap_or(rest.len());
            self.push(Kind::Word(rest[..length].to_string()), length);
        } else if rest.starts_with("::") {
            self.push(Kind::Join, 2);
        } else {
            self.push(Kind::Mark(first), first.len_utf8());
        }
    }

    /// A character literal, or a lifetime, which is left out.
    fn quote(&mut self) {
        let after = &self.rest[1..];
        let mut characters = after.char_indices();
        let first = characters.next();
        let second = characters.next();
        match (first, second) {
            (Some((_, '\\')), Some((at, escaped))) => {
                let from = at + escaped.len_utf8();
                let end = after[from..].find('\'').map_or(after.len(), |end| from + end + 1);
                self.push(Kind::Text, 1 + end);
            }
            (Some(_), Some((at, '\''))) => self.push(Kind::Text, 1 + at + 1),
            _ => {
                let length = after.find(|c| !is_word(c)).unwrap_or(after.len());
                self.take(1 + length);
            }
        }
    }

    fn number(&mut self) {
        let rest = self.rest;
        let digits = |from: usize| from + rest[from..].find(|c| !is_word(c)).unwrap_or(rest.len() - from);
        let mut end = digits(0);
        // After a point it is the index of a tuple's field: `pair.0.1` holds no float.
        let is_index = self.found.last().is_some_and(|token| token.is_mark('.'));
        let mut float = false;
        if !is_index && rest[end..].starts_with('.') && rest[end + 1..].starts_with(|c: char| c.is_ascii_digit()) {
            float = true;
            end = digits(end + 1);
        }
        let text = &rest[..end];
        let is_radix = ["0x", "0b", "0o"].iter().any(|prefix| text.starts_with(prefix));
        float |= !is_radix && (text.ends_with("f32") || text.ends_with("f64") || text.contains(['e', 'E']) && !text.contains("size"));
        self.push(if float { Kind::Float } else { Kind::Whole }, end);
    }

    fn push(&mut self, kind: Kind, length: usize) {
        self.found.push(Token { kind, line: self.line });
        self.take(length);
    }

    fn take(&mut self, length: usize) {
        let (taken, rest) = self.rest.split_at(length);
        self.line += taken.matches('\n').count();
        self.rest = rest;
    }
}

fn is_word(c: char) -> bool {
    c.is_alphanumeric() || c == '_'
}

fn length_of_block_comment(text: &str) -> usize {
    let (mut at, mut depth) = (0, 0);
    while at < text.len() {
        if text[at..].starts_with("/*") {
            (at, depth) = (at + 2, depth + 1);
        } else if text[at..].starts_with("*/") {
            (at, depth) = (at + 2, depth - 1);
        } else {
            at += text[at..].chars().next().map_or(1, char::len_utf8);
        }
        if depth == 0 {
            return at;
        }
    }
    text.len()
}

/// The length of a string literal, its prefix included; nothing where none starts.
fn length_of_string(text: &str) -> Option<usize> {
    let prefix = ["br", "cr", "b", "c", "r", ""].iter().find(|prefix| text.strip_prefix(**prefix).is_some_and(|rest| rest.starts_with(['"', '#'])))?;
    let rest = &text[prefix.len()..];
    let hashes = rest.len() - rest.trim_start_matches('#').len();
    let opened = rest[hashes..].strip_prefix('"')?;
    let start = prefix.len() + hashes + 1;
    if prefix.ends_with('r') {
        let close = format!("\"{}", "#".repeat(hashes));
        return Some(opened.find(&close).map_or(text.len(), |end| start + end + close.len()));
    }
    if hashes > 0 {
        return None;
    }
    let mut escaped = false;
    for (at, c) in opened.char_indices() {
        match c {
            '"' if !escaped => return Some(start + at + 1),
            '\\' => escaped = !escaped,
            _ => escaped = false,
        }
    }
    Some(text.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn words(text: &str) -> Vec<String> {
        tokens(text).iter().filter_map(|token| token.word().map(String::from)).collect()
    }

    #[test]
    fn comments_strings_and_lifetimes_hold_no_words() {
        assert_eq!(words("a // b\n/* c /* d */ e */ f"), ["a", "f"]);
        assert_eq!(words(r####"a "b \" c" r#"d " e"# b"f" br##"g"# h"## i"####), ["a", "i"]);
        assert_eq!(words("&'static mut T, 'x', '\\'', '\\u{41}', '\"' end"), ["mut", "T", "end"]);
        assert_eq!(words("r#type crate_name"), ["r", "type", "crate_name"]);
    }

    #[test]
    fn lines_are_counted_through_everything() {
        let found = tokens("/* one\n two */ \"three\nfour\" five");
        assert_eq!(found.iter().map(|token| token.line).collect::<Vec<_>>(), [2, 3]);
    }

    #[test]
    fn floats_are_told_from_whole_numbers_fields_and_ranges() {
        let kinds = |text: &str| tokens(text).into_iter().filter(|token| token.kind == Kind::Float).count();
        for float in ["1.5", "1e-3", "2f64", "0.5_f32", "1_000.0"] {
            assert_eq!(kinds(float), 1, "{float}");
        }
        for whole in ["15", "0..5", "pair.0.1", "0x1e", "0xf32", "3usize", "1.max(2)"] {
            assert_eq!(kinds(whole), 0, "{whole}");
        }
    }

    #[test]
    fn test_modules_are_taken_out_whole() {
        let kept = without_tests(&tokens("fn a() {} #[cfg(test)] mod tests { fn b() { let c = \"}\"; } } fn d() {}"));
        assert_eq!(kept.iter().filter_map(Token::word).collect::<Vec<_>>(), ["fn", "a", "fn", "d"]);
    }
}
