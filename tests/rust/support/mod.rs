//! What several subjects need: random numbers with a seed, invented raw materials, a composition drawn inside stated
//! ranges.

mod brief;
mod invented;
mod ordinary;
mod random;

pub(crate) use brief::{
    Pool, broken, finished_share, loosened, random_brief, random_objective, random_requirement, random_role, with_split,
};
pub(crate) use invented::{Ends, catalogue, drawn, material, of_shares, substances};
pub(crate) use ordinary::Shelf;
pub(crate) use random::Random;
use tenside::formula::{Formula, Line};
use tenside::number::{Exact, Ppm};

/// A percentage from its text.
pub(crate) fn percent(text: &str) -> Ppm {
    Ppm::from_percent(text).unwrap_or_else(|error| panic!("{error}"))
}

/// An exact number from its text.
pub(crate) fn exact(text: &str) -> Exact {
    text.parse().unwrap_or_else(|error| panic!("{error}"))
}

/// Whole parts per million as a share.
pub(crate) fn parts(parts: u64) -> Ppm {
    Ppm::from_parts(u32::try_from(parts).unwrap()).unwrap()
}

/// A formula of these materials at these parts per million, each line named by its place.
pub(crate) fn formula(materials: &[std::sync::Arc<tenside::material::Material>], shares: &[u64]) -> Formula {
    let lines = materials.iter().zip(shares).enumerate();
    let lines = lines.map(|(place, (material, share))| {
        Line::new(&format!("line {place}"), material.clone(), parts(*share)).unwrap()
    });
    Formula::new("Drawn", lines.collect()).unwrap()
}
