//! What parts the cells of a line.

use super::measured::is_amount;

/// The parts of a line: between pipes, tabs or semicolons, where there are any; else between colons, leaders and runs
/// of blanks, or at a comma that stands between a name and a figure.
pub(super) fn cells(line: &str) -> Vec<&str> {
    let line = line.trim();
    let mut parts: Vec<&str> = match ['|', '\t', ';'].into_iter().find(|mark| line.contains(*mark)) {
        Some(mark) => line.split(mark).collect(),
        None => between_marks(line),
    };
    if let [one] = parts.as_slice() {
        parts = at_comma(one).map_or_else(|| parts.clone(), |(name, rest)| vec![name, rest]);
    }
    parts.into_iter().map(without_quotes).filter(|cell| !cell.is_empty()).collect()
}

fn without_quotes(cell: &str) -> &str {
    let cell = cell.trim();
    cell.strip_prefix('"').and_then(|cell| cell.strip_suffix('"')).unwrap_or(cell).trim()
}

/// Between colons, runs of blanks and leaders: three dots or strokes and more.
fn between_marks(line: &str) -> Vec<&str> {
    let mut cells = Vec::new();
    let mut start = 0;
    let mut marks = 0;
    let mut blanks = 0;
    let mut from = 0;
    for (at, c) in line.char_indices().chain([(line.len(), '\0')]) {
        let leads = matches!(c, '.' | '_' | '\u{00B7}' | '\u{2026}');
        if leads || c.is_whitespace() {
            if marks + blanks == 0 {
                from = at;
            }
            // An ellipsis is three dots.
            marks += if c == '\u{2026}' { 3 } else { usize::from(leads) };
            blanks += usize::from(c.is_whitespace());
            continue;
        }
        if marks >= 3 || (marks == 0 && blanks > 1) {
            cells.push(&line[start..from]);
            start = at;
        }
        (marks, blanks) = (0, 0);
        if c == ':' {
            cells.push(&line[start..at]);
            start = at + 1;
        }
    }
    cells.push(&line[start..]);
    cells
}

/// A comma before a figure and not behind one: `SCI,60`, `"water, distilled", 40,5 %`.
fn at_comma(line: &str) -> Option<(&str, &str)> {
    line.match_indices(',').map(|(at, _)| (&line[..at], &line[at + 1..])).find(|(name, rest)| {
        let ends_in_figure =
            name.ends_with(|c: char| c.is_ascii_digit()) && rest.starts_with(|c: char| c.is_ascii_digit());
        !ends_in_figure && is_amount(without_quotes(rest)) && !name.trim().is_empty()
    })
}

/// The number that a cell is, with or without a mark behind it.
pub(super) fn number_of(cell: &str) -> Option<usize> {
    cell.trim_end_matches(['.', ')']).parse().ok()
}
