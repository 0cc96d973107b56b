//! How far one basis goes along a dial, and what every variable is there.
//!
//! With one row, the costs or one end moving by `t` (the letters of [`moved`](super::moved)), everything in the dictionary of a basis moves
//! along a line in one scalar `s = t / (1 + t g_p)`, which is `t` itself where the moving row is basic, and for costs and ends:
//!
//! ```text
//! value_j(s) = value_j - entry_jp G s        slope_k(s) = slope_k - slope_p g_k s        entry_jk(s) = entry_jk - entry_jp g_k s
//! ```
//!
//! # What proves a stretch
//! The basis is proved at both ends. Between them `s` grows with `t` (the divisor keeps its sign: see below), so every basic value, every
//! reduced cost and, where those are 0 at both ends, every form by which the order decides, lies between what it is at the ends. What is in
//! its range at both ends is so between them; what is above 0 at one end and not below at the other is above 0 between. So the basis is the
//! canonical one at every point of the stretch. That a basis cannot reach the ranges is a value and the signs of a row of the dictionary:
//! the same holds of it.
//!
//! The divisor `1 + t g_p` is the ratio of the determinants of the basis matrix at both points. It is computed with an error that is bounded
//! by the filter's defect, and a stretch is ended before it is below an eighth.

use super::dual::Ended;
use super::moved::{Moved, Mover, SMALLEST_DIVISOR, Whereabouts};
use super::tableau::{Side, Tableau};
use super::twofold::Twofold;

/// How much nearer than where something is reached a stretch ends, relatively: there the filter can decide.
const NEARER: f64 = 1e-7;

/// How everything moves away from where the dial stands.
pub(super) struct Course<const WIDTH: usize> {
    /// `g_p`; 0 where everything moves with `t` itself.
    bend: f64,
    /// By row of the tableau.
    value_rates: [f64; WIDTH],
    /// By position.
    slope_rates: [f64; WIDTH],
    /// `g`, and the position `p`, of a standing row that moves.
    standing: Option<([f64; WIDTH], usize)>,
    /// Rates of the ends of the variable whose ends move.
    end_rates: Option<(Whereabouts, f64, f64)>,
    /// The row whose entries move by `g` because it is basic.
    basic: Option<(usize, [f64; WIDTH])>,
}

impl<const WIDTH: usize> Course<WIDTH> {
    pub(super) fn new(at: &Tableau<WIDTH>, moved: &Moved<WIDTH>) -> Self {
        let mut course = Course { bend: 0.0, value_rates: [0.0; WIDTH], slope_rates: [0.0; WIDTH], standing: None, end_rates: None, basic: None };
        match moved {
            Moved::Row { row, .. } => {
                let along = at.expressed(&moved.rates());
                let worth = at.worth(&along);
                match at.whereabouts(at.columns() + row) {
                    Whereabouts::Basic(row) => {
                        course.value_rates[row] = worth;
                        course.basic = Some((row, along));
                    }
                    Whereabouts::Standing(position) => {
                        course.bend = along[position];
                        for (rate, entries) in course.value_rates.iter_mut().zip(&at.entries[..at.rows()]) {
                            *rate = -entries[position] * worth;
                        }
                        let slope = at.slopes[position];
                        course.slope_rates = along.map(|along| -slope * along);
                        course.standing = Some((along, position));
                    }
                }
            }
            Moved::Costs { .. } => course.slope_rates = at.expressed(&moved.rates()),
            Moved::Ends { variable, low, high } => {
                let rate = |mover: &Option<Mover>| mover.map_or(0.0, |mover| mover.rate.nearest());
                let whereabouts = at.whereabouts(*variable);
                if let Whereabouts::Standing(position) = whereabouts {
                    let rate = if at.sides[position] == Side::Low { rate(low) } else { rate(high) };
                    for (row, entries) in at.entries[..at.rows()].iter().enumerate() {
                        course.value_rates[row] = entries[position] * rate;
                    }
                }
                course.end_rates = Some((whereabouts, rate(low), rate(high)));
            }
            Moved::Nothing => {}
        }
        course
    }

