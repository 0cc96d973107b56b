//! Acids, and solutions of them with their equilibrium.

use std::sync::Arc;

use indexmap::IndexMap;
use pyo3::prelude::*;
use pyo3::types::{PyTuple, PyType};
use tenside::ph::CaveatKind;

use crate::convert::failure::Outcome;
use crate::convert::input::{Number, Several};
use crate::convert::output::{quoted, repr};
use crate::convert::page::Page;
use crate::convert::table::Rows;
use crate::convert::word::Word;
use crate::formula::Formula;

/// A weak acid or base with its constants; a base is named by its protonated form. `name` it as messages shall, with
/// the `charge` of its form with every proton on, its `pka` values from there on, and the `enthalpy` of each ionisation
/// in kJ/mol where they are known.
///
/// >>> td.ph.Acid.named("citric acid").pka
/// [3.128, 4.761, 6.396]
/// >>> td.ph.Acid("buffer of mine, protonated", charge=1, pka=[7.2]).charges
/// [1, 0]
#[pyclass(frozen, eq, module = "tenside.ph")]
#[derive(Clone, PartialEq)]
pub(crate) struct Acid(pub(crate) Arc<tenside::ph::Acid>);

value!(Acid, |it| it.name());

getters!(Acid {
    /// Its name.
    name: String = |it| it.name().to_string();
    /// The charge of its form with every proton on.
    charge: i32 = |it| it.charges().next().unwrap_or(0);
    /// The charges of its forms, from the fully protonated one on.
    charges: Vec<i32> = |it| it.charges().collect();
    /// The constants at 25 °C and no ionic strength, from the fully protonated form on.
    pka: Vec<f64> = |it| it.pka().to_vec();
    /// The ionisation enthalpies in kJ/mol; empty if they are not known.
    enthalpy: Vec<f64> = |it| it.enthalpies().to_vec();
    /// True if it is used as a preservative whose undissociated form acts.
    is_preservative: bool = |it| it.is_preservative();
    /// Where charge, enthalpies and the rest come from.
    source: String = |it| it.source().to_string();
});

impl Acid {
    /// One of the embedded table knows more than can be given to a new one.
    fn is_of_table(&self) -> bool {
        tenside::ph::Acid::named(self.0.name()).is_ok_and(|known| known == self.0)
    }
}

#[pymethods]
impl Acid {
    #[new]
    #[pyo3(signature = (name, charge, pka, enthalpy=None))]
    fn new(name: &str, charge: i32, pka: Several<f64>, enthalpy: Option<Several<f64>>) -> Outcome<Self> {
        let acid = tenside::ph::Acid::new(name, charge, &pka.0)?;
        Ok(Acid(Arc::new(match enthalpy {
            Some(enthalpy) => acid.with_enthalpies(&enthalpy.0)?,
            None => acid,
        })))
    }

    /// The acid or base of that name in the embedded table.
    ///
    /// >>> td.ph.Acid.named("ammonium").charge
    /// 1
    #[classmethod]
    fn named(_class: &Bound<'_, PyType>, name: &str) -> Outcome<Self> {
        Ok(Acid(tenside::ph::Acid::named(name)?))
    }

    /// Every acid and base of the embedded table.
    ///
    /// >>> "lactic acid" in [acid.name for acid in td.ph.Acid.all()]
    /// True
    #[classmethod]
    fn all(_class: &Bound<'_, PyType>) -> Vec<Self> {
        tenside::ph::Acid::all().iter().cloned().map(Acid).collect()
    }

    /// The share, 0 to 1, of the form with every proton on at a pH, without regard to ionic strength.
    /// Without `ph` in the range of the scale it is refused.
    ///
    /// >>> round(td.ph.Acid.named("sorbic acid").undissociated(5), 4)
    /// 0.3653
    fn undissociated(&self, ph: f64) -> Outcome<f64> {
        Ok(self.0.undissociated(ph)?)
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, Bound<'py, PyTuple>)> {
        let (py, acid) = (slf.py(), slf.get());
        if acid.is_of_table() {
            return Ok((slf.get_type().getattr("named")?, PyTuple::new(py, [acid.name()])?));
        }
        let enthalpy = Some(acid.enthalpy()).filter(|enthalpy| !enthalpy.is_empty());
        Ok((slf.get_type().into_any(), (acid.name(), acid.charge(), acid.pka(), enthalpy).into_pyobject(py)?))
    }

