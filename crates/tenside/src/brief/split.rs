//! A split: the ratio inside a surfactant system.

use std::sync::Arc;

use crate::bounds::Quantity;
use crate::document::named_enum;
use crate::error::{Error, Fault, FaultKind};
use crate::measure::{Content, Measure, Scope};
use crate::number::{Exact, ToExact};
use crate::substance::Class;

use super::BriefLine;

named_enum! {
    /// What a split's parts are parts of.
    SplitBasis "split basis" {
        /// Weight as supplied.
        Weight = "weight",
        /// Active matter.
        Active = "active",
        /// Amount of active substance.
        Mole = "mole",
    }
}

impl SplitBasis {
    /// The unit of what is divided.
    pub(crate) fn unit(self) -> &'static str {
        match self {
            SplitBasis::Weight => "%",
            SplitBasis::Active => "% active",
            SplitBasis::Mole => "mmol/g",
        }
    }
}

/// Lines that stand in a stated ratio to each other.
#[derive(Clone, Debug, PartialEq)]
pub struct Split(Arc<Parts>);

#[derive(Clone, Debug, PartialEq)]
struct Parts {
    name: String,
    basis: SplitBasis,
    parts: Vec<(String, Exact)>,
}

impl Split {
    /// A split of these lines.
    ///
    /// # Errors
    /// Fewer than two members, a part that is no number, a member that stands twice, parts that are not above 0.
    pub fn new<N: AsRef<str>, P: ToExact>(
        name: &str,
        basis: SplitBasis,
        parts: impl IntoIterator<Item = (N, P)>,
    ) -> Result<Self, Error> {
        let place = format!("split {name:?}");
        let mut faults = Vec::new();
        let part = |(member, part): (N, P)| {
            let part = part.to_exact().map_err(|error| error.within(member.as_ref()).within(&place))?;
            Ok::<_, Error>((member.as_ref().to_string(), part))
        };
        let parts = parts.into_iter().map(part).collect::<Result<Vec<_>, _>>()?;
        if parts.len() < 2 {
            faults.push(
                Fault::new(FaultKind::OutOfRange, "a split of fewer than two lines")
                    .value(parts.len())
                    .allowed("two lines or more"),
            );
        }
        for (index, (member, part)) in parts.iter().enumerate() {
            if parts[..index].iter().any(|(earlier, _)| earlier == member) {
                faults.push(
                    Fault::new(FaultKind::Duplicate, "a line occurs twice in the split").value(format!("{member:?}")),
                );
            }
            if let Err(error) = Quantity::SplitPart.check(part) {
                faults.extend(error.within(member).into_faults());
            }
        }
        Error::check(faults, ()).map_err(|error| error.within(&place))?;
        Ok(Split(Arc::new(Parts { name: name.to_string(), basis, parts })))
    }

    /// Refuses members that bring nothing of what the split divides.
    pub(super) fn check(&self, lines: &[BriefLine]) -> Result<(), Error> {
        let mut faults = Vec::new();
        for line in lines.iter().filter(|line| self.0.parts.iter().any(|(member, _)| member == line.name())) {
            if self.0.basis != SplitBasis::Weight && !line.material().brings_active()? {
                faults.push(
                    Fault::new(FaultKind::Contradiction, "the line brings no active matter to divide")
                        .at(format!("split {:?}, line {:?}", self.0.name, line.name()))
                        .remedy(match line.material().surfactant_class() {
                            Some(Class::CationicSurfactant) => {
                                "cationic surfactants are not counted as active matter: split by weight, and ask for them \
                                 by a requirement of their class"
                            }
                            _ => "split by weight, or choose another raw material",
                        }),
                );
            }
        }
        Error::check(faults, ())
    }

    /// Its name.
    #[must_use]
    pub fn name(&self) -> &str {
        &self.0.name
    }

    /// What the parts are parts of.
    #[must_use]
    pub fn basis(&self) -> SplitBasis {
        self.0.basis
    }

    /// Lines and their parts.
    #[must_use]
    pub fn parts(&self) -> &[(String, Exact)] {
        &self.0.parts
    }

    /// True for a member.
    pub(super) fn holds(&self, line: &str) -> bool {
        self.0.parts.iter().any(|(member, _)| member == line)
    }

    /// With other parts, none below 0 and not all of them 0. A member whose part is 0 stays in the split, its line at
    /// 0: a corner or an edge of a lattice, which nobody types.
    pub(crate) fn with_parts(&self, parts: &[Exact]) -> Self {
        let mut split = self.clone();
        for ((_, known), part) in Arc::make_mut(&mut split.0).parts.iter_mut().zip(parts) {
            known.clone_from(part);
        }
        split
    }

    /// The member that the others are compared with: the first that has a part.
    pub(crate) fn reference(&self) -> usize {
        self.0.parts.iter().position(|(_, part)| part.is_positive()).unwrap_or(0)
    }

    /// What is left without one member: nothing of two.
    pub(super) fn without_part(&self, member: usize) -> Option<Self> {
        let mut rest = self.clone();
        Arc::make_mut(&mut rest.0).parts.remove(member);
        (rest.parts().len() > 1).then_some(rest)
    }

    /// What it divides, as all lines bring it.
    pub(crate) fn measure(&self) -> Measure {
        let content = match self.0.basis {
            SplitBasis::Weight => Content::Mass,
            SplitBasis::Active => Content::Active(None),
            SplitBasis::Mole => Content::ActiveMoles,
        };
        Measure::of(content)
    }

    /// What a member brings of it.
    pub(crate) fn measure_of(&self, line: &str) -> Measure {
        self.measure().contributed_by(Scope::Lines(vec![line.to_string()]))
    }

    /// Some of its members in words: `split wash: sci-powder to capb-30 as 14 to 1 by active`.
    pub(crate) fn words(&self, members: &[usize]) -> String {
        let joined = |word: &dyn Fn(&(String, Exact)) -> String| {
            members.iter().map(|member| word(&self.0.parts[*member])).collect::<Vec<_>>().join(" to ")
        };
        let (lines, parts) = (joined(&|(line, _)| line.clone()), joined(&|(_, part)| part.to_string()));
        format!("split {}: {lines} as {parts} by {}", self.0.name, self.0.basis)
    }
}
