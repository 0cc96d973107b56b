//! Measures in documents.

use std::collections::BTreeMap;

use rust_decimal::Decimal;
use schemars::JsonSchema;
use serde::Serialize;

use super::{Basis, Content, Measure, Scope, ScoreTable, Sign};
use crate::bounds::Quantity;
use crate::document::{Number, TableView, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::substance::Class;

/// A measure as documents hold it, in the table of whatever asks for it.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub struct MeasureDocument {
    /// What is counted.
    measure: String,
    /// Class, INCI name, attribute, form, material id or the score's name, where the measure needs one.
    #[serde(skip_serializing_if = "Option::is_none")]
    of: Option<String>,
    /// Scores by material id, for a score.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    scores: BTreeMap<String, Number>,
    /// What it is counted over, where that is not the mass of the formula.
    #[serde(skip_serializing_if = "Option::is_none")]
    per: Option<String>,
    /// As `of`, for `per`.
    #[serde(skip_serializing_if = "Option::is_none")]
    per_of: Option<String>,
    /// As `scores`, for `per`.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    per_scores: BTreeMap<String, Number>,
    /// Lines that both sides count.
    #[serde(skip_serializing_if = "Option::is_none")]
    within: Option<ScopeDocument>,
    /// Lines that the numerator counts, where they are others than the denominator's.
    #[serde(skip_serializing_if = "Option::is_none")]
    contributed_by: Option<ScopeDocument>,
}

/// Which lines: one of the keys.
#[derive(Clone, Debug, Serialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub(crate) struct ScopeDocument {
    /// Every line.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    all: bool,
    #[serde(skip_serializing_if = "Option::is_none")]
    phase: Option<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    group: Option<String>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    lines: Vec<String>,
}

/// The basis of a requirement, in the same table.
#[derive(Clone, Debug, Serialize, JsonSchema)]
pub(crate) struct BasisDocument {
    /// Residual moisture in percent of the finished product; absent means as charged.
    #[serde(skip_serializing_if = "Option::is_none")]
    finished_moisture: Option<Number>,
}

impl From<&Basis> for BasisDocument {
    fn from(basis: &Basis) -> Self {
        match basis {
            Basis::AsCharged => BasisDocument { finished_moisture: None },
            Basis::Finished(moisture) => BasisDocument { finished_moisture: Some(moisture.into()) },
        }
    }
}

impl From<&Scope> for ScopeDocument {
    fn from(scope: &Scope) -> Self {
        let empty = ScopeDocument { all: false, phase: None, group: None, lines: Vec::new() };
        match scope {
            Scope::All => ScopeDocument { all: true, ..empty },
            Scope::Phase(name) => ScopeDocument { phase: Some(name.clone()), ..empty },
            Scope::Group(name) => ScopeDocument { group: Some(name.clone()), ..empty },
            Scope::Lines(names) => ScopeDocument { lines: names.clone(), ..empty },
        }
    }
}

impl From<&Measure> for MeasureDocument {
    fn from(measure: &Measure) -> Self {
        let scores = |content: &Content| match content {
            Content::Score(table) => table.iter().map(|(id, score)| (id.to_string(), score.into())).collect(),
            _ => BTreeMap::new(),
        };
        MeasureDocument {
            measure: measure.numerator.slug().to_string(),
            of: measure.numerator.argument(),
            scores: scores(&measure.numerator),
            per: measure.is_ratio().then(|| measure.denominator.slug().to_string()),
            per_of: if measure.is_ratio() { measure.denominator.argument() } else { None },
            per_scores: scores(&measure.denominator),
            within: (measure.denominator_scope != Scope::All).then(|| (&measure.denominator_scope).into()),
            contributed_by: (measure.numerator_scope != measure.denominator_scope).then(|| (&measure.numerator_scope).into()),
        }
    }
}

/// Every content's stable name.
const SLUGS: [&str; 22] = [
    "active-matter",
    "anionic-active",
    "amphoteric-active",
    "nonionic-active",
    "active-of-class",
    "class",
    "constituent",
    "substance",
    "water",
    "bound-water",
    "solids",
    "as-supplied",
    "anionic-charge",
    "cationic-charge",
    "active-moles",
    "cost",
    "natural-origin",
    "attribute",
    "form",
    "material",
    "unspecified",
    "score",
];

