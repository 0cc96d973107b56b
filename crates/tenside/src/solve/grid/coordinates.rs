//! Coordinates in which few whole points have to be looked at.
//!
//! Where rows and ranges leave little room, they leave it in no direction that one line alone shows: of 3 kg of one and
//! 7 kg of the other only some whole ppm will do, however far both may move. So the lines are `x = B y` with whole `y`
//! and a whole `B` whose inverse is whole too: every whole `x` is one whole `y`. `B` is reduced (made of short vectors,
//! nearly at right angles to each other), length being measured in the room that each row and range leaves; what stands
//! last then has the least room, in which few whole numbers fit.
//!
//! The reduction is looked for in `f64`; that `B` and its inverse are whole is what counts, and it is kept in whole
//! numbers.
//!
//! Source: A. K. Lenstra, H. W. Lenstra, L. Lovasz, Factoring polynomials with rational coefficients, 1982 (the
//! reduction); H. W. Lenstra, Integer programming with a fixed number of variables, 1983; G. Pataki, B. Krishnamoorthy,
//! Column basis reduction and decomposable knapsack problems, 2009 (both from memory).

/// How many vectors are looked at before the basis is taken as it is.
const MOST_STEPS: usize = 20_000;
/// How often a vector is shortened before it is taken as it is: errors of floats could go round in circles.
const MOST_PASSES: usize = 1000;
/// How much longer than its predecessor, at right angles to the rest, a vector has to be.
const LOVASZ: f64 = 0.99;

/// A basis of the whole points and its inverse.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Coordinates {
    /// What one unit of each coordinate changes the lines by.
    pub(super) basis: Vec<Vec<i64>>,
    /// Each coordinate as a sum of the lines.
    pub(super) inverse: Vec<Vec<i64>>,
}

impl Coordinates {
    /// Reduced for what each line is in every direction that is measured: one row a direction, one entry a line.
    pub(super) fn reduced(directions: &[Vec<i128>], lines: usize) -> Self {
        let unit: Vec<Vec<i64>> =
            (0..lines).map(|row| (0..lines).map(|column| i64::from(row == column)).collect()).collect();
        let mut reduction = Reduction {
            found: Coordinates { basis: unit.clone(), inverse: unit },
            seen: (0..lines).map(|line| directions.iter().map(|direction| direction[line]).collect()).collect(),
            upright: Vec::new(),
        };
        reduction.run();
        reduction.found
    }

    /// True where the inverse is one: then whole lines are whole coordinates and the other way round.
    pub(super) fn are_whole_both_ways(&self, lines: usize) -> bool {
        let product = |left: &[i64], right: &[i64]| {
            left.iter().zip(right).try_fold(0i128, |sum, (a, b)| sum.checked_add(i128::from(*a) * i128::from(*b)))
        };
        let square = |rows: &[Vec<i64>]| rows.len() == lines && rows.iter().all(|row| row.len() == lines);
        square(&self.basis)
            && square(&self.inverse)
            && (0..lines).all(|row| {
                (0..lines)
                    .all(|column| product(&self.inverse[row], &self.basis[column]) == Some(i128::from(row == column)))
            })
    }
}

struct Reduction {
    found: Coordinates,
    /// The basis as seen in every direction.
    seen: Vec<Vec<i128>>,
    /// The same, less what the vectors before have of it, with its square.
    upright: Vec<(Vec<f64>, f64)>,
}

impl Reduction {
    fn run(&mut self) {
        let (mut at, mut steps) = (0, 0);
        while at < self.seen.len() && steps < MOST_STEPS {
            steps += 1;
            self.upright.truncate(at);
            let Some(shares) = self.shorten(at) else { return };
            let before = at.checked_sub(1);
            let short = before.is_some_and(|before| {
                let share = shares[before];
                self.upright[at].1 < (LOVASZ - share * share) * self.upright[before].1
            });
            if let (true, Some(before)) = (short, before) {
                self.seen.swap(before, at);
                self.found.basis.swap(before, at);
                self.found.inverse.swap(before, at);
                at = before;
            } else {
                at += 1;
            }
        }
    }

