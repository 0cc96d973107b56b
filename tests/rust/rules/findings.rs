//! The catalogue of findings: every rule of the embedded lists has a row in `tests/data/findings.toml` with a formula
//! that has the finding and one that just has not.

use std::collections::{BTreeMap, BTreeSet};

use serde::Deserialize;
use tenside::reading::Reading;
use tenside::rule::{Certainty, Market, Product, RuleBook, Use};

use super::{DAY, at_temperature, exact, filled, review, with_lots};

#[derive(Deserialize)]
struct Table {
    row: Vec<Row>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Row {
    slug: String,
    r#use: Vec<String>,
    market: Option<String>,
    on: Option<String>,
    purpose: Option<String>,
    severity: Option<String>,
    found: BTreeMap<String, String>,
    clear: BTreeMap<String, String>,
    #[serde(default)]
    facts_found: BTreeMap<String, String>,
    #[serde(default)]
    facts_clear: BTreeMap<String, String>,
}

fn rows() -> Vec<Row> {
    toml::from_str::<Table>(include_str!("../../data/findings.toml")).unwrap().row
}

fn product(row: &Row, facts: &BTreeMap<String, String>) -> Product {
    let uses: Vec<Use> = row.r#use.iter().map(|used| used.parse().unwrap()).collect();
    let market: Market = row.market.as_deref().unwrap_or("EU").parse().unwrap();
    let mut product = Product::new(market, &uses, row.on.as_deref().unwrap_or(DAY).parse().unwrap()).unwrap();
    for (fact, value) in facts {
        product = match fact.as_str() {
            "ph" => product.with_reading(Reading::ph(value, "1+9".parse().unwrap()).unwrap()),
            "kept" => product.kept(value.parse().unwrap()),
            "water_activity" => product.with_water_activity(value).unwrap(),
            "scent_limit" => product.with_scent_limit(exact(value), &facts["scent_category"]).unwrap(),
            "scent_category" | "temperature" | "retest" => product,
            other => panic!("unknown fact {other}"),
        };
    }
    product
}

/// Whether the row's finding is among those of a formula, and how certain.
fn certainty(row: &Row, lines: &BTreeMap<String, String>, facts: &BTreeMap<String, String>) -> Option<Certainty> {
    let mut formula = filled(lines.iter().map(|(name, share)| (name.as_str(), share.as_str())));
    if let Some(purpose) = &row.purpose {
        formula = lines
            .keys()
            .fold(formula, |formula, name| formula.with_purposes(name, &[purpose.parse().unwrap()]).unwrap());
    }
    if let Some(temperature) = facts.get("temperature") {
        formula = at_temperature(formula, temperature);
    }
    if let Some(retest) = facts.get("retest") {
        formula = with_lots(formula, retest);
    }
    let review = review(&formula, &product(row, facts));
    let mut of_slug = review.findings().iter().filter(|finding| finding.slug() == row.slug);
    let first = of_slug.next()?;
    assert!(!first.source().is_empty() && first.sentence().contains(first.source()), "{}", row.slug);
    if let Some(severity) = &row.severity {
        assert_eq!(first.severity().to_string(), *severity, "{}", row.slug);
    }
    Some(first.certainty())
}

#[test]
fn every_rule_has_a_row_and_every_row_a_rule() {
    let rules: BTreeSet<String> = RuleBook::starter().rules().map(|rule| rule.slug().to_string()).collect();
    let rows: BTreeSet<String> = rows().into_iter().map(|row| row.slug).collect();
    let without: Vec<_> = rules.difference(&rows).collect();
    let unknown: Vec<_> = rows.difference(&rules).collect();
    assert!(without.is_empty(), "rules without a row: {without:?}");
    assert!(unknown.is_empty(), "rows without a rule: {unknown:?}");
}

#[test]
fn every_row_is_found_and_its_twin_is_not() {
    let mut wrong = Vec::new();
    for row in rows() {
        let (found, clear) =
            (certainty(&row, &row.found, &row.facts_found), certainty(&row, &row.clear, &row.facts_clear));
        if found != Some(Certainty::Certain) || clear.is_some() {
            wrong.push(format!("{}: found {found:?}, twin {clear:?}", row.slug));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
