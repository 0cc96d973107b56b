//! A solution at equilibrium.

use super::acid::MOST_STEPS;
use super::balance::{Root, Weights};
use super::caveat::HIGHEST_IONIC_STRENGTH;
use super::{Caveat, Solution};
use crate::bounds::Quantity;
use crate::error::{Error, Fault, FaultKind};
use crate::render::{Alignment, Page, Part, Table};

/// The share of a fully ionised acid that pairs from which a caveat is said, percent (our choice).
const LEAST_PAIRED: f64 = 10.0;
/// The concentration of a pairing acid from which a caveat is said, mol/kg (our choice).
const LEAST_PAIRING: f64 = 0.005;
/// From here on another temperature than 25 °C is worth a caveat (our choice).
const ANOTHER_TEMPERATURE: f64 = 1.0;

/// One form of an acid.
#[derive(Clone, Copy, Debug, PartialEq)]
#[non_exhaustive]
pub struct Form {
    /// Its charge.
    pub charge: i32,
    /// Its share of the acid, 0 to 1.
    pub fraction: f64,
}

/// An acid at equilibrium.
#[derive(Clone, Debug, PartialEq)]
#[non_exhaustive]
pub struct AcidForms {
    /// The acid.
    pub name: String,
    /// All forms together, mol per kg of water.
    pub total: f64,
    /// The forms, from the fully protonated one on.
    pub forms: Vec<Form>,
}

/// A solution at equilibrium: what its charges balance at.
///
/// ```
/// use tenside::ph::Solution;
/// let state = Solution::at(25.0)?.acid("acetic acid", 0.2)?.ion("Na", 0.1)?.solve()?;
/// assert!((state.ph() - 4.65).abs() < 0.005);
/// assert!((state.forms("acetic acid").unwrap().forms[0].fraction - 0.5).abs() < 0.001);
/// assert!((state.buffer_capacity() - 0.115).abs() < 0.001);
/// assert!(state.imbalance().abs() < 1e-12 && state.caveats().is_empty());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Equilibrium {
    temperature: f64,
    ph: f64,
    ionic_strength: f64,
    activity_coefficient: f64,
    hydrogen: f64,
    hydroxide: f64,
    imbalance: f64,
    buffer_capacity: f64,
    acids: Vec<AcidForms>,
    caveats: Vec<Caveat>,
}

impl Solution {
    /// The pH alone.
    ///
    /// # Errors
    /// As for [`Solution::solve`].
    pub fn ph(&self) -> Result<f64, Error> {
        self.ph_of(&self.balance().root())
    }

    /// The equilibrium: pH, forms, ionic strength, buffer capacity, and what makes it less certain.
    ///
    /// # Errors
    /// Totals of ions that no pH from 0 to 14 makes neutral.
    pub fn solve(&self) -> Result<Equilibrium, Error> {
        let balance = self.balance();
        let root = balance.root();
        let ph = self.ph_of(&root)?;
        let mut weights: Vec<Weights> = vec![[0.0; MOST_STEPS + 1]; balance.protolytes.len()];
        balance.weigh(root.gamma, &mut weights);
        Ok(Equilibrium::new(self, ph, &root, &weights))
    }

    fn ph_of(&self, root: &Root) -> Result<f64, Error> {
        let ph = -root.ln_a / std::f64::consts::LN_10;
        let (lowest, highest) = (0.0, 14.0);
        if (lowest..=highest).contains(&ph) {
            return Ok(ph);
        }
        let charge: f64 = self.ions().iter().map(|(ion, total)| f64::from(ion.charge()) * total).sum();
        Err(Fault::new(FaultKind::Contradiction, "no pH in range makes these totals electroneutral")
            .value(format!("{charge:+.4} mol/kg of charge in strong ions"))
            .allowed(format!("pH {}", Quantity::SolutionPh.allowed()))
            .remedy("name the ions that go with them, such as Cl with Na, or dilute")
            .into())
    }
}

getters!(Equilibrium {
    /// The temperature in °C.
    temperature: f64,
    /// The pH: the negative decimal logarithm of the activity of the hydrogen ion.
    ph: f64,
    /// The ionic strength, mol per kg of water.
    ionic_strength: f64,
    /// Hydrogen ion, mol per kg of water.
    hydrogen: f64,
    /// Hydroxide ion, mol per kg of water.
    hydroxide: f64,
    /// Positive less negative charges at the pH found, mol per kg of water: what the arithmetic leaves.
    imbalance: f64,
    /// How steeply strong alkali raises the pH here: the slope `dC/dpH`, mol of strong base per kg of water and per unit
    /// of pH, activity coefficients kept as they are (D. D. van Slyke, 1922; from memory). It holds at this pH; over a
    /// whole unit the amount differs.
    buffer_capacity: f64,
    /// The acids with the shares of their forms.
    acids: &[AcidForms],
    /// What makes the pH less certain.
    caveats: &[Caveat],
});

