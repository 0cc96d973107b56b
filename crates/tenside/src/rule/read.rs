//! Reading lists of rules. Every fault of a file is reported at once, unknown keys included.

use std::collections::HashMap;
use std::sync::Arc;

use super::group::resolve;
use super::list::overlaps;
use super::{
    Act, Bound, Condition, Each, EachCheck, Fact, Group, JudgedOn, Limit, LimitValue, Mark, Measurand, Membership,
    ProductForm, Rule, RuleList, Searched, Severity, Statement, Varied,
};
use crate::bounds::Quantity;
use crate::document::{Named, Notation, Reader, TableView, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Content, Measure, Scope, SubstanceSum, read_measure, read_sum_member};
use crate::number::Date;

/// The version line of a list of rules.
pub(super) const VERSION: &str = "rules/1";
/// What a rule without a source says instead.
const HOUSE_RULE: &str = "house rule";

type Sums<'a> = HashMap<&'a str, SubstanceSum>;

impl RuleList {
    /// Reads a list of rules.
    ///
    /// # Errors
    /// Every fault of the document: unknown keys, measures, groups and markets, groups that take in themselves, rules
    /// of one name that hold on the same day, a rule without a source.
    pub fn read(text: &str, notation: Notation) -> Result<Self, Error> {
        Reader::read(text, notation, |view| {
            view.version(VERSION);
            let (id, title) = (view.needed_slug("id"), view.needed_name("title"));
            let (source, edition, note) = (view.prose("source"), view.name("edition"), view.prose("note"));
            let consolidated = date(view, "consolidated");
            let mark = view.choice("mark").unwrap_or(Mark::Stated);
            let markets = view.choices("markets");
            let not_covered = view
                .texts("not_covered")
                .into_iter()
                .filter_map(|text| view.accept("not_covered", crate::document::check_prose(text)))
                .collect();
            let mut acts: Vec<Act> = Vec::new();
            view.tables("act", |view| {
                let act = Act { id: view.needed_name("id")?, title: view.needed_name("title")? };
                if acts.iter().any(|known| known.id == act.id) {
                    view.fault(
                        "id",
                        Fault::new(FaultKind::Duplicate, "two acts have the same id")
                            .value(format!("{:?}", act.id))
                            .remedy("keep one of them"),
                    );
                }
                acts.push(act);
                Some(())
            });
            let mut group_marks = Vec::new();
            let groups = view.tables("group", |view| {
                let group = read_group(view)?;
                group_marks.push(view.mark());
                Some(group)
            });
            let (sums, faults) = resolve(&groups);
            for (at, fault) in faults {
                view.fault_at(group_marks[at], fault.at(format!("group {:?}", groups[at].name)));
            }
            let list = Listed { source: source.as_deref(), mark, markets: &markets, acts: &acts };
            let mut rule_marks = Vec::new();
            let rules = view.tables("rule", |view| {
                let rule = read_rule(view, &list, &sums)?;
                rule_marks.push(view.mark());
                Some(Arc::new(rule))
            });
            for (at, fault) in overlaps(&rules) {
                view.fault_at(rule_marks[at], fault.at(format!("rule {:?}", rules[at].slug)));
            }
            let statements = view.tables("status", |view| read_statement(view, mark));
            let searched = view.tables("searched", |view| read_searched(view, mark));
            // Without any rule the missing source of the list has not been reported yet.
            if source.is_none() && (view.count("rule") == 0 || !statements.is_empty()) {
                no_source(view);
            }
            let source = source.or_else(|| {
                rules.iter().all(|rule| rule.own_source.is_some()).then(|| "named with each rule".to_string())
            });
            Some(RuleList {
                id: id?,
                title: title?,
                source: source?,
                edition,
                consolidated,
                mark,
                note,
                markets: markets.clone(),
                not_covered,
                groups,
                rules,
                acts,
                statements,
                searched,
            })
        })
    }
}

