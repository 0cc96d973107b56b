//! The names that a measure uses, looked up: what nobody knows counts as nothing nowhere and is refused.

use std::borrow::Cow;
use std::hash::{Hash, Hasher};
use std::sync::Arc;

use super::content::{ResolvedSum, Weight, names_water};
use super::{Content, LineView, Measure, SumMember};
use crate::catalogue::{Catalogue, PriceList, unknown_material};
use crate::document::names_alike;
use crate::error::{Error, FaultKind};
use crate::material::{Constituent, Kind, Material};
use crate::number::Exact;
use crate::substance::{Class, Substance, SubstanceTable};

/// Where names are looked up.
#[derive(Clone, Copy, Default)]
pub(crate) enum Names<'a> {
    /// Among what the lines hold, else in the starter catalogue: for formulas, which carry no catalogue.
    #[default]
    OfLines,
    /// In a catalogue.
    Of(&'a Catalogue),
    /// Anything goes: for rules, whose names are checked by the list.
    Anything,
}

/// A substance that a measure asks for.
#[derive(Clone)]
pub(crate) struct Asked {
    pub(crate) substance: Arc<Substance>,
    pub(crate) kind: Kind,
}

impl Asked {
    pub(super) fn new(substance: Arc<Substance>) -> Self {
        Asked { kind: Kind::of(&substance), substance }
    }

    pub(crate) fn is(&self, substance: &Substance) -> bool {
        self.substance.is_same_as(substance)
    }
}

impl PartialEq for Asked {
    /// Two that weigh every raw material alike.
    fn eq(&self, other: &Self) -> bool {
        self.kind == other.kind && self.substance.inci() == other.substance.inci()
    }
}

impl Eq for Asked {}

impl Hash for Asked {
    fn hash<H: Hasher>(&self, state: &mut H) {
        self.substance.inci().hash(state);
    }
}

/// A content with its names looked up.
#[derive(Clone, PartialEq, Eq, Hash)]
pub(crate) enum Resolved {
    Constituent(Asked),
    Substance(Asked),
    Sum(ResolvedSum),
    Plain(Content),
}

impl Resolved {
    /// The weight of a raw material as a whole, for contents that do not look into the composition.
    pub(super) fn of_material(&self, material: &Material, prices: Option<&PriceList>) -> Option<Result<Exact, Error>> {
        if let Resolved::Plain(content) = self { content.of_material(material, prices) } else { None }
    }

    /// The weight of one constituent of a raw material.
    pub(super) fn of_constituent(&self, leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
        match self {
            Resolved::Constituent(asked) => Ok(Weight::counted(asked.is(row.substance()))),
            Resolved::Substance(asked) => Ok(leaf.held_in(row, asked.kind, |substance| asked.is(substance)).into()),
            Resolved::Sum(sum) => sum.weight(leaf, row),
            Resolved::Plain(content) => content.of_constituent(leaf, row),
        }
    }

    /// The weight of water, for what drying leaves; 0 where drying has no meaning.
    pub(super) fn of_water(&self) -> Exact {
        match self {
            Resolved::Constituent(asked) | Resolved::Substance(asked) => {
                if names_water(asked.substance.inci()) {
                    Exact::ONE
                } else {
                    Exact::ZERO
                }
            }
            Resolved::Sum(sum) => sum.sum().of_water(),
            Resolved::Plain(content) => content.of_water().unwrap_or_default(),
        }
    }

    /// True for contents that drying does not change.
    pub(super) fn ignores_drying(&self) -> bool {
        matches!(self, Resolved::Plain(content) if content.ignores_drying())
    }
}

