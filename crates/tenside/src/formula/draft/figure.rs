//! Numbers as people write them: decimal point or comma, thousands marks, fractions. What could be read two ways is
//! never guessed.

use crate::number::Exact;

/// Which mark stands before the decimals.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Mark {
    None,
    Point,
    Comma,
}

/// A number with the other reading it may have.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Figure {
    pub(super) value: Exact,
    /// The value where a single mark before three digits parts thousands instead of decimals.
    pub(super) with_thousands: Option<Exact>,
    pub(super) mark: Mark,
}

impl Figure {
    fn plain(value: Exact) -> Self {
        Figure { value, with_thousands: None, mark: Mark::None }
    }
}

/// Blanks, dashes, percent signs and letter case made alike.
pub(super) fn tidied(text: &str) -> String {
    let mut tidy = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            c if c.is_whitespace() => {
                if !tidy.ends_with(' ') {
                    tidy.push(' ');
                }
            }
            '\u{2010}'..='\u{2015}' | '\u{2212}' | '\u{FE63}' | '\u{FF0D}' => tidy.push('-'),
            '\u{FF05}' => tidy.push('%'),
            '\u{2044}' | '\u{2215}' => tidy.push('/'),
            c => tidy.extend(c.to_lowercase()),
        }
    }
    tidy.trim().to_string()
}

/// The number at the start of `text` and what follows it; nothing where there is none or it cannot be read.
pub(super) fn scan(text: &str) -> Option<(Figure, &str)> {
    let run_end = text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '.' | ','))).unwrap_or(text.len());
    let (run, rest) = text.split_at(run_end);
    // A mark at the end belongs to the sentence, not to the number: "12," is not twelve and something.
    if run.ends_with(['.', ',']) || run.starts_with(',') {
        return None;
    }
    if run.is_empty() {
        let (fraction, rest) = vulgar(text)?;
        return Some((Figure::plain(fraction), rest));
    }
    let whole = run.bytes().all(|byte| byte.is_ascii_digit());
    if whole {
        if let Some((denominator, rest)) = after_slash(rest) {
            return Some((Figure::plain(format!("{run}/{denominator}").parse().ok()?), rest));
        }
        let behind = rest.trim_start();
        if let Some((fraction, rest)) = vulgar(behind).or_else(|| slashed(behind)) {
            return Some((Figure::plain(run.parse::<Exact>().ok()? + fraction), rest));
        }
    }
    let (exponent, rest) = exponent(rest);
    if exponent.is_empty() {
        Some((decimal(run)?, rest))
    } else {
        Some((Figure::plain(format!("{run}{exponent}").parse().ok()?), rest))
    }
}

/// A decimal without exponent.
fn decimal(run: &str) -> Option<Figure> {
    let (points, commas) = (run.matches('.').count(), run.matches(',').count());
    let (mark, thousands) = match (points, commas) {
        (0, 0) => (Mark::None, None),
        (1, 0) => (Mark::Point, None),
        (0, 1) => (Mark::Comma, None),
        // The later of two marks parts the decimals, if the earlier one stands before each three digits.
        (_, 1) if run.rfind('.') < run.find(',') => (Mark::Comma, Some('.')),
        (1, _) if run.rfind(',') < run.find('.') => (Mark::Point, Some(',')),
        _ => return None,
    };
    let decimal_mark = if mark == Mark::Comma { ',' } else { '.' };
    let (before, after) = run.split_once(decimal_mark).unwrap_or((run, ""));
    let value = |whole: &str, decimals: &str| {
        if decimals.is_empty() { whole.parse().ok() } else { format!("{whole}.{decimals}").parse::<Exact>().ok() }
    };
    if let Some(thousands) = thousands {
        let mut groups = before.split(thousands);
        let first = groups.next().unwrap_or_default();
        if !(1..=3).contains(&first.len()) || groups.any(|group| group.len() != 3) {
            return None;
        }
        return Some(Figure { value: value(&before.replace(thousands, ""), after)?, with_thousands: None, mark });
    }
    let could_be_thousands =
        mark != Mark::None && after.len() == 3 && (1..=3).contains(&before.len()) && !before.starts_with('0');
    let with_thousands = if could_be_thousands { format!("{before}{after}").parse().ok() } else { None };
    Some(Figure { value: value(if before.is_empty() { "0" } else { before }, after)?, with_thousands, mark })
}