/// What a list says for all its rules.
struct Listed<'a> {
    source: Option<&'a str>,
    mark: Mark,
    markets: &'a [super::Market],
    acts: &'a [Act],
}

fn no_source(view: &TableView<'_>) {
    let remedy = format!("name the document, or say source = {HOUSE_RULE:?}");
    view.fault("", Fault::new(FaultKind::Missing, "a rule without a source").remedy(remedy));
}

fn date(view: &TableView<'_>, key: &'static str) -> Option<Date> {
    view.text(key).and_then(|text| view.accept(key, text.parse()))
}

fn label(view: &TableView<'_>, kind: &str, key: &'static str) {
    if let Some(name) = view.text(key) {
        view.label(format!("{kind} {:?}", name.chars().take(60).collect::<String>()));
    }
}

fn read_group(view: &TableView<'_>) -> Option<Group> {
    label(view, "group", "name");
    let (name, title) = (view.needed_slug("name"), view.needed_name("title"));
    let members = view.tables("members", read_sum_member);
    let groups = view.texts("groups").into_iter().map(str::to_string).collect();
    Some(Group { name: name?, title: title?, members, groups })
}

fn read_rule(view: &TableView<'_>, list: &Listed<'_>, sums: &Sums<'_>) -> Option<Rule> {
    label(view, "rule", "slug");
    let (slug, title) = (view.needed_slug("slug"), view.needed_name("title"));
    let severity = view.needed("severity", |view| view.choice("severity"));
    let own_markets = view.choices("markets");
    let markets = if view.has("markets") { own_markets } else { list.markets.to_vec() };
    let (uses, placing) = (view.choices("uses"), view.choice("placing"));
    let (from, available_from, until) = (date(view, "from"), date(view, "available_from"), date(view, "until"));
    let (date_mark, status, purpose) = (view.choice("date_mark"), view.choice("status"), view.choice("purpose"));
    let purpose_not_stated: Option<Severity> = view.choice("purpose_not_stated");
    let (act, label, replaces) = (view.text("act"), view.prose("label"), view.text("replaces").map(str::to_string));
    let known_act = act.and_then(|act| list.acts.iter().find(|known| known.id == act).cloned());
    if let (Some(act), None) = (act, &known_act) {
        let fault = unknown_name("act", act, list.acts.iter().map(|known| known.id.as_str()));
        view.fault("act", fault.remedy("list it as an [[act]] with its title"));
    }
    let membership = read_membership(view);
    if let (Some(from), Some(until)) = (from, until)
        && from > until
    {
        let fault = Fault::new(FaultKind::Contradiction, "a rule ends before it begins")
            .value(format!("from {from} until {until}"));
        view.fault("until", fault.allowed("from <= until"));
    }
    if available_from.is_some_and(|available| from.is_none_or(|from| from > available)) {
        let fault = Fault::new(
            FaultKind::Contradiction,
            "what was placed before may not be made available any more from a day before the rule begins",
        );
        view.fault("available_from", fault.allowed("from <= available_from"));
    }
    let (advice, entry) = (view.prose("advice"), view.name("entry"));
    let (own_source, own_mark) = (view.prose("source"), view.choice("mark"));
    let source = match (own_source.as_deref().or(list.source), &entry) {
        (Some(source), Some(entry)) => Some(format!("{source}, {entry}")),
        (Some(source), None) => Some(source.to_string()),
        (None, _) => {
            no_source(view);
            None
        }
    };
    let pka = view.decimal("pka", Quantity::Pka);
    let conditions = view.count("when");
    let when = view.tables("when", |view| read_condition(view, sums));
    let whole = when.len() == conditions;
    let subject = read_subject(view, conditions > 0, sums);
    if pka.is_some() && !matches!(subject, Some(Varied::Fact(Fact::Ph, _)) | None) {
        view.fault(
            "pka",
            Fault::new(FaultKind::Contradiction, "a dissociation constant has a meaning for a rule about the pH only")
                .remedy("remove it"),
        );
    }
    let limited = match &subject {
        Some(Varied::Measure(..)) => states_limit(view),
        other => matches!(other, Some(Varied::Each(_)) | None),
    };
    if purpose.is_some() && !limited {
        let fault = Fault::new(
            FaultKind::Contradiction,
            "a purpose has a meaning for a measure with a limit and for a check of raw materials",
        );
        view.fault("purpose", fault.remedy("remove it, or give a limit"));
    }
    if purpose_not_stated.is_some() && purpose.is_none() {
        let fault = Fault::new(
            FaultKind::Missing,
            "how grave a finding is without a stated purpose, of a rule for every purpose",
        );
        view.fault("purpose_not_stated", fault.remedy("give purpose as well, or remove it"));
    }
    let mark = own_mark.unwrap_or(list.mark);
    let rule = Rule {
        slug: slug?,
        severity: severity?,
        title: title?,
        markets,
        uses,
        placing,
        from,
        available_from,
        date_mark,
        until,
        purpose,
        purpose_not_stated,
        status,
        membership,
        act: known_act,
        label,
        replaces,
        when,
        subject: subject?,
        pka,
        advice,
        entry,
        own_source,
        own_mark,
        source: source?,
        mark,
    };
    whole.then_some(rule)
}

