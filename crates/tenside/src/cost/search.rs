//! The cheapest packs that cover what is needed: exact branch and bound.
//!
//! ```text
//! cover    one raw material and the suppliers allowed: the cheapest counts of packs that hold enough
//! node     of each supplier who asks freight: open, left out, paid freight, or free of it; the covers and the freights paid are a bound
//! fill     where suppliers that are to be free of freight fall short: the cheapest covers that together reach the value of goods asked
//! ```
//!
//! A fill is bounded by a Lagrangian relaxation: of goods that are asked, a share `t` counts as paid. Whatever reaches
//! the value asked costs no less than the covers do with these suppliers' prices lower by `t`, and `t` times what is
//! asked. The best of some shares leaves few ways to cover each raw material.
//!
//! Without freight the raw materials have nothing to do with each other, and the covers are the answer. With it, a node
//! whose covers use no open supplier and reach every value asked costs just its bound, and nothing inside it is
//! cheaper.

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use crate::error::Error;
use crate::number::Exact;
use crate::watch::{Halt, Watched};

/// The shares that are tried are so many parts of the whole.
const SHARES: i64 = 8;
/// Steps between two looks at whoever watches.
const LOOK: u64 = 256;

/// A supplier: what an order costs beside the goods.
pub(super) struct Shop {
    /// What goods cost that count as one.
    pub(super) factor: Exact,
    /// What the freight costs, if it is to be paid.
    pub(super) freight: Exact,
    /// The value of goods, as the supplier counts it, from which on it is not.
    pub(super) free_from: Option<Exact>,
}

/// A pack.
pub(super) struct Ware {
    pub(super) shop: usize,
    pub(super) grams: Exact,
    /// From how many on: what one costs, and what it counts as goods.
    pub(super) steps: Vec<(u32, Exact, Exact)>,
}

impl Ware {
    fn step(&self, count: u32) -> &(u32, Exact, Exact) {
        self.steps.iter().rev().find(|(from, ..)| *from <= count).unwrap_or(&self.steps[0])
    }

    fn cost(&self, count: u32) -> Exact {
        &self.step(count).1 * Exact::from(count)
    }

    fn goods(&self, count: u32) -> Exact {
        &self.step(count).2 * Exact::from(count)
    }

    /// What one costs where it costs least.
    fn least(&self) -> &Exact {
        &self.steps[self.steps.len() - 1].1
    }

    /// How many hold as much.
    pub(super) fn enough(&self, grams: &Exact) -> u32 {
        let packs = (-(-(grams / &self.grams)).floor_to(&Exact::ONE)).to_whole().unwrap_or(i128::MAX);
        u32::try_from(packs.max(0)).unwrap_or(u32::MAX)
    }

    /// The breaks that begin above a number of packs.
    fn breaks_above(&self, count: u32) -> impl Iterator<Item = u32> + '_ {
        self.steps.iter().map(|(from, ..)| *from).filter(move |from| *from > count)
    }
}

/// What is needed of a raw material, and the packs that hold it.
pub(super) struct Need {
    pub(super) grams: Exact,
    pub(super) wares: Vec<Ware>,
}

/// What the search found.
pub(super) struct Cheapest {
    /// For each need how many of each of its wares.
    pub(super) packs: Vec<Vec<u32>>,
    pub(super) cost: Exact,
    /// Nothing is cheaper than this.
    pub(super) bound: Exact,
    pub(super) steps: u64,
}

/// What is decided of a supplier.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Decided {
    Open,
    LeftOut,
    Paying,
    Free,
}

/// The cheapest packs of one raw material.
#[derive(Clone)]
struct Cover {
    packs: Vec<u32>,
    /// What they cost, or, cut off, what nothing is below.
    bound: Exact,
}