    fn __repr__(slf: &Bound<'_, Self>) -> PyResult<String> {
        if slf.get().is_of_table() {
            return Ok(format!("Acid.named({})", quoted(slf.py(), slf.get().0.name())?));
        }
        let fields: &[&str] = if slf.get().0.enthalpies().is_empty() {
            &["name", "charge", "pka"]
        } else {
            &["name", "charge", "pka", "enthalpy"]
        };
        Ok(repr(slf, fields)?.replacen("name=", "", 1))
    }
}

record! {
    "tenside.ph",
    /// One form of an acid.
    AcidForm of &tenside::ph::Form, |form| {
        /// Its charge.
        charge: i32 = form.charge,
        /// Its share of the acid, 0 to 1.
        fraction: f64 = form.fraction,
    }
}

record! {
    "tenside.ph",
    /// What makes a calculated pH less certain.
    Caveat of &tenside::ph::Caveat, |caveat| {
        /// Its stable name: "ionic-strength", "ion-pairing", "temperature", "substance", "unspecified",
        /// "other-solvent".
        kind: Word<CaveatKind> = Word(caveat.kind()),
        /// The caveat as a sentence.
        sentence: String = caveat.sentence(),
    }
}

/// A solution at equilibrium: what its charges balance at.
///
/// >>> state = td.ph.Solution(25).acid("acetic acid", 0.2).ion("Na", 0.1).solve()
/// >>> round(state.ph, 2), round(state.fraction("acetic acid", charge=0), 3), state.caveats
/// (4.65, 0.5, [])
#[pyclass(frozen, eq, module = "tenside.ph")]
#[derive(Clone, PartialEq)]
pub(crate) struct Equilibrium(tenside::ph::Equilibrium, Solution);

shown!(Equilibrium, |it| it.0.page());
value!(Equilibrium, |it| it.ph().to_bits());

getters!(Equilibrium {
    /// The pH: the negative decimal logarithm of the activity of the hydrogen ion.
    ph: f64 = |it| it.ph();
    /// The temperature in °C.
    temperature: f64 = |it| it.temperature();
    /// The ionic strength, mol per kg of water.
    ionic_strength: f64 = |it| it.ionic_strength();
    /// Hydrogen ion, mol per kg of water.
    hydrogen: f64 = |it| it.hydrogen();
    /// Hydroxide ion, mol per kg of water.
    hydroxide: f64 = |it| it.hydroxide();
    /// Positive less negative charges, mol per kg of water: what the arithmetic leaves.
    imbalance: f64 = |it| it.imbalance();
    /// How steeply strong alkali raises the pH here: mol of strong base per kg of water and per unit of pH, activity
    /// coefficients kept as they are. Over a whole unit the amount differs.
    buffer_capacity: f64 = |it| it.buffer_capacity();
    /// The forms of each acid, from the fully protonated one on.
    forms: IndexMap<String, Vec<AcidForm>> = |it| it.acids().iter().map(|acid| (acid.name.clone(), acid.forms.iter().map(AcidForm::from).collect())).collect();
    /// What makes the pH less certain.
    caveats: Rows<Caveat> = |it| it.caveats().iter().map(Caveat::from).collect();
});

#[pymethods]
impl Equilibrium {
    /// The share, 0 to 1, of the form of that charge; None if there is no such form.
    /// `acid` is one of `acids`.
    fn fraction(&self, acid: &str, charge: i32) -> Option<f64> {
        self.0.forms(acid)?.forms.iter().find(|form| form.charge == charge).map(|form| form.fraction)
    }

