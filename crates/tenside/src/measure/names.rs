//! The names that a measure uses, looked up: what nobody knows counts as nothing nowhere and is refused.

use std::borrow::Cow;
use std::sync::Arc;

use super::content::ResolvedSum;
use super::{Content, LineView, Measure};
use crate::catalogue::Catalogue;
use crate::document::{names_alike, unknown_name};
use crate::error::{Error, FaultKind};
use crate::material::{Kind, Material};
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
pub(crate) struct Asked {
    pub(crate) substance: Arc<Substance>,
    pub(crate) kind: Kind,
}

impl Asked {
    fn new(substance: Arc<Substance>) -> Self {
        Asked { kind: Kind::of(&substance), substance }
    }

    pub(crate) fn is(&self, substance: &Substance) -> bool {
        names_alike(self.substance.inci(), substance.inci())
    }
}

/// A content with its names looked up.
pub(crate) enum Resolved<'a> {
    Constituent(Asked),
    Substance(Asked),
    Sum(ResolvedSum<'a>),
    Plain(&'a Content),
}

impl<'a> Names<'a> {
    pub(super) fn resolve<'c>(self, content: &'c Content, lines: &[LineView<'_>]) -> Result<Resolved<'c>, Error> {
        let asked = |name: &str| Ok::<_, Error>(Asked::new(self.substance(name, lines)?));
        Ok(match content {
            Content::Constituent(name) => Resolved::Constituent(asked(name)?),
            Content::Substance(name) => Resolved::Substance(asked(name)?),
            Content::Sum(sum) => Resolved::Sum(sum.resolved(|name| self.substance(name, lines))?),
            Content::Material(id) => {
                self.check_material(id, lines)?;
                Resolved::Plain(content)
            }
            Content::Score(table) => {
                // A formula knows its own raw materials alone; those of them that have no score make the sum unknown.
                if let Names::Of(_) = self {
                    table.iter().try_for_each(|(id, _)| self.check_material(id, lines)).map_err(|error| error.within(&format!("score {:?}", table.name())))?;
                }
                Resolved::Plain(content)
            }
            _ => Resolved::Plain(content),
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
        let ids = catalogue.materials().map(|material| material.id()).chain(lines.iter().map(|line| line.material.id()));
        Err(unknown_name("raw material", id, ids).into())
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
    /// That every name in it is known.
    pub(crate) fn check_names(&self, names: Names<'_>, lines: &[LineView<'_>]) -> Result<(), Error> {
        names.resolve(self.numerator().0, lines)?;
        names.resolve(self.denominator().0, lines).map(|_| ())
    }
}
