//! The rows of one formula added up, and their signs.
//!
//! Sums are taken in `f64`. With `n` terms, each rounded once and multiplied by a whole number of ppm, a sum is off by
//! at most `(n + 8) eps sum |terms|`, `eps` the distance from 1 to the next number (twice the unit roundoff, so twice
//! what is needed). Where that leaves the sign open, the sum is taken again in exact rational numbers: a limit that is
//! met exactly is met.
//!
//! Where shares may be off by some ppm, a sum may be off by that much of the size of each term; a sign that this could
//! turn is not settled.

use std::cell::Cell;
use std::cmp::Ordering;

use super::compare::Compared;
use super::prepared::{Brought, ENDS, Plan, Prepared, mass_end};
use crate::material::Footing;
use crate::measure::Basis;
use crate::number::{Exact, Interval};

/// A line of the formula: whole ppm of a raw material taken apart.
#[derive(Clone, Copy)]
pub(super) struct Portion<'a> {
    pub(super) ppm: u32,
    /// By how many ppm it may be off; those of all lines together are off by nothing.
    pub(super) room: u32,
    pub(super) prepared: &'a Prepared,
}

/// The place of what is nowhere.
const NOWHERE: u32 = u32::MAX;

#[derive(Clone, Copy)]
struct Sum {
    value: [f64; ENDS],
    size: [f64; ENDS],
    /// By how much the shares' room can move each end.
    room: [f64; ENDS],
    terms: u32,
    least_footing: Footing,
    typical_known: bool,
    greatest_footing: Footing,
    is_open: bool,
}

impl Sum {
    const NOTHING: Sum = Sum {
        value: [0.0; ENDS],
        size: [0.0; ENDS],
        room: [0.0; ENDS],
        terms: 0,
        least_footing: Footing::Stated,
        typical_known: true,
        greatest_footing: Footing::Stated,
        is_open: false,
    };
}

/// Every row of a formula.
pub(super) struct Sums<'a> {
    plan: &'a Plan,
    portions: &'a [Portion<'a>],
    /// Which of them count.
    counted: Vec<bool>,
    /// The place of each row among the sums; rows to which nobody brings anything have none.
    places: Vec<u32>,
    rows: Vec<Sum>,
    masses: Vec<Sum>,
    /// False once a sign was asked for that the shares' room could turn.
    settled: Cell<bool>,
}

