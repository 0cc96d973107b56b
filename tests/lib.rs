//! What the library's own tests and examples share.

/// The examples of the README, compiled and run as documentation tests.
#[cfg(doctest)]
#[doc = include_str!("../README.md")]
pub struct Readme;

use tenside::document::Named;

/// What of the Python package is written from the core: its files below `python/tenside`, with their text.
#[must_use]
pub fn written() -> Vec<(String, String)> {
    let schemas = schemas().into_iter().map(|(name, schema)| (format!("schema/{name}.json"), schema));
    schemas.chain([("words.py".to_string(), words())]).collect()
}

/// The module of the closed lists of words.
fn words() -> String {
    use tenside::{
        batch, brief, catalogue, cost, document, error, formula, label, material, ph, rule, solve, substance, sweep,
        trial,
    };
    let kinds = error::FaultKind::ALL.iter().map(|kind| kind.slug());
    let mut lists = vec![
        list::<rule::Market>(),
        list::<rule::Use>(),
        list::<rule::Placing>(),
        list::<rule::ProductForm>(),
        list::<rule::Storage>(),
        list::<rule::Severity>(),
        list::<rule::Certainty>(),
        list::<rule::Mark>(),
        list::<rule::StatusKind>(),
        list::<rule::Search>(),
        list::<rule::Bound>(),
        list::<rule::Fact>(),
        list::<rule::JudgedOn>(),
        list::<rule::Each>(),
        list::<label::Contact>(),
        list::<label::ScentNames>(),
        list::<label::ScentAnswer>(),
        list::<label::ItemClass>(),
        list::<label::QuestionTopic>(),
        list::<substance::Class>(),
        list::<substance::Attribute>(),
        list::<substance::ChargeKind>(),
        list::<substance::Volatility>(),
        list::<material::Form>(),
        list::<material::Caution>(),
        list::<material::ActiveConvention>(),
        list::<material::Declaration>(),
        list::<catalogue::TableOf>(),
        list::<catalogue::Winner>(),
        list::<catalogue::MatchKind>(),
        list::<catalogue::NameKind>(),
        list::<cost::CostBasis>(),
        list::<document::Delimiter>(),
        list::<formula::Purpose>(),
        list::<formula::Relation>(),
        list::<batch::NoteKind>(),
        list::<ph::Standing>(),
        list::<formula::QuestionKind>(),
        list::<formula::FigureUnit>(),
        list::<formula::LineRole>(),
        list::<brief::SplitBasis>(),
        list::<brief::Direction>(),
        list::<solve::Side>(),
        list::<solve::End>(),
        list::<solve::ConstraintKind>(),
        list::<sweep::Comparison>(),
        list::<batch::StepKind>(),
        list::<batch::ReadingOutcome>(),
        list::<batch::Decision>(),
        list::<batch::Verdict>(),
        list::<ph::Effect>(),
        list::<ph::CaveatKind>(),
        list::<batch::CheckKind>(),
        list::<batch::TestOutcome>(),
        list::<batch::FaceShape>(),
        list::<batch::ScaleClass>(),
        list::<batch::Fits>(),
        list::<trial::Blend>(),
        list::<trial::ProcessOrder>(),
        list::<trial::Crossing>(),
        list::<trial::DesignKind>(),
        list::<trial::PointKind>(),
        list::<trial::ResultUnit>(),
        list::<trial::ResponseScale>(),
        list::<trial::Criterion>(),
        list::<trial::Desired>(),
        List { name: "FaultKind", about: "What kind of fault it is.", words: kinds.collect() },
    ];
    lists.sort_by_key(|list| list.name);
    let names: Vec<String> = lists.iter().map(|list| format!("    \"{}\",\n", list.name)).collect();
    let types: Vec<String> = lists.iter().map(List::written).collect();
    format!("{HEAD}\n__all__ = [\n{}]\n\n{}", names.concat(), types.join("\n"))
}

const HEAD: &str = r#""""The closed lists of words, each a type: a checker of types knows a wrong word, and `typing.get_args` lists them.

