//! Designs of trials: published regions, every design of small cases against the bound, and what is refused.

use serde::Deserialize;
use tenside::measure::ScoreTable;
use tenside::prelude::*;
use tenside::trial::{
    Blend, Crossing, Design, DesignKind, DesignRequest, PointKind, ProcessOrder, ProcessVariable, Terms,
};

use crate::published::read;

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Regions {
    #[serde(rename = "source")]
    _source: String,
    #[serde(rename = "mark")]
    _mark: String,
    rows: Vec<[Exact; 4]>,
    vertices: Vec<[Exact; 3]>,
    lattices: Vec<[usize; 3]>,
    centroids: Vec<[usize; 2]>,
}

fn published() -> Regions {
    read(include_str!("../data/mixture_vertices.toml"))
}

const NAMES: [&str; 8] =
    ["sci-powder", "cetyl-alcohol", "glycerin-99-5", "kaolin", "corn-starch", "cocoa-butter", "btms-50", "scs-needles"];

/// Lines with these ranges, in percent; the last fills up.
pub(crate) fn mixture(ranges: &[(i64, i64)]) -> Brief {
    let mut brief = Brief::new("Mixture", &Catalogue::starter()).unwrap();
    for (name, (low, high)) in NAMES.iter().zip(ranges) {
        brief = brief.between(name, *low, *high).unwrap();
    }
    brief
}

/// Random bounds that leave room.
fn random_mixture(state: &mut u64, components: usize) -> Brief {
    loop {
        let mut below = |most: u64| {
            *state = state.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            (*state >> 33) % most
        };
        let ranges: Vec<(i64, i64)> = (0..components)
            .map(|_| {
                let low = below(25) as i64;
                (low, low + 5 + below(40) as i64)
            })
            .collect();
        let (low, high) = ranges.iter().fold((0, 0), |(low, high), range| (low + range.0, high + range.1));
        if low < 95 && high > 105 {
            return mixture(&ranges);
        }
    }
}

pub(crate) fn request(kind: DesignKind, blend: Blend) -> DesignRequest {
    DesignRequest::new(kind, blend, 3)
}

pub(crate) fn determinant(mut matrix: Vec<Vec<f64>>) -> f64 {
    let mut product = 1.0;
    for column in 0..matrix.len() {
        let pivot = (column..matrix.len())
            .max_by(|a, b| matrix[*a][column].abs().total_cmp(&matrix[*b][column].abs()))
            .unwrap();
        matrix.swap(column, pivot);
        let of = matrix[column].clone();
        if of[column] == 0.0 {
            return 0.0;
        }
        product *= of[column] * if pivot == column { 1.0 } else { -1.0 };
        for row in &mut matrix[column + 1..] {
            let factor = row[column] / of[column];
            row.iter_mut().zip(&of).for_each(|(value, of)| *value -= factor * of);
        }
    }
    product
}

pub(crate) fn information(rows: &[&Vec<f64>]) -> Vec<Vec<f64>> {
    let width = rows[0].len();
    (0..width).map(|i| (0..width).map(|j| rows.iter().map(|row| row[i] * row[j]).sum()).collect()).collect()
}

/// The greatest determinant of any choice of so many, repetitions allowed.
fn greatest(rows: &[Vec<f64>], runs: usize) -> f64 {
    fn go<'a>(rows: &'a [Vec<f64>], from: usize, left: usize, chosen: &mut Vec<&'a Vec<f64>>, best: &mut f64) {
        if left == 0 {
            *best = best.max(determinant(information(chosen)));
            return;
        }
        for place in from..rows.len() {
            chosen.push(&rows[place]);
            go(rows, place, left - 1, chosen, best);
            chosen.pop();
        }
    }
    let mut best = 0.0;
    go(rows, 0, runs, &mut Vec::new(), &mut best);
    best
}

fn row_of(terms: &Terms, formula: &[Exact]) -> Vec<f64> {
    let parts: Vec<f64> = formula.iter().map(|percent| (percent / Exact::hundred()).to_f64()).collect();
    terms.row(&parts, &[]).unwrap()
}

