//! What one raw material brings to the two sides of a measure, worked out once and kept with the raw material.
//!
//! With `n` and `d` what one unit of its mass brings to numerator (times the measure's factor) and denominator, a row
//! gives both for typical shares, and `n - t d` at its least and greatest over the compositions that the stated ranges
//! allow. Readings, briefs, rules, labels and sweeps add rows up.
//!
//! For one raw material the compositions are the points of a box that sum to 1, so the greatest value of `sum w_i s_i`
//! is found by starting with every share at its low end and filling up from the greatest weight down (the continuous
//! knapsack; exact). An end that is not stated is taken as 0 or 1, which keeps the result a bound; it counts as
//! *stated* only where no such end was decisive: the weights above the one that was filled last must have stated high
//! ends, those below stated low ends. What a nameless remainder could bring is told from both. Constituents of equal
//! weights change places without a difference, so they are taken together.
//!
//! Most denominators are the same for every composition. Then `n` alone decides, and its ends are kept as well.

#![allow(clippy::result_large_err, reason = "a fault ends the work, so that its size is met once")]

use std::hash::{DefaultHasher, Hash, Hasher};
use std::sync::{Arc, PoisonError, RwLock};

use super::content::{Content, REMAINDER_NOT_COUNTED, Weight, is_bound_water_open};
use super::weighing::{Weigher, Weighing};
use crate::catalogue::PriceList;
use crate::error::{Fault, FaultKind};
use crate::material::{Constituent, Footing, Material};
use crate::number::{Exact, Ppm};
use crate::substance::Class;

/// What is known of a raw material for a measure: its row, or why there is none.
pub(crate) type Known = Result<Row, Vec<Fault>>;

/// Parts per million.
const MILLION: u64 = 1_000_000;

/// The most rows that are kept with one raw material.
const MOST_KEPT: usize = 64;

/// Rows by the two sides they are of.
#[derive(Default)]
struct Rows(RwLock<Vec<(Sides, Arc<Known>)>>);

/// The row of the last price that a raw material had.
#[derive(Default)]
struct LastPriced(RwLock<Option<(Sides, Exact, Arc<Known>)>>);

/// Numerator and denominator as they weigh a line.
#[derive(Clone)]
pub(super) struct Sides {
    hash: u64,
    sides: Arc<[Weighing; 2]>,
}

/// Numerator and denominator of one raw material.
pub(crate) struct Row {
    /// The raw materials without premixes in it; none where no composition matters.
    leaves: Vec<Leaf>,
    typical: [Result<Part, Fault>; 2],
    /// The least and the greatest numerator.
    ends: [End; 2],
    /// The denominator, where it is the same for every composition.
    denominator: Option<Part>,
    /// What is left out of the count although it might belong there, and of which names.
    left_out: Vec<(&'static str, Vec<String>)>,
}

/// An end with what it rests on.
struct End {
    part: Part,
    footing: Footing,
}

/// A number that ppm are multiplied by: in whole millionths, where it is so many.
#[derive(Clone)]
pub(crate) struct Part {
    exact: Exact,
    millionths: Option<i64>,
}

/// A raw material that is no premix, and its share of the line's.
struct Leaf {
    material: String,
    share: Exact,
    groups: Vec<Group>,
}

/// Constituents of equal weights; shares in ppm.
struct Group {
    weights: [Weight; 2],
    low: u64,
    high: u64,
    typical: Option<u64>,
    low_stated: bool,
    high_stated: bool,
    /// False where there can be none of it.
    is_possible: bool,
}

/// Numerator and denominator at the composition for which something is least or greatest.
pub(crate) struct Extreme {
    pub(crate) parts: [Exact; 2],
    pub(crate) footing: Footing,
}

/// What a value can be over the compositions; a bound where an end is not stated.
pub(crate) struct Ends {
    pub(crate) least: Exact,
    pub(crate) least_footing: Footing,
    /// `None` if it is not known.
    pub(crate) typical: Option<Exact>,
    pub(crate) greatest: Exact,
    pub(crate) greatest_footing: Footing,
}

impl Extreme {
    /// `n - value d` there.
    pub(crate) fn difference(&self, value: &Exact) -> Exact {
        let [above, below] = &self.parts;
        above - value * below
    }
}

impl Part {
    pub(crate) fn exact(&self) -> &Exact {
        &self.exact
    }

