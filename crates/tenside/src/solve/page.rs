//! An answer and a conflict shown.

use super::answer::objective_unit;
use super::program::currency;
use super::unmet::programs;
use super::{Answer, Binding, Choice, Conflict, Constraint, Rounded, Side, Unmet};
use crate::brief::{Brief, Objective};
use crate::error::Error;
use crate::formula::Formula;
use crate::measure::{Basis, Names};
use crate::number::Exact;
use crate::render::{Alignment, Page, Part, Table};

impl Answer {
    /// The grid formula with its measures on the given bases (or the exact percentages, and why there is no grid
    /// formula), what binds, where it departs from an equation, and what is proved.
    ///
    /// # Errors
    /// None for a valid answer.
    pub fn page(&self, bases: &[Basis]) -> Result<Page, Error> {
        let (page, known) = of_grid(self.brief(), self.formula(), self.exact(), bases)?;
        let best = match (self.brief().objective(), self.objective()) {
            (Some(objective), Some(value)) => {
                format!("Best for: {}, {}.", objective.words(), in_its_unit(self.brief(), value))
            }
            _ => "No objective: nearest to the middle of the ranges.".to_string(),
        };
        let binding = self.binding().into_iter().map(|binding| {
            let side = match binding.side {
                Side::AtLowest => "at its lowest",
                Side::AtHighest => "at its highest",
                Side::Fixed => "met exactly",
            };
            let limit = unsaid_limit(self.brief(), &binding).unwrap_or_default();
            format!("{}: {side}{limit}{}", binding.words, if binding.decisive { "" } else { " (not decisive)" })
        });
        let departures = self.departures().iter().map(|departure| {
            format!(
                "{}: {} {} (at most {})",
                departure.words,
                departure.departure.rounded_text(6),
                departure.unit,
                departure.bound.rounded_text(6)
            )
        });
        Ok(page
            .section("What holds it there", Part::List(binding.collect()))
            .section("To know about what is asked", known)
            .section("Rounded to whole 0.0001 %, an equation departs by", Part::List(departures.collect()))
            .section(
                "Proof",
                Part::Text(format!(
                    "{best} The arithmetic is proved for the compositions given; it says nothing of foam, feel or \
                     stability."
                )),
            ))
    }

    /// What to know about what the brief asks: what the measures of its requirements and its objective leave out of the
    /// count, and ratios over nothing, which have no value and hold as one amount against so many times the other.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// let brief = Brief::new("Clay", &Catalogue::starter())?.between("sci-powder", 0, 50)?.qs("kaolin")?;
    /// let brief = brief.at_most(Measure::water().per(&Measure::active_matter()), 1)?;
    /// let answer = brief.minimise(Measure::active_matter()).solve()?;
    /// assert!(answer.notes()?[0].ends_with("so many times the other it holds"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Where there is no grid formula, as [`Answer::formula`].
    pub fn notes(&self) -> Result<Vec<String>, Error> {
        let formula = self.formula()?;
        let mut said = notes(self.brief(), formula)?;
        said.extend(far_off(formula, self.exact()));
        Ok(said)
    }
}

/// Where limits leave next to no room, whole ppm may be found far from the exact solution alone.
fn far_off(formula: &Formula, exact: &[Exact]) -> Option<String> {
    let off = formula.lines().iter().zip(exact).map(|(line, exact)| (line, (line.percent().percent() - exact).abs()));
    let (line, most) = off.max_by(|(_, one), (_, other)| one.cmp(other))?;
    (most > Exact::ratio(1, 100)).then(|| {
        format!(
            "limits leave so little room that the formula of whole 0.0001 % is not near the exact solution, whose \
             objective is the one told: {} stands {} percentage points from it; loosen a limit a little",
            line.name(),
            most.rounded_text(4)
        )
    })
}

/// What to know about what a brief asks, of its formula.
fn notes(brief: &Brief, formula: &Formula) -> Result<Vec<String>, Error> {
    let objective = match brief.objective() {
        Some(Objective::Measure { measure, basis, .. }) => Some((measure, basis, None)),
        Some(Objective::LeastChange(_) | Objective::LeastSquares(_)) | None => None,
    };
    let asked = brief.requirements().iter().map(|asked| (asked.measure(), asked.basis(), Some(asked.name())));
    let mut said: Vec<String> = Vec::new();
    for (measure, basis, requirement) in asked.chain(objective) {
        let read = formula.measure_named(measure, basis, Names::Of(brief.catalogue()))?;
        let empty = requirement.filter(|_| read.value.is_none()).map(|name| {
            let why: Vec<String> = read.why_not.iter().map(|fault| fault.message.clone()).collect();
            format!("{name}: {}; as one amount against so many times the other it holds", why.join("; "))
        });
        for note in empty.into_iter().chain(read.notes) {
            if !said.contains(&note) {
                said.push(note);
            }
        }
    }
    Ok(said)
}

