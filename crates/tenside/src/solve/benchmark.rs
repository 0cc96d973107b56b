//! What the benchmarks measure and no user needs: the search alone, with its proof by the filter.

use super::linear::Program;
use super::search::{Family, Verdict};

/// A program loaded for the search.
pub struct Loaded(Width);

enum Width {
    Of16(Family<16>),
    Of24(Family<24>),
    Of32(Family<32>),
    Of40(Family<40>),
    Of64(Family<64>),
}

impl Loaded {
    /// Loads a program; nothing where the search does not take it.
    #[must_use]
    pub fn new(program: &Program, order: &[usize]) -> Option<Self> {
        Some(Loaded(match program.columns().len().max(program.rows().len()) {
            0..=16 => Width::Of16(Family::new(program, order)?),
            17..=24 => Width::Of24(Family::new(program, order)?),
            25..=32 => Width::Of32(Family::new(program, order)?),
            33..=40 => Width::Of40(Family::new(program, order)?),
            _ => Width::Of64(Family::new(program, order)?),
        }))
    }

    /// Searches from the start; true where the filter proved the basis, nothing where the limit of steps was met.
    pub fn search(&mut self) -> Option<bool> {
        let verdict = match &mut self.0 {
            Width::Of16(family) => search(family),
            Width::Of24(family) => search(family),
            Width::Of32(family) => search(family),
            Width::Of40(family) => search(family),
            Width::Of64(family) => search(family),
        };
        verdict.map(|verdict| verdict == Verdict::Proved)
    }
}

fn search<const WIDTH: usize>(family: &mut Family<WIDTH>) -> Option<Verdict> {
    family.search_cold()?;
    Some(family.certify())
}
