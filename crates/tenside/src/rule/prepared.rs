//! Raw materials taken apart once for all rows that rules ask for.
//!
//! A row is a measure on a basis against a limit `t`. What a raw material brings to it is `e = factor N - t D`, greatest, typical and
//! least. Most raw materials bring nothing to `N`, so only `c = e + t d` is kept, where `d` is the end of `D` that goes with it, and only
//! where it is not 0; the sums of `d` are shared by all rows of a basis.

use std::sync::Arc;

use super::each::EachFacts;
use crate::error::{Error, Fault};
use crate::material::{Footing, Material};
use crate::measure::{Basis, Compiled, Ends, Facts, LineView, Measure, Names};
use crate::number::Exact;

/// Least, typical, greatest.
pub(super) const ENDS: usize = 3;

/// A measure that rows ask for.
pub(super) struct Asked {
    pub(super) measure: Measure,
    /// True where drying brings nothing to raw materials that have none of it.
    ignores_water: bool,
}

/// A measure on a basis against a limit.
pub(super) struct Row {
    pub(super) measure: usize,
    pub(super) basis: usize,
    pub(super) limit: Exact,
    pub(super) limit_nearest: f64,
}

/// What all rules ask for.
#[derive(Default)]
pub(super) struct Plan {
    pub(super) measures: Vec<Asked>,
    pub(super) bases: Vec<Basis>,
    pub(super) rows: Vec<Row>,
}

/// What a raw material brings to one row.
pub(super) struct Entry {
    pub(super) row: usize,
    pub(super) nearest: [f64; ENDS],
    pub(super) least_footing: Footing,
    pub(super) typical_known: bool,
    pub(super) greatest_footing: Footing,
    pub(super) exact: [Exact; ENDS],
}

/// The mass of one part of a raw material on a basis.
pub(super) struct Mass {
    pub(super) nearest: [f64; ENDS],
    pub(super) exact: [Exact; ENDS],
    pub(super) least_footing: Footing,
    pub(super) typical_known: bool,
    pub(super) greatest_footing: Footing,
}

/// A raw material taken apart.
pub(super) struct Prepared {
    /// Kept, so that its place in memory stays its own.
    pub(super) material: Arc<Material>,
    /// In the order of the rows.
    pub(super) entries: Vec<Entry>,
    /// One for each basis.
    pub(super) masses: Vec<Mass>,
    /// Measures that are not known of it, with the reasons.
    pub(super) unknown: Vec<(usize, Vec<Fault>)>,
    pub(super) each: Vec<EachFacts>,
}

impl Entry {
    /// True if the raw material is known to bring something, or its document leaves that open; what only a nameless remainder could bring
    /// does not count.
    pub(super) fn brings(&self) -> bool {
        !self.typical_known || !self.exact[1].is_zero() || self.greatest_footing != Footing::Nameless
    }
}

impl Prepared {
    /// What it brings to a row, if anything.
    pub(super) fn entry(&self, row: usize) -> Option<&Entry> {
        self.entries.binary_search_by_key(&row, |entry| entry.row).ok().map(|at| &self.entries[at])
    }
}

impl Plan {
    /// The index of a measure.
    pub(super) fn measure(&mut self, measure: &Measure) -> usize {
        if let Some(known) = self.measures.iter().position(|asked| asked.measure == *measure) {
            return known;
        }
        let ignores_water = measure.numerator().0.of_water().is_none_or(|water| water.is_zero());
        self.measures.push(Asked { measure: measure.clone(), ignores_water });
        self.measures.len() - 1
    }

    /// The index of a row.
    pub(super) fn row(&mut self, measure: &Measure, basis: usize, limit: &Exact) -> usize {
        let measure = self.measure(measure);
        let same = |row: &Row| row.measure == measure && row.basis == basis && row.limit == *limit;
        if let Some(known) = self.rows.iter().position(same) {
            return known;
        }
        self.rows.push(Row { measure, basis, limit: limit.clone(), limit_nearest: limit.to_f64() });
        self.rows.len() - 1
    }

    /// Takes a raw material apart.
    pub(super) fn prepare(&self, material: &Arc<Material>, each: Vec<EachFacts>) -> Result<Prepared, Error> {
        let view = LineView { name: material.id(), material, phase: material.phase(), groups: &[] };
        let masses: Vec<Mass> = self.bases.iter().map(|basis| mass(basis, &view)).collect::<Result<_, _>>()?;
        let mut prepared = Prepared { material: Arc::clone(material), entries: Vec::new(), masses, unknown: Vec::new(), each };
        for (at, asked) in self.measures.iter().enumerate() {
            let ratio = asked.measure.is_ratio();
            let mut skip_dry = false;
            for (basis_at, basis) in self.bases.iter().enumerate() {
                let wanted = || self.rows.iter().enumerate().filter(|(_, row)| row.measure == at && row.basis == basis_at);
                if wanted().next().is_none() || (skip_dry && *basis != Basis::AsCharged) {
                    continue;
                }
                let compiled = Compiled::new(&asked.measure, basis, &[view], &Facts { prices: None, names: Names::Anything })?;
                let Some(terms) = compiled.lines.first() else { continue };
                let terms = match terms {
                    Ok(terms) => terms,
                    Err(faults) => {
                        prepared.unknown.push((at, faults.clone()));
                        break;
                    }
                };
                if terms.is_blank(ratio) {
                    skip_dry |= *basis == Basis::AsCharged && asked.ignores_water;
                    continue;
                }
                for (index, row) in wanted() {
                    let ends = terms.ends(&compiled.factor, &row.limit);
                    prepared.entries.push(entry(index, ends, (!ratio).then(|| &prepared.masses[basis_at]), &row.limit));
                }
            }
        }
        prepared.entries.sort_by_key(|entry| entry.row);
        Ok(prepared)
    }
}

fn mass(basis: &Basis, view: &LineView<'_>) -> Result<Mass, Error> {
    let compiled = Compiled::new(&Measure::as_supplied(), basis, &[*view], &Facts::default())?;
    let ends = match compiled.lines.into_iter().next() {
        Some(Ok(terms)) => terms.denominator_ends(),
        // Mass is known of every raw material.
        _ => Ends { least: Exact::ONE, least_footing: Footing::Stated, typical: Some(Exact::ONE), greatest: Exact::ONE, greatest_footing: Footing::Stated },
    };
    let exact = [ends.least, ends.typical.clone().unwrap_or_default(), ends.greatest];
    Ok(Mass {
        nearest: exact.each_ref().map(Exact::to_f64),
        exact,
        least_footing: ends.least_footing,
        typical_known: ends.typical.is_some(),
        greatest_footing: ends.greatest_footing,
    })
}

/// The end of the mass that goes with an end of `factor N - t D`: with a limit of at least 0 the greatest goes with the least mass.
pub(super) fn mass_end(end: usize, limit_is_negative: bool) -> usize {
    if limit_is_negative { end } else { ENDS - 1 - end }
}

fn entry(row: usize, ends: Ends, mass: Option<&Mass>, limit: &Exact) -> Entry {
    let typical_known = ends.typical.is_some();
    let mut exact = [ends.least, ends.typical.unwrap_or_default(), ends.greatest];
    if let Some(mass) = mass {
        for (end, value) in exact.iter_mut().enumerate() {
            *value += limit * &mass.exact[mass_end(end, limit.is_negative())];
        }
    }
    Entry {
        row,
        nearest: exact.each_ref().map(Exact::to_f64),
        least_footing: ends.least_footing,
        typical_known,
        greatest_footing: ends.greatest_footing,
        exact,
    }
}
