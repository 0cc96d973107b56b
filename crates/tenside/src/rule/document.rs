//! Lists of rules in documents.

use serde::Serialize;

use super::{
    Bound, Condition, Each, Fact, Group, JudgedOn, Limit, LimitValue, Mark, Market, Measurand, Membership, Placing,
    ProductForm, Rule, RuleList, Search, Searched, Severity, Statement, StatusKind, Storage, Use, Varied,
};
use crate::document::{Notation, Number, always_written, write};
use crate::error::Error;
use crate::formula::Purpose;
use crate::measure::{MeasureDocument, SumMemberDocument};

/// A list of rules as documents hold it. A rule without a source of its own has the list's; one without any says
/// `house rule`.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct RulesDocument {
    /// `rules/1`.
    tenside: &'static str,
    /// Identifier.
    id: String,
    /// Title.
    title: String,
    /// The document the rules were taken from, or `house rule`.
    #[serde(skip_serializing_if = "always_written")]
    source: String,
    /// The edition of that document.
    #[serde(skip_serializing_if = "Option::is_none")]
    edition: Option<String>,
    /// The date of the consolidated text, year-month-day.
    #[serde(skip_serializing_if = "Option::is_none")]
    consolidated: Option<String>,
    /// How the text was seen.
    #[serde(skip_serializing_if = "always_written")]
    mark: Mark,
    /// What to know of the text as stored.
    #[serde(skip_serializing_if = "Option::is_none")]
    note: Option<String>,
    /// The markets it is for; all where none is named.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    markets: Vec<Market>,
    /// What it does not cover although it might be looked for here.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    not_covered: Vec<String>,
    /// The acts that rules name.
    #[serde(rename = "act", skip_serializing_if = "Vec::is_empty")]
    acts: Vec<ActDocument>,
    /// Groups of substances that rules sum.
    #[serde(rename = "group", skip_serializing_if = "Vec::is_empty")]
    groups: Vec<GroupDocument>,
    /// The rules.
    #[serde(rename = "rule", skip_serializing_if = "Vec::is_empty")]
    rules: Vec<RuleDocument>,
    /// What its source says of substances beside the rules.
    #[serde(rename = "status", skip_serializing_if = "Vec::is_empty")]
    statements: Vec<StatementDocument>,
    /// Substances of which nothing was found.
    #[serde(rename = "searched", skip_serializing_if = "Vec::is_empty")]
    searched: Vec<SearchedDocument>,
}

/// An act that entries came from or were changed by.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct ActDocument {
    /// What rules call it.
    id: String,
    /// What findings call it.
    title: String,
}

/// What an entry says of some substances that no rule judges.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct StatementDocument {
    /// What it does with them.
    kind: StatusKind,
    /// The substances, by INCI name.
    names: Vec<String>,
    /// The entry, article or paragraph of the source.
    #[serde(skip_serializing_if = "Option::is_none")]
    entry: Option<String>,
    /// What it says.
    text: String,
    /// The first day it holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    from: Option<String>,
    /// How its text was seen, if not as that of the list.
    #[serde(skip_serializing_if = "Option::is_none")]
    mark: Option<Mark>,
    /// By what it covers the substances, if not because it names them.
    #[serde(skip_serializing_if = "Option::is_none")]
    membership: Option<String>,
    /// How that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    membership_mark: Option<Mark>,
}

/// Substances of which nothing was found.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct SearchedDocument {
    /// How they were looked up.
    how: Search,
    /// Where.
    place: String,
    /// How that is known, if not as the text of the list.
    #[serde(skip_serializing_if = "Option::is_none")]
    mark: Option<Mark>,
    /// The substances, by INCI name.
    names: Vec<String>,
}

/// Substances that rules sum.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
struct GroupDocument {
    /// Its name in rules.
    name: String,
    /// Its name for people.
    title: String,
    /// The substances and classes in it.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    members: Vec<SumMemberDocument>,
    /// Other groups of the list that it takes in.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    groups: Vec<String>,
}

