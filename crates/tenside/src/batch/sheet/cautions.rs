//! The cautions of a batch: each advice once, with the lines it concerns.

use rust_decimal::Decimal;

use super::super::Batch;
use crate::document::Named;
use crate::material::{Caution, Material};
use crate::substance::Class;

/// From this phase temperature in °C on the mass is hot to the hand (common practice, no source).
const HOT_FROM: Decimal = Decimal::from_parts(40, 0, 0, false, 0);
/// The usual phase that is melted, hot even where no temperature is stated.
const MELTED: &str = "melted";

/// One advice.
pub(in crate::batch) struct Advice {
    pub(in crate::batch) heading: &'static str,
    pub(in crate::batch) text: String,
    /// The lines or phases it concerns, as the sheet names them.
    pub(in crate::batch) concerns: String,
}

fn heading(caution: Caution) -> &'static str {
    match caution {
        Caution::IrritantDust => "Irritant dust",
        Caution::NuisanceDust => "Dust",
        Caution::Toxic => "Toxic",
        Caution::ToxicByInhalation => "Toxic when breathed in",
        Caution::ReproductiveHazard => "May harm fertility or the unborn child",
        Caution::Corrosive => "Corrosive",
        Caution::EyeDamage => "Damages eyes",
        Caution::EyeIrritant => "Irritates eyes",
        Caution::Sensitising => "Can sensitise",
        Caution::Aspiration => "Dangerous when swallowed: gets into the lungs",
        Caution::Flammable => "Flammable",
        Caution::Environment => "Toxic to life in water",
        Caution::HeatSensitive => "Sensitive to heat",
    }
}

/// Every advice that concerns a line or phase; last the lines of which nothing is stated, which is not the same as no
/// danger.
pub(in crate::batch) fn advice(batch: &Batch) -> Vec<Advice> {
    let mut all = Vec::new();
    for &caution in Caution::ALL {
        let lines: Vec<String> = batch
            .weighings()
            .iter()
            .filter_map(|weighing| {
                let material = weighing.line().material();
                if material.cautions().contains(&caution) {
                    return Some(weighing.label());
                }
                let unstated = material.unstated_cautions().into_iter().find(|(called_for, _)| *called_for == caution);
                unstated.map(|(_, why)| format!("{} ({why})", weighing.label()))
            })
            .collect();
        if !lines.is_empty() {
            all.push(Advice {
                heading: heading(caution),
                text: caution.advice().to_string(),
                concerns: lines.join("; "),
            });
        }
    }
    let hot: Vec<String> = batch
        .phases()
        .filter_map(|(phase, _)| match phase.temperature() {
            Some(temperature) if temperature >= HOT_FROM => {
                Some(format!("phase {:?} at {} °C", phase.name(), temperature.normalize()))
            }
            None if phase.name() == MELTED => Some(format!("phase {:?}", phase.name())),
            _ => None,
        })
        .collect();
    if !hot.is_empty() {
        let text = "wear heat-proof gloves and eye protection; let solids down slowly; never leave it on the heat \
                    alone"
            .to_string();
        all.push(Advice { heading: "Hot mass", text, concerns: hot.join("; ") });
    }
    let is_open = |material: &Material| material.cautions().is_empty() && material.main_class() != Class::Water;
    let unknown: Vec<String> = batch
        .weighings()
        .iter()
        .filter(|weighing| is_open(weighing.line().material()))
        .map(|weighing| weighing.label())
        .collect();
    if !unknown.is_empty() {
        let text = "that is unknown, not none; read the safety data sheet".to_string();
        all.push(Advice { heading: "No caution stated", text, concerns: unknown.join("; ") });
    }
    all
}
