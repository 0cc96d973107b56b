//! The sheet to work by: cautions first, then what to weigh, phase by phase, then what to know about the numbers.
//!
//! [`SheetView`] holds the words; the formats only lay them out.

mod cautions;
#[cfg(feature = "html")]
mod html;
mod markdown;
mod text;
mod view;

pub(super) use cautions::{advice, advice_on};
use view::{NumberedNote, PhaseView, RowView, SheetView};

use super::shown::Shown;
use super::weighing::in_working_order;
use super::{Batch, Note, Weighing};
use crate::document::named_enum;
use crate::formula::Phase;
use crate::number::Exact;

named_enum! {
    /// How a sheet is written.
    SheetFormat "sheet format" {
        /// Plain text of at most 80 columns.
        Text = "text",
        /// Markdown with pipe tables.
        Markdown = "markdown",
        /// A page of HTML that prints on A4 and US Letter; it loads nothing and runs nothing.
        #[cfg(feature = "html")]
        Html = "html",
    }
}

const DRAFT: &str =
    "Rests on typical values of the starter catalogue. Put in what your own suppliers state before you rely on it.";
/// What no sheet replaces.
pub(super) const STANDING: &str =
    "This sheet replaces no safety data sheet, no local rule and no qualified assessment.";

/// What a batch that rests on starter values is marked with.
pub(super) fn draft(batch: &Batch) -> Option<&'static str> {
    batch.formula().is_draft().then_some(DRAFT)
}

impl Batch {
    /// The sheet to work by. It is the same for the same batch; date and number are on it where they were given.
    ///
    /// ```
    /// use tenside::batch::{BatchSize, Scales, SheetFormat};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::Ppm;
    /// let clay = Line::new("clay", Catalogue::starter().material("kaolin")?.clone(), Ppm::WHOLE)?;
    /// let formula = Formula::new("Clay <alone>", vec![clay])?;
    /// let batch = formula.batch(BatchSize::of_mass("200 g".parse()?)?, Scales::new("0.1 g".parse()?)?)?;
    /// let batch = batch.numbered("7")?.dated("2026-11-24".parse()?);
    /// assert!(batch.sheet(SheetFormat::Text).lines().all(|line| line.chars().count() <= 80));
    /// assert!(batch.sheet(SheetFormat::Markdown).starts_with("# Batch sheet: Clay &lt;alone&gt;"));
    /// # #[cfg(feature = "html")]
    /// assert!(!batch.sheet(SheetFormat::Html).contains("<alone>"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn sheet(&self, format: SheetFormat) -> String {
        let view = self.view();
        match format {
            SheetFormat::Text => text::write(&view),
            SheetFormat::Markdown => markdown::write(&view),
            #[cfg(feature = "html")]
            SheetFormat::Html => html::write(&view),
        }
    }

    fn view(&self) -> SheetView {
        let unit = self.scales().unit();
        let shown = self.scales().shown(self.finest_division());
        let numbered = |hot: bool| {
            let chosen =
                self.notes().iter().enumerate().filter(move |(_, note)| matches!(note, Note::TooHot { .. }) == hot);
            chosen.map(|(index, note)| NumberedNote { number: index + 1, sentence: note.sentence(unit) }).collect()
        };
        let phases: Vec<(&Phase, &[Weighing])> = self.phases().collect();
        // Two decimals where they say it all, else the four of the grid.
        let places =
            if self.weighings().iter().all(|weighing| weighing.line().percent().parts() % 100 == 0) { 2 } else { 4 };
        SheetView {
            title: self.formula().title().to_string(),
            draft: draft(self),
            facts: self.facts(shown),
            advice: advice(self),
            heat: numbered(true),
            standing: STANDING,
            phases: phases
                .iter()
                .enumerate()
                .map(|(index, (phase, lines))| self.phase_view((index + 1, phases.len()), phase, lines, places))
                .collect(),
            total: shown.text(self.weighed()),
            notes: numbered(false),
        }
    }

    fn facts(&self, shown: Shown) -> Vec<(&'static str, String)> {
        let mut facts = Vec::new();
        if let Some(number) = self.number() {
            facts.push(("Batch number", number.to_string()));
        }
        if let Some(date) = self.date() {
            facts.push(("Date", date.to_string()));
        }
        facts.push(("To weigh", format!("{} in all", shown.text(self.weighed()))));
        let mut asked = self.size().words(self.scales().unit());
        if let Some(calculation) = self.size().calculation(self.scales().unit()) {
            asked += &format!(": {calculation} = {}", shown.finer(1).text(self.asked()));
        }
        facts.push(("Asked for", asked));
        if let Some(bar) = self.bar_masses() {
            let coarsest = self.weighings().iter().map(Weighing::division).max();
            let finer = coarsest.map_or(shown, |division| self.scales().shown(division)).finer(1);
            let mut words = format!("{} {} charged", finer.number(&bar.charged), finer.unit.symbol());
            for (mass, before, what) in [(&bar.pressed, &bar.charged, "pressed"), (&bar.dry, &bar.pressed, "dry")] {
                if mass != before {
                    words += &format!(", {} {} {what}", finer.number(mass), finer.unit.symbol());
                }
            }
            facts.push(("Each bar", format!("{words} (mean)")));
        }
        facts
    }

    fn phase_view(&self, (number, count): (usize, usize), phase: &Phase, lines: &[Weighing], places: u32) -> PhaseView {
        let division = self.scales().division(phase.name());
        let shown = self.scales().shown(division);
        let temperature = phase
            .temperature()
            .map_or("temperature not stated".to_string(), |temperature| format!("{} °C", temperature.normalize()));
        let total: Exact = lines.iter().map(|weighing| weighing.rounded().grams()).sum();
        let percent: Exact = lines.iter().map(|weighing| weighing.line().percent().percent()).sum();
        PhaseView {
            heading: format!("Phase {number} of {count}: {}", phase.name()),
            conditions: format!("{temperature}, scale of {}", shown.text(division)),
            unit: shown.unit.symbol(),
            rows: in_working_order(lines).into_iter().map(|weighing| self.row_view(weighing, shown, places)).collect(),
            total: shown.number_of_grams(&total),
            percent: percent.rounded_text(places),
        }
    }

    fn row_view(&self, weighing: &Weighing, shown: Shown, places: u32) -> RowView {
        let line = weighing.line();
        let mut remarks = Vec::new();
        if weighing.takes_rest() && self.weighings().len() > 1 {
            remarks.push("takes the rounding rest".to_string());
        }
        let notes = self.notes().iter().enumerate().filter(|(_, note)| note.line() == Some(line.name()));
        remarks.extend(notes.map(|(index, _)| format!("note {}", index + 1)));
        RowView {
            mass: shown.number(weighing.rounded()),
            label: weighing.label(),
            remarks: remarks.join(", "),
            lot: line.material().lot().map_or(String::new(), |lot| lot.id().to_string()),
            percent: line.percent().percent().rounded_text(places),
            error: signed(&weighing.error_percent()),
        }
    }
}

/// Two decimals with a sign, which nothing at all does not have.
fn signed(percent: &Exact) -> String {
    let text = percent.rounded_text(2);
    if percent.is_positive() { format!("+{text}") } else { text }
}
