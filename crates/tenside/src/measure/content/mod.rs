//! What a measure can count. One content a file; each gives the weight of a constituent, or of a raw material as a
//! whole.

mod active;
mod attribute;
mod charge;
mod cost;
mod natural_origin;
mod score;
mod substance_sum;
mod water;
mod weight;

use std::sync::Arc;

pub use charge::Sign;
pub use score::ScoreTable;
pub(super) use substance_sum::ResolvedSum;
pub use substance_sum::{SubstanceSum, SumFactor, SumMember};
pub(super) use water::is_bound_water_open;
pub(crate) use weight::Weight;

use crate::catalogue::PriceList;
use crate::document::fold;
use crate::error::Error;
use crate::material::{Constituent, Form, Held, Material, Unnamed};
use crate::number::Exact;
use crate::substance::{Attribute, Class, Substance};

/// What is counted, per unit of mass of the thing it is counted in.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
#[non_exhaustive]
pub enum Content {
    /// The mass itself.
    Mass,
    /// What counts as active, of one class or of all.
    Active(Option<Class>),
    /// Constituents of one class.
    Class(Class),
    /// One constituent, as an ingredient.
    Constituent(String),
    /// One substance, as an ingredient and contained in ingredients.
    Substance(String),
    /// Water listed as a constituent.
    Water,
    /// Water not listed as such.
    BoundWater,
    /// What stays on drying.
    Solids,
    /// Permanent charge of one sign.
    Charge(Sign),
    /// Amount of active substance.
    ActiveMoles,
    /// Price.
    Cost,
    /// Natural origin.
    NaturalOrigin,
    /// Raw materials with an attribute.
    Attribute(Attribute),
    /// Raw materials of a form.
    Form(Form),
    /// One raw material.
    Material(String),
    /// The nameless remainder.
    Unspecified,
    /// A user's score.
    Score(ScoreTable),
    /// Several substances, each by a factor.
    Sum(SubstanceSum),
}

/// What readings say of what is asked for where a nameless part of a raw material could be it.
pub(crate) const COULD_BE_NAMELESS: &str =
    "up to all of what is not named in them could be it, and counts in the high end alone";

/// What readings say of what is asked for where a remainder is taken not to be it.
pub(crate) const REMAINDER_NOT_COUNTED: &str = "the unspecified remainder is not counted";

pub(super) fn names_water(name: &str) -> bool {
    matches!(fold(name).as_str(), "water" | "aqua")
}

impl Content {
    /// The weight of a raw material as a whole, for contents that do not look into the composition.
    pub(crate) fn of_material(&self, material: &Material, prices: Option<&PriceList>) -> Option<Result<Exact, Error>> {
        let counted = |counts: bool| Some(Ok(if counts { Exact::ONE } else { Exact::ZERO }));
        match self {
            Content::Mass => counted(true),
            Content::Cost => cost::price(material, prices),
            Content::Form(form) => counted(material.form() == *form),
            Content::Material(id) => Some(Ok(material.share_of_material(id))),
            Content::Attribute(attribute) => Some(attribute::share(*attribute, material)),
            Content::Score(table) => Some(table.weight(material)),
            Content::BoundWater => water::bound(material),
            Content::NaturalOrigin => natural_origin::stated(material),
            _ => None,
        }
    }

    /// The weight of one constituent, of contents without names.
    pub(super) fn of_constituent(&self, leaf: &Material, row: &Constituent) -> Result<Weight, Error> {
        let substance: &Arc<Substance> = row.substance();
        match self {
            Content::Active(class) => Ok(active::weight(*class, substance)),
            Content::ActiveMoles => active::moles(leaf, row),
            Content::Class(class) if substance.class() == *class => Ok(Weight::counted(true)),
            Content::Class(class) => Ok(Held::from(leaf.unnamed_of_class(row, *class)).into()),
            Content::Water => Ok(Weight::counted(substance.is_water())),
            Content::Solids => Ok(Weight::counted(water::stays(substance))),
            Content::Charge(sign) => charge::weight(*sign, leaf, row),
            Content::NaturalOrigin => natural_origin::weight(leaf, substance),
            Content::Unspecified => Ok(Weight::counted(substance.is_unspecified())),
            // Whole raw materials, and what is looked up first.
            _ => Ok(Weight::certain(Exact::ZERO)),
        }
    }

    /// The weight of water, for what drying leaves. `None` where drying has no meaning for the content.
    pub(crate) fn of_water(&self) -> Option<Exact> {
        match self {
            Content::Mass | Content::Water => Some(Exact::ONE),
            Content::Class(Class::Water) => Some(Exact::ONE),
            Content::Constituent(name) | Content::Substance(name) if names_water(name) => Some(Exact::ONE),
            Content::Sum(sum) => Some(sum.of_water()),
            Content::NaturalOrigin | Content::BoundWater => None,
            _ => Some(Exact::ZERO),
        }
    }

    /// True for contents of whole raw materials, which drying does not change: cost, form, attribute, score, the
    /// material itself.
    pub(crate) fn ignores_drying(&self) -> bool {
        matches!(
            self,
            Content::Cost | Content::Form(_) | Content::Material(_) | Content::Attribute(_) | Content::Score(_)
        )
    }

    /// True if it might leave something out of the count that belongs there.
    pub(crate) fn leaves_out(&self) -> bool {
        matches!(
            self,
            Content::Charge(_)
                | Content::Active(_)
                | Content::NaturalOrigin
                | Content::ActiveMoles
                | Content::Class(_)
                | Content::Water
                | Content::Solids
                | Content::Attribute(_)
        )
    }

