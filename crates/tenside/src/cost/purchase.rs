//! The cheapest purchase of packs for a set of batches.

use std::sync::Arc;

use indexmap::{IndexMap, IndexSet};

use super::from_stock::other_lots;
use super::need::{Needed, PlannedBatch, needs};
use super::offer::{Offers, Pack, Supplier, counted};
use super::search::{Cheapest, Need, Shop, Ware, cheapest};
use super::stock::Stock;
use crate::bounds::Quantity;
use crate::document::{nearest, shown};
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::number::{Exact, Mass, MassUnit};
use crate::render::so_many;
use crate::watch::{Watch, Watched};

/// The usual limit of a search, in steps: some seconds.
pub const USUAL_STEPS: u64 = 2_000_000;

/// What is asked: the cheapest purchase for these batches beyond the stock. Values are immutable; a change gives a new
/// one.
///
/// ```
/// use tenside::cost::{Offers, Pack, PlannedBatch, PurchaseRequest, Supplier};
/// use tenside::prelude::*;
/// let shelf = Catalogue::starter();
/// let pack = |size: &str, price: &str| Pack::new("kaolin", size.parse()?, price);
/// let near = Supplier::new("Near", "EUR")?.with_pack(pack("1 kg", "5")?)?.with_freight(0)?.with_tax(0)?;
/// let far = Supplier::new("Far", "EUR")?.with_pack(pack("1 kg", "3")?)?.with_freight(7)?.free_from(12)?.with_tax(0)?;
/// let offers = Offers::new("EUR")?.with_supplier(near)?.with_supplier(far)?;
/// let clay = Formula::new("Clay", vec![Line::new("kaolin", shelf.material("kaolin")?.clone(), Ppm::WHOLE)?])?;
/// let asked = PurchaseRequest::new(offers).with_batch(PlannedBatch::new(clay, "2500 g".parse()?)?)?;
/// let purchase = asked.cheapest()?;
/// // Three packs and freight are 16, three from near by 15; a fourth from far away saves the freight.
/// assert_eq!(purchase.total().to_string(), "12");
/// assert!(purchase.is_cheapest());
/// assert_eq!(purchase.materials()[0].left_over.to_string(), "1500 g");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct PurchaseRequest {
    pub(super) offers: Offers,
    pub(super) stock: Option<Stock>,
    pub(super) batches: Vec<PlannedBatch>,
    pub(super) limit: u64,
    watch: Watched,
}

impl PurchaseRequest {
    /// From these offers, whose raw materials are named by id.
    #[must_use]
    pub fn new(offers: Offers) -> Self {
        PurchaseRequest { offers, stock: None, batches: Vec::new(), limit: USUAL_STEPS, watch: Watched::default() }
    }

    /// For a batch too.
    ///
    /// # Errors
    /// More batches than can be listed.
    pub fn with_batch(mut self, batch: PlannedBatch) -> Result<Self, Error> {
        Quantity::Planned.check(&counted(self.batches.len() + 1))?;
        self.batches.push(batch);
        Ok(self)
    }

    /// The offers.
    #[must_use]
    pub fn offers(&self) -> &Offers {
        &self.offers
    }

    /// With what is in stock, whose raw materials are named by id.
    #[must_use]
    pub fn with_stock(mut self, stock: Stock) -> Self {
        self.stock = Some(stock);
        self
    }

    /// With a search of up to so many steps, after which it gives the best found and how much cheaper another could be.
    ///
    /// # Errors
    /// No step at all.
    pub fn up_to_steps(mut self, steps: u64) -> Result<Self, Error> {
        if steps == 0 {
            return Err(Fault::new(FaultKind::OutOfRange, "a search of no steps finds nothing")
                .value(0)
                .allowed("at least 1")
                .into());
        }
        self.limit = steps;
        Ok(self)
    }

    /// Watched by someone who may stop it.
    #[must_use]
    pub fn watched_by(mut self, watch: Arc<dyn Watch>) -> Self {
        self.watch = Watched::by(watch);
        self
    }

