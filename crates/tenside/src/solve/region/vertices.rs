//! The vertices of a region: every formula that is no mixture of others, with the limits that it meets.
//!
//! From one corner, every neighbouring basis is visited by exact pivots, so that a corner where more limits meet than
//! there are directions is found once and passed through all the same. One dictionary is kept: the way back from a
//! basis is the pivot that led there, turned round.

use std::collections::{BTreeMap, BTreeSet};

use tenside_lp::dot;

use super::{Echelon, HalfSpace, Region, add_row};
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
            BTreeMap::from([(self.percents(&here.point), here.met())]);
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
            let percents = self.percents(&here.point);
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

/// Every room `h - G z` as a form of the rooms that are 0 at a corner, and the corner:
/// `room_i = constant_i + sum_j rate_ij room_j`.
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
    fn at(region: &Region, watched: &Watched) -> Result<Self, Error> {
        let point = region.corner.clone();
        let room = |limit: &HalfSpace| &limit.most - dot(&limit.weights, &point);
        let met: Vec<usize> = (0..region.limits.len()).filter(|limit| room(&region.limits[*limit]).is_zero()).collect();
        // Independent ones, and the inverse of their weights: rows [G | I] reduced to [I | G^-1].
        let count = point.len();
        let mut zero = Vec::new();
        let mut reduced = Echelon::new();
        for limit in met {
            let unit = (0..count).map(|place| if place == zero.len() { Exact::ONE } else { Exact::ZERO });
            let row = region.limits[limit].weights.iter().cloned().chain(unit).collect();
            if add_row(&mut reduced, row, |row| row[..count].iter().position(|weight| !weight.is_zero()), watched)? {
                zero.push(limit);
            }
            if zero.len() == count {
                break;
            }
        }
        reduced.sort_by_key(|(pivot, _)| *pivot);
        // G z = h - room, so that z moves by minus the inverse's column.
        let moves: Vec<Vec<Exact>> =
            (0..zero.len()).map(|place| reduced.iter().map(|(_, row)| -&row[count + place]).collect()).collect();
        let others: Vec<usize> = (0..region.limits.len()).filter(|limit| !zero.contains(limit)).collect();
        let constants = others.iter().map(|limit| room(&region.limits[*limit])).collect();
        let rate = |limit: &usize, along: &Vec<Exact>| -dot(&region.limits[*limit].weights, along);
        let rates = others.iter().map(|limit| moves.iter().map(|along| rate(limit, along)).collect()).collect();
        Ok(Dictionary { point, moves, zero, others, constants, rates })
    }

    /// Every limit that the point meets: of those with room left, the ones whose room is 0.
    fn met(&self) -> BTreeSet<usize> {
        let degenerate =
            self.others.iter().zip(&self.constants).filter(|(_, constant)| constant.is_zero()).map(|(limit, _)| *limit);
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
        let solved: Vec<Exact> = self.rates[leaving]
            .iter()
            .enumerate()
            .map(|(place, other)| if place == entering { Exact::ONE / rate } else { -(other / rate) })
            .collect();
        let exchanged = |row: &[Exact]| -> Vec<Exact> {
            let factor = &row[entering];
            row.iter()
                .zip(&solved)
                .enumerate()
                .map(
                    |(place, (known, solved))| {
                        if place == entering { factor * solved } else { known + factor * solved }
                    },
                )
                .collect()
        };
        let mut next = Dictionary {
            point: self.point.iter().zip(&self.moves[entering]).map(|(value, along)| value + &step * along).collect(),
            moves: Vec::new(),
            zero: self.zero.clone(),
            others: self.others.clone(),
            constants: self
                .constants
                .iter()
                .zip(&self.rates)
                .map(|(constant, rates)| constant + &step * &rates[entering])
                .collect(),
            rates: self.rates.iter().map(|rates| exchanged(rates)).collect(),
        };
        (next.zero[entering], next.others[leaving]) = (self.others[leaving], self.zero[entering]);
        next.constants[leaving] = step;
        next.rates[leaving] = solved.clone();
        let along = &self.moves[entering];
        next.moves = (0..self.zero.len())
            .map(|place| {
                let own = |value: &Exact, along: &Exact| {
                    if place == entering { along * &solved[place] } else { value + along * &solved[place] }
                };
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
