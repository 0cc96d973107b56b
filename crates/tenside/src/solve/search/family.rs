//! A program of which dials are turned: searched anew from where it stands, and proved along a dial.

use super::dual::{Ended, pivot_to_end};
use super::filter::{Room, Verdict, certify_basis_f64, is_out_of_reach, keeps_its_sign};
use super::load;
use super::moved::{Moved, Moving};
use super::stretch::{Course, Stretch};
use super::tableau::{Side, Tableau};
use super::twofold::Twofold;
use crate::solve::linear::{Candidate, Program};

/// After so many turns the dictionary is worked out anew, since every turn and exchange adds its rounding.
const MOST_TURNS: usize = 50;
/// Reduced costs of the wrong sign up to this, times 1 + their row's, are roundings.
const WRONG: f64 = 1e-12;

/// What is proved of a stretch's end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(in crate::solve) enum Surety {
    /// What the stretch says holds there.
    Proved,
    /// Exact arithmetic has to tell at both ends; between them the basis matrix stays regular.
    Regular,
    /// Nothing.
    Unknown,
}

pub(in crate::solve) struct Family<const WIDTH: usize> {
    start: Box<Tableau<WIDTH>>,
    work: Box<Tableau<WIDTH>>,
    spare: Box<Tableau<WIDTH>>,
    room: Box<Room<WIDTH>>,
    order: [u8; WIDTH],
    /// How the last search ended; nothing where `work` is no basis to go on from.
    ended: Option<Ended>,
    turns: usize,
}

impl<const WIDTH: usize> Family<WIDTH> {
    /// Loads the program; nothing where it is none for this method or this width.
    pub(in crate::solve) fn new(program: &Program, order: &[usize]) -> Option<Self> {
        let start = Box::new(Tableau::load(program)?);
        let order = load::order(program, order);
        Some(Family { work: start.clone(), spare: start.clone(), start, room: Box::new(Room::new()), order, ended: None, turns: 0 })
    }

    /// Another program in the place of the one that is loaded, in the same memory; nothing, and the old one stays, where it is none for this
    /// method or this width.
    pub(in crate::solve) fn load(&mut self, program: &Program, order: &[usize]) -> Option<()> {
        *self.start = Tableau::load(program)?;
        self.order = load::order(program, order);
        (self.ended, self.turns) = (None, 0);
        Some(())
    }

    /// Turns a dial; nothing where a number is out of scale there, which has to be solved otherwise.
    pub(in crate::solve) fn turn(&mut self, moved: &Moved<WIDTH>, value: Twofold) -> Option<()> {
        let before = self.start.moving(moved);
        self.start.state(moved, value)?;
        self.turns += 1;
        if self.ended.is_some() && (self.turns > MOST_TURNS || self.work.turn(moved, &before, &self.start).is_none()) {
            self.ended = None;
        }
        Some(())
    }

    /// Searches from where the last search ended, else from the start; nothing where the limit of steps was met.
    pub(in crate::solve) fn search(&mut self) -> Option<Ended> {
        let order = &self.order[..self.start.columns()];
        let warm = self.ended.is_some() && self.work.mend();
        self.ended = if warm { pivot_to_end(&mut self.work, order) } else { None };
        if self.ended.is_none() {
            self.work.start_over(&self.start);
            self.turns = 0;
            self.ended = pivot_to_end(&mut self.work, order);
        }
        self.ended
    }

    /// Searches from the start.
    pub(in crate::solve) fn search_cold(&mut self) -> Option<Ended> {
        self.ended = None;
        self.search()
    }

    /// What the filter says of where the search ended.
    pub(in crate::solve) fn certify(&mut self) -> Verdict {
        match self.ended {
            Some(Ended::Optimal) => certify_basis_f64(&self.start, &self.work, &mut self.room),
            Some(ended @ Ended::Infeasible { .. }) if is_out_of_reach(&self.start, &self.work, ended) => Verdict::Proved,
            _ => Verdict::Undecided,
        }
    }

    /// The basis where the search ended.
    pub(in crate::solve) fn candidate(&self) -> Option<Candidate> {
        self.ended.map(|ended| self.work.candidate(ended))
    }

    /// How far the basis goes along a dial that stands at `value`, as far as `f64` says.
    pub(in crate::solve) fn stretch(&self, moved: &Moved<WIDTH>, value: Twofold) -> Option<Stretch<WIDTH>> {
        Some(Stretch::new(&self.work, &Course::new(&self.work, moved), value, self.ended?))
    }

    /// Proves both ends of a stretch, from `ends[0]` to `ends[1]`, of the basis where the search ended with the dial at `value`.
    pub(in crate::solve) fn prove(&mut self, moved: &Moved<WIDTH>, value: Twofold, ends: [Twofold; 2]) -> Surety {
        let surety = self.prove_ends(moved, ends);
        // Back to where the work stands.
        if self.start.state(moved, value).is_none() {
            self.ended = None;
        }
        surety.unwrap_or(Surety::Unknown)
    }

    fn prove_ends(&mut self, moved: &Moved<WIDTH>, ends: [Twofold; 2]) -> Option<Surety> {
        let ended = self.ended?;
        let here = self.start.moving(moved);
        if let Ended::Infeasible { .. } = ended {
            // With the same multipliers at both ends, for what they leave open is concave in the dial.
            let mut proved = true;
            for end in ends {
                self.start.state(moved, end)?;
                proved = proved && is_out_of_reach(&self.start, &self.work, ended);
            }
            if proved {
                return Some(Surety::Proved);
            }
        }
        let mut surety = if ended == Ended::Optimal { Surety::Proved } else { Surety::Regular };
        // The second end first, so that the first stays when the sign of the determinant is asked for.
        for end in [ends[1], ends[0]] {
            let other = self.start.moving(moved);
            self.start.state(moved, end)?;
            self.spare.start_over(&self.work);
            self.spare.turn(moved, &here, &self.start)?;
            match certify_basis_f64(&self.start, &self.spare, &mut self.room) {
                Verdict::Proved => {}
                Verdict::Regular => surety = Surety::Regular,
                Verdict::Undecided => return None,
            }
            if let (Moved::Row { row, .. }, Moving::Row(to), true) = (moved, other, end == ends[0]) {
                keeps_its_sign(&self.start, &self.spare, &mut self.room, *row, &to).then_some(())?;
            }
        }
        Some(surety)
    }
}

