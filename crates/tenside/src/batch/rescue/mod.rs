//! What to add to a bowl in which something went wrong.
//!
//! # Why
//! - What is mixed stays mixed: the bowl is one thing of a known composition, and a rescue is a formula of that thing
//!   and of additions with the greatest share of it. So a rescue is a brief like any other ([`Rescue::answer`]), with
//!   its proof, its conflict and its requirements for every composition; nothing new had to be proved.
//! - Where bowl or stock are too small, the requirements that stand in the way are given up one by one, and each comes
//!   as near to its limit as the others let it, in the order of the brief: some then hold all the same. What is missed
//!   is told of the additions as weighed, as of a batch that was made, and not by what was given up on the way.
//! - Additions are weighed on a scale. Their rounding is searched for: the nearest divisions first, then the others
//!   around the exact masses, the fewest rounded the other way first. What rounds to nothing is left out; what no
//!   rounding keeps is said.

mod bowl;
mod document;
mod page;
mod question;
mod rounding;

pub use bowl::{Bowl, Means};
pub use document::RescueDocument;

use super::Batch;
use crate::brief::{Brief, BriefLine, Requirement, Role};
use crate::catalogue::Catalogue;
use crate::document::named_enum;
use crate::error::Error;
use crate::formula::Formula;
use crate::number::{Exact, HalfWay, Mass, MassUnit};
use crate::solve::{Answer, Conflict, Constraint, Outcome};
use question::{Question, question};

named_enum! {
    /// What can be done with a bowl.
    Verdict "verdict" {
        /// The additions bring everything back.
        Rescued = "rescued",
        /// Bowl or stock are too small: the additions bring back what can be, and the rest comes as near as it can.
        AsNearAsCanBe = "as-near-as-can-be",
        /// No addition brings everything back, however much of it there is: this cannot go on as this product.
        ThrowAway = "throw-away",
    }
}

/// What to add to a bowl. Masses are exact; rounded where a scale was stated.
///
/// ```
/// use tenside::batch::{Bowl, Means, Verdict};
/// use tenside::brief::Brief;
/// use tenside::catalogue::Catalogue;
/// let brief = Brief::new("Plain bar", &Catalogue::starter())?.fix("sci-powder", 60)?.between("cetyl-alcohol", 10, 15)?.qs("kaolin")?;
/// // 132 g instead of 120 g of the surfactant, in a batch of 200 g.
/// let bowl = Bowl::new().with("sci-powder", "132 g".parse()?)?.with("cetyl-alcohol", "30 g".parse()?)?.with("kaolin", "50 g".parse()?)?;
/// let rescue = brief.rescue(&bowl, &Means::new().on_a_scale_of("0.1 g".parse()?))?;
/// assert_eq!((rescue.verdict(), rescue.total().to_string().as_str()), (Verdict::Rescued, "220 g"));
/// assert_eq!(rescue.additions().iter().map(|added| format!("{} {}", added.line, added.mass)).collect::<Vec<_>>(), ["kaolin 8 g"]);
/// assert!(rescue.answer().unwrap().verify().is_ok());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Rescue {
    target: Brief,
    bowl: Bowl,
    means: Means,
    question: Question,
    found: Found,
    total: Mass,
    additions: Vec<Addition>,
    shortfalls: Vec<Shortfall>,
    /// The total that would bring everything back with a bowl and a stock without end.
    needed: Option<Mass>,
    /// What of the bowl can be brought back with the means there are.
    keep: Option<Mass>,
}

#[derive(Clone, Debug, PartialEq)]
enum Found {
    Answer(Box<Answer>),
    Conflict(Box<Conflict>),
    /// Met only where nothing of the bowl is left.
    OnlyWithout(Box<Answer>),
}

/// So much of a line to add.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Addition {
    /// The line of the brief.
    pub line: String,
    /// The exact mass.
    pub exact: Mass,
    /// The mass to weigh: whole divisions where a scale was stated, else the exact mass.
    pub mass: Mass,
}

/// What is not met.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Shortfall {
    /// The range, split or requirement, in words.
    pub asked: String,
    /// Its value then, for typical compositions, in its unit; `None` where it is not known.
    pub value: Option<Exact>,
    /// The limit that it should keep.
    pub limit: Exact,
    /// The unit of both.
    pub unit: String,
    /// True if rounding alone does not meet it: the exact additions do, or what was made does within half a division of
    /// each line's scale.
    pub is_rounding: bool,
}

