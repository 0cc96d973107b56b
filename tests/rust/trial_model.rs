//! Models of trials from outside: the yarn of the textbooks, documents that are not believed, hostile sizes.

use std::time::Instant;

use tenside::brief::{Brief, Direction};
use tenside::catalogue::Catalogue;
use tenside::document::{Materials, Notation, ResultDocument};
use tenside::number::{Exact, Ppm};
use tenside::trial::{
    Blend, Criterion, Desirability, FittedModel, MixedMicelles, Response, ResultUnit, SearchEnd, Terms, TrialLog,
    TrialRun,
};

fn run(name: &str, lines: &[(&str, u32)], result: Option<&str>) -> TrialRun {
    let lines = lines.iter().map(|(line, parts)| ((*line).to_string(), Ppm::from_parts(*parts).unwrap())).collect();
    let run = TrialRun::of_lines(name, lines).unwrap();
    match result {
        Some(result) => run.with_result("hardness", result).unwrap(),
        None => run,
    }
}

fn yarn() -> TrialLog {
    let data: toml::Table = include_str!("../data/mixture_yarn.toml").parse().unwrap();
    let texts = |value: &toml::Value| -> Vec<String> {
        value.as_array().unwrap().iter().map(|text| text.as_str().unwrap().to_string()).collect()
    };
    let rows: Vec<Vec<String>> = data["x"].as_array().unwrap().iter().map(texts).collect();
    let runs = rows.iter().zip(texts(&data["y"])).enumerate().map(|(index, (row, result))| {
        let parts = |text: &str| match text {
            "1" => 1_000_000,
            "1/2" => 500_000,
            _ => 0,
        };
        let lines: Vec<(&str, u32)> =
            ["sci-powder", "scs-needles", "kaolin"].into_iter().zip(row.iter().map(|text| parts(text))).collect();
        run(&index.to_string(), &lines, Some(&result))
    });
    TrialLog::new("Yarn", vec![Response::new("hardness", ResultUnit::Newton).unwrap()], runs.collect()).unwrap()
}

#[test]
fn the_yarn_of_the_textbooks_comes_out() {
    let log = yarn();
    let model = log.fit("hardness", &log.terms(Blend::Quadratic).unwrap()).unwrap();
    let expected = [11.7, 9.4, 16.4, 19.0, 11.4, -9.6];
    for (term, expected) in model.terms().iter().zip(expected) {
        assert!((term.coefficient - expected).abs() < 1e-9, "{term:?}");
        let error = if term.term.contains('*') { 2.608_249 } else { 0.603_692 };
        assert!((term.error - error).abs() < 1e-6, "{term:?}");
    }
    assert!((model.r_squared() - 0.951_356).abs() < 1e-6 && (model.anova()[1].sum_of_squares - 6.56).abs() < 1e-9);
    let page = model.page().text(100);
    assert!(page.contains("sci-powder*kaolin") && page.contains("predicted"), "{page}");
}

#[test]
fn a_model_is_believed_where_fitting_it_again_gives_what_it_says() {
    let log = yarn();
    let model = log.fit("hardness", &log.terms(Blend::Linear).unwrap()).unwrap();
    for notation in [Notation::Json, Notation::Toml] {
        let text = model.write(notation, Materials::Named).unwrap();
        assert_eq!(FittedModel::read(&text, notation).unwrap(), model);
    }
    let text = model.write(Notation::Json, Materials::Named).unwrap();
    let coefficient = text.split("\"coefficient\": ").nth(1).unwrap().split(',').next().unwrap();
    let forged = text.replacen(&format!("\"coefficient\": {coefficient}"), "\"coefficient\": 99", 1);
    assert!(FittedModel::read(&forged, Notation::Json).unwrap_err().is_contradiction());
}

#[test]
fn runs_as_made_and_not_as_planned_are_fitted() {
    // On a line through what was weighed in; through what was planned, 30 and 50 %, there would be something left.
    let made = [(300_000, "30"), (312_000, "31.2"), (500_000, "50"), (489_000, "48.9"), (700_000, "70")];
    let runs = made.iter().enumerate().map(|(index, (kaolin, result))| {
        run(&index.to_string(), &[("sci-powder", 1_000_000 - kaolin), ("kaolin", *kaolin)], Some(result))
    });
    let log =
        TrialLog::new("As made", vec![Response::new("hardness", ResultUnit::Newton).unwrap()], runs.collect()).unwrap();
    let model = log.fit("hardness", &log.terms(Blend::Linear).unwrap()).unwrap();
    assert!((model.terms()[1].coefficient - 100.0).abs() < 1e-9 && model.terms()[0].coefficient.abs() < 1e-9);
    assert!(model.notes().iter().any(|note| note.contains("passes through every result")));
    assert!(model.terms().iter().all(|term| term.t.is_none() && term.p.is_none()));
}

