//! A rescue as a page.

use super::super::sheet::advice_on;
use super::{Rescue, Verdict};
use crate::brief::BriefLine;
use crate::formula::Phase;
use crate::render::{Alignment, Page, Part, Table};

impl Rescue {
    /// What to mind with what is added.
    fn cautions(&self) -> Vec<String> {
        let target = self.target();
        let lines: Vec<&BriefLine> = self
            .additions()
            .iter()
            .filter_map(|added| target.lines().iter().find(|line| line.name() == added.line))
            .collect();
        let weighed: Vec<_> = lines.iter().map(|line| (line.name().to_string(), line.material().as_ref())).collect();
        let phases = target.phases();
        let phases: Vec<&Phase> =
            phases.iter().filter(|phase| lines.iter().any(|line| line.phase() == phase.name())).collect();
        advice_on(&weighed, &phases).iter().map(ToString::to_string).collect()
    }

    /// What to add, what is not met, and what it rests on.
    #[must_use]
    pub fn page(&self) -> Page {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let mut adds = Table::new(&[("add", left), ("g", right), ("exactly g", right)]);
        for added in self.additions() {
            adds.push([added.line.clone(), added.mass.grams().rounded_text(2), added.exact.grams().rounded_text(4)]);
        }
        let mut missed =
            Table::new(&[("not met", left), ("is", right), ("should be", right), ("", left), ("because", left)]);
        for shortfall in self.shortfalls() {
            let value = shortfall.value.as_ref().map_or_else(|| "not known".to_string(), |value| value.rounded_text(4));
            let why = if shortfall.is_rounding { "of the scale" } else { "of bowl or stock" };
            missed.push([
                shortfall.asked.clone(),
                value,
                shortfall.limit.rounded_text(4),
                shortfall.unit.clone(),
                why.to_string(),
            ]);
        }
        let mut notes = vec![
            "What is in the bowl is taken as mixed, and as weighed; typical compositions unless a requirement says \
             otherwise."
                .to_string(),
        ];
        let unstated: Vec<&str> = self
            .additions()
            .iter()
            .map(|added| added.line.as_str())
            .filter(|line| !self.means().stock.contains_key(*line))
            .collect();
        if !unstated.is_empty() {
            notes.push(format!(
                "How much is left of these is not stated, and counts as enough: {}.",
                unstated.join(", ")
            ));
        }
        if self.verdict() != Verdict::ThrowAway {
            notes.push(
                "Proved of the exact masses: no smaller total meets as much. Review and label what comes of it anew."
                    .to_string(),
            );
        }
        Page::new(&format!("{}: rescue", self.target().title()))
            .with(Part::Text(self.sentence()))
            .section("Before you start", Part::List(self.cautions()))
            .section("Add", Part::Table(adds))
            .section("Not met", Part::Table(missed))
            .section("To know about these", Part::List(notes))
    }
}
