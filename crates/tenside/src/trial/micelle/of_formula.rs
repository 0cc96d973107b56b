//! Mixed micelles of what a formula holds, in use.

use super::{Dispersed, MOST, MixedMicelles};
use crate::bounds::Quantity;
use crate::document::{shown, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Formula;
use crate::number::{Exact, ToExact};
use crate::reading::Dilution;

/// The mixed micelles of a formula, and what is single and what is in micelles in use.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct FormulaMicelles {
    /// The formula.
    pub formula: Formula,
    /// The dilution.
    pub dilution: Dilution,
    /// Critical micelle concentrations as they were given, mmol/L.
    pub cmcs: Vec<(String, Exact)>,
    /// The mixture, by the typical composition.
    pub mixture: MixedMicelles,
    /// All surfactants together at that dilution, mmol/L.
    pub concentration: f64,
    /// Each at that dilution.
    pub dispersed: Vec<Dispersed>,
}

impl Formula {
    /// The mixed micelles of the active matter of this formula diluted with water by mass.
    ///
    /// `cmcs` are the critical micelle concentrations in mmol/L of every substance of it that counts as active, by INCI
    /// name; `interactions` of pairs. Typical shares and molar masses; a litre of the dilution is taken as a kilogram,
    /// which makes every concentration at most a few percent wrong, and soap or salt besides is not seen.
    ///
    /// # Errors
    /// Active substances without a critical concentration, a share or a molar mass, names of what the formula does not
    /// hold, and as for [`MixedMicelles::new`].
    pub fn mixed_micelles<N: AsRef<str>, C: ToExact, B: ToExact>(
        &self,
        dilution: Dilution,
        cmcs: impl IntoIterator<Item = (N, C)>,
        interactions: impl IntoIterator<Item = (N, N, B)>,
    ) -> Result<FormulaMicelles, Error> {
        let rows: Vec<_> = self.expand().into_iter().filter(|row| row.substance.counts_as_active()).collect();
        let mut given: Vec<(String, Exact)> = Vec::new();
        for (name, cmc) in cmcs {
            if given.len() == MOST {
                return Err(Quantity::MixedSurfactants.fault(format!("more than {MOST}")).into());
            }
            given.push((
                name.as_ref().to_string(),
                cmc.to_exact()
                    .map_err(|error| error.within(&format!("critical concentration of {}", shown(name.as_ref()))))?,
            ));
        }
        let mut faults = Vec::new();
        for (name, _) in given.iter().filter(|(name, _)| !rows.iter().any(|row| row.substance.inci() == name)) {
            faults.push(unknown_name(
                "active substance of the formula",
                name,
                rows.iter().map(|row| row.substance.inci()),
            ));
        }
        let mut surfactants: Vec<(String, Exact, Exact)> = Vec::new();
        for row in &rows {
            let name = row.substance.inci();
            let not_known = |what: &str| {
                Fault::new(FaultKind::NotKnown, format!("{what} of an active substance is not known"))
                    .value(shown(name))
            };
            let cmc = given.iter().find(|(known, _)| known == name).map(|(_, cmc)| cmc);
            match (&row.percent.typical, row.substance.molar_mass(), cmc) {
                (Some(percent), Some(mass), Some(cmc)) if !percent.is_zero() => {
                    // mmol in a gram of formula.
                    let moles =
                        (percent * Exact::from(10)).checked_div(&Exact::from(mass.typical())).unwrap_or_default();
                    surfactants.push((name.to_string(), moles, cmc.clone()));
                }
                (Some(percent), ..) if percent.is_zero() => {}
                (None, ..) => {
                    faults.push(not_known("the share").remedy("state a typical composition of its raw material"))
                }
                (_, None, _) => faults.push(not_known("the molar mass").remedy("state it with the substance")),
                _ => faults.push(
                    not_known("the critical micelle concentration")
                        .remedy("give it in mmol/L: no substance is left out in silence"),
                ),
            }
        }
        if surfactants.is_empty() && faults.is_empty() {
            faults.push(Fault::new(FaultKind::Missing, "the formula has no active matter"));
        }
        Error::check(faults, ())?;
        let moles: Exact = surfactants.iter().map(|(_, moles, _)| moles.clone()).sum();
        let diluted = Exact::ONE + dilution.water_per_product();
        let concentration = (moles * Exact::from(1000)).checked_div(&diluted).unwrap_or_default();
        let mut mixture = MixedMicelles::new(surfactants)?;
        for (count, (first, second, parameter)) in interactions.into_iter().enumerate() {
            if count == MOST * MOST {
                return Err(Quantity::Entries
                    .fault(format!("more than {count}"))
                    .allowed(format!("a pair once, up to {count} in all"))
                    .into());
            }
            mixture = mixture.with_interaction(first.as_ref(), second.as_ref(), parameter)?;
        }
        let dispersed = mixture.at(&concentration)?;
        Ok(FormulaMicelles {
            formula: self.clone(),
            dilution,
            cmcs: given,
            mixture,
            concentration: concentration.to_f64(),
            dispersed,
        })
    }
}
