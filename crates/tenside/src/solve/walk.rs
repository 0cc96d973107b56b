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
    let moved = Moved::between(&path.first, &path.second, &path.at, &path.step)?;
    let family = Family::<WIDTH>::new(&path.first, order)?;
    let columns = path.first.columns().len();
    Some(Box::new(Walking {
        family,
        moved,
        path,
        order: order.to_vec(),
        domain,
        known: Vec::new(),
        bases: Vec::new(),
        last: None,
        point: vec![0.0; columns],
        ways: Ways::default(),
    }))
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
    use super::super::search::tests::{Numbers, program};
    use super::*;

    /// A program and what one dial makes of it.
    fn path(numbers: &mut Numbers, most_columns: u64, most_rows: u64) -> Path {
        let first = program(numbers, most_columns, most_rows);
        let mut second = first.clone();
        let (columns, rows) = (first.columns().len() as u64, first.rows().len() as u64);
        let (column, row) = (numbers.below(columns) as usize, numbers.below(rows) as usize);
        let few = numbers.below(2) == 0;
        let mut moves: Vec<Exact> =
            (0..columns).map(|_| if few && numbers.below(3) > 0 { Exact::ZERO } else { numbers.share() * Exact::ratio(1, 4) }).collect();
        // Twice in six all costs, once one of them.
        let what = numbers.below(6);
        if what == 1 {
            moves.iter_mut().enumerate().for_each(|(index, moved)| *moved = if index == column { moved.clone() } else { Exact::ZERO });
        }
        let more = numbers.share();
        second.change(
            |index, changed: &mut Column| match what {
                0 | 1 => changed.cost += &moves[index],
                2 if index == column => {
                    changed.low = changed.low.clone().map(|low| low + &more);
                    changed.high = changed.high.clone().map(|high| high + &more);
                }
                _ => {}
            },
            |index, changed: &mut Row| match what {
                3 if index == row => {
                    changed.low = changed.low.clone().map(|low| low + &more);
                    changed.high = changed.high.clone().map(|high| high + &more);
                }
                4 | 5 if index == row => changed.coefficients.iter_mut().zip(&moves).for_each(|(coefficient, moved)| *coefficient += moved),
                _ => {}
            },
        );
        Path { first, second, at: Exact::ratio(numbers.below(7) as i64, 3), step: Exact::ratio(1 + numbers.below(5) as i64, 2) }
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
        assert!(ways.filtered > 300 && ways.exact > 50 && ways.points * 12 < found[0] + found[1], "{ways:?} {found:?}");
        let (ways, found) = compare(60, 20, 14, 16);
        assert!(found[0] > 100 && found[1] > 10, "{found:?}");
        assert!(ways.points * 12 < found[0] + found[1], "{ways:?} {found:?}");
    }
}
