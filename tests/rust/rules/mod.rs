//! Rules and reviews seen from outside. All formulas are invented for the tests.

mod bad_input;
mod boundaries;
mod certainty;
mod corpus;
mod documents;
mod exact;
mod findings;
mod planted;
mod scents;
mod statuses;

use std::sync::Arc;

use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line, Phase};
use tenside::material::{Certificate, Composition, Constituent, Form, Lot, Material};
use tenside::number::{Exact, Ppm};
use tenside::review::Review;
use tenside::rule::{Market, Product, RuleBook, Use};
use tenside::substance::{Class, Substance, SubstanceTable};

const DAY: &str = "2026-11-24";

fn percent(text: &str) -> Ppm {
    Ppm::from_percent(text).unwrap()
}

/// A raw material that is one substance and nothing else; what the table does not know is of the class given.
fn pure(inci: &str) -> Arc<Material> {
    let unknown = || Arc::new(Substance::new(inci, Class::Other).unwrap());
    let substance = SubstanceTable::starter().find(inci).cloned().unwrap_or_else(unknown);
    let id: String = inci.to_lowercase().chars().map(|c| if c.is_ascii_alphanumeric() { c } else { '-' }).collect();
    let id: Vec<&str> = id.split('-').filter(|word| !word.is_empty()).collect();
    let composition = Composition::stated(vec![Constituent::typical(substance, Ppm::WHOLE)]).unwrap();
    Arc::new(Material::new(&format!("pure-{}", id.join("-")), inci, Form::Liquid, composition).unwrap())
}

/// A starter raw material by its id, or a pure substance by its INCI name.
fn material(name: &str) -> Arc<Material> {
    if name.bytes().any(|byte| byte.is_ascii_lowercase()) && name != "unspecified" {
        return Arc::clone(Catalogue::starter().material(name).unwrap());
    }
    pure(name)
}

/// These lines, filled to 100 with glycerin.
fn filled<'a>(lines: impl IntoIterator<Item = (&'a str, &'a str)>) -> Formula {
    let line = |name: &str, share: Ppm| Line::new(name, material(name), share).unwrap().in_phase("one").unwrap();
    let mut lines: Vec<Line> = lines.into_iter().map(|(name, share)| line(name, percent(share))).collect();
    let sum: u32 = lines.iter().map(|line| line.percent().parts()).sum();
    lines.push(line("GLYCERIN", Ppm::from_parts(1_000_000 - sum).unwrap()));
    Formula::new("Filled", lines).unwrap()
}

fn at_temperature(formula: Formula, temperature: &str) -> Formula {
    formula.with_phases(&[Phase::new("one").unwrap().at(temperature).unwrap()]).unwrap()
}

/// Every raw material as a lot with that retest date.
fn with_lots(formula: Formula, retest: &str) -> Formula {
    let certificate = Certificate { retest: Some(retest.parse().unwrap()), ..Certificate::default() };
    let line = |line: &Line| {
        let lot =
            Lot::new(&format!("lot of {}", line.material().id()), line.material().id(), certificate.clone()).unwrap();
        let (material, _) = line.material().with_lot(&Arc::new(lot)).unwrap();
        Line::new(line.name(), Arc::new(material), line.percent()).unwrap().in_phase(line.phase()).unwrap()
    };
    Formula::new(formula.title(), formula.lines().iter().map(line).collect()).unwrap()
}

fn product(uses: &[Use]) -> Product {
    Product::new(Market::Eu, uses, DAY.parse().unwrap()).unwrap()
}

fn review(formula: &Formula, product: &Product) -> Review {
    formula.review(RuleBook::starter(), product).unwrap()
}

/// The names of what was found, among those that begin so.
fn found(review: &Review, beginning: &str) -> Vec<String> {
    review
        .findings()
        .iter()
        .map(|finding| finding.slug().to_string())
        .filter(|slug| slug.starts_with(beginning))
        .collect()
}

fn exact(text: &str) -> Exact {
    text.parse().unwrap()
}
