//! From a formula to a solution: what its constituents bring into water.
//!
//! Moles of a constituent are its typical grams over its molar mass; the water of the formula and of the dilution
//! together is the kilogram that concentrations are counted by.

use std::sync::Arc;

use super::table::Table;
use super::{Caveat, Solution};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::material::Material;
use crate::number::Exact;
use crate::reading::Dilution;
use crate::substance::{Charge, Class, Substance};

/// The percentage that suppliers may leave unnamed before no pH is calculated (our choice).
const MOST_UNSPECIFIED: f64 = 1.0;
/// The percentage dissolved without charge from which a caveat is said (our choice).
const MUCH_OF_ANOTHER: f64 = 10.0;
/// The most names that a refusal lists.
const MOST_LISTED: usize = 12;

/// Grams of everything, as far as a hundred grams of product go, with what is added to it.
#[derive(Clone)]
pub(super) struct Amounts {
    rows: Vec<(Arc<Substance>, f64)>,
}

impl Amounts {
    /// What a hundred grams of the formula hold.
    pub(super) fn of(formula: &Formula) -> Result<Self, Error> {
        let mut rows = Vec::new();
        for row in formula.expand() {
            let percent = row.percent.typical.ok_or_else(|| {
                let fault = Fault::new(
                    FaultKind::NotKnown,
                    "no pH can be calculated from a composition that states bounds only",
                )
                .value(row.substance.inci());
                fault
                    .at(format!("line {:?}", row.lines.join(", ")))
                    .remedy("state typical percentages, or measure the pH")
            })?;
            rows.push((row.substance, percent.to_f64()));
        }
        Ok(Amounts { rows })
    }

    /// With so many grams of a raw material more.
    pub(super) fn with(mut self, material: &Material, grams: &Exact) -> Result<Self, Error> {
        for (leaf, share) in material.leaves() {
            for row in leaf.composition().constituents() {
                let typical = row.share().ok_or_else(|| leaf.no_typical())?;
                let more = (typical.share() * &share * grams).to_f64();
                match self.rows.iter_mut().find(|(known, _)| known.inci() == row.substance().inci()) {
                    Some((_, sum)) => *sum += more,
                    None => self.rows.push((Arc::clone(row.substance()), more)),
                }
            }
        }
        Ok(self)
    }

    /// Dissolved in their own water and in `water` grams more.
    pub(super) fn solution(&self, water: f64, temperature: f64) -> Result<Solution, Error> {
        let all: f64 = self.rows.iter().map(|(_, grams)| grams).sum();
        let kilograms =
            0.001 * (water + self.rows.iter().filter(|(row, _)| row.is_water()).map(|(_, grams)| grams).sum::<f64>());
        let solution = Solution::at(temperature)?;
        self.refuse_what_has_no_ph()?;
        if kilograms <= 0.0 {
            return Err(Fault::new(FaultKind::NotKnown, "there is no water, so there is no pH")
                .remedy("state a dilution such as 1+9")
                .into());
        }
        let (mut unspecified, mut inert) = (0.0, 0.0);
        let mut unknown: Vec<&str> = Vec::new();
        let mut notes = Vec::new();
        let mut solution = solution;
        for (substance, grams) in self.rows.iter().filter(|(row, grams)| !row.is_water() && *grams > 0.0) {
            if substance.is_unspecified() {
                unspecified += 100.0 * grams / all;
                continue;
            }
            let moles = substance.molar_mass().map(|mass| grams / Exact::from(mass.typical()).to_f64() / kilograms);
            match (Table::starter().brought(substance.inci()), moles) {
                (Some(brought), Some(moles)) => {
                    for (acid, count) in &brought.acids {
                        solution = solution.with_acid(acid, count * moles)?;
                    }
                    for (ion, count) in &brought.ions {
                        solution = solution.with_ion(ion, count * moles)?;
                    }
                    notes.extend(
                        brought
                            .note
                            .iter()
                            .map(|note| Caveat::Substance { name: substance.inci().to_string(), note: note.clone() }),
                    );
                }
                (None, moles) if dissolves_without_charge(substance) => {
                    inert += grams;
                    match moles {
                        Some(moles) => solution = solution.with_inert(moles)?,
                        None => notes.push(Caveat::Substance {
                            name: substance.inci().to_string(),
                            note: "its molar mass is not known, so that it is left out of the activity of water"
                                .to_string(),
                        }),
                    }
                }
                _ => unknown.push(substance.inci()),
            }
        }
        if unspecified > MOST_UNSPECIFIED {
            let fault =
                Fault::new(FaultKind::NotKnown, "too much of the composition is unnamed for a pH to be calculated");
            let fault = fault.value(format!("{unspecified:.2} %")).allowed(format!("up to {MOST_UNSPECIFIED} %"));
            return Err(fault.remedy("measure it, or ask what it is").into());
        }
        if !unknown.is_empty() {
            let fault = Fault::new(FaultKind::NotKnown, "it is not known what these do to the pH of water")
                .value(listed(&unknown));
            return Err(fault.remedy("measure it, or build the solution by hand").into());
        }
        if unspecified > 0.0 {
            notes.push(Caveat::Unspecified { percent: unspecified });
        }
        let percent = 100.0 * inert / (all + water);
        if percent > MUCH_OF_ANOTHER {
            notes.push(Caveat::OtherSolvent { percent });
        }
        Ok(solution.with_notes(notes))
    }

