//! Two formulas side by side.

use super::Formula;
use crate::number::{Exact, Ppm};

/// What differs between two formulas.
#[derive(Clone, Debug, PartialEq)]
pub struct Difference {
    /// Title of the first.
    pub before: String,
    /// Title of the second.
    pub after: String,
    /// Every line of either, in the order of the second, then those only the first has.
    pub lines: Vec<DifferenceRow<Ppm>>,
    /// Every constituent of either, as charged, typical values; those that differ most first.
    pub constituents: Vec<DifferenceRow<Exact>>,
}

/// One row: the values in both; nothing where a formula does not have it.
#[derive(Clone, Debug, PartialEq)]
pub struct DifferenceRow<T> {
    /// What is compared.
    pub name: String,
    /// In the first.
    pub before: Option<T>,
    /// In the second.
    pub after: Option<T>,
    /// True where the raw material, its lot or its phase changed too.
    pub changed_otherwise: bool,
}

impl Formula {
    /// This formula and a later one, side by side.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::Ppm;
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent_text(percent)?);
    /// let first = Formula::new("First", vec![line("sci-powder", "60")?, line("kaolin", "40")?])?;
    /// let second = Formula::new("Second", vec![line("sci-powder", "55")?, line("corn-starch", "45")?])?;
    /// let difference = first.difference(&second);
    /// assert_eq!(difference.lines.len(), 3);
    /// assert_eq!(difference.lines[1].before, None);
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn difference(&self, after: &Formula) -> Difference {
        let mut lines = Vec::new();
        for line in after.lines() {
            let before = self.lines().iter().find(|before| before.name() == line.name());
            lines.push(DifferenceRow {
                name: line.name().to_string(),
                before: before.map(|before| before.percent()),
                after: Some(line.percent()),
                changed_otherwise: before.is_some_and(|before| before.material() != line.material() || before.phase() != line.phase()),
            });
        }
        for line in self.lines().iter().filter(|line| !after.lines().iter().any(|other| other.name() == line.name())) {
            lines.push(DifferenceRow { name: line.name().to_string(), before: Some(line.percent()), after: None, changed_otherwise: false });
        }
        Difference { before: self.title().to_string(), after: after.title().to_string(), lines, constituents: constituents(self, after) }
    }
}

fn constituents(before: &Formula, after: &Formula) -> Vec<DifferenceRow<Exact>> {
    let typical = |formula: &Formula| -> Vec<(String, Exact)> {
        formula.expand().into_iter().filter_map(|row| Some((row.substance.inci().to_string(), row.percent.typical?))).collect()
    };
    let (left, right) = (typical(before), typical(after));
    let of = |rows: &[(String, Exact)], name: &str| rows.iter().find(|(known, _)| known == name).map(|(_, value)| value.clone());
    let names = right.iter().map(|(name, _)| name).chain(left.iter().map(|(name, _)| name).filter(|name| of(&right, name).is_none()));
    let mut rows: Vec<DifferenceRow<Exact>> =
        names.map(|name| DifferenceRow { name: name.clone(), before: of(&left, name), after: of(&right, name), changed_otherwise: false }).collect();
    let size = |row: &DifferenceRow<Exact>| (row.after.clone().unwrap_or_default() - row.before.clone().unwrap_or_default()).abs();
    rows.sort_by_key(|row| std::cmp::Reverse(size(row)));
    rows
}