Written from the core by `cargo xtask schemas`.

>>> from typing import get_args
>>> from tenside import words
>>> get_args(words.Market)
('EU', 'US')
"""

from typing import Literal, TypeAlias
"#;

/// A closed list.
struct List {
    name: &'static str,
    about: &'static str,
    words: Vec<&'static str>,
}

fn list<T: Named>() -> List {
    List { name: T::NAME, about: T::ABOUT, words: T::ALL.iter().map(|word| word.slug()).collect() }
}

impl List {
    /// As a type of Python, with what it is behind.
    fn written(&self) -> String {
        let words: Vec<String> = self.words.iter().map(|word| format!("\"{word}\"")).collect();
        let line = format!("{}: TypeAlias = Literal[{}]\n", self.name, words.join(", "));
        let whole = if line.len() <= 120 {
            line
        } else {
            format!("{}: TypeAlias = Literal[\n    {},\n]\n", self.name, words.join(",\n    "))
        };
        format!("{whole}\"\"\"{}\"\"\"\n", self.about)
    }
}

/// The JSON Schema of every kind of document, by name.
fn schemas() -> Vec<(&'static str, String)> {
    use tenside::batch::{DryingCurve, MouldedBar, Portions, TargetFill, UseUp, Weighable, WeightTest, Weights};
    use tenside::cost::{BarsFromStock, Costing, Offers, ProductMix, Purchase, Stock};
    use tenside::solve::{Answer, Choice, Conflict, Rounded, Substitution, Unmet};
    use tenside::{
        batch::{Batch, BatchRecord, Made, Rescue},
        document::ResultDocument,
        exposure::Exposure,
        formula::Difference,
        label::Label,
        review::Review,
        trial::Design,
    };
    use tenside::{
        brief::Brief,
        catalogue::{Catalogue, PriceList},
        formula::Draft,
        formula::Formula,
        rule::RuleList,
    };
    vec![
        ("catalogue", Catalogue::schema()),
        ("prices", PriceList::schema()),
        ("formula", Formula::schema()),
        ("brief", Brief::schema()),
        ("rules", RuleList::schema()),
        ("draft", Draft::schema()),
        ("answer", Answer::schema()),
        ("titration", tenside::ph::Titration::schema()),
        ("adjustment", tenside::ph::Adjustment::schema()),
        ("conflict", Conflict::schema()),
        ("rounded", Rounded::schema()),
        ("chosen", Choice::schema()),
        ("unmet", Unmet::schema()),
        ("substitution", Substitution::schema()),
        ("review", Review::schema()),
        ("label", Label::schema()),
        ("batch", Batch::schema()),
        ("batch-record", BatchRecord::schema()),
        ("made", Made::schema()),
        ("rescue", Rescue::schema()),
        ("design", Design::schema()),
        ("weights", Weights::schema()),
        ("weight-test", WeightTest::schema()),
        ("target-fill", TargetFill::schema()),
        ("drying-curve", DryingCurve::schema()),
        ("moulded-bar", MouldedBar::schema()),
        ("portions", Portions::schema()),
        ("weighable", Weighable::schema()),
        ("use-up", UseUp::schema()),
        ("trial-log", tenside::trial::TrialLog::schema()),
        ("model", tenside::trial::FittedModel::schema()),
        ("model-choice", tenside::trial::ModelChoice::schema()),
        ("best-on-model", tenside::trial::BestOnModel::schema()),
        ("most-desirable", tenside::trial::MostDesirable::schema()),
        ("mixed-micelles", tenside::trial::MixedMicelles::schema()),
        ("formula-micelles", tenside::trial::FormulaMicelles::schema()),
        ("exposure", Exposure::schema()),
        ("offers", Offers::schema()),
        ("costing", Costing::schema()),
        ("stock", Stock::schema()),
        ("purchase", Purchase::schema()),
        ("bars-from-stock", BarsFromStock::schema()),
        ("product-mix", ProductMix::schema()),
        ("difference", Difference::schema()),
    ]
}
