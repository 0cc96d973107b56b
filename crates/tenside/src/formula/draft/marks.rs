//! What sets a line off: bullets, numbers of a list, emphasis, rules.

/// The line without what marks it as one of a list, and without emphasis; and whether it was set off as a heading.
pub(super) fn without_marks(line: &str) -> (&str, bool) {
    let hashes = line.trim_start_matches('#');
    if hashes.len() < line.len() && hashes.starts_with(' ') {
        return (hashes.trim().trim_end_matches('#').trim_end(), true);
    }
    for (mark, end) in [("**", "**"), ("__", "__"), ("===", "==="), ("==", "=="), ("--- ", " ---"), ("<h2>", "</h2>")] {
        let inside = line
            .strip_prefix(mark)
            .and_then(|rest| rest.trim_end_matches(':').strip_suffix(end).or_else(|| rest.strip_suffix(end)));
        if let Some(inside) =
            inside.filter(|inside| !inside.contains(mark.trim()) && inside.chars().any(char::is_alphanumeric))
        {
            return (inside.trim_matches([':', '=', ' ']), true);
        }
    }
    (without_bullet(line).trim_start_matches('*').trim_start(), false)
}

/// Bullets, check boxes, and numbers or letters with a mark behind them.
fn without_bullet(line: &str) -> &str {
    let mut rest = line;
    for bullet in [
        "- ",
        "* ",
        "+ ",
        "\u{2022}",
        "\u{2023}",
        "\u{25AA}",
        "\u{25CF}",
        "\u{25E6}",
        "\u{00B7}",
        "\u{2013} ",
        "\u{2014} ",
        "\u{2610}",
        "\u{2611}",
        "> ",
        "-> ",
        "=> ",
        "\u{2192} ",
    ] {
        if let Some(behind) = rest.strip_prefix(bullet) {
            rest = behind.trim_start();
            break;
        }
    }
    for square in ["[ ]", "[x]", "[X]", "[]", "( )"] {
        if let Some(behind) = rest.strip_prefix(square) {
            rest = behind.trim_start();
            break;
        }
    }
    without_number(rest).unwrap_or(rest)
}

/// `1. kaolin`, `1) kaolin`, `(1) kaolin`, `a) kaolin`; not `1.5 g kaolin`.
fn without_number(line: &str) -> Option<&str> {
    let (open, inner) = match line.strip_prefix('(') {
        Some(inner) => (true, inner),
        None => (false, line),
    };
    let digits = inner.bytes().take_while(u8::is_ascii_digit).count();
    let letter = usize::from(digits == 0 && inner.starts_with(|c: char| c.is_ascii_lowercase()));
    let count = if digits > 3 { 0 } else { digits + letter };
    if count == 0 {
        return None;
    }
    let behind = &inner[count..];
    let rest = match behind.chars().next() {
        Some(')') => &behind[1..],
        Some('.') if !open && letter == 0 => &behind[1..],
        _ => return None,
    };
    let rest_trimmed = rest.trim_start();
    // "1.5" is a figure, "1. 5 g" a numbered line.
    (!rest_trimmed.is_empty() && (rest.len() > rest_trimmed.len() || !rest.starts_with(|c: char| c.is_ascii_digit())))
        .then_some(rest_trimmed)
}

/// Nothing but strokes and dots.
pub(super) fn is_rule(line: &str) -> bool {
    line.chars().all(|c| {
        c.is_whitespace() || matches!(c, '-' | '=' | '_' | '*' | '|' | ':' | '+' | '~' | '.' | '#' | '\u{2010}'..='\u{2015}' | '\u{2500}'..='\u{257F}')
    })
}

/// The rule under a heading.
pub(super) fn is_underline(line: &str) -> bool {
    let line = line.trim();
    line.len() >= 3 && (line.bytes().all(|byte| byte == b'=') || line.bytes().all(|byte| byte == b'-'))
}
