//! Trials: which bars to press next so that they teach most.

mod design;
mod log;
mod micelle;
mod model;
mod optimise;
mod region;
mod terms;
mod whole_plots;

pub use design::{Design, DesignDocument, DesignKind, DesignRequest, DesignedRun, MadeRun, PointKind};
pub use log::{
    LogCell, RankSummary, RankedBlend, Response, ResponseScale, ResultUnit, TrialLog, TrialLogDocument, TrialRun,
    VARIED,
};
pub use micelle::{
    Dispersed, FormulaMicelles, FormulaMicellesDocument, InteractionPair, MicelleInteraction, MixedMicelles,
    MixedMicellesDocument, MixedSurfactant,
};
pub use model::{
    AliasedTerm, AnovaRow, Criterion, FittedModel, FittedModelDocument, FittedRun, FittedTerm, LackOfFit,
    ModelCandidate, ModelChoice, ModelChoiceDocument, Prediction,
};
pub use optimise::{
    BestOnModel, BestOnModelDocument, Desirability, Desired, DesiredResponse, MostDesirable, MostDesirableDocument,
    SearchEnd,
};
pub use region::BriefRegion;
pub use terms::{Blend, Crossing, ProcessOrder, ProcessVariable, Terms};