    /// The cheapest purchase: whole packs at the price of their number, freight and tax included. Bought is only what
    /// the batches need beyond the stock, or more of it where that is cheaper. Of several that cost the same it is
    /// always the same one. What the stock covers is bought too where that saves freight; what no batch takes, itself or
    /// as a part of a premix, is never bought.
    ///
    /// A premix is taken from stock as far as it reaches. What is short of it is bought as such or made of its parts,
    /// whichever is cheaper, where both can be had; some of each is not looked at, so that [`Purchase::bound`] is then
    /// what everything else costs at least.
    ///
    /// # Errors
    /// No batch, every raw material that is short and not offered, more than a million packs of one kind, a lot with a
    /// last day where a batch has none, and stopped work.
    pub fn cheapest(&self) -> Result<Purchase, Error> {
        if self.batches.is_empty() {
            return Err(Fault::new(FaultKind::Missing, "nothing is planned")
                .at("batches")
                .remedy("say what is to be made")
                .into());
        }
        let mut best = self.buy(&|id| self.is_offered(id), &[], self.limit)?;
        // Where the watch ends the search, asked again with this limit it ends there too.
        let mut limit = best.found.limit;
        let (mut steps, mut made) = (best.found.steps, Vec::new());
        let choices = self.choices();
        let mut undecided: Vec<String> = Vec::new();
        let left = |limit: u64, steps: u64| limit.saturating_sub(steps).max(1);
        // One premix after the other is bought as such or made of its parts, whichever is cheaper after those before; one
        // that is made may need others.
        while let Some(premix) = choices.iter().find(|id| !undecided.contains(*id) && best.is_open(id, self)) {
            undecided.push(premix.clone());
            if !self.is_offered(premix) {
                continue;
            }
            let is_made = |id: &str| id == premix || made.contains(&id);
            match self.buy(&|id| self.is_offered(id) && !is_made(id), &[], left(limit, steps)) {
                Ok(bought) => {
                    limit = limit.min(steps + bought.found.limit);
                    steps += bought.found.steps;
                    if bought.found.cost < best.found.cost {
                        best = bought;
                        made.push(premix.as_str());
                    }
                }
                // It cannot be made of its parts alone.
                Err(error) if error.has(FaultKind::NotKnown) => {}
                Err(error) => return Err(error),
            }
        }
        // Some of it bought and some made is not looked at: no more is sure than what everything else costs.
        if !undecided.is_empty() {
            let as_such = |id: &str| self.is_offered(id) || undecided.iter().any(|premix| premix == id);
            let rest = self.buy(&as_such, &undecided, left(limit, steps))?;
            limit = limit.min(steps + rest.found.limit);
            steps += rest.found.steps;
            best.found.bound = rest.found.bound.min(best.found.bound);
        }
        best.found.steps = steps;
        self.purchase(best, undecided, limit)
    }

    fn is_offered(&self, id: &str) -> bool {
        self.offered(id).next().is_some()
    }

    /// The premixes that can be had as such and made of their parts: those on offer, and those in stock where lots have
    /// a last day, so that the order in which they are taken matters.
    fn choices(&self) -> IndexSet<String> {
        let in_stock = |id: &str| self.stock.as_ref().is_some_and(|stock| stock.names(id));
        let is_dated = self.stock.iter().flat_map(Stock::lots).any(|lot| lot.use_by().is_some());
        let is_choice = |id: &str| self.is_offered(id) || (is_dated && in_stock(id));
        let can_be_had = |id: &str| self.is_offered(id) || in_stock(id);
        let mut found = IndexSet::new();
        for line in self.batches.iter().flat_map(|batch| batch.formula().lines()) {
            can_be_made(line.material(), &can_be_had, &mut found);
        }
        found.retain(|id| is_choice(id));
        found
    }

