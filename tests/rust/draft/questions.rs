//! Every kind of question has a row here, and every choice it offers answers it.

use tenside::catalogue::Catalogue;
use tenside::document::Named;
use tenside::error::FaultKind;
use tenside::formula::{Answer, Draft, DraftLine, FigureUnit, QuestionId, QuestionKind};

use super::{draft, kinds, percentages, question, round_trip};

/// A recipe that raises the question, the line it is about, what was found, and how many choices it offers.
struct Case {
    kind: QuestionKind,
    draft: Draft,
    line: Option<usize>,
    found: &'static str,
    choices: usize,
    /// An answer in one's own words, where no choice can be offered.
    own: Option<Answer>,
}

fn amount(text: &str) -> Option<Answer> {
    Some(Answer::Amount(text.to_string()))
}

fn cases() -> Vec<Case> {
    use QuestionKind as Kind;
    let case = |kind, draft, line, found, choices| Case { kind, draft, line, found, choices, own: None };
    let text = |text: &str| Draft::from_text("Test bar", text).unwrap();
    let with_last = |last: DraftLine| {
        Draft::new("Test bar", vec![DraftLine::new("sci-powder", "60 %"), DraftLine::new("water", "39 %"), last])
            .unwrap()
    };
    vec![
        case(Kind::UnreadableLine, text("5 % kaolin 10 %\nwater 90 %"), Some(1), "\"5 % kaolin 10 %\"", 1),
        case(Kind::UnreadableLine, text("12 %"), Some(1), "\"12 %\"", 1),
        case(Kind::UnreadableLine, text("of the old kind\nwater 100 %"), Some(1), "\"of the old kind\"", 3),
        case(Kind::UnreadableLine, text("<td>kaolin</td>\nwater 100 %"), Some(1), "\"<td>kaolin</td>\"", 1),
        case(Kind::UnknownMaterial, draft(&["kaolinn | 5 %"]), Some(1), "\"kaolinn\"", 3),
        case(Kind::UnknownMaterial, draft(&["moon dust | 5 %"]), Some(1), "\"moon dust\"", 2),
        case(Kind::AmbiguousMaterial, draft(&["SCS | 5 %"]), Some(1), "\"SCS\"", 4),
        case(Kind::UnknownLot, with_last(DraftLine::new("kaolin", "1 %").of_lot("K7").unwrap()), Some(3), "\"K7\"", 2),
        case(Kind::FigureInName, draft(&["citric acid 30 % | 0.3 %"]), Some(1), "\"citric acid 30 %\"", 4),
        case(Kind::FigureInName, text("lactic acid 80 %\nwater q.s."), Some(1), "\"80 %\"", 1),
        case(Kind::FigureInName, text("polysorbate 20 1/2 tsp\nwater q.s."), Some(1), "\"20 1/2 tsp\"", 1),
        case(Kind::MethodOnly, with_last(DraftLine::new("kaolin", "1 %").as_method_only(true)), Some(3), "\"1 %\"", 2),
        case(Kind::MethodOnly, with_last(DraftLine::without_amount("kaolin").as_method_only(true)), Some(3), "\"\"", 1),
        case(
            Kind::OptionalLine,
            with_last(DraftLine::new("kaolin", "1 %").as_optional(true)),
            Some(3),
            "\"kaolin\"",
            2,
        ),
        case(Kind::OptionalLine, with_last(DraftLine::new("kaolin", "1 % optional")), Some(3), "\"kaolin\"", 2),
        case(
            Kind::OptionalLine,
            with_last(DraftLine::new("kaolin (optional)", "1 %")),
            Some(3),
            "\"kaolin (optional)\"",
            2,
        ),
        Case {
            own: amount("1 %"),
            ..case(Kind::AmountMissing, with_last(DraftLine::without_amount("kaolin")), Some(3), "nothing", 0)
        },
        Case {
            own: amount("1 %"),
            ..case(Kind::AmountMissing, with_last(DraftLine::new("kaolin", "  ")), Some(3), "nothing", 0)
        },
        Case {
            own: amount("1 %"),
            ..case(Kind::AmountUnreadable, with_last(DraftLine::new("kaolin", "a pinch")), Some(3), "\"a pinch\"", 0)
        },
        Case {
            own: amount("1 %"),
            ..case(Kind::AmountOutOfRange, with_last(DraftLine::new("kaolin", "-1 %")), Some(3), "\"-1 %\"", 0)
        },
        case(Kind::Approximate, draft(&["kaolin | ~5 %", "water | q.s."]), Some(1), "\"~5 %\"", 1),
        case(Kind::Approximate, draft(&["kaolin | max. 5 %", "water | q.s."]), Some(1), "\"max. 5 %\"", 1),
        case(Kind::TwoAmounts, draft(&["kaolin | 60 g (60 %)", "water | 40 g (30 %)"]), Some(1), "60 g and 60 %", 2),
        case(Kind::TotalDisagrees, text("kaolin 60 g\nwater 30 g\nTotal 100 g"), Some(3), "90 g", 1),
        case(Kind::AmountOutOfRange, draft(&["kaolin | 250", "water | 50"]), Some(1), "250", 1),
        case(Kind::DecimalMark, draft(&["kaolin | 1,500 g", "water | 500 g"]), Some(1), "\"1,500 g\"", 2),
        case(Kind::DecimalMark, draft(&["kaolin | 1.500 g", "water | 2,5 g"]), Some(1), "\"1.500 g\"", 2),
        case(Kind::Range, draft(&["kaolin | 3\u{2013}5 %", "water | q.s."]), Some(1), "\"3\u{2013}5 %\"", 3),
        case(Kind::Drops, draft(&["rosemary-oil | 3 drops", "water | 100 g"]), Some(1), "3 drops, 0.075 to 0.15 g", 3),
        case(Kind::Ounce, draft(&["glycerin | 2 oz", "kaolin | 1 oz"]), Some(1), "2 oz", 2),
        Case {
            own: amount("4 g"),
            ..case(Kind::VolumeWithoutDensity, draft(&["kaolin | 1 tsp", "water | 100 g"]), Some(1), "1 tsp (5 ml)", 0)
        },
        case(Kind::ActiveFigure, draft(&["capb-30 | 6 % active", "water | q.s."]), Some(1), "6 % active", 1),
        case(Kind::ActiveFigure, draft(&["capb-30 | 6 g active", "water | 50 g"]), Some(1), "6 g active", 1),
        Case {
            own: amount("5 %"),
            ..case(Kind::ActiveFigure, draft(&["kaolin | 5 % active", "water | q.s."]), Some(1), "5 % active", 0)
        },
        case(Kind::SameMaterialTwice, draft(&["kaolin | 50 %", "Kaolin | 50 %"]), Some(2), "kaolin", 2),
        case(Kind::QsNotWater, draft(&["sci-powder | 60 %", "kaolin | q.s."]), Some(2), "kaolin", 1),
        case(Kind::QsTarget, draft(&["kaolin | 60 %", "water | q.s. to 90 %"]), Some(2), "to 90 %", 1),
        case(Kind::QsTarget, draft(&["kaolin | 60", "water | to 200"]), Some(2), "to 200", 2),
        case(Kind::QsTarget, draft(&["kaolin | 60 g", "water | to 200"]), Some(2), "to 200", 2),
        case(
            Kind::QsTarget,
            draft(&["kaolin | 60 g", "water | q.s. to 200 ml"]).with_batch("200 g".parse().unwrap()).unwrap(),
            Some(2),
            "to 200 ml",
            1,
        ),
        case(Kind::SeveralQs, draft(&["kaolin | 60 %", "water | q.s.", "glycerin | q.s."]), None, "lines 2, 3", 2),
        case(Kind::UnitMissing, draft(&["kaolin | 60", "water | 40 g"]), None, "no unit in line 1", 2),
        case(Kind::MixedUnits, draft(&["kaolin | 60 %", "water | 80 g"]), None, "percentages and masses", 1),
        case(Kind::BatchMissing, draft(&["kaolin | 60 g", "water | to 100"]), None, "masses and q.s.", 1),
        Case {
            own: Some(Answer::Batch("200 g".to_string())),
            ..case(Kind::BatchMissing, draft(&["kaolin | 60 g", "water | q.s."]), None, "masses and q.s.", 0)
        },
        case(Kind::FullBeforeQs, draft(&["kaolin | 100 %", "water | q.s."]), Some(2), "100 %", 2),
        case(Kind::FullBeforeQs, draft(&["kaolin | 70 %", "sci-powder | 60 %", "water | q.s."]), Some(3), "130 %", 2),
        // Scale, let the powder fill, or make the powder 60.
        case(Kind::TotalNotHundred, draft(&["sci-powder | 57.5 %", "water | 40 %"]), None, "97.5 %", 4),
    ]
}

