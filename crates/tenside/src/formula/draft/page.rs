//! A draft as a page: what was read from each line, and what is open.

use super::survey::survey;
use super::temperature;
use super::{Draft, DraftLine, LineRole};
use crate::catalogue::Catalogue;
use crate::render::{Alignment, Page, Part, Table};

impl Draft {
    /// What was read from which line; with a catalogue also the raw materials that are certain, what came of comparing
    /// totals, and every open question with its choices.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::Draft;
    /// let draft = Draft::from_text("Pasted bar", "Phase A\nSCI powder - 60 %\nmoon dust - 40 %\nTotal 100 %")?;
    /// let text = draft.page(Some(&Catalogue::starter())).text(120);
    /// assert!(text.contains("sci-powder") && text.contains("as it says") && text.contains("unknown-material@3"), "{text}");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn page(&self, catalogue: Option<&Catalogue>) -> Page {
        let surveyed = catalogue.map(|catalogue| survey(self, catalogue));
        let left = |name: &'static str| (name, Alignment::Left);
        let mut table = Table::new(&[
            ("line", Alignment::Right),
            left("written"),
            left("read as"),
            left("raw material"),
            left("amount"),
            left("phase"),
            left("remarks"),
        ]);
        for (line, number) in self.lines.iter().zip(1..) {
            let known = surveyed.as_ref().and_then(|surveyed| surveyed.materials.get(&number));
            let counts = line.role() == LineRole::Material;
            let name = match known {
                Some(material) => material.id().to_string(),
                None if counts => line.current_item(),
                None => String::new(),
            };
            let written = line
                .written()
                .map_or_else(|| format!("{} {}", line.item(), line.amount().unwrap_or_default()), str::to_string);
            let remark = surveyed.as_ref().and_then(|surveyed| surveyed.remarks.get(&number)).cloned();
            let remark = remark
                .or_else(|| (surveyed.is_some() && line.role() == LineRole::Total).then(|| "not compared".to_string()));
            let temperature = self.phase_named_in(line).and_then(temperature::of).map(|stated| stated.remark());
            let remarks: Vec<String> = remarks(line).into_iter().chain(temperature).chain(remark).collect();
            table.push([
                number.to_string(),
                written.trim().to_string(),
                line.role().to_string(),
                name,
                line.current_amount().to_string(),
                if counts { line.phase().unwrap_or_default().to_string() } else { String::new() },
                remarks.join("; "),
            ]);
        }
        let page = Page::new(self.title()).with(Part::Table(table));
        let Some(surveyed) = surveyed else {
            return page.with(Part::Text("Names are looked up and questions asked with a catalogue.".to_string()));
        };
        if surveyed.questions.is_empty() {
            return page.with(Part::Text("No question is open.".to_string()));
        }
        let count = surveyed.questions.len();
        let mut page = page.with(Part::Heading(format!("{count} open question{}", if count == 1 { "" } else { "s" })));
        for question in &surveyed.questions {
            let asked = format!("{} \u{2013} {}: {}", question.id, question.place, question.message);
            page = page.with(Part::Text(asked)).with(Part::List(question.lines()));
        }
        page
    }

    /// The phase that a line names: by being its heading, or in a cell of its own.
    fn phase_named_in<'d>(&self, line: &'d DraftLine) -> Option<&'d str> {
        let headed =
            |phase: &str| self.lines.iter().any(|line| line.role() == LineRole::Heading && line.item() == phase);
        match line.role() {
            LineRole::Heading => Some(line.item()),
            LineRole::Material => line.phase().filter(|phase| !headed(phase)),
            LineRole::Columns | LineRole::Total | LineRole::Comment => None,
        }
    }
}

fn remarks(line: &DraftLine) -> Vec<String> {
    let mut remarks = Vec::new();
    let mut remark = |so: bool, text: String| {
        if so {
            remarks.push(text);
        }
    };
    remark(line.is_dropped(), "left out".to_string());
    remark(line.says_optional(), "optional".to_string());
    remark(line.is_method_only(), "in the method".to_string());
    if let Some(lot) = line.lot() {
        remark(true, format!("lot {lot}"));
    }
    remark(line.role() == LineRole::Heading && line.amount().is_some(), "its amount is not counted".to_string());
    remarks
}