    /// The same for people.
    fn page(&self) -> Page {
        Page(self.0.page())
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> PyResult<(Bound<'py, PyAny>, ())> {
        Ok((self.1.clone().into_pyobject(py)?.getattr("solve")?, ()))
    }

    fn __float__(&self) -> f64 {
        self.0.ph()
    }

    fn __repr__(&self) -> String {
        format!("<Equilibrium at pH {:.2}>", self.0.ph())
    }
}

one_of! {
    /// An acid or its name in the embedded table.
    enum AnAcid<'py>: "a name or an Acid" {
        Name(String),
        Acid(Bound<'py, Acid>),
    }
}

/// Acids, bases and strong ions in water by their totals, in mol per kg of water. Immutable; each call gives a new
/// solution. `temperature` is in °C, `pkw` that of water where it is not the usual one.
///
/// >>> buffer = td.ph.Solution(25).acid("citric acid", 0.07).ion("Na", 0.06)
/// >>> round(buffer.ph, 2), buffer.diluted(9).ph > buffer.ph
/// (3.54, True)
#[pyclass(frozen, eq, module = "tenside.ph")]
#[derive(Clone)]
pub(crate) struct Solution(tenside::ph::Solution, Option<Origin>);

/// The formula, dilution and temperature that a solution was made from, which decide its caveats.
type Origin = (Formula, String, f64);

impl PartialEq for Solution {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

impl Solution {
    /// What a formula is in water.
    pub(crate) fn of(py: Python<'_>, formula: &Formula, dilution: &str, temperature: f64) -> Outcome<Self> {
        let diluted = dilution.parse()?;
        let solution = py.detach(|| formula.0.solution(&diluted, temperature))?;
        Ok(Solution(solution, Some((formula.clone(), dilution.to_string(), temperature))))
    }

    fn changed(&self, solution: tenside::ph::Solution) -> Self {
        Solution(solution, self.1.clone())
    }
}

value!(Solution, |it| (it.acids().len(), it.ions().len(), it.inert().to_bits()));

getters!(Solution {
    /// The temperature in °C.
    temperature: f64 = |it| it.water().temperature();
    /// The negative decimal logarithm of the ion product of water.
    pkw: f64 = |it| it.water().pkw();
    /// The constant A of the Davies equation.
    davies: f64 = |it| it.water().davies();
    /// Totals of the acids and bases.
    acids: IndexMap<String, f64> = |it| it.acids().iter().map(|(acid, total)| (acid.name().to_string(), *total)).collect();
    /// Totals of the strong ions.
    ions: IndexMap<String, f64> = |it| it.ions().iter().map(|(ion, total)| (ion.symbol().to_string(), *total)).collect();
    /// What is dissolved without charge.
    inert: f64 = |it| it.inert();
});

#[pymethods]
impl Solution {
    #[new]
    #[pyo3(signature = (temperature=25.0, *, pkw=None))]
    fn new(temperature: f64, pkw: Option<f64>) -> Outcome<Self> {
        let water = tenside::ph::Water::at(temperature)?;
        let water = match pkw {
            Some(pkw) => water.with_pkw(pkw)?,
            None => water,
        };
        Ok(Solution(tenside::ph::Solution::in_water(water), None))
    }

    /// With so much more of an acid or base in all its forms, mol per kg of water.
    /// `molality` is how much.
    fn acid(&self, acid: AnAcid<'_>, molality: Number) -> Outcome<Self> {
        let acid = match acid {
            AnAcid::Name(name) => tenside::ph::Acid::named(&name)?,
            AnAcid::Acid(acid) => Arc::clone(&acid.get().0),
        };
        Ok(self.changed(self.0.clone().with_acid(&acid, molality.0.to_f64())?))
    }

    /// With so much more of a strong ion, mol per kg of water; `charge` for one that the table does not have.
    /// `name` is its symbol, `molality` how much.
    ///
    /// >>> td.ph.Solution().ion("iodide", 0.1, charge=-1).ion("Na", 0.1).ph == td.ph.Solution().ion("Cl", 0.1).ion("Na", 0.1).ph
    /// True
    #[pyo3(signature = (name, molality, *, charge=None))]
    fn ion(&self, name: &str, molality: Number, charge: Option<i32>) -> Outcome<Self> {
        let ion = match charge {
            Some(charge) => tenside::ph::Ion::new(name, charge)?,
            None => tenside::ph::Ion::named(name)?,
        };
        Ok(self.changed(self.0.clone().with_ion(&ion, molality.0.to_f64())?))
    }

