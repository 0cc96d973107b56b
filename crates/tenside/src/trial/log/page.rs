//! A log as a page.

use super::{LogCell, Response, TrialLog};
use crate::render::{Alignment, Page, Part, Table};

impl TrialLog {
    /// The log as a page: how each property is measured, and the runs.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut methods = Table::new(&[
            ("property", Alignment::Left),
            ("unit", Alignment::Left),
            ("scale", Alignment::Left),
            ("method", Alignment::Left),
            ("results", Alignment::Right),
        ]);
        for response in &self.responses {
            let results = self.runs.iter().filter(|run| run.result(response.name()).is_some()).count();
            let method = response.method().unwrap_or("not stated").to_string();
            methods.push([
                response.name().to_string(),
                response.unit().to_string(),
                response.scale().to_string(),
                method,
                format!("{results} of {}", self.runs.len()),
            ]);
        }
        let columns = self.to_columns();
        let heads: Vec<(&str, Alignment)> = columns
            .iter()
            .map(|(heading, cells)| {
                (
                    heading.as_str(),
                    if cells.iter().any(|cell| matches!(cell, LogCell::Text(_))) {
                        Alignment::Left
                    } else {
                        Alignment::Right
                    },
                )
            })
            .collect();
        let mut table = Table::new(&heads);
        for row in 0..self.runs.len() {
            table.push(columns.iter().map(|(_, cells)| match cells.get(row) {
                Some(LogCell::Number(number)) => number.to_string(),
                Some(LogCell::Text(text)) => text.clone(),
                _ => "not measured".to_string(),
            }));
        }
        let ordered: Vec<&str> = self
            .responses
            .iter()
            .filter(|response| response.scale() == super::ResponseScale::Ordered)
            .map(Response::name)
            .collect();
        let notes = if ordered.is_empty() {
            Vec::new()
        } else {
            vec![format!(
                "{}: ordered categories; look at their ranks, and take means and models with care",
                ordered.join(", ")
            )]
        };
        Page::new(&self.title)
            .with(Part::Table(methods))
            .section("Runs", Part::Table(table))
            .section("To know about these", Part::List(notes))
    }
}
