//! The corners of what a brief allows: every formula that is no mixture of others.
//!
//! From one corner, every neighbouring basis is visited by exact pivots, so that a corner where more limits meet than there are directions is
//! found once and passed through all the same. One dictionary is kept: the way back from a basis is the pivot that led there, turned round.

use std::collections::BTreeSet;

use super::region::{HalfSpace, Region};
use crate::brief::Brief;
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::watch::Halt;

/// The most corners that are listed.
const MOST_CORNERS: usize = 100_000;
/// Bases visited for every corner allowed, and in all, before the search gives up on degenerate ones.
const BASES_PER_CORNER: usize = 64;
const MOST_BASES: usize = 2_000_000;

/// Corners of what a brief allows.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Corners {
    /// Exact percentages, in the order of the brief's lines; the corners in the order of their percentages.
    pub formulas: Vec<Vec<Exact>>,
    /// True where these are all; false where the limit was reached.
    pub complete: bool,
}

impl Brief {
    /// The corner formulas of what the brief allows, whatever its objective, up to a limit. A hundred thousand corners of 26 lines take some 500 MB.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::number::Exact;
    /// let brief = Brief::new("Powders", &Catalogue::starter())?.between("kaolin", 0, 30)?.free("corn-starch")?.qs("sci-powder")?;
    /// let corners = brief.corners(100)?;
    /// assert!(corners.complete);
    /// assert_eq!(corners.formulas.len(), 4);
    /// assert_eq!(corners.formulas[0], [0, 0, 100].map(Exact::from));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A brief that cannot be asked or allows no formula, a limit of nothing or of more than a hundred thousand.
    pub fn corners(&self, limit: usize) -> Result<Corners, Error> {
        if limit == 0 || limit > MOST_CORNERS {
            return Err(Fault::new(FaultKind::OutOfRange, "number of corners out of range").value(limit).allowed(format!("1 to {MOST_CORNERS}")).into());
        }
        let region = Region::new(self)?;
        let mut here = Dictionary::at(&region);
        let mut found: BTreeSet<Vec<Exact>> = BTreeSet::from([region.percents(&here.point)]);
        let mut visited: BTreeSet<Box<[u32]>> = BTreeSet::from([here.key()]);
        let most_bases = limit.saturating_mul(BASES_PER_CORNER).min(MOST_BASES);
        let mut path = vec![Visit { by: None, neighbours: here.neighbours() }];
        while let Some(visit) = path.last_mut() {
            self.watched().check()?;
            let Some((leaving, entering)) = visit.neighbours.pop() else {
                if let Some((leaving, entering)) = path.pop().and_then(|visit| visit.by) {
                    here = here.pivoted(leaving, entering);
                }
                continue;
            };
            let key = here.key_after(leaving, entering);
            if visited.contains(&key) {
                continue;
            }
            here = here.pivoted(leaving, entering);
            let percents = region.percents(&here.point);
            let is_new = !found.contains(&percents);
            if is_new && found.len() == limit || visited.len() >= most_bases {
                return Ok(Corners { formulas: found.into_iter().collect(), complete: false });
            }
            if is_new {
                found.insert(percents);
                self.watched().go_on(1);
            }
            visited.insert(key);
            path.push(Visit { by: Some((leaving, entering)), neighbours: here.neighbours() });
        }
        Ok(Corners { formulas: found.into_iter().collect(), complete: true })
    }
}

/// A basis on the way to the one where the search stands.
struct Visit {
    /// The pivot that led to it.
    by: Option<(usize, usize)>,
    /// The pivots not tried from it yet.
    neighbours: Vec<(usize, usize)>,
}

/// Every room `h - G z` as a form of the rooms that are 0 at a corner, and the corner: `room_i = constant_i + sum_j rate_ij room_j`.
struct Dictionary {
    point: Vec<Exact>,
    /// For each room that is 0, how the point moves as it grows.
    moves: Vec<Vec<Exact>>,
    zero: Vec<usize>,
    others: Vec<usize>,
    constants: Vec<Exact>,
    rates: Vec<Vec<Exact>>,
}

