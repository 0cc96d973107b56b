//! Mixed micelles of surfactants: when they form, what they are made of, and what stays single.
//!
//! ```text
//! ideal            1 / C = sum a_i / C_i
//! regular          a_i C = x_i f_i C_i,   sum x_i = 1,   ln f_i = sum_j B_ij x_j - 1/2 sum_jk B_jk x_j x_k
//! above it         m_i = x_i f_i C_i,     m_i + x_i M = a_i C_total
//! ```
//!
//! with mole shares `a` of the surfactants together, `x` in the micelles, critical micelle concentrations `C_i` of each
//! alone, interaction parameters `B_ij` of each pair (in units of RT), single concentrations `m` and the concentration
//! `M` of surfactant in micelles. Of two surfactants `ln f_1 = B (1 - x_1)²`.
//!
//! Sources: J. H. Clint, J. Chem. Soc., Faraday Trans. 1 71, 1975, 1327-1334; D. N. Rubingh in K. L. Mittal (ed.),
//! Solution Chemistry of Surfactants, 1979, 337-354 (both from memory); the equations of two as reproduced in Chemistry
//! Central Journal 5, 2011, 89, table 4 (seen); more than two: P. M. Holland and D. N. Rubingh, J. Phys. Chem. 87,
//! 1983, 1984-1990 (from memory).
//!
//! # Why
//! - Solved by Newton's method from the ideal mixture, the interaction turned on in steps and the concentration raised
//!   in steps: each start is near its end. Every result holds its own equations to [`MixedMicelles::error`].
//! - The theory speaks of one temperature, one salinity and pure surfactants. Commercial ones are mixtures with salt,
//!   whose critical concentrations are measured on the product as bought. It takes micelles for one phase and says
//!   nothing of foam or mildness.
//! - An interaction parameter above 2 would let micelles of two kinds stand beside each other, which this is no theory
//!   of; it is refused.

mod document;
mod in_use;
mod interaction;
mod of_formula;
mod page;
mod solve;

pub use document::{FormulaMicellesDocument, MixedMicellesDocument};
pub use interaction::{InteractionPair, MicelleInteraction};
pub use of_formula::FormulaMicelles;

use crate::bounds::Quantity;
use crate::document::{check_name, shown, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::number::{Exact, ToExact};
use solve::{Solution, at_onset, in_use};

/// One surfactant in a mixture.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct MixedSurfactant {
    /// What it is called.
    pub name: String,
    /// Its mole share of all surfactants.
    pub share: f64,
    /// Its critical micelle concentration alone, mmol/L.
    pub cmc: f64,
    /// Its mole share of the first micelles.
    pub in_micelles: f64,
    /// Its activity coefficient in them.
    pub activity: f64,
}

/// One surfactant at a concentration of all together.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct Dispersed {
    /// What it is called.
    pub name: String,
    /// In all, mmol/L.
    pub total: f64,
    /// Single, mmol/L.
    pub single: f64,
    /// Its mole share of the micelles; `None` where there are none.
    pub in_micelles: Option<f64>,
}

/// Surfactants that form micelles together.
///
/// ```
/// use tenside::trial::MixedMicelles;
/// // Chemistry Central Journal 5, 2011, 89 for the equations; the numbers are a textbook pair.
/// let mixed = MixedMicelles::new([("SDS", 1, "8.2"), ("C12E8", 1, "0.11")])?.with_interaction("SDS", "C12E8", "-3.9")?;
/// assert_eq!(format!("{:.6} mmol/L, ideal {:.6}", mixed.cmc()?, mixed.ideal_cmc()), "0.167272 mmol/L, ideal 0.217088");
/// assert_eq!(format!("{:.6}", mixed.surfactants()?[0].in_micelles), "0.159923");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct MixedMicelles {
    names: Vec<String>,
    /// Mole parts, critical concentrations and interactions as they were given.
    given: Vec<(Exact, Exact)>,
    given_interactions: Vec<(usize, usize, Exact)>,
    shares: Vec<f64>,
    cmcs: Vec<f64>,
    /// By row and column, 0 on the diagonal.
    interactions: Vec<Vec<f64>>,
}

