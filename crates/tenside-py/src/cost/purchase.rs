//! The cheapest purchase for a set of batches, and what changed prices do.

use indexmap::IndexMap;
use pyo3::prelude::*;
use tenside::cost::{PurchaseRequest, USUAL_STEPS};
use tenside::render;

use crate::convert::failure::Outcome;
use crate::convert::input::{AMass, ByName, Day, Number, Several, numbers};
use crate::convert::output::{Fraction, Keywords};
use crate::convert::page::Page;
use crate::convert::running::watched;
use crate::convert::table::Rows;
use crate::cost::offers::Offers;
use crate::cost::stock::Stock;
use crate::formula::Formula;

/// A batch that is to be made: of what, the `mass` weighed in, and the day. Only what may be used on that day counts as
/// stock.
///
/// >>> td.cost.PlannedBatch(td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter()), "2 kg", on="2026-12-01")
/// PlannedBatch(formula="Clay", grams=2000, on=2026-12-01)
#[pyclass(frozen, eq, from_py_object, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct PlannedBatch(pub(crate) tenside::cost::PlannedBatch);

value!(PlannedBatch, |it| (it.formula().title(), it.charged()));

getters!(PlannedBatch {
    /// The formula.
    formula: Formula = |it| Formula(it.formula().clone());
    /// Grams weighed in.
    grams: Fraction = |it| Fraction(it.charged().grams().clone());
    /// The day, if stated.
    on: Option<String> = |it| it.day().map(|day| day.to_string());
});

#[pymethods]
impl PlannedBatch {
    #[new]
    #[pyo3(signature = (formula, mass, *, on=None))]
    fn new(formula: &Formula, mass: AMass, on: Option<Day>) -> Outcome<Self> {
        let batch = tenside::cost::PlannedBatch::new(formula.0.clone(), mass.0)?;
        Ok(PlannedBatch(match on {
            Some(day) => batch.on(day.0),
            None => batch,
        }))
    }

    fn __getnewargs_ex__<'py>(&self, py: Python<'py>) -> PyResult<((Formula, String), Keywords<'py>)> {
        let keywords = IndexMap::from([("on", self.on().into_pyobject(py)?.into_any())]);
        Ok(((self.formula(), self.0.charged().to_string()), keywords))
    }

    fn __repr__(&self) -> String {
        let on = self.0.day().map_or_else(String::new, |day| format!(", on={day}"));
        format!("PlannedBatch(formula={:?}, grams={}{on})", self.0.formula().title(), self.0.charged().grams())
    }
}

record! {
    "tenside.cost",
    /// One kind of pack that is bought, in the supplier's currency.
    OrderRow of &tenside::cost::OrderRow, |row| {
        /// The raw material.
        material: String = row.material.clone(),
        /// Grams in a pack.
        grams: Fraction = Fraction(row.size.grams().clone()),
        /// How many packs.
        packs: u32 = row.packs,
        /// What each costs, before tax.
        price: Fraction = Fraction(row.price.clone()),
        /// What they cost together, before tax.
        cost: Fraction = Fraction(row.cost.clone()),
    }
}

record! {
    "tenside.cost",
    /// What is bought of one supplier, in the supplier's currency.
    Order of &tenside::cost::Order, |order| {
        /// The supplier.
        supplier: String = order.supplier.clone(),
        /// The currency of the invoice.
        currency: String = order.currency.clone(),
        /// The packs.
        rows: Vec<OrderRow> = order.rows.iter().map(OrderRow::from).collect(),
        /// What the packs cost together, before tax.
        goods: Fraction = Fraction(order.goods.clone()),
        /// The freight, before tax.
        freight: Fraction = Fraction(order.freight.clone()),
        /// The tax on goods and freight.
        tax: Fraction = Fraction(order.tax.clone()),
        /// What is to be paid.
        total: Fraction = Fraction(order.total.clone()),
        /// What is to be paid, in the currency of the offers.
        counted: Fraction = Fraction(order.counted.clone()),
    }
}

record! {
    "tenside.cost",
    /// Where a raw material comes from; masses in grams.
    MaterialPurchase of &tenside::cost::MaterialPurchase, |material| {
        /// The raw material.
        material: String = material.material.clone(),
        /// Its name.
        name: String = material.name.clone(),
        /// What the batches need of it.
        needed: Fraction = Fraction(material.needed.grams().clone()),
        /// What the stock gives.
        from_stock: Fraction = Fraction(material.from_stock.grams().clone()),
        /// What is in the packs bought.
        bought: Fraction = Fraction(material.bought.grams().clone()),
        /// What of them is left when the batches are made.
        left_over: Fraction = Fraction(material.left_over.grams().clone()),
    }
}

record! {
    "tenside.cost",
    /// What is taken of a lot in stock, in grams.
    LotUse of &tenside::cost::LotUse, |lot| {
        /// The raw material.
        material: String = lot.material.clone(),
        /// The name of the lot, if it has one.
        lot: Option<String> = lot.lot.clone(),
        /// What is taken.
        taken: Fraction = Fraction(lot.taken.grams().clone()),
        /// What is left of it.
        left: Fraction = Fraction(lot.left.grams().clone()),
    }
}

