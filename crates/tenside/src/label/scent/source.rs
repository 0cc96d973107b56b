//! What each raw material of a formula brings of the entries: what it is described to hold, and what its supplier
//! declares.

use std::sync::Arc;

use super::super::content::{Amount, Content, Part};
use super::super::{LabelRequest, ScentDeclaration, ScentEntry};
use super::knapsack::{Row, extreme};
use crate::material::{Constituent, Footing, Held, Kind, Material};
use crate::number::{FixedPoint, Ppm};
use crate::substance::Substance;

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
    /// True if its supplier leaves open which entries it holds.
    pub(super) is_open: bool,
    pub(super) listed: Vec<Listed>,
    /// What there can be of an entry that is not listed.
    pub(super) unlisted: Amount,
}

/// What is known of one entry.
pub(super) struct Listed {
    pub(super) place: usize,
    pub(super) amount: Amount,
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
        carrier.sources.extend(parts.iter().map(|part| Source::of(part, declared(part.material.id()), whole)));
    }
    carriers
}

impl<'f> Source<'f> {
    fn declared(id: &'f str, weight: &FixedPoint, declaration: &ScentDeclaration) -> Self {
        let between = |low: u32, high: u32| Amount::between(weight, low, high);
        let listed = declaration.places().map(|place| {
            let (low, high) = declaration.range(place);
            Listed { place, amount: between(low, high) }
        });
        let unlisted = Amount { typical: Some(FixedPoint::default()), ..between(0, declaration.reporting().parts()) };
        Source { id, is_open: false, listed: listed.collect(), unlisted }
    }

    /// A part by itself, or inside a premix that was declared as a whole.
    fn of(part: &Part<'f>, own: Option<&ScentDeclaration>, whole: Option<&ScentDeclaration>) -> Self {
        let leaf = part.material;
        let declaration = whole.or(own);
        let mut source = match own {
            Some(declaration) if whole.is_none() => Source::declared(leaf.id(), &part.weight, declaration),
            _ => Source { id: leaf.id(), is_open: false, listed: Vec::new(), unlisted: Amount::nothing() },
        };
        let rows = leaf.composition().constituents();
        // What is contained in an ingredient is what a declaration is about.
        let contained = leaf.contained().iter().filter(|_| declaration.is_none()).map(|part| part.substance());
        let entries: Vec<(&Substance, Vec<usize>)> = rows
            .iter()
            .map(Constituent::substance)
            .chain(contained)
            .map(|substance| (substance.as_ref(), ScentEntry::places_of(substance)))
            .collect();
        let counts = |substance: &Substance, place: usize| {
            entries.iter().any(|(known, places)| std::ptr::eq(*known, substance) && places.contains(&place))
        };
        let held = |row: &Constituent, is: &dyn Fn(&Substance) -> bool| match declaration {
            None => leaf.held_in(row, Kind::SCENT, is),
            Some(_) if is(row.substance()) => Held::ALL,
            Some(_) => Held::NOTHING,
        };
        let amount = |is: &dyn Fn(&Substance) -> bool| {
            amount(rows, &rows.iter().map(|row| held(row, is)).collect::<Vec<_>>(), &part.weight)
        };
        let mut places: Vec<usize> = entries.iter().flat_map(|(_, places)| places).copied().collect();
        places.sort_unstable();
        places.dedup();
        places
            .retain(|place| !declaration.is_some_and(|declaration| declaration.places().any(|named| named == *place)));
        source.listed.extend(
            places.into_iter().map(|place| Listed { place, amount: amount(&|substance| counts(substance, place)) }),
        );
        if declaration.is_none() {
            source.unlisted = amount(&|_| false);
            source.is_open = leaf.is_open_for_scent();
        }
        source
    }

    /// What there can be of an entry.
    pub(super) fn amount(&self, place: usize) -> &Amount {
        self.listed.iter().find(|listed| listed.place == place).map_or(&self.unlisted, |listed| &listed.amount)
    }
}

/// Over the compositions of a raw material of which all would be `weight`, each ingredient holding so much.
fn amount(rows: &[Constituent], held: &[Held], weight: &FixedPoint) -> Amount {
    let ends = |pick: fn(&Held) -> Ppm, upwards: bool| {
        let parts = |share: Option<Ppm>, otherwise: Ppm| u64::from(share.unwrap_or(otherwise).parts());
        let rows = rows.iter().zip(held).map(|(row, held)| Row {
            low: parts(row.low(), Ppm::ZERO),
            high: parts(row.high(), Ppm::WHOLE),
            weight: u64::from(pick(held).parts()),
        });
        weight.times(extreme(&rows.collect::<Vec<_>>(), upwards))
    };
    let bringing = || rows.iter().zip(held).filter(|(_, held)| !held.greatest.is_zero());
    let typical = bringing().try_fold(0u64, |sum, (row, held)| {
        let share = u64::from(row.share()?.parts());
        if share == 0 { Some(sum) } else { Some(sum + share * u64::from(held.typical?.parts())) }
    });
    Amount {
        low: ends(|held| held.least, false),
        typical: typical.map(|typical| weight.times(typical)),
        high: ends(|held| held.greatest, true),
        low_stated: bringing().all(|(row, held)| row.low().is_some() && held.least_footing > Footing::NotStated),
        high_stated: bringing().all(|(row, held)| row.high().is_some() && held.greatest_footing > Footing::NotStated),
    }
}
