//! Additions on a scale, and what they then miss.

use tenside_lp::dot;

use super::super::Made;
use super::question::{Question, question};
use super::{Addition, Found, Means, Rescue, Shortfall};
use crate::brief::{Brief, Requirement};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, HalfWay, Mass, MassUnit};
use crate::solve::{BriefProgram, RowName, rows, sides};

/// The most additions of which every rounding up and down is tried.
const MOST_TRIED: usize = 12;

/// Additions in grams, by the place of their line among the additions of the question.
type Grams = Vec<Exact>;

impl Rescue {
    /// With additions in masses and what they miss.
    pub(super) fn weighed(mut self) -> Result<Self, Error> {
        let Found::Answer(answer) = &self.found else { return Ok(self) };
        let total = super::total(&self.question, answer)?;
        let grams = |percent: &Exact| percent * total.grams() / Exact::hundred();
        let exact: Grams = self
            .question
            .additions
            .iter()
            .map(|(_, line)| answer.exact_percent(line).map_or(Exact::ZERO, grams))
            .collect();
        // The scale keeps what the answer keeps; what is missed is missed of all that was asked.
        let (within, asked) =
            (Checked::new(&self.question, answer.brief())?, Checked::new(&self.question, &self.question.brief)?);
        let mass = |grams: &Exact| Mass::new(grams, MassUnit::Gram);
        let rounded = match &self.means.division {
            Some(division) => within.rounded(&exact, division.grams(), &self.means),
            None => exact.clone(),
        };
        let mut additions = Vec::new();
        for ((line, _), (exact, rounded)) in self.question.additions.iter().zip(exact.iter().zip(&rounded)) {
            // Less than half a division cannot be weighed.
            if rounded.is_positive() {
                additions.push(Addition { line: line.clone(), exact: mass(exact)?, mass: mass(rounded)? });
            }
        }
        let exactly = asked.point(&exact);
        let shortfalls = asked.missed_by(&asked.point(&rounded), &|row| !breaks(row, &exactly))?;
        let total = mass(&(self.question.bowl_mass() + rounded.iter().sum::<Exact>()))?;
        (self.additions, self.shortfalls, self.total) = (additions, shortfalls, total);
        Ok(self)
    }
}

impl Made {
    /// What this batch, as it was made, misses of a brief, for typical compositions: ranges of lines, splits and
    /// requirements, and what it holds that the brief has no line for.
    ///
    /// ```
    /// use tenside::batch::{Actual, BatchSize, Scales};
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::measure::Measure;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.fix("sci-powder", 90)?.between("water", 5, 10)?.at_most(Measure::water(), 20)?;
    /// let batch = brief.solve()?.formula()?.batch(BatchSize::of_mass("100 g".parse()?)?, Scales::new("0.1 g".parse()?)?)?;
    /// // What if 5 g of water are kneaded in?
    /// let missed = batch.as_made(&Actual::new().added("water", "5 g".parse()?)?)?.missed(&brief)?;
    /// assert_eq!(missed.iter().map(|one| one.asked.as_str()).collect::<Vec<_>>(), ["line sci-powder fixed at 90 %", "line water between 5 and 10 %"]);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked, and one with choices.
    pub fn missed(&self, brief: &Brief) -> Result<Vec<Shortfall>, Error> {
        let question = question(brief, &self.bowl())?;
        let checked = Checked::new(&question, &question.brief)?;
        let nothing: Grams = question.additions.iter().map(|_| Exact::ZERO).collect();
        let point = checked.point(&nothing);
        let halves: Vec<Exact> = checked.brief.lines().iter().map(|line| self.half_division(line.name())).collect();
        let mut missed = checked.missed_by(&point, &|row| checked.is_unseen(row, &point, &halves))?;
        missed.extend(question.strangers().map(|(line, mass)| Shortfall {
            asked: format!("nothing of {line}, which is no line of the brief"),
            value: Some(mass.grams() / question.bowl_mass() * Exact::hundred()),
            limit: Exact::ZERO,
            unit: "%".to_string(),
            is_rounding: false,
        }));
        Ok(missed)
    }

