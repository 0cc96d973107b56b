//! A sum of several substances, each by a factor of its own: a preservative and its salts counted as the acid, the
//! members of a group that a law limits together, everything that smells.
//!
//! `sum f_i s_i` over ingredients and over what is contained in them. A factor is stated, or follows from molar masses:
//! a substance of molar mass `M` that holds `n` molecules of an acid of molar mass `A` counts `n A / M`. `M` is that of
//! the substance in the catalogue, so that a hydrate described with its own molar mass counts less; where the catalogue
//! states none, it is the one stated in the sum. A class counts ingredients only: what an essential oil contains is
//! counted with the oil. A substance that is named counts as it is named, whatever its class. What a raw material could
//! hold of them without naming them is told by its [`Material`], as for one substance; of several together an
//! ingredient holds itself at most, times the greatest factor among them.

use std::collections::HashMap;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

use rust_decimal::Decimal;

use super::{Weight, charge, names_water};
use crate::bounds::Quantity;
use crate::document::{check_name, fold};
use crate::error::{Error, Fault, FaultKind};
use crate::material::{Constituent, Contained, Footing, Kind, Material, Unnamed};
use crate::number::{Exact, Ppm, ToExact};
use crate::substance::{Class, Substance, SubstanceTable};

/// What a member of a sum is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SumMember {
    /// One substance, by INCI name.
    Substance(String),
    /// Every ingredient of a class.
    Class(Class),
}

/// What a member of a sum counts.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum SumFactor {
    /// So many parts for one part.
    Parts(Exact),
    /// The substance that it counts as.
    As {
        /// Molar mass in g/mol of what it counts as.
        counted: Decimal,
        /// How many molecules of that one molecule holds.
        molecules: u32,
        /// Its own molar mass in g/mol, for catalogues that state none.
        own: Option<Decimal>,
    },
}

/// A named sum of substances.
///
/// ```
/// use rust_decimal::Decimal;
/// use tenside::measure::{Measure, SubstanceSum, SumFactor, SumMember};
/// use tenside::number::Exact;
/// let salt = SumFactor::As { counted: Decimal::new(122_122, 3), molecules: 1, own: Some(Decimal::new(144_103, 3)) };
/// let acid = SumFactor::Parts(Exact::ONE);
/// let name = |name: &str| SumMember::Substance(name.to_string());
/// let sum = SubstanceSum::new("benzoic acid", vec![(name("BENZOIC ACID"), acid), (name("SODIUM BENZOATE"), salt)])?;
/// assert_eq!(sum.most("SODIUM BENZOATE", 2.5)?.unwrap().to_string(), "2.9499");
/// assert_eq!(Measure::substance_sum(sum).name(), "benzoic acid");
/// # Ok::<(), tenside::Error>(())
/// ```
#[derive(Clone, Debug)]
pub struct SubstanceSum {
    name: String,
    members: Arc<Vec<(SumMember, SumFactor)>>,
    by_name: Arc<HashMap<String, usize>>,
    /// The substances among the members that the embedded table knows, by their places.
    known: Arc<Vec<Option<Arc<Substance>>>>,
}

/// A sum whose members are known.
#[derive(Clone, PartialEq)]
pub(crate) struct ResolvedSum {
    sum: SubstanceSum,
    /// Members that the embedded table does not know, by their places.
    others: Vec<(usize, Arc<Substance>)>,
}

impl PartialEq for SubstanceSum {
    fn eq(&self, other: &Self) -> bool {
        self.name == other.name && (Arc::ptr_eq(&self.members, &other.members) || self.members == other.members)
    }
}

impl Eq for SubstanceSum {}

impl Hash for SubstanceSum {
    /// By its name: few sums of one name are about.
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.name.hash(state);
    }
}

impl Eq for ResolvedSum {}

impl Hash for ResolvedSum {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.sum.hash(state);
    }
}

getters!(SubstanceSum {
    /// Its name.
    name: &str,
    /// Its members, in the order given, classes last.
    members: &[(SumMember, SumFactor)],
});

impl SubstanceSum {
    /// A named sum; its classes are put after its substances.
    ///
    /// # Errors
    /// A bad name, no member, a member that stands twice, factors and molar masses out of range.
    pub fn new(name: &str, mut members: Vec<(SumMember, SumFactor)>) -> Result<Self, Error> {
        let name = check_name(name)?;
        members.sort_by_key(|(member, _)| matches!(member, SumMember::Class(_)));
        let mut by_name = HashMap::with_capacity(members.len());
        let mut faults = Vec::new();
        for (index, (member, factor)) in members.iter().enumerate() {
            let key = match member {
                SumMember::Substance(inci) => fold(&check_name(inci)?),
                SumMember::Class(class) => class_key(*class),
            };
            if by_name.insert(key, index).is_some() {
                faults.push(
                    Fault::new(FaultKind::Duplicate, "a member of a sum occurs twice")
                        .value(member.shown())
                        .remedy("keep one of the two"),
                );
            }
            factor.check()?;
        }
        if members.is_empty() {
            faults.push(Fault::new(FaultKind::Missing, "a sum without members").value(format!("{name:?}")));
        }
        let table = SubstanceTable::starter();
        let known = members
            .iter()
            .map(|(member, _)| if let SumMember::Substance(inci) = member { table.find(inci).cloned() } else { None });
        let known = Arc::new(known.collect());
        Error::check(faults, SubstanceSum { name, members: Arc::new(members), by_name: Arc::new(by_name), known })
    }