    fn new(exact: Exact) -> Self {
        let whole = (&exact * Exact::over(i128::from(MILLION), 1)).to_whole();
        Part { millionths: whole.and_then(|whole| i64::try_from(whole).ok()), exact }
    }

    /// The sum of ppm times numbers.
    pub(crate) fn total<'a>(terms: impl Iterator<Item = (u32, &'a Part)>) -> Exact {
        let (mut millionths, mut rest) = (0i128, Exact::ZERO);
        for (ppm, part) in terms {
            match part.millionths {
                // At most a million ppm in all: no sum passes 2^84.
                Some(whole) => millionths += i128::from(ppm) * i128::from(whole),
                None => rest += Exact::from(ppm) * &part.exact,
            }
        }
        let sum = Exact::over(millionths, MILLION);
        if rest.is_zero() { sum } else { sum + rest }
    }
}

impl Sides {
    pub(super) fn new(above: Weighing, below: Weighing) -> Self {
        let sides = [above, below];
        let mut hasher = DefaultHasher::new();
        sides.hash(&mut hasher);
        Sides { hash: hasher.finish(), sides: Arc::new(sides) }
    }

    /// The row of a raw material: the one that is kept with it, or a new one, which is then kept; of those that rest on
    /// prices only the last. Sides that are equal to kept ones become those, so that the next raw material of which a row
    /// is kept knows them by their place.
    pub(super) fn row(&mut self, material: &Material, prices: Option<&PriceList>, keep: bool) -> Arc<Known> {
        let new = || Arc::new(Row::new(material, &self.sides, prices));
        if !keep {
            return new();
        }
        if self.sides.iter().any(Weighing::is_priced) {
            let Some(Ok(price)) = prices.map(|prices| prices.price_of(material)) else { return new() };
            let kept = &material.shelf().of::<LastPriced>().0;
            if let Some((sides, of, known)) = kept.read().unwrap_or_else(PoisonError::into_inner).as_ref()
                && *of == price
                && sides == self
            {
                self.become_copy_of(sides);
                return Arc::clone(known);
            }
            let row = new();
            *kept.write().unwrap_or_else(PoisonError::into_inner) = Some((self.clone(), price, Arc::clone(&row)));
            return row;
        }
        let kept = &material.shelf().of::<Rows>().0;
        if let Some((sides, known)) =
            kept.read().unwrap_or_else(PoisonError::into_inner).iter().find(|(sides, _)| sides == self)
        {
            self.become_copy_of(sides);
            return Arc::clone(known);
        }
        let row = new();
        let mut kept = kept.write().unwrap_or_else(PoisonError::into_inner);
        if kept.len() >= MOST_KEPT {
            kept.clear();
        }
        kept.push((self.clone(), Arc::clone(&row)));
        row
    }

    fn become_copy_of(&mut self, equal: &Sides) {
        if !Arc::ptr_eq(&self.sides, &equal.sides) {
            self.sides = Arc::clone(&equal.sides);
        }
    }
}

impl PartialEq for Sides {
    fn eq(&self, other: &Self) -> bool {
        self.hash == other.hash && (Arc::ptr_eq(&self.sides, &other.sides) || self.sides == other.sides)
    }
}

impl Row {
    fn new(material: &Material, sides: &[Weighing; 2], prices: Option<&PriceList>) -> Known {
        let [above, below] = sides.each_ref().map(|side| side.of(material, prices));
        let weighers = match (above, below) {
            (Ok(above), Ok(below)) => [above, below],
            (above, below) => return Err(above.err().into_iter().chain(below.err()).flatten().collect()),
        };
        let left_out = left_out(material, sides);
        let constants = weighers.each_ref().map(Weigher::constant);
        if let [Some(above), Some(below)] = &constants {
            return Ok(Row::of_constants([above, below].map(|side| Part::new(side.clone())), left_out));
        }
        let mut faults = [Vec::new(), Vec::new()];
        let mut leaves = Vec::new();
        for (leaf, share) in material.leaves() {
            let mut groups: Vec<Group> = Vec::new();
            for row in leaf.composition().constituents() {
                let mut weigh = |side: usize| {
                    weighers[side].weight(leaf, row).unwrap_or_else(|error| {
                        faults[side].extend(error.into_faults());
                        Weight::certain(Exact::ZERO)
                    })
                };
                let weights = [weigh(0), weigh(1)];
                match groups.iter_mut().find(|group| group.weights == weights) {
                    Some(group) => group.add(row),
                    None => groups.push(Group::new(weights, row)),
                }
            }
            leaves.push(Leaf { material: leaf.id().to_string(), share, groups });
        }
        let [above, below] = faults;
        if !above.is_empty() || !below.is_empty() {
            return Err(above.into_iter().chain(below).collect());
        }
        let typical = [0, 1].map(|side| match &constants[side] {
            Some(constant) => Ok(Part::new(constant.clone())),
            None => leaves.iter().try_fold(Exact::ZERO, |sum, leaf| Ok(sum + leaf.typical(side)?)).map(Part::new),
        });
        let denominator = same_below(&leaves).map(Part::new);
        let mut row = Row { leaves, typical, ends: [End::zero(), End::zero()], denominator, left_out };
        row.ends = [false, true].map(|upwards| {
            let Extreme { parts: [above, _], footing } = row.over_leaves(&|leaf| leaf.extreme(&Exact::ZERO, upwards));
            End { part: Part::new(above), footing }
        });
        Ok(row)
    }