    /// Half of what the scale counts in where a line was weighed, grams.
    fn half_division(&self, line: &str) -> Exact {
        let weighing = self.batch().weighings().iter().find(|weighing| weighing.line().name() == line);
        weighing.map(|weighing| weighing.division().grams() / Exact::from(2)).unwrap_or_default()
    }
}

struct Checked<'a> {
    question: &'a Question,
    brief: &'a Brief,
    rows: BriefProgram,
}

/// Whether a row does not hold at a point.
fn breaks(row: &tenside_lp::Row, point: &[Exact]) -> bool {
    let activity = dot(&row.coefficients, point);
    row.low.as_ref().is_some_and(|low| activity < *low) || row.high.as_ref().is_some_and(|high| activity > *high)
}

impl<'a> Checked<'a> {
    fn new(question: &'a Question, brief: &'a Brief) -> Result<Self, Error> {
        Ok(Checked { question, brief, rows: rows(brief)? })
    }

    /// Percent of every line of the question's brief, with these additions.
    fn point(&self, additions: &[Exact]) -> Vec<Exact> {
        let total = self.question.bowl_mass() + additions.iter().sum::<Exact>();
        let grams = |name: &str| {
            let added =
                self.question.additions.iter().position(|(_, line)| line == name).map(|place| additions[place].clone());
            let bowl =
                self.question.in_bowl.iter().find(|(line, _)| line == name).map(|(_, mass)| mass.grams().clone());
            added.or(bowl).unwrap_or_default()
        };
        self.brief.lines().iter().map(|line| grams(line.name()) / &total * Exact::hundred()).collect()
    }

    /// The rows that the point breaks; of equations only where `equations` are asked for, since no rounding keeps them
    /// all.
    fn broken(&self, point: &[Exact], equations: bool) -> Vec<usize> {
        let is_asked = |row: &tenside_lp::Row| equations || row.low.is_none() || row.low != row.high;
        let rows = self.rows.program().rows().iter().enumerate();
        rows.filter(|(_, row)| is_asked(row) && breaks(row, point)).map(|(place, _)| place).collect()
    }

    /// Whole divisions around the exact masses that keep every limit: the nearest, else those by which the line that
    /// suffers most departs by the smallest share of itself. Where none keeps them, the nearest, if the bowl holds it and
    /// the stock has it, which all that is rounded down does.
    fn rounded(&self, exact: &[Exact], division: &Exact, means: &Means) -> Grams {
        let nearest: Grams = exact.iter().map(|grams| grams.rounded_to(division, HalfWay::ToEven)).collect();
        let keeps = |additions: &[Exact]| self.broken(&self.point(additions), false).is_empty();
        let is_there = |additions: &[Exact]| {
            let total = self.question.bowl_mass() + additions.iter().sum::<Exact>();
            let mut named = self.question.additions.iter().zip(additions);
            means.most.as_ref().is_none_or(|most| total <= *most.grams())
                && named.all(|((line, _), added)| means.stock.get(line).is_none_or(|left| added <= left.grams()))
        };
        let open: Vec<usize> =
            (0..exact.len()).filter(|place| exact[*place].floor_to(division) != exact[*place]).collect();
        if keeps(&nearest) {
            return nearest;
        }
        if open.len() > MOST_TRIED {
            let down = || exact.iter().map(|grams| grams.floor_to(division)).collect();
            return if is_there(&nearest) { nearest } else { down() };
        }
        let with = |up: u32| -> Grams {
            let mut grams = exact.to_vec();
            for (bit, place) in open.iter().enumerate() {
                let down = exact[*place].floor_to(division);
                grams[*place] = if up >> bit & 1 == 1 { down + division } else { down };
            }
            grams
        };
        let is_up = |place: &usize| nearest[*place] > exact[*place];
        let nearest_up =
            open.iter().enumerate().filter(|(_, place)| is_up(place)).fold(0, |up, (bit, _)| up | 1 << bit);
        // By how much of itself a line departs if it is rounded down, and if up.
        let departs: Vec<[Exact; 2]> = open
            .iter()
            .map(|place| {
                let name = &self.question.additions[*place].0;
                let bowl = self.question.in_bowl.iter().find(|(line, _)| line == name).map(|(_, mass)| mass.grams());
                let line = bowl.map_or_else(|| exact[*place].clone(), |bowl| bowl + &exact[*place]);
                let down = &exact[*place] - exact[*place].floor_to(division);
                [&down / &line, (division - &down) / &line]
            })
            .collect();
        let worst = |up: u32| departs.iter().enumerate().map(|(bit, departs)| &departs[(up >> bit & 1) as usize]).max();
        let mut tries: Vec<u32> = (0..1u32 << open.len()).collect();
        // Every one rounds by less than a division, so the fewer go up, the less is added.
        tries.sort_by_cached_key(|up| (worst(*up), (up ^ nearest_up).count_ones(), up.count_ones(), *up));
        let first =
            |is_wanted: &dyn Fn(&[Exact]) -> bool| tries.iter().map(|up| with(*up)).find(|grams| is_wanted(grams));
        let kept = first(&keeps).or_else(|| if is_there(&nearest) { None } else { first(&is_there) });
        kept.unwrap_or(nearest)
    }