    /// The most of a member, in percent, that keeps the sum at or below `limit` if nothing else counts: rounded down to
    /// the grid, since rounded to the nearest it could lie above. Nothing for what is no member or counts nothing, and
    /// where the whole is not too much.
    ///
    /// # Errors
    /// A limit that is no number.
    pub fn most(&self, inci: &str, limit: impl ToExact) -> Result<Option<Ppm>, Error> {
        let limit = limit.to_exact()?;
        let factor = self.by_name.get(&fold(inci)).and_then(|place| self.members[*place].1.by_own());
        let most = factor.and_then(|factor| limit.checked_div(&factor));
        Ok(most.and_then(|most| Ppm::from_percent(most.floor_to(&Exact::ratio(1, 10_000))).ok()))
    }

    /// Whether it counts an ingredient of that substance.
    pub(crate) fn counts(&self, substance: &Substance) -> bool {
        let by_class = || Some(&self.members[*self.by_name.get(&class_key(substance.class()))?].1);
        self.factor_of(substance).or_else(by_class).is_some_and(|factor| !factor.is_nothing())
    }

    fn factor_of(&self, substance: &Substance) -> Option<&SumFactor> {
        let place = self.by_name.get(&fold(substance.inci())).copied().or_else(|| {
            let is_own = !substance.cas().is_empty() && !substance.is_embedded();
            let is_same =
                |known: &Option<Arc<Substance>>| known.as_ref().is_some_and(|known| known.is_same_as(substance));
            if is_own { self.known.iter().position(is_same) } else { None }
        });
        Some(&self.members[place?].1)
    }

    /// With every member known.
    pub(in crate::measure) fn resolved(
        &self,
        look_up: impl Fn(&str) -> Result<Arc<Substance>, Error>,
    ) -> Result<ResolvedSum, Error> {
        let mut others = Vec::new();
        for (place, ((member, _), known)) in self.members.iter().zip(self.known.iter()).enumerate() {
            if let (SumMember::Substance(inci), None) = (member, known) {
                others.push((place, look_up(inci).map_err(|error| error.within(&format!("sum {:?}", self.name)))?));
            }
        }
        Ok(ResolvedSum { sum: self.clone(), others })
    }

    /// What water counts.
    pub(in crate::measure) fn of_water(&self) -> Exact {
        let counts = |(member, factor): &(SumMember, SumFactor)| match (member, factor) {
            (SumMember::Substance(name), SumFactor::Parts(parts)) if names_water(name) => Some(parts.clone()),
            (SumMember::Class(Class::Water), SumFactor::Parts(parts)) => Some(parts.clone()),
            _ => None,
        };
        self.members.iter().find_map(counts).unwrap_or(Exact::ZERO)
    }
}

impl ResolvedSum {
    /// The members that are substances, with their factors.
    pub(in crate::measure) fn substances(&self) -> impl Iterator<Item = (&Arc<Substance>, &SumFactor)> {
        let other = |place: usize| self.others.iter().find(|(at, _)| *at == place).map(|(_, substance)| substance);
        let members = self.sum.members.iter().zip(self.sum.known.iter()).enumerate();
        members
            .filter_map(move |(place, ((_, factor), known))| Some((known.as_ref().or_else(|| other(place))?, factor)))
    }

    pub(in crate::measure) fn sum(&self) -> &SubstanceSum {
        &self.sum
    }

    pub(in crate::measure) fn weight(&self, leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
        let (sum, ingredient) = (&self.sum, row.substance());
        let mut weight = match self.factor_of(ingredient) {
            Some(factor) => factor.weight(leaf, ingredient, row.lot_molar_mass())?,
            None => match sum.by_name.get(&class_key(ingredient.class())) {
                Some(index) => return sum.members[*index].1.weight(leaf, ingredient, row.lot_molar_mass()),
                None => Weight::certain(Exact::ZERO),
            },
        };
        for part in leaf.contained().iter().filter(|part| part.of() == ingredient.inci()) {
            if let Some(factor) = self.factor_of(part.substance()) {
                weight = weight.plus(contained(part, factor.weight(leaf, part.substance(), None)?));
            }
        }
        Ok(if leaf.leaves_open(ingredient) { weight.plus(self.unnamed(leaf, row)?) } else { weight })
    }

    /// That of a member; one of the user's own may have an embedded substance's CAS number.
    fn factor_of(&self, substance: &Substance) -> Option<&SumFactor> {
        let own = || self.others.iter().find(|(_, known)| known.is_same_as(substance));
        self.sum.factor_of(substance).or_else(|| Some(&self.sum.members[own()?.0].1))
    }