#[test]
fn every_kind_has_a_row() {
    let cases = cases();
    for kind in QuestionKind::ALL {
        assert!(cases.iter().any(|case| case.kind == *kind), "no row for {kind}");
    }
}

#[test]
fn every_question_is_asked_and_every_choice_answers_it() {
    for case in cases() {
        let asked = question(&case.draft, case.kind);
        let label = format!("{asked:#?}");
        assert_eq!(
            (asked.id.line, asked.found.as_str(), asked.choices.len()),
            (case.line, case.found, case.choices),
            "{label}"
        );
        assert!(!asked.message.is_empty() && !asked.allowed.is_empty(), "{label}");
        assert_eq!(asked.message.chars().next().map(char::is_uppercase), Some(false), "{label}");
        assert_eq!(asked.id.to_string().parse::<QuestionId>().unwrap(), asked.id);
        assert_eq!(asked.id.kind.is_about_a_line(), case.line.is_some(), "{label}");
        for answer in asked.choices.iter().map(|choice| choice.answer.clone()).chain(case.own) {
            let answered = case
                .draft
                .clone()
                .answer(asked.id, answer.clone())
                .unwrap_or_else(|error| panic!("{answer:?}: {error}"));
            let open = answered.questions(&Catalogue::starter());
            if answer == Answer::LeaveOpen {
                assert_eq!(answered, case.draft);
                continue;
            }
            assert!(open.iter().all(|question| question.id != asked.id), "{answer:?} left {label}");
            round_trip(&answered);
        }
        let error = case.draft.into_formula(&Catalogue::starter()).unwrap_err();
        assert!(
            error.faults().iter().all(|fault| fault.kind == FaultKind::Question)
                && error.faults().contains(&asked.fault()),
            "{error}"
        );
    }
}