    /// What is left out of the count although it might belong there, for the notes of a reading.
    pub(crate) fn not_counted(&self, leaf: &Material, row: &Constituent) -> Option<&'static str> {
        let substance = row.substance();
        match self {
            Content::Charge(_) => charge::not_counted(substance),
            Content::Class(class) if leaf.unnamed_of_class(row, *class) == Unnamed::Nameless => Some(COULD_BE_NAMELESS),
            Content::Active(_) | Content::NaturalOrigin | Content::ActiveMoles | Content::Class(_) | Content::Water
                if substance.is_unspecified() =>
            {
                Some(REMAINDER_NOT_COUNTED)
            }
            Content::Solids if substance.is_unspecified() => {
                Some("the unspecified remainder is taken to stay on drying")
            }
            Content::Attribute(attribute)
                if substance.is_unspecified() && leaf.attributes().get(*attribute).is_none() =>
            {
                Some("the unspecified remainder is taken not to have the attribute")
            }
            Content::Solids if water::may_leave(substance) => {
                Some("of unknown volatility, and taken to stay on drying")
            }
            Content::Active(None | Some(Class::AnionicSurfactant)) | Content::ActiveMoles
                if substance.class() == Class::Soap =>
            {
                Some("soap is not counted; active matter with soap counts it")
            }
            _ => None,
        }
    }

    /// The stable name in documents, without its argument.
    #[must_use]
    pub fn slug(&self) -> &'static str {
        match self {
            Content::Mass => "as-supplied",
            Content::Active(None) => "active-matter",
            Content::Active(Some(Class::AnionicSurfactant)) => "anionic-active",
            Content::Active(Some(Class::AmphotericSurfactant)) => "amphoteric-active",
            Content::Active(Some(Class::NonionicSurfactant)) => "nonionic-active",
            Content::Active(Some(_)) => "active-of-class",
            Content::Class(_) => "class",
            Content::Constituent(_) => "constituent",
            Content::Substance(_) => "substance",
            Content::Water => "water",
            Content::BoundWater => "bound-water",
            Content::Solids => "solids",
            Content::Charge(Sign::Negative) => "anionic-charge",
            Content::Charge(Sign::Positive) => "cationic-charge",
            Content::ActiveMoles => "active-moles",
            Content::Cost => "cost",
            Content::NaturalOrigin => "natural-origin",
            Content::Attribute(_) => "attribute",
            Content::Form(_) => "form",
            Content::Material(_) => "material",
            Content::Unspecified => "unspecified",
            Content::Score(_) => "score",
            Content::Sum(_) => "substance-sum",
        }
    }

    /// The argument in documents.
    #[must_use]
    pub fn argument(&self) -> Option<String> {
        match self {
            Content::Active(Some(
                Class::AnionicSurfactant | Class::AmphotericSurfactant | Class::NonionicSurfactant,
            )) => None,
            Content::Active(Some(class)) | Content::Class(class) => Some(class.to_string()),
            Content::Constituent(name) | Content::Substance(name) | Content::Material(name) => Some(name.clone()),
            Content::Attribute(attribute) => Some(attribute.to_string()),
            Content::Form(form) => Some(form.to_string()),
            Content::Score(table) => Some(table.name().to_string()),
            Content::Sum(sum) => Some(sum.name().to_string()),
            _ => None,
        }
    }

    /// What it is called in tables and messages.
    #[must_use]
    pub fn name(&self) -> String {
        let plain = self.slug().replace('-', " ");
        match self {
            Content::Active(Some(class)) if self.argument().is_some() => format!("active matter of class {class}"),
            Content::Mass => "raw material as supplied".to_string(),
            Content::Class(Class::CationicSurfactant) => "cationic surfactant".to_string(),
            Content::Class(class) => format!("class {class}"),
            Content::Constituent(name) => name.clone(),
            Content::Substance(name) => format!("{name}, contained included"),
            Content::Attribute(attribute) => format!("raw materials with attribute {attribute}"),
            Content::Form(form) => format!("raw materials in form {form}"),
            Content::Material(id) => format!("raw material {id}"),
            Content::Score(table) => format!("score {}", table.name()),
            Content::Sum(sum) => sum.name().to_string(),
            _ => plain,
        }
    }

    /// True where the weight is a share of mass, shown in percent.
    #[must_use]
    pub fn is_share(&self) -> bool {
        !matches!(self, Content::Cost | Content::Charge(_) | Content::ActiveMoles | Content::Score(_))
    }

    pub(crate) fn unit(&self, currency: Option<&str>) -> String {
        if self.is_share() { "%".to_string() } else { self.weight_unit(currency) }
    }

    /// The unit of what it comes to in an amount of a formula, which a ratio of two is a ratio of.
    pub(crate) fn amount_unit(&self, currency: Option<&str>) -> String {
        match self {
            Content::Cost => currency.unwrap_or("currency").to_string(),
            Content::Charge(_) | Content::ActiveMoles => "mol".to_string(),
            _ => self.weight_unit(None),
        }
    }

    pub(crate) fn weight_unit(&self, currency: Option<&str>) -> String {
        match self {
            Content::Cost => format!("{} per kg", currency.unwrap_or("currency")),
            Content::Charge(_) | Content::ActiveMoles => "mmol/g".to_string(),
            Content::Score(_) => "score".to_string(),
            _ => "kg".to_string(),
        }
    }
}