#[test]
fn the_search_says_how_far_it_is_from_the_best() {
    let log = yarn();
    let model = log.fit("hardness", &log.terms(Blend::Quadratic).unwrap()).unwrap();
    let brief = Brief::new("Best", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 5, 80)
        .unwrap()
        .between("scs-needles", 5, 80)
        .unwrap()
        .qs("kaolin")
        .unwrap();
    let end = SearchEnd::default().within(0.001).unwrap();
    let best = brief.best_on(&model, Direction::Maximise, &[], 95, &end).unwrap();
    assert!(best.is_proved && best.gap < 0.0011, "{best:?}");
    let early = brief.best_on(&model, Direction::Maximise, &[], 95, &end.after(2).unwrap()).unwrap();
    assert!(!early.is_proved && early.bound >= best.prediction.value && early.prediction.value <= best.bound);
    assert!(
        SearchEnd::default().within(0.0).is_err()
            && SearchEnd::default().within(f64::NAN).is_err()
            && SearchEnd::default().after(0).is_err()
    );
    assert!(Desirability::larger(3, 3).unwrap_err().is_contradiction() && Desirability::target(1, 1, 2).is_err());
    assert!(brief.most_desirable(&[], &[], 95, &SearchEnd::default()).unwrap_err().is_out_of_range());
}

#[test]
fn hostile_sizes_are_refused_or_done_in_time() {
    let start = Instant::now();
    let hardness = || vec![Response::new("hardness", ResultUnit::Newton).unwrap()];
    let many: Vec<TrialRun> =
        (0..100_000).map(|index| run(&index.to_string(), &[("a", 400_000), ("b", 600_000)], None)).collect();
    assert!(TrialLog::new("Many", hardness(), many).unwrap_err().is_out_of_range());
    let same: Vec<TrialRun> = (0..2000).map(|_| run("same", &[("a", 400_000), ("b", 600_000)], None)).collect();
    assert!(TrialLog::new("Same", hardness(), same).unwrap_err().is_duplicate());
    let lines: Vec<(String, Ppm)> = (0..100_000).map(|index| (format!("line {index}"), Ppm::ZERO)).collect();
    assert!(TrialRun::of_lines("Long", lines).is_err());
    let heading: String = (0..100_000).map(|index| format!("line.{index},")).collect();
    assert!(TrialLog::of_csv("Wide", &format!("{heading}\n"), None, false, &[]).unwrap_err().is_out_of_range());
    let rows: String = (0..100_000).map(|index| format!("{index},100\n")).collect();
    assert!(TrialLog::of_csv("Long", &format!("run,line.a\n{rows}"), None, false, &[]).unwrap_err().is_out_of_range());
    let mixed = (0..100_000).map(|index| (index.to_string(), 1, 1));
    assert!(MixedMicelles::new(mixed).unwrap_err().is_out_of_range());
    let measured = (0..100_000).map(|_| (50, 1));
    assert!(MixedMicelles::fit_interaction(1, 1, measured).unwrap_err().is_out_of_range());
    assert!(start.elapsed().as_secs() < 60, "{:?}", start.elapsed());
}

#[test]
fn what_cannot_be_fitted_says_why() {
    let log = yarn();
    let fewer = TrialLog::new("Few", log.responses().to_vec(), log.runs()[..4].to_vec()).unwrap();
    let fitted = fewer.fit("hardness", &log.terms(Blend::Quadratic).unwrap()).unwrap();
    assert!(
        fitted.aliased().iter().any(|alias| alias.term == "kaolin")
            && fitted.page().text(200).contains("left out, since in every run kaolin = 0")
    );
    let two = [log.runs()[0].clone(), log.runs()[2].clone()];
    let fewer = TrialLog::new("Few", log.responses().to_vec(), two.to_vec()).unwrap();
    let error = fewer.fit("hardness", &log.terms(Blend::Quadratic).unwrap()).unwrap_err();
    assert!(error.is_not_known() && error.to_string().contains("not told apart from others: kaolin = 0"), "{error}");
    let none =
        TrialLog::new("None", log.responses().to_vec(), vec![run("1", &[("sci-powder", 1_000_000)], None)]).unwrap();
    assert!(none.fit("hardness", &Terms::new(["sci-powder"], Blend::Linear).unwrap()).unwrap_err().is_missing());
    let error = log.fit("hardness", &Terms::new(["water"], Blend::Linear).unwrap()).unwrap_err();
    assert!(error.is_unknown_name(), "{error}");
    assert!(log.best_model("hardness", &log.terms(Blend::Linear).unwrap(), Criterion::Aicc).is_ok());
    assert!(
        TrialRun::of_lines("1", vec![("a".to_string(), Ppm::WHOLE)])
            .unwrap()
            .with_result("x", f64::NAN)
            .unwrap_err()
            .is_not_a_number()
    );
    assert!(
        TrialRun::of_lines("1", vec![("a".to_string(), Ppm::WHOLE)])
            .unwrap()
            .with_result("x", Exact::from(i64::MAX))
            .unwrap_err()
            .is_out_of_range()
    );
}
