//! Which raw materials of a catalogue could stand in for one, and how much each would disturb the formula.

use std::cmp::Reverse;
use std::sync::Arc;

use super::substitute::{EQUAL_IN, Substitution};
use crate::catalogue::Catalogue;
use crate::document::Named;
use crate::error::Error;
use crate::formula::Formula;
use crate::material::Material;
use crate::measure::Measure;
use crate::number::{Exact, Ppm};
use crate::render::{Alignment, Page, Part, Table};
use crate::substance::{Attribute, Class};
use crate::watch::{Unwatched, Watch};

/// A raw material that matches, with what putting it in comes to.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Candidate {
    /// The raw material.
    pub material: Arc<Material>,
    /// What putting it in comes to.
    pub substitution: Substitution,
}

/// A raw material of the same class that does not match, or of which it is not known.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct PassedOver {
    /// Its id.
    pub material: String,
    /// Why.
    pub reasons: Vec<String>,
    /// True where it comes in another form and matches in all else.
    pub only_form: bool,
}

/// Candidates, those that disturb least first, and what was passed over.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Candidates {
    /// The line.
    pub line: String,
    /// Those that match: by total departure of what is kept, then by the change of the other lines, of the line itself,
    /// by how much of the composition is the same (the most first), then by id.
    pub ranked: Vec<Candidate>,
    /// Those of the same class that do not, or of which it is not known; beside a preservative also what boosts one.
    pub passed_over: Vec<PassedOver>,
    /// The measures kept, by their names.
    pub kept: Vec<String>,
}

/// Why what boosts a preservative stands in for none.
const NO_PRESERVATIVE: &str = "boosts preservatives and is none";

impl Formula {
    /// The raw materials of a catalogue that match a line's in class (of its surfactant where it has any), form, pH
    /// range and attributes, ranked by how little they disturb the formula with these measures kept.
    ///
    /// What is not stated does not match: a raw material of which an attribute is not known is passed over where the
    /// old one is stated not to have it, and so is one without a pH range where the old one has one.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::measure::Measure;
    /// use tenside::number::Ppm;
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let bar = Formula::new("Bar", vec![line("stearic-acid", "20")?, line("kaolin", "80")?.as_qs(true)])?;
    /// let candidates = bar.candidates("stearic-acid", &catalogue, &[Measure::class(tenside::substance::Class::FattyAcid)])?;
    /// assert!(candidates.ranked.iter().any(|candidate| candidate.material.id() == "stearic-acid-90"));
    /// assert!(candidates.page().text(100).contains("equal in what was kept"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// An unknown line, a measure that has no value in the formula.
    pub fn candidates(&self, line: &str, catalogue: &Catalogue, keep: &[Measure]) -> Result<Candidates, Error> {
        self.candidates_watched(line, catalogue, keep, Arc::new(Unwatched))
    }

    /// As [`Formula::candidates`], ended early where the watch says so.
    ///
    /// # Errors
    /// As [`Formula::candidates`], and `Stopped`.
    pub fn candidates_watched(
        &self,
        line: &str,
        catalogue: &Catalogue,
        keep: &[Measure],
        watch: Arc<dyn Watch>,
    ) -> Result<Candidates, Error> {
        let old = self.line(line)?.material();
        // What does the work decides, where there is more of what carries it.
        let class = |material: &Material| material.surfactant_class().unwrap_or_else(|| material.main_class());
        let kept = keep.iter().map(Measure::name).collect();
        let mut found = Candidates { line: line.to_string(), ranked: Vec::new(), passed_over: Vec::new(), kept };
        for material in catalogue.materials().filter(|material| material.id() != old.id()) {
            let boosts = class(old) == Class::Preservative && class(material) == Class::PreservativeBooster;
            if class(material) != class(old) && !boosts {
                continue;
            }
            let mut reasons = differences(old, material);
            let only_form = old.form() != material.form() && reasons.len() == 1 && !boosts;
            if boosts {
                reasons.insert(0, NO_PRESERVATIVE.to_string());
            }
            if reasons.is_empty() {
                match self.substitute_watched(line, material, keep, Arc::clone(&watch)) {
                    Ok(substitution) => found.ranked.push(Candidate { material: Arc::clone(material), substitution }),
                    Err(error) if error.is_stopped() => return Err(error),
                    // A raw material without typical values or price cannot be reckoned with; the others can.
                    Err(error) => reasons.push(error.to_string()),
                }
            }
            if !reasons.is_empty() {
                found.passed_over.push(PassedOver { material: material.id().to_string(), reasons, only_form });
            }
        }
        found.ranked.sort_by_cached_key(|candidate| {
            let substitution = &candidate.substitution;
            let [before, after] = substitution.percents().map(Ppm::percent);
            (
                substitution.total_departure().clone(),
                substitution.disturbance(),
                (after - before).abs(),
                Reverse(shared(old, &candidate.material)),
                candidate.material.id().to_string(),
            )
        });
        Ok(found)
    }
}

