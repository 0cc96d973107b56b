//! Recommended use levels as requirements.
//!
//! A use is one of the words of rules, for which the level of the narrowest wider use counts as it does in a review, or
//! a word of the raw materials' own.

use super::{Brief, Requirement};
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Material, UseLevel};
use crate::measure::Measure;
use crate::rule::Use;

impl Brief {
    /// With the recommended use levels of a product use as requirements, one a raw material, those in premixes among
    /// them; raw materials without a level are left as they are and returned. Lines that are added later get none.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.between("sci-powder", 20, 80)?.qs("kaolin")?;
    /// let (leveled, without) = brief.clone().within_use_levels("shampoo-bar")?;
    /// assert_eq!((leveled.requirements().len(), without.len()), (2, 0));
    /// assert!(brief.within_use_levels("shampo").unwrap_err().to_string().contains("shampoo-bar"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A use that no raw material of catalogue and lines states a level for, one that none of the lines has a level
    /// for, and the same requirements twice.
    pub fn within_use_levels(mut self, product_use: &str) -> Result<(Self, Vec<String>), Error> {
        let mut without = Vec::new();
        for (material, level) in self.use_levels(product_use)? {
            match level {
                Some(level) => {
                    let name =
                        format!("use level of {material} for {}, {} to {} %", level.product_use, level.low, level.high);
                    let requirement =
                        Requirement::between(Measure::material(&material)?, level.low.percent(), level.high.percent())?;
                    self = self.require(requirement.named(&name)?)?;
                }
                None => without.push(material),
            }
        }
        Ok((self, without))
    }

    /// The raw materials, by id, that state no level for a product use: [`Brief::within_use_levels`] leaves them as
    /// they are.
    ///
    /// # Errors
    /// A use that no raw material of catalogue and lines states a level for, and one that none of the lines has a level
    /// for.
    pub fn materials_without_use_level(&self, product_use: &str) -> Result<Vec<String>, Error> {
        Ok(self
            .use_levels(product_use)?
            .into_iter()
            .filter(|(_, level)| level.is_none())
            .map(|(material, _)| material)
            .collect())
    }

    /// Each raw material of the lines once, with its level.
    fn use_levels(&self, product_use: &str) -> Result<Vec<(String, Option<UseLevel>)>, Error> {
        let word: Option<Use> = product_use.parse().ok();
        let level_of = |material: &Material| {
            word.map_or_else(|| material.use_level(product_use), |used| used.level_of(material)).cloned()
        };
        let lines = || self.materials();
        if !self.catalogue.materials().chain(lines()).any(|material| level_of(material).is_some()) {
            return Err(self.unknown_use(product_use));
        }
        let mut found: Vec<(String, Option<UseLevel>)> = Vec::new();
        let mut add = |material: &Material, level: Option<UseLevel>| {
            if !found.iter().any(|(id, _)| id == material.id()) {
                found.push((material.id().to_string(), level));
            }
        };
        for material in lines() {
            add(material, level_of(material));
            // What is in a premix counts as it does in a review.
            for (leaf, _) in material.leaves() {
                if let Some(level) = level_of(leaf) {
                    add(leaf, Some(level));
                }
            }
        }
        if found.iter().all(|(_, level)| level.is_none()) {
            return Err(Fault::new(
                FaultKind::NotKnown,
                "none of the raw materials of the brief states a level for this use",
            )
            .value(format!("{product_use:?}"))
            .remedy("add the lines first, or limit them yourself")
            .into());
        }
        Ok(found)
    }

    fn unknown_use(&self, product_use: &str) -> Error {
        let levels = self.catalogue.materials().chain(self.materials()).flat_map(|material| material.use_levels());
        let mut stated: Vec<&str> = levels.map(|level| level.product_use.as_str()).collect();
        stated.sort_unstable();
        stated.dedup();
        let allowed = if stated.is_empty() {
            "none: no raw material states a use level".to_string()
        } else {
            format!("{}, and cases of these", stated.join(", "))
        };
        unknown_name("use", product_use, stated.into_iter()).at("use levels").allowed(allowed).into()
    }
}
