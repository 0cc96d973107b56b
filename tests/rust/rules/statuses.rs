//! What is known of each substance of the table, against rows that were looked up by somebody else: every one speaks,
//! with its figure, its day and its mark, and nothing that rests on memory is an error.

use std::collections::BTreeSet;
use std::sync::Arc;

use serde::Deserialize;
use tenside::catalogue::Catalogue;
use tenside::document::Named;
use tenside::measure::{Basis, Content};
use tenside::rule::{
    Bound, LimitValue, Mark, Market, Rule, RuleBook, Search, Severity, Status, StatusEntry, StatusKind, Use, Varied,
};
use tenside::substance::{Class, Substance, SubstanceTable};

use super::{exact, filled, found, product, review};

#[derive(Deserialize)]
struct Facts {
    none_found_by_cas_and_name: Vec<String>,
    none_found_by_name_only: Vec<String>,
    pending_only: Vec<String>,
    row: Vec<Fact>,
}

#[derive(Deserialize)]
struct Fact {
    inci: String,
    status: String,
    annex: String,
    entry: String,
    uses: Vec<String>,
    limit: Option<String>,
    comparison: Option<String>,
    counts_as: Option<String>,
    factor: Option<String>,
    most: Option<String>,
    purpose: Option<String>,
    placed: Option<String>,
    available: Option<String>,
    act: String,
    covers: String,
    mark: String,
}

fn facts() -> Facts {
    toml::from_str(include_str!("../../data/eu_status.toml")).unwrap()
}

fn eu(inci: &str) -> Status {
    RuleBook::starter().status(Market::Eu, inci)
}

/// The rules that speak of a row's substance with the row's figure, for one of its uses.
fn judging<'s>(status: &'s Status, fact: &Fact, used: Use) -> Vec<&'s Rule> {
    let limit = exact(fact.limit.as_deref().unwrap());
    let bound = if fact.comparison.as_deref() == Some("below") { Bound::Below } else { Bound::AtMost };
    let rules = status
        .entries
        .iter()
        .filter_map(|entry| if let StatusEntry::Judged(rule, _) = entry { Some(rule.as_ref()) } else { None });
    rules
        .filter(|rule| {
            rule.uses().is_empty() || rule.uses().iter().any(|own| used.lineage().any(|wider| wider == *own))
        })
        .filter(|rule| {
            let Varied::Measure(_, limits) = rule.subject() else { return false };
            limits.iter().any(|own| own.bound == bound && own.value == LimitValue::Number(limit.clone()))
        })
        .collect()
}

/// A row's word for a use: the entries speak of shampoos, whatever their form.
fn used(word: &str) -> Use {
    word.parse().unwrap()
}

#[test]
fn every_substance_of_the_table_speaks() {
    let facts = facts();
    let ruled: BTreeSet<&str> = facts.row.iter().map(|fact| fact.inci.as_str()).collect();
    assert_eq!((facts.row.len(), ruled.len()), (666, 334));
    let silent: Vec<&&str> = ruled.iter().filter(|inci| eu(inci).entries.is_empty()).collect();
    assert!(silent.is_empty(), "{silent:?}");
    for inci in &facts.pending_only {
        assert_eq!(eu(inci).gravest(), Some(StatusKind::Pending), "{inci}");
    }
    for (names, how, many) in [
        (&facts.none_found_by_cas_and_name, Search::CasAndName, 494),
        (&facts.none_found_by_name_only, Search::NameOnly, 84),
    ] {
        assert_eq!(names.len(), many);
        for inci in names {
            let status = eu(inci);
            assert!(
                status.entries.is_empty() && status.searched.as_ref().map(|(known, ..)| *known) == Some(how),
                "{}",
                status.sentence()
            );
            assert!(status.sentence().contains("no clearance"));
        }
    }
}

