//! Measures in documents.

use std::collections::BTreeMap;

use serde::Serialize;

use super::term::{SUM, common_scope};
use super::{Basis, Content, Measure, Scope, ScoreTable, Sign, SubstanceSum, SumFactor, SumMember, Term};
use crate::bounds::Quantity;
use crate::document::{Number, TableView, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::number::Exact;
use crate::substance::Class;

/// A measure as documents hold it, in the table of whatever asks for it.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub struct MeasureDocument {
    /// What is counted.
    measure: String,
    /// Class, INCI name, attribute, form, material id or the score's name, where the measure needs one.
    #[serde(skip_serializing_if = "Option::is_none")]
    of: Option<String>,
    /// Scores by material id, for a score.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    scores: BTreeMap<String, Number>,
    /// The score of every other raw material.
    #[serde(skip_serializing_if = "Option::is_none")]
    default: Option<Number>,
    /// Members, for a sum of substances.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    members: Vec<SumMemberDocument>,
    /// What is added up, of the measure `sum`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    terms: Vec<TermDocument>,
    /// What it is counted over, where that is not the mass of the formula.
    #[serde(skip_serializing_if = "Option::is_none")]
    per: Option<String>,
    /// As `of`, for `per`.
    #[serde(skip_serializing_if = "Option::is_none")]
    per_of: Option<String>,
    /// As `scores`, for `per`.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    per_scores: BTreeMap<String, Number>,
    /// As `default`, for `per`.
    #[serde(skip_serializing_if = "Option::is_none")]
    per_default: Option<Number>,
    /// As `members`, for `per`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    per_members: Vec<SumMemberDocument>,
    /// As `terms`, for `per`.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    per_terms: Vec<TermDocument>,
    /// Lines that both sides count.
    #[serde(skip_serializing_if = "Option::is_none")]
    within: Option<ScopeDocument>,
    /// Lines that the numerator counts, where they are others than the denominator's.
    #[serde(skip_serializing_if = "Option::is_none")]
    contributed_by: Option<ScopeDocument>,
}

/// A content of a sum.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct TermDocument {
    /// By what it is multiplied; 1 where not stated, and never 0.
    #[serde(skip_serializing_if = "Option::is_none")]
    factor: Option<Number>,
    /// What is counted.
    measure: String,
    /// As `of` of a measure.
    #[serde(skip_serializing_if = "Option::is_none")]
    of: Option<String>,
    /// As `scores` of a measure.
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    scores: BTreeMap<String, Number>,
    /// As `default` of a measure.
    #[serde(skip_serializing_if = "Option::is_none")]
    default: Option<Number>,
    /// As `members` of a measure.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    members: Vec<SumMemberDocument>,
    /// Lines that it counts, where they are others than those of `within`.
    #[serde(skip_serializing_if = "Option::is_none")]
    contributed_by: Option<ScopeDocument>,
}

impl TermDocument {
    /// With the scope that stands where none is stated.
    fn of(term: &Term, base: &Scope) -> Self {
        let (scores, members) = match &term.content {
            Content::Score(table) => {
                (table.iter().map(|(id, score)| (id.to_string(), score.into())).collect(), Vec::new())
            }
            Content::Sum(sum) => (BTreeMap::new(), sum.members().iter().map(SumMemberDocument::from).collect()),
            _ => (BTreeMap::new(), Vec::new()),
        };
        let default = if let Content::Score(table) = &term.content { table.default().map(Number::from) } else { None };
        TermDocument {
            default,
            factor: (term.factor != Exact::ONE).then(|| (&term.factor).into()),
            measure: term.content.slug().to_string(),
            of: term.content.argument(),
            scores,
            members,
            contributed_by: (term.scope != *base).then(|| (&term.scope).into()),
        }
    }
}

