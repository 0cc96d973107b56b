//! Lists of rules, used where they are small.

use std::sync::{Arc, LazyLock};

use tenside::formula::{Formula, Line};
use tenside::number::Ppm;
use tenside::reading::Reading;
use tenside::rule::{Market, Product, RuleBook, RuleList, Use};

use crate::reading::{accepted, document, shelf, survives};

/// Longer lists are read only, so that more of them are.
const MOST_RULES: usize = 16;

/// Two formulas that the rules are used on: with water, and of powders.
static FORMULAS: LazyLock<[Formula; 2]> = LazyLock::new(|| {
    let formula = |shares: &[(&str, &str)]| {
        let line =
            |(id, share): &(&str, &str)| Line::new(id, Arc::clone(shelf().material(id)?), Ppm::from_percent(share)?);
        let lines = shares.iter().map(line).collect::<Result<Vec<_>, _>>();
        lines.and_then(|lines| Formula::new("Fuzzed", lines)).unwrap_or_else(|error| panic!("{error}"))
    };
    [
        formula(&[("capb-30", "40"), ("lavender-oil", "1"), ("citric-acid-50", "2"), ("water", "57")]),
        formula(&[("sci-powder", "60"), ("kaolin", "40")]),
    ]
});

/// Reads `bytes` as a list of rules, in TOML or JSON: it survives writing, and a review by it is laid out without a
/// panic.
pub fn rules(bytes: &[u8]) {
    let Some((text, notation)) = document(bytes) else { return };
    let Some(list) = accepted(RuleList::read(text, notation)) else { return };
    survives(&list, |list, notation| list.write(notation), RuleList::read);
    if list.rules().len() > MOST_RULES {
        return;
    }
    let Some(book) = accepted(RuleBook::empty().with(Arc::new(list))) else { return };
    let product = |market| {
        let reading = Reading::ph("5.6", "1+9".parse()?).map_err(Box::<dyn std::error::Error>::from)?;
        let product =
            Product::new(market, &[Use::ShampooBar], "2026-11-24".parse()?)?.with_reading(reading).with_moisture(5)?;
        Ok::<_, Box<dyn std::error::Error>>(product)
    };
    for market in [Market::Eu, Market::Us] {
        let product = product(market).unwrap_or_else(|error| panic!("{error}"));
        for formula in FORMULAS.iter() {
            if let Some(review) = accepted(formula.review(&book, &product)) {
                assert!(review.findings().iter().all(|finding| !finding.sentence().is_empty()));
                assert!(!review.page().html().is_empty() && !review.page().text(60).is_empty());
            }
        }
    }
}
