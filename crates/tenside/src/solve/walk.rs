//! A program along one dial, one proved stretch after the other: solved again from where it stands.
//!
//! A point inside a stretch costs one multiplication and one addition a column. A point outside turns the dictionary there, searches on, and
//! proves the new stretch: at both ends by the filter, or by exact arithmetic where the filter leaves it open (an optimum that is tied or
//! degenerate). Where neither proves both ends, the point is solved exactly by itself.

use super::extent::{Extent, between, extent};
use super::linear::{Candidate, Outcome, Program, judge_exactly, solve_lexicographic};
use super::search::{Ended, Family, Moved, Stretch, Surety, Twofold, with_width};
use crate::number::Exact;

/// Two programs that a dial leads from one to the other, and everything between and beyond along a line.
#[derive(Clone, Debug)]
pub(super) struct Path {
    /// Where the dial stands at `at`.
    pub(super) first: Program,
    /// Where it stands `step` further.
    pub(super) second: Program,
    pub(super) at: Exact,
    pub(super) step: Exact,
}

impl Path {
    /// The program where the dial stands at `value`.
    pub(super) fn program(&self, value: &Exact) -> Program {
        let share = (value - &self.at) / &self.step;
        let between = |first: &Exact, second: &Exact| if first == second { first.clone() } else { first + (second - first) * &share };
        let end = |first: &Option<Exact>, second: &Option<Exact>| first.as_ref().zip(second.as_ref()).map(|(first, second)| between(first, second));
        let mut program = self.first.clone();
        program.change(
            |index, column| {
                let (first, second) = (&self.first.columns()[index], &self.second.columns()[index]);
                column.cost = between(&first.cost, &second.cost);
                (column.low, column.high) = (end(&first.low, &second.low), end(&first.high, &second.high));
            },
            |index, row| {
                let (first, second) = (&self.first.rows()[index], &self.second.rows()[index]);
                for (coefficient, (first, second)) in row.coefficients.iter_mut().zip(first.coefficients.iter().zip(&second.coefficients)) {
                    if first != second {
                        *coefficient = between(first, second);
                    }
                }
                (row.low, row.high) = (end(&first.low, &second.low), end(&first.high, &second.high));
            },
        );
        program
    }
}

/// How often which way was taken.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Ways {
    /// Stretches whose ends the filter proved.
    pub filtered: usize,
    /// Stretches whose ends exact arithmetic proved.
    pub exact: usize,
    /// Points solved exactly by themselves.
    pub points: usize,
}

/// What a point of a walk is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) enum Seen<'a> {
    /// Every column.
    Optimal(&'a [f64]),
    /// No point is in all ranges.
    Infeasible,
    /// The cost has no least value.
    Unbounded,
}

/// A walk of whatever width.
pub(super) trait Walk: std::fmt::Debug + Send {
    /// The columns where the dial stands at `value`.
    fn at(&mut self, value: &Exact) -> Seen<'_>;
    /// The proved stretch that `value` was last seen in.
    fn stretch(&self) -> Option<(f64, f64)>;
    /// From where to where, exactly, the structure at `value` stays.
    fn extent(&mut self, value: &Exact) -> Option<Extent>;
    fn ways(&self) -> Ways;
}

/// The walk along a path, between these values of the dial; nothing where more moves than one row, the costs or one end.
pub(super) fn walk(path: Path, order: &[usize], domain: (f64, f64)) -> Option<Box<dyn Walk>> {
    with_width!(path.first.columns().len().max(path.first.rows().len()), WIDTH => boxed::<WIDTH>(path, order, domain))
}

fn boxed<const WIDTH: usize>(path: Path, order: &[usize], domain: (f64, f64)) -> Option<Box<dyn Walk>> {
    Some(Box::new(Walking::<WIDTH>::new(path, order, domain)?))
}

