//! How a batch is worked: steps in order, each with what to watch.
//!
//! # Why
//! - Steps are data: the usual ones by product form and phase (`data/batch/steps.toml`), to be replaced, left out and
//!   put in another order by whoever makes the product. A step belongs to a phase or to all of it; steps of phases that
//!   a formula does not have are left out, and a phase for which there is no usual step gets one that says only that it
//!   is added.
//! - Lye and what else gets hot in water has a step of its own before that of its phase, in cold water, and the step of
//!   a phase names what is corrosive in it: a step is read where the bottle is opened.
//! - Times and temperatures are guides, never requirements: nothing is judged by them.

#![expect(clippy::disallowed_types, reason = "embedded data, read once")]

mod document;

use std::sync::LazyLock;

pub(super) use document::{StepDocument, read_step};
use rust_decimal::Decimal;

use crate::bounds::Quantity;
use crate::document::{Notation, Reader, TableView, check_prose, named_enum};
use crate::error::{Error, Fault, FaultKind};
use crate::formula::{Formula, Phase};
use crate::material::{Caution, Material};
use crate::number::{Exact, ToExact};
use crate::rule::ProductForm;

named_enum! {
    /// What is done in a step.
    StepKind "kind of step" {
        /// Melt.
        Melt = "melt",
        /// Blend dry.
        BlendDry = "blend-dry",
        /// Wet with the liquids.
        Wet = "wet",
        /// Dissolve.
        Dissolve = "dissolve",
        /// Disperse.
        Disperse = "disperse",
        /// Knead.
        Knead = "knead",
        /// Add to what is there.
        Add = "add",
        /// Read and set the pH.
        SetPh = "set-ph",
        /// Let it rest.
        Rest = "rest",
        /// Press.
        Press = "press",
        /// Fill.
        Fill = "fill",
        /// Chill.
        Chill = "chill",
        /// Let it set.
        Set = "set",
        /// Dry.
        Dry = "dry",
        /// Cure.
        Cure = "cure",
        /// Weigh again.
        WeighAgain = "weigh-again",
    }
}

/// A step.
///
/// ```
/// use tenside::batch::{Step, StepKind};
/// let step = Step::new(StepKind::Rest, "Let it rest under a cloth.")?.for_minutes(20)?.checked_by("no skin on it")?;
/// assert_eq!(step.sentence(), "Let it rest under a cloth. (20 min)");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct Step {
    kind: StepKind,
    words: String,
    phase: Option<String>,
    temperature: Option<Decimal>,
    minutes: Option<Decimal>,
    caution: Option<String>,
    check: Option<String>,
}

getters!(Step {
    /// What is done.
    kind: StepKind,
    /// In words.
    words: &str,
    /// The temperature of the mass in °C.
    temperature: Option<Decimal>,
    /// The minutes that it usually takes.
    minutes: Option<Decimal>,
});

impl Step {
    /// A step in words.
    ///
    /// # Errors
    /// Words that are none.
    pub fn new(kind: StepKind, words: &str) -> Result<Self, Error> {
        Ok(Step {
            kind,
            words: check_prose(words)?,
            phase: None,
            temperature: None,
            minutes: None,
            caution: None,
            check: None,
        })
    }

    /// Belonging to a phase.
    #[must_use]
    pub fn of_phase(mut self, phase: &str) -> Self {
        self.phase = Some(phase.to_string());
        self
    }

    /// With the temperature of the mass in °C.
    ///
    /// # Errors
    /// A temperature out of range.
    pub fn at(mut self, temperature: impl ToExact) -> Result<Self, Error> {
        self.temperature = Some(Quantity::Temperature.decimal(temperature)?);
        Ok(self)
    }

    /// With the minutes that it usually takes.
    ///
    /// # Errors
    /// A time out of range.
    pub fn for_minutes(mut self, minutes: impl ToExact) -> Result<Self, Error> {
        self.minutes = Some(Quantity::StepTime.decimal(minutes)?);
        Ok(self)
    }