/// One way to cover a raw material or several: what it costs, what of that is not the share that counts as paid, and
/// what goods it brings to each supplier that is to be free of freight.
#[derive(Clone)]
struct Way {
    cost: Exact,
    reduced: Exact,
    goods: Vec<Exact>,
    packs: Vec<Vec<u32>>,
}

/// What is decided, the packs of the covers or of a fill, and the least that anything inside can cost. Nodes are in the
/// order of that, and among equals the older is first.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Node {
    bound: Exact,
    age: usize,
    decided: Vec<Decided>,
    packs: Vec<Vec<u32>>,
    /// The suppliers whose goods a fill has looked at, a bit each.
    filled: u64,
}

/// A fill: the suppliers that are to be free of freight, the goods that each asks, and the share of these that counts
/// as paid.
struct Fill {
    free: Vec<usize>,
    asked: Vec<Exact>,
    left: Exact,
}

struct Search<'a> {
    shops: &'a [Shop],
    needs: &'a [Need],
    limit: u64,
    watch: &'a Watched,
    steps: u64,
    ended: bool,
    /// By need and by the suppliers allowed.
    covers: BTreeMap<(usize, u64), Option<Cover>>,
    best: Option<(Exact, Vec<Vec<u32>>)>,
    /// Open nodes, the first of them on top.
    heap: BinaryHeap<Reverse<Node>>,
    made: usize,
}

/// The cheapest packs, in up to so many steps. Of up to 64 suppliers; each need has a ware.
///
/// # Errors
/// What stopped work gives.
pub(super) fn cheapest(shops: &[Shop], needs: &[Need], limit: u64, watch: &Watched) -> Result<Cheapest, Error> {
    let mut search = Search {
        shops,
        needs,
        limit,
        watch,
        steps: 0,
        ended: false,
        covers: BTreeMap::new(),
        best: None,
        heap: BinaryHeap::new(),
        made: 0,
    };
    search.make(vec![Decided::Open; shops.len()], &Exact::ZERO)?;
    let mut bound = None;
    while let Some(Reverse(node)) = search.heap.pop() {
        if search.best.as_ref().is_some_and(|(best, _)| node.bound >= *best) {
            break;
        }
        if search.ended {
            bound = Some(node.bound);
            break;
        }
        match search.open(&node) {
            Some(shop) => {
                for choice in [Decided::LeftOut, Decided::Paying, Decided::Free] {
                    if choice != Decided::Free || shops[shop].free_from.is_some() {
                        let mut decided = node.decided.clone();
                        decided[shop] = choice;
                        search.make(decided, &node.bound)?;
                    }
                }
            }
            None => search.fill(node)?,
        }
    }
    let (cost, packs) = search.best.take().unwrap_or_default();
    Ok(Cheapest { packs, bound: bound.unwrap_or_else(|| cost.clone()), cost, steps: search.steps })
}

