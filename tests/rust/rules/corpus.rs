//! Forty realistic recipes reviewed: no error that a regulatory reader would strike, and the count of what is found.

use std::collections::BTreeMap;
use std::sync::Arc;

use serde::Deserialize;
use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line};
use tenside::number::Ppm;
use tenside::reading::Reading;
use tenside::rule::{Market, Placing, Product, RuleBook, Severity};

use super::{DAY, exact, percent, review};

#[derive(Deserialize)]
struct Corpus {
    recipe: Vec<Recipe>,
    counts: BTreeMap<String, BTreeMap<String, usize>>,
}

#[derive(Deserialize)]
#[serde(deny_unknown_fields)]
struct Recipe {
    title: String,
    r#use: String,
    form: Option<String>,
    ph: Option<String>,
    moisture: Option<String>,
    #[serde(default)]
    purposes: BTreeMap<String, String>,
    lines: BTreeMap<String, String>,
    fill: String,
}

impl Recipe {
    fn formula(&self) -> Formula {
        let line = |id: &str, share: Ppm| {
            Line::new(id, Arc::clone(Catalogue::starter().material(id).unwrap()), share).unwrap()
        };
        let mut lines: Vec<Line> = self.lines.iter().map(|(id, share)| line(id, percent(share))).collect();
        let sum: u32 = lines.iter().map(|line| line.percent().parts()).sum();
        lines.push(line(&self.fill, Ppm::from_parts(1_000_000 - sum).unwrap()));
        let formula = Formula::new(&self.title, lines).unwrap();
        self.purposes
            .iter()
            .fold(formula, |formula, (id, purpose)| formula.with_purposes(id, &[purpose.parse().unwrap()]).unwrap())
    }

    fn product(&self, market: Market) -> Product {
        let mut product = Product::new(market, &[self.r#use.parse().unwrap()], DAY.parse().unwrap())
            .unwrap()
            .with_placing(Placing::Placed);
        if let Some(form) = &self.form {
            product = product.with_form(form.parse().unwrap());
        }
        if let Some(ph) = &self.ph {
            product = product.with_reading(Reading::ph(ph, "1+9".parse().unwrap()).unwrap());
        }
        if let Some(moisture) = &self.moisture {
            product = product.with_moisture(exact(moisture)).unwrap();
        }
        product
    }
}

#[test]
fn realistic_recipes_have_no_error_and_the_findings_that_are_known() {
    let corpus: Corpus = toml::from_str(include_str!("../../data/recipes.toml")).unwrap();
    assert_eq!(corpus.recipe.len(), 40);
    // What is stated of each raw material is the shelf's.
    let shelf: Vec<&str> = RuleBook::starter()
        .lists()
        .iter()
        .filter(|list| list.id() == "raw-materials")
        .flat_map(|list| list.rules())
        .map(|rule| rule.slug())
        .collect();
    for market in [Market::Eu, Market::Us] {
        let mut counts: BTreeMap<String, usize> = BTreeMap::new();
        let mut errors = Vec::new();
        for recipe in &corpus.recipe {
            let review = review(&recipe.formula(), &recipe.product(market));
            for finding in review.findings() {
                if !shelf.contains(&finding.slug()) {
                    *counts.entry(finding.slug().to_string()).or_default() += 1;
                }
                if finding.severity() == Severity::Error {
                    errors.push(format!("{}: {finding}", recipe.title));
                }
            }
            assert!(
                review.statuses().iter().all(|status| market == Market::Us || !status.is_not_looked_up()),
                "{}",
                recipe.title
            );
        }
        assert!(errors.is_empty(), "{errors:#?}");
        assert_eq!(counts, corpus.counts[&market.to_string()], "{market}");
    }
}