#[test]
fn every_status_is_that_of_its_row() {
    let kind = |word: &str| match word {
        "declare" => StatusKind::Declaration,
        "prohibited in hair dyes" => StatusKind::HairDye,
        other => StatusKind::from_slug(other).unwrap(),
    };
    let mut wrong = Vec::new();
    for fact in facts().row {
        let status = eu(&fact.inci);
        // A limit of hair dyes is told as one.
        let wanted = if fact.status == "limit" && fact.uses.is_empty() {
            vec![StatusKind::Limit, StatusKind::HairDye]
        } else {
            vec![kind(&fact.status)]
        };
        if !status.entries.iter().any(|entry| wanted.contains(&entry.kind())) {
            wrong.push(format!("{} {} {}: {}", fact.inci, fact.annex, fact.entry, fact.status));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn every_figure_is_judged_with_its_act_its_days_and_its_marks() {
    // What no share of the product decides is asked for instead.
    let is_asked = |fact: &Fact| {
        let counts = fact.counts_as.as_deref().unwrap_or_default();
        counts.contains("secondary amine")
            || counts.contains("residual acrylamide")
            || counts.contains("share of the alcohol")
            || fact.annex == "VI"
    };
    let (mut compared, mut wrong) = (0, Vec::new());
    for fact in facts().row.iter().filter(|fact| fact.status == "limit" && !fact.uses.is_empty()) {
        let status = eu(&fact.inci);
        if is_asked(fact) {
            assert!(status.entries.iter().any(|entry| entry.kind() == StatusKind::Limit), "{}", fact.inci);
            continue;
        }
        // Entry 3 of Annex V sums acid and salts; the rule has the act of the acid.
        if fact.inci == "SODIUM SALICYLATE" {
            continue;
        }
        for word in &fact.uses {
            let rules = judging(&status, fact, used(word));
            let days = |rule: &&&Rule| {
                let old = |day: &Option<String>| day.clone().filter(|day| day != "2013-07-11");
                let from = rule.from().map(|day| day.to_string());
                let available = rule.available_from().or(rule.from()).map(|day| day.to_string());
                from == old(&fact.placed) && available == old(&fact.available)
            };
            let preserving = fact.purpose.as_deref() == Some("preservative");
            let is_graver = |rule: &Rule| rule.severity() == Severity::Error;
            let rests_on_memory = fact.covers == "M" || fact.mark == "M";
            let rule = rules.iter().find(days);
            let fits = rule.is_some_and(|rule| {
                rule.act().is_some_and(|act| act.id == fact.act)
                    && (!preserving || rule.purpose().is_some())
                    && (!rests_on_memory || !is_graver(rule))
                    && rule.mark() == if fact.mark == "V" { Mark::Seen } else { Mark::Secondary }
            });
            if !fits {
                let known: Vec<String> =
                    rules.iter().map(|rule| format!("{} {:?} {:?}", rule.slug(), rule.from(), rule.act())).collect();
                wrong.push(format!("{} {} {} {word} {:?}: {known:?}", fact.inci, fact.annex, fact.entry, fact.limit));
            }
            compared += 1;
        }
    }
    assert!(wrong.is_empty(), "{} of {compared}: {wrong:#?}", wrong.len());
    assert!(compared > 340, "{compared}");
}

#[test]
fn equivalents_are_those_that_were_computed_from_formulas() {
    let mut compared = BTreeSet::new();
    for fact in
        facts().row.iter().filter(|fact| fact.factor.is_some() && fact.counts_as.as_deref() != Some("aluminium"))
    {
        let status = eu(&fact.inci);
        for word in &fact.uses {
            for rule in judging(&status, fact, used(word)) {
                let Varied::Measure(measurand, limits) = rule.subject() else { continue };
                let [tenside::measure::Term { content: Content::Sum(sum), .. }] = measurand.measure.numerator() else {
                    continue;
                };
                let value = filled([(fact.inci.as_str(), "1")])
                    .measure(&measurand.measure, &Basis::AsCharged)
                    .unwrap()
                    .value
                    .unwrap();
                let factor: f64 = fact.factor.as_deref().unwrap().parse().unwrap();
                let own = value.typical.as_ref().unwrap().to_f64();
                assert!(
                    (own - factor).abs() < 5e-5 * factor,
                    "{} in {}: {own} against {factor}",
                    fact.inci,
                    rule.slug()
                );
                let LimitValue::Number(limit) = &limits[0].value else { continue };
                let most: f64 = fact.most.as_deref().unwrap().parse().unwrap();
                let own_most: f64 =
                    sum.most(&fact.inci, limit).unwrap().map_or(most, |most| most.to_string().parse().unwrap());
                assert!((own_most - most).abs() < 2e-4, "{} in {}: {own_most} against {most}", fact.inci, rule.slug());
                compared.insert((fact.inci.clone(), rule.slug().to_string()));
            }
        }
    }
    assert!(compared.len() >= 25, "{compared:?}");
}

#[test]
fn no_error_rests_on_memory() {
    let is_seen = |mark: Mark| matches!(mark, Mark::Seen | Mark::Secondary);
    for rule in RuleBook::starter().rules().filter(|rule| rule.severity() == Severity::Error) {
        assert!(is_seen(rule.mark()), "{}", rule.slug());
        assert!(rule.membership().is_none_or(|membership| is_seen(membership.mark)), "{}", rule.slug());
        let is_law = matches!(rule.status(), Some(StatusKind::Prohibited | StatusKind::Limit))
            || matches!(rule.subject(), Varied::Fact(..));
        assert!(is_law || rule.slug() == "annex-iii-15b-other", "{}", rule.slug());
    }
}

#[test]
fn no_substance_of_a_ruled_class_is_without_a_status() {
    #[derive(Deserialize)]
    struct Filters {
        filter: Vec<Filter>,
    }
    #[derive(Deserialize)]
    struct Filter {
        inci: String,
        cas: Vec<String>,
    }
    let filters: Filters = toml::from_str(include_str!("../../data/eu_uv_filters.toml")).unwrap();
    let filters_light = |substance: &Substance| {
        let has = |cas: &String| substance.cas().iter().any(|own| own.as_str() == cas);
        filters
            .filter
            .iter()
            .any(|filter| filter.inci.eq_ignore_ascii_case(substance.inci()) || filter.cas.iter().any(has))
    };
    // Amines, their salts and amides, whatever their class: MEA, DEA, TEA and MIPA are words of names.
    let is_amine = |substance: &Substance| {
        let mut words = substance.inci().split([' ', '-']);
        substance.inci().contains("AMINE") || words.any(|word| ["MEA", "DEA", "TEA", "MIPA"].contains(&word))
    };
    let is_of_class = |substance: &Substance| {
        use Class::{Colourant, Preservative, PreservativeBooster, ScalpActive, Silicone};
        matches!(substance.class(), Preservative | PreservativeBooster | Colourant | ScalpActive | Silicone)
            || substance.annex_iii_entry().is_some()
    };
    let table = SubstanceTable::starter();
    let count = |is: &dyn Fn(&Substance) -> bool| table.iter().filter(|substance| is(substance)).count();
    // None of the three is empty, so that none of them can pass unasked.
    let counts = [count(&filters_light), count(&is_amine), count(&is_of_class)];
    assert!(counts[0] >= 2 && counts[1] >= 30 && counts[2] >= 250, "{counts:?}");
    let is_ruled =
        |substance: &&Arc<Substance>| filters_light(substance) || is_amine(substance) || is_of_class(substance);
    let without: Vec<&str> = table
        .iter()
        .filter(is_ruled)
        .map(|substance| substance.inci())
        .filter(|inci| eu(inci).is_not_looked_up())
        .collect();
    assert!(without.is_empty(), "{without:?}");
}

#[test]
fn every_substance_of_the_table_was_looked_up_in_the_eu() {
    let table = SubstanceTable::starter();
    let without: Vec<&str> =
        table.iter().map(|substance| substance.inci()).filter(|inci| eu(inci).is_not_looked_up()).collect();
    assert!(
        without.is_empty(),
        "look these up in Annexes II to VI, and say under [[searched]] or [[status]] what was found: {without:?}"
    );
}

#[test]
fn no_name_is_both_found_and_not_found() {
    let table = SubstanceTable::starter();
    for market in Market::ALL {
        let both = |inci: &&str| {
            let status = RuleBook::starter().status(*market, inci);
            status.searched.is_some() && status.entries.iter().any(|entry| entry.kind() != StatusKind::Pending)
        };
        let both: Vec<&str> = table.iter().map(|substance| substance.inci()).filter(both).collect();
        assert!(both.is_empty(), "{market}: {both:?}");
    }
}

#[test]
fn what_is_covered_is_counted_from_the_lists() {
    let (book, substances) = (RuleBook::starter(), SubstanceTable::starter());
    let page = book.coverage(&substances);
    let tables: Vec<&tenside::render::Table> = page
        .parts
        .iter()
        .filter_map(|part| if let tenside::render::Part::Table(table) = part { Some(table) } else { None })
        .collect();
    let [carried, acts, eu, us] = tables[..] else { panic!("{} tables", tables.len()) };
    let whole = |cell: &String| cell.parse::<usize>().unwrap();
    let sum =
        |table: &tenside::render::Table, column: usize| table.rows.iter().map(|row| whole(&row[column])).sum::<usize>();
    // List by list: every rule and statement once.
    assert_eq!(carried.rows.len(), book.lists().len());
    assert_eq!((sum(carried, 4), &carried.footer[0][4]), (book.rules().count(), &book.rules().count().to_string()));
    assert_eq!(sum(carried, 5), book.lists().iter().map(|list| list.statements().len()).sum::<usize>());
    let annex_iii = carried.rows.iter().find(|row| row[1].ends_with("Annex III")).unwrap();
    assert_eq!(annex_iii[2], "2026-05-18");
    // Every act, with the rules that name it.
    assert_eq!(sum(acts, 1), book.rules().filter(|rule| rule.act().is_some()).count());
    // Every substance once in each market, by what is known of it and how.
    for (table, market) in [(eu, Market::Eu), (us, Market::Us)] {
        let last = table.headers.len() - 1;
        assert_eq!((sum(table, last), whole(&table.footer[0][last])), (substances.len(), substances.len()));
        let named = |what: &str| table.rows.iter().find(|row| row[0] == what).map_or(0, |row| whole(&row[last]));
        let counted = |is: &dyn Fn(&Status) -> bool| {
            substances.iter().filter(|substance| is(&book.status(market, substance.inci()))).count()
        };
        assert_eq!(named("prohibited"), counted(&|status| status.gravest() == Some(StatusKind::Prohibited)));
        assert_eq!(named("not looked up"), counted(&Status::is_not_looked_up));
        for row in table.rows.iter().filter(|row| row[0] != "not looked up") {
            assert_eq!(row[1..last].iter().map(whole).sum::<usize>(), whole(&row[last]), "{row:?}");
        }
    }
    let text = page.text(120);
    for words in [
        "none found by CAS number and name",
        "no clearance",
        "Colours allowed in the EU: colours that the table of substances does not hold",
    ] {
        assert!(text.split_whitespace().collect::<Vec<_>>().join(" ").contains(words), "{words} is not in\n{text}");
    }
}

#[test]
fn days_words_and_figures_are_those_that_were_seen() {
    let book = RuleBook::starter();
    let says = |market: Market, inci: &str, words: &str| {
        book.status(market, inci).entries.iter().any(|entry| entry.sentence().contains(words))
    };
    assert!(says(Market::Eu, "CI 45350", "at most 6 %"));
    assert!(says(Market::Us, "MICA", "generally, the area of the eye included"));
    assert!(says(Market::Eu, "6-METHYL COUMARIN", "named on the label above 0.01 %"));
    let rule = |slug: &str| book.rules().find(|rule| rule.slug() == slug).unwrap();
    let ban = rule("annex-ii-1767");
    let days = [ban.from(), ban.available_from()].map(|day| day.unwrap().to_string());
    assert_eq!(days, ["2027-01-01", "2028-07-01"]);
    assert_eq!((rule("annex-v-58").label(), rule("annex-v-58-oral-label").label().is_some()), (None, true));
    assert!(rule("pending-bha").advice().is_some_and(|advice| advice.contains("SCCS/1682/25")));
    let open: Vec<&str> = book.lists().iter().flat_map(|list| list.not_covered()).map(String::as_str).collect();
    for words in ["heliotropin", "2-pyrrolidone", "331(ddd)", "740.17"] {
        assert!(open.iter().any(|text| text.contains(words)), "{words}");
    }
}

#[test]
fn colours_are_those_of_the_sections() {
    #[derive(Deserialize)]
    struct Table {
        row: Vec<Row>,
    }
    #[derive(Deserialize)]
    struct Row {
        inci: String,
        name: String,
        section: String,
        washed_off: String,
        mark: String,
    }
    let table: Table = toml::from_str(include_str!("../../data/us_status.toml")).unwrap();
    assert_eq!(table.row.len(), 44);
    let product = tenside::rule::Product::new(Market::Us, &[Use::ShampooBar], super::DAY.parse().unwrap()).unwrap();
    for row in table.row {
        let status = RuleBook::starter().status(Market::Us, &row.inci);
        let listed = status.entries.iter().find(|entry| entry.kind() == StatusKind::Colour);
        let severities: Vec<Severity> = super::review(&filled([(row.inci.as_str(), "0.005")]), &product)
            .findings()
            .iter()
            .filter(|finding| finding.slug().starts_with("us-colour"))
            .map(tenside::review::Finding::severity)
            .collect();
        match row.washed_off.as_str() {
            "yes" | "limit" => {
                let entry = listed.unwrap_or_else(|| panic!("{}", row.inci));
                assert!(
                    entry.sentence().contains(&row.section) && entry.sentence().contains(&row.name),
                    "{}",
                    entry.sentence()
                );
                assert!(severities.is_empty(), "{} {severities:?}", row.inci);
            }
            "no" => assert_eq!(
                severities,
                [if row.mark == "M" { Severity::Question } else { Severity::Error }],
                "{}",
                row.inci
            ),
            _ => assert_eq!(severities, [Severity::Question], "{}", row.inci),
        }
    }
}

/// One notion serves the shelf and the review: what is of the class of preservatives is counted, and boosters are not.
#[test]
fn a_preservative_of_the_shelf_is_one_to_the_review() {
    let (asked, starter) = (product(&[Use::ShampooBar]), Catalogue::starter());
    let bare = |id: &str| {
        let review = review(&filled([("water", "60"), (id, "5")]), &asked);
        !found(&review, "water-without-preservative").is_empty()
    };
    let of = |class: Class| starter.materials().filter(move |one| one.main_class() == class).collect::<Vec<_>>();
    let (preservatives, boosters) = (of(Class::Preservative), of(Class::PreservativeBooster));
    assert!(preservatives.len() > 12 && boosters.len() > 4, "{} and {}", preservatives.len(), boosters.len());
    assert!(preservatives.iter().all(|one| !bare(one.id())));
    assert!(boosters.iter().all(|one| bare(one.id())));
}