#[test]
fn a_recipe_without_questions_raises_none() {
    let clean = draft(&["sci-powder | 60 %", "cetyl-alcohol | 15 %", "capb-30 | 10 %", "water | q.s. to 100"]);
    assert_eq!(kinds(&clean), []);
    assert_eq!(percentages(&clean)[3].1, "15");
}

#[test]
fn all_questions_come_at_once_in_the_order_of_the_lines() {
    let recipe = Draft::from_text(
        "Everything at once",
        "SCS 30 %\nkaolinn 5 %\nglycerin 2 oz\nrosemary oil\t3 drops\ncetyl alcohol 3-5 %\npanthenol\nwater \
         q.s.\nkaolin q.s.\n???",
    )
    .unwrap();
    use QuestionKind as Kind;
    let asked: Vec<(Kind, Option<usize>)> =
        recipe.questions(&Catalogue::starter()).iter().map(|question| (question.id.kind, question.id.line)).collect();
    for expected in [
        (Kind::AmbiguousMaterial, Some(1)),
        (Kind::UnknownMaterial, Some(2)),
        (Kind::Ounce, Some(3)),
        (Kind::Drops, Some(4)),
        (Kind::Range, Some(5)),
        (Kind::AmountMissing, Some(6)),
        (Kind::QsNotWater, Some(8)),
        (Kind::UnreadableLine, Some(9)),
        (Kind::SeveralQs, None),
        (Kind::MixedUnits, None),
    ] {
        assert!(asked.contains(&expected), "{expected:?} not in {asked:?}");
    }
    assert!(asked.is_sorted_by_key(|(_, line)| line.unwrap_or(usize::MAX)));
}

#[test]
fn active_figures_become_figures_as_supplied() {
    let catalogue = Catalogue::starter();
    let strength = catalogue.material("capb-30").unwrap().active().unwrap().percent().clone();
    let wanted = tenside::number::Exact::from(6) * tenside::number::Exact::hundred() / strength;
    let written = draft(&["capb-30 | 6 % active", "water | q.s."]);
    let asked = question(&written, QuestionKind::ActiveFigure);
    assert_eq!(asked.allowed, format!("as supplied: {wanted} %"));
    let settled = written.accept(asked.id).unwrap().settle(&catalogue).unwrap();
    let departed = settled
        .departures
        .first()
        .map_or(settled.formula.lines()[0].percent().percent(), |departure| departure.exact.clone());
    assert_eq!(departed, wanted);
}

