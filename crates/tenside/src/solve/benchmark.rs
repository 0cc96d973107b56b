//! What the benchmarks measure and no user needs: the search alone, with its proof by the filter.

use super::linear::Program;
use super::search::{Prepared, Verdict};

/// A program loaded for the search.
pub struct Loaded(Width);

enum Width {
    Of16(Prepared<16>),
    Of24(Prepared<24>),
    Of32(Prepared<32>),
    Of40(Prepared<40>),
    Of64(Prepared<64>),
}

impl Loaded {
    /// Loads a program; nothing where the search does not take it.
    #[must_use]
    pub fn new(program: &Program, order: &[usize]) -> Option<Self> {
        Some(Loaded(match program.columns().len().max(program.rows().len()) {
            0..=16 => Width::Of16(Prepared::new(program, order)?),
            17..=24 => Width::Of24(Prepared::new(program, order)?),
            25..=32 => Width::Of32(Prepared::new(program, order)?),
            33..=40 => Width::Of40(Prepared::new(program, order)?),
            _ => Width::Of64(Prepared::new(program, order)?),
        }))
    }

    /// Searches from the start; true where the filter proved the basis, nothing where the limit of steps was met.
    pub fn search(&mut self) -> Option<bool> {
        let verdict = match &mut self.0 {
            Width::Of16(prepared) => prepared.search(),
            Width::Of24(prepared) => prepared.search(),
            Width::Of32(prepared) => prepared.search(),
            Width::Of40(prepared) => prepared.search(),
            Width::Of64(prepared) => prepared.search(),
        };
        verdict.map(|verdict| verdict == Verdict::Proved)
    }
}