/// A rule. It is about one of `measure`, `group`, `fact` and `each`, or about its conditions alone.
#[derive(Clone, Debug, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct RuleDocument {
    /// Its stable name.
    slug: String,
    /// How grave a finding is.
    severity: Severity,
    /// What a finding says, in words.
    title: String,
    /// The markets it is for; those of the list if none is named.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    markets: Vec<Market>,
    /// The uses it is for; all where none is named.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    uses: Vec<Use>,
    /// The step of trade it is for; each if not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    placing: Option<Placing>,
    /// What it does with the substances it names, for a rule that is an entry of law.
    #[serde(skip_serializing_if = "Option::is_none")]
    status: Option<StatusKind>,
    /// The purpose it is about; lines that are there for another one do not count.
    #[serde(skip_serializing_if = "Option::is_none")]
    purpose: Option<Purpose>,
    /// How grave a finding is at most where the purpose of the lines is not stated; they do not count if it is not
    /// given.
    #[serde(skip_serializing_if = "Option::is_none")]
    purpose_not_stated: Option<Severity>,
    /// The first day it holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    from: Option<String>,
    /// The first day on which what was placed on the market before may not be made available any more.
    #[serde(skip_serializing_if = "Option::is_none")]
    available_from: Option<String>,
    /// How its days are known, if not as its text.
    #[serde(skip_serializing_if = "Option::is_none")]
    date_mark: Option<Mark>,
    /// The last day it holds.
    #[serde(skip_serializing_if = "Option::is_none")]
    until: Option<String>,
    /// What to do about a finding.
    #[serde(skip_serializing_if = "Option::is_none")]
    advice: Option<String>,
    /// The entry, article or paragraph of the source.
    #[serde(skip_serializing_if = "Option::is_none")]
    entry: Option<String>,
    /// The document it was taken from, if not that of the list.
    #[serde(skip_serializing_if = "Option::is_none")]
    source: Option<String>,
    /// How its text was seen, if not as that of the list.
    #[serde(skip_serializing_if = "Option::is_none")]
    mark: Option<Mark>,
    /// The act of the list that made it what it is, or changed it last.
    #[serde(skip_serializing_if = "Option::is_none")]
    act: Option<String>,
    /// By what it covers the substances, if not because it names them.
    #[serde(skip_serializing_if = "Option::is_none")]
    membership: Option<String>,
    /// How that is known.
    #[serde(skip_serializing_if = "Option::is_none")]
    membership_mark: Option<Mark>,
    /// Words that are due on the label, or their sense.
    #[serde(skip_serializing_if = "Option::is_none")]
    label: Option<String>,
    /// The list whose rule of the same name it takes the place of.
    #[serde(skip_serializing_if = "Option::is_none")]
    replaces: Option<String>,
    /// The dissociation constant of an acid preservative, for a rule about the pH.
    #[serde(skip_serializing_if = "Option::is_none")]
    pka: Option<Number>,
    /// A check of each raw material.
    #[serde(skip_serializing_if = "Option::is_none")]
    each: Option<Each>,
    /// Percent of a use level by which an amount may depart from it without a finding, for a check of use levels.
    #[serde(skip_serializing_if = "Option::is_none")]
    tolerance: Option<Number>,
    /// Substances whose raw materials are left to other rules, by INCI name, for a check of pH ranges.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    listed: Vec<String>,
    #[serde(flatten)]
    compared: ComparedDocument,
    /// All of these have to hold for the rule to be asked.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    when: Vec<ConditionDocument>,
}

/// A comparison that has to hold: of a measure, group or fact with a limit, or one of `kept`, `form`, `stated` and
/// `not_stated`.
#[derive(Clone, Debug, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct ConditionDocument {
    /// How the product is kept between uses.
    #[serde(skip_serializing_if = "Option::is_none")]
    kept: Option<Storage>,
    /// What the product is like.
    #[serde(skip_serializing_if = "Option::is_none")]
    form: Option<ProductForm>,
    /// A fact that has to be stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    stated: Option<Fact>,
    /// A fact that must not be stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    not_stated: Option<Fact>,
    /// Whether a fact that is not stated keeps its limit.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    or_not_stated: bool,
    #[serde(flatten)]
    compared: ComparedDocument,
}

