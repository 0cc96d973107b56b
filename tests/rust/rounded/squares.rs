//! Nearest by least squares against every set of held ends, each solved by elimination.

use tenside::brief::{Brief, BriefLine, Role};
use tenside::catalogue::Catalogue;
use tenside::document::Notation;
use tenside::formula::{Formula, Line};
use tenside::measure::Measure;
use tenside::number::{Exact, Ppm};
use tenside::solve::Outcome;

use super::small::{MATERIALS, Numbers, brings};

/// `normal . x >= end`.
type HalfSpace = (Vec<Exact>, Exact);

fn dot(left: &[Exact], right: &[Exact]) -> Exact {
    left.iter().zip(right).map(|(left, right)| left * right).sum()
}

/// Gauss and Jordan; nothing where the equations are dependent.
fn eliminate(mut rows: Vec<Vec<Exact>>) -> Option<Vec<Exact>> {
    let count = rows.len();
    for pivot in 0..count {
        let found = (pivot..count).find(|row| !rows[*row][pivot].is_zero())?;
        rows.swap(pivot, found);
        let inverse = rows[pivot][pivot].reciprocal()?;
        for entry in &mut rows[pivot] {
            *entry *= &inverse;
        }
        let unit = rows[pivot].clone();
        for (index, row) in rows.iter_mut().enumerate() {
            if index != pivot {
                let factor = row[pivot].clone();
                for (entry, above) in row.iter_mut().zip(&unit) {
                    *entry -= &(above * &factor);
                }
            }
        }
    }
    Some(rows.into_iter().map(|row| row[count].clone()).collect())
}

/// The nearest point: over every set of held half-spaces, the projection onto them that lies in all and whose
/// multipliers are not below 0.
fn nearest(base: &[Exact], spaces: &[HalfSpace]) -> Option<Vec<Exact>> {
    let total = vec![Exact::ONE; base.len()];
    for subset in 0..1u32 << spaces.len() {
        let held: Vec<&HalfSpace> =
            (0..spaces.len()).filter(|index| subset >> index & 1 == 1).map(|index| &spaces[index]).collect();
        if held.len() >= base.len() {
            continue;
        }
        let normals: Vec<&[Exact]> =
            std::iter::once(total.as_slice()).chain(held.iter().map(|(normal, _)| normal.as_slice())).collect();
        let ends: Vec<Exact> =
            std::iter::once(Exact::hundred()).chain(held.iter().map(|(_, end)| end.clone())).collect();
        let rows = normals.iter().zip(&ends).map(|(left, end)| {
            let gram = normals.iter().map(|right| dot(left, right));
            gram.chain([end - dot(left, base)]).collect()
        });
        let Some(multipliers) = eliminate(rows.collect()) else { continue };
        let mut point = base.to_vec();
        for (normal, multiplier) in normals.iter().zip(&multipliers) {
            for (value, entry) in point.iter_mut().zip(*normal) {
                *value += &(entry * multiplier);
            }
        }
        let inside = spaces.iter().all(|(normal, end)| dot(normal, &point) >= *end);
        if inside && multipliers[1..].iter().all(|multiplier| !multiplier.is_negative()) {
            return Some(point);
        }
    }
    None
}

