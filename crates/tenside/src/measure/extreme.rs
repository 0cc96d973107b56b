//! The greatest and least value of a linear functional over the compositions that the stated ranges allow.
//!
//! For one raw material the compositions are the points of a box that sum to 1, so the greatest value of `sum w_i s_i` is found by
//! starting with every share at its low end and filling up from the greatest weight down (the continuous knapsack; exact). An end that
//! is not stated is taken as 0 or 1, which keeps the result a bound; it counts as *stated* only where no such end was decisive: the
//! weights above the one that was filled last must have stated high ends, those below stated low ends. What a nameless remainder could
//! bring is told from both.

use std::cmp::Ordering;

use super::content::Weight;
use crate::material::Footing;
use crate::number::Exact;

/// One raw material of a line: its share of the line and its constituents.
pub(crate) struct Leaf {
    pub(crate) material: String,
    pub(crate) share: Exact,
    pub(crate) rows: Vec<LeafRow>,
}

/// A constituent's range (shares of 1) and what it weighs.
pub(crate) struct LeafRow {
    pub(crate) low: Option<Exact>,
    pub(crate) typical: Option<Exact>,
    pub(crate) high: Option<Exact>,
    pub(crate) weight: Weight,
}

/// What was found for one leaf, times its share of the line.
pub(crate) struct Extreme {
    pub(crate) value: Exact,
    pub(crate) footing: Footing,
    /// Numerator and denominator there.
    pub(crate) parts: (Exact, Exact),
}

/// A group of constituents of equal weight.
struct Group {
    weight: Exact,
    rows: Vec<usize>,
    low: Exact,
    high: Exact,
    low_stated: bool,
    high_stated: bool,
}

/// The greatest (or, not `upwards`, the least) value of `factor N - value D` over one leaf's compositions.
pub(crate) fn greatest(above: &Leaf, below: &Leaf, factor: &Exact, value: &Exact, upwards: bool) -> Extreme {
    let mut footings = vec![Footing::Stated; above.rows.len()];
    let mut pick = |index: usize, weight: &Weight, high: bool| -> Exact {
        let (end, footing) = if high { (&weight.greatest, weight.greatest_footing) } else { (&weight.least, weight.least_footing) };
        footings[index] = footings[index].min(footing);
        end.clone()
    };
    // Factors are positive; the denominator enters with the sign of -value.
    let denominator_high = upwards == value.is_negative();
    let sides: Vec<(Exact, Exact)> = above
        .rows
        .iter()
        .zip(&below.rows)
        .enumerate()
        .map(|(index, (above, below))| (pick(index, &above.weight, upwards), pick(index, &below.weight, denominator_high)))
        .collect();
    let weights: Vec<Exact> = sides.iter().map(|(numerator, denominator)| factor * numerator - value * denominator).collect();
    let (shares, ends_stated) = fill(&above.rows, &weights, upwards);
    let footing = if ends_stated { Footing::Stated } else { Footing::NotStated };
    let mut found = Extreme { value: Exact::ZERO, footing, parts: (Exact::ZERO, Exact::ZERO) };
    for (index, share) in shares.iter().enumerate() {
        // Of a weight that is not stated it does not matter only where there can be none of it.
        if above.rows[index].high.as_ref().is_none_or(Exact::is_positive) {
            found.footing = found.footing.min(footings[index]);
        }
        let amount = share * &above.share;
        found.value += &amount * &weights[index];
        found.parts.0 += &amount * &sides[index].0;
        found.parts.1 += &amount * &sides[index].1;
    }
    found
}

fn fill(rows: &[LeafRow], weights: &[Exact], upwards: bool) -> (Vec<Exact>, bool) {
    let groups = group(rows, weights, upwards);
    let mut shares: Vec<Exact> = rows.iter().map(|row| row.low.clone().unwrap_or_default()).collect();
    let mut left = Exact::ONE - shares.iter().sum::<Exact>();
    let mut stated = true;
    let mut filled = false;
    for group in &groups {
        if filled {
            stated &= group.low_stated;
            continue;
        }
        let room = &group.high - &group.low;
        match left.cmp(&room) {
            Ordering::Greater => {
                stated &= group.high_stated;
                raise(rows, group, &room, &mut shares);
                left -= &room;
            }
            Ordering::Less | Ordering::Equal => {
                raise(rows, group, &left, &mut shares);
                left = Exact::ZERO;
                filled = true;
            }
        }
    }
    (shares, stated)
}

/// Raises the members of a group by `amount` together; how it is split among them does not change the value.
fn raise(rows: &[LeafRow], group: &Group, amount: &Exact, shares: &mut [Exact]) {
    let mut left = amount.clone();
    for &index in &group.rows {
        let room = rows[index].high.clone().unwrap_or(Exact::ONE) - &shares[index];
        let step = if room < left { room } else { left.clone() };
        shares[index] += &step;
        left -= &step;
    }
}

fn group(rows: &[LeafRow], weights: &[Exact], upwards: bool) -> Vec<Group> {
    let mut order: Vec<usize> = (0..rows.len()).collect();
    order.sort_by(|&left, &right| {
        let ordering = weights[right].cmp(&weights[left]);
        if upwards { ordering } else { ordering.reverse() }.then(left.cmp(&right))
    });
    let mut groups: Vec<Group> = Vec::new();
    for index in order {
        let row = &rows[index];
        let (low, high) = (row.low.clone().unwrap_or_default(), row.high.clone().unwrap_or(Exact::ONE));
        match groups.last_mut().filter(|group| group.weight == weights[index]) {
            Some(group) => {
                group.rows.push(index);
                group.low += low;
                group.high += high;
                group.low_stated &= row.low.is_some();
                group.high_stated &= row.high.is_some();
            }
            None => groups.push(Group {
                weight: weights[index].clone(),
                rows: vec![index],
                low,
                high,
                low_stated: row.low.is_some(),
                high_stated: row.high.is_some(),
            }),
        }
    }
    groups
}
