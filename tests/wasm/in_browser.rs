//! The library in a browser: nothing of it is another there.
//!
//! `cargo xtask wasm` builds this for `wasm32-unknown-unknown`, where there are no files, no clock and no threads, and
//! has Node.js call it: a brief is solved, its proof checked, a weigh-out made. On any other machine it is
//! `cargo run -p tenside-tests --bin in_browser`. It says nothing; what goes wrong ends it with a fault.

use tenside::batch::{BatchSize, Scales, SheetFormat};
use tenside::prelude::*;

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let brief = Brief::new("Salt-marsh bar", &Catalogue::starter())?
        .split("wash", SplitBasis::Active, [("sci-powder", 14), ("scs-needles", 5), ("capb-30", 1)])?
        .between("cetyl-alcohol", 3, 6)?
        .qs("kaolin")?
        .target(Measure::active_matter(), 58)?;
    let answer = brief.solve()?;
    answer.verify()?;
    let batch = answer.formula()?.batch(BatchSize::of_mass("1 kg".parse()?)?, Scales::new("0.1 g".parse()?)?)?;
    assert!(batch.sheet(SheetFormat::Html).contains("<table"));
    Ok(())
}