impl<'a> Names<'a> {
    pub(super) fn resolve(self, content: &Content, lines: &[LineView<'_>]) -> Result<Resolved, Error> {
        let asked = |name: &str| Ok::<_, Error>(Asked::new(self.substance(name, lines)?));
        Ok(match content {
            Content::Constituent(name) => Resolved::Constituent(asked(name)?),
            Content::Substance(name) => Resolved::Substance(asked(name)?),
            Content::Sum(sum) => Resolved::Sum(sum.resolved(|name| self.substance(name, lines))?),
            Content::Material(id) => {
                self.check_material(id, lines)?;
                Resolved::Plain(content.clone())
            }
            Content::Score(table) => {
                // A formula knows its own raw materials alone; those of them that have no score make the sum unknown.
                if let Names::Of(_) = self {
                    table
                        .iter()
                        .try_for_each(|(id, _)| self.check_material(id, lines))
                        .map_err(|error| error.within(&format!("score {:?}", table.name())))?;
                }
                Resolved::Plain(content.clone())
            }
            _ => Resolved::Plain(content.clone()),
        })
    }

    /// The substance of that name or CAS number.
    pub(super) fn substance(self, name: &str, lines: &[LineView<'_>]) -> Result<Arc<Substance>, Error> {
        let held = |is: &dyn Fn(&Substance) -> bool| lines.iter().find_map(|line| held_by(line.material, is));
        let table = match self {
            Names::Of(catalogue) => Cow::Borrowed(catalogue.substances()),
            Names::OfLines | Names::Anything => {
                if let Some(known) = held(&|substance| substance.inci().eq_ignore_ascii_case(name)) {
                    return Ok(known);
                }
                Cow::Owned(SubstanceTable::starter())
            }
        };
        let error = match table.named(name) {
            Ok(known) => return Ok(Arc::clone(known)),
            Err(error) => error,
        };
        let number = name.trim();
        let goes_by = |substance: &Substance| {
            names_alike(substance.inci(), name)
                || names_alike(substance.label_eu(), name)
                || names_alike(substance.label_us(), name)
                || substance.cas().iter().any(|cas| cas.as_str() == number)
        };
        match (held(&goes_by), self) {
            (Some(known), _) if error.faults().iter().all(|fault| fault.kind == FaultKind::UnknownName) => Ok(known),
            (None, Names::Anything) => Ok(Arc::new(Substance::new(name, Class::Other)?)),
            _ => Err(error),
        }
    }

    fn check_material(self, id: &str, lines: &[LineView<'_>]) -> Result<(), Error> {
        let in_lines = || lines.iter().any(|line| line.material.holds_material(id));
        let known = match self {
            Names::Anything => true,
            Names::Of(catalogue) => catalogue.find(id).is_some() || in_lines(),
            Names::OfLines => in_lines() || Catalogue::embedded().find(id).is_some(),
        };
        if known {
            return Ok(());
        }
        let catalogue = if let Names::Of(catalogue) = self { catalogue } else { Catalogue::embedded() };
        let fault = catalogue.unknown(id);
        if fault.remedy.is_some() {
            return Err(fault.into());
        }
        Err(unknown_material("raw material", id, lines.iter().map(|line| line.material.id())).into())
    }
}

/// The first substance in a raw material, as an ingredient or contained, that `is` accepts.
fn held_by(material: &Material, is: &dyn Fn(&Substance) -> bool) -> Option<Arc<Substance>> {
    material.leaves().into_iter().find_map(|(leaf, _)| {
        let rows = leaf.composition().constituents().iter().map(|row| row.substance());
        rows.chain(leaf.contained().iter().map(|part| part.substance())).find(|substance| is(substance)).cloned()
    })
}

impl Measure {
    /// The substances and the raw materials that it names.
    pub(crate) fn names(&self) -> (Vec<&str>, Vec<&str>) {
        let (mut substances, mut materials) = (Vec::new(), Vec::new());
        for term in self.terms() {
            match &term.content {
                Content::Constituent(name) | Content::Substance(name) => substances.push(name.as_str()),
                Content::Material(id) => materials.push(id.as_str()),
                Content::Score(table) => materials.extend(table.iter().map(|(id, _)| id)),
                Content::Sum(sum) => substances.extend(sum.members().iter().filter_map(|(member, _)| match member {
                    SumMember::Substance(name) => Some(name.as_str()),
                    SumMember::Class(_) => None,
                })),
                _ => {}
            }
        }
        (substances, materials)
    }

    /// That every name in it is known.
    pub(crate) fn check_names(&self, names: Names<'_>, lines: &[LineView<'_>]) -> Result<(), Error> {
        self.terms().try_for_each(|term| names.resolve(&term.content, lines).map(|_| ()))
    }
}
