//! Linear programs some of whose columns may take only multiples of a step, or are 0 or at least something: exact
//! branch and bound.
//!
//! ```text
//! node      the program with narrower column ranges; its linear program, solved exactly, is a bound for everything inside
//! branch    a column that stands between two multiples: at most the lower one, or at least the upper one
//! prune     no point inside, or none that comes before the best one found
//! ```
//!
//! Points are ordered by cost, then by the lines in the brief's order. A node is solved to the first of its points in
//! that order, which is not after any point inside that stands on the steps; so the search ends at the first of all,
//! and the answer is one canonical answer.
//!
//! A dose that is absent or at least something is a line `x` with a switch `z` of 0 or 1: `x <= greatest z`,
//! `x >= least z`; at most so many of a group are `sum z <= most`. The switches are whole numbers, so one search serves
//! both questions.
//!
//! Before the search, steps are made coarser where an equation of two lines leaves only some multiples (of 14 to 5 by
//! weight in steps of 0.5 %, multiples of 7 % and of 2.5 %), and a node with an equation that no multiples can meet is
//! closed at once.
//!
//! The whole tree is the proof ([`Tree`]); it is checked without the search.
//!
//! # Why
//! - Rounded formulas and choices are one search. The tree is the proof; its leaves' certificates are checked
//!   without the search and bound the objective, cut off or not. They prove the objective; that ties go to the
//!   first formula is tested against enumeration.
//! - Before a node is solved, an equation that no multiples can meet closes it (greatest common measure, also less
//!   a multiple of the sum to 100): without that a split and a target in steps of 0.5 % went through thousands of
//!   nodes.
//! - Equations stay exact when rounding unless a call names a tolerance, half a step's effect, or gives them up;
//!   each departure is reported. Fixed lines count: 0.3 % is no multiple of 0.5 %, and the refusal says so. What a
//!   conflict of steps or choices names is found by leaving out one part after the other, each with a search of its
//!   own.

mod lattice;
mod program;
mod tree;

use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::mem::swap;

use self::lattice::Lattice;
pub use self::program::MixedProgram;
use self::program::Ranges;
pub use self::tree::Tree;
use self::tree::{Node, Split};
use crate::exact::Exact;
use crate::halt::Halt;
use crate::linear::{Optimum, solve_watched};

/// How far a search goes.
#[derive(Clone, Copy, Debug)]
pub struct Limits<'a, H> {
    /// How many linear programs it solves.
    pub nodes: usize,
    /// True where any point will do.
    pub any: bool,
    /// Who may end it earlier: with what it has, or with nothing.
    pub halt: &'a H,
}

/// What a search found.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The first point in the order, with all its columns; `None` if none was found.
    pub best: Option<Vec<Exact>>,
    /// Its cost.
    pub cost: Option<Exact>,
    /// What proves it.
    pub tree: Tree,
    /// True where nothing was left out.
    pub complete: bool,
}

/// Cost, then lines in order.
type Key = (Exact, Vec<Exact>);

impl MixedProgram {
    /// The column to branch on: the line or switch that stands farthest from a multiple, the first among equals;
    /// switches first. Where it was asked for, the last line that stands off its multiples.
    fn branch_on(&self, lattice: &Lattice, values: &[Exact]) -> Option<Split> {
        let off = |column: usize| -> Option<(Exact, Split)> {
            let step = lattice.steps[column].as_ref()?;
            let below = values[column].floor_to(step);
            let rest = (&values[column] - &below).checked_div(step)?;
            let distance = if rest > Exact::ratio(1, 2) { Exact::ONE - rest } else { rest };
            distance.is_positive().then(|| (distance, Split { column, above: &below + step, below, children: (0, 0) }))
        };
        let by_distance = |(one, _): &(Exact, Split), (other, _): &(Exact, Split)| other.cmp(one);
        let found = if self.from_the_last {
            (0..self.lines).rev().find_map(off)
        } else {
            let switches = self.switches.iter().filter_map(|switch| off(switch.column)).min_by(by_distance);
            switches.or_else(|| (0..self.lines).filter_map(off).min_by(by_distance))
        };
        found.map(|(_, split)| split)
    }

