//! Lines of tables: what parts their cells, and what their columns say.

use super::split::{Split, is_amount, without_emphasis, without_lot};
use super::words::{List, without_optional, words};
use crate::document::{Delimiter, Splitter, check_name};

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Column {
    Name,
    Percent,
    Gram,
    Amount,
    Phase,
    Lot,
    /// A number, or what no formula needs.
    Other,
}

/// The columns of a table.
#[derive(Clone, Debug)]
pub(super) struct Columns {
    delimiter: Mark,
    columns: Vec<Column>,
}

/// What parts the cells of a table.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Mark {
    Pipe,
    Delimited(Delimiter),
    Blanks,
}

impl Mark {
    const ALL: [Mark; 5] =
        [Mark::Pipe, Mark::Delimited(Delimiter::Tab), Mark::Delimited(Delimiter::Semicolon), Mark::Delimited(Delimiter::Comma), Mark::Blanks];

    fn cells(self, line: &str) -> Vec<String> {
        match self {
            Mark::Pipe => line.trim().trim_start_matches('|').trim_end_matches('|').split('|').map(|cell| cell.trim().to_string()).collect(),
            Mark::Delimited(delimiter) => match Splitter::new(line, delimiter).row() {
                Some(Ok(cells)) => cells.into_iter().map(|cell| cell.text.into_owned()).collect(),
                _ => Vec::new(),
            },
            Mark::Blanks => cells(line).into_iter().map(str::to_string).collect(),
        }
    }
}

impl Columns {
    /// The columns that a line names, where it names that of the raw material and one of an amount.
    pub(super) fn of(line: &str) -> Option<Columns> {
        Mark::ALL.into_iter().find_map(|delimiter| {
            let cells = delimiter.cells(line);
            if cells.len() < 2 {
                return None;
            }
            let mut columns: Vec<Column> = Vec::with_capacity(cells.len());
            for cell in &cells {
                let column = column(&without_emphasis(cell).to_lowercase());
                // Of two columns of one kind the first counts.
                columns.push(if columns.contains(&column) { Column::Other } else { column });
            }
            let amounts = [Column::Percent, Column::Gram, Column::Amount];
            let complete = columns.contains(&Column::Name) && columns.iter().any(|column| amounts.contains(column));
            complete.then_some(Columns { delimiter, columns })
        })
    }

    /// What a line of the table says; nothing for a line with other cells.
    pub(super) fn read(&self, line: &str) -> Option<Split> {
        let cells = self.delimiter.cells(line);
        if cells.len() != self.columns.len() {
            return None;
        }
        let cell = |wanted: Column| {
            let at = self.columns.iter().position(|column| *column == wanted)?;
            Some(without_emphasis(&cells[at])).filter(|cell| !cell.is_empty() && !matches!(cell.as_str(), "-" | "\u{2013}" | "\u{2014}"))
        };
        let in_unit = |wanted: Column, unit: &str| cell(wanted).map(|cell| if is_bare(&cell) { format!("{cell} {unit}") } else { cell });
        let (percent, gram) = (in_unit(Column::Percent, "%"), in_unit(Column::Gram, "g"));
        let amount = match (gram, percent) {
            (Some(gram), Some(percent)) => Some(format!("{gram} ({percent})")),
            (one, other) => one.or(other).or_else(|| cell(Column::Amount)),
        };
        let name = |wanted: Column| cell(wanted).and_then(|cell| check_name(&cell).ok());
        let (item, optional) = without_optional(&cell(Column::Name)?);
        let (item, lot) = without_lot(&item);
        Some(Split { item, amount, phase: name(Column::Phase), lot: name(Column::Lot).or(lot), optional })
    }
}

fn is_bare(cell: &str) -> bool {
    cell.starts_with(|c: char| c.is_numeric()) && cell.chars().all(|c| c.is_numeric() || matches!(c, '.' | ',' | '/' | ' ' | '-' | '\u{2013}'))
}

fn column(heading: &str) -> Column {
    let words = words();
    let lists: [(&List, Column); 7] = [
        (&words.column_name, Column::Name),
        (&words.column_percent, Column::Percent),
        (&words.column_gram, Column::Gram),
        (&words.column_amount, Column::Amount),
        (&words.column_phase, Column::Phase),
        (&words.column_lot, Column::Lot),
        (&words.column_number, Column::Other),
    ];
    lists.into_iter().find(|(list, _)| list.has(heading)).map_or(Column::Other, |(_, column)| column)
}

/// The parts of a line: between pipes, tabs or semicolons, where there are any; else between colons, leaders and runs of blanks, or at a
/// comma that stands between a name and a figure.
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
        let ends_in_figure = name.ends_with(|c: char| c.is_ascii_digit()) && rest.starts_with(|c: char| c.is_ascii_digit());
        !ends_in_figure && is_amount(without_quotes(rest)) && !name.trim().is_empty()
    })
}

/// The number that a cell is, with or without a mark behind it.
pub(super) fn number_of(cell: &str) -> Option<usize> {
    cell.trim_end_matches(['.', ')']).parse().ok()
}