#[test]
fn fifty_small_cases_reach_the_best_there_is_and_none_is_above_its_bound() {
    let (mut state, mut cases, mut best_found, mut lowest) = (5, 0, 0, 1.0_f64);
    while cases < 50 {
        let brief = random_mixture(&mut state, 3);
        let (blend, runs) = if cases % 2 == 0 { (Blend::Linear, 4) } else { (Blend::Quadratic, 6) };
        let design =
            brief.design(&request(DesignKind::DOptimal, blend).runs(runs).unwrap().starts(20).unwrap()).unwrap();
        // The candidates, made here from the corners alone: in the plane they are joined by an edge where both meet a
        // limit.
        let corners = brief.corners(100).unwrap().formulas;
        let middle = |points: &[&Vec<Exact>]| -> Vec<Exact> {
            (0..3)
                .map(|line| points.iter().map(|point| &point[line]).sum::<Exact>() / Exact::from(points.len() as i64))
                .collect()
        };
        let mut points = corners.clone();
        if blend == Blend::Quadratic {
            for (place, left) in corners.iter().enumerate() {
                for right in &corners[place + 1..] {
                    let ends = brief.lines().iter().map(|line| line.role().range());
                    if ends.enumerate().any(|(line, (low, high))| {
                        left[line] == right[line] && (left[line] == low.percent() || left[line] == high.percent())
                    }) {
                        points.push(middle(&[left, right]));
                    }
                }
            }
        }
        points.push(middle(&corners.iter().collect::<Vec<_>>()));
        let counted: usize = design.candidates().iter().map(|(_, count)| count).sum();
        assert_eq!(counted, points.len(), "{:?}", design.candidates());
        if points.len() > 13 {
            continue;
        }
        cases += 1;
        let rows: Vec<Vec<f64>> = points.iter().map(|point| row_of(design.terms(), point)).collect();
        let own: Vec<Vec<f64>> = design.runs().iter().map(|run| row_of(design.terms(), &run.point)).collect();
        let reached = determinant(information(&own.iter().collect::<Vec<_>>()));
        let best = greatest(&rows, runs);
        assert!(reached <= best * (1.0 + 1e-9), "{reached} {best}");
        let root = |value: f64| value.powf(1.0 / design.terms().len() as f64);
        let true_share = root(reached / best);
        assert!(design.efficiency() <= true_share * (1.0 + 1e-9), "{} > {true_share}", design.efficiency());
        best_found += usize::from(true_share > 1.0 - 1e-9);
        lowest = lowest.min(design.efficiency());
    }
    assert!(best_found >= 49, "{best_found} of 50");
    assert!(lowest > 0.75, "{lowest}");
}

#[test]
fn published_vertices_and_numbers_of_points() {
    let published = published();
    let mut brief = mixture(&[(0, 100), (0, 100), (0, 100)]);
    for (place, row) in published.rows.iter().enumerate() {
        let scores = NAMES.iter().zip(&row[..3]).map(|(name, weight)| (name.to_string(), weight.to_decimal().unwrap()));
        brief = brief
            .at_least(Measure::score(ScoreTable::new(&format!("row {place}"), scores).unwrap()), -&row[3])
            .unwrap();
    }
    let design = brief.design(&request(DesignKind::ExtremeVertices, Blend::Quadratic)).unwrap();
    let mut found: Vec<Vec<f64>> = Vec::new();
    for run in design.runs().iter().filter(|run| run.kind == PointKind::Vertex) {
        found.push(run.point.iter().map(|percent| percent.to_f64() / 100.0).collect());
    }
    assert_eq!(found.len(), published.vertices.len());
    for vertex in &published.vertices {
        let near =
            |other: &Vec<f64>| vertex.iter().zip(other).all(|(left, right)| (left.to_f64() - right).abs() < 1e-6);
        assert_eq!(found.iter().filter(|other| near(other)).count(), 1, "{vertex:?}");
    }
    // As many edges as vertices in the plane, and the centroid.
    assert_eq!(design.candidates(), [(PointKind::Vertex, 6), (PointKind::Edge, 6), (PointKind::Centroid, 1)]);
    for [components, steps, points] in published.lattices {
        let whole = mixture(&vec![(0, 100); components]);
        let design = whole.design(&request(DesignKind::SimplexLattice, Blend::Linear).steps(steps).unwrap()).unwrap();
        assert_eq!(design.runs().len(), points, "{components} {steps}");
    }
    for [components, points] in published.centroids {
        let design = mixture(&vec![(5, 100); components])
            .design(&request(DesignKind::SimplexCentroid, Blend::Quadratic))
            .unwrap();
        assert_eq!(design.runs().len(), points, "{components}");
        assert!(design.runs().iter().all(|run| run.point.iter().sum::<Exact>() == Exact::hundred()));
    }
}

