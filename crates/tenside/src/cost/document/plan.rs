//! Purchases, what the stock is good for and mixes as documents, and back.

use super::super::from_stock::{BarsFromStock, MaterialInStock};
use super::super::mix::{MixMaterial, MixRow, PlannedProduct, ProductMix};
use super::super::need::PlannedBatch;
use super::super::purchase::{LotUse, MaterialPurchase, Order, OrderRow, Purchase, PurchaseRequest};
use super::offers::{OffersDocument, read_offers};
use super::stock::{StockDocument, read_stock};
use crate::bounds::Quantity;
use crate::catalogue::{Catalogue, read_back};
use crate::document::{Materials, Notation, Number, TableView, form, forms, restore, written};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{FormulaDocument, read_formula};

written! {
    /// A batch that is to be made.
    struct PlannedBatchDocument {
        /// The formula.
        formula: FormulaDocument,
        /// Grams weighed in.
        grams: Number,
        /// The day.
        #[serde(skip_serializing_if = "Option::is_none")]
        on: Option<String>,
    }
}

impl PlannedBatchDocument {
    fn of(batch: &PlannedBatch, materials: Materials) -> Self {
        let formula = FormulaDocument::of(batch.formula(), materials);
        PlannedBatchDocument { formula, grams: batch.charged().into(), on: batch.day().map(|day| day.to_string()) }
    }
}

fn read_batch(view: &TableView<'_>, catalogue: &Catalogue) -> Option<PlannedBatch> {
    let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
    let (grams, day) = (view.needed("grams", |view| view.grams("grams")), view.date("on"));
    let batch = view.accept("grams", PlannedBatch::new(formula?, grams?))?;
    Some(match day {
        Some(day) => batch.on(day),
        None => batch,
    })
}

/// A limit of a search, which documents hold as a whole number.
fn read_limit(view: &TableView<'_>, key: &'static str) -> Option<u64> {
    let limit = view.needed(key, |view| view.exact(key, None))?;
    let fault =
        Fault::new(FaultKind::OutOfRange, "not a limit of a search").value(&limit).allowed("a whole number from 1 on");
    view.accept(
        key,
        limit
            .to_whole()
            .and_then(|limit| u64::try_from(limit).ok())
            .filter(|limit| *limit > 0)
            .ok_or_else(|| fault.into()),
    )
}

form! {
    /// A kind of pack that is bought.
    OrderRowDocument of OrderRow, |it| {
        /// The raw material.
        material: String,
        /// Grams in a pack.
        grams: Number = (&it.size).into(),
        /// How many packs.
        packs: u32,
        /// What each costs, before tax.
        price: Number,
        /// What they cost together, before tax.
        cost: Number,
    }
}

form! {
    /// What is bought of one supplier.
    OrderDocument of Order, |it| {
        /// The supplier.
        supplier: String,
        /// The currency of the invoice.
        currency: String,
        /// The packs.
        rows: Vec<OrderRowDocument> = forms(&it.rows),
        /// What the packs cost, before tax.
        goods: Number,
        /// The freight, before tax.
        freight: Number,
        /// The tax on goods and freight.
        tax: Number,
        /// What is to be paid.
        total: Number,
        /// What is to be paid, in the currency of the offers.
        counted: Number,
    }
}

form! {
    /// Where a raw material comes from.
    MaterialPurchaseDocument of MaterialPurchase, |it| {
        /// The raw material.
        material: String,
        /// Its name.
        name: String,
        /// Grams that the batches need.
        needed: Number,
        /// Grams from stock.
        from_stock: Number,
        /// Grams in the packs bought.
        bought: Number,
        /// Grams left when the batches are made.
        left_over: Number,
    }
}

form! {
    /// What is taken of a lot.
    LotUseDocument of LotUse, |it| {
        /// The raw material.
        material: String,
        /// The name of the lot.
        lot: Option<String>,
        /// Grams taken.
        taken: Number,
        /// Grams left of it.
        left: Number,
    }
}