impl Dictionary {
    /// At the region's corner, with as many of the limits met there as there are directions.
    fn at(region: &Region) -> Self {
        let point = region.corner.clone();
        let room = |limit: &HalfSpace| &limit.most - limit.weights.iter().zip(&point).map(|(weight, value)| weight * value).sum::<Exact>();
        let met: Vec<usize> = (0..region.limits.len()).filter(|limit| room(&region.limits[*limit]).is_zero()).collect();
        // Independent ones, and the inverse of their weights: rows [G | I] reduced to [I | G^-1].
        let count = point.len();
        let mut zero = Vec::new();
        let mut reduced: Vec<(usize, Vec<Exact>)> = Vec::new();
        for limit in met {
            let mut row = region.limits[limit].weights.clone();
            row.extend((0..count).map(|place| if place == zero.len() { Exact::ONE } else { Exact::ZERO }));
            for (pivot, known) in &reduced {
                subtract(&mut row, *pivot, known);
            }
            let Some(pivot) = row[..count].iter().position(|weight| !weight.is_zero()) else { continue };
            let scale = row[pivot].clone();
            row.iter_mut().for_each(|weight| *weight = &*weight / &scale);
            for (_, known) in &mut reduced {
                subtract(known, pivot, &row);
            }
            zero.push(limit);
            reduced.push((pivot, row));
            if zero.len() == count {
                break;
            }
        }
        reduced.sort_by_key(|(pivot, _)| *pivot);
        // G z = h - room, so that z moves by minus the inverse's column.
        let moves: Vec<Vec<Exact>> = (0..zero.len()).map(|place| reduced.iter().map(|(_, row)| -&row[count + place]).collect()).collect();
        let others: Vec<usize> = (0..region.limits.len()).filter(|limit| !zero.contains(limit)).collect();
        let constants = others.iter().map(|limit| room(&region.limits[*limit])).collect();
        let rate = |limit: &usize, along: &Vec<Exact>| -> Exact {
            -region.limits[*limit].weights.iter().zip(along).map(|(weight, step)| weight * step).sum::<Exact>()
        };
        let rates = others.iter().map(|limit| moves.iter().map(|along| rate(limit, along)).collect()).collect();
        Dictionary { point, moves, zero, others, constants, rates }
    }

    fn key(&self) -> Box<[u32]> {
        key(self.zero.iter().copied())
    }

    fn key_after(&self, leaving: usize, entering: usize) -> Box<[u32]> {
        key(self.zero.iter().enumerate().map(|(place, limit)| if place == entering { self.others[leaving] } else { *limit }))
    }

    /// Pairs of a room that becomes 0 first, or among the first, as another grows from 0.
    fn neighbours(&self) -> Vec<(usize, usize)> {
        let mut pairs = Vec::new();
        for entering in 0..self.zero.len() {
            let falling = || self.rates.iter().enumerate().filter(|(_, rates)| rates[entering].is_negative());
            let until = |row: usize, rates: &Vec<Exact>| -(&self.constants[row] / &rates[entering]);
            let Some(first) = falling().map(|(row, rates)| until(row, rates)).min() else { continue };
            pairs.extend(falling().filter(|(row, rates)| until(*row, rates) == first).map(|(row, _)| (row, entering)));
        }
        pairs
    }

    fn pivoted(&self, leaving: usize, entering: usize) -> Self {
        let rate = &self.rates[leaving][entering];
        let step = -(&self.constants[leaving] / rate);
        // The entering room in terms of the leaving one and the others that are 0.
        let solved: Vec<Exact> =
            self.rates[leaving].iter().enumerate().map(|(place, other)| if place == entering { Exact::ONE / rate } else { -(other / rate) }).collect();
        let exchanged = |row: &[Exact]| -> Vec<Exact> {
            let factor = &row[entering];
            row.iter()
                .zip(&solved)
                .enumerate()
                .map(|(place, (known, solved))| if place == entering { factor * solved } else { known + factor * solved })
                .collect()
        };
        let mut next = Dictionary {
            point: self.point.iter().zip(&self.moves[entering]).map(|(value, along)| value + &step * along).collect(),
            moves: Vec::new(),
            zero: self.zero.clone(),
            others: self.others.clone(),
            constants: self.constants.iter().zip(&self.rates).map(|(constant, rates)| constant + &step * &rates[entering]).collect(),
            rates: self.rates.iter().map(|rates| exchanged(rates)).collect(),
        };
        (next.zero[entering], next.others[leaving]) = (self.others[leaving], self.zero[entering]);
        next.constants[leaving] = step;
        next.rates[leaving] = solved.clone();
        let along = &self.moves[entering];
        next.moves = (0..self.zero.len())
            .map(|place| {
                let own = |value: &Exact, along: &Exact| if place == entering { along * &solved[place] } else { value + along * &solved[place] };
                self.moves[place].iter().zip(along).map(|(value, along)| own(value, along)).collect()
            })
            .collect();
        next
    }
}

/// Limits that name a basis.
fn key(limits: impl Iterator<Item = usize>) -> Box<[u32]> {
    let mut key: Box<[u32]> = limits.map(|limit| u32::try_from(limit).unwrap_or(u32::MAX)).collect();
    key.sort_unstable();
    key
}

fn subtract(row: &mut [Exact], pivot: usize, known: &[Exact]) {
    let factor = row[pivot].clone();
    if !factor.is_zero() {
        row.iter_mut().zip(known).for_each(|(weight, known)| *weight -= &(&factor * known));
    }
}
