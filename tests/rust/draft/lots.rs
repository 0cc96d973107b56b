//! A draft that names a lot keeps it.

use std::sync::Arc;

use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::formula::{Answer, Draft, DraftLine, LineRole, QuestionKind};

use super::{draft, percentages, round_trip};

/// The starter catalogue with lots of two raw materials.
fn catalogue() -> Catalogue {
    let lot = |id: &str, material: &str| {
        let certificate = tenside::material::Certificate::default();
        Arc::new(tenside::material::Lot::new(id, material, certificate).unwrap())
    };
    Catalogue::starter().with_lot(lot("L9", "sci-powder")).unwrap().with_lot(lot("K7", "kaolin")).unwrap()
}

#[test]
fn a_lot_survives_the_way_to_a_formula() {
    let catalogue = catalogue();
    let pasted = Draft::from_text("Lots", "SCI powder, lot L9 - 60 %\nkaolin (lot no. K7) 40 %").unwrap();
    let built = Draft::new(
        "Lots",
        vec![
            DraftLine::new("SCI powder", "60 %").of_lot("L9").unwrap(),
            DraftLine::new("kaolin", "40 %").of_lot("K7").unwrap(),
        ],
    );
    for draft in [pasted, built.unwrap()] {
        round_trip(&draft);
        let formula = draft.into_formula(&catalogue).unwrap();
        let lots: Vec<Option<&str>> =
            formula.lines().iter().map(|line| line.material().lot().map(|lot| lot.id())).collect();
        assert_eq!(lots, [Some("L9"), Some("K7")]);
    }
}

#[test]
fn a_lot_tells_which_raw_material_is_meant() {
    let pasted = Draft::from_text("Lots", "SCI lot L9 60 %\nkaolin 40 %").unwrap();
    let formula = pasted.into_formula(&catalogue()).unwrap();
    assert_eq!(formula.lines()[0].material().id(), "sci-powder");
}

#[test]
fn two_lots_of_a_raw_material_are_two_lines() {
    let other = tenside::material::Lot::new("K8", "kaolin", tenside::material::Certificate::default()).unwrap();
    let catalogue = catalogue().with_lot(Arc::new(other)).unwrap();
    let pasted = Draft::from_text("Lots", "kaolin lot K7 60 %\nkaolin lot K8 40 %").unwrap();
    let formula = pasted.into_formula(&catalogue).unwrap();
    assert_eq!(formula.lines().iter().map(|line| line.name()).collect::<Vec<_>>(), ["kaolin", "kaolin-2"]);
}

#[test]
fn a_lot_of_something_else_or_of_nothing_is_asked_about() {
    let catalogue = catalogue();
    for (line, offered) in [("kaolin lot L9 100 %", 1), ("kaolin lot K99 100 %", 1)] {
        let draft = Draft::from_text("Lots", line).unwrap();
        let questions = draft.questions(&catalogue);
        assert_eq!(
            questions.iter().map(|question| question.id.kind).collect::<Vec<_>>(),
            [QuestionKind::UnknownLot],
            "{line}"
        );
        let lots = questions[0].choices.iter().filter(|choice| matches!(choice.answer, Answer::Lot(_)));
        assert_eq!(lots.count(), offered, "{line}");
        assert_eq!(questions[0].choices[0].answer, Answer::LeaveOpen);
        let typical = draft.clone().accept(questions[0].id).unwrap().into_formula(&catalogue).unwrap();
        assert!(typical.lines()[0].material().lot().is_none());
        let chosen = draft.choose_lot(1, "K7").unwrap();
        round_trip(&chosen);
        assert_eq!(chosen.into_formula(&catalogue).unwrap().lines()[0].material().lot().unwrap().id(), "K7");
    }
}

#[test]
fn a_line_can_be_read_as_something_else() {
    let text = Draft::from_text("Roles", "Sturdy base\nkaolin 60 %\nPhase B\nwater 40 %\nTotal 90 %").unwrap();
    let headed = text.clone().read_as(1, LineRole::Heading).unwrap().read_as(5, LineRole::Comment).unwrap();
    assert_eq!(headed.line(2).unwrap().phase(), Some("Sturdy base"));
    assert_eq!(headed.line(4).unwrap().phase(), Some("Phase B"));
    round_trip(&headed);
    assert_eq!(percentages(&headed).len(), 2);
    let joined = headed.read_as(3, LineRole::Comment).unwrap();
    assert_eq!(joined.line(4).unwrap().phase(), Some("Sturdy base"));
    // A remark that turns out to be a raw material counts once it has what one has.
    let more = text.rewrite(1, "talc", "5 %").unwrap();
    assert_eq!((more.line(1).unwrap().role(), more.line(1).unwrap().current_amount()), (LineRole::Material, "5 %"));
    assert!(draft(&["kaolin | 100 %"]).read_as(2, LineRole::Comment).unwrap_err().is_unknown_name());
    let document = "tenside = \"draft/1\"\ntitle = \"x\"\n[[line]]\nitem = \"Phase A\"\nrole = \"headline\"\n";
    assert!(Draft::read(document, Notation::Toml).unwrap_err().to_string().contains("heading"));
}
