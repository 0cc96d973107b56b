//! Briefs small enough to try every formula on a coarse grid: the exact optimum is never worse than the best one tried.

use std::sync::Arc;

use tenside::brief::{Brief, BriefLine, Direction, Objective, Requirement, Role};
use tenside::formula::Formula;
use tenside::measure::{Basis, Measure};
use tenside::number::Exact;
use tenside::solve::Outcome;

use crate::support::{Pool, Random, broken, parts};

/// Every way to share 20 or 10 steps among the lines.
fn every_share(lines: usize, steps: u64) -> Vec<Vec<u64>> {
    if lines == 1 {
        return vec![vec![steps]];
    }
    (0..=steps)
        .flat_map(|first| {
            every_share(lines - 1, steps - first).into_iter().map(move |mut rest| {
                rest.insert(0, first);
                rest
            })
        })
        .collect()
}

/// Three or four lines whose ranges lie on the grid, a requirement or two, a measure to make least or greatest.
fn small_brief(random: &mut Random, pool: &Pool, lines: usize, step: u64) -> Brief {
    let mut brief = Brief::new("Small", &pool.catalogue).unwrap().with_prices(&pool.prices).unwrap();
    for place in random.places(lines, pool.materials.len()) {
        let material = &pool.materials[place];
        let low = random.below(200_000 / step + 1) * step;
        let high = 1_000_000 - random.below(600_000 / step + 1) * step;
        brief = brief
            .line(
                BriefLine::new(material.id(), Arc::clone(material), Role::between(parts(low), parts(high)).unwrap())
                    .unwrap(),
            )
            .unwrap();
    }
    let number = |random: &mut Random, most: u64| Exact::ratio(i64::try_from(random.between(0, most)).unwrap(), 10);
    if random.chance(70) {
        brief = brief.at_least(Measure::active_matter(), number(random, 300)).unwrap();
    }
    if random.chance(50) {
        brief = brief.at_most(Measure::water(), number(random, 400)).unwrap();
    }
    if random.chance(30) {
        let requirement = Requirement::at_least(Measure::active_matter(), number(random, 300))
            .unwrap()
            .on(Basis::finished(Exact::from(2)).unwrap());
        brief = brief.require(requirement).unwrap();
    }
    if random.chance(30) {
        brief = brief.require(Requirement::at_most(Measure::charge_ratio(), number(random, 15)).unwrap()).unwrap();
    }
    let direction = *random.pick(&[Direction::Minimise, Direction::Maximise]);
    let measure = match random.below(5) {
        0 | 1 => Measure::cost(),
        2 => Measure::active_matter(),
        3 => Measure::cost().per(&Measure::active_matter()),
        _ => Measure::solids()
            .within(tenside::measure::Scope::lines([brief.lines()[0].name(), brief.lines()[1].name()]).unwrap()),
    };
    brief.with_objective(Some(Objective::measure(direction, measure, Basis::AsCharged)))
}

#[test]
fn the_exact_optimum_is_at_least_as_good_as_the_best_on_the_grid() {
    let (mut answered, mut conflicts, mut tried) = (0, 0, 0);
    for seed in 0..60 {
        let mut random = Random::new(seed);
        let (lines, steps) = *random.pick(&[(3, 20), (3, 10), (4, 10)]);
        let step = 1_000_000 / steps;
        let pool = Pool::invented(seed, 6);
        let brief = small_brief(&mut random, &pool, lines, step);
        let feasible = every_share(lines, steps).into_iter().filter_map(|shares| {
            let line = |(line, share): (&BriefLine, &u64)| {
                tenside::formula::Line::new(line.name(), Arc::clone(line.material()), parts(*share * step)).unwrap()
            };
            let formula = Formula::new("Tried", brief.lines().iter().zip(&shares).map(line).collect())
                .unwrap()
                .with_prices(brief.prices().cloned());
            broken(&brief, &formula).is_empty().then_some(formula)
        });
        let feasible: Vec<Formula> = feasible.collect();
        let Some(Objective::Measure { direction, measure, basis }) = brief.objective() else {
            panic!("every small brief has an objective")
        };
        match brief.try_solve() {
            Ok(Outcome::Answered(answer)) => {
                answered += 1;
                answer.verify().unwrap();
                let best = answer.objective().unwrap();
                for formula in &feasible {
                    tried += 1;
                    let found = formula.measure(measure, basis).unwrap().value.unwrap().typical.unwrap();
                    let worse = if *direction == Direction::Minimise { *best > found } else { *best < found };
                    assert!(
                        !worse,
                        "seed {seed}: {best} was called best, but {found} is met by {:?}",
                        formula.lines().iter().map(|line| line.percent()).collect::<Vec<_>>()
                    );
                }
            }
            Ok(Outcome::Conflict(conflict)) => {
                conflicts += 1;
                conflict.verify().unwrap();
                assert!(feasible.is_empty(), "seed {seed}: {}, but a formula meets all", conflict.sentence());
            }
            // A ratio whose denominator can be 0.
            Err(error) => assert!(error.is_unsupported(), "seed {seed}: {error}"),
        }
    }
    assert!(
        answered >= 20 && conflicts >= 3 && tried >= 500,
        "{answered} answered, {conflicts} conflicts, {tried} formulas tried"
    );
}
