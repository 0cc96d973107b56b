//! Weighing formulas out: sizes, rounding, notes, bars and sheets. All formulas are invented for the tests.

mod bars;
mod made;
mod notes;
mod record;
mod rescue;
mod rounding;
mod sheet;

use std::sync::Arc;

use rust_decimal::Decimal;
use tenside::batch::{Batch, BatchSize, Scales};
use tenside::catalogue::Catalogue;
use tenside::formula::{Formula, Line, Phase};
use tenside::material::{Certificate, Lot};
use tenside::number::{Mass, Ppm};

fn mass(text: &str) -> Mass {
    text.parse().unwrap()
}

fn decimal(text: &str) -> Decimal {
    text.parse().unwrap()
}

fn percent(text: &str) -> Ppm {
    Ppm::from_percent(text).unwrap()
}

fn line(id: &str, share: &str) -> Line {
    Line::new(id, Arc::clone(Catalogue::starter().material(id).unwrap()), percent(share)).unwrap()
}

/// Sixteen lines in four phases, with preservative, acid and scent; kaolin fills to 100.
fn salt_marsh() -> Formula {
    let betaine = Arc::new(Lot::new("B-2291", "capb-30", Certificate::default()).unwrap());
    let betaine = Arc::new(Catalogue::starter().material("capb-30").unwrap().with_lot(&betaine).unwrap().0);
    let lines = vec![
        line("cetyl-alcohol", "5.5"),
        line("btms-50", "2"),
        line("cocoa-butter", "2.5"),
        Line::new("capb-30", betaine, percent("7")).unwrap(),
        line("glycerin-99-5", "2"),
        line("water", "1.75"),
        line("sci-powder", "48"),
        line("scs-needles", "12"),
        line("kaolin", "12.15").as_qs(true),
        line("corn-starch", "4"),
        line("iron-oxide-red", "0.05"),
        line("guar-hydroxypropyltrimonium-chloride", "0.3"),
        line("panthenol-75", "1.05").in_phase("cool-down").unwrap(),
        line("benzyl-alcohol-dha-blend", "0.8").as_fixed(true),
        line("citric-acid-50", "0.3").as_fixed(true),
        line("rosemary-oil", "0.6").as_fixed(true),
    ];
    let phase = |name: &str, temperature: &str| Phase::new(name).unwrap().at(decimal(temperature)).unwrap();
    Formula::new("Salt-marsh bar", lines)
        .unwrap()
        .with_phases(&[phase("melted", "75"), phase("liquid", "60"), phase("powder", "55")])
        .unwrap()
}

/// 24 bars of 60 g net with 8 % drying loss and 4 % process loss.
fn two_dozen() -> BatchSize {
    BatchSize::of_bars(24, mass("60 g"))
        .unwrap()
        .with_drying_loss(decimal("8"))
        .unwrap()
        .with_process_loss(decimal("4"))
        .unwrap()
}

fn on_scale(division: &str) -> Scales {
    Scales::new(mass(division)).unwrap()
}

fn batch(formula: &Formula, size: &str, scales: Scales) -> Batch {
    formula.batch(BatchSize::of_mass(mass(size)).unwrap(), scales).unwrap()
}
