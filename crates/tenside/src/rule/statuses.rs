//! What a market's law is known to say about a substance, and where nothing was found: read off the rules that name it,
//! and off what a list says beside them.

use std::collections::HashMap;
use std::sync::Arc;

use super::{Mark, Market, Membership, Rule, RuleBook, RuleList, Search, Statement, StatusKind, Varied};
use crate::document::fold;
use crate::measure::{Content, SumMember};
use crate::memo::Memo;
use crate::number::Date;

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
                (
                    entry.map(|entry| format!("{}, {entry}", list.source())),
                    self.statement().map_or_else(String::new, |statement| statement.text.clone()),
                )
            }
        };
        let mut sentence = format!("{}: {text}", self.kind());
        if let Some(from) = self.from() {
            sentence += &format!(", from {from}");
        }
        if let Some(entry) = entry {
            sentence += &format!("; {entry}");
        }
        let membership = self.membership().map_or_else(String::new, |membership| {
            format!("; membership: {}, {}", membership.by, membership.mark.words())
        });
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
            Some((how, place, mark)) => format!(
                "{name} in the {market}: none found {} in {place} ({}); that is no clearance",
                how.words(),
                mark.words()
            ),
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
        let entries = self
            .by_name
            .get(&folded)
            .into_iter()
            .flatten()
            .filter(|(markets, _)| concerns(markets))
            .map(|(_, entry)| entry.clone())
            .collect();
        let searched =
            self.searched.get(&folded).filter(|(markets, ..)| concerns(markets)).and_then(|(_, how, list, at)| {
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
    let asked = rule.when().iter().filter_map(|condition| {
        if let super::Condition::Measure(measurand, _) = condition { Some(weighed(measurand)) } else { None }
    });
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

/// What a book's lists say of each substance.
#[derive(Default)]
struct Kept(Memo<Arc<StatusIndex>>);

impl RuleBook {
    /// What its lists say of a substance in a market.
    #[must_use]
    pub fn status(&self, market: Market, inci: &str) -> Status {
        self.statuses().of(market, inci)
    }

    pub(crate) fn statuses(&self) -> &Arc<StatusIndex> {
        self.shelf().of::<Kept>().0.get_or(|| Arc::new(StatusIndex::new(self)))
    }
}
