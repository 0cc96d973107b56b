//! What is offered, in stock, planned and worked out as documents, and back.

mod costing;
mod offers;
mod plan;
mod stock;

pub use costing::CostingDocument;
pub use offers::OffersDocument;
pub use plan::{BarsFromStockDocument, ProductMixDocument, PurchaseDocument};
pub use stock::StockDocument;
