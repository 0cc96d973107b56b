//! Mixed micelles.

use indexmap::IndexMap;
use pyo3::prelude::*;

use crate::convert::failure::Outcome;
use crate::convert::input::{ByName, Number, Several};
use crate::convert::output::Fraction;
use crate::convert::page::Page;
use crate::convert::pickled::{Call, Reduced};
use crate::convert::table::Rows;
use crate::formula::Formula;
use crate::product::weights::confidence_of;
use crate::trial::log::SelfClass;

record! {
    "tenside.trial",
    /// One surfactant of mixed micelles.
    MixedSurfactant of tenside::trial::MixedSurfactant, |row| {
        /// What it is called.
        name: String = row.name,
        /// Its mole share of all surfactants.
        share: f64 = row.share,
        /// Its critical micelle concentration alone, mmol/L.
        cmc: f64 = row.cmc,
        /// Its mole share of the first micelles.
        in_micelles: f64 = row.in_micelles,
        /// Its activity coefficient in them.
        activity: f64 = row.activity,
    }
}

record! {
    "tenside.trial",
    /// One surfactant at a concentration of all together.
    Dispersed of tenside::trial::Dispersed, |row| {
        /// What it is called.
        name: String = row.name,
        /// In all, mmol/L.
        total: f64 = row.total,
        /// Single, mmol/L.
        single: f64 = row.single,
        /// Its mole share of the micelles; None where there are none.
        in_micelles: Option<f64> = row.in_micelles,
    }
}

record! {
    "tenside.trial",
    /// One measured mixture of two surfactants.
    InteractionPair of &tenside::trial::InteractionPair, |pair| {
        /// The mole share of the first.
        share: f64 = pair.share,
        /// The measured critical micelle concentration, mmol/L.
        measured: f64 = pair.measured,
        /// That of the fitted parameter.
        fitted: f64 = pair.fitted,
        /// The parameter that this mixture alone gives; None if none in range does.
        alone: Option<f64> = pair.alone,
        /// The share of the first in the micelles.
        in_micelles: f64 = pair.in_micelles,
    }
}

/// A pair of surfactants with its interaction parameter.
type Pairs = IndexMap<(String, String), Fraction>;

/// Surfactants that form micelles together, by regular solution theory: `surfactants` by name, each with its mole parts
/// and its critical micelle concentration alone in mmol/L; `interactions` are the parameters of pairs in units of RT, 0
/// where none is given: an ideal mixture.
///
/// >>> mixed = td.trial.MixedMicelles({"SDS": (1, "8.2"), "C12E8": (1, "0.11")}, interactions={("SDS", "C12E8"): "-3.9"})
/// >>> round(mixed.cmc, 6), round(mixed.ideal_cmc, 6)
/// (0.167272, 0.217088)
/// >>> [round(row.in_micelles, 6) for row in mixed.surfactants]
/// [0.159923, 0.840077]
#[pyclass(frozen, eq, from_py_object, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct MixedMicelles(pub(crate) tenside::trial::MixedMicelles);

copied!(MixedMicelles);
shown!(MixedMicelles, |it| it.0.page(), fallible);
document!(MixedMicelles, |it| &it.0, back alone by tenside::trial::MixedMicelles, pickled otherwise);

#[pymethods]
impl MixedMicelles {
    #[new]
    #[pyo3(signature = (surfactants, *, interactions=None))]
    fn new(surfactants: IndexMap<String, (Fraction, Fraction)>, interactions: Option<Pairs>) -> Outcome<Self> {
        let each = surfactants.iter().map(|(name, (parts, cmc))| (name.as_str(), &parts.0, &cmc.0));
        let mut mixed = tenside::trial::MixedMicelles::new(each)?;
        for ((first, second), parameter) in interactions.iter().flatten() {
            mixed = mixed.with_interaction(first, second, &parameter.0)?;
        }
        Ok(MixedMicelles(mixed))
    }

    /// The critical micelle concentration of the mixture, mmol/L.
    #[getter]
    fn cmc(&self) -> Outcome<f64> {
        Ok(self.0.cmc()?)
    }

