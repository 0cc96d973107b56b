//! What a raw material can hold of a substance: the one answer that measures, labels, exposures and rules read.
//!
//! For each ingredient, in this order:
//!
//! 1. it is the substance, or the raw material's document lists the substance as contained in it: what is stated, an
//!    end that is not stated being 0 or all of the ingredient;
//! 2. the substance is an ingredient of its own: nothing here;
//! 3. the supplier reports every scent constituent above some share: up to that share;
//! 4. it is *open* for scent constituents (a scent mixture, an essential oil or a botanical whose list of contained
//!    substances does not say that it is complete) and a scent constituent is asked for: nothing to all of it, the
//!    typical share not known;
//! 5. it is the nameless remainder, and such a substance can be in it (`data/remainders.toml`, or the raw material's
//!    own document), or a scent mixture, and the substance is of a class that any remainder can hold, as what scents
//!    are dissolved in is: nothing to all of it, typically nothing;
//! 6. otherwise nothing.
//!
//! # Why
//! - One function tells what a raw material can hold of a substance, and measures, labels, exposures and rules read
//!   it. The order goes by ingredient, so that a list of one oil says nothing of the perfume beside it; a substance
//!   that is an ingredient of its own is told by that row for the whole raw material. A member of a scent entry
//!   that is listed names the entry.
//! - What only a nameless remainder could bring counts in the high end of a reading and of a requirement for every
//!   composition and makes no finding: otherwise every betaine would be a possible finding of every preservative.
//! - A certificate settles groups (actives, salts, fatty acids): members keep their typical proportions, and their
//!   ranges become points, since nothing else is known of the lot.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

use std::collections::HashMap;
use std::sync::LazyLock;

use super::{Constituent, Material};
use crate::document::{Notation, Reader};
use crate::number::Ppm;
use crate::substance::{Class, Substance};

const REMAINDERS: &str = include_str!("../../data/remainders.toml");

/// Whose nameless remainder can hold substances of a class.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum HeldIn {
    /// Any raw material's.
    Any,
    /// That of raw materials which name water as an ingredient.
    Watery,
    /// That of raw materials whose largest ingredient is of the same class.
    OwnFamily,
    /// No raw material's.
    None,
}

impl HeldIn {
    fn named(text: &str) -> Option<Self> {
        Some(match text {
            "any" => HeldIn::Any,
            "watery" => HeldIn::Watery,
            "own-family" => HeldIn::OwnFamily,
            "none" => HeldIn::None,
            _ => return None,
        })
    }
}

/// What is known of nameless remainders.
struct Remainders {
    held_in: HashMap<Class, HeldIn>,
    by_product_up_to: Ppm,
}

static KNOWN: LazyLock<Remainders> = LazyLock::new(|| {
    let known = Reader::read(REMAINDERS, Notation::Toml, |view| {
        view.version("remainders/1");
        view.prose("source");
        let by_product_up_to = view.ppm("by_product_up_to");
        let held_in = view.tables("class", |view| {
            let row = (view.needed("class", |view| view.choice("class"))?, HeldIn::named(view.text("held_in")?)?);
            view.prose("reason").map(|_| row)
        });
        Some(Remainders { held_in: held_in.into_iter().collect(), by_product_up_to: by_product_up_to? })
    });
    // The embedded file is read by a test; a fault there is a fault of the build.
    known.unwrap_or_else(|error| panic!("remainders.toml: {error}"))
});

/// Whether so much that is nameless is what making leaves behind.
pub(super) fn is_by_product(share: Ppm) -> bool {
    share <= KNOWN.by_product_up_to
}

/// What readings say, once, of scent constituents and nameless remainders.
pub(crate) const NO_SCENT_IN_REMAINDERS: &str =
    "unspecified remainders are taken to hold no scent constituent (common practice, no source)";

/// What a range end rests on, the weakest first.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) enum Footing {
    /// It is not stated; what stands in for it is the furthest that is possible.
    NotStated,
    /// What a nameless remainder could hold.
    Nameless,
    /// It is stated, or follows from what is.
    Stated,
}

/// What is asked for, as far as raw materials can hold it without naming it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Kind {
    is_scent: bool,
    class: Class,
}

impl Kind {
    pub(crate) fn of(substance: &Substance) -> Self {
        Kind { is_scent: substance.is_scent_constituent(), class: substance.class() }
    }

    /// Whatever is of a class.
    fn of_class(class: Class) -> Self {
        Kind { is_scent: false, class }
    }

    /// A scent constituent, whichever.
    pub(crate) const SCENT: Kind = Kind { is_scent: true, class: Class::FragranceConstituent };

    /// True if what is asked for is a scent constituent and so is taken to be in no nameless remainder.
    pub(crate) fn is_out_of_remainders(self) -> bool {
        self.is_scent && KNOWN.held_in.get(&self.class) == Some(&HeldIn::None)
    }
}

/// What an ingredient can hold of a substance that is not named.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Unnamed {
    /// Nothing.
    Nothing,
    /// At most what its supplier need not report.
    AtMost(Ppm),
    /// Nothing to all of it; nobody says how much.
    Open,
    /// Nothing to all of it, typically nothing.
    Nameless,
}