impl MixedMicelles {
    /// An ideal mixture: of each surfactant its name, its mole parts and its critical micelle concentration alone in
    /// mmol/L.
    ///
    /// # Errors
    /// No surfactant, too many, two of one name, parts or concentrations that are not above 0 or out of range.
    pub fn new<N: AsRef<str>, P: ToExact, C: ToExact>(
        surfactants: impl IntoIterator<Item = (N, P, C)>,
    ) -> Result<Self, Error> {
        let (mut names, mut given, mut faults) = (Vec::new(), Vec::new(), Vec::new());
        for (name, part, cmc) in surfactants {
            if names.len() == MOST {
                return Err(Quantity::MixedSurfactants.fault(format!("more than {MOST}")).into());
            }
            let name = check_name(name.as_ref())?;
            let number = |number: Result<Exact, Error>, quantity: Quantity| {
                let number = number?;
                quantity.check(&number)?;
                if number.is_zero() {
                    let fault = quantity.fault(&number).remedy("leave out what is not there");
                    let allowed = format!("above 0, {}", quantity.allowed().trim_start_matches("0 "));
                    return Err(Fault { allowed: Some(allowed), ..fault }.into());
                }
                Ok(number)
            };
            let mut found = |number: Result<Exact, Error>| {
                number
                    .map_err(|error| faults.extend(error.within(&format!("surfactant {}", shown(&name))).into_faults()))
                    .unwrap_or(Exact::ONE)
            };
            let part = found(number(part.to_exact(), Quantity::MoleParts));
            given.push((part, found(number(cmc.to_exact(), Quantity::CriticalConcentration))));
            if names.contains(&name) {
                faults.push(Fault::new(FaultKind::Duplicate, "two surfactants have the same name").value(shown(&name)));
            }
            names.push(name);
        }
        if names.is_empty() {
            return Err(Quantity::MixedSurfactants.fault(0).into());
        }
        let parts: Vec<f64> = given.iter().map(|(part, _)| part.to_f64()).collect();
        let cmcs = given.iter().map(|(_, cmc)| cmc.to_f64()).collect();
        let sum: f64 = parts.iter().sum();
        let interactions = vec![vec![0.0; names.len()]; names.len()];
        Error::check(
            faults,
            MixedMicelles {
                shares: parts.into_iter().map(|part| part / sum).collect(),
                names,
                given,
                given_interactions: Vec::new(),
                cmcs,
                interactions,
            },
        )
    }

    /// With the interaction parameter of a pair, in units of RT; 0 is ideal, below 0 they attract.
    ///
    /// # Errors
    /// An unknown surfactant, one with itself, a pair that has one already, no number or one out of range.
    pub fn with_interaction(mut self, first: &str, second: &str, parameter: impl ToExact) -> Result<Self, Error> {
        let place = |name: &str| {
            let found = self.names.iter().position(|known| known == name);
            found.ok_or_else(|| Error::from(unknown_name("surfactant", name, self.names.iter().map(String::as_str))))
        };
        let (left, right, parameter) = (place(first)?, place(second)?, parameter.to_exact()?);
        Quantity::MicelleInteraction.check(&parameter)?;
        if left == right {
            return Err(Fault::new(FaultKind::Contradiction, "a surfactant does not interact with itself")
                .value(shown(first))
                .into());
        }
        let pair = (left.min(right), left.max(right));
        if let Some((.., given)) = self.given_interactions.iter().find(|(first, second, _)| (*first, *second) == pair) {
            return Err(Fault::new(FaultKind::Duplicate, "this pair has an interaction parameter already")
                .at(format!("{} and {}", shown(first), shown(second)))
                .value(&parameter)
                .allowed(format!("one, which is {given}"))
                .into());
        }
        (self.interactions[left][right], self.interactions[right][left]) = (parameter.to_f64(), parameter.to_f64());
        self.given_interactions.push((pair.0, pair.1, parameter));
        self.given_interactions.sort();
        Ok(self)
    }

    /// Its surfactants as they were given: name, mole parts, critical micelle concentration alone in mmol/L.
    pub fn given(&self) -> impl Iterator<Item = (&str, &Exact, &Exact)> {
        self.names.iter().zip(&self.given).map(|(name, (parts, cmc))| (name.as_str(), parts, cmc))
    }

