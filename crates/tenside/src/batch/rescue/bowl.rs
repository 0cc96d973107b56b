//! What is in the bowl, and what there is to mend it with.

use std::sync::Arc;

use indexmap::IndexMap;

use super::super::Made;
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::material::Material;
use crate::number::Mass;

/// What is in the bowl, mixed, so that nothing can be taken out of it again. What was weighed but stands beside the
/// bowl is not in it.
///
/// ```
/// use tenside::batch::Bowl;
/// let bowl = Bowl::new().with("sci-powder", "132 g".parse()?)?.with("kaolin", "50 g".parse()?)?;
/// assert!(bowl.with("kaolin", "1 g".parse()?).unwrap_err().is_duplicate());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Bowl {
    pub(super) lines: Vec<InBowl>,
}

/// A line in the bowl.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct InBowl {
    pub(super) line: String,
    /// The raw material or lot; `None` where it is that of the line of this name.
    pub(super) material: Option<Arc<Material>>,
    pub(super) mass: Mass,
}

impl Bowl {
    /// An empty bowl.
    #[must_use]
    pub fn new() -> Self {
        Bowl::default()
    }

    /// With so much of a line.
    ///
    /// # Errors
    /// A bad name, and a line that is in it already.
    pub fn with(self, line: &str, mass: Mass) -> Result<Self, Error> {
        self.joined(line, None, mass)
    }

    /// With so much of a raw material under a name of its own: the wrong drum, or a lot that the line does not have.
    ///
    /// # Errors
    /// As [`Bowl::with`].
    pub fn with_material(self, line: &str, material: &Arc<Material>, mass: Mass) -> Result<Self, Error> {
        self.joined(line, Some(Arc::clone(material)), mass)
    }

    fn joined(mut self, line: &str, material: Option<Arc<Material>>, mass: Mass) -> Result<Self, Error> {
        if self.lines.iter().any(|known| known.line == line) {
            let fault = Fault::new(FaultKind::Duplicate, "a line is in the bowl twice").at(format!("line {line:?}"));
            return Err(fault.remedy("state its whole mass once; of two lots, one under a name of its own").into());
        }
        self.lines.push(InBowl { line: check_name(line)?, material, mass });
        Ok(self)
    }
}

impl Made {
    /// What was made, as a bowl: everything in it, mixed.
    #[must_use]
    pub fn bowl(&self) -> Bowl {
        let lines = self.lines().iter().filter(|line| !line.mass().grams().is_zero());
        let in_bowl = |line: &super::super::MadeLine| InBowl {
            line: line.line().name().to_string(),
            material: Some(Arc::clone(line.line().material())),
            mass: line.mass().clone(),
        };
        Bowl { lines: lines.map(in_bowl).collect() }
    }
}

/// What there is to mend a bowl with.
///
/// ```
/// use tenside::batch::Means;
/// let means = Means::new().at_most("400 g".parse()?).stock("kaolin", "50 g".parse()?)?.on_a_scale_of("0.1 g".parse()?);
/// assert!(means.stock("kaolin", "20 g".parse()?).unwrap_err().is_duplicate());
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Means {
    pub(super) most: Option<Mass>,
    pub(super) stock: IndexMap<String, Mass>,
    pub(super) division: Option<Mass>,
}

impl Means {
    /// A bowl and a stock without end.
    #[must_use]
    pub fn new() -> Self {
        Means::default()
    }

    /// With what the bowl can hold.
    #[must_use]
    pub fn at_most(mut self, mass: Mass) -> Self {
        self.most = Some(mass);
        self
    }

    /// With what is left of a raw material, by the name of its line.
    ///
    /// # Errors
    /// A line stated twice.
    pub fn stock(mut self, line: &str, left: Mass) -> Result<Self, Error> {
        if self.stock.insert(line.to_string(), left).is_some() {
            return Err(Fault::new(FaultKind::Duplicate, "what is left of a line is stated twice")
                .at(format!("line {line:?}"))
                .into());
        }
        Ok(self)
    }

    /// With the division of the scale that additions are weighed on, to which they are rounded.
    #[must_use]
    pub fn on_a_scale_of(mut self, division: Mass) -> Self {
        self.division = Some(division);
        self
    }
}
