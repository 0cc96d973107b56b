//! The sheet as plain text of at most 80 columns.

use super::view::{NumberedNote, PhaseView, SheetView};
use crate::render::{Alignment, Table, display_width, wrapped};

const WIDTH: usize = 80;
/// A blank at which no line is broken.
const GLUE: &str = "\u{A0}";
const UNITS: [&str; 7] = ["g", "kg", "mg", "oz", "lb", "%", "°C"];

pub(super) fn write(view: &SheetView) -> String {
    let mut text = String::new();
    let rule = "=".repeat(WIDTH);
    push(&mut text, &rule);
    paragraph(&mut text, "", &format!("Batch sheet: {}", view.title));
    push(&mut text, &rule);
    if let Some(draft) = view.draft {
        paragraph(&mut text, "DRAFT  ", draft);
        push(&mut text, "");
    }
    let widest = view.facts.iter().map(|(label, _)| display_width(label)).max().unwrap_or(0);
    for (label, value) in &view.facts {
        paragraph(&mut text, &format!("{label:<widest$}  "), value);
    }
    heading(&mut text, "Before you start");
    for advice in &view.advice {
        paragraph(&mut text, "- ", &format!("{}: {}.", advice.heading, advice.text));
        paragraph(&mut text, "    for ", &advice.concerns);
    }
    for note in &view.heat {
        paragraph(&mut text, "- ", &format!("Too hot (note {}): {}", note.number, note.sentence));
    }
    push(&mut text, "");
    paragraph(&mut text, "", view.standing);
    for phase in &view.phases {
        heading(&mut text, &format!("{} ({})", phase.heading, phase.conditions));
        text += &table(phase, view.has_lots()).text(WIDTH);
    }
    push(&mut text, "");
    paragraph(&mut text, "ALL PHASES  ", &format!("{}, 100 %", view.total));
    if !view.notes.is_empty() {
        heading(&mut text, "Notes");
        for NumberedNote { number, sentence } in &view.notes {
            paragraph(&mut text, &format!("{number:>2}  "), sentence);
        }
    }
    text
}

fn table(phase: &PhaseView, with_lots: bool) -> Table {
    let (left, right) = (Alignment::Left, Alignment::Right);
    let mut columns =
        vec![("", left), (phase.unit, right), ("material", left), ("lot", left), ("%", right), ("error %", right)];
    if !with_lots {
        columns.remove(3);
    }
    let mut table = Table::new(&columns);
    for row in &phase.rows {
        let label = if row.remarks.is_empty() { row.label.clone() } else { format!("{} [{}]", row.label, row.remarks) };
        let mut cells =
            vec!["[ ]".to_string(), row.mass.clone(), label, row.lot.clone(), row.percent.clone(), row.error.clone()];
        if !with_lots {
            cells.remove(3);
        }
        table.push(cells);
    }
    let mut footer =
        vec![String::new(), phase.total.clone(), "phase total".to_string(), String::new(), phase.percent.clone()];
    if !with_lots {
        footer.remove(3);
    }
    table.footer.push(footer);
    table
}

fn push(text: &mut String, line: &str) {
    text.push_str(line.trim_end());
    text.push('\n');
}

/// A paragraph whose first line begins with `start`; the others are set in below it.
fn paragraph(text: &mut String, start: &str, words: &str) {
    let indent = display_width(start);
    for (index, line) in wrapped(&glued(words), WIDTH - indent).iter().enumerate() {
        let line = line.replace(GLUE, " ");
        push(text, &if index == 0 { format!("{start}{line}") } else { " ".repeat(indent) + &line });
    }
}

/// Numbers stay on one line with their units.
fn glued(words: &str) -> String {
    let mut text = String::with_capacity(words.len());
    for word in words.split(' ') {
        let unit = UNITS.contains(&word.trim_end_matches(['.', ',', ';', ':', ')']));
        let after_number = text.ends_with(|c: char| c.is_ascii_digit());
        text.push_str(if unit && after_number { GLUE } else { " " });
        text.push_str(word);
    }
    text.split_off(1)
}

fn heading(text: &mut String, words: &str) {
    push(text, "");
    for line in wrapped(words, WIDTH) {
        push(text, &line);
    }
    push(text, &"-".repeat(WIDTH));
}
