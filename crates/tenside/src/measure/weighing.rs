//! One side of a measure as it weighs what is in a raw material: the contents whose scope holds the line, each by its
//! factor.

use super::SumMember;
use super::content::{Content, Weight};
use super::names::Resolved;
use crate::catalogue::PriceList;
use crate::error::{Error, Fault};
use crate::material::{Composition, Constituent, Material};
use crate::number::{Exact, Ppm};

/// The same weighing weighs all raw materials, but for prices, which are the price list's.
#[derive(Clone, PartialEq, Eq, Hash)]
pub(super) struct Weighing {
    /// None where no line in scope brings anything.
    pub(super) terms: Vec<(Exact, Resolved)>,
    /// Grams of residual water per gram of everything else, on a finished basis.
    pub(super) residual: Option<Exact>,
    /// Whether the water that raw materials hold is a part of that.
    pub(super) counts_bound_water: bool,
}

/// A weighing of one raw material.
pub(super) struct Weigher<'a> {
    terms: Vec<Term<'a>>,
    held: Held,
}

/// The water that a raw material holds, where it counts as moisture.
enum Held {
    NotCounted,
    OfParts,
    /// Per gram of the whole, as a premix may state it.
    OfWhole(Exact),
}

struct Term<'a> {
    factor: &'a Exact,
    content: &'a Resolved,
    /// The weight of everything in it, where the content does not look into compositions.
    whole: Option<Exact>,
    /// The residual water that everything but water carries after drying, in the content's weight.
    residual: Option<Exact>,
    /// What a gram of held water takes from that, in the same weight.
    per_held: Exact,
}

impl Weighing {
    /// True if it depends on a price list.
    pub(super) fn is_priced(&self) -> bool {
        self.contents().any(|content| *content == Content::Cost)
    }

    /// Its contents without names.
    pub(super) fn contents(&self) -> impl Iterator<Item = &Content> {
        self.terms
            .iter()
            .filter_map(|(_, content)| if let Resolved::Plain(content) = content { Some(content) } else { None })
    }

    /// True if it counts what a nameless remainder may hold, and counts nothing of that: one constituent by its name, or
    /// the members of a class in a sum.
    pub(super) fn passes_remainders_over(&self) -> bool {
        self.terms.iter().any(|(_, content)| match content {
            Resolved::Constituent(_) => true,
            Resolved::Sum(sum) => sum.sum().members().iter().any(|(member, _)| matches!(member, SumMember::Class(_))),
            Resolved::Substance(_) | Resolved::Plain(_) => false,
        })
    }

    pub(super) fn of(&self, material: &Material, prices: Option<&PriceList>) -> Result<Weigher<'_>, Vec<Fault>> {
        let mut terms = Vec::with_capacity(self.terms.len());
        for (factor, content) in &self.terms {
            let whole = content.of_material(material, prices).transpose().map_err(Error::into_faults)?;
            let residual = self.residual.as_ref().filter(|_| !content.ignores_drying());
            let per_held = residual.map_or(Exact::ZERO, |residual| (residual + Exact::ONE) * content.of_water());
            let residual = residual.map(|residual| residual * content.of_water());
            terms.push(Term { factor, content, whole, residual, per_held });
        }
        let held = match (self.counts_bound_water, material.composition(), material.bound_water()) {
            (false, ..) => Held::NotCounted,
            (true, Composition::Premix(_), Some(water)) => Held::OfWhole(water.share()),
            (true, ..) => Held::OfParts,
        };
        Ok(Weigher { terms, held })
    }
}

impl Weigher<'_> {
    /// What everything weighs, where no composition matters.
    pub(super) fn constant(&self) -> Option<Exact> {
        let mut sum = Exact::ZERO;
        for term in &self.terms {
            match (&term.whole, &term.residual) {
                (Some(whole), None) => sum += term.factor * whole,
                _ => return None,
            }
        }
        Some(sum)
    }

    /// The weight of one constituent.
    pub(super) fn weight(&self, leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
        let held = match &self.held {
            Held::NotCounted => None,
            Held::OfParts => leaf.bound_water().map(Ppm::share),
            Held::OfWhole(water) => Some(water.clone()),
        };
        let mut sum: Option<Weight> = None;
        for term in &self.terms {
            let weight = match &term.whole {
                Some(weight) => Weight::certain(weight.clone()),
                None => term.content.of_constituent(leaf, row)?,
            };
            let weight = match &term.residual {
                Some(residual) => dried(weight, row.substance().is_water(), residual),
                None => weight,
            };
            let weight = match &held {
                Some(held) => raised(weight, &-(&term.per_held * held)),
                None => weight,
            };
            let weight = weight.times(term.factor);
            sum = Some(match sum {
                Some(sum) => sum.plus(weight),
                None => weight,
            });
        }
        Ok(sum.unwrap_or_else(|| Weight::certain(Exact::ZERO)))
    }
}

/// Held water is a part of the residual water and of its raw material, and is dry matter of neither: with `b` of it per
/// gram of the raw material, `c_w b / (1 - mu)` less of all shares, which sum to 1.
fn raised(weight: Weight, by: &Exact) -> Weight {
    Weight {
        least: weight.least + by,
        typical: weight.typical.map(|typical| typical + by),
        greatest: weight.greatest + by,
        ..weight
    }
}

/// After drying, water itself weighs nothing and everything else carries its part of the residual water:
/// with `s_w` the share of water, `c_w mu / (1 - mu) (1 - s_w)` is spread over the other shares, which sum to `1 -
/// s_w`.
fn dried(weight: Weight, is_water: bool, residual: &Exact) -> Weight {
    if is_water {
        return Weight::certain(Exact::ZERO);
    }
    raised(weight, residual)
}
