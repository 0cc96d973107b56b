//! Weights, tests and target fills as pages.

use super::{CheckKind, TargetFill, TestOutcome, WeightCheck, WeightTest, Weights};
use crate::render::{Alignment, Page, Part, Table};

fn figures(rows: &[(&str, String)]) -> Part {
    let mut table = Table::new(&[("", Alignment::Left), ("value", Alignment::Right)]);
    for (name, value) in rows {
        table.push([(*name).to_string(), value.clone()]);
    }
    Part::Table(table)
}

impl Weights {
    /// Mean and spread on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let grams = |value: f64| format!("{value:.3} g");
        let mut rows = vec![
            ("bars weighed", self.words()),
            ("mean", format!("{} g", self.mean().rounded_text(3))),
            ("lightest", format!("{} g", self.lowest().rounded_text(3))),
            ("heaviest", format!("{} g", self.highest().rounded_text(3))),
            ("standard deviation", grams(self.standard_deviation())),
            ("of the mean", format!("{:.2} %", self.relative_standard_deviation())),
        ];
        if let Some((low, high)) = self.mean_interval(95).ok().filter(|_| !self.is_whole()) {
            rows.push(("mean of the batch, 95 % confidence", format!("{low:.3} to {high:.3} g")));
        }
        if !self.drying_loss().is_zero() {
            rows.push(("drying after weighing, counted", format!("{} %", self.drying_loss().normalize())));
        }
        Page::new("Weights of a batch").with(figures(&rows)).section("To know about these", Part::List(self.notes()))
    }
}

impl WeightCheck {
    /// It in words.
    fn row(&self) -> [String; 5] {
        let text = |digits: u32| (self.found.rounded_text(digits), format!("{:.*}", digits as usize, self.limit));
        // A mean that is just too low has the decimals that tell it from the limit.
        let differs = |digits: &u32| self.is_met != Some(false) || text(*digits).0 != text(*digits).1;
        let (name, digits, unit) = match self.kind {
            CheckKind::Mean => ("mean, at least", (3..9).find(differs).unwrap_or(9), "g"),
            CheckKind::Short => ("short bars, at most", 0, ""),
            CheckKind::FarShort => ("far short bars, at most", 0, ""),
        };
        let holds = match self.is_met {
            Some(true) => "holds",
            Some(false) => "does not hold",
            None => "too few weighed",
        };
        let (found, limit) = text(digits);
        let with_unit = |number: String| format!("{number} {unit}").trim_end().to_string();
        [name.to_string(), self.packages.to_string(), with_unit(found), with_unit(limit), holds.to_string()]
    }
}

impl WeightTest {
    /// Checks and outcome on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let outcome = match self.outcome() {
            TestOutcome::Accepted => "accepted by the plan",
            TestOutcome::Rejected => "rejected by the plan",
            TestOutcome::SecondSample => "open: the second sample decides",
            TestOutcome::NoTest => "no test: too few bars were weighed",
        };
        let right = Alignment::Right;
        let mut table = Table::new(&[
            ("check", Alignment::Left),
            ("bars", right),
            ("found", right),
            ("limit", right),
            ("", Alignment::Left),
        ]);
        for check in self.checks() {
            table.push(check.row());
        }
        let mut figures_of = vec![
            ("bars weighed", self.weights().words()),
            ("tolerable shortfall of one", format!("{} g", self.tolerable_shortfall())),
        ];
        if let Some((index, error)) = self.capability() {
            figures_of.push(("capability above T1", format!("{index:.2} (standard error {error:.2})")));
        }
        Page::new(&format!("Net content of {} in the {}: {outcome}", self.nominal(), self.market()))
            .with(Part::Text(self.plan()))
            .with(Part::Table(table))
            .with(figures(&figures_of))
            .section("To know about these", Part::List(self.notes()))
            .section("Where the rules come from", Part::List(self.sources().map(str::to_string).to_vec()))
    }
}

impl TargetFill {
    /// The fill and its rates on one page.
    #[must_use]
    pub fn page(&self) -> Page {
        let rates = self.rates();
        let percent = |rate: f64| format!("{:.3} %", rate * 100.0);
        let mut rows = vec![
            ("mean to fill to", format!("{} g", self.fill().rounded_text(2))),
            ("mean that drying leaves", format!("{:.3} g", rates.net)),
            ("standard deviation as weighed", self.standard_deviation().to_string()),
            ("bars of a batch", self.bars().to_string()),
            ("drying after weighing", format!("{} %", self.drying_loss().normalize())),
            ("mean accepted", percent(rates.mean)),
            ("number of short bars accepted", percent(rates.short)),
        ];
        if let Some(rate) = rates.far_short {
            rows.push(("no bar of the batch far short", percent(rate)));
        }
        rows.push(("all of it, at least", percent(rates.at_least)));
        rows.push(("all of it, at most", percent(rates.at_most)));
        Page::new(&format!("Fill for a net content of {} in the {}", self.nominal(), self.market()))
            .with(figures(&rows))
            .section("To know about these", Part::List(self.notes()))
            .section("Where the rules come from", Part::List(self.sources().map(str::to_string).to_vec()))
    }
}
