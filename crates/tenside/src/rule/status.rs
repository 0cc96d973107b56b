//! What a market's law is known to say about a substance, and where nothing was found: read off the rules that name it, and off what a
//! list says beside them.

use std::collections::HashMap;
use std::sync::Arc;

use super::{Mark, Market, Rule, RuleBook, RuleList, Varied};
use crate::document::{fold, named_enum};
use crate::measure::{Content, SumMember};
use crate::number::Date;

named_enum! {
    /// What an entry does with a substance, the gravest first.
    StatusKind "status" {
        /// It must not be an ingredient.
        Prohibited = "prohibited",
        /// At most so much of it, for some uses or purposes.
        Limit = "limit",
        /// Allowed under a condition that is no share of the product.
        Condition = "condition",
        /// Limited where it is a residue of something else.
        Trace = "trace",
        /// Words on the label where it is in.
        Label = "label",
        /// Named on the label above a share.
        Declaration = "declaration",
        /// A colour with an entry.
        Colour = "colour",
        /// Only its use in hair dyes is ruled.
        HairDye = "hair-dye",
        /// Something that a person has to find out.
        Question = "question",
        /// Spoken of, not adopted.
        Pending = "pending",
        /// An entry that looks like one and is none.
        NoRestriction = "none",
    }
}

named_enum! {
    /// How substances were looked up of which nothing was found.
    Search "search" {
        /// By CAS number and name.
        CasAndName = "by-cas-and-name",
        /// By name only: a synonym can have been missed.
        NameOnly = "by-name-only",
    }
}

impl Search {
    /// As sentences say it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Search::CasAndName => "by CAS number and name",
            Search::NameOnly => "by name only",
        }
    }
}

/// An act that entries came from or were changed by.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Act {
    /// What rules call it.
    pub id: String,
    /// What findings call it.
    pub title: String,
}

/// How it is known that an entry covers a substance.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub struct Membership {
    /// "named", or the class it is counted to.
    pub by: String,
    /// How that is known.
    pub mark: Mark,
}

/// What an entry says of some substances beside what rules judge.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Statement {
    /// What it does with them.
    pub kind: StatusKind,
    /// The substances, by INCI name.
    pub names: Vec<String>,
    /// The entry, as findings say it.
    pub entry: Option<String>,
    /// What it says.
    pub text: String,
    /// The first day it holds, if stated.
    pub from: Option<Date>,
    /// How what it says is known.
    pub mark: Mark,
    /// How it is known that it covers them, if not because it names them.
    pub membership: Option<Membership>,
}

/// Substances of which nothing was found, and where that was looked for.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Searched {
    /// How.
    pub how: Search,
    /// Where.
    pub place: String,
    /// How that is known.
    pub mark: Mark,
    /// The substances, by INCI name.
    pub names: Vec<String>,
}

/// One entry that speaks of a substance.
#[derive(Clone, Debug, PartialEq)]
pub enum StatusEntry {
    /// A rule, which reviews judge.
    Judged(Arc<Rule>, StatusKind),
    /// What a list says beside its rules: the list, and the place among its statements.
    Stated(Arc<RuleList>, usize),
}

/// What is known of a substance in a market.
///
/// ```
/// use tenside::rule::{Market, RuleBook, StatusKind};
/// let book = RuleBook::starter();
/// let status = book.status(Market::Eu, "ZINC PYRITHIONE");
/// assert_eq!(status.gravest(), Some(StatusKind::Prohibited));
/// assert!(book.status(Market::Eu, "CETYL ALCOHOL").sentence().contains("none found"));
/// assert!(book.status(Market::Eu, "AN INVENTED NAME").sentence().contains("not looked up"));
/// ```
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Status {
    /// The substance, as it was asked for.
    pub name: String,
    /// The market.
    pub market: Market,
    /// What speaks of it, the gravest first.
    pub entries: Vec<StatusEntry>,
    /// How it was looked up, if nothing was found: where, and how that is known.
    pub searched: Option<(Search, String, Mark)>,
}

impl StatusEntry {
    /// What it does with the substance.
    #[must_use]
    pub fn kind(&self) -> StatusKind {
        match self {
            StatusEntry::Judged(_, kind) => *kind,
            StatusEntry::Stated(..) => self.statement().map_or(StatusKind::Question, |statement| statement.kind),
        }
    }

    /// What the list says, where it is no rule.
    #[must_use]
    pub fn statement(&self) -> Option<&Statement> {
        match self {
            StatusEntry::Judged(..) => None,
            StatusEntry::Stated(list, at) => list.statements().get(*at),
        }
    }

    /// The first day it holds, if stated.
    #[must_use]
    pub fn from(&self) -> Option<Date> {
        match self {
            StatusEntry::Judged(rule, _) => rule.from(),
            StatusEntry::Stated(..) => self.statement()?.from,
        }
    }

    /// How what it says is known.
    #[must_use]
    pub fn mark(&self) -> Mark {
        match self {
            StatusEntry::Judged(rule, _) => rule.mark(),
            StatusEntry::Stated(..) => self.statement().map_or(Mark::Stated, |statement| statement.mark),
        }
    }

    /// How it is known that it covers the substance, if not because it names it.
    #[must_use]
    pub fn membership(&self) -> Option<&Membership> {
        match self {
            StatusEntry::Judged(rule, _) => rule.membership(),
            StatusEntry::Stated(..) => self.statement()?.membership.as_ref(),
        }
    }

