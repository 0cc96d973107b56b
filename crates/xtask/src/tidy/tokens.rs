//! Rust text as words and marks, groups opened out, without comments and literals.

use proc_macro2::{TokenStream, TokenTree};

/// One token and its line, from 1.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Token {
    pub(super) kind: Kind,
    pub(super) line: usize,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A name or keyword.
    Word(String),
    /// Punctuation or a bracket, one character each; `'.'` stands for a literal.
    Mark(char),
}

impl Token {
    pub(super) fn word(&self) -> Option<&str> {
        if let Kind::Word(word) = &self.kind { Some(word) } else { None }
    }

    pub(super) fn is_mark(&self, wanted: char) -> bool {
        self.kind == Kind::Mark(wanted)
    }

    fn mark(&self) -> char {
        if let Kind::Mark(mark) = self.kind { mark } else { ' ' }
    }
}

/// The tokens of a file; none if it is not Rust, which the compiler says better.
pub(super) fn tokens(text: &str) -> Vec<Token> {
    let mut found = Vec::new();
    if let Ok(stream) = text.parse::<TokenStream>() {
        open(stream, &mut found);
    }
    found
}

/// The same tokens without the modules that are compiled for tests only.
pub(super) fn without_tests(tokens: &[Token]) -> Vec<Token> {
    let (mut kept, mut rest) = (Vec::new(), tokens);
    while let [first, after @ ..] = rest {
        rest = match end_of_test_module(rest) {
            Some(end) => &rest[end..],
            None => {
                kept.push(first.clone());
                after
            }
        };
    }
    kept
}

/// Where the module ends if one for tests starts here: `#[cfg(test)] mod tests { ... }`.
fn end_of_test_module(tokens: &[Token]) -> Option<usize> {
    let shape: String = tokens
        .iter()
        .take(10)
        .map(|token| token.word().map_or_else(|| token.mark().to_string(), |word| format!(" {word} ")))
        .collect();
    let head = shape.split_whitespace().collect::<Vec<_>>();
    if !matches!(head[..], ["#{", "cfg", "{", "test", "}}", "mod", _, "{"]) {
        return None;
    }
    let mut depth = 0;
    let closes = |token: &Token| {
        depth += i32::from(token.is_mark('{')) - i32::from(token.is_mark('}'));
        depth == 0
    };
    tokens[9..].iter().position(closes).map(|end| 9 + end + 1)
}

fn open(stream: TokenStream, found: &mut Vec<Token>) {
    for tree in stream {
        let line = tree.span().start().line;
        match tree {
            TokenTree::Ident(word) => found.push(Token { kind: Kind::Word(word.to_string()), line }),
            TokenTree::Punct(mark) => found.push(Token { kind: Kind::Mark(mark.as_char()), line }),
            TokenTree::Literal(_) => found.push(Token { kind: Kind::Mark('.'), line }),
            TokenTree::Group(group) => {
                found.push(Token { kind: Kind::Mark('{'), line });
                open(group.stream(), found);
                found.push(Token { kind: Kind::Mark('}'), line: group.span_close().start().line });
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_strings_and_numbers_hold_no_words() {
        let words = |text| tokens(text).iter().filter_map(|token| token.word().map(String::from)).collect::<Vec<_>>();
        assert_eq!(words("a // b\n/* c /* d */ e */ f"), ["a", "f"]);
        assert_eq!(words(r####"a "b \" c" r#"d " e"# b"f" br##"g"# h"## 1.5 i"####), ["a", "i"]);
    }

    #[test]
    fn test_modules_are_taken_out_whole() {
        let kept = without_tests(&tokens("fn a() {} #[cfg(test)] mod tests { fn b() { let c = \"}\"; } } fn d() {}"));
        assert_eq!(kept.iter().filter_map(Token::word).collect::<Vec<_>>(), ["fn", "a", "fn", "d"]);
    }

    #[test]
    fn lines_are_counted_through_everything() {
        let lines: Vec<usize> =
            tokens("/* one\n two */ \"three\nfour\" five(\n)").iter().map(|token| token.line).collect();
        assert_eq!(lines, [2, 3, 3, 4]);
    }
}
