//! The programs of `tests/data/linear_programs.toml`: values, objective, shadow prices and the ranges in which they
//! hold.

use serde::Deserialize;
use tenside::number::Exact;
use tenside_lp::{Column, Optimum, Program, Row, solve};

use super::proved;

const DATA: &str = include_str!("../../data/linear_programs.toml");

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Data {
    program: Vec<Case>,
}

#[derive(Clone, Copy, Deserialize, PartialEq)]
#[serde(rename_all = "lowercase")]
enum Sense {
    Minimise,
    Maximise,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Limits {
    coefficients: Vec<Exact>,
    low: Option<Exact>,
    high: Option<Exact>,
}

#[derive(Clone, Deserialize)]
#[serde(deny_unknown_fields)]
struct Case {
    name: String,
    source: String,
    mark: String,
    sense: Sense,
    costs: Vec<Exact>,
    #[serde(default)]
    free: Vec<usize>,
    rows: Vec<Limits>,
    values: Vec<Exact>,
    objective: Exact,
    shadow_prices: Vec<Exact>,
    #[serde(default)]
    cost_ranges: Vec<[String; 2]>,
    #[serde(default)]
    limit_ranges: Vec<[String; 2]>,
}

impl Case {
    /// The engine minimises, so a maximum is the minimum of the opposite.
    fn turned(&self, value: &Exact) -> Exact {
        if self.sense == Sense::Maximise { -value } else { value.clone() }
    }

    fn program(&self) -> Program {
        let columns = self.costs.iter().enumerate().map(|(index, cost)| Column {
            low: (!self.free.contains(&index)).then_some(Exact::ZERO),
            high: None,
            cost: self.turned(cost),
        });
        let rows = self.rows.iter().cloned().map(|Limits { coefficients, low, high }| Row { coefficients, low, high });
        Program::new(columns.collect(), rows.collect()).unwrap()
    }

    fn optimum(&self) -> Optimum {
        proved(&self.program(), solve).optimum().unwrap_or_else(|| panic!("{} has an optimum", self.name)).clone()
    }

    fn best(&self) -> Exact {
        self.turned(&self.optimum().objective)
    }
}

fn cases() -> Vec<Case> {
    toml::from_str::<Data>(DATA).unwrap().program
}

#[test]
fn values_objective_and_shadow_prices_are_the_published_ones() {
    let cases = cases();
    assert_eq!(cases.len(), 5);
    for case in &cases {
        assert!(!case.source.is_empty() && !case.mark.is_empty());
        let optimum = case.optimum();
        assert_eq!(optimum.values, case.values, "{}", case.name);
        assert_eq!(case.turned(&optimum.objective), case.objective, "{}", case.name);
        let prices: Vec<_> = optimum.row_multipliers.iter().map(|multiplier| case.turned(multiplier)).collect();
        assert_eq!(prices, case.shadow_prices, "{}", case.name);
        assert!(optimum.unique, "{}", case.name);
    }
}

/// Asserts that `best` follows the straight line from `start` as far as the range goes and no further.
fn assert_straight(
    name: &str,
    range: &[String; 2],
    start: &Exact,
    slope: &Exact,
    best: impl Fn(&Exact) -> (Exact, Exact),
) {
    for (end, outwards) in [(&range[0], Exact::from(-1)), (&range[1], Exact::ONE)] {
        let straight = |at: &Exact| {
            let (found, from) = best(at);
            found == from + slope * &(at - start)
        };
        if end == "infinity" {
            assert!(straight(&(start + Exact::from(1000))), "{name}: the range ends");
        } else {
            let end: Exact = end.parse().unwrap();
            assert!(straight(&end), "{name}: the range does not reach {end}");
            assert!(!straight(&(&end + outwards)), "{name}: the range goes on past {end}");
        }
    }
}

#[test]
fn answers_hold_in_the_published_ranges_and_not_beyond() {
    let mut ranges = 0;
    for case in cases() {
        for (index, range) in case.cost_ranges.iter().enumerate() {
            let best = |cost: &Exact| {
                let mut other = case.clone();
                other.costs[index] = cost.clone();
                (other.best(), case.objective.clone())
            };
            assert_straight(
                &format!("{}, cost {index}", case.name),
                range,
                &case.costs[index],
                &case.values[index],
                best,
            );
            ranges += 1;
        }
        for (index, range) in case.limit_ranges.iter().enumerate() {
            let best = |limit: &Exact| {
                let mut other = case.clone();
                other.rows[index].high = Some(limit.clone());
                (other.best(), case.objective.clone())
            };
            let limit = case.rows[index].high.clone().unwrap();
            assert_straight(&format!("{}, limit {index}", case.name), range, &limit, &case.shadow_prices[index], best);
            ranges += 1;
        }
    }
    assert_eq!(ranges, 5);
}
