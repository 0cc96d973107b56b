//! A document of any kind.

use std::sync::Arc;

use pyo3::prelude::*;
use tenside::document::kind_of;
use tenside::error::{Fault, FaultKind};

use crate::brief::Brief;
use crate::convert::failure::Outcome;
use crate::convert::input::Several;
use crate::convert::running::reading;
use crate::cost::costing::Costing;
use crate::cost::offers::Offers;
use crate::cost::purchase::Purchase;
use crate::cost::stock::{BarsFromStock, ProductMix, Stock};
use crate::formula::Formula;
use crate::formula::draft::Draft;
use crate::material::catalogue::Catalogue;
use crate::material::prices::PriceList;
use crate::product::batch::Batch;
use crate::product::drying::DryingCurve;
use crate::product::exposure::Exposure;
use crate::product::label::Label;
use crate::product::made::Made;
use crate::product::mould::{MouldedBar, Portions};
use crate::product::record::BatchRecord;
use crate::product::rescue::Rescue;
use crate::product::review::Review;
use crate::product::rule::RuleList;
use crate::product::titration::{Adjustment, Titration};
use crate::product::use_up::UseUp;
use crate::product::verified::Weighable;
use crate::product::weights::{TargetFill, WeightTest, Weights};
use crate::solve::answer::Answer;
use crate::solve::chosen::Chosen;
use crate::solve::conflict::Conflict;
use crate::solve::no_formula::Unmet;
use crate::solve::rounded::Rounded;
use crate::trial::design::Design;
use crate::trial::log::TrialLog;
use crate::trial::micelle::{FormulaMicelles, MixedMicelles};
use crate::trial::model::{FittedModel, ModelChoice};
use crate::trial::optimise::{BestOnModel, MostDesirable};

/// What a document is read as.
#[derive(IntoPyObject)]
#[allow(clippy::large_enum_variant, reason = "handed over to Python at once")]
pub(crate) enum Read {
    Adjustment(Adjustment),
    Answer(Answer),
    BarsFromStock(BarsFromStock),
    Batch(Batch),
    BatchRecord(BatchRecord),
    BestOnModel(BestOnModel),
    Brief(Brief),
    Catalogue(Catalogue),
    Chosen(Chosen),
    Conflict(Conflict),
    Costing(Costing),
    Design(Design),
    Draft(Draft),
    DryingCurve(DryingCurve),
    Exposure(Exposure),
    FittedModel(FittedModel),
    Formula(Formula),
    FormulaMicelles(FormulaMicelles),
    Label(Label),
    Made(Made),
    MixedMicelles(MixedMicelles),
    ModelChoice(ModelChoice),
    MostDesirable(MostDesirable),
    MouldedBar(MouldedBar),
    Offers(Offers),
    Portions(Portions),
    PriceList(PriceList),
    ProductMix(ProductMix),
    Purchase(Purchase),
    Rescue(Rescue),
    Review(Review),
    Rounded(Rounded),
    RuleList(RuleList),
    Stock(Stock),
    TargetFill(TargetFill),
    Titration(Titration),
    TrialLog(TrialLog),
    Unmet(Unmet),
    UseUp(UseUp),
    Weighable(Weighable),
    WeightTest(WeightTest),
    Weights(Weights),
}

