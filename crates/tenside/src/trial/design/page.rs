//! A design as a page.

use super::{Design, DesignKind};
use crate::number::Exact;
use crate::render::{Alignment, Page, Part, Table};

/// A share as a percentage that is not above it: `97.3 %`.
fn at_least(share: f64) -> String {
    format!("{:.1} %", (share * 1000.0).floor() / 10.0)
}

impl Design {
    /// What the efficiency says, in a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let (what, beside) = match self.kind() {
            DesignKind::IOptimal => ("I-efficient", "have an average variance that is smaller"),
            _ => ("D-efficient", "have a determinant of which the root is greater"),
        };
        let place = if self.bound_holds_everywhere() {
            "wherever they lie in the region".to_string()
        } else {
            let kinds: Vec<String> = self.candidates.iter().map(|(kind, count)| format!("{count} {kind}")).collect();
            format!("among these candidates: {}", kinds.join(", "))
        };
        let place = match self.terms.whole_plot_ratio() {
            Some(ratio) => format!(
                "{place}, each combination of settings one whole plot in a block, whose variance is {ratio} times that \
                 of a run"
            ),
            None => place,
        };
        format!(
            "At least {} {what}: no other {} runs for these {} terms can {beside} by more than a factor of {:.3}, \
             {place}.",
            at_least(self.efficiency),
            self.runs.len(),
            self.terms.len(),
            (1000.0 / self.efficiency).ceil() / 1000.0
        )
    }

    /// The runs, how good they are, and what they rest on.
    #[must_use]
    pub fn page(&self) -> Page {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let names: Vec<&str> = self.brief.lines().iter().map(crate::brief::BriefLine::name).collect();
        let process: Vec<String> = self
            .terms
            .process()
            .iter()
            .map(|variable| {
                if variable.unit().is_empty() {
                    variable.name().to_string()
                } else {
                    format!("{}, {}", variable.name(), variable.unit())
                }
            })
            .collect();
        let mut columns: Vec<(&str, Alignment)> = vec![("run", right)];
        if self.request.blocks > 1 {
            columns.push(("block", right));
        }
        if self.terms.whole_plot_ratio().is_some() {
            columns.push(("whole plot", right));
        }
        columns.push(("point", left));
        columns.extend(process.iter().map(|name| (name.as_str(), right)));
        columns.extend(names.iter().map(|name| (*name, right)));
        let mut table = Table::new(&columns);
        for run in &self.runs {
            let mut row = vec![run.number.to_string()];
            if self.request.blocks > 1 {
                row.push(run.block.to_string());
            }
            row.extend(run.whole_plot.map(|whole_plot| whole_plot.to_string()));
            row.push(run.kind.to_string());
            row.extend(run.settings.iter().map(Exact::to_string));
            row.extend(run.formula.lines().iter().map(|line| line.percent().percent().rounded_text(2)));
            table.push(row);
        }
        let mut notes = vec![self.sentence()];
        notes.push(match self.efficiency_as_rounded {
            Some(share) => format!("On the grid of 0.0001 %: at least {}.", at_least(share)),
            None => "On the grid of 0.0001 % the runs no longer determine every term.".to_string(),
        });
        if let Some(share) = self.block_efficiency {
            notes.push(format!("Blocks leave {} of that.", at_least(share)));
        }
        if self.kind() == DesignKind::IOptimal {
            notes.push("The variance is averaged over 2048 mixtures drawn evenly from the region.".to_string());
        }
        if let Some(ratio) = self.terms.whole_plot_ratio() {
            notes.push(format!(
                "Settings change from one whole plot to the next alone. Say the whole plot of every run in the log, \
                 and fit with the same ratio of {ratio}: what settings do rests on as many whole plots, not runs."
            ));
        }
        if !self.request.made.is_empty() {
            notes.push(format!(
                "Goes on from {} bars made already, which count in the efficiency.",
                self.request.made.len()
            ));
        }
        notes.push(
            "Make the runs in this order. Review every formula before it is made: a design knows no rules beyond the \
             brief."
                .to_string(),
        );
        Page::new(&format!("{}: design, {}, {} model", self.brief.title(), self.kind(), self.terms.blend()))
            .with(Part::Text(format!("Terms: {}.", self.terms.names().join(", "))))
            .section("Runs, in % w/w", Part::Table(table))
            .section("To know about these", Part::List(notes))
    }
}
