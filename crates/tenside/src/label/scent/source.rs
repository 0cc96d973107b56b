//! What each raw material of a formula brings of the entries, by catalogue, by the supplier's declaration, or by the maker's statement.

use std::sync::Arc;

use super::super::content::{Amount, Content, MILLION, Part, is_scent};
use super::super::{LabelRequest, ScentDeclaration, ScentEntry};
use super::knapsack::{Row, extreme};
use crate::material::{Constituent, Material};
use crate::number::{Grains, Ppm};
use crate::substance::Class;

/// A raw material as bought, over all its lines.
pub(super) struct Carrier<'f> {
    pub(super) material: &'f Arc<Material>,
    /// Parts per million of the formula.
    pub(super) parts: u64,
    pub(super) sources: Vec<Source<'f>>,
}

/// A raw material without premixes, or a premix that was declared as a whole.
pub(super) struct Source<'f> {
    pub(super) id: &'f str,
    /// Scent, oil, extract or nameless remainder.
    pub(super) is_scented: bool,
    /// Declared, or stated to bring none.
    pub(super) is_settled: bool,
    pub(super) listed: Vec<Listed>,
    /// The most there can be of an entry that is not listed.
    pub(super) unlisted: Grains,
}

/// What is known of one entry.
pub(super) struct Listed {
    pub(super) place: usize,
    pub(super) amount: Amount,
    /// The most there can be, for all that a supplier or the user states.
    pub(super) bound: Grains,
}

pub(super) fn carriers<'f>(content: &'f Content<'f>, request: &'f LabelRequest) -> Vec<Carrier<'f>> {
    let declared = |id: &str| request.declarations.iter().find(|declaration| declaration.material() == id);
    let mut carriers: Vec<Carrier<'f>> = Vec::new();
    for parts in content.parts.chunk_by(|left, right| std::ptr::eq(left.line, right.line)) {
        let Some(line) = parts.first().map(|part| part.line) else { continue };
        let material = line.material();
        let index = carriers.iter().position(|carrier| Arc::ptr_eq(carrier.material, material)).unwrap_or_else(|| {
            carriers.push(Carrier { material, parts: 0, sources: Vec::new() });
            carriers.len() - 1
        });
        let carrier = &mut carriers[index];
        carrier.parts += u64::from(line.percent().parts());
        // A premix may be declared as a whole.
        let is_premix = parts.iter().all(|part| part.material.id() != material.id());
        let whole = declared(material.id()).filter(|_| is_premix);
        if let Some(declaration) = whole {
            let weight = content.denominator.times(u64::from(line.percent().parts()));
            carrier.sources.push(Source::declared(material.id(), &weight, declaration));
        }
        carrier.sources.extend(parts.iter().map(|part| Source::of(part, declared(part.material.id()), whole, request.others_unscented)));
    }
    carriers
}

impl<'f> Source<'f> {
    fn declared(id: &'f str, weight: &Grains, declaration: &ScentDeclaration) -> Self {
        let listed = declaration.places().map(|place| {
            let (low, high) = declaration.range(place);
            let amount = Amount::between(weight, low, high);
            Listed { place, bound: amount.high.clone(), amount }
        });
        Source {
            id,
            is_scented: true,
            is_settled: true,
            listed: listed.collect(),
            unlisted: weight.times(MILLION).times(u64::from(declaration.reporting().parts())),
        }
    }

    /// A part by itself, or inside a premix that was declared as a whole.
    fn of(part: &Part<'f>, own: Option<&ScentDeclaration>, whole: Option<&ScentDeclaration>, others_unscented: bool) -> Self {
        let leaf = part.material;
        let is_scented = is_scented(leaf);
        let everything = part.weight.times(MILLION * MILLION);
        let mut source = match own {
            Some(declaration) if whole.is_none() => Source::declared(leaf.id(), &part.weight, declaration),
            _ => {
                let is_settled = whole.is_some() || (others_unscented && !is_scented);
                let unlisted = if is_settled { Grains::default() } else { everything.clone() };
                Source { id: leaf.id(), is_scented, is_settled, listed: Vec::new(), unlisted }
            }
        };
        let declaration = whole.or(own);
        let names = |place: usize| declaration.is_some_and(|declaration| declaration.places().any(|named| named == place));
        let weights = weights(leaf, declaration.is_none());
        // Starter values bound nothing: they are no supplier's statement.
        let bounds = !weights.is_empty() && (declaration.is_some() || !leaf.is_starter());
        for (place, weights) in weights.into_iter().filter(|(place, _)| !names(*place)) {
            let amount = weights.amount(leaf.composition().constituents(), &part.weight);
            let bound = if bounds { amount.high.clone() } else { everything.clone() };
            source.listed.push(Listed { place, amount, bound });
        }
        source
    }
}

