//! Linear programs some of whose columns may take only multiples of a step, or are 0 or at least something: exact branch and bound.
//!
//! ```text
//! node      the program with narrower column ranges; its linear program, solved exactly, is a bound for everything inside
//! branch    a column that stands between two multiples: at most the lower one, or at least the upper one
//! prune     no point inside, or none that comes before the best one found
//! ```
//!
//! Points are ordered by cost, then by the lines in the brief's order. A node is solved to the first of its points in that order, which is
//! not after any point inside that stands on the steps; so the search ends at the first of all, and the answer is one canonical answer.
//!
//! A dose that is absent or at least something is a line `x` with a switch `z` of 0 or 1: `x <= greatest z`, `x >= least z`; at most so
//! many of a group are `sum z <= most`. The switches are whole numbers, so one search serves both questions.
//!
//! Before the search, steps are made coarser where an equation of two lines leaves only some multiples (of 14 to 5 by weight in steps of
//! 0.5 %, multiples of 7 % and of 2.5 %), and a node with an equation that no multiples can meet is closed at once ([`lattice`]).
//!
//! The whole tree is the proof ([`tree`]); it is checked without the search.
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
mod tree;

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use self::lattice::Lattice;
pub(super) use self::tree::Tree;
use self::tree::{Node, Ranges, Split};
use super::linear::{Column, Optimum, Program, Row, solve_watched};
use crate::error::Error;
use crate::number::Exact;
use crate::watch::Watched;

/// A line that is 0 or at least `least`, by the column of its switch.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Switch {
    pub(super) line: usize,
    pub(super) column: usize,
    pub(super) least: Exact,
}

/// At most so many of these switches are on.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Cap {
    pub(super) switches: Vec<usize>,
    pub(super) most: usize,
}

/// A linear program with steps and switches.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct MixedProgram {
    program: Program,
    lines: usize,
    /// What each column is to be a multiple of.
    steps: Vec<Option<Exact>>,
    switches: Vec<Switch>,
    caps: Vec<Cap>,
    /// True where the last line off its step is branched on, not the one farthest off.
    from_the_last: bool,
}

/// How far a search goes.
#[derive(Clone, Copy, Debug)]
pub(super) struct Limits<'a> {
    /// How many linear programs it solves.
    pub(super) nodes: usize,
    /// True where any point will do.
    pub(super) any: bool,
    /// Who may end it earlier: with what it has, or with nothing.
    pub(super) watched: &'a Watched,
}

/// What a search found.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Found {
    /// The first point in the order, with all its columns.
    pub(super) best: Option<Vec<Exact>>,
    /// Its cost.
    pub(super) cost: Option<Exact>,
    pub(super) tree: Tree,
    /// True where nothing was left out.
    pub(super) complete: bool,
}

/// Cost, then lines in order.
type Key = (Exact, Vec<Exact>);

impl MixedProgram {
    /// A program whose first `lines` columns are lines, each with its step or without one.
    pub(super) fn new(program: Program, lines: usize, line_steps: Vec<Option<Exact>>) -> Self {
        let mut steps = line_steps;
        steps.resize(program.columns().len(), None);
        MixedProgram { program, lines, steps, switches: Vec::new(), caps: Vec::new(), from_the_last: false }
    }

    /// The same with branches on the last line that is off its step.
    pub(super) fn branching_from_the_last(self) -> Self {
        MixedProgram { from_the_last: true, ..self }
    }

