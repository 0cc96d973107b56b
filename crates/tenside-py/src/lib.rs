//! The Python face of `tenside`. It converts, forwards and documents; arithmetic and chemistry live in the core.
//!
//! # Why
//! - Python's sizes are not believed: what takes several things goes through them one by one up to a row of
//!   `bounds.rs` (`one_by_one`), and a table takes its memory with `try_reserve_exact`. Texts that a parser could
//!   be long at are read on a thread of their own, which Ctrl-C leaves behind: no parser can be stopped. Sweeps
//!   have threads of their own, new ones in a forked child. Elsewhere signals are looked for on the caller's own
//!   thread, since starting one takes as long as solving.
//! - The choice of lines is `Chosen`, since `Choice` is the way to answer a draft's question; no rounded formula or
//!   choice raises `NoFormula` with its `Unmet`. `substitute` and `candidates` look names up in the starter
//!   catalogue if none is given, since a formula carries none; what rests on it is marked as a draft.

#[macro_use]
mod convert;
mod brief;
mod cost;
mod formula;
mod material;
mod measure;
mod product;
mod read;
mod solve;
mod sweep;
mod trial;

/// The compiled half of the package `tenside`.
#[pyo3::pymodule]
mod _native {
    #[pymodule_export]
    use crate::brief::line::BriefRow;
    #[pymodule_export]
    use crate::brief::requirement::BriefRequirement;
    #[pymodule_export]
    use crate::brief::{Brief, BriefSplit};
    #[pymodule_export]
    use crate::convert::interval::Interval;
    #[pymodule_export]
    use crate::convert::page::Page;
    #[pymodule_export]
    use crate::convert::table::Table;
    #[pymodule_export]
    use crate::cost::costing::{Costing, ExtraCost, LineCost};
    #[pymodule_export]
    use crate::cost::offers::{Offers, Pack, PackPrice, Supplier};
    #[pymodule_export]
    use crate::cost::purchase::{
        LotUse, MaterialPurchase, Order, OrderRow, PlannedBatch, PriceEffect, Purchase, price_effects, purchase,
    };
    #[pymodule_export]
    use crate::cost::selling::{break_even, price_from_margin, price_from_markup};
    #[pymodule_export]
    use crate::cost::stock::{
        BarsFromStock, MaterialInStock, MixMaterial, MixRow, PlannedProduct, ProductMix, Stock, StockLot,
    };
    #[pymodule_export]
    use crate::formula::Formula;
    #[pymodule_export]
    use crate::formula::difference::{Difference, DifferenceLine};
    #[pymodule_export]
    use crate::formula::draft::{Choice, Draft, DraftDeparture, DraftLine, Question, Settled};
    #[pymodule_export]
    use crate::formula::expansion::ExpandedRow;
    #[pymodule_export]
    use crate::formula::history::{HistoryEntry, Parent, history};
    #[pymodule_export]
    use crate::formula::line::{Line, Phase};
    #[pymodule_export]
    use crate::formula::reading::Reading;
    #[pymodule_export]
    use crate::material::catalogue::Catalogue;
    #[pymodule_export]
    use crate::material::finding::{
        ListedWord, SearchHit, attributes, cautions, classes, forms, markets, product_uses,
    };
    #[pymodule_export]
    use crate::material::lot::Lot;
    #[pymodule_export]
    use crate::material::prices::PriceList;
    #[pymodule_export]
    use crate::material::substance::{Statement, Substance, SubstanceCharge, SubstanceMolarMass};
    #[pymodule_export]
    use crate::material::table::TableFault;
    #[pymodule_export]
    use crate::material::{CertificateChange, Constituent, Contained, Material, PhRange, UseLevel};
    #[pymodule_export]
    use crate::measure::Measure;
    #[pymodule_export]
    use crate::measure::basis::{Basis, finished};
    #[pymodule_export]
    use crate::measure::measured::Measured;
    #[pymodule_export]
    use crate::product::Product;
    #[pymodule_export]
    use crate::product::batch::{BarMasses, Batch, BatchNote, Pressed, Sheet, Weighing};
    #[pymodule_export]
    use crate::product::declaration::ScentDeclaration;
    #[pymodule_export]
    use crate::product::dough::{Dough, DoughShares, DoughTrial, dough_share};
    #[pymodule_export]
    use crate::product::drying::{DayWeight, DriedBar, DryingCurve, ReadyBar};
    #[pymodule_export]
    use crate::product::exposure::{Exposure, ProductType, product_types};
    #[pymodule_export]
    use crate::product::label::{
        KeepsOff, Label, LabelCheck, LabelItem, LabelQuestion, LeftOut, NetContent, ScentRow, scent_entries,
    };
    #[pymodule_export]
    use crate::product::made::{Made, MadeLine, MassBalance};
    #[pymodule_export]
    use crate::product::mould::{Mould, MouldedBar, Portioned, Portions};
    #[pymodule_export]
    use crate::product::ph::{PhDistance, PhWindow, PhWindowRow, Undissociated};
    #[pymodule_export]
    use crate::product::record::{BatchRecord, LotInBatch, ProductTest, RecordNote, Records, Step, TestResult};
    #[pymodule_export]
    use crate::product::rescue::{Addition, Rescue, Shortfall};
    #[pymodule_export]
    use crate::product::review::{Finding, Flag, Review, Reviewer, Unchecked};
    #[pymodule_export]
    use crate::product::rule::{Rule, RuleList};
    #[pymodule_export]
    use crate::product::solution::{Acid, AcidForm, Caveat, Equilibrium, Solution};
    #[pymodule_export]
    use crate::product::status::{StatusEntry, SubstanceStatus};
    #[pymodule_export]
    use crate::product::titration::{Adjustment, Portion, Titration};
    #[pymodule_export]
    use crate::product::use_up::{BarUse, UseUp};
    #[pymodule_export]
    use crate::product::verified::{PreDilution, VerifiedScale, Weighable, WeighableLine};
    #[pymodule_export]
    use crate::product::weights::{AcceptRates, TargetFill, WeightCheck, WeightTest, Weights};
    #[pymodule_export]
    use crate::read::read;
    #[pymodule_export]
    use crate::solve::answer::{Answer, Binding, Departure, GridRefusal};
    #[pymodule_export]
    use crate::solve::candidates::{Candidate, Candidates, PassedOver};
    #[pymodule_export]
    use crate::solve::chosen::Chosen;
    #[pymodule_export]
    use crate::solve::conflict::{Conflict, Relaxation};
    #[pymodule_export]
    use crate::solve::constraint::Constraint;
    #[pymodule_export]
    use crate::solve::no_formula::{FinerLines, Unmet};
    #[pymodule_export]
    use crate::solve::proof::{Proof, ProofMember};
    #[pymodule_export]
    use crate::solve::reach::Reach;
    #[pymodule_export]
    use crate::solve::rounded::{Rounded, RoundedDeparture};
    #[pymodule_export]
    use crate::solve::sensitivity::{LimitRange, PriceRange, RequirementPrice, RobustnessPrice};
    #[pymodule_export]
    use crate::solve::steps::Steps;
    #[pymodule_export]
    use crate::solve::substitution::{Kept, LineChange, Substitution};
    #[pymodule_export]
    use crate::sweep::Sweep;
    #[pymodule_export]
    use crate::sweep::axis::{Axis, axis, geomspace, lattice, linspace};
    #[pymodule_export]
    use crate::sweep::part::{StreamPart, SweepPart};
    #[pymodule_export]
    use crate::sweep::result::{AxisValueSummary, KeptRow, StreamResult, SweepHistogram};
    #[pymodule_export]
    use crate::sweep::samples::{Corners, Samples};
    #[pymodule_export]
    use crate::sweep::solution_path::{ParameterRange, PathRegion, SolutionPath};
    #[pymodule_export]
    use crate::sweep::table::SweepTable;
    #[pymodule_export]
    use crate::trial::design::{Design, DesignedRun};
    #[pymodule_export]
    use crate::trial::log::{RankSummary, RankedBlend, Response, TrialLog, TrialRun};
    #[pymodule_export]
    use crate::trial::micelle::{
        Dispersed, FormulaMicelles, InteractionPair, MicelleInteraction, MixedMicelles, MixedSurfactant,
    };
    #[pymodule_export]
    use crate::trial::model::{
        AliasedTerm, AnovaRow, FittedModel, FittedRun, FittedTerm, LackOfFit, ModelCandidate, ModelChoice, Prediction,
    };
    #[pymodule_export]
    use crate::trial::optimise::{BestOnModel, Desirability, DesiredResponse, MostDesirable};
    #[pymodule_export]
    use crate::trial::region::BriefRegion;

    /// The version of the library.
    #[pymodule_export]
    #[allow(non_upper_case_globals, reason = "Python spells it so")]
    const __version__: &str = env!("CARGO_PKG_VERSION");
}
