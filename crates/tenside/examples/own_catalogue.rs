//! Reads raw materials from two sheets, as a spreadsheet exports them, and solves a brief over them alone.
//!
//! `cargo run --example own_catalogue`

use tenside::prelude::*;

/// One row per raw material.
const MATERIALS: &str = "\
id;name;form;source
house-isethionate;Isethionate flakes;flakes;invented for this example
house-betaine;Betaine solution;liquid;invented for this example
house-clay;White clay;powder;invented for this example
";
/// One row per constituent, percent of the raw material.
const CONSTITUENTS: &str = "\
material;constituent;low;typical;high
house-isethionate;SODIUM COCOYL ISETHIONATE;82,5;84,5;86
house-isethionate;COCONUT ACID;;15,5;
house-betaine;COCAMIDOPROPYL BETAINE;29;30;31
house-betaine;SODIUM CHLORIDE;;5;
house-betaine;WATER;;65;
house-clay;KAOLIN;;100;
";

fn main() -> Result<(), Error> {
    let formula = solved()?;
    for line in formula.lines() {
        println!("{:20} {:>8} %", line.name(), line.percent());
    }
    println!("active matter {}", formula.measure(&Measure::active_matter(), &Basis::AsCharged)?.text());
    Ok(())
}

pub(crate) fn solved() -> Result<Formula, Error> {
    let catalogue = Catalogue::read_csv(MATERIALS, CONSTITUENTS, None, CsvOptions::default().with_decimal_comma(true))?;
    let prices = PriceList::new("EUR", [("house-isethionate", 6), ("house-betaine", 2), ("house-clay", 1)])?;
    let brief = Brief::new("House bar", &catalogue)?
        .with_prices(&prices)?
        .free("house-isethionate")?
        .between("house-betaine", 2, 10)?
        .qs("house-clay")?
        .target(Measure::active_matter(), 50)?
        .minimise(Measure::cost());
    Ok(brief.solve()?.formula()?.clone())
}