fn read_membership(view: &TableView<'_>) -> Option<Membership> {
    let (by, mark) = (view.prose("membership"), view.choice("membership_mark"));
    if by.is_some() != mark.is_some() {
        let fault =
            Fault::new(FaultKind::Missing, "by what an entry covers a substance, and how that is known, go together");
        view.fault("membership", fault.allowed("membership and membership_mark, or neither"));
    }
    Some(Membership { by: by?, mark: mark? })
}

fn read_statement(view: &TableView<'_>, mark: Mark) -> Option<Statement> {
    let (kind, text) =
        (view.needed("kind", |view| view.choice("kind")), view.needed("text", |view| view.prose("text")));
    let (entry, from, own_mark) = (view.name("entry"), date(view, "from"), view.choice("mark"));
    let (membership, names) = (read_membership(view), read_names(view));
    Some(Statement { kind: kind?, names: names?, entry, text: text?, from, mark: own_mark.unwrap_or(mark), membership })
}

fn read_searched(view: &TableView<'_>, mark: Mark) -> Option<Searched> {
    let (how, place) =
        (view.needed("how", |view| view.choice("how")), view.needed("place", |view| view.prose("place")));
    let (own_mark, names) = (view.choice("mark"), read_names(view));
    Some(Searched { how: how?, place: place?, mark: own_mark.unwrap_or(mark), names: names? })
}

fn read_names(view: &TableView<'_>) -> Option<Vec<String>> {
    let names: Vec<String> = view.texts("names").into_iter().map(str::to_string).collect();
    if names.is_empty() {
        view.fault(
            "names",
            Fault::new(FaultKind::Missing, "no substance is named").remedy("name at least one, by its INCI name"),
        );
    }
    (!names.is_empty()).then_some(names)
}

