//! Money: what is offered, in stock and bought, what a formula costs, what it is sold for.

pub(crate) mod costing;
pub(crate) mod offers;
pub(crate) mod purchase;
pub(crate) mod selling;
pub(crate) mod stock;
