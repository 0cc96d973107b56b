//! A user's own score for raw materials: a feel, a supplier rating, a carbon figure.

use std::hash::{Hash, Hasher};
use std::sync::Arc;

use indexmap::IndexMap;
use rust_decimal::Decimal;

use crate::bounds::Quantity;
use crate::document::check_name;
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Composition, Material};
use crate::number::{Exact, ToExact};

/// Scores by material id; a raw material without a score counts the default, and without one makes the sum unknown.
///
/// ```
/// use rust_decimal::Decimal;
/// use tenside::measure::{Measure, ScoreTable};
/// let table = ScoreTable::new("slip", [("kaolin", 3)])?;
/// assert_eq!(Measure::score(table.clone()).name(), "score slip");
/// assert_eq!(table.with_default(0)?.default(), Some(Decimal::ZERO));
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ScoreTable {
    name: String,
    scores: Arc<IndexMap<String, Decimal>>,
    default: Option<Decimal>,
}

impl Hash for ScoreTable {
    /// By its name: few tables of one name are about.
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.name.hash(state);
    }
}

getters!(ScoreTable {
    /// The score of raw materials without one of their own, if stated.
    default: Option<Decimal>,
    /// Its name.
    name: &str,
});

impl ScoreTable {
    /// A named table.
    ///
    /// # Errors
    /// A bad name, scores out of range, a material scored twice.
    pub fn new<N: AsRef<str>, S: ToExact>(name: &str, scores: impl IntoIterator<Item = (N, S)>) -> Result<Self, Error> {
        let mut table = IndexMap::new();
        for (id, score) in scores {
            let id = id.as_ref();
            let score = Quantity::Score.decimal(score).map_err(|error| error.within(&format!("score of {id:?}")))?;
            if table.insert(id.to_string(), score).is_some() {
                return Err(Fault::new(FaultKind::Duplicate, "a material is scored twice")
                    .value(format!("{id:?}"))
                    .into());
            }
        }
        Ok(ScoreTable { name: check_name(name)?, scores: Arc::new(table), default: None })
    }

    /// With a score for every raw material that has none of its own; of a premix without one, for its parts.
    ///
    /// # Errors
    /// A score out of range.
    pub fn with_default(mut self, default: impl ToExact) -> Result<Self, Error> {
        self.default = Some(Quantity::Score.decimal(default).map_err(|error| error.within("default score"))?);
        Ok(self)
    }

    /// Every score, in the order given.
    pub fn iter(&self) -> impl Iterator<Item = (&str, Decimal)> {
        self.scores.iter().map(|(id, score)| (id.as_str(), *score))
    }

    pub(super) fn weight(&self, material: &Material) -> Result<Exact, Error> {
        let missing = |material: &Material| {
            Fault::new(FaultKind::NotKnown, format!("the score {:?} has no value for it", self.name))
                .value(format!("{:?}", material.id()))
                .remedy("add one, or state a default")
                .into()
        };
        let stated = |material: &Material| {
            let default = || self.default.filter(|_| !matches!(material.composition(), Composition::Premix(_)));
            self.scores.get(material.id()).copied().or_else(default).map(Exact::from)
        };
        material.stated_or_of_parts(stated, missing)
    }
}
