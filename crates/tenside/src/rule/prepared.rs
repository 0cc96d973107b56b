//! Raw materials taken apart once for all rows that rules ask for.
//!
//! A row is a measure on a basis against a limit `t`. What a raw material brings to it is `e = factor N - t D`,
//! greatest, typical and least. Most raw materials bring nothing to `N`, so only `c = e + t d` is kept, where `d` is
//! the end of `D` that goes with it, and only where it is not 0; the sums of `d` are shared by all rows of a basis.

use std::sync::Arc;

use super::each::EachFacts;
use crate::error::{Error, Fault};
use crate::material::{Footing, Material};
use crate::measure::{Basis, Compiled, Content, Ends, Facts, LineView, Measure, Names, Term};
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

/// What one part of a raw material brings to something.
pub(super) struct Brought {
    pub(super) nearest: [f64; ENDS],
    pub(super) exact: [Exact; ENDS],
    pub(super) least_footing: Footing,
    pub(super) typical_known: bool,
    pub(super) greatest_footing: Footing,
    /// True where only a scent or an extract leaves open what is typical: that makes no finding.
    pub(super) is_open: bool,
}

/// What it brings to one row.
pub(super) struct Entry {
    pub(super) row: usize,
    pub(super) brought: Brought,
}

/// A raw material taken apart.
pub(super) struct Prepared {
    /// In the order of the rows.
    pub(super) entries: Vec<Entry>,
    /// One for each basis.
    pub(super) masses: Vec<Brought>,
    /// Measures that are not known of it, with the reasons.
    pub(super) unknown: Vec<(usize, Vec<Fault>)>,
    pub(super) each: Vec<EachFacts>,
    /// What in it the sums of several substances count, by measure.
    pub(super) counted: Vec<(usize, Vec<String>)>,
}

impl Entry {
    /// True if the raw material is known to bring something, or its document leaves that open; what only a nameless
    /// remainder could bring does not count.
    pub(super) fn brings(&self) -> bool {
        let brought = &self.brought;
        !brought.typical_known || !brought.exact[1].is_zero() || brought.greatest_footing != Footing::Nameless
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
        let ignores_water =
            measure.numerator().iter().all(|term| term.content.of_water().is_none_or(|water| water.is_zero()));
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
        let facts = Facts { prices: None, names: Names::Anything };
        let mut prepared =
            Prepared { entries: Vec::new(), masses: Vec::new(), unknown: Vec::new(), each, counted: Vec::new() };
        for basis in &self.bases {
            // Mass is known of every raw material.
            let compiled = Compiled::new(&Measure::as_supplied(), basis, &[view], &facts)?;
            prepared.masses.extend(compiled.rows().map(|row| Brought::new(row.denominator_ends(), |_| Exact::ZERO)));
        }
        for (at, asked) in self.measures.iter().enumerate() {
            let ratio = asked.measure.is_ratio();
            let before = prepared.entries.len();
            let mut skip_dry = false;
            for (basis_at, basis) in self.bases.iter().enumerate() {
                let wanted =
                    || self.rows.iter().enumerate().filter(|(_, row)| row.measure == at && row.basis == basis_at);
                if wanted().next().is_none() || (skip_dry && *basis != Basis::AsCharged) {
                    continue;
                }
                let compiled = Compiled::new(&asked.measure, basis, &[view], &facts)?;
                let Some(known) = compiled.lines().next() else { continue };
                let kept = match known {
                    Ok(kept) => kept,
                    Err(faults) => {
                        prepared.unknown.push((at, faults.clone()));
                        break;
                    }
                };
                if kept.is_blank(ratio) {
                    skip_dry |= *basis == Basis::AsCharged && asked.ignores_water;
                    continue;
                }
                for (index, row) in wanted() {
                    let mass = &prepared.masses[basis_at].exact;
                    let of_mass = |end: usize| {
                        if ratio { Exact::ZERO } else { &row.limit * &mass[mass_end(end, row.limit.is_negative())] }
                    };
                    prepared
                        .entries
                        .push(Entry { row: index, brought: Brought::new(kept.ends(&row.limit), of_mass).of(material) });
                }
            }
            if prepared.entries.len() > before {
                let counted = counted(material, &asked.measure);
                prepared.counted.extend((!counted.is_empty()).then_some((at, counted)));
            }
        }
        prepared.entries.sort_by_key(|entry| entry.row);
        Ok(prepared)
    }
}

/// What in a raw material a sum of several substances counts.
fn counted(material: &Material, measure: &Measure) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    let [Term { content: Content::Sum(sum), .. }] = measure.numerator() else { return names };
    if sum.members().len() == 1 {
        return names;
    }
    for (leaf, _) in material.leaves() {
        let rows = leaf.composition().constituents().iter().map(|row| row.substance());
        for substance in
            rows.chain(leaf.contained().iter().map(|part| part.substance())).filter(|substance| sum.counts(substance))
        {
            if !names.iter().any(|name| name == substance.inci()) {
                names.push(substance.inci().to_string());
            }
        }
    }
    names
}

impl Brought {
    /// What a scent or an extract holds that its supplier does not name makes no finding: a rule of its own asks for
    /// the declaration.
    fn of(mut self, material: &Material) -> Self {
        if !self.typical_known && material.has_typical() {
            self.is_open = true;
            self.exact[1] = self.exact[0].clone();
            self.nearest[1] = self.nearest[0];
        }
        self
    }

    /// The ends, to each of which something is added.
    fn new(ends: Ends, added: impl Fn(usize) -> Exact) -> Self {
        let typical_known = ends.typical.is_some();
        let mut exact = [ends.least, ends.typical.unwrap_or_default(), ends.greatest];
        exact.iter_mut().enumerate().for_each(|(end, value)| *value += added(end));
        let nearest = exact.each_ref().map(Exact::to_f64);
        Brought {
            nearest,
            exact,
            least_footing: ends.least_footing,
            typical_known,
            greatest_footing: ends.greatest_footing,
            is_open: false,
        }
    }
}

/// The end of the mass that goes with an end of `factor N - t D`: with a limit of at least 0 the greatest goes with the
/// least mass.
pub(super) fn mass_end(end: usize, limit_is_negative: bool) -> usize {
    if limit_is_negative { end } else { ENDS - 1 - end }
}
