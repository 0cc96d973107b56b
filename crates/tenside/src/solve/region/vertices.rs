//! The vertices of a region: every formula that is no mixture of others, with the limits that it meets.
//!
//! From one corner, every neighbouring basis is visited by exact pivots, so that a corner where more limits meet than
//! there are directions is found once and passed through all the same. One dictionary is kept: the way back from a
//! basis is the pivot that led there, turned round.

use std::collections::{BTreeMap, BTreeSet};

use tenside_lp::dot;

use super::{Echelon, Region, add_row, one_line};
use crate::error::Error;
use crate::number::Exact;
use crate::watch::{Halt, Watched};

/// Bases visited for every corner allowed, and in all, before the search gives up on degenerate ones.
const BASES_PER_CORNER: usize = 64;
const MOST_BASES: usize = 2_000_000;

/// Vertices of a region.
pub(crate) struct Vertices {
    /// In the order of their percentages.
    pub(crate) list: Vec<Vertex>,
    /// True where these are all; false where the limit was reached.
    pub(crate) complete: bool,
}

/// One of them.
#[derive(Clone, Debug)]
pub(crate) struct Vertex {
    /// Percentages by line.
    pub(crate) percents: Vec<Exact>,
    /// The region's limits that it meets.
    pub(crate) met: BTreeSet<usize>,
}

impl Region {
    /// The vertices, up to a limit above 0.
    pub(crate) fn vertices(&self, limit: usize, watched: &Watched) -> Result<Vertices, Error> {
        let mut here = Dictionary::at(self, watched)?;
        let mut found: BTreeMap<Vec<Exact>, BTreeSet<usize>> =
            BTreeMap::from([(self.percents(&here.point()), here.met())]);
        let mut visited: BTreeSet<Box<[u32]>> = BTreeSet::from([here.key()]);
        let most_bases = limit.saturating_mul(BASES_PER_CORNER).min(MOST_BASES);
        let mut path = vec![Visit { by: None, neighbours: here.neighbours() }];
        let listed = |found: BTreeMap<Vec<Exact>, BTreeSet<usize>>, complete: bool| {
            Ok(Vertices { list: found.into_iter().map(|(percents, met)| Vertex { percents, met }).collect(), complete })
        };
        while let Some(visit) = path.last_mut() {
            watched.check()?;
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
            let percents = self.percents(&here.point());
            let is_new = !found.contains_key(&percents);
            if is_new && found.len() == limit || visited.len() >= most_bases {
                return listed(found, false);
            }
            if is_new {
                found.insert(percents, here.met());
                watched.go_on(1);
            }
            visited.insert(key);
            path.push(Visit { by: Some((leaving, entering)), neighbours: here.neighbours() });
        }
        listed(found, true)
    }
}

/// A basis on the way to the one where the search stands.
struct Visit {
    /// The pivot that led to it.
    by: Option<(usize, usize)>,
    /// The pivots not tried from it yet.
    neighbours: Vec<(usize, usize)>,
}

/// Every room `h - G z`, then every coordinate of a corner, as a form of the rooms that are 0 there:
/// `form_i = constant_i + sum_j rate_ij room_j`.
struct Dictionary {
    zero: Vec<usize>,
    /// The limits whose rooms come first among the forms.
    others: Vec<usize>,
    forms: Vec<(Exact, Vec<Exact>)>,
}