impl Brief {
    /// What to add to a bowl so that all of it meets this brief: the least total that does; where bowl or stock are too
    /// small for that, what comes nearest, with what is not met.
    ///
    /// # Errors
    /// A brief that cannot be asked, one with choices, an empty bowl, more in it than it holds, raw materials that
    /// nobody knows, and names of stock that are no lines.
    pub fn rescue(&self, bowl: &Bowl, means: &Means) -> Result<Rescue, Error> {
        rescue(self, bowl, means)
    }
}

impl Formula {
    /// What to add to a bowl so that all of it is this formula again, every percentage exactly: a larger batch; see
    /// [`Brief::rescue`].
    ///
    /// # Errors
    /// As [`Brief::rescue`].
    pub fn rescue(&self, bowl: &Bowl, means: &Means) -> Result<Rescue, Error> {
        let mut brief = Brief::new(self.title(), &Catalogue::starter())?;
        for phase in self.phases() {
            brief = brief.phase(phase.clone())?;
        }
        for line in self.lines() {
            let fixed = BriefLine::new(line.name(), line.material().clone(), Role::Fixed(line.percent()))?;
            brief = brief.line(fixed.in_phase(line.phase())?.for_purposes(line.purposes()))?;
        }
        brief.rescue(bowl, means)
    }
}

fn rescue(target: &Brief, bowl: &Bowl, means: &Means) -> Result<Rescue, Error> {
    let question = question(target, bowl)?;
    let made = |found: Found| Rescue {
        target: target.unwatched(),
        bowl: bowl.clone(),
        means: means.clone(),
        question: Question { brief: question.brief.unwatched(), ..question.clone() },
        found,
        total: Mass::default(),
        additions: Vec::new(),
        shortfalls: Vec::new(),
        needed: None,
        keep: None,
    };
    let mut within = question.within(means)?;
    if let Outcome::Answered(answer) = within.try_solve()?
        && bowl_share(&question, &answer).is_positive()
    {
        return made(Found::Answer(answer)).weighed();
    }
    // With a bowl and a stock without end.
    let without = match question.brief.try_solve()? {
        Outcome::Conflict(conflict) => return Ok(made(Found::Conflict(conflict))),
        Outcome::Answered(answer) if bowl_share(&question, &answer).is_zero() => {
            return Ok(made(Found::OnlyWithout(answer)));
        }
        Outcome::Answered(answer) => answer,
    };
    let needed = total(&question, &without)?;
    if means.most.is_none() {
        // Nothing else keeps what comes nearest from being a batch without end.
        within = question.with_at_most(within, &needed, &format!("{} g", needed.grams().rounded_text(2)))?;
    }
    let mut rescue = made(Found::Answer(Box::new(nearest(&question, within)?)));
    rescue.keep = Some(what_can_be_kept(&question, &without, means)?);
    rescue.needed = Some(needed);
    rescue.weighed()
}

/// The share of the bowl in percent of all.
fn bowl_share(question: &Question, answer: &Answer) -> Exact {
    question.in_bowl.iter().filter_map(|(line, _)| answer.exact_percent(line)).sum()
}

/// All of it, once everything is added.
fn total(question: &Question, answer: &Answer) -> Result<Mass, Error> {
    Mass::new(&(question.bowl_mass() / bowl_share(question, answer) * Exact::hundred()), MassUnit::Gram)
        .map_err(|error| error.within("the batch that would have to be made"))
}

/// The part of the bowl that bowl and stock suffice for, if the rest is thrown away.
fn what_can_be_kept(question: &Question, without: &Answer, means: &Means) -> Result<Mass, Error> {
    let total = total(question, without)?;
    let mut part = Exact::ONE;
    if let Some(most) = &means.most {
        part = part.min(most.grams() / total.grams());
    }
    for (line, left) in &means.stock {
        let added = question
            .additions
            .iter()
            .find(|(known, _)| known == line)
            .and_then(|(_, added)| without.exact_percent(added));
        let needed = added.map_or(Exact::ZERO, |percent| percent * total.grams() / Exact::hundred());
        if needed > *left.grams() {
            part = part.min(left.grams() / needed);
        }
    }
    Mass::new(&(question.bowl_mass() * part), MassUnit::Gram)
}