struct Walking<const WIDTH: usize> {
    family: Family<WIDTH>,
    moved: Moved<WIDTH>,
    path: Path,
    order: Vec<usize>,
    domain: (f64, f64),
    /// Proved stretches.
    known: Vec<Stretch<WIDTH>>,
    /// The basis of each.
    bases: Vec<Candidate>,
    last: Option<usize>,
    point: Vec<f64>,
    ways: Ways,
}

impl<const WIDTH: usize> std::fmt::Debug for Walking<WIDTH> {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        formatter.debug_struct("Walk").field("width", &WIDTH).field("stretches", &self.known.len()).field("ways", &self.ways).finish()
    }
}

impl<const WIDTH: usize> Walking<WIDTH> {
    fn new(path: Path, order: &[usize], domain: (f64, f64)) -> Option<Self> {
        Some(Walking {
            family: Family::new(&path.first, order)?,
            moved: Moved::between(&path.first, &path.second, &path.at, &path.step)?,
            order: order.to_vec(),
            domain,
            known: Vec::new(),
            bases: Vec::new(),
            last: None,
            point: vec![0.0; path.first.columns().len()],
            ways: Ways::default(),
            path,
        })
    }

    /// The known stretch that holds a value, strictly, so that rounding the value to `f64` does not matter.
    fn known(&self, value: f64) -> Option<usize> {
        let holds = |index: &usize| self.known[*index].from < value && value < self.known[*index].to;
        self.last.filter(|index| holds(index)).or_else(|| (0..self.known.len()).find(holds))
    }

    fn new_stretch(&mut self, value: &Exact) -> Option<Stretch<WIDTH>> {
        let here = Twofold::of(value)?;
        self.family.turn(&self.moved, here)?;
        self.family.search()?;
        if let Some(stretch) = self.proved(here) {
            return Some(stretch);
        }
        // Searched on, a tie may have been left where the order does not want it.
        self.family.search_cold()?;
        self.proved(here)
    }

    fn proved(&mut self, here: Twofold) -> Option<Stretch<WIDTH>> {
        let mut stretch = self.family.stretch(&self.moved, here)?;
        stretch.keep_within(self.domain);
        let ends = [Exact::from_binary(stretch.from)?, Exact::from_binary(stretch.to)?];
        match self.family.prove(&self.moved, here, [Twofold::of(&ends[0])?, Twofold::of(&ends[1])?]) {
            Surety::Proved => self.ways.filtered += 1,
            Surety::Regular => {
                let candidate = self.family.candidate()?;
                for end in &ends {
                    judge_exactly(&self.path.program(end), &candidate, &self.order)?;
                }
                self.ways.exact += 1;
            }
            Surety::Unknown => return None,
        }
        Some(stretch)
    }
}

impl<const WIDTH: usize> Walk for Walking<WIDTH> {
    fn at(&mut self, value: &Exact) -> Seen<'_> {
        let nearest = value.to_f64();
        let mut index = self.known(nearest);
        if index.is_none()
            && let Some(stretch) = self.new_stretch(value)
            && stretch.from < nearest
            && nearest < stretch.to
        {
            self.bases.extend(self.family.candidate());
            self.known.push(stretch);
            index = Some(self.known.len() - 1);
        }
        self.last = index;
        if let Some(index) = index {
            let stretch = &self.known[index];
            if stretch.ended != Ended::Optimal {
                return Seen::Infeasible;
            }
            stretch.columns_at(nearest, &mut self.point);
            return Seen::Optimal(&self.point);
        }
        self.ways.points += 1;
        match solve_lexicographic(&self.path.program(value), &self.order) {
            Outcome::Optimal(optimum) => {
                self.point.iter_mut().zip(&optimum.values).for_each(|(point, value)| *point = value.to_f64());
                Seen::Optimal(&self.point)
            }
            Outcome::Infeasible(_) => Seen::Infeasible,
            Outcome::Unbounded(_) => Seen::Unbounded,
        }
    }

    fn stretch(&self) -> Option<(f64, f64)> {
        self.last.map(|index| (self.known[index].from, self.known[index].to))
    }

    fn extent(&mut self, value: &Exact) -> Option<Extent> {
        self.at(value);
        let index = self.last?;
        let (from, to) = self.stretch()?;
        extent(&self.path, self.bases.get(index)?, value, [&between(value, to)?, &between(value, from)?])
    }

    fn ways(&self) -> Ways {
        self.ways
    }
}