    /// The pairs with their interaction parameters as they were given.
    pub fn interactions(&self) -> impl Iterator<Item = (&str, &str, &Exact)> {
        let name = |place: &usize| self.names[*place].as_str();
        self.given_interactions.iter().map(move |(first, second, parameter)| (name(first), name(second), parameter))
    }

    /// The critical micelle concentration if all mixed ideally, mmol/L.
    #[must_use]
    pub fn ideal_cmc(&self) -> f64 {
        1.0 / self.shares.iter().zip(&self.cmcs).map(|(share, cmc)| share / cmc).sum::<f64>()
    }

    fn onset(&self) -> Result<Solution, Error> {
        at_onset(&self.shares, &self.cmcs, &self.interactions).ok_or_else(|| self.no_solution())
    }

    fn no_solution(&self) -> Error {
        let fault = Fault::new(FaultKind::NotKnown, "no single kind of micelle fits these interaction parameters")
            .value(self.names.join(", "));
        fault
            .remedy(
                "regular solutions of more than two surfactants can separate although no pair does; check the \
                 parameters",
            )
            .into()
    }

    /// The critical micelle concentration of the mixture, mmol/L.
    ///
    /// # Errors
    /// Interaction parameters for which no single kind of micelle is found.
    pub fn cmc(&self) -> Result<f64, Error> {
        Ok(self.onset()?.total)
    }

    /// The largest part by which the results miss their equations.
    ///
    /// # Errors
    /// As for [`cmc`](Self::cmc).
    pub fn error(&self) -> Result<f64, Error> {
        Ok(self.onset()?.error)
    }

    /// The surfactants, and the micelles that form first.
    ///
    /// # Errors
    /// As for [`cmc`](Self::cmc).
    pub fn surfactants(&self) -> Result<Vec<MixedSurfactant>, Error> {
        let onset = self.onset()?;
        let surfactant = |index: usize| MixedSurfactant {
            name: self.names[index].clone(),
            share: self.shares[index],
            cmc: self.cmcs[index],
            in_micelles: onset.micelles[index],
            activity: onset.activities[index],
        };
        Ok((0..self.names.len()).map(surfactant).collect())
    }

    /// What is single and what is in micelles at a concentration of all surfactants together, mmol/L.
    ///
    /// # Errors
    /// A concentration that is not above 0 or out of range, and as for [`cmc`](Self::cmc).
    pub fn at(&self, concentration: impl ToExact) -> Result<Vec<Dispersed>, Error> {
        let concentration = Quantity::SurfactantConcentration.exact(concentration)?;
        if concentration.is_zero() {
            return Err(Quantity::SurfactantConcentration
                .fault(&concentration)
                .remedy("without surfactant there is nothing to be found")
                .into());
        }
        self.at_float(concentration.to_f64())
    }

    fn at_float(&self, concentration: f64) -> Result<Vec<Dispersed>, Error> {
        let used = in_use(&self.shares, &self.cmcs, &self.interactions, concentration);
        let used = used.ok_or_else(|| self.no_solution())?;
        let dispersed = |index: usize| Dispersed {
            name: self.names[index].clone(),
            total: self.shares[index] * concentration,
            single: used.single[index],
            in_micelles: used.in_micelles.as_ref().map(|micelles| micelles[index]),
        };
        Ok((0..self.names.len()).map(dispersed).collect())
    }

    /// What to know about it.
    #[must_use]
    pub fn notes(&self) -> Vec<String> {
        let mut notes = vec![
            "for the temperature and salt at which the critical concentrations of the single surfactants were \
             measured; salt lowers those of ionic ones"
                .to_string(),
            "a theory of mixing: it says nothing of foam, mildness or stability".to_string(),
        ];
        let count = self.names.len();
        let pairs = |keep: &dyn Fn(f64) -> bool| {
            let found = (0..count)
                .flat_map(|left| (left + 1..count).map(move |right| (left, right)))
                .filter(|(left, right)| keep(self.interactions[*left][*right]));
            found.map(|(left, right)| format!("{} and {}", self.names[left], self.names[right])).collect::<Vec<_>>()
        };
        let ideal = pairs(&|parameter| parameter == 0.0);
        if !ideal.is_empty() {
            notes.push(format!("taken as ideal, without an interaction parameter: {}", ideal.join("; ")));
        }
        notes
    }
}

/// As many as [`Quantity::MixedSurfactants`] allows.
const MOST: usize = 20;