    /// Gives the listed lines a switch: 0, or from `least` to their greatest. A line whose range begins above 0 is always on.
    pub(super) fn with_choices(mut self, choices: &[(usize, Exact)], caps: &[(Vec<usize>, usize)]) -> Result<Self, Error> {
        let (mut columns, mut rows) = (self.program.columns().to_vec(), self.program.rows().to_vec());
        for (line, least) in choices {
            let (low, high) = (columns[*line].low.clone().unwrap_or_default(), columns[*line].high.clone().unwrap_or_else(Exact::hundred));
            // On the steps the greatest is the multiple below it and the least the one above it. Where that turns them round, the two rows
            // below leave only 0.
            let (high, least) = match &self.steps[*line] {
                Some(step) => (high.floor_to(step), -(-least).floor_to(step)),
                None => (high, least.clone()),
            };
            let least_on = if low.is_positive() { Exact::ONE } else { Exact::ZERO };
            let column = columns.len();
            columns.push(Column { low: Some(least_on), high: Some(Exact::ONE), cost: Exact::ZERO });
            let bound = |end: &Exact, at_most: bool| {
                let mut coefficients = vec![Exact::ZERO; column + 1];
                coefficients[*line] = Exact::ONE;
                coefficients[column] = -end;
                let (low, high) = if at_most { (None, Some(Exact::ZERO)) } else { (Some(Exact::ZERO), None) };
                Row { coefficients, low, high }
            };
            rows.push(bound(&high, true));
            if least.is_positive() {
                rows.push(bound(&least, false));
            }
            self.steps.push(Some(Exact::ONE));
            self.switches.push(Switch { line: *line, column, least });
        }
        for (members, most) in caps {
            let switches: Vec<usize> = (0..self.switches.len()).filter(|index| members.contains(&self.switches[*index].line)).collect();
            let mut coefficients = vec![Exact::ZERO; columns.len()];
            for index in &switches {
                coefficients[self.switches[*index].column] = Exact::ONE;
            }
            let high = Exact::from(i64::try_from(*most).unwrap_or(i64::MAX));
            rows.push(Row { coefficients, low: None, high: Some(high) });
            self.caps.push(Cap { switches, most: *most });
        }
        for row in &mut rows {
            row.coefficients.resize(columns.len(), Exact::ZERO);
        }
        self.program = Program::new(columns, rows)?;
        Ok(self)
    }

    /// The same question with other costs.
    pub(super) fn with_costs(&self, costs: &[Exact]) -> Result<Self, Error> {
        let of = |index: usize| costs.get(index).cloned().unwrap_or_default();
        let columns = self.program.columns().iter().enumerate().map(|(index, column)| Column { cost: of(index), ..column.clone() }).collect();
        Ok(MixedProgram { program: Program::new(columns, self.program.rows().to_vec())?, ..self.clone() })
    }

    pub(super) fn program(&self) -> &Program {
        &self.program
    }

    /// The ranges of every column, narrowed to multiples where it has a step.
    fn ranges(&self, lattice: &Lattice) -> Ranges {
        let narrowed = |(column, step): (&Column, &Option<Exact>)| match step {
            Some(step) => (column.low.as_ref().map(|low| -(-low).floor_to(step)), column.high.as_ref().map(|high| high.floor_to(step))),
            None => (column.low.clone(), column.high.clone()),
        };
        self.program.columns().iter().zip(&lattice.steps).map(narrowed).collect()
    }

    fn within(&self, ranges: &Ranges) -> Result<Program, Error> {
        let column =
            |(column, (low, high)): (&Column, &(Option<Exact>, Option<Exact>))| Column { low: low.clone(), high: high.clone(), cost: column.cost.clone() };
        Program::new(self.program.columns().iter().zip(ranges).map(column).collect(), self.program.rows().to_vec())
    }

    /// True where the lines stand on their steps and the choices hold, whatever the switches' own columns say.
    pub(super) fn accepts(&self, values: &[Exact]) -> bool {
        let on_steps =
            (0..self.lines).all(|line| self.steps[line].as_ref().is_none_or(|step| values[line].checked_div(step).is_some_and(|count| count.is_whole())));
        let doses = self.switches.iter().all(|switch| values[switch.line].is_zero() || values[switch.line] >= switch.least);
        let counts = self.caps.iter().all(|cap| {
            let on = |index: &&usize| values[self.switches[**index].line].is_positive();
            cap.switches.iter().filter(on).count() <= cap.most
        });
        on_steps && doses && counts
    }

    /// The column to branch on: the line or switch that stands farthest from a multiple, the first among equals; switches first. Where it
    /// was asked for, the last line that stands off its multiples.
    fn branch_on(&self, lattice: &Lattice, values: &[Exact]) -> Option<Split> {
        let off = |column: usize| -> Option<(Exact, Split)> {
            let step = lattice.steps[column].as_ref()?;
            let below = values[column].floor_to(step);
            let rest = (&values[column] - &below).checked_div(step)?;
            let distance = if rest > Exact::ratio(1, 2) { Exact::ONE - rest } else { rest };
            distance.is_positive().then(|| (distance, Split { column, above: &below + step, below, children: (0, 0) }))
        };
        let farthest = |columns: &mut dyn Iterator<Item = usize>| {
            let mut best: Option<(Exact, Split)> = None;
            for found in columns.filter_map(off) {
                if best.as_ref().is_none_or(|(distance, _)| found.0 > *distance) {
                    best = Some(found);
                }
            }
            best.map(|(_, split)| split)
        };
        if self.from_the_last {
            return (0..self.lines).rev().find_map(off).map(|(_, split)| split);
        }
        farthest(&mut self.switches.iter().map(|switch| switch.column)).or_else(|| farthest(&mut (0..self.lines)))
    }