/// The answer that comes as near as bowl and stock allow.
fn nearest(question: &Question, within: Brief) -> Result<Answer, Error> {
    let own = question.brief.requirements();
    let mut brief = within;
    let mut given_up: Vec<String> = Vec::new();
    let answerable = |brief: &Brief| -> Result<Option<Box<Conflict>>, Error> {
        Ok(match brief.try_solve()? {
            Outcome::Answered(_) => None,
            Outcome::Conflict(conflict) => Some(conflict),
        })
    };
    while let Some(conflict) = answerable(&brief)? {
        let is_own = |constraint: &Constraint| match constraint {
            Constraint::Requirement { name, .. } => own.iter().any(|known| known.name() == *name).then(|| name.clone()),
            _ => None,
        };
        let in_the_way: Vec<String> = conflict.constraints().iter().filter_map(is_own).collect();
        // One that alone makes room, else the first; without any, bowl and stock contradict themselves or what is not
        // the brief's own.
        let mut chosen = None;
        for name in &in_the_way {
            if answerable(&brief.clone().drop_requirement(name)?)?.is_none() {
                chosen = Some(name.clone());
                break;
            }
        }
        let Some(name) = chosen.or_else(|| in_the_way.first().cloned()) else { return Err(conflict.into_error()) };
        brief = brief.drop_requirement(&name)?;
        given_up.push(name);
    }
    let given_up = own.iter().filter(|requirement| given_up.contains(&requirement.name()));
    for (place, requirement) in given_up.enumerate() {
        let reach = brief.reach(requirement.measure(), requirement.basis())?;
        let near = |low: bool, value: Exact| {
            if low {
                Requirement::at_least(requirement.measure().clone(), value)
            } else {
                Requirement::at_most(requirement.measure().clone(), value)
            }
        };
        let nearest = match (requirement.low(), requirement.high(), reach.lowest, reach.highest) {
            (Some(low), _, _, Some(highest)) if highest < *low => near(true, highest)?,
            (_, Some(high), Some(lowest), _) if lowest > *high => near(false, lowest)?,
            (Some(low), None, ..) => near(true, low.clone())?,
            (None, Some(high), ..) => near(false, high.clone())?,
            (Some(low), Some(high), ..) => {
                Requirement::between(requirement.measure().clone(), low.clone(), high.clone())?
            }
            (None, None, ..) => continue,
        };
        brief = brief
            .require(nearest.on(requirement.basis().clone()).named(&format!("as near as can be, {}", place + 1))?)?;
    }
    brief.solve()
}

getters!(Rescue {
    /// The brief that the bowl should meet.
    target: &Brief,
    /// What was in the bowl.
    bowl: &Bowl,
    /// What there was to mend it with.
    means: &Means,
    /// What to add, in the order of the brief; nothing where only throwing away is left.
    additions: &[Addition],
    /// The mass of everything then, as weighed.
    total: &Mass,
    /// What is not met then: what bowl or stock are too small for, and what the rounding of additions leaves.
    shortfalls: &[Shortfall],
    /// The total that would bring everything back, where bowl or stock are too small for it.
    needed: Option<&Mass>,
    /// So much of the bowl can be brought back with the means there are, if the rest of it is thrown away first; there
    /// may be ways to keep more. `None` where all of it can be.
    keep: Option<&Mass>,
});

