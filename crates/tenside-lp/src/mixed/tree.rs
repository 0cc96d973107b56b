//! The tree of a search, which is its proof: every leaf has a certificate, and the leaves cover every point on the
//! steps.

use std::collections::BTreeSet;

use super::lattice::Lattice;
use super::program::{MixedProgram, Ranges};
use crate::error::{Error, ErrorKind};
use crate::exact::Exact;
use crate::halt::Halt;
use crate::linear::{Crossing, Farkas, Optimum, Outcome, verify};

/// One column is at most `below` in one child and at least `above` in the other; nothing on the steps lies between.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Split {
    pub(super) column: usize,
    pub(super) below: Exact,
    pub(super) above: Exact,
    pub(super) children: (usize, usize),
}

impl Split {
    /// The ranges of both children.
    pub(super) fn halves(&self, ranges: Ranges) -> [Ranges; 2] {
        let (mut lower, mut upper) = (ranges.clone(), ranges);
        lower[self.column].1 = Some(self.below.clone());
        upper[self.column].0 = Some(self.above.clone());
        [lower, upper]
    }
}

/// A node of a search.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Node {
    /// Closed by a row that no multiples of the steps can meet inside its ranges.
    Indivisible(usize),
    /// Closed by its certificate, or left open when the search was cut off; its least cost bounds what is inside either
    /// way.
    Leaf(Outcome),
    Split(Split),
}

/// The nodes of a search, the root first; children stand after their parent.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tree {
    nodes: Vec<Node>,
}

impl Tree {
    /// How many nodes it has.
    #[must_use]
    pub fn nodes(&self) -> usize {
        self.nodes.len()
    }

    pub(super) fn push(&mut self, node: Node) -> usize {
        self.nodes.push(node);
        self.nodes.len() - 1
    }

    pub(super) fn optimum(&self, index: usize) -> Option<&Optimum> {
        match &self.nodes[index] {
            Node::Leaf(outcome) => outcome.optimum(),
            Node::Split(_) | Node::Indivisible(_) => None,
        }
    }

    pub(super) fn split(&mut self, index: usize, split: Split) {
        self.nodes[index] = Node::Split(split);
    }

    /// The least cost that the leaves leave possible; `None` if they leave no point.
    #[must_use]
    pub fn bound(&self) -> Option<Exact> {
        (0..self.nodes.len()).filter_map(|index| self.optimum(index)).map(|optimum| optimum.objective.clone()).min()
    }

    /// The rows that close its nodes, in order.
    #[must_use]
    pub fn rows_used(&self) -> Vec<usize> {
        let mut rows = BTreeSet::new();
        for node in &self.nodes {
            match node {
                // With a crossing, all multipliers are 0.
                Node::Leaf(Outcome::Infeasible(Farkas { crossing: Some(Crossing::Row(row)), .. }))
                | Node::Indivisible(row) => rows.extend([*row]),
                Node::Leaf(Outcome::Infeasible(Farkas { row_multipliers, .. })) => {
                    rows.extend((0..row_multipliers.len()).filter(|row| !row_multipliers[*row].is_zero()));
                }
                Node::Leaf(_) | Node::Split(_) => {}
            }
        }
        rows.into_iter().collect()
    }
}

impl MixedProgram {
    /// Checks the tree without the search and gives the least cost that it leaves possible; `None` if it leaves no
    /// point at all.
    ///
    /// # Errors
    /// What does not hold, and what stopped work gives.
    pub fn verify<H: Halt<Stopped: From<Error>>>(&self, tree: &Tree, halt: &H) -> Result<Option<Exact>, H::Stopped> {
        let fails = |what: &'static str| Error::new(ErrorKind::Contradiction, what).at("search tree");
        let lattice = Lattice::new(&self.program, &self.steps);
        let mut least: Option<Exact> = None;
        let mut walk: Vec<(usize, Ranges)> = vec![(0, self.ranges(&lattice))];
        // Each split leaves out nothing on the steps, and each leaf's certificate holds.
        while let Some((index, ranges)) = walk.pop() {
            halt.check()?;
            match tree.nodes.get(index) {
                None => return Err(fails("a node is missing").into()),
                Some(Node::Indivisible(row)) => {
                    if lattice.indivisible(&self.within(&ranges)) != Some(*row) {
                        return Err(fails("multiples of the steps can meet the row").into());
                    }
                }
                Some(Node::Leaf(outcome)) => {
                    verify(&self.within(&ranges), outcome)?;
                    let cost = outcome.optimum().map(|optimum| optimum.objective.clone());
                    least = least.into_iter().chain(cost).min();
                }
                Some(Node::Split(split)) => {
                    let (lower, upper) = split.children;
                    // Children after their parent: the walk ends.
                    if lower <= index || upper <= index {
                        return Err(fails("a child stands before its parent").into());
                    }
                    let step = lattice
                        .steps
                        .get(split.column)
                        .and_then(Option::as_ref)
                        .ok_or_else(|| fails("a split on a column without step"))?;
                    if !split.below.is_multiple_of(step) || split.above != &split.below + step {
                        return Err(fails("a split leaves out a multiple of the step").into());
                    }
                    walk.extend([lower, upper].into_iter().zip(split.halves(ranges)));
                }
            }
        }
        Ok(least)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Limits, MixedProgram};
    use super::*;
    use crate::halt::Unwatched;
    use crate::linear::{Column, Program, Row};