    /// Takes off a vector whole multiples of those before it until it has at most half of each; gives what it has of
    /// each. Nothing where a number would grow too long: the basis then stays as it is.
    fn shorten(&mut self, at: usize) -> Option<Vec<f64>> {
        for pass in 0.. {
            let mut left: Vec<f64> = self.seen[at].iter().map(|value| *value as f64).collect();
            let mut shares = vec![0.0; at];
            for (share, (upright, square)) in shares.iter_mut().zip(&self.upright) {
                if *square > 0.0 {
                    *share = left.iter().zip(upright).map(|(a, b)| a * b).sum::<f64>() / square;
                    left.iter_mut().zip(upright).for_each(|(value, of)| *value -= *share * of);
                }
            }
            // From the last on, since taking off one changes what is left of those before it.
            let Some(before) = (0..at).rev().find(|before| pass < MOST_PASSES && shares[*before].abs() > 0.501) else {
                let square = left.iter().map(|value| value * value).sum();
                self.upright.push((left, square));
                return Some(shares);
            };
            let times = shares[before].round();
            if times.abs() >= i64::MAX as f64 {
                return None;
            }
            self.take_off(at, before, times as i64)?;
        }
        None
    }

    fn take_off(&mut self, at: usize, before: usize, times: i64) -> Option<()> {
        let less = |from: &[i64], of: &[i64], times: i64| -> Option<Vec<i64>> {
            from.iter().zip(of).map(|(from, of)| from.checked_sub(of.checked_mul(times)?)).collect()
        };
        let basis = less(&self.found.basis[at], &self.found.basis[before], times)?;
        let inverse = less(&self.found.inverse[before], &self.found.inverse[at], times.checked_neg()?)?;
        let seen: Option<Vec<i128>> = self.seen[at]
            .iter()
            .zip(&self.seen[before])
            .map(|(from, of)| from.checked_sub(of.checked_mul(i128::from(times))?))
            .collect();
        (self.found.basis[at], self.found.inverse[before], self.seen[at]) = (basis, inverse, seen?);
        Some(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn seen(coordinates: &Coordinates, direction: &[i128]) -> Vec<i128> {
        coordinates
            .basis
            .iter()
            .map(|step| step.iter().zip(direction).map(|(step, part)| i128::from(*step) * part).sum())
            .collect()
    }

    /// With next to no room in 3 a + 7 b + 5 c, the last coordinate is that sum and the others do not change it.
    #[test]
    fn what_has_no_room_stands_last() {
        let room = |line: usize| (0..3).map(|other| i128::from(other == line)).collect::<Vec<i128>>();
        let tight = vec![3 << 20, 7 << 20, 5 << 20];
        let found = Coordinates::reduced(&[room(0), room(1), room(2), tight.clone()], 3);
        assert!(found.are_whole_both_ways(3));
        let along = seen(&found, &tight);
        assert_eq!((along[0], along[1], along[2].abs()), (0, 0, 1 << 20), "{found:?}");
        assert!(found.basis[..2].iter().flatten().all(|step| step.abs() <= 3), "{found:?}");
    }

    #[test]
    fn a_basis_whose_inverse_is_another_is_told() {
        let good = Coordinates::reduced(&[vec![5, 3], vec![2, 9]], 2);
        assert!(good.are_whole_both_ways(2) && !good.are_whole_both_ways(3));
        // Every other point is left out.
        let even = Coordinates { basis: vec![vec![2, 0], vec![0, 1]], inverse: vec![vec![1, 0], vec![0, 1]] };
        assert!(!even.are_whole_both_ways(2));
        let mut short = good;
        short.inverse.pop();
        assert!(!short.are_whole_both_ways(2));
    }

    /// Directions of any size end, in whole coordinates.
    #[test]
    fn long_and_odd_directions_end_too() {
        for lines in 1..12usize {
            let entry = |row: usize, line: usize| -> i128 {
                let mixed = (row as i128 * 7919 + line as i128 * 104_729 + 13).pow(4) % (1 << (10 * (row % 9)));
                if row == line { 1 << 40 } else { mixed - (1 << (5 * (row % 9))) }
            };
            let directions: Vec<Vec<i128>> =
                (0..2 * lines).map(|row| (0..lines).map(|line| entry(row, line)).collect()).collect();
            assert!(Coordinates::reduced(&directions, lines).are_whole_both_ways(lines));
        }
        let huge = vec![vec![i128::MAX / 2, i128::MAX / 3], vec![1, i128::MAX / 5]];
        assert!(Coordinates::reduced(&huge, 2).are_whole_both_ways(2));
        assert!(Coordinates::reduced(&[], 3).are_whole_both_ways(3));
    }
}