#[test]
fn the_quadratic_lattice_is_the_best_there_is_for_its_model() {
    // Known since Kiefer 1961: on the whole simplex the lattice of two steps is D-optimal for the quadratic model.
    let design = mixture(&[(0, 100); 4]).design(&request(DesignKind::SimplexLattice, Blend::Quadratic)).unwrap();
    assert!(design.efficiency() > 0.999 && design.efficiency() <= 1.0, "{}", design.efficiency());
    // And single components for the linear one.
    let design =
        mixture(&[(0, 100); 4]).design(&request(DesignKind::DOptimal, Blend::Linear).runs(8).unwrap()).unwrap();
    assert!(design.efficiency() > 0.999, "{}", design.efficiency());
    assert!(design.runs().iter().all(|run| run.kind == PointKind::Vertex));
}

#[test]
fn a_cube_has_its_faces() {
    // Three free directions of 10 % each, the last line far from its ends: a cube.
    let cube = mixture(&[(10, 20), (10, 20), (10, 20), (0, 100)]);
    let design = cube.design(&request(DesignKind::ExtremeVertices, Blend::Linear).centroids(2).unwrap()).unwrap();
    assert_eq!(
        design.candidates(),
        [(PointKind::Vertex, 8), (PointKind::Edge, 12), (PointKind::Face, 6), (PointKind::Centroid, 1)]
    );
    assert_eq!(design.runs().len(), 27);
}

fn check_runs(design: &Design) {
    for run in design.runs() {
        assert_eq!(run.formula.lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000);
        for (line, exact) in run.formula.lines().iter().zip(&run.point) {
            assert!((line.percent().percent() - exact).abs() < Exact::ratio(1, 1000), "{}", line.name());
        }
    }
    assert!((design.efficiency() - design.efficiency_as_rounded().unwrap()).abs() < 1e-4);
}

#[test]
fn replicates_go_to_different_blocks_and_cost_nothing() {
    let brief = mixture(&[(10, 40), (5, 20), (0, 10), (20, 80)]);
    let asked = request(DesignKind::DOptimal, Blend::Linear).runs(6).unwrap();
    let design = brief.design(&asked.clone().replicates(2).unwrap().blocks(2).unwrap()).unwrap();
    check_runs(&design);
    assert_eq!(design.runs().len(), 12);
    assert!(design.block_efficiency().unwrap() > 0.999_999);
    assert_eq!(design.runs().iter().map(|run| run.block).collect::<Vec<_>>(), [1, 1, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2]);
    // The same seed gives the same, another one another order.
    assert_eq!(brief.design(&asked).unwrap(), brief.design(&asked).unwrap());
    let single = brief.design(&asked).unwrap();
    assert!((single.efficiency() - design.efficiency()).abs() < 1e-4);
    assert!(single.block_efficiency().is_none());
}

#[test]
fn an_i_optimal_design_is_better_on_the_average_than_the_d_optimal_one() {
    let brief = mixture(&[(10, 60), (5, 40), (0, 30)]);
    let averaged = |kind| brief.design(&request(kind, Blend::Quadratic).runs(10).unwrap()).unwrap();
    let (d, i) = (averaged(DesignKind::DOptimal), averaged(DesignKind::IOptimal));
    check_runs(&i);
    assert!(i.efficiency() > 0.8, "{}", i.efficiency());
    // The d-optimal formulas put in the place of the i-optimal runs are judged by the same average.
    let of_d = i.efficiency_of(&d.formulas()).unwrap().unwrap();
    assert!(of_d < i.efficiency(), "{of_d} {}", i.efficiency());
    let of_i = d.efficiency_of(&i.formulas()).unwrap().unwrap();
    assert!(of_i < d.efficiency(), "{of_i} {}", d.efficiency());
    assert!(i.efficiency_of(&i.formulas()[1..]).unwrap_err().is_out_of_range());
}

