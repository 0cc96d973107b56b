//! Totals that are not 100, and lines that fill to it.

use tenside::formula::{Answer, QuestionKind};

use super::{draft, kinds, percentages, question};

/// Each total with the amounts of three lines that make it.
const TOTALS: [(&str, [&str; 3]); 6] = [
    ("97.5", ["60 %", "12.5 %", "25 %"]),
    ("99.5", ["60 %", "14.5 %", "25 %"]),
    ("100.01", ["60 %", "15.01 %", "25 %"]),
    ("100.5", ["60 %", "15.5 %", "25 %"]),
    ("101", ["60 %", "16 %", "25 %"]),
    ("130", ["60 %", "30 %", "40 %"]),
];

#[test]
fn each_total_is_asked_about_and_each_way_out_gives_a_formula() {
    for (total, amounts) in TOTALS {
        let lines: Vec<String> = ["sci-powder", "cetyl-alcohol", "water"]
            .iter()
            .zip(amounts)
            .map(|(item, amount)| format!("{item} | {amount}"))
            .collect();
        let written = draft(&lines.iter().map(String::as_str).collect::<Vec<_>>());
        assert_eq!(kinds(&written), [QuestionKind::TotalNotHundred], "{total}");
        let asked = question(&written, QuestionKind::TotalNotHundred);
        assert_eq!((asked.found.as_str(), asked.id.line), (format!("{total} %").as_str(), None));
        let answers: Vec<&Answer> = asked.choices.iter().map(|choice| &choice.answer).collect();
        assert!(answers.contains(&&Answer::Normalise));
        assert!(answers.contains(&&Answer::AmountOf { line: 3, amount: "q.s.".to_string() }));
        assert!(answers.iter().any(|answer| matches!(answer, Answer::AmountOf { line: 1, .. })));
        for answer in answers {
            let answered = written.clone().answer(asked.id, answer.clone()).unwrap();
            let sum: f64 = percentages(&answered).iter().map(|(_, percent)| percent.parse::<f64>().unwrap()).sum();
            assert!((sum - 100.0).abs() < 1e-9, "{total} {answer:?}");
            assert_eq!(answered.lines()[0].amount(), Some(amounts[0]), "what was written stays");
        }
    }
}

#[test]
fn normalising_is_exact_before_the_grid() {
    let scaled = draft(&["sci-powder | 60 %", "cetyl-alcohol | 30 %", "water | 40 %"]).normalise();
    let settled = scaled.settle(&tenside::catalogue::Catalogue::starter()).unwrap();
    assert_eq!(
        settled.departures.iter().map(|departure| departure.exact.to_string()).collect::<Vec<_>>(),
        ["600/13", "300/13", "400/13"]
    );
    // 46.153846.., 23.076923.., 30.769230..: the largest line that is free takes the rest.
    assert_eq!(
        settled.departures.iter().map(|departure| (departure.grid.to_string(), departure.absorber)).collect::<Vec<_>>(),
        [("46.1539".to_string(), true), ("23.0769".to_string(), false), ("30.7692".to_string(), false)]
    );
}

#[test]
fn percentages_on_the_grid_stay_untouched() {
    let exact = draft(&["sci-powder | 60,1234 %", "cetyl-alcohol | 14.8766", "water | 25"]);
    let settled = exact.settle(&tenside::catalogue::Catalogue::starter()).unwrap();
    assert!(settled.departures.is_empty());
    assert_eq!(settled.formula.lines()[0].percent().to_string(), "60.1234");
}

#[test]
fn the_mended_line_is_never_preservative_or_scent() {
    let written = draft(&["sci-powder | 96 %", "rosemary-oil | 1 %"]);
    let asked = question(&written, QuestionKind::TotalNotHundred);
    assert!(
        asked.choices.iter().all(|choice| !matches!(&choice.answer, Answer::AmountOf { line: 2, .. })),
        "{asked:#?}"
    );
}

#[test]
fn a_fill_line_takes_what_is_left() {
    for fill in ["q.s.", "qs to 100", "to 100 %", "balance"] {
        let written = draft(&["sci-powder | 60 %", "cetyl-alcohol | 12.5 %", &format!("water | {fill}")]);
        assert_eq!(percentages(&written)[2], ("water".to_string(), "27.5".to_string()), "{fill}");
        let formula = written.into_formula(&tenside::catalogue::Catalogue::starter()).unwrap();
        assert!(formula.lines()[2].is_qs() && !formula.lines()[0].is_qs());
    }
}

#[test]
fn full_before_the_fill_line() {
    let full = draft(&["sci-powder | 60 %", "cetyl-alcohol | 40 %", "water | q.s."]);
    let asked = question(&full, QuestionKind::FullBeforeQs);
    assert_eq!((asked.id.line, asked.found.as_str()), (Some(3), "100 %"));
    assert_eq!(percentages(&full.clone().answer(asked.id, Answer::Accept).unwrap())[2].1, "0");
    assert_eq!(percentages(&full.answer(asked.id, Answer::Drop).unwrap()).len(), 2);

    let over = draft(&["sci-powder | 60 %", "cetyl-alcohol | 41 %", "water | q.s."]);
    let asked = question(&over, QuestionKind::FullBeforeQs);
    assert!(!asked.choices.iter().any(|choice| choice.answer == Answer::Accept));
    assert_eq!(percentages(&over.clone().normalise())[2].1, "0");
    // Accepting nothing for water when there is less than nothing left does not help.
    assert_eq!(kinds(&over.clone().accept(asked.id).unwrap()), [QuestionKind::FullBeforeQs]);
    assert_eq!(kinds(&over.answer(asked.id, Answer::Drop).unwrap()), [QuestionKind::TotalNotHundred]);
}

#[test]
fn several_fill_lines_leave_one() {
    let several = draft(&["sci-powder | 60 %", "water | q.s.", "kaolin | to 100"]);
    let asked = question(&several, QuestionKind::SeveralQs);
    let answered = several.answer(asked.id, Answer::FillWith(2)).unwrap();
    assert_eq!(kinds(&answered), [QuestionKind::AmountMissing]);
    assert_eq!(percentages(&answered.set_amount(3, "15 %").unwrap())[1].1, "25");
}

#[test]
fn merged_lines_count_once_and_fill_together() {
    let twice = draft(&["sci-powder | 60 %", "water | 5 %", "kaolin | 10 %", "water | q.s."]).merge_duplicates();
    assert_eq!(
        percentages(&twice),
        [("sci-powder", "60"), ("water", "30"), ("kaolin", "10")]
            .map(|(name, percent)| (name.to_string(), percent.to_string()))
    );
    let nothing = draft(&["water | 0 %", "kaolin | 100 %", "water | q.s."]).merge_duplicates();
    let asked = question(&nothing, QuestionKind::FullBeforeQs);
    assert_eq!(percentages(&nothing.accept(asked.id).unwrap())[0].1, "0");
    let apart =
        draft(&["sci-powder | 60 %", "kaolin | 15 %", "kaolin | 25 %"]).name_line(3, "clay for dusting").unwrap();
    assert_eq!(percentages(&apart)[2].0, "clay for dusting");
    let numbered = draft(&["sci-powder | 60 %", "kaolin | 15 %", "kaolin | 25 %"]);
    let asked = question(&numbered, QuestionKind::SameMaterialTwice);
    assert_eq!(percentages(&numbered.accept(asked.id).unwrap())[2].0, "kaolin-2");
}
