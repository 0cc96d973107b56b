//! Compares a formula with the rules of a market, and makes its list of ingredients.
//!
//! `cargo run --example review_and_label`

use tenside::prelude::*;

fn main() -> Result<(), Error> {
    let formula = formula()?;
    println!("{}", review(&formula)?.page().text(80));
    println!("{}", label(&formula)?.page().text(80));
    Ok(())
}

pub(crate) fn formula() -> Result<Formula, Error> {
    let catalogue = Catalogue::starter();
    let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    Formula::new(
        "Lavender bar",
        vec![
            line("sci-powder", "60")?,
            line("kaolin", "35.6")?,
            line("sodium-benzoate", "3.4")?,
            line("lavender-oil", "1")?,
        ],
    )
}

/// A review approves of nothing: it says what was found, what was not checked and what the lists do not cover.
pub(crate) fn review(formula: &Formula) -> Result<Review, Error> {
    formula.review(RuleBook::starter(), &Product::new(Market::Eu, &[Use::ShampooBar], "2026-11-24".parse()?)?)
}

pub(crate) fn label(formula: &Formula) -> Result<Label, Error> {
    formula.label(
        &LabelRequest::new(Market::Eu, "2026-11-24".parse()?)
            .with_contact(Contact::RinseOff)
            .with_net("60 g".parse()?)?,
    )
}