    /// Searches for the first point in the order.
    ///
    /// ```
    /// use tenside_lp::mixed::{Limits, MixedProgram};
    /// use tenside_lp::{Column, Exact, Program, Row, Unwatched};
    /// // The most of 3 a + 2 b with a + b at most 2.5, whole numbers up to 2.
    /// let column = |cost: i64| Column { low: Some(Exact::ZERO), high: Some(Exact::from(2)), cost: Exact::from(cost) };
    /// let row = Row { coefficients: vec![Exact::ONE; 2], low: None, high: Some(Exact::ratio(5, 2)) };
    /// let program = Program::new(vec![column(-3), column(-2)], vec![row])?;
    /// let mixed = MixedProgram::new(program, 2, vec![Some(Exact::ONE); 2])?;
    /// let Ok(found) = mixed.search(Limits { nodes: 100, any: false, halt: &Unwatched });
    /// assert_eq!(found.best, Some(vec![Exact::from(2), Exact::ZERO]));
    /// # Ok::<(), tenside_lp::Error>(())
    /// ```
    ///
    /// # Errors
    /// What stopped work gives, if it was.
    pub fn search<H: Halt>(&self, limits: Limits<'_, H>) -> Result<Found, H::Stopped> {
        let lattice = Lattice::new(&self.program, &self.steps);
        let order: Vec<usize> = if limits.any { Vec::new() } else { (0..self.lines).collect() };
        let solve = |ranges: &Ranges| -> Result<Node, H::Stopped> {
            let program = self.within(ranges);
            Ok(match lattice.indivisible(&program) {
                Some(row) => Node::Indivisible(row),
                None => Node::Leaf(solve_watched(&program, &order, limits.halt)?),
            })
        };
        let mut search = Search { mixed: self, tree: Tree::default(), best: None, dive: None, heap: BinaryHeap::new() };
        let ranges = self.ranges(&lattice);
        search.open(solve(&ranges)?, ranges);
        let mut complete = true;
        while let Some((_, index, ranges)) = search.next() {
            let optimum = search.tree.optimum(index).filter(|optimum| !search.is_behind(optimum));
            let Some(optimum) = optimum else { continue };
            let is_over = search.tree.nodes() >= limits.nodes || (limits.any && search.best.is_some());
            if is_over || !limits.halt.search_on() {
                complete = false;
                break;
            }
            // Between two multiples there is a column to branch on: were every line on its step and every switch whole,
            // the choices would hold and the point would have been taken.
            let Some(mut split) = self.branch_on(&lattice, &optimum.values) else { continue };
            let [lower, upper] = split.halves(ranges);
            split.children = (search.open(solve(&lower)?, lower), search.open(solve(&upper)?, upper));
            search.tree.split(index, split);
        }
        let (cost, best) = search.best.map(|((cost, _), point)| (cost, point)).unzip();
        Ok(Found { best, cost, tree: search.tree, complete })
    }
}

/// An open node: its cost, its place in the tree, its ranges.
type Open = (Exact, usize, Ranges);

/// Open nodes: `dive` is gone into next; `heap` keeps the rest by cost.
struct Search<'a> {
    mixed: &'a MixedProgram,
    tree: Tree,
    best: Option<(Key, Vec<Exact>)>,
    dive: Option<Open>,
    heap: BinaryHeap<Reverse<Open>>,
}

impl Search<'_> {
    fn key(&self, optimum: &Optimum) -> Key {
        (optimum.objective.clone(), optimum.values[..self.mixed.lines].to_vec())
    }

    /// True where nothing inside can come before the best point.
    fn is_behind(&self, optimum: &Optimum) -> bool {
        self.best.as_ref().is_some_and(|(best, _)| self.key(optimum) >= *best)
    }

    /// Takes a solved node into the tree, and as the best point, as an open node, or as neither.
    fn open(&mut self, node: Node, ranges: Ranges) -> usize {
        let index = self.tree.push(node);
        let Some(optimum) = self.tree.optimum(index).filter(|optimum| !self.is_behind(optimum)) else { return index };
        if self.mixed.accepts(&optimum.values) {
            self.best = Some((self.key(optimum), optimum.values.clone()));
            return index;
        }
        let mut node = (optimum.objective.clone(), index, ranges);
        if let Some(mut other) = self.dive.take() {
            // Of two children the cheaper is dived into first.
            if other.0 < node.0 {
                swap(&mut node, &mut other);
            }
            self.heap.push(Reverse(other));
        }
        self.dive = Some(node);
        index
    }

    fn next(&mut self) -> Option<Open> {
        self.dive.take().or_else(|| self.heap.pop().map(|Reverse(node)| node))
    }
}
