//! The main job, start to end, on the embedded starter catalogue: `cargo xtask demo` calls it with the file for the
//! HTML sheet.

use std::error::Error;

use tenside::batch::{BatchSize, Scales, SheetFormat};
use tenside::prelude::*;

const BRIEF: &str = include_str!("../notebooks/harbour-swim-bar.toml");
/// Columns of a terminal.
const WIDTH: usize = 80;

fn main() -> Result<(), Box<dyn Error>> {
    let sheet_file = std::env::args().nth(1).ok_or("give the file for the HTML sheet")?;

    let brief = Brief::read(BRIEF, Notation::Toml, &Catalogue::starter())?;
    let answer = brief.solve()?;
    answer.verify()?;
    println!("{}", answer.page(&[Basis::AsCharged, Basis::finished(Exact::from(4))?])?.text(WIDTH));

    let size = BatchSize::of_bars(24, "60 g".parse()?)?.with_drying_loss(4)?.with_process_loss(3)?;
    let scales = Scales::new("0.1 g".parse()?)?.for_phase("cool-down", "0.01 g".parse()?)?;
    let batch = answer.formula()?.batch(size, scales)?;
    println!("{}", batch.sheet(SheetFormat::Text));

    let too_much = brief.at_most(Measure::water(), 6)?;
    if let Outcome::Conflict(conflict) = too_much.try_solve()? {
        conflict.verify()?;
        println!("And a brief that cannot be answered says why, with a proof:\n\n{}", conflict.page()?.text(WIDTH));
    }
    std::fs::write(&sheet_file, batch.sheet(SheetFormat::Html))?;
    println!("The sheet to print is in {sheet_file}");
    Ok(())
}