/// The cheapest purchase for a set of batches, or the best that a search found: a shopping list by supplier.
///
/// >>> near = td.cost.Supplier("Near", [td.cost.Pack("kaolin", "1 kg", 5)], freight=0, tax=0)
/// >>> far = td.cost.Supplier("Far", [td.cost.Pack("kaolin", "1 kg", 3)], freight=7, free_from=12, tax=0)
/// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
/// >>> bought = td.cost.purchase([td.cost.PlannedBatch(clay, "2500 g")], td.cost.Offers([near, far]))
/// >>> bought.orders[0].supplier, bought.orders[0].rows[0].packs, bought.total, bought.is_cheapest
/// ('Far', 4, Fraction(12, 1), True)
#[pyclass(frozen, eq, module = "tenside.cost")]
#[derive(Clone, PartialEq)]
pub(crate) struct Purchase(pub(crate) tenside::cost::Purchase);

shown!(Purchase, |it| it.0.page());
value!(Purchase, |it| (it.currency(), it.total()));

document!(Purchase, |it| &it.0, back watched by tenside::cost::Purchase);

getters!(Purchase {
    /// The currency of the total.
    currency: String = |it| it.currency().to_string();
    /// What is bought, by supplier.
    orders: Rows<Order> = |it| it.orders().iter().map(Order::from).collect();
    /// Where each raw material comes from, in the order in which the batches first need it.
    materials: Rows<MaterialPurchase> = |it| it.materials().iter().map(MaterialPurchase::from).collect();
    /// What is taken of the lots in stock.
    lots: Rows<LotUse> = |it| it.lots().iter().map(LotUse::from).collect();
    /// What is to be paid in all, freight and tax included.
    total: Fraction = |it| Fraction(it.total().clone());
    /// No purchase of what the batches take costs less than this.
    bound: Fraction = |it| Fraction(it.bound().clone());
    /// By how much another could be cheaper: 0 where none is.
    gap: Fraction = |it| Fraction(it.gap());
    /// True if no purchase of what the batches take is cheaper, which the search then has proved.
    is_cheapest: bool = |it| it.is_cheapest();
    /// How many steps the search took.
    steps: u64 = |it| it.steps();
    /// How many it might have taken; where the clock ended it, how many that were.
    step_limit: u64 = |it| it.step_limit();
    /// What to know: lots that could not be used, premixes that are taken as such, freight and tax that nobody stated, and
    /// whether it is proved.
    notes: Vec<String> = |it| it.notes();
    /// The shopping list.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl Purchase {
    fn __repr__(&self) -> String {
        format!(
            "<Purchase from {} suppliers, {} {}>",
            self.0.orders().len(),
            self.0.total().rounded_text(2),
            self.0.currency()
        )
    }
}

/// The cheapest whole packs that the `offers` have for these `batches` beyond the `stock`: price breaks, freight and
/// tax included, exact and proved. Bought is only what the batches need, or more of it where that is cheaper; what the
/// stock covers is bought too where that saves freight, and what no batch takes, itself or as a part of a premix, never.
/// The search takes up to so many `steps` and about so many `seconds`; at either end it gives the best found, with
/// `bound` and `gap`.
///
/// A premix is taken from stock as far as it reaches. What is short of it is bought as such or made of its parts,
/// whichever is cheaper, where both can be had; some of each is not looked at, so that `bound` is then what everything
/// else costs at least.
#[pyfunction]
#[pyo3(signature = (batches, offers, *, stock=None, steps=None, seconds=None))]
pub(crate) fn purchase(
    py: Python<'_>,
    batches: Several<PlannedBatch>,
    offers: &Offers,
    stock: Option<&Stock>,
    steps: Option<u64>,
    seconds: Option<Number>,
) -> Outcome<Purchase> {
    let mut request = PurchaseRequest::new(offers.0.clone()).up_to_steps(steps.unwrap_or(USUAL_STEPS))?;
    for batch in batches.0 {
        request = request.with_batch(batch.0)?;
    }
    if let Some(stock) = stock {
        request = request.with_stock(stock.0.clone());
    }
    Ok(Purchase(watched(py, seconds.as_ref(), |watch| request.watched_by(watch).cheapest())?))
}

record! {
    "tenside.cost",
    /// What changed prices do to one formula.
    PriceEffect of tenside::cost::PriceEffect, |effect| {
        /// The title of the formula.
        formula: String = effect.formula,
        /// The currency.
        currency: String = effect.currency,
        /// What the raw materials of a kilogram cost before.
        before: Fraction = Fraction(effect.before),
        /// What they cost afterwards.
        after: Fraction = Fraction(effect.after),
        /// What is added.
        difference: Fraction = Fraction(effect.difference),
        /// The same in percent of what they cost before.
        percent: Option<Fraction> = effect.percent.map(Fraction),
    }
}

/// What changed prices per kilogram do to each of these formulas: what the raw materials of a kilogram cost before and
/// afterwards.
///
/// >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter(), prices={"sci-powder": 6, "kaolin": 2}, currency="EUR")
/// >>> [(row.formula, float(row.difference)) for row in td.cost.price_effects([bar], {"sci-powder": 7})]
/// [('Bar', 0.6)]
#[pyfunction]
pub(crate) fn price_effects(formulas: Several<Formula>, prices: ByName) -> Outcome<Rows<PriceEffect>> {
    let formulas: Vec<_> = formulas.0.into_iter().map(|formula| formula.0).collect();
    let effects = tenside::cost::price_effects(&formulas, numbers(Some(prices)))?;
    let page = tenside::cost::price_effects_page(&effects);
    Ok(effects
        .into_iter()
        .map(PriceEffect::from)
        .collect::<Rows<_>>()
        .shown(move || Ok::<render::Page, tenside::Error>(page.clone())))
}
