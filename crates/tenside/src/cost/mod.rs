//! What a formula costs, what it is sold for, what is bought for it and what the stock is good for.
//!
//! Amounts of money are exact numbers in a currency that is stated. Nothing is converted without a stated rate, and no
//! price, tax, freight or expiry is guessed: a raw material without a price is refused by name, and freight or tax that
//! nobody stated is counted as none and said.
//!
//! ```
//! use tenside::cost::{CostRequest, Offers, Pack, Supplier};
//! use tenside::prelude::*;
//! let shelf = Catalogue::starter();
//! let depot = Supplier::new("Depot North", "EUR")?
//!     .with_pack(Pack::new("sci-powder", "1 kg".parse()?, 9)?.with_break(5, "8.10")?)?
//!     .with_pack(Pack::new("kaolin", "500 g".parse()?, "2.20")?)?;
//! let offers = Offers::new("EUR")?.with_supplier(depot)?.with_ids_of(&shelf)?;
//! let line = |id: &str, percent: &str| Line::new(id, shelf.material(id)?.clone(), Ppm::from_percent(percent)?);
//! let bar = Formula::new("Plain bar", vec![line("sci-powder", "60")?, line("kaolin", "40")?])?;
//! let bar = bar.with_prices(Some(std::sync::Arc::new(offers.price_list()?)));
//! let asked = CostRequest::new("2 kg".parse()?)?.with_bars(30)?.per_bar("wrapper", "0.12")?.per_batch("labour", 18)?;
//! let costing = bar.costing(&asked)?;
//! assert_eq!(costing.raw_materials().to_string(), "14.32");
//! assert_eq!(costing.total().to_string(), "35.92");
//! assert_eq!(costing.per_bar().unwrap().rounded_text(2), "1.20");
//! # Ok::<(), tenside::Error>(())
//! ```
//!
//! # Why
//! - Money is exact where it is typed, multiplied and summed, and rounded only on pages. A price per kilogram of a pack
//!   need not be a decimal (12.50 for 300 g): [`Offers::packs`] has it exact, and the price lists that briefs take,
//!   which hold decimals, are rounded at the sixth place.
//! - Margin and markup are two functions with two names, because people mean both by "35 %".
//! - Purchases are not put to `tenside_lp::mixed`: without freight every raw material is a small problem of its own,
//!   which one program of all of them hides, and freight that is saved from some value of goods on has a bound only
//!   when it is branched on. The search has a whole number of packs at every point and bounds everything left out by
//!   what it costs at least; where it ends early it says so, with the bound. It is tested against every purchase there
//!   is, and against HiGHS. Mixes are put to it, and [`ProductMix::verify`] checks their trees.
//! - Bought beyond what is needed is only what batches take, or what a premix in them is made of: a supplier's other raw
//!   materials are not bought to save freight. A pack has no last day of use; a lot in stock has.
//! - A premix of which something usable is in stock is taken as such; of a batch, before it is made of its parts. A
//!   purchase looks at what is short of it bought as such and made of its parts, but not at some of each, which would
//!   tie the needs of raw materials to each other: then it proves no more than what everything else costs.

mod change;
mod costing;
mod document;
mod from_stock;
mod mix;
mod need;
mod offer;
mod page;
mod purchase;
mod search;
mod selling;
mod stock;

pub use change::{PriceEffect, price_effects};
pub use costing::{CostBasis, CostRequest, Costing, ExtraCost, LineCost};
pub use document::{
    BarsFromStockDocument, CostingDocument, OffersDocument, ProductMixDocument, PurchaseDocument, StockDocument,
};
pub use from_stock::{BarsFromStock, MaterialInStock};
pub use mix::{MixMaterial, MixRow, PlannedProduct, ProductMix, USUAL_NODES};
pub use need::PlannedBatch;
pub use offer::{Offers, Pack, PackPrice, Supplier};
pub use page::price_effects_page;
pub use purchase::{LotUse, MaterialPurchase, Order, OrderRow, Purchase, PurchaseRequest, USUAL_STEPS};
pub use selling::{break_even, price_from_margin, price_from_markup};
pub use stock::{Stock, StockLot};