fn read_subject(view: &TableView<'_>, has_conditions: bool, sums: &Sums<'_>) -> Option<Varied> {
    let each: Option<Each> = view.choice("each");
    let fact: Option<Fact> = view.choice("fact");
    let kinds = [view.has("each"), view.has("fact"), view.has("measure") || view.has("group")]
        .into_iter()
        .filter(|kind| *kind)
        .count();
    if kinds > 1 {
        view.fault(
            "",
            Fault::new(FaultKind::Contradiction, "a rule has exactly one subject")
                .allowed("one of measure, group, fact, each"),
        );
        view.skip(&[
            "measure",
            "group",
            "of",
            "per",
            "per_of",
            "listed",
            "tolerance",
            "basis",
            "at_most",
            "below",
            "at_least",
            "above",
            "at_most_stated",
        ]);
        return None;
    }
    if view.has("each") {
        let listed: Vec<String> = view.texts("listed").into_iter().map(str::to_string).collect();
        let limits = read_limits(view, Some(Quantity::Temperature), false);
        let check = each?;
        let needs_limit = check == Each::HeatSensitive;
        if needs_limit != (limits.len() == 1) || limits.len() > 1 || limits.iter().any(|limit| !limit.bound.is_upper())
        {
            let allowed =
                if needs_limit { "one of at_most, below, in °C" } else { "no limit: it stands with the raw material" };
            view.fault(
                "each",
                Fault::new(FaultKind::Contradiction, "the check and its limits do not go together")
                    .value(check)
                    .allowed(allowed),
            );
            return None;
        }
        if check != Each::PhWindow && !listed.is_empty() {
            view.fault(
                "listed",
                Fault::new(FaultKind::Contradiction, "a list goes with the check of pH ranges, and with no other")
                    .value(check),
            );
            return None;
        }
        let tolerance = view.ppm("tolerance");
        if tolerance.is_some() && !matches!(check, Each::UseLevelHigh | Each::UseLevelLow) {
            view.fault(
                "tolerance",
                Fault::new(FaultKind::Contradiction, "a tolerance goes with a check of use levels, and with no other")
                    .value(check),
            );
            return None;
        }
        return Some(Varied::Each(EachCheck { check, limit: limits.into_iter().next(), tolerance, listed }));
    }
    if view.has("fact") {
        let limits = read_limits(view, fact.map(quantity_of), false);
        if !states_limit(view) {
            view.fault("fact", Fault::new(FaultKind::Missing, "a fact without a limit").allowed(BOUNDS));
        }
        return (!limits.is_empty()).then_some(Varied::Fact(fact?, limits));
    }
    if view.has("measure") || view.has("group") {
        let measurand = read_measurand(view, JudgedOn::EveryBasis, sums);
        let limits = read_limits(view, measurand.as_ref().and_then(quantity_of_measure), true);
        if !states_limit(view) && !has_conditions {
            view.fault(
                "",
                Fault::new(FaultKind::Missing, "a rule without limit and without condition")
                    .remedy(format!("give one of {BOUNDS}, or `when`")),
            );
        }
        return Some(Varied::Measure(measurand?, limits));
    }
    if !has_conditions {
        view.fault(
            "",
            Fault::new(FaultKind::Missing, "a rule without a subject")
                .allowed("one of measure, group, fact, each, when"),
        );
        return None;
    }
    Some(Varied::Conditions)
}

const BOUNDS: &str = "at_most, below, at_least, above";

/// True where a limit is given, be it one that is refused.
fn states_limit(view: &TableView<'_>) -> bool {
    Bound::ALL.iter().any(|bound| view.has(bound.slug())) || view.has("at_most_stated")
}

/// A share of the whole is limited in percent.
fn quantity_of_measure(measurand: &Measurand) -> Option<Quantity> {
    let measure = &measurand.measure;
    (!measure.is_ratio() && measure.numerator().iter().all(|term| term.content.is_share())).then_some(Quantity::Percent)
}

fn quantity_of(fact: Fact) -> Quantity {
    match fact {
        Fact::Ph => Quantity::Ph,
        Fact::WaterActivity => Quantity::WaterActivity,
        Fact::ScentLimit => Quantity::Percent,
        Fact::PhaseTemperature => Quantity::Temperature,
    }
}

fn read_limits(view: &TableView<'_>, quantity: Option<Quantity>, stated: bool) -> Vec<Limit> {
    let number = |bound: Bound| {
        let key = bound.slug();
        view.exact(key, quantity).map(|value| Limit { bound, value: LimitValue::Number(value) })
    };
    let mut limits: Vec<Limit> = Bound::ALL.iter().filter_map(|bound| number(*bound)).collect();
    if stated {
        limits.extend(
            view.choice("at_most_stated").map(|fact| Limit { bound: Bound::AtMost, value: LimitValue::Stated(fact) }),
        );
    }
    limits
}