#[test]
fn the_next_bars_go_on_from_those_made() {
    let brief = mixture(&[(10, 60), (5, 40), (0, 30)]);
    let asked = request(DesignKind::DOptimal, Blend::Linear);
    // Two bars at one corner: the third direction is what the next one has to teach.
    let corners = brief.corners(100).unwrap().formulas;
    let (first, second) = (brief.formula_at(&corners[0]).unwrap(), brief.formula_at(&corners[1]).unwrap());
    let none: [i64; 0] = [];
    let with_made = asked.clone().made(&first, none).unwrap().made(&second, none).unwrap();
    let design = brief.design(&with_made.clone().runs(1).unwrap()).unwrap();
    assert_eq!(design.runs().len(), 1);
    assert!(design.efficiency() > 0.2, "{}", design.efficiency());
    // It is the best of all single ones.
    let terms = design.terms().clone();
    let made: Vec<Vec<f64>> = [&corners[0], &corners[1]].iter().map(|point| row_of(&terms, point)).collect();
    let worth = |point: &Vec<Exact>| {
        let row = row_of(&terms, point);
        determinant(information(&made.iter().chain([&row]).collect::<Vec<_>>()))
    };
    let best = corners.iter().map(worth).fold(0.0, f64::max);
    assert!(worth(&design.runs()[0].point) >= best * (1.0 - 1e-9));
    let error = brief.design(&asked.made(&first, none).unwrap().runs(1).unwrap()).unwrap_err();
    assert!(error.is_out_of_range() && error.to_string().contains("1 made"), "{error}");
    let other = Formula::new(
        "Other",
        vec![Line::new("water", Catalogue::starter().material("water").unwrap().clone(), 100).unwrap()],
    )
    .unwrap();
    assert!(brief.design(&with_made.made(&other, none).unwrap().runs(1).unwrap()).unwrap_err().is_unknown_name());
}

#[test]
fn process_variables_are_crossed_and_grouped() {
    let brief = mixture(&[(10, 60), (5, 40), (0, 30)]);
    let variables = || {
        [
            ProcessVariable::new("press force", "kN", 10, 40).unwrap(),
            ProcessVariable::new("cure", "days", 7, 28).unwrap(),
        ]
    };
    let asked = request(DesignKind::DOptimal, Blend::Linear)
        .process(variables(), ProcessOrder::Linear, Crossing::Crossed)
        .unwrap()
        .runs(12)
        .unwrap();
    let design = brief.design(&asked.clone().split_plot(1).unwrap().blocks(2).unwrap()).unwrap();
    assert_eq!(design.terms().len(), 9);
    // In whole plots the bound holds for the settings listed, and is further off.
    assert!(!design.bound_holds_everywhere() && design.efficiency() > 0.8, "{}", design.efficiency());
    let mut settings: Vec<Vec<Exact>> = Vec::new();
    for pair in design.runs().windows(2) {
        assert_eq!(
            pair[0].whole_plot == pair[1].whole_plot,
            pair[0].settings == pair[1].settings && pair[0].block == pair[1].block
        );
    }
    for run in design.runs() {
        if !settings.contains(&run.settings) {
            settings.push(run.settings.clone());
        }
    }
    assert_eq!(settings.len(), 4);
    assert!(
        settings
            .iter()
            .all(|of| [10, 40].map(Exact::from).contains(&of[0]) && [7, 28].map(Exact::from).contains(&of[1]))
    );
    let quadratic = request(DesignKind::DOptimal, Blend::Linear)
        .process(variables(), ProcessOrder::Quadratic, Crossing::Added)
        .unwrap()
        .runs(14)
        .unwrap();
    let design = brief.design(&quadratic).unwrap();
    assert!(!design.bound_holds_everywhere());
    assert!(design.runs().iter().any(|run| run.settings[0] == Exact::from(25)));
}

fn bar() -> Brief {
    let split = [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)];
    let brief = Brief::new("Bar", &Catalogue::starter()).unwrap().split("wash", SplitBasis::Active, split).unwrap();
    brief
        .fix("panthenol", "1.5")
        .unwrap()
        .between("cetyl-alcohol", 3, 6)
        .unwrap()
        .between("glycerin-99-5", 0, 4)
        .unwrap()
        .qs("kaolin")
        .unwrap()
}

#[test]
fn a_split_is_one_component_or_is_opened_alone() {
    let ranged = bar().require(Requirement::between(Measure::active_matter(), 50, 58).unwrap()).unwrap();
    let design = ranged.design(&request(DesignKind::DOptimal, Blend::Linear).runs(8).unwrap()).unwrap();
    assert_eq!(design.terms().components(), ["wash", "cetyl-alcohol", "glycerin-99-5", "kaolin"]);
    check_runs(&design);
    let inside = bar().at_least(Measure::active_matter(), 40).unwrap();
    let opened =
        inside.design(&request(DesignKind::DOptimal, Blend::Quadratic).runs(8).unwrap().within("wash").unwrap());
    let opened = opened.unwrap();
    assert_eq!(opened.terms().components(), ["sci-powder", "scs-needles", "capb-30"]);
    let answer = inside.solve().unwrap();
    let planned = answer.formula().unwrap();
    for run in opened.runs() {
        for name in ["panthenol", "cetyl-alcohol", "glycerin-99-5", "kaolin"] {
            assert_eq!(run.formula.line(name).unwrap(), planned.line(name).unwrap());
        }
    }
    let error = inside
        .design(&request(DesignKind::DOptimal, Blend::Linear).runs(8).unwrap().within("wsh").unwrap())
        .unwrap_err();
    assert!(error.is_unknown_name());
}

