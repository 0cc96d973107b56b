//! What a pasted line says beside its amount: second figures, bounds, and sentences that name raw materials.

use tenside::catalogue::Catalogue;
use tenside::formula::{Amount, Answer, Draft, LineRole, Question, QuestionKind};

use super::{kinds, percentages, question};

fn text(text: &str) -> Draft {
    Draft::from_text("Pasted", text).unwrap()
}

fn labels(question: &Question) -> Vec<&str> {
    question.choices.iter().map(|choice| choice.label.as_str()).collect()
}

#[test]
fn an_amount_of_two_parts_is_read_whole() {
    let shares = |first: &str, second: &str| {
        [first, second]
            .map(str::to_string)
            .into_iter()
            .zip(["sci-powder", "kaolin"])
            .map(|(share, id)| (id.to_string(), share))
            .collect::<Vec<_>>()
    };
    assert_eq!(percentages(&text("sci-powder 3 lb\nkaolin 1 lb 2 oz").normalise()), shares("72.7273", "27.2727"));
    assert_eq!(percentages(&text("sci-powder 60 g\nkaolin 2 x 20 g")), shares("60", "40"));
    assert_eq!(percentages(&text("sci-powder 60 g\n2 x 20 g kaolin")), shares("60", "40"));
    // Pieces are counted, not weighed out.
    assert_eq!(text("sci-powder 60 %\n24 x 60 g bars\nkaolin 40 %").lines()[1].role(), LineRole::Comment);
}

#[test]
fn of_two_figures_in_a_line_none_is_dropped() {
    for (line, amounts) in [
        ("sci-powder 60 % \u{b1} 2", ["60 %", "2 %"]),
        ("sci-powder 60 \u{b1} 2 %", ["60 %", "2 %"]),
        ("sci-powder 60-55 %", ["60 %", "55 %"]),
        ("sci-powder 1 lb 454 g", ["1 lb", "454 g"]),
    ] {
        let draft = text(&format!("{line}\nkaolin q.s."));
        let asked = question(&draft, QuestionKind::UnreadableLine);
        assert_eq!(asked.message, "two figures stand in the line; which one is the amount?", "{line}");
        let offered: Vec<&Answer> = asked.choices.iter().map(|choice| &choice.answer).collect();
        let rewritten =
            amounts.map(|amount| Answer::Rewrite { item: "sci-powder".to_string(), amount: amount.to_string() });
        assert_eq!(offered, [&rewritten[0], &rewritten[1], &Answer::Drop], "{line}");
        // Choosing the raw material does not settle the amount.
        assert!(
            kinds(&draft.clone().choose(1, "sci-powder").unwrap()).contains(&QuestionKind::UnreadableLine),
            "{line}"
        );
        assert!(!kinds(&draft.answer(asked.id, rewritten[0].clone()).unwrap()).contains(&QuestionKind::UnreadableLine));
    }
    assert!(kinds(&text("polysorbate 20 5 %\nwater q.s.")).iter().all(|kind| *kind != QuestionKind::UnreadableLine));
}

#[test]
fn up_to_a_mass_may_be_a_bound() {
    let draft = text("sci-powder 60 g\nwater up to 5 g\nkaolin 35 g");
    let asked = question(&draft, QuestionKind::FullBeforeQs);
    assert_eq!((labels(&asked)[0], asked.found.as_str()), ("it is a bound: take 5 g", "\"up to 5 g\""));
    let formula = percentages(&draft.answer(asked.id, asked.choices[0].answer.clone()).unwrap());
    assert_eq!(formula.iter().map(|(_, share)| share.as_str()).collect::<Vec<_>>(), ["60", "5", "35"]);
    // A total that the others leave room in is one.
    assert_eq!(percentages(&text("sci-powder 60 g\nwater up to 100 g\nkaolin 35 g"))[1].1, "5");
}

