//! Trials: which bars to press next so that they teach most.

mod design;
mod region;
mod terms;

pub use design::{Design, DesignDocument, DesignKind, DesignRequest, DesignedRun, MadeRun, PointKind};
pub use region::BriefRegion;
pub use terms::{Blend, Crossing, ProcessOrder, ProcessVariable, Terms};
