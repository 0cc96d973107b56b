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
mod macros;
mod again;
mod answer;
mod axis;
mod basis;
mod batch;
mod brief;
mod candidates;
mod catalogue;
mod chosen;
mod conflict;
mod constraint;
mod declaration;
mod difference;
mod draft;
mod export;
mod exposure;
mod failure;
mod formula;
mod input;
mod interval;
mod label;
mod line;
mod lot;
mod material;
mod measure;
mod output;
mod ph;
mod product;
mod proof;
mod reading;
mod review;
mod rounded;
mod rule;
mod running;
mod samples;
mod seen;
mod solution;
mod solution_path;
mod steps;
mod substance;
mod substitution;
mod sweep;
mod sweep_part;
mod sweep_table;
mod titration;
mod unmet;
mod wanted;

/// The compiled half of the package `tenside`.
#[pyo3::pymodule]
mod _native {
    #[pymodule_export]
    use crate::answer::{Answer, Binding, Departure, GridRefusal, LimitRange, PriceRange, RequirementPrice, RobustnessPrice};
    #[pymodule_export]
    use crate::axis::{Axis, axis, geomspace, lattice, linspace};
    #[pymodule_export]
    use crate::basis::{Basis, finished};
    #[pymodule_export]
    use crate::batch::{BarMasses, Batch, BatchNote, Pressed, Sheet, Weighing};
    #[pymodule_export]
    use crate::brief::{Brief, BriefRequirement, BriefRow, BriefSplit, Reach};
    #[pymodule_export]
    use crate::candidates::{Candidate, Candidates, PassedOver};
    #[pymodule_export]
    use crate::catalogue::Catalogue;
    #[pymodule_export]
    use crate::chosen::Chosen;
    #[pymodule_export]
    use crate::conflict::{Conflict, Relaxation};
    #[pymodule_export]
    use crate::constraint::Constraint;
    #[pymodule_export]
    use crate::declaration::ScentDeclaration;
    #[pymodule_export]
    use crate::difference::{Difference, DifferenceLine};
    #[pymodule_export]
    use crate::draft::{Choice, Draft, DraftDeparture, DraftLine, Question, Settled};
    #[pymodule_export]
    use crate::exposure::{Exposure, ProductType, product_types};
    #[pymodule_export]
    use crate::failure::fault_kinds;
    #[pymodule_export]
    use crate::formula::{ExpandedRow, Formula};
    #[pymodule_export]
    use crate::interval::Interval;
    #[pymodule_export]
    use crate::label::{KeepsOff, Label, LabelCheck, LabelItem, LabelQuestion, LeftOut, NetContent, ScentRow, scent_entries};
    #[pymodule_export]
    use crate::line::{Line, Phase};
    #[pymodule_export]
    use crate::lot::Lot;
    #[pymodule_export]
    use crate::material::{CertificateChange, Constituent, Contained, Material, PhRange, UseLevel};
    #[pymodule_export]
    use crate::measure::{Measure, Measured};
    #[pymodule_export]
    use crate::output::{Page, Table};
    #[pymodule_export]
    use crate::ph::{PhDistance, PhWindow, PhWindowRow, Undissociated};
    #[pymodule_export]
    use crate::product::Product;
    #[pymodule_export]
    use crate::proof::{Proof, ProofMember};
    #[pymodule_export]
    use crate::reading::Reading;
    #[pymodule_export]
    use crate::review::{Finding, Flag, Review, Reviewer, Unchecked};
    #[pymodule_export]
    use crate::rounded::{Rounded, RoundedDeparture};
    #[pymodule_export]
    use crate::rule::{Rule, RuleList};
    #[pymodule_export]
    use crate::samples::{Corners, Samples};
    #[pymodule_export]
    use crate::seen::{AxisValueSummary, KeptRow, Seen, SweepHistogram};
    #[pymodule_export]
    use crate::solution::{Acid, AcidForm, Caveat, Equilibrium, Solution};
    #[pymodule_export]
    use crate::solution_path::{ParameterRange, PathPiece, SolutionPath};
    #[pymodule_export]
    use crate::steps::Steps;
    #[pymodule_export]
    use crate::substance::{Statement, Substance, SubstanceCharge, SubstanceMolarMass};
    #[pymodule_export]
    use crate::substitution::{Kept, LineChange, Substitution};
    #[pymodule_export]
    use crate::sweep::Sweep;
    #[pymodule_export]
    use crate::sweep_part::{SeenPart, SweepPart};
    #[pymodule_export]
    use crate::sweep_table::SweepTable;
    #[pymodule_export]
    use crate::titration::{Adjustment, Portion, Titration};
    #[pymodule_export]
    use crate::unmet::{FinerLines, Unmet};

    /// The version of the library.
    #[pymodule_export]
    #[allow(non_upper_case_globals, reason = "Python spells it so")]
    const __version__: &str = env!("CARGO_PKG_VERSION");
}
