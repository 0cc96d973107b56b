//! Split-plot designs: every design of small cases against the bound, and what whole plots change.

use tenside::prelude::*;
use tenside::trial::{Blend, Crossing, Design, DesignKind, ProcessOrder, ProcessVariable};

use crate::trial_design::{determinant, information, mixture, request};

/// `X' V^-1 X` of runs in whole plots, `V = I + d Z Z'`.
fn in_whole_plots(runs: &[(usize, &Vec<f64>)], ratio: f64) -> Vec<Vec<f64>> {
    let mut sum = information(&runs.iter().map(|(_, row)| *row).collect::<Vec<_>>());
    let mut plots: Vec<usize> = runs.iter().map(|(plot, _)| *plot).collect();
    plots.sort_unstable();
    plots.dedup();
    for plot in plots {
        let own: Vec<&Vec<f64>> = runs.iter().filter(|(of, _)| *of == plot).map(|(_, row)| *row).collect();
        let total: Vec<f64> = (0..sum.len()).map(|term| own.iter().map(|row| row[term]).sum()).collect();
        let share = ratio / (1.0 + ratio * own.len() as f64);
        for (left, row) in sum.iter_mut().enumerate() {
            row.iter_mut().zip(&total).for_each(|(value, right)| *value -= share * total[left] * right);
        }
    }
    sum
}

#[test]
fn no_split_plot_design_of_small_cases_is_above_its_bound() {
    let brief = mixture(&[(20, 60), (40, 80)]);
    let force = ProcessVariable::new("force", "kN", -1, 1).unwrap();
    let mut lowest = 1.0_f64;
    for (crossing, runs) in [(Crossing::Added, 5), (Crossing::Crossed, 6)] {
        for blocks in [1, 2] {
            for ratio in ["0.1", "1", "10"] {
                let asked = request(DesignKind::DOptimal, Blend::Linear)
                    .process([force.clone()], ProcessOrder::Linear, crossing)
                    .unwrap()
                    .runs(runs)
                    .unwrap()
                    .blocks(blocks)
                    .unwrap()
                    .split_plot(ratio)
                    .unwrap();
                let design = brief.design(&asked).unwrap();
                let ratio: f64 = ratio.parse().unwrap();
                let row = |point: &[f64], setting: f64| design.terms().row(point, &[setting]).unwrap();
                let own: Vec<(usize, Vec<f64>)> = design
                    .runs()
                    .iter()
                    .map(|run| {
                        let point: Vec<f64> = run.point.iter().map(|percent| percent.to_f64() / 100.0).collect();
                        (run.whole_plot.unwrap(), row(&point, run.settings[0].to_f64()))
                    })
                    .collect();
                let own: Vec<(usize, &Vec<f64>)> = own.iter().map(|(plot, row)| (*plot, row)).collect();
                let reached = determinant(in_whole_plots(&own, ratio));
                // Corners and the middle, at both settings, in every block.
                let mut candidates = Vec::new();
                for block in 0..blocks {
                    for setting in [-1.0, 1.0] {
                        for low in [0.2, 0.4, 0.6] {
                            let plot = 2 * block + usize::from(setting > 0.0);
                            candidates.push((plot, row(&[low, 1.0 - low], setting)));
                        }
                    }
                }
                fn go<'a>(
                    from: usize,
                    left: usize,
                    all: &'a [(usize, Vec<f64>)],
                    chosen: &mut Vec<(usize, &'a Vec<f64>)>,
                    ratio: f64,
                    best: &mut f64,
                ) {
                    if left == 0 {
                        *best = best.max(determinant(in_whole_plots(chosen, ratio)));
                        return;
                    }
                    for place in from..all.len() {
                        chosen.push((all[place].0, &all[place].1));
                        go(place, left - 1, all, chosen, ratio, best);
                        chosen.pop();
                    }
                }
                let mut best = 0.0;
                go(0, runs, &candidates, &mut Vec::new(), ratio, &mut best);
                let share = (reached / best).powf(1.0 / design.terms().len() as f64);
                assert!(design.efficiency() <= share * (1.0 + 1e-9), "{} > {share}", design.efficiency());
                assert!(share > 0.999, "{share} {blocks} {ratio}");
                lowest = lowest.min(design.efficiency());
                let sentence = design.sentence();
                assert!(sentence.contains("whole plot") && !design.bound_holds_everywhere(), "{sentence}");
            }
        }
    }
    // The bound is of designs that may be divided, which few whole plots cannot be.
    assert!(lowest > 0.7, "{lowest}");
}

#[test]
fn a_split_plot_design_is_better_for_its_whole_plots_than_one_of_single_runs() {
    let brief = mixture(&[(10, 60), (5, 40), (0, 30)]);
    let force = || [ProcessVariable::new("force", "kN", 10, 40).unwrap()];
    let asked = |kind| {
        request(kind, Blend::Linear)
            .process(force(), ProcessOrder::Linear, Crossing::Crossed)
            .unwrap()
            .runs(12)
            .unwrap()
            .blocks(2)
            .unwrap()
    };
    for kind in [DesignKind::DOptimal, DesignKind::IOptimal] {
        let split = brief.design(&asked(kind).split_plot(2).unwrap()).unwrap();
        assert!(split.efficiency() > 0.7 && split.efficiency() <= 1.0, "{kind} {}", split.efficiency());
        assert!((split.efficiency() - split.efficiency_as_rounded().unwrap()).abs() < 1e-4);
        assert_eq!(split.runs().last().unwrap().whole_plot, Some(4));
        assert_eq!(split.runs().iter().filter(|run| run.block == 1).count(), 6);
        assert!(split.block_efficiency().is_some());
        let catalogue = Catalogue::starter();
        let text = split.write(Notation::Json, Materials::Named).unwrap();
        assert_eq!(Design::read(&text, Notation::Json, &catalogue).unwrap(), split);
        // No other formulas in the same whole plots are above the bound.
        let mut formulas = split.formulas();
        formulas.rotate_left(1);
        assert!(split.efficiency_of(&formulas).unwrap().is_none_or(|share| share <= 1.0));
    }
    let plain = request(DesignKind::DOptimal, Blend::Linear).runs(6).unwrap();
    assert!(brief.design(&plain.split_plot(1).unwrap()).unwrap_err().is_missing());
    assert!(asked(DesignKind::DOptimal).split_plot(0).unwrap_err().is_out_of_range());
    assert!(asked(DesignKind::DOptimal).split_plot(f64::NAN).is_err());
}