form! {
    /// The cheapest purchase for a set of batches, or the best that a search found.
    PurchaseDocument of Purchase as "purchase/1", |it, materials| {
        /// What is offered.
        offers: OffersDocument = it.request().offers.form(materials)?,
        /// What is in stock.
        #[serde(skip_serializing_if = "Option::is_none")]
        stock: Option<StockDocument> = it.request().stock.as_ref().map(|stock| stock.form(materials)).transpose()?,
        /// What is to be made.
        batches: Vec<PlannedBatchDocument> = it.request().batches.iter().map(|batch| PlannedBatchDocument::of(batch, materials)).collect(),
        /// How many steps the search might take.
        step_limit: u64,
        /// The currency of the total.
        currency: String,
        /// What is bought, by supplier.
        orders: Vec<OrderDocument> = forms(it.orders()),
        /// Where each raw material comes from.
        materials: Vec<MaterialPurchaseDocument> = forms(it.materials()),
        /// What is taken of the lots in stock.
        lots: Vec<LotUseDocument> = forms(it.lots()),
        /// What is to be paid in all.
        total: Number,
        /// No purchase costs less.
        bound: Number,
        /// True where no purchase is cheaper.
        is_cheapest: bool,
        /// How many steps the search took.
        steps: u64,
        /// What to know.
        notes: Vec<String>,
    }
}

read_back! {
    /// Reads a purchase back.
    Purchase, &["offers", "stock", "batches", "step_limit"], |view, catalogue, watch| {
        let offers =
            view.needed("offers", |view| view.table("offers", |view| read_part(view, "offers/1", read_offers)));
        let stock = view.table("stock", |view| read_part(view, "stock/1", read_stock));
        let batches = view.tables("batches", |view| read_batch(view, catalogue));
        let limit = read_limit(view, "step_limit");
        let mut request = PurchaseRequest::new(offers?).watched_by(watch);
        if let Some(stock) = stock {
            request = request.with_stock(stock);
        }
        for batch in batches {
            request = view.accept("batches", request.with_batch(batch))?;
        }
        view.accept("batches", request.up_to_steps(limit?).and_then(|request| request.cheapest()))
    }
}

