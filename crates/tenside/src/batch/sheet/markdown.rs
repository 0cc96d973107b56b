//! The sheet as Markdown.

use super::view::{NumberedNote, PhaseView, SheetView};
use crate::render::{Alignment, Table, markdown_paragraph, markdown_text};

pub(super) fn write(view: &SheetView) -> String {
    let mut text = format!("# Batch sheet: {}\n\n", markdown_text(&view.title));
    if let Some(draft) = view.draft {
        text += &format!("**DRAFT.** {}\n\n", markdown_text(draft));
    }
    for (label, value) in &view.facts {
        text += &format!("- **{label}:** {}\n", markdown_text(value));
    }
    text += "\n## Before you start\n\n";
    for advice in &view.advice {
        text += &format!(
            "- **{}:** {}. *For:* {}\n",
            advice.heading,
            markdown_text(&advice.text),
            markdown_text(&advice.concerns)
        );
    }
    for NumberedNote { number, sentence } in &view.heat {
        text += &format!("- **Too hot (note {number}):** {}\n", markdown_text(sentence));
    }
    text += &format!("\n{}\n", view.standing);
    for phase in &view.phases {
        text += &format!(
            "\n## {}\n\n{}\n\n{}",
            markdown_text(&phase.heading),
            markdown_paragraph(&phase.conditions),
            table(phase).markdown()
        );
    }
    text += &format!("\n**All phases:** {}, 100 %\n", view.total);
    if !view.notes.is_empty() {
        text += "\n## Notes\n\n";
        for NumberedNote { number, sentence } in &view.notes {
            text += &format!("{number}. {}\n", markdown_paragraph(sentence));
        }
    }
    text
}

fn table(phase: &PhaseView) -> Table {
    let (left, right) = (Alignment::Left, Alignment::Right);
    let mut table = Table::new(&[
        ("done", left),
        (phase.unit, right),
        ("material", left),
        ("lot", left),
        ("%", right),
        ("error %", right),
        ("remarks", left),
    ]);
    for row in &phase.rows {
        table.push(["☐", &row.mass, &row.label, &row.lot, &row.percent, &row.error, &row.remarks]);
    }
    table.footer.push(["", &phase.total, "phase total", "", &phase.percent].map(str::to_string).to_vec());
    table
}