    fn refuse_what_has_no_ph(&self) -> Result<(), Error> {
        let bad = self.rows.iter().filter(|(row, grams)| *grams > 0.0 && takes_up_acid(row));
        let bad: Vec<&str> = bad.map(|(row, _)| row.inci()).collect();
        if bad.is_empty() {
            return Ok(());
        }
        Err(Fault::new(FaultKind::Unsupported, "no pH is predicted for what holds surfactant or free fatty acid")
            .value(listed(&bad))
            .allowed("clear watery solutions of acids, bases and salts")
            .remedy("disperse and measure it: a reading with its dilution rules")
            .into())
    }
}

impl Formula {
    /// What it is as a solution in its own water and that of a dilution by mass (`1+0` for none), for typical
    /// compositions.
    ///
    /// ```
    /// use tenside::catalogue::Catalogue;
    /// use tenside::formula::{Formula, Line};
    /// use tenside::number::Ppm;
    /// let catalogue = Catalogue::starter();
    /// let line = |id: &str, percent: &str| Line::new(id, catalogue.material(id)?.clone(), Ppm::from_percent(percent)?);
    /// let rinse = Formula::new("Rinse", vec![line("citric-acid-50", "1")?, line("water", "99")?])?;
    /// let state = rinse.solution(&"1+0".parse()?, 25.0)?.solve()?;
    /// assert!((state.ph() - 2.39).abs() < 0.01, "{}", state.ph());
    /// let bar = Formula::new("Bar", vec![line("sci-powder", "60")?, line("kaolin", "40")?])?;
    /// assert!(bar.solution(&"1+9".parse()?, 25.0).unwrap_err().is_unsupported());   // a reading rules
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// Surfactant or free fatty acid in it; a constituent of which it is not known what it does to the pH; more than 1
    /// % unnamed; no water; a temperature outside 15 to 40 °C and concentrations out of range.
    pub fn solution(&self, dilution: &Dilution, temperature: f64) -> Result<Solution, Error> {
        Amounts::of(self)?.solution(100.0 * dilution.water_per_product().to_f64(), temperature)
    }
}

/// Micelles take up hydrogen ions and undissociated acids; fatty acids and soaps have no pKa of their own in them.
fn takes_up_acid(substance: &Substance) -> bool {
    let class = substance.class();
    class.is_surfactant()
        || matches!(class, Class::Soap | Class::FattyAcid | Class::Emulsifier)
        || substance.counts_as_active()
}

fn dissolves_without_charge(substance: &Substance) -> bool {
    let class = matches!(
        substance.class(),
        Class::Humectant | Class::Solvent | Class::Vitamin | Class::Preservative | Class::PreservativeBooster
    );
    class && *substance.charge() == Charge::Neutral
}

fn listed(names: &[&str]) -> String {
    let more = names.len().saturating_sub(MOST_LISTED);
    let shown = names.iter().take(MOST_LISTED).copied().collect::<Vec<_>>().join(", ");
    if more == 0 { shown } else { format!("{shown} and {more} more") }
}