    /// The entry, what it says, from when, and how that is known.
    #[must_use]
    pub fn sentence(&self) -> String {
        let (entry, text) = match self {
            StatusEntry::Judged(rule, _) => (Some(rule.source().to_string()), rule.title().to_string()),
            StatusEntry::Stated(list, _) => {
                let entry = self.statement().and_then(|statement| statement.entry.clone());
                (entry.map(|entry| format!("{}, {entry}", list.source())), self.statement().map_or_else(String::new, |statement| statement.text.clone()))
            }
        };
        let mut sentence = format!("{}: {text}", self.kind());
        if let Some(from) = self.from() {
            sentence += &format!(", from {from}");
        }
        if let Some(entry) = entry {
            sentence += &format!("; {entry}");
        }
        let membership = self.membership().map_or_else(String::new, |membership| format!("; membership: {}, {}", membership.by, membership.mark.words()));
        format!("{sentence} ({}{membership})", self.mark().words())
    }
}

impl Status {
    /// The gravest that an entry does with it; `None` where no entry speaks of it.
    #[must_use]
    pub fn gravest(&self) -> Option<StatusKind> {
        self.entries.first().map(StatusEntry::kind)
    }

    /// True where neither an entry speaks of it nor a search is known.
    #[must_use]
    pub fn is_not_looked_up(&self) -> bool {
        self.entries.is_empty() && self.searched.is_none()
    }

    /// What is known of it in a sentence; that nothing was found is no clearance.
    #[must_use]
    pub fn sentence(&self) -> String {
        let (name, market) = (&self.name, self.market);
        if !self.entries.is_empty() {
            let entries: Vec<String> = self.entries.iter().map(StatusEntry::sentence).collect();
            return format!("{name} in the {market}: {}", entries.join(" | "));
        }
        match &self.searched {
            Some((how, place, mark)) => format!("{name} in the {market}: none found {} in {place} ({}); that is no clearance", how.words(), mark.words()),
            None => format!("{name} in the {market}: not looked up"),
        }
    }
}

/// Every name that lists speak of, folded.
#[derive(Debug, Default, PartialEq)]
pub(crate) struct StatusIndex {
    by_name: HashMap<String, Vec<(Vec<Market>, StatusEntry)>>,
    searched: HashMap<String, (Vec<Market>, Search, Arc<RuleList>, usize)>,
}

impl StatusIndex {
    pub(super) fn new(book: &RuleBook) -> Self {
        let mut index = StatusIndex::default();
        for list in book.lists() {
            for rule in book.rules_of(list) {
                let Some(kind) = rule.status() else { continue };
                for name in named(rule) {
                    let known = index.by_name.entry(fold(&name)).or_default();
                    let is_known = |(_, entry): &(Vec<Market>, StatusEntry)| matches!(entry, StatusEntry::Judged(other, _) if Arc::ptr_eq(other, rule));
                    if !known.iter().any(is_known) {
                        known.push((rule.markets().to_vec(), StatusEntry::Judged(Arc::clone(rule), kind)));
                    }
                }
            }
            for (at, statement) in list.statements().iter().enumerate() {
                for name in &statement.names {
                    let entry = StatusEntry::Stated(Arc::clone(list), at);
                    index.by_name.entry(fold(name)).or_default().push((list.markets().to_vec(), entry));
                }
            }
            for (at, searched) in list.searched().iter().enumerate() {
                for name in &searched.names {
                    index.searched.insert(fold(name), (list.markets().to_vec(), searched.how, Arc::clone(list), at));
                }
            }
        }
        for entries in index.by_name.values_mut() {
            entries.sort_by_key(|(_, entry)| entry.kind());
        }
        index
    }

    pub(crate) fn of(&self, market: Market, name: &str) -> Status {
        let folded = fold(name);
        let concerns = |markets: &[Market]| markets.is_empty() || markets.contains(&market);
        let entries = self.by_name.get(&folded).into_iter().flatten().filter(|(markets, _)| concerns(markets)).map(|(_, entry)| entry.clone()).collect();
        let searched = self.searched.get(&folded).filter(|(markets, ..)| concerns(markets)).and_then(|(_, how, list, at)| {
            let searched = list.searched().get(*at)?;
            Some((*how, searched.place.clone(), searched.mark))
        });
        Status { name: name.to_string(), market, entries, searched }
    }
}

/// The substances that a rule names: those it weighs, else those that it asks for.
fn named(rule: &Rule) -> Vec<String> {
    let weighed = |measurand: &super::Measurand| -> Vec<String> {
        let contents = measurand.measure.numerator().iter().map(|term| &term.content);
        contents.flat_map(names_of).collect()
    };
    let own = match rule.subject() {
        Varied::Measure(measurand, _) => weighed(measurand),
        Varied::Each(check) => check.listed.clone(),
        Varied::Fact(..) | Varied::Conditions => Vec::new(),
    };
    if !own.is_empty() {
        return own;
    }
    let asked =
        rule.when().iter().filter_map(|condition| if let super::Condition::Measure(measurand, _) = condition { Some(weighed(measurand)) } else { None });
    asked.flatten().collect()
}

fn names_of(content: &Content) -> Vec<String> {
    match content {
        Content::Constituent(name) | Content::Substance(name) => vec![name.clone()],
        Content::Sum(sum) => sum
            .members()
            .iter()
            .filter(|(_, factor)| !factor.is_nothing())
            .filter_map(|(member, _)| if let SumMember::Substance(name) = member { Some(name.clone()) } else { None })
            .collect(),
        _ => Vec::new(),
    }
}