    /// The cheapest packs, in up to so many steps, where these premixes are taken as such, and others made of their
    /// parts. Of what is `left_out` nothing is needed beyond the stock.
    fn buy(&self, as_such: &dyn Fn(&str) -> bool, left_out: &[String], steps: u64) -> Result<Bought, Error> {
        let suppliers = self.offers.suppliers();
        let packs = || suppliers.iter().flat_map(Supplier::packs);
        let (mut needed, taken) = needs(&self.batches, self.stock.as_ref(), as_such)?;
        for id in left_out {
            if let Some(need) = needed.get_mut(id) {
                need.grams = need.from_stock.clone();
            }
        }
        // What the stock covers, and parts of premixes that are taken as such, may be bought to be free of freight.
        let may_be_bought = |id: &str, need: &Needed| self.is_offered(id) && (as_such(id) || !need.is_premix());
        let short: Vec<(&String, Exact)> = needed
            .iter()
            .map(|(id, need)| (id, need, need.short()))
            .filter(|(id, need, short)| short.is_positive() || may_be_bought(id, need))
            .map(|(id, _, short)| (id, short))
            .collect();
        let mut faults = Vec::new();
        for (id, short) in short.iter().filter(|(id, _)| !packs().any(|pack| pack.material() == *id)) {
            let fault = Fault::new(FaultKind::NotKnown, "it is short and nobody offers it")
                .at(shown(id))
                .value(format!("{} g", short.rounded_text(2)));
            faults.push(match nearest(id, packs().map(Pack::material)) {
                Some(alike) => {
                    fault.remedy(format!("add a pack of it; {alike:?} is offered: is this raw material meant?"))
                }
                None => fault.remedy("add a pack of it to the offers"),
            });
        }
        Error::check(faults, ())?;
        let shops: Vec<Shop> = suppliers.iter().map(|supplier| self.shop(supplier)).collect();
        let needs: Vec<Need> =
            short.iter().map(|(id, grams)| Need { grams: grams.clone(), wares: self.wares(id) }).collect();
        for (need, (id, _)) in needs.iter().zip(&short) {
            Quantity::PackSizes.check(&counted(need.wares.len())).map_err(|error| error.within(&format!("{id:?}")))?;
            for ware in need.wares.iter().filter(|_| need.grams.is_positive()) {
                let packs = Exact::from(ware.enough(&need.grams));
                Quantity::Packs
                    .check(&packs)
                    .map_err(|error| error.within(&format!("packs of {id:?} with {} g", ware.grams)))?;
            }
        }
        let found = cheapest(&shops, &needs, steps, &self.watch)?;
        let looked_at = short.into_iter().map(|(id, _)| id.clone()).collect();
        Ok(Bought { needed, taken, looked_at, found })
    }

    fn purchase(&self, best: Bought, undecided: Vec<String>, limit: u64) -> Result<Purchase, Error> {
        let Bought { needed, taken, looked_at, found } = best;
        let counts: IndexMap<&str, Vec<u32>> = looked_at.iter().map(String::as_str).zip(found.packs).collect();
        let orders = self.orders(&counts)?;
        let is_listed = |(id, need): &(String, Needed)| {
            need.grams.is_positive()
                || orders.iter().flat_map(|order: &Order| &order.rows).any(|row| row.material == *id)
        };
        let listed: Vec<(String, Needed)> = needed.into_iter().filter(is_listed).collect();
        let as_such = listed.iter().filter(|(_, need)| need.is_premix()).map(|(id, _)| id.clone()).collect();
        let materials =
            listed.into_iter().map(|(id, need)| material(id, need, &orders)).collect::<Result<Vec<_>, Error>>()?;
        let request = PurchaseRequest { watch: Watched::default(), limit, ..self.clone() };
        Ok(Purchase {
            request,
            orders,
            materials,
            lots: self.lots_used(&taken)?,
            total: found.cost,
            bound: found.bound,
            steps: found.steps,
            as_such,
            undecided,
        })
    }

    fn lots_used(&self, taken: &[Exact]) -> Result<Vec<LotUse>, Error> {
        let lots = self.stock.as_ref().map_or(&[][..], Stock::lots);
        let used = lots.iter().zip(taken).filter(|(_, taken)| taken.is_positive());
        used.map(|(lot, taken)| {
            Ok(LotUse {
                material: lot.material().to_string(),
                lot: lot.name().map(str::to_string),
                taken: Mass::new(taken, MassUnit::Gram)?,
                left: Mass::new(&(lot.left().grams() - taken), MassUnit::Gram)?,
            })
        })
        .collect()
    }

    fn shop(&self, supplier: &Supplier) -> Shop {
        let paid = |net: &Exact| self.offers.converted(supplier, &supplier.with_tax_on(net));
        Shop {
            freight: supplier.freight().map(paid).unwrap_or_default(),
            free_from: supplier.free_of_freight_from().map(paid),
        }
    }