    /// Nothing depends on the composition, so that a raw material of which ranges alone are stated has a row too.
    fn of_constants(parts: [Part; 2], left_out: Vec<(&'static str, Vec<String>)>) -> Self {
        let typical = parts.clone().map(Ok);
        let [above, below] = parts;
        let end = || End { part: above.clone(), footing: Footing::Stated };
        Row { leaves: Vec::new(), typical, ends: [end(), end()], denominator: Some(below), left_out }
    }

    /// Numerator and denominator for typical shares, or why one is not known.
    pub(crate) fn typical(&self) -> [Result<&Part, &Fault>; 2] {
        self.typical.each_ref().map(Result::as_ref)
    }

    /// The denominator, where it is the same for every composition.
    pub(crate) fn denominator(&self) -> Option<&Part> {
        self.denominator.as_ref()
    }

    /// The least and the greatest numerator, each with what it rests on.
    pub(crate) fn ends_above(&self) -> [(&Part, Footing); 2] {
        self.ends.each_ref().map(|end| (&end.part, end.footing))
    }

    /// What is left out of the count although it might belong there, and of which names.
    pub(crate) fn left_out(&self) -> &[(&'static str, Vec<String>)] {
        &self.left_out
    }

    /// `n` and `d` at the composition for which `n - value d` is greatest or, not `upwards`, least.
    pub(crate) fn extreme(&self, value: &Exact, upwards: bool) -> Extreme {
        if let Some(denominator) = &self.denominator {
            let end = &self.ends[usize::from(upwards)];
            return Extreme { parts: [end.part.exact.clone(), denominator.exact.clone()], footing: end.footing };
        }
        self.over_leaves(&|leaf| leaf.extreme(value, upwards))
    }

    /// The ends of `n - value d`.
    pub(crate) fn ends(&self, value: &Exact) -> Ends {
        let typical = match &self.typical {
            [Ok(above), Ok(below)] => Some(&above.exact - value * &below.exact),
            _ => None,
        };
        let [(least, least_footing), (greatest, greatest_footing)] = [false, true].map(|upwards| {
            let found = self.extreme(value, upwards);
            (found.difference(value), found.footing)
        });
        Ends { least, least_footing, typical, greatest, greatest_footing }
    }

    /// The ends of the denominator.
    pub(crate) fn denominator_ends(&self) -> Ends {
        let typical = self.typical[1].as_ref().ok().map(|part| part.exact.clone());
        let [(least, least_footing), (greatest, greatest_footing)] =
            [false, true].map(|upwards| match &self.denominator {
                Some(denominator) => (denominator.exact.clone(), Footing::Stated),
                None => {
                    let Extreme { parts: [_, below], footing } = self.over_leaves(&|leaf| leaf.extreme_below(upwards));
                    (below, footing)
                }
            });
        Ends { least, least_footing, typical, greatest, greatest_footing }
    }

    /// The least denominator.
    pub(crate) fn least_denominator(&self) -> Exact {
        let over_leaves = || self.over_leaves(&|leaf| leaf.extreme_below(false)).parts[1].clone();
        self.denominator.as_ref().map_or_else(over_leaves, |denominator| denominator.exact.clone())
    }

    /// True if it brings nothing to the numerator and, of a ratio, nothing to the denominator, whatever the
    /// composition.
    pub(crate) fn is_blank(&self, ratio: bool) -> bool {
        let nothing = |side: usize| match (&self.typical[side], self.leaves.is_empty()) {
            (Ok(part), true) => part.exact.is_zero(),
            (Err(_), true) => false,
            (_, false) => {
                self.leaves.iter().flat_map(|leaf| &leaf.groups).all(|group| group.weights[side].is_nothing())
            }
        };
        nothing(0) && (!ratio || nothing(1))
    }

    /// The raw material in it of which a range that `n - value d` rests on is not stated.
    pub(crate) fn rests_on_unstated(&self, value: &Exact, upwards: bool) -> Option<&str> {
        let unstated = |leaf: &&Leaf| leaf.extreme(value, upwards).footing == Footing::NotStated;
        self.leaves.iter().find(unstated).map(|leaf| leaf.material.as_str())
    }

    fn over_leaves(&self, of: &dyn Fn(&Leaf) -> Extreme) -> Extreme {
        let mut sum = Extreme { parts: [Exact::ZERO, Exact::ZERO], footing: Footing::Stated };
        for leaf in &self.leaves {
            let Extreme { parts: [above, below], footing } = of(leaf);
            sum.parts[0] += above * &leaf.share;
            sum.parts[1] += below * &leaf.share;
            sum.footing = sum.footing.min(footing);
        }
        sum
    }
}

impl End {
    fn zero() -> Self {
        End { part: Part::new(Exact::ZERO), footing: Footing::Stated }
    }
}

impl Group {
    fn new(weights: [Weight; 2], row: &Constituent) -> Self {
        let mut group = Group {
            weights,
            low: 0,
            high: 0,
            typical: Some(0),
            low_stated: true,
            high_stated: true,
            is_possible: false,
        };
        group.add(row);
        group
    }

    fn add(&mut self, row: &Constituent) {
        let parts = |end: Option<Ppm>, otherwise: Ppm| u64::from(end.unwrap_or(otherwise).parts());
        self.low += parts(row.low(), Ppm::ZERO);
        self.high += parts(row.high(), Ppm::WHOLE);
        self.typical = self.typical.zip(row.share()).map(|(sum, share)| sum + u64::from(share.parts()));
        self.low_stated &= row.low().is_some();
        self.high_stated &= row.high().is_some();
        self.is_possible |= row.high() != Some(Ppm::ZERO);
    }
}

impl Leaf {
    fn typical(&self, side: usize) -> Result<Exact, Fault> {
        let mut sum = Exact::ZERO;
        // A weight of nothing counts nothing, whatever the share, and so does nothing of an unknown weight.
        for group in self.groups.iter().filter(|group| !group.weights[side].is_typically_nothing()) {
            match (&group.weights[side].typical, group.typical) {
                (None, Some(0)) => {}
                (None, _) => return Err(left_open(&self.material)),
                (Some(_), None) => return Err(bounded_only()),
                (Some(weight), Some(share)) => sum += weight * parts_of_one(share),
            }
        }
        Ok(sum * &self.share)
    }

    /// `n` and `d` of all of it where `n - value d` is greatest or, not `upwards`, least.
    fn extreme(&self, value: &Exact, upwards: bool) -> Extreme {
        // The denominator enters with the sign of -value.
        let denominator_high = upwards == value.is_negative();
        self.filled(upwards, |group| {
            let (above, above_footing) = group.weights[0].end(upwards);
            let (below, below_footing) = group.weights[1].end(denominator_high);
            (above - value * below, [above, below], above_footing.min(below_footing))
        })
    }

    /// The same of `d` alone.
    fn extreme_below(&self, upwards: bool) -> Extreme {
        self.filled(upwards, |group| {
            let (below, footing) = group.weights[1].end(upwards);
            (below.clone(), [below, below], footing)
        })
    }

    /// Fills up from the greatest weight down (or, not `upwards`, from the least up).
    fn filled<'a>(&'a self, upwards: bool, weigh: impl Fn(&'a Group) -> (Exact, [&'a Exact; 2], Footing)) -> Extreme {
        let mut footing = Footing::Stated;
        let mut weighed: Vec<(Exact, [&Exact; 2], &Group)> = Vec::with_capacity(self.groups.len());
        for group in &self.groups {
            let (weight, sides, rests_on) = weigh(group);
            // Of a weight that is not stated it does not matter only where there can be none of it.
            if group.is_possible {
                footing = footing.min(rests_on);
            }
            weighed.push((weight, sides, group));
        }
        // Of equal weights the greater denominator first: a ratio that has a value anywhere then has one where its
        // steps begin.
        weighed.sort_by(|(left, [_, left_below], _), (right, [_, right_below], _)| {
            let ordering = left.cmp(right);
            (if upwards { ordering.reverse() } else { ordering }).then_with(|| right_below.cmp(left_below))
        });
        let mut left = MILLION.saturating_sub(weighed.iter().map(|(.., group)| group.low).sum());
        let (mut stated, mut is_full) = (true, false);
        let mut parts = [Exact::ZERO, Exact::ZERO];
        for run in weighed.chunk_by(|(left, ..), (right, ..)| left == right) {
            let room: u64 = run.iter().map(|(.., group)| group.high - group.low).sum();
            stated &= match (is_full, left > room) {
                (true, _) => run.iter().all(|(.., group)| group.low_stated),
                (false, true) => run.iter().all(|(.., group)| group.high_stated),
                (false, false) => true,
            };
            is_full |= left <= room;
            for (_, sides, group) in run {
                let more = left.min(group.high - group.low);
                left -= more;
                let share = parts_of_one(group.low + more);
                for (sum, side) in parts.iter_mut().zip(sides) {
                    if !side.is_zero() {
                        *sum += *side * &share;
                    }
                }
            }
        }
        Extreme { parts, footing: if stated { footing } else { Footing::NotStated } }
    }
}

