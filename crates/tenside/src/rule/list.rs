//! A list of rules from one source, and the lists that a review uses together.

use std::collections::HashMap;
use std::sync::Arc;

use super::{
    Act, Condition, Group, Mark, Market, Membership, Placing, Searched, Severity, Statement, StatusKind, Use, Varied,
};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Purpose;
use crate::memo::Shelf;
use crate::number::Date;

/// One rule: when it is asked, what has to hold, and who says so.
#[derive(Clone, Debug, PartialEq)]
pub struct Rule {
    pub(super) slug: String,
    pub(super) severity: Severity,
    pub(super) title: String,
    pub(super) markets: Vec<Market>,
    pub(super) uses: Vec<Use>,
    pub(super) placing: Option<Placing>,
    pub(super) from: Option<Date>,
    pub(super) available_from: Option<Date>,
    pub(super) date_mark: Option<Mark>,
    pub(super) until: Option<Date>,
    pub(super) purpose: Option<Purpose>,
    pub(super) purpose_not_stated: Option<Severity>,
    pub(super) status: Option<StatusKind>,
    pub(super) membership: Option<Membership>,
    pub(super) act: Option<Act>,
    pub(super) label: Option<String>,
    pub(super) replaces: Option<String>,
    pub(super) when: Vec<Condition>,
    pub(super) subject: Varied,
    pub(super) pka: Option<rust_decimal::Decimal>,
    pub(super) advice: Option<String>,
    pub(super) entry: Option<String>,
    pub(super) own_source: Option<String>,
    pub(super) own_mark: Option<Mark>,
    /// Where it stands: what its findings name.
    pub(super) source: String,
    pub(super) mark: Mark,
}

getters!(Rule {
    /// Its stable name, which its findings carry.
    slug: &str,
    /// How grave its findings are.
    severity: Severity,
    /// What its findings say, without numbers.
    title: &str,
    /// The markets it holds in; all where none is named.
    markets: &[Market],
    /// The uses it is for; all where none is named.
    uses: &[Use],
    /// Whether it is for products placed or made available; both where not stated.
    placing: Option<Placing>,
    /// The first day it holds, if stated: for products placed on the market, and for others unless a later day is
    /// stated for them.
    from: Option<Date>,
    /// The first day on which what was placed on the market before may not be made available any more, if it is a later
    /// one.
    available_from: Option<Date>,
    /// How its days are known, if not as its value is.
    date_mark: Option<Mark>,
    /// The purpose that it is about: other lines than those that are there for it do not count.
    purpose: Option<Purpose>,
    /// How grave a finding is at most where the purpose of the lines is not stated; none if they do not count then.
    purpose_not_stated: Option<Severity>,
    /// What it does with the substances that it names, if it is an entry of law.
    status: Option<StatusKind>,
    /// How it is known that the entry covers the substances, if not because it names them.
    membership: Option<&Membership>,
    /// The act that made it what it is, or changed it last.
    act: Option<&Act>,
    /// The last day it holds, if stated.
    until: Option<Date>,
    /// What has to hold for it to be asked.
    when: &[Condition],
    /// What it is about.
    subject: &Varied,
    /// The dissociation constant of the acid that a pH rule is about, for the share left undissociated.
    pka: Option<rust_decimal::Decimal>,
    /// Who says so, with the entry.
    source: &str,
    /// How its value is known.
    mark: Mark,
});

impl Rule {
    /// The words that are due on the label, or their sense.
    #[must_use]
    pub fn label(&self) -> Option<&str> {
        self.label.as_deref()
    }

    /// The list whose rule of the same name it takes the place of.
    #[must_use]
    pub fn replaces(&self) -> Option<&str> {
        self.replaces.as_deref()
    }

    /// What to do about a finding, if the rule says so.
    #[must_use]
    pub fn advice(&self) -> Option<&str> {
        self.advice.as_deref()
    }

