//! Draft documents.

use proptest::prelude::*;
use tenside::document::Notation;
use tenside::formula::{Draft, DraftLine, FigureUnit, QuestionKind};

use super::{kinds, question, round_trip};

#[test]
fn both_notations_carry_lines_and_answers() {
    let lines = vec![
        DraftLine::new("Kaolin", "3-5 %").in_phase("powder").unwrap(),
        DraftLine::new("water", "q.s.").as_method_only(true),
        DraftLine::without_amount("rosemary oil").as_optional(true),
        DraftLine::new("kaolin", "1 g"),
    ];
    let draft = Draft::new("A <b>bar</b> \"quoted\"", lines).unwrap();
    round_trip(&draft);
    let answered =
        draft.set_amount(1, "4 %").unwrap().drop_optional(3).unwrap().choose(2, "water").unwrap().merge(4).unwrap();
    let answered = answered
        .normalise()
        .merge_duplicates()
        .with_batch("1/3 kg".parse().unwrap())
        .unwrap()
        .with_figures_in(FigureUnit::Gram);
    let answered = answered.rewrite(4, "Kaolin, white", "2 g").unwrap().name_line(4, "dusting clay").unwrap();
    round_trip(&answered);
    assert_eq!(answered.line(1).unwrap().amount(), Some("3-5 %"));
}

#[test]
fn every_fault_of_a_document_comes_with_its_place() {
    let text = "tenside = \"draft/1\"\ntitle = \"\"\nfigures = \"stone\"\nbatch = \"2 fl oz\"\n[[line]]\nitem = \
                \"kaolin\"\namuont = 5\n[[line]]\namount = true\n[line.answers]\naccepted = [\"range\", \
                \"nonsense\"]\nmaterial = \"Not An Id\"\n";
    let error = Draft::read(text, Notation::Toml).unwrap_err();
    let lines: Vec<u32> = error.faults().iter().map(|fault| fault.position.unwrap().0).collect();
    assert_eq!(lines, [2, 3, 4, 7, 8, 9, 11, 11, 12], "{error}");
    for text in [
        "",
        "tenside = \"draft/2\"\ntitle = \"x\"\n",
        "tenside = \"draft/1\"\ntitle = \"x\"\n",
        "tenside = \"draft/1\"\ntitle = \"x\"\nbatch = \"0 g\"\n[[line]]\nitem = \"a\"",
    ] {
        assert!(Draft::read(text, Notation::Toml).is_err(), "{text}");
    }
}

#[test]
fn numbers_of_a_document_are_amounts_as_written() {
    let draft = Draft::read(
        r#"{"tenside": "draft/1", "title": "x", "line": [{"item": "kaolin", "amount": 1e300}, {"item": "water", "amount": 12.50}]}"#,
        Notation::Json,
    );
    let draft = draft.unwrap();
    assert_eq!((draft.line(1).unwrap().amount(), draft.line(2).unwrap().amount()), (Some("1e300"), Some("12.50")));
    assert_eq!(question(&draft, QuestionKind::AmountUnreadable).id.line, Some(1));
    assert_eq!(kinds(&draft).len(), 1);
}

proptest! {
    #[test]
    fn any_lines_survive_the_round_trip(
        lines in prop::collection::vec((any::<String>(), prop::option::of(any::<String>()), any::<bool>(), any::<bool>()), 1..5),
        pasted in any::<String>(),
    ) {
        let lines = lines.into_iter().map(|(item, amount, optional, in_method)| {
            let line = amount.map_or_else(|| DraftLine::without_amount(&item), |amount| DraftLine::new(&item, &amount));
            line.as_optional(optional).as_method_only(in_method)
        });
        round_trip(&Draft::new("Any", lines.collect()).unwrap());
        if let Ok(draft) = Draft::from_text("Any", &pasted) {
            round_trip(&draft);
        }
    }
}
