//! The Python face of `tenside`. It converts, forwards and documents; arithmetic and chemistry live in the core.

#[macro_use]
mod macros;
mod answer;
mod basis;
mod batch;
mod brief;
mod catalogue;
mod conflict;
mod declaration;
mod difference;
mod draft;
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
mod proof;
mod reading;
mod substance;

/// The compiled half of the package `tenside`.
#[pyo3::pymodule]
mod _native {
    #[pymodule_export]
    use crate::answer::{Answer, Binding, Departure, GridRefusal, LimitRange, PriceRange};
    #[pymodule_export]
    use crate::basis::{Basis, finished};
    #[pymodule_export]
    use crate::batch::{BarMasses, Batch, BatchNote, Pressed, Sheet, Weighing};
    #[pymodule_export]
    use crate::brief::{Brief, BriefRequirement, BriefRow, BriefSplit, Reach};
    #[pymodule_export]
    use crate::catalogue::Catalogue;
    #[pymodule_export]
    use crate::conflict::{Conflict, Relaxation};
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
    use crate::proof::{Proof, ProofMember};
    #[pymodule_export]
    use crate::reading::Reading;
    #[pymodule_export]
    use crate::substance::{Statement, Substance, SubstanceCharge, SubstanceMolarMass};

    /// The version of the library.
    #[pymodule_export]
    #[allow(non_upper_case_globals, reason = "Python spells it so")]
    const __version__: &str = env!("CARGO_PKG_VERSION");
}
