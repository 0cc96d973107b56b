//! Sentences of a pasted recipe that name a raw material which is no line of it.

use super::name::offered;
use super::row::{Asker, Row};
use super::words::words;
use super::{Answer, Choice, DraftLine, LineRole, QuestionKind};
use crate::catalogue::{Catalogue, NamedIn};
use crate::document::shown;

/// Asks about steps that name what no line is: left in the method, it would be missing in the formula and its label.
pub(super) fn ask_about_sentences(rows: &[Row<'_>], catalogue: &Catalogue, asker: &mut Asker<'_>) {
    let is_step = |line: &DraftLine| {
        let found = line.role() == LineRole::Comment && line.answers.role.is_none() && line.written().is_some();
        found && words().step.strip(&line.item().to_lowercase()).is_some()
    };
    let draft = asker.draft;
    for (line, number) in draft.lines.iter().zip(1..).filter(|(line, _)| is_step(line) && !line.is_dropped()) {
        let Some(named) = catalogue.named_in(line.item()).into_iter().find(|named| {
            let left_out = draft.lines.iter().filter(|line| line.is_dropped());
            let mut left_out = left_out.map(|line| line.current_item());
            !is_a_line(named, rows)
                && !left_out.any(|item| named.is_part_of(&item) || named.is_any_of(&catalogue.meant(&item)))
        }) else {
            continue;
        };
        let message = format!("the sentence names {}, which no line of the list is; does it count?", named.words);
        let said = "no: it is said of the method alone, or a remark";
        let mut choices = vec![Choice::new(said, Answer::ReadAs(LineRole::Comment))];
        choices.extend(offered(&named.materials));
        let allowed = "a line of the list, whose amount is asked for next, or a remark";
        asker.about(number, QuestionKind::MethodOnly, &message, shown(line.item()), allowed, choices);
    }
}

/// Is what a sentence names, or something that is called so, a line already?
fn is_a_line(named: &NamedIn<'_>, rows: &[Row<'_>]) -> bool {
    rows.iter().any(|row| {
        named.is_any_of(&row.possible)
            || row.material.as_ref().is_some_and(|material| named.is_any_of(&[material]))
            || named.is_part_of(&row.line.current_item())
    })
}
