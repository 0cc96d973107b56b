//! Models of trials from outside: the yarn of the textbooks, documents that are not believed, hostile sizes.

use std::time::Instant;

use tenside::brief::{Brief, Direction};
use tenside::catalogue::Catalogue;
use tenside::document::{Materials, Notation, ResultDocument};
use tenside::number::{Exact, Ppm};
use tenside::trial::{
    BestOnModel, Blend, Criterion, Crossing, Desirability, FittedModel, MixedMicelles, ModelChoice, ProcessOrder,
    ProcessVariable, Response, ResultUnit, SearchEnd, Terms, TrialLog, TrialRun,
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
    let anova = model.anova();
    let row = |source: &str| anova.iter().find(|row| row.source == source).unwrap();
    let residual = row("residual");
    assert!((model.r_squared() - 0.951_356).abs() < 1e-6 && (residual.sum_of_squares - 6.56).abs() < 1e-9);
    // The linear step is the fit of the linear model, the quadratic one what is gained beyond it.
    let linear = log.fit("hardness", &log.terms(Blend::Linear).unwrap()).unwrap();
    let of_linear = linear.anova();
    assert!((row("blend, linear").sum_of_squares - of_linear[0].sum_of_squares).abs() < 1e-9);
    let gained = of_linear.iter().find(|row| row.source == "residual").unwrap().sum_of_squares - 6.56;
    assert!((row("blend, quadratic").sum_of_squares - gained).abs() < 1e-9);
    assert_eq!((row("blend, linear").degrees_of_freedom, row("blend, quadratic").degrees_of_freedom), (2, 3));
    assert_eq!(of_linear.iter().map(|row| row.source).collect::<Vec<_>>()[..2], ["model", "residual"]);
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

/// Ten bars in four whole plots, at two forces: invented.
fn pressed(ratio: Option<&str>) -> Result<FittedModel, tenside::Error> {
    let bars = [
        ("a", 10, 30, "31.2"),
        ("a", 10, 70, "40.9"),
        ("a", 10, 50, "37.0"),
        ("b", 40, 30, "38.8"),
        ("b", 40, 70, "47.1"),
        ("c", 10, 30, "28.7"),
        ("c", 10, 70, "38.8"),
        ("d", 40, 30, "41.9"),
        ("d", 40, 50, "47.2"),
        ("d", 40, 70, "50.3"),
    ];
    let runs = bars.iter().enumerate().map(|(index, (plot, force, kaolin, result))| {
        let lines = [("sci-powder", 1_000_000 - kaolin * 10_000), ("kaolin", kaolin * 10_000)];
        let run = run(&index.to_string(), &lines, Some(result)).with_setting("force", *force).unwrap();
        run.in_whole_plot(plot).unwrap()
    });
    let responses = vec![Response::new("hardness", ResultUnit::Newton).unwrap()];
    let log = TrialLog::new("Pressed", responses, runs.collect()).unwrap();
    assert_eq!(TrialLog::of_csv("Pressed", &log.to_csv().unwrap(), None, false, &[]).unwrap(), log);
    let force = ProcessVariable::new("force", "kN", 10, 40).unwrap();
    let terms = Terms::new(["sci-powder", "kaolin"], Blend::Linear).unwrap();
    let terms = terms.with_process([force], ProcessOrder::Linear, Crossing::Added).unwrap();
    log.fit("hardness", &ratio.map_or(Ok(terms.clone()), |ratio| terms.with_whole_plots(ratio))?)
}

/// The inverse of a small regular matrix.
fn inverse(matrix: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let size = matrix.len();
    let mut both: Vec<Vec<f64>> = matrix
        .iter()
        .enumerate()
        .map(|(row, of)| of.iter().copied().chain((0..size).map(|column| f64::from(u8::from(row == column)))).collect())
        .collect();
    for column in 0..size {
        let pivot = (column..size).max_by(|a, b| both[*a][column].abs().total_cmp(&both[*b][column].abs())).unwrap();
        both.swap(column, pivot);
        let scale = both[column][column];
        both[column].iter_mut().for_each(|value| *value /= scale);
        let own = both[column].clone();
        for (_, of) in both.iter_mut().enumerate().filter(|(row, _)| *row != column) {
            let factor = of[column];
            of.iter_mut().zip(&own).for_each(|(value, own)| *value -= factor * own);
        }
    }
    both.into_iter().map(|row| row[size..].to_vec()).collect()
}

#[test]
fn whole_plots_are_fitted_by_generalised_least_squares() {
    let model = pressed(Some("1.5")).unwrap();
    // By the textbook: b = (X' V^-1 X)^-1 X' V^-1 y, with V written out.
    let runs = model.log().runs();
    let rows: Vec<[f64; 3]> = runs
        .iter()
        .map(|run| {
            let kaolin = run.lines()[1].1.share().to_f64();
            [1.0 - kaolin, kaolin, (run.settings()[0].1.to_f64() - 25.0) / 15.0]
        })
        .collect();
    let y: Vec<f64> = runs.iter().map(|run| run.results()[0].1.to_f64()).collect();
    let covariance = |left: usize, right: usize| {
        f64::from(u8::from(left == right)) + if runs[left].whole_plot() == runs[right].whole_plot() { 1.5 } else { 0.0 }
    };
    let v: Vec<Vec<f64>> = (0..10).map(|left| (0..10).map(|right| covariance(left, right)).collect()).collect();
    let weights = inverse(&v);
    let form = |left: &dyn Fn(usize) -> f64, right: &dyn Fn(usize) -> f64| -> f64 {
        (0..100).map(|of| left(of / 10) * weights[of / 10][of % 10] * right(of % 10)).sum()
    };
    let information: Vec<Vec<f64>> =
        (0..3).map(|i| (0..3).map(|j| form(&|run| rows[run][i], &|run| rows[run][j])).collect()).collect();
    let spread = inverse(&information);
    let moments: Vec<f64> = (0..3).map(|i| form(&|run| rows[run][i], &|run| y[run])).collect();
    let b: Vec<f64> = (0..3).map(|i| (0..3).map(|j| spread[i][j] * moments[j]).sum()).collect();
    let left = |run: usize| y[run] - (0..3).map(|term| rows[run][term] * b[term]).sum::<f64>();
    let variance = form(&left, &left) / 7.0;
    for (place, term) in model.terms().iter().enumerate() {
        assert!((term.coefficient - b[place]).abs() < 1e-9 * b[place].abs(), "{term:?} for {}", b[place]);
        assert!((term.error - (variance * spread[place][place]).sqrt()).abs() < 1e-9, "{term:?}");
    }
    for (place, run) in model.runs().iter().enumerate() {
        assert!((run.residual - left(place)).abs() < 1e-9 && run.cook.is_none());
    }
    // What is changed between whole plots alone is known worse than single runs would make believe, and the mixture,
    // which is changed inside them, better.
    let alone = pressed(None).unwrap();
    assert!(model.terms()[2].error > alone.terms()[2].error, "{:?} {:?}", model.terms(), alone.terms());
    assert!(alone.notes().iter().any(|note| note.contains("does not see")));
    assert!(model.notes().iter().any(|note| note.contains("1.5 times")));
    assert!(model.lack_of_fit().is_none() && model.press().is_none());
    let text = model.write(Notation::Json, Materials::Named).unwrap();
    assert_eq!(FittedModel::read(&text, Notation::Json).unwrap(), model);
    assert!(pressed(Some("0")).unwrap_err().is_out_of_range());
    let loose = yarn();
    let terms = loose.terms(Blend::Linear).unwrap().with_whole_plots(1).unwrap();
    let error = loose.fit("hardness", &terms).unwrap_err();
    assert!(error.is_missing() && error.to_string().contains("in no whole plot"), "{error}");
}

#[test]
fn choices_bests_and_micelles_leave_as_documents_and_are_asked_again() {
    let log = yarn();
    let choice = log.best_model("hardness", &log.terms(Blend::Linear).unwrap(), Criterion::Aicc).unwrap();
    let model = log.fit("hardness", &log.terms(Blend::Quadratic).unwrap()).unwrap();
    let catalogue = Catalogue::starter();
    let brief = Brief::new("Best", &catalogue).unwrap();
    let brief =
        brief.between("sci-powder", 5, 80).unwrap().between("scs-needles", 5, 80).unwrap().qs("kaolin").unwrap();
    let end = SearchEnd::default().within(0.01).unwrap();
    let best = brief.best_on(&model, Direction::Maximise, &[], 95, &end).unwrap();
    let mixed = MixedMicelles::new([("SDS", "1.5", "8.2"), ("C12E8", "1", "0.11")]).unwrap();
    let mixed = mixed.with_interaction("C12E8", "SDS", "-3.9").unwrap();
    for notation in [Notation::Json, Notation::Toml] {
        let text = choice.write(notation, Materials::Named).unwrap();
        assert_eq!(ModelChoice::read(&text, notation).unwrap(), choice);
        let text = best.write(notation, Materials::Embedded).unwrap();
        assert_eq!(BestOnModel::read(&text, notation, &catalogue).unwrap(), best);
        let text = mixed.write(notation, Materials::Named).unwrap();
        assert_eq!(MixedMicelles::read(&text, notation).unwrap(), mixed);
    }
    let forged = |text: String, from: &str, to: &str| {
        assert!(text.contains(from), "{text}");
        text.replacen(from, to, 1)
    };
    let text = mixed.write(Notation::Json, Materials::Named).unwrap();
    let error = MixedMicelles::read(&forged(text, "\"cmc\": 0.", "\"cmc\": 1."), Notation::Json).unwrap_err();
    assert!(error.is_contradiction(), "{error}");
    let text = best.write(Notation::Json, Materials::Named).unwrap();
    let error =
        BestOnModel::read(&forged(text, "\"is_proved\": true", "\"is_proved\": false"), Notation::Json, &catalogue);
    assert!(error.unwrap_err().is_contradiction());
    let text = choice.write(Notation::Json, Materials::Named).unwrap();
    let other = if choice.criterion == Criterion::Aicc { "PRESS" } else { "AICc" };
    let error = ModelChoice::read(&forged(text, "\"AICc\"", &format!("\"{other}\"")), Notation::Json);
    assert!(error.unwrap_err().is_contradiction());
}
