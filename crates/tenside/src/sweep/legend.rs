//! What the bits of a code stand for.

use super::axis::{Axis, swept};
use crate::brief::{Brief, Parameter, Requirement, Role};
use crate::measure::Basis;
use crate::number::Ppm;
use crate::solve::Limit;

/// The most limits that a code of 64 bits tells apart.
pub(super) const MOST_LIMITS: usize = 64;

/// The meaning of each bit of a code: a code is a set of limits, and bit `k` (of value `2^k`) stands for the `k`-th.
#[derive(Clone, Debug, PartialEq)]
pub struct Legend {
    limits: Vec<Limit>,
    words: Vec<String>,
}

impl Legend {
    /// In words, one a bit.
    #[must_use]
    pub fn words(&self) -> &[String] {
        &self.words
    }

    /// The limits of a code, in words.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::sweep::{Axis, Sweep, Varied, Values};
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.fix("panthenol", 1)?.between("cetyl-alcohol", 3, 6)?.qs("kaolin")?;
    /// let sweep = Sweep::new(&brief, vec![])?;
    /// assert_eq!(sweep.binding_legend().read(1), ["cetyl-alcohol at its lowest"]);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn read(&self, code: u64) -> Vec<&str> {
        self.words.iter().enumerate().filter(|(bit, _)| code >> bit & 1 == 1).map(|(_, words)| words.as_str()).collect()
    }

    /// True where a code has a bit for every limit.
    pub(super) fn fits(&self) -> bool {
        self.words.len() <= MOST_LIMITS
    }

    /// A legend of other things than limits of the brief.
    pub(super) fn of_words(words: Vec<String>) -> Self {
        Legend { limits: Vec::new(), words }
    }

    /// The bit of a limit; nothing for one that has none.
    pub(super) fn bit(&self, limit: Limit) -> u64 {
        let known =
            |wanted: Limit| self.limits.iter().position(|known| *known == wanted).filter(|bit| *bit < MOST_LIMITS);
        let place = known(limit).or_else(|| match limit {
            Limit::Low(line) | Limit::High(line) => known(Limit::Line(line)),
            _ => None,
        });
        place.map_or(0, |bit| 1 << bit)
    }

    /// The code of some limits.
    pub(super) fn code<'l>(&self, limits: impl IntoIterator<Item = &'l Limit>) -> u64 {
        limits.into_iter().fold(0, |code, limit| code | self.bit(*limit))
    }

    /// What can bind: one-sided limits and ends of ranges.
    pub(super) fn of_binding(brief: &Brief, axes: &[Axis]) -> Self {
        let mut limits = Vec::new();
        for (index, line) in brief.lines().iter().enumerate() {
            match line.role() {
                Role::Fixed(_) => {}
                Role::Between(..) => limits.extend([Limit::Low(index), Limit::High(index)]),
                _ => limits.push(Limit::Low(index)),
            }
        }
        limits.extend(requirement_limits(brief, false));
        limits.push(Limit::WaterToKeep);
        Legend::new(brief, axes, limits)
    }

    /// What can stand in a conflict: requirements, splits, ranges.
    pub(super) fn of_conflict(brief: &Brief, axes: &[Axis]) -> Self {
        let mut limits: Vec<Limit> = requirement_limits(brief, true).collect();
        for (split, known) in brief.splits().iter().enumerate() {
            limits.extend((0..known.parts().len()).map(|member| Limit::Split { split, member }));
        }
        limits.extend((0..brief.lines().len()).map(Limit::Line));
        limits.push(Limit::WaterToKeep);
        Legend::new(brief, axes, limits)
    }

    fn new(brief: &Brief, axes: &[Axis], limits: Vec<Limit>) -> Self {
        let words = limits.iter().map(|limit| words(brief, axes, *limit)).collect();
        Legend { limits, words }
    }
}

fn requirement_limits(brief: &Brief, equations: bool) -> impl Iterator<Item = Limit> {
    brief.requirements().iter().enumerate().flat_map(move |(index, requirement)| {
        let is_equation = requirement.is_target();
        let low = requirement.low().filter(|_| !is_equation).map(|_| false);
        let high = requirement.high().filter(|_| equations || !is_equation).map(|_| true);
        low.into_iter().chain(high).map(move |upper| Limit::Requirement { index, upper })
    })
}

/// One end of a requirement, by the user's name if it has one; without a name, by those of its numbers that no axis
/// turns.
fn requirement_words(requirement: &Requirement, axes: &[Axis], upper: bool) -> String {
    let name = requirement.name();
    let is_swept = |upper: bool| {
        let end = if upper { Parameter::AtMost } else { Parameter::AtLeast };
        [Parameter::Target, end].iter().any(|number| swept(axes, &number(name.clone())).is_some())
    };
    let is_equation = requirement.low() == requirement.high();
    let is_range = requirement.low().is_some() && requirement.high().is_some() && !is_equation;
    let end = match (is_equation, upper) {
        (true, _) => "at",
        (false, true) => "at most",
        (false, false) => "at least",
    };
    let at_swept_moisture =
        requirement.basis() != &Basis::AsCharged && axes.iter().any(|axis| matches!(axis, Axis::Moisture(_)));
    if requirement.is_named() || !(is_swept(false) || is_swept(true) || at_swept_moisture) {
        return match (is_swept(upper), is_range) {
            (true, _) => format!("{name} ({end} the value swept)"),
            (false, true) => format!("{name} ({end})"),
            (false, false) => name,
        };
    }
    let value = if upper { requirement.high() } else { requirement.low() };
    let value = match value {
        Some(value) if !is_swept(upper) => format!("{end} {value}{}", requirement.unit_words()),
        _ => format!("{end} the value swept"),
    };
    let basis = match requirement.basis() {
        Basis::AsCharged => String::new(),
        Basis::Finished(_) if at_swept_moisture => ", finished at the moisture swept".to_string(),
        basis => format!(", {basis}"),
    };
    requirement.words_with(&value, &basis)
}

/// In words that hold along every axis: a number that is swept is not named.
fn words(brief: &Brief, axes: &[Axis], limit: Limit) -> String {
    match limit {
        Limit::Requirement { index, upper } => requirement_words(&brief.requirements()[index], axes, upper),
        Limit::Split { split, member } => {
            let split = &brief.splits()[split];
            format!("split {}: part of {}", split.name(), split.parts()[member].0)
        }
        Limit::Low(line) => format!("{} at its lowest", brief.lines()[line].name()),
        Limit::High(line) => format!("{} at its highest", brief.lines()[line].name()),
        Limit::Line(line) => {
            let line = &brief.lines()[line];
            let numbers = [Parameter::Fixed, Parameter::Lowest, Parameter::Highest];
            if numbers.iter().any(|number| swept(axes, &number(line.name().to_string())).is_some()) {
                return format!("line {}, as swept", line.name());
            }
            let range = if line.role().range() == (Ppm::ZERO, Ppm::WHOLE) {
                "between 0 and 100 %".to_string()
            } else {
                line.role().words()
            };
            format!("line {} {range}", line.name())
        }
        Limit::WaterToKeep => "water as charged at least what the finished product keeps".to_string(),
    }
}
