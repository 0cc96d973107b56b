//! Results of every room that come back: each is asked its question again.

use std::sync::Arc;
use std::time::{Duration, Instant};

use tenside::Error;
use tenside::batch::{
    Batch, DryingCurve, Made, MouldedBar, Portions, Rescue, TargetFill, UseUp, Weighable, WeightTest, Weights,
};
use tenside::catalogue::Catalogue;
use tenside::cost::{BarsFromStock, Costing, ProductMix, Purchase};
use tenside::document::{Materials, Notation, ResultDocument, kind_of};
use tenside::exposure::Exposure;
use tenside::ph::{Adjustment, Titration};
use tenside::solve::{Answer, Choice, Rounded, Unmet};
use tenside::trial::{
    BestOnModel, Design, FittedModel, FormulaMicelles, MixedMicelles, ModelChoice, MostDesirable, TrialLog,
};
use tenside::watch::Watch;

use crate::reading::{accepted, document, shelf, survives};

/// A question that takes longer is ended: a document may state one that takes hours.
const PATIENCE: Duration = Duration::from_secs(1);

struct Until(Instant);

impl Watch for Until {
    fn go_on(&self, _done: u64) -> bool {
        Instant::now() < self.0
    }
}

fn watch() -> Arc<dyn Watch> {
    Arc::new(Until(Instant::now() + PATIENCE))
}

fn back<T: ResultDocument + PartialEq>(
    text: &str,
    notation: Notation,
    read: impl Fn(&str, Notation, &Catalogue) -> Result<T, Error>,
) {
    let Some(result) = accepted(read(text, notation, shelf())) else { return };
    survives(
        &result,
        |result, notation| result.write(notation, Materials::Embedded),
        |text, notation| read(text, notation, shelf()),
    );
}

/// Reads `bytes` as a result of the kind that they say, in TOML or JSON: what is believed survives writing.
pub fn results(bytes: &[u8]) {
    let Some((text, notation)) = document(bytes) else { return };
    let Some((kind, _)) = accepted(kind_of(text)) else { return };
    macro_rules! watched {
        ($result:ty) => {
            back(text, notation, |text, notation, shelf| <$result>::read_watched(text, notation, shelf, watch()))
        };
    }
    match kind.as_str() {
        "answer/1" => watched!(Answer),
        "rounded/1" => watched!(Rounded),
        "chosen/1" => watched!(Choice),
        "unmet/1" => watched!(Unmet),
        "rescue/1" => watched!(Rescue),
        "design/1" => watched!(Design),
        "best-on-model/1" => watched!(BestOnModel),
        "most-desirable/1" => watched!(MostDesirable),
        "purchase/1" => watched!(Purchase),
        "product-mix/1" => watched!(ProductMix),
        "adjustment/1" => back(text, notation, Adjustment::read),
        "titration/1" => back(text, notation, Titration::read),
        "batch/1" => back(text, notation, Batch::read),
        "made/1" => back(text, notation, Made::read),
        "exposure/1" => back(text, notation, Exposure::read),
        "costing/1" => back(text, notation, Costing::read),
        "bars-from-stock/1" => back(text, notation, BarsFromStock::read),
        "formula-micelles/1" => back(text, notation, FormulaMicelles::read),
        "mixed-micelles/1" => back(text, notation, |text, notation, _| MixedMicelles::read(text, notation)),
        "trial-log/1" => back(text, notation, |text, notation, _| TrialLog::read(text, notation)),
        "model/1" => back(text, notation, |text, notation, _| FittedModel::read(text, notation)),
        "model-choice/1" => back(text, notation, |text, notation, _| ModelChoice::read(text, notation)),
        "weights/1" => back(text, notation, |text, notation, _| Weights::read(text, notation)),
        "weight-test/1" => back(text, notation, |text, notation, _| WeightTest::read(text, notation)),
        "target-fill/1" => back(text, notation, |text, notation, _| TargetFill::read(text, notation)),
        "drying-curve/1" => back(text, notation, |text, notation, _| DryingCurve::read(text, notation)),
        "moulded-bar/1" => back(text, notation, |text, notation, _| MouldedBar::read(text, notation)),
        "portions/1" => back(text, notation, |text, notation, _| Portions::read(text, notation)),
        "weighable/1" => back(text, notation, |text, notation, _| Weighable::read(text, notation)),
        "use-up/1" => back(text, notation, |text, notation, _| UseUp::read(text, notation)),
        _ => {}
    }
}