/// A side of a measure: a single content as it is, or a sum.
fn side_document(terms: &[Term], base: &Scope) -> (TermDocument, Vec<TermDocument>) {
    let mut written: Vec<TermDocument> = terms.iter().map(|term| TermDocument::of(term, base)).collect();
    if written.len() == 1 && written[0].factor.is_none() {
        return (written.remove(0), Vec::new());
    }
    let sum = TermDocument {
        factor: None,
        measure: SUM.to_string(),
        of: None,
        scores: BTreeMap::new(),
        default: None,
        members: Vec::new(),
        contributed_by: None,
    };
    (sum, written)
}

/// A member of a sum of substances: `inci` or `class`, and what one part of it counts.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(crate) struct SumMemberDocument {
    /// INCI name.
    #[serde(skip_serializing_if = "Option::is_none")]
    inci: Option<String>,
    /// Every ingredient of this class instead.
    #[serde(skip_serializing_if = "Option::is_none")]
    class: Option<Class>,
    /// Parts counted for one part; 1 where neither this nor `counts_as` is stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    factor: Option<Number>,
    /// Molar mass in g/mol of what it counts as: an acid.
    #[serde(skip_serializing_if = "Option::is_none")]
    counts_as: Option<Number>,
    /// How many molecules of that one molecule holds; 1 where not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    #[cfg_attr(feature = "schema", schemars(schema_with = "crate::document::whole_schema"))]
    molecules: Option<u32>,
    /// Its own molar mass in g/mol, for catalogues that state none.
    #[serde(skip_serializing_if = "Option::is_none")]
    molar_mass: Option<Number>,
}

impl From<&(SumMember, SumFactor)> for SumMemberDocument {
    fn from((member, factor): &(SumMember, SumFactor)) -> Self {
        let (inci, class) = match member {
            SumMember::Substance(inci) => (Some(inci.clone()), None),
            SumMember::Class(class) => (None, Some(*class)),
        };
        let blank = SumMemberDocument { inci, class, factor: None, counts_as: None, molecules: None, molar_mass: None };
        match factor {
            SumFactor::Parts(parts) => {
                SumMemberDocument { factor: (*parts != Exact::ONE).then(|| parts.into()), ..blank }
            }
            SumFactor::As { counted, molecules, own } => SumMemberDocument {
                counts_as: Some((*counted).into()),
                molecules: (*molecules != 1).then_some(*molecules),
                molar_mass: own.map(Number::from),
                ..blank
            },
        }
    }
}

pub(crate) fn read_sum_member(view: &TableView<'_>) -> Option<(SumMember, SumFactor)> {
    let (inci, class) = (view.name("inci"), view.choice::<Class>("class"));
    let factor = view.exact("factor", Some(Quantity::SumFactor));
    let (counted, own) =
        (view.decimal("counts_as", Quantity::MolarMass), view.decimal("molar_mass", Quantity::MolarMass));
    let molecules = view.whole("molecules");
    let member = match (inci, class) {
        (Some(inci), None) => SumMember::Substance(inci),
        (None, Some(class)) => SumMember::Class(class),
        _ => {
            view.fault(
                "",
                Fault::new(FaultKind::Contradiction, "a member of a sum has exactly one of two keys")
                    .allowed("inci or class"),
            );
            return None;
        }
    };
    let factor = match (factor, counted) {
        (Some(_), Some(_)) => {
            let fault = Fault::new(FaultKind::Contradiction, "what a member counts is stated in more than one way");
            view.fault("factor", fault.allowed("factor or counts_as"));
            return None;
        }
        (factor, None) => {
            if own.is_some() || molecules.is_some() {
                view.fault(
                    "counts_as",
                    Fault::new(FaultKind::Missing, "molar_mass and molecules have a meaning with counts_as only"),
                );
            }
            SumFactor::Parts(factor.unwrap_or(Exact::ONE))
        }
        (None, Some(counted)) => SumFactor::As { counted, molecules: molecules.unwrap_or(1), own },
    };
    Some((member, factor))
}

