//! Walking through premixes, which may be nested to any depth and share parts: without recursion, and to every part
//! once.

use std::collections::{HashMap, HashSet};
use std::sync::Arc;

use super::{Composition, Lot, Material};
use crate::document::shown;
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, Ppm};

/// Parts before the premixes that hold them, each material once.
#[derive(Default)]
pub(crate) struct PartsFirst<'m> {
    seen: HashSet<*const Material>,
    ordered: Vec<&'m Material>,
}

impl<'m> PartsFirst<'m> {
    /// Adds a material after its parts.
    pub(crate) fn add(&mut self, material: &'m Material) {
        if !self.seen.insert(material) {
            return;
        }
        let mut path = vec![(material, 0)];
        while let Some((material, next)) = path.last_mut() {
            match material.composition.parts().get(*next) {
                Some((part, _)) => {
                    *next += 1;
                    if self.seen.insert(Arc::as_ptr(part)) {
                        path.push((part, 0));
                    }
                }
                None => {
                    self.ordered.push(material);
                    path.pop();
                }
            }
        }
    }

    /// All that were added.
    pub(crate) fn into_vec(self) -> Vec<&'m Material> {
        self.ordered
    }
}

/// Refuses different raw materials of one id and different lots of one name, parts of premixes included: no name could
/// tell them apart.
pub(crate) fn check_distinct<'m>(materials: impl Iterator<Item = &'m Arc<Material>>) -> Result<(), Error> {
    let mut all = PartsFirst::default();
    materials.for_each(|material| all.add(material));
    let (mut ids, mut lots): (HashMap<&str, &Material>, HashMap<&str, &Arc<Lot>>) = (HashMap::new(), HashMap::new());
    let mut faults = Vec::new();
    for material in all.into_vec() {
        let typical = material.typical().map_or(material, |typical| typical.as_ref());
        if *ids.entry(material.id()).or_insert(typical) != typical {
            faults.push(
                Fault::new(FaultKind::Contradiction, "two different raw materials have the same id")
                    .value(format!("{:?}", material.id())),
            );
        }
        if let Some(lot) = material.lot()
            && *lots.entry(lot.id()).or_insert(lot) != lot
        {
            faults.push(
                Fault::new(FaultKind::Duplicate, "two different lots have the same name")
                    .value(shown(lot.id()))
                    .remedy("rename one of them"),
            );
        }
    }
    Error::check(faults, ())
}

/// Refuses a raw material of an id or lot name that another of some has, as [`check_distinct`] does, without going
/// through all of them where none can.
pub(crate) fn check_joins<'m>(
    new: &'m Arc<Material>,
    others: impl Iterator<Item = &'m Arc<Material>> + Clone,
) -> Result<(), Error> {
    let is_plain = |material: &Material| material.lot.is_none() && material.composition.parts().is_empty();
    let differ = |other: &Arc<Material>| is_plain(other) && (Arc::ptr_eq(other, new) || other.id != new.id);
    if is_plain(new) && others.clone().all(differ) { Ok(()) } else { check_distinct(others.chain([new])) }
}

impl Material {
    /// This material after every part of it.
    pub(super) fn parts_first(&self) -> Vec<&Material> {
        let mut parts = PartsFirst::default();
        parts.add(self);
        parts.into_vec()
    }

    /// The raw materials without premixes that make it up, each with its share of the whole (0 to 1).
    #[must_use]
    pub fn leaves(&self) -> Vec<(&Material, Exact)> {
        let Composition::Premix(_) = self.composition else { return vec![(self, Exact::ONE)] };
        let ordered = self.parts_first();
        let mut shares: HashMap<*const Material, Exact> = HashMap::from([(std::ptr::from_ref(self), Exact::ONE)]);
        // A premix before its parts, so that its share is complete when it is handed on.
        for premix in ordered.iter().rev() {
            let whole = shares.get(&std::ptr::from_ref(*premix)).cloned().unwrap_or(Exact::ZERO);
            for (part, share) in premix.composition.parts() {
                *shares.entry(Arc::as_ptr(part)).or_insert(Exact::ZERO) += &whole * share.share();
            }
        }
        let leaves = ordered.into_iter().filter(|material| !matches!(material.composition, Composition::Premix(_)));
        leaves.map(|leaf| (leaf, shares.remove(&std::ptr::from_ref(leaf)).unwrap_or(Exact::ZERO))).collect()
    }