/// `e-3` at the start, where digits follow and no letter after them.
fn exponent(text: &str) -> (&str, &str) {
    let Some(behind) = text.strip_prefix('e') else { return ("", text) };
    let digits = behind.strip_prefix(['-', '+']).unwrap_or(behind);
    let count = digits.bytes().take_while(u8::is_ascii_digit).count();
    if count == 0 {
        return ("", text);
    }
    text.split_at(text.len() - digits.len() + count)
}

fn after_slash(text: &str) -> Option<(&str, &str)> {
    let behind = text.strip_prefix('/')?;
    let count = behind.bytes().take_while(u8::is_ascii_digit).count();
    (count > 0).then(|| behind.split_at(count))
}

/// `1/2` at the start.
fn slashed(text: &str) -> Option<(Exact, &str)> {
    let count = text.bytes().take_while(u8::is_ascii_digit).count();
    let (numerator, rest) = text.split_at(count);
    let (denominator, rest) = after_slash(rest)?;
    Some((format!("{numerator}/{denominator}").parse().ok()?, rest))
}

/// A fraction that is one character.
fn vulgar(text: &str) -> Option<(Exact, &str)> {
    let first = text.chars().next()?;
    let (numerator, denominator) = match first {
        '½' => (1, 2),
        '⅓' => (1, 3),
        '⅔' => (2, 3),
        '¼' => (1, 4),
        '¾' => (3, 4),
        '⅕' => (1, 5),
        '⅖' => (2, 5),
        '⅗' => (3, 5),
        '⅘' => (4, 5),
        '⅙' => (1, 6),
        '⅚' => (5, 6),
        '⅛' => (1, 8),
        '⅜' => (3, 8),
        '⅝' => (5, 8),
        '⅞' => (7, 8),
        _ => return None,
    };
    Some((Exact::ratio(numerator, denominator), &text[first.len_utf8()..]))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn exact(text: &str) -> Exact {
        text.parse().unwrap()
    }

    #[test]
    fn reads_points_commas_and_fractions() {
        for (text, value, rest) in [
            ("12 %", "12", " %"),
            ("12.5%", "12.5", "%"),
            ("1,5 %", "1.5", " %"),
            ("0,125 g", "0.125", " g"),
            ("1,250.5 g", "1250.5", " g"),
            ("1.250,5 g", "1250.5", " g"),
            (".5 g", "0.5", " g"),
            ("½ tsp", "1/2", " tsp"),
            ("1½ tsp", "1.5", " tsp"),
            ("1 ¾ tsp", "1.75", " tsp"),
            ("1/3 %", "1/3", " %"),
            ("2 1/4 oz", "2.25", " oz"),
            ("1e3 g", "1000", " g"),
            ("1.5e-1%", "0.15", "%"),
            ("5each", "5", "each"),
        ] {
            let (figure, left) = scan(text).unwrap_or_else(|| panic!("{text}"));
            assert_eq!((figure.value, left), (exact(value), rest), "{text}");
            assert_eq!(figure.with_thousands, None, "{text}");
        }
    }

    #[test]
    fn three_digits_behind_a_mark_have_two_readings() {
        for (text, mark) in [("1,500", Mark::Comma), ("1.500", Mark::Point)] {
            let (figure, _) = scan(text).unwrap();
            assert_eq!((figure.value, figure.with_thousands, figure.mark), (exact("1.5"), Some(exact("1500")), mark));
        }
        assert_eq!(scan("1234,567").unwrap().0.with_thousands, None);
    }

    #[test]
    fn refuses_what_is_no_number() {
        for text in [
            "",
            "g",
            "12,",
            "12. g",
            ",5",
            "1.2.3",
            "1,2,3",
            "12,34.5",
            "1/0",
            "1e400",
            "1e-400",
            "9999999999999999999999999999999",
            "٣",
        ] {
            assert!(scan(text).is_none(), "{text}");
        }
    }
}