/// Which lines: one of the keys.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub(crate) struct ScopeDocument {
    /// Every line.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    all: bool,
    /// The lines of a phase.
    #[serde(skip_serializing_if = "Option::is_none")]
    phase: Option<String>,
    /// The lines of a group or split.
    #[serde(skip_serializing_if = "Option::is_none")]
    group: Option<String>,
    /// These lines.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    lines: Vec<String>,
}

/// The basis of a requirement, in the same table.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
pub(crate) struct BasisDocument {
    /// Residual moisture in percent of the finished product; absent means as charged.
    #[serde(skip_serializing_if = "Option::is_none")]
    finished_moisture: Option<Number>,
    /// Whether the water held by starches, clays and hydrates is counted in that.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    with_bound_water: bool,
}

impl From<&Basis> for BasisDocument {
    fn from(basis: &Basis) -> Self {
        let finished_moisture = match basis {
            Basis::AsCharged => None,
            Basis::Finished(moisture) | Basis::FinishedWithBoundWater(moisture) => Some(moisture.into()),
        };
        BasisDocument { finished_moisture, with_bound_water: basis.counts_bound_water() }
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
        let base = common_scope(measure.denominator()).unwrap_or(&Scope::All);
        let (above, terms) = side_document(measure.numerator(), base);
        let is_mass = matches!(measure.denominator(), [term] if term.is_mass());
        let (below, per_terms) = match (is_mass, side_document(measure.denominator(), base)) {
            (true, _) => (None, Vec::new()),
            (false, (below, per_terms)) => (Some(below), per_terms),
        };
        let (per, per_of, (per_scores, per_default), per_members) = below.map_or_else(Default::default, |below| {
            (Some(below.measure), below.of, (below.scores, below.default), below.members)
        });
        MeasureDocument {
            measure: above.measure,
            of: above.of,
            scores: above.scores,
            default: above.default,
            members: above.members,
            terms,
            per,
            per_of,
            per_scores,
            per_default,
            per_members,
            per_terms,
            within: (*base != Scope::All).then(|| base.into()),
            contributed_by: above.contributed_by,
        }
    }
}

/// Every content's stable name.
const SLUGS: [&str; 23] = [
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
    "substance-sum",
];