    /// Every pack of a raw material, in the order of the offers.
    fn offered<'a>(&'a self, material: &'a str) -> impl Iterator<Item = (usize, &'a Pack)> {
        let of_supplier = move |(shop, supplier): (usize, &'a Supplier)| {
            supplier.packs().iter().filter(move |pack| pack.material() == material).map(move |pack| (shop, pack))
        };
        self.offers.suppliers().iter().enumerate().flat_map(of_supplier)
    }

    fn wares(&self, material: &str) -> Vec<Ware> {
        let ware = |(shop, pack): (usize, &Pack)| {
            let supplier = &self.offers.suppliers()[shop];
            let step =
                |(from, price): &(u32, Exact)| (*from, self.offers.converted(supplier, &supplier.with_tax_on(price)));
            Ware { shop, grams: pack.size().grams().clone(), steps: pack.steps().iter().map(step).collect() }
        };
        self.offered(material).map(ware).collect()
    }

    /// The orders, of these counts of every pack of a raw material, by supplier.
    fn orders(&self, counts: &IndexMap<&str, Vec<u32>>) -> Result<Vec<Order>, Error> {
        let mut orders = Vec::new();
        for (shop, supplier) in self.offers.suppliers().iter().enumerate() {
            let mut rows = Vec::new();
            for (material, counts) in counts {
                for ((of, pack), count) in self.offered(material).zip(counts) {
                    if of == shop && *count > 0 {
                        rows.push(OrderRow {
                            material: (*material).to_string(),
                            size: pack.size().clone(),
                            packs: *count,
                            price: pack.price_each(*count).clone(),
                            cost: pack.price_of(*count)?,
                        });
                    }
                }
            }
            if !rows.is_empty() {
                let goods: Exact = rows.iter().map(|row| &row.cost).sum();
                let freight = supplier.freight_on(&goods);
                let net = &goods + &freight;
                let total = supplier.with_tax_on(&net);
                orders.push(Order {
                    supplier: supplier.name().to_string(),
                    currency: supplier.currency().to_string(),
                    rows,
                    tax: &total - &net,
                    counted: self.offers.converted(supplier, &total),
                    goods,
                    freight,
                    total,
                });
            }
        }
        Ok(orders)
    }
}

/// What is needed, what is taken of each lot, the raw materials whose packs were looked at, and how many are bought.
struct Bought {
    needed: IndexMap<String, Needed>,
    taken: Vec<Exact>,
    looked_at: Vec<String>,
    found: Cheapest,
}

impl Bought {
    /// Whether something else could be done about a premix: it is short, or, where nobody offers it, in stock.
    fn is_open(&self, id: &str, request: &PurchaseRequest) -> bool {
        self.needed.get(id).is_some_and(|need| {
            need.short().is_positive() || (need.from_stock.is_positive() && !request.is_offered(id))
        })
    }
}

/// Whether a material is a premix whose every part can be had or made; all such within it are put `into` a set.
fn can_be_made(material: &Material, can_be_had: &dyn Fn(&str) -> bool, into: &mut IndexSet<String>) -> bool {
    let mut all = !material.composition().parts().is_empty();
    for (part, _) in material.composition().parts() {
        all &= can_be_made(part, can_be_had, into) || can_be_had(part.id());
    }
    if all {
        into.insert(material.id().to_string());
    }
    all
}

fn material(id: String, need: Needed, orders: &[Order]) -> Result<MaterialPurchase, Error> {
    let mass = |grams: &Exact| Mass::new(grams, MassUnit::Gram).map_err(|error| error.within(&id));
    let rows = orders.iter().flat_map(|order| &order.rows).filter(|row| row.material == id);
    let bought: Exact = rows.map(|row| row.size.grams() * Exact::from(row.packs)).sum();
    Ok(MaterialPurchase {
        name: need.material.name().to_string(),
        needed: mass(&need.grams)?,
        from_stock: mass(&need.from_stock)?,
        bought: mass(&bought)?,
        left_over: mass(&(&bought + &need.from_stock - &need.grams))?,
        material: id,
    })
}

/// One kind of pack that is bought, in the supplier's currency.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct OrderRow {
    /// The raw material.
    pub material: String,
    /// What is in a pack.
    pub size: Mass,
    /// How many.
    pub packs: u32,
    /// What each costs, before tax.
    pub price: Exact,
    /// What they cost together, before tax.
    pub cost: Exact,
}

/// What is bought of one supplier, in the supplier's currency.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Order {
    /// The supplier.
    pub supplier: String,
    /// The currency of the invoice.
    pub currency: String,
    /// The packs.
    pub rows: Vec<OrderRow>,
    /// What the packs cost together, before tax.
    pub goods: Exact,
    /// The freight, before tax.
    pub freight: Exact,
    /// The tax on goods and freight.
    pub tax: Exact,
    /// What is to be paid.
    pub total: Exact,
    /// What is to be paid, in the currency of the offers.
    pub counted: Exact,
}

