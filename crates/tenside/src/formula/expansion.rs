//! A formula taken apart into its constituents, as charged.

use std::sync::Arc;

use indexmap::IndexMap;

use super::Formula;
use crate::material::Declaration;
use crate::number::{Exact, Interval, Ppm};
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

struct Sum {
    substance: Arc<Substance>,
    low: Option<Exact>,
    typical: Option<Exact>,
    high: Option<Exact>,
    lines: Vec<String>,
    declaration: Declaration,
}

impl Formula {
    /// The constituents as charged, largest first; equal ones in the order of the lines. The typical values sum to exactly 100.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::{Exact, Ppm};
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent_text(percent)?);
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
                let weight = line.percent().percent() * share;
                let of = |end: Option<Ppm>| end.map(|end| end.share() * &weight);
                for row in leaf.composition().constituents() {
                    let sum = sums.entry(row.substance().inci()).or_insert_with(|| Sum {
                        substance: Arc::clone(row.substance()),
                        low: Some(Exact::ZERO),
                        typical: Some(Exact::ZERO),
                        high: Some(Exact::ZERO),
                        lines: Vec::new(),
                        declaration: Declaration::NotDeclared,
                    });
                    add(&mut sum.low, of(row.low()));
                    add(&mut sum.typical, of(row.share()));
                    add(&mut sum.high, of(row.high()));
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
                substance: sum.substance,
                percent: Interval { low: sum.low, typical: sum.typical, high: sum.high },
                lines: sum.lines,
                declaration: sum.declaration,
            })
            .collect();
        rows.sort_by_key(|row| std::cmp::Reverse(row.percent.typical.clone().unwrap_or_default()));
        rows
    }
}

fn add(sum: &mut Option<Exact>, value: Option<Exact>) {
    *sum = match (sum.take(), value) {
        (Some(sum), Some(value)) => Some(sum + value),
        _ => None,
    };
}
