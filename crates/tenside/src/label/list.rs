//! The list of ingredients in the order of the market's rule.
//!
//! Descending typical share as charged from the boundary on; below it, where the order is free, descending too; shares
//! that are equal, by name. Colourants last, by colour index number, then by name. What has no typical share is ranked
//! by the middle of its range. Source: `data/label/eu_rules.toml`, `data/label/us_rules.toml`.
//!
//! A position is certain if no pair could change places inside what is stated. Amounts are compared end against end, as
//! if ingredients of one raw material varied freely; only a supplier's descending list is used to tell them apart. So
//! "not certain" may be too careful.

use std::cmp::Reverse;

use super::content::{Amount, Content, MILLION, Named, Share, is_descending, lines_of};
use super::rules::{Rules, rules};
use super::{ItemClass, LabelItem, LabelRequest};
use crate::document::fold;
use crate::number::{Exact, FixedPoint};

/// Where a name stands among the others.
type Key<'n> = (ItemClass, Reverse<FixedPoint>, u32, &'n str);

/// The list, and its order after drying.
pub(super) struct List {
    pub(super) items: Vec<LabelItem>,
    /// The names in their order in the product as sold; `None` if it is the same or no moisture was stated.
    pub(super) finished: Option<Vec<String>>,
}

impl List {
    /// `named` in any order, and the water as charged.
    pub(super) fn of(content: &Content<'_>, named: Vec<Named<'_>>, water: &Amount, request: &LabelRequest) -> Self {
        let rule = rules(request.market);
        let boundary = content.share(rule.boundary.parts());
        let doubled = boundary.times(2);
        let mut keyed: Vec<(Key<'_>, &Named<'_>)> =
            named.iter().map(|row| (key(row, row.amount.doubled_rank(), &doubled, rule), row)).collect();
        keyed.sort_by(|(left, _), (right, _)| left.cmp(right));
        let finished = request.moisture.as_ref().and_then(|moisture| {
            let (dried, boundary) = dried(&keyed, content, water, rule, moisture);
            let mut order: Vec<(Key<'_>, usize)> = dried
                .into_iter()
                .zip(&keyed)
                .enumerate()
                .map(|(at, (rank, (_, row)))| (key(row, rank, &boundary, rule), at))
                .collect();
            order.sort_by(|(left, _), (right, _)| left.cmp(right));
            let moved = !order.iter().map(|(_, at)| at).is_sorted();
            moved.then(|| order.into_iter().map(|(_, at)| printed(keyed[at].1, request)).collect())
        });
        let certainty = Certainty::of(content, &keyed, &boundary, rule);
        let item = |(at, ((class, ..), row)): (usize, &(Key<'_>, &Named<'_>))| {
            let rivals = certainty.rivals(at);
            let is_certain = rivals.is_empty() && certainty.is_class_certain(at);
            let mut open: Vec<(usize, usize)> = if is_certain { Vec::new() } else { row.from.clone() };
            open.extend(rivals.iter().flat_map(|rival| &keyed[*rival].1.from));
            open.retain(|(part, row)| !content.parts[*part].material.composition().constituents()[*row].is_certain());
            LabelItem {
                name: printed(row, request),
                inci: row.inci.iter().map(ToString::to_string).collect(),
                share: Share::new(row.amount.clone(), content),
                class: *class,
                is_certain,
                may_change_with: rivals.into_iter().map(|rival| keyed[rival].1.name.to_string()).collect(),
                settled_by: lines_of(content, &open).into_iter().map(str::to_string).collect(),
                lines: lines_of(content, &row.from).into_iter().map(str::to_string).collect(),
                entry: row.entry,
            }
        };
        let items = keyed.iter().enumerate().map(item).collect();
        List { items, finished }
    }
}

/// The name with the mark of a nanomaterial.
fn printed(row: &Named<'_>, request: &LabelRequest) -> String {
    let is_nano = request.nano.iter().any(|nano| row.inci.iter().any(|inci| fold(inci) == fold(nano)));
    if is_nano { format!("{} (nano)", row.name) } else { row.name.to_string() }
}

fn reaches(rank: &FixedPoint, boundary: &FixedPoint, rule: &Rules) -> bool {
    rank > boundary || (rule.boundary_is_ordered && rank == boundary)
}

fn key<'n>(row: &'n Named<'_>, rank: FixedPoint, boundary: &FixedPoint, rule: &Rules) -> Key<'n> {
    if row.is_colour {
        return (ItemClass::Colour, Reverse(FixedPoint::default()), colour_index(row.name), row.name);
    }
    let class = if reaches(&rank, boundary, rule) { ItemClass::Ordered } else { ItemClass::Free };
    (class, Reverse(rank), 0, row.name)
}

/// The colour index number in "CI 77891"; after all of them where the name has none.
fn colour_index(name: &str) -> u32 {
    name.strip_prefix("CI ").and_then(|number| number.trim().parse().ok()).unwrap_or(u32::MAX)
}

/// Ranks and boundary after drying, all on one scale of their own. With `W` the water as charged and `m` the moisture
/// as sold, what stays has `p (100 - m) / (100 - W)`, and a water that had `w` has `m w / W`: of what is left as much
/// counts as an ingredient as before.
fn dried(
    rows: &[(Key<'_>, &Named<'_>)],
    content: &Content<'_>,
    water: &Amount,
    rule: &Rules,
    moisture: &Exact,
) -> (Vec<FixedPoint>, FixedPoint) {
    let unit = FixedPoint::common_denominator(std::iter::once(moisture));
    let wet = FixedPoint::floor_of(moisture, &unit);
    let hundred = unit.times(100);
    let dry = hundred.less(&wet).unwrap_or_default();
    let stays = content.whole().times(2).less(&water.doubled_rank()).unwrap_or_default();
    // Where there is no water, none is divided.
    let all = Some(water.doubled_rank()).filter(|all| *all != FixedPoint::default()).unwrap_or_else(|| content.whole());
    let rank = |row: &Named<'_>| {
        let own = row.amount.doubled_rank();
        let share = if row.is_water { stays.product(&wet).product(&own) } else { own.product(&dry).product(&all) };
        share.times(MILLION)
    };
    let boundary = stays.product(&hundred).product(&all).times(u64::from(rule.boundary.parts()));
    (rows.iter().map(|(_, row)| rank(row)).collect(), boundary)
}