    /// Stops nothing, and gives what does not hold.
    struct Checked;

    impl Halt for Checked {
        type Stopped = Error;

        fn check(&self) -> Result<(), Error> {
            Ok(())
        }
    }

    /// The dearest of 3 a + 2 b with 2 a + 2 b <= 7 and a, b whole, up to 3: a = 3, b = 0.
    fn question() -> MixedProgram {
        let column = |cost: i64| Column { low: Some(Exact::ZERO), high: Some(Exact::from(3)), cost: Exact::from(cost) };
        let row = Row { coefficients: vec![Exact::from(2); 2], low: None, high: Some(Exact::from(7)) };
        let program = Program::new(vec![column(-3), column(-2)], vec![row]).unwrap();
        MixedProgram::new(program, 2, vec![Some(Exact::ONE); 2]).unwrap()
    }

    #[test]
    fn a_tree_is_checked_and_a_forged_one_refused() {
        let mixed = question();
        let found = mixed.search(Limits { nodes: 100, any: false, halt: &Unwatched }).unwrap();
        assert!(found.complete);
        assert_eq!(found.best, Some(vec![Exact::from(3), Exact::ZERO]));
        assert_eq!(mixed.verify(&found.tree, &Checked).unwrap(), Some(Exact::from(-9)));
        let (mut splits, mut leaves) = (0, 0);
        for index in 0..found.tree.nodes() {
            let forge = |change: &dyn Fn(&mut Node)| {
                let mut tree = found.tree.clone();
                change(&mut tree.nodes[index]);
                mixed.verify(&tree, &Checked)
            };
            match &found.tree.nodes[index] {
                Node::Split(_) => {
                    splits += 1;
                    // A hole between the children, children that do not stand on the steps, and a walk that would not
                    // end.
                    for change in [
                        &|split: &mut Split| split.above += Exact::ONE,
                        &|split: &mut Split| {
                            split.below += Exact::ratio(1, 2);
                            split.above += Exact::ratio(1, 2);
                        },
                        &|split: &mut Split| split.children.0 = 0,
                        &|split: &mut Split| split.children.1 = 1000,
                        &|split: &mut Split| split.column = 7,
                    ] as [&dyn Fn(&mut Split); 5]
                    {
                        let forged = forge(&|node| {
                            if let Node::Split(split) = node {
                                change(split);
                            }
                        });
                        assert!(forged.is_err());
                    }
                }
                Node::Leaf(_) | Node::Indivisible(_) => {
                    leaves += 1;
                    assert!(forge(&|node| *node = Node::Indivisible(0)).is_err());
                    let infeasible = Outcome::Infeasible(crate::linear::Farkas {
                        row_multipliers: vec![-Exact::ONE],
                        crossing: None,
                    });
                    let was_infeasible = matches!(&found.tree.nodes[index], Node::Leaf(Outcome::Infeasible(_)));
                    assert!(was_infeasible || forge(&|node| *node = Node::Leaf(infeasible.clone())).is_err());
                }
            }
        }
        assert!(splits >= 1 && leaves >= 2, "{splits} {leaves}");
    }

    #[test]
    fn a_search_cut_off_leaves_a_bound() {
        let mixed = question();
        let found = mixed.search(Limits { nodes: 1, any: false, halt: &Unwatched }).unwrap();
        assert!(!found.complete && found.best.is_none());
        // The linear program reaches 3 a + 2 b = 10.
        assert_eq!(mixed.verify(&found.tree, &Checked).unwrap(), Some(Exact::from(-10)));
    }
}
