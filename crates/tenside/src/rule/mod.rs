//! Rules as data: when a rule is asked, what has to hold, and who says so; and their evaluation.
//!
//! A rule is a measure (or a stated fact) and a limit, as a brief's requirement is; it reads the same compiled terms. With
//! `e = factor N - t D` of each raw material, greatest, typical and least over its compositions, a formula of shares `x_j` exceeds the
//! limit `t` for every composition if `sum x_j least_j > 0`, for typical ones if `sum x_j typical_j > 0`, and for some if
//! `sum x_j greatest_j > 0`. The terms are worked out once for each raw material; a formula is then judged by adding them up.
//!
//! What a rule says is what its source says as of the list's date. No rule says that something is allowed.

mod compare;
mod compile;
mod condition;
mod document;
mod each;
mod group;
mod judge;
mod list;
mod prepared;
mod product;
mod read;
mod starter;
mod sums;
mod thresholds;
mod undissociated;
mod verdict;
mod words;

pub use condition::{Condition, EachCheck, Limit, LimitValue, Measurand, Varied};
pub use document::RulesDocument;
pub use group::Group;
pub use judge::Judge;
pub use list::{Rule, RuleBook, RuleList};
pub use product::{Product, ScentLimit};
pub use thresholds::Thresholds;
pub use undissociated::undissociated_percent;
pub use verdict::{Judged, Value, Verdict, WhyUnchecked};
pub use words::{Bound, Certainty, Each, Fact, JudgedOn, Mark, Market, Placing, Severity, Storage, Use};