/// The same without what a page says of the usual measures, for a formula that came of this exact solution, if it did.
fn further_notes(brief: &Brief, formula: &Formula, exact: &[Exact]) -> Result<Part, Error> {
    let mut said = notes(brief, formula)?;
    for read in formula.measures(&Basis::AsCharged)? {
        said.retain(|note| !read.notes.contains(note));
    }
    said.extend(far_off(formula, exact));
    Ok(Part::List(said))
}

/// The limit that binds, of a requirement with a name of the user's that does not say it.
fn unsaid_limit(brief: &Brief, binding: &Binding) -> Option<String> {
    let Constraint::Requirement { index, .. } = &binding.constraint else { return None };
    let requirement = brief.requirements().get(*index).filter(|requirement| requirement.is_named())?;
    let limit = if binding.side == Side::AtHighest { requirement.high() } else { requirement.low() }?.to_string();
    let unit = requirement.measure().unit(currency(brief));
    (!binding.words.contains(&limit)).then(|| format!(", {limit} {unit}").trim_end().to_string())
}

/// A value of the objective with its unit.
fn in_its_unit(brief: &Brief, value: &Exact) -> String {
    format!("{} {}", value.rounded_text(4), objective_unit(brief).unwrap_or_default()).trim_end().to_string()
}

/// The grid formula with its measures, or the exact percentages and why there is none; and what is to be known.
fn of_grid(
    brief: &Brief,
    formula: Result<&Formula, Error>,
    exact: &[Exact],
    bases: &[Basis],
) -> Result<(Page, Part), Error> {
    let refusal = match formula {
        Ok(formula) => return Ok((formula.page(bases)?, further_notes(brief, formula, exact)?)),
        Err(refusal) => refusal.to_string(),
    };
    let mut table = Table::new(&[("line", Alignment::Left), ("exact % w/w", Alignment::Right)]);
    for (line, percent) in brief.lines().iter().zip(exact) {
        table.push([line.name().to_string(), percent.rounded_text(6)]);
    }
    let page = brief.marked(Page::new(brief.title())).with(Part::Text(refusal)).with(Part::Table(table));
    Ok((page, Part::List(Vec::new())))
}

impl Conflict {
    /// What cannot hold together, and what would help.
    ///
    /// # Errors
    /// None for a valid conflict.
    pub fn page(&self) -> Result<Page, Error> {
        let single: Vec<String> = self.relaxations()?.iter().flatten().map(|change| change.sentence()).collect();
        let left_out = if single.is_empty() { self.words_to_leave_out()? } else { Vec::new() };
        Ok(self
            .brief()
            .marked(Page::new(&format!("{}: no formula", self.brief().title())))
            .with(Part::Text(
                "No percentages meet these together; without any one of them the others can be met:".to_string(),
            ))
            .with(Part::List(self.items()))
            .section("The way out", Part::List(self.advice().map(str::to_string).into_iter().collect()))
            .section("Any one of these changes would do", Part::List(single))
            .section(
                "No change of one limit would do; without all of these there would be a formula",
                Part::List(left_out),
            )
            .section(
                "Proof",
                Part::Text(
                    "Proved exactly for the compositions given: a combination of these requirements asks for more \
                     than any lines inside their ranges can give."
                        .to_string(),
                ),
            ))
    }
}