    /// With so much more of what dissolves without charge, mol per kg of water.
    /// `molality` is how much.
    fn with_inert(&self, molality: Number) -> Outcome<Self> {
        Ok(self.changed(self.0.clone().with_inert(molality.0.to_f64())?))
    }

    /// With so many more kilograms of water to each kilogram of it.
    fn diluted(&self, water: Number) -> Outcome<Self> {
        Ok(self.changed(self.0.clone().diluted(water.0.to_f64())?))
    }

    /// The pH alone.
    #[getter]
    fn ph(&self) -> Outcome<f64> {
        Ok(self.0.ph()?)
    }

    /// The equilibrium: pH, forms, ionic strength, buffer capacity, and what makes it less certain.
    fn solve(&self) -> Outcome<Equilibrium> {
        Ok(Equilibrium(self.0.solve()?, self.clone()))
    }

    #[classmethod]
    fn _of(
        _class: &Bound<'_, PyType>,
        water: (f64, f64),
        acids: Vec<(Bound<'_, Acid>, f64)>,
        ions: Vec<(String, Option<i32>, f64)>,
        inert: f64,
        origin: Option<Origin>,
    ) -> Outcome<Self> {
        let mut solution = tenside::ph::Solution::in_water(tenside::ph::Water::at(water.0)?.with_pkw(water.1)?);
        for (acid, molality) in acids {
            solution = solution.with_acid(&acid.get().0, molality)?;
        }
        for (name, charge, molality) in ions {
            let ion =
                charge.map_or_else(|| tenside::ph::Ion::named(&name), |charge| tenside::ph::Ion::new(&name, charge))?;
            solution = solution.with_ion(&ion, molality)?;
        }
        let mut solution = solution.with_inert(inert)?;
        if let Some((formula, dilution, temperature)) = &origin {
            solution = solution.with_caveats_of(&formula.0.solution(&dilution.parse()?, *temperature)?);
        }
        Ok(Solution(solution, origin))
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> PyResult<(Bound<'py, PyAny>, Bound<'py, PyTuple>)> {
        let solution = &slf.get().0;
        let acids: Vec<(Acid, f64)> =
            solution.acids().iter().map(|(acid, molality)| (Acid(Arc::clone(acid)), *molality)).collect();
        let of_table = |ion: &tenside::ph::Ion| tenside::ph::Ion::named(ion.symbol()).is_ok_and(|known| known == *ion);
        let ion = |(ion, molality): &(tenside::ph::Ion, f64)| {
            (ion.symbol().to_string(), (!of_table(ion)).then(|| ion.charge()), *molality)
        };
        let ions: Vec<_> = solution.ions().iter().map(ion).collect();
        let water = (solution.water().temperature(), solution.water().pkw());
        Ok((
            slf.get_type().getattr("_of")?,
            (water, acids, ions, solution.inert(), slf.get().1.clone()).into_pyobject(slf.py())?,
        ))
    }

    fn __repr__(&self) -> String {
        let acids = self.0.acids().iter().map(|(acid, total)| format!("{} {total} mol/kg", acid.name()));
        let ions = self.0.ions().iter().map(|(ion, total)| format!("{} {total} mol/kg", ion.symbol()));
        let inert =
            Some(self.0.inert()).filter(|inert| *inert > 0.0).map(|inert| format!("without charge {inert} mol/kg"));
        let held: Vec<String> = acids.chain(ions).chain(inert).collect();
        format!(
            "<Solution at {} °C: {}>",
            self.temperature(),
            if held.is_empty() { "water".to_string() } else { held.join(", ") }
        )
    }
}

#[pymethods]
impl Formula {
    /// What it is as a solution in its own water and that of a dilution by mass ("1+0" for none), for typical
    /// compositions. Whatever holds surfactant or free fatty acid is refused: a reading rules there. `temperature` is
    /// in °C.
    ///
    /// >>> rinse = td.Formula("Rinse", {"citric-acid-50": 1, "water": 99}, td.Catalogue.starter())
    /// >>> round(rinse.solution().ph, 2)
    /// 2.39
    #[pyo3(signature = (*, dilution="1+0", temperature=25.0))]
    fn solution(&self, py: Python<'_>, dilution: &str, temperature: f64) -> Outcome<Solution> {
        Solution::of(py, self, dilution, temperature)
    }
}