/// How much of two raw materials is the same, typically, percent.
fn shared(old: &Material, new: &Material) -> Exact {
    let of = |material: &Material, inci: &str| {
        material
            .typical_percent(|substance| !substance.is_unspecified() && substance.inci() == inci)
            .unwrap_or_default()
    };
    let leaves = old.leaves();
    let mut names: Vec<&str> = leaves
        .iter()
        .flat_map(|(leaf, _)| leaf.composition().constituents())
        .map(|row| row.substance().inci())
        .collect();
    names.sort_unstable();
    names.dedup();
    names.into_iter().map(|inci| of(old, inci).min(of(new, inci))).sum()
}

/// What keeps a raw material from matching.
fn differences(old: &Material, new: &Material) -> Vec<String> {
    let mut reasons = Vec::new();
    if old.form() != new.form() {
        reasons.push(format!("{} instead of {}", new.form(), old.form()));
    }
    match (old.ph_range(), new.ph_range()) {
        (Some(old), Some(new)) if old.high < new.low || new.high < old.low => {
            reasons.push(format!("pH range {} to {} does not meet {} to {}", new.low, new.high, old.low, old.high));
        }
        (Some(_), None) => reasons.push("pH range not stated".to_string()),
        _ => {}
    }
    for attribute in Attribute::ALL {
        let stated = |material: &Material| material.attribute(*attribute).map(|statement| statement.value);
        match (stated(old), stated(new)) {
            (Some(false), Some(true)) => reasons.push(format!("{attribute}: yes, which the old one is not")),
            (Some(false), None) => {
                reasons.push(format!("{attribute}: not stated, while the old one is stated not to be"))
            }
            _ => {}
        }
    }
    reasons
}

impl Candidates {
    /// The ranking as a table.
    #[must_use]
    pub fn page(&self) -> Page {
        let columns = [
            ("raw material", Alignment::Left),
            ("% w/w", Alignment::Right),
            ("kept exactly", Alignment::Left),
            ("change of other lines", Alignment::Right),
        ];
        let mut table = Table::new(&columns);
        for Candidate { material, substitution } in &self.ranked {
            let [_, after] = substitution.percents();
            let exact = if substitution.is_exact() { "yes" } else { "no" };
            table.push([
                material.id().to_string(),
                after.percent().rounded_text(2),
                exact.to_string(),
                substitution.disturbance().rounded_text(2),
            ]);
        }
        let passed =
            self.passed_over.iter().map(|passed| format!("{}: {}", passed.material, passed.reasons.join("; ")));
        Page::new(&format!("In place of {}", self.line))
            .with(Part::Text(match self.ranked.is_empty() {
                true => "Nothing matches in class, form, pH range and attributes.".to_string(),
                false => format!("Matching in class, form, pH range and attributes; {EQUAL_IN}."),
            }))
            .with(Part::Table(table))
            .section("Passed over", Part::List(passed.collect()))
    }
}