    /// What the ingredient could hold of the members that are not named of it.
    fn unnamed(&self, leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
        let ingredient = row.substance();
        let named = |substance: &Substance| {
            leaf.contained().iter().any(|part| part.of() == ingredient.inci() && part.substance().is_same_as(substance))
        };
        let (mut reported, mut open, mut nameless) = (Exact::ZERO, Exact::ZERO, Exact::ZERO);
        for (substance, factor) in self.substances() {
            if substance.is_same_as(ingredient) || named(substance) {
                continue;
            }
            let unnamed = leaf.unnamed_in(row, Kind::of(substance), |other| other.is_same_as(substance));
            if unnamed == Unnamed::Nothing {
                continue;
            }
            let most = factor.weight(leaf, substance, None)?.greatest;
            match unnamed {
                Unnamed::Nothing => {}
                Unnamed::AtMost(share) => reported += share.share() * most,
                Unnamed::Open => open = open.max(most),
                Unnamed::Nameless => nameless = nameless.max(most),
            }
        }
        let footing = if nameless.is_zero() { Footing::Stated } else { Footing::Nameless };
        let typical = open.is_zero().then_some(Exact::ZERO);
        Ok(Weight {
            greatest: reported + open + nameless,
            greatest_footing: footing,
            typical,
            ..Weight::certain(Exact::ZERO)
        })
    }
}

/// What a contained substance brings that counts `counted` by itself.
fn contained(part: &Contained, counted: Weight) -> Weight {
    let footing = |end: Option<Ppm>, of: Footing| if end.is_some() { of } else { Footing::NotStated };
    Weight {
        least: part.low().unwrap_or(Ppm::ZERO).share() * counted.least,
        typical: part.share().zip(counted.typical).map(|(share, typical)| share.share() * typical),
        greatest: part.high().unwrap_or(Ppm::WHOLE).share() * counted.greatest,
        least_footing: footing(part.low(), counted.least_footing),
        greatest_footing: footing(part.high(), counted.greatest_footing),
    }
}

impl SumMember {
    /// As messages show it.
    pub(crate) fn shown(&self) -> String {
        match self {
            SumMember::Substance(inci) => format!("{inci:?}"),
            SumMember::Class(class) => format!("class {class}"),
        }
    }
}

impl SumFactor {
    /// True for a member that is named so as not to be counted.
    pub(crate) fn is_nothing(&self) -> bool {
        matches!(self, SumFactor::Parts(parts) if parts.is_zero())
    }

    fn check(&self) -> Result<(), Error> {
        match self {
            SumFactor::Parts(parts) => Quantity::SumFactor.check(parts),
            SumFactor::As { counted, molecules, own } => {
                Quantity::SumFactor.check(&Exact::from(*molecules))?;
                [Some(*counted), *own]
                    .into_iter()
                    .flatten()
                    .try_for_each(|mass| Quantity::MolarMass.check(&mass.into()))
            }
        }
    }

    /// By what is stated in the sum alone.
    fn by_own(&self) -> Option<Exact> {
        match self {
            SumFactor::Parts(parts) => Some(parts.clone()),
            SumFactor::As { counted, molecules, own } => {
                Some(Exact::from(*counted) * Exact::from(*molecules) / Exact::from((*own)?))
            }
        }
    }

    fn weight(&self, leaf: &Material, substance: &Substance, lot: Option<Decimal>) -> Result<Weight, Error> {
        match self {
            SumFactor::Parts(parts) => Ok(Weight::certain(parts.clone())),
            SumFactor::As { counted, molecules, own } => {
                charge::over_molar_mass(leaf, substance, lot, *own, &(Exact::from(*counted) * Exact::from(*molecules)))
            }
        }
    }
}

/// A key that no folded name has, since those hold no line break.
fn class_key(class: Class) -> String {
    format!("\n{class}")
}

#[cfg(test)]
mod tests {
    use super::*;

    fn name(name: &str) -> SumMember {
        SumMember::Substance(name.to_string())
    }

    #[test]
    fn members_stand_once_and_their_numbers_are_in_range() {
        let one = || SumFactor::Parts(Exact::ONE);
        assert!(SubstanceSum::new("x", vec![]).unwrap_err().is_missing());
        assert!(SubstanceSum::new("x", vec![(name("A-B"), one()), (name("a b"), one())]).unwrap_err().is_duplicate());
        assert!(
            SubstanceSum::new("x", vec![(name("A"), SumFactor::Parts(Exact::from(-1)))]).unwrap_err().is_out_of_range()
        );
        let weightless = SumFactor::As { counted: Decimal::ZERO, molecules: 1, own: None };
        assert!(SubstanceSum::new("x", vec![(name("A"), weightless)]).unwrap_err().is_out_of_range());
    }

    #[test]
    fn what_counts_nothing_has_no_most() {
        let sum = SubstanceSum::new("x", vec![(name("A"), SumFactor::Parts(Exact::ZERO))]).unwrap();
        assert_eq!(sum.most("A", 1).unwrap(), None);
        assert_eq!(sum.most("B", 1).unwrap(), None);
    }
}
