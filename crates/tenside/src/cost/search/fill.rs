//! The cheapest packs with which suppliers are free of freight.

use std::cmp::Reverse;

use super::cover::{Offered, offered};
use super::{Decided, Node, PARTS, Search};
use crate::error::Error;
use crate::number::Exact;

/// The first room of a fill is so much of what lies between bound and best; each later one is so many times the last.
const FIRST_ROOM: (i64, u64) = (1, 256);
const NEXT_ROOM: i64 = 4;

/// The suppliers that are to be free of freight and are looked at, and what each asks. What is left beside the shares
/// stays below `limit`.
struct Fill<'a> {
    decided: &'a [Decided],
    free: &'a [usize],
    asked: Vec<Exact>,
    limit: Exact,
}

/// One way to cover a raw material, or those up to it: what it costs, what of that is left beside the shares, and the
/// goods that it brings to each supplier looked at.
struct Way {
    cost: Exact,
    left: Exact,
    goods: Vec<Exact>,
    made_of: MadeOf,
}

enum MadeOf {
    Packs(Vec<u32>),
    /// The place of a way to cover those before, and that of a way to cover the last.
    Ways(usize, usize),
}

impl Way {
    fn nothing(free: &[usize], wares: usize) -> Self {
        let goods = vec![Exact::ZERO; free.len()];
        Way { cost: Exact::ZERO, left: Exact::ZERO, goods, made_of: MadeOf::Packs(vec![0; wares]) }
    }
}