#[cfg(test)]
mod tests {
    use super::super::linear::{Column, Row};
    use super::super::search::tests::{Numbers, turned};
    use super::*;

    fn path(numbers: &mut Numbers, most_columns: u64, most_rows: u64) -> Path {
        let (first, second, at, step) = turned(numbers, most_columns, most_rows);
        Path { first, second, at, step }
    }

    fn compare(cases: usize, most_columns: u64, most_rows: u64, points: usize) -> (Ways, [usize; 2]) {
        let mut numbers = Numbers(most_columns);
        let (mut ways, mut found) = (Ways::default(), [0, 0]);
        for _ in 0..cases {
            let path = path(&mut numbers, most_columns, most_rows);
            let order: Vec<usize> = (0..path.first.columns().len()).rev().collect();
            let Some(mut walked) = walk(path.clone(), &order, (-1e6, 1e6)) else { continue };
            for point in 0..points {
                let value = if point % 4 == 3 { numbers.share() * Exact::from(10) } else { Exact::ratio(numbers.below(1200) as i64 - 400, 100) };
                let exact = solve_lexicographic(&path.program(&value), &order);
                match (walked.at(&value), &exact) {
                    (Seen::Optimal(columns), Outcome::Optimal(optimum)) => {
                        found[0] += 1;
                        for (column, expected) in columns.iter().zip(&optimum.values) {
                            let expected = expected.to_f64();
                            assert!((column - expected).abs() <= 1e-9 * (1.0 + expected.abs()), "{column} for {expected} at {value}: {path:?}");
                        }
                    }
                    (Seen::Infeasible, Outcome::Infeasible(_)) => found[1] += 1,
                    (seen, _) => panic!("{seen:?} for {exact:?} at {value}: {path:?}"),
                }
            }
            let walked = walked.ways();
            ways = Ways { filtered: ways.filtered + walked.filtered, exact: ways.exact + walked.exact, points: ways.points + walked.points };
        }
        (ways, found)
    }

    #[test]
    fn every_point_of_a_walk_is_the_one_from_cold() {
        let (ways, found) = compare(400, 8, 6, 24);
        assert!(found[0] > 2000 && found[1] > 300, "{found:?}");
        // Few stretches, most of them proved by the filter: no worse than when this was measured, for the numbers are the same on every machine.
        assert!(ways.filtered + ways.exact <= 880 && ways.exact <= 225 && ways.points <= 48, "{ways:?}");
        let (ways, found) = compare(60, 20, 14, 16);
        assert!(found[0] > 100 && found[1] > 10, "{found:?}");
        assert!(ways.filtered + ways.exact <= 177 && ways.exact <= 38 && ways.points <= 4, "{ways:?}");
    }

    #[test]
    fn a_path_leads_from_one_program_to_the_other() {
        let mut numbers = Numbers(11);
        for _ in 0..60 {
            let path = path(&mut numbers, 8, 6);
            assert_eq!(path.program(&path.at), path.first);
            assert_eq!(path.program(&(&path.at + &path.step)), path.second);
        }
    }

