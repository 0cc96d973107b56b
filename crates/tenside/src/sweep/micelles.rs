//! Mixed micelles of every row as columns, by the row's percentages.
//!
//! A cell is null where the row holds an active substance of which the critical micelle concentration was not given, or
//! its molar mass or typical share is not known; where it has no active matter; and where no single kind of micelle
//! fits the interactions. The composition of micelles is null where there are none at the dilution.

use std::sync::Arc;

use super::column::MicelleColumn;
use super::fill::Batch;
use super::points::{Points, Turned};
use crate::document::unknown_name;
use crate::error::{Error, Fault};
use crate::formula::{Formula, Line};
use crate::material::Material;
use crate::number::{Exact, Ppm};
use crate::reading::Dilution;
use crate::trial::MixedMicelles;

/// Mixed micelles of every row.
#[derive(Debug, PartialEq)]
pub(super) struct SweptMicelles {
    mixture: MixedMicelles,
    dilution: Dilution,
    /// Of each line what a percent of its raw material brings: mmol of each surfactant in a gram of product; nothing
    /// where that is not known.
    lines: Vec<Turned<Option<Vec<f64>>>>,
}

impl SweptMicelles {
    pub(super) fn new(points: &Points, mixture: &MixedMicelles, dilution: Dilution) -> Result<Self, Error> {
        let mut known: Vec<String> = Vec::new();
        let mut lines = Vec::new();
        for line in points.brief.lines() {
            lines.push(points.of_materials(line, |material| brought(material, mixture, &mut known))?);
        }
        let strange = |name: &&String| !known.contains(name);
        let faults: Vec<Fault> = mixture
            .names()
            .iter()
            .filter(strange)
            .map(|name| {
                unknown_name("active substance of the sweep's raw materials", name, known.iter().map(String::as_str))
            })
            .collect();
        Error::check(faults, SweptMicelles { mixture: mixture.clone(), dilution, lines })
    }

    /// Its columns.
    pub(super) fn columns(&self) -> Vec<MicelleColumn> {
        let names = self.mixture.names();
        let shares = names.iter().cloned().map(MicelleColumn::Share);
        [MicelleColumn::Cmc].into_iter().chain(shares).chain(names.iter().cloned().map(MicelleColumn::Single)).collect()
    }

    /// The value of each column for a row of a batch that has a formula.
    pub(super) fn row(
        &self,
        points: &Points,
        batch: &Batch,
        place: usize,
    ) -> Option<impl Fn(&MicelleColumn) -> Option<f64>> {
        let places = points.places(batch.first + place as u64);
        let mut moles = vec![0.0; self.mixture.names().len()];
        for (line, percents) in self.lines.iter().zip(&batch.numbers) {
            let percent = percents.at(place);
            if percent == 0.0 {
                continue;
            }
            let brought = line.at(&places).as_ref()?;
            moles.iter_mut().zip(brought).for_each(|(moles, brought)| *moles += percent * brought);
        }
        let used = self.mixture.in_use(&moles, self.dilution)?;
        let of = |name: &String| self.mixture.names().iter().position(|known| known == name);
        Some(move |column: &MicelleColumn| match column {
            MicelleColumn::Cmc => Some(used.cmc),
            MicelleColumn::Share(name) => Some(used.in_micelles.as_ref()?[of(name)?]),
            MicelleColumn::Single(name) => Some(used.single[of(name)?]),
        })
    }
}

/// What a percent of a raw material brings; `known` gathers the active substances that there are.
fn brought(
    material: &Arc<Material>,
    mixture: &MixedMicelles,
    known: &mut Vec<String>,
) -> Result<Option<Vec<f64>>, Error> {
    let alone = Formula::new("alone", vec![Line::new("alone", material.clone(), Ppm::WHOLE)?])?;
    let mut brought = Some(vec![0.0; mixture.names().len()]);
    for row in alone.expand().into_iter().filter(|row| row.substance.counts_as_active()) {
        let name = row.substance.inci().to_string();
        let percent = row.percent.typical;
        if percent.as_ref().is_some_and(Exact::is_zero) {
            continue;
        }
        let place = mixture.names().iter().position(|known| *known == name);
        let mass = row.substance.molar_mass().map(|mass| Exact::from(mass.typical()));
        let moles = percent.zip(mass).and_then(|(percent, mass)| (percent / Exact::from(10)).checked_div(&mass));
        match (&mut brought, place, moles) {
            (Some(brought), Some(place), Some(moles)) => brought[place] += moles.to_f64(),
            (brought, ..) => *brought = None,
        }
        if !known.contains(&name) {
            known.push(name);
        }
    }
    Ok(brought)
}