    /// What is stated of the material, else the sum of what is stated of the parts of a premix, each by its share.
    pub(crate) fn stated_or_of_parts(
        &self,
        stated: impl Fn(&Material) -> Option<Exact>,
        missing: impl Fn(&Material) -> Error,
    ) -> Result<Exact, Error> {
        match (stated(self), &self.composition) {
            (Some(value), _) => return Ok(value),
            (None, Composition::Premix(_)) => {}
            (None, _) => return Err(missing(self)),
        }
        let mut found: HashMap<*const Material, Result<Exact, Error>> = HashMap::new();
        for material in self.parts_first() {
            let value = match (stated(material), &material.composition) {
                (Some(value), _) => Ok(value),
                (None, Composition::Premix(parts)) => {
                    let weighed =
                        |(part, share): &(Arc<Material>, Ppm)| Ok(found[&Arc::as_ptr(part)].clone()? * share.share());
                    parts.iter().map(weighed).sum()
                }
                (None, _) => Err(missing(material)),
            };
            found.insert(material, value);
        }
        found.remove(&std::ptr::from_ref(self)).unwrap_or(Ok(Exact::ZERO))
    }
}

impl Material {
    /// True if it is the raw material of that id, or a premix that holds it.
    pub(crate) fn holds_material(&self, id: &str) -> bool {
        self.parts_first().into_iter().any(|material| material.id() == id)
    }

    /// The share of it that is the raw material of that id: all of it, or that of a premix's parts.
    pub(crate) fn share_of_material(&self, id: &str) -> Exact {
        let share = |material: &Material| match (material.id() == id, &material.composition) {
            (true, _) => Some(Exact::ONE),
            (false, Composition::Premix(_)) => None,
            (false, _) => Some(Exact::ZERO),
        };
        // What is neither has a share, so nothing is missing.
        self.stated_or_of_parts(share, |material| material.no_typical().into()).unwrap_or_default()
    }
}

impl Drop for Material {
    /// Takes the parts apart one by one: dropping a long chain of premixes the usual way would overflow the stack.
    fn drop(&mut self) {
        let mut orphans = self.composition.take_parts();
        while let Some((part, _)) = orphans.pop() {
            if let Some(mut material) = Arc::into_inner(part) {
                orphans.extend(material.composition.take_parts());
            }
        }
    }
}

impl PartialEq for Material {
    fn eq(&self, other: &Self) -> bool {
        let mut pending = vec![(self, other)];
        let mut seen: HashSet<(*const Material, *const Material)> = HashSet::new();
        while let Some((left, right)) = pending.pop() {
            if std::ptr::eq(left, right) || !seen.insert((left, right)) {
                continue;
            }
            if !left.same_but_for_parts(right) {
                return false;
            }
            let pairs = left.composition.parts().iter().zip(right.composition.parts());
            pending.extend(pairs.map(|((left, _), (right, _))| (left.as_ref(), right.as_ref())));
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{Constituent, Form};
    use crate::substance::{Attribute, Class, Substance};

    fn leaf(id: &str) -> Arc<Material> {
        let substance = Arc::new(Substance::new(&id.to_uppercase(), Class::Other).unwrap());
        let composition = Composition::stated(vec![Constituent::typical(substance, Ppm::WHOLE)]).unwrap();
        Arc::new(Material::new(id, id, Form::Powder, composition).unwrap())
    }

    fn premix(id: &str, parts: Vec<(Arc<Material>, &str)>) -> Arc<Material> {
        let parts = parts.into_iter().map(|(part, share)| (part, Ppm::from_percent(share).unwrap())).collect();
        Arc::new(Material::new(id, id, Form::Powder, Composition::premix(parts).unwrap()).unwrap())
    }

    #[test]
    fn shared_parts_do_not_multiply() {
        // Two parts a level, each in both of the next: 2^60 ways down, 120 materials.
        let build = || {
            let (mut left, mut right) = (leaf("left"), leaf("right"));
            for level in 0..60 {
                let parts = || vec![(Arc::clone(&left), "25"), (Arc::clone(&right), "75")];
                (left, right) = (premix(&format!("left-{level}"), parts()), premix(&format!("right-{level}"), parts()));
            }
            left
        };
        let top = build();
        let leaves: Vec<(String, String)> =
            top.leaves().into_iter().map(|(leaf, share)| (leaf.id().to_string(), share.to_string())).collect();
        assert_eq!(leaves, [("left".to_string(), "0.25".to_string()), ("right".to_string(), "0.75".to_string())]);
        assert!(top.has_typical() && !top.is_starter() && top.cautions().is_empty());
        assert_eq!(top.attribute(Attribute::Palm), None);
        assert_eq!(top, build());
        assert!(format!("{top:?}").len() < 2000);
    }

    #[test]
    fn a_long_chain_is_walked_and_dropped_without_deep_recursion() {
        let mut top = leaf("bottom");
        for level in 0..100_000 {
            top = premix(&format!("level-{level}"), vec![(top, "100")]);
        }
        assert_eq!(top.leaves().len(), 1);
        assert_eq!(top.leaves()[0].1, Exact::ONE);
        assert!(!top.is_starter());
        drop(top);
    }
}
