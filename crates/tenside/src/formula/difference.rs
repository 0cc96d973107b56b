//! Two formulas side by side.

use indexmap::IndexMap;

use super::{Expanded, Formula};
use crate::document::{Number, form, forms};
use crate::number::Exact;

/// What differs between two formulas.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Difference {
    /// Title of the first.
    pub before: String,
    /// Title of the second.
    pub after: String,
    /// Every line of either, in the order of the second, then those only the first has.
    pub lines: Vec<DifferenceRow>,
    /// Every constituent of either, as charged, typical values; those that differ most first.
    pub constituents: Vec<DifferenceRow>,
}

/// Whether a formula has something, and how much of it.
#[derive(Clone, Debug, PartialEq)]
pub enum Presence {
    /// The formula does not have it.
    Absent,
    /// The formula has it; how much is not known.
    NotKnown,
    /// So many percent of it.
    Known(Exact),
}

impl Presence {
    /// The value, if it is known.
    #[must_use]
    pub fn known(&self) -> Option<&Exact> {
        match self {
            Presence::Known(value) => Some(value),
            Presence::Absent | Presence::NotKnown => None,
        }
    }
}

/// One row: what is in both.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct DifferenceRow {
    /// What is compared.
    pub name: String,
    /// In the first.
    pub before: Presence,
    /// In the second.
    pub after: Presence,
    /// True where the raw material, its lot or its phase changed too.
    pub changed_otherwise: bool,
}

impl DifferenceRow {
    /// By how much the second has more, in percent; what a formula does not have counts as none of it, and a side that
    /// is not known gives no number.
    #[must_use]
    pub fn change(&self) -> Option<Exact> {
        let value = |side: &Presence| match side {
            Presence::Absent => Some(Exact::ZERO),
            Presence::NotKnown => None,
            Presence::Known(value) => Some(value.clone()),
        };
        Some(value(&self.after)? - value(&self.before)?)
    }
}

form! {
    /// One row of a difference, percent.
    DifferenceRowDocument of DifferenceRow, |it| {
        /// What is compared.
        name: String,
        /// Whether the first formula has it.
        in_before: bool = it.before != Presence::Absent,
        /// How much of it, where that is known.
        before: Option<Number> = it.before.known().map(Number::from),
        /// Whether the second formula has it.
        in_after: bool = it.after != Presence::Absent,
        /// How much of it, where that is known.
        after: Option<Number> = it.after.known().map(Number::from),
        /// By how much the second has more; null where one side is not known.
        change: Option<Number> = it.change().map(Number::from),
        /// Whether the raw material, its lot or its phase changed too.
        changed_otherwise: bool,
    }
}

form! {
    /// What differs between two formulas. It does not come back: compare them again.
    DifferenceDocument of Difference as "difference/1", |it, _materials| {
        /// Title of the first.
        before: String = it.before.clone(),
        /// Title of the second.
        after: String = it.after.clone(),
        /// Every line of either.
        lines: Vec<DifferenceRowDocument> = forms(&it.lines),
        /// Every constituent of either, as charged, typical values.
        constituents: Vec<DifferenceRowDocument> = forms(&it.constituents),
    }
}

impl Formula {
    /// This formula and a later one, side by side.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line, Presence};
    /// use tenside::number::Ppm;
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let first = Formula::new("First", vec![line("sci-powder", "60")?, line("kaolin", "40")?])?;
    /// let second = Formula::new("Second", vec![line("sci-powder", "55")?, line("corn-starch", "45")?])?;
    /// let difference = first.difference(&second);
    /// assert_eq!(difference.lines.len(), 3);
    /// assert_eq!(difference.lines[1].before, Presence::Absent);
    /// assert_eq!(difference.lines[0].change(), Some((-5).into()));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn difference(&self, after: &Formula) -> Difference {
        let mut lines = Vec::new();
        for line in after.lines() {
            let before = self.lines().iter().find(|before| before.name() == line.name());
            lines.push(DifferenceRow {
                name: line.name().to_string(),
                before: before.map_or(Presence::Absent, |before| Presence::Known(before.percent().percent())),
                after: Presence::Known(line.percent().percent()),
                changed_otherwise: before
                    .is_some_and(|before| before.material() != line.material() || before.phase() != line.phase()),
            });
        }
        for line in self.lines().iter().filter(|line| !after.lines().iter().any(|other| other.name() == line.name())) {
            let before = Presence::Known(line.percent().percent());
            lines.push(DifferenceRow {
                name: line.name().to_string(),
                before,
                after: Presence::Absent,
                changed_otherwise: false,
            });
        }
        Difference {
            before: self.title().to_string(),
            after: after.title().to_string(),
            lines,
            constituents: constituents(self, after),
        }
    }
}

fn constituents(before: &Formula, after: &Formula) -> Vec<DifferenceRow> {
    let typical = |formula: &Formula| -> IndexMap<String, Presence> {
        let presence = |row: Expanded| {
            (row.substance.inci().to_string(), row.percent.typical.map_or(Presence::NotKnown, Presence::Known))
        };
        formula.expand().into_iter().map(presence).collect()
    };
    let (left, right) = (typical(before), typical(after));
    let of = |rows: &IndexMap<String, Presence>, name: &str| rows.get(name).cloned().unwrap_or(Presence::Absent);
    let names = right.keys().chain(left.keys().filter(|name| !right.contains_key(*name)));
    let mut rows: Vec<DifferenceRow> = names
        .map(|name| DifferenceRow {
            name: name.clone(),
            before: of(&left, name),
            after: of(&right, name),
            changed_otherwise: false,
        })
        .collect();
    // What is not known could have changed most.
    rows.sort_by_key(|row| row.change().map(|change| std::cmp::Reverse(change.abs())));
    rows
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::formula::Line;
    use crate::material::{Composition, Constituent, Form, Material};
    use crate::number::Ppm;
    use crate::substance::{Class, Substance};
    use std::sync::Arc;

    /// An order of ingredients without shares: how much of each there is is not known.
    #[test]
    fn what_is_not_known_makes_no_number() {
        let row = |name: &str| Constituent::bounded(Arc::new(Substance::new(name, Class::Other).unwrap()));
        let listed = Composition::bounded(vec![row("A"), row("B")], true).unwrap();
        let listed = Arc::new(Material::new("listed", "Listed", Form::Powder, listed).unwrap());
        let plain = crate::catalogue::Catalogue::starter().material("kaolin").unwrap().clone();
        let formula = |material: &Arc<Material>| {
            Formula::new("Same", vec![Line::new("base", material.clone(), Ppm::WHOLE).unwrap()]).unwrap()
        };
        let row = |difference: &Difference, name: &str| {
            difference.constituents.iter().find(|row| row.name == name).unwrap().clone()
        };
        let difference = formula(&plain).difference(&formula(&listed));
        assert_eq!((row(&difference, "A").before, row(&difference, "A").after), (Presence::Absent, Presence::NotKnown));
        assert_eq!(row(&difference, "A").change(), None);
        assert_eq!(row(&difference, "KAOLIN").change(), Some(Exact::from(-100)));
        assert_eq!(row(&formula(&listed).difference(&formula(&listed)), "B").change(), None);
        assert!(difference.constituents[0].change().is_none(), "what is not known comes first");
    }
}
