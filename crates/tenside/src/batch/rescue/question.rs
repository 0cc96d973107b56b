//! The brief of a rescue.
//!
//! ```text
//! lines     what is in the bowl, in the ratio of its masses (a split by weight), and what may be added of each line of the brief
//! asked     every range, split and requirement of the brief, of what is in the bowl and what is added together
//! best      the greatest share of what is in the bowl: the least total of additions
//! ```

use std::sync::Arc;

use super::{Bowl, Means};
use crate::brief::{Brief, BriefLine, Requirement, Role, Split, SplitBasis};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::measure::{Measure, Scope};
use crate::number::{Exact, Mass, Ppm};

/// The split of what is in the bowl.
const BOWL: &str = "in the bowl";
/// More grams than a part of a split may have.
const MOST_PARTS: i32 = 1_000_000;

/// The brief of a rescue, and which of its lines is what.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Question {
    /// Its requirements, ranges of lines among them, are those of the brief; what bowl and stock allow is not in it.
    pub(super) brief: Brief,
    /// The lines of what is in the bowl, with their masses.
    pub(super) in_bowl: Vec<(String, Mass)>,
    /// What may be added: the line of the brief, and the line of this brief.
    pub(super) additions: Vec<(String, String)>,
}

impl Question {
    pub(super) fn bowl_mass(&self) -> Exact {
        self.in_bowl.iter().map(|(_, mass)| mass.grams()).sum()
    }

    /// What is in the bowl although the brief has no such line.
    pub(super) fn strangers(&self) -> impl Iterator<Item = &(String, Mass)> {
        self.in_bowl.iter().filter(|(line, _)| !self.additions.iter().any(|(known, _)| known == line))
    }

    /// The share of what is in the bowl, as a measure.
    pub(super) fn bowl_measure(&self) -> Measure {
        mass_of(self.in_bowl.iter().map(|(line, _)| line.clone()).collect())
    }

    /// With what bowl and stock allow.
    pub(super) fn within(&self, means: &Means) -> Result<Brief, Error> {
        let mut brief = self.brief.clone();
        let bowl = self.bowl_mass();
        if let Some(most) = &means.most {
            if *most.grams() < bowl {
                return Err(Fault::new(FaultKind::Contradiction, "more is in the bowl than it holds")
                    .at("bowl")
                    .value(format!("{} g", bowl.rounded_text(2)))
                    .allowed(format!("at most {most}"))
                    .remedy("state what the bowl really holds, or only what is left in it")
                    .into());
            }
            brief = self.with_at_most(brief, most, &most.to_string())?;
        }
        for (line, left) in &means.stock {
            let Some((_, added)) = self.additions.iter().find(|(known, _)| known == line) else {
                return Err(unknown_name("line", line, self.additions.iter().map(|(line, _)| line.as_str()))
                    .at("stock")
                    .into());
            };
            let added = mass_of(vec![added.clone()]);
            let name = format!("{left} of {line} left");
            let ratio = left.grams() / &bowl;
            let measure = if ratio.is_zero() { added } else { (added - (self.bowl_measure() * ratio)?)? };
            brief = brief.require(Requirement::at_most(measure, Exact::ZERO)?.named(&name)?)?;
        }
        Ok(brief)
    }

    /// With so much in all at most, and how that is said.
    pub(super) fn with_at_most(&self, brief: Brief, most: &Mass, words: &str) -> Result<Brief, Error> {
        let share = self.bowl_mass() / most.grams() * Exact::hundred();
        let most = Requirement::at_least(self.bowl_measure(), share)?;
        brief.require(most.named(&format!("no more than {words} in all"))?)
    }
}

fn mass_of(lines: Vec<String>) -> Measure {
    Measure::as_supplied().contributed_by(Scope::Lines(lines))
}

/// The line of what is added of a line that is in the bowl.
fn added_name(line: &str) -> String {
    format!("{line}, added")
}

