//! A fitted model and a choice of models as pages.

use super::{FittedModel, ModelChoice};
use crate::render::{Alignment, Page, Part, Table};

/// Five digits, plainly where that is readable.
pub(in crate::trial) fn digits(value: f64) -> String {
    if value == 0.0 {
        return "0".to_string();
    }
    let size = value.abs().log10().floor();
    if !(-4.0..7.0).contains(&size) {
        return format!("{value:.4e}");
    }
    let places = (4.0 - size).max(0.0) as usize;
    format!("{value:.places$}")
}

fn maybe(value: Option<f64>) -> String {
    value.map_or_else(|| "none".to_string(), digits)
}

fn probability(p: Option<f64>) -> String {
    match p {
        None => "none".to_string(),
        Some(p) if p < 1e-4 => "< 0.0001".to_string(),
        Some(p) => format!("{p:.4}"),
    }
}

impl FittedModel {
    /// Coefficients, analysis of variance and what to know on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let mut terms = Table::new(&[
            ("term", Alignment::Left),
            ("coefficient", right),
            ("standard error", right),
            ("t", right),
            ("p", right),
        ]);
        for term in self.terms() {
            terms.push([
                term.term.clone(),
                digits(term.coefficient),
                digits(term.error),
                maybe(term.t),
                probability(term.p),
            ]);
        }
        let columns = [
            ("source", Alignment::Left),
            ("degrees of freedom", right),
            ("sum of squares", right),
            ("mean square", right),
            ("F", right),
            ("p", right),
        ];
        let mut anova = Table::new(&columns);
        for row in self.anova() {
            let tested = |text: String| if row.f.is_some() { text } else { String::new() };
            anova.push([
                row.source.to_string(),
                row.degrees_of_freedom.to_string(),
                digits(row.sum_of_squares),
                row.mean_square.filter(|_| row.source != "total").map_or_else(String::new, digits),
                tested(maybe(row.f)),
                tested(probability(row.p)),
            ]);
        }
        let said = format!(
            "A {} model of {}, fitted to {} results. A result lies about {} {} from it ({} degrees of freedom). \
             R-squared {:.4}, adjusted {:.4}, predicted {}.",
            self.model.blend(),
            self.response.heading(),
            self.results(),
            digits(self.residual_deviation()),
            self.response.unit(),
            self.degrees_of_freedom(),
            self.r_squared(),
            self.adjusted(),
            self.predicted().map_or_else(|| "none".to_string(), |predicted| format!("{predicted:.4}")),
        );
        let mut runs = Table::new(&[
            ("run", Alignment::Left),
            ("measured", right),
            ("fitted", right),
            ("residual", right),
            ("leverage", right),
            ("studentised", right),
            ("Cook's distance", right),
        ]);
        for run in self.runs() {
            runs.push([
                run.run.clone(),
                digits(run.measured),
                digits(run.fitted),
                digits(run.residual),
                format!("{:.4}", run.leverage),
                maybe(run.studentised),
                maybe(run.cook),
            ]);
        }
        Page::new(&format!("{}: {}", self.log.title(), self.response.heading()))
            .with(Part::Text(said))
            .section("Coefficients", Part::Table(terms))
            .section("Analysis of variance", Part::Table(anova))
            .section("Runs", Part::Table(runs))
            .section("To know about these", Part::List(self.notes()))
    }
}

impl ModelChoice {
    /// The models that were tried on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let right = Alignment::Right;
        let criterion = self.criterion.to_string();
        let columns = [
            ("model", Alignment::Left),
            ("terms", right),
            (criterion.as_str(), right),
            ("predicted R-squared", right),
            ("residual deviation", right),
            ("why not", Alignment::Left),
        ];
        let mut table = Table::new(&columns);
        for candidate in &self.candidates {
            table.push([
                candidate.blend.to_string(),
                candidate.terms.to_string(),
                maybe(candidate.value),
                maybe(candidate.predicted),
                maybe(candidate.residual_deviation),
                candidate.refused.clone().unwrap_or_default(),
            ]);
        }
        let said = format!(
            "{} by the least {criterion}. The same results chose it and judge it, so that it looks better than it is: \
             check it by further runs.",
            self.best.model().blend()
        );
        Page::new(&format!("Models of {}", self.best.response().heading()))
            .with(Part::Text(said))
            .with(Part::Table(table))
    }
}
