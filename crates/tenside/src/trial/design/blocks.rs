//! Runs in blocks, and their order.
//!
//! Blocks tell nothing of the terms, and terms nothing of the blocks, where every block has the same mean of `f(x)`. So
//! runs are swapped between blocks while that makes `sum_b |sum_{i in b} f_i - n_b mean|^2 / n_b` smaller, in
//! coordinates in which all directions count alike. What is left costs efficiency, which is told: with `B` the blocks
//! as sum-coded columns beside the terms `X`, `(det [X B]'[X B] / (det X'X det B'B))^(1/p)`, which is at most 1 (E.
//! Fischer's inequality).

use nalgebra::{DMatrix, DVector};

use super::rows::Rows;
use crate::number::Random;
use crate::trial::whole_plots::WholePlots;

/// Passes over all pairs.
const MOST_PASSES: usize = 30;

/// The block of each run, from 0, sizes differing by one at most. Replicates stand one after the other among the rows.
pub(super) fn assign(rows: &Rows, blocks: usize, random: &mut Random, mut go_on: impl FnMut() -> bool) -> Vec<usize> {
    let runs = rows.count();
    // Replicates follow each other, so that going round puts them into different blocks.
    let mut names: Vec<usize> = (0..blocks).collect();
    random.shuffle(&mut names);
    let mut block: Vec<usize> = (0..runs).map(|run| names[run % blocks]).collect();
    if blocks < 2 {
        return block;
    }
    let mut mean = DVector::zeros(rows.width());
    (0..runs).for_each(|run| mean += rows.vector(run) / runs as f64);
    let departed: Vec<DVector<f64>> = (0..runs).map(|run| rows.vector(run) - &mean).collect();
    let mut sizes = vec![0.0; blocks];
    let mut sums = vec![DVector::zeros(rows.width()); blocks];
    for (run, of) in departed.iter().enumerate() {
        sizes[block[run]] += 1.0;
        sums[block[run]] += of;
    }
    for _ in 0..MOST_PASSES {
        let mut changed = false;
        for left in 0..runs {
            if !go_on() {
                return block;
            }
            for right in left + 1..runs {
                let (one, other) = (block[left], block[right]);
                if one == other {
                    continue;
                }
                let moved = &departed[right] - &departed[left];
                let now = sums[one].norm_squared() / sizes[one] + sums[other].norm_squared() / sizes[other];
                let then = (&sums[one] + &moved).norm_squared() / sizes[one]
                    + (&sums[other] - &moved).norm_squared() / sizes[other];
                if then < now - 1e-9 {
                    sums[one] += &moved;
                    sums[other] -= &moved;
                    block.swap(left, right);
                    changed = true;
                }
            }
        }
        if !changed {
            break;
        }
    }
    block
}

/// The share of the efficiency that is left with blocks; `block` from 0 for every row, and its whole plot.
pub(super) fn efficiency(rows: &Rows, block: &[usize], plots: Option<&WholePlots>) -> f64 {
    let mut names: Vec<usize> = block.to_vec();
    names.sort_unstable();
    names.dedup();
    let (width, contrasts) = (rows.width(), names.len().saturating_sub(1));
    if contrasts == 0 {
        return 1.0;
    }
    let last = names[contrasts];
    let contrast = |run: usize, column: usize| {
        if block[run] == names[column] {
            1.0
        } else if block[run] == last {
            -1.0
        } else {
            0.0
        }
    };
    let mut both = DMatrix::from_fn(rows.count(), width + contrasts, |run, column| {
        if column < width { rows.row(run)[column] } else { contrast(run, column - width) }
    });
    if let Some(plots) = plots {
        both.column_iter_mut().for_each(|mut column| plots.whiten(column.as_mut_slice()));
    }
    let logarithm = |part: DMatrix<f64>| {
        part.cholesky().map(|factor| factor.l_dirty().diagonal().iter().map(|value| 2.0 * value.ln()).sum::<f64>())
    };
    let information = both.transpose() * &both;
    let of_terms = logarithm(information.view((0, 0), (width, width)).into_owned());
    let of_blocks = logarithm(information.view((width, width), (contrasts, contrasts)).into_owned());
    match (logarithm(information), of_terms, of_blocks) {
        (Some(all), Some(terms), Some(blocks)) => ((all - terms - blocks) / width as f64).exp().min(1.0),
        _ => 0.0,
    }
}