    /// From where to where, in `t`, the basis of `at` stays what `ended` says.
    fn reach(&self, at: &Tableau<WIDTH>, ended: Ended) -> (f64, f64) {
        let mut reach = Reach { from: f64::NEG_INFINITY, to: f64::INFINITY };
        if let Some((Whereabouts::Standing(position), low, high)) = self.end_rates {
            let spot = &at.nonbasic[position];
            if !spot.is_fixed() && spot.low.is_finite() && spot.high.is_finite() {
                reach.stays_above(spot.high - spot.low, high - low);
            }
        }
        match ended {
            Ended::Optimal => {
                for (row, spot) in at.basic[..at.rows()].iter().enumerate() {
                    let (low_rate, high_rate) = match self.end_rates {
                        Some((Whereabouts::Basic(moving), low, high)) if moving == row => (low, high),
                        _ => (0.0, 0.0),
                    };
                    if spot.low.is_finite() {
                        reach.stays_above(at.values[row] - spot.low, self.value_rates[row] - low_rate);
                    }
                    if spot.high.is_finite() {
                        reach.stays_above(spot.high - at.values[row], high_rate - self.value_rates[row]);
                    }
                }
                for position in (0..at.columns()).filter(|position| !at.nonbasic[*position].is_fixed()) {
                    let inwards = at.inwards(position);
                    reach.stays_above(at.slopes[position] * inwards, self.slope_rates[position] * inwards);
                }
            }
            Ended::Infeasible { row, below } => {
                let outwards = if below { 1.0 } else { -1.0 };
                let (end, end_rate) = match self.end_rates {
                    Some((Whereabouts::Basic(moving), low, high)) if moving == row => (at.basic[row].end(side(below)), if below { low } else { high }),
                    _ => (at.basic[row].end(side(below)), 0.0),
                };
                reach.stays_above((end - at.values[row]) * outwards, (end_rate - self.value_rates[row]) * outwards);
                for position in (0..at.columns()).filter(|position| !at.nonbasic[*position].is_fixed()) {
                    let rate = match (&self.standing, &self.basic) {
                        (Some((along, standing)), _) => -at.entries[row][*standing] * along[position],
                        (_, Some((moving, along))) if *moving == row => along[position],
                        _ => 0.0,
                    };
                    let turned = -outwards * at.inwards(position);
                    reach.stays_above(at.entries[row][position] * turned, rate * turned);
                }
            }
        }
        // Back from the scalar to t: t = s / (1 - s g), as long as the divisor 1 + t g = 1 / (1 - s g) is an eighth or more.
        let back = |scalar: f64, beyond: f64| {
            let left = 1.0 - scalar * self.bend;
            if self.bend == 0.0 {
                scalar
            } else if left > 0.0 && scalar.is_finite() {
                scalar / left
            } else {
                beyond
            }
        };
        let (mut from, mut to) = (back(reach.from, f64::NEG_INFINITY), back(reach.to, f64::INFINITY));
        let most = (SMALLEST_DIVISOR * 1.5 - 1.0) / self.bend;
        if self.bend > 0.0 {
            from = from.max(most);
        } else if self.bend < 0.0 {
            to = to.min(most);
        }
        (from, to)
    }
}

fn side(below: bool) -> Side {
    if below { Side::Low } else { Side::High }
}

struct Reach {
    from: f64,
    to: f64,
}

impl Reach {
    /// Keeps to where `value + rate s` is 0 or above. What is a rounding below is taken for 0.
    fn stays_above(&mut self, value: f64, rate: f64) {
        let reached = -value.max(0.0) / rate;
        if rate < 0.0 {
            self.to = self.to.min(reached);
        } else if rate > 0.0 {
            self.from = self.from.max(reached);
        }
    }
}

/// A basis along a dial: where it holds and what every column is there.
#[derive(Clone, Debug)]
pub(in crate::solve) struct Stretch<const WIDTH: usize> {
    /// The dial where the values are those of `values`.
    centre: f64,
    bend: f64,
    /// From where to where, as far as `f64` says; what is proved is told by whoever asked for it to be proved.
    pub(in crate::solve) from: f64,
    pub(in crate::solve) to: f64,
    pub(in crate::solve) ended: Ended,
    pub(in crate::solve) values: [f64; WIDTH],
    pub(in crate::solve) rates: [f64; WIDTH],
    columns: usize,
}

