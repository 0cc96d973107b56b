//! Weighs a formula out for two dozen bars and prints the sheet to work by.
//!
//! `cargo run --example batch_sheet`

use tenside::prelude::*;

fn main() -> Result<(), Error> {
    println!("{}", sheet(SheetFormat::Text)?);
    Ok(())
}

pub(crate) fn sheet(format: SheetFormat) -> Result<String, Error> {
    let catalogue = Catalogue::starter();
    let line = |id: &str, percent: &str, phase: &str| {
        Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?)?.in_phase(phase)
    };
    let formula = Formula::new(
        "Plain bar",
        vec![
            line("cetyl-alcohol", "12", "melted")?,
            line("sci-powder", "62", "powder")?,
            line("kaolin", "25.4", "powder")?,
            line("rosemary-oil", "0.6", "cool-down")?,
        ],
    )?;
    let size = BatchSize::of_bars(24, "60 g".parse()?)?.with_drying_loss(4)?.with_process_loss(3)?;
    let scales = Scales::new("0.1 g".parse()?)?.for_phase("cool-down", "0.01 g".parse()?)?;
    Ok(formula.batch(size, scales)?.numbered("7")?.dated("2026-11-24".parse()?).sheet(format))
}