impl Search<'_> {
    /// Puts in the place of a node's packs the cheapest with which every supplier looked at is free of freight, if they
    /// cost no more than there is room for; else nothing costs less than that.
    pub(super) fn fill(&mut self, node: Node) -> Result<(), Error> {
        let goods = self.goods(&node.packs);
        let is_looked_at = |shop: &usize| {
            node.decided[*shop] != Decided::Free(0) || node.filled & (1 << shop) != 0 || self.is_short(*shop, &goods)
        };
        let free: Vec<usize> = self.free(&node.decided).into_iter().filter(is_looked_at).collect();
        let filled = free.iter().fold(node.filled, |mask, shop| mask | 1 << shop);
        // Where nothing were left of a price there would be no end of ways.
        let lowered = |state: &Decided| match state {
            Decided::Free(share) => Decided::Free((*share).min(PARTS - 1)),
            other => *other,
        };
        let decided: Vec<Decided> = node.decided.iter().map(lowered).collect();
        let (Some(covers), Some((best, _))) = (self.covers(&decided)?, &self.best) else { return Ok(()) };
        let gap = best - &node.bound;
        let room = match &node.room {
            None => &gap * Exact::over(FIRST_ROOM.0.into(), FIRST_ROOM.1),
            Some(room) => room * Exact::from(NEXT_ROOM),
        };
        let room = room.min(gap);
        let up_to = &node.bound + &room;
        let paid: Exact = self
            .shops
            .iter()
            .zip(&decided)
            .filter(|(_, state)| **state == Decided::Paying)
            .map(|(shop, _)| &shop.freight)
            .sum();
        let fill = Fill {
            decided: &decided,
            free: &free,
            asked: free.iter().map(|shop| self.shops[*shop].free_from.clone().unwrap_or_default()).collect(),
            limit: &up_to - self.terms(&decided),
        };
        let covers: Vec<Exact> = covers.into_iter().map(|cover| cover.bound).collect();
        let found = self.cheapest_fill(&fill, &covers)?;
        if self.ended {
            // Cut off, it stays as it was.
            self.heap.push(Reverse(node));
            return Ok(());
        }
        match found {
            Some((cost, packs)) if &cost + &paid <= up_to => self.keep(cost + paid, node.decided, packs, filled, None),
            found => {
                // What brings more goods than are asked costs more than the room, and may not be the cheapest.
                if let Some((_, packs)) = found {
                    self.offer(&packs);
                }
                self.keep(up_to, node.decided, node.packs, node.filled, Some(room));
            }
        }
        Ok(())
    }

    /// The cheapest packs of those that stay within the fill's limit and reach what it asks.
    #[allow(clippy::type_complexity, reason = "a price and the packs of each raw material")]
    fn cheapest_fill(&mut self, fill: &Fill, covers: &[Exact]) -> Result<Option<(Exact, Vec<Vec<u32>>)>, Error> {
        // What the raw materials still to come leave at least, and the most goods that they can bring.
        let mut to_come: Exact = covers.iter().sum();
        let room = &fill.limit - &to_come;
        let mut each = Vec::new();
        for (need, cover) in self.needs.iter().zip(covers) {
            let mut ways = Vec::new();
            let nothing = Way::nothing(fill.free, need.wares.len());
            self.ways(
                &offered(&need.wares, fill.decided),
                fill.free,
                &need.grams,
                nothing,
                &(cover + &room),
                &mut ways,
            )?;
            let mut ways = self.undominated(ways)?;
            ways.sort_by(|left, right| left.left.cmp(&right.left));
            each.push(ways);
        }
        let places = || 0..fill.free.len();
        let most = |ways: &[Way], place: usize| ways.iter().map(|way| &way.goods[place]).max().cloned();
        let mut goods_to_come: Vec<Exact> =
            places().map(|place| each.iter().filter_map(|ways| most(ways, place)).sum()).collect();
        let mut layers = vec![vec![Way::nothing(fill.free, 0)]];
        for (single, cover) in each.iter().zip(covers) {
            to_come -= cover;
            for (place, goods) in goods_to_come.iter_mut().enumerate() {
                *goods -= &most(single, place).unwrap_or_default();
            }
            let limit = &fill.limit - &to_come;
            let mut joined = Vec::new();
            for (first, way) in layers[layers.len() - 1].iter().enumerate() {
                for (second, more) in single.iter().enumerate() {
                    if !self.tick()? {
                        return Ok(None);
                    }
                    let left = &way.left + &more.left;
                    if left >= limit {
                        break;
                    }
                    let mut goods: Vec<Exact> =
                        way.goods.iter().zip(&more.goods).map(|(one, other)| one + other).collect();
                    if places().all(|place| &goods[place] + &goods_to_come[place] >= fill.asked[place]) {
                        for (goods, asked) in goods.iter_mut().zip(&fill.asked) {
                            if *goods > *asked {
                                goods.clone_from(asked);
                            }
                        }
                        let cost = &way.cost + &more.cost;
                        joined.push(Way { cost, left, goods, made_of: MadeOf::Ways(first, second) });
                    }
                }
            }
            layers.push(self.undominated(joined)?);
        }
        let last = &layers[layers.len() - 1];
        let Some(mut place) = last.iter().position(|way| way.goods == fill.asked) else { return Ok(None) };
        let cost = last[place].cost.clone();
        let mut packs = Vec::new();
        for (layer, single) in layers.iter().skip(1).zip(&each).rev() {
            if let MadeOf::Ways(first, second) = layer[place].made_of {
                if let MadeOf::Packs(counts) = &single[second].made_of {
                    packs.push(counts.clone());
                }
                place = first;
            }
        }
        packs.reverse();
        Ok(Some((cost, packs)))
    }

    /// Every cover of a raw material that leaves less than `limit` and is worth a thought: of a supplier looked at any
    /// number of packs, of any other no more than are needed, or as many as a price break asks.
    fn ways(
        &mut self,
        order: &[Offered],
        free: &[usize],
        rest: &Exact,
        way: Way,
        limit: &Exact,
        into: &mut Vec<Way>,
    ) -> Result<(), Error> {
        let [Offered { index, ware, left, by_mass }, later @ ..] = order else {
            if !rest.is_positive() {
                into.push(way);
            }
            return Ok(());
        };
        if rest.is_positive() && &way.left + rest * by_mass >= *limit {
            return Ok(());
        }
        let MadeOf::Packs(packs) = &way.made_of else { return Ok(()) };
        let place = free.iter().position(|shop| *shop == ware.shop);
        let enough = if rest.is_positive() { left.enough(rest) } else { 0 };
        let (last_break, least) = left.least();
        let most = match place {
            Some(_) if least.is_positive() => {
                let count = ((limit - &way.left) / least).floor_i64().unwrap_or(i64::MAX);
                u32::try_from(count).unwrap_or(u32::MAX)
            }
            // What costs nothing in the end counts nothing either.
            Some(_) => enough.max(*last_break),
            None => enough,
        };
        for count in (0..=most).chain(left.breaks_above(most)) {
            if !self.tick()? {
                return Ok(());
            }
            let still_left = &way.left + left.cost(count);
            if still_left >= *limit {
                continue;
            }
            let cost = ware.cost(count);
            let (mut goods, mut packs) = (way.goods.clone(), packs.clone());
            if let Some(place) = place {
                goods[place] += &cost;
            }
            packs[*index] = count;
            let more = Way { cost: &way.cost + cost, left: still_left, goods, made_of: MadeOf::Packs(packs) };
            self.ways(later, free, &(rest - &left.grams * Exact::from(count)), more, limit, into)?;
        }
        Ok(())
    }

    /// Without those than which another costs no more and brings no less.
    fn undominated(&mut self, mut ways: Vec<Way>) -> Result<Vec<Way>, Error> {
        ways.sort_by(|left, right| left.cost.cmp(&right.cost).then_with(|| right.goods.cmp(&left.goods)));
        let mut kept: Vec<Way> = Vec::new();
        for way in ways {
            if !self.tick()? {
                break;
            }
            let is_behind = |known: &Way| known.goods.iter().zip(&way.goods).all(|(known, goods)| known >= goods);
            // With one supplier the last kept brings the most.
            let behind_some = if way.goods.len() == 1 {
                kept.last().is_some_and(is_behind)
            } else {
                kept.iter().rev().any(is_behind)
            };
            if !behind_some {
                kept.push(way);
            }
        }
        Ok(kept)
    }
}