impl Equilibrium {
    fn new(solution: &Solution, ph: f64, root: &Root, weights: &[Weights]) -> Self {
        let inverse = (-root.ln_a).exp();
        let acids = solution.acids().iter().zip(weights).map(|((acid, total), weights)| {
            let mut power = 1.0;
            let mut present: Vec<Form> = Vec::with_capacity(acid.pka().len() + 1);
            for (charge, weight) in acid.charges().zip(weights) {
                present.push(Form { charge, fraction: weight * power });
                power *= inverse;
            }
            let sum: f64 = present.iter().map(|form| form.fraction).sum();
            present.iter_mut().for_each(|form| form.fraction /= sum);
            AcidForms { name: acid.name().to_string(), total: *total, forms: present }
        });
        let mut state = Equilibrium {
            temperature: solution.water().temperature(),
            ph,
            ionic_strength: root.ionic,
            activity_coefficient: root.gamma,
            hydrogen: root.hydrogen,
            hydroxide: root.hydroxide,
            imbalance: root.imbalance,
            buffer_capacity: std::f64::consts::LN_10 * root.slope,
            acids: acids.collect(),
            caveats: Vec::new(),
        };
        state.caveats = state.find_caveats(solution);
        state
    }

    /// The activity coefficient of an ion of that charge.
    #[must_use]
    pub fn activity_coefficient(&self, charge: i32) -> f64 {
        self.activity_coefficient.powi(charge.saturating_mul(charge))
    }

    /// The acid of that name, if the solution has it.
    #[must_use]
    pub fn forms(&self, name: &str) -> Option<&AcidForms> {
        self.acids.iter().find(|acid| acid.name == name)
    }

    fn find_caveats(&self, solution: &Solution) -> Vec<Caveat> {
        let mut caveats = Vec::new();
        if self.ionic_strength > HIGHEST_IONIC_STRENGTH {
            caveats.push(Caveat::IonicStrength { found: self.ionic_strength });
        }
        let alkali: f64 =
            solution.ions().iter().filter(|(ion, _)| matches!(ion.symbol(), "Na" | "K")).map(|(_, total)| total).sum();
        for ((acid, _), forms) in solution.acids().iter().zip(&self.acids) {
            let (Some(pairing), Some(last)) = (acid.pairing(), forms.forms.last()) else { continue };
            // The pair M A has charge z + 1; its constant at this ionic strength is K g_1 g_z / g_(z+1).
            let coefficient = |charge: i32| self.activity_coefficient(charge);
            let constant =
                10f64.powf(pairing) * coefficient(1) * coefficient(last.charge) / coefficient(last.charge + 1);
            let percent = 100.0 * constant * alkali / (1.0 + constant * alkali);
            if percent >= LEAST_PAIRED && forms.total * last.fraction >= LEAST_PAIRING {
                caveats.push(Caveat::IonPairing { acid: acid.name().to_string(), percent });
            }
        }
        let without = solution.acids().iter().filter(|(acid, total)| acid.enthalpies().is_empty() && *total > 0.0);
        let without: Vec<String> = without.map(|(acid, _)| acid.name().to_string()).collect();
        if !without.is_empty() && (self.temperature - 25.0).abs() > ANOTHER_TEMPERATURE {
            caveats.push(Caveat::Temperature { acids: without });
        }
        for (acid, _) in solution.acids() {
            caveats.extend(
                acid.note().map(|note| Caveat::Substance { name: acid.name().to_string(), note: note.to_string() }),
            );
        }
        caveats.extend(solution.notes().iter().cloned());
        caveats
    }

    /// What it is, for people.
    #[must_use]
    pub fn page(&self) -> Page {
        let mut table = Table::new(&[("", Alignment::Left), ("", Alignment::Right)]);
        table.push(["pH".to_string(), format!("{:.2}", self.ph)]);
        table.push(["temperature, °C".to_string(), self.temperature.to_string()]);
        table.push(["ionic strength, mol/kg".to_string(), format!("{:.4}", self.ionic_strength)]);
        table.push([
            "buffer capacity at this pH, mol/kg per unit of pH".to_string(),
            format!("{:.4}", self.buffer_capacity),
        ]);
        let mut forms = Table::new(&[
            ("acid or base", Alignment::Left),
            ("mol/kg", Alignment::Right),
            ("charge", Alignment::Right),
            ("% of it", Alignment::Right),
        ]);
        for acid in &self.acids {
            for form in &acid.forms {
                forms.push([
                    acid.name.clone(),
                    format!("{:.5}", acid.total),
                    format!("{:+}", form.charge),
                    format!("{:.2}", 100.0 * form.fraction),
                ]);
            }
        }
        Page::new("Solution at equilibrium")
            .with(Part::Table(table))
            .section("Forms", Part::Table(forms))
            .section("What makes it less certain", Part::List(self.caveats.iter().map(Caveat::sentence).collect()))
            .with(Part::Text(
                "Calculated from totals, for a clear watery solution; a reading with a calibrated electrode rules \
                 over it."
                    .to_string(),
            ))
    }
}