#[test]
fn answers_that_do_not_fit_are_refused() {
    let written = draft(&["kaolin | 3-5 %", "water | q.s."]);
    let id = question(&written, QuestionKind::Range).id;
    for answer in [Answer::Accept, Answer::Merge, Answer::Normalise, Answer::Batch("1 kg".into()), Answer::FillWith(1)]
    {
        assert!(written.clone().answer(id, answer.clone()).unwrap_err().has(FaultKind::Unsupported), "{answer:?}");
    }
    assert!(written.clone().accept(id).is_err());
    assert!(written.clone().answer(QuestionId { line: Some(7), ..id }, Answer::Drop).unwrap_err().is_unknown_name());
    assert!(written.clone().answer(QuestionId { line: None, ..id }, Answer::Accept).is_err());
    assert!(written.clone().answer(id, Answer::Amount("lots".into())).unwrap_err().is_not_a_number());
    assert!(written.clone().set_amount(0, "5 %").is_err());
    assert!(written.clone().choose(1, "Not An Id").is_err());
    assert!(written.clone().drop_optional(1).unwrap_err().is_contradiction());
    assert!(written.clone().with_batch("0 g".parse().unwrap()).is_err());
    assert!(written.clone().name_line(1, "a").unwrap().name_line(2, "a").unwrap_err().is_duplicate());
    assert_eq!(kinds(&written.choose(1, "moon-dust").unwrap()), [QuestionKind::UnknownMaterial, QuestionKind::Range]);
    for bad in ["range@0", "range@x", "nothing@1", "range@", ""] {
        assert!(bad.parse::<QuestionId>().is_err(), "{bad}");
    }
}

#[test]
fn the_call_that_answers_is_in_the_unit_of_the_recipe() {
    let call = |text: &str| {
        let draft = Draft::from_text("Units", text).unwrap();
        let questions = draft.questions(&Catalogue::starter());
        questions.iter().find(|question| question.id.line.is_some()).unwrap().call()
    };
    assert_eq!(call("kaolin\nSCI powder 60 %"), "set_amount(1, \"5 %\")");
    assert_eq!(call("kaolin\nSCI powder 60"), "set_amount(1, \"5 %\")");
    assert_eq!(call("kaolin\nSCI powder 60 g"), "set_amount(1, \"30 g\")");
    assert_eq!(call("SCI powder 60 g\nkaolin ~5 %\nwater 3 g"), "set_amount(2, \"30 g\")");
    assert_eq!(call("12 g kaolin 3 g\nSCI powder 60 g"), "rewrite(1, \"kaolin\", \"30 g\")");
    let grams = Draft::from_text("Units", "kaolin\nSCI powder 60").unwrap().with_figures_in(FigureUnit::Gram);
    assert_eq!(question(&grams, QuestionKind::AmountMissing).call(), "set_amount(1, \"30 g\")");
}

#[test]
fn what_brings_a_ph_is_offered_as_the_estimate_that_it_is() {
    for line in [
        "citric-acid-50 to pH 4.8-5.2 (about 0.6 %)",
        "citric-acid-50 (about 0.6 %) to pH 4.8-5.2",
        "citric-acid-50 q.s. to pH 5, approx. 0.6 %",
    ] {
        let draft = Draft::from_text("To a pH", &format!("{line}\nkaolin 99.4 %")).unwrap();
        assert_eq!(draft.line(1).unwrap().item(), "citric-acid-50", "{line}");
        let asked = question(&draft, QuestionKind::Approximate);
        assert_eq!(asked.choices[0].label, "take the estimate of 0.6 %");
        assert!(asked.message.contains("only a trial gives") && asked.message.contains("estimate"), "{asked}");
        assert_eq!(asked.found.matches('(').count(), asked.found.matches(')').count(), "{asked}");
        let answered = draft.answer(asked.id, asked.choices[0].answer.clone()).unwrap();
        assert_eq!(percentages(&answered)[0].1, "0.6");
    }
    let strength = Draft::from_text("To a pH", "lactic acid 80 % (to pH 5.3)\nkaolin 99 %").unwrap();
    assert_eq!(question(&strength, QuestionKind::AmountUnreadable).found, "\"to pH 5.3\"");
}

#[test]
fn a_volume_says_at_what_density_it_was_taken() {
    let draft = Draft::from_text("Rinse", "citric-acid-50: 10 ml\nwater: 87.6 g").unwrap();
    let shelf = Catalogue::starter();
    assert_eq!(draft.questions(&shelf), Vec::new());
    let text = draft.page(Some(&shelf)).text(200);
    assert!(text.contains("taken as 12.40 g, at 1.24 g/mL"), "{text}");
}
