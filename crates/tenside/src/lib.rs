//! Formulas of solid shampoos and other surfactant products, for people who formulate and script.
//!
//! Describe raw materials as they are (typical shares with ranges, lots with their certificates), ask for a formula
//! (splits, ranges, requirements, an objective), get one that is proved for the compositions given or the requirements
//! that cannot hold together, read it by any measure with the interval that the composition ranges allow, and weigh it
//! out.
//!
//! ```
//! use tenside::prelude::*;
//!
//! let catalogue = Catalogue::starter();
//! let brief = Brief::new("Salt-marsh bar", &catalogue)?
//!     .split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])?
//!     .fix("panthenol", "1.5")?
//!     .fix("benzyl-alcohol-dha-blend", "0.8")?
//!     .fix("citric-acid-50", "0.3")?
//!     .fix("rosemary-oil", "0.6")?
//!     .between("cetyl-alcohol", 3, 6)?
//!     .qs("kaolin")?
//!     .target(Measure::active_matter(), 58)?
//!     .at_most(Measure::water(), 9)?;
//! let answer = brief.solve()?;
//! answer.verify()?;
//!
//! let formula = answer.formula()?;
//! assert_eq!(formula.lines().iter().map(|line| line.percent().parts()).sum::<u32>(), 1_000_000);
//! let active = formula.measure(&Measure::active_matter(), &Basis::AsCharged)?;
//! assert_eq!(active.value.unwrap().typical.unwrap().rounded_text(2), "58.00");
//! # Ok::<(), tenside::Error>(())
//! ```
//!
//! # A path through it
//!
//! 1. [`prelude`] brings what most programs need.
//! 2. [`catalogue`] reads raw materials from TOML, JSON or CSV, merges them, and has the starter catalogue; a raw
//!    material with its composition and lots is a [`material`], what it consists of a [`substance`].
//! 3. [`brief`] is the question: lines, splits, requirements and an objective. Numbers are integers, text, decimals or
//!    exact fractions.
//! 4. [`solve`] gives the answer with its proof, or the conflict with what each requirement would have to give.
//! 5. [`formula`] is what is weighed; [`measure`] what can be read off it, on which basis, with which interval.
//! 6. [`batch`], [`cost`], [`ph`], [`review`] with its [`rule`]s, [`label`] and [`exposure`] are what is done with a
//!    formula.
//! 7. `sweep` answers many briefs at once, into columns.
//! 8. [`document`] is how questions and results leave and come back, [`error`] what is said when something is wrong.
//!
//! For a smaller build, `default-features = false` and any of these:
//!
//! | feature | what it adds |
//! |---|---|
//! | `sweep` | many formulas at once: axes, tables, streams, samples |
//! | `schema` | the JSON Schemas of documents |
//! | `trial` | which bars to press next |
//! | `statistics` | weights of bars, drying and use, with how sure they are |
//! | `html` | tables, pages and batch sheets as HTML |
//!
//! What it proves is arithmetic on the compositions given. It says nothing of foam, feel or stability, and it replaces
//! no safety data sheet, local rule or qualified assessment.

#![forbid(unsafe_code)]
#![deny(clippy::dbg_macro, clippy::print_stderr, clippy::print_stdout)]
#![cfg_attr(
    not(all(feature = "statistics", feature = "sweep", feature = "trial")),
    allow(
        dead_code,
        unused_imports,
        reason = "some of what sweeps, statistics and trials alone use stands below them"
    )
)]

#[macro_use]
mod getters;

pub mod batch;
pub mod bounds;
pub mod brief;
pub mod catalogue;
pub mod cost;
pub mod document;
pub mod error;
pub mod exposure;
pub mod formula;
pub mod label;
pub mod material;
pub mod measure;
mod memo;
pub mod number;
pub mod ph;
pub mod reading;
pub mod render;
pub mod review;
pub mod rule;
pub mod solve;
pub mod substance;
#[cfg(feature = "sweep")]
pub mod sweep;
#[cfg(feature = "trial")]
pub mod trial;
pub mod watch;

pub use error::Error;
/// The decimal that a person types, as this library takes it.
pub use rust_decimal::Decimal;

/// What most programs need.
pub mod prelude {
    pub use crate::Decimal;
    pub use crate::batch::{BatchSize, Scales, SheetFormat};
    pub use crate::brief::{Brief, BriefLine, Direction, Objective, Parameter, Requirement, Role, SplitBasis};
    pub use crate::catalogue::{Catalogue, CsvOptions, Filter, PriceList, TableOptions, TableText, Winner};
    pub use crate::document::{Materials, Notation, ResultDocument};
    pub use crate::error::{Error, Fault, FaultKind};
    pub use crate::exposure::ExposureRequest;
    pub use crate::formula::{Formula, Line, Phase};
    pub use crate::label::{Contact, Label, LabelRequest, ScentDeclaration, ScentNames};
    pub use crate::material::{Certificate, Composition, Constituent, Form, Lot, Material, StatedActive};
    pub use crate::measure::{Basis, Measure, Scope};
    pub use crate::number::{Date, Exact, Interval, Mass, MassUnit, Ppm, ToExact};
    pub use crate::ph::{Acid, Solution, Titration};
    pub use crate::reading::Reading;
    pub use crate::review::{Finding, Review, Reviewer};
    pub use crate::rule::{Certainty, Market, Placing, Product, RuleBook, RuleList, Severity, Use};
    pub use crate::solve::{Answer, ChoiceOutcome, Conflict, Outcome, RoundedOutcome, Steps};
    pub use crate::substance::{Attribute, Class, Substance};
    #[cfg(feature = "sweep")]
    pub use crate::sweep::{Axis, Stream, Sweep, Values, Varied};
}