impl<const WIDTH: usize> Stretch<WIDTH> {
    /// The stretch of the basis of `at`, where the dial stands at `value`.
    pub(super) fn new(at: &Tableau<WIDTH>, course: &Course<WIDTH>, value: Twofold, ended: Ended) -> Self {
        let centre = value.nearest();
        let (from, to) = course.reach(at, ended);
        let (mut values, mut rates) = ([0.0; WIDTH], [0.0; WIDTH]);
        for (row, spot) in at.basic[..at.rows()].iter().enumerate().filter(|(_, spot)| usize::from(spot.variable) < at.columns()) {
            values[usize::from(spot.variable)] = at.values[row];
            rates[usize::from(spot.variable)] = course.value_rates[row];
        }
        for (position, spot) in at.nonbasic[..at.columns()].iter().enumerate().filter(|(_, spot)| usize::from(spot.variable) < at.columns()) {
            values[usize::from(spot.variable)] = at.standing(position);
            if let Some((Whereabouts::Standing(moving), low, high)) = course.end_rates
                && moving == position
            {
                rates[usize::from(spot.variable)] = if at.sides[position] == Side::Low { low } else { high };
            }
        }
        let (from, to) = (shorter(centre + from * (1.0 - NEARER), true), shorter(centre + to * (1.0 - NEARER), false));
        Stretch { centre, bend: course.bend, from, to, ended, values, rates, columns: at.columns() }
    }

    /// Ends it at these values of the dial at the latest.
    pub(in crate::solve) fn keep_within(&mut self, (from, to): (f64, f64)) {
        self.from = self.from.max(from);
        self.to = self.to.min(to);
    }

    /// How far the columns are along, where the dial stands at `value`.
    #[must_use]
    pub(in crate::solve) fn along(&self, value: f64) -> f64 {
        let t = value - self.centre;
        if self.bend == 0.0 { t } else { t / (1.0 + t * self.bend) }
    }

    /// Every column where the dial stands at `value`: multiplied, then added, never fused.
    pub(in crate::solve) fn columns_at(&self, value: f64, columns: &mut [f64]) {
        let along = self.along(value);
        for ((column, value), rate) in columns.iter_mut().zip(&self.values).zip(&self.rates[..self.columns]) {
            *column = value + rate * along;
        }
    }
}

/// A number of 26 bits near `end` and not below it, or not above it: exact arithmetic has less to carry.
fn shorter(end: f64, not_below: bool) -> f64 {
    const LEFT_OUT: u64 = (1 << 27) - 1;
    if !end.is_finite() || end.to_bits() & LEFT_OUT == 0 {
        return end;
    }
    let towards_nought = end.to_bits() & !LEFT_OUT;
    let away = (end > 0.0) == not_below;
    f64::from_bits(if away { towards_nought + LEFT_OUT + 1 } else { towards_nought })
}

#[cfg(test)]
mod tests {
    use super::shorter;

    #[test]
    fn an_end_is_shortened_by_little_and_to_its_own_side() {
        for end in [1.0 / 3.0, 2.0 / 3.0 * 1e9, 1e-9 / 7.0, 5.1, f64::from_bits(1.5f64.to_bits() + 1), f64::from_bits(2.0f64.to_bits() - 1)] {
            for end in [end, -end] {
                let (above, below) = (shorter(end, true), shorter(end, false));
                assert!(below < end && end < above, "{end}: {below} to {above}");
                assert!((above - below).abs() <= end.abs() / f64::from(1 << 25), "{end}: {below} to {above}");
                assert!([above, below].iter().all(|short| short.to_bits().trailing_zeros() >= 27), "{end}: {below} to {above}");
            }
        }
        for short in [0.0, 1.0, -0.375, 3e8, f64::INFINITY, f64::NEG_INFINITY] {
            assert_eq!([shorter(short, true), shorter(short, false)], [short, short]);
        }
    }
}
