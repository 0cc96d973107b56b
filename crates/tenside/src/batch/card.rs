//! The recipe card: a batch to share with a class or with readers.

use super::method::{Step, few};
use super::sheet::{STANDING, advice};
use super::shown::brief;
use super::weighing::in_working_order;
use super::{Batch, Weighing};
use crate::error::Error;
use crate::material::DRAFT;
use crate::measure::{Basis, Measure, Scope};
use crate::number::Exact;
use crate::render::{Alignment, Page, Part, Table};
use crate::solve::Candidates;

/// The most raw materials that are named in place of one.
const MOST_SUBSTITUTES: usize = 3;

/// What could stand in for a line, and what of the formula it keeps.
fn in_place_of(candidates: &Candidates) -> String {
    let equal: Vec<&str> = candidates
        .ranked
        .iter()
        .filter(|found| found.substitution.is_exact())
        .map(|found| found.material.name())
        .collect();
    let kept = if candidates.kept.is_empty() { "no measure".to_string() } else { candidates.kept.join(" and ") };
    if !equal.is_empty() {
        return format!("{}, {kept} kept: {}", candidates.line, few_of(&equal));
    }
    let passed = candidates.passed_over.iter().filter(|passed| passed.only_form);
    let others: Vec<&str> = passed.map(|passed| passed.material.as_str()).collect();
    let in_another_form = match others.is_empty() {
        true => String::new(),
        false => format!("; in another form there are, not worked out here: {}", few_of(&others)),
    };
    format!("{}: nothing of its class, form and attributes keeps {kept}{in_another_form}", candidates.line)
}

/// The first of some names, which may hold commas themselves, and how many more there are.
fn few_of(names: &[&str]) -> String {
    let (shown, rest) = names.split_at(names.len().min(MOST_SUBSTITUTES));
    let rest = if rest.is_empty() { String::new() } else { format!("; and {} more", rest.len()) };
    format!("{}{rest}", shown.join("; "))
}

impl Batch {
    /// The card: cautions first, percent and masses phase by phase with what each raw material brings, the method, and
    /// what could stand in for a line: of the candidates given, those that keep their measures exactly.
    ///
    /// ```
    /// use tenside::batch::{BatchSize, Scales, usual_steps};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::measure::Measure;
    /// use tenside::number::Ppm;
    /// use tenside::rule::ProductForm;
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let bar = Formula::new("Class bar", vec![line("sci-powder", "60")?, line("cetyl-alcohol", "15")?, line("kaolin", "25")?.as_qs(true)])?;
    /// let batch = bar.batch(BatchSize::of_mass("200 g".parse()?)?.pressed_as(3)?, Scales::new("0.1 g".parse()?)?)?;
    /// let card = batch.recipe_card(&usual_steps(&bar, ProductForm::Solid), &[bar.candidates("kaolin", &catalogue, &[Measure::active_matter()])?])?;
    /// let text = card.text(100);
    /// assert!(text.find("BEFORE YOU START") < text.find("WHAT GOES IN"));
    /// assert!(text.contains("typical values"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// More than a thousand steps.
    pub fn recipe_card(&self, steps: &[Step], substitutes: &[Candidates]) -> Result<Page, Error> {
        few(steps.len()).map_err(|error| error.within("steps"))?;
        let cautions = advice(self).iter().map(ToString::to_string).collect();
        let method = steps.iter().map(|step| {
            step.caution().map_or_else(|| step.sentence(), |caution| format!("{} {caution}", step.sentence()))
        });
        let others = substitutes.iter().map(in_place_of);
        let mut about = vec![
            "The figures rest on typical values of the raw materials; your own supplier's can differ. Make a small \
             trial first."
                .to_string(),
            "A card is no assessment: what is sold needs its own review, label and safety assessment under local \
             rules."
                .to_string(),
        ];
        if !substitutes.is_empty() {
            about.push("What could stand in is equal in what is kept, not in charge, foam, feel or pH.".to_string());
        }
        let page = Page::new(self.formula().title());
        let page = if self.formula().is_draft() { page.mark(DRAFT) } else { page };
        Ok(page
            .with(Part::Text(format!("Makes {}.", self.size())))
            .section("Before you start", Part::List(cautions))
            .with(Part::Text(STANDING.to_string()))
            .section("What goes in", Part::Table(self.card_table()?))
            .section("How it is made", Part::List(method.collect()))
            .section("What could stand in", Part::List(others.collect()))
            .section("About this card", Part::List(about)))
    }

    fn card_table(&self) -> Result<Table, Error> {
        let (left, right) = (Alignment::Left, Alignment::Right);
        let mut table = Table::new(&[
            ("phase", left),
            ("raw material", left),
            ("%", right),
            ("weigh", right),
            ("brings to the batch", left),
        ]);
        let unit = self.scales().unit();
        for (phase, lines) in self.phases() {
            let temperature =
                phase.temperature().map_or_else(String::new, |temperature| format!(", {} °C", temperature.normalize()));
            for (place, weighing) in in_working_order(lines).into_iter().enumerate() {
                let phase = if place == 0 { format!("{}{temperature}", phase.name()) } else { String::new() };
                let percent = weighing.line().percent().percent().rounded_text(2);
                table.push([phase, weighing.label(), percent, brief(weighing.rounded(), unit), self.brings(weighing)?]);
            }
        }
        table.footer.push(["", "all", "100.00", &brief(self.weighed(), unit), ""].map(str::to_string).to_vec());
        Ok(table)
    }

    /// What a raw material is, and what it brings of active matter and water.
    fn brings(&self, weighing: &Weighing) -> Result<String, Error> {
        let line = weighing.line();
        let mut parts = vec![line.material().main_class().to_string().replace('-', " ")];
        for (measure, what) in [(Measure::active_matter(), "active"), (Measure::water(), "water")] {
            let only = measure.contributed_by(Scope::Lines(vec![line.name().to_string()]));
            let typical = self.formula().measure(&only, &Basis::AsCharged)?.value.and_then(|value| value.typical);
            match typical {
                Some(percent) if percent >= Exact::ratio(1, 20) => {
                    parts.push(format!("{} % {what}", percent.rounded_text(1)))
                }
                Some(_) => {}
                None => parts.push(format!("{what} not known")),
            }
        }
        Ok(parts.join(", "))
    }
}
