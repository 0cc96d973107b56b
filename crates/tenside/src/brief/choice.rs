//! Choices: lines that are either absent or at least a dose, and how many lines of a group may be present.

use super::{Brief, BriefLine, Role, on_grid};
use crate::document::{check_name, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Ppm, ToExact};

/// At most so many lines of a group are present: above 0.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AtMostOf {
    group: String,
    most: usize,
}

getters!(AtMostOf {
    /// The group.
    group: &str,
    /// How many of its lines may be present.
    most: usize,
});

impl AtMostOf {
    /// In words: `at most 2 of co-surfactants`.
    #[must_use]
    pub fn words(&self) -> String {
        format!("at most {} of {}", self.most, self.group)
    }
}

/// A part of a brief that can be taken out of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Part {
    AtMostOf(usize),
    Line(usize),
    Requirement(usize),
    Split(usize),
}

impl Brief {
    /// The parts that ask for something, those first whose loss says least.
    pub(crate) fn parts(&self) -> Vec<Part> {
        let asks = |index: &usize| !matches!(self.lines[*index].role(), Role::Free | Role::Qs);
        let lines = (0..self.lines.len()).filter(asks).map(Part::Line);
        let limits = (0..self.at_most_of.len()).map(Part::AtMostOf);
        let requirements = (0..self.requirements.len()).map(Part::Requirement);
        lines.chain(limits).chain(requirements).chain((0..self.splits.len()).map(Part::Split)).collect()
    }

    /// The part in words.
    pub(crate) fn part_words(&self, part: Part) -> String {
        match part {
            Part::AtMostOf(index) => self.at_most_of[index].words(),
            Part::Line(index) => format!("line {}, {}", self.lines[index].name(), self.lines[index].role().words()),
            Part::Requirement(index) => self.requirements[index].name(),
            Part::Split(index) => format!("split {}", self.splits[index].name()),
        }
    }

    /// The brief without these parts; a line without its range is free.
    pub(crate) fn without_parts(&self, parts: &[Part]) -> Self {
        let mut left = self.clone();
        for part in parts {
            if let Part::Line(index) = part {
                left.lines[*index].set_role(Role::Free);
            }
        }
        let kept = |part: Part| !parts.contains(&part);
        left.at_most_of = (0..self.at_most_of.len())
            .filter(|index| kept(Part::AtMostOf(*index)))
            .map(|index| self.at_most_of[index].clone())
            .collect();
        left.requirements = (0..self.requirements.len())
            .filter(|index| kept(Part::Requirement(*index)))
            .map(|index| self.requirements[index].clone())
            .collect();
        left.splits = (0..self.splits.len())
            .filter(|index| kept(Part::Split(*index)))
            .map(|index| self.splits[index].clone())
            .collect();
        left
    }

    /// With a raw material that is either absent or between two percentages as supplied.
    ///
    /// ```
    /// use tenside::brief::{Brief, Role};
    /// use tenside::catalogue::Catalogue;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.absent_or_between("cetyl-alcohol", 2, 6)?;
    /// assert_eq!(brief.lines()[0].role().words(), "absent or between 2 and 6 %");
    /// assert!(brief.absent_or_between("kaolin", 6, 2).is_err());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// As [`Brief::between`], and a least dose of 0.
    pub fn absent_or_between(self, material: &str, least: impl ToExact, greatest: impl ToExact) -> Result<Self, Error> {
        let (least, greatest) = (on_grid(least, material)?, on_grid(greatest, material)?);
        let role =
            Role::absent_or_between(least, greatest).map_err(|error| error.within(&format!("line {material:?}")))?;
        self.named_line(material, role)
    }

    /// With at most so many lines of a group present. The group is a split or what [`Brief::group`] names.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?
    ///     .absent_or_between("capb-30", 2, 10)?
    ///     .absent_or_between("coco-glucoside-50", 2, 10)?
    ///     .group("co-surfactants", &["capb-30", "coco-glucoside-50"])?
    ///     .at_most_of("co-surfactants", 1)?;
    /// assert_eq!(brief.at_most_of_groups()[0].words(), "at most 1 of co-surfactants");
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A group that no line belongs to, a number of 0 or above the group's lines, a group that stands twice.
    pub fn at_most_of(mut self, group: &str, most: usize) -> Result<Self, Error> {
        let group = check_name(group)?;
        let place = format!("at most of group {group:?}");
        let members = self.lines.iter().filter(|line| line.groups().contains(&group)).count();
        if members == 0 {
            let groups = self.lines.iter().flat_map(|line| line.groups().iter().map(String::as_str));
            return Err(Error::from(unknown_name("group", &group, groups)).within(&place));
        }
        if most == 0 || most > members {
            return Err(Fault::new(FaultKind::OutOfRange, "the number is not one of the group's lines")
                .at(place)
                .value(most)
                .allowed(format!("1 to {members} lines"))
                .remedy("take the lines out of the brief, or leave the group without a number")
                .into());
        }
        if self.at_most_of.iter().any(|known| known.group == group) {
            return Err(Fault::new(FaultKind::Duplicate, "a group is limited twice")
                .at(place)
                .remedy("keep the smaller number")
                .into());
        }
        self.at_most_of.push(AtMostOf { group, most });
        Ok(self)
    }

