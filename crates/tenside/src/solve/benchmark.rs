//! What the benchmarks measure and no user needs: the search by itself, with its proofs by the filter, without the answers it is for.

use super::linear::Program;
use super::search::{Family, Pruned, Pruning, Removable, Verdict, with_width};
use super::walk::{Path, Seen, Walk, walk};
use crate::number::Exact;

/// A program loaded for the search.
pub struct Loaded(Box<dyn Cold>);

trait Cold {
    fn load(&mut self, program: &Program, order: &[usize]) -> Option<()>;
    fn search(&mut self) -> Option<bool>;
}

impl<const WIDTH: usize> Cold for Family<WIDTH> {
    fn load(&mut self, program: &Program, order: &[usize]) -> Option<()> {
        Family::load(self, program, order)
    }

    fn search(&mut self) -> Option<bool> {
        self.search_cold()?;
        Some(self.certify() == Verdict::Proved)
    }
}

impl Loaded {
    /// Loads a program; nothing where the search does not take it.
    #[must_use]
    pub fn new(program: &Program, order: &[usize]) -> Option<Self> {
        let size = program.columns().len().max(program.rows().len());
        with_width!(size, WIDTH => Some(Loaded(Box::new(Family::<WIDTH>::new(program, order)?))))
    }

    /// Another program of the same width in its place, in the same memory; nothing where the search does not take it.
    pub fn load(&mut self, program: &Program, order: &[usize]) -> Option<()> {
        self.0.load(program, order)
    }

    /// Searches from the start; true where the filter proved the basis, nothing where the limit of steps was met.
    pub fn search(&mut self) -> Option<bool> {
        self.0.search()
    }
}

/// A program that a dial moves.
pub struct Turned(Box<dyn Walk>);

impl Turned {
    /// From the program where the dial stands at `at` to the one where it stands `step` further, between these values; nothing where more
    /// moves than one row, the costs or one end.
    #[must_use]
    pub fn new(first: &Program, second: &Program, at: &Exact, step: &Exact, order: &[usize], domain: (f64, f64)) -> Option<Self> {
        walk(Path { first: first.clone(), second: second.clone(), at: at.clone(), step: step.clone() }, order, domain).map(Turned)
    }

    /// The columns where the dial stands at `value`; nothing where no point is in all ranges.
    pub fn at(&mut self, value: &Exact) -> Option<&[f64]> {
        match self.0.at(value) {
            Seen::Optimal(columns) => Some(columns),
            Seen::Infeasible | Seen::Unbounded => None,
        }
    }

    /// From where to where the structure at `value` stays, exactly; nothing where that is not settled.
    pub fn extent(&mut self, value: &Exact) -> Option<[Option<Exact>; 2]> {
        self.0.extent(value).map(|extent| [extent.from, extent.to])
    }

    /// Stretches proved by the filter, stretches proved exactly, points solved by themselves.
    #[must_use]
    pub fn ways(&self) -> [usize; 3] {
        let ways = self.0.ways();
        [ways.filtered, ways.exact, ways.points]
    }
}

/// The rows (but the first) and columns of an irreducible conflict, columns before rows, and how many steps exact arithmetic had to tell;
/// nothing where the program is none for the search. `conflicts` is asked whether these alone conflict.
#[must_use]
pub fn irreducible(program: &Program, conflicts: impl Fn(&[usize]) -> bool) -> Option<(Vec<usize>, usize)> {
    let columns = program.columns().len();
    let all: Vec<Removable> = (1..program.rows().len())
        .map(|row| Removable { variable: columns + row, low: f64::NEG_INFINITY, high: f64::INFINITY })
        .chain((0..columns).map(|variable| Removable { variable, low: 0.0, high: 100.0 }))
        .collect();
    let size = columns.max(program.rows().len());
    let variables = |kept: &[usize]| kept.iter().map(|member| all[*member].variable).collect::<Vec<_>>();
    let Pruned { members, asked, .. } = with_width!(size, WIDTH => Some(Pruning::<WIDTH>::new(program)?.prune(&all, &mut |kept| conflicts(&variables(kept)))))?;
    Some((variables(&members), asked))
}