impl Rescue {
    /// What can be done.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        match &self.found {
            Found::Answer(_) if self.needed.is_none() => Verdict::Rescued,
            Found::Answer(_) => Verdict::AsNearAsCanBe,
            Found::Conflict(_) | Found::OnlyWithout(_) => Verdict::ThrowAway,
        }
    }

    /// The answer with its proof: what is in the bowl and what is added as lines of a formula. `None` where only
    /// throwing away is left.
    #[must_use]
    pub fn answer(&self) -> Option<&Answer> {
        if let Found::Answer(answer) = &self.found { Some(answer) } else { None }
    }

    /// Why no addition brings everything back; `None` where one does, and where it does only if nothing of the bowl is
    /// left.
    #[must_use]
    pub fn conflict(&self) -> Option<&Conflict> {
        if let Found::Conflict(conflict) = &self.found { Some(conflict) } else { None }
    }

    /// In a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let words = self.verdict_in_words();
        let share = |mass: &Mass| (mass.grams() * Exact::hundred()).checked_div(self.total.grams());
        let strangers: Vec<String> = self
            .question
            .strangers()
            .filter_map(|(line, mass)| Some(format!("{line} ({} %)", share(mass)?.rounded_text(2))))
            .collect();
        match strangers.as_slice() {
            [] => words,
            lines => {
                format!("{words} What the {} has no line for stays in it: {}.", self.goal(), lines.join(", "))
            }
        }
    }

    /// What it is brought back to, in a word: a brief that fixes every line and asks for nothing else is a formula.
    fn goal(&self) -> &'static str {
        let brief = &self.target;
        let is_formula = brief.requirements().is_empty()
            && brief.splits().is_empty()
            && brief.lines().iter().all(|line| matches!(line.role(), Role::Fixed(_)));
        if is_formula { "formula" } else { "brief" }
    }

    /// Why nothing of the bowl may be left, and what can be done with it.
    fn only_without(&self) -> String {
        let goal = self.goal();
        let strangers: Vec<&str> = self.question.strangers().map(|(line, _)| line.as_str()).collect();
        let cause = match strangers.as_slice() {
            [] => String::new(),
            lines => format!(" The {goal} has no line for {}, and no addition takes it out again.", lines.join(", ")),
        };
        format!(
            "The {goal} is met only where nothing of this bowl is left: what is in it cannot become this \
             product.{cause} Rescue it towards a brief that leaves room for what is in it, or take what was made as a \
             formula of its own."
        )
    }

    fn verdict_in_words(&self) -> String {
        // Without a scale the masses are exact, and may be fractions without an end.
        let weighed = |mass: &Mass| match mass.grams().rounded_to(&Exact::ratio(1, 10_000), HalfWay::ToEven) {
            rounded if rounded == *mass.grams() => mass.to_string(),
            _ => format!("{} g", mass.grams().rounded_text(2)),
        };
        let added = || -> String {
            let parts: Vec<String> =
                self.additions.iter().map(|added| format!("{} of {}", weighed(&added.mass), added.line)).collect();
            if parts.is_empty() { "add nothing".to_string() } else { format!("add {}", parts.join(", ")) }
        };
        match (&self.found, &self.needed, &self.keep) {
            (Found::Conflict(conflict), ..) => {
                format!(
                    "No addition brings this bowl back, whatever there is of it: {}. What is in it cannot become this \
                     product.",
                    conflict.sentence()
                )
            }
            (Found::OnlyWithout(_), ..) => self.only_without(),
            (Found::Answer(_), Some(needed), Some(keep)) => {
                let missed: Vec<String> =
                    self.shortfalls.iter().filter(|missed| !missed.is_rounding).map(Shortfall::words).collect();
                // A rounding may reach what the exact masses miss.
                let missed =
                    if missed.is_empty() { String::new() } else { format!("; not met: {}", missed.join("; ")) };
                let part = if *keep.grams() < Exact::ratio(1, 10) {
                    "What there is brings back less than 0.1 g of the mix.".to_string()
                } else {
                    let keep = keep.grams().floor_text(1);
                    format!("Or keep {keep} g of the mix, throw the rest away, and bring that back.")
                };
                format!(
                    "Bowl or stock are too small to bring everything back; that takes {} g in all. As near as can be: \
                     {}{missed}. {part}",
                    needed.grams().rounded_text(1),
                    added()
                )
            }
            _ if self.additions.is_empty() => {
                format!("Nothing to add: as far as can be weighed, everything is met; {} in all.", weighed(&self.total))
            }
            _ => {
                let as_far = if self.shortfalls.is_empty() { "" } else { " as far as the scale allows" };
                format!("To bring everything back{as_far}, {}: {} in all.", added(), weighed(&self.total))
            }
        }
    }
}

impl Shortfall {
    fn words(&self) -> String {
        let value = self.value.as_ref().map_or_else(|| "not known".to_string(), |value| value.rounded_text(4));
        format!("{} (is {value}, should be {} {})", self.asked, self.limit.rounded_text(4), self.unit)
            .trim_end()
            .to_string()
    }
}

impl Batch {
    /// What to add to a bowl of this batch so that all of it is its formula again; see [`Formula::rescue`]. Additions
    /// are weighed on the finest scale of the batch.
    ///
    /// # Errors
    /// As [`Brief::rescue`].
    pub fn rescue(&self, bowl: &Bowl, means: Means) -> Result<Rescue, Error> {
        let means = if means.division.is_none() { means.on_a_scale_of(self.finest_division().clone()) } else { means };
        self.formula().rescue(bowl, &means)
    }
}