    /// Who says so and how that is known, as findings say it.
    #[must_use]
    pub fn marked_source(&self) -> String {
        let act = self
            .act
            .as_ref()
            .filter(|act| !self.source.contains(&act.title))
            .map_or_else(String::new, |act| format!(", {}", act.title));
        let membership = self
            .membership
            .as_ref()
            .map_or_else(String::new, |known| format!("; that it covers this: {} ({})", known.by, known.mark.words()));
        let dates = self
            .date_mark
            .filter(|mark| *mark != self.mark)
            .map_or_else(String::new, |mark| format!("; its days: {}", mark.words()));
        format!("{}{membership}{dates}", self.mark.behind(format!("{}{act}", self.source)))
    }

    /// The day it begins for a product in that sense on the market; none if it always held.
    #[must_use]
    pub fn begins(&self, placing: Placing) -> Option<Date> {
        match placing {
            Placing::Placed => self.from,
            Placing::MadeAvailable => self.available_from.or(self.from),
        }
    }

    /// True unless it ended before that day.
    #[must_use]
    pub fn lasts_to(&self, day: Date) -> bool {
        self.until.is_none_or(|until| day <= until)
    }

    fn shares_a_day(&self, other: &Rule) -> bool {
        let starts_after = |later: &Rule, earlier: &Rule| matches!((later.from, earlier.until), (Some(from), Some(until)) if from > until);
        !starts_after(self, other) && !starts_after(other, self)
    }

    fn shares_a_market(&self, other: &Rule) -> bool {
        self.markets.is_empty()
            || other.markets.is_empty()
            || self.markets.iter().any(|market| other.markets.contains(market))
    }
}

/// Rules of one source, with the date of the text they were taken from. Values are immutable.
///
/// ```
/// use tenside::document::Notation;
/// use tenside::rule::RuleList;
/// let text = r#"
/// tenside = "rules/1"
/// id = "our-own"
/// title = "What we ask of our bars"
/// source = "house rule"
/// [[rule]]
/// slug = "too-much-salt"
/// severity = "warning"
/// title = "salt makes the bar crumble"
/// measure = "constituent"
/// of = "SODIUM CHLORIDE"
/// at_most = 3
/// "#;
/// let list = RuleList::read(text, Notation::Toml)?;
/// assert_eq!(list.rules()[0].source(), "house rule");
/// let error = RuleList::read(&text.replace("source", "sauce"), Notation::Toml).unwrap_err();
/// assert!(error.to_string().contains("house rule"));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct RuleList {
    pub(super) id: String,
    pub(super) title: String,
    pub(super) source: String,
    pub(super) edition: Option<String>,
    pub(super) consolidated: Option<Date>,
    pub(super) mark: Mark,
    pub(super) note: Option<String>,
    pub(super) markets: Vec<Market>,
    pub(super) not_covered: Vec<String>,
    pub(super) groups: Vec<Group>,
    pub(super) rules: Vec<Arc<Rule>>,
    pub(super) acts: Vec<Act>,
    pub(super) statements: Vec<Statement>,
    pub(super) searched: Vec<Searched>,
}

getters!(RuleList {
    /// Its identifier.
    id: &str,
    /// What it is called.
    title: &str,
    /// The document it was taken from.
    source: &str,
    /// The date of the consolidated text, if stated: amendments after it are not in the list.
    consolidated: Option<Date>,
    /// How its values are known.
    mark: Mark,
    /// The markets it is for; all where none is named.
    markets: &[Market],
    /// What it does not cover although it might be looked for here.
    not_covered: &[String],
    /// Its groups of substances.
    groups: &[Group],
    /// Its rules.
    rules: &[Arc<Rule>],
    /// The acts that its rules name.
    acts: &[Act],
    /// What it says of substances beside its rules.
    statements: &[Statement],
    /// Substances of which nothing was found.
    searched: &[Searched],
});

impl RuleList {
    /// The edition, if stated.
    #[must_use]
    pub fn edition(&self) -> Option<&str> {
        self.edition.as_deref()
    }

    /// What to know about the list.
    #[must_use]
    pub fn note(&self) -> Option<&str> {
        self.note.as_deref()
    }

    /// One line for a header: title, source, date, mark.
    #[must_use]
    pub fn heading(&self) -> String {
        let mut text = format!("{}: {}", self.title, self.source);
        if let Some(edition) = &self.edition {
            text += &format!(", {edition}");
        }
        if let Some(date) = self.consolidated {
            text += &format!(", as of {date}");
        }
        self.mark.behind(text)
    }
}