impl Search<'_> {
    /// One more step; whether to go on.
    fn tick(&mut self) -> Result<bool, Error> {
        self.steps += 1;
        if self.steps >= self.limit {
            self.ended = true;
        }
        if self.steps % LOOK == 1 {
            self.watch.check()?;
            self.ended = self.ended || !self.watch.search_on();
        }
        Ok(!self.ended)
    }

    /// The supplier asking the highest freight of those that a node's packs come from and of whom nothing is decided.
    fn open(&self, node: &Node) -> Option<usize> {
        let goods = self.goods(&node.packs);
        let asks = |shop: &usize| {
            node.decided[*shop] == Decided::Open && goods[*shop].is_some() && self.shops[*shop].freight.is_positive()
        };
        (0..self.shops.len())
            .filter(asks)
            .max_by(|left, right| self.shops[*left].freight.cmp(&self.shops[*right].freight).then(right.cmp(left)))
    }

    /// The goods bought of each supplier; `None` if there are none.
    fn goods(&self, packs: &[Vec<u32>]) -> Vec<Option<Exact>> {
        let mut goods: Vec<Option<Exact>> = vec![None; self.shops.len()];
        for (ware, count) in self
            .needs
            .iter()
            .zip(packs)
            .flat_map(|(need, counts)| need.wares.iter().zip(counts))
            .filter(|(_, count)| **count > 0)
        {
            *goods[ware.shop].get_or_insert(Exact::ZERO) += &ware.goods(*count);
        }
        goods
    }

    /// What packs really cost with freight.
    fn cost(&self, packs: &[Vec<u32>]) -> Exact {
        let wares = self.needs.iter().zip(packs).flat_map(|(need, counts)| need.wares.iter().zip(counts));
        let paid: Exact = wares.map(|(ware, count)| ware.cost(*count)).sum();
        let freight = |(shop, goods): (&Shop, Option<Exact>)| {
            let goods = goods?;
            let is_free = shop.free_from.as_ref().is_some_and(|from| goods >= *from);
            (!is_free).then(|| shop.freight.clone())
        };
        paid + self.shops.iter().zip(self.goods(packs)).filter_map(freight).sum::<Exact>()
    }

    /// Works out a node by its covers; nothing in it is cheaper than what it is made of.
    fn make(&mut self, decided: Vec<Decided>, parent: &Exact) -> Result<(), Error> {
        let Some(covers) = self.covers(&decided)? else { return Ok(()) };
        let bound = covers.iter().map(|cover| &cover.bound).sum::<Exact>() + self.freight_paid(&decided);
        let packs: Vec<Vec<u32>> = covers.into_iter().map(|cover| cover.packs).collect();
        self.keep(bound.max(parent.clone()), decided, packs, 0);
        Ok(())
    }

    /// Takes packs as the best known, if they are.
    fn offer(&mut self, packs: &[Vec<u32>]) {
        let cost = self.cost(packs);
        if self.best.as_ref().is_none_or(|(best, _)| cost < *best) {
            self.best = Some((cost, packs.to_vec()));
        }
    }

    /// Offers packs, and keeps their node unless nothing is left to decide in it.
    fn keep(&mut self, bound: Exact, decided: Vec<Decided>, packs: Vec<Vec<u32>>, filled: u64) {
        self.offer(&packs);
        self.made += 1;
        let node = Node { bound, age: self.made, decided, packs, filled };
        if self.ended || self.open(&node).is_some() || !self.short(&node).is_empty() {
            self.heap.push(Reverse(node));
        }
    }

    /// The suppliers that are to be free of freight and are not.
    fn short(&self, node: &Node) -> Vec<usize> {
        let goods = self.goods(&node.packs);
        (0..self.shops.len())
            .filter(|shop| {
                node.decided[*shop] == Decided::Free && self.shops[*shop].free_from.as_ref() > goods[*shop].as_ref()
            })
            .collect()
    }

    fn freight_paid(&self, decided: &[Decided]) -> Exact {
        let paying = |(shop, state): (&Shop, &Decided)| (*state == Decided::Paying).then(|| shop.freight.clone());
        self.shops.iter().zip(decided).filter_map(paying).sum()
    }

    /// The suppliers that are not left out, a bit each.
    fn allowed_shops(decided: &[Decided]) -> u64 {
        decided
            .iter()
            .enumerate()
            .fold(0, |mask, (shop, state)| if *state == Decided::LeftOut { mask } else { mask | 1 << shop })
    }

    /// The cheapest packs of every raw material; `None` if some is offered by nobody allowed.
    fn covers(&mut self, decided: &[Decided]) -> Result<Option<Vec<Cover>>, Error> {
        let allowed = Search::allowed_shops(decided);
        (0..self.needs.len()).map(|need| self.cover(need, allowed)).collect()
    }

    /// The wares of the allowed suppliers, the cheapest by mass first, each with that price.
    fn allowed(&self, need: usize, allowed: u64) -> Vec<(usize, Exact)> {
        let wares = self.needs[need].wares.iter().enumerate().filter(|(_, ware)| allowed & (1 << ware.shop) != 0);
        let mut order: Vec<(usize, Exact)> = wares.map(|(index, ware)| (index, ware.least() / &ware.grams)).collect();
        order.sort_by(|left, right| left.1.cmp(&right.1));
        order
    }

    /// The cheapest packs of the allowed suppliers that hold what is needed; `None` if they offer none.
    fn cover(&mut self, need: usize, allowed: u64) -> Result<Option<Cover>, Error> {
        let offered = self.needs[need].wares.iter().fold(0, |mask, ware| mask | 1 << ware.shop);
        let key = (need, allowed & offered);
        if let Some(known) = self.covers.get(&key) {
            return Ok(known.clone());
        }
        let order = self.allowed(need, allowed);
        let Need { grams, wares } = &self.needs[need];
        // Each ware alone: the best of them is known even if the search ends at once.
        let alone = |(ware, _): &(usize, Exact)| {
            let enough = wares[*ware].enough(grams);
            let counts = std::iter::once(enough).chain(wares[*ware].breaks_above(enough));
            counts.map(|count| (wares[*ware].cost(count), *ware, count)).collect::<Vec<_>>()
        };
        let Some((cost, ware, count)) = order.iter().flat_map(alone).min_by(|left, right| left.0.cmp(&right.0)) else {
            self.covers.insert(key, None);
            return Ok(None);
        };
        let mut packs = vec![0; wares.len()];
        packs[ware] = count;
        let mut best = (cost, packs);
        self.cover_rest(need, &order, grams, &Exact::ZERO, &mut vec![0; self.needs[need].wares.len()], &mut best)?;
        // Cut off, only what every gram costs at least is sure.
        let bound = if self.ended { grams * &order[0].1 } else { best.0 };
        let cover = Cover { packs: best.1, bound };
        self.covers.insert(key, Some(cover.clone()));
        Ok(Some(cover))
    }

    /// Covers what is left with the wares from here on.
    fn cover_rest(
        &mut self,
        need: usize,
        order: &[(usize, Exact)],
        rest: &Exact,
        cost: &Exact,
        packs: &mut Vec<u32>,
        best: &mut (Exact, Vec<u32>),
    ) -> Result<(), Error> {
        if !rest.is_positive() {
            if *cost < best.0 {
                *best = (cost.clone(), packs.clone());
            }
            return Ok(());
        }
        let [(index, each), later @ ..] = order else { return Ok(()) };
        if cost + rest * each >= best.0 {
            return Ok(());
        }
        let ware = &self.needs[need].wares[*index];
        let enough = ware.enough(rest);
        // What is last has to hold all that is left; else fewer, down to none, as long as the rest at its lowest price
        // could still be cheaper.
        let fewest = if later.is_empty() { enough } else { 0 };
        for count in ware.breaks_above(enough).chain((fewest..=enough).rev()) {
            if !self.tick()? {
                break;
            }
            let left = rest - &ware.grams * Exact::from(count);
            if let Some((_, next)) = later.first()
                && left.is_positive()
                && cost + ware.least() * Exact::from(count) + &left * next >= best.0
            {
                break;
            }
            packs[*index] = count;
            self.cover_rest(need, later, &left, &(cost + ware.cost(count)), packs, best)?;
        }
        packs[*index] = 0;
        Ok(())
    }

    /// Puts in the place of a node's packs the cheapest with which every supplier looked at is free of freight, if they
    /// can be cheaper than the best known.
    fn fill(&mut self, node: Node) -> Result<(), Error> {
        let filled = self.short(&node).into_iter().fold(node.filled, |mask, shop| mask | 1 << shop);
        let free: Vec<usize> = (0..self.shops.len()).filter(|shop| filled & (1 << shop) != 0).collect();
        let asked: Vec<Exact> =
            free.iter().map(|shop| self.shops[*shop].free_from.clone().unwrap_or_default()).collect();
        let freight = self.freight_paid(&node.decided);
        let counted: Exact = free.iter().zip(&asked).map(|(shop, asked)| &self.shops[*shop].factor * asked).sum();
        // The share with the highest bound.
        let mut highest: Option<(Exact, i64, Vec<Exact>)> = None;
        for share in 0..SHARES {
            let left = Exact::ratio(SHARES - share, SHARES);
            let Some(covers) = self.covers_at(&node.decided, &free, &left)? else { return Ok(()) };
            let bound = covers.iter().sum::<Exact>() + &counted * (Exact::ONE - left);
            if highest.as_ref().is_none_or(|(known, ..)| bound > *known) {
                highest = Some((bound, share, covers));
            }
        }
        let (Some((bound, share, covers)), Some((best, _))) = (highest, &self.best) else { return Ok(()) };
        let limit = best - &freight;
        if !self.ended && bound >= limit {
            return Ok(());
        }
        let fill = Fill { free, asked, left: Exact::ratio(SHARES - share, SHARES) };
        let room = limit - &bound;
        match self.cheapest_fill(&node.decided, &fill, &covers, &room)? {
            Some(way) => self.keep(way.cost + freight, node.decided, way.packs, filled),
            // Cut off, it stays as it was.
            None if self.ended => self.heap.push(Reverse(node)),
            None => {}
        }
        Ok(())
    }

    /// What the covers cost where of the prices of `free` suppliers a part is `left`; the packs are offered.
    fn covers_at(&mut self, decided: &[Decided], free: &[usize], left: &Exact) -> Result<Option<Vec<Exact>>, Error> {
        let lower = |ware: &Ware| {
            let part = if free.contains(&ware.shop) { left } else { &Exact::ONE };
            let steps = ware.steps.iter().map(|(from, cost, goods)| (*from, cost * part, goods.clone())).collect();
            Ware { shop: ware.shop, grams: ware.grams.clone(), steps }
        };
        let needs: Vec<Need> = self
            .needs
            .iter()
            .map(|need| Need { grams: need.grams.clone(), wares: need.wares.iter().map(lower).collect() })
            .collect();
        let (shops, limit, watch) = (self.shops, self.limit, self.watch);
        let mut search = Search {
            shops,
            needs: &needs,
            limit,
            watch,
            steps: self.steps,
            ended: self.ended,
            covers: BTreeMap::new(),
            best: None,
            heap: BinaryHeap::new(),
            made: 0,
        };
        let covers = search.covers(decided)?;
        (self.steps, self.ended) = (search.steps, search.ended);
        let Some(covers) = covers else { return Ok(None) };
        self.offer(&covers.iter().map(|cover| cover.packs.clone()).collect::<Vec<_>>());
        Ok(Some(covers.into_iter().map(|cover| cover.bound).collect()))
    }

    /// The cheapest ways to cover everything that reach what is asked and leave, of all that is not paid, less than
    /// `room` beyond the covers.
    fn cheapest_fill(
        &mut self,
        decided: &[Decided],
        fill: &Fill,
        covers: &[Exact],
        room: &Exact,
    ) -> Result<Option<Way>, Error> {
        let nothing =
            |packs| Way { cost: Exact::ZERO, reduced: Exact::ZERO, goods: vec![Exact::ZERO; fill.free.len()], packs };
        let mut each = Vec::new();
        for (need, cover) in covers.iter().enumerate() {
            let mut ways = Vec::new();
            let mut order = self.allowed(need, Search::allowed_shops(decided));
            for (ware, by_mass) in &mut order {
                if fill.free.contains(&self.needs[need].wares[*ware].shop) {
                    *by_mass *= &fill.left;
                }
            }
            order.sort_by(|left, right| left.1.cmp(&right.1));
            let (grams, none) = (self.needs[need].grams.clone(), nothing(vec![vec![0; self.needs[need].wares.len()]]));
            self.ways(need, &order, fill, grams, none, &(cover + room), &mut ways)?;
            each.push(self.undominated(ways)?);
        }
        // What the raw materials still to come leave at least, and the most goods that they can bring.
        let mut to_come: Exact = covers.iter().sum();
        let limit = &to_come + room;
        let most =
            |ways: &Vec<Way>, place: usize| ways.iter().map(|way| way.goods[place].clone()).max().unwrap_or_default();
        let mut goods_to_come: Vec<Exact> =
            (0..fill.free.len()).map(|place| each.iter().map(|ways| most(ways, place)).sum()).collect();
        let mut ways = vec![nothing(Vec::new())];
        for (single, cover) in each.iter().zip(covers) {
            to_come -= cover;
            for (place, goods) in goods_to_come.iter_mut().enumerate() {
                *goods -= &most(single, place);
            }
            let mut joined = Vec::new();
            for (way, more) in ways.iter().flat_map(|way| single.iter().map(move |more| (way, more))) {
                if !self.tick()? {
                    return Ok(None);
                }
                let reduced = &way.reduced + &more.reduced;
                let goods: Vec<Exact> = way.goods.iter().zip(&more.goods).map(|(left, right)| left + right).collect();
                let reaches = goods
                    .iter()
                    .zip(&goods_to_come)
                    .zip(&fill.asked)
                    .all(|((goods, to_come), asked)| goods + to_come >= *asked);
                if reaches && &reduced + &to_come < limit {
                    let goods =
                        goods.into_iter().zip(&fill.asked).map(|(goods, asked)| goods.min(asked.clone())).collect();
                    joined.push(Way {
                        cost: &way.cost + &more.cost,
                        reduced,
                        goods,
                        packs: way.packs.iter().chain(&more.packs).cloned().collect(),
                    });
                }
            }
            ways = self.undominated(joined)?;
        }
        Ok(if self.ended { None } else { ways.into_iter().find(|way| way.goods == fill.asked) })
    }

    /// Every cover of a raw material of which less than `room` is not paid and that is worth a thought: of a supplier
    /// who is to be free of freight any number of packs, of any other no more than are needed, or as many as a price
    /// break asks.
    #[allow(clippy::too_many_arguments, reason = "the state of a recursion")]
    fn ways(
        &mut self,
        need: usize,
        order: &[(usize, Exact)],
        fill: &Fill,
        rest: Exact,
        way: Way,
        room: &Exact,
        into: &mut Vec<Way>,
    ) -> Result<(), Error> {
        let [(index, each), later @ ..] = order else {
            if !rest.is_positive() {
                into.push(way);
            }
            return Ok(());
        };
        let at_least = if rest.is_positive() { &rest * each } else { Exact::ZERO };
        if &way.reduced + at_least >= *room {
            return Ok(());
        }
        let ware = &self.needs[need].wares[*index];
        let place = fill.free.iter().position(|shop| *shop == ware.shop);
        let part = if place.is_some() { &fill.left } else { &Exact::ONE };
        let enough = if rest.is_positive() { ware.enough(&rest) } else { 0 };
        let most = match place {
            // What costs nothing counts nothing either.
            Some(_) if ware.least().is_positive() => {
                let packs = ((room - &way.reduced) / (ware.least() * part)).floor_i64().unwrap_or(i64::MAX);
                u32::try_from(packs).unwrap_or(u32::MAX)
            }
            _ => enough,
        };
        for count in (0..=most).chain(ware.breaks_above(most)) {
            if !self.tick()? {
                return Ok(());
            }
            let mut more = way.clone();
            let cost = ware.cost(count);
            more.reduced += &(&cost * part);
            more.cost += &cost;
            more.packs[0][*index] = count;
            if let Some(place) = place {
                more.goods[place] += &ware.goods(count);
            }
            self.ways(need, later, fill, &rest - &ware.grams * Exact::from(count), more, room, into)?;
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
