//! The cheapest packs that cover what is needed: exact branch and bound.
//!
//! ```text
//! cover    one raw material and the suppliers allowed: the cheapest counts of packs that hold enough
//! node     of each supplier who asks freight: open, left out, paid freight, or free of it; the covers and the freights paid are a bound
//! share    of goods that a supplier free of freight asks, so much counts as paid and is taken off the prices of the covers: a higher bound
//! fill     where the covers do not reach the value of goods asked: the cheapest of all that do, within some room beyond the bound
//! ```
//!
//! The shares are a Lagrangian relaxation: whatever reaches the value asked costs no less than the covers do with the
//! prices of these suppliers lower by their shares, and the shares of what they ask. A fill that finds nothing in its
//! room has proved a higher bound, and comes again with more room when its node is the cheapest once more.
//!
//! Without freight the raw materials have nothing to do with each other, and the covers are the answer. With it, a node
//! whose covers use no open supplier and reach every value asked costs just its bound, and nothing inside it is
//! cheaper. Money and grams are counted in whole multiples of a unit that divides them all, so that sums are quick.

mod cover;
mod fill;

use std::cmp::Reverse;
use std::collections::{BTreeMap, BinaryHeap};

use crate::error::Error;
use crate::number::Exact;
use crate::watch::{Halt, Watched};

/// The shares are so many parts of the whole.
const PARTS: u32 = 8;
/// How often the share of each supplier is set anew.
const ROUNDS: usize = 2;
/// Steps between two looks at whoever watches.
const LOOK: u64 = 256;

/// A supplier: what an order costs beside the goods.
pub(super) struct Shop {
    /// What the freight costs, if it is to be paid.
    pub(super) freight: Exact,
    /// What goods cost from which on it is not.
    pub(super) free_from: Option<Exact>,
}

/// A pack.
pub(super) struct Ware {
    pub(super) shop: usize,
    pub(super) grams: Exact,
    /// From how many on one costs how much, the last the least.
    pub(super) steps: Vec<(u32, Exact)>,
}

impl Ware {
    fn cost(&self, count: u32) -> Exact {
        let (_, each) = self.steps.iter().rev().find(|(from, _)| *from <= count).unwrap_or(&self.steps[0]);
        each * Exact::from(count)
    }

    /// The last price: from how many on, and what one costs.
    fn least(&self) -> &(u32, Exact) {
        &self.steps[self.steps.len() - 1]
    }

    /// How many hold as much.
    pub(super) fn enough(&self, grams: &Exact) -> u32 {
        let packs = (-(-(grams / &self.grams)).floor_to(&Exact::ONE)).to_whole().unwrap_or(i128::MAX);
        u32::try_from(packs.max(0)).unwrap_or(u32::MAX)
    }

    /// The breaks that begin above a number of packs.
    fn breaks_above(&self, count: u32) -> impl Iterator<Item = u32> + '_ {
        self.steps.iter().map(|(from, _)| *from).filter(move |from| *from > count)
    }

    /// With masses and prices multiplied.
    fn times(&self, grams: &Exact, price: &Exact) -> Self {
        let steps = self.steps.iter().map(|(from, each)| (*from, each * price)).collect();
        Ware { shop: self.shop, grams: &self.grams * grams, steps }
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
    /// How many it might have taken: fewer than it was given where the watch ended it.
    pub(super) limit: u64,
}

/// What is decided of a supplier.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Decided {
    Open,
    LeftOut,
    Paying,
    /// To be free of freight; so many parts of what that asks count as paid.
    Free(u32),
}

impl Decided {
    /// The part of prices that is left beside the share; `None` of who is left out.
    fn left(self) -> Option<Exact> {
        match self {
            Decided::LeftOut => None,
            Decided::Free(share) => Some(parts(PARTS - share)),
            Decided::Open | Decided::Paying => Some(Exact::ONE),
        }
    }
}

fn parts(count: u32) -> Exact {
    Exact::over(count.into(), PARTS.into())
}

/// The cheapest packs of one raw material.
#[derive(Clone)]
struct Cover {
    packs: Vec<u32>,
    /// What is left of their cost beside the shares, or, cut off, what nothing is below.
    bound: Exact,
}

