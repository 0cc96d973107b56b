//! Which lines a measure counts.

use std::fmt;

use super::LineView;
use crate::document::{check_name, unknown_name};
use crate::error::Error;

/// All lines, those of a phase or group, or named ones.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Scope {
    /// Every line.
    All,
    /// The lines of a phase.
    Phase(String),
    /// The lines of a group: a split or a named blend.
    Group(String),
    /// These lines.
    Lines(Vec<String>),
}

impl Scope {
    /// The lines of a phase.
    ///
    /// # Errors
    /// A bad name.
    pub fn phase(name: &str) -> Result<Self, Error> {
        Ok(Scope::Phase(check_name(name)?))
    }

    /// The lines of a group.
    ///
    /// # Errors
    /// A bad name.
    pub fn group(name: &str) -> Result<Self, Error> {
        Ok(Scope::Group(check_name(name)?))
    }

    /// These lines.
    ///
    /// # Errors
    /// A bad name.
    pub fn lines<'a>(names: impl IntoIterator<Item = &'a str>) -> Result<Self, Error> {
        Ok(Scope::Lines(names.into_iter().map(check_name).collect::<Result<_, _>>()?))
    }

    pub(crate) fn holds(&self, line: &LineView<'_>) -> bool {
        match self {
            Scope::All => true,
            Scope::Phase(name) => line.phase == name,
            Scope::Group(name) => line.groups.iter().any(|group| group == name),
            Scope::Lines(names) => names.iter().any(|name| name == line.name),
        }
    }

    /// Refuses a scope that names what is not there.
    pub(crate) fn check(&self, lines: &[LineView<'_>]) -> Result<(), Error> {
        match self {
            Scope::All => Ok(()),
            Scope::Phase(name) if !lines.iter().any(|line| line.phase == name) => {
                Err(unknown_name("phase", name, lines.iter().map(|line| line.phase)).into())
            }
            Scope::Group(name) if !lines.iter().any(|line| self.holds(line)) => {
                Err(unknown_name("group", name, lines.iter().flat_map(|line| line.groups.iter().map(String::as_str)))
                    .into())
            }
            Scope::Lines(names) => match names.iter().find(|name| !lines.iter().any(|line| line.name == name.as_str()))
            {
                Some(name) => Err(unknown_name("line", name, lines.iter().map(|line| line.name)).into()),
                None => Ok(()),
            },
            _ => Ok(()),
        }
    }
}

impl fmt::Display for Scope {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Scope::All => formatter.write_str("all lines"),
            Scope::Phase(name) => write!(formatter, "phase {name}"),
            Scope::Group(name) => write!(formatter, "group {name}"),
            Scope::Lines(names) if names.len() == 1 => write!(formatter, "line {}", names[0]),
            Scope::Lines(names) => write!(formatter, "lines {}", names.join(", ")),
        }
    }
}