/// So many ppm as a share of 1.
fn parts_of_one(ppm: u64) -> Exact {
    Exact::over(i128::from(ppm), MILLION)
}

/// What all constituents of all leaves weigh below, if it is the same and certain.
fn same_below(leaves: &[Leaf]) -> Option<Exact> {
    let mut weights = leaves.iter().flat_map(|leaf| &leaf.groups).map(|group| &group.weights[1]);
    let first = weights.next()?;
    (*first == Weight::certain(first.least.clone()) && weights.all(|weight| weight == first))
        .then(|| first.least.clone())
}

fn left_out(material: &Material, sides: &[Weighing; 2]) -> Vec<(&'static str, Vec<String>)> {
    let mut found: Vec<(&'static str, Vec<&str>)> = Vec::new();
    let all = || sides.iter().flat_map(Weighing::contents);
    let contents: Vec<&Content> = all().filter(|content| content.leaves_out()).collect();
    let counts_held = sides.iter().any(|side| side.counts_bound_water) || all().any(|it| *it == Content::BoundWater);
    let passes_over = sides.iter().any(Weighing::passes_remainders_over);
    if contents.is_empty() && !counts_held && !passes_over {
        return Vec::new();
    }
    let counts_soap = all().any(|content| *content == Content::Class(Class::Soap));
    let leaves = material.leaves();
    for (leaf, _) in leaves.iter().filter(|(leaf, _)| counts_held && is_bound_water_open(leaf)) {
        add_name(&mut found, "the water that it holds is not stated, and counts as none", leaf.id());
    }
    for (leaf, row) in
        leaves.iter().flat_map(|(leaf, _)| leaf.composition().constituents().iter().map(move |row| (leaf, row)))
    {
        if counts_soap && row.substance().class() == Class::Soap {
            continue;
        }
        let name = if row.substance().is_unspecified() { leaf.id() } else { row.substance().inci() };
        let passed_over = (passes_over && row.substance().is_unspecified()).then_some(REMAINDER_NOT_COUNTED);
        contents
            .iter()
            .filter_map(|content| content.not_counted(leaf, row))
            .chain(passed_over)
            .for_each(|note| add_name(&mut found, note, name));
    }
    found.into_iter().map(|(note, names)| (note, names.into_iter().map(str::to_string).collect())).collect()
}

/// Adds a name to those of a note, each once.
pub(super) fn add_name<'n, N: PartialEq>(found: &mut Vec<(N, Vec<&'n str>)>, note: N, name: &'n str) {
    match found.iter_mut().find(|(known, _)| *known == note) {
        Some((_, names)) if names.contains(&name) => {}
        Some((_, names)) => names.push(name),
        None => found.push((note, vec![name])),
    }
}

fn left_open(material: &str) -> Fault {
    Fault::new(FaultKind::NotKnown, "how much of it the raw material holds is not known")
        .value(format!("{material:?}"))
        .remedy("state its share under contained, or ask for the requirement to hold for every composition")
}

fn bounded_only() -> Fault {
    Fault::new(FaultKind::NotKnown, "a composition is bounded only; it has no typical values")
        .remedy("state typical shares, or ask for the requirement to hold for every composition")
}
