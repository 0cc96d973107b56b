//! Tables: what their columns say, and what a row is by them.

use super::cells::cells;
use super::split::{Split, without_emphasis, without_lot};
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
    const ALL: [Mark; 5] = [
        Mark::Pipe,
        Mark::Delimited(Delimiter::Tab),
        Mark::Delimited(Delimiter::Semicolon),
        Mark::Delimited(Delimiter::Comma),
        Mark::Blanks,
    ];

    fn cells(self, line: &str) -> Vec<String> {
        match self {
            Mark::Pipe => line
                .trim()
                .trim_start_matches('|')
                .trim_end_matches('|')
                .split('|')
                .map(|cell| cell.trim().to_string())
                .collect(),
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
            Some(without_emphasis(&cells[at]))
                .filter(|cell| !cell.is_empty() && !matches!(cell.as_str(), "-" | "\u{2013}" | "\u{2014}"))
        };
        let in_unit = |wanted: Column, unit: &str| {
            cell(wanted).map(|cell| if is_bare(&cell) { format!("{cell} {unit}") } else { cell })
        };
        let (percent, gram) = (in_unit(Column::Percent, "%"), in_unit(Column::Gram, "g"));
        let amount = match (gram, percent) {
            (Some(gram), Some(percent)) => Some(format!("{gram} ({percent})")),
            (one, other) => one.or(other).or_else(|| cell(Column::Amount)),
        };
        let name = |wanted: Column| cell(wanted).and_then(|cell| check_name(&cell).ok());
        let (item, optional) = without_optional(&cell(Column::Name)?);
        let (item, lot) = without_lot(&item);
        // A remark may name the lot.
        let others = self.columns.iter().zip(&cells).filter(|(column, _)| **column == Column::Other);
        let noted = || others.clone().find_map(|(_, cell)| without_lot(cell).1);
        Some(Split {
            item,
            amount,
            phase: name(Column::Phase),
            lot: name(Column::Lot).or(lot).or_else(noted),
            optional,
        })
    }
}

fn is_bare(cell: &str) -> bool {
    cell.starts_with(|c: char| c.is_numeric())
        && cell.chars().all(|c| c.is_numeric() || matches!(c, '.' | ',' | '/' | ' ' | '-' | '\u{2013}'))
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