    /// Whether a row that a point breaks may hold all the same, given what the scales could not see: of a sum of
    /// percentages `c x`, half a division `h_j` of line `j` in a mass `m` moves `100 h_j / m (c_j - c x / 100)`.
    fn is_unseen(&self, row: &tenside_lp::Row, point: &[Exact], halves: &[Exact]) -> bool {
        let activity = dot(&row.coefficients, point);
        let level = &activity / Exact::hundred();
        let moved = row.coefficients.iter().zip(halves).map(|(coefficient, half)| (coefficient - &level).abs() * half);
        let unseen = moved.sum::<Exact>() * Exact::hundred() / self.question.bowl_mass();
        let below = row.low.as_ref().map(|low| low - &activity);
        let above = row.high.as_ref().map(|high| &activity - high);
        below.into_iter().chain(above).all(|short| short <= unseen)
    }

    /// What a point breaks, each requirement once.
    fn missed_by(
        &self,
        point: &[Exact],
        is_rounding: &dyn Fn(&tenside_lp::Row) -> bool,
    ) -> Result<Vec<Shortfall>, Error> {
        let mut missed = Vec::new();
        let mut seen = None;
        for row in self.broken(point, true) {
            let RowName::Requirement { index, upper, .. } = &self.rows.names()[row] else { continue };
            if seen == Some(*index) {
                continue;
            }
            seen = Some(*index);
            let is_rounding = is_rounding(&self.rows.program().rows()[row]);
            missed.push(self.shortfall(&self.brief.requirements()[*index], *upper, point, is_rounding)?);
        }
        Ok(missed)
    }

    /// A requirement that is missed, at its upper end or at its lower one.
    fn shortfall(
        &self,
        requirement: &Requirement,
        upper: bool,
        point: &[Exact],
        is_rounding: bool,
    ) -> Result<Shortfall, Error> {
        let (above, below) = sides(self.brief, requirement.measure(), requirement.basis())?;
        let value = dot(&*above, point).checked_div(&dot(&*below, point));
        let (low, high) = (requirement.low(), requirement.high());
        let Some(limit) = (if upper { high.or(low) } else { low.or(high) }) else {
            return Err(Fault::new(FaultKind::Contradiction, "a requirement without a limit is missed")
                .value(requirement.name())
                .into());
        };
        let unit = requirement.measure().unit(self.brief.prices().map(|prices| prices.currency()));
        Ok(Shortfall { asked: requirement.name(), value, limit: limit.clone(), unit, is_rounding })
    }
}