impl<'a> Sums<'a> {
    pub(super) fn new(plan: &'a Plan, portions: &'a [Portion<'a>]) -> Self {
        Sums::counting(plan, portions, |_| true)
    }

    /// Of some portions, by their places, against the mass of all.
    pub(super) fn counting(plan: &'a Plan, portions: &'a [Portion<'a>], counts: impl Fn(usize) -> bool) -> Self {
        let mut places = vec![NOWHERE; plan.rows.len()];
        let entries: usize = portions.iter().map(|portion| portion.prepared.entries.len()).sum();
        let mut rows: Vec<Sum> = Vec::with_capacity(entries.min(plan.rows.len()));
        let mut masses = vec![Sum::NOTHING; plan.bases.len()];
        let counted: Vec<bool> = (0..portions.len()).map(counts).collect();
        for (portion, counts) in portions.iter().zip(&counted) {
            let parts = f64::from(portion.ppm);
            let add = |sum: &mut Sum, brought: &Brought| {
                for ((value, size), end) in sum.value.iter_mut().zip(&mut sum.size).zip(&brought.nearest) {
                    let term = parts * end;
                    *value += term;
                    *size += term.abs();
                }
                if portion.room > 0 {
                    let room = f64::from(portion.room);
                    sum.room.iter_mut().zip(&brought.nearest).for_each(|(sum, end)| *sum += room * end.abs());
                }
                sum.terms += 1;
                sum.least_footing = sum.least_footing.min(brought.least_footing);
                sum.typical_known &= brought.typical_known || brought.is_open;
                sum.is_open |= brought.is_open;
                sum.greatest_footing = sum.greatest_footing.min(brought.greatest_footing);
            };
            for entry in portion.prepared.entries.iter().filter(|_| *counts) {
                let place = &mut places[entry.row];
                if *place == NOWHERE {
                    // As many as there are rows at most.
                    *place = rows.len() as u32;
                    rows.push(Sum::NOTHING);
                }
                add(&mut rows[*place as usize], &entry.brought);
            }
            for (mass, sum) in portion.prepared.masses.iter().zip(&mut masses) {
                add(sum, mass);
            }
        }
        // The whole as charged is the whole, however it is shared out.
        for (basis, sum) in plan.bases.iter().zip(&mut masses) {
            if *basis == Basis::AsCharged {
                sum.room = [0.0; ENDS];
            }
        }
        Sums { plan, portions, counted, places, rows, masses, settled: Cell::new(true) }
    }

    /// False if some sign that was asked for could be another one for shares within their room.
    pub(super) fn are_settled(&self) -> bool {
        self.settled.get()
    }

    /// True where no raw material brings anything to the row.
    pub(super) fn is_blank(&self, row: usize) -> bool {
        self.places[row] == NOWHERE
    }

    fn row(&self, row: usize) -> &Sum {
        self.rows.get(self.places[row] as usize).unwrap_or(&Sum::NOTHING)
    }

    fn counted(&self) -> impl Iterator<Item = &'a Portion<'a>> {
        self.portions.iter().zip(&self.counted).filter(|(_, counts)| **counts).map(|(portion, _)| portion)
    }

    /// How the row's measure compares with its limit.
    pub(super) fn compared(&self, row: usize) -> Compared {
        let (sum, asked) = (self.row(row), &self.plan.rows[row]);
        let mass = (!self.is_ratio(row) && !asked.limit.is_zero()).then(|| &self.masses[asked.basis]);
        let negative = asked.limit.is_negative();
        // The least of the row goes with the greatest mass unless the limit is below 0.
        let (mass_least, mass_greatest) = match mass {
            Some(mass) if negative => (mass.least_footing, mass.greatest_footing),
            Some(mass) => (mass.greatest_footing, mass.least_footing),
            None => (Footing::Stated, Footing::Stated),
        };
        Compared {
            least: self.sign(row, 0),
            least_stated: sum.least_footing.min(mass_least) == Footing::Stated,
            typical: (sum.typical_known && mass.is_none_or(|mass| mass.typical_known)).then(|| self.sign(row, 1)),
            greatest: self.sign(row, 2),
            greatest_stated: !sum.is_open && sum.greatest_footing.min(mass_greatest) == Footing::Stated,
        }
    }

    fn is_ratio(&self, row: usize) -> bool {
        self.plan.measures[self.plan.rows[row].measure].measure.is_ratio()
    }

    fn sign(&self, row: usize, end: usize) -> Ordering {
        let (sum, asked) = (self.row(row), &self.plan.rows[row]);
        let (mut value, mut size, mut terms, mut room) = (sum.value[end], sum.size[end], sum.terms, sum.room[end]);
        if !self.is_ratio(row) && !asked.limit.is_zero() {
            let mass = &self.masses[asked.basis];
            let at = mass_end(end, asked.limit.is_negative());
            value -= asked.limit_nearest * mass.value[at];
            size += asked.limit_nearest.abs() * mass.size[at];
            room += asked.limit_nearest.abs() * mass.room[at];
            terms += mass.terms;
        }
        if size == 0.0 {
            return Ordering::Equal;
        }
        let bound = (f64::from(terms) + 8.0) * f64::EPSILON * size;
        // Twice the room, so that its own rounding does not matter.
        if room > 0.0 && value.abs() <= bound + 2.0 * room {
            self.settled.set(false);
        }
        if value > bound {
            Ordering::Greater
        } else if value < -bound {
            Ordering::Less
        } else {
            self.exactly(row, end).cmp(&Exact::ZERO)
        }
    }

    fn exactly(&self, row: usize, end: usize) -> Exact {
        let asked = &self.plan.rows[row];
        let with_mass = !self.is_ratio(row) && !asked.limit.is_zero();
        let at = mass_end(end, asked.limit.is_negative());
        let mut sum = Exact::ZERO;
        for (portion, counts) in self.portions.iter().zip(&self.counted) {
            let mut each = Exact::ZERO;
            if let Some(entry) = portion.prepared.entry(row).filter(|_| *counts) {
                each += &entry.brought.exact[end];
            }
            if with_mass {
                each -= &(&asked.limit * &portion.prepared.masses[asked.basis].exact[at]);
            }
            if !each.is_zero() {
                sum += each * Exact::from(portion.ppm);
            }
        }
        sum
    }

    /// The value of a row's measure with its interval, where the row has no other denominator than the whole as
    /// charged.
    pub(super) fn value(&self, row: usize) -> Option<Interval> {
        let asked = &self.plan.rows[row];
        let as_charged = self.plan.bases[asked.basis] == Basis::AsCharged;
        if self.is_ratio(row) || !as_charged {
            return None;
        }
        let whole = Exact::from(crate::number::Ppm::WHOLE.parts());
        let end = |end: usize| {
            let terms = self.counted().filter_map(|portion| {
                Some(&portion.prepared.entry(row)?.brought.exact[end] * Exact::from(portion.ppm))
            });
            terms.sum::<Exact>() / &whole
        };
        let sum = self.row(row);
        let is_shown = |footing: Footing| footing > Footing::NotStated;
        let typical = (sum.typical_known && !sum.is_open).then(|| end(1));
        // Most raw materials are what they are: the sums need to be taken once.
        let points = self
            .counted()
            .filter_map(|portion| portion.prepared.entry(row))
            .all(|entry| entry.brought.exact.windows(2).all(|ends| ends[0] == ends[1]));
        if points
            && is_shown(sum.least_footing)
            && is_shown(sum.greatest_footing)
            && let Some(typical) = &typical
        {
            return Some(Interval::point(typical.clone()));
        }
        Some(Interval {
            low: is_shown(sum.least_footing).then(|| end(0)),
            typical,
            high: is_shown(sum.greatest_footing).then(|| end(2)),
        })
    }

    /// The ratio of two such values, where no raw material brings something to both and the denominator is above 0
    /// throughout.
    pub(super) fn ratio(&self, numerator: usize, denominator: usize) -> Option<Interval> {
        let both = |portion: &Portion<'_>| {
            portion.prepared.entry(numerator).is_some() && portion.prepared.entry(denominator).is_some()
        };
        if self.counted().any(both)
            || self.sign(denominator, 0) != Ordering::Greater
            || self.sign(numerator, 0) == Ordering::Less
        {
            return None;
        }
        let (above, below) = (self.value(numerator)?, self.value(denominator)?);
        let over = |above: Option<&Exact>, below: Option<&Exact>| Some(above? / below?);
        Some(Interval {
            low: over(above.low.as_ref(), below.high.as_ref()),
            typical: over(above.typical.as_ref(), below.typical.as_ref()),
            high: over(above.high.as_ref(), below.low.as_ref()),
        })
    }
}