/// The share of one ingredient that is a substance, named or not.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Held {
    pub(crate) least: Ppm,
    /// `None` if it is not known.
    pub(crate) typical: Option<Ppm>,
    pub(crate) greatest: Ppm,
    pub(crate) least_footing: Footing,
    pub(crate) greatest_footing: Footing,
}

impl Held {
    pub(crate) const ALL: Held = Held {
        least: Ppm::WHOLE,
        typical: Some(Ppm::WHOLE),
        greatest: Ppm::WHOLE,
        least_footing: Footing::Stated,
        greatest_footing: Footing::Stated,
    };
    pub(crate) const NOTHING: Held =
        Held { least: Ppm::ZERO, typical: Some(Ppm::ZERO), greatest: Ppm::ZERO, ..Held::ALL };
}

impl From<Unnamed> for Held {
    fn from(unnamed: Unnamed) -> Self {
        match unnamed {
            Unnamed::Nothing => Held::NOTHING,
            Unnamed::AtMost(most) => Held { greatest: most, ..Held::NOTHING },
            Unnamed::Open => Held { typical: None, greatest: Ppm::WHOLE, ..Held::NOTHING },
            Unnamed::Nameless => Held { greatest: Ppm::WHOLE, greatest_footing: Footing::Nameless, ..Held::NOTHING },
        }
    }
}

impl Material {
    /// The share of one of its ingredients that is what `is` accepts. `is` may accept several substances, as the
    /// members of one entry.
    pub(crate) fn held_in(&self, row: &Constituent, kind: Kind, is: impl Fn(&Substance) -> bool) -> Held {
        if is(row.substance()) {
            return Held::ALL;
        }
        let mut named: Option<Held> = None;
        for part in self.contained.iter().filter(|part| part.of() == row.substance().inci() && is(part.substance())) {
            let sum = named.get_or_insert(Held::NOTHING);
            let footing = |end: Option<Ppm>| if end.is_some() { Footing::Stated } else { Footing::NotStated };
            sum.least = sum.least.capped_sum(part.low().unwrap_or(Ppm::ZERO));
            sum.typical = sum.typical.zip(part.share()).map(|(sum, share)| sum.capped_sum(share));
            sum.greatest = sum.greatest.capped_sum(part.high().unwrap_or(Ppm::WHOLE));
            sum.least_footing = sum.least_footing.min(footing(part.low()));
            sum.greatest_footing = sum.greatest_footing.min(footing(part.high()));
        }
        named.unwrap_or_else(|| self.unnamed_in(row, kind, is).into())
    }

    /// What an ingredient can hold of a substance that is not named of it.
    pub(crate) fn unnamed_in(&self, row: &Constituent, kind: Kind, is: impl Fn(&Substance) -> bool) -> Unnamed {
        let can = if row.substance().is_unspecified() {
            if self.remainder_can_hold(kind.class) { Unnamed::Nameless } else { Unnamed::Nothing }
        } else if kind.is_scent && self.is_open(row.substance()) {
            Unnamed::Open
        } else if row.substance().is_scent_mixture() && KNOWN.held_in.get(&kind.class) == Some(&HeldIn::Any) {
            Unnamed::Nameless
        } else {
            Unnamed::Nothing
        };
        match (can, self.scent_reported_above) {
            (Unnamed::Nothing, None) => Unnamed::Nothing,
            _ if self.composition.constituents().iter().any(|row| is(row.substance())) => Unnamed::Nothing,
            (_, Some(most)) if kind.is_scent => Unnamed::AtMost(most),
            (can, _) => can,
        }
    }

    /// What an ingredient can hold of a class without naming it.
    pub(crate) fn unnamed_of_class(&self, row: &Constituent, class: Class) -> Unnamed {
        self.unnamed_in(row, Kind::of_class(class), |_| false)
    }

    /// True if its supplier leaves open which scent constituents it holds.
    pub(crate) fn is_open_for_scent(&self) -> bool {
        let rows = || self.composition.constituents().iter();
        rows().any(|row| {
            self.unnamed_in(row, Kind::SCENT, |_| false) == Unnamed::Open
                || (row.substance().is_unspecified() && self.remainder_can_hold(Kind::SCENT.class))
        })
    }

    /// True if an ingredient could hold something that is not named of it.
    pub(crate) fn leaves_open(&self, ingredient: &Substance) -> bool {
        ingredient.is_unspecified() || self.is_open(ingredient) || self.scent_reported_above.is_some()
    }

    fn is_open(&self, ingredient: &Substance) -> bool {
        ingredient.is_scent_mixture() || matches!(ingredient.class(), Class::EssentialOil | Class::Botanical)
    }

    fn remainder_can_hold(&self, class: Class) -> bool {
        self.remainder_may_hold.contains(&class)
            || match KNOWN.held_in.get(&class) {
                Some(HeldIn::Any) => true,
                Some(HeldIn::Watery) => self.composition.constituents().iter().any(|row| row.substance().is_water()),
                Some(HeldIn::OwnFamily) => self.main_class() == class,
                Some(HeldIn::None) | None => false,
            }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::document::Named;

    #[test]
    fn each_class_has_a_row() {
        for class in Class::ALL {
            assert!(KNOWN.held_in.contains_key(class), "{class}");
        }
    }
}