/// What nothing costs less than, and the packs that it is made of.
struct Bound {
    least: Exact,
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
    /// The room of the last fill, which found nothing.
    room: Option<Exact>,
}

struct Search<'a> {
    shops: &'a [Shop],
    needs: &'a [Need],
    limit: u64,
    watch: &'a Watched,
    steps: u64,
    ended: bool,
    /// By need and by what is left of the price of each of its wares.
    covers: BTreeMap<(usize, Vec<Option<Exact>>), Option<Cover>>,
    best: Option<(Exact, Vec<Vec<u32>>)>,
    /// Open nodes, the first of them on top.
    heap: BinaryHeap<Reverse<Node>>,
    made: usize,
}

/// What divides all of these; 1 if there is nothing to divide.
fn unit<'a>(values: impl Iterator<Item = &'a Exact>) -> Exact {
    let unit = values.fold(Exact::ZERO, |unit, value| unit.common_measure(value));
    if unit.is_zero() { Exact::ONE } else { unit }
}

/// The cheapest packs, in up to so many steps. Of up to 64 suppliers; each need has a ware.
///
/// # Errors
/// What stopped work gives.
pub(super) fn cheapest(shops: &[Shop], needs: &[Need], limit: u64, watch: &Watched) -> Result<Cheapest, Error> {
    let prices = needs.iter().flat_map(|need| &need.wares).flat_map(|ware| &ware.steps).map(|(_, each)| each);
    let terms = shops.iter().flat_map(|shop| std::iter::once(&shop.freight).chain(&shop.free_from));
    // Parts of money are whole too.
    let money = unit(prices.chain(terms)) / Exact::from(PARTS);
    let of_money = Exact::ONE / &money;
    let shops: Vec<Shop> = shops
        .iter()
        .map(|shop| Shop {
            freight: &shop.freight * &of_money,
            free_from: shop.free_from.as_ref().map(|from| from * &of_money),
        })
        .collect();
    let needs: Vec<Need> = needs
        .iter()
        .map(|need| {
            let masses = std::iter::once(&need.grams).chain(need.wares.iter().map(|ware| &ware.grams));
            let of_grams = Exact::ONE / unit(masses);
            let wares = need.wares.iter().map(|ware| ware.times(&of_grams, &of_money)).collect();
            Need { grams: &need.grams * &of_grams, wares }
        })
        .collect();
    let mut search = Search {
        shops: &shops,
        needs: &needs,
        limit,
        watch,
        steps: 0,
        ended: false,
        covers: BTreeMap::new(),
        best: None,
        heap: BinaryHeap::new(),
        made: 0,
    };
    let bound = search.run()?;
    let (cost, packs) = search.best.take().unwrap_or_default();
    let bound = bound.unwrap_or_else(|| cost.clone());
    Ok(Cheapest { packs, bound: bound * &money, cost: cost * &money, steps: search.steps, limit: search.limit })
}