    /// Searches for the first point in the order.
    pub(super) fn search(&self, limits: Limits<'_>) -> Result<Found, Error> {
        let lattice = Lattice::new(&self.program, &self.steps);
        let order: Vec<usize> = if limits.any { Vec::new() } else { (0..self.lines).collect() };
        let solve = |ranges: &Ranges| -> Result<Node, Error> {
            let program = self.within(ranges)?;
            Ok(match lattice.indivisible(&program) {
                Some(row) => Node::Indivisible(row),
                None => Node::Leaf(solve_watched(&program, &order, limits.watched)?),
            })
        };
        let mut tree = Tree::default();
        let mut search = Search { best: None, dive: None, heap: BinaryHeap::new() };
        let ranges = self.ranges(&lattice);
        let root = tree.push(solve(&ranges)?);
        search.consider(self, &tree, root, ranges);
        while let Some(node) = search.next() {
            if tree.len() >= limits.nodes || (limits.any && search.best.is_some()) || !limits.watched.search_on() {
                search.dive = Some(node);
                break;
            }
            let (index, ranges) = node;
            let Some(optimum) = tree.optimum(index) else { continue };
            if search.is_behind(self, optimum) {
                continue;
            }
            // Between two multiples there is a column to branch on: were every line on its step and every switch whole, the choices
            // would hold and the point would have been taken.
            let Some(mut split) = self.branch_on(&lattice, &optimum.values) else { continue };
            let (mut lower, mut upper) = (ranges.clone(), ranges);
            lower[split.column].1 = Some(split.below.clone());
            upper[split.column].0 = Some(split.above.clone());
            split.children = (tree.push(solve(&lower)?), tree.push(solve(&upper)?));
            let children = split.children;
            tree.split(index, split);
            search.consider(self, &tree, children.0, lower);
            search.consider(self, &tree, children.1, upper);
        }
        let mut complete = true;
        while let Some((index, _)) = search.next() {
            complete = complete && tree.optimum(index).is_none_or(|optimum| search.is_behind(self, optimum));
        }
        let (cost, best) = search.best.map(|((cost, _), point)| (cost, point)).unzip();
        Ok(Found { best, cost, tree, complete })
    }

    /// Checks the tree without the search and gives the least cost that it leaves possible; nothing where it leaves no point at all.
    pub(super) fn verify(&self, tree: &Tree, watched: &Watched) -> Result<Option<Exact>, Error> {
        tree.verify(self, watched)
    }
}

/// Open nodes: `dive` is gone into next; `heap` keeps the rest by cost.
struct Search {
    best: Option<(Key, Vec<Exact>)>,
    dive: Option<(usize, Ranges)>,
    heap: BinaryHeap<Reverse<(Exact, usize, Ranges)>>,
}

impl Search {
    fn key(mixed: &MixedProgram, optimum: &Optimum) -> Key {
        (optimum.objective.clone(), optimum.values[..mixed.lines].to_vec())
    }

    /// True where nothing inside can come before the best point.
    fn is_behind(&self, mixed: &MixedProgram, optimum: &Optimum) -> bool {
        self.best.as_ref().is_some_and(|(best, _)| Search::key(mixed, optimum) >= *best)
    }

    /// Takes a solved node: as the best point, as an open node, or not at all.
    fn consider(&mut self, mixed: &MixedProgram, tree: &Tree, index: usize, ranges: Ranges) {
        let Some(optimum) = tree.optimum(index) else { return };
        if self.is_behind(mixed, optimum) {
            return;
        }
        if mixed.accepts(&optimum.values) {
            self.best = Some((Search::key(mixed, optimum), optimum.values.clone()));
            return;
        }
        // Of two children the cheaper is dived into first.
        match self.dive.take() {
            Some((other, other_ranges)) if tree.optimum(other).is_some_and(|other| other.objective < optimum.objective) => {
                self.heap.push(Reverse((optimum.objective.clone(), index, ranges)));
                self.dive = Some((other, other_ranges));
            }
            Some((other, other_ranges)) => {
                if let Some(cost) = tree.optimum(other).map(|other| other.objective.clone()) {
                    self.heap.push(Reverse((cost, other, other_ranges)));
                }
                self.dive = Some((index, ranges));
            }
            None => self.dive = Some((index, ranges)),
        }
    }

    fn next(&mut self) -> Option<(usize, Ranges)> {
        self.dive.take().or_else(|| self.heap.pop().map(|Reverse((_, index, ranges))| (index, ranges)))
    }
}