/// Where a raw material comes from.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct MaterialPurchase {
    /// The raw material's id.
    pub material: String,
    /// Its name.
    pub name: String,
    /// What the batches need of it.
    pub needed: Mass,
    /// What the stock gives.
    pub from_stock: Mass,
    /// What is in the packs bought.
    pub bought: Mass,
    /// What of them is left when the batches are made.
    pub left_over: Mass,
}

/// What is taken of a lot in stock.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct LotUse {
    /// The raw material.
    pub material: String,
    /// The name of the lot, if it has one.
    pub lot: Option<String>,
    /// What is taken.
    pub taken: Mass,
    /// What is left of it.
    pub left: Mass,
}

/// The cheapest purchase for a set of batches, or the best that a search found: a shopping list by supplier.
#[derive(Clone, Debug, PartialEq)]
pub struct Purchase {
    pub(super) request: PurchaseRequest,
    orders: Vec<Order>,
    materials: Vec<MaterialPurchase>,
    lots: Vec<LotUse>,
    total: Exact,
    bound: Exact,
    steps: u64,
    /// Premixes that are taken from stock or bought.
    as_such: Vec<String>,
    /// Premixes of which some could be bought and some made.
    undecided: Vec<String>,
}

getters!(Purchase {
    /// What was asked.
    request: &PurchaseRequest,
    /// What is bought, by supplier.
    orders: &[Order],
    /// Where each raw material comes from, in the order in which the batches first need it.
    materials: &[MaterialPurchase],
    /// What is taken of the lots in stock.
    lots: &[LotUse],
    /// What is to be paid in all, freight and tax included.
    total: &Exact,
    /// No purchase of what the batches take costs less than this.
    bound: &Exact,
    /// How many steps the search took.
    steps: u64,
});

impl Purchase {
    /// The currency of the total.
    #[must_use]
    pub fn currency(&self) -> &str {
        self.request.offers.currency()
    }

    /// By how much another could be cheaper: 0 where none is.
    #[must_use]
    pub fn gap(&self) -> Exact {
        &self.total - &self.bound
    }

    /// True where no purchase of what the batches take is cheaper, which the search then has proved.
    #[must_use]
    pub fn is_cheapest(&self) -> bool {
        self.total == self.bound
    }

    /// How many it might have taken; where its watch ended it, how many that were.
    #[must_use]
    pub fn step_limit(&self) -> u64 {
        self.request.limit
    }

    /// What to know: lots that could not be used, lots that stand for another one, premixes that are taken as such,
    /// freight and tax that nobody stated, and whether it is proved.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = Vec::new();
        if !self.is_cheapest() {
            let premixes = self.undecided.iter().map(|premix| {
                format!("{premix:?} can be had as such and made of its parts, and some of each was not looked at")
            });
            let ended = (self.steps >= self.step_limit() || self.undecided.is_empty())
                .then(|| format!("the search ended after {}", so_many(self.steps, "step", "steps")));
            let why: Vec<String> = premixes.chain(ended).collect();
            notes.push(format!(
                "not proved: {}, and another purchase could be cheaper by up to {} {}",
                why.join(", "),
                self.gap().rounded_text(2),
                self.currency()
            ));
        }
        notes.extend(self.as_such.iter().map(|premix| {
            format!("the premix {premix:?} is taken as such, from stock or bought, in the grams that are listed for it")
        }));
        for lot in self.request.stock.iter().flat_map(Stock::lots) {
            let late =
                self.request.batches.iter().filter(|batch| lot.is_usable(batch.day()).is_ok_and(|usable| !usable));
            let named = |batch: &PlannedBatch| {
                let day = batch.day().map_or_else(String::new, |day| format!(" on {day}"));
                format!("{:?}{day}", batch.formula().title())
            };
            let late: Vec<String> = late.map(named).collect();
            if let (Some(day), false) = (lot.use_by(), late.is_empty()) {
                notes.push(format!("{} is to be used by {day}, so it is none for {}", lot.words(), late.join(", ")));
            }
        }
        if let Some(stock) = &self.request.stock {
            notes.extend(other_lots(stock, self.request.batches.iter().map(PlannedBatch::formula)));
        }
        for supplier in self
            .request
            .offers
            .suppliers()
            .iter()
            .filter(|supplier| self.orders.iter().any(|order| order.supplier == supplier.name()))
        {
            for (what, is_stated) in [("freight", supplier.freight().is_some()), ("tax", supplier.tax().is_some())] {
                if !is_stated {
                    notes.push(format!("the {what} of {:?} is not stated and counts as none", supplier.name()));
                }
            }
        }
        notes
    }
}