    /// Its groups of which at most so many lines are present.
    #[must_use]
    pub fn at_most_of_groups(&self) -> &[AtMostOf] {
        &self.at_most_of
    }

    /// True where lines may be absent or a group is limited: such a brief is answered by [`Brief::choose`] and
    /// [`Brief::solve_rounded`].
    #[must_use]
    pub fn has_choices(&self) -> bool {
        !self.at_most_of.is_empty() || self.lines.iter().any(|line| matches!(line.role(), Role::AbsentOrBetween(..)))
    }

    /// The brief with its choices made by hand: of the lines that may be absent or belong to a limited group, these are
    /// in with plain ranges, the others fixed at 0. What is decided so can be solved, swept and proved like any brief.
    ///
    /// ```
    /// use tenside::brief::{Brief, Role};
    /// use tenside::catalogue::Catalogue;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?
    ///     .absent_or_between("capb-30", 2, 10)?
    ///     .absent_or_between("coco-glucoside-50", 2, 10)?
    ///     .group("co-surfactants", &["capb-30", "coco-glucoside-50"])?
    ///     .at_most_of("co-surfactants", 1)?
    ///     .qs("kaolin")?;
    /// let decided = brief.with_present(&["capb-30"])?;
    /// assert!(!decided.has_choices());
    /// assert_eq!(decided.lines()[1].role().words(), "fixed at 0 %");
    /// let error = brief.with_present(&["capb-30", "coco-glucoside-50"]).unwrap_err();
    /// assert!(error.to_string().contains("more lines of the group than may be present"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// An unknown line, one of which nothing is to be decided, one that stands twice, more lines of a group than may be
    /// present.
    pub fn with_present(&self, lines: &[&str]) -> Result<Self, Error> {
        let is_open = |line: &BriefLine| {
            matches!(line.role(), Role::AbsentOrBetween(..))
                || self.at_most_of.iter().any(|limit| line.groups().contains(&limit.group))
        };
        let mut present: Vec<bool> = self.lines.iter().map(|line| !is_open(line)).collect();
        let mut faults = Vec::new();
        for name in lines {
            let place = self.lines.iter().position(|line| line.name() == *name);
            match place {
                Some(index) if !present[index] => present[index] = true,
                Some(index) if is_open(&self.lines[index]) => {
                    faults.push(
                        Fault::new(FaultKind::Duplicate, "a line occurs twice")
                            .value(format!("{name:?}"))
                            .remedy("name it once"),
                    );
                }
                Some(_) => {
                    let fault = Fault::new(FaultKind::Unsupported, "nothing is to be decided of this line")
                        .value(format!("{name:?}"));
                    faults.push(fault.remedy("leave it out here: it is in whatever is decided"));
                }
                None => faults.push(unknown_name(
                    "line",
                    name,
                    self.lines.iter().filter(|line| is_open(line)).map(BriefLine::name),
                )),
            }
        }
        for limit in &self.at_most_of {
            let members = self
                .lines
                .iter()
                .zip(&present)
                .filter(|(line, present)| **present && line.groups().contains(&limit.group))
                .count();
            if members > limit.most {
                let fault = Fault::new(FaultKind::Contradiction, "more lines of the group than may be present")
                    .at(format!("group {:?}", limit.group));
                faults.push(fault.value(members).allowed(format!("up to {}", limit.most)).remedy("name fewer of them"));
            }
        }
        Error::check(faults, ())?;
        Ok(self.as_chosen(&present))
    }

    /// The brief with its choices made: the lines that are `present` have plain ranges, the other members are
    /// fixed at 0.
    pub(crate) fn as_chosen(&self, present: &[bool]) -> Self {
        let mut chosen = self.clone();
        let limited = |line: &BriefLine| self.at_most_of.iter().any(|limit| line.groups().contains(&limit.group));
        for (index, (line, present)) in self.lines.iter().zip(present).enumerate() {
            let role = match line.role() {
                Role::AbsentOrBetween(least, greatest) if *present => Role::Between(*least, *greatest),
                Role::AbsentOrBetween(..) => Role::Fixed(Ppm::ZERO),
                Role::Between(..) | Role::Free | Role::Qs if !*present && limited(line) => Role::Fixed(Ppm::ZERO),
                _ => continue,
            };
            chosen.lines[index].set_role(role);
        }
        chosen.at_most_of.clear();
        chosen
    }
}