/// Two rules of one name must not hold on the same day in the same market; a fault with the index of the later one.
pub(super) fn overlaps(rules: &[Arc<Rule>]) -> Vec<(usize, Fault)> {
    let mut known: HashMap<&str, Vec<&Rule>> = HashMap::new();
    let mut faults = Vec::new();
    for (at, rule) in rules.iter().enumerate() {
        let earlier = known.entry(rule.slug()).or_default();
        if earlier.iter().any(|other| rule.shares_a_day(other) && rule.shares_a_market(other)) {
            let remedy = "give them dates that do not overlap, or another name";
            faults.push((
                at,
                Fault::new(FaultKind::Contradiction, "two rules of one name hold on the same day")
                    .value(format!("{:?}", rule.slug))
                    .remedy(remedy),
            ));
        }
        earlier.push(rule);
    }
    faults
}

/// The lists that are used together.
///
/// ```
/// let book = tenside::rule::RuleBook::starter();
/// assert!(book.lists().iter().any(|list| list.id() == "eu-annex-v"));
/// assert!(book.rules().count() > 60);
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct RuleBook {
    lists: Vec<Arc<RuleList>>,
    /// Rules that others replace: their list and name.
    replaced: Vec<(String, String)>,
    /// What was compiled of its rules.
    shelf: Shelf,
}

impl RuleBook {
    /// No lists.
    #[must_use]
    pub fn empty() -> Self {
        RuleBook::default()
    }

    /// With one more list.
    ///
    /// # Errors
    /// A list of an identifier that is there already, and rules of a name that another list has, unless they say that
    /// they replace it.
    pub fn with(mut self, list: Arc<RuleList>) -> Result<Self, Error> {
        let mut faults = Vec::new();
        if self.lists.iter().any(|known| known.id == list.id) {
            faults.push(
                Fault::new(FaultKind::Duplicate, "two lists of rules have the same id")
                    .value(format!("{:?}", list.id))
                    .remedy("rename one of them"),
            );
        }
        for rule in list.rules() {
            let of_name =
                |known: &&Arc<RuleList>| known.id != list.id && known.rules.iter().any(|other| other.slug == rule.slug);
            let known = self.lists.iter().filter(of_name).find(|known| rule.replaces.as_ref() != Some(&known.id));
            if let Some(known) = known {
                let message = format!("the list {:?} has a rule of this name", known.id);
                let remedy = format!("rename it, or say replaces = {:?} if it takes the place of that one", known.id);
                faults.push(Fault::new(FaultKind::Duplicate, message).value(format!("{:?}", rule.slug)).remedy(remedy));
            }
            if let Some(replaced) = &rule.replaces
                && !self.lists.iter().filter(of_name).any(|known| known.id == *replaced)
            {
                let message = format!("no list {replaced:?} before this one has a rule of this name to be replaced");
                faults.push(
                    Fault::new(FaultKind::UnknownName, message)
                        .value(format!("{:?}", rule.slug))
                        .remedy("leave out replaces, or correct it"),
                );
            }
        }
        self.replaced.extend(list.rules().iter().filter_map(|rule| Some((rule.replaces.clone()?, rule.slug.clone()))));
        self.lists.push(list);
        self.shelf = Shelf::default();
        Error::check(faults, self)
    }

    pub(super) fn shelf(&self) -> &Shelf {
        &self.shelf
    }

    /// The lists, in the order added.
    #[must_use]
    pub fn lists(&self) -> &[Arc<RuleList>] {
        &self.lists
    }

    /// Every rule of every list but those that another one replaces.
    pub fn rules(&self) -> impl Iterator<Item = &Arc<Rule>> {
        self.lists.iter().flat_map(|list| self.rules_of(list))
    }

    /// The rules of one of its lists but those that another one replaces.
    pub(super) fn rules_of<'l>(&'l self, list: &'l RuleList) -> impl Iterator<Item = &'l Arc<Rule>> {
        list.rules.iter().filter(|rule| !self.replaced.iter().any(|(id, slug)| *id == list.id && *slug == rule.slug))
    }
}
