//! Rules as data: when a rule is asked, what has to hold, and who says so; and their evaluation.
//!
//! A rule is a measure (or a stated fact) and a limit, as a brief's requirement is; it reads the same compiled terms.
//! With `e = factor N - t D` of each raw material, greatest, typical and least over its compositions, a formula of
//! shares `x_j` exceeds the limit `t` for every composition if `sum x_j least_j > 0`, for typical ones if
//! `sum x_j typical_j > 0`, and for some if `sum x_j greatest_j > 0`. The terms are worked out once for each raw
//! material; a formula is then judged by adding them up.
//!
//! What a rule says is what its source says as of the list's date. No rule says that something is allowed.
//!
//! An entry of law says its `status`, its `act`, its days, its `mark`, and by what it covers substances that it does
//! not name (`membership`); an error rests on nothing from memory. A limit of one purpose names the `purpose`, and how
//! grave it is where that is not stated. What no rule judges is a `[[status]]` of the list; names without an entry
//! stand under `[[searched]]`, with where that was looked for.
//!
//! # Why
//! - A rule is compiled like a requirement (`rule/prepared.rs`). A formula adds its terms up in `f64` with an error
//!   bound, and exactly where the sign is open, so that a limit met exactly is met. Only what differs from `-t D`
//!   is stored, since most raw materials bring nothing to most rules. A test compares every verdict with the exact
//!   measures over arbitrary formulas. Measured: 30 µs for a review of fourteen lines with some 160 checks,
//!   asked again from Python.
//! - Certain needs the end that settles it to be stated. Possible: some composition inside stated ranges breaks the
//!   rule, or it is broken only bone-dry, or only if the product is what is not stated (a narrower use, placing,
//!   storage). Typical only: typical compositions break it and the end is not stated. Typical compositions that
//!   keep it with an end not stated are no finding; such checks are counted and reported.
//! - Limits in percent are judged as charged and finished at the stated moisture: one finding per rule, the most
//!   certain one, as charged first. A moisture above the water charged is not judged and is listed so.
//! - A use level departed from by up to 1 % of itself is no finding: a pH correction thins everything by tenths of
//!   a percent.
//! - A rule list may name anything; a name that neither the embedded data nor the raw materials at hand know makes
//!   its rules unchecked, never silent. What cannot be asked is listed, never passed over.
//! - A day before a list's text is refused, as a label refuses days before its rules. Every list says what text it
//!   was taken from, and every finding names its list.
//! - What the law says of a substance is read off the rules that name it (`rule/status.rs`); a list states beside them
//!   what no rule judges, and of which substances nothing was found. A number stands once.
//! - An error rests on what was seen, of the entry and of its covering the substance; a test holds that. A limit of one
//!   purpose is an error where the purpose is stated, and as grave as its rule says where it is not. A rule of a later
//!   day is judged already and says from when: a warning at most.
//! - Bone-dry is a bound that nobody sells: a question, of solid products whose moisture is not stated.
//! - A scent or extract whose supplier leaves its constituents open makes no finding of each of their limits: one
//!   question asks for the declaration.
//! - Rules of which a formula holds nothing are passed over by their rows being blank: most are.

mod compare;
mod compile;
mod condition;
mod coverage;
mod document;
mod each;
mod group;
mod judge;
mod list;
mod net_content;
mod prepared;
mod product;
mod product_document;
mod read;
mod starter;
mod status;
mod statuses;
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
pub(crate) use net_content::net_rules;
#[cfg(feature = "statistics")]
pub(crate) use net_content::{NetRules, Plan};
pub use product::{MostScent, OneScent, Product, ScentLimit};
pub(crate) use product_document::{ProductDocument, read_product};
pub use status::{Act, Membership, Search, Searched, Statement, StatusKind};
pub(crate) use statuses::StatusIndex;
pub use statuses::{Status, StatusEntry};
pub use thresholds::Thresholds;
pub use undissociated::undissociated_percent;
pub use verdict::{Caveat, Judged, Value, Verdict, WhyUnchecked};
pub use words::{Bound, Certainty, Each, Fact, JudgedOn, Mark, Market, Placing, ProductForm, Severity, Storage, Use};