    /// The basis of a structure holds at the exact ends that are said of it and nowhere beyond, whatever the width between them.
    #[test]
    fn a_structure_ends_where_its_basis_does() {
        let mut numbers = Numbers(23);
        let (mut structures, mut ends, mut none) = (0, 0, 0);
        for _ in 0..160 {
            let path = path(&mut numbers, 8, 6);
            let order: Vec<usize> = (0..path.first.columns().len()).collect();
            let Some(mut walking) = Walking::<8>::new(path.clone(), &order, (-1e6, 1e6)) else { continue };
            for _ in 0..4 {
                let value = Exact::ratio(numbers.below(1200) as i64 - 400, 100);
                if !matches!(walking.at(&value), Seen::Optimal(_)) || walking.last.is_none() {
                    continue;
                }
                let Some(extent) = walking.extent(&value) else {
                    none += 1;
                    continue;
                };
                let candidate = &walking.bases[walking.last.unwrap()];
                let holds = |value: &Exact| judge_exactly(&path.program(value), candidate, &[]).is_some();
                assert!(holds(&value));
                structures += 1;
                for (end, outwards) in [(extent.from, -1), (extent.to, 1)] {
                    let Some(end) = end else {
                        assert!(holds(&(&value + Exact::from(1_000_000 * outwards))), "no end on the way of {outwards} from {value}: {path:?}");
                        continue;
                    };
                    let hair = Exact::ratio(outwards, 1_000_000_000_000) * (end.abs() + Exact::ONE);
                    assert!(holds(&(&end - &hair)), "{end} from {value}: {path:?}");
                    assert!(!holds(&(&end + &hair)), "{end} from {value}: {path:?}");
                    ends += 1;
                }
            }
        }
        assert!(structures > 250 && ends > 350 && none <= 2, "{structures} {ends} {none}");
    }

    /// `x` in -5 to 5 at a cost of 1, and `(dial - 2) x` or `(2 - dial) x` at least 0: so `x` is 0 on one side of 2 with a multiplier that grows without
    /// end towards 2, and nothing else stops it.
    fn towards_a_pole(sign: i64) -> Path {
        let program = |coefficient: i64| {
            let column = Column { low: Some(Exact::from(-5)), high: Some(Exact::from(5)), cost: Exact::ONE };
            let row = Row { coefficients: vec![Exact::from(coefficient)], low: Some(Exact::ZERO), high: None };
            Program::new(vec![column], vec![row]).unwrap()
        };
        Path { first: program(1), second: program(3), at: Exact::from(2 + sign), step: Exact::from(2 * sign) }
    }

    #[test]
    fn a_structure_ends_where_its_matrix_is_singular() {
        let two = || Some(Exact::from(2));
        for (sign, expected) in [(1, Extent { from: two(), to: None }), (-1, Extent { from: None, to: two() })] {
            let mut walking = Walking::<16>::new(towards_a_pole(sign), &[0], (-1e6, 1e6)).unwrap();
            for further in [1, 3, 5] {
                let value = Exact::from(2 + sign * further);
                assert_eq!(walking.at(&value), Seen::Optimal(&[0.0]));
                assert_eq!(walking.extent(&value), Some(expected.clone()), "{value}");
            }
            assert_eq!(walking.at(&Exact::from(2 - sign)), Seen::Optimal(&[-5.0]));
        }
    }

    /// So that the rounding of a value to the nearest `f64` does not matter.
    #[test]
    fn a_stretch_holds_its_points_strictly() {
        let mut numbers = Numbers(37);
        let (mut inside, mut alone) = (0, 0);
        for _ in 0..60 {
            let path = path(&mut numbers, 8, 6);
            let order: Vec<usize> = (0..path.first.columns().len()).collect();
            let Some(mut walked) = walk(path.clone(), &order, (-4.0, 8.0)) else { continue };
            for value in [Exact::ONE, Exact::from(-4), Exact::from(8), Exact::ratio(7, 2)] {
                walked.at(&value);
                let ends = walked.stretch().map_or(Vec::new(), |(from, to)| vec![Exact::from_binary(from).unwrap(), Exact::from_binary(to).unwrap()]);
                for value in ends.iter().chain([&value]) {
                    let seen = walked.at(value);
                    let outcome = solve_lexicographic(&path.program(value), &order);
                    assert_eq!(matches!(seen, Seen::Optimal(_)), outcome.optimum().is_some(), "{value}: {path:?}");
                    match walked.stretch() {
                        Some((from, to)) => {
                            assert!(from < value.to_f64() && value.to_f64() < to, "{value} in {from} to {to}");
                            inside += 1;
                        }
                        None => alone += 1,
                    }
                }
            }
        }
        assert!(inside > 150 && alone > 200, "{inside} {alone}");
    }
}
