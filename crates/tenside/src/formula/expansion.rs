//! A formula taken apart into its constituents, as charged.

use std::sync::Arc;

use indexmap::IndexMap;

use super::Formula;
use crate::material::Declaration;
use crate::number::{Exact, Interval};
use crate::substance::Substance;

/// One constituent of a formula.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Expanded {
    /// The substance.
    pub substance: Arc<Substance>,
    /// Percent of the formula as charged. Without a typical composition the typical value is absent.
    pub percent: Interval,
    /// The lines that bring it.
    pub lines: Vec<String>,
    /// What the suppliers declare: `declared` if one does, else `ask` if one is to be asked.
    pub declaration: Declaration,
}

/// Parts of the whole that a million million are.
const SQUARE: u64 = 1_000_000 * 1_000_000;

struct Sum {
    substance: Arc<Substance>,
    /// Low, typical, high; absent once one is not stated.
    ends: [Option<Share>; 3],
    lines: Vec<String>,
    declaration: Declaration,
}

/// A share of the formula: ppm of ppm, and what premixes bring besides.
struct Share {
    parts: i128,
    rest: Exact,
}

impl Share {
    fn percent(&self) -> Exact {
        let parts = Exact::over(self.parts, SQUARE / 100);
        if self.rest.is_zero() { parts } else { parts + Exact::hundred() * &self.rest }
    }
}

impl Formula {
    /// The constituents as charged, largest first; equal ones in the order of the lines. The typical values sum to
    /// exactly 100.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::{Exact, Ppm};
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let formula = Formula::new("Plain bar", vec![line("sci-powder", "60")?, line("kaolin", "40")?])?;
    /// let sum: Exact = formula.expand().iter().map(|row| row.percent.typical.clone().unwrap()).sum();
    /// assert_eq!(sum, Exact::from(100));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    #[must_use]
    pub fn expand(&self) -> Vec<Expanded> {
        let mut sums: IndexMap<&str, Sum> = IndexMap::new();
        for line in self.lines().iter().filter(|line| !line.percent().is_zero()) {
            for (leaf, share) in line.material().leaves() {
                let of_premix = (share != Exact::ONE).then(|| line.percent().share() * share);
                for row in leaf.composition().constituents() {
                    let sum = sums.entry(row.substance().inci()).or_insert_with(|| Sum {
                        substance: Arc::clone(row.substance()),
                        ends: [const { Some(Share { parts: 0, rest: Exact::ZERO }) }; 3],
                        lines: Vec::new(),
                        declaration: Declaration::NotDeclared,
                    });
                    for (sum, end) in sum.ends.iter_mut().zip([row.low(), row.share(), row.high()]) {
                        match (sum.as_mut(), end) {
                            (Some(sum), Some(end)) => match &of_premix {
                                Some(weight) => sum.rest += end.share() * weight,
                                None => sum.parts += i128::from(line.percent().parts()) * i128::from(end.parts()),
                            },
                            _ => *sum = None,
                        }
                    }
                    if !sum.lines.iter().any(|name| name == line.name()) {
                        sum.lines.push(line.name().to_string());
                    }
                    sum.declaration = match (sum.declaration, row.declaration()) {
                        (Declaration::Declared, _) | (_, Declaration::Declared) => Declaration::Declared,
                        (Declaration::Ask, _) | (_, Declaration::Ask) => Declaration::Ask,
                        _ => Declaration::NotDeclared,
                    };
                }
            }
        }
        let mut rows: Vec<Expanded> = sums
            .into_values()
            .map(|sum| Expanded {
                percent: sum.percent(),
                substance: sum.substance,
                lines: sum.lines,
                declaration: sum.declaration,
            })
            .collect();
        rows.sort_by_key(|row| std::cmp::Reverse(row.percent.typical.clone().unwrap_or_default()));
        rows
    }
}

impl Sum {
    fn percent(&self) -> Interval {
        let [low, typical, high] = self.ends.each_ref().map(|end| end.as_ref().map(Share::percent));
        Interval { low, typical, high }
    }
}