    /// That of an ideal mixture, mmol/L.
    #[getter]
    fn ideal_cmc(&self) -> f64 {
        self.0.ideal_cmc()
    }

    /// The largest part by which the results miss their equations.
    #[getter]
    fn error(&self) -> Outcome<f64> {
        Ok(self.0.error()?)
    }

    /// The surfactants, and the micelles that form first.
    #[getter]
    fn surfactants(&self) -> Outcome<Rows<MixedSurfactant>> {
        Ok(self.0.surfactants()?.into_iter().map(MixedSurfactant::from).collect())
    }

    /// What to know about it.
    #[getter]
    fn notes(&self) -> Vec<String> {
        self.0.notes()
    }

    /// The surfactants and their first micelles on one page.
    #[getter]
    fn page(&self) -> Outcome<Page> {
        Ok(Page(self.0.page()?))
    }

    /// What is single and what is in micelles at a `concentration` of all surfactants together, mmol/L.
    ///
    /// >>> mixed = td.trial.MixedMicelles({"SDS": (1, "8.2"), "C12E8": (1, "0.11")})
    /// >>> [row.in_micelles for row in mixed.at("0.1")]
    /// [None, None]
    /// >>> [round(row.single, 3) for row in mixed.at(10)]
    /// [2.649, 0.074]
    fn at(&self, concentration: Number) -> Outcome<Rows<Dispersed>> {
        Ok(self.0.at(&concentration.0)?.into_iter().map(Dispersed::from).collect())
    }

    fn __hash__(&self) -> u64 {
        crate::convert::output::hash(&self.0.ideal_cmc().to_bits())
    }

    fn __repr__(&self) -> String {
        format!("<MixedMicelles, ideal {:.4} mmol/L>", self.0.ideal_cmc())
    }

    fn __reduce__<'py>(slf: &Bound<'py, Self>) -> Outcome<Reduced<'py>> {
        let it = &slf.get().0;
        let surfactants: IndexMap<String, (Fraction, Fraction)> = it
            .given()
            .map(|(name, parts, cmc)| (name.to_string(), (Fraction(parts.clone()), Fraction(cmc.clone()))))
            .collect();
        let interactions: Pairs = it
            .interactions()
            .map(|(first, second, parameter)| ((first.to_string(), second.to_string()), Fraction(parameter.clone())))
            .collect();
        let call = Call::new(SelfClass, "MixedMicelles").argument(surfactants);
        Ok(call.keyword("interactions", Some(interactions)).reduced(slf.py())?)
    }
}

/// The interaction parameter of two surfactants, fitted to measured critical micelle concentrations: those of the
/// `first` and the `second` alone, and of each of `mixtures` the first one's share in mol % and what was measured; all
/// concentrations in mmol/L. Concentrations count by their logarithms.
///
/// >>> fit = td.trial.MicelleInteraction("8.2", "0.11", [("10", "0.115291"), ("50", "0.167272"), ("90", "0.494733")])
/// >>> round(fit.parameter, 3), fit.error < 0.001
/// (-3.9, True)
#[pyclass(frozen, eq, module = "tenside.trial")]
#[derive(Clone)]
pub(crate) struct MicelleInteraction(tenside::trial::MicelleInteraction, Call);

impl PartialEq for MicelleInteraction {
    fn eq(&self, other: &Self) -> bool {
        self.0 == other.0
    }
}

shown!(MicelleInteraction, |it| it.0.page());
value!(MicelleInteraction, |it| it.parameter.to_bits());

getters!(MicelleInteraction {
    /// The parameter, in units of RT.
    parameter: f64 = |it| it.parameter;
    /// Its standard error; None for a single mixture, which tells none.
    error: Option<f64> = |it| it.error;
    /// By what part measured concentrations lie from the fitted ones, standard deviation; None for a single mixture.
    deviation: Option<f64> = |it| it.deviation;
    /// The mixtures.
    pairs: Rows<InteractionPair> = |it| it.pairs.iter().map(InteractionPair::from).collect();
    /// The parameter and its mixtures on one page.
    page: Page = |it| Page(it.page());
});