impl Content {
    /// The content of that name and argument.
    ///
    /// # Errors
    /// An unknown name, a missing argument, a score or sum of substances (which need a table).
    pub fn parse(slug: &str, argument: Option<&str>) -> Result<Self, Error> {
        let needed = || -> Result<&str, Error> {
            argument.ok_or_else(|| {
                Fault::new(FaultKind::Missing, "the measure needs an argument")
                    .value(format!("{slug:?}"))
                    .remedy("say which, under `of`")
                    .into()
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
            "substance-sum" => {
                return Err(Fault::new(FaultKind::Missing, "a sum of substances needs its members")
                    .remedy("give members")
                    .into());
            }
            "score" => {
                return Err(Fault::new(FaultKind::Missing, "a score needs its table")
                    .remedy("give scores by material id")
                    .into());
            }
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
            view.fault(
                "",
                Fault::new(FaultKind::Contradiction, "a scope has one key")
                    .allowed("phase, group, lines, or all = true"),
            );
            None
        }
    }
}

/// The keys of one side of a measure.
struct Keys {
    measure: &'static str,
    of: &'static str,
    scores: &'static str,
    default: &'static str,
    members: &'static str,
    terms: &'static str,
}

const ABOVE: Keys =
    Keys { measure: "measure", of: "of", scores: "scores", default: "default", members: "members", terms: "terms" };
const BELOW: Keys = Keys {
    measure: "per",
    of: "per_of",
    scores: "per_scores",
    default: "per_default",
    members: "per_members",
    terms: "per_terms",
};

/// The content of these keys.
fn read_content(view: &TableView<'_>, keys: &Keys, slug: Option<&str>) -> Option<Content> {
    let (of, scores) = (view.text(keys.of), view.named_decimals(keys.scores, Quantity::Score));
    let members = view.tables(keys.members, read_sum_member);
    let default = view.decimal(keys.default, Quantity::Score);
    let slug = slug?;
    if slug != "score" && view.has(keys.default) {
        view.fault(keys.default, Fault::new(FaultKind::Contradiction, "a default has a meaning with a score only"));
        return None;
    }
    match slug {
        "substance-sum" => {
            Some(Content::Sum(view.accept(keys.measure, SubstanceSum::new(of.unwrap_or("sum"), members))?))
        }
        "score" => {
            let scores = scores.into_iter().map(|(_, id, score)| (id, score));
            let table = ScoreTable::new(of.unwrap_or("score"), scores).and_then(|table| match default {
                Some(default) => table.with_default(default),
                None => Ok(table),
            });
            Some(Content::Score(view.accept(keys.measure, table)?))
        }
        slug => view.accept(keys.measure, Content::parse(slug, of)),
    }
}

fn read_term(view: &TableView<'_>, base: &Scope) -> Option<Measure> {
    let slug = view.needed("measure", |view| view.text("measure"));
    let (factor, scope) = (view.exact("factor", None), view.table("contributed_by", read_scope));
    let content = read_content(view, &ABOVE, slug);
    if (scope.is_none() && view.has("contributed_by")) || (factor.is_none() && view.has("factor")) {
        return None;
    }
    let measure = Measure::of(content?).contributed_by(scope.unwrap_or_else(|| base.clone()));
    view.accept("factor", measure * factor.unwrap_or(Exact::ONE))
}

/// One side of a measure, over the lines of `base` unless a term says otherwise.
fn read_side(view: &TableView<'_>, keys: &Keys, slug: Option<&str>, base: &Scope) -> Option<Measure> {
    let terms = view.tables(keys.terms, |view| read_term(view, base));
    if slug == Some(SUM) {
        // A term that could not be read is reported already.
        return if terms.len() == view.count(keys.terms) { view.accept(keys.terms, Measure::sum(terms)) } else { None };
    }
    let content = read_content(view, keys, slug);
    if view.has(keys.terms) {
        view.fault(
            keys.terms,
            Fault::new(FaultKind::Contradiction, "terms have a meaning with the measure \"sum\" only"),
        );
        return None;
    }
    Some(Measure::of(content?).contributed_by(base.clone()))
}

/// Reads a measure from the table of whatever asks for it.
pub(crate) fn read_measure(view: &TableView<'_>) -> Option<Measure> {
    let slug = view.needed("measure", |view| view.text("measure"));
    let within = view.table("within", read_scope);
    let contributed_by = view.table("contributed_by", read_scope);
    let scoped = (within.is_some() || !view.has("within")) && (contributed_by.is_some() || !view.has("contributed_by"));
    let base = within.unwrap_or(Scope::All);
    let measure = read_side(view, &ABOVE, slug, &base);
    let denominator = match view.text(BELOW.measure) {
        Some(per) => read_side(view, &BELOW, Some(per), &base)?,
        None => {
            view.skip(&[BELOW.of, BELOW.scores, BELOW.members]);
            Measure::as_supplied().contributed_by(base)
        }
    };
    let measure = match contributed_by {
        Some(scope) => measure?.contributed_by(scope),
        None => measure?,
    };
    scoped.then(|| measure.per(&denominator))
}

/// Reads the basis from the same table.
pub(crate) fn read_basis(view: &TableView<'_>) -> Basis {
    let moisture = view.exact("finished_moisture", Some(Quantity::Moisture));
    match (moisture, view.boolean("with_bound_water").unwrap_or_default()) {
        (None, false) => Basis::AsCharged,
        (Some(moisture), false) => Basis::Finished(moisture),
        (Some(moisture), true) => Basis::FinishedWithBoundWater(moisture),
        (None, true) => {
            let fault = Fault::new(FaultKind::Missing, "bound water is counted in a moisture, and none is stated");
            let fault = fault.remedy("state finished_moisture, or leave with_bound_water out");
            view.accept("with_bound_water", Err(fault.into())).unwrap_or_default()
        }
    }
}