/// Asks how a bowl can be brought to meet a brief.
pub(super) fn question(brief: &Brief, bowl: &Bowl) -> Result<Question, Error> {
    if brief.has_choices() {
        let fault = Fault::new(FaultKind::Unsupported, "a brief with choices cannot say what is wrong with a bowl");
        return Err(fault.remedy("choose first, and rescue towards the chosen brief").into());
    }
    // What is in the bowl could bring them, and the brief alone would mean something else.
    brief.check_scopes()?;
    let mut asked = Brief::new(brief.title(), brief.catalogue())?.watched_as(brief.watched());
    if let Some(prices) = brief.prices() {
        asked = asked.priced_by(Arc::clone(prices));
    }
    for phase in brief.phases() {
        asked = asked.phase(phase)?;
    }
    let filled: Vec<_> = bowl.lines.iter().filter(|line| !line.mass.grams().is_zero()).collect();
    if filled.is_empty() {
        let fault = Fault::new(FaultKind::Missing, "nothing is in the bowl")
            .remedy("state what was weighed into it, or solve the brief");
        return Err(fault.into());
    }
    let mut in_bowl = Vec::new();
    for line in &filled {
        let planned = brief.lines().iter().find(|known| known.name() == line.line);
        let material: Arc<Material> = match (&line.material, planned) {
            (Some(material), _) => Arc::clone(material),
            (None, Some(planned)) => Arc::clone(planned.material()),
            (None, None) => Arc::clone(brief.catalogue().material(&line.line).map_err(|error| error.within("bowl"))?),
        };
        let phase = planned.map_or_else(|| material.phase().to_string(), |planned| planned.phase().to_string());
        asked = asked.line(BriefLine::new(&line.line, material, Role::Free)?.in_phase(&phase)?)?;
        in_bowl.push((line.line.clone(), line.mass.clone()));
    }
    let is_in_bowl = |name: &str| in_bowl.iter().any(|(line, _)| line == name);
    let mut additions = Vec::new();
    for line in brief.lines() {
        let name = if is_in_bowl(line.name()) { added_name(line.name()) } else { line.name().to_string() };
        asked = asked.line(
            BriefLine::new(&name, Arc::clone(line.material()), Role::Free)?
                .in_phase(line.phase())?
                .for_purposes(line.purposes()),
        )?;
        additions.push((line.name().to_string(), name));
    }
    // What a line of the brief has become.
    let both =
        |name: &str| if is_in_bowl(name) { vec![name.to_string(), added_name(name)] } else { vec![name.to_string()] };
    asked = grouped(asked, brief, &both)?;
    asked = kept_together(asked, &in_bowl)?;
    let widened = |measure: &Measure| {
        measure.with_scopes(|scope| match scope {
            Scope::Lines(lines) => Scope::Lines(lines.iter().flat_map(|line| both(line)).collect()),
            other => other.clone(),
        })
    };
    for line in brief.lines() {
        let measure = mass_of(both(line.name()));
        let (low, high) = line.role().range();
        let requirement = match (low.is_zero(), high == Ppm::WHOLE) {
            (true, true) => continue,
            _ if low == high => Requirement::equal(measure, low.percent())?,
            (true, false) => Requirement::at_most(measure, high.percent())?,
            (false, true) => Requirement::at_least(measure, low.percent())?,
            (false, false) => Requirement::between(measure, low.percent(), high.percent())?,
        };
        asked = asked.require(requirement.named(&format!("line {} {}", line.name(), line.role().words()))?)?;
    }
    for split in brief.splits() {
        asked = ratios_kept(asked, split, &widened)?;
    }
    for requirement in brief.requirements() {
        asked = asked.require(requirement.of_measure(widened(requirement.measure())))?;
    }
    let question = Question { brief: asked, in_bowl, additions };
    Ok(Question { brief: question.brief.clone().maximise(question.bowl_measure()), ..question })
}

/// The groups that lines of the brief are in, splits included, with what the lines have become.
fn grouped(mut asked: Brief, brief: &Brief, both: &impl Fn(&str) -> Vec<String>) -> Result<Brief, Error> {
    for line in brief.lines() {
        let members = both(line.name());
        let members: Vec<&str> = members.iter().map(String::as_str).collect();
        for group in line.groups() {
            asked = asked.group(group, &members)?;
        }
    }
    Ok(asked)
}

/// What is in the bowl, in the ratio of its masses.
fn kept_together(asked: Brief, in_bowl: &[(String, Mass)]) -> Result<Brief, Error> {
    if in_bowl.len() < 2 {
        return Ok(asked);
    }
    let is_large = in_bowl.iter().any(|(_, mass)| *mass.grams() > Exact::from(MOST_PARTS));
    let unit = if is_large { Exact::from(1000) } else { Exact::ONE };
    asked.split(BOWL, SplitBasis::Weight, in_bowl.iter().map(|(line, mass)| (line, mass.grams() / &unit)))
}

/// A split whose members are in the bowl and added, as ratios to the member that the others are compared with.
fn ratios_kept(mut asked: Brief, split: &Split, widened: &impl Fn(&Measure) -> Measure) -> Result<Brief, Error> {
    let reference = split.reference();
    let (of, part) = &split.parts()[reference];
    for (member, (line, own)) in split.parts().iter().enumerate().filter(|(member, _)| *member != reference) {
        let ratio = widened(&split.measure_of(line)).per(&widened(&split.measure_of(of)));
        let requirement = Requirement::equal(ratio.clone(), own / part * ratio.factor())?
            .named(&format!("{}, as their ratio", split.words(&[member, reference])))?;
        asked = asked.require(requirement)?;
    }
    Ok(asked)
}