/// Could hold scent constituents by what it is: the ones a declaration is asked for first.
fn is_scented(leaf: &Material) -> bool {
    let rows = leaf.composition().constituents().iter().map(Constituent::substance);
    !leaf.contained().is_empty() || rows.into_iter().any(|substance| is_scent(substance) || matches!(substance.class(), Class::Botanical | Class::Unspecified))
}

/// What one unit of each constituent brings of an entry, in ppm: lowest, typical, highest; and which ends are stated.
struct Weights {
    rows: Vec<(u64, Option<u64>, u64)>,
    low_stated: bool,
    high_stated: bool,
}

/// The weights by entry; `contained` tells whether what the catalogue lists inside ingredients counts.
fn weights(leaf: &Material, contained: bool) -> Vec<(usize, Weights)> {
    let rows = leaf.composition().constituents();
    let mut found: Vec<(usize, Weights)> = Vec::new();
    let mut add = |place: usize, at: usize, low: Option<Ppm>, typical: Option<Ppm>, high: Option<Ppm>| {
        let index = found.iter().position(|(known, _)| *known == place).unwrap_or_else(|| {
            found.push((place, Weights { rows: vec![(0, Some(0), 0); rows.len()], low_stated: true, high_stated: true }));
            found.len() - 1
        });
        let weights = &mut found[index].1;
        let of = |share: Ppm| u64::from(share.parts());
        let row = &mut weights.rows[at];
        row.0 = (row.0 + of(low.unwrap_or(Ppm::ZERO))).min(MILLION);
        row.1 = row.1.zip(typical).map(|(sum, share)| (sum + of(share)).min(MILLION));
        row.2 = (row.2 + of(high.unwrap_or(Ppm::WHOLE))).min(MILLION);
        weights.low_stated &= low.is_some();
        weights.high_stated &= high.is_some();
    };
    for (at, row) in rows.iter().enumerate() {
        for place in ScentEntry::places_of(row.substance()) {
            add(place, at, Some(Ppm::WHOLE), Some(Ppm::WHOLE), Some(Ppm::WHOLE));
        }
    }
    for part in leaf.contained().iter().filter(|_| contained) {
        let Some(at) = rows.iter().position(|row| row.substance().inci() == part.of()) else { continue };
        for place in ScentEntry::places_of(part.substance()) {
            add(place, at, part.low(), part.share(), part.high());
        }
    }
    found
}

impl Weights {
    /// Over the compositions of a raw material of which all would be `weight`.
    fn amount(&self, rows: &[Constituent], weight: &Grains) -> Amount {
        let ends = |pick: fn(&(u64, Option<u64>, u64)) -> u64, upwards: bool| {
            let parts = |share: Option<Ppm>, otherwise: Ppm| u64::from(share.unwrap_or(otherwise).parts());
            let rows = rows.iter().zip(&self.rows).map(|(row, weights)| Row {
                low: parts(row.low(), Ppm::ZERO),
                high: parts(row.high(), Ppm::WHOLE),
                weight: pick(weights),
            });
            weight.times(extreme(&rows.collect::<Vec<_>>(), upwards))
        };
        let bringing = || rows.iter().zip(&self.rows).filter(|(_, weights)| weights.2 > 0).map(|(row, _)| row);
        let typical = rows
            .iter()
            .zip(&self.rows)
            .filter(|(_, weights)| weights.2 > 0)
            .try_fold(0u64, |sum, (row, weights)| Some(sum + u64::from(row.share()?.parts()) * weights.1?));
        Amount {
            low: ends(|weights| weights.0, false),
            typical: typical.map(|typical| weight.times(typical)),
            high: ends(|weights| weights.2, true),
            low_stated: self.low_stated && bringing().all(|row| row.low().is_some()),
            high_stated: self.high_stated && bringing().all(|row| row.high().is_some()),
        }
    }
}
