//! Drafts: recipes as people write them, and draft documents.

use tenside::formula::Draft;

use crate::reading::{accepted, document, shelf, survives};

/// Reads `bytes` as the lines of a recipe, and as a draft document in TOML or JSON; a draft survives writing and asks
/// or settles.
pub fn draft(bytes: &[u8]) {
    let Some((text, notation)) = document(bytes) else { return };
    for draft in
        [accepted(Draft::from_text("A recipe", text)), accepted(Draft::read(text, notation))].into_iter().flatten()
    {
        survives(&draft, |draft, notation| draft.write(notation), Draft::read);
        let questions = draft.questions(shelf());
        if let Some(settled) = accepted(draft.settle(shelf())) {
            assert_eq!(settled.formula.lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000);
        } else {
            assert!(!questions.is_empty() || draft.lines().is_empty(), "refused without a question");
        }
        let _ = draft.clone().normalise().merge_duplicates().questions(shelf());
    }
}
