//! A line of a formula.

use std::sync::Arc;

use super::Purpose;
use crate::document::check_name;
use crate::error::Error;
use crate::material::Material;
use crate::number::{Ppm, ToExact};

/// A raw material at a percentage as supplied, in a phase. Its name is its own (by default the material's id), so that
/// a material can stand in two phases and two lots on two lines.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    name: String,
    material: Arc<Material>,
    phase: String,
    percent: Ppm,
    groups: Vec<String>,
    qs: bool,
    fixed: bool,
    purposes: Vec<Purpose>,
}

getters!(Line {
    /// Its name.
    name: &str,
    /// Its raw material, typical or a lot.
    material: &Arc<Material>,
    /// Its phase.
    phase: &str,
    /// Its percentage as supplied, as charged.
    percent: Ppm,
    /// The groups it belongs to.
    groups: &[String],
    /// What it is there for, if that is stated.
    purposes: &[Purpose],
});

impl Line {
    /// A line in the material's usual phase.
    ///
    /// # Errors
    /// A bad name, a percentage that is none.
    pub fn new(name: &str, material: Arc<Material>, percent: impl ToExact) -> Result<Self, Error> {
        let name = check_name(name)?;
        let percent = Ppm::from_percent(percent).map_err(|error| error.within(&format!("line {name:?}")))?;
        Ok(Line::of_checked(&name, &material, material.phase(), percent))
    }

    /// A line of what was checked where it comes from.
    pub(crate) fn of_checked(name: &str, material: &Arc<Material>, phase: &str, percent: Ppm) -> Self {
        Line {
            name: name.to_string(),
            material: Arc::clone(material),
            phase: phase.to_string(),
            percent,
            groups: Vec::new(),
            qs: false,
            fixed: false,
            purposes: Vec::new(),
        }
    }

    /// In another phase.
    ///
    /// # Errors
    /// A bad name.
    pub fn in_phase(mut self, phase: &str) -> Result<Self, Error> {
        self.phase = check_name(phase)?;
        Ok(self)
    }

    /// As a member of a named group of lines (a split, a blend of waxes).
    #[must_use]
    pub fn in_groups(mut self, groups: &[String]) -> Self {
        self.groups = groups.to_vec();
        self
    }

    /// As the line that fills to 100.
    #[must_use]
    pub fn as_qs(mut self, qs: bool) -> Self {
        self.qs = qs;
        self
    }

    /// As a line whose percentage the user fixed.
    #[must_use]
    pub fn as_fixed(mut self, fixed: bool) -> Self {
        self.fixed = fixed;
        self
    }

    /// For these purposes, all that there are; none leaves them not stated.
    #[must_use]
    pub fn for_purposes(mut self, purposes: &[Purpose]) -> Self {
        self.purposes = purposes.to_vec();
        self.purposes.sort_unstable();
        self.purposes.dedup();
        self
    }

    /// At another percentage.
    #[must_use]
    pub fn with_percent(mut self, percent: Ppm) -> Self {
        self.percent = percent;
        self
    }

    /// Of another lot of its raw material.
    #[must_use]
    pub(crate) fn of_material(mut self, material: Arc<Material>) -> Self {
        self.material = material;
        self
    }

    /// True for the line that fills to 100.
    #[must_use]
    pub fn is_qs(&self) -> bool {
        self.qs
    }

    /// True for a line whose percentage the user fixed.
    #[must_use]
    pub fn is_fixed(&self) -> bool {
        self.fixed
    }
}