#[test]
fn a_sentence_that_names_what_no_line_is_asks() {
    let catalogue = Catalogue::starter();
    for (sentence, named) in [
        ("adjust pH to 5.5 with citric acid", "citric acid"),
        ("Add a few drops of lavender oil", "lavender oil"),
        ("Mix. Add 5 g glycerin if too dry.", ""),
    ] {
        let draft = text(&format!("sci-powder 99 g\nkaolin 1 g\n{sentence}"));
        let asked = question(&draft, QuestionKind::MethodOnly);
        assert!(asked.message.contains(named), "{sentence}: {}", asked.message);
        assert!(draft.clone().into_formula(&catalogue).is_err(), "{sentence}");
    }
    let draft = text("sci-powder 99 g\nkaolin 1 g\nAdd a few drops of lavender oil");
    let asked = question(&draft, QuestionKind::MethodOnly);
    let remark = draft.clone().answer(asked.id, asked.choices[0].answer.clone()).unwrap();
    assert!(kinds(&remark).is_empty());
    // What was left out is left out of the method too.
    let left_out = text("sci-powder 99 g\nkaolin 1 g\nrosemary oil 1 g\nAdd the rosemary oil").drop_line(3).unwrap();
    assert!(kinds(&left_out).is_empty());
    let line = draft.answer(asked.id, Answer::Material("lavender-oil".to_string())).unwrap();
    assert_eq!(kinds(&line), [QuestionKind::AmountMissing]);
    assert_eq!(percentages(&line.set_amount(3, "1 g").unwrap().normalise())[2].0, "lavender-oil");
}

#[test]
fn a_sentence_that_names_lines_or_water_does_not_ask() {
    for sentence in
        ["Mix the kaolin into the SCI powder", "Dissolve it in hot water", "Melt the oils", "Press into moulds"]
    {
        assert!(kinds(&text(&format!("sci-powder 99 g\nkaolin 1 g\n{sentence}"))).is_empty(), "{sentence}");
    }
}

#[test]
fn a_question_ends_with_its_mark() {
    let page = question(&text("of the old kind\nwater 100 %"), QuestionKind::UnreadableLine).page().text(200);
    assert!(page.contains("what is it?") && !page.contains("?."), "{page}");
}

#[test]
fn boosters_come_last_among_preservatives_and_are_called_so() {
    let asked = question(&text("sci-powder 99 %\npreservative 1 %"), QuestionKind::AmbiguousMaterial);
    let boosts: Vec<bool> =
        labels(&asked).iter().map(|label| label.contains("boosts preservatives and holds none")).collect();
    assert_eq!(boosts.iter().filter(|boosts| **boosts).count(), 4, "{:?}", labels(&asked));
    assert!(boosts[..boosts.len() - 1].is_sorted(), "{:?}", labels(&asked));
}

#[test]
fn an_amount_that_is_not_understood_is_called_so() {
    for line in ["sci-powder 60 gr", "sci-powder 1 200 g", "sci-powder 1'200 g"] {
        let asked = question(&text(&format!("{line}\nkaolin q.s.")), QuestionKind::UnreadableLine);
        assert_eq!(
            asked.message, "the line names a raw material, and its amount is not understood; what is it?",
            "{line}"
        );
    }
    assert_eq!(percentages(&text("sci-powder 60 Gramm\nkaolin 40 Gramm"))[0].1, "60");
}

#[test]
fn what_is_certain_is_read_as_one_amount() {
    for (text, read) in [
        ("1 lb 2 oz", Some("1.125 lb")),
        ("1 lb, 2 oz", Some("1.125 lb")),
        ("1lb and 2oz", Some("1.125 lb")),
        ("1 kg 200 g", Some("1.2 kg")),
        ("2 x 20 g", Some("40 g")),
        ("2\u{d7}20 g", Some("40 g")),
        ("3 * 5 ml", Some("15 ml")),
        // Said twice, or not what anybody writes.
        ("1 oz 28 g", None),
        ("1 lb 454 g", None),
        ("1 lb 17 oz", None),
        ("2 x 20", None),
        ("1.5 x 20 g", None),
        ("2 x 1,500 g", None),
    ] {
        let amount = text.parse::<Amount>().ok().map(|amount| amount.to_string());
        assert_eq!(amount.as_deref(), read, "{text}");
    }
}