impl<const WIDTH: usize> Tableau<WIDTH> {
    /// Moves what stands at the end that its slope is against to its other end; false where there is none.
    pub(super) fn mend(&mut self) -> bool {
        for position in 0..self.columns() {
            let slope = self.slopes[position] * self.inwards(position);
            if slope < -WRONG && !self.nonbasic[position].is_fixed() {
                let other = if self.sides[position] == Side::Low { Side::High } else { Side::Low };
                if !self.nonbasic[position].end(other).is_finite() {
                    return false;
                }
                self.flip(position);
            }
        }
        true
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::number::Exact;
    use crate::solve::linear::{Column, Row};

    /// `x` and `y` in 0 to 1 with these costs, and `x + y` at least `low`.
    fn program(costs: [i64; 2], low: i64) -> Program {
        let columns = costs.map(|cost| Column { low: Some(Exact::ZERO), high: Some(Exact::ONE), cost: Exact::from(cost) });
        let row = Row { coefficients: vec![Exact::ONE; 2], low: Some(Exact::from(low)), high: None };
        Program::new(columns.to_vec(), vec![row]).unwrap()
    }

    /// A dial from the first program, where it stands at 0, to the second, where it stands at 1.
    fn dialled(first: &Program, second: &Program) -> (Family<8>, Moved<8>) {
        (Family::new(first, &[]).unwrap(), Moved::between(first, second, &Exact::ZERO, &Exact::ONE).unwrap())
    }

    fn at(numerator: i64, denominator: i64) -> Twofold {
        Twofold::of(&Exact::ratio(numerator, denominator)).unwrap()
    }

    /// So many turns go on from where the last search ended, the next works the dictionary out anew.
    #[test]
    fn a_turned_program_goes_on_from_where_it_stands() {
        for (first, second) in [(program([1, 2], 1), program([1, 3], 1)), (program([1, 2], 1), program([1, 2], 2)), (program([1, 2], 1), program([1, 2], 1))] {
            let (mut family, moved) = dialled(&first, &second);
            assert_eq!(family.search(), Some(Ended::Optimal));
            let mut since = 0;
            for turn in 0..3 * MOST_TURNS as i64 {
                family.turn(&moved, at(turn, 1000)).unwrap();
                since += 1;
                assert_eq!(family.ended.is_some(), since <= MOST_TURNS, "{turn}");
                if family.ended.is_none() {
                    since = 0;
                }
                assert_eq!(family.search(), Some(Ended::Optimal));
            }
        }
    }

    /// That nothing is in all ranges is proved between two ends only where it is so at both.
    #[test]
    fn what_is_so_at_one_end_alone_is_not_proved() {
        // Infeasible above 1: the row asks for 2 and more.
        let (mut family, moved) = dialled(&program([1, 2], 0), &program([1, 2], 2));
        family.turn(&moved, at(2, 1)).unwrap();
        assert!(matches!(family.search(), Some(Ended::Infeasible { .. })));
        assert_eq!(family.certify(), Verdict::Proved);
        assert_eq!(family.prove(&moved, at(2, 1), [at(5, 4), at(3, 1)]), Surety::Proved);
        for ends in [[at(1, 2), at(3, 1)], [at(3, 1), at(1, 2)], [at(1, 2), at(3, 4)]] {
            assert_eq!(family.prove(&moved, at(2, 1), ends), Surety::Regular);
        }
        assert_eq!(family.certify(), Verdict::Proved);
        // Optimal from 0 to 1, where both columns are full: between them the filter tells.
        let (mut family, moved) = dialled(&program([1, 2], 0), &program([1, 2], 2));
        family.turn(&moved, at(1, 3)).unwrap();
        assert_eq!((family.search(), family.certify()), (Some(Ended::Optimal), Verdict::Proved));
        assert_eq!(family.prove(&moved, at(1, 3), [at(1, 8), at(3, 8)]), Surety::Proved);
        assert_eq!(family.prove(&moved, at(1, 3), [at(1, 8), at(2, 1)]), Surety::Regular);
    }

    #[test]
    fn what_only_claims_to_be_out_of_reach_is_not_certain() {
        let mut family = Family::<8>::new(&program([1, 2], 1), &[]).unwrap();
        family.search().unwrap();
        for ended in [Ended::Infeasible { row: 0, below: true }, Ended::Infeasible { row: 0, below: false }] {
            family.ended = Some(ended);
            assert_eq!(family.certify(), Verdict::Undecided);
        }
    }

    #[test]
    fn another_program_takes_the_place_of_the_first() {
        let mut family = Family::<8>::new(&program([1, 2], 1), &[]).unwrap();
        assert_eq!(family.search(), Some(Ended::Optimal));
        family.load(&program([1, 2], 3), &[]).unwrap();
        assert!(matches!(family.search(), Some(Ended::Infeasible { .. })));
        let wide = Program::new(vec![program([1, 2], 1).columns()[0].clone(); 9], Vec::new()).unwrap();
        assert!(family.load(&wide, &[]).is_none());
        assert!(matches!(family.search_cold(), Some(Ended::Infeasible { .. })));
    }
}
