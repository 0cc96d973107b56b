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
            several => {
                Err(several_things(word).remedy(one_of(several.iter().map(|(spelling, _, _)| spelling.clone()))).into())
            }
        }
    }

    /// The value that a brief's requirements ask for of a measure.
    ///
    /// # Errors
    /// A measure that no requirement limits, and one with several limits: then with the spellings of each.
    pub fn of_measure(brief: &Brief, measure: &Measure) -> Result<Self, Error> {
        let limits: Vec<Varied> = ends(brief)
            .filter(|(known, _)| known.measure() == measure)
            .map(|(known, end)| turning(known, end))
            .collect();
        match limits.as_slice() {
            [varied] => Ok(varied.clone()),
            [] => Err(Fault::new(FaultKind::UnknownName, "no requirement limits the measure")
                .value(measure.name())
                .allowed(brief.requirements().iter().map(Requirement::name).collect::<Vec<_>>().join("; "))
                .remedy("add a requirement on it, with any value: the axis turns that value")
                .into()),
            several => Err(Fault::new(FaultKind::AmbiguousName, "several requirements limit the measure")
                .value(measure.name())
                .remedy(one_of(several.iter().map(Varied::spelling)))
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
            other => Err(other
                .unsupported("this stands for more than one number of the brief")
                .remedy("name a part, a fixed line, an end of a range, a requirement's value or a price, or sweep it")
                .into()),
        }
    }

    /// The fault of what cannot be asked of it.
    pub(super) fn unsupported(&self, message: &str) -> Fault {
        Fault::new(FaultKind::Unsupported, message).value(format!("{:?}", self.spelling()))
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

/// Which words to choose from.
fn one_of(spellings: impl Iterator<Item = String>) -> String {
    format!("write {}", spellings.map(|spelling| format!("{spelling:?}")).collect::<Vec<_>>().join(" or "))
}

fn several_things(word: &str) -> Fault {
    Fault::new(FaultKind::AmbiguousName, "the word could mean several things").value(format!("{word:?}"))
}

/// A number that can be turned, by the name of its line or requirement.
type End = fn(String) -> Parameter;

/// The requirements of a brief, each with every end that can be turned.
fn ends(brief: &Brief) -> impl Iterator<Item = (&Requirement, End)> {
    brief.requirements().iter().flat_map(|known| {
        let (low, high) = (known.low(), known.high());
        let is_one = low.is_some() && low == high;
        let ends: [(End, bool); 3] = [
            (Parameter::Target, is_one),
            (Parameter::AtLeast, low.is_some() && !is_one),
            (Parameter::AtMost, high.is_some() && !is_one),
        ];
        ends.into_iter().filter(|(_, is_there)| *is_there).map(move |(end, _)| (known, end))
    })
}

fn turning(requirement: &Requirement, end: End) -> Varied {
    Varied::Parameter(end(requirement.name()))
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
        let ends: &[End] = match line.role() {
            Role::Fixed(_) => &[Parameter::Fixed],
            Role::Between(..) => &[Parameter::Lowest, Parameter::Highest],
            _ => &[],
        };
        for end in ends {
            add(Varied::Parameter(end(name.clone())), vec![name.clone()]);
        }
        add(Varied::Material(name), Vec::new());
    }
    for (material, _) in brief.prices().into_iter().flat_map(|prices| prices.iter()) {
        add(Varied::Parameter(Parameter::Price(material.to_string())), Vec::new());
    }
    add(Varied::Moisture, Vec::new());
    // How many ends are spelt alike.
    let mut alike: HashMap<(usize, String), usize> = HashMap::new();
    for short in ends(brief).flat_map(|(requirement, end)| short_spellings(requirement, end)) {
        *alike.entry(short).or_default() += 1;
    }
    for (requirement, end) in ends(brief) {
        let measure = requirement.measure();
        let slug = measure.slug();
        let words = vec![requirement.name(), measure.name(), slug.to_string(), slug.replace('-', "_")];
        let turned = turning(requirement, end);
        let full = turned.spelling();
        // By its name, or by its measure, since the value that its full name says is swept.
        let short = short_spellings(requirement, end).find(|short| !requirement.is_named() && alike[short] == 1);
        let spelling = short.map_or_else(|| full.clone(), |(_, spelling)| spelling);
        let other = (full != spelling).then(|| (full, Vec::new(), turned.clone()));
        every.push((spelling, words, turned));
        every.extend(other);
    }
    every
}

/// The spellings by the short name of a requirement's measure, and by its measure and basis with hyphens.
fn short_spellings(requirement: &Requirement, end: End) -> impl Iterator<Item = (usize, String)> {
    let measure = requirement.measure();
    let name = match requirement.basis() {
        Basis::AsCharged => measure.name(),
        basis => format!("{}, {basis}", measure.name()),
    };
    let words = [measure.slug().to_string(), name.replace(", ", "-").replace(' ', "-")];
    words.into_iter().map(move |word| Varied::Parameter(end(word)).spelling()).enumerate()
}

/// How an axis of a brief is spelt.
pub(super) fn spelling_of(brief: &Brief, varied: &Varied) -> String {
    let known = spellings(brief).into_iter().find(|(_, _, turned)| turned == varied);
    known.map_or_else(|| varied.spelling(), |(spelling, ..)| spelling)
}