/// A measure, a group or a fact, with limits.
#[derive(Clone, Debug, Default, Serialize)]
#[cfg_attr(feature = "schema", derive(schemars::JsonSchema))]
struct ComparedDocument {
    /// A fact about the product.
    #[serde(skip_serializing_if = "Option::is_none")]
    fact: Option<Fact>,
    /// A group of this list.
    #[serde(skip_serializing_if = "Option::is_none")]
    group: Option<String>,
    /// The basis of the measure; each in turn if not stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    basis: Option<JudgedOn>,
    /// It is at most this.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_most: Option<Number>,
    /// It is below this.
    #[serde(skip_serializing_if = "Option::is_none")]
    below: Option<Number>,
    /// It is at least this.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_least: Option<Number>,
    /// It is above this.
    #[serde(skip_serializing_if = "Option::is_none")]
    above: Option<Number>,
    /// At most what is stated of the product.
    #[serde(skip_serializing_if = "Option::is_none")]
    at_most_stated: Option<Fact>,
    #[serde(flatten)]
    measure: Option<MeasureDocument>,
}

impl ComparedDocument {
    fn of_measure(measurand: &Measurand, limits: &[Limit]) -> Self {
        let measure = measurand.group.is_none().then(|| (&measurand.measure).into());
        let basis = Some(measurand.judged_on);
        ComparedDocument { group: measurand.group.clone(), basis, measure, ..ComparedDocument::default() }.with(limits)
    }

    fn of_fact(fact: Fact, limits: &[Limit]) -> Self {
        ComparedDocument { fact: Some(fact), ..ComparedDocument::default() }.with(limits)
    }

    fn with(mut self, limits: &[Limit]) -> Self {
        for limit in limits {
            match (&limit.value, limit.bound) {
                (LimitValue::Stated(fact), _) => self.at_most_stated = Some(*fact),
                (LimitValue::Number(value), Bound::AtMost) => self.at_most = Some(value.into()),
                (LimitValue::Number(value), Bound::Below) => self.below = Some(value.into()),
                (LimitValue::Number(value), Bound::AtLeast) => self.at_least = Some(value.into()),
                (LimitValue::Number(value), Bound::Above) => self.above = Some(value.into()),
            }
        }
        self
    }
}

impl From<&Condition> for ConditionDocument {
    fn from(condition: &Condition) -> Self {
        let blank = ConditionDocument::default();
        match condition {
            Condition::Measure(measurand, limit) => ConditionDocument {
                compared: ComparedDocument::of_measure(measurand, std::slice::from_ref(limit)),
                ..blank
            },
            Condition::Fact(fact, limit, or_not_stated) => ConditionDocument {
                or_not_stated: *or_not_stated,
                compared: ComparedDocument::of_fact(*fact, std::slice::from_ref(limit)),
                ..blank
            },
            Condition::Kept(storage) => ConditionDocument { kept: Some(*storage), ..blank },
            Condition::Form(form) => ConditionDocument { form: Some(*form), ..blank },
            Condition::Stated(fact, true) => ConditionDocument { stated: Some(*fact), ..blank },
            Condition::Stated(fact, false) => ConditionDocument { not_stated: Some(*fact), ..blank },
        }
    }
}

