//! What a raw material does to a pH, by what its constituents bring into water.
//!
//! A constituent whose acids have every proton on gives protons only: it lowers a pH. One whose acids have every proton
//! off, or that brings more positive than negative strong ions and no acid, takes them up: it raises a pH. What stands
//! between, as hydrogen carbonate does, may do either. Strong ions that balance do neither.

use super::table::{Brought, Table};
use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;

named_enum! {
    /// What an addition does to a pH.
    Effect "effect" {
        /// An acid.
        Lowers = "lowers",
        /// An alkali.
        Raises = "raises",
    }
}

impl Effect {
    /// What is known of a raw material; `None` if it may do either.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::ph::Effect;
    /// let catalogue = Catalogue::starter();
    /// assert_eq!(Effect::of(catalogue.material("citric-acid-50")?)?, Some(Effect::Lowers));
    /// assert_eq!(Effect::of(catalogue.material("sodium-hydroxide-10")?)?, Some(Effect::Raises));
    /// assert!(Effect::of(catalogue.material("kaolin")?).unwrap_err().is_not_known());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A raw material none of whose constituents is known to move a pH.
    pub fn of(material: &Material) -> Result<Option<Effect>, Error> {
        let (mut lowers, mut raises, mut either) = (false, false, false);
        for (leaf, _) in material.leaves() {
            // What holds none of it as charged is a trace.
            for row in
                leaf.composition().constituents().iter().filter(|row| row.share().is_none_or(|share| !share.is_zero()))
            {
                match Table::starter().brought(row.substance().inci()).map(protons) {
                    Some(Protons::Gives) => lowers = true,
                    Some(Protons::Takes) => raises = true,
                    Some(Protons::Either) => either = true,
                    Some(Protons::None) | None => {}
                }
            }
        }
        match (lowers, raises, either) {
            (true, false, false) => Ok(Some(Effect::Lowers)),
            (false, true, false) => Ok(Some(Effect::Raises)),
            (false, false, false) => {
                let fault = Fault::new(FaultKind::NotKnown, "its effect on the pH is not known here")
                    .at("reagent")
                    .value(format!("{:?}", material.id()));
                Err(fault.remedy("titrate with an acid or alkali, or state the effect: lowers or raises").into())
            }
            _ => Ok(None),
        }
    }
}

enum Protons {
    Gives,
    Takes,
    Either,
    None,
}

/// By the charge that the acids must have so that a formula unit has none.
fn protons(brought: &Brought) -> Protons {
    let strong: f64 = brought.ions.iter().map(|(ion, count)| f64::from(ion.charge()) * count).sum();
    let ends = |end: fn(std::ops::RangeInclusive<i32>) -> i32| -> f64 {
        let charges = |acid: &super::Acid| {
            let (first, last) = (acid.charges().next().unwrap_or_default(), acid.charges().last().unwrap_or_default());
            first.min(last)..=first.max(last)
        };
        brought.acids.iter().map(|(acid, count)| f64::from(end(charges(acid))) * count).sum()
    };
    let (least, most) = (ends(|range| *range.start()), ends(|range| *range.end()));
    let near = |charge: f64| (charge + strong).abs() < 1e-9;
    match brought.acids.is_empty() {
        true if near(0.0) => Protons::None,
        true if strong > 0.0 => Protons::Takes,
        true => Protons::Gives,
        false if near(most) => Protons::Gives,
        false if near(least) => Protons::Takes,
        false if -strong < least => Protons::Takes,
        false if -strong > most => Protons::Gives,
        false => Protons::Either,
    }
}
