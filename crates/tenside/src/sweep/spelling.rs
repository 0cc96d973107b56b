//! What a word means that names an axis.
//!
//! | spelling | what is varied |
//! |---|---|
//! | `wash.capb-30` | a part of split `wash` |
//! | `share.wash.capb-30` | its share of the split in percent, the others in proportion |
//! | `fix.panthenol` | a fixed line |
//! | `lowest.cetyl-alcohol`, `highest.cetyl-alcohol` | an end of a line's range |
//! | `target.active-matter`, `at-least.water`, `at-most.water` | what a requirement asks for: by its name if it has one, else by its measure |
//! | `price.sci-powder` | a price |
//! | `material.capb-30` | the raw material of a line |
//! | `moisture` | the residual moisture of every finished basis |
//!
//! The column of an axis is named by its spelling, behind `axis.`. A requirement without a name is spelt by the short
//! name of its measure where no other has it at that end, else by the measure's name and basis with hyphens; its full
//! name, which says the value too, names it as well.
//!
//! A bare word stands for whichever of the first, third, fourth and fifth kind it names, if it is one. A spelling that
//! names two things, such as the first of a split called `highest`, is refused.

use std::collections::HashMap;

use crate::brief::{Brief, Parameter, Requirement, Role};
use crate::document::{likeliest, unknown_name};
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Basis, Measure};

/// What an axis varies, before it has values.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Varied {
    /// One number.
    Parameter(Parameter),
    /// A member's share of its split.
    Share {
        /// The split's name.
        split: String,
        /// The member.
        line: String,
    },
    /// A split as a whole, which takes a lattice.
    Split(String),
    /// The residual moisture.
    Moisture,
    /// The raw material of a line.
    Material(String),
}

impl Varied {
    /// What a word names in a brief.
    ///
    /// ```
    /// use tenside::brief::{Brief, Parameter};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::sweep::Varied;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.fix("panthenol", 1)?.between("cetyl-alcohol", 3, 6)?.qs("kaolin")?;
    /// assert_eq!(Varied::named(&brief, "panthenol")?, Varied::Parameter(Parameter::Fixed("panthenol".into())));
    /// let error = Varied::named(&brief, "cetyl-alcohol").unwrap_err().to_string();
    /// assert!(error.contains("lowest.cetyl-alcohol") && error.contains("highest.cetyl-alcohol"));
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// A word that names nothing, or several things: then with the spellings of each, where these differ.
    pub fn named(brief: &Brief, word: &str) -> Result<Self, Error> {
        let every = spellings(brief);
        let mut spelt = every.iter().filter(|(spelling, _, _)| spelling == word).map(|(_, _, turned)| turned);
        if let Some(turned) = spelt.next() {
            if spelt.all(|other| other == turned) {
                return Ok(turned.clone());
            }
            return Err(several_things(word).remedy("give the split, line or requirement another name").into());
        }
        let found: Vec<_> = every.iter().filter(|(_, bare, _)| bare.iter().any(|bare| bare == word)).collect();
        match found.as_slice() {
            [(_, _, turned)] => Ok(turned.clone()),
            [] => {
                let near = every.iter().map(|(spelling, _, _)| spelling.as_str());
                Err(unknown_name("axis", word, near.clone()).allowed(likeliest(word, near)).into())
            }
            several => Err(several_things(word)
                .remedy(format!(
                    "write {}",
                    several.iter().map(|(spelling, _, _)| format!("{spelling:?}")).collect::<Vec<_>>().join(" or ")
                ))
                .into()),
        }
    }