    /// With a caution.
    ///
    /// # Errors
    /// Words that are none.
    pub fn with_caution(mut self, caution: &str) -> Result<Self, Error> {
        self.caution = Some(check_prose(caution)?);
        Ok(self)
    }

    /// With what is looked at before the next step.
    ///
    /// # Errors
    /// Words that are none.
    pub fn checked_by(mut self, check: &str) -> Result<Self, Error> {
        self.check = Some(check_prose(check)?);
        Ok(self)
    }

    /// The phase that it belongs to; `None` where it is all of the batch.
    #[must_use]
    pub fn phase(&self) -> Option<&str> {
        self.phase.as_deref()
    }

    /// Its caution.
    #[must_use]
    pub fn caution(&self) -> Option<&str> {
        self.caution.as_deref()
    }

    /// What is looked at before the next step.
    #[must_use]
    pub fn check(&self) -> Option<&str> {
        self.check.as_deref()
    }

    /// Words with temperature and time.
    #[must_use]
    pub fn sentence(&self) -> String {
        let temperature = self.temperature.map(|temperature| format!("{} °C", temperature.normalize()));
        let facts: Vec<String> = temperature.into_iter().chain(self.minutes.map(time)).collect();
        if facts.is_empty() { self.words.clone() } else { format!("{} ({})", self.words, facts.join(", ")) }
    }
}

/// Minutes as people say them.
fn time(minutes: Decimal) -> String {
    let (hour, day) = (Decimal::from(60), Decimal::from(1440));
    let whole = |unit: Decimal| minutes >= unit + unit && (minutes % unit).is_zero();
    match () {
        () if whole(day) => format!("{} days", (minutes / day).normalize()),
        () if minutes == day => "a day".to_string(),
        () if whole(hour) => format!("{} h", (minutes / hour).normalize()),
        () => format!("{} min", minutes.normalize()),
    }
}

/// A usual step, and the product form that it belongs to.
struct Usual {
    form: ProductForm,
    step: Step,
    /// What it says where lye is in its phase.
    beside_lye: Option<String>,
}

struct UsualSteps {
    steps: Vec<Usual>,
    /// What goes before the step of a phase with something in it that gets hot in water.
    hot_in_water: Vec<Step>,
}

static USUAL: LazyLock<UsualSteps> = LazyLock::new(|| {
    // The embedded file is read by a test; a fault there is a fault of the build.
    Reader::read(include_str!("../../../data/batch/steps.toml"), Notation::Toml, read_usual)
        .unwrap_or_else(|error| panic!("steps.toml: {error}"))
});

fn read_usual(view: &TableView<'_>) -> Option<UsualSteps> {
    view.version("batch-steps/1");
    view.needed("source", |view| view.prose("source"))?;
    let hot_in_water = view.tables("hot_in_water", read_step);
    let steps = view.tables("step", |view| {
        let form = view.needed("form", |view| view.choice("form"))?;
        Some(Usual { form, beside_lye: view.prose("beside_lye"), step: read_step(view)? })
    });
    Some(UsualSteps { steps, hot_in_water })
}

/// The steps of a phase: the one given, with what is corrosive in it named, behind that of what gets hot in water.
fn of_phase(formula: &Formula, phase: &Phase, step: Step, beside_lye: Option<&str>) -> Vec<Step> {
    let names = |concerns: &dyn Fn(&Material) -> bool| -> Vec<&str> {
        let lines = formula.lines().iter().filter(|line| line.phase() == phase.name() && !line.percent().is_zero());
        lines.map(|line| &**line.material()).filter(|material| concerns(material)).map(Material::name).collect()
    };
    let hot = names(&Material::heats_in_water);
    let corrosive = names(&|material: &Material| material.is_corrosive() && !material.heats_in_water());
    let mut last = Step { temperature: phase.temperature().or(step.temperature), ..step };
    if !corrosive.is_empty() {
        let own = last.caution.map(|caution| format!("{caution} ")).unwrap_or_default();
        let advice = Caution::Corrosive.advice();
        last.caution = Some(format!("{own}Corrosive, {}: {advice}.", corrosive.join("; ")));
    }
    if hot.is_empty() {
        return vec![last];
    }
    if let Some(words) = beside_lye {
        last = Step { words: words.to_string(), temperature: None, ..last };
    }
    let before = USUAL.hot_in_water.iter().map(|step| Step {
        words: format!("{} ({})", step.words, hot.join("; ")),
        phase: Some(phase.name().to_string()),
        ..step.clone()
    });
    before.chain([last]).collect()
}