#[test]
fn the_nearest_of_every_held_set() {
    let (mut found, mut none, mut moved) = (0, 0, 0);
    for seed in 1..=120 {
        let mut numbers = Numbers::new(seed);
        let lines = usize::try_from(2 + numbers.below(3)).unwrap();
        let catalogue = Catalogue::starter();
        let mut brief = Brief::new("Nearest", &catalogue).unwrap();
        let mut spaces: Vec<HalfSpace> = Vec::new();
        for (index, id) in MATERIALS.iter().skip(usize::try_from(numbers.below(4)).unwrap()).take(lines).enumerate() {
            let low = numbers.below(30);
            let (low, high) = (Exact::from(low), Exact::from(low + 20 + numbers.below(50)));
            let role = Role::between(&low, &high).unwrap();
            brief = brief.line(BriefLine::new(id, catalogue.material(id).unwrap().clone(), role).unwrap()).unwrap();
            let unit = |value: i64| {
                (0..lines).map(|at| if at == index { Exact::from(value) } else { Exact::ZERO }).collect::<Vec<_>>()
            };
            spaces.push((unit(1), low));
            spaces.push((unit(-1), -high));
        }
        for (measure, upper) in [(Measure::active_matter(), false), (Measure::water(), true)] {
            let all: Vec<Exact> = (0..lines).map(|line| brings(&brief, line, &measure)).collect();
            let end = Exact::from(numbers.below(40));
            brief = if upper { brief.at_most(measure, &end).unwrap() } else { brief.at_least(measure, &end).unwrap() };
            let sign = if upper { Exact::from(-1) } else { Exact::ONE };
            spaces.push((all.iter().map(|value| value * &sign / Exact::hundred()).collect(), end * sign));
        }
        let mut parts: Vec<i64> = (1..lines).map(|_| numbers.below(30)).collect();
        parts.push(100 - parts.iter().sum::<i64>());
        let base: Vec<Exact> = parts.iter().map(|part| Exact::from(*part)).collect();
        let formula_lines = brief.lines().iter().zip(&base).map(|(line, percent)| {
            Line::new(line.name(), line.material().clone(), Ppm::from_percent(percent).unwrap()).unwrap()
        });
        let formula = Formula::new("Base", formula_lines.collect()).unwrap();
        let brief = brief.clone().least_squares_from(&formula);
        match (nearest(&base, &spaces), brief.try_solve().unwrap()) {
            (Some(point), Outcome::Answered(answer)) => {
                answer.verify().unwrap_or_else(|error| panic!("case {seed}: {error}"));
                assert_eq!(answer.exact(), point, "case {seed}");
                let squares: Exact =
                    point.iter().zip(&base).map(|(value, before)| (value - before) * (value - before)).sum();
                assert_eq!(answer.objective(), Some(&squares), "case {seed}");
                moved += usize::from(squares.is_positive());
                found += 1;
            }
            (None, Outcome::Conflict(conflict)) => {
                conflict.verify().unwrap();
                none += 1;
            }
            (listed, outcome) => panic!("case {seed}: {listed:?} against {outcome:?}"),
        }
    }
    assert!(found >= 40 && none >= 10 && moved >= 30, "{found} found, {none} without, {moved} moved");
}

#[test]
fn splits_and_targets_are_kept_and_documents_carry_the_base() {
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .split("wash", tenside::brief::SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])
        .unwrap()
        .between("cetyl-alcohol", 3, 6)
        .unwrap()
        .free("corn-starch")
        .unwrap()
        .qs("kaolin")
        .unwrap();
    let base = brief.clone().target(Measure::active_matter(), 50).unwrap().solve().unwrap();
    let nearest = brief.target(Measure::active_matter(), 58).unwrap().least_squares_from(base.formula().unwrap());
    let answer = nearest.solve().unwrap();
    answer.verify().unwrap();
    let formula = answer.formula().unwrap();
    let active =
        formula.measure(&Measure::active_matter(), &tenside::measure::Basis::AsCharged).unwrap().value.unwrap();
    assert_eq!(active.typical.unwrap().rounded_text(3), "58.000");
    let by_sum = Brief::clone(&nearest).least_change_from(base.formula().unwrap()).solve().unwrap();
    let squares = |values: &[Exact]| -> Exact {
        values
            .iter()
            .zip(base.formula().unwrap().lines())
            .map(|(value, line)| (value - line.percent().percent()) * (value - line.percent().percent()))
            .sum()
    };
    assert!(squares(answer.exact()) <= squares(by_sum.exact()));
    for notation in [Notation::Toml, Notation::Json] {
        let again = Brief::read(
            &nearest.write(notation, tenside::document::Materials::Embedded).unwrap(),
            notation,
            &Catalogue::empty(),
        )
        .unwrap();
        assert!(again == nearest);
    }
}

/// A line that the brief no longer has changes by all it had.
#[test]
fn what_is_gone_counts_with_its_square() {
    let line = |id: &str, percent: &str| {
        Line::new(id, Catalogue::starter().material(id).unwrap().clone(), Ppm::from_percent(percent).unwrap()).unwrap()
    };
    let base = Formula::new(
        "Base",
        vec![line("sci-powder", "50"), line("panthenol", "3"), line("kaolin", "45"), line("glycerin-86", "2")],
    )
    .unwrap();
    let brief = Brief::new("Bar", &Catalogue::starter())
        .unwrap()
        .free("sci-powder")
        .unwrap()
        .qs("kaolin")
        .unwrap()
        .least_squares_from(&base);
    let answer = brief.solve().unwrap();
    answer.verify().unwrap();
    // 5 % are shared out evenly, since that makes the least squares: 2.5^2 + 2.5^2 + 3^2 + 2^2.
    assert_eq!(answer.exact(), [Exact::ratio(105, 2), Exact::ratio(95, 2)]);
    assert_eq!(answer.objective(), Some(&Exact::ratio(51, 2)));
    assert!(answer.proof().outcome().optimum().unwrap().pivots > 0, "it took a step");
}
