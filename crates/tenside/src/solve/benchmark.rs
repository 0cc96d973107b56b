//! What the benchmarks measure and no user needs: the search alone, with its proof by the filter.

use super::linear::Program;
use super::search::{Prepared, Verdict};

/// A program loaded for the search.
pub struct Loaded(Width);

enum Width {
    Narrow(Prepared<16>),
    Middle(Prepared<32>),
    Wide(Prepared<64>),
}

impl Loaded {
    /// Loads a program; nothing where the search does not take it.
    #[must_use]
    pub fn new(program: &Program, order: &[usize]) -> Option<Self> {
        Some(Loaded(match program.columns().len().max(program.rows().len()) {
            0..=16 => Width::Narrow(Prepared::new(program, order)?),
            17..=32 => Width::Middle(Prepared::new(program, order)?),
            _ => Width::Wide(Prepared::new(program, order)?),
        }))
    }

    /// Searches from the start; true where the filter proved the basis, nothing where the limit of steps was met.
    pub fn search(&mut self) -> Option<bool> {
        let verdict = match &mut self.0 {
            Width::Narrow(prepared) => prepared.search(),
            Width::Middle(prepared) => prepared.search(),
            Width::Wide(prepared) => prepared.search(),
        };
        verdict.map(|verdict| verdict == Verdict::Proved)
    }
}
