//! Mixed micelles of every row as columns, by the row's percentages.
//!
//! A cell is null where the row holds an active substance of which the critical micelle concentration was not given, or
//! its molar mass or typical share is not known; where it has no active matter; and where no single kind of micelle
//! fits the interactions. The composition of micelles is null where there are none at the dilution.

use std::sync::Arc;

use super::axis::Axis;
use super::closed::Percents;
use super::column::Column;
use super::definition::Sweep;
use super::fill::Batch;
use crate::document::unknown_name;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Line};
use crate::material::Material;
use crate::number::{Exact, Ppm};
use crate::reading::Dilution;
use crate::trial::MixedMicelles;

/// What a column says of a row's mixed micelles.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum MicelleColumn {
    /// The critical micelle concentration of the mixture, mmol/L.
    Cmc,
    /// A surfactant's mole share of the micelles at the dilution.
    Share(String),
    /// What of it is single there, mmol/L.
    Single(String),
}

/// Mixed micelles of every row.
#[derive(Debug, PartialEq)]
pub(super) struct SweptMicelles {
    mixture: MixedMicelles,
    dilution: Dilution,
    lines: Vec<OfLine>,
}

/// What a percent of a line brings.
#[derive(Debug, PartialEq)]
struct OfLine {
    /// The axis that exchanges its raw material.
    axis: Option<usize>,
    /// mmol of each surfactant in a gram of product, for each raw material; nothing where that is not known.
    brought: Vec<Option<Vec<f64>>>,
}

impl SweptMicelles {
    pub(super) fn new(sweep: &Sweep, mixture: &MixedMicelles, dilution: Dilution) -> Result<Self, Error> {
        let mut known: Vec<String> = Vec::new();
        let mut lines = Vec::new();
        for line in sweep.brief().lines() {
            let exchanged = sweep.axes().iter().enumerate().find_map(|(place, axis)| match axis {
                Axis::Material { line: of, materials } if of == line.name() => Some((place, materials)),
                _ => None,
            });
            let (axis, materials) = match exchanged {
                Some((place, materials)) => (Some(place), materials.iter().collect()),
                None => (None, vec![line.material()]),
            };
            let brought = materials.into_iter().map(|material| brought(material, mixture, &mut known));
            lines.push(OfLine { axis, brought: brought.collect::<Result<Vec<_>, Error>>()? });
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

    /// The values of these columns for a row of a batch that has a formula.
    pub(super) fn row(
        &self,
        sweep: &Sweep,
        batch: &Batch<'_>,
        place: usize,
        columns: &[&MicelleColumn],
    ) -> Vec<Option<f64>> {
        let nothing = || vec![None; columns.len()];
        let places = sweep.places(batch.first + place as u64);
        let mut moles = vec![0.0; self.mixture.names().len()];
        for (line, percents) in self.lines.iter().zip(batch.lines) {
            let percent = match percents {
                Percents::Same(percent) => *percent,
                Percents::Each(percents) => percents[place],
            } / batch.line_scale;
            if percent == 0.0 {
                continue;
            }
            let Some(brought) = &line.brought[line.axis.map_or(0, |axis| places[axis])] else { return nothing() };
            moles.iter_mut().zip(brought).for_each(|(moles, brought)| *moles += percent * brought);
        }
        let Some(used) = self.mixture.in_use(&moles, self.dilution) else { return nothing() };
        let of = |name: &String| self.mixture.names().iter().position(|known| known == name);
        let value = |column: &&MicelleColumn| match column {
            MicelleColumn::Cmc => Some(used.cmc),
            MicelleColumn::Share(name) => Some(used.in_micelles.as_ref()?[of(name)?]),
            MicelleColumn::Single(name) => Some(used.single[of(name)?]),
        };
        columns.iter().map(value).collect()
    }
}

impl Sweep {
    /// With the mixed micelles of every row's surfactants at a dilution with water by mass: their critical micelle
    /// concentration, each one's mole share of the micelles, and what of each is single. Of `mixture` the names (INCI
    /// names), critical concentrations and interactions count; the parts are each row's own. A cell is null where the
    /// row holds an active substance that is not among them or of which the molar mass or the typical share is not
    /// known.
    ///
    /// ```
    /// use tenside::brief::Brief;
    /// use tenside::catalogue::Catalogue;
    /// use tenside::sweep::{Sweep, Varied, Values};
    /// use tenside::trial::MixedMicelles;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.fix("sci-powder", 50)?.qs("kaolin")?;
    /// // Invented.
    /// let mixture = MixedMicelles::new([("SODIUM COCOYL ISETHIONATE", 1, 4)])?;
    /// let shares = Values::new([20, 50])?;
    /// let sweep = Sweep::new(&brief, vec![Varied::named(&brief, "sci-powder")?.over(shares)?])?;
    /// let table = sweep.with_micelles(&mixture, "1+99".parse()?)?.table()?;
    /// assert_eq!(table.numbers("micelles.cmc")?.get(1), Some(4.0));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A sweep that has them already, and a surfactant that no raw material of the sweep holds.
    pub fn with_micelles(mut self, mixture: &MixedMicelles, dilution: Dilution) -> Result<Self, Error> {
        if self.micelles.is_some() {
            return Err(Fault::new(FaultKind::Duplicate, "the sweep has mixed micelles already")
                .remedy("sweep once for each dilution")
                .into());
        }
        let micelles = SweptMicelles::new(&self, mixture, dilution)?;
        let columns = micelles.columns();
        self.micelles = Some(Arc::new(micelles));
        for column in columns {
            self.add(Column::Micelle(column))?;
        }
        Ok(self)
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