#[test]
fn what_binds_the_components_is_named() {
    let bound = Brief::new("Two surfactants", &Catalogue::starter())
        .unwrap()
        .between("sci-powder", 20, 50)
        .unwrap()
        .between("scs-needles", 5, 30)
        .unwrap();
    let bound = bound
        .between("cetyl-alcohol", 3, 12)
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .target(Measure::active_matter(), 45)
        .unwrap();
    let asked = request(DesignKind::DOptimal, Blend::Linear).runs(8).unwrap();
    let error = bound.design(&asked).unwrap_err();
    assert!(error.is_contradiction() && error.to_string().contains("active matter at 45 %"), "{error}");
    let design = bound.design(&asked.components(["sci-powder", "cetyl-alcohol", "kaolin"]).unwrap()).unwrap();
    assert_eq!(design.terms().len(), 3);
    assert!(design.efficiency() > 0.9);
}

#[test]
fn what_is_no_design_is_refused() {
    let brief = mixture(&[(10, 60), (5, 40), (0, 30)]);
    let asked = |kind, blend| request(kind, blend);
    let few = brief.design(&asked(DesignKind::DOptimal, Blend::Quadratic).runs(5).unwrap()).unwrap_err();
    assert!(
        few.is_out_of_range() && few.to_string().contains("6 terms; aliased: ") && few.to_string().contains('*'),
        "{few}"
    );
    assert!(brief.design(&asked(DesignKind::DOptimal, Blend::Linear)).unwrap_err().is_missing());
    assert!(brief.design(&asked(DesignKind::Axial, Blend::Linear).runs(5).unwrap()).unwrap_err().is_contradiction());
    let full = brief
        .design(&asked(DesignKind::DOptimal, Blend::FullCubic).centroids(0).unwrap().runs(12).unwrap())
        .unwrap_err();
    assert!(full.is_contradiction() && full.to_string().contains("tell these terms apart"), "{full}");
    // Four vertices for three components.
    let square = mixture(&[(10, 60), (5, 40), (0, 50)]);
    assert!(square.design(&asked(DesignKind::SimplexLattice, Blend::Linear)).unwrap_err().is_unsupported());
    let empty = mixture(&[(10, 20), (5, 20), (0, 30)])
        .design(&asked(DesignKind::DOptimal, Blend::Linear).runs(5).unwrap())
        .unwrap_err();
    assert!(empty.is_unanswerable() && empty.conflict().is_some(), "{empty}");
    let one = mixture(&[(40, 40), (60, 60)])
        .design(&asked(DesignKind::DOptimal, Blend::Linear).runs(5).unwrap())
        .unwrap_err();
    assert!(one.is_contradiction() && one.to_string().contains("one formula alone"), "{one}");
    assert!(asked(DesignKind::DOptimal, Blend::Linear).runs(0).unwrap_err().is_out_of_range());
    assert!(asked(DesignKind::DOptimal, Blend::Linear).runs(100_000).unwrap_err().is_out_of_range());
    assert!(
        asked(DesignKind::DOptimal, Blend::Linear)
            .made(&brief.solve().unwrap().formula().unwrap().clone(), [f64::NAN])
            .is_err()
    );
}

#[test]
fn every_corner_and_sample_becomes_a_formula_that_meets_the_brief() {
    let brief = bar()
        .require(Requirement::between(Measure::active_matter(), 50, 58).unwrap())
        .unwrap()
        .at_most(Measure::water(), 9)
        .unwrap();
    for corner in brief.corners(100).unwrap().formulas {
        let formula = brief.formula_at(&corner).unwrap();
        let active =
            formula.measure(&Measure::active_matter(), &Basis::AsCharged).unwrap().value.unwrap().typical.unwrap();
        assert!(active >= 50.into() && active <= 58.into());
    }
    let samples = brief.samples(50, 1).unwrap();
    for sample in 0..50 {
        let point: Vec<Exact> = samples.lines.iter().map(|line| Exact::from_shortest(line[sample]).unwrap()).collect();
        brief.formula_at(&point).unwrap();
    }
}