impl Dictionary {
    /// At the region's corner, with as many of the limits met there as there are directions.
    fn at(region: &Region, watched: &Watched) -> Result<Self, Error> {
        let room = |limit: usize| &region.limits[limit].most - dot(&region.limits[limit].weights, &region.corner);
        // Independent ones, and the inverse of their weights: rows [G | I] reduced to [I | G^-1].
        let count = region.corner.len();
        let mut zero = Vec::new();
        let mut reduced = Echelon::new();
        for limit in (0..region.limits.len()).filter(|limit| room(*limit).is_zero()) {
            let row = region.limits[limit].weights.iter().cloned().chain(one_line(count, zero.len())).collect();
            if add_row(&mut reduced, row, |row| row[..count].iter().position(|weight| !weight.is_zero()), watched)? {
                zero.push(limit);
            }
            if zero.len() == count {
                break;
            }
        }
        reduced.sort_by_key(|(pivot, _)| *pivot);
        // G z = h - room, so that z moves by minus the inverse's column.
        let moves: Vec<Vec<Exact>> = reduced
            .iter()
            .map(|(_, row)| row[count..count + zero.len()].iter().map(|entry| -entry).collect())
            .collect();
        let others: Vec<usize> = (0..region.limits.len()).filter(|limit| !zero.contains(limit)).collect();
        let rate =
            |limit: usize, place: usize| -dot(&region.limits[limit].weights, moves.iter().map(|line| &line[place]));
        let form = |limit: &usize| (room(*limit), (0..zero.len()).map(|place| rate(*limit, place)).collect());
        let mut forms: Vec<(Exact, Vec<Exact>)> = others.iter().map(form).collect();
        forms.extend(region.corner.iter().cloned().zip(moves));
        Ok(Dictionary { zero, others, forms })
    }

    fn point(&self) -> Vec<Exact> {
        self.forms[self.others.len()..].iter().map(|(value, _)| value.clone()).collect()
    }

    /// Every limit that the point meets: of those with room left, the ones whose room is 0.
    fn met(&self) -> BTreeSet<usize> {
        let degenerate =
            self.others.iter().zip(&self.forms).filter(|(_, (room, _))| room.is_zero()).map(|(limit, _)| *limit);
        self.zero.iter().copied().chain(degenerate).collect()
    }

    fn key(&self) -> Box<[u32]> {
        key(self.zero.iter().copied())
    }

    fn key_after(&self, leaving: usize, entering: usize) -> Box<[u32]> {
        key(self
            .zero
            .iter()
            .enumerate()
            .map(|(place, limit)| if place == entering { self.others[leaving] } else { *limit }))
    }

    /// Pairs of a room that becomes 0 first, or among the first, as another grows from 0.
    fn neighbours(&self) -> Vec<(usize, usize)> {
        let mut pairs = Vec::new();
        for entering in 0..self.zero.len() {
            let rooms = self.forms[..self.others.len()].iter().enumerate();
            let falling = rooms.filter(|(_, (_, rates))| rates[entering].is_negative());
            let until = falling.map(|(row, (room, rates))| (row, -(room / &rates[entering])));
            let until: Vec<(usize, Exact)> = until.collect();
            let Some(first) = until.iter().map(|(_, until)| until).min() else { continue };
            pairs.extend(until.iter().filter(|(_, until)| until == first).map(|(row, _)| (*row, entering)));
        }
        pairs
    }

    fn pivoted(&self, leaving: usize, entering: usize) -> Self {
        let (room, rates) = &self.forms[leaving];
        let rate = &rates[entering];
        let step = -(room / rate);
        // The entering room in terms of the leaving one and the others that are 0.
        let solved: Vec<Exact> = rates
            .iter()
            .enumerate()
            .map(|(place, other)| if place == entering { Exact::ONE / rate } else { -(other / rate) })
            .collect();
        let exchanged = |(constant, rates): &(Exact, Vec<Exact>)| {
            let factor = &rates[entering];
            let rate = |(place, (known, solved)): (usize, (&Exact, &Exact))| {
                if place == entering { factor * solved } else { known + factor * solved }
            };
            (constant + &step * factor, rates.iter().zip(&solved).enumerate().map(rate).collect())
        };
        let mut next = Dictionary {
            zero: self.zero.clone(),
            others: self.others.clone(),
            forms: self.forms.iter().map(exchanged).collect(),
        };
        (next.zero[entering], next.others[leaving]) = (self.others[leaving], self.zero[entering]);
        next.forms[leaving] = (step, solved);
        next
    }
}

/// Limits that name a basis.
fn key(limits: impl Iterator<Item = usize>) -> Box<[u32]> {
    let mut key: Box<[u32]> = limits.map(|limit| u32::try_from(limit).unwrap_or(u32::MAX)).collect();
    key.sort_unstable();
    key
}