/// Reads a document of any kind, in TOML or JSON: what it says that it is. Materials that it only names are looked up
/// in the catalogue, by default the starter catalogue. A result is believed where asking its question again gives just
/// what it says. `text` is the document; `rules` are lists of your own that a review in it was made with.
///
/// >>> clay = td.Formula("Clay", {"kaolin": 100}, td.Catalogue.starter())
/// >>> td.read(clay.to_toml()) == td.read(clay.to_json(materials=False)) == clay
/// True
/// >>> td.read(clay.batch(mass="200 g", readability="0.1 g").to_json())
/// <Batch of "Clay", 200 g>
#[pyfunction]
#[pyo3(signature = (text, catalogue=None, *, rules=Several(Vec::new())))]
pub(crate) fn read(
    py: Python<'_>,
    text: &str,
    catalogue: Option<&Catalogue>,
    rules: Several<RuleList>,
) -> Outcome<Read> {
    const KINDS: &str = "adjustment/1, answer/1, bars-from-stock/1, batch-record/1, batch/1, best-on-model/1, \
                         brief/1, catalogue/1, chosen/1, conflict/1, costing/1, design/1, draft/1, drying-curve/1, \
                         exposure/1, formula/1, formula-micelles/1, label/1, made/1, mixed-micelles/1, \
                         model-choice/1, model/1, most-desirable/1, moulded-bar/1, offers/1, portions/1, prices/1, \
                         product-mix/1, purchase/1, rescue/1, review/1, rounded/1, rules/1, stock/1, target-fill/1, \
                         titration/1, trial-log/1, unmet/1, use-up/1, weighable/1, weight-test/1 or weights/1";
    let (kind, notation) = reading(py, [text], |[text]| kind_of(text))?;
    let catalogue = Catalogue::or_starter(catalogue);
    let shelf = catalogue.0.clone();
    Ok(match kind.as_str() {
        "adjustment/1" => Read::Adjustment(Adjustment::read(py, text, notation, &catalogue)?),
        "answer/1" => Read::Answer(Answer::read(py, text, notation, &catalogue)?),
        "bars-from-stock/1" => Read::BarsFromStock(BarsFromStock::read(py, text, notation, &catalogue)?),
        "batch/1" => Read::Batch(Batch::read(py, text, notation, &catalogue)?),
        "batch-record/1" => Read::BatchRecord(BatchRecord::read(py, text, notation, &catalogue)?),
        "best-on-model/1" => Read::BestOnModel(BestOnModel::read(py, text, notation, &catalogue)?),
        "brief/1" => {
            Read::Brief(Brief(reading(py, [text], move |[text]| tenside::brief::Brief::read(text, notation, &shelf))?))
        }
        "catalogue/1" => Read::Catalogue(
            reading(py, [text], move |[text]| tenside::catalogue::Catalogue::read(text, notation))?.into(),
        ),
        "chosen/1" => Read::Chosen(Chosen::read(py, text, notation, &catalogue)?),
        "conflict/1" => Read::Conflict(Conflict::read(py, text, notation, &catalogue)?),
        "costing/1" => Read::Costing(Costing::read(py, text, notation, &catalogue)?),
        "design/1" => Read::Design(Design::read(py, text, notation, &catalogue)?),
        "draft/1" => {
            Read::Draft(Draft(reading(py, [text], move |[text]| tenside::formula::Draft::read(text, notation))?))
        }
        "drying-curve/1" => Read::DryingCurve(DryingCurve::read(py, text, notation, &catalogue)?),
        "exposure/1" => Read::Exposure(Exposure::read(py, text, notation, &catalogue)?),
        "formula/1" => Read::Formula(Formula(reading(py, [text], move |[text]| {
            tenside::formula::Formula::read(text, notation, &shelf)
        })?)),
        "formula-micelles/1" => Read::FormulaMicelles(FormulaMicelles::read(py, text, notation, &catalogue)?),
        "label/1" => Read::Label(Label::read(py, text, notation, &catalogue)?),
        "made/1" => Read::Made(Made::read(py, text, notation, &catalogue)?),
        "mixed-micelles/1" => Read::MixedMicelles(MixedMicelles::read(py, text, notation, &catalogue)?),
        "model-choice/1" => Read::ModelChoice(ModelChoice::read(py, text, notation, &catalogue)?),
        "model/1" => Read::FittedModel(FittedModel::read(py, text, notation, &catalogue)?),
        "most-desirable/1" => Read::MostDesirable(MostDesirable::read(py, text, notation, &catalogue)?),
        "moulded-bar/1" => Read::MouldedBar(MouldedBar::read(py, text, notation, &catalogue)?),
        "offers/1" => Read::Offers(Offers::read(py, text, notation, &catalogue)?),
        "portions/1" => Read::Portions(Portions::read(py, text, notation, &catalogue)?),
        "prices/1" => Read::PriceList(PriceList::read(py, text, notation, &catalogue)?),
        "product-mix/1" => Read::ProductMix(ProductMix::read(py, text, notation, &catalogue)?),
        "purchase/1" => Read::Purchase(Purchase::read(py, text, notation, &catalogue)?),
        "rescue/1" => Read::Rescue(Rescue::read(py, text, notation, &catalogue)?),
        "review/1" => Read::Review(Review::read(py, text, notation, &catalogue, rules.0)?),
        "rounded/1" => Read::Rounded(Rounded::read(py, text, notation, &catalogue)?),
        "rules/1" => Read::RuleList(RuleList(Arc::new(reading(py, [text], move |[text]| {
            tenside::rule::RuleList::read(text, notation)
        })?))),
        "stock/1" => Read::Stock(Stock::read(py, text, notation, &catalogue)?),
        "target-fill/1" => Read::TargetFill(TargetFill::read(py, text, notation, &catalogue)?),
        "titration/1" => Read::Titration(Titration::read(py, text, notation, &catalogue)?),
        "trial-log/1" => Read::TrialLog(TrialLog::read(py, text, notation, &catalogue)?),
        "unmet/1" => Read::Unmet(Unmet::read(py, text, notation, &catalogue)?),
        "use-up/1" => Read::UseUp(UseUp::read(py, text, notation, &catalogue)?),
        "weighable/1" => Read::Weighable(Weighable::read(py, text, notation, &catalogue)?),
        "weight-test/1" => Read::WeightTest(WeightTest::read(py, text, notation, &catalogue)?),
        "weights/1" => Read::Weights(Weights::read(py, text, notation, &catalogue)?),
        "difference/1" | "substitution/1" => {
            let fault = Fault::new(FaultKind::Unsupported, "this result is written only").value(kind);
            return Err(fault.remedy("make it again from its formulas").into());
        }
        _ => {
            let fault = Fault::new(FaultKind::UnknownName, "a document of no kind and version that is known here")
                .at("tenside")
                .value(format!("{kind:?}"));
            return Err(fault.allowed(KINDS).into());
        }
    })
}