    /// The value that a brief's requirements ask for of a measure.
    ///
    /// # Errors
    /// A measure that no requirement limits, and one with several limits: then with the spellings of each.
    pub fn of_measure(brief: &Brief, measure: &Measure) -> Result<Self, Error> {
        let parameters: Vec<(&str, Parameter)> =
            brief.requirements().iter().filter(|known| known.measure() == measure).flat_map(ends).collect();
        match parameters.as_slice() {
            [(_, parameter)] => Ok(Varied::Parameter(parameter.clone())),
            [] => Err(Fault::new(FaultKind::UnknownName, "no requirement limits the measure")
                .value(measure.name())
                .allowed(brief.requirements().iter().map(Requirement::name).collect::<Vec<_>>().join("; "))
                .remedy("add a requirement on it, with any value: the axis turns that value")
                .into()),
            several => Err(Fault::new(FaultKind::AmbiguousName, "several requirements limit the measure")
                .value(measure.name())
                .remedy(format!(
                    "write {}",
                    several
                        .iter()
                        .map(|(_, parameter)| format!("{:?}", Varied::Parameter(parameter.clone()).spelling()))
                        .collect::<Vec<_>>()
                        .join(" or ")
                ))
                .into()),
        }
    }

    /// The one number that it is.
    ///
    /// ```
    /// use tenside::brief::{Brief, Parameter};
    /// use tenside::catalogue::Catalogue;
    /// use tenside::sweep::Varied;
    /// let brief = Brief::new("Bar", &Catalogue::starter())?.fix("panthenol", 1)?.qs("kaolin")?;
    /// assert_eq!(Varied::named(&brief, "fix.panthenol")?.into_parameter()?, Parameter::Fixed("panthenol".into()));
    /// assert!(Varied::named(&brief, "moisture")?.into_parameter().is_err());
    /// # Ok::<(), tenside::Error>(())
    /// ```
    ///
    /// # Errors
    /// What is more than one number: a member's share, a split as a whole, the moisture of every basis, a raw material.
    pub fn into_parameter(self) -> Result<Parameter, Error> {
        match self {
            Varied::Parameter(parameter) => Ok(parameter),
            other => Err(Fault::new(FaultKind::Unsupported, "this stands for more than one number of the brief")
                .value(format!("{:?}", other.spelling()))
                .remedy("name a part, a fixed line, an end of a range, a requirement's value or a price, or sweep it")
                .into()),
        }
    }

    /// How it is written.
    #[must_use]
    pub fn spelling(&self) -> String {
        match self {
            Varied::Parameter(Parameter::Part { split, line }) => format!("{split}.{line}"),
            Varied::Parameter(Parameter::Fixed(line)) => format!("fix.{line}"),
            Varied::Parameter(Parameter::Lowest(line)) => format!("lowest.{line}"),
            Varied::Parameter(Parameter::Highest(line)) => format!("highest.{line}"),
            Varied::Parameter(Parameter::Target(name)) => format!("target.{name}"),
            Varied::Parameter(Parameter::AtLeast(name)) => format!("at-least.{name}"),
            Varied::Parameter(Parameter::AtMost(name)) => format!("at-most.{name}"),
            Varied::Parameter(Parameter::Price(material)) => format!("price.{material}"),
            Varied::Share { split, line } => format!("share.{split}.{line}"),
            Varied::Split(split) => split.clone(),
            Varied::Moisture => "moisture".to_string(),
            Varied::Material(line) => format!("material.{line}"),
        }
    }
}

fn several_things(word: &str) -> Fault {
    Fault::new(FaultKind::AmbiguousName, "the word could mean several things").value(format!("{word:?}"))
}

/// The ends of a requirement that can be turned.
fn ends(requirement: &Requirement) -> Vec<(&'static str, Parameter)> {
    let name = requirement.name();
    match (requirement.low(), requirement.high()) {
        (Some(low), Some(high)) if low == high => vec![("target", Parameter::Target(name))],
        (low, high) => {
            let low = low.map(|_| ("at-least", Parameter::AtLeast(name.clone())));
            low.into_iter().chain(high.map(|_| ("at-most", Parameter::AtMost(name.clone())))).collect()
        }
    }
}