impl Search<'_> {
    /// Searches to the end, or as far as it may; then nothing costs less than what it gives.
    fn run(&mut self) -> Result<Option<Exact>, Error> {
        self.make(vec![Decided::Open; self.shops.len()], &Exact::ZERO)?;
        while let Some(Reverse(node)) = self.heap.pop() {
            if !self.is_hopeful(&node.bound) {
                break;
            }
            if self.ended {
                return Ok(Some(node.bound));
            }
            let Some(shop) = self.open(&node) else {
                self.fill(node)?;
                continue;
            };
            for choice in [Decided::LeftOut, Decided::Paying, Decided::Free(0)] {
                if choice != Decided::Free(0) || self.shops[shop].free_from.is_some() {
                    let mut decided = node.decided.clone();
                    decided[shop] = choice;
                    self.make(decided, &node.bound)?;
                }
            }
        }
        Ok(None)
    }

    /// One more step; whether to go on.
    fn tick(&mut self) -> Result<bool, Error> {
        self.steps += 1;
        if self.steps >= self.limit {
            self.ended = true;
        }
        if self.steps % LOOK == 1 {
            self.watch.check()?;
            if !self.ended && !self.watch.search_on() {
                (self.ended, self.limit) = (true, self.steps);
            }
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
            *goods[ware.shop].get_or_insert(Exact::ZERO) += &ware.cost(*count);
        }
        goods
    }

    /// What packs really cost with freight.
    fn cost(&self, packs: &[Vec<u32>]) -> Exact {
        let order = |(shop, goods): (&Shop, Option<Exact>)| {
            let goods = goods?;
            let is_free = shop.free_from.as_ref().is_some_and(|from| goods >= *from);
            Some(if is_free { goods } else { goods + &shop.freight })
        };
        self.shops.iter().zip(self.goods(packs)).filter_map(order).sum()
    }

    /// The suppliers that are to be free of freight.
    fn free(&self, decided: &[Decided]) -> Vec<usize> {
        (0..self.shops.len()).filter(|shop| matches!(decided[*shop], Decided::Free(_))).collect()
    }

    /// True of a supplier whose goods are short of what being free of freight asks.
    fn is_short(&self, shop: usize, goods: &[Option<Exact>]) -> bool {
        self.shops[shop].free_from.as_ref() > goods[shop].as_ref()
    }

    /// Whether something costs less than the best known.
    fn is_hopeful(&self, bound: &Exact) -> bool {
        self.best.as_ref().is_none_or(|(best, _)| bound < best)
    }

    /// Works out a node with the shares that give the highest bound found.
    fn make(&mut self, mut decided: Vec<Decided>, parent: &Exact) -> Result<(), Error> {
        let Some(mut highest) = self.bound(&decided)? else { return Ok(()) };
        for _ in 0..ROUNDS {
            let before = highest.least.clone();
            for shop in self.free(&decided) {
                self.raise(shop, &mut decided, &mut highest)?;
            }
            if highest.least == before {
                break;
            }
        }
        self.keep(highest.least.max(parent.clone()), decided, highest.packs, 0, None);
        Ok(())
    }

    /// Sets one supplier's share anew. The bound is concave in it and rises as long as the supplier's goods are short.
    fn raise(&mut self, shop: usize, decided: &mut [Decided], highest: &mut Bound) -> Result<(), Error> {
        let mut set = decided[shop];
        let (mut low, mut high) = (0, PARTS + 1);
        while low < high && !self.ended && self.is_hopeful(&highest.least) {
            let share = (low + high) / 2;
            decided[shop] = Decided::Free(share);
            let Some(found) = self.bound(decided)? else { break };
            if self.is_short(shop, &self.goods(&found.packs)) {
                low = share + 1;
            } else {
                high = share;
            }
            if found.least > highest.least {
                (set, *highest) = (decided[shop], found);
            }
        }
        decided[shop] = set;
        Ok(())
    }

    /// The bound of the covers, whose packs are offered; `None` if some raw material is offered by nobody allowed.
    fn bound(&mut self, decided: &[Decided]) -> Result<Option<Bound>, Error> {
        let Some(covers) = self.covers(decided)? else { return Ok(None) };
        let least = covers.iter().map(|cover| &cover.bound).sum::<Exact>() + self.terms(decided);
        let packs: Vec<Vec<u32>> = covers.into_iter().map(|cover| cover.packs).collect();
        self.offer(&packs);
        Ok(Some(Bound { least, packs }))
    }

    /// The freights paid, and the shares of goods that count as paid.
    fn terms(&self, decided: &[Decided]) -> Exact {
        let term = |(shop, state): (&Shop, &Decided)| match state {
            Decided::Paying => Some(shop.freight.clone()),
            Decided::Free(share) => shop.free_from.as_ref().map(|from| from * parts(*share)),
            Decided::Open | Decided::LeftOut => None,
        };
        self.shops.iter().zip(decided).filter_map(term).sum()
    }

    /// Takes packs as the best known, if they are.
    fn offer(&mut self, packs: &[Vec<u32>]) {
        let cost = self.cost(packs);
        if self.is_hopeful(&cost) {
            self.best = Some((cost, packs.to_vec()));
        }
    }

    /// Offers packs, and keeps their node unless nothing in it is cheaper than the best known.
    fn keep(&mut self, bound: Exact, decided: Vec<Decided>, packs: Vec<Vec<u32>>, filled: u64, room: Option<Exact>) {
        self.offer(&packs);
        self.made += 1;
        if self.is_hopeful(&bound) {
            self.heap.push(Reverse(Node { bound, age: self.made, decided, packs, filled, room }));
        }
    }
}