/// The usual steps of making a formula as a solid or liquid product.
///
/// ```
/// use tenside::batch::{StepKind, usual_steps};
/// use tenside::catalogue::Catalogue;
/// use tenside::formula::{Formula, Line};
/// use tenside::number::Ppm;
/// use tenside::rule::ProductForm;
/// let line = |id: &str, percent: &str| Line::new(id, Catalogue::starter().material(id)?.clone(), Ppm::from_percent(percent)?);
/// let bar = Formula::new("Bar", vec![line("sci-powder", "80")?, line("kaolin", "15")?, line("sunflower-oil", "5")?.in_phase("rubbed in")?])?;
/// let steps = usual_steps(&bar, ProductForm::Solid);
/// assert!(steps.iter().any(|step| step.kind() == StepKind::Press));
/// assert!(steps.iter().all(|step| step.phase() != Some("liquid")), "it has no liquid phase");
/// assert!(steps.iter().any(|step| step.phase() == Some("rubbed in") && step.kind() == StepKind::Add));
/// # Ok::<(), tenside::Error>(())
/// ```
#[must_use]
pub fn usual_steps(formula: &Formula, form: ProductForm) -> Vec<Step> {
    let phase = |name: &str| formula.phases().iter().find(|phase| phase.name() == name);
    let usual = USUAL.steps.iter().filter(|usual| usual.form == form);
    let mut steps: Vec<Step> = Vec::new();
    for Usual { step, beside_lye, .. } in usual.clone() {
        match step.phase() {
            None => steps.push(step.clone()),
            Some(name) => {
                let of = |phase| of_phase(formula, phase, step.clone(), beside_lye.as_deref());
                steps.extend(phase(name).into_iter().flat_map(of));
            }
        }
    }
    // A phase without a usual step goes in before all of it is worked together, in the order of the phases.
    let place = steps.iter().position(|step| step.phase().is_none()).unwrap_or(steps.len());
    let is_usual = |phase: &&Phase| usual.clone().any(|usual| usual.step.phase() == Some(phase.name()));
    let others = formula.phases().iter().filter(|phase| !is_usual(phase));
    let added = others.flat_map(|phase| {
        let step = Step {
            kind: StepKind::Add,
            words: format!("Add the phase {:?}.", phase.name()),
            phase: Some(phase.name().to_string()),
            temperature: None,
            minutes: None,
            caution: None,
            check: None,
        };
        of_phase(formula, phase, step, None)
    });
    steps.splice(place..place, added.collect::<Vec<_>>());
    steps
}

/// Refuses steps of phases that a formula does not have.
pub(super) fn check_steps(formula: &Formula, steps: &[Step]) -> Result<(), Error> {
    few(steps.len()).map_err(|error| error.within("steps"))?;
    let names = || formula.phases().iter().map(Phase::name);
    let unknown = steps
        .iter()
        .enumerate()
        .filter_map(|(place, step)| Some((place, step.phase().filter(|phase| !names().any(|name| name == *phase))?)));
    let mut faults: Vec<Fault> = unknown
        .map(|(place, phase)| crate::document::unknown_name("phase", phase, names()).at(format!("step {}", place + 1)))
        .collect();
    if steps.is_empty() {
        faults.push(
            Fault::new(FaultKind::Missing, "a method without steps")
                .remedy("leave the method out, or take the usual steps"),
        );
    }
    Error::check(faults, ())
}

/// Refuses more than a record lists.
pub(super) fn few(count: usize) -> Result<(), Error> {
    Quantity::RecordEntries.check(&Exact::from(u32::try_from(count).unwrap_or(u32::MAX)))
}