/// Every spelling, the bare words that stand for it, and what it turns.
fn spellings(brief: &Brief) -> Vec<(String, Vec<String>, Varied)> {
    let mut every = Vec::new();
    let mut add = |turned: Varied, bare: Vec<String>| every.push((turned.spelling(), bare, turned));
    for split in brief.splits() {
        add(Varied::Split(split.name().to_string()), Vec::new());
        for (line, _) in split.parts() {
            let (split, line) = (split.name().to_string(), line.clone());
            add(Varied::Parameter(Parameter::Part { split: split.clone(), line: line.clone() }), vec![line.clone()]);
            add(Varied::Share { split, line }, Vec::new());
        }
    }
    for line in brief.lines() {
        let name = line.name().to_string();
        match line.role() {
            Role::Fixed(_) => add(Varied::Parameter(Parameter::Fixed(name.clone())), vec![name.clone()]),
            Role::Between(..) => {
                add(Varied::Parameter(Parameter::Lowest(name.clone())), vec![name.clone()]);
                add(Varied::Parameter(Parameter::Highest(name.clone())), vec![name.clone()]);
            }
            _ => {}
        }
        add(Varied::Material(name), Vec::new());
    }
    for (material, _) in brief.prices().into_iter().flat_map(|prices| prices.iter()) {
        add(Varied::Parameter(Parameter::Price(material.to_string())), Vec::new());
    }
    add(Varied::Moisture, Vec::new());
    let alike = Alike::of(brief);
    for requirement in brief.requirements() {
        let measure = requirement.measure();
        let slug = measure.slug();
        let words = vec![requirement.name(), measure.name(), slug.to_string(), slug.replace('-', "_")];
        for (end, parameter) in ends(requirement) {
            let spelling = format!("{end}.{}", alike.word_of(requirement, end));
            let full = format!("{end}.{}", requirement.name());
            let other = (full != spelling).then(|| (full, Vec::new(), Varied::Parameter(parameter.clone())));
            every.push((spelling, words.clone(), Varied::Parameter(parameter)));
            every.extend(other);
        }
    }
    every
}

/// How many requirements of a brief are called alike at an end, by the short names of their measures and by those with
/// their basis: counted once, since each of them is asked about.
#[derive(Default)]
struct Alike {
    short: HashMap<(&'static str, String), usize>,
    with_basis: HashMap<(&'static str, String), usize>,
}

impl Alike {
    fn of(brief: &Brief) -> Self {
        let mut alike = Alike::default();
        for requirement in brief.requirements() {
            for (end, _) in ends(requirement) {
                *alike.short.entry((end, requirement.measure().slug().to_string())).or_default() += 1;
                *alike.with_basis.entry((end, with_basis(requirement))).or_default() += 1;
            }
        }
        alike
    }

    /// What a requirement is called where one of its ends is an axis: its name, or its measure, since the value that
    /// its full name says is swept.
    fn word_of(&self, requirement: &Requirement, end: &'static str) -> String {
        if requirement.is_named() {
            return requirement.name();
        }
        let short = (end, requirement.measure().slug().to_string());
        let long = (end, with_basis(requirement));
        if self.short.get(&short) == Some(&1) {
            short.1
        } else if self.with_basis.get(&long) == Some(&1) {
            long.1
        } else {
            requirement.name()
        }
    }
}

/// The name of a requirement's measure and basis, with hyphens.
fn with_basis(requirement: &Requirement) -> String {
    let name = requirement.measure().name();
    let plain = match requirement.basis() {
        Basis::AsCharged => name,
        basis => format!("{name}, {basis}"),
    };
    plain.replace(", ", "-").replace(' ', "-")
}

/// How an axis over one number of a brief is spelt.
pub(super) fn spelling_of(brief: &Brief, parameter: &Parameter) -> String {
    let (Parameter::Target(name) | Parameter::AtLeast(name) | Parameter::AtMost(name)) = parameter else {
        return Varied::Parameter(parameter.clone()).spelling();
    };
    let known = brief.requirements().iter().find(|known| known.name() == *name);
    let ends = known.map_or_else(Vec::new, ends);
    match (known, ends.into_iter().find(|(_, known)| known == parameter)) {
        (Some(known), Some((end, _))) => format!("{end}.{}", Alike::of(brief).word_of(known, end)),
        _ => Varied::Parameter(parameter.clone()).spelling(),
    }
}
