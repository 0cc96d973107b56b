//! What was done at the bench, as it was written down.

use std::sync::Arc;

use indexmap::IndexMap;

use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Lot, Material};
use crate::number::Mass;

/// What was really weighed and what happened to it. Whatever is not stated was done as planned.
///
/// ```
/// use tenside::batch::Actual;
/// let actual = Actual::new().weighed("sci-powder", "123.4 g".parse()?)?.boiled_off("2.5 g".parse()?)?.rejected("66 g".parse()?);
/// assert!(actual.clone().weighed("sci-powder", "1 g".parse()?).unwrap_err().is_duplicate());
/// assert!(actual.in_bowl("197 g".parse()?).unwrap_err().is_contradiction());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Actual {
    pub(super) weighed: IndexMap<String, Mass>,
    pub(super) lots: IndexMap<String, Arc<Lot>>,
    pub(super) added: Vec<Added>,
    pub(super) boiled_off: Option<Mass>,
    pub(super) in_bowl: Option<Mass>,
    pub(super) pressed: Option<Mass>,
    pub(super) trim: Option<Mass>,
    pub(super) trim_returned: Option<Mass>,
    pub(super) rejected: Option<Mass>,
}

/// What was added beyond the plan.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Added {
    pub(super) line: String,
    /// The raw material; `None` where it is that of a planned line.
    pub(super) material: Option<Arc<Material>>,
    pub(super) mass: Mass,
}

impl Actual {
    /// Everything as planned.
    #[must_use]
    pub fn new() -> Self {
        Actual::default()
    }

    /// What a line really weighed; 0 g where it was left out.
    ///
    /// # Errors
    /// A line weighed twice: more of it that went in later is an addition.
    pub fn weighed(mut self, line: &str, mass: Mass) -> Result<Self, Error> {
        if let Some(known) = self.weighed.insert(line.to_string(), mass) {
            return Err(Fault::new(FaultKind::Duplicate, "a line was weighed twice")
                .at(format!("line {line:?}"))
                .value(format!("{known} and {}", self.weighed[line]))
                .remedy("state its mass once; what went in later is an addition")
                .into());
        }
        Ok(self)
    }

    /// The lot that a line was really taken from.
    ///
    /// # Errors
    /// Two lots for one line.
    pub fn from_lot(mut self, line: &str, lot: &Arc<Lot>) -> Result<Self, Error> {
        if self.lots.insert(line.to_string(), Arc::clone(lot)).is_some() {
            return Err(Fault::new(FaultKind::Duplicate, "a line was taken from two lots")
                .at(format!("line {line:?}"))
                .remedy("state the second lot as an addition of its own")
                .into());
        }
        Ok(self)
    }

    /// More of a planned line, added later.
    ///
    /// # Errors
    /// A bad name.
    pub fn added(mut self, line: &str, mass: Mass) -> Result<Self, Error> {
        self.added.push(Added { line: check_name(line)?, material: None, mass });
        Ok(self)
    }

    /// A raw material that the plan does not have, added as a line of its own: acid, water, powder kneaded in, the
    /// wrong drum.
    ///
    /// # Errors
    /// A bad name.
    pub fn added_material(mut self, line: &str, material: &Arc<Material>, mass: Mass) -> Result<Self, Error> {
        self.added.push(Added { line: check_name(line)?, material: Some(Arc::clone(material)), mass });
        Ok(self)
    }

    /// The water that boiled off or dried away before pressing.
    ///
    /// # Errors
    /// The mass in the bowl was stated already, from which it follows.
    pub fn boiled_off(mut self, mass: Mass) -> Result<Self, Error> {
        self.boiled_off = Some(mass);
        self.water_said_once()
    }

    /// The net mass in the bowl before pressing: what it lacks of what went in is water that left.
    ///
    /// # Errors
    /// The water that left was stated already.
    pub fn in_bowl(mut self, mass: Mass) -> Result<Self, Error> {
        self.in_bowl = Some(mass);
        self.water_said_once()
    }

    fn water_said_once(self) -> Result<Self, Error> {
        if self.boiled_off.is_some() && self.in_bowl.is_some() {
            let fault = Fault::new(
                FaultKind::Contradiction,
                "the water that left is stated, and the mass in the bowl from which it follows",
            );
            return Err(fault.remedy("state one of them").into());
        }
        Ok(self)
    }

    /// What the bars weighed when they came out of the press, together.
    #[must_use]
    pub fn pressed(mut self, mass: Mass) -> Self {
        self.pressed = Some(mass);
        self
    }

    /// What was trimmed off, and what of that went back into the bowl to be pressed.
    ///
    /// # Errors
    /// More went back than was trimmed off.
    pub fn trimmed(mut self, off: Mass, returned: Mass) -> Result<Self, Error> {
        if returned > off {
            return Err(Fault::new(FaultKind::Contradiction, "more trim went back than was trimmed off")
                .value(&returned)
                .allowed(format!("0 g to {off}"))
                .remedy("weigh the trim before it goes back; trim of another batch is an addition")
                .into());
        }
        (self.trim, self.trim_returned) = (Some(off), Some(returned));
        Ok(self)
    }

    /// What was rejected.
    #[must_use]
    pub fn rejected(mut self, mass: Mass) -> Self {
        self.rejected = Some(mass);
        self
    }
}
