//! The formula taken apart for a label: raw materials without premixes, and what of each ingredient a label names.
//!
//! ```text
//! amount = line * share of the part * share of the ingredient [* share contained in the ingredient]
//! ```
//!
//! Four shares in whole ppm at most, but for the share of a part in nested premixes; so every amount is a whole number
//! of grains, of which `10^18 D` are the formula, with `D` the common denominator of the parts' shares. Nothing is
//! rounded.

use std::collections::HashMap;

use super::{LabelRequest, Market, ScentNames};
use crate::formula::{Formula, Line};
use crate::material::{Composition, Constituent, Declaration, Material};
use crate::number::{Exact, FixedPoint, Interval, Ppm};
use crate::substance::{Class, Substance};

/// Parts per million.
pub(super) const MILLION: u64 = 1_000_000;

/// A raw material without premixes in a line.
pub(super) struct Part<'f> {
    pub(super) line: &'f Line,
    pub(super) material: &'f Material,
    /// Its share of the formula, in parts of which `10^6 D` are the whole.
    pub(super) weight: FixedPoint,
}

/// The formula taken apart.
pub(super) struct Content<'f> {
    pub(super) parts: Vec<Part<'f>>,
    pub(super) denominator: FixedPoint,
}

impl<'f> Content<'f> {
    pub(super) fn of(formula: &'f Formula) -> Self {
        let lines = formula.lines().iter().filter(|line| !line.percent().is_zero());
        let leaves: Vec<(&Line, &Material, Exact)> = lines
            .flat_map(|line| line.material().leaves().into_iter().map(move |(leaf, share)| (line, leaf, share)))
            .collect();
        let denominator = FixedPoint::common_denominator(leaves.iter().map(|(.., share)| share));
        let part = |(line, material, share): (&'f Line, &'f Material, Exact)| {
            let weight = FixedPoint::floor_of(&share, &denominator).times(u64::from(line.percent().parts()));
            Part { line, material, weight }
        };
        let parts = leaves.into_iter().map(part).collect();
        Content { parts, denominator }
    }

    /// The formula as charged, in parts.
    pub(super) fn whole(&self) -> FixedPoint {
        self.share(Ppm::WHOLE.parts())
    }

    /// So many ppm of the formula, in parts.
    pub(super) fn share(&self, ppm: u32) -> FixedPoint {
        self.denominator.times(u64::from(ppm) * SQUARE)
    }
}

/// Parts per million of parts per million.
const SQUARE: u64 = MILLION * MILLION;

/// An amount with the ends it cannot leave: an end that is not stated is the furthest the rest allows.
#[derive(Clone, Debug, Default, PartialEq)]
pub(super) struct Amount {
    pub(super) low: FixedPoint,
    pub(super) typical: Option<FixedPoint>,
    pub(super) high: FixedPoint,
    pub(super) low_stated: bool,
    pub(super) high_stated: bool,
}

impl Amount {
    pub(super) fn nothing() -> Self {
        Amount { typical: Some(FixedPoint::default()), low_stated: true, high_stated: true, ..Amount::default() }
    }

    /// From `low` to `high` ppm of a part's weight; typically in the middle.
    pub(super) fn between(weight: &FixedPoint, low: u32, high: u32) -> Self {
        let middle = weight.times(MILLION / 2).times(u64::from(low) + u64::from(high));
        let of = |end: u32| weight.times(MILLION).times(u64::from(end));
        Amount { low: of(low), typical: Some(middle), high: of(high), low_stated: true, high_stated: true }
    }

    /// One ingredient of one part, `weight` being what all of the part would be.
    pub(super) fn add_row(&mut self, weight: &FixedPoint, low: Option<Ppm>, typical: Option<Ppm>, high: Option<Ppm>) {
        let of = |share: Ppm| weight.times(u64::from(share.parts()));
        if let (Some(low), Some(typical), Some(high), Some(sum)) = (low, typical, high, self.typical.as_mut())
            && low == high
        {
            let amount = of(typical);
            sum.add(&amount);
            self.low.add(&amount);
            self.high.add(&amount);
            return;
        }
        self.low.add(&of(low.unwrap_or(Ppm::ZERO)));
        self.high.add(&of(high.unwrap_or(Ppm::WHOLE)));
        self.low_stated &= low.is_some();
        self.high_stated &= high.is_some();
        self.typical = self.typical.take().zip(typical).map(|(mut sum, share)| {
            sum.add(&of(share));
            sum
        });
    }

    pub(super) fn add(&mut self, other: &Amount) {
        self.low.add(&other.low);
        self.high.add(&other.high);
        self.low_stated &= other.low_stated;
        self.high_stated &= other.high_stated;
        self.typical = self.typical.take().zip(other.typical.as_ref()).map(|(mut sum, more)| {
            sum.add(more);
            sum
        });
    }

    /// Twice the amount by which it is ranked: the typical one, else the middle of its ends.
    pub(super) fn doubled_rank(&self) -> FixedPoint {
        self.typical.as_ref().map_or_else(
            || {
                let mut sum = self.low.clone();
                sum.add(&self.high);
                sum
            },
            |typical| typical.times(2),
        )
    }