impl Rounded {
    /// The formula with its measures on the given bases, its steps, where it departs from an equation as the call
    /// allowed, and what is proved.
    ///
    /// # Errors
    /// A measure without meaning on a basis.
    pub fn page(&self, bases: &[Basis]) -> Result<Page, Error> {
        let departures = self.departures().iter().map(|departure| {
            let allowed = departure
                .tolerance
                .as_ref()
                .map_or("given up".to_string(), |most| format!("at most {}", most.rounded_text(4)));
            format!("{}: {} {} ({allowed})", departure.words, departure.departure.rounded_text(4), departure.unit)
        });
        let shown = |value: &Exact| in_its_unit(self.brief(), value);
        let without = match (self.objective(), self.objective_without_steps()) {
            (Some(value), Some(without)) if self.loosened().is_empty() => {
                format!(" The objective is {}; without steps it would be {}.", shown(value), shown(without))
            }
            (Some(value), Some(without)) => {
                let exactly = self
                    .objective_without_tolerance()
                    .map_or("nothing meets all of them exactly".to_string(), |value| {
                        format!("with all of them met exactly {}", shown(value))
                    });
                format!(
                    " The objective is {}; without steps it would be {} with splits and targets as loose as here, \
                     {exactly}.",
                    shown(value),
                    shown(without)
                )
            }
            _ => String::new(),
        };
        Ok(self
            .formula()
            .page(bases)?
            .section("Steps", Part::Text(format!("Percentages are {}.", self.steps().words())))
            .section("To know about what is asked", further_notes(self.brief(), self.formula(), &[])?)
            .section("Splits and targets that were loosened", Part::List(self.loosened().to_vec()))
            .section("Equations it departs from, as was allowed", Part::List(departures.collect()))
            .section(
                "Proof",
                Part::Text(format!("{}{without}", proved("formula on these steps", self.gap(), self.nodes()))),
            ))
    }
}

impl Choice {
    /// The grid formula with its measures on the given bases (or the exact percentages, and why there is no grid
    /// formula), what is absent, and what is proved.
    ///
    /// # Errors
    /// A measure without meaning on a basis.
    pub fn page(&self, bases: &[Basis]) -> Result<Page, Error> {
        let absent = self.absent().into_iter().map(str::to_string).collect();
        let (page, known) = of_grid(self.brief(), self.formula(), self.exact(), bases)?;
        Ok(page
            .section("Absent", Part::List(absent))
            .section("To know about what is asked", known)
            .section("Proof", Part::Text(proved("choice", self.gap(), self.nodes()))))
    }
}

fn proved(what: &str, gap: &Exact, nodes: usize) -> String {
    let best = if gap.is_zero() {
        format!("No {what} is better")
    } else {
        format!("The search was cut off; another {what} could be better by at most {}", gap.rounded_text(6))
    };
    format!(
        "{best}: proved by {} for the compositions given; it says nothing of foam, feel or stability.",
        programs(nodes)
    )
}

impl Unmet {
    /// What forbids a formula, and what would do.
    #[must_use]
    pub fn page(&self) -> Page {
        self.brief()
            .marked(Page::new(&format!("{}: no formula", self.brief().title())))
            .with(Part::Text(format!("{}.", self.sentence())))
            .section("What forbids it together", Part::List(self.requirements().to_vec()))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::brief::Requirement;
    use crate::catalogue::Catalogue;
    use crate::measure::Measure;
    use crate::solve::Outcome;

    fn brief() -> Brief {
        let brief = Brief::new("Bar", &Catalogue::starter())
            .unwrap()
            .between("sci-powder", 10, 70)
            .unwrap()
            .free("capb-30")
            .unwrap()
            .qs("kaolin")
            .unwrap();
        let named = |requirement: Requirement, name: &str| requirement.named(name).unwrap();
        let brief = brief
            .require(named(Requirement::at_least(Measure::active_matter(), Exact::from(12)).unwrap(), "cleansing"))
            .unwrap();
        brief.require(named(Requirement::at_most(Measure::water(), Exact::from(5)).unwrap(), "dryness")).unwrap()
    }

    #[test]
    fn a_limit_is_said_beside_the_name_that_does_not_say_it() {
        let text = brief().maximise(Measure::water()).solve().unwrap().page(&[Basis::AsCharged]).unwrap().text(200);
        assert!(text.contains("dryness: at its highest, 5 %"), "{text}");
        // Words that say their limit get none.
        let text = brief()
            .at_least(Measure::water(), 4)
            .unwrap()
            .minimise(Measure::water())
            .solve()
            .unwrap()
            .page(&[Basis::AsCharged])
            .unwrap()
            .text(200);
        assert!(
            text.contains("water at least 4 %: at its lowest") && !text.contains("water at least 4 %: at its lowest,"),
            "{text}"
        );
    }

    #[test]
    fn a_conflict_shows_what_cannot_hold_together_and_what_would_do() {
        let Outcome::Conflict(conflict) = brief().at_least(Measure::water(), 6).unwrap().try_solve().unwrap() else {
            panic!("it is answered")
        };
        let text = conflict.page().unwrap().text(200);
        for part in [
            "Bar: no formula",
            "dryness (water at most 5 %)",
            "water at least 6 %",
            "ANY ONE OF THESE CHANGES WOULD DO",
            "- raise dryness (water at most 5 %) to 6 % or more",
        ] {
            assert!(text.contains(part), "{text}");
        }
    }
}