fn read_condition(view: &TableView<'_>, sums: &Sums<'_>) -> Option<Condition> {
    let (kept, stated, not_stated, fact) =
        (view.choice("kept"), view.choice("stated"), view.choice("not_stated"), view.choice::<Fact>("fact"));
    let form: Option<ProductForm> = view.choice("form");
    let measured = view.has("measure") || view.has("group");
    let named = ["kept", "form", "stated", "not_stated", "fact"].into_iter().filter(|key| view.has(key)).count()
        + usize::from(measured);
    let measurand = if measured { read_measurand(view, JudgedOn::AsCharged, sums) } else { None };
    let quantity = fact.map(quantity_of).or_else(|| measurand.as_ref().and_then(quantity_of_measure));
    let limits = read_limits(view, quantity, measured);
    let or_not_stated = view.boolean("or_not_stated").unwrap_or(false);
    let compared = measured || view.has("fact");
    if named != 1 || limits.len() != usize::from(compared) {
        let allowed = "one of kept, form, stated, not_stated; or one of measure, group, fact with one limit";
        view.fault(
            "",
            Fault::new(FaultKind::Contradiction, "a condition makes exactly one comparison").allowed(allowed),
        );
        return None;
    }
    let limit = limits.into_iter().next();
    if let Some(form) = form {
        return Some(Condition::Form(form));
    }
    match (measurand, fact, kept, stated, not_stated) {
        (Some(measurand), ..) if measurand.judged_on == JudgedOn::EveryBasis => {
            let fault =
                Fault::new(FaultKind::Contradiction, "a condition is asked on one basis").value(measurand.judged_on);
            view.fault("basis", fault.allowed("as-charged, finished-if-stated"));
            None
        }
        (Some(measurand), ..) => Some(Condition::Measure(measurand, limit?)),
        (_, Some(fact), ..) => Some(Condition::Fact(fact, limit?, or_not_stated)),
        (_, _, Some(storage), ..) => Some(Condition::Kept(storage)),
        (_, _, _, Some(fact), _) => Some(Condition::Stated(fact, true)),
        (_, _, _, _, Some(fact)) => Some(Condition::Stated(fact, false)),
        _ => None,
    }
}

fn read_measurand(view: &TableView<'_>, usual: JudgedOn, sums: &Sums<'_>) -> Option<Measurand> {
    let judged_on = if view.has("basis") { view.choice("basis") } else { Some(usual) };
    if !view.has("group") {
        let measure = read_measure(view)?;
        return accept_measure(view, &measure).then_some(Measurand { measure, group: None, judged_on: judged_on? });
    }
    let name = view.text("group")?;
    if view.has("measure") {
        view.fault(
            "group",
            Fault::new(FaultKind::Contradiction, "a rule sums a group or reads a measure")
                .allowed("one of measure, group"),
        );
        view.skip(&["measure", "of", "per", "per_of"]);
        return None;
    }
    let Some(sum) = sums.get(name) else {
        view.fault("group", unknown_name("group", name, sums.keys().copied()));
        return None;
    };
    Some(Measurand {
        measure: Measure::substance_sum(sum.clone()),
        group: Some(name.to_string()),
        judged_on: judged_on?,
    })
}

/// A rule is about any formula: it knows neither lines nor prices.
fn accept_measure(view: &TableView<'_>, measure: &Measure) -> bool {
    if measure.terms().any(|term| term.scope != Scope::All) {
        view.fault(
            "measure",
            Fault::new(FaultKind::Unsupported, "a rule does not know the lines of the formula")
                .remedy("ask over all lines"),
        );
        return false;
    }
    if measure.counts(&Content::Cost) {
        view.fault(
            "measure",
            Fault::new(FaultKind::Unsupported, "a rule knows no prices").remedy("limit the cost in a brief"),
        );
        return false;
    }
    true
}