#[pymethods]
impl MicelleInteraction {
    fn __repr__(&self) -> String {
        format!("<MicelleInteraction {:.4}>", self.0.parameter)
    }

    #[new]
    fn new(first: Number, second: Number, mixtures: Several<(Fraction, Fraction)>) -> Outcome<Self> {
        let measured = mixtures.0.iter().map(|(share, concentration)| (&share.0, &concentration.0));
        let fitted = tenside::trial::MixedMicelles::fit_interaction(&first.0, &second.0, measured)?;
        let call = Call::new(SelfClass, "MicelleInteraction")
            .argument(Fraction(first.0))
            .argument(Fraction(second.0))
            .argument(mixtures.0);
        Ok(MicelleInteraction(fitted, call))
    }

    /// Where the parameter lies with a `confidence` in percent; None for a single mixture.
    #[pyo3(signature = (*, confidence=None))]
    fn interval(&self, confidence: Option<Number>) -> Outcome<Option<(f64, f64)>> {
        Ok(self.0.interval(confidence_of(confidence)?)?)
    }

    fn __reduce__<'py>(&self, py: Python<'py>) -> Outcome<Reduced<'py>> {
        Ok(self.1.reduced(py)?)
    }
}

/// The mixed micelles of a formula, and what is single and what is in micelles in use: see `Formula.mixed_micelles`.
#[pyclass(frozen, eq, module = "tenside.trial")]
#[derive(Clone, PartialEq)]
pub(crate) struct FormulaMicelles(tenside::trial::FormulaMicelles);

document!(FormulaMicelles, |it| &it.0, back by tenside::trial::FormulaMicelles);

shown!(FormulaMicelles, |it| it.0.mixture.page(), fallible);
value!(FormulaMicelles, |it| it.concentration.to_bits());

getters!(FormulaMicelles {
    /// All surfactants together at that dilution, mmol/L.
    concentration: f64 = |it| it.concentration;
    /// The dilution with water by mass.
    dilution: String = |it| it.dilution.to_string();
    /// Each at that dilution.
    dispersed: Rows<Dispersed> = |it| it.dispersed.iter().cloned().map(Dispersed::from).collect();
    /// What to know about it.
    notes: Vec<String> = |it| it.mixture.notes();
});

#[pymethods]
impl FormulaMicelles {
    fn __repr__(&self) -> String {
        format!("<FormulaMicelles of {} surfactants>", self.0.dispersed.len())
    }

    /// The critical micelle concentration of the mixture, mmol/L.
    #[getter]
    fn cmc(&self) -> Outcome<f64> {
        Ok(self.0.mixture.cmc()?)
    }

    /// The surfactants and their first micelles on one page.
    #[getter]
    fn page(&self) -> Outcome<Page> {
        Ok(Page(self.0.mixture.page()?))
    }
}

#[pymethods]
impl Formula {
    /// The mixed micelles of the active matter of this formula at a `dilution` with water by mass: `cmcs` are the
    /// critical micelle concentrations in mmol/L of every substance of it that counts as active, by INCI name,
    /// `interactions` the parameters of pairs. By typical shares and molar masses; a litre of the dilution is taken as
    /// a kilogram. Concentrations for one temperature and salinity: the example's are invented.
    ///
    /// >>> bar = td.Formula("Bar", {"sci-powder": 60, "kaolin": 40}, td.Catalogue.starter())
    /// >>> bar.mixed_micelles("1+999", cmcs={"SODIUM COCOYL ISETHIONATE": 4}).concentration < 4
    /// True
    #[pyo3(signature = (dilution, *, cmcs, interactions=None))]
    fn mixed_micelles(&self, dilution: &str, cmcs: ByName, interactions: Option<Pairs>) -> Outcome<FormulaMicelles> {
        let given = cmcs.0.iter().map(|(name, cmc)| (name.as_str(), &cmc.0));
        let pairs = interactions
            .iter()
            .flatten()
            .map(|((first, second), parameter)| (first.as_str(), second.as_str(), &parameter.0));
        Ok(FormulaMicelles(self.0.mixed_micelles(dilution.parse()?, given, pairs)?))
    }
}
