//! Of which class a raw material is.

use super::Material;
use crate::memo::Memo;
use crate::number::{Exact, Ppm};
use crate::substance::{Class, Substance};

/// Water as such, in which others are dissolved.
const WATER: &str = "WATER";

/// A raw material's main class, asked for line by line wherever a formula is rounded.
#[derive(Default)]
struct MainClass(Memo<Class>);

impl Material {
    /// The main class: that of its largest named constituent. Water as such, in which the others are dissolved, counts
    /// where there is nothing else; the water of a flower is what a hydrosol is, and not what preserves it.
    #[must_use]
    pub fn main_class(&self) -> Class {
        *self.shelf.of::<MainClass>().0.get_or(|| {
            let is_solvent = |substance: &Substance| substance.is_water() && substance.inci() == WATER;
            let named = self.largest_class(&|substance| !substance.is_unspecified() && !is_solvent(substance));
            named.unwrap_or_else(|| {
                let is_water = |(leaf, _): &(&Material, Exact)| {
                    leaf.composition.constituents().iter().any(|row| row.substance().is_water())
                };
                if self.leaves().iter().any(is_water) { Class::Water } else { Class::Unspecified }
            })
        })
    }

    /// Is there some of a class named in it?
    pub(crate) fn names_class(&self, class: Class) -> bool {
        self.largest_class(&|substance| substance.class() == class).is_some()
    }

    /// The class of its largest surfactant: that of a conditioning flake is its quat's, of which there is less than of
    /// the fatty alcohol that carries it.
    #[must_use]
    pub fn surfactant_class(&self) -> Option<Class> {
        self.largest_class(&|substance| substance.class().is_surfactant())
    }

    fn largest_class(&self, counts: &dyn Fn(&Substance) -> bool) -> Option<Class> {
        let mut shares: Vec<(Class, Exact)> = Vec::new();
        for (leaf, share) in self.leaves() {
            for row in leaf.composition.constituents().iter().filter(|row| counts(row.substance())) {
                let size = row.share().or(row.high()).unwrap_or(Ppm::ZERO).percent() * &share;
                match shares.iter_mut().find(|(class, _)| *class == row.substance().class()) {
                    Some((_, sum)) => *sum += size,
                    None => shares.push((row.substance().class(), size)),
                }
            }
        }
        let mut largest = (None, Exact::ZERO);
        for (class, size) in shares {
            if size > largest.1 {
                largest = (Some(class), size);
            }
        }
        largest.0
    }
}
