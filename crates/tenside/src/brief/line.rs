//! A line of a brief.

use std::sync::Arc;

use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::formula::Purpose;
use crate::material::Material;
use crate::measure::LineView;
use crate::number::{Ppm, ToExact};

/// What a line's percentage may be.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum Role {
    /// Exactly this.
    Fixed(Ppm),
    /// From low to high.
    Between(Ppm, Ppm),
    /// Either nothing, or from the least to the greatest: a dose below the least is pointless.
    AbsentOrBetween(Ppm, Ppm),
    /// Anything.
    Free,
    /// Whatever fills to 100.
    Qs,
}

impl Role {
    /// From low to high.
    ///
    /// # Errors
    /// Percentages that are none, a low end above the high end.
    pub fn between(low: impl ToExact, high: impl ToExact) -> Result<Self, Error> {
        let (low, high) = (Ppm::from_percent(low)?, Ppm::from_percent(high)?);
        if low > high {
            return Err(Fault::new(FaultKind::Contradiction, "the lower end of a range is above its upper end")
                .value(format!("{low} to {high} %"))
                .allowed("low <= high")
                .into());
        }
        Ok(Role::Between(low, high))
    }

    /// Either nothing, or from the least to the greatest.
    ///
    /// # Errors
    /// Percentages that are none, a least above the greatest, a least of nothing (which is a plain range).
    pub fn absent_or_between(least: impl ToExact, greatest: impl ToExact) -> Result<Self, Error> {
        let (least, greatest) = (Ppm::from_percent(least)?, Ppm::from_percent(greatest)?);
        if least > greatest {
            return Err(Fault::new(FaultKind::Contradiction, "the least dose is above the greatest")
                .value(format!("{least} to {greatest} %"))
                .allowed("least <= greatest")
                .into());
        }
        if least.is_zero() {
            return Err(Fault::new(FaultKind::OutOfRange, "absent, or at least 0 %, is a plain range")
                .value(format!("{least} %"))
                .allowed("above 0 to 100 % w/w")
                .remedy("state the least dose, or give the line a range from 0")
                .into());
        }
        Ok(Role::AbsentOrBetween(least, greatest))
    }

    /// The lowest and highest percentage; for a line that may be absent, from 0.
    #[must_use]
    pub fn range(&self) -> (Ppm, Ppm) {
        match self {
            Role::Fixed(percent) => (*percent, *percent),
            Role::Between(low, high) => (*low, *high),
            Role::AbsentOrBetween(_, greatest) => (Ppm::ZERO, *greatest),
            Role::Free | Role::Qs => (Ppm::ZERO, Ppm::WHOLE),
        }
    }

    /// In words: `fixed at 1.5 %`.
    #[must_use]
    pub fn words(&self) -> String {
        match self {
            Role::Fixed(percent) => format!("fixed at {percent} %"),
            Role::Between(low, high) => format!("between {low} and {high} %"),
            Role::AbsentOrBetween(least, greatest) => format!("absent or between {least} and {greatest} %"),
            Role::Free => "free".to_string(),
            Role::Qs => "to 100 %".to_string(),
        }
    }
}

/// A raw material in a brief and what its percentage may be.
///
/// ```
/// use tenside::brief::{BriefLine, Role};
/// use tenside::catalogue::Catalogue;
/// let kaolin = Catalogue::starter().material("kaolin")?.clone();
/// let line = BriefLine::new("clay on top", kaolin, Role::Qs)?.in_phase("cool-down")?;
/// assert_eq!(line.phase(), "cool-down");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq)]
pub struct BriefLine(Arc<Contents>);

#[derive(Clone, Debug, PartialEq)]
struct Contents {
    name: String,
    material: Arc<Material>,
    phase: String,
    role: Role,
    groups: Vec<String>,
    purposes: Vec<Purpose>,
}

impl BriefLine {
    /// A line in the material's usual phase.
    ///
    /// # Errors
    /// A bad name.
    pub fn new(name: &str, material: Arc<Material>, role: Role) -> Result<Self, Error> {
        let phase = material.phase().to_string();
        Ok(BriefLine(Arc::new(Contents {
            name: check_name(name)?,
            material,
            phase,
            role,
            groups: Vec::new(),
            purposes: Vec::new(),
        })))
    }

    /// In another phase.
    ///
    /// # Errors
    /// A bad name.
    pub fn in_phase(mut self, phase: &str) -> Result<Self, Error> {
        self.change().phase = check_name(phase)?;
        Ok(self)
    }

    /// For these purposes, all that there are; none leaves them not stated.
    #[must_use]
    pub fn for_purposes(mut self, purposes: &[Purpose]) -> Self {
        let stated = &mut self.change().purposes;
        *stated = purposes.to_vec();
        stated.sort_unstable();
        stated.dedup();
        self
    }

    /// What it holds, to be changed: other briefs' lines stay as they are.
    fn change(&mut self) -> &mut Contents {
        Arc::make_mut(&mut self.0)
    }

    pub(super) fn join(&mut self, group: &str) {
        // In alphabetical order, so that it does not matter which was joined first.
        if let Err(place) = self.0.groups.binary_search_by(|known| known.as_str().cmp(group)) {
            self.change().groups.insert(place, group.to_string());
        }
    }

    pub(super) fn leave(&mut self, group: &str) {
        if let Ok(place) = self.0.groups.binary_search_by(|known| known.as_str().cmp(group)) {
            self.change().groups.remove(place);
        }
    }

    pub(super) fn set_phase(&mut self, phase: &str) {
        self.change().phase = phase.to_string();
    }

    pub(super) fn set_role(&mut self, role: Role) {
        self.change().role = role;
    }

    pub(super) fn set_material(&mut self, material: Arc<Material>) {
        self.change().material = material;
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.0.name
    }

    /// Its raw material, typical or a lot.
    #[must_use]
    pub fn material(&self) -> &Arc<Material> {
        &self.0.material
    }

    /// Its phase.
    #[must_use]
    pub fn phase(&self) -> &str {
        &self.0.phase
    }

    /// What its percentage may be.
    #[must_use]
    pub fn role(&self) -> &Role {
        &self.0.role
    }

    /// What it is there for, if that is stated.
    #[must_use]
    pub fn purposes(&self) -> &[Purpose] {
        &self.0.purposes
    }

    /// The groups it belongs to, splits included.
    #[must_use]
    pub fn groups(&self) -> &[String] {
        &self.0.groups
    }

    pub(crate) fn view(&self) -> LineView<'_> {
        LineView { name: &self.0.name, material: &self.0.material, phase: &self.0.phase, groups: &self.0.groups }
    }
}