impl From<&Rule> for RuleDocument {
    fn from(rule: &Rule) -> Self {
        let (compared, each) = match &rule.subject {
            Varied::Measure(measurand, limits) => (ComparedDocument::of_measure(measurand, limits), None),
            Varied::Fact(fact, limits) => (ComparedDocument::of_fact(*fact, limits), None),
            Varied::Each(check) => (ComparedDocument::default().with(check.limit.as_slice()), Some(check)),
            Varied::Conditions => (ComparedDocument::default(), None),
        };
        RuleDocument {
            slug: rule.slug.clone(),
            severity: rule.severity,
            title: rule.title.clone(),
            markets: rule.markets.clone(),
            uses: rule.uses.clone(),
            placing: rule.placing,
            status: rule.status,
            purpose: rule.purpose,
            purpose_not_stated: rule.purpose_not_stated,
            from: rule.from.map(|date| date.to_string()),
            available_from: rule.available_from.map(|date| date.to_string()),
            date_mark: rule.date_mark,
            until: rule.until.map(|date| date.to_string()),
            advice: rule.advice.clone(),
            entry: rule.entry.clone(),
            source: rule.own_source.clone(),
            mark: rule.own_mark,
            act: rule.act.as_ref().map(|act| act.id.clone()),
            membership: rule.membership.as_ref().map(|known| known.by.clone()),
            membership_mark: rule.membership.as_ref().map(|known| known.mark),
            label: rule.label.clone(),
            replaces: rule.replaces.clone(),
            pka: rule.pka.map(Number::from),
            each: each.map(|check| check.check),
            tolerance: each.and_then(|check| check.tolerance).map(Number::from),
            listed: each.map_or_else(Vec::new, |check| check.listed.clone()),
            compared,
            when: rule.when.iter().map(ConditionDocument::from).collect(),
        }
    }
}

impl StatementDocument {
    fn of(statement: &Statement, mark: Mark) -> Self {
        let membership = statement.membership.as_ref();
        StatementDocument {
            kind: statement.kind,
            names: statement.names.clone(),
            entry: statement.entry.clone(),
            text: statement.text.clone(),
            from: statement.from.map(|date| date.to_string()),
            mark: (statement.mark != mark).then_some(statement.mark),
            membership: membership.map(|known: &Membership| known.by.clone()),
            membership_mark: membership.map(|known| known.mark),
        }
    }
}

impl SearchedDocument {
    fn of(searched: &Searched, mark: Mark) -> Self {
        let own = (searched.mark != mark).then_some(searched.mark);
        SearchedDocument { how: searched.how, place: searched.place.clone(), mark: own, names: searched.names.clone() }
    }
}

impl From<&Group> for GroupDocument {
    fn from(group: &Group) -> Self {
        GroupDocument {
            name: group.name.clone(),
            title: group.title.clone(),
            members: group.members.iter().map(SumMemberDocument::from).collect(),
            groups: group.groups.clone(),
        }
    }
}

impl From<&RuleList> for RulesDocument {
    fn from(list: &RuleList) -> Self {
        RulesDocument {
            tenside: super::read::VERSION,
            id: list.id.clone(),
            title: list.title.clone(),
            source: list.source.clone(),
            edition: list.edition.clone(),
            consolidated: list.consolidated.map(|date| date.to_string()),
            mark: list.mark,
            note: list.note.clone(),
            markets: list.markets.clone(),
            not_covered: list.not_covered.clone(),
            acts: list.acts.iter().map(|act| ActDocument { id: act.id.clone(), title: act.title.clone() }).collect(),
            groups: list.groups.iter().map(GroupDocument::from).collect(),
            rules: list.rules.iter().map(|rule| RuleDocument::from(rule.as_ref())).collect(),
            statements: list.statements.iter().map(|statement| StatementDocument::of(statement, list.mark)).collect(),
            searched: list.searched.iter().map(|searched| SearchedDocument::of(searched, list.mark)).collect(),
        }
    }
}

impl RuleList {
    /// Writes the list as a document.
    ///
    /// # Errors
    /// None for lists of this crate; serialisers report values they cannot write.
    pub fn write(&self, notation: Notation) -> Result<String, Error> {
        write(&RulesDocument::from(self), notation)
    }

    /// The JSON Schema of such documents.
    ///
    /// ```
    /// assert!(tenside::rule::RuleList::schema().contains("\"$schema\""));
    /// ```
    #[cfg(feature = "schema")]
    #[must_use]
    pub fn schema() -> String {
        crate::document::schema_text::<RulesDocument>("rules")
    }
}
