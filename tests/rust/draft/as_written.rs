//! Recipes as people write them: what each line is read as, what is asked, what comes of the answers.

use serde::Deserialize;
use tenside::catalogue::Catalogue;
use tenside::formula::{Answer, Draft, DraftLine, LineRole, QuestionId};

use super::round_trip;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Corpus {
    #[serde(rename = "source")]
    _source: String,
    recipe: Vec<Recipe>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Recipe {
    title: String,
    text: String,
    lines: Vec<String>,
    questions: Vec<String>,
    #[serde(default)]
    offered: Vec<String>,
    #[serde(default)]
    answers: Vec<String>,
    formula: Option<Vec<String>>,
    #[serde(default)]
    open: Vec<String>,
}

fn corpus() -> Vec<Recipe> {
    toml::from_str::<Corpus>(include_str!("../../data/recipes_as_written.toml")).unwrap().recipe
}

fn told(line: &DraftLine) -> String {
    let mut marks = String::new();
    for (marked, mark) in [(line.is_optional(), " optional"), (line.is_method_only(), " method")] {
        marks.push_str(if marked { mark } else { "" });
    }
    let cells = [
        line.item(),
        line.amount().unwrap_or_default(),
        line.phase().unwrap_or_default(),
        line.lot().unwrap_or_default(),
    ]
    .join(" | ");
    format!("{} | {cells}{marks}", line.role()).trim_end_matches([' ', '|']).to_string()
}

fn ids(draft: &Draft) -> Vec<String> {
    draft.questions(&Catalogue::starter()).iter().map(|question| question.id.to_string()).collect()
}

#[test]
fn every_recipe_is_read_as_it_is_meant() {
    let catalogue = Catalogue::starter();
    let recipes = corpus();
    assert!(recipes.len() >= 60, "{}", recipes.len());
    for recipe in recipes {
        let title = &recipe.title;
        let mut draft = Draft::from_text(title, &recipe.text).unwrap();
        assert_eq!(draft.lines().iter().map(told).collect::<Vec<_>>(), recipe.lines, "{title}");
        assert_eq!(ids(&draft), recipe.questions, "{title}");
        let questions = draft.questions(&catalogue);
        let offered = questions.iter().flat_map(|question| {
            question.choices.iter().filter_map(move |choice| match &choice.answer {
                Answer::Material(id) => Some(format!("{} {id}", question.id)),
                _ => None,
            })
        });
        assert_eq!(offered.collect::<Vec<_>>(), recipe.offered, "{title}");
        for answer in &recipe.answers {
            let (id, given) = answer.split_once(" = ").unwrap();
            let id: QuestionId = id.parse().unwrap();
            let open = draft.questions(&catalogue);
            let question =
                open.iter().find(|question| question.id == id).unwrap_or_else(|| panic!("{title}: {id} is not open"));
            let answer = match given.parse::<usize>() {
                Ok(number) => question.choice(number).unwrap().answer.clone(),
                Err(_) => Answer::read(id, given).unwrap(),
            };
            draft = draft.answer(id, answer).unwrap();
        }
        assert_eq!(ids(&draft), recipe.open, "{title}");
        let settled = draft.settle(&catalogue).ok();
        let lines = settled.map(|settled| {
            settled.formula.lines().iter().map(|line| format!("{} {}", line.name(), line.percent())).collect::<Vec<_>>()
        });
        assert_eq!(lines, recipe.formula, "{title}");
        round_trip(&draft);
    }
}

#[test]
fn a_recipe_costs_one_answer_an_open_question() {
    // Rounds come only of answers that open something: a line that counts after all needs its amount.
    for recipe in corpus().iter().filter(|recipe| recipe.formula.is_some()) {
        assert_eq!(recipe.answers.len(), recipe.questions.len(), "{}", recipe.title);
    }
}

#[test]
fn every_question_can_be_answered() {
    for recipe in corpus() {
        let draft = Draft::from_text(&recipe.title, &recipe.text).unwrap();
        for question in draft.questions(&Catalogue::starter()) {
            assert!(question.call().contains('('), "{}", question.id);
            assert!(question.to_string().contains(&question.call()), "{question}");
            let text = question.page().text(100);
            assert!(
                question.choices.iter().enumerate().all(|(number, _)| text.contains(&format!("- {number}: "))),
                "{text}"
            );
        }
    }
}

#[test]
fn every_line_stands_on_the_page() {
    for recipe in corpus() {
        let draft = Draft::from_text(&recipe.title, &recipe.text).unwrap();
        let text = draft.page(Some(&Catalogue::starter())).markdown();
        for number in 1..=draft.lines().len() {
            assert!(text.contains(&format!("| {number} |")), "{number}: {text}");
        }
        let remarks = draft.lines().iter().filter(|line| line.role() != LineRole::Material).count();
        assert_eq!(remarks, recipe.lines.iter().filter(|line| !line.starts_with("material")).count());
    }
}