/// A document inside another one.
fn read_part<T>(view: &TableView<'_>, kind: &'static str, read: impl FnOnce(&TableView<'_>) -> Option<T>) -> Option<T> {
    view.version(kind);
    read(view)
}

form! {
    /// What the stock gives of one raw material.
    MaterialInStockDocument of MaterialInStock, |it| {
        /// The raw material.
        material: String,
        /// Grams that may be used on the day.
        usable: Number,
        /// Grams that one bar takes.
        per_bar: Number,
        /// For how many bars it would be enough alone.
        bars: u64,
        /// Grams left when as many bars are made as all allow.
        left: Number,
    }
}

form! {
    /// How many bars of a formula the stock is good for.
    BarsFromStockDocument of BarsFromStock as "bars-from-stock/1", |it, materials| {
        /// The formula.
        formula: FormulaDocument = FormulaDocument::of(it.formula(), materials),
        /// What is in stock.
        stock: StockDocument = it.stock.form(materials)?,
        /// Grams weighed in for one bar.
        grams: Number = (&it.charged).into(),
        /// The day.
        #[serde(skip_serializing_if = "Option::is_none")]
        on: Option<String> = it.on.map(|day| day.to_string()),
        /// How many bars.
        bars: u64,
        /// What is too little for one bar more.
        runs_out_first: Vec<String> = it.runs_out_first().into_iter().map(str::to_string).collect(),
        /// Every raw material.
        materials: Vec<MaterialInStockDocument> = forms(it.materials()),
        /// What to know.
        notes: Vec<String>,
    }
}

impl BarsFromStock {
    /// Reads it back. It is believed where working it out again gives just what it says; see
    /// [`crate::document::ResultDocument`].
    ///
    /// # Errors
    /// Every fault of the question with line and column; else everything that is not what comes of it.
    pub fn read(text: &str, notation: Notation, catalogue: &Catalogue) -> Result<Self, Error> {
        restore(text, notation, &["formula", "stock", "grams", "on"], |view| {
            let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
            let stock = view.needed("stock", |view| view.table("stock", |view| read_part(view, "stock/1", read_stock)));
            let (grams, day) = (view.needed("grams", |view| view.grams("grams")), view.date("on"));
            view.accept("stock", formula?.bars_from_stock(&stock?, &grams?, day))
        })
    }
}

written! {
    /// A product that could be made.
    struct PlannedProductDocument {
        /// The formula.
        formula: FormulaDocument,
        /// Grams weighed in for one piece.
        grams: Number,
        /// What one is worth.
        value: Number,
        /// How many can be sold.
        #[serde(skip_serializing_if = "Option::is_none")]
        most: Option<u32>,
    }
}

impl PlannedProductDocument {
    fn of(product: &PlannedProduct, materials: Materials) -> Self {
        let formula = FormulaDocument::of(product.formula(), materials);
        PlannedProductDocument {
            formula,
            grams: product.charged().into(),
            value: product.value().into(),
            most: product.most(),
        }
    }
}

fn read_product(view: &TableView<'_>, catalogue: &Catalogue) -> Option<PlannedProduct> {
    let formula = view.needed("formula", |view| view.table("formula", |view| read_formula(view, catalogue)));
    let grams = view.needed("grams", |view| view.grams("grams"));
    let (value, most) = (view.needed("value", |view| view.exact("value", Some(Quantity::Amount))), view.whole("most"));
    let product = view.accept("value", PlannedProduct::new(formula?, grams?, value?))?;
    match most {
        Some(most) => view.accept("most", product.at_most(most)),
        None => Some(product),
    }
}

form! {
    /// What a product comes to in a mix.
    MixRowDocument of MixRow, |it| {
        /// The title of its formula.
        product: String,
        /// How many pieces.
        pieces: u64,
        /// What they are worth together.
        value: Number,
    }
}

form! {
    /// What a raw material comes to in a mix.
    MixMaterialDocument of MixMaterial, |it| {
        /// The raw material.
        material: String,
        /// Grams that may be used on the day.
        usable: Number,
        /// Grams used.
        used: Number,
        /// Grams left.
        left: Number,
    }
}

form! {
    /// The products of a stock that are worth the most together, or the best mix that a search found.
    ProductMixDocument of ProductMix as "product-mix/1", |it, materials| {
        /// What is in stock.
        stock: StockDocument = it.stock.form(materials)?,
        /// What could be made.
        products: Vec<PlannedProductDocument> = it.products.iter().map(|product| PlannedProductDocument::of(product, materials)).collect(),
        /// The day.
        #[serde(skip_serializing_if = "Option::is_none")]
        on: Option<String> = it.on.map(|day| day.to_string()),
        /// How many linear programs the search might solve.
        node_limit: usize,
        /// The currency of the values.
        currency: String,
        /// Each product.
        rows: Vec<MixRowDocument> = forms(it.rows()),
        /// Each raw material.
        materials: Vec<MixMaterialDocument> = forms(it.materials()),
        /// What they are worth together.
        value: Number,
        /// No mix is worth more.
        bound: Number,
        /// True where no mix is worth more.
        is_best: bool,
        /// How many linear programs the search took.
        nodes: usize,
        /// What to know.
        notes: Vec<String>,
    }
}

read_back! {
    /// Reads a mix back.
    ProductMix, &["stock", "products", "on", "node_limit"], |view, catalogue, watch| {
        let stock = view.needed("stock", |view| view.table("stock", |view| read_part(view, "stock/1", read_stock)));
        let products = view.tables("products", |view| read_product(view, catalogue));
        let (day, limit) = (view.date("on"), read_limit(view, "node_limit"));
        let limit = usize::try_from(limit?).unwrap_or(usize::MAX);
        view.accept("products", stock?.best_mix_watched(&products, day, limit, watch))
    }
}
