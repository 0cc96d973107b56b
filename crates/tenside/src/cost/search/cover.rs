//! The cheapest packs of one raw material.

use super::{Cover, Decided, Need, Search, Ware};
use crate::error::Error;
use crate::number::Exact;

/// A ware that may be bought.
pub(super) struct Offered<'a> {
    pub(super) index: usize,
    pub(super) ware: &'a Ware,
    /// With what is left of its prices.
    pub(super) left: Ware,
    /// What a gram costs of that at least.
    pub(super) by_mass: Exact,
}

/// The wares of suppliers that are not left out, the cheapest by mass first.
pub(super) fn offered<'a>(wares: &'a [Ware], decided: &[Decided]) -> Vec<Offered<'a>> {
    let of = |(index, ware): (usize, &'a Ware)| {
        let left = ware.times(&Exact::ONE, &decided[ware.shop].left()?);
        let by_mass = &left.least().1 / &left.grams;
        Some(Offered { index, ware, left, by_mass })
    };
    let mut order: Vec<Offered> = wares.iter().enumerate().filter_map(of).collect();
    order.sort_by(|left, right| left.by_mass.cmp(&right.by_mass));
    order
}

impl Search<'_> {
    /// The cheapest packs of every raw material; `None` if some is offered by nobody allowed.
    pub(super) fn covers(&mut self, decided: &[Decided]) -> Result<Option<Vec<Cover>>, Error> {
        (0..self.needs.len()).map(|need| self.cover(need, decided)).collect()
    }

    /// The cheapest packs that hold what is needed; `None` if nobody allowed offers any of what is short.
    fn cover(&mut self, need: usize, decided: &[Decided]) -> Result<Option<Cover>, Error> {
        let Need { grams, wares } = &self.needs[need];
        let key = (need, wares.iter().map(|ware| decided[ware.shop].left()).collect());
        if let Some(known) = self.covers.get(&key) {
            return Ok(known.clone());
        }
        let order = offered(wares, decided);
        // Each ware alone: the best of them is known even if the search ends at once.
        let alone = |offer: &Offered| {
            let enough = offer.left.enough(grams);
            let counts = std::iter::once(enough).chain(offer.left.breaks_above(enough));
            counts.map(|count| (offer.left.cost(count), offer.index, count)).collect::<Vec<_>>()
        };
        let Some((cost, ware, count)) = order.iter().flat_map(alone).min_by(|left, right| left.0.cmp(&right.0)) else {
            // Where nothing is short, nobody need offer it.
            let nothing = Cover { packs: vec![0; wares.len()], bound: Exact::ZERO };
            let cover = (!grams.is_positive()).then_some(nothing);
            self.covers.insert(key, cover.clone());
            return Ok(cover);
        };
        let mut packs = vec![0; wares.len()];
        packs[ware] = count;
        let mut best = (cost, packs);
        self.cover_rest(&order, grams, &Exact::ZERO, &mut vec![0; wares.len()], &mut best)?;
        // Cut off, only what every gram costs at least is sure.
        let bound = if self.ended { grams * &order[0].by_mass } else { best.0 };
        let cover = Cover { packs: best.1, bound };
        self.covers.insert(key, Some(cover.clone()));
        Ok(Some(cover))
    }

    /// Covers what is left to cover with the wares from here on.
    fn cover_rest(
        &mut self,
        order: &[Offered],
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
        let [Offered { index, left: ware, by_mass, .. }, later @ ..] = order else { return Ok(()) };
        if cost + rest * by_mass >= best.0 {
            return Ok(());
        }
        let enough = ware.enough(rest);
        // What is last has to hold all that is left; else fewer, down to none, as long as the rest at its lowest price
        // could still be cheaper.
        let fewest = if later.is_empty() { enough } else { 0 };
        for count in ware.breaks_above(enough).chain((fewest..=enough).rev()) {
            if !self.tick()? {
                break;
            }
            let still = rest - &ware.grams * Exact::from(count);
            if let Some(next) = later.first()
                && still.is_positive()
                && cost + &ware.least().1 * Exact::from(count) + &still * &next.by_mass >= best.0
            {
                break;
            }
            packs[*index] = count;
            self.cover_rest(later, &still, &(cost + ware.cost(count)), packs, best)?;
        }
        packs[*index] = 0;
        Ok(())
    }
}
