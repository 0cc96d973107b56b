//! Samples against the moments of known bodies, corners against enumeration.

use tenside::brief::Brief;
use tenside::catalogue::Catalogue;
use tenside::measure::{Measure, Scope};
use tenside::number::Exact;

use super::support::bar;

const POWDERS: [&str; 5] = ["kaolin", "corn-starch", "sci-powder", "scs-needles", "cetyl-alcohol"];

fn simplex(lines: usize) -> Brief {
    POWDERS[..lines]
        .iter()
        .fold(Brief::new("Powders", &Catalogue::starter()).unwrap(), |brief, line| brief.free(line).unwrap())
}

fn moment(line: &[f64], other: &[f64]) -> f64 {
    line.iter().zip(other).map(|(one, other)| one / 100.0 * other / 100.0).sum::<f64>() / line.len() as f64
}

/// On a simplex of `n` shares: `E x = 1/n`, `E x^2 = 2 / (n (n + 1))`, `E x y = 1 / (n (n + 1))` (the even Dirichlet
/// distribution; from memory).
#[test]
fn samples_of_a_simplex_have_its_moments() {
    for lines in [2, 3, 4, 5] {
        let samples = simplex(lines).samples(40_000, 11).unwrap();
        assert_eq!(samples.dimension, lines - 1);
        let n = lines as f64;
        for (place, line) in samples.lines.iter().enumerate() {
            let mean = line.iter().sum::<f64>() / line.len() as f64 / 100.0;
            assert!((mean - 1.0 / n).abs() < 0.006, "{lines} lines: mean {mean}");
            assert!((moment(line, line) - 2.0 / (n * (n + 1.0))).abs() < 0.006);
            let other = &samples.lines[(place + 1) % lines];
            assert!((moment(line, other) - 1.0 / (n * (n + 1.0))).abs() < 0.006);
        }
        for sample in 0..100 {
            let sum: f64 = samples.lines.iter().map(|line| line[sample]).sum();
            assert!((sum - 100.0).abs() < 1e-10 && samples.lines.iter().all(|line| line[sample] >= -1e-10));
        }
    }
}

/// A box of two lines beside a q.s. line: independent and even, `E x = middle`, variance `width^2 / 12`.
#[test]
fn samples_of_a_box_are_even_and_independent() {
    let brief = Brief::new("Box", &Catalogue::starter())
        .unwrap()
        .between("kaolin", 10, 30)
        .unwrap()
        .between("corn-starch", 5, 6)
        .unwrap()
        .qs("sci-powder")
        .unwrap();
    let samples = brief.samples(40_000, 3).unwrap();
    let of = |line: usize| &samples.lines[line];
    let mean = |line: &[f64]| line.iter().sum::<f64>() / line.len() as f64;
    let (one, other) = (mean(of(0)), mean(of(1)));
    assert!((one - 20.0).abs() < 0.15 && (other - 5.5).abs() < 0.0075, "{one} {other}");
    let around = |line: &[f64], middle: f64| line.iter().map(|value| value - middle).collect::<Vec<f64>>();
    let (left, right) = (around(of(0), one), around(of(1), other));
    let product = |left: &[f64], right: &[f64]| {
        left.iter().zip(right).map(|(left, right)| left * right).sum::<f64>() / left.len() as f64
    };
    assert!((product(&left, &left) / (400.0 / 12.0) - 1.0).abs() < 0.03);
    assert!((product(&right, &right) / (1.0 / 12.0) - 1.0).abs() < 0.03);
    assert!(product(&left, &right).abs() < 0.03 * 20.0 / 12.0);
    // A tenth of the box holds a tenth of the samples.
    let tenth = of(0).iter().filter(|value| **value < 12.0).count() as f64 / 40_000.0;
    assert!((tenth - 0.1).abs() < 0.006, "{tenth}");
}