impl Content {
    /// The content of that name and argument.
    ///
    /// # Errors
    /// An unknown name, a missing argument, a score (which needs its table).
    pub fn parse(slug: &str, argument: Option<&str>) -> Result<Self, Error> {
        let needed = || -> Result<&str, Error> {
            argument.ok_or_else(|| {
                Fault::new(FaultKind::Missing, "the measure needs an argument").value(format!("{slug:?}")).remedy("say which, under `of`").into()
            })
        };
        let content = match slug {
            "active-matter" => Content::Active(None),
            "anionic-active" => Content::Active(Some(Class::AnionicSurfactant)),
            "amphoteric-active" => Content::Active(Some(Class::AmphotericSurfactant)),
            "nonionic-active" => Content::Active(Some(Class::NonionicSurfactant)),
            "active-of-class" => Content::Active(Some(needed()?.parse()?)),
            "class" => Content::Class(needed()?.parse()?),
            "constituent" => Content::Constituent(crate::document::check_name(needed()?)?),
            "substance" => Content::Substance(crate::document::check_name(needed()?)?),
            "water" => Content::Water,
            "bound-water" => Content::BoundWater,
            "solids" => Content::Solids,
            "as-supplied" => Content::Mass,
            "anionic-charge" => Content::Charge(Sign::Negative),
            "cationic-charge" => Content::Charge(Sign::Positive),
            "active-moles" => Content::ActiveMoles,
            "cost" => Content::Cost,
            "natural-origin" => Content::NaturalOrigin,
            "attribute" => Content::Attribute(needed()?.parse()?),
            "form" => Content::Form(needed()?.parse()?),
            "material" => Content::Material(crate::document::check_slug(needed()?)?),
            "unspecified" => Content::Unspecified,
            "score" => return Err(Fault::new(FaultKind::Missing, "a score needs its table").remedy("give scores by material id").into()),
            _ => return Err(unknown_name("measure", slug, SLUGS.into_iter()).allowed(SLUGS.join(", ")).into()),
        };
        Ok(content)
    }
}

fn read_scope(view: &TableView<'_>) -> Option<Scope> {
    let (phase, group) = (view.name("phase"), view.name("group"));
    let lines: Vec<String> = view.texts("lines").into_iter().map(str::to_string).collect();
    let all = view.boolean("all").unwrap_or(false);
    match (phase, group, lines.is_empty(), all) {
        (Some(phase), None, true, false) => Some(Scope::Phase(phase)),
        (None, Some(group), true, false) => Some(Scope::Group(group)),
        (None, None, false, false) => Some(Scope::Lines(lines)),
        (None, None, true, true) => Some(Scope::All),
        _ => {
            view.fault("", Fault::new(FaultKind::Contradiction, "a scope has one key").allowed("phase, group, lines, or all = true"));
            None
        }
    }
}

/// Reads a measure from the table of whatever asks for it.
pub(crate) fn read_measure(view: &TableView<'_>) -> Option<Measure> {
    let slug = view.needed("measure", |view| view.text("measure"));
    let (of, per, per_of) = (view.text("of"), view.text("per"), view.text("per_of"));
    let scores = view.named_decimals("scores", Quantity::Score);
    let per_scores = view.named_decimals("per_scores", Quantity::Score);
    let within = view.table("within", read_scope);
    let contributed_by = view.table("contributed_by", read_scope);
    let scoped = (within.is_some() || !view.has("within")) && (contributed_by.is_some() || !view.has("contributed_by"));
    let content = |key: &str, slug: &str, argument: Option<&str>, scores: Vec<(String, Decimal)>| match slug {
        "score" => Some(Content::Score(view.accept(key, ScoreTable::new(argument.unwrap_or("score"), scores))?)),
        slug => view.accept(key, Content::parse(slug, argument)),
    };
    let mut measure = Measure::of(content("measure", slug?, of, scores)?);
    if let Some(per) = per {
        measure.denominator = content("per", per, per_of, per_scores)?;
    }
    if let Some(scope) = within {
        measure = measure.within(scope);
    }
    if let Some(scope) = contributed_by {
        measure = measure.contributed_by(scope);
    }
    scoped.then_some(measure)
}

/// Reads the basis from the same table.
pub(crate) fn read_basis(view: &TableView<'_>) -> Basis {
    let moisture = view.exact("finished_moisture", Some(Quantity::Moisture));
    moisture.map_or(Basis::AsCharged, Basis::Finished)
}