    /// In percent of the whole.
    pub(super) fn percent(&self, whole: &FixedPoint) -> Interval {
        let end = |value: &FixedPoint, stated: bool| stated.then(|| value.percent_of(whole));
        if self.low_stated && self.high_stated && self.low == self.high {
            return Interval::point(self.low.percent_of(whole));
        }
        let typical = self.typical.as_ref().map(|typical| typical.percent_of(whole));
        Interval { low: end(&self.low, self.low_stated), typical, high: end(&self.high, self.high_stated) }
    }
}

/// An amount of some whole: a fraction is reduced only when somebody asks for it.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Share {
    amount: Amount,
    whole: FixedPoint,
}

impl Share {
    pub(super) fn new(amount: Amount, content: &Content<'_>) -> Self {
        Share { amount, whole: content.whole() }
    }

    pub(super) fn percent(&self) -> Interval {
        self.amount.percent(&self.whole)
    }
}

/// Everything of one name on the label.
pub(super) struct Named<'f> {
    pub(super) name: &'f str,
    pub(super) inci: Vec<&'f str>,
    pub(super) amount: Amount,
    pub(super) is_colour: bool,
    pub(super) is_water: bool,
    /// Part and row of each contribution.
    pub(super) from: Vec<(usize, usize)>,
    /// The entry of the annex, for what is contained in other ingredients.
    pub(super) entry: Option<u32>,
}

/// What the ingredients come to.
pub(super) struct Ingredients<'f> {
    /// What the suppliers declare, or are to be asked about.
    pub(super) named: Vec<Named<'f>>,
    /// Impurities, by-products and residuals that they do not declare.
    pub(super) left_out: Vec<Named<'f>>,
    /// The nameless remainders, by part.
    pub(super) nameless: Vec<(usize, Amount)>,
    /// What has to be asked: name and part.
    pub(super) to_ask: Vec<(&'f str, usize)>,
}

impl<'f> Ingredients<'f> {
    pub(super) fn of(content: &Content<'f>, request: &LabelRequest) -> Self {
        let mut found =
            Ingredients { named: Vec::new(), left_out: Vec::new(), nameless: Vec::new(), to_ask: Vec::new() };
        let (mut places, mut left_places) = (HashMap::new(), HashMap::new());
        for (at, part) in content.parts.iter().enumerate() {
            let weight = part.weight.times(MILLION);
            for (row_at, row) in part.material.composition().constituents().iter().enumerate() {
                let substance = row.substance().as_ref();
                if substance.is_unspecified() {
                    let mut amount = Amount::nothing();
                    add(&mut amount, &weight, row);
                    found.nameless.push((at, amount));
                    continue;
                }
                let (rows, places) = match row.declaration() {
                    Declaration::NotDeclared => (&mut found.left_out, &mut left_places),
                    Declaration::Declared | Declaration::Ask => (&mut found.named, &mut places),
                };
                let name = label_name(substance, request);
                if row.declaration() == Declaration::Ask {
                    found.to_ask.push((name, at));
                }
                let place = *places.entry(name).or_insert_with(|| {
                    rows.push(Named {
                        name,
                        inci: Vec::new(),
                        amount: Amount::nothing(),
                        is_colour: substance.class() == Class::Colourant,
                        is_water: substance.is_water(),
                        from: Vec::new(),
                        entry: None,
                    });
                    rows.len() - 1
                });
                let named = &mut rows[place];
                if !named.inci.contains(&substance.inci()) {
                    named.inci.push(substance.inci());
                }
                named.from.push((at, row_at));
                add(&mut named.amount, &weight, row);
            }
        }
        found
    }
}

fn add(amount: &mut Amount, weight: &FixedPoint, row: &Constituent) {
    amount.add_row(weight, row.low(), row.share(), row.high());
}

/// The lines that bring it, in the order of the formula, each once.
pub(super) fn lines_of<'f>(content: &Content<'f>, from: &[(usize, usize)]) -> Vec<&'f str> {
    let mut lines: Vec<&str> = Vec::new();
    for (part, _) in from {
        let line = content.parts[*part].line.name();
        if !lines.contains(&line) {
            lines.push(line);
        }
    }
    lines
}

/// True if the part's supplier gives a descending list and nothing finer.
pub(super) fn is_descending(material: &Material) -> bool {
    matches!(material.composition(), Composition::Bounded { descending: true, .. })
}

/// Bought or made for its scent.
pub(super) fn is_scent(substance: &Substance) -> bool {
    matches!(substance.class(), Class::EssentialOil | Class::FragranceConstituent)
}

fn label_name<'f>(substance: &'f Substance, request: &LabelRequest) -> &'f str {
    if is_scent(substance) && (request.scent == ScentNames::Together || substance.is_scent_mixture()) {
        return match (request.market, request.flavour) {
            (Market::Eu, false) => "PARFUM",
            (Market::Eu, true) => "AROMA",
            (Market::Us, false) => "FRAGRANCE",
            (Market::Us, true) => "FLAVOR",
        };
    }
    match request.market {
        Market::Eu => substance.label_eu(),
        Market::Us => substance.label_us(),
    }
}
