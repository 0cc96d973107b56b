//! The best formulas on models as pages.

use super::{BestOnModel, MostDesirable};
use crate::brief::Direction;
use crate::formula::Formula;
use crate::material::DRAFT;
use crate::render::{Alignment, Page, Part, Table};
use crate::trial::model::{Prediction, digits};

fn lines(formula: &Formula) -> Table {
    let mut table = Table::new(&[("line", Alignment::Left), ("% w/w", Alignment::Right)]);
    for line in formula.lines() {
        table.push([line.name().to_string(), line.percent().percent().to_string()]);
    }
    table
}

fn outside(prediction: &Prediction) -> Option<String> {
    prediction
        .is_extrapolation
        .then(|| "the formula is further out than every run: the model was not checked there".to_string())
}

fn cautions(is_proved: bool) -> Vec<String> {
    let mut notes = vec![
        "the best of a model is a formula to make next, not a result: make it, and see whether it lies in its \
         prediction interval"
            .to_string(),
    ];
    if !is_proved {
        notes.push("the search ended before bound and value met: a better formula may be left".to_string());
    }
    notes
}

impl BestOnModel {
    /// The formula and what the model says of it on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let best = if self.direction == Direction::Maximise { "greatest" } else { "least" };
        let said = format!(
            "{}: {} (prediction interval {} to {}). By the model no formula of the brief is better than {}: this one \
             is within {} of the {best}.",
            self.response,
            digits(self.prediction.value),
            digits(self.prediction.low),
            digits(self.prediction.high),
            digits(self.bound),
            digits(self.gap)
        );
        let mut notes = cautions(self.is_proved);
        notes.extend(outside(&self.prediction));
        let page = Page::new(&format!("The {best} {}", self.response))
            .with(Part::Text(said))
            .with(Part::Table(lines(&self.formula)));
        let page = if self.formula.is_draft() { page.mark(DRAFT) } else { page };
        page.section("To know about these", Part::List(notes))
    }
}

impl MostDesirable {
    /// The formula and what the models say of it on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let mut table = Table::new(&[
            ("property", Alignment::Left),
            ("predicted", right),
            ("prediction interval", right),
            ("desirability", right),
        ]);
        for response in &self.responses {
            let prediction = &response.prediction;
            let interval = format!("{} to {}", digits(prediction.low), digits(prediction.high));
            table.push([
                response.response.clone(),
                digits(prediction.value),
                interval,
                format!("{:.4}", response.desirability),
            ]);
        }
        let said = format!(
            "Desirability {:.4}; by the models no formula of the brief is above {:.4}.",
            self.desirability, self.bound
        );
        let mut notes = cautions(self.is_proved);
        notes.extend(self.responses.iter().find_map(|response| outside(&response.prediction)));
        let page = Page::new("The most desirable formula")
            .with(Part::Text(said))
            .with(Part::Table(table))
            .with(Part::Table(lines(&self.formula)));
        let page = if self.formula.is_draft() { page.mark(DRAFT) } else { page };
        page.section("To know about these", Part::List(notes))
    }
}
