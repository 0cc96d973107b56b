//! The cautions of a batch: each advice once, with the lines it concerns.

use rust_decimal::Decimal;

use super::super::Batch;
use crate::document::Named;
use crate::formula::Phase;
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

impl std::fmt::Display for Advice {
    fn fmt(&self, formatter: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(formatter, "{}: {}. For: {}", self.heading, self.text, self.concerns)
    }
}

/// Every advice that concerns a line or phase of a batch.
pub(in crate::batch) fn advice(batch: &Batch) -> Vec<Advice> {
    let weighed = batch.weighings().iter().map(|weighing| (weighing.label(), weighing.line().material().as_ref()));
    let phases: Vec<&Phase> = batch.phases().map(|(phase, _)| phase).collect();
    advice_on(&weighed.collect::<Vec<_>>(), &phases)
}

/// Every advice that concerns these raw materials, each with its name on the page, or these phases; last the raw
/// materials of which nothing is stated, which is not the same as no danger.
pub(in crate::batch) fn advice_on(weighed: &[(String, &Material)], phases: &[&Phase]) -> Vec<Advice> {
    let mut all = Vec::new();
    for &caution in Caution::ALL {
        let lines: Vec<String> = weighed
            .iter()
            .filter_map(|(label, material)| {
                if material.cautions().contains(&caution) {
                    return Some(label.clone());
                }
                let unstated = material.unstated_cautions().into_iter().find(|(called_for, _)| *called_for == caution);
                unstated.map(|(_, why)| format!("{label} ({why})"))
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
    let hot: Vec<String> = phases
        .iter()
        .filter_map(|phase| match phase.temperature() {
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
    // Water as such needs none; that of a flower may hold anything.
    let is_water = |material: &Material| {
        let mut rows = material.leaves().into_iter().flat_map(|(leaf, _)| leaf.composition().constituents());
        rows.all(|row| row.substance().class() == Class::Water && row.substance().inci() == "WATER")
    };
    let is_open = |material: &Material| material.cautions().is_empty() && !is_water(material);
    let unknown: Vec<String> =
        weighed.iter().filter(|(_, material)| is_open(material)).map(|(label, _)| label.clone()).collect();
    if !unknown.is_empty() {
        let text = "that is unknown, not none; read the safety data sheet".to_string();
        all.push(Advice { heading: "No caution stated", text, concerns: unknown.join("; ") });
    }
    all
}