/// Who could change places with whom, end against end.
struct Certainty<'l, 'f> {
    content: &'l Content<'f>,
    rows: &'l [(Key<'l>, &'l Named<'f>)],
    /// Whether the highest share reaches the boundary, and the lowest.
    can_be_ordered: Vec<bool>,
    is_surely_ordered: Vec<bool>,
    /// The least low end before each row, and the greatest high end after it.
    least_before: Vec<FixedPoint>,
    greatest_after: Vec<FixedPoint>,
}

impl<'l, 'f> Certainty<'l, 'f> {
    fn of(content: &'l Content<'f>, rows: &'l [(Key<'l>, &'l Named<'f>)], boundary: &FixedPoint, rule: &Rules) -> Self {
        let amounts = || rows.iter().map(|(_, row)| &row.amount);
        let can_be_ordered: Vec<bool> =
            rows.iter().map(|(_, row)| !row.is_colour && reaches(&row.amount.high, boundary, rule)).collect();
        let is_surely_ordered = amounts().map(|amount| reaches(&amount.low, boundary, rule)).collect();
        let mut least = content.whole();
        let least_before = amounts()
            .zip(&can_be_ordered)
            .map(|(amount, counts)| {
                let before = least.clone();
                if *counts && amount.low < least {
                    least.clone_from(&amount.low);
                }
                before
            })
            .collect();
        let mut greatest = FixedPoint::default();
        let mut greatest_after: Vec<FixedPoint> = rows
            .iter()
            .zip(&can_be_ordered)
            .rev()
            .map(|((_, row), counts)| {
                let after = greatest.clone();
                if *counts && row.amount.high > greatest {
                    greatest.clone_from(&row.amount.high);
                }
                after
            })
            .collect();
        greatest_after.reverse();
        Certainty { content, rows, can_be_ordered, is_surely_ordered, least_before, greatest_after }
    }

    fn is_class_certain(&self, at: usize) -> bool {
        match self.rows[at].0.0 {
            ItemClass::Ordered => self.is_surely_ordered[at],
            ItemClass::Free => !self.can_be_ordered[at],
            ItemClass::Colour => true,
        }
    }

    /// The places of the rows that it could change places with; of a class without order only the class counts.
    fn rivals(&self, at: usize) -> Vec<usize> {
        let (class, amount) = (self.rows[at].0.0, &self.rows[at].1.amount);
        if class != ItemClass::Ordered
            || (self.least_before[at] >= amount.high && self.greatest_after[at] <= amount.low)
        {
            return Vec::new();
        }
        let is_open = |other: usize| {
            let (before, after) = if other < at { (other, at) } else { (at, other) };
            let told = self.rows[before].1.amount.low >= self.rows[after].1.amount.high;
            !told && !self.is_told_by_the_supplier(before, after)
        };
        (0..self.rows.len()).filter(|&other| other != at && self.can_be_ordered[other] && is_open(other)).collect()
    }

    /// Both come from one descending list only, in which the first stands first. Where the order of such a list is
    /// free, both are below 1 % of the raw material, and so below the boundary here.
    fn is_told_by_the_supplier(&self, before: usize, after: usize) -> bool {
        match (self.rows[before].1.from.as_slice(), self.rows[after].1.from.as_slice()) {
            ([(part, first)], [(other, second)]) => {
                part == other && first < second && is_descending(self.content.parts[*part].material)
            }
            _ => false,
        }
    }
}