/// A triangle with its tip cut at half height loses a quarter of its area.
#[test]
fn samples_of_a_cut_simplex_and_what_is_an_equation_in_disguise() {
    let cut = simplex(3).at_most(Measure::material("kaolin").unwrap(), 50).unwrap();
    let samples = cut.samples(40_000, 5).unwrap();
    assert!(samples.lines[0].iter().all(|value| *value <= 50.0 + 1e-9));
    // Below a quarter: area 1 - (3/4)^2 of the whole, of what is left 3/4.
    let below = samples.lines[0].iter().filter(|value| **value < 25.0).count() as f64 / 40_000.0;
    assert!((below - (1.0 - 0.5625) / 0.75).abs() < 0.01, "{below}");
    // Two limits that leave no room are an equation.
    let half = Measure::as_supplied().contributed_by(Scope::lines(["kaolin", "corn-starch"]).unwrap());
    let flat = simplex(3).at_most(half.clone(), 50).unwrap().at_least(half, 50).unwrap();
    let samples = flat.samples(1000, 5).unwrap();
    assert_eq!(samples.dimension, 1);
    assert!(samples.lines[2].iter().all(|value| (value - 50.0).abs() < 1e-10));
    assert_eq!(flat.corners(10).unwrap().formulas.len(), 2);
}

#[test]
fn a_seed_decides_and_a_determined_brief_has_one_sample() {
    let brief = simplex(3);
    assert_eq!(brief.samples(50, 9).unwrap(), brief.samples(50, 9).unwrap());
    assert_ne!(brief.samples(50, 9).unwrap(), brief.samples(50, 10).unwrap());
    let bar = bar();
    let samples = bar.samples(3, 1).unwrap();
    let answer = bar.solve().unwrap();
    assert_eq!(samples.dimension, 0);
    for (line, exact) in samples.lines.iter().zip(answer.exact()) {
        assert_eq!(line, &vec![exact.to_f64(); 3]);
    }
    assert_eq!(bar.corners(5).unwrap().formulas, [answer.exact().to_vec()]);
}

/// Corners by brute force: every way to set as many limits to equality as there are lines left free.
#[test]
fn corners_are_those_of_trying_every_combination() {
    let catalogue = Catalogue::starter();
    let ranges = [("kaolin", 5, 40), ("corn-starch", 0, 35), ("cetyl-alcohol", 10, 60)];
    let brief = ranges.iter().fold(Brief::new("Corners", &catalogue).unwrap(), |brief, (line, low, high)| {
        brief.between(line, *low, *high).unwrap()
    });
    let brief = brief.between("sci-powder", 15, 50).unwrap();
    let corners = brief.corners(1000).unwrap();
    assert!(corners.complete);
    // All but one line at an end of its range, the last at the rest.
    let ends = [[5, 40], [0, 35], [10, 60], [15, 50]];
    let mut expected = std::collections::BTreeSet::new();
    for rest in 0..4 {
        for choice in 0..8 {
            let mut formula = [0; 4];
            for (bit, line) in (0..4).filter(|line| *line != rest).enumerate() {
                formula[line] = ends[line][choice >> bit & 1];
            }
            formula[rest] = 100 - formula.iter().sum::<i32>();
            if formula[rest] >= ends[rest][0] && formula[rest] <= ends[rest][1] {
                expected.insert(formula.map(Exact::from).to_vec());
            }
        }
    }
    assert_eq!(corners.formulas, expected.into_iter().collect::<Vec<_>>());
    assert!(corners.formulas.len() > 6);
    let few = brief.corners(3).unwrap();
    assert!(!few.complete && few.formulas.len() == 3);
    // A pyramid's tip, where more limits meet than there are directions.
    let simplex = simplex(4)
        .at_most(Measure::as_supplied().contributed_by(Scope::lines(["kaolin", "corn-starch"]).unwrap()), 100)
        .unwrap();
    assert_eq!(simplex.corners(100).unwrap().formulas.len(), 4);
}

#[test]
fn nothing_to_draw_from_is_said_in_the_briefs_words() {
    let brief = simplex(2).at_least(Measure::water(), 90).unwrap();
    assert!(brief.samples(5, 1).unwrap_err().to_string().contains("water at least 90 %"));
    assert!(brief.corners(5).unwrap_err().conflict().is_some_and(|conflict| conflict.verify().is_ok()));
    assert!(simplex(2).samples(0, 1).is_err() && simplex(2).corners(0).is_err());
}
